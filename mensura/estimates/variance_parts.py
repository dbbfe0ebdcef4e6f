"""A variance taken apart: how much of it lies between groups, and how much within them.

Sums of squares are set equal to what they would be on average (analysis of variance): without bias
whatever the distribution, and below nought by chance where there is little between the groups,
which is reported as it is. Groups may be unequal. For one grouping there is the restricted
likelihood beside it, which for equal groups gives the same unless that is below nought.

- one way: E(MSB) = σ² + n₀σ_b², n₀ = (N − Σn²/N)/(k − 1);
- nested (repeats within hands within stems), with the sums of each stage in turn;
- crossed (every hand reads the stems, once each or not at all), by fitting stems and hands as
  constants, each after the other: Henderson's third method [Henderson1953], from memory. For a
  full table this is the analysis of variance of the textbooks.

Variances are in cm², or in the square of whatever unit the readings come in.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mensura.checks import FloatArray, MeasureError, number
from mensura.estimates.cells import code_places, into_cells
from mensura.estimates.readings import IntArray

BoolArray = NDArray[np.bool_]

#: So many hands, or stems where they are fewer, are solved for at once.
MOST_AT_ONCE = 3000
#: Tables of so many cells, empty ones with them, are filled; larger ones keep what is there.
_MOST_FILLED = 100_000


@dataclass(frozen=True)
class OneWay:
    """One grouping.

    groups, readings: how many; between_squares_cm2, within_squares_cm2: sums of squares; f: the
    quotient of their mean squares; between_cm2: variance between groups, may be below 0 by chance;
    within_cm2: within; mean_cm: of the groups' means weighted by how much each tells; u_mean_cm:
    its standard uncertainty.
    """

    groups: int
    readings: int
    between_squares_cm2: float
    within_squares_cm2: float
    f: float
    between_cm2: float
    within_cm2: float
    mean_cm: float
    u_mean_cm: float

    @property
    def explained_percent(self) -> float:
        """Share of all squares that lies between the groups (R²), per cent."""
        whole = self.between_squares_cm2 + self.within_squares_cm2
        return 100 * self.between_squares_cm2 / whole if whole else float("nan")


@dataclass(frozen=True)
class Nested:
    """Repeats within inner groups (hands) within outer ones (stems).

    outer_cm2, inner_cm2, within_cm2: variances between the outer, between the inner within one of
    the outer, and of repeats; those between may be below 0 by chance; nan where nothing tells.
    """

    outer_cm2: float
    inner_cm2: float
    within_cm2: float


@dataclass(frozen=True)
class Crossed:
    """Hands and stems, crossed.

    stems_cm2, hands_cm2, rest_cm2: variances between stems, between hands, and of what both leave;
    the first two may be below 0 by chance; nan where nothing tells; stems_square_cm2,
    hands_square_cm2: mean squares of each after the other, rest_cm2 being the third; stems_each,
    hands_each: how many times the variance stands in its mean square; stems_freedom, hands_freedom,
    rest_freedom: degrees of freedom; apart: into how many parts that share no hand and no stem the
    readings fall (1 if they hang together).
    """

    stems_cm2: float
    hands_cm2: float
    rest_cm2: float
    stems_square_cm2: float
    hands_square_cm2: float
    stems_each: float
    hands_each: float
    stems_freedom: int
    hands_freedom: int
    rest_freedom: int
    apart: int


def one_way_parts(group: ArrayLike, reading_cm: ArrayLike, method: str = "anova") -> OneWay:
    """Variance between and within groups of unequal size.

    group: whole numbers from 0, the group of each reading; reading_cm: cm; method: "anova", or
    "reml" for the restricted likelihood, whose variances are never below 0. Source: textbooks; the
    sums agree with certified ones [NIST-StRD]. Raises MeasureError.

    >>> two = one_way_parts([0, 0, 1, 1], [1.0, 3.0, 7.0, 9.0])
    >>> two.within_cm2, two.between_cm2, two.f
    (2.0, 17.0, 18.0)
    """
    if method not in ("anova", "reml"):
        raise MeasureError("method", method, "", "anova or reml")
    table = into_cells(
        np.zeros_like(code_places(group, "group", _flat(reading_cm))), group, reading_cm
    )
    count = table.count.astype(np.float64)
    readings, groups = float(count.sum()), int(count.size)
    middle = float(table.mean_cm.mean())
    away = table.mean_cm - middle
    all_mean = float(count @ away) / readings
    apart = float(count @ np.square(away - all_mean))
    squares = float(table.squares_cm2.sum())
    nan = float("nan")
    within = squares / (readings - groups) if readings > groups else nan
    if groups < 2:
        return OneWay(groups, int(readings), 0.0, squares, nan, nan, within, middle, nan)
    each = (readings - float(count @ count) / readings) / (groups - 1)
    square = apart / (groups - 1)
    f = float(np.divide(square, within)) if within > 0 else nan
    between = (square - within) / each
    if method == "reml" and readings > groups:
        between, within = _restricted(count, away, squares)
    weight = 1 / (max(between, 0.0) + within / count) if within > 0 or between > 0 else count
    mean = middle + float(weight @ away) / float(weight.sum())
    u_mean = float(1 / np.sqrt(weight.sum())) if within > 0 or between > 0 else nan
    return OneWay(
        groups, int(readings), apart, squares, f, float(between), float(within), mean, u_mean
    )


def nested_parts(outer: ArrayLike, inner: ArrayLike, reading_cm: ArrayLike) -> Nested:
    """Variances of repeats within inner groups within outer ones, by sums of squares in turn.

    outer, inner: whole numbers from 0, of each reading; inner groups of two outer ones are not the
    same whatever their numbers; reading_cm: cm. Source: textbooks, from memory. Raises
    MeasureError.

    >>> parts = nested_parts([0, 0, 0, 0, 1, 1, 1, 1], [0, 0, 1, 1] * 2,
    ...     [1.0, 3.0, 5.0, 7.0, 21.0, 23.0, 25.0, 27.0])
    >>> parts.within_cm2, parts.inner_cm2, parts.outer_cm2
    (2.0, 7.0, 196.0)
    """
    table = into_cells(inner, outer, reading_cm)
    count = table.count.astype(np.float64)
    readings, inners = float(count.sum()), float(count.size)
    of_outer = table.over_stems(count)
    used = of_outer > 0
    outers = float(used.sum())
    away = table.mean_cm - table.mean_cm.mean()
    with np.errstate(invalid="ignore", divide="ignore"):
        means = table.over_stems(count * away) / of_outer
        shares = table.over_stems(count**2) / of_outer
    all_mean = float(count @ away) / readings
    low = float(count @ np.square(away - means[table.stem]))
    high = float((of_outer * np.square(means - all_mean))[used].sum())
    nan = float("nan")
    within = float(table.squares_cm2.sum()) / (readings - inners) if readings > inners else nan
    between_inner = between_outer = nan
    share = float(shares[used].sum())
    if inners > outers:
        between_inner = (low - (inners - outers) * within) / (readings - share)
    if outers > 1:
        extra = share - float(count @ count) / readings
        each = readings - float((of_outer**2).sum()) / readings
        # one inner group in each outer: what lies between them is not told apart
        known = 0.0 if np.isnan(between_inner) and inners == outers else between_inner
        between_outer = (high - (outers - 1) * within - extra * known) / each
    return Nested(float(between_outer), float(between_inner), within)


def crossed_parts(hand: ArrayLike, stem: ArrayLike, reading_cm: ArrayLike) -> Crossed:
    """Variances between stems, between hands, and of the rest, some cells empty or all filled.

    hand, stem: whole numbers from 0, of each reading; reading_cm: cm. What one hand does on one
    stem only is in the rest. Source: Henderson's third method [Henderson1953], from memory. Raises
    MeasureError.

    >>> parts = crossed_parts([0, 1, 0, 1, 0, 1], [0, 0, 1, 1, 2, 2], [1.0, 2, 4, 5, 7, 9])
    >>> round(parts.rest_cm2, 6), round(parts.stems_cm2, 6), round(parts.hands_cm2, 6)
    (0.166667, 10.5, 0.833333)
    """
    reading = _flat(reading_cm)
    table = into_cells(hand, stem, reading)
    count = table.count.astype(np.float64)
    _, hands = np.unique(table.hand, return_inverse=True)
    _, stems = np.unique(table.stem, return_inverse=True)
    values = table.mean_cm - table.mean_cm.mean()
    of_hands, of_stems = np.bincount(hands, count), np.bincount(stems, count)
    h, s, total = of_hands.size, of_stems.size, float(count.sum())
    hand_means = np.bincount(hands, count * values) / of_hands
    stem_means = np.bincount(stems, count * values) / of_stems
    # what each grouping leaves by itself, then what both leave
    by_hands = float(count @ np.square(values - hand_means[hands]))
    by_stems = float(count @ np.square(values - stem_means[stems]))
    left, apart = _left_by_both(hands, stems, count, values, stem_means)
    within = float(table.squares_cm2.sum())
    both = float(count @ np.square(left)) + within
    rank = h + s - apart
    free_rest, free_hands, free_stems = int(total) - rank, rank - s, rank - h
    nan = float("nan")
    rest = both / free_rest if free_rest > 0 else nan
    hands_each = total - float(np.sum(np.bincount(stems, count**2) / of_stems))
    stems_each = total - float(np.sum(np.bincount(hands, count**2) / of_hands))
    hands_square = (by_stems + within - both) / free_hands if free_hands > 0 else nan
    stems_square = (by_hands + within - both) / free_stems if free_stems > 0 else nan
    hands_each = hands_each / free_hands if free_hands > 0 else nan
    stems_each = stems_each / free_stems if free_stems > 0 else nan
    return Crossed(
        (stems_square - rest) / stems_each,
        (hands_square - rest) / hands_each,
        rest,
        stems_square,
        hands_square,
        stems_each,
        hands_each,
        free_stems,
        free_hands,
        free_rest,
        apart,
    )


def _left_by_both(
    hands: IntArray, stems: IntArray, count: FloatArray, values: FloatArray, stem_means: FloatArray
) -> tuple[FloatArray, int]:
    """What hand and stem together leave of each cell's mean, and how many parts hang together."""
    h, s = int(hands.max()) + 1, int(stems.max()) + 1
    if h > s:
        swapped = np.bincount(hands, count * values) / np.bincount(hands, count)
        return _left_by_both(stems, hands, count, values, swapped)
    if h > MOST_AT_ONCE:
        raise MeasureError("hand", h, "", f"at most {MOST_AT_ONCE} hands, or as many stems")
    of_stems = np.bincount(stems, count).astype(np.float64, copy=False)
    shared = _shared(hands, stems, count, of_stems)
    normal = np.diag(np.bincount(hands, count)) - shared
    wanted = np.bincount(hands, count * (values - stem_means[stems]), h)
    effect = np.linalg.lstsq(normal, wanted, rcond=1e-11)[0]
    less = values - effect[hands]
    return less - (np.bincount(stems, count * less) / of_stems)[stems], _parts_apart(shared > 0)


