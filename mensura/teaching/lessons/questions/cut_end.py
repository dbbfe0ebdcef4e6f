"""Questions of workbook 13, a cut end. Sections and photographs are invented."""

from __future__ import annotations

from math import pi, sqrt, tan

from mensura.estimates.areas import area_from_girth_cm2, over_percent
from mensura.estimates.photo_errors import clicked_area_percent, clicked_girth_percent
from mensura.teaching.answers.reply import KnownSlip
from mensura.teaching.lessons.exercise import Exercise
from mensura.teaching.lessons.predict import Choice, Prediction

# a scale in a picture
_SCALE_CM, _SCALE_PX, _AREA_PX2 = 30, 750, 900_000

# a section by its outline
_TRUE_CM2, _GIRTH_CM = 1190.0, 126.0
_TAPE_CM2 = float(area_from_girth_cm2(_GIRTH_CM))

# an edge of a few points
_CLICKS = 12

QUESTIONS: dict[str, Prediction | Exercise] = {
    "13-predict": Prediction(
        "A scale leans 1 m from the camera, and the cut is 5 cm nearer. What does the "
        "section's area come to by that scale?",
        [
            Choice("It is right.", "The cut is nearer than the scale, and so it looks larger."),
            Choice("About 5 per cent too large.", "So is its width. An area goes by the square."),
            Choice(
                "About 11 per cent too large.",
                "A width is 1/0.95 times too large, and the area 1/0.95² times: 10.8 per cent. "
                "Lay the scale on the cut.",
                right=True,
            ),
            Choice("About 10 per cent too small.", "What is nearer looks larger, not smaller."),
        ],
    ),
    "13-predict-edge": Prediction(
        "The edge of a round section is followed along the sides of the pixels. What of area and "
        "girth, if the pixels are made smaller and smaller?",
        [
            Choice(
                "Both come right.",
                "The area does. The way along the steps stays as long as round a square, "
                "however small the steps.",
            ),
            Choice(
                "The area comes right, the way round stays too long.",
                "The way along the steps is 4/π of the girth, 27 per cent too long, with any "
                "pixels. So an outline is smoothed before a tape is laid round it.",
                right=True,
            ),
            Choice(
                "The way round comes right, the area stays too large.",
                "As many pixels are left out at the edge as are let in: the area comes right.",
            ),
        ],
    ),
    "13-predict-tape": Prediction(
        "On a real section the tape claims 4 per cent too much area. What must be so?",
        [
            Choice(
                "The section is an oval.",
                "It may be. But corners, and hollows that the band spans, make the same 4 per "
                "cent.",
            ),
            Choice(
                "The section is no circle; in which way, the tape cannot say.",
                "The tape is never below the true area. How much it is above tells how far the "
                "section is from a circle, and not how: for that its outline is needed.",
                right=True,
            ),
            Choice("The tape is stretched.", "A stretched tape reads too little, not too much."),
        ],
    ),
    "13-1": Exercise(
        f"A scale of {_SCALE_CM} cm on the cut is {_SCALE_PX} px long in the picture. The outline "
        "holds 900 000 px². What is the section's area, in cm²?",
        "cm²",
        _AREA_PX2 * (_SCALE_CM / _SCALE_PX) ** 2,
        1.0,
        f"A centimetre has {_SCALE_PX}/{_SCALE_CM} = 25 px, a square centimetre 625 px²; "
        "900 000/625 = 1440 cm².",
        [
            KnownSlip(
                _AREA_PX2 * _SCALE_CM / _SCALE_PX, "An area goes by the square of the scale."
            ),
            KnownSlip(_AREA_PX2 / _SCALE_PX, "How long is a centimetre in the picture?"),
            KnownSlip(
                pi / 4 * _AREA_PX2 * (_SCALE_CM / _SCALE_PX) ** 2,
                "There is no circle to work out: the outline's pixels are the area.",
            ),
        ],
    ),
    "13-2": Exercise(
        f"By its outline a section has {_TRUE_CM2:.0f} cm², and a taut band round it "
        f"{_GIRTH_CM:.1f} cm. By how many per cent does a tape overestimate its area, to one "
        "decimal?",
        "%",
        float(over_percent(_TAPE_CM2, _TRUE_CM2)),
        # rounding to one decimal, 0.05
        0.06,
        f"The tape claims {_GIRTH_CM:.1f}²/4π = 1263.4 cm². Over {_TRUE_CM2:.0f} that is 6.2 % too "
        "much.",
        [
            KnownSlip(
                100 * (1 - _TRUE_CM2 / _TAPE_CM2), "It is a share of the true area, not the tape's."
            ),
            KnownSlip(
                100 * (sqrt(_TAPE_CM2 / _TRUE_CM2) - 1), "That is the diameter's. An area: squared."
            ),
            KnownSlip(_TAPE_CM2 - _TRUE_CM2, "That is in cm². Asked is a share, in per cent."),
        ],
    ),
    "13-3": Exercise(
        f"The edge of a round section is marked by {_CLICKS} points, evenly, and joined by "
        "straight lines. By how many per cent is the area inside them too small, to one decimal?",
        "%",
        -clicked_area_percent(_CLICKS),
        # rounding to one decimal, 0.05
        0.06,
        f"{_CLICKS} triangles of r²/2·sin 30° make 3·r², where the disc has 3.1416·r²: 4.5 % are "
        "left out. With 36 points it is 0.5 %.",
        [
            KnownSlip(
                -clicked_girth_percent(_CLICKS),
                "That is the way round. The area loses about four times as much.",
            ),
            KnownSlip(
                100 * (_CLICKS / pi * tan(pi / _CLICKS) - 1),
                "Those lines would touch the edge from outside. The points lie on it.",
            ),
            KnownSlip(100 / _CLICKS, "That is one of the triangles. How much does each leave out?"),
        ],
    ),
}
