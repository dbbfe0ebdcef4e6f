"""Which cell of a table of hands and stems stands out, by the tests that ISO 5725-2 names.

Two questions on each stem. Does one hand's repeats scatter more than the others' (Cochran)? Is one
hand's mean, or are two on the same side, far from the others' (Grubbs)? What chance alone gives in
less than five of a hundred stems is a *straggler*, in less than one an *outlier*; so of a hundred
sound stems some five show a straggler. Mandel's h and k say the same of each cell without deciding:
h, how far a hand's mean lies from the others', in their standard deviations; k, how much its
repeats scatter beside all hands'.

Cochran's and Grubbs's critical values add up the chances of the single cells. Cells with unequal
numbers of repeats are each held against their own; ISO 5725-2 takes the number that most of them
have, which is the same where they all have it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mensura.checks import FloatArray, number
from mensura.estimates.cells import Cells
from mensura.estimates.critical_values import (
    LARGEST_PAIR,
    OUTLIER,
    STRAGGLER,
    cochran_critical,
    double_grubbs_critical,
    grubbs_critical,
    mandel_h_critical,
    mandel_k_critical,
)
from mensura.estimates.readings import IntArray

#: What a cell can be, and by which test.
MARKS = ("sound", "straggler", "outlier")
TESTS = ("none", "Cochran", "Grubbs", "Grubbs for two")


@dataclass(frozen=True)
class Mandel:
    """Mandel's h and k of each cell; nan where they cannot be worked out.

    h, k: the statistics; h_straggler, h_outlier, k_straggler, k_outlier: the critical values for
    five and one of a hundred, for as many hands and repeats as this cell has beside it.
    """

    h: FloatArray
    k: FloatArray
    h_straggler: FloatArray
    h_outlier: FloatArray
    k_straggler: FloatArray
    k_outlier: FloatArray


def mandel_statistics(table: Cells) -> Mandel:
    """Mandel's h and k of every cell, all stems at once.

    table: of :func:`into_cells`. h = (y − ȳ)/s of the hands' means on the stem; k = s_i/√(Σs²/p).
    Source: [ISO5725, clause 7.3.1], formulas from memory.

    >>> from mensura.estimates.cells import into_cells
    >>> table = into_cells([0, 0, 1, 1, 2, 2], [0] * 6, [9.0, 11, 10, 12, 14, 18])
    >>> three = mandel_statistics(table)
    >>> three.h.round(3).tolist(), three.k.round(3).tolist()
    ([-0.726, -0.415, 1.141], [0.707, 0.707, 1.414])
    """
    p, away, spread = _means(table)
    variance, repeated, several = _variances(table)
    with np.errstate(invalid="ignore", divide="ignore"):
        h = np.where(p[table.stem] >= 3, away / spread[table.stem], np.nan)
        whole_ = table.over_stems(np.where(repeated, variance, 0.0)) / several
        k = np.where(repeated, np.sqrt(variance / whole_[table.stem]), np.nan)
    k = np.where(several[table.stem] >= 2, k, np.nan)
    hs = [_each(mandel_h_critical, p[table.stem], None, 3, chance) for chance in _LEVELS]
    ks = [
        _each(mandel_k_critical, several[table.stem], table.count, 2, chance) for chance in _LEVELS
    ]
    return Mandel(h, k, hs[0], hs[1], ks[0], ks[1])


@dataclass(frozen=True)
class Outliers:
    """What the tests say of each cell.

    mark: place in MARKS; test: place in TESTS, by which it was marked; statistic: of that test,
    nan for a sound cell; critical: the value it passed.
    """

    mark: IntArray
    test: IntArray
    statistic: FloatArray
    critical: FloatArray

    @property
    def outlying(self) -> NDArray[np.bool_]:
        """For each cell, whether it is an outlier."""
        return np.asarray(self.mark == 2)


def mark_outliers(table: Cells, step_cm: float = 0.0) -> Outliers:
    """Stragglers and outliers among the cells, all stems at once.

    table: of :func:`into_cells`; step_cm: step of the readings, cm: what one step explains is never
    marked, as repeats that mostly fall on one figure would make an outlier of a single step; and a
    rounding's variance, step²/12, is added to each, as two equal means beside a third always lie as
    far apart as Grubbs's statistic goes (ours, no source). In the order of ISO 5725-2: Cochran, an
    outlier set aside and the rest tried again; then Grubbs for one of the means that are left,
    either side, and only where it finds no outlier, for two on one side. Nothing is taken out: that
    is for who reads it to decide. Source: [ISO5725, clause 7.3.4], from memory. Raises
    MeasureError.

    >>> from mensura.estimates.cells import into_cells
    >>> read = [9.01, 9.11, 9.04, 9.2, 9.14, 8.99, 8.95, 9.12, 9.21, 9.08, 9.02, 12.0]
    >>> found = mark_outliers(into_cells([0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5], [0] * 12, read))
    >>> found.outlying.tolist(), TESTS[found.test[5]]
    ([False, False, False, False, False, True], 'Cochran')
    """
    step = float(number(step_cm, "step_cm", "cm", at_least=0.0))
    size = table.count.size
    mark, test = np.zeros(size, dtype=np.int64), np.zeros(size, dtype=np.int64)
    statistic, critical = np.full(size, np.nan), np.full(size, np.nan)
    kept_cells = np.ones(size, dtype=bool)
    # each round sets aside one cell of every stem that still has an outlier
    while _cochran(table, step, kept_cells, mark, test, statistic, critical):
        pass
    _grubbs(table, step, kept_cells, mark, test, statistic, critical)
    return Outliers(mark, test, statistic, critical)


_LEVELS = (STRAGGLER, OUTLIER)


def _cochran(
    table: Cells, step: float, stays: NDArray[np.bool_], mark: IntArray, test: IntArray,
    statistic: FloatArray, critical: FloatArray,
) -> bool:  # fmt: skip
    """One round on every stem; whether an outlier was found, and set aside."""
    from scipy.special import betainc

    variance, repeated, several = _variances(table, stays)
    free = np.where(repeated, table.count - 1.0, 0.0)
    squares = np.where(repeated, table.squares_cm2 + free * step**2 / 12, 0.0)
    with np.errstate(invalid="ignore", divide="ignore"):
        share = squares / table.over_stems(squares)[table.stem]
        others = table.over_stems(free)[table.stem] - free
        tried = repeated & (several[table.stem] >= 2) & (share > 0)
        chance = np.where(
            tried,
            several[table.stem]
            * betainc(np.maximum(others, 1) / 2, np.maximum(free, 1) / 2, 1 - share),
            np.inf,
        )
        # two repeats one step apart have the variance step²/2
        chance[~(variance > 0.5 * (step * 1.0001) ** 2)] = np.inf
        rough = np.where(repeated, variance + step**2 / 12, 0.0)
        c = rough / table.over_stems(rough)[table.stem]
    first = _first_of_stems(table, chance)
    limits = [
        _each(cochran_critical, several[table.stem], table.count, 2, level) for level in _LEVELS
    ]
    found = False
    for cell in first[chance[first] < STRAGGLER]:
        out = bool(chance[cell] < OUTLIER)
        mark[cell], test[cell] = 2 if out else 1, 1
        statistic[cell], critical[cell] = c[cell], limits[int(out)][cell]
        stays[cell] &= not out
        found |= out
    return found


def _grubbs(
    table: Cells, step: float, stays: NDArray[np.bool_], mark: IntArray, test: IntArray,
    statistic: FloatArray, critical: FloatArray,
) -> None:  # fmt: skip
    p, away, spread = _means(table, stays)
    varied = spread[table.stem] > 0
    spread = np.hypot(spread, step / np.sqrt(12))
    with np.errstate(invalid="ignore", divide="ignore"):
        g = np.where(stays & (p[table.stem] >= 3), np.abs(away) / spread[table.stem], np.nan)
    g = np.where(np.abs(away) > 1.0001 * step, np.nan_to_num(g, nan=-1.0), -1.0)
    limits = [_each(grubbs_critical, p[table.stem], None, 3, level) for level in _LEVELS]
    first = _first_of_stems(table, -g)
    ones = first[g[first] > limits[0][first]]
    for cell in ones:
        out = bool(g[cell] > limits[1][cell])
        if mark[cell] < 1 + out:
            mark[cell], test[cell] = 1 + out, 2
            statistic[cell], critical[cell] = g[cell], limits[int(out)][cell]
    settled = np.zeros(table.stems, dtype=bool)
    settled[table.stem[ones[g[ones] > limits[1][ones]]]] = True
    tried = (
        stays
        & (p[table.stem] >= 4)
        & (p[table.stem] <= LARGEST_PAIR)
        & ~settled[table.stem]
        & varied
    )
    for pair, ratio, count in _pairs(table, tried, away):
        straggler, outlier = double_grubbs_critical(count), double_grubbs_critical(count, OUTLIER)
        if ratio < straggler and np.all(np.abs(away[pair]) > 1.0001 * step):
            out = bool(ratio < outlier)
            for cell in pair:
                if mark[cell] < 1 + out:
                    mark[cell], test[cell] = 1 + out, 3
                    statistic[cell], critical[cell] = ratio, outlier if out else straggler


def _pairs(
    table: Cells, tried: NDArray[np.bool_], away: FloatArray
) -> list[tuple[IntArray, float, int]]:
    """The two lowest and the two highest of every stem: cells, squares left, how many there are."""
    inside = np.flatnonzero(tried)
    if not inside.size:
        return []
    order = inside[np.lexsort((away[inside], table.stem[inside]))]
    starts = np.flatnonzero(np.diff(table.stem[order], prepend=-1))
    ends = np.append(starts[1:], order.size)
    values = away[order]
    sums = np.concatenate([[0.0], np.cumsum(values)])
    squares = np.concatenate([[0.0], np.cumsum(values**2)])

    def about(low: IntArray, high: IntArray) -> FloatArray:
        total = sums[high] - sums[low]
        return np.asarray(squares[high] - squares[low] - total**2 / (high - low))

    whole_ = about(starts, ends)
    found = []
    for pairs, left in (
        (np.stack([ends - 2, ends - 1]), about(starts, ends - 2)),
        (np.stack([starts, starts + 1]), about(starts + 2, ends)),
    ):
        for place in range(starts.size):
            count = int(ends[place] - starts[place])
            found.append((order[pairs[:, place]], float(left[place] / whole_[place]), count))
    return found


def _means(table: Cells, stays: NDArray[np.bool_] | None = None) -> tuple[IntArray, Any, Any]:
    """Hands on each stem, each cell's mean less that of the hands there, and their deviation."""
    inside = np.ones(table.count.size, dtype=bool) if stays is None else stays
    p = np.bincount(table.stem[inside], minlength=table.stems)
    away = np.where(inside, table.mean_cm - table.mean_cm.mean(), 0.0)
    with np.errstate(invalid="ignore", divide="ignore"):
        away = away - (table.over_stems(away) / p)[table.stem]
        spread = np.sqrt(table.over_stems(np.where(inside, away**2, 0.0)) / (p - 1))
    return p, away, spread


