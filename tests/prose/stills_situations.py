"""What stands behind the figures of the still of twelve situations."""

from prose.rows import quoted, row

ROWS = [
    row("Fork below 1.30 m", "BREAST_HEIGHT_M"),
    row("Fork at 1.30 m", "BREAST_HEIGHT_M"),
    row("Fork above 1.30 m", "BREAST_HEIGHT_M"),
    row("one stem, at 1.30 m", "BREAST_HEIGHT_M"),
    row("at 1.30 m along it", "BREAST_HEIGHT_M"),
    row("50 cm above where it ends", quoted("RAINFOR2021", "50 cm")),
    row("stick, 1.30 m", "BREAST_HEIGHT_M"),
    row("1.30 m", "BREAST_HEIGHT_M"),
    row("beside it a stick of 1.30 m where", "BREAST_HEIGHT_M"),
]
