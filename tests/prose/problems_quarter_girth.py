"""What stands behind the figures of the problems on the quarter girth."""

from prose.rows import chosen, row, used

ROWS = [
    row("144", "12 * 12"),
    row("12·12 =", "12", "12"),
    row("You divided by 12", "12"),
    row("takes 12 twice", "12"),
    row("You added 21.46 %", "100 * (1 - pi / 4)"),
    row(
        "A foot was taken for 0.3 m. In a volume the 4.8 mm",
        used,
        "1000 * (12 * CM_PER_INCH / 100 - 0.3)",
    ),
    row("27.32 %", "100 * (4 / pi - 1)"),
    row("by 1/12.566 − 1/16", chosen("coefficient"), "1 / (4 * 4)"),
    row("/400)²", "4 * 100"),
    row("21.46 % of", "100 * (1 - pi / 4)"),
    row("100·(rule/wood − 1)", chosen("coefficient")),
    row("−21.46 %", "100 * (pi / 4 - 1)"),
]
