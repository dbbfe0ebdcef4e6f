"""What stands behind the figures of the problems on whole stems."""

from prose.rows import row

ROWS = [
    row("H − 1.3 m", "BREAST_HEIGHT_M"),
    row("− 1.3)", "BREAST_HEIGHT_M"),
    row("− 1.3 =", "BREAST_HEIGHT_M"),
    row("The 1.3 m below it", "BREAST_HEIGHT_M"),
]
