"""What stands behind the figures of the questions of workbook 05."""

from prose.rows import row

ROWS = [
    row("the wood keeps 0.9 × 0.9 of it", "1 - 10 / 100", "1 - 10 / 100"),
    row("The wood keeps 0.9 × 0.9", "1 - 10 / 100", "1 - 10 / 100"),
    row("19 per cent", "100 * (1 - (1 - 10 / 100) ** 2)"),
    row("That would be 1.1 × 1.1", "1 + 10 / 100", "1 + 10 / 100"),
]
