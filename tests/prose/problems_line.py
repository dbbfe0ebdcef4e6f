"""What stands behind the figures of the problems on the line through a check's marks."""

from prose.rows import chosen, given, row

#: The lengths of the second family, about their middle.
MIDDLE = "mean([50, 100, 150, 200])"
SQUARES = f"sum((length - {MIDDLE}) ** 2 for length in (50, 100, 150, 200))"

ROWS = [
    # two marks, as the statement has them
    row("At 50 cm the reading has both faults in it, at 200 cm as well", given, given),
    row("150 cm of rule are so many cm of tape. Go down that line from 50 cm", "200 - 50", given),
    row("({reading_2_cm} − {reading_1_cm})/150", "200 - 50"),
    row("The first 50 cm take", given),
    row("That is the error at 50 cm. The stretch over these 50 cm", given, given),
    row("That is the error at 200 cm, mostly", given),
    row("the line's height at 125 cm", "mean([50, 200])"),
    # four marks
    row("Σ(x − 125)·e over Σ(x − 125)²", MIDDLE, MIDDLE),
    row(
        "The rise is 1 more, and wider",
        "fit_line([50, 200], [52, 198]).rise - (198 - 200 - (52 - 50)) / (200 - 50)",
    ),
    row("the stretch is 1/rise − 1.", chosen("coefficient"), chosen("coefficient")),
    row("marks: 1/rise − 1.", chosen("coefficient"), chosen("coefficient")),
    row("e₂))/12500", SQUARES),
    row("Here e₄ is {reading_4_cm} − 200", given),
    row(
        "The lengths are −75, −25, 25 and 75 cm off their middle; these, squared, add up to 12500",
        *(f"{length} - {MIDDLE}" for length in (50, 100, 150, 200)),
        SQUARES,
    ),
    row("to {reading_4_cm} − 200, they make", given),
    row("{weighed_cm2}/12500", SQUARES),
    row("A rise below 1 means", "fit_line([50, 200], [50, 200]).rise"),
    row("clause 5.2.2", chosen("name")),
]
