"""What stands behind the figures of the still of calipers on a stem."""

from prose.rows import chosen, row

ROWS = [
    row("10 cm", chosen("example")),
    row("stands at 90.0° to it", "360 / 4"),
]
