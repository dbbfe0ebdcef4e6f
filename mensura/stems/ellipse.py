"""The ellipse and the circle, exactly: the perimeter goes through the complete elliptic integral.

P = 4a·E(m) with a the first half-axis and m = 1 − (b/a)² [AS1964, 17.3.3]; the classroom's square
root is never used here. All formulas work for one stem or for a million at once.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, MeasureError, diameter, number, plain, whole
from mensura.stems.section import SmoothSection, tilt


@dataclass(frozen=True)
class Ellipse(SmoothSection):
    """An elliptical section from its two diameters; either may be the longer one.

    first_cm: diameter along the first axis, cm; second_cm: along the second axis, cm.
    Numbers or arrays that broadcast; above 0, at most 2000 cm.
    Raises MeasureError for anything else. Source: [AS1964] for the perimeter.

    >>> stem = Ellipse(60, 48)
    >>> round(stem.area_cm2, 3), round(stem.taut_girth_cm, 4)
    (2261.947, 170.1700)
    """

    first_cm: Any
    second_cm: Any

    def __post_init__(self) -> None:
        first = diameter(self.first_cm, "first_cm")
        second = diameter(self.second_cm, "second_cm")
        try:
            np.broadcast_shapes(np.shape(first), np.shape(second))
        except ValueError:
            raise MeasureError(
                "second_cm",
                f"an array of shape {np.shape(second)}",
                "",
                f"as many as first_cm has, shape {np.shape(first)}",
            ) from None
        object.__setattr__(self, "first_cm", first)
        object.__setattr__(self, "second_cm", second)

    @property
    def shape(self) -> tuple[int, ...]:
        """Shape of the array of stems; () for a single one."""
        return np.broadcast_shapes(np.shape(self.first_cm), np.shape(self.second_cm))

    @property
    def area_cm2(self) -> Any:
        """π/4·d₁d₂, in cm²."""
        return np.pi / 4 * self.first_cm * self.second_cm

    @property
    def hull_area_cm2(self) -> Any:
        """The same as the area: an ellipse has no hollow. cm²."""
        return self.area_cm2

    @property
    def taut_girth_cm(self) -> Any:
        """Exact perimeter 4a·E(1 − (b/a)²), in cm [AS1964]."""
        return ellipse_girth_cm(self.first_cm, self.second_cm)

    def width_cm(self, direction_deg: ArrayLike) -> Any:
        """Width √((d₁cos θ)² + (d₂sin θ)²) in cm.

        direction_deg: direction of the measured width; broadcasts against the stems.
        Source: supporting lines of an ellipse (closed form).

        >>> round(Ellipse(60, 48).width_cm(45.0), 3)
        54.332
        """
        angle = np.radians(number(direction_deg, "direction_deg", "deg"))
        return plain(np.hypot(self.first_cm * np.cos(angle), self.second_cm * np.sin(angle)))

    def support_cm(self, direction_deg: ArrayLike) -> Any:
        """Half the width: an ellipse is centred on the origin. cm.

        direction_deg: broadcasts against the stems.

        >>> Ellipse(60, 48).support_cm(0.0)
        30.0
        """
        return self.width_cm(direction_deg) / 2

    def touching_cm(self, normal_deg: ArrayLike, off_cm: ArrayLike = 0.0) -> FloatArray:
        """Where a line square to `normal_deg` touches the edge, or a point that far outside it.

        normal_deg: direction of the outward normal there; off_cm: how far the point stands off
        along it, cm; both broadcast against the stems. Returns cm, shape (..., 2).
        Source: (a²cos θ, b²sin θ)/√(a²cos² θ + b²sin² θ) (closed form).

        >>> Ellipse(60, 48).touching_cm(90.0, off_cm=1.0).round(9).tolist()
        [0.0, 25.0]
        """
        angle = np.radians(number(normal_deg, "normal_deg", "deg"))
        cosine, sine = np.cos(angle), np.sin(angle)
        a, b, off = self.first_cm / 2, self.second_cm / 2, number(off_cm, "off_cm", "cm")
        reach = np.hypot(a * cosine, b * sine)
        x, y = (a * a / reach + off) * cosine, (b * b / reach + off) * sine
        # each coordinate in one piece of memory: sums along many points run twice as fast
        return np.moveaxis(np.stack(np.broadcast_arrays(x, y)), 0, -1)

    def scaled(self, factor: ArrayLike) -> Ellipse:
        """The same shape, `factor` times as large.

        factor: above 0, no unit; broadcasts against the stems.

        >>> Ellipse(60, 48).scaled(0.5)
        Ellipse(first_cm=30.0, second_cm=24.0)
        """
        times = number(factor, "factor", "", above=0.0)
        return Ellipse(self.first_cm * times, self.second_cm * times)

    def oblique_girth_cm(self, tilt_deg: ArrayLike, direction_deg: ArrayLike = 0.0) -> Any:
        """Perimeter in cm of the plane cut tilted by tilt_deg, rising towards direction_deg.

        tilt_deg: above −90 and below 90; direction_deg: of steepest rise; both broadcast.
        The cut is the ellipse stretched by 1/cos(tilt) along that direction: again an ellipse,
        whose half-axes are the singular values of that map (closed form).

        >>> round(Ellipse(60, 48).oblique_girth_cm(10, 0), 3)
        171.703
        """
        tangent = np.tan(np.radians(tilt(tilt_deg)))
        angle = np.radians(number(direction_deg, "direction_deg", "deg"))
        squares = self.first_cm**2 * (1 + (tangent * np.cos(angle)) ** 2) + self.second_cm**2 * (
            1 + (tangent * np.sin(angle)) ** 2
        )
        product = self.first_cm * self.second_cm * np.hypot(1.0, tangent)
        total = np.sqrt(squares + 2 * product)
        spread = np.sqrt(np.maximum(squares - 2 * product, 0.0))
        return _perimeter((total + spread) / 2, (total - spread) / 2)

    @property
    def sharpest_curve_cm(self) -> float:
        """Radius of the sharpest curve, b²/a, in cm; of an array of stems, the least of all.

        >>> Ellipse(60, 48).sharpest_curve_cm
        19.2
        """
        short = np.minimum(self.first_cm, self.second_cm) / 2
        long = np.maximum(self.first_cm, self.second_cm) / 2
        return float(np.min(short**2 / long))

    def outline_cm(self, points: int = 720) -> FloatArray:
        """Points on the edge, anticlockwise, shape (..., points, 2), in cm.

        points: how many, evenly spaced in the eccentric angle.

        >>> Ellipse(60, 48).outline_cm(4).round(6)[0].tolist()
        [30.0, 0.0]
        """
        count = whole(points, "points", at_least=3, at_most=1_000_000)
        turn = np.linspace(0.0, 2 * np.pi, count, endpoint=False, dtype=np.float64)
        return self.edge_cm(turn)[0]

    def edge_cm(self, turn_rad: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Points and inward unit normals at the eccentric angles `turn_rad`.

        turn_rad: k angles in radians, increasing. Returns two arrays of shape (..., k, 2), in cm
        and without unit.

        >>> points, inward = Ellipse(60, 48).edge_cm(np.array([0.0]))
        >>> points.tolist(), inward.tolist()
        ([[30.0, 0.0]], [[-1.0, 0.0]])
        """
        a = np.asarray(self.first_cm)[..., None] / 2
        b = np.asarray(self.second_cm)[..., None] / 2
        a, b = np.broadcast_arrays(a, b)
        cosine, sine = np.cos(turn_rad), np.sin(turn_rad)
        normal = np.stack(np.broadcast_arrays(-b * cosine, -a * sine), axis=-1)
        normal = normal / np.linalg.norm(normal, axis=-1, keepdims=True) + 0.0
        return np.stack([a * cosine, b * sine], axis=-1), normal

    @property
    def hull_cm(self) -> FloatArray:
        """The edge itself, shape (720, 2), in cm."""
        return self.outline_cm()


