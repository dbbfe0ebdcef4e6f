"""What stands behind the figures of the problems of slope and lean."""

from prose.rows import chosen, given, row

ROWS = [
    row("stem, not over 1.30 m.", given),
    row("The mean of 1 and", chosen("coefficient")),
    row("the mean of 1 and", chosen("coefficient")),
]
