"""What stands behind the figures of workbook 08."""

from prose.rows import chosen, quoted, rounded, row, used

ROWS = [
    row("what went wrong: 9.87 times", "pi**2"),
    row("But 9.87 and 10 lie 1.3 % apart", "pi**2", used, "100 * (10 / pi**2 - 1)"),
    row("pale box at 1 is", chosen("coefficient")),
    row("RFC 7693", chosen("name")),
    row(
        "A girth of 176.2 cm was read to the nearest 0.1 cm: it may have been anything from "
        "176.15 to 176.25",
        "q07_gets('share-of-bark', 'girth_cm')",
        used,
        "176.2 - 0.1 / 2",
        "176.2 + 0.1 / 2",
    ),
    row("never less than 0.5 %", "LEAST_TOLERANCE_PERCENT"),
    row("yard of 0.9144 m", quoted("NBS1959", "0.9144 m")),
    row("answer 0.442 m²", "area_from_girth_cm2(q07_gets('girth-to-area', 'girth_cm')) / 1e4"),
    row("The same 0.05 cm", "0.1 / 2"),
    row(
        "carries four (4421 ± 2 cm²)",
        "area_from_girth_cm2(q07_gets('girth-to-area', 'girth_cm'))",
        rounded("area_from_girth_cm2(235.75) - area_from_girth_cm2(235.7)", 1),
    ),
    row(
        "times 0.0796 (0.08 is half a per cent",
        "1 / (4 * pi)",
        rounded("1 / (4 * pi)", 1),
    ),
    row(
        "$k$ = 2 covers about 95 %",
        quoted("TaylorKuyatt1994", "k = 2"),
        rounded("100 * erf(2 / sqrt(2))", 2),
    ),
    row("workbooks 01 to 07", chosen("name")),
]
