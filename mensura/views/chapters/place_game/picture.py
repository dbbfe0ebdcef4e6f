"""The picture of *where would you measure?*: a stem in its ground, a scale beside it, the band.

Stem, soil and what lies on it stand still; the band moves, and after the answer the rule's place
lies beside it, black and dashed. The scale lies along the stem, and its nought anywhere: where the
soil meets the stem is to be read. A point of the picture is a place on the stem, so that the band
goes where one presses.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, TypeVar

import numpy as np

from mensura.checks import FloatArray
from mensura.stems.side_view import band_line_m, leg_lines_m, place_of_point_m, side_view
from mensura.teaching.games.place_rounds import Placed, PlaceRound
from mensura.teaching.games.place_scene import BANDS, EACH, HELD, LEVEL, MEAN, ONE, SNOW
from mensura.views.kit import look
from mensura.views.kit.live import Picture

N = TypeVar("N")

#: The strip under the picture that says which line is which, and room at the other edges.
KEY_PX, EDGE_PX = 30, 10
#: From the stem's widest to the scale and to what is named, in m; a mark's length; a word's room.
OFF_M, MARK_M, WORD_PX = 0.14, 0.05, 112


@dataclass(frozen=True)
class PlaceShown:
    """What the picture shows.

    placed: where the band lies; told: whether the rule's place is shown as well.
    """

    placed: Placed
    told: bool = False


class StemPicture(Picture[N]):
    """A round's stem from the side, in its ground, beside a scale.

    shown: the round.
    """

    width_px = 460
    height_px = 500

    def __init__(self, shown: PlaceRound) -> None:
        super().__init__()
        self.round, self.stem = shown, shown.stem
        self.way = -1.0 if shown.mirrored else 1.0
        self._frame()

    # ---- where things lie --------------------------------------------------------------------

    def _frame(self) -> None:
        """How many pixels make a metre, and which point of the ground is the lower left corner."""
        stem, top = self.stem, self.round.scene.high_m
        self.view = side_view(stem, top, 4.0)
        edges = np.concatenate([*self.view.stems_m, *self.view.roots_m])
        lean = np.radians(stem.lean_deg)
        self._along = np.array([np.sin(lean), np.cos(lean)])
        self._across = np.array([np.cos(lean), -np.sin(lean)])
        reach = edges @ self._across
        self._near, self._far = float(reach.min()) - OFF_M, float(reach.max()) + OFF_M
        self._low = min(stem.ground_m(side) for side in ("uphill", "downhill")) - 0.3
        ends = [self._at(place, self._far + 3 * MARK_M) for place in (self._low, top)]
        spread = self._turned(np.concatenate([edges, ends]))
        high = float(spread[:, 1].max()) - self._low
        room = self.width_px - WORD_PX - 2 * EDGE_PX - 34
        wide = float(np.ptp(spread[:, 0]))
        self.px_per_m = min((self.height_px - KEY_PX - EDGE_PX) / high, room / wide)
        left = WORD_PX + EDGE_PX if self.way > 0 else 34 + EDGE_PX
        spare = (room - wide * self.px_per_m) / 2
        self._x0 = float(spread[:, 0].min()) - (left + spare) / self.px_per_m
        self._z0 = self._low - KEY_PX / self.px_per_m

    def _at(self, along_m: float, off_m: float) -> FloatArray:
        """A point beside the axis, in the stem's own plane."""
        point: FloatArray = along_m * self._along + off_m * self._across
        return point

    def _turned(self, points_m: Any) -> FloatArray:
        """The same as it is drawn: mirrored or not."""
        turned: FloatArray = np.asarray(points_m) * np.array([self.way, 1.0])
        return turned

    def scale_at_m(self, x_px: float, y_px: float) -> float:
        """What the scale reads at a point of the picture, to the cm, within its ends.

        x_px, y_px: from the picture's upper left corner, in shown pixels.
        """
        point = (
            self.way * (self._x0 + x_px / self.px_per_m),
            self._z0 + (self.height_px - y_px) / self.px_per_m,
        )
        low, high = self.round.ends_m
        reads = self.round.scale_m(place_of_point_m(self.stem, point))
        return min(max(reads, low), high)

    def point_px(self, scale_m: float) -> tuple[float, float]:
        """Where on the picture the stem's axis is at a mark of the scale, from its upper left.

        scale_m: what the scale reads there.
        """
        x, z = self._turned(self._at(self.round.along_m(scale_m), 0.0))
        return (
            float((x - self._x0) * self.px_per_m),
            float(self.height_px - (z - self._z0) * self.px_per_m),
        )

    # ---- what is drawn -----------------------------------------------------------------------

    def draw(self, figure: Any) -> None:
        """On `figure`: the stem in its ground, with its scale and what the stem has."""
        axes = look.place(figure, 0, 0, self.width_px, self.height_px)
        axes.set(
            xlim=(self._x0, self._x0 + self.width_px / self.px_per_m),
            ylim=(self._z0, self._z0 + self.height_px / self.px_per_m),
        )
        axes.axis("off")
        self._ground(axes)
        self._cover(axes)
        outlines = [self._turned(outline) for outline in self.view.stems_m]
        # bark round all of it: where legs and stem meet there is none
        for points in outlines:
            axes.fill(points[:, 0], points[:, 1], fc="none", ec=look.BARK, lw=3.2)
        if self.stem.fork is not None:
            first, second = outlines[-2:]
            outlines.append(np.stack([second[0], second[-1], first[0], first[-1]]))
        for points in outlines:
            axes.fill(points[:, 0], points[:, 1], fc=look.WOOD, ec="none", lw=0)
        for line in self.view.roots_m:
            points = self._turned(line)
            axes.plot(points[:, 0], points[:, 1], color=look.BARK, lw=5, solid_capstyle="round")
        self._scale(axes)
        self._names(axes)
        self._key(axes)
        self.axes = axes

    def _filled(self, axes: Any, low: FloatArray, high: FloatArray, color: str) -> None:
        points = self._turned(np.concatenate([low, high[::-1]]))
        axes.fill(points[:, 0], points[:, 1], fc=color, ec="none", lw=0)

    def _ground(self, axes: Any) -> None:
        soil = self.view.soil_m
        self._filled(axes, soil - [0.0, 9.0], soil, look.GROUND)
        line = self._turned(soil)
        axes.plot(line[:, 0], line[:, 1], color=look.QUIET, lw=1.5)

    def _cover(self, axes: Any) -> None:
        """Litter or snow, cut open: the stem is seen in it."""
        if not self.round.scene.cover:
            return
        snow = self.round.scene.cover == SNOW
        soil, top = self.view.soil_m, self.view.litter_m
        self._filled(axes, soil, top, look.WHITE if snow else look.BARK_FILL)
        line = self._turned(top)
        axes.plot(line[:, 0], line[:, 1], color=look.QUIET, lw=1.2, ls=(0, (1, 1.5)))
        line = self._turned(soil)
        axes.plot(line[:, 0], line[:, 1], color=look.QUIET, lw=1.5)
        self._word(axes, self.round.scene.cover, float(top[0, 1] + soil[0, 1]) / 2)

    def _word(self, axes: Any, word: str, z_m: float) -> None:
        """A word at the edge away from the scale."""
        x_px = EDGE_PX if self.way > 0 else self.width_px - EDGE_PX
        x = self._x0 + x_px / self.px_per_m
        ha = "left" if self.way > 0 else "right"
        axes.text(x, z_m, word, ha=ha, va="center_baseline", color=look.TRUTH, zorder=8)

    def _scale(self, axes: Any) -> None:
        from matplotlib.collections import LineCollection

        # it begins where it comes out of the soil
        fall = np.tan(np.radians(self.stem.slope_deg))
        foot = self._at(0.0, self._far)
        begins = -float(foot[1] + fall * foot[0]) / float(self._along[1] + fall * self._along[0])
        begins = max(self.round.scale_m(begins), 0.0)
        marks = np.arange(np.ceil(begins * 10), np.floor(self.round.ends_m[1] * 10) + 2) / 10
        first, last = (self.round.along_m(float(end)) for end in (marks[0], marks[-1]))
        lines = [[self._at(first, self._far), self._at(last, self._far)]]
        for mark in marks:
            place = self.round.along_m(float(mark))
            long = MARK_M * (1.8 if round(mark * 10) % 5 == 0 else 1.0)
            lines.append([self._at(place, self._far), self._at(place, self._far + long)])
        axes.add_collection(
            LineCollection([self._turned(one) for one in lines], colors=look.TRUTH, linewidths=1.2),
            autolim=False,
        )
        for mark in marks[(np.round(marks * 10) % 5 == 0) & (marks > begins + 0.05)]:
            x, z = self._turned(self._at(self.round.along_m(float(mark)), self._far + 2.1 * MARK_M))
            ha = "left" if self.way > 0 else "right"
            axes.text(x, z, f"{mark:.1f}", ha=ha, va="center_baseline", color=look.TRUTH)

    def _names(self, axes: Any) -> None:
        """What the stem has, from where to where."""
        for mark in self.round.scene.marks:
            low = max(mark.low_m, self.stem.ground_m("middle"))
            ends = [self._turned(self._at(place, self._near)) for place in (low, mark.high_m)]
            caps = [
                self._turned(self._at(place, self._near + MARK_M)) for place in (low, mark.high_m)
            ]
            line = np.stack([caps[0], ends[0], ends[1], caps[1]])
            axes.plot(line[:, 0], line[:, 1], color=look.QUIET, lw=1.2, zorder=8)
            x, z = self._turned(self._at((low + mark.high_m) / 2, self._near - 0.04))
            ha = "right" if self.way > 0 else "left"
            axes.text(x, z, mark.name, ha=ha, va="center_baseline", color=look.TRUTH, zorder=8)

    def _key(self, axes: Any) -> None:
        """Which line is which, on white under the picture."""
        px, z0 = self.px_per_m, self._z0
        x = self._x0 + np.array([0.0, self.width_px, self.width_px, 0.0]) / px
        axes.fill(x, z0 + np.array([0, 0, KEY_PX, KEY_PX]) / px, fc=look.WHITE, ec="none", zorder=9)
        middle = z0 + KEY_PX / 2 / px
        rows = (
            (EDGE_PX, look.TAPE, 4, "-", "your band"),
            (140, look.TRUTH, 2, (0, (4, 2)), "the rule's place"),
        )
        for left, color, wide, style, word in rows:
            ends = self._x0 + np.array([left, left + 28]) / px
            axes.plot(ends, [middle] * 2, color=color, lw=wide, ls=style, zorder=10)
            axes.text(ends[1] + 6 / px, middle, word, va="center_baseline", zorder=10)
        right = self._x0 + (self.width_px - EDGE_PX) / px
        axes.text(right, middle, "scale in m", ha="right", va="center_baseline", zorder=10)

    @property
    def told(self) -> str:
        """The stem in its ground, in words."""
        first = f"{self.round.kind.told}: drawn from the side, with a scale in m along the stem."
        return " ".join([first, *self.round.facts])


