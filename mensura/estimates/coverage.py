"""How wide an interval must be: few readings, doubts of several sources, a line, a common error.

A standard uncertainty from few readings is itself unsure, so the interval grows: Student's factor
in place of 2. Where several such come together their degrees of freedom do too. Two numbers of one
line are tied to each other, and what all readings share is made smaller by none.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import MeasureError, number, plain
from mensura.stems.ellipse import ellipse_girth_cm

#: Steeper than this no tape is laid round a stem, however careless the hand.
_STEEPEST_DEG = 60.0


def student_factor(degrees_of_freedom: ArrayLike, coverage_percent: ArrayLike = 95.0) -> Any:
    """Student's factor t: U = t·u covers so many per cent where u comes from few readings.

    degrees_of_freedom: of u, n − 1 for a mean of n readings, at least 1; coverage_percent: above 0,
    below 100; they broadcast. Takes the readings as normally spread [GUM1995, annex G]. Raises
    MeasureError.

    >>> [round(float(t), 3) for t in student_factor([2, 4, 7, 1000])]
    [4.303, 2.776, 2.365, 1.962]
    """
    from scipy.special import stdtrit

    free = number(degrees_of_freedom, "degrees_of_freedom", "", at_least=1.0)
    share = number(coverage_percent, "coverage_percent", "%", above=0.0)
    if np.any(np.asarray(share) >= 100):
        raise MeasureError("coverage_percent", coverage_percent, "%", "a number below 100")
    return plain(stdtrit(free, 0.5 + np.asarray(share) / 200))


def effective_degrees_of_freedom(contributions: ArrayLike, degrees_of_freedom: ArrayLike) -> Any:
    """Degrees of freedom of √Σuᵢ², by Welch and Satterthwaite: (Σuᵢ²)²/Σ(uᵢ⁴/νᵢ).

    contributions: uᵢ, at least 0, not all 0, in one unit, shape (..., parts); degrees_of_freedom:
    νᵢ, at least 1, infinite for what is well known; they broadcast. Infinite if nothing unsure is
    left. An approximation, for independent parts [GUM1995, annex G]. Raises MeasureError.

    >>> round(effective_degrees_of_freedom([0.3, 0.4], [4, 8]), 2)
    11.96
    """
    parts = np.atleast_1d(number(contributions, "contributions", "", at_least=0.0))
    free = np.asarray(degrees_of_freedom, dtype=float)
    if not np.all(free >= 1):
        raise MeasureError("degrees_of_freedom", degrees_of_freedom, "", "numbers of at least 1")
    squares = np.square(parts)
    total = squares.sum(axis=-1)
    if np.any(total == 0):
        raise MeasureError("contributions", contributions, "", "one part above 0")
    unsure = (np.square(squares) / free).sum(axis=-1)
    with np.errstate(divide="ignore"):
        return plain(np.square(total) / unsure)


def u_on_line_cm(
    length_cm: ArrayLike, u_start_cm: ArrayLike, u_slope_percent: ArrayLike, correlation: ArrayLike
) -> Any:
    """Standard uncertainty of start + slope·L on a calibration line, √(u² + (Lv)² + 2rLuv).

    length_cm: L, at least 0, cm; u_start_cm: u, at least 0, cm; u_slope_percent: v in per cent, at
    least 0; correlation: r, from −1 to 1, that of start and slope; they broadcast. Returns cm
    [GUM1995, clause 5.2.2 and example H.3]. Raises MeasureError.

    >>> round(u_on_line_cm(60, 0.08, 0.15, -0.9), 4)
    0.0392
    """
    at = number(length_cm, "length_cm", "cm", at_least=0.0)
    start = np.asarray(number(u_start_cm, "u_start_cm", "cm", at_least=0.0))
    grown = at * np.asarray(number(u_slope_percent, "u_slope_percent", "%", at_least=0.0)) / 100
    tied = number(correlation, "correlation", "", at_least=-1.0, at_most=1.0)
    return plain(np.sqrt(np.maximum(start**2 + grown**2 + 2 * tied * start * grown, 0.0)))


def tilt_adds_percent(tilt_up_to_deg: ArrayLike) -> Any:
    """What tilt adds to a girth on average, the angle between 0 and a bound, each alike; per cent.

    tilt_up_to_deg: the bound, at least 0, at most 60 degrees. Round stem, taut tape, which then
    goes round an ellipse with axes d and d/cos θ: exact, averaged over the angle by quadrature. For
    small bounds b, in radians, near 100·b²/12. Closed form in the angle. Raises MeasureError.

    >>> round(tilt_adds_percent(6.0), 4), round(float(100 * np.radians(6.0) ** 2 / 12), 4)
    (0.0917, 0.0914)
    """
    bound = number(tilt_up_to_deg, "tilt_up_to_deg", "deg", at_least=0.0, at_most=_STEEPEST_DEG)
    nodes, weights = np.polynomial.legendre.leggauss(24)
    angles = np.radians(np.asarray(bound))[..., None] * (nodes + 1) / 2
    longer = np.asarray(ellipse_girth_cm(1.0, 1 / np.cos(angles))) / np.pi - 1
    return plain(100 * (longer * weights / 2).sum(axis=-1))


def readings_beside_common(u_reading_cm: float, u_common_cm: float, allowed_u_cm: float) -> float:
    """The n at which √(u²/n + c²) is what is allowed, u²/(w² − c²); the next whole one is enough.

    u_reading_cm: u, of one reading, at least 0, cm; u_common_cm: c, what all readings share, at
    least 0, cm; allowed_u_cm: w, above c, cm. Solves :func:`~mensura.estimates.uncertainty.u_mean_cm`
    for n [GUM1995, clause 4.2.3]. Raises MeasureError: what is shared is made smaller by none.

    >>> round(readings_beside_common(0.8, 0.3, 0.5), 6)
    4.0
    """
    single = float(number(u_reading_cm, "u_reading_cm", "cm", at_least=0.0))
    common = float(number(u_common_cm, "u_common_cm", "cm", at_least=0.0))
    allowed = float(number(allowed_u_cm, "allowed_u_cm", "cm", above=common))
    return single**2 / (allowed**2 - common**2)


def stems_that_outweigh(
    common_percent: float, spread_percent: float, other_spread_percent: float
) -> float:
    """The N at which √(B² + s²/N) is c/√N: (c² − s²)/B² stems.

    common_percent: B, an error that one way makes on every stem alike, above 0, per cent of the
    area; spread_percent: s, from stem to stem by that way, at least 0; other_spread_percent: c, by
    another way that has no such error, above s. Stems of one size; on more of them the other way
    is the surer for their sum. By hand. Raises MeasureError.

    >>> stems_that_outweigh(1.0, 3.0, 5.0)
    16.0
    """
    common = float(number(common_percent, "common_percent", "%", above=0.0))
    spread = float(number(spread_percent, "spread_percent", "%", at_least=0.0))
    other = float(number(other_spread_percent, "other_spread_percent", "%", above=spread))
    return (other**2 - spread**2) / common**2
