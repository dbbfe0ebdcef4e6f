"""The taut tape's path: convex hulls of outlines, one or ten thousand in a call (shapely)."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from mensura.checks import FloatArray, plain


def hull_girth_cm(points_cm: FloatArray) -> Any:
    """Perimeter of the convex hull of each outline.

    points_cm: shape (..., n, 2), cm. Returns cm, shape (...).

    >>> elbow = np.array([[0, 0], [2, 0], [2, 1], [1, 1], [1, 2], [0, 2.0]])
    >>> round(hull_girth_cm(elbow), 6)
    7.414214
    """
    import shapely

    return plain(shapely.length(_hulls(points_cm)))


def hull_area_cm2(points_cm: FloatArray) -> Any:
    """Area of the convex hull of each outline.

    points_cm: shape (..., n, 2), cm. Returns cm², shape (...).
    """
    import shapely

    return plain(shapely.area(_hulls(points_cm)))


def hull_points_cm(points_cm: FloatArray) -> FloatArray:
    """Corners of the convex hull of one outline, anticlockwise, not closed.

    points_cm: shape (n, 2), cm. Returns shape (k, 2), cm.
    """
    import shapely

    corners: FloatArray = shapely.get_coordinates(_hulls(points_cm))[:-1]
    return corners if enclosed_area_cm2(corners) > 0 else corners[::-1]


def stand_among(points_cm: FloatArray, others_cm: FloatArray) -> NDArray[np.bool_]:
    """Which of the points are one of the others, to the last digit.

    points_cm: shape (n, 2); others_cm: shape (k, 2); cm. Returns shape (n,). They are sorted and
    not each compared with each, so that fifty thousand take no more room than themselves.

    >>> stand_among(np.array([[0.0, 1.0], [2.0, 3.0]]), np.array([[2.0, 3.0]])).tolist()
    [False, True]
    """
    first, second = (
        np.ascontiguousarray(points).view(np.complex128)[:, 0] for points in (points_cm, others_cm)
    )
    if not second.size:
        return np.zeros(first.size, dtype=np.bool_)
    order = np.sort(second)
    nearest = order[np.minimum(np.searchsorted(order, first), order.size - 1)]
    return np.asarray(nearest == first)


def closed_length_cm(points_cm: FloatArray) -> Any:
    """Length of each closed line through the points.

    points_cm: shape (..., n, 2), cm. Returns cm, shape (...).

    >>> closed_length_cm(np.array([[0, 0], [4, 0], [0, 3.0]]))
    12.0
    """
    steps = points_cm - np.roll(points_cm, 1, axis=-2)
    return plain(np.hypot(steps[..., 0], steps[..., 1]).sum(axis=-1))


def passed_cm(points_cm: FloatArray) -> FloatArray:
    """How far along an open line through the points each of them lies, from the first.

    points_cm: shape (n, 2) or (n, 3), cm. Returns cm, shape (n,).

    >>> passed_cm(np.array([[0, 0], [4, 0], [4, 3.0]])).tolist()
    [0.0, 4.0, 7.0]
    """
    steps = np.sqrt((np.diff(points_cm, axis=0) ** 2).sum(axis=-1))
    return np.concatenate([[0.0], np.cumsum(steps)])


def enclosed_area_cm2(points_cm: FloatArray) -> Any:
    """Signed area of each closed outline by the shoelace formula; anticlockwise is positive.

    points_cm: shape (..., n, 2), cm. Returns cm², shape (...).

    >>> enclosed_area_cm2(np.array([[0, 0], [2, 0], [2, 1.0]]))
    1.0
    """
    # measured from the first corner: far from the origin the products would cancel badly
    x = points_cm[..., 0] - points_cm[..., :1, 0]
    y = points_cm[..., 1] - points_cm[..., :1, 1]
    cross = x[..., :-1] * y[..., 1:] - x[..., 1:] * y[..., :-1]
    return plain(cross.sum(axis=-1) / 2)


def _hulls(points_cm: FloatArray) -> Any:
    import shapely

    return shapely.convex_hull(shapely.linestrings(points_cm))
