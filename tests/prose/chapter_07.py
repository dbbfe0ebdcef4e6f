"""What stands behind the figures of workbook 07."""

from prose.rows import at_most, chosen, given, quoted, row, used

ROWS = [
    row("Turn them by 45°", chosen("example")),
    row("inwards, by −2°. Make both diameters 40 cm", chosen("control"), chosen("control")),
    row("from −90° to 90°", chosen("control"), chosen("control")),
    row("Turn the stem by 60°", chosen("control")),
    row("half a millimetre in 5 cm is 0.6°", used, "degrees(0.05 / 5)"),
    row("for 2 cm and 5° another 0.17 cm", used, used, "2 * tan(radians(5))"),
    row("Calipers that read 0.4 cm when closed read 0.4 cm", given, given),
    row(
        "errs by up to 15 %, the mean of two by less than 1 %",
        "max(turned_over_percent(46, 40, 1))",
        at_most("max(turned_over_percent(46, 40, 2))"),
    ),
    row(
        "the same 319 stems with calipers, their diameters had a standard deviation of 0.3 cm, "
        "1.5 %",
        quoted("Luoma2017", "319"),
        quoted("Luoma2017", "0.3 cm"),
        quoted("Luoma2017", "1.5 %"),
    ),
    row("A zero of 0.4 cm is as large", given),
    row("code of 1911", quoted("Eichordnung1911", "1911")),
    row(
        "within 0.25 mm; up to 2 m: within 1 mm",
        quoted("Eichordnung1911", "0.25 mm"),
        quoted("Eichordnung1911", "2 m"),
        quoted("Eichordnung1911", "1 mm"),
    ),
    row("with jaws of 25 cm", "50 / 2"),
    row("a lean of 1° is", chosen("example")),
]
