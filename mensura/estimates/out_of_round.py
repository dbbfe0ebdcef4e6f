"""What ovality alone does to an area: closed forms for the smooth ellipse, and where to turn back.

With r the shorter diameter over the longer, the tape overestimates the area by
4E(1 − r²)²/(π²r) − 1, the arithmetic mean of both axes by (1 − r)²/4r, their quadratic mean (and
the blackboard's perimeter) by (1 − r)²/2r; the geometric mean is exact on the axes.

Turned off the axes by θ, two readings at right angles satisfy w₁² + w₂² = d₁² + d₂² and
w₁²w₂² = d₁²d₂² + ¼(d₁² − d₂²)² sin² 2θ. So they grow towards the tape as they turn, and meet it
where w₁w₂ = P²/π² (their product) or w₁w₂ = 2P²/π² − ½(d₁² + d₂²) (their arithmetic mean).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import MeasureError, diameter, number, plain
from mensura.instruments.calipers import MEANS
from mensura.stems.ellipse import Ellipse


def out_of_round_percent(first_cm: ArrayLike, second_cm: ArrayLike) -> Any:
    """Out-of-roundness: longer less shorter diameter, in per cent of the shorter.

    first_cm, second_cm: diameters at right angles, cm, any order. Source: [ForSci1975].

    >>> out_of_round_percent(60, 48)
    25.0
    """
    first, second = diameter(first_cm, "first_cm"), diameter(second_cm, "second_cm")
    return plain(100 * np.abs(first - second) / np.minimum(first, second))


def tape_over_percent(axis_ratio: ArrayLike) -> Any:
    """Overestimation of area by a level taut tape on a smooth ellipse, in per cent, exact.

    axis_ratio: shorter over longer diameter, above 0, at most 1.

    >>> round(tape_over_percent(0.8), 4)
    1.8764
    """
    ratio = _ratio(axis_ratio)
    girth = Ellipse(1.0, ratio).taut_girth_cm
    return 100 * (girth * girth / (np.pi**2 * ratio) - 1)


def classroom_over_percent(axis_ratio: ArrayLike) -> Any:
    """What the blackboard's perimeter 2π√((a² + b²)/2) would claim: (1 − r)²/2r, an upper bound.

    axis_ratio: shorter over longer diameter r, above 0, at most 1. Per cent.

    >>> round(classroom_over_percent(0.8), 10)
    2.5
    """
    ratio = _ratio(axis_ratio)
    return 100 * (1 - ratio) ** 2 / (2 * ratio)


def two_readings_over_percent(
    axis_ratio: ArrayLike, off_axis_deg: ArrayLike, mean: str = "arithmetic"
) -> Any:
    """Overestimation by two readings at right angles on a smooth ellipse, in per cent, exact.

    axis_ratio: shorter over longer diameter, above 0, at most 1; off_axis_deg: how far the pair is
    turned off the axes; both broadcast; mean: "arithmetic", "geometric" or "quadratic".
    Source: the module's closed forms.

    >>> round(two_readings_over_percent(0.8, 0.0), 4)
    1.25
    >>> round(two_readings_over_percent(0.8, 45.0), 4)
    2.5
    """
    ratio = _ratio(axis_ratio)
    turn = np.radians(number(off_axis_deg, "off_axis_deg", "deg"))
    squares = 1 + ratio**2
    product = np.sqrt(ratio**2 + ((1 - ratio**2) * np.sin(2 * turn)) ** 2 / 4)
    if mean == "arithmetic":
        square_of_mean = (squares + 2 * product) / 4
    elif mean == "geometric":
        square_of_mean = product
    elif mean == "quadratic":
        square_of_mean = squares / 2 + 0 * product
    else:
        raise MeasureError("mean", mean, "", "one of: " + ", ".join(MEANS))
    return plain(100 * (square_of_mean / ratio - 1))


def one_reading_over_percent(axis_ratio: ArrayLike, off_axis_deg: ArrayLike) -> Any:
    """Error of one reading turned off the longer axis, in per cent, exact; below 0: too small.

    axis_ratio: shorter over longer diameter, above 0, at most 1; off_axis_deg: from the longer
    axis; both broadcast.

    >>> round(one_reading_over_percent(0.8, 0.0), 4), round(one_reading_over_percent(0.8, 90.0), 4)
    (25.0, -20.0)
    """
    ratio = _ratio(axis_ratio)
    turn = np.radians(number(off_axis_deg, "off_axis_deg", "deg"))
    return plain(100 * ((np.cos(turn) ** 2 + (ratio * np.sin(turn)) ** 2) / ratio - 1))


@dataclass(frozen=True)
class Scatter:
    """Errors of one way of measuring, over all directions alike.

    name: of the way; mean_percent: error of the area on the average; spread_percent: standard
    deviation of that error.
    """

    name: str
    mean_percent: float
    spread_percent: float


def scatters(a_cm: float, b_cm: float) -> tuple[Scatter, ...]:
    """How far four ways of measuring are off, if the direction is left to chance.

    a_cm, b_cm: half-axes of a smooth ellipse, cm. The tape has no direction, so no spread.

    >>> one, two, product, tape = scatters(30, 24)
    >>> round(one.mean_percent, 3), round(tape.mean_percent, 3), tape.spread_percent
    (2.5, 1.876, 0.0)
    """
    ratio = min(a_cm, b_cm) / max(a_cm, b_cm)
    # evenly spaced over a period: such a sum is exact for these smooth curves
    turns_deg = np.arange(0.0, 180.0, 0.5)
    ways = (
        ("one reading", one_reading_over_percent(ratio, turns_deg)),
        ("two, their mean", two_readings_over_percent(ratio, turns_deg)),
        ("two, product", two_readings_over_percent(ratio, turns_deg, "geometric")),
        ("tape", np.array([tape_over_percent(ratio)])),
    )
    return tuple(Scatter(name, float(np.mean(e)), float(np.std(e))) for name, e in ways)


def calipers_limit_deg(first_cm: ArrayLike, second_cm: ArrayLike, mean: str = "arithmetic") -> Any:
    """How far two readings at right angles may turn off the axes before the tape is nearer.

    first_cm, second_cm: diameters of a smooth ellipse, cm, that broadcast; mean: "arithmetic",
    "geometric" or "quadratic". Returns degrees between 0 and 45; 0 for the quadratic mean, which
    is never nearer than the tape; nan for a circle, on which nothing is off its axis.
    For slightly oval stems the limits are 22.5° and 30°, whatever the ratio (sin² 2θ → ½ and ¾).
    Source: the module's closed forms.

    >>> [round(float(calipers_limit_deg(60, 48, mean)), 1) for mean in MEANS]
    [22.4, 29.9, 0.0]
    """
    if mean not in MEANS:
        raise MeasureError("mean", mean, "", "one of: " + ", ".join(MEANS))
    stem = Ellipse(first_cm, second_cm)
    first, second = np.broadcast_arrays(stem.first_cm, stem.second_cm)
    tape = (np.asarray(stem.taut_girth_cm) / np.pi) ** 2
    on_axes = first * second
    needed = tape if mean == "geometric" else 2 * tape - (first**2 + second**2) / 2
    spread = (first**2 - second**2) ** 2
    round_stem = spread <= 1e-12 * on_axes**2
    if mean == "quadratic":
        limit = np.where(round_stem, np.nan, 0.0)
    else:
        part = np.where(round_stem, 0.5, 4 * (needed**2 - on_axes**2) / np.where(spread, spread, 1))
        limit = np.degrees(np.arcsin(np.sqrt(np.clip(part, 0.0, 1.0)))) / 2
        limit = np.where(round_stem, np.nan, limit)
    return plain(limit)


def _ratio(axis_ratio: ArrayLike) -> Any:
    return number(axis_ratio, "axis_ratio", "", above=0.0, at_most=1.0)
