"""What stands behind the figures of the corrections: there are none."""

from prose.rows import Row

ROWS: list[Row] = []
