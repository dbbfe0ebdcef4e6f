"""What stands behind the figures of the ellipse's road."""

from prose.rows import row

ROWS = [
    row(
        "With a = 10, b = 8 that is 1.88 % instead of 2.5 %",
        "10",
        "8",
        "tape_over_percent(8 / 10)",
        "classroom_over_percent(8 / 10)",
    ),
    row("→ 3/8 as b → a", "leading(tape_over_percent)"),
    row("two bounds with 1/4 and 1/2", "1 / 4", "leading(classroom_over_percent)"),
    row("→ 3/4 as b → a", "leading(tape_over_percent) / leading(classroom_over_percent)"),
]