class PaperPicture(StemPicture[None]):
    """A round's stem without a band: it is drawn in by hand.

    shown: the round.
    """

    def show(self, numbers: None) -> None:
        """Nothing moves: `numbers` is None."""

    def describe(self, numbers: None) -> str:
        """The stem in words; `numbers` is None."""
        return self.told


class PlacePicture(StemPicture[PlaceShown]):
    """A round's stem with the band on it.

    shown: the round.
    """

    def draw(self, figure: Any) -> None:
        """The stem in its ground with its scale on `figure`, then the band."""
        from matplotlib.collections import LineCollection

        super().draw(figure)
        self.band: Any = LineCollection([], colors=look.TAPE, zorder=6)
        self.rule: Any = LineCollection(
            [], colors=look.TRUTH, linewidths=2, linestyles=[(0, (4, 2))], zorder=7
        )
        for artist in (self.band, self.rule):
            self.axes.add_collection(artist, autolim=False)
        self.moving = [self.band, self.rule]

    # ---- what moves --------------------------------------------------------------------------

    def _lines(self, placed: Placed) -> list[FloatArray]:
        """The bands of a placing, as they are seen from the side."""
        place = self.round.along_m(placed.scale_m)
        if placed.bands == EACH:
            return [self._turned(line) for line in leg_lines_m(self.stem, place)]
        places = [place]
        if placed.bands == MEAN and placed.second_m is not None:
            places.append(self.round.along_m(placed.second_m))
        level = placed.held == LEVEL
        return [self._turned(band_line_m(self.stem, one, level)) for one in places]

    def show(self, numbers: PlaceShown) -> None:
        """The band of `numbers`, with thin lines to the scale; the rule's place if it is told."""
        placed = numbers.placed
        bands = self._lines(placed)
        marks = [placed.scale_m]
        if placed.bands == MEAN and placed.second_m is not None:
            marks.append(placed.second_m)
        thin = [
            self._turned([self._at(place, 0.0), self._at(place, self._far)])
            for place in map(self.round.along_m, marks)
        ]
        self.band.set_segments([*thin, *bands])
        self.band.set_linewidths([0.8] * len(thin) + [4.5] * len(bands))
        self.rule.set_segments(self._lines(self.round.right) if numbers.told else [])

    def describe(self, numbers: PlaceShown) -> str:
        """The stem and where the band of `numbers` lies; the rule's place once it is told."""
        placed, right = numbers.placed, self.round.right
        told = [self.told]
        told.append(f"Your band: {_where(self.round, placed)}.")
        if numbers.told:
            told.append(f"The rule's place: {_where(self.round, right)}.")
        return " ".join(told)


def _where(shown: PlaceRound, placed: Placed) -> str:
    at = f"{placed.scale_m:.2f} m"
    if placed.bands == MEAN and placed.second_m is not None:
        at = f"{at} and {placed.second_m:.2f} m"
    held = f", {HELD[placed.held]}" if shown.leans else ""
    kind = f", {BANDS[placed.bands]}" if placed.bands != ONE else ""
    return f"at {at} on the scale{held}{kind}"
