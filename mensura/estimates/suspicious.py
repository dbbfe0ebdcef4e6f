"""Readings that look like slips, with the likely slip and what they would have been.

Nothing is changed here, and nothing is proved: a rule stands behind each flag, and people decide.
The rule. What a reading should be is what the others agree on: each hand with each instrument has
one voice on a stem, the median of its readings, and the stem's size is the median of the voices.
Girths and diameters are brought together by π and by the median of the quotient between them; what
a hand or an instrument reads high or low by throughout (at most 15 %, over five readings or more)
is taken off first, and so is what the calipers' other readings show in the same direction of the
same stem. A reading is suspicious if it lies over five spreads away and one of the slips below
would bring it back to within three and a half (six where a factor does). The spread is 1.4826 times
the median distance, which is the standard deviation of a normal scatter: of all readings of its
kind, of its hand's or of its stem's, whichever is largest, so that a hand that spreads is no heap
of slips. A stem on which fewer than two other readings agree, or not more than half of the voices,
is not judged.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from mensura.checks import FloatArray
from mensura.estimates.readings import IntArray, Readings

BoolArray = NDArray[np.bool_]

#: Every slip in plain words.
SLIPS = {
    "diameter-for-girth": "a diameter was written down as a girth",
    "girth-for-diameter": "a girth was written down as a diameter",
    "inches-for-cm": "inches and centimetres were taken for each other",
    "slipped-point": "the decimal point slipped",
    "swapped-figures": "two neighbouring figures changed places",
    "wrong-stem": "two readings were written down at each other's stem",
}

#: How far off, in spreads, a reading must lie, and how near a slip must bring it. What puts a
#: reading off by half of itself or more is known by its factor, and need not come as near.
FAR, NEAR, NEAR_BY_FACTOR = 5.0, 3.5, 6.0
#: What is taken for a hand's or an instrument's own bias; more is a slip made throughout.
MOST_BIAS = 0.15
#: The share of voices that must agree before kinds that lie apart are one instrument's slip.
LEAST_AGREEING = 0.6
#: A bias, a spread and a direction's width are made of so many readings at least.
LEAST_READINGS = 5
#: 1/Φ⁻¹(3/4): the median distance of a normal scatter times this is its standard deviation.
NORMAL = 1.4826
#: No spread is taken for smaller, in cm: readings are to the millimetre at best.
LEAST_SPREAD_CM = 0.1

#: What is read as nothing is taken for so much, in cm, so that it has a logarithm.
LEAST_CM = 1e-6

_ROUNDS = 4
#: Slips by a factor: of girths only, of diameters only, or of both; the factor that mends it.
_FACTORS: tuple[tuple[str, bool | None, float], ...] = (
    ("diameter-for-girth", True, np.pi),
    ("girth-for-diameter", False, 1 / np.pi),
    *(("inches-for-cm", None, by) for by in (2.54, 1 / 2.54)),
    *(("slipped-point", None, by) for by in (0.1, 10.0, 0.01, 100.0, 0.001, 1000.0)),
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
    whether enough others agree on its stem; usual_spread_cm: the median scatter of diameters and
    of girths; kinds_apart_percent: how much more a girth over π is than a diameter of the same
    stem, the median. Where that is over 15 %, one kind was written for the other by everybody, or
    in another unit, and which one cannot be told from the readings.
    """

    agreed_cm: FloatArray
    spread_cm: FloatArray
    judged: BoolArray
    usual_spread_cm: tuple[float, float]
    kinds_apart_percent: float


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
        found[index] = Flag(row, slip, *size, index, other)

    for first, second in _pairs(readings, fit, at):
        flag(first, "wrong-stem", float(read[second]), second)
        flag(second, "wrong-stem", float(read[first]), first)
    for index in at.tolist():
        if index not in found:
            slips = (*_by_factor(index, readings, fit), *_swapped(index, readings, fit, figures))
            if slips:  # the one that comes nearest; of two alike the one named first
                _, would_be, slip = min(slips, key=lambda one: one[0])
                flag(index, slip, would_be)
    return tuple(sorted(found.values(), key=lambda one: one.row))


