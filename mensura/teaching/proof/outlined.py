"""One outline as the lines of the third road speak of it: its girth, its hull, its ripples' sum.

A sum over all ripples stands here as far as it is taken: it illustrates and proves nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from mensura.estimates.areas import area_from_girth_cm2
from mensura.stems.outline import Outline
from mensura.stems.ripples import OutlineTerms, outline_terms


@dataclass(frozen=True, eq=False)
class Outlined:
    """An outline, how many of its ripples are summed, and how calipers are turned on it.

    section: the outline; terms: ripples, a count; turn_deg: of the calipers.

    >>> from mensura.stems import Outline
    >>> square = Outlined(Outline([[-20, -20], [20, -20], [20, 20], [-20, 20]]), 12, 0.0)
    >>> round(square.hull_cm2), round(square.deficit_cm2)
    (1600, 5494)
    """

    section: Outline
    terms: int
    turn_deg: float

    @cached_property
    def series(self) -> OutlineTerms:
        """The ripples of its hull, as far as they are summed."""
        return outline_terms(self.section, self.terms)

    @property
    def girth_cm(self) -> float:
        """P, what a taut tape reads, cm."""
        return float(self.section.taut_girth_cm)

    @property
    def true_cm2(self) -> float:
        """A, the area of the wood, cm²."""
        return float(self.section.area_cm2)

    @property
    def hull_cm2(self) -> float:
        """The area of its hull, hollows included, cm²."""
        return float(self.section.hull_area_cm2)

    @property
    def circle_cm2(self) -> float:
        """What a tape concludes: the area of the circle with that girth, cm²."""
        return float(area_from_girth_cm2(self.girth_cm))

    @property
    def deficit_cm2(self) -> float:
        """P² − 4πA_hull, cm²."""
        return self.girth_cm**2 - 4 * np.pi * self.hull_cm2

    @property
    def lost_cm2(self) -> float:
        """What the ripples so far take from the circle's area, cm²."""
        return float(self.series.lost_cm2.sum())

    @cached_property
    def triangles_cm2(self) -> float:
        """½∫h(h + h″): thin triangles from the origin, one for each edge of the hull, cm²."""
        hull = self.section.hull_cm
        edges = np.roll(hull, -1, axis=0) - hull
        return float((hull[:, 0] * edges[:, 1]).sum() - (hull[:, 1] * edges[:, 0]).sum()) / 2

    @property
    def width_cm(self) -> float:
        """What calipers read, cm."""
        return float(self.section.width_cm(self.turn_deg))

    @property
    def reach_cm(self) -> float:
        """How far the hull reaches one way and the other, cm."""
        there, back = self.turn_deg, self.turn_deg + 180
        return float(self.section.support_cm(there)) + float(self.section.support_cm(back))

    @property
    def jaws_cm2(self) -> float:
        """What one reading of the calipers concludes, πw²/4, cm²."""
        return float(np.pi * self.width_cm**2 / 4)
