"""Two ways of measuring the same stems: how far apart two single readings of them may lie.

The limits of agreement are d̄ ± 1.96·s, d̄ the mean of the differences and s their standard
deviation for one reading by each way, as Bland and Altman have it [BlandAltman1986]. Readings of
one stem are not so many independent ones: the stem is the unit, and s² is put together from
variances between stems, between hands (the same hands read all stems), of the rest, and of the
repeats of either way, which the mean of a cell has averaged away [BlandAltman1999],
[BlandAltman2007]:

s² = σ_stem² + σ_hand² + σ_rest² + (1 − 1/m₁)·σ₁² + (1 − 1/m₂)·σ₂².

Assumed: differences spread normally, as much on large stems as on small ones (else take them in per
cent of the size), and any other hand would be of the kind of these. The intervals: the mean by
Student with Satterthwaite's degrees of freedom; s² and the limits by generalised pivots
[Weerahandi1993] (:mod:`mensura.estimates.limit_draws`); both from memory. With one difference a
stem they are exact, else approximations: of drawn practicals of 20 stems and 7 hands they held the
limits in 93 to 97 of a hundred, whatever the parts of s².
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, MeasureError, number
from mensura.estimates.cells import Cells, code_places
from mensura.estimates.limit_draws import MeanSquare, limit_intervals_cm
from mensura.estimates.readings import IntArray
from mensura.estimates.variance_parts import crossed_parts, one_way_parts
from mensura.instruments.line_fit import fit_line

#: The normal curve holds 95 of 100 within so many standard deviations, and 2 is what was rounded.
TWO_SIDED_95 = 1.959963984540054


@dataclass(frozen=True)
class Agreement:
    """Differences, first way less second, cm (or per cent if the readings came so).

    mean_cm: of the differences; mean_interval_cm: of it; spread_cm: s of one difference of single
    readings; spread_interval_cm: of it; lower_cm, upper_cm: limits of agreement; lower_interval_cm,
    upper_interval_cm: of each; stems, hands, cells: how many had both ways; between_stems_cm,
    between_hands_cm, rest_cm: standard deviations that s consists of, of cells' means, 0 where the
    variance came out below it; hands_told: whether hands could be told apart from the rest (else
    they are in it); first_repeat_cm, second_repeat_cm: of repeats by either way, nan where none was
    repeated; freedom: of the mean's interval.
    """

    mean_cm: float
    mean_interval_cm: tuple[float, float]
    spread_cm: float
    spread_interval_cm: tuple[float, float]
    lower_cm: float
    upper_cm: float
    lower_interval_cm: tuple[float, float]
    upper_interval_cm: tuple[float, float]
    stems: int
    hands: int
    cells: int
    between_stems_cm: float
    between_hands_cm: float
    rest_cm: float
    hands_told: bool
    first_repeat_cm: float
    second_repeat_cm: float
    freedom: float


@dataclass(frozen=True)
class DifferenceTrend:
    """Whether differences grow with size: difference = start + rise·size, over the stems' means.

    rise: cm for each cm; rise_interval: of it; start_cm: at no size at all; stems: how many.
    """

    rise: float
    rise_interval: tuple[float, float]
    start_cm: float
    stems: int

    @property
    def grows(self) -> bool:
        """Whether the rise is beyond chance: then differences belong in per cent of the size."""
        return not self.rise_interval[0] <= 0 <= self.rise_interval[1]


def limits_from_differences(
    stem: ArrayLike,
    difference_cm: ArrayLike,
    hand: ArrayLike | None = None,
    coverage_factor: float = TWO_SIDED_95,
    confidence: float = 0.95,
) -> Agreement:
    """Limits of agreement from differences, some of them on the same stem.

    stem: whole numbers from 0, of each difference; difference_cm: cm; hand: whole numbers from 0,
    or None where nobody knows: then differences on one stem are repeats, and s² is the sum of both
    components of a one-way analysis [BlandAltman2007]; coverage_factor: limits at so many standard
    deviations; confidence: of the intervals, above 0, below 1. Raises MeasureError: two stems or
    more are needed.

    >>> found = limits_from_differences([0, 1, 2, 3], [0.2, -0.1, 0.4, 0.3])
    >>> round(found.mean_cm, 6), round(found.lower_cm, 3), round(found.upper_cm, 3)
    (0.2, -0.223, 0.623)
    """
    apart = np.atleast_1d(number(difference_cm, "difference_cm", "cm"))
    of_stem = code_places(stem, "stem", apart)
    if hand is None:
        of_hand = np.arange(apart.size, dtype=np.int64)
        return _found(of_stem, of_hand, apart, False, (), coverage_factor, confidence)
    of_hand = code_places(hand, "hand", apart)
    return _found(of_stem, of_hand, apart, True, (), coverage_factor, confidence)


def limits_of_agreement(
    first: Cells, second: Cells, coverage_factor: float = TWO_SIDED_95, confidence: float = 0.95
) -> Agreement:
    """Limits of agreement between single readings by two ways, repeats counted in.

    first, second: readings by each way, of :func:`into_cells`, hands and stems in the same lists,
    both in the same measure (a girth made a diameter by π, say); coverage_factor: limits at so many
    standard deviations; confidence: of the intervals, above 0, below 1. Cells that hold both are
    used. Source: the module's opening. Raises MeasureError: two stems or more are needed.

    >>> from mensura.estimates.cells import into_cells
    >>> tape = into_cells([0] * 6, [0, 0, 1, 1, 2, 2], [30.0, 30.4, 41.0, 40.6, 50.2, 50.6])
    >>> caliper = into_cells([0] * 6, [0, 0, 1, 1, 2, 2], [29.8, 30.2, 40.9, 40.5, 49.7, 50.1])
    >>> found = limits_of_agreement(tape, caliper)
    >>> round(found.mean_cm, 3), round(found.first_repeat_cm, 3), round(found.spread_cm, 3)
    (0.267, 0.283, 0.351)
    """
    width = max(first.hands, second.hands)
    keys = first.stem * width + first.hand, second.stem * width + second.hand
    _, one, two = np.intersect1d(*keys, assume_unique=True, return_indices=True)
    if not one.size:
        raise MeasureError("second", 0, "", "one stem or more that a hand measured both ways")
    repeats = []
    for table, cell in ((first, one), (second, two)):
        count = table.count[cell].astype(np.float64)
        free = float((count - 1).sum())
        square = float(table.squares_cm2[cell].sum()) / free if free else float("nan")
        repeats.append(MeanSquare(square, free, 1 - float((1 / count).mean()), 0.0))
    return _found(
        first.stem[one],
        first.hand[one],
        first.mean_cm[one] - second.mean_cm[two],
        True,
        tuple(repeats),
        coverage_factor,
        confidence,
    )


def difference_trend(
    stem: ArrayLike, difference_cm: ArrayLike, size_cm: ArrayLike, confidence: float = 0.95
) -> DifferenceTrend | None:
    """How differences go with the stems' size, the stem being the unit.

    stem: whole numbers from 0, of each difference; difference_cm: cm; size_cm: mean of both ways
    there, cm; confidence: of the interval, above 0, below 1. A line of least squares through the
    stems' means, its interval by Student. None with fewer than three stems, or stems of one size.
    Holds where the sizes differ by far more than readings of one stem do. Source:
    [BlandAltman1999], section 3, from memory. Raises MeasureError.

    >>> found = difference_trend(range(4), [0.2, 0.31, 0.4, 0.49], [20, 30, 40, 50])
    >>> round(found.rise, 4), found.grows
    (0.0096, True)
    """
    from scipy.special import stdtrit

    apart = np.atleast_1d(number(difference_cm, "difference_cm", "cm"))
    size = np.atleast_1d(number(size_cm, "size_cm", "cm"))
    sure = float(number(confidence, "confidence", "", above=0.0, below=1.0))
    of_stem = code_places(stem, "stem", apart)
    if size.shape != apart.shape:
        expected = f"one for each difference, {apart.size} of them"
        raise MeasureError("size_cm", int(size.size), "", expected)
    _, home, count = np.unique(of_stem, return_inverse=True, return_counts=True)
    sizes, means = (np.bincount(home, one) / count for one in (size, apart))
    if count.size < 3 or np.ptp(sizes) <= 1e-9 * np.abs(sizes).max():
        return None
    line = fit_line(sizes, means)
    rise = float(line.rise)
    reach = float(stdtrit(count.size - 2, (1 + sure) / 2)) * float(line.u_rise)
    return DifferenceTrend(rise, (rise - reach, rise + reach), float(line.start_cm), count.size)


def _found(
    stem: IntArray, hand: IntArray, apart: FloatArray, by_hands: bool,
    repeats: tuple[MeanSquare, ...], coverage_factor: float, confidence: float,
) -> Agreement:  # fmt: skip
    k = float(number(coverage_factor, "coverage_factor", "", above=0.0))
    sure = float(number(confidence, "confidence", "", above=0.0, below=1.0))
    _, stem = np.unique(stem, return_inverse=True)
    _, hand = np.unique(hand, return_inverse=True)
    stems, hands = int(stem.max()) + 1, int(hand.max()) + 1
    if stems < 2:
        raise MeasureError("stem", stems, "", "two stems or more that were measured both ways")
    # every stem counts alike, and every difference on it
    weights = 1 / (np.bincount(stem)[stem] * stems)
    mean = float(weights @ apart)
    (groups, rest), parts, told = _squares(stem, hand, apart, by_hands)
    w2 = float(weights @ weights)
    again = [one for one in repeats if one.freedom > 0]
    terms = [*_terms(*_pooled(groups, rest), w2), *again]
    spread = max(sum(one.in_spread * one.square_cm2 for one in terms), 0.0) ** 0.5
    around, freedom = _mean_reach(terms, sure)
    # a group that shows no variance of its own may have one still: here nothing is pooled
    spreads, limits = limit_intervals_cm([*_terms(groups, rest, w2), *again], k, sure)
    spreads = min(spreads[0], spread), max(spreads[1], spread)
    reach = min(limits[0], k * spread), max(limits[1], k * spread)
    of_stems, of_hands, of_rest = (float(np.sqrt(max(one, 0.0))) for one in parts)
    of_first, of_second = (
        (float(np.sqrt(one.square_cm2)) for one in repeats) if repeats else (float("nan"),) * 2
    )
    return Agreement(
        mean,
        (mean - around, mean + around),
        spread,
        spreads,
        mean - k * spread,
        mean + k * spread,
        (mean - reach[1], mean - reach[0]),
        (mean + reach[0], mean + reach[1]),
        stems,
        hands if by_hands else 0,
        int(apart.size),
        of_stems,
        of_hands,
        of_rest,
        told,
        of_first,
        of_second,
        freedom,
    )


class _Group(NamedTuple):
    """A mean square above the rest's by each·σ², and its part in the mean's variance."""

    square: float
    freedom: float
    each: float
    part: float


_Rest = tuple[float, float]  # mean square, and its freedom


def _squares(
    stem: IntArray, hand: IntArray, apart: FloatArray, by_hands: bool
) -> tuple[tuple[list[_Group], _Rest], tuple[float, float, float], bool]:
    """The mean squares of the cells' differences, the three variances, whether hands are told."""
    stems = int(stem.max()) + 1
    if apart.size == stems:
        square = float(np.var(apart, ddof=1))
        return ([], (square, stems - 1)), (square, 0.0, 0.0), False
    if by_hands and int(hand.max()) > 0:
        one = crossed_parts(hand, stem, apart)
        if one.apart == 1 and one.rest_freedom > 0 and one.hands_freedom > 0:
            by_hand = np.bincount(hand, 1 / (np.bincount(stem)[stem] * stems))
            groups = [
                _Group(one.stems_square_cm2, one.stems_freedom, one.stems_each, 1 / stems),
                _Group(
                    one.hands_square_cm2,
                    one.hands_freedom,
                    one.hands_each,
                    float(by_hand @ by_hand),
                ),
            ]
            parts = one.stems_cm2, one.hands_cm2, one.rest_cm2
            return (groups, (one.rest_cm2, one.rest_freedom)), parts, True
    plain = one_way_parts(stem, apart)
    count = np.bincount(stem).astype(np.float64)
    each = (count.sum() - float(count @ count) / count.sum()) / (stems - 1)
    group = _Group(plain.between_squares_cm2 / (stems - 1), stems - 1, each, 1 / stems)
    rest = plain.within_cm2, float(apart.size - stems)
    return ([group], rest), (plain.between_cm2, 0.0, plain.within_cm2), False


