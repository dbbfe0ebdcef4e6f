"""What stands behind the figures of the questions of workbook 06."""

from prose.rows import given, row, used

ROWS = [
    row("123.8 cm: fewer marks", "125 / 1.01"),
    row(
        "Each mark covers 1.01 of a true centimetre, and 125.0/1.01",
        "1 + 1 / 100",
        given,
        "1 + 1 / 100",
    ),
    row("1.4286 cm, so {…} marks cover 120.0 cm", "100 / 70", "84 * 100 / 70"),
    row(
        "The 30 cm had gathered over 70 marks. Over 84 they are 36",
        "100 - 70",
        used,
        "84",
        "84 * 30 / 70",
    ),
    row(
        "The 30 cm belong to 70 marks, not to 100: the stretch is 42.86",
        "100 - 70",
        used,
        used,
        "100 * (100 - 70) / 70",
    ),
    row(
        "{…} − {…} = 105. Each covers 1.04 cm: 109.2 cm",
        "110 - 5",
        "1 + 4 / 100",
        "(110 - 5) * 1.04",
    ),
    row("0.97605: 2.40 per cent", "(41.0 / 41.5) ** 2", "100 * (1 - (41.0 / 41.5) ** 2)"),
    row("0.38 mm", "1800 * material('steel').expansion_per_c * (38 - REFERENCE_C)"),
]
