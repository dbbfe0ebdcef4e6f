"""What stands behind the figures of workbook 12."""

from prose.rows import chosen, row

_POWERS = "0 for a cylinder, 1 for a paraboloid, 2 for a cone, 3 for a neiloid"
_TWENTY = (
    "Twenty trees read with 1.5 % new for each leave 0.67 % of their basal area unsure, a tape 1 % "
    "off leaves 2 %"
)
ROWS = [
    row("Raise *form* to 3", "panel('log').named['power'].greatest"),
    row("give it *butt flare* 20 %", "panel('log').named['flare_percent'].greatest / 2"),
    row(
        "*middle taken at* from 50 to 45 %",
        "panel('log').named['mid_percent'].start",
        "panel('log').named['mid_percent'].start - 5",
    ),
    row(_POWERS, chosen("coefficient"), chosen("coefficient"), chosen("coefficient")),
    row("*lowest reading at* to 1 m", "panel('log').named['lowest_m'].greatest"),
    row("what is it that is 95 % sure", "100 * erf(student_factor(inf) / sqrt(2))"),
    row(
        "Here, a tape 2.5 % low makes areas and volumes 5 % low",
        "100 * (1 - 0.975)",
        "100 * (1 - 0.975**2)",
    ),
    row(
        "*Plots* from 12 to 40",
        "panel('timber_budget').named['plots'].start",
        "panel('timber_budget').named['plots'].greatest",
    ),
    row(
        "Set *hand* to 5 %, then *instrument* to 3 %",
        "panel('timber_budget').named['hand_percent'].greatest",
        "panel('timber_budget').named['instrument_percent'].greatest",
    ),
    row(
        _TWENTY, "1.5", "2 * 1.5 / sqrt(20)", "1", "2 * 1",
    ),
]  # fmt: skip
