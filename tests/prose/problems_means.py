"""What stands behind the figures of the problems on means and their doubt."""

from prose.rows import row

ROWS = [
    row("leaves 200·", "2 * 100"),
    row("Work out 200·", "2 * 100"),
    row("n − 1 = 4", "5 - 1"),
    row("20 = 4·5", "4 * 5", "5 - 1", "5"),
    row("√5", "5"),
]
