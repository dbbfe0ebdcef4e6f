"""What stands behind the figures of the classroom's road: it has none."""

from prose.rows import Row

ROWS: list[Row] = []
