"""What stands behind the figures of the problems on growth."""

from prose.rows import chosen, row

#: The normal law's points: five in a hundred to both sides, and nine of ten.
CHANCE, FOUND = "round(normal_point(0.975), 2)", "round(normal_point(0.9), 2)"

ROWS = [
    row("√2 of one reading.", chosen("coefficient")),
    row("is read above 1.96 of that", CHANCE),
    row("of ten is 1.96 + 1.28 of it", CHANCE, FOUND),
    row("Work out (1.96 + 1.28)·1.4142·{u_reading_cm} and", CHANCE, FOUND),
    row("a growth of (1.96 + 1.28)·{both_cm}", CHANCE, FOUND),
    row("difference has two: √2 of one.", chosen("coefficient")),
    row("ten it takes 1.28 more.", FOUND),
    row("Add their squares: √2 of one.", chosen("coefficient")),
    row("1.28 comes on top of the 1.96 that chance", FOUND, CHANCE),
    row("given in mm: 10 mm are 1 cm.", "10 * 1", "10 / 10"),
    row("{between_years}th root, and 1 away; make", "cos(0)"),
]
