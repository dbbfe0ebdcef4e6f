"""Roads of the problems of the field practical (see rounding_roads), by plain sums and roots."""

from __future__ import annotations

from math import sqrt
from typing import Any

from mensura.teaching.problems.sure_roads import Road, Write


def _pairs(q: Any, w: Write, o: Write) -> float:
    squares = w(sum(o(getattr(q, f"difference_{k}_cm") ** 2) for k in range(1, 5)))
    return sqrt(o(squares / 8))


def _another_hand(q: Any, w: Write, o: Write) -> float:
    between = w(o(q.means_sd_cm**2) - o(q.hand_sd_cm**2 / q.reading_count))
    return sqrt(o(between + o(q.hand_sd_cm**2)))


def _against(q: Any, w: Write, o: Write) -> float:
    agreed = sorted(getattr(q, f"reading_{k}_cm") for k in range(1, 6))[2]
    return o(100 * (q.reading_6_cm - agreed)) / float(agreed)


def _share_or_constant(q: Any, w: Write, o: Write) -> float:
    first, second = q.more_1_cm / q.girth_1_cm, q.more_2_cm / q.girth_2_cm
    share = max(first, second) / min(first, second)
    if share < max(q.more_1_cm, q.more_2_cm) / min(q.more_1_cm, q.more_2_cm):
        return o((w(100 * first) + w(100 * second)) / 2) * float(q.girth_3_cm) / 100
    return float(q.more_1_cm + q.more_2_cm) / 2


def _limits(q: Any, w: Write, o: Write) -> float:
    apart = [getattr(q, f"apart_{k}_cm") for k in range(1, 6)]
    mean = w(sum(apart) / 5)
    return mean + o(1.96 * w(sqrt(o(sum(o((one - mean) ** 2) for one in apart) / 4))))


def _singles(q: Any, w: Write, o: Write) -> float:
    missing = 1 - 1 / q.reading_count
    square = o(q.differences_sd_cm**2) + o(missing * q.tape_repeat_cm**2)
    return 1.96 * w(sqrt(o(square + o(q.caliper_repeat_cm**2 / 2))))


#: Family → its road.
PRACTICAL_ROADS: dict[str, Road] = {
    "repeatability-from-pairs": _pairs,
    "another-hand-reads": _another_hand,
    "against-the-others": _against,
    "share-or-constant": _share_or_constant,
    "limits-of-agreement": _limits,
    "limits-for-single-readings": _singles,
}
