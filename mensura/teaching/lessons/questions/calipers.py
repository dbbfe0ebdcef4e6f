"""Questions of workbook 07, calipers. The calipers and stems are invented."""

from __future__ import annotations

import math

from mensura.estimates.areas import area_from_diameters_cm2
from mensura.instruments.calipers import Calipers
from mensura.stems.ellipse import circle
from mensura.teaching.answers.reply import KnownSlip
from mensura.teaching.lessons.exercise import Exercise
from mensura.teaching.lessons.predict import Choice, Prediction

# two readings of calipers that do not read 0 when closed
_READ_CM, _ZERO_CM = (36.2, 33.0), 0.4
_MENDED_CM = [reading - _ZERO_CM for reading in _READ_CM]

# a rod held at the base and at the tips
_ROD_CM, _TIPS_CM, _HIGH_CM = 20.0, 19.4, 36.0

# a jaw that leans on a round stem
_STEM_CM, _LEAN_DEG = 50.0, 2.0

# a beam that slopes
_SLOPE_DEG, _SLOPED_CM = 12.0, 51.1


def _leaning_cm(lean_deg: float) -> float:
    """What calipers with a leaning jaw read on the round stem."""
    return float(Calipers(jaw_lean_deg=lean_deg).read(circle(_STEM_CM), [0])[0])


QUESTIONS: dict[str, Prediction | Exercise] = {
    "07-predict": Prediction(
        "The sliding jaw has play: on the stem it leans outwards by 1°. The beam lies against a "
        "round stem of 40 cm. What do the calipers read?",
        [
            Choice(
                "40.0 cm: both jaws still touch the stem.",
                "They do, but it is the foot of the jaw that stands at the scale, not its side.",
            ),
            Choice(
                "40.3 cm: the jaws stand further apart.",
                "Their tips do. The stem decides where the jaw's side is, and its foot stands "
                "further in.",
            ),
            Choice(
                "39.7 cm: the jaw's foot stands further in than its side.",
                "The stem touches the jaw 20 cm above the beam, and over that height 1° makes "
                "0.35 cm: 39.65 cm.",
                right=True,
            ),
            Choice(
                "39.3 cm: 40 cm, less 40 cm times the tangent of 1°.",
                "Only half the diameter counts: the stem touches the jaw at half its height.",
            ),
        ],
    ),
    "07-1": Exercise(
        f"Closed, calipers read {_ZERO_CM:.1f} cm. On a stem they read {_READ_CM[0]:.1f} and "
        f"{_READ_CM[1]:.1f} cm at right angles. Take the zero off, then the arithmetic mean. The "
        "area, in cm²?",
        "cm²",
        area_from_diameters_cm2(_MENDED_CM),
        # rounding the diameter to 0.02 cm makes 1 cm²
        1.1,
        "35.8 and 32.6 make 34.2 on average: π/4·34.2² = 919 cm².",
        [
            KnownSlip(area_from_diameters_cm2(_READ_CM), "The zero is still in both readings."),
            KnownSlip(
                area_from_diameters_cm2([reading + _ZERO_CM for reading in _READ_CM]),
                "They read too much when closed, so they read too much on the stem: take it off.",
            ),
            KnownSlip(
                area_from_diameters_cm2([_MENDED_CM[0], _READ_CM[1]]),
                "The zero is in both readings: take it off each.",
            ),
        ],
    ),
    "07-2": Exercise(
        f"A rod is held between the jaws: close to the beam the calipers read {_ROD_CM:.1f} cm, "
        f"and {_HIGH_CM:.0f} cm further out, at the tips, {_TIPS_CM:.1f} cm. By how many degrees "
        "does the sliding jaw lean outwards, to two decimals?",
        "°",
        math.degrees(math.atan((_ROD_CM - _TIPS_CM) / _HIGH_CM)),
        # rounding to two decimals, 0.005
        0.01,
        f"tan φ = {_ROD_CM - _TIPS_CM:.1f}/{_HIGH_CM:.0f} = 0.01667, so φ = 0.95°.",
        [
            KnownSlip(
                (_ROD_CM - _TIPS_CM) / _HIGH_CM, "That is the tangent: turn it into degrees."
            ),
            KnownSlip(
                math.degrees(math.atan((_ROD_CM - _TIPS_CM) / _ROD_CM)),
                "Divide by the way along the jaw, not by the rod.",
            ),
        ],
    ),
    "07-3": Exercise(
        f"The beam lies against a round stem of {_STEM_CM:.0f} cm, and the sliding jaw leans "
        f"outwards by {_LEAN_DEG:.0f}°. What do the calipers read, in cm, to one decimal?",
        "cm",
        _leaning_cm(_LEAN_DEG),
        # rounding to one decimal, 0.05
        0.06,
        "r + r(1 − sin φ)/cos φ = 25 + 25·0.9657 = 49.1 cm.",
        [
            KnownSlip(_leaning_cm(-_LEAN_DEG), "That is a jaw that leans inwards."),
            KnownSlip(
                _STEM_CM * (1 - math.tan(math.radians(_LEAN_DEG))),
                "The stem touches the jaw at half its height: r tan φ, not 2r tan φ.",
            ),
        ],
    ),
    "07-4": Exercise(
        f"Seen from the side, the beam slopes by {_SLOPE_DEG:.0f}°. The calipers, with jaws as "
        f"thin as a line, read {_SLOPED_CM:.1f} cm. The stem's width, in cm, to one decimal?",
        "cm",
        _SLOPED_CM * math.cos(math.radians(_SLOPE_DEG)),
        # rounding to one decimal, 0.05
        0.06,
        f"{_SLOPED_CM:.1f}·cos {_SLOPE_DEG:.0f}° = {_SLOPED_CM:.1f}·0.9781 = 50.0 cm.",
        [
            KnownSlip(
                _SLOPED_CM / math.cos(math.radians(_SLOPE_DEG)),
                "A sloped beam reads too much: multiply by the cosine.",
            ),
            KnownSlip(
                _SLOPED_CM / (1 + math.tan(math.radians(_SLOPE_DEG)) ** 2 / 4),
                "So a tilted tape is brought back. A beam has no way round: it is the plain "
                "cosine.",
            ),
        ],
    ),
}
