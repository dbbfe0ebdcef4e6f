"""What stands behind the figures of the problems on growth by one tape and by two."""

from prose.rows import chosen, row

ROWS = [
    row("scale that reads 1 % too", chosen("example")),
    row("growth is then 1 % too", chosen("example")),
    row("adds its own: √2 of one.", chosen("coefficient")),
]
