"""What stands behind the figures of the game of wrong readings."""

from prose.rows import row

ROWS = [
    row("on clear bark at 1.3 m, with a checked tape at 20 °C", "BREAST_HEIGHT_M", "REFERENCE_C"),
]
