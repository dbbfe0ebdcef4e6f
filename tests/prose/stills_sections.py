"""What stands behind the figures of the still of sections: it has none."""

from prose.rows import Row

ROWS: list[Row] = []
