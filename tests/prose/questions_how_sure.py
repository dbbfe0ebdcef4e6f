"""What stands behind the figures of the questions of workbook 10."""

from prose.rows import chosen, given, row

ROWS = [
    row("of a step/√12 = 0.29 cm stays", chosen("coefficient"), "1 / sqrt(12)"),
    row(
        "divided by √3, or the step divided by √12: {…}/3.464 = 0.29 cm",
        chosen("coefficient"),
        chosen("coefficient"),
        "sqrt(12)",
        "1 / sqrt(12)",
    ),
    row("divide it by √3", chosen("coefficient")),
    row("{…} m are 3 m: 0.3 + 3·0.2 = 0.9 mm", "ceil(2.4)", given, "ceil(2.4)", given),
    row("{…} mm that is 0.65 mm", "0.3 + 3 * 0.2 - 0.25"),
    row("/√12 = 0.144 cm", "0.5 / sqrt(12)"),
    row("{…}² + 0.144² is", "0.5 / sqrt(12)"),
    row("is step/√12", chosen("coefficient")),
    row("divide it by √12", chosen("coefficient")),
    row("{…}/√{…} = 0.15 cm", "0.3 / sqrt(4)"),
    row("The root of 0.15² + {…}² is 0.18 cm", "0.3 / sqrt(4)", "hypot(0.1, 0.3 / sqrt(4))"),
]
