"""How far the area of one oval stem is off when nobody knows its axes: exact means and variances.

The stem is an ellipse whose direction is left to chance, all alike. Lengths are in units of its
mean diameter D = √(d₁d₂), girths in units of πD, so that a round stem reads 1. With r = shorter
over longer, q = (1/r + r)/2 and p = (1/r − r)/2, a width in the direction θ is W = √(q + p cos 2θ)
and two at right angles have the product √(1 + p² sin² 2θ). A reading is such a width, and the
hand's own spread on it. Sums over evenly spaced directions are exact for such smooth curves, to the
last digits of a double up to an out-of-roundness of 300 %; no term of any order is left out.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from mensura.checks import ChoiceError, FloatArray, kept

#: How readings of one stem become one area, and how that is said.
WAYS = {
    "girth": "girths, their mean",
    "directions": "each in a direction of its own, their mean",
    "pairs": "pairs at right angles, their mean",
    "products": "pairs at right angles, their product",
}

_TURNS = np.pi * np.arange(64) / 64
_ALONG, _ACROSS = np.cos(2 * _TURNS), np.sin(2 * _TURNS)


@dataclass(frozen=True)
class StemScatter:
    """One stem's area over its true area, less common errors; no unit, arrays where given arrays.

    mean_share: on average; variance: of it; rise_mean, rise_variance: of how fast it grows with an
    error that all readings share, for each D (calipers) or πD (tape) of it.
    """

    mean_share: Any
    variance: Any
    rise_mean: Any
    rise_variance: Any

    def bias_share(self, common_share: Any) -> Any:
        """What is always too much, as a share of the area.

        common_share: standard deviation of what all readings share, over D or πD, normal.
        """
        return self.mean_share - 1 + common_share**2

    def own_variance(self, common_share: Any) -> Any:
        """Variance that each stem has for itself, of the area as a share.

        common_share: as for :meth:`bias_share`.
        """
        return self.variance + common_share**2 * self.rise_variance

    def shared_variance(self, common_share: Any) -> Any:
        """Variance that all stems have together, of the area as a share.

        common_share: as for :meth:`bias_share`.
        """
        unsure = common_share**2
        return unsure * self.rise_mean**2 + 2 * unsure**2

    def mean_square_share(self, common_share: Any, stem_count: Any) -> Any:
        """Mean square error of the area of so many stems together, as a share of it, squared.

        common_share: as for :meth:`bias_share`; stem_count: alike, erring on their own.
        """
        own = self.own_variance(common_share) / stem_count
        return self.bias_share(common_share) ** 2 + own + self.shared_variance(common_share)


@dataclass(frozen=True)
class _Moments:
    """Mean, variance, third and fourth central moment of what is averaged, over all directions."""

    mean: Any
    second: Any
    third: Any
    fourth: Any


@dataclass(frozen=True)
class OvalWidths:
    """What chance makes of an ellipse's widths; in units of D.

    one: moments of a width; pair: of the mean of two at right angles; product_mean,
    product_variance: of the product of two; square_mean: of a width's square.
    """

    one: _Moments
    pair: _Moments
    product_mean: Any
    product_variance: Any
    square_mean: Any


def oval_widths(axis_ratio: Any) -> OvalWidths:
    """The moments of an ellipse's widths over all directions alike.

    axis_ratio: shorter over longer diameter, from 0.25 to 1, one or several.
    Sources: the module's closed forms; the mean width is girth/π [Cauchy1841].

    >>> found = oval_widths(0.8)
    >>> round(100 * (found.one.mean ** 2 - 1), 4), round(100 * (found.square_mean - 1), 4)
    (1.8764, 2.5)
    """
    if isinstance(axis_ratio, float) or np.ndim(axis_ratio) == 0:
        return _single(float(axis_ratio))
    ratio = np.asarray(axis_ratio, dtype=np.float64)
    return _several(ratio.tobytes(), ratio.shape)


@lru_cache(maxsize=256)
def _single(ratio: float) -> OvalWidths:
    return _widths(np.array(ratio))


@lru_cache(maxsize=16)
def _several(ratios: bytes, shape: tuple[int, ...]) -> OvalWidths:
    return _widths(np.frombuffer(ratios).reshape(shape))


def _widths(ratio: FloatArray) -> OvalWidths:
    q, p = ((1 / ratio + side * ratio) / 2 for side in (1, -1))
    width = np.sqrt(q[..., None] + p[..., None] * _ALONG)
    product = np.sqrt(1 + (p[..., None] * _ACROSS) ** 2)
    pair = np.sqrt((q[..., None] + product) / 2)
    return OvalWidths(
        _moments(width),
        _moments(pair),
        _plain(product.mean(axis=-1)),
        _plain(product.var(axis=-1)),
        _plain(q),
    )


def _moments(values: FloatArray) -> _Moments:
    mean = values.mean(axis=-1)
    off = values - mean[..., None]
    square = off * off
    return _Moments(
        _plain(mean),
        _plain(square.mean(axis=-1)),
        _plain((square * off).mean(axis=-1)),
        _plain((square * square).mean(axis=-1)),
    )


def _plain(value: Any) -> Any:
    return float(value) if np.ndim(value) == 0 else kept(value)


def stem_scatter(oval: OvalWidths, way: str, reading_count: Any, hand_share: Any) -> StemScatter:
    """The area of one stem from several readings: how far off on average, and how it scatters.

    oval: of :func:`oval_widths`; way: one of WAYS; reading_count: of the stem, even for pairs;
    hand_share: one standard deviation of a reading over D, or of a girth over πD, normal; numbers
    and arrays broadcast. Raises ChoiceError for another way.

    >>> found = stem_scatter(oval_widths(0.8), "pairs", 2, 0.0)
    >>> float(round(100 * (found.mean_share - 1), 4))
    1.8769
    """
    noise, pairs = hand_share**2, reading_count / 2
    if way == "products":
        # the hand's errors on both are independent, so the product is not too large by them
        return StemScatter(
            mean_share=oval.product_mean,
            variance=(oval.product_variance + 2 * oval.square_mean * noise + noise**2) / pairs,
            rise_mean=2 * oval.pair.mean,
            rise_variance=(4 * oval.pair.second + 2 * noise) / pairs,
        )
    if way == "girth":
        one, count = _Moments(oval.one.mean, 0.0, 0.0, 0.0), reading_count
    elif way == "directions":
        one, count = oval.one, reading_count
    elif way == "pairs":
        one, count, noise = oval.pair, pairs, noise / 2
    else:
        raise ChoiceError("way", way, WAYS)
    mean, variance = _square_of_mean(one, count, noise)
    return StemScatter(mean, variance, 2 * one.mean, 4 * (one.second + noise) / count)


def _square_of_mean(one: _Moments, count: Any, noise: Any) -> tuple[Any, Any]:
    """Mean and variance of the square of a mean of so many, each with normal noise on it."""
    second = one.second + noise
    # a normal error adds to the moments: third as it was, fourth + 6·second·noise + 3·noise²
    over = one.fourth + 6 * one.second * noise + 3 * noise**2 - 3 * second**2
    spread = second / count
    third, fourth = one.third / count**2, 3 * spread**2 + over / count**3
    mean = one.mean**2 + spread
    return mean, 4 * one.mean**2 * spread + 4 * one.mean * third + fourth - spread**2
