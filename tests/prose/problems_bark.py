"""What stands behind the figures of the problems on bark: they have none."""

from prose.rows import Row

ROWS: list[Row] = []
