"""How closely calipers read, where hands stood in many directions: stems' ovals fitted with it all.

On one stem a reading is: its level (stem and instrument), what the hand did there (its cell), the
stem's oval c·cos 2θ + s·sin 2θ, the same for all calipers, and an error. Two fits of least squares:

- cells and oval: what is left is repeatability, with as many degrees of freedom as readings less
  cells less what the oval took;
- levels and oval: what is left holds the hands' cells too.

The sum of squares of an instrument has, in the mean, the value that the projections give it from
every instrument's own variance, since all share the ovals; these few equations are solved. So no
oval's error is taken for a hand's. Moments of least squares, as in Henderson's third method
[Henderson1953], from memory. An oval of two ripples a round is an approximation: what a stem has
beyond it is in the repeatability.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, MeasureError, number
from mensura.estimates.cells import code_places
from mensura.estimates.readings import IntArray

#: An oval's part of which the readings tell less than this is not taken out of a reading.
_TOLD = 0.25


@dataclass(frozen=True)
class OvalSpreads:
    """Spreads of each instrument, ovals taken out.

    repeatability_cm, between_hands_cm: s_r and s_L of each instrument, nan where nothing tells;
    freedom: of s_r, readings less cells less what the ovals took; hands_freedom: cells less levels;
    round_cm: each reading less its stem's oval; stem_freedom: by stem and instrument, of s_r there.
    """

    repeatability_cm: FloatArray
    between_hands_cm: FloatArray
    freedom: FloatArray
    hands_freedom: IntArray
    round_cm: FloatArray
    stem_freedom: FloatArray


def oval_spreads(
    stem: ArrayLike,
    hand: ArrayLike,
    instrument: ArrayLike,
    direction_deg: ArrayLike,
    width_cm: ArrayLike,
) -> OvalSpreads:
    """Repeatability and the part between hands, of calipers read in any directions.

    stem, hand, instrument: whole numbers from 0, of each reading; direction_deg: along the beam;
    width_cm: as read, cm. Source: the module's opening. Raises MeasureError.

    >>> found = oval_spreads([0] * 6, [0, 0, 1, 1, 2, 2], [0] * 6, [0, 90] * 3,
    ...     [44.1, 40.0, 44.0, 40.3, 44.2, 40.0])
    >>> float(found.freedom[0].round(6)), float(found.repeatability_cm[0].round(4))
    (2.0, 0.1871)
    """
    width = np.atleast_1d(number(width_cm, "width_cm", "cm"))
    turn = np.radians(np.atleast_1d(number(direction_deg, "direction_deg", "deg")))
    if turn.shape != width.shape or not width.size:
        wanted = f"one for each reading, {width.size} of them, and one reading or more"
        raise MeasureError("direction_deg", int(turn.size), "", wanted)
    of_stem, of_hand = code_places(stem, "stem", width), code_places(hand, "hand", width)
    tool = code_places(instrument, "instrument", width)
    tools, stems = int(tool.max()) + 1, int(of_stem.max()) + 1
    level = of_stem * tools + tool
    _, cell = np.unique(level * (int(of_hand.max()) + 1) + of_hand, return_inverse=True)
    cell = cell.reshape(-1)
    ripples = np.stack([np.cos(2 * turn), np.sin(2 * turn)], axis=-1)
    away = width - width.mean()

    def over(values: Any, groups: IntArray, count: int) -> FloatArray:
        sums = [np.bincount(groups, each, count) for each in values.reshape(len(values), -1).T]
        return np.stack(sums, axis=-1, dtype=np.float64).reshape(count, *values.shape[1:])

    def less_means(values: FloatArray, groups: IntArray) -> FloatArray:
        size = np.bincount(groups).astype(np.float64)
        size = np.where(size > 0, size, 1.0).reshape(-1, *[1] * (values.ndim - 1))
        return np.asarray(values - (over(values, groups, len(size)) / size)[groups])

    def fit(groups: IntArray) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
        """Squares left of each instrument, the ovals' directions, their Grams, the shapes."""
        rows, values = less_means(ripples, groups), less_means(away, groups)
        gram = over(rows[:, :, None] * rows[:, None, :], of_stem, stems)
        sizes, ways = np.linalg.eigh(gram)
        root = np.where(sizes > 1e-9, 1 / np.sqrt(np.maximum(sizes, 1e-9)), 0.0)
        unit = np.einsum("ni,nij->nj", rows, (ways * root[:, None, :])[of_stem])
        seen = over(unit * values[:, None], of_stem, stems)
        left = values - (unit * seen[of_stem]).sum(axis=1)
        part = over(unit[:, :, None] * unit[:, None, :], level, stems * tools)
        known = np.where(sizes >= _TOLD, root, 0.0)
        shape = np.einsum("sij,sj,sj->si", ways, known, seen)
        return over(left**2, tool, tools), unit, part.reshape(stems, tools, 2, 2), shape

    def expected(part: FloatArray, plain: FloatArray) -> FloatArray:
        flat = part.transpose(1, 0, 2, 3).reshape(tools, -1)
        return np.asarray(np.diag(plain - 2 * _traces(part).sum(axis=0)) + flat @ flat.T)

    counts = np.bincount(cell)
    place = np.zeros(counts.size, dtype=np.int64)
    place[cell] = level
    readings = np.bincount(level, minlength=stems * tools).astype(np.float64)
    cells = np.bincount(place, minlength=stems * tools).astype(np.float64)
    free = (readings - cells).reshape(stems, tools)
    squares, _, part, shape = fit(cell)
    stem_freedom = np.maximum(free - _traces(part), 0.0)
    freedom = stem_freedom.sum(axis=0)
    within = _solved(expected(part, free.sum(axis=0)), squares, freedom)
    levels = (readings > 0).reshape(stems, tools).sum(axis=0)
    hands_freedom = (cells.reshape(stems, tools).sum(axis=0) - levels).astype(np.int64)
    squares, unit, part, _ = fit(level)
    sums = over(unit, cell, counts.size)
    held = over(sums[:, :, None] * sums[:, None, :], place, stems * tools)
    held = held.reshape(stems, tools, 2, 2)
    same = np.bincount(place, counts.astype(np.float64) ** 2, stems * tools)
    same = (readings - same / np.maximum(readings, 1)).reshape(stems, tools).sum(axis=0)
    count = readings.reshape(stems, tools).sum(axis=0) - levels
    of_error = expected(part, count) @ np.nan_to_num(within)
    flat, held_flat = (one.transpose(1, 0, 2, 3).reshape(tools, -1) for one in (part, held))
    of_hands = np.diag(same - 2 * _traces(held).sum(axis=0)) + flat @ held_flat.T
    between = _solved(of_hands, squares - of_error, np.where(np.isfinite(within), hands_freedom, 0))
    return OvalSpreads(
        np.sqrt(within),
        np.sqrt(np.maximum(between, 0.0)),
        freedom,
        hands_freedom,
        width - (ripples * shape[of_stem]).sum(axis=1),
        stem_freedom,
    )


def _traces(part: FloatArray) -> FloatArray:
    return np.asarray(part[..., 0, 0] + part[..., 1, 1])


def _solved(expected: FloatArray, squares: FloatArray, freedom: FloatArray) -> FloatArray:
    """Variances from the equations; each by itself where they give none, nan where nothing does."""
    found = np.full(squares.size, np.nan)
    told = np.flatnonzero(freedom > 0.5)
    if told.size:
        own = squares[told] / expected[np.ix_(told, told)].sum(axis=1)
        both = np.linalg.lstsq(expected[np.ix_(told, told)], squares[told], rcond=None)[0]
        found[told] = np.where((both < 0) & (own >= 0), own, both)
    return found
