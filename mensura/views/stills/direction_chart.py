"""A chart of caliper practices by direction: truth at zero, the tape a line, each practice a curve.

One reading swings ten times as far as two that are drawn together, so it has a chart of its own
above theirs. Both tell their scale; a still draws them once, a panel sets their data.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.cut_end import CutEnd, PracticeAllRound
from mensura.views.kit import look
from mensura.views.kit.numerals import Values
from mensura.written import minus

#: Each practice's line: those of PRACTICE_STYLE, and crosses alone for many directions.
MARKED = "many-arithmetic"
SEVERAL = ("two-arithmetic", "two-geometric", "two-quadratic", MARKED)
KEY_WORDS = {
    "one": "one reading",
    "two-arithmetic": "two, arithmetic mean",
    "two-geometric": "two, product",
    "two-quadratic": "two, quadratic mean",
    "many-arithmetic": "18 directions",
}
#: How thick a curve is, and the one that is chosen.
_THIN, _THICK = 1.5, 3.4
#: Lines of a scale, at most.
_MOST_STEPS = 5


def scale_percent(least: float, most: float) -> tuple[float, float, float]:
    """A scale that holds the truth and two ends: its own ends and its step, by ones, twos or fives.

    least, most: per cent.

    >>> scale_percent(-0.35, 9.12), scale_percent(0.1, 0.9), scale_percent(-14.8, 19.1)
    ((-2.0, 10.0, 2.0), (0.0, 1.0, 0.2), (-20.0, 20.0, 10.0))
    """
    low, high = min(least, 0.0), max(most, 0.0, least + 1e-6)
    size = 10.0 ** math.floor(math.log10(high - low))
    for step in (size * one for one in (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0)):
        first, last = math.floor(low / step - 1e-9), math.ceil(high / step - 1e-9)
        first = min(first + (low >= 0), 0) if low >= 0 else first
        if last - first <= _MOST_STEPS + 1:
            break
    return round(first * step, 9), round(last * step, 9), round(step, 9)


class DirectionChart:
    """One chart of some practices.

    page: axes of the whole picture, counted in shown pixels; box_px: left, foot, width and height
    of the chart; practices: those that it shows. `moving` are its artists.
    """

    def __init__(
        self, page: Any, box_px: tuple[float, float, float, float], practices: Sequence[str]
    ) -> None:
        from matplotlib.collections import LineCollection

        self.box_px, self.practices = box_px, tuple(practices)
        self.curved = [one for one in practices if one != MARKED]
        left, low, wide, high = box_px
        how = {"va": "center_baseline", "ha": "center"}
        for turn in (0, 45, 90, 135, 180):
            at = left + wide * turn / 180
            page.plot([at, at], [low, low + high], color=look.GRID, lw=0.8, zorder=1)
            page.text(at, low - 16, f"{turn}°", **how)
        self.lines: Any = LineCollection([], colors=look.GRID, linewidths=0.8, zorder=1)
        page.add_collection(self.lines, autolim=False)
        (self.truth,) = page.plot([], [], color=look.TRUTH, lw=1.6, zorder=2)
        self.curves: Any = LineCollection(
            [],
            colors=look.CALIPERS,
            linestyles=[look.PRACTICE_STYLE[one][0] for one in self.curved],
            linewidths=[_THIN] * len(self.curved),
            zorder=3,
        )
        page.add_collection(self.curves, autolim=False)
        (self.tape,) = page.plot([], [], color=look.TAPE, lw=2.4, zorder=3)
        (self.crosses,) = page.plot([], [], ls="", marker="+", ms=7, mew=1.4, color=look.CALIPERS)
        self.values = Values(page)
        self.moving = [self.lines, self.truth, self.curves, self.tape, self.values.artist]
        if MARKED in practices:
            self.moving.insert(-1, self.crosses)
        self.scale = scale_percent(0.0, 1.0)

    def x_px(self, directions_deg: Any) -> Any:
        """Where directions lie across the page.

        directions_deg: 0 to 180.
        """
        left, _, wide, _ = self.box_px
        return left + np.asarray(directions_deg, float) * (wide / 180)

    def up_px(self, over_percent: Any) -> Any:
        """Where errors lie up the page, on the present scale.

        over_percent: held within the scale's ends.
        """
        _, low, _, high = self.box_px
        first, last, _ = self.scale
        held = np.clip(np.asarray(over_percent, float), first, last)
        return low + (held - first) * (high / (last - first))

    def show(self, cut: CutEnd, chosen: str = "") -> None:
        """Set all curves of a cut.

        cut: whose; chosen: practice that is drawn thick, "" for none.
        """
        rows = {one.practice: one for one in cut.calipers if one.practice in self.practices}
        errors = [one.over_percent for one in rows.values()]
        tape = cut.tape_over_percent
        self.scale = scale_percent(
            min(tape, *(float(one.min()) for one in errors)),
            max(tape, *(float(one.max()) for one in errors)),
        )
        left, _, wide, _ = self.box_px
        first, last, step = self.scale
        steps = np.arange(round(first / step), round(last / step) + 1) * step
        ups = self.up_px(steps)
        self.lines.set_segments([[(left, up), (left + wide, up)] for up in ups])
        ends = [left, left + wide]
        self.truth.set_data(ends, self.up_px([0.0, 0.0]))
        self.tape.set_data(ends, self.up_px([tape, tape]))
        self.curves.set_segments([self._curve(rows[one]) for one in self.curved])
        self.curves.set_linewidths([_THICK if one == chosen else _THIN for one in self.curved])
        if MARKED in rows:
            many = rows[MARKED]
            every = max(1, round(len(many.directions_deg) / 18))
            self.crosses.set_data(
                self.x_px(many.directions_deg[::every]), self.up_px(many.over_percent[::every])
            )
            self.crosses.set_markeredgewidth(2.6 if chosen == MARKED else 1.4)
        self.values.set(
            [minus(f"{one:+g}") if abs(one) > 1e-9 else "0" for one in steps],
            [(left - 8.0, float(up) - 5.4) for up in ups],
        )

    def _curve(self, one: PracticeAllRound) -> FloatArray:
        """All round, closed: half a turn on, calipers read the same."""
        turns = np.append(one.directions_deg, 180.0)
        errors = np.append(one.over_percent, one.over_percent[:1])
        return np.column_stack([self.x_px(turns), self.up_px(errors)])


def draw_key(page: Any, left_px: float, ups_px: Sequence[float]) -> None:
    """What each line is, in two columns.

    page: as for the chart; left_px: where it begins; ups_px: middles of its four rows, from above.
    """
    how = {"va": "center_baseline"}
    entries: list[tuple[str, Any, Any, str, float]] = [
        ("the truth", look.TRUTH, "-", "", 1.6),
        ("tape", look.TAPE, "-", "", 2.4),
        *(
            (words, look.CALIPERS, look.PRACTICE_STYLE[one][0], "+" if one == MARKED else "", 1.8)
            for one, words in KEY_WORDS.items()
        ),
    ]
    for place, (words, ink, style, mark, wide) in enumerate(entries):
        left = left_px + (0 if place < 3 else 160)
        up = ups_px[place if place < 3 else place - 3]
        if mark:
            page.plot([left + 8, left + 24], [up, up], ls="", marker=mark, ms=7, mew=1.4, color=ink)
        else:
            page.plot([left, left + 34], [up, up], color=ink, ls=style, lw=wide)
        page.text(left + 42, up, words, **how)
