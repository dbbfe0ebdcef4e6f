"""What stands behind the figures of workbook 05."""

from prose.rows import chosen, given, quoted, rounded, row, used

ROWS = [
    row("the bark 4 cm thick", chosen("control")),
    row("sink in by 0.5 cm", chosen("control")),
    row("A rectangle of wood, 3 by 4, with bark of 0.5", given, given, given),
    row("eight places round a stem of 46.0 cm over bark", given),
    row(
        "bark would take 7 to 8 % of the diameter",
        rounded("100 * (1 - sqrt(1 - 13 / 98))", 1),
        rounded("100 * (1 - sqrt(1 - 105 / 655))", 1),
    ),
    row(
        "between the rows of 5 and 10 % above",
        "100 * (1 - sqrt(1 - 0.0975))",
        "100 * (1 - sqrt(1 - 0.19))",
    ),
    row("grew by less than 1 %", quoted("Burgan1971", "1 %")),
    row("grew by about 15 % in length", quoted("Burgan1971", "15 %")),
    row("Take the 1 % as a window", quoted("Burgan1971", "1 %")),
    row("do to a stem of 40 cm", given),
    row("1 mm all round is 2 mm of diameter", used, "2 * 1"),
    row(
        "A log of 4.0 m, 46.0 cm over bark in the middle, bark 2.0 cm",
        given,
        given,
        given,
    ),
]
