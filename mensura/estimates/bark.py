"""From over bark to under bark: what is bought as wood is less than what the tape went round.

A bark of even thickness t round convex wood makes the girth 2πt longer, whatever the shape of the
wood. So the tape's diameter over bark less 2t is the tape's diameter under bark, exactly. Ridges
and furrows break the evenness: the tape rides the ridges and touches little else.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, MeasureError, diameter, number, plain
from mensura.stems.ellipse import Ellipse
from mensura.stems.hulls import closed_length_cm, stand_among
from mensura.stems.section import Section


def under_bark_diameter_cm(over_bark_cm: ArrayLike, bark_thickness_cm: ArrayLike) -> Any:
    """Diameter under bark, d − 2t.

    over_bark_cm: tape's diameter over bark (girth/π), above 0, cm; bark_thickness_cm: from the
    ridge tops to the wood, at least 0, cm; they broadcast. Returns cm.
    Exact for even bark on any convex wood [Steiner1840]; on furrowed bark the tape cuts a little
    off the ridges, so the result is a little small. Raises MeasureError if no wood is left.

    >>> round(under_bark_diameter_cm(44.0, 1.5), 2)
    41.0
    """
    over = diameter(over_bark_cm, "over_bark_cm")
    thickness = number(bark_thickness_cm, "bark_thickness_cm", "cm", at_least=0.0)
    under = over - 2 * thickness
    if np.any(np.asarray(under) <= 0):
        raise MeasureError(
            "bark_thickness_cm", float(np.max(thickness)), "cm", "less than half the diameter"
        )
    return plain(under)


def bark_factor(over_bark_cm: ArrayLike, under_bark_cm: ArrayLike) -> Any:
    """Bark factor: diameter under bark over diameter over bark.

    over_bark_cm, under_bark_cm: diameters of the same stems, above 0, cm, under at most over; they
    broadcast. Returns a ratio, at most 1. Common practice, no source: it is averaged over sample
    stems and used on others of the same species, site and size.

    >>> round(bark_factor(44.0, 41.0), 4)
    0.9318
    """
    over = diameter(over_bark_cm, "over_bark_cm")
    under = diameter(under_bark_cm, "under_bark_cm")
    if np.any(np.asarray(under) > np.asarray(over)):
        raise MeasureError(
            "under_bark_cm", float(np.max(under)), "cm", "at most the diameter over bark"
        )
    return plain(under / over)


def under_bark_from_factor_cm(over_bark_cm: ArrayLike, factor_percent: ArrayLike) -> Any:
    """Diameter under bark of a stem whose bark nobody measured: d·k.

    over_bark_cm: above 0, cm; factor_percent: 100 times the bark factor k of sample stems, above 0
    and at most 100; they broadcast. Returns cm. Assumes that this stem's bark is a share of its
    diameter, and the same share as the sample's.

    >>> round(under_bark_from_factor_cm(30.0, 93.0), 2)
    27.9
    """
    over = diameter(over_bark_cm, "over_bark_cm")
    factor = number(factor_percent, "factor_percent", "%", above=0.0, at_most=100.0)
    return plain(over * factor / 100)


def bark_area_percent(over_bark_cm: ArrayLike, under_bark_cm: ArrayLike) -> Any:
    """Share of the sectional area that is bark, 100·(1 − (u/d)²); furrows counted as bark.

    over_bark_cm, under_bark_cm: diameters d and u, as for :func:`bark_factor`. Returns per cent.
    It is the share of the volume too, where the bark factor is the same all along the stem.

    >>> round(bark_area_percent(40.0, 36.0), 6), round(bark_area_percent(40.0, 34.0), 6)
    (19.0, 27.75)
    """
    factor = bark_factor(over_bark_cm, under_bark_cm)
    return plain(100 * (1 - np.square(factor)))


def touched_parts_cm(section: Section) -> FloatArray:
    """The pieces of the bark's edge that a level, taut tape really touches.

    section: one stem. Returns their ends, shape (k, 2, 2), cm. Those sides of the outline that lie
    on its convex hull. Bark is rigid and the tape thin: our assumption.

    >>> from mensura.stems import Outline
    >>> elbow = Outline([[0, 0], [2, 0], [2, 1], [1, 1], [1, 2], [0, 2]])
    >>> touched_parts_cm(elbow).shape
    (4, 2, 2)
    """
    edge, hull = _edge_and_hull_cm(section)
    sides = np.stack([edge, np.roll(edge, -1, axis=0)], axis=1)
    if isinstance(section, Ellipse):
        return sides
    # the edge runs from corner to corner of its hull, so a side can touch only the hull's side
    # that spans its own piece
    corner = np.flatnonzero(stand_among(edge, hull))
    piece = np.searchsorted(corner, np.arange(len(edge)), side="right") - 1
    start, end = edge[corner[piece]], edge[corner[(piece + 1) % len(corner)]]
    along = end - start
    outward = np.column_stack([along[:, 1], -along[:, 0]]) / np.hypot(*along.T)[:, None]
    inside = ((start[:, None] - sides) * outward[:, None]).sum(axis=2)
    touched: FloatArray = sides[(inside < 1e-9 * np.ptp(edge, axis=0).max()).all(axis=1)]
    return touched


def touched_cm(section: Section, parts_cm: FloatArray | None = None) -> Any:
    """Length of the bark's edge that a level, taut tape really touches, in cm.

    section: one stem, as for :func:`touched_parts_cm`; parts_cm: what that gave of it, where it is
    known. A smooth oval is touched all round.

    >>> from mensura.stems import Outline
    >>> elbow = Outline([[0, 0], [2, 0], [2, 1], [1, 1], [1, 2], [0, 2]])
    >>> touched_cm(elbow)
    6.0
    """
    if isinstance(section, Ellipse) and not section.shape:
        return float(section.taut_girth_cm)
    parts = touched_parts_cm(section) if parts_cm is None else parts_cm
    step = np.diff(parts, axis=1)[:, 0]
    return float(np.hypot(step[:, 0], step[:, 1]).sum())


def touched_percent(section: Section, parts_cm: FloatArray | None = None) -> Any:
    """Share of the bark's edge, down into its furrows and up again, that the taut tape touches.

    section: one stem; parts_cm: as :func:`touched_cm` takes them. Returns per cent. Calipers touch
    two points: next to nothing.

    >>> from mensura.stems import Outline
    >>> elbow = Outline([[0, 0], [2, 0], [2, 1], [1, 1], [1, 2], [0, 2]])
    >>> touched_percent(elbow), touched_percent(Ellipse(44, 40))
    (75.0, 100.0)
    """
    if isinstance(section, Ellipse) and not section.shape:
        return 100.0
    edge, _ = _edge_and_hull_cm(section)
    return 100 * touched_cm(section, parts_cm) / float(closed_length_cm(edge))


def tape_on_bark_percent(section: Section, parts_cm: FloatArray | None = None) -> Any:
    """Share of the taut tape's own length that lies on bark; the rest bridges furrows and hollows.

    section: one stem; parts_cm: as :func:`touched_cm` takes them. Returns per cent.

    >>> from mensura.stems import Outline
    >>> elbow = Outline([[0, 0], [2, 0], [2, 1], [1, 1], [1, 2], [0, 2]])
    >>> round(tape_on_bark_percent(elbow), 2)
    80.93
    """
    return 100 * touched_cm(section, parts_cm) / float(section.taut_girth_cm)


def _edge_and_hull_cm(section: Section) -> tuple[FloatArray, FloatArray]:
    if section.shape:
        raise MeasureError("section", str(section.shape), "", "a single stem, not an array")
    return section.outline_cm(), section.hull_cm
