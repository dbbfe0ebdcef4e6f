"""What stands behind the figures of the questions of workbook 09."""

from prose.rows import chosen, given, row, used

DOWNHILL = "100 * ((1 + 1 * tan(radians(20)) / 100) ** 2 - 1)"
LEVEL = "100 * ((ellipse_girth_cm(40, 40 / cos(radians(10))) / (40 * pi)) ** 2 - 1)"
LEGS = "100 * ((belt_cm(25, 22) / pi) ** 2 / (25**2 + 22**2) - 1)"
FALL = "60 * tan(radians(30))"
PLUMB = "130 * (1 / cos(radians(10)) - 1)"
SIDE = "40 * tan(radians(10))"

ROWS = [
    row(
        "The tape lies 15 cm too low: 0.7 per cent too much",
        "40 * tan(radians(20))",
        DOWNHILL,
    ),
    row("round an ellipse: 1.6 per cent", LEVEL),
    row("of a fork, 25 and 22 cm across", chosen("example"), chosen("example")),
    row("34 per cent too much", LEGS),
    row(
        "The diameter is 0.7 mm smaller: 0.3 per cent too little",
        "10 * 1 * (1.37 - 1.3)",
        "100 * (1 - (1 - 0.07 / 40) ** 2)",
    ),
    row("there the ground is 35 cm higher", FALL),
    row("is at about 1.15 m", f"1.5 - {FALL} / 100"),
    row("60 · tan 30° = 35 cm", given, given),
    row("Along the stem that makes 2 cm. Another", PLUMB),
    row("40 · tan 10° = 7.1 cm apart. A plumb stick makes 2 cm", given, given, PLUMB),
    row("for along makes 2 cm, the other side 7.1 cm", PLUMB, SIDE),
    row("× 0.5774 =", "tan(radians(30))"),
    row("width, not over 130", "100 * 1.3"),
    row(
        "nearly (1 + 1.0642)/2 = 1.0321 times as long, and exactly 1.0323 times",
        "cos(0)",
        "1 / cos(radians(20))",
        "1 + 1",
        "ellipse_girth_cm(44, 44 / cos(radians(20))) / (44 * pi)",
    ),
    row("/3.1416 = 38.48 cm across", "120.9 / pi"),
    row(
        "38.48² over 25² + 22² is 1.335:",
        "120.9 / pi",
        used,
        used,
        "(120.9 / pi) ** 2 / (25**2 + 22**2)",
    ),
    row("The tape lay 10 cm too", given),
]
