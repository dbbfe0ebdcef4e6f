"""The picture on what could be detected: sizes along the plan, and the formula beside simulations.

To the left the bias that nine of ten practicals find, of a hand and of a tape, over the number of
stems, hands or readings; hollow marks were simulated with the study's own verdict. To the right
what the size consists of, and every simulated size over the formula's: on the line they agree.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.estimates.detectable_formula import SIMULATED
from mensura.teaching.panels.detectable import ENDS, DetectableShown, checked_percent
from mensura.views.chapters.detectable.words import asks, size_word
from mensura.views.kit import look
from mensura.views.kit.live import Picture
from mensura.views.kit.numerals import Values, line_width_px
from mensura.views.kit.parts import Part, part

ACROSS = {"stems": "stems", "hands": "hands", "repeats": "readings of a stem by each hand"}
TICKS = {"stems": (4, 20, 40, 60), "hands": (3, 6, 9, 12), "repeats": (1, 2, 3, 4)}
_INKS = {"hand": look.TRUTH, "tape": look.TAPE}
_DASHES = {"hand": "-", "tape": (0, (5, 2))}
_MARKS = {"hand": "o", "tape": "s"}


class DetectablePicture(Picture[DetectableShown]):
    """Two curves along the plan, what the sizes consist of, and formula against simulation."""

    width_px = 860
    height_px = 420

    #: The chart: left, foot, width, height; what its scale may reach.
    CHART_PX = (56, 64, 396, 286)
    SCALES_PERCENT = (2.0, 4.0, 8.0, 16.0, 32.0, 64.0)
    #: The bars: left, foot, width, height of a row.
    BARS_PX = (556, 284, 220, 42)
    #: Formula and simulation: left, foot, side; its scale.
    CHECK_PX = (580, 58, 150)
    CHECK_PERCENT = 2.5

    def draw(self, figure: Any) -> None:
        """The still parts on `figure`, then the moving artists."""
        page = look.place(figure, 0, 0, self.width_px, self.height_px)
        page.set(xlim=(0, self.width_px), ylim=(0, self.height_px))
        page.axis("off")
        self._draw_chart(page)
        self._draw_bars(page)
        self._draw_check(page)
        self.values = Values(page)
        self.moving += [*self.curves.values(), *self.simulated.values(), *self.here.values()]
        self.moving += [self.matters, self.across, self.asked, self.sure, *self.words]
        self.moving.append(self.values.artist)

    def _draw_chart(self, page: Any) -> None:
        left, low, wide, high = self.CHART_PX
        how = {"va": "center_baseline"}
        page.text(8, 402, "Found in nine of ten: a bias of, %", fontweight="bold", **how)
        for share in (0, 0.25, 0.5, 0.75, 1):
            up = low + share * high
            ink = look.GRID if share else look.QUIET
            page.plot([left, left + wide], [up, up], color=ink, lw=1, zorder=1)
        key = 374
        for at, (name, ink) in zip((left, left + 92), _INKS.items(), strict=True):
            page.plot([at, at + 28], [key] * 2, color=ink, lw=2.4, ls=_DASHES[name])
            page.text(at + 34, key, f"a {name}", **how)
        for at, name in zip((left + 184, left + 200), _INKS, strict=True):
            page.plot(
                [at], [key], ls="", marker=_MARKS[name], ms=7, mfc=look.WHITE, mec=_INKS[name],
                mew=1.6,
            )  # fmt: skip
        page.text(left + 212, key, "simulated", **how)
        page.plot([left + 302, left + 330], [key] * 2, color=look.QUIET, lw=1.6, ls=(0, (1, 1.6)))
        page.text(left + 336, key, "matters", **how)
        self.across = page.text(left + wide / 2, low - 40, "", ha="center", **how)
        (self.matters,) = page.plot([], [], color=look.QUIET, lw=1.6, ls=(0, (1, 1.6)), zorder=2)
        self.curves, self.simulated, self.here = {}, {}, {}
        for name, ink in _INKS.items():
            (self.curves[name],) = page.plot([], [], color=ink, lw=2.4, ls=_DASHES[name], zorder=3)
            (self.simulated[name],) = page.plot(
                [], [], ls="", marker=_MARKS[name], ms=8, mfc=look.WHITE, mec=ink, mew=1.6,
                zorder=4,
            )  # fmt: skip
            (self.here[name],) = page.plot(
                [], [], ls="", marker=_MARKS[name], ms=9, mfc=ink, mec=ink, zorder=3
            )

    def _draw_bars(self, page: Any) -> None:
        from matplotlib.collections import LineCollection

        left, low, _, row = self.BARS_PX
        how = {"va": "center_baseline"}
        top = low + 2 * row
        page.text(492, 402, "What the size consists of, %", fontweight="bold", **how)
        self.rows_px = [top - row * (one + 0.5) + 8 for one in range(2)]
        for name, up in zip(_INKS, self.rows_px, strict=True):
            page.text(left - 8, up, f"a {name}", ha="right", **how)
        page.plot([left, left], [low, top], color=look.TRUTH, lw=1.2)
        thick: Any = {"linewidths": 14 * 72 / look.SHOWN_DPI, "capstyle": "butt"}
        self.asked: Any = LineCollection([], colors=look.QUIET, **thick)
        self.sure: Any = LineCollection([], colors=look.TAPE, **thick)
        page.add_collection(self.asked, autolim=False)
        page.add_collection(self.sure, autolim=False)
        self.words = [page.text(left + 4, up - 20, "", **how) for up in self.rows_px]

    def _draw_check(self, page: Any) -> None:
        left, low, side = self.CHECK_PX
        how = {"va": "center_baseline"}
        page.text(492, low + side + 26, "Simulated over the formula, %", fontweight="bold", **how)
        page.plot(
            [left, left + side, left + side, left, left],
            [low, low, low + side, low + side, low],
            color=look.GRID,
            lw=1,
        )
        page.plot([left, left + side], [low, low + side], color=look.QUIET, lw=1.2)
        for value in (0.0, 1.0, 2.0):
            at = value / self.CHECK_PERCENT * side
            page.text(left + at, low - 16, f"{value:g}", ha="center", **how)
            page.text(left - 8, low + at, f"{value:g}", ha="right", **how)
        page.text(left + side / 2, low - 40, "by the formula", ha="center", **how)
        for place, (name, ink) in enumerate(_INKS.items()):
            by_formula = np.array([one[place] for one in checked_percent()])
            simulated = np.array([getattr(one, f"{name}_percent") for one in SIMULATED])
            page.plot(
                left + np.minimum(by_formula / self.CHECK_PERCENT, 1) * side,
                low + np.minimum(simulated / self.CHECK_PERCENT, 1) * side,
                ls="", marker=_MARKS[name], ms=6, mfc=look.WHITE, mec=ink, mew=1.4, zorder=3,
            )  # fmt: skip
        page.text(left + side + 14, low + side - 10, "on the line", **how)
        page.text(left + side + 14, low + side - 30, "they agree", **how)

    def parts(self) -> tuple[Part, ...]:
        """The chart, what the sizes consist of, and the check."""
        chart, right = self.whole.cut_x(476)
        bars, check = right.cut_y(256)
        return part("size", chart), part("why", bars), part("check", check)

    def show(self, numbers: DetectableShown) -> None:
        """Set every moving artist from the numbers."""
        n = numbers
        texts: list[tuple[str, float, float]] = []
        self._show_chart(n, texts)
        self._show_bars(n, texts)
        self.values.set([text for text, _, _ in texts], [(x, up) for _, x, up in texts])

    def _show_chart(self, n: DetectableShown, texts: list[tuple[str, float, float]]) -> None:
        left, low, wide, high = self.CHART_PX
        least, most = ENDS[n.along]
        top = look.first_scale(
            float(max(np.max(one) for one in n.curves_percent)), self.SCALES_PERCENT
        )

        def x(place: Any) -> Any:
            return left + (np.asarray(place, float) - least) / (most - least) * wide

        def up(percent: Any) -> Any:
            return low + np.minimum(np.asarray(percent, float) / top, 1) * high

        for name, curve, one in zip(_INKS, n.curves_percent, (n.hand, n.tape), strict=True):
            self.curves[name].set_data(x(n.places), up(curve))
            self.here[name].set_data([x(n.here)], [up(one.size_percent)])
            places = [getattr(each, n.along) for each in n.simulated]
            sizes = [getattr(each, f"{name}_percent") for each in n.simulated]
            self.simulated[name].set_data(x(places), up(sizes))
        self.matters.set_data([left, left + wide], [up(n.matters_percent)] * 2)
        self.across.set_text(ACROSS[n.along])
        for share in (0, 0.25, 0.5, 0.75, 1):
            texts.append((f"{share * top:g}", left - 8.0, low + share * high - 5.4))
        for place in TICKS[n.along]:
            text = f"{place}"
            texts.append((text, float(x(place)) + line_width_px(text) / 2, low - 20.0))

    def _show_bars(self, n: DetectableShown, texts: list[tuple[str, float, float]]) -> None:
        left, _, wide, _ = self.BARS_PX
        both = (n.hand, n.tape)
        top = look.first_scale(max(float(one.size_percent) for one in both), self.SCALES_PERCENT)
        ends = [left + min(float(one.size_percent) / top, 1) * wide for one in both]
        asked = [left + min(float(one.asked_percent) / top, 1) * wide for one in both]
        ups = self.rows_px
        self.asked.set_segments(
            [[(left, up), (end, up)] for end, up in zip(asked, ups, strict=True)]
        )
        self.sure.set_segments(
            [[(a, up), (b, up)] for a, b, up in zip(asked, ends, ups, strict=True)]
        )
        for word, one, up in zip(self.words, both, ups, strict=True):
            more = float(one.size_percent) - float(one.asked_percent)
            word.set_text(f"{one.asked_percent:.2f} {asks(n, one)}, {more:.2f} more for luck")
            texts.append((f"{one.size_percent:.2f}", left + wide + 66.0, up - 5.4))

    def describe(self, numbers: DetectableShown) -> str:
        """The picture in words, with its `numbers`."""
        n = numbers
        hand, tape = n.curves_percent
        ends = f"from {n.places[0]:g} to {n.places[-1]:g} {ACROSS[n.along]}"
        marks = f"{len(n.simulated)} simulated plans lie on the chart" if n.simulated else (
            "no simulated plan is like this one"
        )  # fmt: skip
        return (
            f"Curves of the bias that nine of ten practicals find, {ends}: of a hand from "
            f"{hand[0]:.2f} to {hand[-1]:.2f} %, of a tape from {tape[0]:.2f} to {tape[-1]:.2f} %; "
            f"here {size_word(n.hand)} and {size_word(n.tape)}, and {n.matters_percent:g} % "
            f"matters. {marks}. Bars say what the sizes consist of: what is asked for, by "
            f"{asks(n, n.hand)} for a hand and {asks(n, n.tape)} for a tape, and what is needed "
            f"more so that nine of ten find it. "
            f"A square of {2 * len(SIMULATED)} marks holds simulated sizes against the formula's."
        )
