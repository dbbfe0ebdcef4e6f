"""How far each reading lies off what the others agree on, to be looked at beside a verdict.

Of a hand's reading the stem, its oval and what the instrument adds are taken away; of an
instrument's, the stem, its oval and what the hand adds. What is left is what the one in question
adds, with its scatter: level over the stems' sizes where that is a share of the reading, falling
with size where it is a constant.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.hand_cells import BoolArray
from mensura.estimates.hand_reference import against_others
from mensura.estimates.hand_verdict import HandsJudged, Judged, Matters
from mensura.estimates.readings import IntArray, Readings


@dataclass(frozen=True, eq=False)
class HandPoints:
    """One hand's readings of a kind, or one instrument's.

    judged: the verdict on it; is_hand: else an instrument; size_cm: diameter of each reading's
    stem; off_percent: of each reading, off what the others agree on; counts: whether a reading
    counts for anything, else it lies too far off; row: line of the file.
    """

    judged: Judged
    is_hand: bool
    size_cm: FloatArray
    off_percent: FloatArray
    counts: BoolArray
    row: IntArray


def hand_points(
    readings: Readings, judged: HandsJudged, matters: Matters | None = None
) -> tuple[HandPoints, ...]:
    """Points of every hand and kind, then of every instrument, in the order of the verdicts.

    readings: as they were judged; judged: the verdicts; matters: with which they were made, the
    defaults if None. Nothing where nothing was fitted.

    >>> from mensura.estimates.drawn_practical import faulty_practical
    >>> from mensura.estimates.hands import judge_hands
    >>> readings = faulty_practical(3).readings
    >>> hand = hand_points(readings, judge_hands(readings))[4]
    >>> hand.judged.name, hand.judged.kind, round(float(np.median(hand.off_percent)))
    ('Q03', 'girth', -2)
    """
    model = judged.model
    if model is None:
        return ()
    least = float(np.log1p((matters or Matters()).share_percent / 100))
    against = against_others(model, least)
    used = model.cells.used
    size = model.size_cm[readings.stem[used]]
    grows = model.mean_size_cm / size - 1
    hand, tool = model.columns
    found = []
    for at, one in enumerate(judged.hands + judged.instruments):
        is_hand = at < len(judged.hands)
        mine = np.flatnonzero(hand == at if is_hand else tool == at - len(judged.hands))
        off = model.residual[mine] + against.adds[at] + grows[mine] * against.slopes[at]
        found.append(
            HandPoints(
                one,
                is_hand,
                size[mine],
                100 * np.expm1(off),
                model.weight[mine] > 0,
                readings.row[used[mine]],
            )
        )
    return tuple(found)
