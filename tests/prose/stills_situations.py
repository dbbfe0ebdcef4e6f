"""What stands behind the figures of the still of twelve situations."""

from prose.rows import quoted, row

ROWS = [
    row("50 cm above where it ends", quoted("RAINFOR2021", "50 cm")),
]
