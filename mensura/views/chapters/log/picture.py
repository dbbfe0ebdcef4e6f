"""The log's picture: its side, its sectional area along it, and how far each rule is off.

To the left side and area share one scale along the log: its volume is the area under the black
line, and each rule puts another line in its place. To the right what that costs, for this log and
for the same log of every other form.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.teaching.panels.log import POWERS, RULES, LogShown
from mensura.views.chapters.log.words import sections_word
from mensura.views.kit import look
from mensura.views.kit.live import Picture
from mensura.views.kit.numerals import Values, line_width_px
from mensura.views.kit.parts import Part, part
from mensura.written import minus, signed

#: Each rule's ink and line; the shapes of their lines differ too.
STYLES: dict[str, tuple[str, Any]] = {
    "Huber": (look.TAPE, "-"),
    "Smalian": (look.CALIPERS, (0, (6, 2.5))),
    "Newton": (look.BARK, (0, (6, 1.5, 1.5, 1.5))),
    "by sections": (look.QUIET, (0, (1.5, 1.5))),
}
_HOW: dict[str, Any] = {"va": "center_baseline"}
#: Half the height of a figure, so that it stands in the middle of its line.
_HALF_PX = 5.4


class LogPicture(Picture[LogShown]):
    """The log from the side, its area, the bars, and the rules over all forms."""

    width_px = 860
    height_px = 430

    #: Where the log begins, how long it is drawn, and how much of the stem beyond it.
    LOG_PX = (58, 376, 26)
    #: Middle of the log from the side, its marks, and how many px are a metre of thickness.
    SIDE_PX, MARKS_PX, PX_PER_M = 334, 270, 80.0
    #: Foot and height of both charts; left and width of the right one.
    CHART_PX = (62, 166)
    FORMS_PX = (540, 280)
    #: Zero of the bars, how far they reach either way, the first row and the pitch.
    BARS_PX = (696, 78, 384, 28)
    AREAS_M2 = (0.05, 0.1, 0.2, 0.4, 0.8, 1.6)
    PERCENT = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 400.0)

    def draw(self, figure: Any) -> None:
        """The still parts on `figure`, then the moving artists."""
        page = look.place(figure, 0, 0, self.width_px, self.height_px)
        page.set(xlim=(0, self.width_px), ylim=(0, self.height_px))
        page.axis("off")
        self._draw_log(page)
        self._draw_area(page)
        self._draw_bars(page)
        self._draw_forms(page)
        self.values = Values(page)
        self.moving += [self.wood, self.rest, self.cuts, self.bands, self.ends, self.middle]
        self.moving += [self.area, *self.lines.values(), self.read_ends, self.read_middle]
        self.moving += [self.bars, *self.curves.values(), self.here, self.across]
        self.moving.append(self.values.artist)

    def _draw_log(self, page: Any) -> None:
        from matplotlib.collections import LineCollection
        from matplotlib.patches import Polygon

        page.text(8, 412, "The log from the side", fontweight="bold", **_HOW)
        page.plot([206], [412], ls="", marker="s", ms=8, color=look.TAPE)
        page.text(216, 412, "ends", **_HOW)
        page.plot([274], [412], ls="", marker="^", ms=9, color=look.TAPE)
        page.text(284, 412, "middle", **_HOW)
        page.plot([354, 354], [404, 420], color=look.QUIET, lw=1.2)
        page.text(362, 412, "sections", **_HOW)
        (self.rest,) = page.plot([], [], color=look.BARK, lw=1.2, ls=(0, (3, 2)))
        self.wood = Polygon([(0, 0)], closed=True, fc=look.WOOD, ec=look.BARK, lw=1.8)
        page.add_patch(self.wood)
        self.cuts: Any = LineCollection([], colors=look.QUIET, linewidths=1.2)
        self.bands: Any = LineCollection([], colors=look.TAPE, linewidths=2.4)
        page.add_collection(self.cuts, autolim=False)
        page.add_collection(self.bands, autolim=False)
        (self.ends,) = page.plot([], [], ls="", marker="s", ms=8, color=look.TAPE)
        (self.middle,) = page.plot([], [], ls="", marker="^", ms=9, color=look.TAPE)

    def _draw_area(self, page: Any) -> None:
        from matplotlib.patches import Polygon

        left, wide, more = self.LOG_PX
        low, high = self.CHART_PX
        page.text(8, low + high + 18, "Its sectional area, m²", fontweight="bold", **_HOW)
        self.area = Polygon([(0, 0)], closed=True, fc=look.WOOD, ec="none", lw=0)
        page.add_patch(self.area)
        for share in (0, 0.5, 1):
            up = low + share * high
            ink = look.GRID if share else look.QUIET
            page.plot([left, left + wide + more], [up, up], color=ink, lw=1)
        self.lines = {}
        for rule, (ink, dashes) in STYLES.items():
            (self.lines[rule],) = page.plot([], [], color=ink, ls=dashes, lw=2.2)
        (self.lines["true"],) = page.plot([], [], color=look.TRUTH, lw=2)
        (self.read_ends,) = page.plot([], [], ls="", marker="s", ms=8, color=look.TAPE)
        (self.read_middle,) = page.plot([], [], ls="", marker="^", ms=8, color=look.TAPE)
        self.across = page.text(left, 18, "", **_HOW)

    def _draw_bars(self, page: Any) -> None:
        from matplotlib.collections import LineCollection

        zero, reach, top, pitch = self.BARS_PX
        page.text(484, 412, "Too large (+) or too small (−), %", fontweight="bold", **_HOW)
        self.rows_px = [top - row * pitch for row in range(len(RULES))]
        for rule, up in zip(RULES, self.rows_px, strict=True):
            ink, dashes = STYLES[rule]
            page.plot([484, 518], [up, up], color=ink, ls=dashes, lw=2.2)
            page.text(524, up, rule, **_HOW)
        foot, head = self.rows_px[-1] - pitch / 2, top + pitch / 2
        for share in (-1, 0, 1):
            at = zero + share * reach
            page.plot([at, at], [foot, head], color=look.GRID if share else look.TRUTH, lw=1)
        self.bars: Any = LineCollection(
            [], colors=[STYLES[rule][0] for rule in RULES], capstyle="butt",
            linewidths=16 * 72 / look.SHOWN_DPI,
        )  # fmt: skip
        page.add_collection(self.bars, autolim=False)

    def _draw_forms(self, page: Any) -> None:
        left, wide = self.FORMS_PX
        low, high = self.CHART_PX
        page.text(484, low + high + 18, "The same log of any form, %", fontweight="bold", **_HOW)
        for share in (0, 0.5, 1):
            up = low + share * high
            ink = look.TRUTH if share == 0.5 else look.GRID
            page.plot([left, left + wide], [up, up], color=ink, lw=1)
        for place, name in enumerate(("cylinder", "paraboloid", "cone", "neiloid")):
            at = left + place / 3 * wide
            page.plot([at, at], [low, low + high], color=look.GRID, lw=1, zorder=1)
            page.text(at, low - 20, name, ha="center", **_HOW)
            page.text(at, low - 44, f"{place}", ha="center", **_HOW)
        self.curves = {}
        for rule, (ink, dashes) in STYLES.items():
            (self.curves[rule],) = page.plot([], [], color=ink, ls=dashes, lw=2.2)
        (self.here,) = page.plot([], [], color=look.TRUTH, lw=1.4, ls=(0, (2, 2)))

    def parts(self) -> tuple[Part, ...]:
        """The log with its area, the bars, and all forms."""
        log, right = self.whole.cut_x(476)
        bars, forms = right.cut_y(262)
        return part("log", log), part("rules", bars), part("forms", forms)

    def show(self, numbers: LogShown) -> None:
        """Set every moving artist from the numbers."""
        n = numbers
        texts: list[tuple[str, float, float]] = []
        self._show_log(n)
        self._show_area(n, texts)
        self._show_bars(n, texts)
        self._show_forms(n, texts)
        self.values.set([text for text, _, _ in texts], [(x, up) for _, x, up in texts])

    def _x(self, n: LogShown, place_m: Any) -> Any:
        left, wide, _ = self.LOG_PX
        return left + np.asarray(place_m, float) / n.length_m * wide

    def _half_px(self, area_m2: Any) -> Any:
        """Half the thickness of a section as it is drawn."""
        return np.sqrt(np.asarray(area_m2, float) / np.pi) * self.PX_PER_M

    def _show_log(self, n: LogShown) -> None:
        x, half, mid = self._x(n, n.places_m), self._half_px(n.areas_m2), self.SIDE_PX
        self.wood.set_xy(
            np.column_stack([np.r_[x, x[::-1]], np.r_[mid + half, (mid - half)[::-1]]])
        )
        # the stem goes on beyond the log, as far as there is room
        _, wide, more = self.LOG_PX
        on_m = min(n.length_m * (wide + more) / wide, n.tip_m)
        top, end = float(n.areas_m2[-1]), n.length_m
        left_over = (n.tip_m - on_m) / (n.tip_m - end) if on_m > end else 0.0
        after = self._half_px(top * left_over**n.power) if on_m > end else 0.0
        a, b, thick = float(self._x(n, end)), float(self._x(n, on_m)), float(self._half_px(top))
        self.rest.set_data(
            [a, b, np.nan, a, b], [mid + thick, mid + after, np.nan, mid - thick, mid - after]
        )
        inner = np.maximum(n.ends_m[1:-1], 0)
        at = self._x(n, inner)
        high = self._half_px(np.interp(inner, n.places_m, n.areas_m2))
        self.cuts.set_segments(
            [[(one, mid - up), (one, mid + up)] for one, up in zip(at, high, strict=True)]
        )
        places, ups = self._x(n, n.read_m), self._half_px(n.read_m2)
        self.bands.set_segments(
            [[(one, mid - up), (one, mid + up)] for one, up in zip(places, ups, strict=True)]
        )
        self.ends.set_data([places[0], places[2]], [self.MARKS_PX] * 2)
        self.middle.set_data([places[1]], [self.MARKS_PX])

    def _show_area(self, n: LogShown, texts: list[tuple[str, float, float]]) -> None:
        left, wide, _ = self.LOG_PX
        low, high = self.CHART_PX
        scale = look.first_scale(float(np.max(n.areas_m2)), self.AREAS_M2)

        def up(area_m2: Any) -> Any:
            return low + np.asarray(area_m2, float) / scale * high

        x = self._x(n, n.places_m)
        ups = up(n.areas_m2)
        self.area.set_xy(np.column_stack([np.r_[x, x[-1], x[0]], np.r_[ups, low, low]]))
        self.lines["true"].set_data(x, ups)
        butt, middle, top = n.read_m2
        ends = [left, left + wide]
        self.lines["Huber"].set_data(ends, up([middle, middle]))
        self.lines["Smalian"].set_data(ends, up([butt, top]))
        share = np.linspace(0, 1, 25)
        through = (
            butt * (1 - share) * (1 - 2 * share)
            + 4 * middle * share * (1 - share)
            + top * share * (2 * share - 1)
        )
        self.lines["Newton"].set_data(left + share * wide, up(through))
        self.lines["by sections"].set_data(self._x(n, n.sections_m), up(n.sections_m2))
        places = self._x(n, n.read_m)
        self.read_ends.set_data([places[0], places[2]], [up(butt), up(top)])
        self.read_middle.set_data([places[1]], [up(middle)])
        for one in (0, 0.5, 1):
            texts.append((f"{one * scale:g}", left - 12.0, low + one * high - _HALF_PX))
        every = 0.5 if n.length_m <= 3 else 1 if n.length_m <= 6 else 2
        for place in np.arange(0, n.length_m + 1e-9, every):
            text = f"{place:g}"
            at = float(self._x(n, place)) + line_width_px(text) / 2
            texts.append((text, at, low - 20 - _HALF_PX))
        times = self.PX_PER_M / (wide / n.length_m)
        self.across.set_text(f"m from the butt; drawn {times:.1f} times as thick")

    def _show_bars(self, n: LogShown, texts: list[tuple[str, float, float]]) -> None:
        zero, reach, _, pitch = self.BARS_PX
        off = [n.over_percent[rule] for rule in RULES]
        scale = look.first_scale(max(map(abs, off)), self.PERCENT)
        ups = self.rows_px
        self.bars.set_segments(
            [
                [(zero, up), (zero + one / scale * reach, up)]
                for one, up in zip(off, ups, strict=True)
            ]
        )
        for one, up in zip(off, ups, strict=True):
            texts.append((signed(one), 852.0, up - _HALF_PX))
        for share in (-1, 0, 1):
            text = minus(f"{share * scale:+g}") if share else "0"
            at = zero + share * reach + line_width_px(text) / 2
            texts.append((text, at, ups[-1] - pitch / 2 - 14 - _HALF_PX))

    def _show_forms(self, n: LogShown, texts: list[tuple[str, float, float]]) -> None:
        left, wide = self.FORMS_PX
        low, high = self.CHART_PX
        most = max(float(np.max(np.abs(one))) for one in n.forms_percent.values())
        scale = look.first_scale(most, self.PERCENT)
        x = left + POWERS / POWERS[-1] * wide
        for rule, curve in self.curves.items():
            curve.set_data(x, low + high / 2 * (1 + n.forms_percent[rule] / scale))
        at = left + n.power / float(POWERS[-1]) * wide
        self.here.set_data([at, at], [low, low + high])
        for share in (-1, 0, 1):
            text = minus(f"{share * scale:+g}") if share else "0"
            texts.append((text, left - 8.0, low + (1 + share) / 2 * high - _HALF_PX))

    def describe(self, numbers: LogShown) -> str:
        """The picture in words, with its `numbers`."""
        n = numbers
        butt, middle, top = n.read_cm
        off = ", ".join(
            f"{rule if rule != 'by sections' else sections_word(n)} {signed(n.over_percent[rule])}"
            for rule in RULES
        )
        return (
            f"A log of {n.length_m:g} m from the side, its form {n.form}; read {butt:.1f} cm near "
            f"the butt at {n.read_m[0]:g} m, {middle:.1f} cm at {n.read_m[1]:g} m and {top:.1f} cm "
            f"at the top. Below it its sectional area as a black line, with the line that each "
            f"rule puts in its place. Bars of what each rule is off, in per cent of the true "
            f"{n.true_m3:.3f} m³: {off}. A chart shows the same for every form from cylinder to "
            f"neiloid."
        )
