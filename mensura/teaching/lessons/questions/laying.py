"""Questions of workbook 04, laying the tape. The stems are invented."""

from __future__ import annotations

import math

from mensura.estimates.areas import area_from_girth_cm2, over_percent
from mensura.instruments.lay import Lay
from mensura.stems.ellipse import circle
from mensura.teaching.answers.reply import KnownSlip
from mensura.teaching.lessons.exercise import Exercise
from mensura.teaching.lessons.predict import Choice, Prediction

_GIRTH_CM, _TILT_DEG = 126.0, 10.0
_ROUND = circle(_GIRTH_CM / math.pi)
_TILT_ADDS_CM = Lay(tilt_deg=_TILT_DEG).shares_cm(_ROUND)["tilt"]
_SLOPE = math.tan(math.radians(_TILT_DEG))

_AROUND_CM, _MISS_CM = 120.0, 6.0
_MISS_ADDS_CM = Lay(overlap_offset_cm=_MISS_CM).shares_cm(circle(_AROUND_CM / math.pi))["overlap"]

_STEM_CM, _CLIMBER_CM = 40.0, 2.0
_CAUGHT_CM = round(
    math.pi * _STEM_CM + Lay(climber_cm=_CLIMBER_CM).shares_cm(circle(_STEM_CM))["climber"], 1
)
_CAUGHT_PERCENT = over_percent(area_from_girth_cm2(_CAUGHT_CM), circle(_STEM_CM).area_cm2)

_AT_HEIGHT_CM, _TAPER, _OFF_M = 36.0, 1.2, 0.3
_HIGHER_CM = _AT_HEIGHT_CM - _TAPER * _OFF_M
_SHORT_PERCENT = 100 * (1 - (_HIGHER_CM / _AT_HEIGHT_CM) ** 2)

QUESTIONS: dict[str, Prediction | Exercise] = {
    "04-predict": Prediction(
        "A round stem is 40 cm across. Which of these adds most to the reading?",
        [
            Choice(
                "The tape is tilted by 5°.",
                "5° look bad and add 0.24 cm. A thumb-thick climber adds almost five times as "
                "much.",
            ),
            Choice(
                "The two ends miss each other by 5 cm.",
                "That adds 0.10 cm: a slanting way is only a little longer than a straight one.",
            ),
            Choice(
                "A climber, 2 cm thick, is caught under the tape.",
                "It adds 1.17 cm: the tape goes out to it and back in two straight pieces.",
                right=True,
            ),
            Choice(
                "They are all about alike.",
                "The climber adds 1.17 cm, the tilt 0.24 cm, the missing ends 0.10 cm.",
            ),
        ],
    ),
    "04-1": Exercise(
        f"A tape is tilted by {_TILT_DEG:.0f}° round a round stem whose taut girth is "
        f"{_GIRTH_CM:.0f} cm. How much too long is it, in cm, to two decimals?",
        "cm",
        _TILT_ADDS_CM,
        # the rule tan²/4 is 0.006 too large, rounding to two decimals 0.005
        0.012,
        f"About G·tan²θ/4 = {_GIRTH_CM:.0f} × {_SLOPE**2:.4f}/4 = "
        f"{_GIRTH_CM * _SLOPE**2 / 4:.2f} cm; exactly {_TILT_ADDS_CM:.2f} cm.",
        [
            KnownSlip(
                _GIRTH_CM * (1 / math.cos(math.radians(_TILT_DEG)) - 1),
                "That is the shortcut 1/cos θ: about twice as large as the truth, since "
                "only part of the way climbs.",
            ),
            KnownSlip(_GIRTH_CM * _SLOPE**2, "Divide tan² θ by 4."),
            KnownSlip(
                _GIRTH_CM * _SLOPE / 4,
                "Square the tangent: a small slant lengthens a way by very little.",
            ),
        ],
    ),
    "04-2": Exercise(
        f"Once round, a tape's end lies {_MISS_CM:.0f} cm above its start, on a girth of "
        f"{_AROUND_CM:.0f} cm. How much too long is the reading, in cm, to two decimals?",
        "cm",
        _MISS_ADDS_CM,
        # half a centimetre more or less of miss makes 0.025, rounding to two decimals 0.005
        0.012,
        f"Unrolled it is a right angle: √({_AROUND_CM:.0f}² + {_MISS_CM:.0f}²) − {_AROUND_CM:.0f} "
        f"= {_MISS_ADDS_CM:.2f} cm.",
        [
            KnownSlip(_MISS_CM, "The miss is across the way round, not along it: use Pythagoras."),
            KnownSlip(_MISS_CM**2 / _AROUND_CM, "Half of that: √(G² + h²) is about G + h²/2G."),
        ],
    ),
    "04-3": Exercise(
        f"A round stem, {_STEM_CM:.1f} cm across, carries a climber {_CLIMBER_CM:.0f} cm thick. "
        f"The tape passes over both and reads {_CAUGHT_CM:.1f} cm. By how many per cent is the "
        "stem's area too large?",
        "%",
        _CAUGHT_PERCENT,
        # 0.05 cm more or less of girth makes 0.08 per cent of area
        0.1,
        f"The stem's girth is π × {_STEM_CM:.0f} = {math.pi * _STEM_CM:.2f} cm. "
        f"({_CAUGHT_CM:.1f}/{math.pi * _STEM_CM:.2f})² = "
        f"{(_CAUGHT_CM / (math.pi * _STEM_CM)) ** 2:.4f}: {_CAUGHT_PERCENT:.1f} per cent.",
        [
            KnownSlip(
                100 * (_CAUGHT_CM / (math.pi * _STEM_CM) - 1),
                "That is the girth's error; the area's is about twice as much.",
            ),
            KnownSlip(
                100 * (_CLIMBER_CM / _STEM_CM) ** 2,
                "That is the climber's own area. The tape also takes in the air beside it, and "
                "takes the whole for a circle.",
            ),
            KnownSlip(
                100 * ((1 + _CLIMBER_CM / _STEM_CM) ** 2 - 1),
                "The stem did not get 2 cm thicker all round: use the girth that was read.",
            ),
        ],
    ),
    "04-4": Exercise(
        f"At breast height a stem is {_AT_HEIGHT_CM:.1f} cm across, and its diameter falls by "
        f"{_TAPER:.1f} cm with each metre. The tape was laid {100 * _OFF_M:.0f} cm too high. By "
        "how many per cent is the area too small?",
        "%",
        _SHORT_PERCENT,
        # 2 cm more or less of height make 0.13 per cent of area
        0.13,
        f"There the diameter is {_AT_HEIGHT_CM:.0f} − {_TAPER} × {_OFF_M} = {_HIGHER_CM:.2f} cm, "
        f"and ({_HIGHER_CM:.2f}/{_AT_HEIGHT_CM:.0f})² = "
        f"{(_HIGHER_CM / _AT_HEIGHT_CM) ** 2:.4f}: {_SHORT_PERCENT:.1f} per cent too small.",
        [
            KnownSlip(
                100 * (1 - _HIGHER_CM / _AT_HEIGHT_CM),
                "That is the diameter's error; the area's is about twice as much.",
            ),
            KnownSlip(
                100 * (1 - ((_AT_HEIGHT_CM - 2 * _TAPER * _OFF_M) / _AT_HEIGHT_CM) ** 2),
                "The taper is of the diameter: take it off once, not on both sides.",
            ),
        ],
    ),
}
