"""What stands behind the figures of the problems of a class's readings."""

from prose.rows import chosen, row

FACTOR = "student_factor(inf)"

ROWS = [
    row("A single reading's is smaller by √2", chosen("coefficient")),
    row("the repeatability limit, 2.8 times", f"{FACTOR} * sqrt(2)"),
    row("the differences ± 1.96 of their", FACTOR),
    row("then the mean plus 1.96 of that", FACTOR),
    row("{mean_cm} + 1.96·{deviation_cm}", FACTOR),
    row("two thirds. Multiply it by 1.96", FACTOR),
    row("the root of it times 1.96", FACTOR),
    row("{one_cm} cm, and 1.96 times that", FACTOR),
    row("The limits lie 1.96 of them away", FACTOR),
]
