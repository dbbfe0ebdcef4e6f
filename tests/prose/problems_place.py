"""What stands behind the figures of the problems of where to measure: heights of the statement."""

from prose.rows import chosen, given, row

ROWS = [
    row("From 1.30 m to the tip it is H − 1.30 m", given, given),
    row(
        "Take ({laid_at_m} − 1.30)/({tree_height_m} − 1.30) off 1, and square",
        given,
        given,
        chosen("coefficient"),
    ),
    row("From 1.30 m it is {tree_height_m} − 1.30 =", given, given),
    row("lies {laid_at_m} − 1.30 of them", given),
    row("is known at 1.30 m: from there to the tip it is 1.30 m less", given, given),
    row("metres lie between 1.30 m and", given),
    row(
        "{buttress_top_m} + 0.50 − 1.30, square it, and see what is missing to 1",
        given,
        given,
        chosen("coefficient"),
    ),
    row("From 1.30 m to the tape it is {buttress_top_m} + 0.50 − 1.30 =", given, given, given),
    row("the stem at 1.30 m.", given),
    row("a share of that at 1.30 m.", given),
]
