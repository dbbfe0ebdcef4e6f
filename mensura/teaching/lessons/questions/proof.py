"""Questions of workbook 03, the proof. The stems are invented; a and b are half-axes."""

from __future__ import annotations

import math

from mensura.estimates.areas import area_from_diameters_cm2
from mensura.estimates.out_of_round import classroom_over_percent, tape_over_percent
from mensura.teaching.answers.reply import KnownSlip
from mensura.teaching.lessons.exercise import Exercise
from mensura.teaching.lessons.predict import Choice, Prediction

_A, _B = 25.0, 22.0
_CLAIM_PERCENT = classroom_over_percent(_B / _A)
_LEAST_CM2 = math.pi * (_A - _B) ** 2 / 4

_LONG, _SHORT = 30.0, 27.0
_YARD_PERCENT = 100 * (_LONG - _SHORT) ** 2 / (_LONG * _SHORT)
_LEADING_PERCENT = 3 / 8 * _YARD_PERCENT

_HALF_LONG, _HALF_SHORT = 30.0, 20.0
_AT_45_CM = math.sqrt(2 * (_HALF_LONG**2 + _HALF_SHORT**2))

QUESTIONS: dict[str, Prediction | Exercise] = {
    "03-predict": Prediction(
        "a and b are the half-axes of an oval stem: positive, and not the same. On the board "
        "stands the line a² + b² > 2ab. It is still to be shown. Which line is it enough to show "
        "now?",
        [
            Choice(
                "a > b",
                "Nobody has said which half-axis is the longer one. With a = 1 and b = 2 this line "
                "is false, while the one on the board still holds.",
            ),
            Choice(
                "a² + b² > 0",
                "True, but it says too little. It follows from the line on the board, and the line "
                "on the board does not follow from it.",
            ),
            Choice(
                "(a − b)² > 0",
                "Multiply it out: a² − 2ab + b² > 0. Add 2ab to both sides, and the line on the "
                "board is there.",
                right=True,
            ),
            Choice(
                "a² + b² > 3ab",
                "It would be more than enough, if it were true. With a = 2 and b = 1 it says 5 > "
                "6.",
            ),
        ],
    ),
    "03-1": Exercise(
        "A stem has the half-axes a = 25 and b = 22 cm. By how many per cent is the tape's area "
        "too large, if the girth is taken by the classroom's formula 2π√((a² + b²)/2)?",
        "%",
        _CLAIM_PERCENT,
        0.02,
        "(a − b)²/(2ab) = 9/1100 = 0.82 per cent. The girth of that formula is too long, so this "
        f"is too much: the exact girth gives {tape_over_percent(_B / _A):.2f} per cent.",
        [
            KnownSlip(
                tape_over_percent(_B / _A),
                "That is what the exact girth gives. Asked was the classroom's claim.",
            ),
            KnownSlip(2 * _CLAIM_PERCENT, "You divided by ab: two rectangles are there, 2ab."),
            KnownSlip(
                _CLAIM_PERCENT / 2,
                "(a − b)²/(4ab) is the bound from below, in the ellipse's road.",
            ),
            KnownSlip(_CLAIM_PERCENT / 100, "That is the share: times 100 for per cent."),
        ],
    ),
    "03-2": Exercise(
        "The same stem, a = 25 and b = 22 cm, and now no girth is approximate. By at least how "
        "many cm² is the area from a level, taut tape too large? Use the bound from P ≥ π(a + b).",
        "cm²",
        _LEAST_CM2,
        0.05,
        "π(a − b)²/4 = π·9/4 = 7.07 cm². It comes from P ≥ π(a + b), and it is a promise: never "
        "less.",
        [
            KnownSlip(2 * _LEAST_CM2, "π(a − b)²/2 is the bound from above: never more than that."),
            KnownSlip(_LEAST_CM2 / math.pi, "The factor π is missing."),
            KnownSlip(
                1.5 * _LEAST_CM2,
                "3π(a − b)²/8 is a bound from below too, and a closer one: it takes one more term of "
                "the girth's series. Asked is the bound from P ≥ π(a + b): π(a − b)²/4.",
            ),
        ],
    ),
    "03-3": Exercise(
        "A slightly oval stem has the half-axes 30 and 27 cm. By how many per cent does a level, "
        "taut tape overestimate its area, by the leading term?",
        "%",
        _LEADING_PERCENT,
        0.01,
        "3/8 · (a − b)²/(ab) = 3/8 · 9/810 = 0.42 per cent. The exact curve says "
        f"{tape_over_percent(_SHORT / _LONG):.3f}, the leading term {_LEADING_PERCENT:.3f}.",
        [
            KnownSlip(
                _YARD_PERCENT / 2,
                "That is the classroom's claim, (a − b)²/(2ab). Three quarters of it are left.",
            ),
            KnownSlip(_YARD_PERCENT / 4, "That is the bound from below, (a − b)²/(4ab)."),
            KnownSlip(
                3 / 4 * _YARD_PERCENT,
                "Three quarters of (a − b)²/(2ab), not of (a − b)²/(ab).",
            ),
        ],
    ),
    "03-4": Exercise(
        "Calipers stand at 45° to the axes of a stem with the half-axes 30 and 20 cm. What do they "
        "read, in cm?",
        "cm",
        _AT_45_CM,
        0.3,
        "w² = 4(a² cos² 45° + b² sin² 45°) = 2(a² + b²) = 2600, so w = 51.0 cm. Both readings of "
        "the pair are the same there, and π/4 · w² = π(a² + b²)/2 = "
        f"{area_from_diameters_cm2([_AT_45_CM, _AT_45_CM]):.0f} cm²: the classroom's claim for "
        "the tape.",
        [
            KnownSlip(
                _HALF_LONG + _HALF_SHORT, "That is the mean of both diameters, 60 and 40 cm."
            ),
            KnownSlip(
                _AT_45_CM / math.sqrt(2), "√(a² + b²): calipers read a diameter, so times √2."
            ),
            KnownSlip(_AT_45_CM / 2, "That is half of it: calipers read from side to side."),
            KnownSlip(
                2 * math.sqrt(_HALF_LONG * _HALF_SHORT),
                "2√(ab) is the diameter of the circle with the true area. At 45° calipers read "
                "more.",
            ),
        ],
    ),
}
