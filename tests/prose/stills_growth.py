"""What stands behind the figures of the still of growth."""

from prose.rows import quoted, row

ROWS = [
    row(
        "since 31 December 1968",
        quoted("Draper1998", "31 December 1968"),
        quoted("Draper1998", "31 December 1968"),
    ),
    row(
        "from day 118 to day 1582",
        "orange_girths().age_days.min()",
        "orange_girths().age_days.max()",
    ),
]
