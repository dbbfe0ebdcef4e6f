"""Roads of the problems of timber and of a cut end (see rounding_roads), by sums and roots."""

from __future__ import annotations

from math import cos, log, pi, radians, sin, sqrt
from typing import Any

from mensura.teaching.problems.sure_roads import Road, Write


def _four(q: Any, name: str) -> list[float]:
    return [float(getattr(q, name.format(k))) for k in range(1, 5)]


def _sections(q: Any, w: Write, o: Write) -> float:
    squares = [o(getattr(q, f"girth_at_{k}_cm") ** 2) for k in range(1, 6)]
    weighed = w((squares[0] + squares[4]) / 2 + sum(squares[1:4]))
    return o(weighed / (4 * pi)) / 10_000 * float(q.section_length_m)


def _two_rules(q: Any, w: Write, o: Write) -> float:
    return o(2 * q.huber_m3 + q.smalian_m3) / 3


def _own_form(q: Any, w: Write, o: Write) -> float:
    thinner = w(2 * log(q.lower_diameter_cm / q.upper_diameter_cm))
    power = w(thinner / w(log(q.tip_m / (q.tip_m - q.above_cut_m))))
    return w(pi * q.lower_diameter_cm**2 / 40_000) * float(q.tip_m) / (power + 1)


def _along_the_ground(q: Any, w: Write, o: Write) -> float:
    level = w(q.plot_length_m * q.plot_width_m * w(cos(radians(q.slope_deg))))
    return float(q.plot_volume_m3) / level * 10_000


def _unequal(q: Any, w: Write, o: Write) -> float:
    stands = o(q.volume_1_m3 + q.volume_2_m3 + q.volume_3_m3)
    return stands / o(sum(_four(q, "area_{}_m2"))) * 10_000


def _ratio_error(q: Any, w: Write, o: Write) -> float:
    volumes, areas = _four(q, "volume_{}_m3"), _four(q, "area_{}_m2")
    each = w(sum(volumes) / sum(areas))
    squares = [o((y - o(each * a)) ** 2) for y, a in zip(volumes, areas, strict=True)]
    left, mean = w(sqrt(o(sum(squares) / 3))), w(sum(areas) / 4)
    return left / 2 / mean * 10_000


def _halves(q: Any, w: Write, o: Write) -> float:
    count = o(sum(_four(q, "count_{}")) + q.line_count / 2)
    return count * float(q.factor_m2_per_ha) / 4


def _behind_a_count(q: Any, w: Write, o: Write) -> float:
    each = (o(pi * getattr(q, f"diameter_{k}_cm") ** 2 / 40_000) for k in range(1, 4))
    return sum(w(q.factor_m2_per_ha / one) for one in each)


def _variance(q: Any, w: Write, o: Write) -> float:
    own = w((2 * q.u_diameter_percent) ** 2)
    return 100 * own / w(own + o(q.u_height_percent**2) + o(q.u_form_percent**2))


def _unequal_trees(q: Any, w: Write, o: Write) -> float:
    volumes = _four(q, "volume_{}_m3")
    total, root = w(sum(volumes)), w(sqrt(o(sum(one**2 for one in volumes))))
    new = w(q.u_each_percent * root / total)
    return sqrt(o(new**2) + q.u_all_percent**2)


def _askew(q: Any, w: Write, o: Write) -> float:
    long = w(sqrt(o(q.along_px**2 + q.up_px**2)))
    return float(q.area_px2) / o(w(long / q.scale_cm) ** 2)


def _two_scales(q: Any, w: Write, o: Write) -> float:
    return float(q.area_px2) * w(40 / q.across_px) * w(30 / q.frame_up_px)


def _behind_the_cut(q: Any, w: Write, o: Write) -> float:
    times = w(100 * q.camera_to_scale_m / w(100 * q.camera_to_scale_m - q.nearer_cm))
    return 100 * (o(times**2) - 1)


def _clicks(q: Any, w: Write, o: Write) -> float:
    disc, part = w(pi / 4 * q.diameter_cm**2), w(360 / q.click_count)
    triangle = o((q.diameter_cm / 2) ** 2) / 2 * o(sin(radians(part)))
    return disc - w(q.click_count * triangle)


def _against_outline(q: Any, w: Write, o: Write) -> float:
    return 100 * (o(w(o(q.taut_girth_cm**2) / (4 * pi)) / q.true_area_cm2) - 1)


def _photographed(q: Any, w: Write, o: Write) -> float:
    scale, edge = w(100 * sqrt(2) * q.u_mark_px / q.scale_px), w(100 * q.u_edge_px / q.radius_px)
    return 2 * sqrt(o(o(scale**2) + o(edge**2)))


#: Family → its road.
TIMBER_ROADS: dict[str, Road] = {
    "log-by-sections": _sections,
    "two-rules-one-volume": _two_rules,
    "volume-from-its-form": _own_form,
    "plot-laid-along-the-ground": _along_the_ground,
    "mean-of-unequal-plots": _unequal,
    "error-of-a-ratio": _ratio_error,
    "halves-of-an-angle-count": _halves,
    "stems-behind-a-count": _behind_a_count,
    "share-of-the-variance": _variance,
    "what-unequal-trees-leave": _unequal_trees,
    "scale-that-lies-askew": _askew,
    "two-scales-of-a-tilted-camera": _two_scales,
    "scale-behind-the-cut": _behind_the_cut,
    "area-between-the-clicks": _clicks,
    "tape-against-an-outline": _against_outline,
    "doubt-of-a-photographed-area": _photographed,
}
