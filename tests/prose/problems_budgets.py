"""What stands behind the figures of the problems on what goes into a girth's uncertainty."""

from prose.rows import quoted, row

ROWS = [
    row("step/√12", "1 / u_resolution_cm(1) ** 2"),
    row(
        "Half a step is the bound, not the standard uncertainty: divide it by √3",
        "(1 / 2 / u_resolution_cm(1)) ** 2",
    ),
    row("k = 2", quoted("TaylorKuyatt1994", "k = 2")),
    row("b = {tilt_up_to_deg}·3.1416/180", "pi / radians(1)"),
    row("radians: times π/180", "pi / radians(1)"),
]
