"""Ready outlines with a lesson in them: the constant-width shape that no calipers can find out."""

from __future__ import annotations

import numpy as np

from mensura.checks import diameter, whole
from mensura.stems.outline import Outline


def reuleaux(width_cm: float, points: int = 1200) -> Outline:
    """A Reuleaux triangle: calipers read the same in every direction, yet it is no circle.

    width_cm: the constant width, above 0, at most 2000 cm; points: on the edge, a multiple of 3.
    The polygon's corners lie on the true arcs, so its area and girth are very slightly small.
    Source of its area, (π − √3)/2 of the width squared: [OEIS-A060708].

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
