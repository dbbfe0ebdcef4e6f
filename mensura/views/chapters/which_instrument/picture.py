"""The picture on choosing: the errors of tape and calipers side by side, and where they flip.

To the left the error of a plot's basal area against out-of-roundness, stem size or undergrowth, one
curve an instrument; a line with its number stands wherever the better one changes, found exactly
and not read off the curves, and a band over the chart says which is better between. To the right
what the time is spent on, and what the errors consist of.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from mensura.teaching.panels.which_instrument import ENDS, WhichShown
from mensura.views.chapters.which_instrument.words import (
    MOVED,
    along_word,
    flip_word,
    least_count,
    minutes_word,
    place_word,
    why_not,
)
from mensura.views.kit import look
from mensura.views.kit.live import Picture
from mensura.views.kit.numerals import Values, line_width_px
from mensura.views.kit.parts import Part, part

_INKS = {"tape": look.TAPE, "calipers": look.CALIPERS}
#: What stands below the chart.
_ACROSS = {
    "out_of_round_percent": "out-of-roundness, %",
    "diameter_cm": "stems' diameter, cm",
    "undergrowth": "undergrowth, 0 to 1",
}


def _apart(
    middles: Sequence[float], widths: Sequence[float], ends: tuple[float, float]
) -> list[float]:
    """Middles moved aside as far as it takes for nothing to touch, in their order.

    middles: from the left, px; widths: of each, with the gap that it needs; ends: between which all
    have to lie. Whatever touches moves as one, so that it lies about its own middle.

    >>> _apart([40.0, 42.0, 95.0], [20.0, 20.0, 20.0], (0.0, 100.0))
    [31.0, 51.0, 90.0]
    """

    def inside(start: float, wide: float) -> float:
        return max(min(start, ends[1] - wide), ends[0])

    rows: list[tuple[float, list[float]]] = []
    for middle, wide in zip(middles, widths, strict=True):
        start, own = inside(middle - wide / 2, wide), [wide]
        while rows and rows[-1][0] + sum(rows[-1][1]) > start:
            before, more = rows.pop()
            # both where they would lie on average, each label alike
            start = (before * len(more) + (start - sum(more)) * len(own)) / (len(more) + len(own))
            own = more + own
            start = inside(start, sum(own))
        rows.append((start, own))
    found = []
    for start, several in rows:
        for wide in several:
            found.append(start + wide / 2)
            start += wide
    return found


def _here(n: WhichShown) -> float:
    """Where on the chart these stems stand."""
    return float(getattr(n.morning, n.along))


def _to_scale(need: float, scales: Sequence[float]) -> float:
    return next((one for one in scales if one >= need), scales[-1])


class WhichPicture(Picture[WhichShown]):
    """Two curves with the line between them, the minutes of a stem, and the parts of the errors."""

    width_px = 860
    height_px = 424

    #: The chart, and what its scale may reach.
    CHART_PX = (64, 52, 388, 286)
    SHARES = (0.0, 0.2, 0.4, 0.6, 0.8, 1.0)
    SCALES_PERCENT = (0.4, 0.8, 1.2, 2.0, 3.0, 4.0, 6.0, 8.0, 12.0, 20.0, 40.0, 80.0)
    #: The rows of minutes, from above, and what their scale may reach.
    MINUTES_PX = (506, 302, 330, 92)
    SCALES_MIN = (1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0, 16.0, 20.0, 30.0, 40.0)
    #: The rows of the errors' parts: left and foot of the bars, their width, height of a row.
    PARTS_PX = (626, 26, 150, 25)
    PARTS = ("tape: over", "either way", "error", "calipers: over", "either way", "error")

    def draw(self, figure: Any) -> None:
        """The still parts on `figure`, then the moving artists."""
        words = look.place(figure, 0, 0, self.width_px, self.height_px)
        words.set(xlim=(0, self.width_px), ylim=(0, self.height_px))
        words.axis("off")
        self._chart(figure, words)
        self._minutes(words)
        self._parts(words)
        self.numbers = Values(words)
        self.moving += [*self.curves.values(), self.line, *self.marks.values(), self.flip_said]
        self.moving += [*self.best.values(), self.across_said, self.practice]
        self.moving += [self.walked, *self.read.values(), self.there_is, *self.minute_words]
        self.moving += [*self.bars, self.numbers.artist]

    def _chart(self, figure: Any, words: Any) -> None:
        left, foot, across, high = self.CHART_PX
        ground = look.place(figure, *self.CHART_PX)
        ground.set(xlim=(0, 1), ylim=(0, 1))
        ground.set_xticks(self.SHARES, [""] * len(self.SHARES))
        ground.set_yticks([0, 0.25, 0.5, 0.75, 1], [""] * 5)
        ground.grid(True)
        ground.set_axisbelow(True)
        words.text(
            14,
            foot + high / 2,
            "error of the plot's basal area, %",
            rotation=90,
            ha="center",
            va="center",
        )
        # names over the chart, where no curve comes
        key = foot + high + 58
        words.plot([left, left + 30], [key] * 2, color=look.TAPE, lw=2.2)
        words.plot([left + 15], [key], ls="", marker="o", ms=8, color=look.TAPE)
        words.text(left + 38, key, "tape", va="center_baseline", color=look.TAPE_WORD)
        words.plot([left + 96, left + 126], [key] * 2, color=look.CALIPERS, lw=2.2, ls=(0, (5, 2)))
        words.plot(
            [left + 111], [key], ls="", marker="s", ms=8, mfc=look.WHITE, mec=look.CALIPERS, mew=2
        )
        self.practice = words.text(left + 134, key, "", va="center_baseline", color=look.CALIPERS)
        self.chart = look.place(figure, *self.CHART_PX)
        self.chart.set(xlim=(0, 1), ylim=(0, 1))
        self.chart.axis("off")
        (tape,) = self.chart.plot([], [], color=look.TAPE, lw=2.2)
        (jaws,) = self.chart.plot([], [], color=look.CALIPERS, lw=2.2, ls=(0, (5, 2)))
        self.curves = {"tape": tape, "calipers": jaws}
        (dot,) = self.chart.plot([], [], ls="", marker="o", ms=8, color=look.TAPE, clip_on=False)
        (box,) = self.chart.plot(
            [],
            [],
            ls="",
            marker="s",
            ms=8,
            mfc=look.WHITE,
            mec=look.CALIPERS,
            mew=2,
            clip_on=False,
        )
        self.marks = {"tape": dot, "calipers": box}
        (self.line,) = words.plot([], [], color=look.TRUTH, lw=1.6, ls=(0, (2, 2)))
        self.flip_said = words.text(0, foot + high + 32, "", va="center_baseline")
        self.across_said = words.text(
            left + across / 2, foot - 36, "", ha="center", va="center_baseline"
        )
        words.text(left - 6, foot + high + 15, "better", ha="right", va="center_baseline")
        self.best = {
            name: words.plot([], [], color=ink, lw=4.5, ls=style, solid_capstyle="butt")[0]
            for (name, ink), style in zip(_INKS.items(), ("-", (0, (2.4, 0.9))), strict=True)
        }

    def _minutes(self, words: Any) -> None:
        left, foot, across, high = self.MINUTES_PX
        words.text(
            left, foot + high + 16, "Minutes for one stem", fontweight="bold", va="center_baseline"
        )
        thick = 13 * 72 / look.SHOWN_DPI
        words.plot([left, left + across], [foot, foot], color=look.QUIET, lw=1)
        how = {"lw": thick, "solid_capstyle": "butt"}
        (self.walked,) = words.plot([], [], color=look.QUIET, **how)
        self.read = {name: words.plot([], [], color=ink, **how)[0] for name, ink in _INKS.items()}
        (self.there_is,) = words.plot([], [], color=look.TRUTH, lw=3)
        self.rows_px = (foot + 56, foot + 12)
        self.minute_words = [
            words.text(left, up + 20, "", va="center_baseline") for up in self.rows_px
        ]
        self.minute_words.append(words.text(left, foot - 40, "", va="center_baseline"))

    def _parts(self, words: Any) -> None:
        left, foot, _across, row = self.PARTS_PX
        top = foot + row * len(self.PARTS)
        words.text(
            506, top + 30, "What the errors consist of, %", fontweight="bold", va="center_baseline"
        )
        self.part_rows = [top - row * (at + 0.5) + (6 if at < 3 else 0) for at in range(6)]
        for name, up in zip(self.PARTS, self.part_rows, strict=True):
            words.text(left - 8, up, name, ha="right", va="center_baseline")
        words.plot([left, left], [foot, top + 6], color=look.TRUTH, lw=1.2)
        how = {"lw": 11 * 72 / look.SHOWN_DPI, "solid_capstyle": "butt"}
        self.bars = [words.plot([], [], color=ink, **how)[0] for ink in (*_INKS.values(),)]
        self.bars.append(words.plot([], [], color=look.TRUTH, **how)[0])

    def parts(self) -> tuple[Part, ...]:
        """The chart, the minutes, and the parts of the errors."""
        chart, right = self.whole.cut_x(480)
        minutes, consist = right.cut_y(234)
        return part("error", chart), part("minutes", minutes), part("parts of it", consist)

    def show(self, numbers: WhichShown) -> None:
        """Set every moving artist from the numbers."""
        n = numbers
        self._scales: list[tuple[str, float, float]] = []
        self.practice.set_text(f"calipers: {n.practice}")
        self._show_chart(n)
        self._show_minutes(n)
        self._show_parts(n)
        self.numbers.set([one[0] for one in self._scales], [one[1:] for one in self._scales])

    def _show_chart(self, n: WhichShown) -> None:
        left, foot, across, high = self.CHART_PX
        tape, jaws = n.curves_percent
        both = np.concatenate([tape, jaws])
        seen = both[np.isfinite(both)]
        scale = _to_scale(float(seen.max()) if seen.size else 1.0, self.SCALES_PERCENT)
        least, most = ENDS[n.along]
        share_of = (n.places - least) / (most - least)
        for name, curve in zip(self.curves, n.curves_percent, strict=True):
            self.curves[name].set_data(share_of, curve / scale)
            plan = n.plans[name]
            self.marks[name].set_visible(plan is not None)
            if plan:
                here = [(_here(n) - least) / (most - least)], [float(plan.error_percent) / scale]
                self.marks[name].set_data(*here)
        for share in (0, 0.25, 0.5, 0.75, 1):
            self._scales.append((f"{share * scale:g}", left - 6.0, foot + share * high - 5.4))
        for share in self.SHARES:
            number = f"{least + share * (most - least):g}"
            end = left + share * across + line_width_px(number) / 2
            self._scales.append((number, end, foot - 18.0))
        self.across_said.set_text(f"{_ACROSS[n.along]} (marks: these stems)")
        self._show_flips(n)

    def _show_flips(self, n: WhichShown) -> None:
        """A line at each flip with its number over it, and who is better between them."""
        left, foot, across, high = self.CHART_PX
        least, most = ENDS[n.along]
        found = n.flips[n.along]
        across_px = [left + (one.at - least) / (most - least) * across for one in found]
        word = flip_word(n)
        self.flip_said.set_text(word)
        over = list(across_px)
        if word:
            at_px = across_px[0] if across_px else left + across / 2
            to_left = at_px > left + across / 2
            self.flip_said.set(x=at_px + (-6 if to_left else 6), ha="right" if to_left else "left")
            if not found:
                self.flip_said.set(x=at_px, ha="center")
        else:
            numbers = [place_word(n.along, one.at) for one in found]
            wide = [line_width_px(one) for one in numbers]
            room = left - 12.0, left + across + 12.0
            over = _apart(across_px, [one + 10 for one in wide], room)
            self._scales += [
                (number, middle + own / 2, foot + high + 32.0)
                for number, middle, own in zip(numbers, over, wide, strict=True)
            ]
        top, gap = foot + high, [np.nan] * len(found)
        xs = [across_px, across_px, over, gap]
        ups = [foot, top + 15, top + 29, np.nan]
        self.line.set_data(np.column_stack(xs).ravel(), np.tile(ups, len(found)))
        stops = [float(left), *across_px, float(left + across)]
        names = [found[0].before, *(one.after for one in found)] if found else [n.better]
        for name, strip in self.best.items():
            own = [at for at, better in enumerate(names) if better == name]
            pieces = [[stops[at], stops[at + 1], np.nan] for at in own]
            strip.set_data(np.ravel(pieces), np.tile([top + 15, top + 15, np.nan], len(own)))

    def _show_minutes(self, n: WhichShown) -> None:
        left, foot, across, _ = self.MINUTES_PX
        walk = float(n.morning.walked_min)
        there = n.morning.a_stem_min
        drawn, ends = {}, []
        for kit, up in zip(n.kits, self.rows_px, strict=True):
            plan = n.plans[kit.name]
            each = float(kit.minutes_a_reading_min(n.morning.diameter_cm, n.morning.undergrowth))
            count = int(plan.reading_count) if plan else least_count(n, kit)
            drawn[kit.name] = each, count, up
            ends.append(walk + each * count)
        most = max(ends)
        scale = _to_scale(max(most, min(there, 1.5 * most)), self.SCALES_MIN)
        px = across / scale
        ups = np.repeat(self.rows_px, 3).astype(float)
        along = np.tile([left, left + walk * px, np.nan], 2)
        self.walked.set_data(along, ups)
        for name, (each, count, up) in drawn.items():
            starts = left + (walk + each * np.arange(count)) * px
            stops = starts + each * px
            lines = np.column_stack([starts + 2, stops, np.full(count, np.nan)]).ravel()
            self.read[name].set_data(lines, np.full(lines.size, float(up)))
        inside = there <= scale
        at = left + there * px
        self.there_is.set_visible(inside)
        # a mark on each bar, so that it goes through no letters
        beside = [up + side for up in self.rows_px for side in (-11.0, 11.0, np.nan)]
        self.there_is.set_data([at, at, np.nan] * len(self.rows_px), beside)
        for word, kit in zip(self.minute_words, n.kits, strict=False):
            word.set_text(minutes_word(n, kit))
        self.minute_words[-1].set_text(
            f"{'mark: there are' if inside else 'there are'} {there:.1f} min; grey: to the stem"
        )
        for share in (0, 0.5, 1):
            number = f"{share * scale:g}"
            middle = left + share * across
            self._scales.append((number, middle + line_width_px(number) / 2, foot - 18.0))

    def _show_parts(self, n: WhichShown) -> None:
        left, _, across, _ = self.PARTS_PX
        rows = iter(self.part_rows)
        scale = max((float(plan.error_percent) for plan in n.plans.values() if plan), default=1.0)
        scale = scale or 1.0
        whole_x, whole_y = [], []
        for bar, plan in zip(self.bars, n.plans.values(), strict=False):
            parts = (
                [float(p) for p in (plan.bias_percent, plan.spread_percent, plan.error_percent)]
                if plan
                else [np.nan] * 3
            )
            ups = [next(rows) for _ in parts]
            stops = [left + one / scale * across for one in parts]
            bar.set_data(
                [left, stops[0], np.nan, left, stops[1]], [ups[0], ups[0], np.nan, ups[1], ups[1]]
            )
            whole_x += [left, stops[2], np.nan]
            whole_y += [ups[2], ups[2], np.nan]
            for one, up in zip(parts, ups, strict=True):
                if plan:
                    self._scales.append((f"{one:.2f}", self.width_px - 12.0, up - 5.4))
        self.bars[-1].set_data(whole_x, whole_y)

    def describe(self, numbers: WhichShown) -> str:
        """The picture in words, with its `numbers`."""
        n = numbers
        told = "; ".join(
            f"{name} {float(plan.error_percent):.2f} %, of which {float(plan.bias_percent):.2f} "
            f"always over and {float(plan.spread_percent):.2f} either way"
            if plan
            else f"{name}: {why_not(n, kit)}"
            for (name, plan), kit in zip(n.plans.items(), n.kits, strict=True)
        )
        title, unit, _ = MOVED[n.along]
        times = "; ".join(minutes_word(n, kit) for kit in n.kits)
        return (
            f"Chart of the error of a plot's basal area against {title.lower()}, a solid line for "
            f"the tape, a dashed one for the calipers, marks at {_here(n):g}{unit}: {told}. From "
            f"end to end: {along_word(n, n.along)}. "
            f"Bars of the minutes for a stem, of which there are {n.morning.a_stem_min:.1f}: "
            f"{times}. Bars of what the errors consist of."
        )
