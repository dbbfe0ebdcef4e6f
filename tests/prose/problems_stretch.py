"""What stands behind the figures of the problems on bands whose marks have moved."""

from prose.rows import chosen, row

ROWS = [
    row("that say they are 1 cm apart", chosen("name")),
    row("What it is more than 1", chosen("coefficient")),
    row("Take the 100 off", chosen("coefficient")),
    row("each mark covers more than 1 cm", chosen("name")),
]
