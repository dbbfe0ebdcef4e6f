"""What stands behind the figures of the problems on plots: there are none."""

from prose.rows import Row

ROWS: list[Row] = []
