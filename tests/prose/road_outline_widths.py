"""What stands behind the figures of the road of any outline: calipers."""

from prose.rows import row

ROWS = [
    row("by up to 11.4 %", "100 * (pi / 4 / ((pi - sqrt(3)) / 2) - 1)"),
]
