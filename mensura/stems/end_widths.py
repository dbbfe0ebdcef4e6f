"""The longest and the shortest width of an outline, to the last digit, whatever its points.

The width along a direction belongs to two corners of the hull, and between two normals of its edges
it is always the same two. So the shortest width stands square to an edge, and the longest is the
distance of two such corners. Corners are sought by their normals, sorted: fifty thousand of them
take a moment, where each against each would not end.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, kept, number
from mensura.stems.outline import Outline


@dataclass(frozen=True)
class EndWidths:
    """The two ends of an outline's widths.

    longest_cm, longest_deg: the longest and its direction; shortest_cm, shortest_deg: the shortest
    and its; directions at least 0 and below 180.
    """

    longest_cm: float
    longest_deg: float
    shortest_cm: float
    shortest_deg: float


class HullWidths:
    """Widths of one outline in many directions.

    outline: a single one.

    >>> square = Outline([[0, 0], [40, 0], [40, 40], [0, 40]])
    >>> HullWidths(square).widths_cm([0, 45]).round(3).tolist()
    [40.0, 56.569]
    """

    def __init__(self, outline: Outline) -> None:
        corners = np.asarray(outline.hull_cm)
        # far from the origin the products would cancel badly
        corners = corners - corners.mean(axis=0)
        edges = np.roll(corners, -1, axis=0) - corners
        normals = np.degrees(np.arctan2(-edges[:, 0], edges[:, 1])) % 360.0
        first = int(np.argmin(normals))
        self._corners = kept(np.roll(corners, -first, axis=0))
        # edges that are nearly one line may stand out of order by a last digit
        self._normals_deg = kept(np.maximum.accumulate(np.roll(normals, -first)))

    def _reaching_cm(self, directions_deg: FloatArray) -> FloatArray:
        """The corner that reaches farthest, for each direction."""
        place = np.searchsorted(self._normals_deg, directions_deg % 360.0)
        return np.asarray(self._corners[place % len(self._corners)])

    def _across_cm(self, directions_deg: FloatArray) -> FloatArray:
        """From the corner at the one jaw to that at the other."""
        return self._reaching_cm(directions_deg) - self._reaching_cm(directions_deg + 180.0)

    def widths_cm(self, directions_deg: ArrayLike) -> FloatArray:
        """Width along each direction, in cm.

        directions_deg: any shape. Returns the same shape.
        """
        directions = np.asarray(number(directions_deg, "directions_deg", "deg"))
        turn, across = np.radians(directions), self._across_cm(directions)
        return np.asarray(across[..., 0] * np.cos(turn) + across[..., 1] * np.sin(turn))

    def ends(self) -> EndWidths:
        """The longest and the shortest width."""
        square = np.unique(self._normals_deg % 180.0)
        widths = self.widths_cm(square)
        least = int(np.argmin(widths))
        # between two normals the corners are the same: the middle between them finds each pair
        between = (square + np.append(square[1:], square[0] + 180.0)) / 2
        pairs = self._across_cm(between)
        lengths = np.hypot(pairs[:, 0], pairs[:, 1])
        most = int(np.argmax(lengths))
        turned = float(np.degrees(np.arctan2(pairs[most, 1], pairs[most, 0]))) % 180.0
        return EndWidths(
            float(lengths[most]),
            0.0 if turned > 180.0 - 1e-9 else turned,
            float(widths[least]),
            float(square[least]),
        )


def end_widths(outline: Outline) -> EndWidths:
    """The longest and the shortest width of an outline.

    outline: a single one.

    >>> ends = end_widths(Outline([[0, 0], [40, 0], [40, 30], [0, 30]]))
    >>> ends.longest_cm, round(ends.longest_deg, 2), ends.shortest_cm, ends.shortest_deg
    (50.0, 36.87, 30.0, 90.0)
    """
    return HullWidths(outline).ends()
