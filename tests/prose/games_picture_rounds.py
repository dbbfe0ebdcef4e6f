"""What stands behind the figures of the rounds of pictures."""

from prose.rows import row

ROWS = [
    row("beside the mark at 1.3 m", "BREAST_HEIGHT_M"),
    row("on clear bark, at 1.3 m", "BREAST_HEIGHT_M"),
    row("right to 0.0 cm", "Calipers().read(circle(40), 0.0)[0] - 40"),
]
