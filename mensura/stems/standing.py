"""A standing stem in space: leaning, on a slope, tapering, swollen, buttressed, forked.

Its axis is a straight line that leans by λ; the ground is a plane that falls by β towards azimuth 0
(downhill). A height is told along the axis, in m above the point where the axis goes through the
ground; what a stick or a hand calls a height, from one side of the stem, is turned into that by
:meth:`StemInSpace.along_m`. Square to the axis the stem is round but for its lobes; taper is
straight. Where a plane cuts a leaning cone level the section is an ellipse again, exactly.

Seen from above, lean and its direction may be any; a section's first axis is the direction of the
lean, and of `lean_towards_deg` where there is no lean.

Assumed: a straight axis, round wood, straight taper near the place that is measured. The ground's
height on a side is where the stem's surface, straight as at its measured diameter, meets the
ground's plane; so that the two sides of an upright stem differ by D·tan β (closed form).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from mensura.checks import ChoiceError, FloatArray, MeasureError, diameter, number, whole
from mensura.stems.ellipse import Ellipse
from mensura.stems.outline import Outline
from mensura.stems.section import Section
from mensura.stems.several import SeveralStems
from mensura.stems.stem_features import Buttress, Fork, Swelling

__all__ = ["GROUNDS", "SIDES", "Buttress", "Fork", "StemInSpace", "Swelling"]

#: From which side of the stem a height is told. "upper" is the side that looks up on a leaning
#: stem, "under" the one it leans to; "middle" is half-way between uphill and downhill.
SIDES = ("uphill", "downhill", "middle", "upper", "under")

#: What a height is told above: the soil, what lies on it, or where roots end and the stem begins.
GROUNDS = ("soil", "litter", "roots")


@dataclass(frozen=True)
class StemInSpace:
    """A stem where it stands.

    diameter_cm: square to the axis at at_m along the stem, without swelling and buttress;
    taper_cm_per_m: what the diameter loses with each metre, from −20 to 20; lean_deg: from plumb,
    from 0 and below 90; lean_towards_deg: azimuth it leans to, 0 downhill, 180 uphill;
    slope_deg: of the ground, from 0 and below 80; swelling, buttress, fork: if it has one;
    litter_cm: litter, moss or snow on the soil, upright, 0 to 300; roots_cm: how far above the soil
    its roots end and the stem begins, upright, 0 to 300.
    Raises MeasureError for what cannot be, and for a leg thicker than the stem below its fork.

    >>> stem = StemInSpace(40.0, 1.3, lean_deg=10.0)
    >>> round(stem.section_at(1.3).taut_girth_cm, 4)
    125.6637
    >>> round(stem.section_at(1.3, level=True).width_cm(0.0), 4)
    40.6171
    """

    diameter_cm: float
    at_m: float = 1.3
    taper_cm_per_m: float = 0.0
    lean_deg: float = 0.0
    lean_towards_deg: float = 0.0
    slope_deg: float = 0.0
    swelling: Swelling | None = None
    buttress: Buttress | None = None
    fork: Fork | None = None
    litter_cm: float = 0.0
    roots_cm: float = 0.0

    def __post_init__(self) -> None:
        if np.ndim(diameter(self.diameter_cm, "diameter_cm")):
            raise MeasureError("diameter_cm", "an array", "cm", "a single number")
        number(self.at_m, "at_m", "m", at_least=-10.0, at_most=60.0)
        number(self.taper_cm_per_m, "taper_cm_per_m", "cm/m", at_least=-20.0, at_most=20.0)
        number(self.lean_deg, "lean_deg", "deg", at_least=0.0, below=90.0)
        number(self.lean_towards_deg, "lean_towards_deg", "deg")
        number(self.slope_deg, "slope_deg", "deg", at_least=0.0, below=80.0)
        number(self.litter_cm, "litter_cm", "cm", at_least=0.0, at_most=300.0)
        number(self.roots_cm, "roots_cm", "cm", at_least=0.0, at_most=300.0)
        if float(self.axis @ self._fall()) <= 1e-9:
            towards = np.cos(np.radians(self.lean_towards_deg))
            most = 90 - np.degrees(np.arctan(-towards * np.tan(np.radians(self.slope_deg))))
            expected = f"a stem that stands clear of the slope it leans to, below {most:.4g}"
            raise MeasureError("lean_deg", self.lean_deg, "deg", expected)
        if self.fork is not None:
            thickest = max(self.fork.leg_diameters_cm)
            below = self.diameter_at_cm(self.fork.at_m)
            if thickest > below * (1 + 1e-12):
                raise MeasureError(
                    "leg_diameters_cm",
                    thickest,
                    "cm",
                    f"at most the stem's own diameter below the fork, {below:.4g}",
                )

    # ---- in space ----------------------------------------------------------------------------

    @property
    def axis(self) -> FloatArray:
        """Unit vector along the stem, upwards: (downhill, across, up)."""
        lean, towards = np.radians(self.lean_deg), np.radians(self.lean_towards_deg)
        flat = np.sin(lean)
        return np.array([flat * np.cos(towards), flat * np.sin(towards), np.cos(lean)])

    def _fall(self) -> FloatArray:
        """What a point is multiplied by for its height above the soil, upright."""
        return np.array([np.tan(np.radians(self.slope_deg)), 0.0, 1.0])

    def side_vector(self, side: str) -> FloatArray | None:
        """Unit vector square to the axis, towards a side; None for the middle.

        side: one of SIDES.
        """
        if side not in SIDES:
            raise ChoiceError("side", side, SIDES)
        if side == "middle":
            return None
        turn = {"uphill": 180.0, "downhill": 0.0}.get(side, self.lean_towards_deg)
        turn += 180.0 if side == "upper" else 0.0
        flat = np.array([np.cos(np.radians(turn)), np.sin(np.radians(turn)), 0.0])
        square = flat - (flat @ self.axis) * self.axis
        return np.asarray(square / np.linalg.norm(square))

    def ground_m(self, side: str = "uphill", above: str = "soil") -> float:
        """Where the ground touches the stem on one side, along the stem.

        side: one of SIDES; above: one of GROUNDS, which lies that much higher. Returns m above
        where the axis goes through the soil. In the plane of lean and slope the soil is
        ±D/2·tan(β − λ) (closed form).

        >>> stem = StemInSpace(40.0, 1.3, slope_deg=20.0)
        >>> round(100 * (stem.ground_m("uphill") - stem.ground_m("downhill")), 2)
        14.56
        """
        square = self.side_vector(side)
        if above not in GROUNDS:
            raise ChoiceError("above", above, GROUNDS)
        raised_cm = {"litter": self.litter_cm, "roots": self.roots_cm}.get(above, 0.0)
        if square is None and not raised_cm:
            return 0.0
        fall = self._fall()
        upward = float(self.axis @ fall)
        off_cm = 0.0 if square is None else self.diameter_cm / 2 * float(square @ fall)
        return (raised_cm - off_cm) / 100 / upward

    def along_m(
        self, height_m: float, side: str = "uphill", plumb: bool = False, above: str = "soil"
    ) -> float:
        """The place that is so high on one side, along the stem.

        height_m: above the ground there, m; side: one of SIDES; plumb: told upright, not along the
        stem; above: one of GROUNDS.

        >>> round(100 * StemInSpace(40.0, lean_deg=20.0).along_m(1.3, "middle", plumb=True), 2)
        138.34
        """
        height = float(number(height_m, "height_m", "m", at_least=0.0, at_most=60.0))
        return self.ground_m(side, above) + (height / float(self.axis[2]) if plumb else height)

    def height_m(
        self, along_m: float, side: str = "uphill", plumb: bool = False, above: str = "soil"
    ) -> float:
        """How high a place is on one side: :meth:`along_m` the other way round.

        along_m: along the stem, m; side: one of SIDES; plumb: told upright; above: one of GROUNDS.
        Below nought under the ground there.

        >>> stem = StemInSpace(40.0, slope_deg=20.0)
        >>> round(stem.height_m(stem.along_m(1.3, "uphill"), "downhill"), 4)
        1.4456
        """
        height = float(number(along_m, "along_m", "m")) - self.ground_m(side, above)
        return height * float(self.axis[2]) if plumb else height

    # ---- sections ----------------------------------------------------------------------------

    def diameter_at_cm(self, along_m: Any) -> Any:
        """The round stem's diameter square to its axis, without swelling and buttress, in cm.

        along_m: along the stem, m.
        """
        return self.diameter_cm - self.taper_cm_per_m * (np.asarray(along_m) - self.at_m)

    def reach_cm(self, along_m: FloatArray, points: int = 120) -> tuple[FloatArray, FloatArray]:
        """How far one stem reaches towards the lean and away from it, square to its axis, in cm.

        along_m: places along the stem, shape (n,), m, fork and all that is above it left out;
        points: directions that are tried for its lobes. Returns two arrays of shape (n,).
        """
        places = np.asarray(along_m, float)
        if self.buttress is None:
            radius = self._surface_cm(places, np.zeros_like(places))
            return radius, radius
        turn = np.linspace(0.0, 2 * np.pi, points, endpoint=False)
        reach = self._surface_cm(places[:, None], turn[None, :]) * np.cos(turn)
        return reach.max(axis=1), -reach.min(axis=1)

    def forked_at(self, along_m: float) -> bool:
        """Whether there are two stems at a place: above the fork, not on it.

        along_m: along the stem, m; what rounding may do to a sum of heights is no height.
        """
        return self.fork is not None and along_m > self.fork.at_m + 1e-9

    def section_at(self, along_m: float, level: bool = False, points: int = 5040) -> Section:
        """The section at a place, square to the axis or level; any instrument reads it.

        along_m: along the stem, where the cut goes through the axis, m; level: cut level and not
        square; points: on an edge that has no closed form, 60 to 100 000. Its first axis is the
        direction of the lean, seen from above. Above a fork it is both legs, side by side. A cone's
        level ellipse is told about its own middle, which lies off the axis. Raises MeasureError
        where the stem has tapered to nothing.
        """
        corners = whole(points, "points", at_least=60, at_most=100_000)
        if self.forked_at(along_m):
            return self._both(along_m, level)
        if self.buttress is None and self._plain_at(along_m, level):
            return self._conical(along_m, level)
        if self.buttress is None and not (level and self.lean_deg):
            across = 2 * float(self._surface_cm(np.array([along_m]), np.zeros(1))[0])
            return Ellipse(across, across)
        return self._traced(along_m, level, corners)

    def legs_at(self, along_m: float) -> tuple[Section, ...]:
        """The stems at a place, each square to its own axis.

        along_m: along the stem, m. One section, or two above the fork.
        """
        if not self.forked_at(along_m) or self.fork is None:
            return (self.section_at(along_m),)
        return tuple(Ellipse(leg, leg) for leg in self.fork.leg_diameters_cm)

    def _radius_cm(self, along_m: float) -> float:
        across = float(self.diameter_at_cm(along_m))
        if across <= 0:
            raise MeasureError("height_m", along_m, "m", "a height at which there is a stem")
        return across / 2

    def _plain_at(self, along_m: float, level: bool) -> bool:
        """Whether the cut meets no swelling."""
        if self.swelling is None or self.swelling.percent == 0:
            return True
        tangent = np.tan(np.radians(self.lean_deg)) if level else 0.0
        left = 1 - abs(self.taper_cm_per_m) / 200 * tangent
        # as far as a stem as thick as its swelling could reach up or down
        thick = 1 + max(self.swelling.percent, 0.0) / 100
        reach = self._radius_cm(along_m) / 100 * thick * tangent / max(left, 1e-9)
        return bool(abs(along_m - self.swelling.at_m) >= self.swelling.reach_m + reach)

    def _conical(self, along_m: float, level: bool) -> Ellipse:
        radius = self._radius_cm(along_m)
        if not level:
            return Ellipse(2 * radius, 2 * radius)
        lean = np.radians(self.lean_deg)
        steep = self.taper_cm_per_m / 200 * np.tan(lean)
        if abs(steep) >= 1:
            raise MeasureError("lean_deg", self.lean_deg, "deg", "a stem that a level cut closes")
        left = 1 - steep**2
        return Ellipse(2 * radius / (np.cos(lean) * left), 2 * radius / float(np.sqrt(left)))

    def _traced(self, along_m: float, level: bool, points: int = 5040) -> Outline:
        """The section followed point by point: each half-line from the axis, where it is cut first.

        The polygon is as much larger as makes its area the section's own, ½∫r². With 5040
        points its girth and widths are then right to a millionth, with twelve lobes to a few.
        """
        turn = np.linspace(0.0, 2 * np.pi, points, endpoint=False)
        lean = np.radians(self.lean_deg)
        place = np.full(points, float(along_m))
        slant = np.cos(turn) * np.tan(lean) / 100 if level else np.zeros(points)
        radius = self._surface_cm(place, turn)
        if level and self.lean_deg:
            radius = self._met_cm(along_m, turn, slant)
        step = 2 * np.pi / points
        polygon = np.sin(step) * float(radius @ np.roll(radius, 1))
        radius = radius * np.sqrt(step * float(radius @ radius) / polygon)
        x, y = radius * np.cos(turn), radius * np.sin(turn)
        return Outline(np.stack([x / np.cos(lean) if level else x, y], axis=-1))

    def _met_cm(self, along_m: float, turn_rad: FloatArray, slant: FloatArray) -> FloatArray:
        """How far from the axis a level cut goes before it leaves the stem, in each direction."""
        radius = self._surface_cm(np.full(turn_rad.shape, float(along_m)), turn_rad)
        for _ in range(60):
            following = self._surface_cm(along_m + slant * radius, turn_rad)
            if np.allclose(following, radius, rtol=1e-13, atol=0.0):
                return following
            radius = following
        # too steep a surface for that: step outwards to the first crossing, and halve
        low, high = np.zeros_like(radius), np.full_like(radius, np.nan)
        step = float(radius.max()) / 100
        for times in range(1, 1001):
            out = np.where(np.isnan(high), times * step, low)
            inside = self._surface_cm(along_m + slant * out, turn_rad) > out
            low = np.where(np.isnan(high) & inside, out, low)
            high = np.where(np.isnan(high) & ~inside, out, high)
            if not np.isnan(high).any():
                break
        else:
            raise MeasureError("lean_deg", self.lean_deg, "deg", "a stem that a level cut closes")
        for _ in range(50):
            middle = (low + high) / 2
            inside = self._surface_cm(along_m + slant * middle, turn_rad) > middle
            low, high = np.where(inside, middle, low), np.where(inside, high, middle)
        return np.asarray((low + high) / 2)

    def _surface_cm(self, along_m: FloatArray, turn_rad: FloatArray) -> FloatArray:
        radius = np.asarray(self.diameter_at_cm(along_m)) / 2
        if self.swelling is not None:
            radius = radius * self.swelling.factor(along_m)
        if self.buttress is not None:
            azimuth = turn_rad + np.radians(self.lean_towards_deg)
            radius = radius + self.buttress.reach_at_cm(along_m, azimuth)
        if float(radius.min()) <= 0:
            lost = np.broadcast_to(along_m, radius.shape)[radius <= 0]
            raise MeasureError("height_m", float(lost[0]), "m", "a height with a stem")
        return radius

    def _both(self, along_m: float, level: bool) -> SeveralStems:
        """Both legs where the cut goes through them, placed along the lean's direction."""
        fork = self.fork
        if fork is None:
            raise MeasureError("fork", None, "", "a fork")
        above_cm = 100 * (along_m - fork.at_m)
        lean = np.radians(self.lean_deg)
        sections, middles = [], []
        for way, leg, spread in zip((1, -1), fork.leg_diameters_cm, fork.spread_deg, strict=True):
            turn = lean + way * np.radians(spread)
            off = way * (leg + fork.gap_cm) / 2
            # the leg's axis begins beside the fork and goes on at its own angle
            start = np.array([off * np.cos(lean), -off * np.sin(lean)])
            along = np.array([np.sin(turn), np.cos(turn)])
            if level:
                if np.cos(turn) <= 1e-9:
                    raise MeasureError("leg_spread_deg", spread, "deg", "a leg that rises")
                rise = above_cm * np.cos(lean) - start[1]
                x = start[0] + along[0] * rise / along[1] - above_cm * np.sin(lean)
                sections.append(Ellipse(leg / np.cos(turn), leg))
            else:
                square = np.array([np.cos(lean), -np.sin(lean)])
                forward = np.cos(turn - lean)
                x = off + above_cm * float(along @ square) / forward
                sections.append(Ellipse(leg / forward, leg))
            middles.append((float(x), 0.0))
        return SeveralStems(tuple(sections), tuple(middles))
