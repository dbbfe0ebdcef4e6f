"""What stands behind the figures of the questions of workbook 11."""

from prose.rows import row

#: What tape T2 had stretched by: a tape of 100 cm reads 100/(1 + s).
STRETCH = "100 * (1 / (1 + quillmere_practical().planted[1].share_percent / 100) - 1)"

ROWS = [
    row("·1.02 = 122.40 cm long", "1 + 2 / 100", "120 * (1 + 2 / 100)"),
    row(
        "Each of the tape's centimetres is 1.025 long, so it counts 122.40/1.025",
        "1 + 2.5 / 100",
        "120 * (1 + 2 / 100)",
        "1 + 2.5 / 100",
    ),
    row("Stretched by 2.5 %, a tape reads 1/1.025 of the way", STRETCH, "1", "1 + 2.5 / 100"),
    row("{…})² − 1 = 8.2 %", "100 * ((1 + 0.8 / 20) ** 2 - 1)"),
    row("three times as thick it is 2.7 %", "100 * ((1 + 0.8 / (3 * 20)) ** 2 - 1)"),
    row("a last term, 0.04²", "0.8 / 20"),
    row(
        "{…}² = 0.447 cm; 2.8 times that is 1.25 cm",
        "hypot(0.2, 0.4)",
        "student_factor(inf) * sqrt(2)",
        "2.8 * hypot(0.2, 0.4)",
    ),
    row("of one reading. Times 2.8.", "student_factor(inf) * sqrt(2)"),
]
