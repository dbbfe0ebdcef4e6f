"""What each fault of a typical size costs a class: in the area of its own stems, and to notice it.

The faults are those of the one list (:mod:`mensura.instruments.faults`), the stems those of
compartment 7 unless others are given. Every stem is read with the fault and without it, by the
instruments themselves; the cost is by how much the stems' areas together go wrong, in per cent.

To notice a fault, stems are read twice, as it is and as it should be, one pair of readings a stem.
It shows if the mean difference is more than twice its standard uncertainty, √(2/n)·√(hand² +
step²/12): then it is seldom chance. So many stems are counted that it shows in 19 tries of 20, as
if it were as large on each of them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from math import ceil
from statistics import NormalDist
from types import MappingProxyType
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import number, plain
from mensura.estimates.comparison_rows import Row
from mensura.estimates.which_instrument import CALIPERS, TAPE
from mensura.instruments.calipers import Calipers
from mensura.instruments.fault import BAND, INSTRUMENTS, JAWS, LAY, READING, Fault, Typical
from mensura.instruments.faults import faults_in
from mensura.instruments.lay import Lay
from mensura.instruments.tape import Tape
from mensura.stems.compartment import COMPARTMENT_7, StandingStem, standing_sections

#: What is taken for the step of a reading, in cm, by each instrument.
STEP_CM = MappingProxyType({"tape": 0.1, "calipers": 0.1})
#: And for the hand's spread: as where an instrument is chosen.
HAND_CM = MappingProxyType({"tape": TAPE.hand_cm, "calipers": CALIPERS.hand_cm})

#: By what a fault of each kind is checked: what its readings are set against.
CHECKS = MappingProxyType(
    {
        LAY: "the same tape laid anew, as it should lie",
        BAND: "a sound tape beside it, or its card",
        JAWS: "sound calipers, squarely held; closed they read 0",
        READING: "the same reading to the millimetre",
    }
)

#: How many of its own standard uncertainties a mean difference must be, to count as seen; and how
#: many more it has to lie above that to be seen in 19 tries of 20.
SEEN, SURELY = 2.0, NormalDist().inv_cdf(0.95)

#: The calipers take a pair on the axes, and the product of it: without a fault that is exact.
_AXES_DEG = (0.0, 90.0)


@dataclass(frozen=True)
class FaultCost:
    """What one fault of a typical size costs.

    fault: its name in the list; instrument: "tape" or "calipers"; words: of its size; adds_cm: to a
    reading, on the mean of the stems; area_percent: to the area of all of them together;
    stem_count: to be read twice until it shows; check: what they are read against.
    """

    fault: str
    instrument: str
    words: str
    adds_cm: float
    area_percent: float
    stem_count: int
    check: str


def stems_to_notice(adds_cm: ArrayLike, hand_cm: ArrayLike, resolution_cm: ArrayLike = 0.0) -> Any:
    """How many stems have to be read twice until a fault shows: 2·((2 + 1.645)·s/δ)², rounded up.

    adds_cm: what the fault adds to a reading, δ; hand_cm: one standard deviation of a single
    reading; resolution_cm: its step, of which a twelfth of the square is in s² [GUM1995, clause
    4.3.7]; they broadcast. inf for a fault that adds nothing. Raises MeasureError.

    >>> stems_to_notice(0.5, 0.5), stems_to_notice(2.0, 0.5)
    (27.0, 2.0)
    """
    adds = np.abs(number(adds_cm, "adds_cm", "cm"))
    hand = number(hand_cm, "hand_cm", "cm", at_least=0.0)
    step = number(resolution_cm, "resolution_cm", "cm", at_least=0.0)
    spread = np.square(hand) + np.square(step) / 12
    with np.errstate(divide="ignore", invalid="ignore"):
        needed = np.ceil(2 * (SEEN + SURELY) ** 2 * spread / np.square(adds) - 1e-9)
    return plain(np.where(adds > 0, np.maximum(needed, 1.0), np.inf))


def fault_costs(
    stems: tuple[StandingStem, ...] = COMPARTMENT_7,
    hand_cm: Mapping[str, float] = HAND_CM,
    resolution_cm: Mapping[str, float] = STEP_CM,
) -> tuple[FaultCost, ...]:
    """Each fault of a typical size on some stems, the cheapest first.

    stems: the class's own; hand_cm, resolution_cm: spread and step of single readings, by
    instrument.

    >>> dear = {one.words: one for one in fault_costs()}["slack of 2 cm"]
    >>> round(dear.area_percent, 2), dear.stem_count
    (2.91, 2)
    """
    found = [
        FaultCost(
            fault=key,
            instrument=instrument,
            words=words,
            adds_cm=adds,
            area_percent=area,
            stem_count=ceil(
                min(stems_to_notice(adds, hand_cm[instrument], resolution_cm[instrument]), 1e9)
            ),
            check=CHECKS[of],
        )
        for key, of, instrument, words, adds, area in _costs(stems)
    ]
    return tuple(sorted(found, key=lambda one: abs(one.area_percent)))


def fault_cost_rows(costs: tuple[FaultCost, ...]) -> list[Row]:
    """The costs as rows of a table.

    costs: of :func:`fault_costs`. Rows: fault, of the words; instrument; reading_adds_cm;
    area_adds_percent; stems_read_twice; against.

    >>> list(fault_cost_rows(fault_costs())[0])[:3]
    ['fault', 'instrument', 'reading_adds_cm']
    """
    return [
        {
            "fault": one.words,
            "instrument": one.instrument,
            "reading_adds_cm": one.adds_cm,
            "area_adds_percent": one.area_percent,
            "stems_read_twice": one.stem_count,
            "against": one.check,
        }
        for one in costs
    ]


@lru_cache(maxsize=4)
def _costs(
    stems: tuple[StandingStem, ...],
) -> tuple[tuple[str, str, str, str, float, float], ...]:
    """Key, kind, instrument, words, mean of what is added to a reading, and to the area."""
    return tuple(
        (key, row.of, instrument, size.words, *_added(row, size, instrument, stems))
        for instrument, kinds in INSTRUMENTS.items()
        for key, row in faults_in("what each costs", *kinds).items()
        for size in row.typical
        if size.words
    )


def _added(
    row: Fault, size: Typical, instrument: str, stems: tuple[StandingStem, ...]
) -> tuple[float, float]:
    """What one fault adds to a reading of the stems, in cm, and to their areas, in per cent."""
    sound, read = (_read(row.of, settings, instrument, stems) for settings in ({}, size.settings))
    # both instruments: an area goes with the product of two readings, a girth's with itself
    areas = [float((one[..., 0] * one[..., -1]).sum()) for one in (sound, read)]
    return float((read - sound).mean()), 100 * (areas[1] / areas[0] - 1)


def _read(
    of: str, settings: Mapping[str, Any], instrument: str, stems: tuple[StandingStem, ...]
) -> Any:
    """Readings with a fault of some kind, a row for each stem."""
    section = standing_sections(stems)
    if instrument == "calipers":
        return Calipers(**settings).read(section, _AXES_DEG)
    if of == LAY:
        return np.asarray(Tape().read(section, Lay(**settings)).reading_cm)[:, None]
    return np.asarray(Tape(**settings).read(section).reading_cm)[:, None]
