"""Corners of an outline that a lens and a smoothing have rounded, made sharp again.

A blurred corner's middle level runs inside the corner. Where two sides, each followed as a parabola
from where it is no longer rounded, would meet at a clear angle and close by, they are let meet.
A round stem has no such place, and none is made.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.checks import FloatArray

#: A side is followed from this far off the corner to that far, in px.
_NEAR_PX, _FAR_PX = 8, 64
#: Sides that meet at less than this are one side; a corner is no further off the edge than that.
_LEAST_TURN_DEG, _MOST_OFF_PX = 30.0, 3.5
#: Noise in both sides lets them meet too far out on the average: so much of the way is taken.
_TAKEN = 0.75
#: Sides rougher than this about their parabola are no sides of a corner, in px.
_MOST_ROUGH_PX = 0.4


def sharpened_px(edge_px: FloatArray, smooth_px: FloatArray) -> FloatArray:
    """The smooth edge with its corners sharp.

    edge_px: closed, shape (n, 2), points about 1 px apart, in order, smoothed as little as noise
    allows: corners are looked for in it; smooth_px: the same edge, shape (k, 2), smoothed more,
    which is taken wherever there is no corner.
    """
    import shapely
    from scipy import ndimage

    count = len(edge_px)
    near, far = _NEAR_PX, min(_FAR_PX, count // 14)
    if far < near + 8:
        return smooth_px
    before, after = _sides(edge_px, near, far)
    # a lobe is bent where a corner is not: followed from nearer by, its sides turn less
    nearby = _sides(edge_px, near, max(near + 8, far // 2))
    turn_deg = np.minimum(_turn_deg(before, after), _turn_deg(*nearby))
    steps = np.arange(near, far + 1)
    # of the places about a corner, the one from which both sides are followed best
    off = np.maximum(
        *(_off_px(edge_px, side, steps * way) for side, way in ((before, -1), (after, 1)))
    )
    off = np.where(
        turn_deg > _LEAST_TURN_DEG, ndimage.uniform_filter1d(off, 5, mode="wrap"), np.inf
    )
    best = ndimage.minimum_filter1d(off, 2 * far + 1, mode="wrap")
    corners = np.flatnonzero((off == best) & (off < _MOST_ROUGH_PX))
    made = smooth_px
    for at in corners.tolist():
        met = _meeting(before[at], after[at])
        for _ in range(2):  # from the place nearest to where they meet, both sides are cleanest
            if met is not None:
                at = int(np.argmin(((edge_px - met[0]) ** 2).sum(axis=1)))
                met = _meeting(before[at], after[at])
        if met is None or np.hypot(*(met[0] - edge_px[at])) > _MOST_OFF_PX:
            continue
        back, on = met[1:]
        tip = edge_px[at] + _TAKEN * (met[0] - edge_px[at])
        piece = edge_px[(at + np.arange(-2 * near, 2 * near + 1)) % count]
        along = np.arange(1, near)
        for side, bends, end in ((-1, before[at], back), (1, after[at], on)):
            # the parabola's own points, from the corner to where the edge is as it was
            s = (end + (near - end) * along / near)[:, None]
            piece[2 * near + side * along] = bends[0] + bends[1] * s + bends[2] * s**2
        piece[2 * near] = tip
        made = _spliced(made, piece)
    if len(corners) and not bool(shapely.is_valid(shapely.polygons(made))):
        return smooth_px
    return made


def _sides(edge_px: FloatArray, near: int, far: int) -> tuple[FloatArray, FloatArray]:
    """Parabolas through what lies before and after each point, followed to that point.

    Shape (n, 3, 2) each: place, slope and bend there, by steps away from it.
    """
    from scipy import ndimage

    steps = np.arange(near, far + 1, dtype=np.float64)
    fit = np.linalg.pinv(np.stack([np.ones_like(steps), steps, steps**2], axis=-1))
    weights = np.zeros((3, 2 * far + 1))
    weights[:, far + near :] = fit
    before, after = (
        np.stack([ndimage.correlate1d(edge_px, one, axis=0, mode="wrap") for one in way], axis=1)
        for way in (weights[:, ::-1], weights)
    )
    return before, after


def _turn_deg(before: FloatArray, after: FloatArray) -> FloatArray:
    """By how much each pair of sides turns where they are let meet."""
    ahead, behind = after[:, 1], -before[:, 1]
    cross = behind[:, 0] * ahead[:, 1] - behind[:, 1] * ahead[:, 0]
    return np.asarray(np.degrees(np.arctan2(np.abs(cross), (behind * ahead).sum(axis=1))))


def _spliced(edge_px: FloatArray, piece: FloatArray) -> FloatArray:
    """The closed edge with a piece in place of what lies between the piece's ends."""
    first, last = (int(np.argmin(((edge_px - end) ** 2).sum(axis=1))) for end in piece[[0, -1]])
    rest = np.roll(edge_px, -last, axis=0)[1 : (first - last) % len(edge_px)]
    return np.vstack([piece, rest])


def _off_px(edge_px: FloatArray, bends: FloatArray, steps: Any) -> FloatArray:
    """How far the points of a side lie off its parabola, as a root of the mean square."""
    total = np.zeros(len(edge_px))
    for step in steps.tolist():
        s = abs(step)
        on = bends[:, 0] + bends[:, 1] * s + bends[:, 2] * s**2
        total += ((np.roll(edge_px, -step, axis=0) - on) ** 2).sum(axis=1)
    return np.asarray(np.sqrt(total / len(steps)))


def _meeting(before: FloatArray, after: FloatArray) -> tuple[FloatArray, float, float] | None:
    """Where two parabolas meet and how far along each, from the place between them; or None."""
    s = t = 0.0
    for _ in range(8):
        gap = (before[0] + before[1] * s + before[2] * s**2) - (
            after[0] + after[1] * t + after[2] * t**2
        )
        slopes = np.stack([before[1] + 2 * before[2] * s, -(after[1] + 2 * after[2] * t)], axis=-1)
        if abs(np.linalg.det(slopes)) < 1e-3:
            return None
        s, t = np.array([s, t]) - np.linalg.solve(slopes, gap)
        if not (abs(s) < _NEAR_PX and abs(t) < _NEAR_PX):
            return None
    return before[0] + before[1] * s + before[2] * s**2, float(s), float(t)
