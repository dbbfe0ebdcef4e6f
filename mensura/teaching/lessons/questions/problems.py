"""Questions of workbook 08, problems: what a slip does to an area, and how near is near enough."""

from __future__ import annotations

import math

from mensura.estimates.areas import area_from_girth_cm2, over_percent
from mensura.teaching.answers.reply import KnownSlip
from mensura.teaching.lessons.exercise import Exercise
from mensura.teaching.lessons.predict import Choice, Prediction

# a girth, and half of its last place
_GIRTH_CM, _HALF_CM = 66.0, 0.05
_AREA_OFF_PERCENT = over_percent(
    area_from_girth_cm2(_GIRTH_CM + _HALF_CM), area_from_girth_cm2(_GIRTH_CM)
)
_GIRTH_OFF_PERCENT = 100 * _HALF_CM / _GIRTH_CM

QUESTIONS: dict[str, Prediction | Exercise] = {
    "08-predict": Prediction(
        "A tape reads a girth. By mistake it is put into π/4·d², as if it were the diameter. How "
        "many times too large is the area?",
        [
            Choice(
                "About 3.1 times: π.",
                "That is how much too long the diameter is. The area takes it squared: π² = 9.87.",
            ),
            Choice(
                "4 times.",
                "That is another slip: the diameter taken for the radius. It has its own factor, "
                "and so the two can be told apart.",
            ),
            Choice(
                "About 10 times.",
                "The girth is π times the diameter, and the area goes with its square: π² = 9.87. "
                "That is so on every stem, and so this slip can be known by its result.",
                right=True,
            ),
            Choice(
                "That depends on the stem.",
                "The right area and the wrong one both go with the square of the girth. Their "
                "ratio is the same on every stem, π² = 9.87: it names the slip.",
            ),
        ],
    ),
    "08-1": Exercise(
        f"A girth of {_GIRTH_CM:.1f} cm was read to the nearest 0.1 cm, so it may be off by "
        f"{_HALF_CM:.2f} cm. By how many per cent may its area G²/4π be off, to two decimals?",
        "%",
        _AREA_OFF_PERCENT,
        # rounding to two decimals, 0.005
        0.006,
        f"({_GIRTH_CM + _HALF_CM:.2f}/{_GIRTH_CM:.1f})² = "
        f"{((_GIRTH_CM + _HALF_CM) / _GIRTH_CM) ** 2:.5f}, so {_AREA_OFF_PERCENT:.2f} per cent: "
        "twice the share of the girth. No answer can be known more finely than its data.",
        [
            KnownSlip(
                _GIRTH_OFF_PERCENT, "That is the girth's share. The area's is twice as much."
            ),
            KnownSlip(
                4 * _GIRTH_OFF_PERCENT,
                "That takes the whole last place, 0.1 cm. A reading to the nearest 0.1 cm is off "
                "by half of it at most.",
            ),
            KnownSlip(
                _AREA_OFF_PERCENT / 100, "That is the share itself; in per cent it is 100 times."
            ),
        ],
    ),
    "08-2": Exercise(
        "Two trainees work out the area of one round stem. Q03 takes the girth for the diameter. "
        "Q11 knows the diameter and takes it for the radius. How many times as large as Q11's area "
        "is Q03's, to two decimals?",
        "",
        math.pi**2 / 4,
        # free of data: rounding to two decimals, 0.005
        0.006,
        f"Q03 is π² = 9.87 times too large, Q11 is 4 times too large. π²/4 = {math.pi**2 / 4:.2f}. "
        "Slips that lie so far apart are easily told apart.",
        [
            KnownSlip(
                math.pi**2, "That is Q03's area over the right one. Q11's is 4 times too large."
            ),
            KnownSlip(4 / math.pi**2, "Turn it over: Q03's area is the larger one."),
            KnownSlip(
                math.pi / 2,
                "That is the ratio of what they put in. The area takes it squared.",
            ),
            KnownSlip(
                math.pi**2 / 2, "A length that is doubled makes the area four times as large."
            ),
        ],
    ),
}
