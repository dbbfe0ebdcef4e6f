"""What stands behind the figures of the problems on calipers."""

from prose.rows import row

ROWS = [
    row("A degree leans by 1.75 cm in a metre", "100 * tan(radians(1))"),
]