def _shared(
    hands: IntArray, stems: IntArray, count: FloatArray, of_stems: FloatArray
) -> FloatArray:
    """How much each two hands share of the stems they read; above 0 where they met at all."""
    h, s = int(hands.max()) + 1, of_stems.size
    if h * s <= _MOST_FILLED:
        filled = np.zeros((h, s))
        filled[hands, stems] = count
        return (filled / of_stems) @ filled.T
    from scipy.sparse import coo_array, csr_array

    table = csr_array(coo_array((count, (hands, stems)), shape=(h, s)))
    return np.asarray((table / of_stems[None, :] @ table.T).toarray())


def _parts_apart(met: BoolArray) -> int:
    """Into how many groups hands fall of whom nobody met anybody of another one."""
    left, groups = np.ones(len(met), dtype=np.bool_), 0
    while left.any():
        groups += 1
        group = np.zeros_like(left)
        new = np.zeros_like(left)
        new[int(np.argmax(left))] = True
        while new.any():
            group |= new
            new = met[new].any(axis=0) & ~group
        left &= ~group
    return groups


def _restricted(count: FloatArray, away: FloatArray, squares: float) -> tuple[float, float]:
    """Between and within by the greatest restricted likelihood."""
    from scipy.optimize import minimize_scalar

    readings, groups = float(count.sum()), count.size

    def parts(ratio: float) -> tuple[float, float]:
        weight = count / (1 + ratio * count)
        mean = float(weight @ away) / float(weight.sum())
        within = (squares + float(weight @ np.square(away - mean))) / (readings - 1)
        if within <= 0:
            return -np.inf, 0.0
        logs = float(np.log1p(ratio * count).sum()) + float(np.log(weight.sum()))
        return (readings - 1) * float(np.log(within)) + logs, within

    spread = float(np.square(away - away.mean()).sum()) / max(groups - 1, 1)
    if squares <= 0:
        return spread, 0.0
    # the quotient of the two variances, from nothing to far beyond what the means could give
    top = np.log(1e4 * (1 + spread * readings / squares))
    found = minimize_scalar(
        lambda log: parts(float(np.exp(log)))[0],
        bounds=(np.log(1e-9), top),
        method="bounded",
        options={"xatol": 1e-11},
    )
    ratio = float(np.exp(found.x))
    if parts(0.0)[0] <= parts(ratio)[0]:
        ratio = 0.0
    within = parts(ratio)[1]
    return ratio * within, within


def _flat(reading_cm: ArrayLike) -> FloatArray:
    return np.atleast_1d(np.asarray(number(reading_cm, "reading_cm", "cm"), dtype=np.float64))