def agreed(readings: Readings) -> Agreed:
    """What each reading should be by what the others agree on, and how far it may scatter.

    readings: of a class.
    """
    voice = _groups(
        readings.stem, readings.hand, readings.instrument, readings.girth.astype(np.int64)
    )
    heard = np.where(readings.girth, readings.reading_cm / np.pi, readings.reading_cm)
    size = np.log(np.maximum(heard, LEAST_CM))
    between = _between_kinds(size, voice, readings)
    if abs(between) <= MOST_BIAS:
        return _agreed(readings, size, voice, between)[0]
    # so far apart it is one instrument's slip if most voices agree without it, else everybody's
    fit, agreeing = _agreed(readings, size, voice, 0.0)
    return fit if agreeing >= LEAST_AGREEING else _agreed(readings, size, voice, between)[0]


def _agreed(
    readings: Readings, size: FloatArray, voice: IntArray, between: float
) -> tuple[Agreed, float]:
    """What is agreed on with the kinds so far apart, and the share of voices that do agree."""
    girth = readings.girth
    kind = girth.astype(np.int64)
    hand = _groups(readings.hand, kind)
    tool = _groups(readings.instrument, kind)
    told = ~girth & np.isfinite(readings.direction_deg)
    half_turns = np.where(told, np.round(np.nan_to_num(readings.direction_deg)) % 180, 180)
    width = _groups(readings.stem, half_turns.astype(np.int64))
    across = np.zeros(len(readings))  # what the stem is wider in this direction
    # and what the kind, the instrument and the hand read high by
    own = np.where(girth, between, 0.0)
    stem = _voices_median(size - own, voice, readings.stem)
    for _ in range(_ROUNDS):
        stem = _voices_median(size - own - across, voice, readings.stem)
        for group in (tool, hand):
            own = own + _bias(size - own - across - stem, group)
        across = np.where(told, _bias(size - own - stem, width), 0.0)
    fit = np.exp(stem + own + across) * np.where(girth, np.pi, 1.0)
    spread = _spread(readings.reading_cm - fit, fit, (kind, hand, _groups(readings.stem, kind)))
    near = np.abs(readings.reading_cm - fit) <= NEAR * spread
    agrees = np.bincount(voice, near) > 0.5 * np.bincount(voice)
    judged = _judged(near, agrees, voice, readings.stem)
    usual = [
        float(np.median(spread[girth == one])) if np.any(girth == one) else 0.0
        for one in (False, True)
    ]
    apart = float(100 * np.expm1(between))
    found = Agreed(fit, spread, judged, (usual[0], usual[1]), apart)
    return found, float(np.mean(agrees))


# ---- medians by group ----------------------------------------------------------------------------


def _groups(*columns: NDArray[np.int64]) -> IntArray:
    """The number of each reading's group: readings alike in all columns are one."""
    number = np.zeros(columns[0].size, dtype=np.int64)
    most = 1
    for column in columns:
        by = int(column.max()) + 1
        if most * by > 2**62:
            number = _numbered(number)
            most = number.size
        number = number * by + column
        most *= by
    return _numbered(number)


def _numbered(labels: IntArray) -> IntArray:
    """Each label's place among all that there are."""
    return np.unique(labels, return_inverse=True)[1].reshape(-1).astype(np.int64)


