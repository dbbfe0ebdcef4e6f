"""What stands behind the figures of the problems of forks and coppice."""

from prose.rows import chosen, given, row

ROWS = [
    row("A fork below 1.30 m makes", given),
    row("are then below 1.30.", given),
    row("it is less than 1.30 + {higher_m} =", given),
    row("{answer} % above 1. Neither", chosen("coefficient")),
]
