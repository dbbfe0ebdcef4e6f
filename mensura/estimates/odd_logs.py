"""Readings along a log that look like a slip: a unit mistaken, a log the wrong way round.

A stem is hardly thicker further up, no reading is three times those beside it, and few logs are
thicker than a man is tall. What is against that may still be true, so it is told and never changed.
All bounds are our own; common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.log_points import LogPoints

#: So many times the readings beside it is one reading in another unit.
_TIMES = 3.0
#: At an end, where there is one neighbour only, the stem must also change faster than this.
_END_CM_PER_M = 10.0
#: By so much a stem may swell from point to point.
_SWELLS = 1.1
#: A log in the middle of its points: thicker, and in mm perhaps; a log all thinner, and in m.
_THICK_CM, _THIN_CM = 150.0, 3.0
#: From such a length on, hardly a log gets thinner so fast.
_LONG_M, _STEEP_CM_PER_M = 3.0, 5.0
#: Bark of so much of the diameter, both sides together.
_BARK_SHARE = 0.3


@dataclass(frozen=True)
class OddPoint:
    """A point of a log at which something looks like a slip.

    place: of the point in its log; kind: large, small, rises, grows, thick, thin, steep or bark;
    times: how many times what is beside it, for large and small, else 0.
    """

    place: int
    kind: str
    times: float = 0.0


def odd_points(points: LogPoints) -> list[OddPoint]:
    """What looks like a slip in a log, by its points; none in most.

    points: of the log. large, small: three times the readings beside it or more, or as much less;
    rises: more than a tenth thicker than the point before; grows: the whole log is, from its first
    point to its last (told at the last); thick, thin: the whole log above 150 cm, or below 3;
    steep: above 5 cm of diameter on each metre, over 3 m or more; bark: above three tenths of the
    diameter. A whole log is told as thick, thin or steep only where no reading is large or small.

    >>> odd_points(LogPoints("L1", (0, 2.5, 5), (145, 1393, 124), True))[0].kind
    'large'
    >>> odd_points(LogPoints("L1", (0, 2.5, 5), (145, 133, 124), True))
    []
    """
    across = points.diameter_cm
    found = _beside(across, np.asarray(points.at_m, dtype=np.float64))
    slips = {one.place for one in found}
    left = [at for at in range(across.size) if at not in slips]
    if len(left) > 1:
        found += _rising(across, left)
    if not slips:
        found += _whole(across, points.length_m, alone=not found)
    if points.bark_cm is not None:
        bark = 2 * np.asarray(points.bark_cm)
        found += [
            OddPoint(at, "bark") for at in np.flatnonzero(bark > _BARK_SHARE * across).tolist()
        ]
    return found


def _beside(across: FloatArray, at_m: FloatArray) -> list[OddPoint]:
    """Points that are far from those beside them."""
    last = across.size - 1
    large: dict[int, float] = {}
    small: dict[int, float] = {}
    for at in range(last + 1):
        beside = [one for one in (at - 1, at + 1) if 0 <= one <= last]
        near = across[beside]
        here = float(across[at])
        if not (here > 0 and near.max() > 0):
            continue
        if len(beside) == 1:
            run = abs(float(at_m[at] - at_m[beside[0]]))
            if abs(here - float(near[0])) <= _END_CM_PER_M * run:
                continue
        if here >= _TIMES * near.max():
            large[at] = here / float(near[near > 0].mean())
        elif near.min() >= _TIMES * here:
            small[at] = float(near.mean()) / here
    # beside a reading that is too large every other looks too small, and the other way round: one
    # that differs from both its neighbours says more than an end, which has one
    for at in [one for one in small if 0 < one < last]:
        for end in {at - 1, at + 1} & {0, last}:
            large.pop(end, None)
    kept = {at: times for at, times in small.items() if not {at - 1, at + 1} & set(large)}
    return [
        *(OddPoint(at, "large", times) for at, times in large.items()),
        *(OddPoint(at, "small", times) for at, times in kept.items()),
    ]


def _rising(across: FloatArray, left: list[int]) -> list[OddPoint]:
    """Where a log gets thicker, among its points that are not told already."""
    if across[left[-1]] > _SWELLS * across[left[0]]:
        return [OddPoint(left[-1], "grows")]
    return [
        OddPoint(high, "rises")
        for low, high in pairwise(left)
        if across[high] > _SWELLS * across[low]
    ]


def _whole(across: FloatArray, length_m: float, alone: bool) -> list[OddPoint]:
    """What a log is as a whole; steep only if that is alone, since where it rises is told."""
    thickest = int(np.argmax(across))
    if float(np.median(across)) > _THICK_CM:
        return [OddPoint(thickest, "thick")]
    if across.max() < _THIN_CM:
        return [OddPoint(thickest, "thin")]
    if alone and length_m >= _LONG_M and float(np.ptp(across)) > _STEEP_CM_PER_M * length_m:
        return [OddPoint(thickest, "steep")]
    return []
