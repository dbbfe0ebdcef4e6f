"""Questions of workbook 01, girth, diameter, area. The stems and tapes are invented."""

from __future__ import annotations

import math

from mensura.estimates.areas import area_from_girth_cm2, diameter_from_girth_cm, over_percent
from mensura.instruments.tape import CM_PER_INCH
from mensura.teaching.answers.reply import KnownSlip
from mensura.teaching.lessons.exercise import Exercise
from mensura.teaching.lessons.predict import Choice, Prediction

_CM2_PER_M2 = 10_000
_GIRTH_CM = 126.0
_DIAMETER_CM = diameter_from_girth_cm(_GIRTH_CM)
_AREA_CM2 = area_from_girth_cm2(_GIRTH_CM)

# a tape that has lost its first piece, and was read from the torn end
_TORN_READING_CM, _LOST_CM = 90.0, 2.0
_TORN_GIRTH_CM = _TORN_READING_CM - _LOST_CM
_TORN_OVER_PERCENT = over_percent(
    area_from_girth_cm2(_TORN_READING_CM), area_from_girth_cm2(_TORN_GIRTH_CM)
)

QUESTIONS: dict[str, Prediction | Exercise] = {
    "01-predict": Prediction(
        "A girth is read 1 per cent too long, and the area of the stem is worked out from it. How "
        "wrong is the area?",
        [
            Choice(
                "About half a per cent: an area averages the fault out.",
                "Nothing is averaged: one reading stands for both ways across the stem.",
            ),
            Choice(
                "1 per cent, like the girth.",
                "That holds for the diameter. An area goes with the girth times itself, so the "
                "fault enters twice.",
            ),
            Choice(
                "About 2 per cent.",
                "Area goes with the square of the girth: 1.01 × 1.01 = 1.0201, so 2.01 per cent.",
                right=True,
            ),
            Choice(
                "About 3.1 per cent: π times as much.",
                "π turns a girth into a diameter, but it turns a wrong one in the same way: the "
                "per cent do not change. Squaring doubles them.",
            ),
        ],
    ),
    "01-1": Exercise(
        f"A tape reads {_GIRTH_CM:.1f} cm round a stem that we take for round. Its diameter, in "
        "cm, to one decimal?",
        "cm",
        _DIAMETER_CM,
        # the reading's 0.05 cm makes 0.02 cm of diameter, rounding to one decimal 0.05
        0.06,
        f"d = G/π = {_GIRTH_CM:.1f}/3.1416 = {_DIAMETER_CM:.1f} cm.",
        [
            KnownSlip(_GIRTH_CM * math.pi, "A stem is not wider than its girth: divide by π."),
            KnownSlip(_DIAMETER_CM / 2, "That is the radius: it takes two to cross the stem."),
            KnownSlip(_GIRTH_CM / 4, "That is a quarter of the girth: divide by π, not by 4."),
            KnownSlip(_DIAMETER_CM / CM_PER_INCH, "That is in inches."),
        ],
    ),
    "01-2": Exercise(
        f"The sectional area of that stem, girth {_GIRTH_CM:.1f} cm, in m², to three decimals?",
        "m²",
        _AREA_CM2 / _CM2_PER_M2,
        # 0.05 cm of girth makes 0.0001 m², rounding to three decimals 0.0005
        0.0006,
        f"G²/4π = {_GIRTH_CM:.0f}²/12.566 = {_AREA_CM2:.0f} cm², and 10 000 cm² make 1 m²: "
        f"{_AREA_CM2 / _CM2_PER_M2:.3f} m².",
        [
            KnownSlip(_AREA_CM2, "That is in cm²: 10 000 of them make 1 m²."),
            KnownSlip(
                _AREA_CM2 / 100, "100 cm make a metre, but 100 × 100 cm² make a square metre."
            ),
            KnownSlip(
                math.pi * _DIAMETER_CM**2 / _CM2_PER_M2,
                "π times the square goes with the radius. With the diameter it is π/4.",
            ),
            KnownSlip(
                math.pi / 4 * _GIRTH_CM**2 / _CM2_PER_M2,
                "The girth was taken for a diameter: π² = 9.87 times too much.",
            ),
            KnownSlip(
                (_GIRTH_CM / 4) ** 2 / _CM2_PER_M2,
                "That is the quarter girth squared, a timber rule: use G²/4π.",
            ),
        ],
    ),
    "01-3": Exercise(
        "A band carries a diameter scale on its back. One trainee reads it, 40.1, and writes it "
        "down as a girth. The area worked out from it is how many per cent of the true one?",
        "%",
        100 / math.pi**2,
        # free of data: only rounding to one decimal, 0.05
        0.06,
        "The girth is π times too small, and the area goes with its square: 1/π² = 0.101, so "
        "10.1 per cent, or 9.87 times too small.",
        [
            KnownSlip(
                100 / math.pi,
                "That is the share of the girth; the area goes with its square.",
            ),
            KnownSlip(100 * math.pi**2, "Turn it over: the wrong area is the smaller one."),
            KnownSlip(100 - 100 / math.pi**2, "That is what is missing: take it from 100."),
            KnownSlip(100 / (2 * math.pi), "The factor π is squared, not doubled."),
        ],
    ),
    "01-4": Exercise(
        f"A tape has lost its first {_LOST_CM:.1f} cm, and its torn end was used as zero. It read "
        f"{_TORN_READING_CM:.1f} cm. By how many per cent is the area too large?",
        "%",
        _TORN_OVER_PERCENT,
        # 0.05 cm more or less of lost tape makes 0.12 per cent of area
        0.12,
        f"The girth is {_TORN_GIRTH_CM:.1f} cm. ({_TORN_READING_CM:.0f}/{_TORN_GIRTH_CM:.0f})² = "
        f"{(_TORN_READING_CM / _TORN_GIRTH_CM) ** 2:.3f}, so {_TORN_OVER_PERCENT:.1f} per cent "
        "too large.",
        [
            KnownSlip(
                100 * _LOST_CM / _TORN_GIRTH_CM,
                "That is the girth's error: the area's is about twice as much.",
            ),
            KnownSlip(
                200 * _LOST_CM / _TORN_READING_CM,
                f"Compare with the true girth, {_TORN_GIRTH_CM:.0f} cm, not with what was read.",
            ),
            KnownSlip(
                100 * ((_TORN_GIRTH_CM / _TORN_READING_CM) ** 2 - 1),
                "The reading is too long, so the area is too large: compare with the true one.",
            ),
        ],
    ),
}
