"""What stands behind the figures of the problems on out of round."""

from prose.rows import chosen, row

ROWS = [
    row("A factor 4 is missing", chosen("coefficient")),
    row("3/8 of (d₁ − d₂)²/(d₁·d₂)", "leading(tape_over_percent)"),
]
