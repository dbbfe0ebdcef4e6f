"""The way a taut band goes round a section, as something lengths can be summed along.

A band lies on the cylinder over the convex hull. Unrolled, that cylinder is flat, so a band that
rises and falls has the length ∫√(1 + z′(s)²) ds, with s the arc length round the hull. A path holds
nodes with their share of s, the direction of the hull there, and s itself; smooth pieces carry
Gauss nodes, more of them for flat stems and steep waves, so sums along it are exact to rounding
(but for dozens of waves steeper than 45°, which are good to 0.1 %).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mensura.checks import FloatArray, kept
from mensura.stems.ellipse import Ellipse
from mensura.stems.hulls import hull_points_cm, stand_among
from mensura.stems.section import Section

#: Most nodes in one panel of a smooth piece, and the most panels that a piece is cut into.
PANEL = 64
PANELS = 32


@dataclass(frozen=True, eq=False)
class BandPath:
    """Nodes along the taut band's way round the hull, anticlockwise.

    step_cm: share of the arc length at each node, shape (..., k); tangent: unit direction of the
    hull there, shape (..., k, 2); along_cm: arc length from the tab (the point on the first axis,
    or the last free one before a climber that stands there) to the node, shape (..., k);
    length_cm: of the whole, shape (...).
    """

    step_cm: FloatArray
    tangent: FloatArray
    along_cm: FloatArray
    length_cm: Any


def band_path(
    section: Section,
    climber_cm: Any = 0.0,
    climber_direction_deg: Any = 0.0,
    waves: int = 1,
    steepness: float = 0.0,
) -> BandPath:
    """The taut band's way round a section, and round a climber that stands against it.

    section: any section; arrays for ellipses only; climber_cm: diameter of a round, rigid climber
    parallel to the stem, 0 for none; climber_direction_deg: where it touches the stem, as the
    direction of the stem's normal there; both numbers or arrays that broadcast against the
    ellipses; waves: how many waves a sum along the path must resolve; steepness: how steep they
    are at most, rise over run.
    Source: common outer tangents of two convex curves (closed form where both are circles).

    >>> from mensura.stems import circle
    >>> round(float(band_path(circle(40), 2.0).length_cm), 5)
    126.83316
    """
    if isinstance(section, Ellipse):
        if not np.any(climber_cm):
            return _round_ellipse(section, waves, steepness)
        where = climber_cm, climber_direction_deg
        return _round_ellipse_and_climber(section, *where, waves, steepness)
    corners = section.hull_cm
    corners = np.roll(corners, -int(np.argmax(corners[:, 0])), axis=0)
    if np.any(climber_cm):
        corners = _with_climber(corners, float(climber_cm), float(climber_direction_deg))
    return _round_polygon(corners, waves, steepness)


def _round_ellipse(stem: Ellipse, waves: int, steepness: float) -> BandPath:
    a, b = _half_axes(stem)
    start, end = np.zeros_like(a), np.full_like(a, 2 * np.pi)
    whole = _elliptic_piece(a, b, start, end, waves, steepness)
    return BandPath(whole.step_cm, whole.tangent, whole.along_cm, np.asarray(stem.taut_girth_cm))


def _elliptic_piece(
    a: FloatArray,
    b: FloatArray,
    start: FloatArray,
    end: FloatArray,
    waves: int,
    steepness: float,
) -> BandPath:
    """Part of an ellipse between two eccentric angles, on Gauss nodes."""
    flat = float(np.min(np.minimum(a, b) / np.maximum(a, b)))
    # the integrand's nearest singularities lie at i·artanh(short/long), and where a wave's slope
    # is ±i; the waves are closest where the ellipse runs fastest in its angle
    reach = np.arctanh(min(flat, 0.999)) / np.pi
    if steepness:
        crowded = waves * 2 / (1 + flat)
        reach = min(reach, np.arcsinh(1 / steepness) / (np.pi * crowded))
    node, weight, panels = _panelled(reach, 24 + 6 * waves)
    turn = start + (end - start) * node
    across, up = np.sin(turn), np.cos(turn)
    across *= -a
    up *= b
    speed = across * across
    speed += up * up
    np.sqrt(speed, out=speed)
    step = speed * (end - start)
    parts = step.reshape(*step.shape[:-1], panels, -1)
    inside = parts @ _summing(parts.shape[-1]) / panels
    across /= speed
    up /= speed
    ahead = _pairs(across, up)
    step *= weight
    whole = step.reshape(parts.shape).sum(axis=-1)
    before = np.cumsum(whole, axis=-1) - whole
    along = (before[..., None] + inside).reshape(step.shape)
    return BandPath(step, ahead, along, step.sum(axis=-1))


def _panelled(reach: float, least: int) -> tuple[FloatArray, FloatArray, int]:
    """Gauss nodes on [0, 1], their weights, and in how many panels they lie.

    A sum of n nodes on an interval whose half-length is 1/reach of the distance to the nearest
    singularity is good to exp(−2n·arsinh(reach)).
    """
    needed = max(int(np.ceil(15 / np.arcsinh(reach))), least)
    if needed <= PANEL:
        node, weight = _gauss(needed)
        return node, weight, 1
    widest = np.sinh(15 / PANEL) / reach
    panels = int(np.clip(np.ceil(max(widest, least / PANEL)), 1, PANELS))
    needed = max(int(np.ceil(15 / np.arcsinh(reach * panels))), -(-least // panels))
    node, weight = _gauss(min(needed, PANEL))
    at = (np.arange(panels)[:, None] + node) / panels
    return at.ravel(), np.tile(weight / panels, panels), panels


def _round_ellipse_and_climber(
    stem: Ellipse, climber_cm: Any, direction_deg: Any, waves: int, steepness: float
) -> BandPath:
    a, b = _half_axes(stem)
    radius = np.asarray(climber_cm, dtype=np.float64)[..., None] / 2
    normal = np.radians(np.asarray(direction_deg, dtype=np.float64))[..., None]
    a, b, radius, normal = np.broadcast_arrays(a, b, radius, normal)
    each = Ellipse(2 * a, 2 * b)
    middle = each.touching_cm(np.degrees(normal), off_cm=radius)
    if a.size == 1:
        one = (float(some.item()) for some in (a, b, radius, normal))
        left, right = (np.full_like(a, side) for side in _tangents_rad(*one))
    else:
        left, right = _tangents(a, b, radius, normal, middle)
    # anticlockwise: the free arc of the ellipse, on to the climber, round it, and back
    start = np.arctan2(b * np.sin(left), a * np.cos(left))
    end = np.arctan2(b * np.sin(right), a * np.cos(right))
    end = start + np.mod(end - start, 2 * np.pi)
    free = _elliptic_piece(a, b, start, end, waves, steepness)
    free_length = free.step_cm.sum(axis=-1, keepdims=True)
    near = each.touching_cm(np.degrees(right)), middle + radius[..., None] * _unit(right)
    far = middle + radius[..., None] * _unit(left), each.touching_cm(np.degrees(left))
    steps, tangents, alongs = [free.step_cm], [free.tangent], [free.along_cm]
    done = free_length
    for piece in (near, (right, left), far):
        if piece[0].ndim > done.ndim:  # a straight part, from point to point
            way = piece[1] - piece[0]
            length = np.hypot(way[..., 0], way[..., 1])
            heading = way / np.where(length > 0, length, 1)[..., None]
            share = np.max(length / free_length)
            node, weight = _gauss(int(_straight(share, waves, steepness)))
            tangent = np.broadcast_to(heading, (*length.shape[:-1], node.size, 2))
        else:
            swing = np.mod(piece[1] - piece[0], 2 * np.pi)
            length = radius * swing
            node, weight = _gauss(24 if waves < 4 else 64)
            tangent = _unit(piece[0] + swing * node + np.pi / 2)
        steps.append(length * weight)
        tangents.append(tangent)
        alongs.append(done + length * node)
        done = done + length
    # the tab lies on the first axis; if the climber is there, at the last free point before it
    first_axis = np.ceil(start / (2 * np.pi)) * 2 * np.pi
    tab = np.clip(_arc(a, b, first_axis) - _arc(a, b, start), 0, free_length)
    along = np.concatenate(alongs, axis=-1) - tab
    return BandPath(
        np.concatenate(steps, axis=-1), np.concatenate(tangents, axis=-2), along, done[..., 0]
    )


def _tangents(
    a: FloatArray, b: FloatArray, radius: FloatArray, normal: FloatArray, middle: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Directions of the two common outer tangents' normals, either side of the climber's own."""

    def gap(angle: FloatArray) -> FloatArray:
        cosine, sine = np.cos(angle), np.sin(angle)
        reach = middle[..., 0] * cosine + middle[..., 1] * sine + radius
        return np.asarray(reach - np.sqrt((a * cosine) ** 2 + (b * sine) ** 2))

    return _root(gap, normal, 1.0), _root(gap, normal, -1.0)


