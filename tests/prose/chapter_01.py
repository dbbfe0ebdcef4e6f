"""What stands behind the figures of workbook 01."""

from prose.rows import chosen, given, quoted, rounded, row, shown, used

_UK = "UKSI2016"

ROWS = [
    row("most countries; Australia|1.30 m", quoted("CFMP1999", "1.30 m")),
    row("New Zealand|1.40 m", quoted("CFMP1999", "1.40 m")),
    row(
        "4 ft 6 in = 1.37 m",
        quoted("BCFT", "4 ft 6 in"),
        quoted("BCFT", "4 ft 6 in"),
        "(4 * 12 + 6) * 2.54 / 100",
    ),
    row(
        "diameters at 1.30 m and 1.37 m differ by about 1 %",
        quoted("BCFT", "1.30 m"),
        "(4 * 12 + 6) * 2.54 / 100",
        quoted("VanHooser1984", "1 %"),
    ),
    row(
        "Press **1 % too long**",
        "panel('girth').numbers(**panel('girth').presets['1 % too long']).girth_over_percent",
    ),
    row("the misreading at 2 cm", "panel('girth').start()['misread_cm']"),
    row("thinner, down to 60 cm", "panel('girth').named['girth_cm'].least"),
    row("*diameter, cm* shows 50", chosen("control")),
    row("A round stem, 40 cm across", given),
    row(
        "Up to 2 m, a tape of class II of the European rules may be off by 0.3 + 0.2 × 2 =",
        chosen("example"),
        quoted(_UK, "0.3 mm"),
        quoted(_UK, "0.2 mm"),
        chosen("example"),
    ),
    row(
        "9.9 mm on average for volunteers and by 1.8 mm for experts [Butt2013]: 31 and 5.7 mm",
        quoted("Butt2013", "9.9 mm"),
        quoted("Butt2013", "1.8 mm"),
        rounded("9.9 * pi", 2),
        "1.8 * pi",
    ),
    row("Calipers that read 0.4 cm when closed", chosen("example")),
    row("grew to 5 times its girth grew to 25 times", used, "5**2"),
    row(
        "4 ft 6 in, where the column was taken",
        quoted("BCFT", "4 ft 6 in"),
        quoted("BCFT", "4 ft 6 in"),
    ),
    row(
        "A cone as high as these trees has 0.37 to 0.39, a paraboloid 0.53 to 0.54",
        "min((h / (h - 4.5)) ** 2 / 3 for h in cherry_trees().height_ft)",
        "max((h / (h - 4.5)) ** 2 / 3 for h in cherry_trees().height_ft)",
        "min(h / (h - 4.5) / 2 for h in cherry_trees().height_ft)",
        "max(h / (h - 4.5) / 2 for h in cherry_trees().height_ft)",
    ),
    row("they have 0.32 to 0.44", shown("diameter 0.324 0.440"), shown("diameter 0.324 0.440")),
]
