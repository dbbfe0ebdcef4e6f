"""What stands behind the figures of the problems of forks and coppice."""

from prose.rows import chosen, row

ROWS = [row("{answer} % above 1. Neither", chosen("coefficient"))]
