"""Questions of workbook 05, bark. The stems are invented."""

from __future__ import annotations

import math

from mensura.estimates.areas import diameter_from_girth_cm
from mensura.estimates.bark import bark_factor, under_bark_diameter_cm
from mensura.teaching.answers.reply import KnownSlip
from mensura.teaching.lessons.exercise import Exercise
from mensura.teaching.lessons.predict import Choice, Prediction

_GIRTH_CM, _BARK_CM = 138.2, 1.6
_OVER_CM = diameter_from_girth_cm(_GIRTH_CM)
_UNDER_CM = under_bark_diameter_cm(_OVER_CM, _BARK_CM)

_SAMPLE_CM, _SAMPLE_BARK_CM = 44.0, 1.9
_SAMPLE_UNDER_CM = under_bark_diameter_cm(_SAMPLE_CM, _SAMPLE_BARK_CM)
_FACTOR = bark_factor(_SAMPLE_CM, _SAMPLE_UNDER_CM)

_VOLUME, _SOLD_FACTOR = 1.84, 0.92

_TAPED_CM, _RIDGE_CM, _FURROW_CM = 46.0, 2.0, 0.7
_TRUE_CM = under_bark_diameter_cm(_TAPED_CM, _RIDGE_CM)
_FOUND_CM = under_bark_diameter_cm(_TAPED_CM, _RIDGE_CM - _FURROW_CM)
_FOUND_PERCENT = 100 * ((_FOUND_CM / _TRUE_CM) ** 2 - 1)

QUESTIONS: dict[str, Prediction | Exercise] = {
    "05-predict": Prediction(
        "Bark takes 10 per cent of a stem's diameter, both sides together. How much of its "
        "sectional area is bark?",
        [
            Choice(
                "About 5 per cent: bark is only at the edge.",
                "The edge is long: a thin ring all round holds more than it seems to.",
            ),
            Choice(
                "10 per cent, as of the diameter.",
                "Area goes with the square of the diameter: the wood keeps 0.9 × 0.9 of it.",
            ),
            Choice(
                "19 per cent.",
                "The wood keeps 0.9 × 0.9 = 0.81 of the area, so 19 per cent is bark.",
                right=True,
            ),
            Choice(
                "21 per cent.",
                "That would be 1.1 × 1.1: bark laid on the wood, as a share of the wood. As a "
                "share of the whole it is less.",
            ),
        ],
    ),
    "05-1": Exercise(
        f"A tape reads {_GIRTH_CM:.1f} cm over bark, and a gauge finds {_BARK_CM:.1f} cm of even "
        "bark. The diameter under bark, in cm, to one decimal?",
        "cm",
        _UNDER_CM,
        # 0.05 cm of girth makes 0.016 cm, rounding to one decimal 0.05
        0.07,
        f"{_GIRTH_CM:.1f}/π = {_OVER_CM:.2f} cm, less 2 × {_BARK_CM:.1f} cm: {_UNDER_CM:.1f} cm.",
        [
            KnownSlip(_OVER_CM - _BARK_CM, "There is bark on both sides: take it off twice."),
            KnownSlip(
                (_GIRTH_CM - 2 * _BARK_CM) / math.pi,
                "Divide by π first: bark makes the girth longer by 2π times its thickness.",
            ),
            KnownSlip(_OVER_CM, "That is over bark: take off twice the bark."),
        ],
    ),
    "05-2": Exercise(
        f"A sample stem has {_SAMPLE_CM:.1f} cm over bark and bark {_SAMPLE_BARK_CM:.1f} cm thick. "
        "Its bark factor, diameter under bark over diameter over bark, to three decimals?",
        "",
        _FACTOR,
        # 0.05 cm more or less of bark makes 0.0023
        0.0025,
        f"({_SAMPLE_CM:.1f} − 2 × {_SAMPLE_BARK_CM:.1f})/{_SAMPLE_CM:.1f} = "
        f"{_SAMPLE_UNDER_CM:.1f}/{_SAMPLE_CM:.1f} = {_FACTOR:.3f}.",
        [
            KnownSlip(
                1 - _SAMPLE_BARK_CM / _SAMPLE_CM, "There is bark on both sides: take it twice."
            ),
            KnownSlip(_FACTOR**2, "That is the share of the area: the factor is one of diameters."),
            KnownSlip(1 / _FACTOR, "Turn it over: under bark stands above."),
        ],
    ),
    "05-3": Exercise(
        f"A log of {_VOLUME:.2f} m³ over bark has the bark factor {_SOLD_FACTOR:.2f} all along. "
        "How much wood is in it, in m³, to two decimals?",
        "m³",
        _VOLUME * _SOLD_FACTOR**2,
        # 0.0025 of the factor makes 0.008 m³
        0.01,
        f"Length is not changed, areas are: {_VOLUME:.2f} × {_SOLD_FACTOR:.2f}² = "
        f"{_VOLUME * _SOLD_FACTOR**2:.2f} m³.",
        [
            KnownSlip(
                _VOLUME * _SOLD_FACTOR,
                "The factor is one of diameters: a volume goes with its square.",
            ),
            KnownSlip(
                _VOLUME * _SOLD_FACTOR**3,
                "Bark does not shorten the log: the square, not the cube.",
            ),
            KnownSlip(_VOLUME * (1 - _SOLD_FACTOR**2), "That is the bark: take it off."),
        ],
    ),
    "05-4": Exercise(
        f"A tape gives {_TAPED_CM:.1f} cm over bark. From the ridges the bark is {_RIDGE_CM:.1f} "
        f"cm thick, but the gauge was pushed in where a furrow is {_FURROW_CM:.1f} cm deep. By how "
        "many per cent is the area under bark too large?",
        "%",
        _FOUND_PERCENT,
        # rounding to one decimal, and 0.01 cm of furrow makes 0.1 per cent
        0.12,
        f"Found {_TAPED_CM:.0f} − 2 × {_RIDGE_CM - _FURROW_CM:.1f} = {_FOUND_CM:.1f} cm, true "
        f"{_TRUE_CM:.1f} cm: ({_FOUND_CM:.1f}/{_TRUE_CM:.1f})² = "
        f"{(_FOUND_CM / _TRUE_CM) ** 2:.3f}, so {_FOUND_PERCENT:.1f} per cent.",
        [
            KnownSlip(
                100 * (_FOUND_CM / _TRUE_CM - 1),
                "That is the diameter's error; the area's is about twice as much.",
            ),
            KnownSlip(
                100 * (1 - (_TRUE_CM / _FOUND_CM) ** 2),
                "Compare with the true area, not with the one that was found.",
            ),
        ],
    ),
}
