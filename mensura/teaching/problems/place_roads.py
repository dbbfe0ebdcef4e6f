"""Roads of the problems of where to measure (see rounding_roads), by plain sums and roots."""

from __future__ import annotations

from math import acos, cos, degrees, pi, radians, sqrt, tan
from typing import Any

from mensura.teaching.problems.sure_roads import Road, Write


def _downhill(q: Any, w: Write, o: Write) -> float:
    lower = w(q.diameter_cm * o(tan(radians(q.slope_deg))))
    share = w(100 * w(q.taper_cm_per_m * lower / 100) / q.diameter_cm)
    return 2 * share + o(share**2 / 100)


def _plumb(q: Any, w: Write, o: Write) -> float:
    return w(100 * q.rule_height_m / o(cos(radians(q.lean_deg)))) - 100 * float(q.rule_height_m)


def _ground(q: Any, w: Write, o: Write) -> float:
    return float(q.diameter_cm) * o(tan(radians(w(q.slope_deg - q.lean_deg))))


def _how_far(q: Any, w: Write, o: Write) -> float:
    # the ellipse is a hair longer than π times the mean of its axes
    longer = w(1 + q.allowed_cm / q.girth_cm)
    along = w(2 * longer - 1)
    return degrees(acos(1 / along))


def _calipers(q: Any, w: Write, o: Write) -> float:
    mean = w((q.first_reading_cm + q.second_reading_cm) / 2)
    return 100 * (o(w(mean / q.second_reading_cm) ** 2) - 1)


def _cone(q: Any, w: Write, o: Write) -> float:
    share = w(100 * w(q.laid_at_m - 1.3) / w(q.tree_height_m - 1.3))
    return 2 * share - o(share**2 / 100)


def _swelling(q: Any, w: Write, o: Write) -> float:
    mean = w((q.above_girth_cm + q.below_girth_cm) / 2)
    return 100 * (o(w(q.on_girth_cm / mean) ** 2) - 1)


def _buttress(q: Any, w: Write, o: Write) -> float:
    left = w((1 - q.fall_percent / 100) ** w(q.buttress_top_m - 0.8))
    return 100 * (1 - o(left**2))


def _legs(q: Any, w: Write, o: Write) -> float:
    band = w(pi * q.leg_diameter_cm + 2 * (q.leg_diameter_cm + q.leg_gap_cm))
    return 100 * (o(w(band**2 / (4 * pi)) / w(pi / 2 * q.leg_diameter_cm**2)) - 1)


def _fork(q: Any, w: Write, o: Write) -> float:
    whole = w(q.below_fork_cm**2 / (4 * pi))
    legs = w((q.girth_1_cm**2 + q.girth_2_cm**2) / (4 * pi))
    return 100 * (o(whole / legs) - 1)


def _coppice(q: Any, w: Write, o: Write) -> float:
    return sqrt(w(sum(o(getattr(q, f"girth_{k}_cm") ** 2) for k in range(1, 5))))


#: Family → its road.
PLACE_ROADS: dict[str, Road] = {
    "downhill-for-uphill": _downhill,
    "plumb-on-a-lean": _plumb,
    "leaning-on-a-slope": _ground,
    "how-far-may-it-lean": _how_far,
    "level-calipers-on-a-lean": _calipers,
    "another-breast-height": _cone,
    "swelling-at-breast-height": _swelling,
    "above-the-buttresses": _buttress,
    "two-legs-as-one": _legs,
    "below-the-fork": _fork,
    "several-stems-as-one": _coppice,
}
