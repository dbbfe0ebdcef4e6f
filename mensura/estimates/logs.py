"""The volume of a log: an area of its round sections, averaged along it by one of three rules.

Huber takes the middle, Smalian the mean of the two ends, Newton the middle four times and each end
once. Which rule is right for which form is shown in :mod:`mensura.estimates.solids`.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import LARGEST_CM, number, plain

#: No log is longer: the tallest trees stand below 120 m (from memory). A length beyond this is a
#: slip of the unit.
LONGEST_M = 150.0


def huber_m3(mid_diameter_cm: ArrayLike, log_length_m: ArrayLike) -> Any:
    """Volume by Huber's rule, the area at the middle times the length: g_m·L.

    mid_diameter_cm: diameter at half the length, above 0, at most 2000 cm; log_length_m: above 0,
    at most 150 m; they broadcast. Returns m³. Takes the section for a circle. Exact for a cylinder
    and a paraboloid, too small for a cone and a neiloid. The rule is named in
    [Goulding1979] and described in [Husch2003], from memory. Raises MeasureError.

    >>> round(huber_m3(40, 5), 4)
    0.6283
    """
    return plain(section_m2(mid_diameter_cm, "mid_diameter_cm") * log_length(log_length_m))


def smalian_m3(
    butt_diameter_cm: ArrayLike, top_diameter_cm: ArrayLike, log_length_m: ArrayLike
) -> Any:
    """Volume by Smalian's rule, the mean of the two end areas times the length: (g₀ + g₁)/2·L.

    butt_diameter_cm: at the thick end, above 0, at most 2000 cm; top_diameter_cm: at the thin end,
    at least 0 (a tip), at most 2000 cm; log_length_m: above 0, at most 150 m; they broadcast.
    Returns m³. Takes the sections for circles. Exact for a cylinder and a paraboloid, too large for
    a cone and a neiloid, and so for a flared butt. The rule is named in
    [Goulding1979] and described in [Husch2003], from memory. Raises MeasureError.

    >>> round(smalian_m3(44, 36, 5), 4)
    0.6346
    """
    ends = section_m2(butt_diameter_cm, "butt_diameter_cm") + _top_m2(top_diameter_cm)
    return plain(ends / 2 * log_length(log_length_m))


def newton_m3(
    butt_diameter_cm: ArrayLike,
    mid_diameter_cm: ArrayLike,
    top_diameter_cm: ArrayLike,
    log_length_m: ArrayLike,
) -> Any:
    """Volume by Newton's rule, (g₀ + 4·g_m + g₁)/6·L: two thirds Huber and one third Smalian.

    butt_diameter_cm: at the thick end, above 0, at most 2000 cm; mid_diameter_cm: at half the
    length, above 0, at most 2000 cm; top_diameter_cm: at the thin end, at least 0 (a tip), at most
    2000 cm; log_length_m: above 0, at most 150 m; they broadcast. Returns m³. Takes the sections
    for circles. It is Simpson's rule, so it is exact wherever the area is a polynomial of the
    height up to the third degree: cylinder, paraboloid, cone and neiloid. The rule is named in
    [Goulding1979] and described in [Husch2003], from memory. Raises MeasureError.

    >>> round(newton_m3(44, 40, 36, 5), 4)
    0.6304
    """
    middle = huber_m3(mid_diameter_cm, log_length_m)
    return plain((2 * middle + smalian_m3(butt_diameter_cm, top_diameter_cm, log_length_m)) / 3)


def huber_from_girth_m3(mid_girth_cm: ArrayLike, log_length_m: ArrayLike) -> Any:
    """Volume by Huber's rule from the girth at the middle, G²/4π·L.

    mid_girth_cm: above 0, at most 6283 cm; log_length_m: above 0, at most 150 m; they broadcast.
    Returns m³. As a girth gives too large an area for every section that is not a circle
    [Berger2010], it gives too large a volume. Raises MeasureError.

    >>> round(huber_from_girth_m3(125.66, 5), 4)
    0.6283
    """
    return huber_m3(round_cm(mid_girth_cm, "mid_girth_cm"), log_length_m)


def smalian_from_girths_m3(
    butt_girth_cm: ArrayLike, top_girth_cm: ArrayLike, log_length_m: ArrayLike
) -> Any:
    """Volume by Smalian's rule from the girths at both ends.

    butt_girth_cm: above 0, at most 6283 cm; top_girth_cm: at least 0, at most 6283 cm;
    log_length_m: above 0, at most 150 m; they broadcast. Returns m³. Takes each section for a
    circle; too large for others [Berger2010]. Raises MeasureError.

    >>> round(smalian_from_girths_m3(138.23, 113.10, 5), 4)
    0.6346
    """
    return smalian_m3(
        round_cm(butt_girth_cm, "butt_girth_cm"),
        round_cm(top_girth_cm, "top_girth_cm", tip=True),
        log_length_m,
    )


def newton_from_girths_m3(
    butt_girth_cm: ArrayLike,
    mid_girth_cm: ArrayLike,
    top_girth_cm: ArrayLike,
    log_length_m: ArrayLike,
) -> Any:
    """Volume by Newton's rule from the girths at both ends and at the middle.

    butt_girth_cm, mid_girth_cm: above 0, at most 6283 cm; top_girth_cm: at least 0, at most
    6283 cm; log_length_m: above 0, at most 150 m; they broadcast. Returns m³. Takes each section
    for a circle; too large for others [Berger2010]. Raises MeasureError.

    >>> round(newton_from_girths_m3(138.23, 125.66, 113.10, 5), 4)
    0.6304
    """
    return newton_m3(
        round_cm(butt_girth_cm, "butt_girth_cm"),
        round_cm(mid_girth_cm, "mid_girth_cm"),
        round_cm(top_girth_cm, "top_girth_cm", tip=True),
        log_length_m,
    )


def section_m2(diameter_cm: ArrayLike, field: str, *, tip: bool = False) -> Any:
    """Area of a round section of a log.

    diameter_cm: any shape, at most 2000 cm; field: its name in a message; tip: whether 0 is
    allowed. Returns m². Raises MeasureError.

    >>> round(section_m2(40, "mid_diameter_cm"), 6)
    0.125664
    """
    least: dict[str, float] = {"at_least": 0.0} if tip else {"above": 0.0}
    across = number(diameter_cm, field, "cm", **least, at_most=LARGEST_CM)
    return np.pi / 40000 * across * across


def round_cm(girth_cm: ArrayLike, field: str, *, tip: bool = False) -> Any:
    """Diameter of a round section of a log from its girth, G/π.

    girth_cm: any shape, at most 6283 cm (20 m through); field: its name in a message; tip: whether
    0 is allowed. Returns cm. Raises MeasureError.

    >>> round(round_cm(125.66, "mid_girth_cm"), 2)
    40.0
    """
    least: dict[str, float] = {"at_least": 0.0} if tip else {"above": 0.0}
    return number(girth_cm, field, "cm", **least, at_most=np.floor(np.pi * LARGEST_CM)) / np.pi


def log_length(value: ArrayLike, field: str = "log_length_m") -> Any:
    """A length of a log or a stem in m: finite, above 0, at most 150 m.

    value: number or array in m; field: its name in a message. Raises MeasureError.

    >>> log_length(5)
    5.0
    """
    return number(value, field, "m", above=0.0, at_most=LONGEST_M)


def _top_m2(top_diameter_cm: ArrayLike) -> Any:
    return section_m2(top_diameter_cm, "top_diameter_cm", tip=True)
