"""What a practical with tapes can find, by a formula: an approximation beside simulated values.

A bias is found in nine of ten practicals if it exceeds what the verdict asks for by 1.28 of its
standard errors: it has to matter (1 % of a reading), and it has to be beyond chance over all hands
and tapes together, which for the likeliest of them is Holm's first step. Every hand reads every
stem, tapes go round, all hands are alike. With σ the spread of a hand's mean on one stem,
σ² = lay² + again²/repeats, and τ that of what sound hands add,

- a hand: u² = σ²/stems·(1 + 1/(hands − 1)) + τ²/(hands − 1),
- a tape: u² = σ²·tapes/(hands·stems)·(1 + 1/(tapes − 1)).

It leaves out what robust weights cost, and how surely spreads are known beyond Student's factor.
:data:`SIMULATED` holds what the study's own verdict finds; nothing of it is in the formula.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import number, plain
from mensura.estimates.drawn_practical import PracticalClass
from mensura.estimates.hand_verdict import Matters
from mensura.estimates.hands import SPREADS_SHARE

#: In how many of all practicals the size is found, and by how many standard errors that is more.
FOUND_SHARE, FOUND_ERRORS = 0.9, 1.2815515655446004
#: Girth of the mean stem of an invented class, cm.
MEAN_GIRTH_CM = float(np.pi * (PracticalClass.least_cm + PracticalClass.most_cm) / 2)


@dataclass(frozen=True)
class Simulated:
    """What the study's own verdict finds in nine of ten drawn practicals of one plan.

    hands, tapes, stems, repeats, lay_percent: the plan and how a class lays its tapes, all else as
    in PracticalClass and Matters; hand_percent, tape_percent: the size.
    """

    hands: int
    tapes: int
    stems: int
    repeats: int
    lay_percent: float
    hand_percent: float
    tape_percent: float


#: How many practicals stand behind each size, and so how far it may be off: a tenth or so.
SIMULATED_DRAWS = 100
#: Made by tests/simulate_detectable.py; a test draws some of them anew.
SIMULATED = tuple(
    Simulated(*row)
    for row in (
        (6, 3, 12, 2, 0.3, 1.14, 1.11),
        (6, 3, 5, 2, 0.3, 1.57, 1.22),
        (6, 3, 24, 2, 0.3, 1.14, 1.07),
        (6, 3, 40, 2, 0.3, 1.11, 1.07),
        (6, 3, 12, 2, 0.8, 1.48, 1.3),
        (6, 3, 8, 2, 0.8, 2.03, 1.53),
        (6, 3, 24, 2, 0.8, 1.22, 1.15),
        (10, 3, 12, 2, 0.8, 1.39, 1.22),
        (4, 3, 12, 2, 0.3, 1.22, 1.14),
        (10, 3, 12, 2, 0.3, 1.14, 1.11),
        (6, 3, 12, 1, 0.3, 1.18, 1.11),
        (6, 3, 12, 4, 0.3, 1.14, 1.11),
    )
)


@dataclass(frozen=True)
class Found:
    """A size that is found in nine of ten.

    size_percent: of the reading; error_percent: standard error of a bias; asked_percent: from which
    bias on it is told: by chance or because it matters; chance_percent: by chance alone.
    """

    size_percent: Any
    error_percent: Any
    asked_percent: Any
    chance_percent: Any


def detectable_hand_percent(
    hands: ArrayLike,
    stems: ArrayLike,
    tapes: ArrayLike,
    repeats: ArrayLike,
    lay_percent: ArrayLike = PracticalClass.lay_percent,
    repeat_cm: ArrayLike = PracticalClass.repeat_cm,
    sound_hands_percent: ArrayLike = PracticalClass.sound_hands_percent,
    matters: Matters | None = None,
) -> Found:
    """The share by which a hand has to be off to be found in nine of ten: an approximation.

    hands, stems, tapes, repeats: of the practical, from 2, 2, 1 and 1; lay_percent: by which a hand
    lies a tape otherwise on each stem; repeat_cm: spread of a girth read again;
    sound_hands_percent: by which sound hands differ; matters: what is large enough to be told. They
    broadcast. Source: the module's opening; common practice, no source. Raises MeasureError.

    >>> round(detectable_hand_percent(6, 12, 3, 2).size_percent, 2)
    1.17
    """
    h, s, t = _counts(hands, stems, tapes)
    cell = _cell_percent(repeats, lay_percent, repeat_cm)
    sound = number(sound_hands_percent, "sound_hands_percent", "%", at_least=0.0)
    error = np.sqrt(cell**2 / s * (1 + 1 / (h - 1)) + sound**2 / (h - 1))
    return _found(error, s - 1, h + t, matters)


def detectable_tape_percent(
    hands: ArrayLike,
    stems: ArrayLike,
    tapes: ArrayLike,
    repeats: ArrayLike,
    lay_percent: ArrayLike = PracticalClass.lay_percent,
    repeat_cm: ArrayLike = PracticalClass.repeat_cm,
    matters: Matters | None = None,
) -> Found:
    """The share by which a tape has to be off to be found in nine of ten: an approximation.

    hands, stems, tapes, repeats, lay_percent, repeat_cm, matters: as for a hand; of a single tape
    nothing can be told, which is inf. Source: the module's opening; common practice, no source.
    Raises MeasureError.

    >>> round(detectable_tape_percent(6, 12, 3, 2).size_percent, 2)
    1.1
    """
    h, s, t = _counts(hands, stems, tapes)
    cell = _cell_percent(repeats, lay_percent, repeat_cm)
    with np.errstate(divide="ignore"):
        others = 1 + np.divide(1.0, t - 1)
    error = cell * np.sqrt(t / (h * s) * others)
    return _found(error, s - 1, h + t, matters)


def _counts(hands: ArrayLike, stems: ArrayLike, tapes: ArrayLike) -> tuple[Any, Any, Any]:
    return (
        number(hands, "hands", "", at_least=2),
        number(stems, "stems", "", at_least=2),
        number(tapes, "tapes", "", at_least=1),
    )


def _cell_percent(repeats: ArrayLike, lay_percent: ArrayLike, repeat_cm: ArrayLike) -> Any:
    """Spread of a hand's mean on one stem."""
    again = number(repeat_cm, "repeat_cm", "cm", at_least=0.0) * 100 / MEAN_GIRTH_CM
    lay = number(lay_percent, "lay_percent", "%", at_least=0.0)
    return np.sqrt(lay**2 + again**2 / number(repeats, "repeats", "", at_least=1))


def _found(error: Any, free: Any, judged: Any, matters: Matters | None) -> Found:
    from scipy.special import stdtrit

    matters = matters or Matters()
    level = matters.chance_percent / 100 * (1 - SPREADS_SHARE) / judged
    with np.errstate(invalid="ignore"):
        chance = stdtrit(free, 1 - level / 2) * error
    asked = np.maximum(matters.share_percent, chance)
    size = asked + FOUND_ERRORS * error
    return Found(*(plain(np.asarray(one)) for one in (size, error, asked, chance)))
