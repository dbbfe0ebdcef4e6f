"""The timber budget's picture: bars in two groups, the floor under more plots, and a plan.

To the left what each input brings, those that more plots make smaller apart from those that they
do not. To the right the same as a curve over the number of plots, which falls to a floor, and what
the hours there are would best be spent on, step by step.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.teaching.panels.timber_budget import COUNTS, TimberShown
from mensura.views.chapters.timber_budget.words import (
    NAMES,
    averages_out,
    interval_words,
    plan_words,
)
from mensura.views.kit import look
from mensura.views.kit.live import Picture
from mensura.views.kit.numerals import Values, line_width_px
from mensura.views.kit.parts import Part, part

_HOW: dict[str, Any] = {"va": "center_baseline"}
_HALF_PX = 5.4


class TimberPicture(Picture[TimberShown]):
    """The bars, the curve, and the plan."""

    width_px = 860
    height_px = 430

    #: The bars: left, width, first row, pitch; columns right of them.
    BARS_PX = (128, 190, 384, 30)
    U_PX, SHARE_PX = 376.0, 456.0
    SCALES_PERCENT = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0)
    #: The curve: left, foot, width, height; how many plots it goes to.
    CHART_PX = (530, 242, 300, 140)
    MOST_PLOTS = 100
    #: The plan: first row, pitch, rows; where its numbers end.
    PLAN_PX = (142, 24, 4)
    #: The hours as a line: left, width, height above the foot; how many it goes to.
    LINE_PX = (504, 292, 16)
    MOST_HOURS = 40
    HOURS_PX, AFTER_PX = 752.0, 850.0

    def draw(self, figure: Any) -> None:
        """The still parts on `figure`, then the moving artists."""
        page = look.place(figure, 0, 0, self.width_px, self.height_px)
        page.set(xlim=(0, self.width_px), ylim=(0, self.height_px))
        page.axis("off")
        self._draw_bars(page)
        self._draw_curve(page)
        self._draw_plan(page)
        self.values = Values(page)
        self.moving += [self.bars, self.floor, self.curve, self.here]
        self.moving += [self.spent, self.there, *self.steps, self.values.artist]

    def _draw_bars(self, page: Any) -> None:
        from matplotlib.collections import LineCollection

        left, wide, top, pitch = self.BARS_PX
        page.text(8, 412, "What each brings to u", fontweight="bold", **_HOW)
        page.text(self.U_PX, 412, "%", ha="right", **_HOW)
        page.text(self.SHARE_PX, 412, "% of u²", ha="right", **_HOW)
        up = float(top)
        self.rows_px: dict[str, float] = {}
        for title, out in (("more plots make it smaller", True), ("it stays", False)):
            page.text(8, up, title, color=look.QUIET, **_HOW)
            up -= pitch
            for row, name in NAMES.items():
                if averages_out(row) == out:
                    page.text(left - 8, up, name, ha="right", **_HOW)
                    self.rows_px[row] = up
                    up -= pitch
        page.plot([8, self.SHARE_PX], [up + pitch / 2] * 2, color=look.QUIET, lw=1)
        page.text(left - 8, up, "together, u", ha="right", fontweight="bold", **_HOW)
        self.rows_px["together"] = up
        self.foot_px = up - pitch / 2
        for share in (0.0, 0.5, 1.0):
            at = left + share * wide
            ink = look.GRID if share else look.TRUTH
            # the lines leave the second title alone
            middle = self.rows_px["area_percent"] - pitch
            page.plot(
                [at, at, np.nan, at, at],
                [self.foot_px, middle - pitch / 2, np.nan, middle + pitch / 2, top - pitch / 2],
                color=ink,
                lw=1,
                zorder=1,
            )
        colours = [
            look.TRUTH if row == "together" else look.CALIPERS if averages_out(row) else look.TAPE
            for row in self.rows_px
        ]
        self.bars: Any = LineCollection(
            [], colors=colours, linewidths=16 * 72 / look.SHOWN_DPI, capstyle="butt"
        )
        page.add_collection(self.bars, autolim=False)

    def _draw_curve(self, page: Any) -> None:
        left, low, wide, high = self.CHART_PX
        page.text(484, 412, "u with more plots, %", fontweight="bold", **_HOW)
        page.plot([670, 696], [412] * 2, color=look.TAPE, lw=2.2, ls=(0, (5, 2.5)))
        page.text(702, 412, "what stays", **_HOW)
        for share in (0, 0.5, 1):
            up = low + share * high
            ink = look.GRID if share else look.QUIET
            page.plot([left, left + wide], [up, up], color=ink, lw=1)
        for count in (25, 50, 75, 100):
            at = left + count / self.MOST_PLOTS * wide
            page.text(at, low - 18, f"{count}", ha="center", **_HOW)
        page.text(left, low - 18, "0", ha="center", **_HOW)
        page.text(left + wide / 2, low - 40, "plots", ha="center", **_HOW)
        (self.floor,) = page.plot([], [], color=look.TAPE, lw=2.2, ls=(0, (5, 2.5)))
        (self.curve,) = page.plot([], [], color=look.TRUTH, lw=2.4)
        (self.here,) = page.plot([], [], ls="", marker="D", ms=9, color=look.TRUTH)

    def _draw_plan(self, page: Any) -> None:
        top, pitch, rows = self.PLAN_PX
        page.text(484, top + 28, "What to do with the hours", fontweight="bold", **_HOW)
        page.text(self.HOURS_PX, top + 28, "h", ha="right", **_HOW)
        page.text(self.AFTER_PX, top + 28, "then u, %", ha="right", **_HOW)
        self.steps = [page.text(484, top - row * pitch, "", **_HOW) for row in range(rows + 1)]

        left, wide, up = self.LINE_PX
        page.plot([left, left + wide], [up, up], color=look.QUIET, lw=1)
        page.text(left - 8, up, "0", ha="right", **_HOW)
        page.text(left + wide + 10, up, f"{self.MOST_HOURS} h", **_HOW)
        (self.spent,) = page.plot([], [], color=look.QUIET, lw=7, solid_capstyle="butt")
        (self.there,) = page.plot([], [], ls="", marker="D", ms=8, color=look.TRUTH)

    def parts(self) -> tuple[Part, ...]:
        """The bars, the curve, and the plan."""
        bars, right = self.whole.cut_x(472)
        curve, plan = right.cut_y(186)
        return part("shares", bars), part("more plots", curve), part("what to do", plan)

    def show(self, numbers: TimberShown) -> None:
        """Set every moving artist from the numbers."""
        n = numbers
        texts: list[tuple[str, float, float]] = []
        self._show_bars(n, texts)
        self._show_curve(n, texts)
        self._show_plan(n, texts)
        self.values.set([text for text, _, _ in texts], [(x, up) for _, x, up in texts])

    def _show_bars(self, n: TimberShown, texts: list[tuple[str, float, float]]) -> None:
        left, wide, _, _ = self.BARS_PX
        u = n.budget.u_percent
        scale = look.first_scale(u, self.SCALES_PERCENT)
        brings = n.rows | {"together": (u, 100.0)}
        self.bars.set_segments(
            [
                [(left, up), (left + min(brings[row][0] / scale, 1) * wide, up)]
                for row, up in self.rows_px.items()
            ]
        )
        for row, up in self.rows_px.items():
            texts.append((f"{brings[row][0]:.2f}", self.U_PX, up - _HALF_PX))
            texts.append((f"{brings[row][1]:.0f}", self.SHARE_PX, up - _HALF_PX))
        for share in (0.0, 0.5, 1.0):
            text = f"{share * scale:g}"
            at = left + share * wide + line_width_px(text) / 2
            texts.append((text, at, self.foot_px - 14 - _HALF_PX))

    def _show_curve(self, n: TimberShown, texts: list[tuple[str, float, float]]) -> None:
        left, low, wide, high = self.CHART_PX
        scale = look.first_scale(1.1 * n.budget.u_percent, self.SCALES_PERCENT)

        def up(percent: Any) -> Any:
            return low + np.minimum(np.asarray(percent, float) / scale, 1) * high

        # the curve comes in from above where few plots are more unsure than the scale holds
        seen = n.curve_percent <= scale
        self.curve.set_data(left + COUNTS[seen] / self.MOST_PLOTS * wide, up(n.curve_percent[seen]))
        self.floor.set_data([left, left + wide], [up(n.common_percent)] * 2)
        at = left + n.budget.plots / self.MOST_PLOTS * wide
        self.here.set_data([at], [up(n.budget.u_percent)])
        for share in (0, 0.5, 1):
            texts.append((f"{share * scale:g}", left - 12.0, low + share * high - _HALF_PX))

    def _show_plan(self, n: TimberShown, texts: list[tuple[str, float, float]]) -> None:
        top, pitch, rows = self.PLAN_PX
        steps = n.steps
        left, wide, line = self.LINE_PX
        for artist, ends in (
            (self.spent, [0.0, sum(hours for _, hours, _ in steps)]),
            (self.there, [n.hours]),
        ):
            at = [left + one / self.MOST_HOURS * wide for one in ends]
            artist.set_data(at, [line] * len(at))
        for row, word in enumerate(self.steps):
            up = top - row * pitch - _HALF_PX
            word.set_text("")
            if row < rows and row < len(steps):
                name, hours, after = steps[row]
                word.set_text(name)
                texts.append((f"{hours:.1f}", self.HOURS_PX, up))
                texts.append((f"{after:.2f}", self.AFTER_PX, up))
            elif row == rows and len(steps) > rows:
                word.set_text(f"and {len(steps) - rows} more, to")
                texts.append((f"{steps[-1][2]:.2f}", self.AFTER_PX, up))
            elif row == 0:
                word.set_text("nothing that gains fits into them")

    def describe(self, numbers: TimberShown) -> str:
        """The picture in words, with its `numbers`."""
        n = numbers
        groups = (
            ", ".join(
                f"{name} {n.rows[row][0]:.2f} % ({n.rows[row][1]:.0f} % of the square)"
                for row, name in NAMES.items()
                if averages_out(row) == out
            )
            for out in (True, False)
        )
        smaller, stays = groups
        return (
            f"Bars of what each input brings to the standard uncertainty of "
            f"{n.budget.value:.0f} m³ a hectare. More plots make smaller: {smaller}. It stays: "
            f"{stays}. Together {n.budget.u_percent:.2f} %, 95 % from {interval_words(n)}. A curve "
            f"of it over the number of plots, {n.curve_percent[0]:.1f} % with 2 and "
            f"{n.curve_percent[-1]:.1f} % with {COUNTS[-1]:.0f}, falls towards a floor of "
            f"{n.common_percent:.2f} %; there are {n.budget.plots}. {plan_words(n)}"
        )
