"""What stands behind the figures of the questions of workbook 03."""

from prose.rows import chosen, given, row, used

ROWS = [
    row("With a = 1 and b = 2 this line is false", chosen("example"), chosen("example")),
    row("With a = 2 and b = 1 it says 5 > 6", used, used, "2**2 + 1**2", "3 * 2 * 1"),
    row(
        "9/1100 = 0.82 per cent",
        "(25 - 22) ** 2 / (2 * 25 * 22)",
        "100 * (25 - 22) ** 2 / (2 * 25 * 22)",
    ),
    row(
        "9/810 = 0.42 per cent",
        "(30 - 27) ** 2 / (30 * 27)",
        "100 * 3 / 8 * (30 - 27) ** 2 / (30 * 27)",
    ),
    row("cos² 45° + b² sin² 45°", given, given),
    row("= 2600, so w = 51.0 cm", "2 * (30**2 + 20**2)", "sqrt(2 * (30**2 + 20**2))"),
    row("both diameters, 60 and 40 cm", "2 * 30", "2 * 20"),
    row("so times √2", "sqrt(4)"),
    row("At 45° calipers read", given),
]
