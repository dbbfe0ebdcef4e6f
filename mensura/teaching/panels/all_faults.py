"""The numbers of the panel with all faults: what each adds, and what is left of the area."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.comparison import Comparison, compare
from mensura.instruments.calipers import Calipers
from mensura.instruments.lay import Lay
from mensura.instruments.tape import Tape
from mensura.stems.ellipse import Ellipse
from mensura.teaching.controls import Control, State

#: The one stem of this panel (invented): its two diameters, how it tapers, where the calipers go.
FIRST_CM, SECOND_CM = 42.0, 38.0
TAPER_CM_PER_M = 1.0
CALIPER_DIRECTION_DEG = 30.0
MATERIAL = "plastic"
WAVES = 2

STEM = Ellipse(FIRST_CM, SECOND_CM)

CONTROLS = (
    Control("height_off_m", "height off by", "m", -0.5, 0.5, 0.05, -0.3, "Lay"),
    Control("climber_cm", "climber under it", "cm", 0, 2, 0.1, 1, "Lay"),
    Control("twist_lift_cm", "twist stands off", "cm", 0, 2, 0.1, 1.2, "Lay"),
    Control("tilt_deg", "tilt", "°", 0, 15, 0.5, 9, "Lay"),
    Control("wander_cm", "wander", "cm", 0, 6, 0.2, 4, "Lay"),
    Control("slack_cm", "slack", "cm", 0, 2, 0.1, 0.8, "Lay"),
    Control("thickness_mm", "thickness", "mm", 0, 2, 0.1, 0.8, "Band"),
    Control("temperature_c", "temperature", "°C", -20, 60, 5, 45, "Band"),
    Control("stretch_percent", "stretch", "%", -1, 1, 0.05, 0.8, "Band"),
    Control("worn_start_cm", "worn off its start", "cm", 0, 2, 0.1, 1, "Band"),
    Control("resolution_cm", "read in steps of", "cm", 0, 1, 0.1, 0.5, "Band"),
    Control("zero_error_cm", "closed they read", "cm", -1, 1, 0.05, 0.5, "Calipers"),
    Control("jaw_lean_deg", "jaw leans out by", "°", -2, 2, 0.1, 1, "Calipers"),
    Control("beam_slope_deg", "beam slopes by", "°", 0, 15, 0.5, 8, "Calipers"),
)

SOUND: State = {control.name: 0.0 for control in CONTROLS} | {"temperature_c": 20.0}

#: Each fault of the tape, in the order in which it is taken: (name in a breakdown, as written).
TAPE_FAULTS = (
    ("height", "height"),
    ("climber", "climber"),
    ("twist", "twist"),
    ("tilt", "tilt"),
    ("wander", "wander"),
    ("slack", "slack"),
    ("thickness", "thickness"),
    ("temperature", "temperature"),
    ("stretch", "stretch"),
    ("worn start", "worn start"),
    ("resolution", "rounding"),
)
CALIPER_FAULTS = (("jaw lean", "jaw lean"), ("beam slope", "slope"), ("zero", "zero error"))


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
    lay = Lay(
        tilt_deg=fault["tilt_deg"],
        tilt_direction_deg=30.0,
        wander_cm=fault["wander_cm"],
        wander_waves=WAVES,
        slack_cm=fault["slack_cm"],
        twist_lift_cm=fault["twist_lift_cm"],
        climber_cm=fault["climber_cm"],
        climber_direction_deg=120.0,
        height_off_m=fault["height_off_m"],
        taper_cm_per_m=TAPER_CM_PER_M,
    )
    tape = Tape(
        stretch_percent=fault["stretch_percent"],
        worn_start_cm=fault["worn_start_cm"],
        thickness_cm=fault["thickness_mm"] / 10,
        temperature_c=fault["temperature_c"],
        material=MATERIAL,
        resolution_cm=fault["resolution_cm"],
    )
    calipers = Calipers(
        zero_error_cm=fault["zero_error_cm"],
        jaw_lean_deg=fault["jaw_lean_deg"],
        beam_slope_deg=fault["beam_slope_deg"],
    )
    result = compare(STEM, lay, CALIPER_DIRECTION_DEG, tape, calipers)
    adds = np.array([result.breakdown.get(name, 0.0) for name, _ in TAPE_FAULTS])
    one = result.calipers[0]
    more = np.array([float(one.breakdown.get(n, np.zeros(1))[0]) for n, _ in CALIPER_FAULTS])
    return AllFaults(
        result=result,
        adds_cm=adds,
        sums_cm=np.concatenate([[0.0], np.cumsum(adds)]),
        width_cm=float(STEM.width_cm(CALIPER_DIRECTION_DEG)),
        caliper_adds_cm=more,
        caliper_sums_cm=np.concatenate([[0.0], np.cumsum(more)]),
    )
