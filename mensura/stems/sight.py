"""What can be seen of a stem's edge from where somebody stands; the rest hides behind the edge."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mensura.checks import FloatArray, MeasureError, number

#: The part of a line of sight that is looked at: a point does not hide itself.
_SHORT_OF = 1 - 1e-6


def out_of_view(edge_cm: FloatArray, eye_cm: tuple[float, float]) -> NDArray[np.bool_]:
    """Which points of a closed edge cannot be seen from a place outside it.

    edge_cm: points in order, not closed, shape (n, 2), cm; eye_cm: the place, x and y, cm.
    Returns shape (n,). A point is hidden if the line to it meets the edge before.
    Raises MeasureError if the place lies inside the edge.

    >>> square = np.array([[1.0, -1.0], [1.0, 1.0], [-1.0, 1.0], [-1.0, -1.0]])
    >>> out_of_view(square, (0.0, -5.0)).tolist()
    [False, True, True, False]
    """
    import shapely

    edge = np.asarray(number(edge_cm, "edge_cm", "cm"))
    eye = np.asarray(number(eye_cm, "eye_cm", "cm"))
    if shapely.contains_xy(shapely.Polygon(edge), *eye):
        raise MeasureError("eye_cm", str(eye.tolist()), "cm", "a place outside the edge")
    ring = shapely.LinearRing(edge)
    shapely.prepare(ring)
    lines = np.stack([np.broadcast_to(eye, edge.shape), eye + _SHORT_OF * (edge - eye)], axis=1)
    hidden: NDArray[np.bool_] = shapely.intersects(ring, shapely.linestrings(lines))
    return hidden
