"""From a reading to an area: every rule here takes the stem for a circle and says so.

g = G²/4π from a girth, π/4·d² from a diameter or a mean of diameters, π/4·d₁d₂ from two.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import diameter, number
from mensura.instruments.calipers import mean_cm


def diameter_from_girth_cm(girth_cm: ArrayLike) -> Any:
    """Diameter of the circle with that girth, G/π.

    girth_cm: any shape, above 0, at most 20 000 cm. Returns cm. Assumes a circle.

    >>> round(diameter_from_girth_cm(125.66), 2)
    40.0
    """
    return _girth(girth_cm) / np.pi


def area_from_girth_cm2(girth_cm: ArrayLike) -> Any:
    """Area of the circle with that girth, G²/4π.

    girth_cm: any shape, above 0, at most 20 000 cm. Returns cm². Exact for a circle only; for
    every other section too large (isoperimetric inequality [Berger2010]).

    >>> round(area_from_girth_cm2(100.0), 3)
    795.775
    """
    girth = _girth(girth_cm)
    return girth * girth / (4 * np.pi)


def area_from_diameters_cm2(readings_cm: ArrayLike, mean: str = "arithmetic") -> Any:
    """Area π/4·d̄² with d̄ the mean of the readings; for two and the geometric mean, π/4·d₁d₂.

    readings_cm: shape (..., k), above 0, cm; mean: "arithmetic", "geometric" or "quadratic".
    Returns cm², shape (...). The geometric mean of the two axes is exact for an ellipse.

    >>> round(area_from_diameters_cm2([60, 48], "geometric"), 3)
    2261.947
    """
    average = mean_cm(readings_cm, mean)
    return np.pi / 4 * average * average


def over_percent(estimate_cm2: ArrayLike, true_cm2: ArrayLike) -> Any:
    """By how much an estimated area is too large, in per cent of the true one; below 0: too small.

    estimate_cm2, true_cm2: areas in cm² that broadcast, above 0.

    >>> over_percent(1020, 1000)
    2.0
    """
    estimate = number(estimate_cm2, "estimate_cm2", "cm²", above=0)
    true = number(true_cm2, "true_cm2", "cm²", above=0)
    return 100 * (estimate - true) / true


def basal_area_m2(diameter_cm: ArrayLike) -> Any:
    """Sectional area at breast height in m² from a diameter in cm: π/40000·d².

    diameter_cm: any shape, above 0, at most 2000 cm. Assumes a circle.

    >>> round(basal_area_m2(40), 6)
    0.125664
    """
    return np.pi / 40000 * diameter(diameter_cm, "diameter_cm") ** 2


def basal_area_ft2(diameter_in: ArrayLike) -> Any:
    """Sectional area in square feet from a diameter in inches: π/576·d².

    diameter_in: any shape, above 0. Returns ft². Source of the constant 0.005454: [SREF].

    >>> round(basal_area_ft2(10), 3)
    0.545
    """
    return np.pi / 576 * number(diameter_in, "diameter_in", "in", above=0) ** 2


def _girth(girth_cm: ArrayLike) -> Any:
    return number(girth_cm, "girth_cm", "cm", above=0, at_most=20000.0)
