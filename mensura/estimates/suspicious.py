"""Readings that look like slips, with the likely slip and what they would have been.

Nothing is changed here, and nothing is proved: a rule stands behind each flag, and people decide.
The rule. What a reading should be is what the others agree on: each hand with each instrument has
one voice on a stem, the median of its readings, and the stem's size is the median of the voices.
Girths and diameters are brought together by π and by the median of the quotient between them; what
a hand or an instrument reads high or low by throughout (at most 15 %, over five readings or more)
is taken off first, and so is what the calipers' other readings show in the same direction of the
same stem. A reading is suspicious if it lies over six spreads away and one of the slips below would
bring it back to within three. The spread is 1.4826 times the median distance (which is the standard
deviation of a normal scatter), of all readings of its kind, of its hand's or of its stem's,
whichever is largest, so that a hand that spreads is no heap of slips. A stem on which fewer than
two other voices agree, or not more than half of all, is not judged.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mensura.checks import FloatArray
from mensura.estimates.readings import IntArray, Readings

#: Every slip in plain words.
SLIPS = {
    "diameter-for-girth": "a diameter was written down as a girth",
    "girth-for-diameter": "a girth was written down as a diameter",
    "inches-for-cm": "inches and centimetres were taken for each other",
    "slipped-point": "the decimal point slipped",
    "swapped-figures": "two neighbouring figures changed places",
    "wrong-stem": "two readings were written down at each other's stem",
}

#: How far off, in spreads, a reading must lie, and how near a slip must bring it.
FAR, NEAR = 6.0, 3.0
#: What is taken for a hand's or an instrument's own bias; more is a slip made throughout.
MOST_BIAS = 0.15
#: A bias, a spread and a direction's width are made of so many readings at least.
LEAST_READINGS = 5
#: 1/Φ⁻¹(3/4): the median distance of a normal scatter times this is its standard deviation.
NORMAL = 1.4826
#: No spread is taken for smaller, in cm: readings are to the millimetre at best.
LEAST_SPREAD_CM = 0.1

_ROUNDS = 4
_SIMPLE = (
    ("diameter-for-girth", True, np.pi),
    ("girth-for-diameter", False, 1 / np.pi),
    *(("inches-for-cm", girth, by) for girth in (True, False) for by in (2.54, 1 / 2.54)),
    *(
        ("slipped-point", girth, by)
        for girth in (True, False)
        for by in (0.001, 0.01, 0.1, 10.0, 100.0, 1000.0)
    ),
)


@dataclass(frozen=True)
class Flag:
    """A reading that looks like a slip.

    row: line of the file; slip: one of SLIPS; reading_cm: as read; would_be_cm: what it would have
    been, of the same kind; agreed_cm: what the others' readings make of it; at: its place among the
    readings; partner_row: of a pair on the wrong stems, the other's line, else 0.
    """

    row: int
    slip: str
    reading_cm: float
    would_be_cm: float
    agreed_cm: float
    at: int
    partner_row: int = 0


@dataclass(frozen=True)
class Agreed:
    """What the readings should be by what the others agree on.

    agreed_cm: of each reading, of its own kind; spread_cm: the scatter that it may have; judged:
    whether enough others agree on its stem.
    """

    agreed_cm: FloatArray
    spread_cm: FloatArray
    judged: NDArray[np.bool_]


def suspicious(readings: Readings, figures: Sequence[str] | None = None) -> tuple[Flag, ...]:
    """The readings that look like slips, by row.

    readings: of a class; figures: of each, as it was typed in its own unit; without them they are
    taken as typed in cm to the millimetre. The rule stands at the head of this module; its numbers
    are ours.
    """
    if not len(readings):
        return ()
    fit = agreed(readings)
    read = readings.reading_cm
    off = np.abs(read - fit.agreed_cm)
    at = np.flatnonzero(fit.judged & (off > FAR * fit.spread_cm))
    found: dict[int, Flag] = {}

    def flag(index: int, slip: str, would_be_cm: float, partner: int = -1) -> None:
        row = int(readings.row[index])
        other = int(readings.row[partner]) if partner >= 0 else 0
        size = (float(read[index]), would_be_cm, float(fit.agreed_cm[index]))
        found.setdefault(index, Flag(row, slip, *size, index, other))

    for first, second in _pairs(readings, fit, at):
        flag(first, "wrong-stem", float(read[second]), second)
        flag(second, "wrong-stem", float(read[first]), first)
    for slip, girth, by in _SIMPLE:
        mine = at[readings.girth[at] == girth]
        # a figure that was read to its own spread is turned into the other kind with it
        wide = np.maximum(fit.spread_cm[mine], _of_other_kind(readings, fit, mine) * by)
        wide = np.where(by in (np.pi, 1 / np.pi), wide, fit.spread_cm[mine])
        good = np.abs(read[mine] * by - fit.agreed_cm[mine]) <= NEAR * wide
        for index in mine[good].tolist():
            flag(index, slip, float(read[index] * by))
    for index in at.tolist():
        if index not in found:
            would_be = _swapped(index, readings, fit, figures)
            if would_be is not None:
                flag(index, "swapped-figures", would_be)
    return tuple(sorted(found.values(), key=lambda one: one.row))


def agreed(readings: Readings) -> Agreed:
    """What each reading should be by what the others agree on, and how far it may scatter.

    readings: of a class.
    """
    count = len(readings)
    girth = readings.girth
    kind = girth.astype(np.int64)
    size = np.log(np.where(girth, readings.reading_cm / np.pi, readings.reading_cm))
    voice = _groups(readings.stem, readings.hand, readings.instrument, kind)
    hand = _groups(readings.hand, kind)
    tool = _groups(readings.instrument, kind)
    told = ~girth & np.isfinite(readings.direction_deg)
    half_turns = np.where(told, np.round(np.nan_to_num(readings.direction_deg)) % 180, 180)
    width = _groups(readings.stem, half_turns.astype(np.int64))
    across = np.zeros(count)  # what the stem is wider in this direction
    # and what the kind, the instrument and the hand read high by
    own = np.where(girth, _between_kinds(size, voice, readings), 0.0)
    for _ in range(_ROUNDS):
        stem = _voices_median(size - own - across, voice, readings.stem)
        for group in (tool, hand):
            own = own + _bias(size - own - across - stem, group)
        rest = size - own - stem
        across = np.where(told, _bias(rest, width), 0.0)
    fit = np.exp(stem + own + across) * np.where(girth, np.pi, 1.0)
    spread = _spread(readings.reading_cm - fit, fit, (kind, hand, _groups(readings.stem, kind)))
    near = np.abs(readings.reading_cm - fit) <= NEAR * spread
    return Agreed(fit, spread, _judged(near, voice, readings.stem))


# ---- medians by group ----------------------------------------------------------------------------


def _groups(*columns: NDArray[np.int64]) -> IntArray:
    """The number of each reading's group: readings alike in all columns are one."""
    number = np.zeros(columns[0].size, dtype=np.int64)
    for column in columns:
        number = number * (int(column.max()) + 1) + column
        number = np.unique(number, return_inverse=True)[1].reshape(-1).astype(np.int64)
    return number


