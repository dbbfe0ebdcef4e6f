"""What stands behind the figures of the problems on the proof."""

from prose.rows import chosen, row

ROWS = [
    row("The 2 under the line", chosen("coefficient")),
    row("has 1/4", "1 / 4"),
    row("take the one below 1", chosen("coefficient")),
    row("} below 1", chosen("coefficient")),
    row("Divide them by 100 first", chosen("coefficient")),
]