def _medians(values: FloatArray, group: IntArray) -> tuple[FloatArray, IntArray]:
    """The median and the count of each group, in order of their numbers.

    One sort of plain numbers, the group in front of the point and the value behind it, which is
    many times as fast as a sort by two keys and good to some 1e-10 of the values' range.
    """
    counts = np.bincount(group)
    least = float(np.min(values))
    scale = 2 * (float(np.max(values)) - least) or 1.0
    ordered = np.sort(group + (values - least) / scale)
    starts = np.cumsum(counts) - counts
    last = values.size - 1
    low = ordered[np.minimum(starts + np.maximum(counts - 1, 0) // 2, last)]
    high = ordered[np.minimum(starts + counts // 2, last)]
    middle = (low + high) / 2 - np.arange(counts.size)
    return least + scale * middle, counts


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
    return float(np.median(apart)) if apart.size >= LEAST_READINGS else 0.0


def _bias(rest: FloatArray, group: IntArray) -> FloatArray:
    """What each reading's group reads high or low by, as far as it is one."""
    middle, counts = _medians(rest, group)
    is_one = (counts >= LEAST_READINGS) & (np.abs(middle) <= MOST_BIAS)
    return np.asarray(np.where(is_one, middle, 0.0)[group], dtype=np.float64)


def _spread(off: FloatArray, fit: FloatArray, groups: Sequence[IntArray]) -> FloatArray:
    """1.4826 times the median distance, the largest that a reading's groups have.

    What is off by more than any hand reads is no scatter and does not count: a hand that wrote
    diameters all day still has a spread of its own.
    """
    away = np.abs(off)
    sound = away <= MOST_BIAS * fit
    spread = np.full(off.size, LEAST_SPREAD_CM)
    if not sound.any():
        return spread
    for group in groups:
        names, place = np.unique(group[sound], return_inverse=True)
        middle, counts = _medians(away[sound], place.reshape(-1).astype(np.int64))
        of_group = np.zeros(int(group.max()) + 1)
        of_group[names] = np.where(counts >= LEAST_READINGS, NORMAL * middle, 0.0)
        spread = np.maximum(spread, of_group[group])
    for one in np.unique(groups[0]):  # where it grows with size
        mine = groups[0] == one
        if np.any(mine & sound):
            share = float(np.median((away / fit)[mine & sound]))
            spread[mine] = np.maximum(spread[mine], NORMAL * share * fit[mine])
    return spread


def _judged(near: BoolArray, agrees: BoolArray, voice: IntArray, stem: IntArray) -> BoolArray:
    """Whether two other readings or more agree on a reading's stem, and over half of the voices."""
    stem_of = np.zeros(agrees.size, dtype=np.int64)
    stem_of[voice] = stem
    agreeing = np.bincount(stem_of, agrees)[stem]
    voices = np.bincount(stem_of)[stem]
    others = np.bincount(stem, near)[stem] - near
    return np.asarray((others >= 2) & (2 * agreeing > voices))


# ---- slips ---------------------------------------------------------------------------------------


def _by_factor(index: int, readings: Readings, fit: Agreed) -> list[tuple[float, float, str]]:
    """How far off, in spreads, what it would be in cm, and the slip, for each that fits."""
    girth = bool(readings.girth[index])
    read, should = float(readings.reading_cm[index]), float(fit.agreed_cm[index])
    found = []
    for slip, of_girths, by in _FACTORS:
        if of_girths is None or of_girths == girth:
            # a figure of the other kind brings that kind's spread with it
            other = fit.usual_spread_cm[int(not girth)] * by if of_girths is not None else 0.0
            off = abs(read * by - should) / max(float(fit.spread_cm[index]), other)
            if off <= NEAR_BY_FACTOR:
                found.append((off, read * by, slip))
    return found


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
) -> list[tuple[float, float, str]]:
    """The same for two neighbouring figures of the typed number changed.

    The unit is what makes the typed number the reading.
    """
    read, should = float(readings.reading_cm[index]), float(fit.agreed_cm[index])
    text = figures[index] if figures is not None else f"{read:.1f}"
    text = "0" + text.strip().lstrip("+").replace(",", ".")  # 40.2 turned is 04.2, written 4.2
    if not text.replace(".", "", 1).isdecimal() or not text.isascii() or float(text) == 0:
        return []
    unit_cm = read / float(text)
    found = []
    for one, two in pairwise(place for place, sign in enumerate(text) if sign != "."):
        if text[one] != text[two]:
            signs = list(text)
            signs[one], signs[two] = signs[two], signs[one]
            would_be = float("".join(signs)) * unit_cm
            off = abs(would_be - should) / float(fit.spread_cm[index])
            if off <= NEAR:
                found.append((off, would_be, "swapped-figures"))
    return found
