"""Tapes against calipers over a class: differences, their limits, what out-of-roundness explains.

All as diameters: a girth over π less what calipers read on the same stem, by the same hand where a
hand had both, else by whoever had them. Limits of agreement are no robust method: one slipped point
would make them ten times as wide. So readings that are flagged as likely slips are not among
these; and where hands or instruments are off, all is told once more without what they read.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from mensura.checks import FloatArray, MeasureError
from mensura.estimates.agreement import Agreement, difference_trend, limits_of_agreement
from mensura.estimates.cells import into_cells
from mensura.estimates.ovality_part import ovality_parts
from mensura.estimates.practical_parts import TapesAndCalipers
from mensura.estimates.readings import KINDS, IntArray, Readings

BoolArray = NDArray[np.bool_]

#: How a hand that is off with one kind is named.
WITH = {"girth": "with tapes", "diameter": "with calipers"}
#: A hand finds the second direction of a pair to so much, degrees.
SQUARE_TO_DEG = 10.0
BY_STEMS = (
    "Hardly any hand read stems with tape and calipers both: they are compared by stems, and hands "
    "are in the differences."
)
ONE_WAY = (
    "Calipers were read in one direction only: out-of-roundness stays in the limits of agreement."
)
FEW_STEMS = "Fewer than two stems have readings by tape and by calipers: they are not compared."


def tapes_and_calipers(
    readings: Readings,
    left_out: IntArray | None = None,
    hands_off: Collection[tuple[str, str]] = (),
    instruments_off: Collection[str] = (),
) -> tuple[TapesAndCalipers | None, tuple[str, ...]]:
    """Tapes against calipers, and what could not be done, a sentence each.

    readings: of a class; left_out: places of those that are flagged as slips; hands_off,
    instruments_off: whose verdict is off, a hand with its kind: all is worked out once more without
    them. None where a class had only one of them. Source: [BlandAltman1999], [BlandAltman2007].

    >>> from mensura.estimates.drawn_practical import drawn_practical
    >>> found, said = tapes_and_calipers(drawn_practical(7).readings)
    >>> found.single.spread_cm > found.pair.spread_cm, said
    (True, ())
    """
    good = np.isfinite(readings.reading_cm) & (readings.reading_cm > 0)
    tape, jaws = good & readings.girth, good & ~readings.girth
    if not tape.any() or not jaws.any():
        return None, ()
    if left_out is not None and left_out.size:
        tape[left_out] = False
        jaws[left_out] = False
    found, said = _compared(readings, tape, jaws)
    if found is None:
        return None, said
    sound, off = np.ones(len(readings), dtype=bool), []
    for name, kind in hands_off:
        if name in readings.hands:
            here = readings.hand == readings.hands.index(name)
            sound &= ~(here & (readings.girth == (kind == KINDS[0])))
            off.append(f"{name} {WITH[kind]}")
    for name in instruments_off:
        if name in readings.instruments:
            sound &= readings.instrument != readings.instruments.index(name)
            off.append(name)
    if off:
        left = None
        if (tape & sound).any() and (jaws & sound).any():
            left, _ = _compared(readings, tape & sound, jaws & sound)
        found = replace(found, off=tuple(off), sound=left)
    if _one_way(readings, np.flatnonzero(jaws)):
        said += (ONE_WAY,)
    return found, said


def _one_way(readings: Readings, jaws: IntArray) -> bool:
    """Whether each stem was read in one direction alone, as far as directions are told."""
    turn = readings.direction_deg[jaws]
    told = np.isfinite(turn)
    if not told.any():
        return False
    double = np.radians(2 * turn[told])
    _, home = np.unique(readings.stem[jaws[told]], return_inverse=True)
    home = home.reshape(-1)
    _, first = np.unique(home, return_index=True)
    away = np.cos(double - double[first][home])
    return bool(np.all(away >= np.cos(np.radians(2 * SQUARE_TO_DEG))))


def _compared(
    readings: Readings, tape: BoolArray, jaws: BoolArray
) -> tuple[TapesAndCalipers | None, tuple[str, ...]]:
    """Of those readings by tape and by calipers; some of either."""
    said: list[str] = []
    hand = readings.hand
    if _shared(readings.stem, hand, tape, jaws) < 2:
        hand = np.zeros_like(hand)
        said.append(BY_STEMS)
        if _shared(readings.stem, hand, tape, jaws) < 2:
            return None, (FEW_STEMS,)
    return _found(readings, hand, np.flatnonzero(tape), np.flatnonzero(jaws)), tuple(said)


def _shared(stem: IntArray, hand: IntArray, tape: BoolArray, jaws: BoolArray) -> int:
    """Stems on which some hand read with both."""
    width = int(hand.max()) + 1
    both = np.intersect1d(stem[tape] * width + hand[tape], stem[jaws] * width + hand[jaws])
    return int(np.unique(both // width).size)


def _found(readings: Readings, hand: IntArray, tape: IntArray, jaws: IntArray) -> TapesAndCalipers:
    stem, cm = readings.stem, readings.reading_cm
    first = into_cells(hand[tape], stem[tape], cm[tape] / np.pi)
    single = limits_of_agreement(first, into_cells(hand[jaws], stem[jaws], cm[jaws]))
    # the caliper readings of which the same hand has the girth
    width = int(hand.max()) + 1
    keys, mine = first.stem * width + first.hand, stem[jaws] * width + hand[jaws]
    order = np.argsort(keys)
    place = order[np.minimum(np.searchsorted(keys[order], mine), keys.size - 1)]
    met = keys[place] == mine
    girth_cm = first.mean_cm[place[met]]
    oval = ovality_parts(stem[jaws], readings.hand[jaws], readings.direction_deg[jaws], cm[jaws])
    figure = oval.figure_cm
    at = jaws[met]
    mean, apart = (girth_cm + cm[at]) / 2, girth_cm - cm[at]

    def against(where: IntArray, values: FloatArray) -> Agreement | None:
        try:
            return limits_of_agreement(first, into_cells(hand[where], stem[where], values))
        except MeasureError:
            return None

    known = np.isfinite(figure)
    pairs, pair_cm = _pairs(readings, jaws)
    return TapesAndCalipers(
        single,
        against(pairs, pair_cm) if pairs.size else None,
        difference_trend(stem[at], apart, mean),
        type(oval)(*(each[met] for each in _columns(oval))),
        against(jaws[known], (cm[jaws] + figure)[known]) if known.any() else None,
        tuple(readings.stems[one] for one in stem[at].tolist()),
        tuple(readings.hands[one] for one in readings.hand[at].tolist()),
        mean,
        apart,
        readings.direction_deg[at],
    )


def _columns(oval: object) -> list[FloatArray]:
    return [getattr(oval, name) for name in ("least_cm", "greatest_cm", "ellipse_cm", "known")]


def _pairs(readings: Readings, jaws: IntArray) -> tuple[IntArray, FloatArray]:
    """Means of two at right angles by one hand with one instrument: the first's place, and cm."""
    at = jaws[np.isfinite(readings.direction_deg[jaws])]
    if not at.size:
        return at, np.zeros(0)
    group = (readings.stem[at] * len(readings.hands) + readings.hand[at]) * len(
        readings.instruments
    ) + readings.instrument[at]
    _, begins, group = np.unique(group, return_index=True, return_inverse=True)
    group = group.reshape(-1)
    turn = readings.direction_deg[at]
    away = np.abs((turn - turn[begins][group]) % 180 - 90)  # 90 along the first, 0 across
    side = np.where(away >= 90 - SQUARE_TO_DEG, 0, np.where(away <= SQUARE_TO_DEG, 1, -1))
    some = np.flatnonzero(side >= 0)
    key = group[some] * 2 + side[some]
    order = np.argsort(key, kind="stable")
    starts = np.flatnonzero(np.diff(key[order], prepend=-1))
    sizes = np.diff(np.append(starts, order.size))
    rank = np.arange(order.size) - np.repeat(starts, sizes)
    some, one = some[order], key[order] % 2 == 0
    name = group[some] * (int(rank.max()) + 1) + rank
    _, low, high = np.intersect1d(name[one], name[~one], return_indices=True)
    low, high = at[some[one][low]], at[some[~one][high]]
    return low, (readings.reading_cm[low] + readings.reading_cm[high]) / 2
