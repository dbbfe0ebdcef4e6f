"""Rough bark: ridge tops lie on a given outline, furrows cut inwards from it.

Tape and calipers ride the ridges, so neither sees the furrows; only the true area does. The furrows
are drawn from a keyed hash: the same seed gives the same bark for ever. The pattern is invented, a
picture of bark and not a model of any species.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, MeasureError, OutlineError, kept, number, whole
from mensura.draws import uniforms
from mensura.stems.ellipse import Ellipse
from mensura.stems.outline import Outline
from mensura.stems.rippled import RippledOval
from mensura.stems.section import Section

#: Fewest points of a rough outline, and of one ridge with its furrow.
LEAST_POINTS = 720
RIDGE_POINTS = 12


@dataclass(frozen=True, eq=False)
class RoughBark(Section):
    """A section with ridged bark on a smooth one.

    base: oval (or array of ellipses) or outline that the ridge tops lie on;
    ridges: number of ridges, 3 to 2000; furrow_depth_cm: depth of the deepest furrow, at least 0
    and less than the radius of the sharpest curve; seed: any whole number.
    Raises MeasureError for values outside, OutlineError if furrows would meet.

    >>> stem = RoughBark(Ellipse(60, 48), ridges=28, furrow_depth_cm=1.0, seed=7)
    >>> stem.area_cm2 < stem.hull_area_cm2 < stem.base.area_cm2
    True
    """

    base: Ellipse | RippledOval | Outline
    ridges: int
    furrow_depth_cm: float
    seed: int = 1

    def __post_init__(self) -> None:
        object.__setattr__(self, "ridges", whole(self.ridges, "ridges", at_least=3, at_most=2000))
        object.__setattr__(self, "seed", whole(self.seed, "seed", at_least=0, at_most=10**12))
        depth = float(number(self.furrow_depth_cm, "furrow_depth_cm", "cm", at_least=0.0))
        object.__setattr__(self, "furrow_depth_cm", depth)
        if not isinstance(self.base, Outline):
            self.base.below_sharpest_curve_cm(depth, "furrow_depth_cm")
        elif self.base.shape:
            raise MeasureError("base", str(self.base.shape), "", "a single outline, not an array")
        _ = self.points_cm

    @cached_property
    def points_cm(self) -> FloatArray:
        """Points of the rough edge, anticlockwise, shape (..., n, 2), in cm."""
        if not isinstance(self.base, Outline):
            turn, furrow = furrow_pattern(self.ridges, self.seed)
            points, inward = self.base.edge_cm(turn * 2 * np.pi)
            return kept(points + self.furrow_depth_cm * furrow[:, None] * inward)
        rough = _rough_outline_cm(self.base.points_cm, self.furrow_depth_cm, self.ridges, self.seed)
        try:
            return np.asarray(Outline(rough).points_cm)
        except OutlineError:
            raise MeasureError(
                "furrow_depth_cm",
                self.furrow_depth_cm,
                "cm",
                "furrows shallow enough for this outline: these would cross each other",
            ) from None

    @cached_property
    def _rough(self) -> Outline:
        # furrows on an oval cannot cross (depth below the sharpest curve), and those on an
        # outline were tried above: the costly check of the edge is not made again
        outline = object.__new__(Outline)
        object.__setattr__(outline, "points_cm", self.points_cm)
        return outline

    @property
    def shape(self) -> tuple[int, ...]:
        """Shape of the array of stems; () for a single one."""
        return self.base.shape

    @property
    def area_cm2(self) -> Any:
        """Area of wood and bark, furrows left out, in cm²."""
        return self._rough.area_cm2

    @property
    def taut_girth_cm(self) -> Any:
        """What a tape pulled tight over the ridges reads, in cm."""
        return self._rough.taut_girth_cm

    @property
    def hull_area_cm2(self) -> Any:
        """Area inside the taut tape, furrows counted as wood, in cm²."""
        return self._rough.hull_area_cm2

    @property
    def hull_cm(self) -> FloatArray:
        """Corners of the taut tape's path, shape (k, 2), in cm; one stem only."""
        return self._rough.hull_cm

    def width_cm(self, direction_deg: ArrayLike) -> Any:
        """What calipers riding the ridges read along `direction_deg`, in cm.

        direction_deg: scalar or array, as for :class:`Outline`.
        """
        return self._rough.width_cm(direction_deg)

    def support_cm(self, direction_deg: ArrayLike) -> Any:
        """Reach of the ridges along `direction_deg` from the origin, in cm.

        direction_deg: as for :class:`Outline`.
        """
        return self._rough.support_cm(direction_deg)

    def scaled(self, factor: ArrayLike) -> RoughBark:
        """The same shape with its furrows, `factor` times as large.

        factor: one number above 0, no unit.
        """
        times = float(number(factor, "factor", "", above=0.0))
        return RoughBark(
            self.base.scaled(times), self.ridges, self.furrow_depth_cm * times, self.seed
        )

    def oblique_girth_cm(self, tilt_deg: ArrayLike, direction_deg: ArrayLike = 0.0) -> Any:
        """Taut loop over the ridges in a tilted plane, in cm.

        tilt_deg, direction_deg: as for :class:`Outline`.
        """
        return self._rough.oblique_girth_cm(tilt_deg, direction_deg)

    def under_bark_area_cm2(self, bark_thickness_cm: float) -> Any:
        """Area of the wood in cm², the bark being measured from the ridge tops.

        bark_thickness_cm: from the outline through the ridge tops to the wood; at least the
        furrow depth, since a furrow does not cut into wood.
        """
        thickness = number(
            bark_thickness_cm, "bark_thickness_cm", "cm", at_least=self.furrow_depth_cm
        )
        return self.base.under_bark_area_cm2(thickness)

    def outline_cm(self) -> FloatArray:
        """The points, anticlockwise, shape (..., n, 2), in cm."""
        return self.points_cm


