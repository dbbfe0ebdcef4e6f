"""What stands behind the figures of the problems on choosing: there are none."""

from prose.rows import Row

ROWS: list[Row] = []
