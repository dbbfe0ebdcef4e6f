"""What stands behind the figures of workbook 04."""

from prose.rows import chosen, given, quoted, row, used

_CLIMBER = "Lay(climber_cm=4, climber_direction_deg={}).shares_cm(Ellipse(44, 40))['climber']"

ROWS = [
    row("**Only a tilt**: 10° off", 'panel("laying").presets["Only a tilt"]["tilt_deg"]'),
    row("the ends miss by 8 cm", chosen("control")),
    row(
        "Tilt by 15°, rising towards −90°, with one wave of wander, 5 cm high",
        chosen("control"),
        chosen("control"),
        chosen("control"),
    ),
    row(
        "at 20° it reads 3.23 % and the area 6.57 % too much",
        used,
        "100 * (circle(40).oblique_girth_cm(20) / circle(40).taut_girth_cm - 1)",
        "100 * ((circle(40).oblique_girth_cm(20) / circle(40).taut_girth_cm)**2 - 1)",
    ),
    row(
        "one of 4 cm adds from 2.98 to 3.38 cm",
        used,
        _CLIMBER.format(90),
        _CLIMBER.format(0),
    ),
    row(
        "ivy 2 cm thick and 6 cm wide (taken for an ellipse) adds 1.40 cm to a stem of 40 cm, not "
        "1.17",
        used,
        used,
        "flat_climber_adds_cm(2, 6, 40)",
        used,
        "belt_cm(40, 2) - 40 * pi",
    ),
    row(
        "A flake 0.5 cm thick and 10 cm wide adds 0.40 cm, not 0.15",
        used,
        used,
        "Lay(knot_cm=0.5, knot_width_cm=10).shares_cm(circle(40))['knot']",
        "Lay(knot_cm=0.5).shares_cm(circle(40))['knot']",
    ),
    row("too little: 0.6 cm for a millimetre", "2 * pi * 0.1"),
    row(
        "differed by 9.9 mm on average for volunteers and by 1.8 mm for experts [Butt2013]: 31 and "
        "5.7 mm of girth",
        quoted("Butt2013", "9.9 mm"),
        quoted("Butt2013", "1.8 mm"),
        "pi * 9.9",
        "pi * 1.8",
    ),
    row(
        "above 1 cm of diameter (14 % of theirs, 3 % of the experts') it was 2.3 mm, the experts' "
        "1.4 mm: 7 and 4.4 mm of girth",
        quoted("Butt2013", "1 cm"),
        quoted("Butt2013", "14 %"),
        quoted("Butt2013", "3 %"),
        quoted("Butt2013", "2.3 mm"),
        quoted("Butt2013", "1.4 mm"),
        "pi * 2.3",
        "pi * 1.4",
    ),
    row("Below, $c$ is 1.2 cm", given),
    row("on 125 cm of girth", "typical_girth_cm"),
    row("highest place is 5 cm above its lowest", "29 * tan(radians(9.78))"),
    row("a pot 29 cm across, with a pencil 0.7 cm thick", given, given),
    row("stands off 0.4 cm", given),
]