@lru_cache(maxsize=64)
def _tangents_rad(a: float, b: float, radius: float, normal: float) -> tuple[float, float]:
    """The same for a single stem: a climber stays where it is while other faults are moved."""
    half, other, off, way = (np.array([one]) for one in (a, b, radius, normal))
    middle = Ellipse(2 * half, 2 * other).touching_cm(np.degrees(way), off_cm=off)
    left, right = _tangents(half, other, off, way, middle)
    return float(left[0]), float(right[0])


def from_tab_cm(points_cm: FloatArray, stem_cm: FloatArray) -> FloatArray:
    """A closed way's corners, begun at the tab: the stem's corner that lies on the first axis.

    points_cm: corners of the way round a stem and whatever stands against it, anticlockwise, shape
    (k, 2); stem_cm: the stem's own, anticlockwise, shape (n, 2). Where the way leaves out that
    corner (a rod stands there), it begins at the stem's last one before. Returns cm, shape (k, 2).

    >>> stem = np.array([[2.0, 0], [0, 2], [-2, 0], [0, -2]])
    >>> from_tab_cm(np.array([[0, 2.0], [-2, 0], [0, -2], [9, 0]]), stem)[0].tolist()
    [0.0, -2.0]
    """
    own = np.roll(stem_cm, -1 - int(np.argmax(stem_cm[:, 0])), axis=0)
    free = np.flatnonzero(stand_among(own, points_cm))
    tab = np.flatnonzero((points_cm == own[free[-1]]).all(axis=1))[0]
    return np.roll(points_cm, -int(tab), axis=0)


