"""What stands behind the figures of workbook 03."""

from prose.rows import chosen, rounded, row, shown, used

ROWS = [
    row("a stem of 60 by 48 cm has $a = 30$, $b = 24$", "2 * 30", "2 * 24", used, used),
    row("Go to line 4.", shown("4 ⇐ π(a² + b²)/2 > πab")),
    row("Go to line 7 and", shown("7 ⇐ (a − b)² > 0")),
    row("Set $a = 40$, and $b = 38$, then $b = 36$", *[chosen("control")] * 3),
    row(
        "Read upwards from line 8 to line 4, and then line 1",
        shown("8 ⇐ a ≠ b"),
        shown("4 ⇐ π(a² + b²)/2 > πab"),
        shown("1 A_tape > A_cal"),
    ),
    row("is used in line 8", shown("8 ⇐ a ≠ b")),
    row("disc 07 are invented", chosen("name")),
    row("Disc 07, invented", chosen("name")),
    row("oval (2), three-cornered (3)", *[chosen("name")] * 2),
    row("At 45° the area", "90 / 2"),
    row("half-axes 30 and 27 cm", "Ellipse(60, 54).first_cm / 2", "Ellipse(60, 54).second_cm / 2"),
    row(
        "passes the tape at **22.5°**, the product at **30°**",
        "calipers_limit_deg(60, 54)",
        rounded("calipers_limit_deg(60, 54, 'geometric')", 2),
    ),
    row("cancels but 4, 8, 12 …", *[chosen("name")] * 3),
    row(
        "below 0, by 0.8 mm on 60 by 48 cm",
        "-10 * fourth_ripple_cm(Ellipse(60, 48))",
        used,
        used,
    ),
    row(
        "within 22.5° of its axes (arithmetic mean) or 30° (product)",
        "calipers_limit_deg(60, 59)",
        rounded("calipers_limit_deg(60, 59, 'geometric')", 2),
    ),
    row(
        "On an ellipse of 60 by 54 cm the tape claims 0.42 % too much",
        used,
        used,
        "tape_over_percent(54 / 60)",
    ),
    row("a band 5° off the square", chosen("example")),
]
