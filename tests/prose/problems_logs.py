"""What stands behind the figures of the problems on logs."""

from prose.rows import rounded, row

ROWS = [
    row("21 % less than the true volume", rounded("100 * (1 - pi / 4)", 2)),
    row("A square metre has 10 000 cm²", "100 * 100"),
    row("37.70", "12 * pi"),
]
