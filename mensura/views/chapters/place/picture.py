"""The place's picture: the stem from the side in its ground, the band from above, and the cost.

From the side all is to one scale: the ground falls to the right, the stick stands where the height
is told from, the band lies where it was set. The rule's own band, and the parts of the cost, are
left out until the panel's last step.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import Any

import numpy as np

from mensura.checks import FloatArray
from mensura.teaching.panels.place import CHOICES, CONTROLS, COST, RULE, SET, SHARES, PlaceShown
from mensura.views.chapters.place.words import (
    NAMES,
    held_word,
    off_word,
    place_word,
    reading_word,
    rule_word,
)
from mensura.views.kit import look
from mensura.views.kit.live import Picture
from mensura.views.kit.numerals import Values, line_width_px
from mensura.views.kit.parts import Part, part
from mensura.written import minus, signed

_HOW: dict[str, Any] = {"va": "center_baseline"}
#: Half the height of a figure, so that it stands in the middle of its line.
_HALF_PX = 5.4
#: What stands in the rule's place until it is told.
_NEXT = {
    SET: "the next step tells what your place costs",
    COST: "the next step shows the rule's place",
}


def _gapped(lines: Any) -> FloatArray:
    """Several lines as one, with gaps between them."""
    gap = np.full((1, 2), np.nan)
    pieces = [piece for line in lines for piece in (np.asarray(line, float), gap)]
    return np.concatenate(pieces) if pieces else np.full((1, 2), np.nan)


def _below(outline: FloatArray, top: float) -> FloatArray:
    """The part of a closed outline below a level line."""
    after = np.roll(outline, -1, axis=0)
    inside, next_inside = outline[:, 1] <= top, after[:, 1] <= top
    crossing = inside != next_inside
    with np.errstate(invalid="ignore", divide="ignore"):
        share = (top - outline[:, 1]) / (after[:, 1] - outline[:, 1])
    met = outline + np.where(crossing, share, 0.0)[:, None] * (after - outline)
    met[crossing, 1] = top
    both = np.stack([outline, met], axis=1).reshape(-1, 2)
    return np.asarray(both[np.stack([inside, crossing], axis=1).ravel()])


class PlacePicture(Picture[PlaceShown]):
    """The stem, the section, and the bars."""

    width_px = 860
    height_px = 430

    #: Where a band is set, it is seen on the stem.
    looked_at = MappingProxyType(
        dict.fromkeys((*(one.name for one in (*CONTROLS, *CHOICES)), "cleared"), "from the side")
        | {"step": "cost", "legs": "section"}
    )

    #: Where the axis goes through the ground, px a metre, and the edges of the side view.
    FOOT_PX, PX_PER_M = (234, 80), 95.0
    SIDE_PX = (10, 8, 458, 372)
    #: Middle of the section and room for it; scales that it may have, px a cm.
    ABOVE_PX, ROOM_PX = (664, 316), (370, 138)
    WIDE_CM = (60.0, 90.0, 130.0, 190.0, 280.0, 400.0)
    #: Zero of the bars, how far they reach either way, the first row and the pitch.
    BARS_PX = (682, 92, 154, 23)
    PERCENT = (2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 400.0)

    def draw(self, figure: Any) -> None:
        """The still parts on `figure`, then the moving artists."""
        page = look.place(figure, 0, 0, self.width_px, self.height_px)
        page.set(xlim=(0, self.width_px), ylim=(0, self.height_px))
        page.axis("off")
        self._draw_side(page)
        self._draw_above(page)
        self._draw_bars(page)
        self.values = Values(page)
        self.moving += [*self.wood, self.edges, self.litter, self.ground, self.litter_top]
        self.moving += [self.surface, self.sides]
        self.moving += [self.stick, self.ticks, self.to_band, self.rule_bands, self.bands]
        self.moving += [*self.cut, self.cut_bands, self.bar_10, self.read, self.rule_said]
        self.moving += [self.bars, self.values.artist]

    def _draw_side(self, page: Any) -> None:
        from matplotlib.patches import Polygon

        page.text(8, 412, "From the side", fontweight="bold", **_HOW)
        page.plot([134, 160], [412, 412], color=look.TAPE, lw=4, solid_capstyle="butt")
        page.text(166, 412, "your band", **_HOW)
        page.plot([258, 284], [412, 412], color=look.TRUTH, lw=2, marker="D", ms=6)
        page.text(294, 412, "by the rule", **_HOW)
        page.plot([388, 414], [412, 412], color=look.QUIET, lw=3)
        page.text(420, 412, "stick", **_HOW)
        none = [(0.0, 0.0)]
        self.litter = Polygon(none, closed=True, fc=look.BARK_FILL, ec="none", lw=0)
        self.ground = Polygon(none, closed=True, fc=look.GROUND, ec="none", lw=0)
        self.wood = [Polygon(none, closed=True, fc=look.WOOD, ec="none", lw=0) for _ in range(4)]
        for one in (*self.wood, self.litter, self.ground):
            page.add_patch(one)
        (self.edges,) = page.plot([], [], color=look.BARK, lw=1.8)
        (self.surface,) = page.plot([], [], color=look.TRUTH, lw=1.6)
        (self.litter_top,) = page.plot([], [], color=look.QUIET, lw=1.2)
        (self.stick,) = page.plot([], [], color=look.QUIET, lw=3, solid_capstyle="butt")
        (self.ticks,) = page.plot([], [], color=look.QUIET, lw=1.2)
        (self.to_band,) = page.plot([], [], color=look.QUIET, lw=1.2, ls=(0, (3, 2)))
        (self.rule_bands,) = page.plot([], [], color=look.TRUTH, lw=2, marker="D", ms=6)
        (self.bands,) = page.plot([], [], color=look.TAPE, lw=4, solid_capstyle="butt")
        self.sides = page.text(18, 22, "left uphill, right downhill", **_HOW)

    def _draw_above(self, page: Any) -> None:
        from matplotlib.patches import Polygon

        page.text(474, 412, "What your band goes round", fontweight="bold", **_HOW)
        none = [(0.0, 0.0)]
        self.cut = [
            Polygon(none, closed=True, fc=look.WOOD, ec=look.BARK, lw=1.2) for _ in range(2)
        ]
        for one in self.cut:
            page.add_patch(one)
        (self.cut_bands,) = page.plot([], [], color=look.TAPE, lw=2.4)
        page.text(474, 236, "10 cm", **_HOW)
        (self.bar_10,) = page.plot([], [], color=look.TRUTH, lw=3, solid_capstyle="butt")
        self.read = page.text(852, 236, "", ha="right", **_HOW)

    def _draw_bars(self, page: Any) -> None:
        from matplotlib.collections import LineCollection

        zero, reach, top, pitch = self.BARS_PX
        page.text(474, 202, "Too much (+) or too little (−), % of area", fontweight="bold", **_HOW)
        self.rows_px = [top - row * pitch for row in range(len(SHARES) + 1)]
        for name, up in zip([*NAMES.values(), "together"], self.rows_px, strict=True):
            page.text(474, up, name, **_HOW)
        foot, head = self.rows_px[-1] - pitch / 2, top + pitch / 2
        for share in (-1, 0, 1):
            at = zero + share * reach
            page.plot([at, at], [foot, head], color=look.GRID if share else look.TRUTH, lw=1)
        line = self.rows_px[-1] + pitch / 2
        page.plot([474, 852], [line, line], color=look.QUIET, lw=1)
        self.bars: Any = LineCollection(
            [], colors=[*[look.TAPE] * len(SHARES), look.TRUTH], capstyle="butt",
            linewidths=14 * 72 / look.SHOWN_DPI,
        )  # fmt: skip
        page.add_collection(self.bars, autolim=False)
        self.rule_said = page.text(474, 180, "", **_HOW)

    def parts(self) -> tuple[Part, ...]:
        """The stem from the side, the section, and the bars."""
        side, right = self.whole.cut_x(466)
        above, bars = right.cut_y(218)
        return part("from the side", side), part("section", above), part("cost", bars)

    def show(self, numbers: PlaceShown) -> None:
        """Set every moving artist from the numbers."""
        n = numbers
        texts: list[tuple[str, float, float]] = []
        self._show_side(n)
        self._show_above(n)
        self._show_bars(n, texts)
        self.values.set([text for text, _, _ in texts], [(x, up) for _, x, up in texts])

    def _px(self, point_m: Any) -> FloatArray:
        """A place of the side view, in px of the page."""
        return np.asarray(np.asarray(point_m) * self.PX_PER_M + np.array(self.FOOT_PX))

    def _show_side(self, n: PlaceShown) -> None:
        left, low, right, high = self.SIDE_PX
        edges = []
        drawn = [_below(self._px(outline), high) for outline in n.view.stems_m]
        for outline in drawn:
            edges += self._open_edges(n, outline)
        drawn += self._crotch(n)
        for at, one in enumerate(self.wood):
            one.set_visible(at < len(drawn))
            if at < len(drawn):
                one.set_xy(drawn[at])
        self.edges.set_data(*_gapped(edges).T)
        grounds = (
            (self.ground, n.view.soil_m, self.surface),
            (
                self.litter,
                n.view.litter_m,
                self.litter_top,
            ),
        )
        for patch, line_m, edge in grounds:
            a, b = self._px(line_m)
            x = np.linspace(left, right, 60)
            up = np.maximum(a[1] + (x - a[0]) * (b[1] - a[1]) / (b[0] - a[0]), low)
            patch.set_xy(np.column_stack([np.r_[x, right, left], np.r_[up, low, low]]))
            edge.set_data(x[up > low], up[up > low])
        self.litter_top.set_visible(n.stem.litter_cm > 0)
        self.litter.set_visible(n.stem.litter_cm > 0)
        self.sides.set_text(
            "left uphill, right downhill" if n.stem.slope_deg else "left and right: level ground"
        )
        foot, top = self._px(n.stick_m)
        self.stick.set_data(*np.array([foot, top]).T)
        long = float(np.hypot(*(top - foot)))
        way = (top - foot) / long
        square = np.array([way[1], -way[0]])
        marks = np.arange(0.1, n.height_m + 1e-9, 0.1) * self.PX_PER_M * long
        marks = marks / (n.height_m * self.PX_PER_M)
        ends = [(foot + m * way - 4 * square, foot + m * way + 4 * square) for m in marks]
        self.ticks.set_data(*_gapped(ends).T)
        bands = [self._px(line) for line in n.bands_m]
        self.bands.set_data(*_gapped(self._longer(bands)).T)
        near = min((point for band in bands for point in band), key=lambda p: np.hypot(*(p - top)))
        self.to_band.set_data(*np.array([top, near]).T)
        self.rule_bands.set_visible(n.step >= RULE)
        rule = [self._px(line) for line in n.rule_bands_m]
        self.rule_bands.set_data(*_gapped(self._longer(rule, 8.0)).T)

    def _crotch(self, n: PlaceShown) -> list[FloatArray]:
        """The wood between the stem's end and the legs' feet, which are not square to it."""
        if len(n.view.stems_m) < 3:
            return []
        trunk, *legs = (self._px(outline) for outline in n.view.stems_m)
        along = trunk @ n.stem.axis[[0, 2]]
        points = np.concatenate([trunk[along > along.max() - 0.5], *(leg[[0, -1]] for leg in legs)])
        off = points - points.mean(axis=0)
        return [points[np.argsort(np.arctan2(off[:, 1], off[:, 0]))]]

    def _open_edges(self, n: PlaceShown, outline: FloatArray) -> list[FloatArray]:
        """An outline's edge, left out where the picture ends and where a leg stands on the stem."""
        ring = np.concatenate([outline, outline[:1]])
        middle, step = (ring[1:] + ring[:-1]) / 2, np.diff(ring, axis=0)
        high = self.SIDE_PX[3] - 1e-6
        gone = (ring[1:, 1] >= high) & (ring[:-1, 1] >= high)
        if n.stem.fork is not None:
            axis = n.stem.axis[[0, 2]]
            off = (middle - np.array(self.FOOT_PX)) @ axis - n.stem.fork.at_m * self.PX_PER_M
            long = np.hypot(*step.T)
            gone |= (np.abs(off) < 6.0) & (np.abs(step @ axis) < 0.4 * long) & (long > 8.0)
        kept, runs = ~gone, []
        starts = np.flatnonzero(kept & ~np.r_[False, kept[:-1]])
        stops = np.flatnonzero(kept & ~np.r_[kept[1:], False])
        for start, stop in zip(starts, stops, strict=True):
            runs.append(ring[start : stop + 2])
        return runs

    @staticmethod
    def _longer(lines: list[FloatArray], by_px: float = 3.0) -> list[FloatArray]:
        """Lines that stand out a little on both sides."""
        more = []
        for a, b in lines:
            way = (b - a) / float(np.hypot(*(b - a)))
            more.append(np.array([a - by_px * way, b + by_px * way]))
        return more

    def _show_above(self, n: PlaceShown) -> None:
        every = np.concatenate(n.wood_cm)
        least, most = every.min(axis=0), every.max(axis=0)
        wide = look.first_scale(
            max(most[0] - least[0], (most[1] - least[1]) * self.ROOM_PX[0] / self.ROOM_PX[1]),
            self.WIDE_CM,
        )
        px = self.ROOM_PX[0] / wide
        shift = np.array(self.ABOVE_PX) - px * (least + most) / 2
        for at, one in enumerate(self.cut):
            one.set_visible(at < len(n.wood_cm))
            if at < len(n.wood_cm):
                one.set_xy(n.wood_cm[at] * px + shift)
        rings = [np.concatenate([band, band[:1]]) * px + shift for band in n.bands_cm]
        self.cut_bands.set_data(*_gapped(rings).T)
        self.bar_10.set_data([526, 526 + 10 * px], [236, 236])
        self.read.set_text(f"reads {reading_word(n)}")

    def _show_bars(self, n: PlaceShown, texts: list[tuple[str, float, float]]) -> None:
        zero, reach, _, pitch = self.BARS_PX
        self.rule_said.set_text(f"rule: {rule_word(n)}" if n.step >= RULE else _NEXT[n.step])
        adds = [n.shares_percent[key] for key in SHARES] + [n.area_over_percent]
        told = [n.step >= RULE] * len(SHARES) + [n.step >= COST]
        drawn = [one if say else 0.0 for one, say in zip(adds, told, strict=True)]
        scale = look.first_scale(max(map(abs, drawn)), self.PERCENT)
        self.bars.set_segments(
            [
                [(zero, up), (zero + one / scale * reach, up)]
                for one, up in zip(drawn, self.rows_px, strict=True)
            ]
        )
        for one, say, up in zip(adds, told, self.rows_px, strict=True):
            texts.append((signed(one) if say else "?", 852.0, up - _HALF_PX))
        for share in (-1, 0, 1):
            text = minus(f"{share * scale:+g}") if share else "0"
            at = zero + share * reach + line_width_px(text) / 2
            texts.append((text, at, self.rows_px[-1] - pitch / 2 - 12 - _HALF_PX))

    def describe(self, numbers: PlaceShown) -> str:
        """The picture in words, with its `numbers`."""
        n, stem = numbers, numbers.stem
        lean = f"leans {stem.lean_deg:g}° {'uphill' if stem.axis[0] < 0 else 'downhill'}"
        things = [lean if stem.lean_deg else "stands upright"]
        if stem.buttress:
            things.append(f"has buttresses up to {self._told_m(n, stem.buttress.top_m)} m")
        if stem.swelling:
            kind = "swelling" if stem.swelling.percent > 0 else "hollow"
            things.append(f"a {kind} at {self._told_m(n, stem.swelling.at_m)} m")
        if stem.fork:
            things.append(f"a fork at {self._told_m(n, stem.fork.at_m)} m")
        text = (
            f"From the side a stem of {stem.diameter_cm:g} cm on ground that falls "
            f"{stem.slope_deg:g}° to the right: it {', '.join(things)}. Your band is "
            f"{place_word(n)}, {held_word(n)}; it reads {reading_word(n)}."
        )
        if n.step >= COST:
            text += f" It costs {signed(n.area_over_percent)} % of the sectional area."
        if n.step >= RULE:
            shares = ", ".join(f"{NAMES[k]} {signed(n.shares_percent[k])}" for k in SHARES)
            text += f" The rule's place is marked: {rule_word(n)}; yours is {off_word(n)}."
            text += f" Bars, in % of area: {shares}."
        return text

    @staticmethod
    def _told_m(n: PlaceShown, along_m: float) -> str:
        return f"{along_m - n.stem.ground_m('uphill'):.2f}"
