"""What stands behind the figures of workbook 09."""

from prose.rows import chosen, given, quoted, row

_TALL = "[one['cone, cm/m'] for one in breast_taper_rows()]"

ROWS = [
    row("Step 2 tells what your place costs", chosen("control")),
    row("your place costs, step 3 shows the rule's", chosen("control")),
    row("then go to step 3", "panel('place').stepper.count"),
    row(
        "a cone of usual size loses 1.2 to 2.4 cm a metre, a paraboloid half of that",
        f"min({_TALL})",
        f"max({_TALL})",
    ),
    row("Legs of 25 and 22 cm, by five ways", chosen("example"), chosen("example")),
    row(
        "Amounts (5 cm of litter, a swelling of 8 %) are assumed",
        "IGNORED_RULES['litter'].usual",
        "IGNORED_RULES['swelling'].usual",
    ),
    row(
        "area times 25 m times a form of 0.45",
        "TREE_M",
        "USUAL_FORM_FACTOR",
    ),
    row(
        "a butt's up to 1.8 m; five buttresses, 1.5 diameters at the foot and 2 m up",
        "place_readings._SWELL_ENDS_M",
        "place_readings._LOBE_REACH",
        "IGNORED_RULES['buttress'].usual",
    ),
    row(
        "From 1.30 to 1.37 m one report has about 1 % of the diameter",
        "BREAST_HEIGHT_M",
        "4.5 * 0.3048",
        quoted("VanHooser1984", "1 %"),
    ),
    row(
        "at 40 cm an even taper would have to be 5.7 cm a metre for that",
        chosen("example"),
        "0.01 * 40 / (1.37 - 1.30)",
    ),
    row("A girth of 125 cm and of 127 cm, doubts assumed", given, given),
    row("How long to wait, at 0.4 cm a year", given),
    row("are read more than $1.96\\,u$ from nought", "normal_point(0.975)"),
    row("Stem 5 lost 0.6 cm. Why?", chosen("name"), given),
]
