"""What stands behind the figures of workbook 10."""

from prose.rows import chosen, given, quoted, rounded, row

ROWS = [
    row("Take the readings a mark down to 2", chosen("control")),
    row("then to 1", "panel('tape_card').named['repeats'].least"),
    row(
        "For 95 % multiply by Student's factor for $n-2$ degrees of freedom: 12.71 for one, 2.78 "
        "for four",
        "100 * erf(1.959964 / sqrt(2))",
        "student_factor(1)",
        "student_factor(4)",
    ),
    # a stretch is the rise's contrary: what raises the one lowers the other
    row("the two are correlated, +0.85 here", "-t3_card().correlation"),
    row(
        "in class II $a$ is 0.3 mm and $b$ 0.2 mm",
        "2 * permissible_error_mm('II', 1) - permissible_error_mm('II', 2)",
        "permissible_error_mm('II', 2) - permissible_error_mm('II', 1)",
    ),
    row("let the hand spread by 0.05 cm", chosen("control")),
    row("a good T1 read to 0.1 cm", "t3_card().resolution_cm"),
    row("a reading to 0.1 cm is too coarse", "t3_card().resolution_cm"),
    row("new tapes at 20 °C", quoted("UKSI2016", "20 °C")),
    row("tilted by up to 6°, a hand that spreads by 0.3 cm", given, given),
    row(
        "so 95 % lie a little closer together than the factor 1.96 says",
        "100 * erf(1.959964 / sqrt(2))",
        "student_factor(inf)",
    ),
    row("A plot of 18 oval stems", "panel('which_instrument').named['stem_count'].start"),
    row(
        "for calipers 0.3 and 0.05 on 40 cm, $n = 2$; for the tape 0.5 and 0.15 on $40\\pi$ cm, "
        "$n = 3$",
        "CALIPERS.hand_cm",
        "CALIPERS.common_cm",
        "Morning().diameter_cm",
        "readings_there('calipers')",
        "TAPE.hand_cm",
        "TAPE.common_cm",
        "readings_there('tape')",
    ),
    row("9/64 - 1/16", "(3 / 8) ** 2", "(1 / 4) ** 2"),
    row(
        "2\\cdot 0.0025^2 - 0.00108^2 - 0.00239^2",
        "plot_share('calipers, hand')",
        "plot_share('tape, hand')",
        "plot_share('tape, card')",
    ),
    row(
        "$q = 0.0086$, 9.7 % out of round",
        "flip_q()",
        "100 * (flip_q() + sqrt(flip_q() ** 2 + 4 * flip_q())) / 2",
    ),
    row(
        "$k$ = 2 covers about 95 %",
        quoted("TaylorKuyatt1994", "k = 2"),
        rounded("100 * erf(2 / sqrt(2))", 2),
    ),
]