def _variances(
    table: Cells, stays: NDArray[np.bool_] | None = None
) -> tuple[FloatArray, NDArray[np.bool_], IntArray]:
    """Variance of each cell, whether it has one, and how many cells of each stem have."""
    repeated = table.count > 1
    if stays is not None:
        repeated &= stays
    variance = np.where(repeated, table.squares_cm2 / np.maximum(table.count - 1, 1), np.nan)
    return variance, repeated, np.bincount(table.stem[repeated], minlength=table.stems)


def _first_of_stems(table: Cells, key: FloatArray) -> IntArray:
    """The cell with the least key on each stem that has cells."""
    order = np.lexsort((key, table.stem))
    return order[np.flatnonzero(np.diff(table.stem[order], prepend=-1))]


def _each(
    critical: Any, hands: IntArray, repeats: IntArray | None, least: int, chance: float
) -> FloatArray:
    """Critical values for each cell, nan where there are too few; each pair worked out once."""
    given = hands if repeats is None else hands * (1 + int(repeats.max())) + repeats
    _, first, back = np.unique(given, return_index=True, return_inverse=True)
    values = np.full(first.size, np.nan)
    able = hands[first] >= least
    if repeats is None:
        values[able] = critical(hands[first][able], chance)
    else:
        able &= repeats[first] >= 2
        values[able] = critical(hands[first][able], repeats[first][able], chance)
    return np.asarray(values[back.reshape(-1)], dtype=np.float64)
