"""The plots' picture: the stand from above with one throw on it, and every throw's interval.

To the left what was looked at: plots with the trees on them, and the trees that an angle gauge
counts from the same places. To the right, for both ways, thirty throws beside each other: a line
for each interval, crossed by the truth or not.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.teaching.panels.plots import SIDE_M, THROWS, WAYS, PlotsShown, Way
from mensura.views.chapters.plots.words import (
    digits,
    holds_words,
    interval_words,
    name_of,
)
from mensura.views.kit import look
from mensura.views.kit.live import Picture
from mensura.views.kit.numerals import Values
from mensura.views.kit.parts import Part, part
from mensura.written import minus

_HOW: dict[str, Any] = {"va": "center_baseline"}
_HALF_PX = 5.4
#: From which diameter on a tree is drawn as a larger dot.
_THICK_CM = 30.0


class PlotsPicture(Picture[PlotsShown]):
    """The stand with a throw, and two charts of intervals."""

    width_px = 860
    height_px = 430

    #: The stand: left, foot, side.
    MAP_PX = (8, 38, 354)
    #: Both charts: left and width, feet, height; what their scale may reach.
    CHART_PX, FEET_PX, HIGH_PX = (548, 300), (244, 46), 134
    PERCENT = (10.0, 20.0, 50.0, 100.0, 200.0)

    def draw(self, figure: Any) -> None:
        """The still parts on `figure`, then the moving artists."""
        page = look.place(figure, 0, 0, self.width_px, self.height_px)
        page.set(xlim=(0, self.width_px), ylim=(0, self.height_px))
        page.axis("off")
        self._draw_map(page)
        self.found: dict[str, dict[str, Any]] = {}
        for way, foot, title in zip(
            WAYS,
            self.FEET_PX,
            ("By plots, % off the truth", "By the gauge, % off the truth"),
            strict=True,
        ):
            self.found[way] = self._draw_chart(page, foot, title)
        left, wide = self.CHART_PX
        page.text(left + wide / 2, 16, f"throw 1 to throw {THROWS}", ha="center", **_HOW)
        self.values = Values(page)
        self.moving += [self.circles, self.thin, self.thick, self.on_plots, self.by_gauge]
        self.moving += [self.places]
        for one in self.found.values():
            self.moving += one.values()
        self.moving.append(self.values.artist)

    def _draw_map(self, page: Any) -> None:
        from matplotlib.patches import Rectangle

        left, low, side = self.MAP_PX
        page.text(8, 412, "The stand from above, one throw", fontweight="bold", **_HOW)
        page.add_patch(Rectangle((left, low), side, side, fc=look.WHITE, ec=look.QUIET, lw=1))
        (self.circles,) = page.plot([], [], color=look.TAPE, lw=1.6)
        dots: dict[str, Any] = {"ls": "", "marker": "o", "mew": 0, "color": look.QUIET}
        (self.thin,) = page.plot([], [], ms=2, **dots)
        (self.thick,) = page.plot([], [], ms=3.4, **dots)
        rings: dict[str, Any] = {"ls": "", "marker": "o", "mfc": "none", "mec": look.CALIPERS}
        diamonds: dict[str, Any] = {"ls": "", "marker": "D", "ms": 4, "mew": 0, "color": look.TAPE}
        (self.on_plots,) = page.plot([], [], **diamonds)
        (self.by_gauge,) = page.plot([], [], ms=8, mew=1.5, **rings)
        crosses: dict[str, Any] = {"ls": "", "marker": "+", "ms": 9, "mew": 1.8}
        (self.places,) = page.plot([], [], color=look.TRUTH, **crosses)
        at = left + side + 16
        keys = ((380, "tree", dots | {"ms": 3.4}), (354, "on a plot", diamonds),
                (328, "by gauge", rings | {"ms": 8, "mew": 1.5}),
                (302, "place", crosses | {"color": look.TRUTH}))  # fmt: skip
        for up, word, how in keys:
            page.plot([at], [up], **how)
            page.text(at + 14, up, word, **_HOW)
        # how long 50 m are
        long = 50.0 / SIDE_M * side
        page.plot([left, left, np.nan, left, left + long, np.nan, left + long, left + long],
                  [12, 24, np.nan, 18, 18, np.nan, 12, 24], color=look.TRUTH, lw=1.4)  # fmt: skip
        page.text(left + long + 10, 18, "50 m", **_HOW)

    def _draw_chart(self, page: Any, foot: float, title: str) -> dict[str, Any]:
        left, wide = self.CHART_PX
        top = foot + self.HIGH_PX
        page.text(484, top + 34, title, fontweight="bold", **_HOW)
        for share in (0, 1):
            up = foot + share * self.HIGH_PX
            page.plot([left, left + wide], [up, up], color=look.GRID, lw=1)
        middle = foot + self.HIGH_PX / 2
        page.plot([left, left + wide], [middle, middle], color=look.TRUTH, lw=1.8, zorder=3)
        made: dict[str, Any] = {}
        for name, ink, thick in (
            ("holding", look.QUIET, 1.6), ("missing", look.TAPE, 2.0), ("own", look.TRUTH, 5.0)
        ):  # fmt: skip
            (made[name],) = page.plot([], [], color=ink, lw=thick, solid_capstyle="butt", zorder=2)
        (made["means"],) = page.plot(
            [], [], ls="", marker="o", ms=4, mew=0, color=look.QUIET, zorder=4
        )
        (made["crosses"],) = page.plot(
            [], [], ls="", marker="x", ms=7, mew=2, color=look.TAPE, zorder=4
        )
        (made["at"],) = page.plot([], [], ls="", marker="^", ms=8, color=look.TRUTH)
        made["word"] = page.text(left, top + 12, "", **_HOW)
        return made

    def parts(self) -> tuple[Part, ...]:
        """The stand, and each way's intervals."""
        stand, right = self.whole.cut_x(474)
        plots, gauge = right.cut_y(226)
        return part("stand", stand), part("plots", plots), part("gauge", gauge)

    def show(self, numbers: PlotsShown) -> None:
        """Set every moving artist from the numbers."""
        n = numbers
        self._show_map(n)
        texts: list[tuple[str, float, float]] = []
        ends = np.concatenate([np.r_[one.lows_per_ha, one.highs_per_ha] for one in n.ways.values()])
        # three in four ends are within the scale: the rest runs out of the chart
        need = 100 * float(np.quantile(np.abs(ends / n.true_per_ha - 1), 0.75))
        scale = look.first_scale(need, self.PERCENT)
        for way, foot in zip(WAYS, self.FEET_PX, strict=True):
            self._show_chart(n, way, foot, scale, texts)
        self.values.set([text for text, _, _ in texts], [(x, up) for _, x, up in texts])

    def _px(self, places_m: Any) -> tuple[Any, Any]:
        left, low, side = self.MAP_PX
        each = np.asarray(places_m) * (side / SIDE_M)
        return left + each[..., 0], low + each[..., 1]

    def _show_map(self, n: PlotsShown) -> None:
        thick = n.diameter_cm >= _THICK_CM
        self.thin.set_data(*self._px(n.trees_m[~thick]))
        self.thick.set_data(*self._px(n.trees_m[thick]))
        self.on_plots.set_data(*self._px(n.trees_m[n.ways["plots"].counted]))
        self.by_gauge.set_data(*self._px(n.trees_m[n.ways["gauge"].counted]))
        self.places.set_data(*self._px(n.places_m))
        # a circle that leaves the stand comes in again on the other side
        turn = np.linspace(0, 2 * np.pi, 49)
        ring = n.radius_m * np.column_stack([np.cos(turn), np.sin(turn)])
        round_m = n.places_m[:, None, :] + ring
        home = np.floor(round_m / SIDE_M)
        x, y = self._px(round_m - home * SIDE_M)
        over = np.any(home[:, 1:] != home[:, :-1], axis=-1)
        gap = np.full((n.plots, turn.size), np.nan)
        broken = np.ones((n.plots, turn.size), dtype=bool)
        broken[:, :-1] = over
        keep = np.ones((n.plots, 2 * turn.size), dtype=bool)
        keep[:, 1::2] = broken
        lines = [np.stack([one, gap], axis=-1).reshape(n.plots, -1)[keep] for one in (x, y)]
        self.circles.set_data(*lines)

    def _show_chart(
        self, n: PlotsShown, way: str, foot: float, scale: float, texts: list[Any]
    ) -> None:
        left, wide = self.CHART_PX
        one: Way = n.ways[way]
        made = self.found[way]
        pitch = wide / THROWS
        x = left + (np.arange(THROWS) + 0.5) * pitch

        def up(per_ha: Any) -> Any:
            off = 100 * (np.asarray(per_ha) / n.true_per_ha - 1) / scale
            return foot + self.HIGH_PX / 2 * (1 + np.clip(off, -1, 1))

        holds = one.holds
        own = np.arange(THROWS) == n.throw - 1
        for name, which in (("holding", holds), ("missing", ~holds), ("own", own)):
            # one line with gaps: as quick for thirty intervals as for one
            gap = np.full(int(which.sum()), np.nan)
            made[name].set_data(
                np.column_stack([x[which], x[which], gap]).ravel(),
                np.column_stack(
                    [up(one.lows_per_ha[which]), up(one.highs_per_ha[which]), gap]
                ).ravel(),
            )
        within = np.abs(one.means_per_ha / n.true_per_ha - 1) * 100 <= scale
        for name, which in (("means", holds & within), ("crosses", ~holds & within)):
            made[name].set_data(x[which], up(one.means_per_ha[which]))
        made["at"].set_data([x[n.throw - 1]], [foot - 10])
        held = int(holds.sum())
        missed = f", {THROWS - held} (×) not" if held < THROWS else ""
        made["word"].set_text(f"{held} of {THROWS} throws hold it{missed}")
        for share in (-1, 0, 1):
            text = minus(f"{share * scale:+g}") if share else "0"
            at = foot + (1 + share) / 2 * self.HIGH_PX - _HALF_PX
            texts.append((text, left - 10.0, at))

    def describe(self, numbers: PlotsShown) -> str:
        """The picture in words, with its `numbers`."""
        n = numbers
        shape = f".{digits(n)}f"
        said = ". ".join(
            f"By {name_of(n, way)}: this throw {one.found.value:{shape}}, 95 % from "
            f"{interval_words(n, one)}, {holds_words(one, n.throw)}; "
            f"{int(one.holds.sum())} of {THROWS} throws hold it"
            for way, one in n.ways.items()
        )
        plots, gauge = (int(one.counted.sum()) for one in n.ways.values())
        return (
            f"A made-up stand of {n.stems_per_ha} stems a hectare from above, its trees "
            f"{n.lie}. Throw {n.throw} has {n.plots} plots of {n.radius_m:.1f} m radius with "
            f"{plots} trees on them, and from the same places the gauge counts {gauge}. Two charts "
            f"show the interval of {THROWS} throws against the true {n.figure}, "
            f"{n.true_per_ha:{shape}} {n.unit}. {said}."
        )
