"""What stands behind the figures of the problems on laying the tape."""

from prose.rows import at_least, chosen, row

ROWS = [
    row("The mean of 1 and", chosen("coefficient")),
    row("it is more than 1", chosen("coefficient")),
    row("within half a per cent up to 25°", at_least("tilt_within_deg(0.5)")),
    row("Take the 100 off", chosen("coefficient")),
]
