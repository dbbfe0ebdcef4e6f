"""What is marked on a cut besides its edge: the pith, and where wood ends and bark begins."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import MeasureError, number
from mensura.estimates.areas import area_from_girth_cm2, over_percent
from mensura.stems.hulls import closed_length_cm
from mensura.stems.outline import Outline


@dataclass(frozen=True)
class Pith:
    """Where the pith lies on a cut.

    x_cm, y_cm: as the outline has them; off_centre_cm: from the middle of the area; direction_deg:
    towards which; off_centre_percent: in per cent of the radius of a circle of the same area;
    longest_radius_cm, shortest_radius_cm: from the pith to the edge.
    """

    x_cm: float
    y_cm: float
    off_centre_cm: float
    direction_deg: float
    off_centre_percent: float
    longest_radius_cm: float
    shortest_radius_cm: float

    def to_dict(self) -> dict[str, Any]:
        """Plain numbers, ready for JSON; the keys carry the units."""
        return asdict(self)


@dataclass(frozen=True)
class UnderBark:
    """The wood of a cut, and the bark round it.

    true_area_cm2, taut_girth_cm: of the wood; bark_percent: bark in per cent of the whole area;
    mean_bark_cm: the thickness of an even ring of the bark's area between edges as long as these;
    tape_over_percent: of the wood, by a tape on the wood; over_bark_percent: the tape's area over
    the bark, in per cent above the wood's: what is sold as wood if nothing is taken off.
    """

    true_area_cm2: float
    taut_girth_cm: float
    bark_percent: float
    mean_bark_cm: float
    tape_over_percent: float
    over_bark_percent: float


def pith_of(outline: Outline, pith_cm: ArrayLike) -> Pith:
    """Where a pith lies on a cut.

    outline: a single one; pith_cm: x and y as the outline has them, cm. Raises MeasureError for a
    pith that does not lie inside.

    >>> square = Outline([[0, 0], [40, 0], [40, 40], [0, 40]])
    >>> pith = pith_of(square, [23, 24])
    >>> pith.off_centre_cm, round(pith.direction_deg, 2), pith.shortest_radius_cm
    (5.0, 53.13, 16.0)
    """
    import shapely

    place = np.atleast_1d(number(pith_cm, "pith_cm", "cm"))
    if place.shape != (2,):
        raise MeasureError("pith_cm", str(place.tolist()), "", "two numbers, x and y in cm")
    x, y = float(place[0]), float(place[1])
    section, point = shapely.polygons(outline.points_cm), shapely.points(x, y)
    if not shapely.contains_properly(section, point):
        low, high = outline.points_cm.min(axis=0), outline.points_cm.max(axis=0)
        raise MeasureError(
            "pith_cm",
            f"{x:g},{y:g}",
            "",
            f"a place inside the outline, whose x runs from {low[0]:.4g} to {high[0]:.4g} cm and "
            f"whose y from {low[1]:.4g} to {high[1]:.4g} cm",
        )
    middle = shapely.get_coordinates(shapely.centroid(section))[0]
    off = np.array([x, y]) - middle
    apart = float(np.hypot(*off))
    radius = float(np.sqrt(outline.area_cm2 / np.pi))
    return Pith(
        x_cm=x,
        y_cm=y,
        off_centre_cm=apart,
        direction_deg=float(np.degrees(np.arctan2(off[1], off[0]))) % 360.0,
        off_centre_percent=100 * apart / radius,
        longest_radius_cm=float(np.hypot(*(outline.points_cm - [x, y]).T).max()),
        shortest_radius_cm=float(shapely.distance(shapely.boundary(section), point)),
    )


def under_bark_of(outline: Outline, wood: Outline) -> UnderBark:
    """The wood of a cut beside the whole of it.

    outline: over bark; wood: the outline under bark, in the same place, which may touch it.
    Raises MeasureError for a wood that leaves the other.

    >>> bark = Outline([[0, 0], [40, 0], [40, 40], [0, 40]])
    >>> wood = Outline([[2, 2], [38, 2], [38, 38], [2, 38]])
    >>> under = under_bark_of(bark, wood)
    >>> under.bark_percent, under.mean_bark_cm
    (19.0, 2.0)
    """
    import shapely

    whole, inner = (shapely.polygons(one.points_cm) for one in (outline, wood))
    # a wood that runs along the bark's own edge may stand out of it by a last digit
    outside = float(shapely.area(shapely.difference(inner, whole)))
    if outside > 1e-9 * outline.area_cm2:
        raise MeasureError(
            "under_bark", round(outside, 2), "cm²", "nothing: wood that lies inside the bark's edge"
        )
    ring = float(outline.area_cm2 - wood.area_cm2)
    edges = closed_length_cm(outline.points_cm) + closed_length_cm(wood.points_cm)
    return UnderBark(
        true_area_cm2=float(wood.area_cm2),
        taut_girth_cm=float(wood.taut_girth_cm),
        bark_percent=100 * ring / float(outline.area_cm2),
        mean_bark_cm=2 * ring / float(edges),
        tape_over_percent=float(
            over_percent(area_from_girth_cm2(wood.taut_girth_cm), wood.area_cm2)
        ),
        over_bark_percent=float(
            over_percent(area_from_girth_cm2(outline.taut_girth_cm), wood.area_cm2)
        ),
    )
