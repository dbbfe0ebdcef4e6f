"""Intervals of mean + k·s where s² is a sum of mean squares, by generalised pivots.

Each mean square, MS on ν degrees of freedom, stands for what it estimates as MS·ν/χ², χ² drawn;
s² and the variance of the mean are made of the same draws, the mean is as far off as a normal draw
of that variance; the middle 95 of a hundred of mean + k·s are its interval [Weerahandi1993], from
memory. With a single mean square that is the exact interval by Student's noncentral t; with several
an approximation, which holds the truth about as often as it says. The draws are a fixed even net,
not luck: the same figures give the same interval, moved and stretched as they are.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from mensura.checks import FloatArray, kept

_DRAWS = 4096
#: Numbers a draw needs: stems, hands, the rest, repeats by two ways, and the mean's own.
_PLACES = 6


@dataclass(frozen=True)
class MeanSquare:
    """A mean square, and how much of it is in s² and in the variance of the mean.

    square_cm2: the mean square; freedom: its degrees of freedom; in_spread: times it is in s²;
    in_mean: times it is in the variance of the mean.
    """

    square_cm2: float
    freedom: float
    in_spread: float
    in_mean: float


def limit_intervals_cm(
    terms: Sequence[MeanSquare], coverage_factor: float, confidence: float
) -> tuple[tuple[float, float], tuple[float, float]]:
    """Intervals of s, and of how far the limit mean + k·s lies from the mean that was found, cm.

    terms: five at most; coverage_factor: k; confidence: of the intervals, above 0, below 1. The
    interval of mean − k·s is the same one downwards. Source: [Weerahandi1993], from memory.

    >>> spread, limit = limit_intervals_cm([MeanSquare(1.0, 19.0, 1.0, 1 / 20)], 1.96, 0.95)
    >>> [round(one, 1) for one in (*spread, *limit)]
    [0.8, 1.5, 1.4, 3.0]
    """
    square, variance = np.zeros(_DRAWS), np.zeros(_DRAWS)
    for place, one in enumerate(terms):
        drawn = one.square_cm2 * _times(one.freedom, place)
        square += one.in_spread * drawn
        variance += one.in_mean * drawn
    # a part that is taken away may be drawn too large
    spread, off = (np.sqrt(np.maximum(drawn, 0.0)) for drawn in (square, variance))
    off *= _normal()
    limit = coverage_factor * np.concatenate([spread, spread]) + np.concatenate([off, -off])
    ends = (1 - confidence) / 2, (1 + confidence) / 2
    low, high = np.quantile(spread, ends).tolist()
    least, most = np.quantile(limit, ends).tolist()
    return (low, high), (least, most)


@lru_cache(maxsize=1)
def _net() -> FloatArray:
    """Draws by places, from 0 to 1: steps of the powers of 1/x, where x^(places + 1) = x + 1."""
    root = 2.0
    for _ in range(60):
        root = (1 + root) ** (1 / (_PLACES + 1))
    steps = root ** -np.arange(1.0, _PLACES + 1)
    return kept((0.5 + np.outer(np.arange(1.0, _DRAWS + 1), steps)) % 1)


@lru_cache(maxsize=512)
def _times(freedom: float, place: int) -> FloatArray:
    """ν/χ² of each draw."""
    from scipy.special import chdtri

    return kept(freedom / chdtri(freedom, _net()[:, place]))


@lru_cache(maxsize=1)
def _normal() -> FloatArray:
    from scipy.special import ndtri

    return kept(ndtri(_net()[:, -1]))
