"""All faults at once, in numbers: one stem, every fault of tape and calipers, what each one adds.

Which faults there are, in which order, how far each goes and how it is called: the list of faults
says it. Here stand the stem and what the panel takes for granted.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.comparison import Comparison, compare
from mensura.instruments.calipers import Calipers
from mensura.instruments.fault import BAND, INSTRUMENTS, JAWS, LAY, READING
from mensura.instruments.faults import FAULTS, faults_in, settings_of
from mensura.instruments.lay import Lay
from mensura.instruments.materials import material
from mensura.instruments.tape import Tape
from mensura.stems.ellipse import Ellipse
from mensura.teaching.controls import Control, State, control_of, set_from, sound_of

#: The one stem of this panel (invented), and how it tapers.
STEM = Ellipse(42.0, 38.0)
#: What the panel takes for granted of the lay and of the band, and where the calipers go.
ASSUMED_LAY: dict[str, Any] = {
    "taper_cm_per_m": 1.0,
    "climber_direction_deg": 120.0,
    "tilt_direction_deg": 30.0,
    "wander_waves": 2,
}
BAND_OF = material("fibreglass")
CALIPER_DIRECTION_DEG = 30.0

#: The heading under which the control of each kind of fault stands.
GROUPS = {LAY: "Lay", BAND: "Band", JAWS: "Calipers", READING: "Tape and calipers"}

#: Where this panel goes other ways than the row: a degree of warmth could not be seen.
NEARER = {"temperature": {"step": 5.0, "start": 45.0}}

TAPE_FAULTS = faults_in("all faults", *INSTRUMENTS["tape"])
CALIPER_FAULTS = faults_in("all faults", *INSTRUMENTS["calipers"])

_SHOWN = [row for row in FAULTS if row.belongs_in("all faults")]

#: A control for the number that makes each fault, and where they stand when nothing is wrong.
CONTROLS: tuple[Control, ...] = tuple(
    control_of(row.settings[0], GROUPS[row.of], **NEARER.get(row.key, {})) for row in _SHOWN
)
SOUND: State = sound_of(row.settings[0] for row in _SHOWN)


@dataclass(frozen=True, eq=False)
class AllFaults:
    """All that the panel shows.

    result: the comparison; adds_cm: what each of TAPE_FAULTS adds to the girth; sums_cm: the
    running sum before the first of them and after each; width_cm: the calipers' first width when
    sound; caliper_adds_cm, caliper_sums_cm: the same for CALIPER_FAULTS.
    """

    result: Comparison
    adds_cm: FloatArray
    sums_cm: FloatArray
    width_cm: float
    caliper_adds_cm: FloatArray
    caliper_sums_cm: FloatArray


def numbers(**fault: Any) -> AllFaults:
    """What the panel shows for a state of its controls.

    fault: values of CONTROLS by name.

    >>> shown = numbers(**SOUND)
    >>> float(shown.sums_cm[-1]), round(shown.result.tape_over_percent, 3)
    (0.0, 0.376)
    """
    lay = Lay(**ASSUMED_LAY, **set_from(settings_of(LAY), fault))
    tape = Tape(
        material=BAND_OF.name,
        stiffness_n=BAND_OF.stiffness_n,
        **set_from(settings_of(BAND, READING), fault),
    )
    calipers = Calipers(**set_from(settings_of(JAWS, READING), fault))
    result = compare(STEM, lay, CALIPER_DIRECTION_DEG, tape, calipers)
    one = result.calipers[0].breakdown
    adds = np.array([result.breakdown.get(key, 0.0) for key in TAPE_FAULTS])
    more = np.array([float(one[key][0]) if key in one else 0.0 for key in CALIPER_FAULTS])
    return AllFaults(
        result=result,
        adds_cm=adds,
        sums_cm=np.concatenate([[0.0], np.cumsum(adds)]),
        width_cm=float(STEM.width_cm(CALIPER_DIRECTION_DEG)),
        caliper_adds_cm=more,
        caliper_sums_cm=np.concatenate([[0.0], np.cumsum(more)]),
    )
