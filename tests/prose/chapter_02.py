"""What stands behind the figures of workbook 02."""

from prose.rows import given, quoted, row

_R = "Rodriguez2015"

ROWS = [
    row("an oval stem, 60 by 48 cm", given, given),
    row("Make the second diameter 60 too", "panel('out_of_round').start()['first_cm']"),
    row(
        "on the axes a jaw stands 1.7 mm farther out",
        "10 * panel('out_of_round').presets['The fourth ripple turned round']['fourth_ripple_cm']",
    ),
    row(
        "as 2 : 3 : 4",
        "8 * two_readings_over_percent(0.999, 0) / (100 * 0.001**2)",
        "8 * tape_over_percent(0.999) / (100 * 0.001**2)",
        "8 * classroom_over_percent(0.999) / (100 * 0.001**2)",
    ),
    row("At 45° both means err", given),
    row("blames on the tape, 2.5 %", "classroom_over_percent(48 / 60)"),
    row("up to 22.5°, its product", "degrees(acos(0)) / 4"),
    row("up to 30°. On 60 by", "degrees(acos(-1 / 2)) / 4", given),
    row("by 48 cm this", "48"),
    row(
        "this $r_4$ is −0.8 mm; on the axes the mean would be nearer down to −6. Add 0.8 mm",
        "10 * fourth_ripple_cm(Ellipse(60, 48))",
        "least_ripple_mm(60, 48)",
        given,
    ),
    row("then 1.7:", "-20 * fourth_ripple_cm(Ellipse(60, 48))"),
    row("**within 22° of an ellipse's axes", "floor(calipers_limit_deg(60, 30))"),
    row(
        "this hull's fourth ripple is 1.4 mm",
        "10 * ripple_along_cm(read_outline(data_file('quillmere-disc-07.csv')), 4, 28)",
    ),
    row(
        "In 5408 sections of 48 poplars",
        quoted(_R, "5408"),
        quoted(_R, "48"),
    ),
    row("by 0.47 % to 2.37 %", quoted(_R, "0.47 %"), quoted(_R, "2.37 %")),
    row(
        "within 22° of the axes (arithmetic mean) or 29° (product)",
        "floor(calipers_limit_deg(60, 30))",
        "floor(calipers_limit_deg(60, 30, 'geometric'))",
    ),
]
