"""Likely slips in a check: figures that no tape gives, but a tired hand at a keyboard does.

Nothing is changed and nothing left out: what looks like a slip is named, with what it may have been
meant to be, and somebody looks at the sheet again. Four rules, all common practice without a source
but the Student test of a reading against the line of the others (textbooks, from memory):

- A reading that is eight to twelve and a half times its reference, or as many times less.
- One reading far off the line of all the others: beyond Student's limit for two in ten thousand
  checks, shared among its readings, and by five steps and a thousandth of its reference at least.
- A stretch (calipers: scale) beyond ±5 %, where over the range of the marks that is more than ten
  times the readings' spread.
- Readings that are all whole tens (four unlike ones or more) or whole fives (six), while most
  references are not: the columns look swapped.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray
from mensura.instruments.line_fit import fit_line

#: How often drawn checks may be told of a far reading by chance.
CHANCE = 2e-4
#: A stretch or scale beyond this is no tape's.
MOST_PERCENT = 5.0
#: About ten times as large, or as small.
TENFOLD = (8.0, 12.5)

SHIFTED = "mm typed as cm, or a point left out"
SHRUNK = "a point one place too far to the left"
SWAPPED = "reference and reading in each other's place"
TURNED = "two figures in each other's place"
UNITS = "another unit than cm, or columns in each other's place"


@dataclass(frozen=True)
class LikelySlip:
    """What looks like a slip.

    place: of the reading, from 0, None for all of them; column: reference_cm, reading_cm, or both
    where it concerns the pair; value_cm: what stands there, None for all; expected_cm: what the
    line of the others has there, None where that was not asked; slip: the likely one, in words, ""
    where none would do; would_be_cm: what would have been meant, None if that is not known.
    """

    place: int | None
    column: str
    value_cm: float | None
    expected_cm: float | None
    slip: str
    would_be_cm: float | None


def likely_slips(
    reference_cm: ArrayLike, reading_cm: ArrayLike, resolution_cm: float = 0.0, kind: str = "tape"
) -> tuple[LikelySlip, ...]:
    """What looks like slips in a check; most often nothing.

    reference_cm, reading_cm: one for one, cm, two places or more; resolution_cm: step of the
    readings, 0 for none; kind: tape or calipers.

    >>> found = likely_slips([40, 70, 100, 130, 160], [40.2, 70.1, 1006, 129.6, 159.4], 0.1)
    >>> [(one.place, one.slip, one.would_be_cm) for one in found]
    [(2, 'mm typed as cm, or a point left out', 100.6)]
    """
    true, read = np.asarray(reference_cm, float), np.asarray(reading_cm, float)
    tenfold = tuple(_tenfold(true, read))
    if tenfold:
        return tenfold
    place = int(far_reading(true, read, resolution_cm))
    if place >= 0:
        return (_far(true, read, place, resolution_cm),)
    if _swapped(true, read):
        return (LikelySlip(None, "reference_cm, reading_cm", None, None, SWAPPED, None),)
    line = fit_line(true, read, resolution_cm)
    if not line.rise > 0:
        return ()
    percent = 100 * (1 / line.rise - 1) if kind == "tape" else 100 * (line.rise - 1)
    over_cm = abs(line.rise - 1) * np.ptp(true)
    if abs(percent) > MOST_PERCENT and over_cm > 10 * max(float(line.taken_cm), resolution_cm):
        return (LikelySlip(None, "reading_cm", None, None, UNITS, None),)
    return ()


def far_reading(true_cm: ArrayLike, read_cm: ArrayLike, resolution_cm: float = 0.0) -> Any:
    """The place of the reading that lies far off the line of all the others, −1 for none.

    true_cm: shape (n,), cm; read_cm: shape (..., n), of many tapes at once, cm; resolution_cm: step
    of the readings. Student's test, with n − 3 degrees of freedom: textbooks, from memory.
    """
    from scipy.special import stdtrit

    true, read = np.asarray(true_cm, float), np.asarray(read_cm, float)
    many = true.size
    nowhere = np.full(read.shape[:-1], -1)
    if many < 4:
        return nowhere[()]
    line, off = fit_line(true, read), true - true.mean()
    left = read - np.multiply.outer(line.rise, true) - np.asarray(line.start_cm)[..., None]
    # what a reading counts in its own line; 1 where no other line is left without it
    own = 1 - 1 / many - off**2 / (off**2).sum()
    alone = own > 1e-9
    own = np.where(alone, own, 1.0)
    without = np.square(left).sum(axis=-1, keepdims=True) - np.square(left) / own
    spread = np.sqrt(np.maximum(without / (many - 3), resolution_cm**2 / 12))
    limit = float(stdtrit(many - 3, 1 - CHANCE / many / 2))
    by_cm = np.abs(left) / own
    far = alone & (np.abs(left) > limit * spread * np.sqrt(own))
    far &= by_cm > 5 * resolution_cm + 1e-3 * true
    worst = np.where(far, by_cm, -1.0).argmax(axis=-1)
    return np.where(far.any(axis=-1), worst, nowhere)[()]


def _tenfold(true: FloatArray, read: FloatArray) -> Iterator[LikelySlip]:
    ratio, (low, high) = read / true, TENFOLD
    for sort, slip, factor in (
        ((ratio >= low) & (ratio <= high), SHIFTED, 0.1),
        ((ratio >= 1 / high) & (ratio <= 1 / low), SHRUNK, 10.0),
    ):
        if sort.all():
            yield LikelySlip(None, "reading_cm", None, None, slip, None)
        else:
            for place in np.flatnonzero(sort).tolist():
                here, told = float(true[place]), float(read[place])
                meant = round(here / factor, 9)
                if np.any(np.delete(true, place) == meant):
                    other = SHRUNK if slip == SHIFTED else SHIFTED
                    yield LikelySlip(place, "reference_cm", here, None, other, meant)
                else:
                    would = round(factor * told, 9)
                    yield LikelySlip(place, "reading_cm", told, None, slip, would)


def _far(true: FloatArray, read: FloatArray, place: int, step: float) -> LikelySlip:
    """What a far reading, or its reference, may have been meant to be."""
    others = np.arange(true.size) != place
    line = fit_line(true[others], read[others], step)
    here, told = float(true[place]), float(read[place])
    off = abs(told - line.rise * here - line.start_cm)
    best = LikelySlip(place, "reading_cm", told, line.rise * here + line.start_cm, "", None)
    # as near to the line as the others are, or all but so
    least = min(0.1 * off, 6 * max(float(line.taken_cm), 1e-3 * off))
    for column, value, slip, would in _meant(here, told):
        at, reading = (would, told) if column == "reference_cm" else (here, would)
        if slip == SWAPPED:
            at, reading = told, here
        left = abs(reading - line.rise * at - line.start_cm)
        # a reference that would be one of the others' is the likelier slip
        left *= 0.5 if column == "reference_cm" and np.any(true[others] == would) else 1.0
        if would > 0 and left < least:
            least = left
            best = LikelySlip(place, column, value, best.expected_cm, slip, round(would, 9))
    return best


def _meant(here: float, told: float) -> Iterator[tuple[str, float, str, float]]:
    for column, value in (("reading_cm", told), ("reference_cm", here)):
        yield column, value, SHIFTED, value / 10
        yield column, value, SHRUNK, 10 * value
        for by in (100.0, 10.0):
            yield column, value, f"{by:g} cm miscounted", value - by
            yield column, value, f"{by:g} cm miscounted", value + by
        figures = f"{value:g}"
        for first in range(len(figures) - 1):
            pair = figures[first : first + 2]
            if pair.isdigit():
                turned = figures[:first] + pair[::-1] + figures[first + 2 :]
                yield column, value, TURNED, float(turned)
    yield "reading_cm", told, SWAPPED, here


def _swapped(true: FloatArray, read: FloatArray) -> bool:
    for whole, unlike in ((10.0, 4), (5.0, 6)):
        round_read = np.all(read % whole == 0) and np.unique(read).size >= unlike
        if round_read and np.mean(true % whole != 0) > 0.5:
            return True
    return False
