"""What stands behind the figures of the problems on girth, diameter and area."""

from prose.rows import given, row

ROWS = [
    row("2.54", "CM_PER_INCH"),
    row(
        "A metre is 100 cm, so a square metre is 100 times 100 cm²: 10 000",
        "1 / 0.01",
        "1 / 0.01",
        "100 * 100",
    ),
    row("A square metre has 10 000", "100 * 100"),
    row("it takes 100 twice, 10 000", "1 / 0.01", "100 * 100"),
    row("between 45 and 120", given, given),
]
