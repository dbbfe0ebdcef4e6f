"""What stands behind the figures of the questions of workbook 02."""

from prose.rows import given, rounded, row

ROWS = [
    row("by about 2 per cent", rounded("tape_over_percent(48 / 60)", 1)),
    row("here 1.88 per cent", "tape_over_percent(48 / 60)"),
    row("out 1.88 per cent too large", "tape_over_percent(48 / 60)"),
    row("At 45°", "90 / 2"),
    row("About 22°", rounded("calipers_limit_deg(60, 48, 'arithmetic')", 2)),
    row(
        "22.4° on this ellipse, and close to 22.5°",
        "calipers_limit_deg(60, 48, 'arithmetic')",
        "degrees(asin(sqrt(1 / 2))) / 2",
    ),
    row("48²; the product is 52·44", "(52 + 44) / 2", given, given),
    row(
        "cos 4θ = −1/2, so 4θ = 120° and θ = 30°",
        "1 - 2 * 3 / 4",
        "degrees(acos(-1 / 2))",
        "degrees(asin(sqrt(3 / 4))) / 2",
    ),
    row("On an ellipse of 60 by 48 cm it is still", "60", "48"),
]
