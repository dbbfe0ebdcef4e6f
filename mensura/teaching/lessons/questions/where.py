"""Questions of workbook 09, where to measure. The stems are invented."""

from __future__ import annotations

from math import cos, hypot, pi, radians, sin, sqrt

from mensura.estimates.areas import area_from_girth_cm2, over_percent
from mensura.stems.standing import StemInSpace
from mensura.stems.wrapped import belt_cm
from mensura.teaching.answers.reply import KnownSlip
from mensura.teaching.lessons.exercise import Exercise
from mensura.teaching.lessons.predict import Choice, Prediction

# a stem on a slope, its height told from the wrong side
_STEM_CM, _SLOPE_DEG = 50.0, 30.0
_ON_SLOPE = StemInSpace(_STEM_CM, slope_deg=_SLOPE_DEG)
_LOWER_CM = 100 * (_ON_SLOPE.ground_m("uphill") - _ON_SLOPE.ground_m("downhill"))

# a level tape on a leaning stem
_LEAN_DEG = 20.0
_LEANING = StemInSpace(44.0, lean_deg=_LEAN_DEG)
_LEVEL_CM = _LEANING.section_at(1.3, level=True).taut_girth_cm
_SQUARE_CM2 = _LEANING.section_at(1.3).area_cm2
_LEVEL_PERCENT = float(over_percent(area_from_girth_cm2(_LEVEL_CM), _SQUARE_CM2))

# one tape round two legs that touch
_LEGS_CM = (25.0, 22.0)
_BAND_CM = round(float(belt_cm(*_LEGS_CM)), 1)
_LEGS_CM2 = float(sum(area_from_girth_cm2(pi * one) for one in _LEGS_CM))
_AS_ONE_PERCENT = float(over_percent(area_from_girth_cm2(_BAND_CM), _LEGS_CM2))

# back at the mark, and not quite
_GROWTH_CM, _TAPER, _OFF_M = 0.5, 1.2, 0.1
_LOST_CM = _TAPER * _OFF_M

