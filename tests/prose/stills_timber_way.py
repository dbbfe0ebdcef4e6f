"""What stands behind the figures of the still of the way to timber: they count its drawings."""

from prose.rows import chosen, row

ROWS = [
    *(row(text, chosen("name")) for text in ("1 a girth", "2 a tree", "3 a plot", "4 a hectare")),
    *(row(text, chosen("name")) for text in ("1, a girth", "2, a tree", "3, a plot")),
    row("4, a hectare", chosen("name")),
]
