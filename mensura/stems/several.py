"""Several stems side by side as one section: what a band round all of them reads.

A taut band goes where the stem that reaches farthest is, direction by direction; its length is the
integral of that reach over a full turn (Cauchy), and the area inside half the integral of reach
times curvature, with the straight pieces between two stems added. Both are worked out piece by
piece, between the directions in which one stem takes over from another, to twelve digits.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, MeasureError, number, plain
from mensura.stems.ellipse import Ellipse
from mensura.stems.hulls import hull_points_cm
from mensura.stems.section import Section, tilt
from mensura.stems.wrapped import belt_cm

#: Directions that are tried for where one stem takes over from another, and pieces of a turn, each
#: integrated by Gauss's rule.
_TRIED, _PIECES = 720, 48
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(16)


@dataclass(frozen=True)
class SeveralStems(Section):
    """Some single sections, each moved to its place.

    sections: one ellipse each; middles_cm: where the middle of each is, (x, y) in cm.
    Where two lie in each other, what they share is wood once. Raises MeasureError for none, for
    arrays, for places that are no numbers, and for lists of different lengths.

    >>> two = SeveralStems((Ellipse(25.0, 25.0), Ellipse(22.0, 22.0)), ((0.0, 0.0), (29.5, 0.0)))
    >>> round(two.taut_girth_cm, 5), two.width_cm(0.0)
    (132.90371, 53.0)
    """

    sections: tuple[Ellipse, ...]
    middles_cm: tuple[tuple[float, float], ...]

    def __post_init__(self) -> None:
        if not self.sections or len(self.sections) != len(self.middles_cm):
            raise MeasureError("sections", len(self.sections), "", "one middle for each section")
        if any(one.shape for one in self.sections):
            raise MeasureError("sections", "an array", "", "single stems")
        if np.shape(number(self.middles_cm, "middles_cm", "cm")) != (len(self.sections), 2):
            raise MeasureError("middles_cm", str(self.middles_cm), "cm", "an x and a y for each")

    @property
    def shape(self) -> tuple[int, ...]:
        """() : several stems are one section."""
        return ()

    @property
    def area_cm2(self) -> Any:
        """All areas together, in cm²; what two of them share, once."""
        if self._apart():
            return float(sum(one.area_cm2 for one in self.sections))
        import shapely

        edges = [
            shapely.Polygon(one.outline_cm(14_400) + np.asarray(middle))
            for one, middle in zip(self.sections, self.middles_cm, strict=True)
        ]
        return float(shapely.area(shapely.union_all(edges)))

    @property
    def taut_girth_cm(self) -> Any:
        """A taut band round all of them, in cm; round two circles the belt's closed form."""
        if len(self.sections) == 2 and all(one.first_cm == one.second_cm for one in self.sections):
            (x1, y1), (x2, y2) = self.middles_cm
            first, second = (float(one.first_cm) for one in self.sections)
            gap = float(np.hypot(x2 - x1, y2 - y1)) - (first + second) / 2
            if gap >= 0:
                return belt_cm(first, second, gap)
        return self._taut(np.eye(2))[0]

    @property
    def hull_area_cm2(self) -> Any:
        """Area inside the taut band, in cm²."""
        return self._taut(np.eye(2))[1]

    def width_cm(self, direction_deg: ArrayLike) -> Any:
        """Width over all of them, in cm.

        direction_deg: of the measured width.
        """
        turn = np.asarray(number(direction_deg, "direction_deg", "deg"))
        return plain(self.support_cm(turn) + self.support_cm(turn + 180.0))

    def support_cm(self, direction_deg: ArrayLike) -> Any:
        """How far they reach along a direction, in cm.

        direction_deg: from the first axis.
        """
        turn = np.asarray(number(direction_deg, "direction_deg", "deg"))
        cosine, sine = np.cos(np.radians(turn)), np.sin(np.radians(turn))
        reach = [
            np.asarray(one.support_cm(turn)) + x * cosine + y * sine
            for one, (x, y) in zip(self.sections, self.middles_cm, strict=True)
        ]
        return plain(np.max(np.stack(reach), axis=0))

    def scaled(self, factor: ArrayLike) -> SeveralStems:
        """All of them, and their distances, `factor` times as large.

        factor: a number above 0.
        """
        times = float(number(factor, "factor", "", above=0.0))
        return SeveralStems(
            tuple(one.scaled(times) for one in self.sections),
            tuple((times * x, times * y) for x, y in self.middles_cm),
        )

    def oblique_girth_cm(self, tilt_deg: ArrayLike, direction_deg: ArrayLike = 0.0) -> Any:
        """Length in cm of the taut loop in a tilted plane.

        tilt_deg: above −90 and below 90; direction_deg: of steepest rise; single numbers.
        """
        longer = 1 / np.cos(np.radians(float(tilt(tilt_deg))))
        turn = np.radians(float(number(direction_deg, "direction_deg", "deg")))
        along = np.array([np.cos(turn), np.sin(turn)])
        return self._taut(np.eye(2) + (longer - 1) * np.outer(along, along))[0]

    def under_bark_area_cm2(self, bark_thickness_cm: float) -> Any:
        """All areas inside an even bark, in cm².

        bark_thickness_cm: on each of them.
        """
        return float(sum(one.under_bark_area_cm2(bark_thickness_cm) for one in self.sections))

    def outline_cm(self) -> FloatArray:
        """The way of the taut band, in cm."""
        return self.hull_cm

    @property
    def hull_cm(self) -> FloatArray:
        """The way of the taut band, in cm."""
        return hull_points_cm(self._edges_cm(720))

    def _edges_cm(self, points: int) -> FloatArray:
        return np.concatenate(
            [
                one.outline_cm(points) + np.asarray(middle)
                for one, middle in zip(self.sections, self.middles_cm, strict=True)
            ]
        )

    def _apart(self) -> bool:
        """Whether a straight line parts any two of them; touching is apart."""
        if len(self.sections) == 1:
            return True
        axes, middles = self._axes(), np.asarray(self.middles_cm, float)
        first, second = np.triu_indices(len(axes), 1)
        turn = np.arange(_TRIED) * 2 * np.pi / _TRIED
        between = np.arctan2(*(middles[second] - middles[first]).T[::-1])
        turn = np.concatenate([turn, between])
        way = np.stack([np.cos(turn), np.sin(turn)])
        half = np.sqrt(axes**2 @ way**2)
        gap = (middles[second] - middles[first]) @ way - half[first] - half[second]
        return bool((gap.max(axis=1) >= -1e-9 * axes.max()).all())

    def _axes(self) -> FloatArray:
        return np.array([[float(one.first_cm), float(one.second_cm)] for one in self.sections]) / 2

    def _taut(self, stretch: FloatArray) -> tuple[float, float]:
        """Length of the taut band and the area inside it, all of it stretched first."""
        axes, middles = self._axes(), np.asarray(self.middles_cm, float)

        def far(turn: FloatArray) -> FloatArray:
            way = stretch @ np.stack([np.cos(turn), np.sin(turn)])
            return np.asarray(np.sqrt(axes**2 @ way**2) + middles @ way)

        def reach(turn: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
            """Each stem's reach, its reach's slope, and its radius of curvature."""
            way = stretch @ np.stack([np.cos(turn), np.sin(turn)])
            slope = stretch @ np.stack([-np.sin(turn), np.cos(turn)])
            half = np.sqrt(axes**2 @ way**2)
            size = float(np.linalg.det(stretch)) * axes.prod(axis=1, keepdims=True)
            return (
                half + middles @ way,
                axes**2 @ (way * slope) / half + middles @ slope,
                size**2 / half**3,
            )

        tried = 0.1 + np.arange(_TRIED + 1) * 2 * np.pi / _TRIED
        farthest = np.argmax(far(tried), axis=0)
        changes = np.flatnonzero(farthest[:-1] != farthest[1:])
        one, other = farthest[changes], farthest[changes + 1]
        low, high, each = tried[changes], tried[changes + 1], np.arange(len(changes))
        for _ in range(34):
            middle = (low + high) / 2
            reaches = far(middle)
            still = reaches[one, each] > reaches[other, each]
            low, high = np.where(still, middle, low), np.where(still, high, middle)
        cuts = 0.1 + np.arange(_PIECES + 1) * 2 * np.pi / _PIECES
        cuts = np.sort(np.concatenate([cuts, low]))
        half, middle = np.diff(cuts) / 2, (cuts[1:] + cuts[:-1]) / 2
        which = np.argmax(far(middle), axis=0)
        turn = (middle[:, None] + half[:, None] * _NODES).ravel()
        pick = (np.repeat(which, len(_NODES)), np.arange(len(turn)))
        away, _, curve = (part[pick] for part in reach(turn))
        weight = (half[:, None] * _WEIGHTS).ravel()
        at_cut, slopes, _ = reach(low)
        straight = np.abs(slopes[other, each] - slopes[one, each])
        inside = weight @ (away * curve) + straight @ at_cut[one, each]
        return float(weight @ away), float(inside) / 2
