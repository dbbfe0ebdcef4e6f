"""What stands behind the figures of the problems on how wide an interval must be.

From three to eight readings there are 2 to 7 degrees of freedom: what holds of them all is worked
out at the end where it holds least.
"""

from prose.rows import at_least, at_most, quoted, row

ROWS = [
    row("A 95 % interval from few readings", "student_covers_percent(student_factor(2), 2)"),
    row("with few readings it is well above 2", at_least("student_factor(8 - 1)")),
    row(
        "With k = 2 it would cover less than 95 %",
        quoted("TaylorKuyatt1994", "k = 2"),
        at_most("student_covers_percent(2, 8 - 1)"),
    ),
    row("You took k = 2", quoted("TaylorKuyatt1994", "k = 2")),
    row("For 95 % it is multiplied", "student_covers_percent(student_factor(8 - 1), 8 - 1)"),
]
