"""The laying panel's numbers: one band laid badly on one stem, and what each fault adds."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from mensura.checks import FloatArray
from mensura.estimates.comparison import Comparison, compare
from mensura.instruments.band_curve import band_curve_cm, climber_middle_cm
from mensura.instruments.fault import LAY
from mensura.instruments.faults import faults_in, settings_of
from mensura.instruments.lay import Lay
from mensura.stems.ellipse import Ellipse
from mensura.stems.hulls import passed_cm
from mensura.teaching.controls import control_of, set_from, sound_of

#: The stem of the panel, invented: an oval of Quillmere Practice Wood.
STEM = Ellipse(44, 40)
EDGE_CM = STEM.outline_cm()

#: The faults of the panel, in the order in which they are taken.
FAULTS = faults_in("chapter panel", LAY)

#: Those whose controls stand under a heading of their own, below the others'.
_UNDER = ("climber", "twist")
CONTROLS = tuple(
    control_of(setting, "Under the band" if under else "Band")
    for under in (False, True)
    for row in FAULTS.values()
    if (row.key in _UNDER) == under
    for setting in row.sliders
)
NOTHING = sound_of(row.settings[0] for row in FAULTS.values())


#: Where the twist and the slack are drawn; the model does not ask where they are.
TWIST_DEG, SLACK_DEG, SLACK_WIDE_DEG = 240.0, 302.0, 30.0


@dataclass(frozen=True, eq=False)
class Laying:
    """All that the panel shows of one lay.

    lay: how the band lies; result: the comparison on STEM; loop_cm: the band's way round stem,
    climber and twist, slack hanging out, from above, shape (k, 2); climber_at_cm: the climber's
    middle; tab_cm: where the band starts; along_cm, height_cm: the way round stem and climber
    unrolled, from the tab, and the band's height on it; adds_cm: the sum of all shares.
    """

    lay: Lay
    result: Comparison
    loop_cm: FloatArray
    climber_at_cm: FloatArray
    tab_cm: FloatArray
    along_cm: FloatArray
    height_cm: FloatArray
    adds_cm: float


def numbers(**lay: Any) -> Laying:
    """What the panel shows for a state of its controls.

    lay: values of CONTROLS by name.

    >>> from mensura.teaching.controls import starting
    >>> start = starting(CONTROLS)
    >>> shown = numbers(**start | NOTHING | {"tilt_deg": 10.0})
    >>> round(shown.adds_cm, 2), list(shown.result.breakdown)
    (1.06, ['tilt'])
    """
    at = Lay(**set_from(settings_of(LAY), lay))
    # unrolled is the way that lengths are summed along: twist and slack add theirs beside it
    way = band_curve_cm(STEM, replace(at, twist_lift_cm=0.0, slack_cm=0.0))
    loop = band_curve_cm(STEM, at, TWIST_DEG, SLACK_DEG, SLACK_WIDE_DEG)
    result = compare(STEM, at)
    return Laying(
        lay=at,
        result=result,
        loop_cm=loop[:-1, :2],
        climber_at_cm=climber_middle_cm(STEM, at),
        tab_cm=way[0, :2],
        along_cm=passed_cm(way[:, :2]),
        height_cm=way[:, 2],
        adds_cm=sum(result.breakdown.values()),
    )
