"""How a figure answers to its inputs: slopes and bends of a model, by careful differences.

Central differences at two steps are put together so that their leading error falls out
(Richardson 1911, from memory). A step is a part of the input's own doubt: near enough for the
model to be smooth, far enough for the figures of a computer.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from mensura.checks import FloatArray

#: A step as a share of the standard uncertainty, and at least as a share of the estimate.
OF_SPREAD, OF_PLACE = 0.25, 1e-4


def _steps(places: FloatArray, spreads: FloatArray) -> FloatArray:
    least = np.maximum(np.abs(places), np.where(spreads > 0, 0.0, 1.0)) * OF_PLACE
    return np.maximum(spreads * OF_SPREAD, least)


def slopes_of(model: Callable[..., Any], places: FloatArray, spreads: FloatArray) -> FloatArray:
    """The sensitivities: figure for each unit of each input, at the estimates.

    model: from arrays of the inputs, or numbers, to the figure; places: the estimates, shape (n,);
    spreads: their standard uncertainties, which set the steps.

    >>> slopes_of(lambda x, y: x * y**2, np.array([3.0, 2.0]), np.array([0.1, 0.1])).round(9)
    array([ 4., 12.])
    """
    steps = _steps(places, spreads)
    count = len(places)
    away = np.eye(count)[:, None, :] * steps * np.array([1.0, -1.0, 0.5, -0.5])[None, :, None]
    points = (places + away).reshape(-1, count)
    # a model may well take no notice of an input
    found = np.broadcast_to(np.asarray(model(*points.T), dtype=np.float64), (4 * count,))
    up, down, half_up, half_down = found.reshape(count, 4).T
    # the steps as the computer could write them
    step = (away + places - places)[np.arange(count), :, np.arange(count)]
    wide = (up - down) / (step[:, 0] - step[:, 1])
    narrow = (half_up - half_down) / (step[:, 2] - step[:, 3])
    return np.asarray((4 * narrow - wide) / 3)


def next_terms(model: Callable[..., Any], places: FloatArray, spreads: FloatArray) -> float:
    """The variance that the next terms of the series add for independent inputs.

    model, places, spreads: as for :func:`slopes_of`. Returns the square of the figure's unit. The
    sum over all pairs of (½·f_ij² + f_i·f_ijj)·u_i²·u_j², for normal inputs
    [GUM1995, clause 5.1.2, note].

    >>> round(next_terms(lambda x: x**2, np.array([10.0]), np.array([1.0])), 6)
    2.0
    """
    steps = _steps(places, spreads)
    count = len(places)
    grid = np.array([-1.0, 0.0, 1.0])
    total = 0.0
    slopes = slopes_of(model, places, spreads)
    middle = float(model(*places))
    for i in range(count):
        for j in range(count):
            if i == j:
                ends = [_at(model, places, {i: way * steps[i]}) for way in (-2.0, -1.0, 1.0, 2.0)]
                twice = (ends[1] - 2 * middle + ends[2]) / steps[i] ** 2
                thrice = (ends[3] - 2 * ends[2] + 2 * ends[1] - ends[0]) / (2 * steps[i] ** 3)
            else:
                at = np.array(
                    [
                        [_at(model, places, {i: a * steps[i], j: b * steps[j]}) for b in grid]
                        for a in grid
                    ]
                )
                twice = (at[2, 2] - at[2, 0] - at[0, 2] + at[0, 0]) / (4 * steps[i] * steps[j])
                bends = at[:, 0] - 2 * at[:, 1] + at[:, 2]
                thrice = (bends[2] - bends[0]) / (2 * steps[i] * steps[j] ** 2)
            total += (0.5 * twice**2 + slopes[i] * thrice) * (spreads[i] * spreads[j]) ** 2
    return float(total)


def _at(model: Callable[..., Any], places: FloatArray, off: dict[int, float]) -> float:
    moved = places.copy()
    for place, by in off.items():
        moved[place] += by
    return float(model(*moved))