def _round_polygon(corners: FloatArray, waves: int, steepness: float) -> BandPath:
    way = np.roll(corners, -1, axis=0) - corners
    length = np.hypot(way[:, 0], way[:, 1])
    whole = length.sum()
    before = np.cumsum(length) - length
    # each edge has as many nodes as its own length asks for: one long edge among fifty thousand
    # short ones does not make them all dear
    counts = _straight(length / whole, waves, steepness)
    first = np.cumsum(counts) - counts
    step, along = np.empty((2, int(counts.sum())))
    for count in np.unique(counts):
        edges = np.flatnonzero(counts == count)
        node, weight = _gauss(int(count))
        at = first[edges, None] + np.arange(count)
        step[at] = length[edges, None] * weight
        along[at] = before[edges, None] + length[edges, None] * node
    across, up = (np.repeat(way[:, k] / length, counts) for k in (0, 1))
    return BandPath(step, _pairs(across, up), along, np.float64(whole))


def _straight(share: FloatArray, waves: int, steepness: float) -> NDArray[np.int64]:
    """How many nodes straight parts take that are these shares of the whole way."""
    crowded = waves * np.maximum(share, 1e-6)
    # three nodes are good to 1e-13 on a hundredth of a wave
    needed = np.where(crowded < 0.01, 3, 4 + 10 * crowded)
    if steepness:
        reach = np.arcsinh(1 / steepness) / (np.pi * crowded)
        needed = np.maximum(needed, 15 / np.arcsinh(reach))
    needed = np.ceil(needed)
    # in steps of eight, so that few kinds of edges are told apart
    return np.minimum(np.where(needed > 8, -(-needed // 8) * 8, needed), 400).astype(np.int64)


def _with_climber(hull: FloatArray, climber_cm: float, direction_deg: float) -> FloatArray:
    """The way round an outline's hull and a climber, from the tab.

    hull: from its corner on the first axis. The climber's edge is 3600 points, good to 1e-6 cm.
    """
    angle, radius = np.radians(direction_deg), climber_cm / 2
    along, square = _unit(np.float64(angle)), _unit(np.float64(angle + np.pi / 2))
    reach = hull @ along
    # on a flat side the climber stands in its middle
    side = (hull @ square)[reach >= reach.max() - 1e-9]
    touch = reach.max() * along + (side.min() + side.max()) / 2 * square
    middle = touch + radius * along
    edge = middle + radius * _unit(np.linspace(0, 2 * np.pi, 3600, endpoint=False))
    # a side stays on the way if the climber lies inside its line; those that do not lie together
    way = np.roll(hull, -1, axis=0) - hull
    off = middle - hull
    passed = off[:, 0] * way[:, 1] - off[:, 1] * way[:, 0] > -radius * np.hypot(*way.T)
    leaves = np.flatnonzero(passed & ~np.roll(passed, 1))
    if leaves.size != 1:  # a climber that hides every side, or rounding about a side it just meets
        return from_tab_cm(hull_points_cm(np.vstack([hull, edge])), hull)
    leave, back = int(leaves[0]), int(np.flatnonzero(~passed & np.roll(passed, 1))[0])
    ends = hull[[leave, back]]
    over = hull_points_cm(np.vstack([ends, edge]))
    over = np.roll(over, -int(np.argmax((over == ends[0]).all(axis=1))), axis=0)
    over = over[~stand_among(over, ends)]
    if leave < back or not back:  # the tab is free
        return np.vstack([hull[: leave + 1], over, hull[back:] if back else hull[:0]])
    return np.vstack([hull[leave : leave + 1], over, hull[back:leave]])


def _half_axes(stem: Ellipse) -> tuple[FloatArray, FloatArray]:
    first, second = np.broadcast_arrays(stem.first_cm, stem.second_cm)
    return np.asarray(first)[..., None] / 2, np.asarray(second)[..., None] / 2


def _arc(a: FloatArray, b: FloatArray, turn: FloatArray) -> FloatArray:
    """Arc length from the first axis to the eccentric angle `turn` [AS1964, 17.4]."""
    from scipy.special import ellipeinc

    return np.asarray(b * ellipeinc(turn, 1 - (a / b) ** 2))


def _unit(angle: Any) -> FloatArray:
    return _pairs(np.cos(angle), np.sin(angle))


def _pairs(x: FloatArray, y: FloatArray) -> FloatArray:
    """Shape (..., 2), with each coordinate in one piece of memory: sums run twice as fast."""
    return np.moveaxis(np.stack([x, y]), 0, -1)


def _root(gap: Any, start: FloatArray, side: float) -> FloatArray:
    """Where `gap` falls to zero within half a turn to one side of `start`: bisection."""
    low, high = np.zeros_like(start), np.full_like(start, np.pi)
    # thirty-four halvings: what is left of the angle enters the length by its square
    for _ in range(34):
        middle = (low + high) / 2
        inside = gap(start + side * middle) > 0
        low, high = np.where(inside, middle, low), np.where(inside, high, middle)
    return np.asarray(start + side * (low + high) / 2)


@lru_cache(maxsize=128)
def _summing(count: int) -> FloatArray:
    """Matrix that turns values at the Gauss nodes of [0, 1] into integrals up to each node."""
    node, weight = np.polynomial.legendre.leggauss(count)
    basis = np.polynomial.legendre.legvander(node, count)
    # value = Σ c_k P_k with c_k = (2k + 1)/2 Σ w P_k value; ∫P_k = (P_{k+1} − P_{k−1})/(2k + 1)
    order = np.arange(count)
    part = np.empty((count, count))
    part[:, 0] = node + 1
    part[:, 1:] = (basis[:, 2 : count + 1] - basis[:, : count - 1]) / (2 * order[1:] + 1)
    coefficients = basis[:, :count] * weight[:, None] * (2 * order + 1) / 2
    matrix: FloatArray = (coefficients @ part.T) / 2
    return kept(matrix)


@lru_cache(maxsize=128)
def _gauss(count: int) -> tuple[FloatArray, FloatArray]:
    node, weight = np.polynomial.legendre.leggauss(count)
    return kept((node + 1) / 2), kept(weight / 2)
