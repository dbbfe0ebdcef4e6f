"""What stands behind the figures of the still of a tape on a stem."""

from prose.rows import chosen, row

ROWS = [
    row("1.3 m", "BREAST_HEIGHT_M"),
    row("10 cm", chosen("example")),
]
