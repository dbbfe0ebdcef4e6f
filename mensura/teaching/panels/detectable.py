"""The numbers of the panel on what could be detected: a formula, and what was simulated beside it.

The curves are :mod:`mensura.estimates.detectable_formula`, closed and an approximation. Where one
of the plans that were simulated with the study's own verdict is the one that is set, its values
stand on the same chart.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import Any

import numpy as np

from mensura.checks import FloatArray, kept
from mensura.estimates.detectable_formula import (
    SIMULATED,
    Found,
    Simulated,
    detectable_hand_percent,
    detectable_tape_percent,
)
from mensura.estimates.drawn_practical import PracticalClass
from mensura.estimates.hand_verdict import Matters
from mensura.teaching.controls import Choice, Control, State, starting

CONTROLS = (
    Control("hands", "hands", "", 3, 12, 1, 6, "Plan", whole=True),
    Control("tapes", "tapes", "", 2, 6, 1, 3, "Plan", whole=True),
    Control("stems", "stems", "", 4, 60, 1, 12, "Plan", whole=True),
    Control("repeats", "readings of a stem", "", 1, 4, 1, 2, "Plan", whole=True),
    Control("lay_percent", "laid otherwise by", "%", 0.1, 2, 0.1, 0.3, "Class"),
    Control("repeat_cm", "read again, spread", "cm", 0.1, 3, 0.1, 0.2, "Class"),
    Control("sound_hands_percent", "sound hands differ", "%", 0, 1, 0.05, 0.2, "Class"),
    Control("matters_percent", "what matters", "%", 0.25, 3, 0.25, 1, "Verdict"),
)
#: What the chart goes along, as it is chosen.
ALONG = MappingProxyType({"stems": "stems", "hands": "hands", "readings of a stem": "repeats"})
CHOICES = (Choice("along", "chart along", "Plan", tuple(ALONG)),)
ENDS = {one.name: one.ends for one in CONTROLS}
#: The whole numbers along each.
_PLACES = {
    name: kept(np.arange(int(ENDS[name][0]), int(ENDS[name][1]) + 1, dtype=np.float64))
    for name in ALONG.values()
}


def whole_state(**changes: Any) -> State:
    """Where all controls stand, with some changes from the start.

    changes: names with their values.
    """
    return starting(CONTROLS, CHOICES) | changes


FEW_STEMS = whole_state(stems=5)
UNMARKED = whole_state(lay_percent=0.8)
SMALLER = whole_state(matters_percent=0.25, stems=24)
MORE_HANDS = whole_state(lay_percent=0.8, along="hands")


@dataclass(frozen=True, eq=False)
class DetectableShown:
    """All that the panel shows of one plan.

    hand, tape: what is found, by the formula; along: what the chart goes along, one of ALONG's;
    here: where on it the plan is; places: on it; curves_percent: the sizes of hand and tape at
    those; simulated: those plans on the chart that were; matters_percent: from which bias on it
    is told; reading_count: of the whole practical; checked_percent: of every simulated plan the
    formula's sizes of hand and tape, in the order of SIMULATED.
    """

    hand: Found
    tape: Found
    along: str
    here: int
    places: FloatArray
    curves_percent: tuple[FloatArray, FloatArray]
    simulated: tuple[Simulated, ...]
    matters_percent: float
    reading_count: int
    checked_percent: tuple[tuple[float, float], ...]


def numbers(
    hands: int,
    tapes: int,
    stems: int,
    repeats: int,
    lay_percent: float,
    repeat_cm: float,
    sound_hands_percent: float,
    matters_percent: float,
    along: str,
) -> DetectableShown:
    """What the panel shows for a state of its controls.

    hands, tapes, stems, repeats: the plan; lay_percent: by which a hand lays a tape otherwise on
    each stem; repeat_cm: spread of a girth read again; sound_hands_percent: by which sound hands
    differ; matters_percent: from which bias on it is told; along: one of ALONG.

    >>> shown = numbers(**whole_state())
    >>> round(shown.hand.size_percent, 2), shown.reading_count, len(shown.simulated) > 2
    (1.17, 144, True)
    """
    matters = Matters(share_percent=matters_percent)
    plan: dict[str, Any] = {"hands": hands, "stems": stems, "tapes": tapes, "repeats": repeats}
    spread: dict[str, Any] = {"lay_percent": lay_percent, "repeat_cm": repeat_cm}
    spread["matters"] = matters
    moved = ALONG[along]
    places = _PLACES[moved]
    there = plan | {moved: places}
    like = PracticalClass()
    usual = (repeat_cm, sound_hands_percent, matters_percent) == (
        like.repeat_cm, like.sound_hands_percent, Matters().share_percent,
    )  # fmt: skip
    on_chart = tuple(
        one
        for one in SIMULATED
        if usual
        and abs(one.lay_percent - lay_percent) < 1e-9
        and all(getattr(one, name) == value for name, value in plan.items() if name != moved)
    )
    return DetectableShown(
        hand=detectable_hand_percent(**plan, **spread, sound_hands_percent=sound_hands_percent),
        tape=detectable_tape_percent(**plan, **spread),
        along=moved,
        here=int(plan[moved]),
        places=places,
        curves_percent=(
            detectable_hand_percent(
                **there, **spread, sound_hands_percent=sound_hands_percent
            ).size_percent,
            detectable_tape_percent(**there, **spread).size_percent,
        ),
        simulated=on_chart,
        matters_percent=matters_percent,
        reading_count=hands * stems * repeats,
        checked_percent=checked_percent(),
    )


@lru_cache(maxsize=1)
def checked_percent() -> tuple[tuple[float, float], ...]:
    """What the formula says of the simulated plans: sizes of hand and tape, in their order."""
    found = []
    for one in SIMULATED:
        plan = (one.hands, one.stems, one.tapes, one.repeats, one.lay_percent)
        both = detectable_hand_percent(*plan), detectable_tape_percent(*plan)
        found.append((float(both[0].size_percent), float(both[1].size_percent)))
    return tuple(found)