def circle(diameter_cm: ArrayLike) -> Ellipse:
    """A circular section.

    diameter_cm: number or array, above 0, at most 2000 cm.

    >>> round(circle(40).taut_girth_cm, 4)
    125.6637
    """
    checked = diameter(diameter_cm, "diameter_cm")
    return Ellipse(checked, checked)


def ellipse_girth_cm(first_cm: ArrayLike, second_cm: ArrayLike) -> Any:
    """Exact perimeter of an ellipse from its two full diameters.

    first_cm, second_cm: diameters in cm that broadcast, above 0, at most 2000.
    Returns cm. Source: 4a·E(m) [AS1964, chapter 17]; E takes m < 0 too, so order is free.

    >>> round(ellipse_girth_cm(4, 2), 6)
    9.688448
    """
    return _perimeter(diameter(first_cm, "first_cm"), diameter(second_cm, "second_cm"))


def classroom_girth_cm(first_cm: ArrayLike, second_cm: ArrayLike) -> Any:
    """The blackboard's perimeter 2π√((a² + b²)/2): an upper bound, never the girth itself.

    first_cm, second_cm: full diameters 2a, 2b in cm that broadcast.
    Returns cm, at least the exact girth, equal only for a circle (Jensen's inequality).

    >>> round(classroom_girth_cm(60, 48), 4)
    170.6900
    """
    first, second = diameter(first_cm, "first_cm"), diameter(second_cm, "second_cm")
    return plain(np.pi * np.sqrt((first**2 + second**2) / 2))


def _perimeter(first_cm: Any, second_cm: Any) -> Any:
    from scipy.special import ellipe

    ratio = second_cm / first_cm
    girth = ellipe(1.0 - ratio * ratio)
    girth *= 2.0 * first_cm
    return plain(girth)
