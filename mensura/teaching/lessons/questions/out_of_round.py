"""Questions of workbook 02, out of round. The stems are invented."""

from __future__ import annotations

from mensura.estimates.areas import (
    area_from_diameters_cm2,
    area_from_girth_cm2,
    over_percent,
)
from mensura.estimates.out_of_round import calipers_limit_deg, tape_over_percent
from mensura.stems.ellipse import Ellipse, classroom_girth_cm
from mensura.teaching.answers.reply import KnownSlip
from mensura.teaching.lessons.exercise import Exercise
from mensura.teaching.lessons.predict import Choice, Prediction

_STEM = Ellipse(52, 44)
_GIRTH_CM = round(_STEM.taut_girth_cm, 1)
_FROM_TAPE_CM2 = area_from_girth_cm2(_GIRTH_CM)
_OVER_PERCENT = over_percent(_FROM_TAPE_CM2, _STEM.area_cm2)

QUESTIONS: dict[str, Prediction | Exercise] = {
    "02-predict": Prediction(
        "A stem is 60 cm across one way and 48 cm the other. A tape is pulled tight round it, and "
        "its girth is turned into an area as if the stem were round. What comes out?",
        [
            Choice(
                "Too little: the tape cuts across the flat sides.",
                "A taut tape follows a stem that bulges everywhere; it cuts across hollows only, "
                "and there it counts air as wood.",
            ),
            Choice("The true area: a girth is a girth.", "That holds only for a round stem."),
            Choice(
                "Too much, by about 2 per cent.",
                "Of all shapes with that girth the circle holds the most, so taking the stem for "
                "a circle claims too much: here 1.88 per cent.",
                right=True,
            ),
            Choice(
                "Too much, by about 12 per cent.",
                "The diameters differ by a quarter, but the girth hardly notices: the area comes "
                "out 1.88 per cent too large.",
            ),
        ],
    ),
    "02-turn": Prediction(
        "On the same stem two caliper readings at right angles are averaged. On the axes they are "
        "nearer the truth than the tape. How far may the pair be turned off the axes before the "
        "tape is nearer?",
        [
            Choice("At any angle the calipers are nearer.", "At 45° they err more than the tape."),
            Choice("About 5°.", "They have more room than that: try it in the panel."),
            Choice(
                "About 22°.",
                "22.4° on this ellipse, and close to 22.5° on every slightly oval one. A stem that "
                "only looks like an ellipse may do the opposite: see the fourth ripple.",
                right=True,
            ),
            Choice("45°.", "At 45° the pair has been worse than the tape for a long way."),
        ],
    ),
    "02-1": Exercise(
        f"A tape reads {_GIRTH_CM} cm round an oval stem. What area does it claim, in cm²?",
        "cm²",
        _FROM_TAPE_CM2,
        3.0,
        f"G²/4π = {_GIRTH_CM}²/12.566 = {_FROM_TAPE_CM2:.0f} cm².",
        [
            KnownSlip(_GIRTH_CM**2 * 3.141592653589793 / 4, "The girth was taken for a diameter."),
            KnownSlip(_FROM_TAPE_CM2 * 2, "Divide by 4π, not by 2π."),
            KnownSlip(
                _GIRTH_CM**2 / 16, "That is the quarter girth squared, a timber rule: use G²/4π."
            ),
        ],
    ),
    "02-2": Exercise(
        "That stem's axes are 52 and 44 cm. By how many per cent is the tape's area too large?",
        "%",
        _OVER_PERCENT,
        0.12,
        f"The true area is π/4·52·44 = {_STEM.area_cm2:.0f} cm²; the tape's, divided by it, is "
        f"{1 + _OVER_PERCENT / 100:.4f}, so {_OVER_PERCENT:.2f} per cent too large "
        f"({tape_over_percent(44 / 52):.2f} if the girth is not rounded).",
        [
            KnownSlip(
                100 * (area_from_girth_cm2(classroom_girth_cm(52, 44)) / _STEM.area_cm2 - 1),
                "That is the blackboard formula's claim, (a − b)²/2ab: an upper bound, a third too "
                "large. Use the girth that was read.",
            ),
            KnownSlip(
                100 * (area_from_diameters_cm2([52, 44]) / _STEM.area_cm2 - 1),
                "That is the error of the calipers' arithmetic mean.",
            ),
        ],
    ),
    "02-3": Exercise(
        "Calipers stand on the axes of that stem and read 52 and 44 cm. The area by the product?",
        "cm²",
        area_from_diameters_cm2([52, 44], "geometric"),
        2.0,
        "π/4·52·44 = 1797 cm²: exact for an ellipse, on its axes.",
        [
            KnownSlip(
                area_from_diameters_cm2([52, 44], "arithmetic"),
                "That is the square of the arithmetic mean, 48²; the product is 52·44.",
            ),
            KnownSlip(52 * 44, "That is the rectangle round the stem: times π/4."),
            KnownSlip(52 * 44 * 3.141592653589793, "Those are diameters: π/4, not π."),
        ],
    ),
    "02-4": Exercise(
        "For a slightly oval ellipse: how far off the axes may two readings at right angles, "
        "taken by their product, be turned before the tape is nearer?",
        "°",
        30.0,
        0.5,
        "cos 4θ = −1/2, so 4θ = 120° and θ = 30°, for small ovality. On an ellipse of 60 by 48 cm "
        f"it is still {calipers_limit_deg(60, 48, 'geometric'):.1f}°.",
        [
            KnownSlip(22.5, "That is the limit of the arithmetic mean."),
            KnownSlip(120.0, "That is 4θ: take a quarter of it."),
            KnownSlip(60.0, "That is 2θ: halve it."),
        ],
    ),
}
