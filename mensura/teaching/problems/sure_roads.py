"""Roads of the problems of calibration, budget, coverage and choosing (see rounding_roads).

They are written with no call of what the families' answers call: sums, roots and the printed table
of Student's factor.
"""

from __future__ import annotations

from collections.abc import Callable
from math import floor, hypot, pi, sqrt
from typing import Any

#: A number on the way, as it is written down.
Write = Callable[[float], float]
Road = Callable[[Any, Write, Write], float]

#: Student's factor for 95 %, as the problem's text gives it, for 2, 3 … 7 degrees of freedom.
_STUDENT = (4.303, 3.182, 2.776, 2.571, 2.447, 2.365)


def _start(q: Any, w: Write, o: Write) -> float:
    rise = w((q.reading_2_cm - q.reading_1_cm) / 150)
    return float(q.reading_1_cm) - w(50 * rise)


def _stretch(q: Any, w: Write, o: Write) -> float:
    errors = [getattr(q, f"reading_{k}_cm") - 50 * k for k in range(1, 5)]
    weighed = w(75 * (errors[3] - errors[0]) + 25 * (errors[2] - errors[1]))
    return 100 * (1 / w(1 + w(weighed / 12500)) - 1)


def _correction(q: Any, w: Write, o: Write) -> float:
    grown = w(q.width_cm * q.u_scale_percent / 100)
    apart = w(q.u_start_cm**2 + grown**2)
    return sqrt(apart + w(2 * q.correlation * q.u_start_cm * grown))


def _surely_within(q: Any, w: Write, o: Write) -> float:
    return w(0.9 + 0.4 * -floor(-q.mark_m)) - w(2 * hypot(q.u_mean_mm, q.u_reference_mm))


def _parts(q: Any, w: Write, o: Write) -> float:
    step, of_card = w(q.resolution_cm / sqrt(12)), w(q.expanded_cm / 2)
    return sqrt(o(step**2) + o(q.hand_sd_cm**2) + o(of_card**2))


def _tilt(q: Any, w: Write, o: Write) -> float:
    bound = w(q.tilt_up_to_deg * pi / 180)
    return 10 * float(q.girth_cm) * w(bound**2 / 3) / 4


def _degrees(q: Any, w: Write, o: Write) -> float:
    mean, step = w(q.spread_cm / sqrt(q.reading_count)), w(q.resolution_cm / sqrt(12))
    together = w(hypot(mean, q.u_card_cm, step))
    below = o(mean**4 / (q.reading_count - 1)) + o(q.u_card_cm**4 / q.card_degrees)
    return o(together**4) / below


def _few(q: Any, w: Write, o: Write) -> float:
    # the table has four figures, and is no number of a hand's own
    return _STUDENT[round(q.reading_count) - 3] * w(q.spread_cm / sqrt(q.reading_count))


def _hour(q: Any, w: Write, o: Write) -> float:
    left = w(w(q.plot_min / q.stem_count) - q.way_min)
    whole = floor(w(left / q.reading_min))
    return w(q.caliper_spread_percent / sqrt(whole)) / sqrt(q.stem_count)


#: Family → its road.
SURE_ROADS: dict[str, Road] = {
    "start-from-two-marks": _start,
    "stretch-from-four-marks": _stretch,
    "doubt-of-a-correction": _correction,
    "surely-within-its-class": _surely_within,
    "parts-of-a-girth": _parts,
    "what-tilt-adds-on-average": _tilt,
    "degrees-of-freedom-together": _degrees,
    "interval-from-few-readings": _few,
    "an-hour-for-a-plot": _hour,
}
