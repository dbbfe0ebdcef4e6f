"""Ready outlines with a lesson in them.

The constant-width shape that no calipers can find out; an oval with a bump, invented.
"""

from __future__ import annotations

import numpy as np

from mensura.checks import MeasureError, diameter, number, whole
from mensura.stems.ellipse import Ellipse
from mensura.stems.outline import Outline, from_radii


def reuleaux(width_cm: float, points: int = 1200) -> Outline:
    """A Reuleaux triangle: calipers read the same in every direction, yet it is no circle.

    width_cm: the constant width, above 0, at most 2000 cm; points: on the edge, a multiple of 3.
    The polygon's corners lie on the true arcs, so its area and girth are very slightly small.
    Source of its area, (π − √3)/2 of the width squared: [OEIS-A060708]. Of all shapes of that width
    it has the least area [Lebesgue1914], [Blaschke1915].

    >>> shape = reuleaux(40)
    >>> round(shape.taut_girth_cm, 2), round(shape.area_cm2, 1)
    (125.66, 1127.6)
    """
    width = float(diameter(width_cm, "width_cm"))
    count = whole(points, "points", at_least=6, at_most=1_000_000) // 3
    corners = width / np.sqrt(3) * np.exp(1j * np.radians([90.0, 210.0, 330.0]))
    swing = np.arange(count) / count * np.pi / 3
    arcs = [
        corner + width * np.exp(1j * (np.angle(corner) + np.pi - np.pi / 6 + swing))
        for corner in corners
    ]
    edge = np.concatenate(arcs)
    return Outline(np.stack([edge.real, edge.imag], axis=-1))


def with_bump(
    stem: Ellipse, bump_cm: float, bump_deg: float, wide_deg: float, points: int = 720
) -> Outline:
    """An oval with one bump; an invented shape, no model of any knot.

    stem: a single ellipse; bump_cm: how high the bump is, at least 0, at most 2000 (0 for the oval
    itself as an outline); bump_deg: where its top stands, as a direction from the middle;
    wide_deg: to each side of it the bump falls to 1/e of its height, above 0, at most 60; points:
    on the edge, at even angles from the middle.
    The radius is r(θ) + h·exp(−(off/w)²), with r(θ) = ab/√((b cos θ)² + (a sin θ)²).
    Raises MeasureError.

    >>> from mensura.stems import Ellipse
    >>> oval = Ellipse(40, 36)
    >>> round(with_bump(oval, 2.0, 0.0, 5.0).width_cm(0.0) - oval.first_cm, 6)
    2.0
    """
    if stem.shape:
        raise MeasureError("stem", str(stem.shape), "", "a single stem, not an array")
    height = number(bump_cm, "bump_cm", "cm", at_least=0.0, at_most=2000.0)
    width = number(wide_deg, "wide_deg", "deg", above=0.0, at_most=60.0)
    count = whole(points, "points", at_least=3, at_most=50_000)
    angles_deg = np.arange(count) * (360.0 / count)
    turn = np.radians(angles_deg)
    a, b = stem.first_cm / 2, stem.second_cm / 2
    radii = a * b / np.hypot(b * np.cos(turn), a * np.sin(turn))
    off = (angles_deg - number(bump_deg, "bump_deg", "deg") + 180) % 360 - 180
    return from_radii(angles_deg, radii + height * np.exp(-((off / width) ** 2)))