def with_bark(
    base: Ellipse | RippledOval | Outline, ridges: int, furrow_depth_cm: float, seed: int = 1
) -> Section:
    """The section with rough bark; without ridges or without furrows it is the smooth one itself.

    base, ridges, furrow_depth_cm, seed: as for :class:`RoughBark`; ridges may be 0 too.

    >>> with_bark(Ellipse(60, 48), 0, 1.0) == Ellipse(60, 48)
    True
    """
    depth = float(number(furrow_depth_cm, "furrow_depth_cm", "cm", at_least=0.0))
    if ridges == 0 or depth == 0:
        whole(ridges, "ridges", at_least=0, at_most=2000)
        return base
    return RoughBark(base, ridges, depth, seed)


@lru_cache(maxsize=64)
def rough_oval(
    first_cm: float,
    second_cm: float,
    ridges: int,
    furrow_depth_cm: float,
    seed: int = 1,
    fourth_ripple_cm: float = 0.0,
) -> Section:
    """An oval with rough bark, kept: asked for again, it is the same object, measured already.

    first_cm, second_cm: diameters over the ridge tops, cm; ridges, furrow_depth_cm, seed: as for
    :func:`with_bark`; fourth_ripple_cm: added to the oval's reach, as for :class:`RippledOval`.
    Raises MeasureError.

    >>> rough_oval(60.0, 48.0, 28, 1.0, 7) is rough_oval(60.0, 48.0, 28, 1.0, 7)
    True
    """
    oval = Ellipse(first_cm, second_cm)
    smooth = RippledOval(oval, fourth_ripple_cm) if fourth_ripple_cm else oval
    return with_bark(smooth, ridges, furrow_depth_cm, seed)


@lru_cache(maxsize=64)
def furrow_pattern(ridges: int, seed: int) -> tuple[FloatArray, FloatArray]:
    """Where along one turn the points of a rough edge lie, and how deep each is cut.

    ridges: number of ridges; seed: key of the draw.
    Returns two arrays of the same length: turn, increasing within [0, 1); furrow, from 0 (on a
    ridge top) to 1 (the deepest furrow's floor). No units.

    >>> turn, furrow = furrow_pattern(28, 7)
    >>> len(turn) >= 720, float(furrow.min()), float(furrow.max())
    (True, 0.0, 1.0)
    """
    per_ridge = max(RIDGE_POINTS, -(-LEAST_POINTS // ridges))
    cut = per_ridge // 2 | 1  # odd, so that one point lies on the furrow's floor
    place, width, depth = uniforms(3 * ridges, "bark", ridges, seed).reshape(3, ridges)
    middle = np.arange(ridges) + 0.5 + 0.2 * (place - 0.5)
    half = 0.22 + 0.12 * width
    floor = 0.5 + 0.5 * depth
    floor = floor / floor.max()
    across = np.arange(1, cut + 1) / (cut + 1) * 2 - 1
    furrow_turn = middle[:, None] + half[:, None] * across
    furrow_cut = floor[:, None] * np.cos(np.pi / 2 * across) ** 2
    # the ridge top that follows each furrow, both its ends included
    starts, ends = middle + half, np.roll(middle - half, -1)
    ends[-1] += ridges
    along = np.linspace(0.0, 1.0, per_ridge - cut)
    top_turn = starts[:, None] + (ends - starts)[:, None] * along
    turn = np.concatenate([furrow_turn, top_turn], axis=1).ravel() / ridges
    furrow = np.concatenate([furrow_cut, np.zeros_like(top_turn)], axis=1).ravel()
    turn = np.mod(turn, 1.0)
    order = np.argsort(turn, kind="stable")
    return kept(turn[order]), kept(furrow[order])


def _rough_outline_cm(
    points_cm: FloatArray, furrow_depth_cm: float, ridges: int, seed: int
) -> FloatArray:
    """An outline with furrows: the pattern's points and the outline's own corners, both kept."""
    turn, furrow = furrow_pattern(ridges, seed)
    closed = np.vstack([points_cm, points_cm[:1]])
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(closed, axis=0).T))])
    share = along / along[-1]

    def edge(at: FloatArray) -> FloatArray:
        place = np.mod(at, 1.0)
        return np.stack([np.interp(place, share, closed[:, k]) for k in (0, 1)], axis=-1)

    every = np.union1d(turn, share[:-1])
    depth = furrow_depth_cm * np.interp(every, turn, furrow, period=1.0)
    # inwards is square to the chord over half a ridge either side: steady where corners are sharp
    chord = edge(every + 0.5 / ridges) - edge(every - 0.5 / ridges)
    inward = np.stack([-chord[:, 1], chord[:, 0]], axis=-1)
    length = np.hypot(chord[:, 0], chord[:, 1])[:, None]
    inward = np.divide(inward, length, out=np.zeros_like(inward), where=length > 0)
    rough: FloatArray = edge(every) + depth[:, None] * inward
    return rough
