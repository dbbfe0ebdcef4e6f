"""Several stems side by side as one section: what a band round all of them reads."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, MeasureError, number, plain
from mensura.stems.ellipse import Ellipse
from mensura.stems.hulls import hull_area_cm2, hull_girth_cm, hull_points_cm
from mensura.stems.section import Section, tilt
from mensura.stems.wrapped import belt_cm

#: Points on each edge when no closed form is known: lengths are short by 3·10⁻⁹ of themselves.
_POINTS = 24_000


@dataclass(frozen=True)
class SeveralStems(Section):
    """Some single sections, each moved to its place; they must not lie in each other.

    sections: one ellipse each; middles_cm: where the middle of each is, (x, y) in cm.
    Raises MeasureError for none, for arrays, and for lists of different lengths.
    """

    sections: tuple[Ellipse, ...]
    middles_cm: tuple[tuple[float, float], ...]

    def __post_init__(self) -> None:
        if not self.sections or len(self.sections) != len(self.middles_cm):
            raise MeasureError("sections", len(self.sections), "", "one middle for each section")
        if any(one.shape for one in self.sections):
            raise MeasureError("sections", "an array", "", "single stems")

    @property
    def shape(self) -> tuple[int, ...]:
        """() : several stems are one section."""
        return ()

    @property
    def area_cm2(self) -> Any:
        """All areas together, in cm²."""
        return float(sum(one.area_cm2 for one in self.sections))

    @property
    def taut_girth_cm(self) -> Any:
        """A taut band round all of them, in cm."""
        if len(self.sections) == 2 and all(one.first_cm == one.second_cm for one in self.sections):
            (x1, y1), (x2, y2) = self.middles_cm
            first, second = (float(one.first_cm) for one in self.sections)
            gap = float(np.hypot(x2 - x1, y2 - y1)) - (first + second) / 2
            if gap >= 0:
                return belt_cm(first, second, gap)
        return hull_girth_cm(self._edges_cm(_POINTS))

    @property
    def hull_area_cm2(self) -> Any:
        """Area inside the taut band, in cm²."""
        return hull_area_cm2(self._edges_cm(_POINTS))

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
        edges = self._edges_cm(_POINTS)
        return hull_girth_cm(edges + (longer - 1) * np.outer(edges @ along, along))

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
