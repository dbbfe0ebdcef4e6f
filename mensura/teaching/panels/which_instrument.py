"""The numbers of the panel on choosing: the errors of both instruments, and where they change."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any

import numpy as np

from mensura.checks import FloatArray, kept
from mensura.estimates.instrument_flips import Flip, flips, steps
from mensura.estimates.stem_scatter import WAYS
from mensura.estimates.which_instrument import (
    CALIPERS,
    TAPE,
    Kit,
    Morning,
    PlotError,
    best_plan,
    error_curve_percent,
)
from mensura.stems.compartment import COMPARTMENT_7
from mensura.teaching.controls import Choice, Control, State, starting

#: How the crew draws the calipers' readings together, and the ways that it knows then.
PRACTICES = MappingProxyType(
    {
        "whichever is best": tuple(WAYS),
        "right angles, product": ("girth", "products"),
        "right angles, mean": ("girth", "pairs"),
        "any directions, mean": ("girth", "directions"),
    }
)

#: The stem on which a crew tries how long a reading takes.
TRIED_CM = 40.0

CONTROLS = (
    Control("out_of_round_percent", "out-of-round", "%", 0, 30, 0.5, 11, "Plot"),
    Control("diameter_cm", "stems' diameter", "cm", 15, 90, 1, 40, "Plot"),
    Control("undergrowth", "undergrowth, 0 to 1", "", 0, 1, 0.05, 0.1, "Plot"),
    Control("stem_count", "stems", "", 6, 60, 1, 18, "Plot", whole=True),
    Control("time_min", "time for all", "min", 20, 240, 5, 60, "Plot"),
    Control("tape_min", "tape, a reading", "min", 0.2, 2, 0.05, 0.7, "Tape"),
    Control("tape_hand_cm", "girths spread by", "cm", 0.1, 3, 0.1, 0.5, "Tape"),
    Control("tape_common_cm", "all girths off by", "cm", 0, 1, 0.05, 0.15, "Tape"),
    Control("calipers_min", "calipers, one", "min", 0.2, 2, 0.05, 0.55, "Calipers"),
    Control("calipers_hand_cm", "widths spread by", "cm", 0.05, 1.5, 0.05, 0.3, "Calipers"),
    Control("calipers_common_cm", "all widths off by", "cm", 0, 0.3, 0.01, 0.05, "Calipers"),
)
#: What the chart goes along, as it is chosen.
ALONG = MappingProxyType(
    {
        "out-of-roundness": "out_of_round_percent",
        "stems' diameter": "diameter_cm",
        "undergrowth": "undergrowth",
    }
)
CHOICES = (
    Choice("along", "chart along", "Plot", tuple(ALONG)),
    Choice("practice", "readings", "Calipers", tuple(PRACTICES)),
)

#: What is moved to find a flip, over the whole of its control.
ENDS = {one.name: one.ends for one in CONTROLS if one.name in ALONG.values()}
#: Where the curves are worked out at the least; the flips are not read off them.
_EVENLY = {name: kept(np.linspace(*ends, 61)) for name, ends in ENDS.items()}


def whole(**changes: Any) -> State:
    """Where all controls stand, with some changes from the start.

    changes: names with their values.
    """
    return starting(CONTROLS, CHOICES) | changes


#: The class's own stems, as near as the controls' steps come.
_OWN = Morning.of_stems(COMPARTMENT_7)
_AS_ARE = ("out_of_round_percent", "diameter_cm", "stem_count")
OWN_PLOT = whole(
    **{one.name: one.nearest(getattr(_OWN, one.name)) for one in CONTROLS if one.name in _AS_ARE}
)

#: A plot in which the tape is at home, one for the calipers, and a crew with one way.
ROUND_POLES = whole(out_of_round_percent=3.0, diameter_cm=25.0, undergrowth=0.0)
OVAL_OAKS = whole(out_of_round_percent=18.0, diameter_cm=60.0, undergrowth=0.9)
ONE_DIRECTION = whole(practice="any directions, mean")


@dataclass(frozen=True, eq=False)
class WhichShown:
    """All that the panel shows of one plot and one crew.

    morning: the plot and its time; kits: tape and calipers; tape, calipers: the best that each can
    do, None where it cannot; along: what the chart goes along, one of ENDS; places: on it, in its
    unit; curves_percent: the error of each at those, nan where it cannot be used; flips: where the
    better one changes, by what is moved; practice: one of PRACTICES.
    """

    morning: Morning
    kits: tuple[Kit, Kit]
    tape: PlotError | None
    calipers: PlotError | None
    along: str
    places: FloatArray
    curves_percent: tuple[FloatArray, FloatArray]
    flips: dict[str, tuple[Flip, ...]]
    practice: str

    @property
    def plans(self) -> dict[str, PlotError | None]:
        """The best that each instrument can do, by its name."""
        return {"tape": self.tape, "calipers": self.calipers}

    @property
    def better(self) -> str:
        """The instrument with the smaller error: "tape", "calipers" or "neither"."""
        can = {name: plan.error_percent for name, plan in self.plans.items() if plan}
        return min(can, key=lambda name: can[name]) if can else "neither"


def numbers(
    out_of_round_percent: float,
    diameter_cm: float,
    undergrowth: float,
    stem_count: int,
    time_min: float,
    tape_min: float,
    tape_hand_cm: float,
    tape_common_cm: float,
    calipers_min: float,
    calipers_hand_cm: float,
    calipers_common_cm: float,
    practice: str,
    along: str,
) -> WhichShown:
    """What the panel shows for a state of its controls.

    out_of_round_percent, diameter_cm, undergrowth, stem_count, time_min: the plot; tape_min,
    calipers_min: for a reading of a stem of 40 cm on clear ground; tape_hand_cm, calipers_hand_cm:
    spread of a hand's readings; tape_common_cm, calipers_common_cm: standard uncertainty of what
    all readings share; practice: one of PRACTICES; along: one of ALONG.

    >>> shown = numbers(**whole())
    >>> shown.better, round(shown.flips["out_of_round_percent"][0].at, 3)
    ('calipers', 9.7)
    """
    plot = Morning(diameter_cm, out_of_round_percent, undergrowth, stem_count, time_min)
    tape = replace(TAPE, hand_cm=tape_hand_cm, common_cm=tape_common_cm)
    jaws = replace(CALIPERS, hand_cm=calipers_hand_cm, common_cm=calipers_common_cm)
    tape, jaws = tape.paced(tape_min, TRIED_CM), jaws.paced(calipers_min, TRIED_CM)
    ways = PRACTICES[practice]
    moved = ALONG[along]
    places = _places(plot, (tape, jaws), moved)
    there: dict[str, Any] = {moved: places}
    all_along = replace(plot, **there)
    return WhichShown(
        morning=plot,
        kits=(tape, jaws),
        tape=best_plan(plot, (tape,), ways),
        calipers=best_plan(plot, (jaws,), ways),
        along=moved,
        places=places,
        curves_percent=(
            error_curve_percent(all_along, tape, ways),
            error_curve_percent(all_along, jaws, ways),
        ),
        flips={
            name: flips(plot, name, *ends, tape=tape, calipers=jaws, ways=ways)
            for name, ends in ENDS.items()
        },
        practice=practice,
    )


def _places(plot: Morning, kits: Iterable[Kit], moved: str) -> FloatArray:
    """Where the curves are worked out: evenly, and a hair to either side of every step."""
    even = _EVENLY[moved]
    least, greatest = ENDS[moved]
    found = {at for kit in kits for at in steps(plot, kit, moved) if least < at < greatest}
    at, hair = np.array(sorted(found)), 1e-7 * (greatest - least)
    return kept(np.sort(np.concatenate([even, at - hair, at + hair])))
