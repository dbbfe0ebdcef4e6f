"""The laying panel's numbers: one band laid badly on one stem, and what each fault adds."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from mensura.checks import FloatArray
from mensura.estimates.comparison import Comparison, compare
from mensura.instruments.band_way import band_curve_cm, climber_middle_cm
from mensura.instruments.lay import Lay
from mensura.stems.ellipse import Ellipse
from mensura.stems.hulls import passed_cm
from mensura.teaching.controls import Control

#: The stem of the panel, invented: an oval of Quillmere Practice Wood.
STEM = Ellipse(44, 40)
EDGE_CM = STEM.outline_cm()

_BAND, _UNDER = "Band", "Under the band"
CONTROLS = (
    Control("tilt_deg", "tilt", "°", 0, 15, 0.5, 6, _BAND),
    Control("tilt_direction_deg", "rises towards", "°", -90, 90, 5, 30, _BAND),
    Control("wander_cm", "wander, height", "cm", 0, 5, 0.25, 3, _BAND),
    Control("wander_waves", "waves", "", 1, 3, 1, 2, _BAND, whole=True),
    Control("overlap_offset_cm", "ends miss by", "cm", 0, 8, 0.5, 4, _BAND),
    Control("slack_cm", "slack", "cm", 0, 4, 0.1, 0.8, _BAND),
    Control("climber_cm", "climber across", "cm", 0, 4, 0.1, 1.5, _UNDER),
    Control("climber_direction_deg", "climber stands at", "°", 0, 180, 5, 60, _UNDER),
    Control("twist_lift_cm", "twist, stand-off", "cm", 0, 2, 0.1, 0.6, _UNDER),
)

#: The faults in the order in which they are taken.
FAULTS = ("climber", "twist", "tilt", "wander", "overlap", "slack")
WORDS = {
    "climber": "Climber caught under the band",
    "twist": "Twist",
    "tilt": "Tilt",
    "wander": "Wander",
    "overlap": "Ends that miss each other",
    "slack": "Slack",
}
NOTHING = dict.fromkeys(
    ("tilt_deg", "wander_cm", "overlap_offset_cm", "slack_cm", "climber_cm", "twist_lift_cm"), 0.0
)

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

    lay: fields of :class:`~mensura.instruments.lay.Lay`, those of CONTROLS.

    >>> from mensura.teaching.controls import starting
    >>> shown = numbers(**starting(CONTROLS) | NOTHING | {"tilt_deg": 10.0})
    >>> round(shown.adds_cm, 2), list(shown.result.breakdown)
    (1.06, ['tilt'])
    """
    at = Lay(**lay)
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
