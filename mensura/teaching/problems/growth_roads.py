"""Roads of the problems of growth (see rounding_roads), by sums, roots and the printed factors."""

from __future__ import annotations

from math import pi, sqrt
from typing import Any

from mensura.teaching.problems.sure_roads import Road, Write


def _same_tape(q: Any, w: Write, o: Write) -> float:
    own, share = w(sqrt(2) * q.u_reading_cm), w(q.u_scale_percent / 100 * q.growth_cm)
    return sqrt(o(own**2 + share**2))


def _other_tape(q: Any, w: Write, o: Write) -> float:
    later = float(q.girth_cm + q.growth_cm)
    own = w(sqrt(2) * q.u_reading_cm)
    scales = w(q.u_scale_percent / 100 * o(sqrt(o(q.girth_cm**2) + o(later**2))))
    return 100 * w(sqrt(o(own**2 + scales**2))) / float(q.growth_cm)


def _other_height(q: Any, w: Write, o: Write) -> float:
    lost = w(pi * q.diameter_taper_cm_per_m * q.higher_cm / 100)
    return w(q.growth_cm + lost) * 10 / float(q.between_years)


def _least(q: Any, w: Write, o: Write) -> float:
    return w((1.96 + 1.28) * w(sqrt(2) * q.u_reading_cm)) / float(q.between_years)


def _bark(q: Any, w: Write, o: Write) -> float:
    return w(2 * pi * q.lost_bark_mm / 10) - float(q.shrunk_cm)


def _other_hand(q: Any, w: Write, o: Write) -> float:
    later = float(q.girth_cm + q.growth_cm)
    averaged = w(q.growths_sd_cm / sqrt(q.stem_count))
    habits = w(q.habit_percent / 100 * o(sqrt(o(q.girth_cm**2) + o(later**2))))
    return sqrt(o(averaged**2 + habits**2))


def _area(q: Any, w: Write, o: Write) -> float:
    times = w(((q.girth_cm + q.growth_cm) / q.girth_cm) ** 2)
    return 100 * (o(times ** (1 / q.between_years)) - 1)


#: Family → its road.
GROWTH_ROADS: dict[str, Road] = {
    "growth-by-the-same-tape": _same_tape,
    "growth-by-another-tape": _other_tape,
    "growth-from-another-height": _other_height,
    "least-growth-a-year": _least,
    "bark-came-off-in-between": _bark,
    "mean-growth-by-another-hand": _other_hand,
    "area-growth-a-year": _area,
}
