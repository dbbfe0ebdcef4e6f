"""What stands behind the figures of the road of any outline: the tape."""

from prose.rows import chosen, row

ROWS = [
    row(
        "n = 1 says where the stem stands, n = 2 is oval, n = 3 three-cornered",
        *[chosen("name")] * 3,
    ),
    row("for n = 1, 2, 3, …", *[chosen("name")] * 3),
    row("n = 1 only moves it", chosen("name")),
]
