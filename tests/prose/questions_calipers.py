"""What stands behind the figures of the questions of workbook 07."""

from prose.rows import given, row

ROWS = [
    row("39.7 cm: the jaw's foot", "Calipers(jaw_lean_deg=1).read(circle(40), 0.0)[0]"),
    row("20 cm above the beam", "40 / 2"),
    row(
        "over that height 1° makes 0.35 cm: 39.65 cm",
        given,
        "20 * tan(radians(1))",
        "Calipers(jaw_lean_deg=1).read(circle(40), 0.0)[0]",
    ),
    row(
        "35.8 and 32.6 make 34.2 on average", "36.2 - 0.4", "33.0 - 0.4", "(36.2 + 33.0) / 2 - 0.4"
    ),
    row("34.2² = 919", "(36.2 + 33.0) / 2 - 0.4"),
    row("0.01667, so φ = 0.95°", "(20.0 - 19.4) / 36", "degrees(atan((20.0 - 19.4) / 36))"),
    row("25·0.9657", "(1 - sin(radians(2))) / cos(radians(2))"),
    row("0.9781 = 50.0 cm", "cos(radians(12))", "51.1 * cos(radians(12))"),
]
