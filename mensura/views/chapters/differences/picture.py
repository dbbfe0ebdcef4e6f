"""The picture on tape against calipers: differences over means, over the direction, and the parts.

To the left a dot is one hand's difference on one stem; the mean of all and the limits of agreement
go across, each with its interval as a bar at its end. To the right the same dots over the direction
in which the calipers were held, with the curve that an oval alone makes, and bars of what the
spread consists of.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from mensura.teaching.panels.differences import DifferencesShown
from mensura.views.chapters.differences.words import PARTS, oval_word
from mensura.views.kit import look
from mensura.views.kit.live import Picture
from mensura.views.kit.numerals import Values, line_width_px
from mensura.views.kit.parts import Part, part
from mensura.written import minus, signed

SHARES = (-1.0, -0.5, 0.0, 0.5, 1.0)
_THICK = 13 * 72 / look.SHOWN_DPI


class DifferencesPicture(Picture[DifferencesShown]):
    """Differences over means, over the direction, and what they consist of."""

    width_px = 860
    height_px = 424

    #: The chart of means: left, foot, width, height; its ends; what half its height may be.
    MEANS_PX = (56, 76, 328, 300)
    MEANS_CM = (15.0, 75.0)
    SCALES_CM = (0.5, 1.0, 2.0, 4.0, 8.0, 16.0)
    #: The chart of directions.
    TURN_PX = (536, 226, 300, 150)
    #: The bars: left, foot, width, height of a row; what their scale may be.
    BARS_PX = (606, 28, 180, 26)
    BAR_SCALES_CM = (0.25, 0.5, 1.0, 2.0, 4.0)

    def draw(self, figure: Any) -> None:
        """The still parts on `figure`, then the moving artists."""
        page = look.place(figure, 0, 0, self.width_px, self.height_px)
        page.set(xlim=(0, self.width_px), ylim=(0, self.height_px))
        page.axis("off")
        self._draw_means(page)
        self._draw_turns(page)
        self._draw_bars(page)
        self.values = Values(page)
        self.moving += [self.points, self.mean, self.limits, self.reach, self.out]
        self.moving += [self.turned, self.oval, self.bars, self.values.artist]

    def _draw_means(self, page: Any) -> None:
        from matplotlib.collections import LineCollection

        left, low, wide, _ = self.MEANS_PX
        how = {"va": "center_baseline"}
        page.text(8, 406, "Tape less calipers, cm", fontweight="bold", **how)
        self.out = page.text(8, 14, "", **how)
        self._ruled(page, self.MEANS_PX)
        page.text(left + wide / 2, low - 34, "mean of both, cm", ha="center", **how)
        (self.points,) = page.plot(
            [], [], ls="", marker="o", ms=5, mfc=look.WHITE, mec=look.QUIET, mew=1.1, zorder=2
        )
        (self.mean,) = page.plot([], [], color=look.TRUTH, lw=2.4, zorder=3)
        (self.limits,) = page.plot([], [], color=look.TAPE, lw=2.2, ls=(0, (5, 2)), zorder=3)
        self.reach: Any = LineCollection(
            [], colors=[look.TAPE, look.TRUTH, look.TAPE], linewidths=5, capstyle="butt"
        )
        page.add_collection(self.reach, autolim=False)

    def _ruled(self, page: Any, where: tuple[int, int, int, int]) -> None:
        left, low, wide, high = where
        for share in SHARES:
            up = low + (share + 1) / 2 * high
            ink = look.GRID if share else look.QUIET
            page.plot([left, left + wide], [up, up], color=ink, lw=1, zorder=1)

    def _draw_turns(self, page: Any) -> None:
        left, low, wide, _ = self.TURN_PX
        how = {"va": "center_baseline"}
        page.text(492, 406, "The same over where they were held", fontweight="bold", **how)
        self._ruled(page, self.TURN_PX)
        for deg in (0, 45, 90, 135, 180):
            at = left + deg / 180 * wide
            page.text(at, low - 16, f"{deg}°", ha="center", **how)
        page.text(left + wide / 2, low - 38, "from the longest way", ha="center", **how)
        (self.turned,) = page.plot(
            [], [], ls="", marker="o", ms=4, mfc=look.WHITE, mec=look.QUIET, mew=1, zorder=2
        )
        (self.oval,) = page.plot([], [], color=look.BARK, lw=2.4, zorder=3)

    def _draw_bars(self, page: Any) -> None:
        from matplotlib.collections import LineCollection

        left, low, _, row = self.BARS_PX
        how = {"va": "center_baseline"}
        top = low + row * len(PARTS)
        page.text(492, top + 16, "What it spreads by, cm", fontweight="bold", **how)
        self.rows_px = [top - row * (one + 0.5) for one in range(len(PARTS))]
        for name, up in zip(PARTS.values(), self.rows_px, strict=True):
            page.text(left - 8, up, name, ha="right", **how)
        page.plot([left, left], [low, top], color=look.TRUTH, lw=1.2)
        self.bars: Any = LineCollection(
            [], colors=[look.QUIET] * (len(PARTS) - 1) + [look.TRUTH], linewidths=_THICK,
            capstyle="butt",
        )  # fmt: skip
        page.add_collection(self.bars, autolim=False)

    def parts(self) -> tuple[Part, ...]:
        """The differences, where the calipers were held, and what the spread consists of."""
        means, right = self.whole.cut_x(474)
        turns, bars = right.cut_y(160)
        return part("differences", means), part("direction", turns), part("spread", bars)

    def show(self, numbers: DifferencesShown) -> None:
        """Set every moving artist from the numbers."""
        n, one = numbers, numbers.agreement
        need = max(
            float(np.abs(n.difference_cm).max()), abs(one.upper_interval_cm[1]),
            abs(one.lower_interval_cm[0]),
        )  # fmt: skip
        half = look.first_scale(need, self.SCALES_CM)
        texts: list[tuple[str, float, float]] = []
        self._show_means(n, half, texts)
        self._show_turns(n, half, texts)
        self._show_bars(n, texts)
        self.values.set([text for text, _, _ in texts], [(x, up) for _, x, up in texts])

    def _show_means(
        self, n: DifferencesShown, half: float, texts: list[tuple[str, float, float]]
    ) -> None:
        left, low, wide, high = self.MEANS_PX
        least, most = self.MEANS_CM
        one = n.agreement

        def up(value: Any) -> Any:
            return low + high / 2 + np.clip(value, -half, half) / half * high / 2

        across = left + (n.mean_cm - least) / (most - least) * wide
        self.points.set_data(across, up(n.difference_cm))
        end = left + wide
        self.mean.set_data([left, end], [up(one.mean_cm)] * 2)
        ups = [*[up(one.lower_cm)] * 2, np.nan, *[up(one.upper_cm)] * 2]
        self.limits.set_data([left, end, np.nan, left, end], ups)
        spans = (one.lower_interval_cm, one.mean_interval_cm, one.upper_interval_cm)
        self.reach.set_segments([[(end + 9, up(a)), (end + 9, up(b))] for a, b in spans])
        values = (one.lower_cm, one.mean_cm, one.upper_cm)
        feet = _apart([float(up(value)) for value in values], 16.0)
        for value, foot in zip(values, feet, strict=True):
            texts.append((signed(value, 2), end + 76.0, foot - 5.4))
        for share in SHARES:
            foot = low + (share + 1) / 2 * high - 5.4
            texts.append((minus(f"{share * half:g}"), left - 8.0, foot))
        for size in np.arange(least, most + 1, 15.0):
            text = f"{size:g}"
            at = left + (float(size) - least) / (most - least) * wide
            texts.append((text, at + line_width_px(text) / 2, low - 20.0))
        self.out.set_text(oval_word(n))

    def _show_turns(
        self, n: DifferencesShown, half: float, texts: list[tuple[str, float, float]]
    ) -> None:
        left, low, wide, high = self.TURN_PX

        def up(value: Any) -> Any:
            return low + high / 2 + np.clip(value, -half, half) / half * high / 2

        self.turned.set_data(left + n.off_axis_deg / 180 * wide, up(n.difference_cm))
        degs = np.linspace(0, 180, 61)
        curve = -n.oval_cm * np.cos(np.radians(2 * degs))
        self.oval.set_data(left + degs / 180 * wide, up(curve))
        for share in (-1.0, 0.0, 1.0):
            foot = low + (share + 1) / 2 * high - 5.4
            texts.append((minus(f"{share * half:g}"), left - 8.0, foot))

    def _show_bars(self, n: DifferencesShown, texts: list[tuple[str, float, float]]) -> None:
        left, _, wide, _ = self.BARS_PX
        values = [float(getattr(n.agreement, key)) for key in PARTS]
        scale = look.first_scale(max(values), self.BAR_SCALES_CM)
        ends = [left + min(value / scale, 1.0) * wide for value in values]
        self.bars.set_segments(
            [[(left, up), (end, up)] for end, up in zip(ends, self.rows_px, strict=True)]
        )
        for value, up in zip(values, self.rows_px, strict=True):
            texts.append((f"{value:.2f}", left + wide + 44.0, up - 5.4))

    def describe(self, numbers: DifferencesShown) -> str:
        """The picture in words, with its `numbers`."""
        n, one = numbers, numbers.agreement
        what = "means of pairs" if n.pair else "single caliper readings"
        parts = ", ".join(f"{name} {getattr(one, key):.2f} cm" for key, name in PARTS.items())
        return (
            f"{one.cells} dots: tape less {what} over the mean of both, on {one.stems} stems by "
            f"{one.hands} hands. Their mean is {signed(one.mean_cm, 2)} cm, the limits of "
            f"agreement {signed(one.lower_cm, 2)} and {signed(one.upper_cm, 2)} cm; "
            f"{oval_word(n)}. Beside them the same over the direction from the longest way "
            f"(held: {n.directions}), with the curve that the oval alone would make, a swing of "
            f"{n.oval_cm:.2f} cm either way, and bars of the spread: {parts}."
        )


def _apart(middles: Sequence[float], gap: float) -> list[float]:
    """Three heights, from below, moved so far that none lies on another; the middle one stays."""
    low, middle, high = middles
    return [min(low, middle - gap), middle, max(high, middle + gap)]
