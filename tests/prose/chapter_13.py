"""What stands behind the figures of workbook 13."""

from prose.rows import chosen, row

ROWS = [
    row("Two people measure disc 15 by", chosen("name")),
    row("Then *18 directions*: which", "PRACTICES['many-arithmetic'][0]"),
    row("3. Choose disc 18, five lobes.", chosen("name")),
    row("less than those of disc 07, yet", chosen("name")),
    row("**Ovality** is $k = 2$.", chosen("coefficient")),
    row("the mean loses $k = 2$ as well", chosen("coefficient")),
    row("measured alike. Disc 17:", chosen("name")),
    row(
        "pictures of one oval, 38 by 34 cm",
        "spoilt_photographs()[0].true.width_cm(0)",
        "spoilt_photographs()[0].true.width_cm(90)",
    ),
]
