"""What stands behind the figures of the found outline drawn over its photograph."""

from prose.rows import row

ROWS = [row("threshold {…} of 255;", "2 ** 8 - 1")]
