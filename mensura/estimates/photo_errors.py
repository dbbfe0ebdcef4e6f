"""What a photograph of a cut end adds to its figures before anybody has looked for the edge.

A scale that lies off the cut, a scale read a pixel wrong, a lens that bends, an edge of a few
clicked points: each makes the whole disc larger or smaller by a share that follows from the shape
of things alone. They are one for all figures of a photograph; more discs do not average them out.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import MeasureError, number, plain, whole

#: Fewer corners are no outline of a disc; more are no clicking by hand.
LEAST_CLICKS, MOST_CLICKS = 3, 100_000


def scale_off_plane_percent(camera_to_scale_m: ArrayLike, nearer_cm: ArrayLike) -> Any:
    """By how much every width is too large where the cut lies nearer the camera than the scale.

    camera_to_scale_m: from the lens to the scale, above 0, at most 1000 m; nearer_cm: how much
    nearer the cut lies, below that way, negative where it lies behind the scale; they broadcast.
    Returns %, Z/(Z − δ) − 1: widths and girths go by it, areas by its square (see
    :func:`area_of_widths_percent`). A lens without bending, looking straight at the cut. Theorem
    (similar triangles). Raises MeasureError.

    >>> [round(scale_off_plane_percent(way, 2), 3) for way in (1, 2, 3)]
    [2.041, 1.01, 0.671]
    """
    way = number(camera_to_scale_m, "camera_to_scale_m", "m", above=0.0, at_most=1000.0)
    nearer = number(nearer_cm, "nearer_cm", "cm") / 100
    left = np.asarray(way - nearer)
    if np.any(left <= 0):
        far = float(np.max(nearer)) * 100
        raise MeasureError("nearer_cm", far, "cm", "less than the way from the camera to the scale")
    return plain(100 * nearer / left)


def scale_read_percent(scale_px: ArrayLike, too_short_px: ArrayLike) -> Any:
    """By how much every width is too large where the scale was marked too short.

    scale_px: the scale's true length in the picture, above 0, at most 1e6 px; too_short_px: by how
    much the marks lie too near each other, below scale_px, negative where too far apart; they
    broadcast. Returns %, L/(L − δ) − 1; areas go by its square. Theorem (a rule of three). Raises
    MeasureError.

    >>> round(scale_read_percent(300, 1), 3), round(scale_read_percent(300, -1), 3)
    (0.334, -0.332)
    """
    scale = number(scale_px, "scale_px", "px", above=0.0, at_most=1e6)
    short = number(too_short_px, "too_short_px", "px")
    left = np.asarray(scale - short)
    if np.any(left <= 0):
        raise MeasureError("too_short_px", float(np.max(short)), "px", "less than the scale")
    return plain(100 * np.asarray(short) / left)


def area_of_widths_percent(width_percent: ArrayLike) -> Any:
    """What an area is off by where every width is off by a share, (1 + p)² − 1.

    width_percent: above -100, at most 1000 %. Returns %. Theorem. Raises MeasureError.

    >>> round(area_of_widths_percent(2.041), 3)
    4.124
    """
    share = number(width_percent, "width_percent", "%", above=-100.0, at_most=1000.0) / 100
    return plain(100 * share * (2 + share))


def bent_area_percent(bent_at_edge_percent: ArrayLike) -> Any:
    """What a lens takes from a disc in the middle of the picture, edge against middle.

    A lens draws a point at the distance r·(1 + k·r²) from the middle: barrel-shaped where k is
    below 0. bent_at_edge_percent: kR² at the disc's edge in %, above -100/3 (beyond, the picture
    folds back), at most 100 %. Returns the area's error in %, (1 + kR²)² − 1, where the scale is
    right in the middle; a scale that lies along the edge is bent with it. Theorem. Raises
    MeasureError.

    >>> [round(bent_area_percent(bent), 2) for bent in (-1, -2)]
    [-1.99, -3.96]
    """
    return area_of_widths_percent(
        number(bent_at_edge_percent, "bent_at_edge_percent", "%", above=-100 / 3, at_most=100.0)
    )


def clicked_area_percent(click_count: int) -> float:
    """What a circle's area is short by where its edge is so many points, evenly clicked on it.

    click_count: corners, a whole number from 3 to 100,000. Returns %, n/2π·sin(2π/n) − 1, below 0.
    Theorem (an inscribed polygon). Raises MeasureError.

    >>> [round(clicked_area_percent(count), 3) for count in (12, 24, 36, 72)]
    [-4.507, -1.138, -0.507, -0.127]
    """
    turn = 2 * np.pi / _clicks(click_count)
    return float(100 * (np.sin(turn) / turn - 1))


def clicked_girth_percent(click_count: int) -> float:
    """What a circle's girth is short by where its edge is so many points, evenly clicked on it.

    click_count: corners, a whole number from 3 to 100,000. Returns %, n/π·sin(π/n) − 1, below 0.
    Theorem (an inscribed polygon). Raises MeasureError.

    >>> [round(clicked_girth_percent(count), 3) for count in (12, 24, 36, 72)]
    [-1.138, -0.285, -0.127, -0.032]
    """
    half = np.pi / _clicks(click_count)
    return float(100 * (np.sin(half) / half - 1))


def clicks_for(short_percent: float) -> int:
    """The least number of evenly clicked points whose area is short by no more than a share.

    short_percent: above 0, at most 50 %. Returns a count, from 3 on. Found on the exact formula;
    n ≈ √(2π²/3p) comes near it. Raises MeasureError.

    >>> clicks_for(0.5), clicks_for(1.2)
    (37, 24)
    """
    least = float(number(short_percent, "short_percent", "%", above=0.0, at_most=50.0))
    low, high = LEAST_CLICKS, MOST_CLICKS
    if -clicked_area_percent(high) > least:
        raise MeasureError("short_percent", least, "%", "a share that a hand's clicks can reach")
    while low < high:
        middle = (low + high) // 2
        low, high = (low, middle) if -clicked_area_percent(middle) <= least else (middle + 1, high)
    return low


def u_photo_area_percent(
    scale_px: ArrayLike, u_mark_px: ArrayLike, radius_px: ArrayLike, u_edge_px: ArrayLike
) -> Any:
    """Standard uncertainty of a disc's area from its scale's two marks and from its edge.

    scale_px: length of the scale, above 0, at most 1e6 px; u_mark_px: of each mark along the scale,
    at least 0, the two apart from each other; radius_px: of the disc, above 0, at most 1e6 px;
    u_edge_px: by how much the whole edge may lie too far out or in, at least 0; they broadcast.
    Returns %, 2·√((√2·u/L)² + (e/R)²), to first order [GUM1995]. An edge's noise, new at every
    point, averages out and is not in it. Raises MeasureError.

    >>> round(u_photo_area_percent(300, 1, 200, 0.5), 3)
    1.067
    """
    scale = number(scale_px, "scale_px", "px", above=0.0, at_most=1e6)
    mark = number(u_mark_px, "u_mark_px", "px", at_least=0.0, at_most=1e6)
    radius = number(radius_px, "radius_px", "px", above=0.0, at_most=1e6)
    edge = number(u_edge_px, "u_edge_px", "px", at_least=0.0, at_most=1e6)
    return plain(200 * np.hypot(np.sqrt(2) * mark / scale, np.asarray(edge) / radius))


def _clicks(click_count: int) -> int:
    return whole(click_count, "click_count", at_least=LEAST_CLICKS, at_most=MOST_CLICKS)
