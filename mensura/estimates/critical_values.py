"""Beyond which value a cell stands out: Cochran, Grubbs for one and for two, Mandel's h and k.

All follow from the distributions F, Student and Beta by closed formulas [Wilrich2013], that of two
on one side by one integral. Cochran's and Grubbs's for one rest on adding up the chances of the
single cells, which is exact or a hair on the safe side at levels such as one or five of a hundred.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, MeasureError, kept, number, plain, whole

#: Chances of a straggler and of an outlier, where nothing is wrong.
STRAGGLER, OUTLIER = 0.05, 0.01

#: Beyond so many hands two on one side are not looked for.
LARGEST_PAIR = 300


def cochran_critical(hands: ArrayLike, repeats: ArrayLike, chance: float = STRAGGLER) -> Any:
    """Critical value of Cochran's C, the largest variance over the sum of them all.

    hands: p, variances compared, 2 or more; repeats: n, readings behind each, 2 or more; they
    broadcast; chance: level of the test, above 0, below 1. C = 1/(1 + (p − 1)/F), F the upper
    chance/p point of F(n − 1, (p − 1)(n − 1)) [ISO5725, clause 7.3.3]. Raises MeasureError.

    >>> round(cochran_critical(8, 2), 3), round(cochran_critical(24, 2, 0.01), 4)
    (0.68, 0.4247)
    """
    from scipy.special import fdtri

    p, n = _at_least(hands, "hands", 2), _at_least(repeats, "repeats", 2)
    f = fdtri(n - 1, (p - 1) * (n - 1), 1 - _chance(chance) / p)
    return plain(1 / (1 + (p - 1) / f))


def grubbs_critical(hands: ArrayLike, chance: float = STRAGGLER, sides: int = 2) -> Any:
    """Critical value of Grubbs's G, the farthest value's distance from the mean over s.

    hands: p, values compared, 3 or more; chance: level of the test, above 0, below 1; sides: 2 if
    the farthest on either side was looked for, 1 if on one side only. G = (p − 1)t/√(p(p − 2 +
    t²)), t the upper chance/(sides·p) point of Student with p − 2 degrees of freedom
    [Grubbs1969]. Raises MeasureError.

    >>> round(grubbs_critical(10), 3), round(grubbs_critical(10, sides=1), 3)
    (2.29, 2.176)
    """
    from scipy.special import stdtrit

    p = _at_least(hands, "hands", 3)
    t = stdtrit(p - 2, 1 - _chance(chance) / (whole(sides, "sides", at_least=1, at_most=2) * p))
    return plain((p - 1) * t / np.sqrt(p * (p - 2 + t**2)))


def mandel_h_critical(hands: ArrayLike, chance: float = STRAGGLER) -> Any:
    """Critical value of Mandel's h of a given hand, either side.

    hands: p, hands on the stem, 3 or more; chance: level, above 0, below 1. h = (p − 1)t/√(p(t² +
    p − 2)), t the upper chance/2 point of Student with p − 2 degrees of freedom [Wilrich2013].
    Raises MeasureError.

    >>> round(mandel_h_critical(8, 0.01), 2), round(mandel_h_critical(8), 3)
    (2.06, 1.749)
    """
    from scipy.special import stdtrit

    p = _at_least(hands, "hands", 3)
    t = stdtrit(p - 2, 1 - _chance(chance) / 2)
    return plain((p - 1) * t / np.sqrt(p * (t**2 + p - 2)))


def mandel_k_critical(hands: ArrayLike, repeats: ArrayLike, chance: float = STRAGGLER) -> Any:
    """Critical value of Mandel's k of a given hand.

    hands: p, hands with repeats, 2 or more; repeats: n, readings of each, 2 or more; chance: level,
    above 0, below 1. k = √(p/(1 + (p − 1)/F)), F the upper chance point of F(n − 1, (p − 1)(n −
    1)) [Wilrich2013]. Raises MeasureError.

    >>> round(mandel_k_critical(8, 2, 0.01), 2), round(mandel_k_critical(8, 2), 3)
    (2.25, 1.885)
    """
    from scipy.special import fdtri

    p, n = _at_least(hands, "hands", 2), _at_least(repeats, "repeats", 2)
    f = fdtri(n - 1, (p - 1) * (n - 1), 1 - _chance(chance))
    return plain(np.sqrt(p / (1 + (p - 1) / f)))


def double_grubbs_critical(hands: int, chance: float = STRAGGLER, sides: int = 2) -> float:
    """Critical value of Grubbs's test for the two largest, or the two smallest; less is outlying.

    hands: p, values compared, 4 to 300; chance: level of the test, above 0, below 1; sides: 2 if
    both sides are looked at, as in the table of ISO 5725-2, 1 if one. The statistic is the sum of
    squares without the two over that with them.
    For any pair that quotient is spread as Beta((p − 3)/2, 1), and in which direction the pair lies
    is even and independent of it; how often both lie beyond all others follows from the largest of
    p − 2 values, whose distribution is built up from two values on (the recursion is Grubbs's own,
    1950, from memory). Integrals by sums: to the fourth decimal. Raises MeasureError.

    >>> round(double_grubbs_critical(10), 3), round(double_grubbs_critical(10, 0.01), 3)
    (0.186, 0.115)
    """
    p = whole(hands, "hands", at_least=4, at_most=LARGEST_PAIR)
    ratios, chances = _pair_law(p)
    level = _chance(chance) / whole(sides, "sides", at_least=1, at_most=2)
    return float(np.interp(level, chances, ratios))


@lru_cache(maxsize=64)
def _pair_law(p: int) -> tuple[FloatArray, FloatArray]:
    """Quotients left by the two largest of p, and how often chance gives as little or less."""
    rest = p - 2
    largest, weights = _largest_law(rest)
    # finer where the quotient is small, as the critical values are with few hands
    ratios = np.linspace(0.0, 1.0, 1201)[1:-1] ** 3
    reach = np.sqrt(1 / ratios - 1)
    alpha = np.sqrt(1 + 2 / rest)
    needed = np.sqrt(2 / (alpha**2 + 1)) * largest[:, None] / reach
    turn = np.arccos(np.minimum(needed, 1.0)) - np.arctan(1 / alpha)
    among = (np.maximum(turn, 0.0) * weights[:, None]).sum(axis=0) / np.pi
    ends = np.concatenate([[0.0], (ratios[1:] + ratios[:-1]) / 2, [1.0]])
    masses = np.diff(ends ** ((p - 3) / 2))
    half = masses * among * (p * (p - 1) / 2)
    return kept(ratios), kept(np.cumsum(half) - half / 2)


def _largest_law(count: int) -> tuple[FloatArray, FloatArray]:
    """Places and weights of the largest of `count` deviations over the root of their squares."""
    from scipy.special import betainc

    places = np.array([1 / np.sqrt(2.0)])
    weights = np.array([1.0])
    for m in range(3, count + 1):
        edges = np.linspace(1 / np.sqrt(m * (m - 1.0)), np.sqrt((m - 1.0) / m), 1501)
        middle = (edges[1:] + edges[:-1]) / 2
        # of one value: its square times m/(m − 1) is spread as Beta(1/2, (m − 2)/2)
        tail = 0.5 * betainc(0.5, (m - 2) / 2, np.minimum(edges**2 * m / (m - 1), 1.0))
        share = middle**2 * m / (m - 1)
        beyond = middle * m / (m - 1) / np.sqrt(1 - share)
        sums = np.cumsum(weights) - weights / 2 if m > 3 else np.cumsum(weights)
        below = np.interp(beyond, places, sums, left=0.0, right=1.0)
        if m == 3:
            below = (beyond >= places[0]).astype(np.float64)
        weights = m * np.diff(tail) * below
        places, weights = middle, weights / weights.sum()
    return places, weights


def _at_least(value: ArrayLike, field: str, least: int) -> Any:
    count = number(value, field, "", at_least=least)
    if np.any(np.asarray(count) != np.floor(count)):
        raise MeasureError(field, value, "", f"a whole number, at least {least}")
    return count


def _chance(chance: float) -> float:
    return float(number(chance, "chance", "", above=0.0, below=1.0))
