"""What stands behind the figures of the problems on bark."""

from prose.rows import chosen, row

ROWS = [
    row("1 less the square of the wood's share", chosen("coefficient")),
]
