"""How far the taut hull of an outline is from a circle, ripple by ripple, in closed form.

The supporting line of a convex polygon turns with the edges: h + h″ is the edge lengths ℓ_k, each
at the direction α_k of its outward normal. So c₀ = Σℓ_k/2π, and for n ≥ 2 the ripples are
p_n, q_n = −Σℓ_k (cos nα_k, sin nα_k)/(π(n² − 1)). The ripple n = 1 is where the stem stands.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, kept, number, plain, whole
from mensura.stems.outline import Outline

#: Angles taken through the sums at a time, so that memory stays small.
_ANGLES_AT_A_TIME = 1_000_000


@dataclass(frozen=True)
class OutlineTerms:
    """The first Fourier coefficients of a hull's support function.

    mean_cm: c₀, the mean of it; cosine_cm, sine_cm: p_n and q_n for n = 1, 2, …, in cm.
    """

    mean_cm: float
    cosine_cm: FloatArray
    sine_cm: FloatArray

    @property
    def girth_cm(self) -> float:
        """2πc₀: the whole taut girth, whatever the number of ripples. cm."""
        return 2 * np.pi * self.mean_cm

    @property
    def height_cm(self) -> FloatArray:
        """How high each ripple is, √(p_n² + q_n²), for n = 1, 2, …, in cm."""
        return np.hypot(self.cosine_cm, self.sine_cm)

    @property
    def lost_cm2(self) -> FloatArray:
        """What each ripple takes from the area of the circle with that girth, at least 0, in cm².

        (π/2)(n² − 1)(p_n² + q_n²), for n = 1, 2, …
        """
        n = np.arange(1, len(self.cosine_cm) + 1)
        return np.asarray(np.pi / 2 * (n**2 - 1) * (self.cosine_cm**2 + self.sine_cm**2))

    @property
    def hull_area_cm2(self) -> float:
        """πc₀² less what the ripples so far take, cm²: never below the hull's own area."""
        return float(np.pi * self.mean_cm**2 - self.lost_cm2.sum())

    def support_cm(self, direction_deg: ArrayLike) -> Any:
        """The support function with the ripples so far, in cm.

        direction_deg: one or more directions.
        """
        angle = np.radians(number(direction_deg, "direction_deg", "deg"))
        waves = np.arange(1, len(self.cosine_cm) + 1) * np.asarray(angle)[..., None]
        ripples = np.cos(waves) @ self.cosine_cm + np.sin(waves) @ self.sine_cm
        return plain(self.mean_cm + ripples)


def outline_terms(outline: Outline, count: int) -> OutlineTerms:
    """The first ripples of an outline's hull, exactly for the polygon.

    outline: a single one; count: how many ripples, 1 to 2000. Raises MeasureError.
    Source: Fourier coefficients of the edges (closed form); for the theory [Hurwitz1902].

    >>> terms = outline_terms(Outline([[0, 0], [40, 0], [40, 40], [0, 40]]), 8)
    >>> round(terms.girth_cm, 6), terms.cosine_cm[1:4].round(4).tolist()
    (160.0, [-0.0, 0.0, -3.3953])
    """
    ripples = whole(count, "count", at_least=1, at_most=2000)
    corners = outline.hull_cm
    edges = np.roll(corners, -1, axis=0) - corners
    length = np.hypot(edges[:, 0], edges[:, 1])
    normal = np.arctan2(-edges[:, 0], edges[:, 1])
    n = np.arange(2, ripples + 1)
    scale = -1 / (np.pi * (n**2 - 1))
    cosine, sine = np.empty((2, len(n)))
    some = max(_ANGLES_AT_A_TIME // len(length), 1)
    for first in range(0, len(n), some):
        rows = slice(first, first + some)
        turned = n[rows, None] * normal
        cosine[rows] = scale[rows] * (np.cos(turned) @ length)
        sine[rows] = scale[rows] * (np.sin(turned) @ length)
    # n = 1: each corner supports between the normals of its two edges
    last = np.roll(normal, 1)
    turn = np.mod(normal - last, 2 * np.pi)
    end = last + turn
    squares = turn / 2 + (np.sin(2 * end) - np.sin(2 * last)) / 4
    mixed = (np.sin(end) ** 2 - np.sin(last) ** 2) / 2
    x, y = corners[:, 0], corners[:, 1]
    first_cosine = (x * squares + y * mixed).sum() / np.pi
    first_sine = (x * mixed + y * (turn - squares)).sum() / np.pi
    return OutlineTerms(
        float(length.sum() / (2 * np.pi)),
        kept(np.concatenate([[first_cosine], cosine])),
        kept(np.concatenate([[first_sine], sine])),
    )
