"""What stands behind the figures of workbook 11."""

from prose.rows import chosen, row

ROWS = [
    row("K1 and K2, 18 stems", "len(quillmere_practical().readings.stems)"),
    row(
        "**beyond chance** (5 % over all hands and instruments together) and **large enough to "
        "matter** (here 1 % of a reading, or 0.5 cm of girth, 0.2 cm of diameter)",
        "Matters().chance_percent",
        "Matters().share_percent",
        "Matters().girth_cm",
        "Matters().diameter_cm",
    ),
    row("1. Q03 adds 2 %", "panel('hands_and_instruments').named['hand_percent'].start"),
    row(
        "Go back to 2 %, with 4 stems",
        "panel('hands_and_instruments').named['hand_percent'].start",
        "panel('hands_and_instruments').named['stem_count'].least",
    ),
    row("By the method of ISO 5725-2", chosen("name"), chosen("name")),
    row(
        "Two readings lie within 2.8·s of each other in 95 of 100 cases",
        "student_factor(inf) * sqrt(2)",
        "100 * erf(student_factor(inf) / sqrt(2))",
        chosen("coefficient"),
    ),
    row(
        "$\\bar d \\pm 1.96\\,s$ [BlandAltman1986]: 95 of 100 differences",
        "student_factor(inf)",
        "100 * erf(student_factor(inf) / sqrt(2))",
        chosen("coefficient"),
    ),
]
