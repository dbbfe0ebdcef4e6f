"""What stands behind the figures of the still of the sizes of faults: it has none."""

from prose.rows import Row

ROWS: list[Row] = []
