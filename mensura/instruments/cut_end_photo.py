"""A photograph of a cut end becomes an outline in cm, which then is measured like any other stem.

What was found is only as good as the picture: look at it drawn over the photograph before using a
figure. A wrong place is corrected by hand, by a threshold or by a drawn piece that is added or cut.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mensura.checks import MeasureError, kept, number
from mensura.instruments.photo_edge import found_edge, grey_levels
from mensura.instruments.photo_plane import (
    PhotographError,
    Plane,
    marks_notes,
    plane_by_marks,
    plane_by_scale,
)
from mensura.stems.outline import Outline

#: Half the width of a slit that is closed beside a piece added by hand, in px.
_SLIT_PX = 1.0
#: So much that the corrections part from the section, in parts of what stays, is told.
_LEAST_LOST = 0.002
#: A scale is taken to be as wide as this, or as this part of its length if that is less.
_SCALE_WIDE_CM, _SCALE_WIDE_PART = 2.5, 1 / 8


@dataclass(frozen=True, eq=False)
class Correction:
    """A piece drawn by hand over a photograph.

    way: "add" for wood that was missed, "cut" for what is no wood; points_px: its corners in
    order, shape (n, 2), x to the right and y down.
    """

    way: str
    points_px: Any

    def __post_init__(self) -> None:
        if self.way not in ("add", "cut"):
            raise MeasureError("way", self.way, "", "add or cut")
        points = np.asarray(number(self.points_px, "points_px", "px"))
        if points.ndim != 2 or points.shape[1:] != (2,) or len(points) < 3:
            raise PhotographError(
                "a drawn correction needs at least 3 places of two numbers each, x and y in px.",
                "points_px",
            )
        object.__setattr__(self, "points_px", kept(points))


@dataclass(frozen=True, eq=False)
class FoundOutline:
    """What was found in a photograph.

    outline: in cm, y up, its middle at the origin; edge_px: the same points in the photograph, x
    to the right and y down; threshold: the level between section and ground, in grey levels from
    0 to 255; darker: whether the section is darker than its ground; plane: from the photograph to
    the outline's cm; pith_cm: where the pith was marked, or None; notes: what has to be looked at,
    in sentences without their full stop.
    """

    outline: Outline
    edge_px: Any
    threshold: float
    darker: bool
    plane: Plane
    pith_cm: Any = None
    notes: tuple[str, ...] = ()


def outline_of_photograph(
    picture: NDArray[Any],
    *,
    scale_cm: float | None = None,
    scale_px: ArrayLike | None = None,
    marks_cm: ArrayLike | None = None,
    marks_px: ArrayLike | None = None,
    threshold: float | None = None,
    darker: bool | None = None,
    corrections: Sequence[Correction] = (),
    pith_px: ArrayLike | None = None,
) -> FoundOutline:
    """The outline of the cut end in a photograph.

    picture: rows and columns of grey levels from 0 to 255, or of red, green and blue;
    scale_cm, scale_px: a length and its two ends x1,y1,x2,y2; or marks_cm, marks_px: width and
    height of a rectangle and its four corners in order; threshold: level between section and
    ground, found if None; darker: whether the section is darker than the ground, told by what
    stands along the frame if None; corrections: drawn by hand, in order; pith_px: x,y of the pith.
    Raises PhotographError, MeasureError, in one sentence, for whatever cannot be used.

    >>> y, x = np.mgrid[:200, :200]
    >>> disc = np.where(np.hypot(x - 100, y - 100) < 60, 60, 200).astype(np.uint8)
    >>> found = outline_of_photograph(disc, scale_cm=20, scale_px=[0, 0, 100, 0])
    >>> round(found.outline.area_cm2 / (np.pi * 12**2), 2)
    1.0
    """
    grey = grey_levels(picture)
    notes: tuple[str, ...] = ()
    if marks_px is not None and marks_cm is not None:
        plane = plane_by_marks(marks_px, marks_cm, grey.shape)
        notes = marks_notes(marks_px, marks_cm)
    elif scale_px is not None and scale_cm is not None:
        plane = plane_by_scale(scale_px, scale_cm, grey.shape)
    else:
        raise PhotographError(
            "a photograph has no size of its own; expected a scale, its length in cm and its two "
            "ends, or four marks.",
            "scale_px",
        )
    if threshold is not None:
        threshold = float(number(threshold, "threshold", "", at_least=0.0, at_most=255.0))
    found = found_edge(grey, threshold, darker)
    edge, idle = _corrected(np.asarray(found.edge_px), corrections)
    _check_frame(edge, grey.shape)
    if marks_px is not None and marks_cm is not None:
        if not plane.shows(np.vstack([edge, np.reshape(marks_px, (4, 2))])):
            raise PhotographError(
                "by these marks the cut would reach behind the camera; expected the corners of a "
                "rectangle in the cut's plane.",
                "marks_px",
            )
    else:
        notes = _scale_notes(edge, np.asarray(scale_px, dtype=float).reshape(2, 2), plane)
    middle = np.asarray(_middle(plane.to_cm(edge)))
    plane = plane.moved(middle)
    outline = Outline(plane.to_cm(edge))
    pith = None
    if pith_px is not None:
        at = np.asarray(number(pith_px, "pith_px", "px")).reshape(2)
        pith = kept(plane.to_cm(at))
    return FoundOutline(
        outline, kept(edge), found.threshold, found.darker, plane, pith, (*notes, *idle)
    )


def _corrected(edge_px: Any, corrections: Sequence[Correction]) -> tuple[Any, list[str]]:
    """The edge with what was drawn, and notes on what they do not show."""
    import shapely

    section, idle = shapely.make_valid(shapely.polygons(edge_px)), []
    for one in corrections:
        piece = shapely.make_valid(shapely.polygons(one.points_px))
        x, y = np.asarray(one.points_px)[0]
        away_px = section.distance(piece)
        if one.way == "add":
            if away_px > 2 * _SLIT_PX:
                raise PhotographError(
                    f"the piece added from ({x:g}, {y:g}) does not touch the section, it is "
                    f"{away_px:.0f} px away; expected one that overlaps it.",
                    "add_px",
                )
            section = section.union(piece)
        else:
            if away_px > 0:
                idle.append(f"the piece cut from ({x:g}, {y:g}) takes nothing off the section")
            section = section.difference(piece)
    if any(one.way == "add" for one in corrections):
        # between a found edge and a drawn one a slit may stay, finer than a hand can draw
        section = shapely.buffer(shapely.buffer(section, _SLIT_PX), -_SLIT_PX)
    parts = [one for one in shapely.get_parts(section) if one.geom_type == "Polygon" and one.area]
    if not parts:
        raise PhotographError(
            "the corrections leave nothing of the section; expected some of it.", "corrections"
        )
    largest = max(parts, key=lambda one: one.area)
    if sum(one.area for one in parts) > (1 + _LEAST_LOST) * largest.area:
        idle.append("the corrections part the section, and only the largest part is measured")
    return shapely.get_coordinates(largest.exterior)[:-1], idle


def _scale_notes(edge_px: Any, ends_px: Any, plane: Plane) -> tuple[str, ...]:
    """Says so where the outline comes within a scale's width of the line between its two ends.

    There the scale itself may have been taken for wood or for ground.
    """
    import shapely

    ends_cm = plane.to_cm(ends_px)
    long_cm = float(np.hypot(*(ends_cm[1] - ends_cm[0])))
    edge_cm = plane.to_cm(np.vstack([edge_px, edge_px[:1]]))
    away_cm = shapely.linestrings(edge_cm).distance(shapely.linestrings(ends_cm))
    if away_cm > min(_SCALE_WIDE_CM, _SCALE_WIDE_PART * long_cm):
        return ()
    return (
        "the scale touches the outline: look there "
        f"({away_cm:.1f} cm from the line between its two ends)",
    )


def _check_frame(edge_px: Any, shape_px: Sequence[int]) -> None:
    high, wide = shape_px[:2]
    if (edge_px < 0).any() or (edge_px > np.array([wide - 1, high - 1])).any():
        raise PhotographError(
            "the outline leaves the photograph; expected the whole cut end with ground all round."
        )


def _middle(points_cm: Any) -> Any:
    import shapely

    return shapely.get_coordinates(shapely.centroid(shapely.polygons(points_cm)))[0]
