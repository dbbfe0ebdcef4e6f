"""Any section as a closed outline of points: the polygon is the section, and all of it is exact.

Nothing is smoothed or fitted. What the points leave out between them, the section leaves out too.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mensura.checks import LARGEST_CM, FloatArray, MeasureError, OutlineError, kept, number, plain
from mensura.stems.hulls import (
    closed_length_cm,
    enclosed_area_cm2,
    hull_area_cm2,
    hull_girth_cm,
    hull_points_cm,
)
from mensura.stems.section import Section, tilt

#: Edges that are tried against all others at a time, to say where an outline crosses itself.
_EDGES_AT_A_TIME = 64


@dataclass(frozen=True, eq=False)
class Outline(Section):
    """A section given by points on its edge, in order, not closed; or an array of sections.

    points_cm: shape (n, 2) or (..., n, 2), n at least 3, cm, no wider than 2000 cm. Either sense
    of turning is taken; it is kept anticlockwise. A last point equal to the first is dropped.
    Raises OutlineError if the edge crosses or touches itself or encloses nothing.

    >>> square = Outline([[0, 0], [40, 0], [40, 40], [0, 40]])
    >>> square.area_cm2, square.taut_girth_cm, round(square.width_cm(45.0), 3)
    (1600.0, 160.0, 56.569)
    """

    points_cm: Any

    def __post_init__(self) -> None:
        points = np.asarray(number(self.points_cm, "points_cm", "cm"))
        if points.ndim < 2 or points.shape[-1] != 2 or not points.size:
            raise OutlineError("an outline needs points of two numbers each, x and y in cm.")
        if points.shape[-2] > 3 and bool(np.all(points[..., 0, :] == points[..., -1, :])):
            points = points[..., :-1, :]
        if points.shape[-2] < 3:
            raise OutlineError(
                f"an outline needs at least 3 different points; got {points.shape[-2]}."
            )
        self._check_size(points)
        area = np.asarray(enclosed_area_cm2(points))
        turned = np.where((area < 0)[..., None, None], points[..., ::-1, :], points)
        object.__setattr__(self, "points_cm", kept(turned))
        self._check_edge(area < 0)

    @staticmethod
    def _check_size(points: FloatArray) -> None:
        size = float((points.max(axis=-2) - points.min(axis=-2)).max())
        if size > LARGEST_CM:
            raise OutlineError(
                f"the outline is {size:.4g} cm wide; expected at most {LARGEST_CM:g} cm (20 m)."
            )

    def _check_edge(self, turned: NDArray[np.bool_]) -> None:
        import shapely

        polygons = shapely.polygons(self.points_cm)
        good = np.asarray(shapely.is_valid(polygons)) & (np.asarray(self.area_cm2) > 0)
        if bool(good.all()):
            return
        place = tuple(int(i) for i in np.argwhere(~good)[0]) if good.ndim else ()
        which = f" number {place[0] + 1}" if place else ""
        edge = self.points_cm[place]
        # points are told in the order in which they were given
        given = edge[::-1] if turned[place] else edge
        fault, points = self._fault(given)
        raise OutlineError(f"the outline{which} {fault}.", points)

    @staticmethod
    def _fault(points: FloatArray) -> tuple[str, tuple[int, ...]]:
        """What is wrong, with {} for each point that is named, and their numbers."""
        import shapely

        edges = np.stack([points, np.roll(points, -1, axis=0)], axis=1)
        lengths = np.hypot(*(edges[:, 1] - edges[:, 0]).T)
        if not lengths.all():
            twice = int(np.argmin(lengths))
            x, y = points[twice]
            return (
                f"has the same point twice, ({x:g}, {y:g}), as {{}} and {{}}; "
                "expected each point once",
                (twice + 1, (twice + 1) % len(points) + 1),
            )
        lines = shapely.linestrings(edges)
        tree = shapely.STRtree(lines)
        # some edges at a time, up to the first fault: a scribble crosses itself a billion times
        for start in range(0, len(points), _EDGES_AT_A_TIME):
            some = lines[start : start + _EDGES_AT_A_TIME]
            first, second = tree.query(some, predicate="intersects")
            first = first + start
            apart = (second - first) % len(points)
            crossing = np.flatnonzero((first < second) & (apart != 1) & (apart != len(points) - 1))
            if crossing.size:
                i, j = int(first[crossing[0]]), int(second[crossing[0]])
                return (
                    "crosses or touches itself: the edge from {} to {} meets the edge from {} to "
                    "{}; expected one closed edge in order",
                    (i + 1, i + 2, j + 1, (j + 1) % len(points) + 1),
                )
        return "turns back on itself or encloses no area; expected one closed edge in order", ()

    @property
    def shape(self) -> tuple[int, ...]:
        """Shape of the array of stems; () for a single one."""
        return tuple(self.points_cm.shape[:-2])

    @property
    def area_cm2(self) -> Any:
        """Area inside the outline, hollows left out, in cm² (shoelace formula)."""
        return enclosed_area_cm2(self.points_cm)

    @cached_property
    def _hull(self) -> FloatArray:
        return kept(hull_points_cm(self.points_cm))

    @property
    def hull_cm(self) -> FloatArray:
        """Corners of the convex hull, anticlockwise, shape (k, 2), in cm; one stem only."""
        if self.shape:
            raise MeasureError("hull_cm", str(self.shape), "", "a single outline, not an array")
        return self._hull

    @property
    def taut_girth_cm(self) -> Any:
        """Perimeter of the convex hull, in cm."""
        return hull_girth_cm(self.points_cm) if self.shape else closed_length_cm(self._hull)

    @property
    def hull_area_cm2(self) -> Any:
        """Area of the convex hull, in cm²."""
        return hull_area_cm2(self.points_cm) if self.shape else enclosed_area_cm2(self._hull)

    def width_cm(self, direction_deg: ArrayLike) -> Any:
        """Reach of the points along `direction_deg`, in cm.

        direction_deg: scalar or array; for a single outline any shape, for an array of outlines
        a shape that broadcasts against it.
        """
        along = self._along(direction_deg)
        return plain(along.max(axis=-1) - along.min(axis=-1))

    def support_cm(self, direction_deg: ArrayLike) -> Any:
        """Reach of the points along `direction_deg` from the origin, in cm.

        direction_deg: as for :meth:`width_cm`.

        >>> Outline([[0, 0], [40, 0], [40, 40], [0, 40]]).support_cm([0.0, 180.0]).tolist()
        [40.0, 0.0]
        """
        return plain(self._along(direction_deg).max(axis=-1) + 0.0)

    def _along(self, direction_deg: ArrayLike) -> FloatArray:
        angle = np.radians(number(direction_deg, "direction_deg", "deg"))
        toward = np.stack([np.cos(angle), np.sin(angle)], axis=-1)
        if self.shape:
            return np.asarray((self.points_cm * toward[..., None, :]).sum(axis=-1))
        return np.asarray(toward @ self._hull.T)

    def scaled(self, factor: ArrayLike) -> Outline:
        """The same shape about the origin, `factor` times as large.

        factor: one number above 0, no unit.
        """
        times = float(number(factor, "factor", "", above=0.0))
        return Outline(self.points_cm * times)

    def oblique_girth_cm(self, tilt_deg: ArrayLike, direction_deg: ArrayLike = 0.0) -> Any:
        """Perimeter in cm of the hull's plane cut tilted by tilt_deg, rising to direction_deg.

        tilt_deg: above −90 and below 90; direction_deg: of steepest rise; both broadcast.
        The cut is the outline stretched by 1/cos(tilt) along that direction, and the hull of a
        stretched outline is the stretched hull.

        >>> square = Outline([[0, 0], [40, 0], [40, 40], [0, 40]])
        >>> round(square.oblique_girth_cm(60.0, 0.0), 6)
        240.0
        """
        slope = np.asarray(tilt(tilt_deg))
        angle = np.radians(np.asarray(number(direction_deg, "direction_deg", "deg")))
        extra = (1 / np.cos(np.radians(slope)) - 1)[..., None]
        cosine, sine = np.cos(angle)[..., None], np.sin(angle)[..., None]
        points = self.points_cm if self.shape else self._hull
        along = extra * (points[..., 0] * cosine + points[..., 1] * sine)
        stretched = np.stack(
            [points[..., 0] + along * cosine, points[..., 1] + along * sine], axis=-1
        )
        # a stretched hull is convex already: only an array of outlines still needs its hulls
        return hull_girth_cm(stretched) if self.shape else closed_length_cm(stretched)

    def under_bark_area_cm2(self, bark_thickness_cm: float) -> Any:
        """Area in cm² of all points deeper than the bark (inner parallel set).

        bark_thickness_cm: even thickness, at least 0 and thin enough to leave wood. Curves about
        hollow corners are drawn by chords: good to a ten-thousandth of the outline's area.

        >>> Outline([[0, 0], [40, 0], [40, 40], [0, 40]]).under_bark_area_cm2(2)
        1296.0
        """
        import shapely

        thickness = float(number(bark_thickness_cm, "bark_thickness_cm", "cm", at_least=0.0))
        if thickness < 1e-9:  # thinner than an atom; the buffer below would lose its footing
            return self.area_cm2
        wood = shapely.polygons(self.points_cm)
        spacing = (
            float(np.min(np.sqrt(4 * np.pi * np.asarray(self.area_cm2)))) / self.points_cm.shape[-2]
        )
        for layer in _layers_cm(thickness, spacing):
            segments = max(int(np.ceil(64 * np.sqrt(layer / thickness))), 4)
            wood = shapely.buffer(wood, -layer, quad_segs=segments)
        area = np.asarray(shapely.area(wood))
        if not area.all():
            raise MeasureError(
                "bark_thickness_cm", thickness, "cm", "a bark thin enough to leave some wood"
            )
        return plain(area)

    def outline_cm(self) -> FloatArray:
        """The points, anticlockwise, shape (..., n, 2), in cm."""
        return np.asarray(self.points_cm)


def _layers_cm(thickness_cm: float, spacing_cm: float) -> list[float]:
    """An even bark as one layer or, where many corners lie within its reach, as ever thicker ones.

    What lies deeper than one layer and then than another lies deeper than both. Thin layers first:
    they take the roughness away, of which a thick one would cross every part with every other.
    """
    if thickness_cm <= 32 * spacing_cm:
        return [thickness_cm]
    layers, left = [], thickness_cm
    layer = 2 * spacing_cm
    while left > 2 * layer:
        layers.append(layer)
        left, layer = left - layer, 2 * layer
    return [*layers, left]


def from_radii(angles_deg: ArrayLike, radii_cm: ArrayLike) -> Outline:
    """An outline from radii measured from one inner point, in any order of the angles.

    angles_deg: n different angles within one turn, anticlockwise from the first axis;
    radii_cm: n lengths above 0 in cm.
    Raises OutlineError where two angles are alike or 180° or more lie empty between neighbours.

    >>> round(from_radii([0, 90, 180, 270], [10, 10, 10, 10]).area_cm2, 6)
    200.0
    """
    angles = np.atleast_1d(number(angles_deg, "angles_deg", "deg"))
    radii = np.atleast_1d(number(radii_cm, "radii_cm", "cm", above=0.0, at_most=LARGEST_CM))
    if angles.shape != radii.shape or angles.ndim != 1:
        raise OutlineError("angles and radii must be two lists of the same length.")
    if len(angles) < 3:
        raise OutlineError(f"an outline needs at least 3 radii; got {len(angles)}.")
    turned = np.mod(angles, 360.0)
    order = np.argsort(turned, kind="stable")
    turned, radii = turned[order], radii[order]
    gaps = np.diff(np.append(turned, turned[0] + 360.0))
    if not gaps.all():
        twice = int(np.argmin(gaps))
        raise OutlineError(
            f"the angle {turned[twice]:g} deg stands twice; expected each angle once."
        )
    if gaps.max() >= 180:
        start = int(np.argmax(gaps))
        raise OutlineError(
            f"no radius lies between {turned[start]:g} and {(turned[start] + gaps.max()) % 360:g} "
            "deg; expected gaps of less than 180 deg, all round the stem."
        )
    around = np.radians(turned)
    return Outline(np.stack([radii * np.cos(around), radii * np.sin(around)], axis=-1))
