"""What stands behind the figures of the games' editions: they have none."""

from prose.rows import Row

ROWS: list[Row] = []
