"""What stands behind the figures of the problems on sections that are no ellipses."""

from prose.rows import row

ROWS = [
    row("27.3 % of the true section", "100 * (4 / pi - 1)"),
    row("Three sectors of 60°", "180 / 3"),
    row("11.4 % more", "100 * (pi / 4 / ((pi - sqrt(3)) / 2) - 1)"),
]
