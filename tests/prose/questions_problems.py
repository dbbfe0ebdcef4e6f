"""What stands behind the figures of the questions of workbook 08."""

from prose.rows import chosen, given, rounded, row

ROWS = [
    row("About 10 times", rounded("pi**2", 1)),
    row("the whole last place, 0.1 cm", given),
    row("to the nearest 0.1 cm is off", given),
    row("it is 100 times", chosen("coefficient")),
    row("Q11 is 4 times too large", "2**2"),
    row("Q11's is 4 times too large", "2**2"),
]
