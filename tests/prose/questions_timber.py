"""What stands behind the figures of the questions of workbook 12."""

from prose.rows import given, row

NOW, PLOTS, FORM = "hypot(4, 5)", "hypot(4 / sqrt(2), 5)", "hypot(4, 5 / 2)"
SQUARES = "sum((one - 29) ** 2 for one in (24, 31, 28, 33))"

ROWS = [
    row("It is 3.6 per cent too small", "100 * (30**2 / ((40**2 + 40 * 20 + 20**2) / 3) - 1)"),
    row(
        "It is 7.1 per cent too large",
        "100 * ((40**2 + 20**2) / 2 / ((40**2 + 40 * 20 + 20**2) / 3) - 1)",
    ),
    row("the same for all 500", given),
    row("By 2 per cent", "100 * (1.01**2 - 1)"),
    row("by the square, 2.01 per cent", "100 * (1.01**2 - 1)"),
    row(
        "The plots' 4 per cent become 2.8, and the whole goes from 6.4 to 5.7 per cent",
        given,
        "4 / sqrt(2)",
        NOW,
        PLOTS,
    ),
    row("The whole goes from 6.4 to 4.7 per cent", NOW, FORM),
    row(
        "= 1260.7 cm²; times π/4 that is 990.1 cm², and on 6 m 0.594 m³",
        "(42**2 + 4 * 35**2 + 30**2) / 6",
        "pi / 4 * (42**2 + 4 * 35**2 + 30**2) / 6",
        "newton_m3(42, 35, 30, 6)",
    ),
    row(
        "About the mean of 29 the squares add up to 46; over 3 and the root, they spread by 3.92",
        "mean((24, 31, 28, 33))",
        SQUARES,
        "len((24, 31, 28, 33)) - 1",
        f"sqrt({SQUARES} / 3)",
    ),
    row(
        "Over √4 that is 1.96 m²/ha, and times {…} it is 6.2",
        "len((24, 31, 28, 33))",
        f"sqrt({SQUARES} / 3 / 4)",
        f"student_factor(3) * sqrt({SQUARES} / 3 / 4)",
    ),
    row("The mean of four: over √4", "len((24, 31, 28, 33))"),
    row("1.96 is for very many plots", "student_factor(inf)"),
    row("is 6.51 %", "hypot(2 * 1.5, 2.9, 5)"),
    row("it would be 4.17 %", "hypot(2 * 1.5, 2.9)"),
]
