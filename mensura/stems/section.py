"""What every cross-section of a stem can tell, whatever its shape.

A tape pulled tight reads the perimeter of the convex hull (the *taut girth*); calipers read a
*width*, the distance of two parallel supporting lines. Neither sees a hollow. Angles run
anticlockwise from the first axis, in degrees; lengths are in cm.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, MeasureError, number


class Section(ABC):
    """A cross-section, or an array of them; every number has the shape :attr:`shape`."""

    @property
    @abstractmethod
    def shape(self) -> tuple[int, ...]:
        """Shape of the array of stems; () for a single one."""

    @property
    @abstractmethod
    def area_cm2(self) -> Any:
        """True sectional area in cm²: wood and bark, hollows left out."""

    @property
    @abstractmethod
    def taut_girth_cm(self) -> Any:
        """What a level tape pulled tight reads, in cm: the perimeter of the convex hull."""

    @property
    @abstractmethod
    def hull_area_cm2(self) -> Any:
        """Area inside the taut tape in cm²; hollows and furrows count as wood."""

    @abstractmethod
    def width_cm(self, direction_deg: ArrayLike) -> Any:
        """Distance of the two supporting lines across `direction_deg`, in cm (parallel jaws)."""

    @abstractmethod
    def support_cm(self, direction_deg: ArrayLike) -> Any:
        """How far the section reaches along `direction_deg` from the origin, in cm."""

    @abstractmethod
    def scaled(self, factor: ArrayLike) -> Section:
        """The same shape, `factor` times as large in every direction."""

    @abstractmethod
    def oblique_girth_cm(self, tilt_deg: ArrayLike, direction_deg: ArrayLike = 0.0) -> Any:
        """Length in cm of the taut loop in a plane tilted by tilt_deg, rising to direction_deg."""

    @abstractmethod
    def under_bark_area_cm2(self, bark_thickness_cm: float) -> Any:
        """Area in cm² inside an even bark of `bark_thickness_cm`."""

    @abstractmethod
    def outline_cm(self) -> FloatArray:
        """Points of the edge, anticlockwise, shape (..., n, 2), in cm; for drawing and hulls."""

    @property
    @abstractmethod
    def hull_cm(self) -> FloatArray:
        """Points of the taut tape's path, anticlockwise, shape (n, 2), in cm; one stem only."""


class SmoothSection(Section):
    """A section whose edge bends everywhere outwards, so that an even layer can lie on it."""

    @property
    @abstractmethod
    def sharpest_curve_cm(self) -> float:
        """Radius of the sharpest curve, in cm; of an array of stems, the least of all."""

    def below_sharpest_curve_cm(self, value_cm: float, field: str) -> float:
        """A depth that has been checked: from 0 to below the radius of the sharpest curve.

        value_cm: the depth; field: what it is called. Raises MeasureError for another.

        >>> from mensura.stems import Ellipse
        >>> Ellipse(60, 48).below_sharpest_curve_cm(2, "bark_thickness_cm")
        2.0
        """
        depth = float(number(value_cm, field, "cm", at_least=0.0))
        limit = self.sharpest_curve_cm
        if depth >= limit:
            raise MeasureError(
                field,
                depth,
                "cm",
                f"less than the radius of the stem's sharpest curve, {limit:.4g}",
            )
        return depth

    def under_bark_area_cm2(self, bark_thickness_cm: float) -> Any:
        """Area inside an even bark, A − P·t + π·t² in cm² (Steiner's formula, inwards).

        bark_thickness_cm: thickness t, from 0 to below the sharpest curve's radius; a thicker even
        layer cannot lie on the stem, and is refused. Source: [Steiner1840].

        >>> from mensura.stems import Ellipse
        >>> round(Ellipse(60, 60).under_bark_area_cm2(2.0), 3)
        2463.009
        """
        thickness = self.below_sharpest_curve_cm(bark_thickness_cm, "bark_thickness_cm")
        return self.area_cm2 - self.taut_girth_cm * thickness + np.pi * thickness**2


def widths_cm(section: Section, directions_deg: ArrayLike) -> FloatArray:
    """Widths of every stem of a section in every direction.

    section: any section, of shape S; directions_deg: one dimension, k directions.
    Returns cm, shape S + (k,).

    >>> from mensura.stems import Ellipse
    >>> widths_cm(Ellipse(60, 48), [0, 90]).round(3)
    array([60., 48.])
    """
    directions = np.atleast_1d(number(directions_deg, "directions_deg", "deg"))
    if not section.shape:
        return np.asarray(section.width_cm(directions))
    return np.stack([np.asarray(section.width_cm(float(d))) for d in directions], axis=-1)


def tilt(tilt_deg: ArrayLike) -> Any:
    """A tilt that has been checked: above −90° and below 90°.

    tilt_deg: number or array in degrees.
    """
    return number(tilt_deg, "tilt_deg", "deg", above=-90.0, below=90.0)
