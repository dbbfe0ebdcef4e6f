"""What stands behind the figures of the problems on doubt."""

from prose.rows import chosen, quoted, rounded, row, used

ROWS = [
    row(
        "A girth 1 % larger gives an area about 2 % larger",
        used,
        rounded("100 * ((1 + 1 / 100) ** 2 - 1)", 1),
    ),
    row("√2 belongs", "2"),
    row(
        "A girth 1 % larger gives an area 2 % larger, not 1·1",
        used,
        rounded("100 * ((1 + 1 / 100) ** 2 - 1)", 1),
        used,
        used,
    ),
    row("k = 2", quoted("TaylorKuyatt1994", "k = 2")),
    row("One factor of 2", chosen("coefficient")),
    row("Two factors of 2", chosen("coefficient")),
    row("a = 200·", "2 * 100"),
    row("unsure by 200·", "2 * 100"),
    row("√2 times as much", "2"),
]
