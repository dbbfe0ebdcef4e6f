"""What stands behind the figures of the still of handling."""

from prose.rows import chosen, row

ROWS = [
    row("1.3 m", "BREAST_HEIGHT_M"),
    row("126.3 cm", chosen("example")),
]
