"""How sure a figure is: the doubt in a reading, carried on into the area and the volume.

The words are those of the GUM: a standard uncertainty u is one standard deviation; independent
ones are combined as the root of the sum of squares; U = k·u with k = 2 covers about 95 % where the
spread is normal. A fault that is the same in every reading (a stretched tape) is not made smaller
by reading again.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import MeasureError, diameter, number, plain
from mensura.estimates.logs import log_length


def u_diameter_from_girth_cm(u_girth_cm: ArrayLike) -> Any:
    """Standard uncertainty of a tape's diameter, u(G)/π.

    u_girth_cm: standard uncertainty of the girth, at least 0, cm. Returns cm. Exact, since d = G/π
    is linear; first-order law of propagation [GUM1995, clause 5.1.2]. Raises MeasureError.

    >>> round(u_diameter_from_girth_cm(0.5), 3)
    0.159
    """
    return plain(_doubt(u_girth_cm, "u_girth_cm") / np.pi)


def u_area_percent(girth_cm: ArrayLike, u_girth_cm: ArrayLike) -> Any:
    """Relative standard uncertainty of an area from a girth, 2·u(G)/G, in per cent.

    girth_cm: above 0, at most 20 000 cm; u_girth_cm: its standard uncertainty, at least 0, cm; they
    broadcast. Returns per cent of the area. An area is a square, so it is twice as unsure as the
    girth. First order [GUM1995, clause 5.1.2]. Raises MeasureError.

    >>> u_area_percent(125, 0.5)
    0.8
    """
    return plain(200 * _relative(girth_cm, u_girth_cm))


def u_area_exact_percent(girth_cm: ArrayLike, u_girth_cm: ArrayLike) -> Any:
    """The same without leaving out the second order: 2r·√(1 + r²/2), r = u(G)/G, in per cent.

    girth_cm, u_girth_cm: as for :func:`u_area_percent`. Returns per cent of G²/4π. Exact for a
    normally spread girth, and what the note to clause 5.1.2 of [GUM1995] gives, since a square has
    no higher terms. Raises MeasureError.

    >>> round(u_area_exact_percent(100, 10), 2), u_area_percent(100, 10)
    (20.05, 20.0)
    """
    ratio = _relative(girth_cm, u_girth_cm)
    return plain(200 * ratio * np.sqrt(1 + np.square(ratio) / 2))


def scatter_over_percent(girth_cm: ArrayLike, u_girth_cm: ArrayLike) -> Any:
    """By how much areas from scattered girths are too large on average, (u/G)², in per cent.

    girth_cm, u_girth_cm: as for :func:`u_area_percent`. Returns per cent of the area. The mean of
    squares is above the square of the mean by the variance: exact, whatever the spread. Raises
    MeasureError.

    >>> round(scatter_over_percent(100, 5), 4)
    0.25
    """
    return plain(100 * np.square(_relative(girth_cm, u_girth_cm)))


def u_area_from_diameter_percent(diameter_cm: ArrayLike, u_diameter_cm: ArrayLike) -> Any:
    """Relative standard uncertainty of an area from a diameter, 2·u(d)/d, in per cent.

    diameter_cm: above 0, at most 2000 cm; u_diameter_cm: its standard uncertainty, at least 0, cm;
    they broadcast. Returns per cent of the area. First order [GUM1995, clause 5.1.2]. Raises
    MeasureError.

    >>> u_area_from_diameter_percent(40, 0.3)
    1.5
    """
    across = diameter(diameter_cm, "diameter_cm")
    return plain(200 * (_doubt(u_diameter_cm, "u_diameter_cm") / across))


def allowed_u_girth_cm(girth_cm: ArrayLike, allowed_percent: ArrayLike) -> Any:
    """Standard uncertainty of a girth that leaves p per cent of the area in doubt, G·p/200.

    girth_cm: above 0, at most 20 000 cm; allowed_percent: of the area, at least 0; they broadcast.
    Returns cm. Undoes :func:`u_area_percent`. Raises MeasureError.

    >>> allowed_u_girth_cm(125, 1)
    0.625
    """
    allowed = number(allowed_percent, "allowed_percent", "%", at_least=0.0)
    return plain(_girth(girth_cm) * allowed / 200)


def u_volume_percent(
    diameter_cm: ArrayLike,
    u_diameter_cm: ArrayLike,
    log_length_m: ArrayLike,
    u_length_m: ArrayLike,
) -> Any:
    """Relative standard uncertainty of π/4·d²·L, √((2u(d)/d)² + (u(L)/L)²), in per cent.

    diameter_cm: above 0, at most 2000 cm; u_diameter_cm: its standard uncertainty, at least 0, cm;
    log_length_m: above 0, at most 150 m; u_length_m: its standard uncertainty, at least 0, m; they
    broadcast. Returns per cent of the volume. Takes both errors as independent; first order
    [GUM1995, clause 5.1.2]. The doubt in the form of the log comes on top. Raises MeasureError.

    >>> round(u_volume_percent(40, 0.3, 5, 0.1), 3)
    2.5
    """
    areas = u_area_from_diameter_percent(diameter_cm, u_diameter_cm)
    return plain(np.hypot(areas, _length_percent(log_length_m, u_length_m)))


def u_volume_from_girth_percent(
    girth_cm: ArrayLike, u_girth_cm: ArrayLike, log_length_m: ArrayLike, u_length_m: ArrayLike
) -> Any:
    """Relative standard uncertainty of G²/4π·L, √((2u(G)/G)² + (u(L)/L)²), in per cent.

    girth_cm: above 0, at most 20 000 cm; u_girth_cm: its standard uncertainty, at least 0, cm;
    log_length_m: above 0, at most 150 m; u_length_m: its standard uncertainty, at least 0, m; they
    broadcast. Returns per cent of the volume. As :func:`u_volume_percent` [GUM1995, clause 5.1.2].
    Raises MeasureError.

    >>> round(u_volume_from_girth_percent(120, 0.9, 5, 0.1), 3)
    2.5
    """
    areas = u_area_percent(girth_cm, u_girth_cm)
    return plain(np.hypot(areas, _length_percent(log_length_m, u_length_m)))


def u_resolution_cm(resolution_cm: ArrayLike) -> Any:
    """Standard uncertainty from reading to the nearest mark, step/√12.

    resolution_cm: distance of two marks, at least 0, cm. Returns cm. Anything within half a step
    either way is as likely (rectangular): half width over √3 [GUM1995, clause 4.3.7]. Raises
    MeasureError.

    >>> round(u_resolution_cm(1.0), 4)
    0.2887
    """
    return plain(number(resolution_cm, "resolution_cm", "cm", at_least=0.0) / np.sqrt(12))


def u_mean_cm(
    u_reading_cm: ArrayLike, reading_count: ArrayLike, u_common_cm: ArrayLike = 0.0
) -> Any:
    """Standard uncertainty of a mean of n readings, √(u²/n + c²).

    u_reading_cm: spread of single readings, at least 0, cm; reading_count: n, whole numbers, at
    least 1; u_common_cm: c, from what all readings share (a worn or stretched band), at least 0,
    cm, which no repeating makes smaller; they broadcast. Returns cm [GUM1995, clause 4.2.3]. Raises
    MeasureError.

    >>> u_mean_cm(0.6, 9), u_mean_cm(0.6, 9, 0.15), round(u_mean_cm(0.6, 900, 0.15), 2)
    (0.2, 0.25, 0.15)
    """
    count = number(reading_count, "reading_count", "", at_least=1.0)
    if np.any(np.asarray(count) != np.floor(count)):
        raise MeasureError("reading_count", reading_count, "", "a whole number of readings")
    spread = _doubt(u_reading_cm, "u_reading_cm") / np.sqrt(count)
    return plain(np.hypot(spread, _doubt(u_common_cm, "u_common_cm")))


def u_mean_of_readings_cm(readings_cm: ArrayLike) -> Any:
    """Standard uncertainty of the mean of these very readings, s/√n with s² = Σ(x − x̄)²/(n − 1).

    readings_cm: shape (..., n), n at least 2, finite, cm. Returns cm, shape (...) [GUM1995, clause
    4.2.3]. It sees the spread only: a fault they all share stays hidden. Raises MeasureError.

    >>> round(u_mean_of_readings_cm([125.2, 125.6, 125.4, 125.8]), 3)
    0.129
    """
    readings = np.atleast_1d(number(readings_cm, "readings_cm", "cm"))
    if readings.shape[-1] < 2:
        raise MeasureError("readings_cm", readings.shape[-1], "", "two readings or more")
    return plain(readings.std(axis=-1, ddof=1) / np.sqrt(readings.shape[-1]))


def readings_beside_common(u_reading_cm: float, u_common_cm: float, allowed_u_cm: float) -> float:
    """The n at which √(u²/n + c²) is what is allowed, u²/(w² − c²); the next whole one is enough.

    u_reading_cm: u, of one reading, at least 0, cm; u_common_cm: c, what all readings share, at
    least 0, cm; allowed_u_cm: w, above c, cm. Solves :func:`u_mean_cm` for n [GUM1995, clause
    4.2.3]. Raises MeasureError: what is shared no repeating makes smaller.

    >>> round(readings_beside_common(0.8, 0.3, 0.5), 6)
    4.0
    """
    single = float(_doubt(u_reading_cm, "u_reading_cm"))
    common = float(_doubt(u_common_cm, "u_common_cm"))
    allowed = float(number(allowed_u_cm, "allowed_u_cm", "cm", above=common))
    return single**2 / (allowed**2 - common**2)


def stems_that_outweigh(
    common_percent: float, spread_percent: float, other_spread_percent: float
) -> float:
    """The N at which √(B² + s²/N) is c/√N: (c² − s²)/B² stems.

    common_percent: B, an error that one way makes on every stem alike, above 0, per cent of the
    area; spread_percent: s, from stem to stem by that way, at least 0; other_spread_percent: c, by
    another way that has no such error, above s. Stems of one size; in the sum of more of them the
    other way errs less. By hand. Raises MeasureError.

    >>> stems_that_outweigh(1.0, 3.0, 5.0)
    16.0
    """
    common = float(number(common_percent, "common_percent", "%", above=0.0))
    spread = float(number(spread_percent, "spread_percent", "%", at_least=0.0))
    other = float(number(other_spread_percent, "other_spread_percent", "%", above=spread))
    return (other**2 - spread**2) / common**2


def expanded_uncertainty(standard_uncertainty: ArrayLike, coverage_factor: ArrayLike = 2.0) -> Any:
    """Expanded uncertainty U = k·u, in the unit of u.

    standard_uncertainty: u, at least 0, in any unit; coverage_factor: k, above 0, 2 unless said
    otherwise; they broadcast. For a normal spread k = 2 covers about 95 % (95.45 %) and k = 3 more
    than 99 % [TaylorKuyatt1994, section 6.2]. Raises MeasureError.

    >>> expanded_uncertainty(0.8)
    1.6
    """
    factor = number(coverage_factor, "coverage_factor", "", above=0.0)
    return plain(factor * number(standard_uncertainty, "standard_uncertainty", "", at_least=0.0))


def _doubt(value: ArrayLike, field: str) -> Any:
    return number(value, field, "cm", at_least=0.0)


def _girth(girth_cm: ArrayLike) -> Any:
    return number(girth_cm, "girth_cm", "cm", above=0.0, at_most=20000.0)


def _relative(girth_cm: ArrayLike, u_girth_cm: ArrayLike) -> Any:
    return _doubt(u_girth_cm, "u_girth_cm") / _girth(girth_cm)


def _length_percent(log_length_m: ArrayLike, u_length_m: ArrayLike) -> Any:
    doubt = number(u_length_m, "u_length_m", "m", at_least=0.0)
    return 100 * doubt / log_length(log_length_m)
