"""What stands behind the figures of the problems on how good a tape is: class checks."""

from prose.rows import quoted, row

ROWS = [
    row(
        "work out 0.6 + 0.4·L + 0.3, and take",
        quoted("UKSI2016", "0.6 mm"),
        quoted("UKSI2016", "0.4 mm"),
        quoted("UKSI2016", "0.3 mm"),
    ),
    row(
        "0.6 + 0.3 mm, and 0.4 mm for each metre",
        quoted("UKSI2016", "0.6 mm"),
        quoted("UKSI2016", "0.3 mm"),
        quoted("UKSI2016", "0.4 mm"),
    ),
    row(
        "take 0.3 + 0.2·L from {error_mm}",
        quoted("UKSI2016", "0.3 mm"),
        quoted("UKSI2016", "0.2 mm"),
    ),
    row("k = 2", quoted("TaylorKuyatt1994", "k = 2")),
]