QUESTIONS: dict[str, Prediction | Exercise] = {
    "09-predict": Prediction(
        "Stems about 40 cm across, that lose 1 cm of diameter with each metre of height. Which "
        "mistake makes the area most wrong?",
        [
            Choice(
                "Breast height is told from the downhill side of a 20° slope.",
                "The tape lies 15 cm too low: 0.7 per cent too much.",
            ),
            Choice(
                "The tape is held level round a stem that leans by 10°.",
                "It goes round an ellipse: 1.6 per cent too much.",
            ),
            Choice(
                "One tape goes round both legs of a fork, 25 and 22 cm across.",
                "34 per cent too much: the tape takes in the air between the legs, and calls all "
                "of it one circle.",
                right=True,
            ),
            Choice(
                "The tape lies at 1.37 m, where the rule says 1.30 m.",
                "The diameter is 0.7 mm smaller: 0.3 per cent too little.",
            ),
        ],
    ),
    "09-predict-fork": Prediction(
        "On a slope of 30° stands a stem 60 cm across. Seen from the downhill side it forks 1.5 m "
        "above the ground. A plot's rule says: 1.30 m above the ground uphill; a fork below that "
        "makes two trees. What is written down?",
        [
            Choice(
                "One tree: the fork is above 1.30 m.",
                "From downhill it is. The rule counts from uphill, and there the ground is 35 cm "
                "higher.",
            ),
            Choice(
                "Two trees: from the uphill side the fork is at about 1.15 m.",
                "The ground falls by 60 · tan 30° = 35 cm across the stem. First find the side, "
                "then the height, then count.",
                right=True,
            ),
            Choice(
                "One tree, taped just below the fork.",
                "Some lists of large trees take one girth below a fork. This plot's rule makes two "
                "trees of it, and one table holds one rule.",
            ),
        ],
    ),
    "09-predict-lean": Prediction(
        "A stem 40 cm across leans by 10° on level ground. The rule here: 1.30 m along the stem, "
        "from the ground on its upper side. Which mistake moves the tape most?",
        [
            Choice(
                "The stick is held plumb and not along the stem.",
                "Along the stem that makes 2 cm. Another side moves it further.",
            ),
            Choice(
                "The height is told from the under side.",
                "Along the stem the ground touches both sides 40 · tan 10° = 7.1 cm apart. A plumb "
                "stick makes 2 cm. So a plot writes down which side it means; manuals differ.",
                right=True,
            ),
            Choice(
                "Both move it alike.",
                "Plumb for along makes 2 cm, the other side 7.1 cm.",
            ),
        ],
    ),
    "09-1": Exercise(
        f"A round stem, {_STEM_CM:.0f} cm across, stands upright on a slope of "
        f"{_SLOPE_DEG:.0f}°. The rule counts from the uphill side; the trainee counted from the "
        "downhill side. How much too low does the tape lie, in cm, to one decimal?",
        "cm",
        _LOWER_CM,
        # rounding to one decimal 0.05; a tangent of three figures 0.02
        0.08,
        f"Across the stem the ground falls by d·tan β = {_STEM_CM:.0f} × 0.5774 = "
        f"{_LOWER_CM:.1f} cm.",
        [
            KnownSlip(
                _STEM_CM * sin(radians(_SLOPE_DEG)),
                "That is the sine. The stem's width lies level, and the fall stands upright on it.",
            ),
            KnownSlip(_LOWER_CM / 2, "That is from the axis to one side. Asked is from the other."),
            KnownSlip(
                130 * _LOWER_CM / _STEM_CM, "The ground falls over the stem's width, not over 130."
            ),
        ],
    ),
    "09-2": Exercise(
        f"A round stem leans by {_LEAN_DEG:.0f}°. A taut tape is held level round it, and an area "
        "worked out as of a circle. By how many per cent of the section square to the stem is it "
        "too large, to one decimal?",
        "%",
        _LEVEL_PERCENT,
        # the mean of both axes makes 0.05 less, rounding to one decimal 0.05
        0.11,
        "The tape goes round an ellipse, d across and d/cos λ along: nearly (1 + 1.0642)/2 = "
        "1.0321 times as long, and exactly 1.0323 times. "
        f"Squared: {_LEVEL_PERCENT:.1f} % too much.",
        [
            KnownSlip(
                100 * (1 / cos(radians(_LEAN_DEG)) ** 2 - 1),
                "You took the tape to be 1/cos λ times as long all round. Across the lean it is "
                "not longer.",
            ),
            KnownSlip(
                100 * (sqrt(1 + _LEVEL_PERCENT / 100) - 1),
                "That is the girth's error. The area goes with its square.",
            ),
            KnownSlip(
                100 * (1 - cos(radians(_LEAN_DEG))),
                "That is what the cosine lacks. How long is the ellipse's girth?",
            ),
        ],
    ),
    "09-3": Exercise(
        f"Two legs that touch are round, {_LEGS_CM[0]:.0f} and {_LEGS_CM[1]:.0f} cm across. One "
        f"taut tape round both reads {_BAND_CM:.1f} cm. By how many per cent is the area of a "
        "circle with that girth larger than both legs together, to one decimal?",
        "%",
        _AS_ONE_PERCENT,
        # 0.05 cm of girth makes 0.11, rounding to one decimal 0.05
        0.16,
        f"The circle is {_BAND_CM:.1f}/3.1416 = 38.48 cm across. 38.48² over 25² + 22² is 1.335: "
        f"{_AS_ONE_PERCENT:.1f} % too much.",
        [
            KnownSlip(
                100 * ((sum(_LEGS_CM) / hypot(*_LEGS_CM)) ** 2 - 1),
                "You added the diameters. The tape does not go in between the legs: use what it "
                "reads.",
            ),
            KnownSlip(
                100 * ((_BAND_CM / pi / _LEGS_CM[0]) ** 2 - 1),
                "That is against the thicker leg alone. Set it against both areas.",
            ),
            KnownSlip(
                100 * (_BAND_CM / pi / hypot(*_LEGS_CM) - 1),
                "That is the girth's error. The area goes with its square.",
            ),
        ],
    ),
    "09-4": Exercise(
        f"Between two visits a stem's diameter grew by {_GROWTH_CM} cm. The second time the tape "
        f"lay {100 * _OFF_M:.0f} cm above the mark; the diameter falls by {_TAPER} cm with each "
        "metre. How many per cent of the growth are lost?",
        "%",
        100 * _LOST_CM / _GROWTH_CM,
        # 2 mm more or less of height make 0.5 per cent of this growth
        0.5,
        f"So much higher the stem is {_TAPER} × {_OFF_M} = {_LOST_CM:.2f} cm thinner, and "
        f"{_LOST_CM:.2f}/{_GROWTH_CM} is {100 * _LOST_CM / _GROWTH_CM:.0f} %. Paint a line where "
        "the tape lies.",
        [
            KnownSlip(
                100 * _LOST_CM * pi / _GROWTH_CM,
                "You took a piece of girth for one of diameter. Taper and growth are both of the "
                "diameter.",
            ),
            KnownSlip(
                100 * (1 - _LOST_CM / _GROWTH_CM),
                "That is what is left of it. Asked is what is lost.",
            ),
            KnownSlip(
                100 * _TAPER / _GROWTH_CM, "That is for a whole metre. The tape lay 10 cm too high."
            ),
        ],
    ),
}
