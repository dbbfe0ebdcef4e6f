"""What stands behind the figures of the causes of wrong readings."""

from prose.rows import row

ROWS = [
    row("the one at 1.3 m", "BREAST_HEIGHT_M"),
    row("at the mark at 1.3 m", "BREAST_HEIGHT_M"),
]