def _medians(values: FloatArray, group: IntArray) -> tuple[FloatArray, IntArray]:
    """The median and the count of each group, in order of their numbers."""
    order = np.lexsort((values, group))
    counts = np.bincount(group)
    starts = np.cumsum(counts) - counts
    ordered = values[order]
    last = max(values.size - 1, 0)
    low = ordered[np.minimum(starts + (counts - 1) // 2, last)]
    high = ordered[np.minimum(starts + counts // 2, last)]
    return (low + high) / 2, counts


def _voices_median(values: FloatArray, voice: IntArray, stem: IntArray) -> FloatArray:
    """Of each reading's stem the median of its voices, each the median of its own readings."""
    heard, _ = _medians(values, voice)
    stem_of = np.zeros(heard.size, dtype=np.int64)
    stem_of[voice] = stem
    return _medians(heard, stem_of)[0][stem]


def _between_kinds(size: FloatArray, voice: IntArray, readings: Readings) -> float:
    """The logarithm of girth over π over diameter, the median over stems that have both."""
    heard, _ = _medians(size, voice)
    stem_of = np.zeros(heard.size, dtype=np.int64)
    girth_of = np.zeros(heard.size, dtype=np.bool_)
    stem_of[voice], girth_of[voice] = readings.stem, readings.girth
    sizes = []
    for which in (girth_of, ~girth_of):
        of_stem = np.full(len(readings.stems), np.nan)
        if which.any():
            names, place = np.unique(stem_of[which], return_inverse=True)
            of_stem[names] = _medians(heard[which], place.reshape(-1).astype(np.int64))[0]
        sizes.append(of_stem)
    apart = sizes[0] - sizes[1]
    apart = apart[np.isfinite(apart)]
    middle = float(np.median(apart)) if apart.size >= LEAST_READINGS else 0.0
    return middle if abs(middle) <= MOST_BIAS else 0.0


def _bias(rest: FloatArray, group: IntArray) -> FloatArray:
    """What each reading's group reads high or low by, as far as it is one."""
    middle, counts = _medians(rest, group)
    return np.where((counts >= LEAST_READINGS) & (np.abs(middle) <= MOST_BIAS), middle, 0.0)[group]


def _spread(off: FloatArray, fit: FloatArray, groups: Sequence[IntArray]) -> FloatArray:
    """1.4826 times the median distance, the largest that a reading's groups have."""
    away = np.abs(off)
    spread = np.full(off.size, LEAST_SPREAD_CM)
    for group in groups:
        middle, counts = _medians(away, group)
        spread = np.maximum(spread, np.where(counts >= LEAST_READINGS, NORMAL * middle, 0.0)[group])
    share, _ = _medians(away / fit, groups[0])  # where it grows with size
    return np.maximum(spread, NORMAL * share[groups[0]] * fit)


def _judged(near: NDArray[np.bool_], voice: IntArray, stem: IntArray) -> NDArray[np.bool_]:
    """Whether two voices or more besides its own agree on a reading's stem, over half of all."""
    agrees = np.bincount(voice, near) > 0.5 * np.bincount(voice)
    stem_of = np.zeros(agrees.size, dtype=np.int64)
    stem_of[voice] = stem
    agreeing = np.bincount(stem_of, agrees)[stem]
    voices = np.bincount(stem_of)[stem]
    return np.asarray((agreeing - agrees[voice] >= 2) & (2 * agreeing > voices))


# ---- slips ---------------------------------------------------------------------------------------


def _of_other_kind(readings: Readings, fit: Agreed, at: IntArray) -> FloatArray:
    """The spread that readings of the other kind have."""
    sizes = [
        float(np.median(fit.spread_cm[readings.girth == girth]))
        if np.any(readings.girth == girth)
        else LEAST_SPREAD_CM
        for girth in (True, False)
    ]
    return np.where(readings.girth[at], sizes[1], sizes[0])


def _pairs(readings: Readings, fit: Agreed, at: IntArray) -> list[tuple[int, int]]:
    """Suspicious readings of one hand with one instrument that fit each other's stem.

    Each looks for its nearest partner in the plane of (reading, what was agreed on), turned over;
    two that find each other are a pair.
    """
    if at.size < 2:
        return []
    from scipy.spatial import cKDTree

    wide = fit.spread_cm[at]
    read, should = readings.reading_cm[at], fit.agreed_cm[at]
    group = _groups(readings.hand, readings.instrument, readings.girth.astype(np.int64))[at]
    apart = 10.0 * (float(np.max(readings.reading_cm)) + float(np.max(should)))
    tree = cKDTree(np.column_stack((read, should, apart * group)))
    _, other = tree.query(np.column_stack((should, read, apart * group)))
    other = np.asarray(other, dtype=np.int64)
    here = np.arange(at.size)
    mutual = (other[other] == here) & (here < other)
    mutual &= group == group[other]
    mutual &= readings.stem[at] != readings.stem[at[other]]
    mutual &= np.abs(read[other] - should) <= NEAR * wide
    mutual &= np.abs(read - should[other]) <= NEAR * wide[other]
    return [(int(at[one]), int(at[other[one]])) for one in np.flatnonzero(mutual)]


def _swapped(
    index: int, readings: Readings, fit: Agreed, figures: Sequence[str] | None
) -> float | None:
    """The reading, in cm, with two neighbouring figures changed that comes nearest; None if none.

    The unit is what makes the typed figure the reading.
    """
    read = float(readings.reading_cm[index])
    text = figures[index] if figures is not None else f"{read:.1f}"
    text = text.strip().lstrip("+").replace(",", ".")
    digits = [place for place, sign in enumerate(text) if sign.isdigit()]
    if not digits or not text.replace(".", "", 1).isdigit() or float(text) == 0:
        return None
    unit_cm = read / float(text)
    best: float | None = None
    for one, two in zip(digits, digits[1:], strict=False):
        if text[one] != text[two]:
            signs = list(text)
            signs[one], signs[two] = signs[two], signs[one]
            turned = float("".join(signs)) * unit_cm
            off = abs(turned - fit.agreed_cm[index])
            if off <= NEAR * fit.spread_cm[index] and (
                best is None or off < abs(best - fit.agreed_cm[index])
            ):
                best = turned
    return best
