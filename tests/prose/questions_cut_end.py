"""What stands behind the figures of the questions of workbook 13."""

from prose.rows import given, row

BEHIND = "100 * (1 / 0.95**2 - 1)"
TWELVE = "100 * (1 - 12 / (2 * pi) * sin(2 * pi / 12))"

ROWS = [
    row("About 11 per cent too large", BEHIND),
    row(
        "A width is 1/0.95 times too large, and the area 1/0.95² times: 10.8 per cent",
        "cos(0)",
        "1 - 5 / 100",
        "cos(0)",
        "1 - 5 / 100",
        BEHIND,
    ),
    row("27 per cent too long, with any", "100 * (4 / pi - 1)"),
    row("make the same 4 per cent", given),
    row(
        "= 25 px, a square centimetre 625 px²; 900 000/625 = 1440 cm²",
        "750 / 30",
        "(750 / 30) ** 2",
        given,
        "(750 / 30) ** 2",
    ),
    row(
        "= 1263.4 cm². Over {…} that is 6.2 %",
        "126**2 / (4 * pi)",
        "100 * (126**2 / (4 * pi) / 1190 - 1)",
    ),
    row("triangles of r²/2·sin 30° make", "360 / 12"),
    row("where the disc has 3.1416·r²: 4.5 % are", TWELVE),
    row("With 36 points it is 0.5 %", "6 * 6", "100 * (1 - 36 / (2 * pi) * sin(2 * pi / 36))"),
]
