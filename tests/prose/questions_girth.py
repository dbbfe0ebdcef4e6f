"""What stands behind the figures of the questions of workbook 01."""

from prose.rows import chosen, row

ROWS = [
    row("About 2 per cent", "100 * (1.01**2 - 1)"),
    row(
        "1.01 × 1.01 = 1.0201, so 2.01 per cent",
        "1 + 1 / 100",
        "1 + 1 / 100",
        "100 * (1.01**2 - 1)",
    ),
    row("divide by π, not by 4", chosen("coefficient")),
    row("10 000 cm² make", "100 * 100"),
    row("10 000 of them make", "100 * 100"),
    row("100 cm make a metre, but 100 × 100 cm²", "1 / 0.01", "1 / 0.01", "1 / 0.01"),
    row("so 10.1 per cent, or 9.87 times", "100 / pi**2", "pi**2"),
    row("take it from 100", chosen("coefficient")),
]
