"""What stands behind the figures of workbook 06."""

from prose.rows import chosen, given, quoted, rounded, row, used

ROWS = [
    row("on a round stem of 125 cm girth", "typical_girth_cm"),
    row("stretch it to 1 %", chosen("control")),
    row("with 1 cm worn off", chosen("control")),
    row("each other on 125 cm. Then try 60 cm", chosen("control"), chosen("control")),
    row("mark 70 lies at 100 cm", given, "70 / (1 - 30 / 100)"),
    row(
        "Always 30 % too short, and yet the stretch is 42.86 %: 30 cm on 70 marks, not on 100",
        "100 - 70",
        "3000 / 70",
        "100 - 70",
        used,
        "70 / 0.7",
    ),
    row("multiply by 100/70; do not add 30 %", "70", "100 * (1 - 70 / 100)"),
    row("2 % is our example", given),
    row("the mark 10 as zero, and take 10 off", chosen("practice"), chosen("practice")),
    row("true at 20 °C", quoted("Phillips2016", "20 °C")),
    row(
        "by 0.21 % of its diameter on average in one young stand, and by much on the coldest days "
        "[DevineHarrington2011]; by about 1 mm",
        quoted("DevineHarrington2011", "0.21 %"),
        quoted("Sheil2003", "1 mm"),
    ),
    row("Of 125 cm, 0.21 % are 2.6 mm", used, used, "10 * 125 * 0.21 / 100"),
    row(
        "Tapes of 5 m and more are proved at 50 N unless marked otherwise [UKSI2016]; we take 50 N",
        quoted("UKSI2016", "5 m"),
        quoted("UKSI2016", "50 N"),
        "REFERENCE_N",
    ),
    row(
        "At 90 N a common steel band errs by 0.01 cm",
        used,
        "125 * (90 - REFERENCE_N) / material('steel').stiffness_n",
    ),
    row("with 25 000 N assumed", "material('fibreglass').stiffness_n"),
    row("Euler 1769, Eytelwein 1808", chosen("name"), chosen("name")),
    row("90 N are 9 kg", used, rounded("90 / 9.80665", 1)),
    row(
        "11.5 ± 2 millionths",
        quoted("GUM1995", "11.5"),
        quoted("GUM1995", "2"),
    ),
    row("beside 50, 100 and 150 cm: 51.3, 100.7 and 150.2 cm", *[given] * 6),
    row("the thickness (0.4 mm) comes off", "10 * t3().tape.thickness_cm"),
    row("Shrunk by 2 %, worn by 0.7 cm, reading 128.25 cm", *[given] * 3),
    row(
        "Rounding to 0.1 cm alone may leave a misfit of up to 0.07 cm",
        "2 * 0.05",
        rounded("(0.05 + 2 * 0.05 + 0.05) / 3", 1),
    ),
    row(
        "own 0.04 cm, one standard uncertainty is up to 0.06 cm between 50 and 150 cm",
        "t3().spread_cm",
        rounded("hypot(t3().spread_cm, t3().doubt_cm(150))", 1),
        "min(t3().places_cm)",
        "max(t3().places_cm)",
    ),
]