def _pooled(groups: list[_Group], rest: _Rest) -> tuple[list[_Group], _Rest]:
    """Without the groups whose mean square is not above the rest's: their squares are the rest's.

    They have no variance of their own to show.
    """
    square, freedom = rest
    stays = []
    for one in sorted(groups):
        if one.square <= square:
            square = (square * freedom + one.square * one.freedom) / (freedom + one.freedom)
            freedom += one.freedom
        else:
            stays.append(one)
    return stays, (square, freedom)


def _terms(groups: list[_Group], rest: _Rest, w2: float) -> list[MeanSquare]:
    """What each mean square counts in s² and in the mean's variance."""
    terms = [
        MeanSquare(one.square, one.freedom, 1 / one.each, one.part / one.each) for one in groups
    ]
    in_spread = 1 - sum(one.in_spread for one in terms)
    in_mean = w2 - sum(one.in_mean for one in terms)
    return [*terms, MeanSquare(*rest, in_spread, in_mean)]


def _mean_reach(terms: list[MeanSquare], sure: float) -> tuple[float, float]:
    """Half the mean's interval, and its degrees of freedom after Satterthwaite."""
    from scipy.special import stdtrit

    parts: Any = np.array([one.in_mean * one.square_cm2 for one in terms])
    free = np.array([one.freedom for one in terms])
    variance = float(parts.sum())
    scale = float((parts**2 / free).sum())
    freedom = variance**2 / scale if scale > 0 else float(free[0])
    freedom = min(max(freedom, 1.0), float(free.sum()))
    return float(stdtrit(freedom, (1 + sure) / 2)) * variance**0.5, freedom
