"""What stands behind the figures of the pages' own words."""

from prose.rows import row

ROWS = [
    row("(girth 125 cm)", "typical_girth_cm"),
]
