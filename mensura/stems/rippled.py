"""An oval with a fourth ripple: what a stem can be that looks like an ellipse and is none.

How far it reaches along φ is h(φ) = (the ellipse's reach) + r cos 4φ, so that both axes reach r
farther and the ground half-way between them r less. A ripple has no mean: the taut girth is the
ellipse's own. The radius of curvature is h + h″, the ellipse's less 15 r cos 4φ; the ripple must be
small enough that it stays above 0, and then the section is its own hull.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, MeasureError, kept, number, plain
from mensura.stems.ellipse import Ellipse
from mensura.stems.section import SmoothSection, tilt

#: Directions of the sums over one turn; they hold the axes and the lines half-way between.
_TURN = np.arange(1440) * (2 * np.pi / 1440)
_FOUR = np.cos(4 * _TURN)


def fourth_ripple_cm(oval: Ellipse) -> float:
    """How high the fourth ripple of an ellipse itself is: at most 0, about −(a − b)²/16c₀.

    oval: a single one. Returns (1/π)∫h cos 4φ dφ, the mean of the reach with twice cos 4φ, in cm.

    >>> round(fourth_ripple_cm(Ellipse(60, 48)), 4)
    -0.0831
    """
    return float(2 * np.mean(_reach_cm(oval) * _FOUR))


@dataclass(frozen=True)
class RippledOval(SmoothSection):
    """An ellipse whose reach has a ripple more, r cos 4φ; one stem only.

    oval: a single ellipse; ripple_cm: r, above or below 0, cm: on the axes it is added, half-way
    between them taken off. Raises MeasureError where the edge would not be convex any more.

    >>> stem = RippledOval(Ellipse(60, 48), 0.17)
    >>> round(stem.width_cm(0.0), 2), round(stem.taut_girth_cm, 2), round(stem.area_cm2, 2)
    (60.34, 170.17, 2261.93)
    """

    oval: Ellipse
    ripple_cm: float

    def __post_init__(self) -> None:
        if self.oval.shape:
            raise MeasureError("oval", str(self.oval.shape), "", "a single stem, not an array")
        ripple = float(number(self.ripple_cm, "ripple_cm", "cm"))
        object.__setattr__(self, "ripple_cm", ripple)
        curve = self._oval_curve_cm
        most = float((curve[_FOUR > 0] / (15 * _FOUR[_FOUR > 0])).min())
        least = float((curve[_FOUR < 0] / (15 * _FOUR[_FOUR < 0])).max())
        if not least < ripple < most:
            raise MeasureError(
                "ripple_cm",
                ripple,
                "cm",
                f"above {least:.4g} and below {most:.4g}, or this oval's edge would turn inwards",
            )

    @cached_property
    def _oval_curve_cm(self) -> FloatArray:
        a, b = self.oval.first_cm / 2, self.oval.second_cm / 2
        return kept((a * b) ** 2 / _reach_cm(self.oval) ** 3)

    @cached_property
    def _curve_cm(self) -> FloatArray:
        """Radius of curvature at each of the directions: the edge's length by its turn."""
        return kept(self._oval_curve_cm - 15 * self.ripple_cm * _FOUR)

    @property
    def fourth_cm(self) -> float:
        """The whole fourth ripple, the ellipse's own and the one added, in cm."""
        return fourth_ripple_cm(self.oval) + self.ripple_cm

    @property
    def shape(self) -> tuple[int, ...]:
        """(): a single stem."""
        return ()

    @property
    def area_cm2(self) -> Any:
        """The ellipse's less (15π/2)(all of ripple 4 squared less its own squared), in cm².

        Source: the area in terms of the ripples [Hurwitz1902].
        """
        own = fourth_ripple_cm(self.oval)
        return self.oval.area_cm2 - 7.5 * np.pi * (self.fourth_cm**2 - own**2)

    @property
    def hull_area_cm2(self) -> Any:
        """The same as the area: there is no hollow. cm²."""
        return self.area_cm2

    @property
    def taut_girth_cm(self) -> Any:
        """The ellipse's own girth, in cm: a ripple's mean over one turn is 0."""
        return self.oval.taut_girth_cm

    def width_cm(self, direction_deg: ArrayLike) -> Any:
        """The ellipse's width and 2r cos 4φ, in cm.

        direction_deg: of the measured width; number or array.
        """
        return plain(self.oval.width_cm(direction_deg) + 2 * self._ripple(direction_deg))

    def support_cm(self, direction_deg: ArrayLike) -> Any:
        """Half the width: the section is centred on the origin. cm.

        direction_deg: number or array.
        """
        return self.width_cm(direction_deg) / 2

    def _ripple(self, direction_deg: ArrayLike) -> Any:
        return self.ripple_cm * np.cos(
            4 * np.radians(number(direction_deg, "direction_deg", "deg"))
        )

    def scaled(self, factor: ArrayLike) -> RippledOval:
        """The same shape, `factor` times as large.

        factor: one number above 0, no unit.

        >>> RippledOval(Ellipse(60, 48), 0.2).scaled(0.5).width_cm(0.0)
        30.2
        """
        times = float(number(factor, "factor", "", above=0.0))
        return RippledOval(self.oval.scaled(times), self.ripple_cm * times)

    def oblique_girth_cm(self, tilt_deg: ArrayLike, direction_deg: ArrayLike = 0.0) -> Any:
        """Length in cm of the taut loop in a plane tilted by tilt_deg, rising to direction_deg.

        tilt_deg: above −90 and below 90; direction_deg: of steepest rise; both broadcast.
        The sum over one turn of (h + h″)√(1 + tan² tilt · sin²(φ − direction)).

        >>> round(RippledOval(Ellipse(60, 48), 0.0).oblique_girth_cm(10, 0), 3)
        171.703
        """
        tangent = np.tan(np.radians(tilt(tilt_deg)))
        angle = np.radians(np.asarray(number(direction_deg, "direction_deg", "deg")))
        rise = np.asarray(tangent)[..., None] * np.sin(_TURN - angle[..., None])
        return plain(2 * np.pi * np.mean(self._curve_cm * np.hypot(1.0, rise), axis=-1))

    @property
    def sharpest_curve_cm(self) -> float:
        """Radius of the sharpest curve, in cm."""
        return float(self._curve_cm.min())

    def edge_cm(self, turn_rad: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Points and inward unit normals, where the ellipse has them at `turn_rad`.

        turn_rad: k eccentric angles of the ellipse, in radians, increasing. Returns two arrays of
        shape (k, 2), in cm and without unit. The normal is the ellipse's own; along it the point
        moves out by r cos 4φ, and along the edge by the slope of that, −4r sin 4φ.

        >>> points, inward = RippledOval(Ellipse(60, 48), 0.2).edge_cm(np.array([0.0]))
        >>> points.tolist(), inward.tolist()
        ([[30.2, 0.0]], [[-1.0, 0.0]])
        """
        points, inward = self.oval.edge_cm(turn_rad)
        four = 4 * np.arctan2(-inward[:, 1], -inward[:, 0])
        onward = np.stack([inward[:, 1], -inward[:, 0]], axis=-1)
        out, along = self.ripple_cm * np.cos(four), -4 * self.ripple_cm * np.sin(four)
        moved = points - out[:, None] * inward + along[:, None] * onward
        return moved + 0.0, inward

    def outline_cm(self) -> FloatArray:
        """720 points of the edge, anticlockwise, shape (720, 2), in cm."""
        return self.edge_cm(np.linspace(0.0, 2 * np.pi, 720, endpoint=False, dtype=np.float64))[0]

    @property
    def hull_cm(self) -> FloatArray:
        """The edge itself, shape (720, 2), in cm."""
        return self.outline_cm()


def _reach_cm(oval: Ellipse) -> FloatArray:
    a, b = oval.first_cm / 2, oval.second_cm / 2
    reach: FloatArray = np.hypot(a * np.cos(_TURN), b * np.sin(_TURN))
    return reach
