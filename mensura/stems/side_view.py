"""A standing stem from the side: the flat picture of it, in m, for whoever draws.

The picture is the upright plane through the stem's axis. Its origin is where the axis goes through
the soil, x runs to the right and, where the plane lets it, downhill; z runs up. A stem that leans
uphill therefore leans to the left. What lies beside that plane is seen straight from the side.

Exact: the axis, the round stem with its swelling, a band square or level, the ground's fall as it
looks in that plane. Drawn only: just below a fork the stem widens to its legs, and raised roots are
two straight lines. Lobes of a buttress show how far the widest of them reaches at each height.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, MeasureError, kept, number, whole
from mensura.stems.standing import StemInSpace

#: Directions round the stem that are tried for the widest reach of its lobes.
_ROUND = 120


@dataclass(frozen=True, eq=False)
class SideView:
    """What is to be drawn; all points are (x, z) in m.

    stems_m: closed outlines above the soil, shape (n, 2): the stem, and two legs if it is forked;
    axes_m: a line for each of them; soil_m, litter_m: two points each, left to right, litter_m the
    same as soil_m where there is none; roots_m: two lines, left and right, or none.
    """

    stems_m: tuple[FloatArray, ...]
    axes_m: tuple[FloatArray, ...]
    soil_m: FloatArray
    litter_m: FloatArray
    roots_m: tuple[FloatArray, ...] = ()


def side_view(
    stem: StemInSpace, to_m: float = 2.5, half_width_m: float = 1.0, points: int = 64
) -> SideView:
    """A stem in its ground, from the side.

    stem: any; to_m: how far it is drawn along its axis, above 0; half_width_m: how far the ground
    goes to either side, above 0; points: on each edge, 8 to 2000. A stem that tapers to nothing
    ends there.

    >>> view = side_view(StemInSpace(40.0, slope_deg=20.0))
    >>> len(view.stems_m), view.soil_m.round(3).tolist()
    (1, [[-1.0, 0.364], [1.0, -0.364]])
    """
    top = float(number(to_m, "to_m", "m", above=0.0, at_most=60.0))
    half = float(number(half_width_m, "half_width_m", "m", above=0.0, at_most=60.0))
    steps = whole(points, "points", at_least=8, at_most=2000)
    seen = _Seen(stem)
    if stem.taper_cm_per_m > 0:  # just short of its tip
        top = min(top, stem.at_m + 0.999 * stem.diameter_cm / stem.taper_cm_per_m)
    low = seen.lowest_m()
    fork = stem.fork
    ends = top if fork is None else min(top, fork.at_m)
    outlines, axes = [], []
    if ends > low:
        outlines.append(seen.trunk_m(low, ends, steps, forks=fork is not None and ends < top))
        axes.append(np.stack([seen.point_m(0.0), seen.point_m(max(ends, 0.0))]))
    if fork is not None and top > fork.at_m:
        for which in (0, 1):
            line = np.stack([seen.leg_m(which, fork.at_m), seen.leg_m(which, top)])
            across = seen.leg_across(which) * fork.leg_diameters_cm[which] / 200
            edge = [line[0] - across, line[1] - across, line[1] + across, line[0] + across]
            outlines.append(np.stack(edge))
            axes.append(line)
    above = [seen.above_soil_m(outline) for outline in outlines]
    soil = np.array([[-half, half * seen.fall], [half, -half * seen.fall]])
    return SideView(
        tuple(kept(outline) for outline in above if len(outline) > 2),
        tuple(kept(line) for line in axes),
        kept(soil),
        kept(soil + np.array([0.0, stem.litter_cm / 100])),
        tuple(kept(line) for line in seen.roots_m()),
    )


def band_line_m(stem: StemInSpace, along_m: float, level: bool = False) -> FloatArray:
    """A band from the side: the line from its left end to its right, shape (2, 2), in m.

    stem: any; along_m: where it goes round the axis, m; level: held level, not square to the axis.
    Above a fork it goes round both legs.

    >>> band_line_m(StemInSpace(40.0, lean_deg=10.0), 1.3).round(3).tolist()
    [[0.029, 1.315], [0.423, 1.246]]
    """
    seen = _Seen(stem)
    if level and not stem.forked_at(along_m):
        ends = [seen.level_end_m(along_m, sign) for sign in (1.0, -1.0)]
        return _left_first(*ends)
    section = stem.section_at(along_m, level)
    across = np.array([seen.way, 0.0]) if level else seen.across
    ends = [
        seen.point_m(along_m) + sign * float(section.support_cm(turn)) / 100 * across
        for sign, turn in ((1.0, 0.0), (-1.0, 180.0))
    ]
    return _left_first(*ends)


def leg_lines_m(stem: StemInSpace, along_m: float) -> tuple[FloatArray, ...]:
    """A band on each stem for itself, square to its own axis: lines of shape (2, 2), in m.

    stem: any; along_m: of the place, m. One line, or above a fork two, the leg towards the lean
    first.
    """
    if not stem.forked_at(along_m) or stem.fork is None:
        return (band_line_m(stem, along_m),)
    seen, lines = _Seen(stem), []
    for which, leg_cm in enumerate(stem.fork.leg_diameters_cm):
        middle = seen.leg_m(which, along_m)
        across = seen.leg_across(which) * leg_cm / 200
        lines.append(_left_first(middle - across, middle + across))
    return tuple(lines)


def stick_m(
    stem: StemInSpace,
    height_m: float,
    side: str = "uphill",
    plumb: bool = False,
    above: str = "soil",
    away_cm: float = 0.0,
) -> FloatArray:
    """The height stick on a side, from its foot to its top, shape (2, 2), in m.

    stem: any; height_m: its length, m; side: one of SIDES; plumb: upright and not along the stem;
    above: one of GROUNDS; away_cm: moved off the stem, square to its axis, so that it can be seen.
    In the middle it stands on the axis. Its top is at the place or, held plumb, level with it.
    """
    seen = _Seen(stem)
    foot_m = stem.ground_m(side, above)
    top_m = stem.along_m(height_m, side, plumb, above)
    square = stem.side_vector(side)
    off = 0.0 if square is None else float(square @ seen.right)
    away = (stem.diameter_cm / 2 + away_cm) / 100 * (0.0 if square is None else 1.0)
    # square to the axis it also rises or falls, by what the lean makes of it
    rise = 0.0 if square is None else float(square[2])
    shift = away * np.array([off, rise])
    foot, top = seen.point_m(foot_m) + shift, seen.point_m(top_m) + shift
    if plumb:
        top = foot + np.array([0.0, (top_m - foot_m) * float(stem.axis[2])])
    return np.stack([foot, top])


def place_of_point_m(stem: StemInSpace, point_m: ArrayLike) -> float:
    """The place nearest a point of the picture, along the stem, in m: where a click was meant.

    stem: any; point_m: (x, z), m.

    >>> leaning = StemInSpace(40.0, lean_deg=10.0)
    >>> round(place_of_point_m(leaning, band_line_m(leaning, 1.3)[0]), 6)
    1.3
    """
    point = np.asarray(number(point_m, "point_m", "m"))
    if point.shape != (2,):
        raise MeasureError("point_m", str(point.shape), "", "two numbers, x and z")
    return float(point @ _Seen(stem).axis)


def _left_first(first: FloatArray, second: FloatArray) -> FloatArray:
    return np.stack([first, second] if first[0] <= second[0] else [second, first])


class _Seen:
    """A stem's own directions as they look in the picture."""

    def __init__(self, stem: StemInSpace) -> None:
        self.stem = stem
        turn, lean = np.radians(stem.lean_towards_deg), np.radians(stem.lean_deg)
        downhill = float(np.cos(turn))
        if abs(downhill) < 1e-12:
            downhill = 0.0
        #: +1 where the lean's direction is drawn to the right, −1 where it is drawn to the left
        self.way = 1.0 if downhill >= 0 else -1.0
        self.right = self.way * np.array([np.cos(turn), np.sin(turn), 0.0])
        self.axis = np.array([self.way * np.sin(lean), np.cos(lean)])
        #: square to the axis, towards the lean
        self.across = np.array([self.way * np.cos(lean), -np.sin(lean)])
        self.across_fall = float(np.tan(lean))
        self.fall = abs(downhill) * float(np.tan(np.radians(stem.slope_deg)))

    def point_m(self, along_m: ArrayLike) -> FloatArray:
        return np.asarray(np.multiply.outer(np.asarray(along_m, float), self.axis))

    def level_end_m(self, along_m: float, sign: float) -> FloatArray:
        """Where the level plane at a place meets the edge towards the lean (1) or away (−1)."""
        slant, place = sign * self.across_fall / 100, float(along_m)
        for _ in range(200):
            reach = float(self.stem.reach_cm(np.array([place]), _ROUND)[0 if sign > 0 else 1][0])
            following = along_m + slant * reach
            if abs(following - place) < 1e-13:
                break
            place = following
        return self.point_m(place) + sign * reach / 100 * self.across

    def lowest_m(self) -> float:
        """A place below all soil that the stem's foot can meet."""
        stem = self.stem
        wide = stem.diameter_cm / 2 + 10.0 * abs(stem.taper_cm_per_m)
        if stem.buttress is not None:
            wide += stem.buttress.reach_cm
        steep = max(abs(stem.ground_m("uphill")), abs(stem.ground_m("downhill")))
        steep = max(steep, abs(stem.ground_m("upper"))) / (stem.diameter_cm / 200)
        return -0.05 - wide / 100 * steep

    def trunk_m(self, low_m: float, top_m: float, points: int, forks: bool) -> FloatArray:
        """The closed outline from one place to another: up the left side, down the right."""
        places = np.linspace(low_m, top_m, points)
        if self.stem.swelling is not None:
            swelling = self.stem.swelling
            near = swelling.at_m + swelling.reach_m * np.linspace(-1, 1, 25)
            places = np.sort(np.concatenate([places, np.clip(near, low_m, top_m)]))
        towards, away = self.stem.reach_cm(places, _ROUND)
        fork = self.stem.fork
        if forks and fork is not None:
            first, second = fork.leg_diameters_cm
            long = min(0.2, 0.5 * (top_m - low_m))
            part = np.clip((places - top_m + long) / long, 0.0, 1.0)
            part = part**2 * (3 - 2 * part)
            towards = towards + part * (fork.gap_cm / 2 + first - towards)
            away = away + part * (fork.gap_cm / 2 + second - away)
        middle = self.point_m(places)
        lean_side = middle + np.outer(towards / 100, self.across)
        other = middle - np.outer(away / 100, self.across)
        left, right = (other, lean_side) if self.way > 0 else (lean_side, other)
        return np.concatenate([left, right[::-1]])

    def leg_across(self, which: int) -> FloatArray:
        return self._leg(which)[1]

    def _leg(self, which: int) -> tuple[FloatArray, FloatArray]:
        """A leg's direction, and square to it."""
        fork = self.stem.fork
        assert fork is not None
        turn = np.radians(self.stem.lean_deg) + (1, -1)[which] * np.radians(fork.spread_deg[which])
        along = np.array([self.way * np.sin(turn), np.cos(turn)])
        return along, np.array([self.way * np.cos(turn), -np.sin(turn)])

    def leg_m(self, which: int, along_m: float) -> FloatArray:
        """Where a leg's axis goes through the plane square to the stem at a place."""
        fork = self.stem.fork
        assert fork is not None
        off = (1, -1)[which] * (fork.leg_diameters_cm[which] + fork.gap_cm) / 200
        start = self.point_m(fork.at_m) + off * self.across
        along = self._leg(which)[0]
        long = (along_m - fork.at_m) / float(along @ self.axis)
        return np.asarray(start + long * along)

    def above_soil_m(self, outline_m: FloatArray) -> FloatArray:
        """The part of a closed outline above the soil, with its ends on the soil."""
        high = outline_m[:, 1] + self.fall * outline_m[:, 0]
        following, next_high = np.roll(outline_m, -1, axis=0), np.roll(high, -1)
        crossing = (high >= 0) != (next_high >= 0)
        with np.errstate(invalid="ignore", divide="ignore"):
            part = high / (high - next_high)
        met = outline_m + np.where(crossing, part, 0.0)[:, None] * (following - outline_m)
        both = np.stack([outline_m, met], axis=1).reshape(-1, 2)
        return np.asarray(both[np.stack([high >= 0, crossing], axis=1).ravel()])

    def roots_m(self) -> tuple[FloatArray, ...]:
        """From where the stem begins straight down to the soil, outwards as far again."""
        stem = self.stem
        if not stem.roots_cm:
            return ()
        lines = []
        for way in (-1.0, 1.0):
            start = way * self.way * np.array(self.across) * stem.diameter_cm / 200
            begin = self.point_m(stem.ground_m("middle", "roots")) + start
            out = begin[0] + way * 1.2 * stem.roots_cm / 100
            lines.append(np.stack([begin, [out, -out * self.fall]]))
        return tuple(lines)
