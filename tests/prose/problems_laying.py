"""What stands behind the figures of the problems on laying the tape."""

from prose.rows import chosen, row

ROWS = [
    row("The mean of 1 and", chosen("coefficient")),
    row("it is more than 1", chosen("coefficient")),
    row("Take the 100 off", chosen("coefficient")),
]
