"""A practical's pictures: biases with their intervals, readings against size, tapes and calipers.

Tapes are round and vermilion, calipers square and blue; who is off is filled, who is sound is
hollow, who cannot be told is a cross. So all of it is told apart without colour. A code comes from
a file: it is drawn as it stands, never read as mathematics, and shortened if it is long.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi
from typing import Any

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.hand_points import HandPoints
from mensura.estimates.hand_verdict import Judged
from mensura.views.kit import look
from mensura.views.kit.live import Picture
from mensura.views.sheets.practical_words import OFF, WITH, bias, headline
from mensura.written import signed

#: So much of a code is drawn.
LONGEST = 8
#: So many points of one picture are drawn, evenly chosen.
MOST_POINTS = 400


def code(text: str) -> str:
    """A code; of a long one its beginning and its end, in which codes differ.

    text: as the file has it.

    >>> code("Q03"), code("trainee-07")
    ('Q03', 'trai…-07')
    """
    return text if len(text) <= LONGEST else f"{text[:4]}…{text[-3:]}"


def style(judged: Judged) -> dict[str, Any]:
    """Ink and mark of a verdict.

    judged: the verdict.
    """
    tapes = judged.kind == "girth"
    ink = look.TAPE if tapes else look.CALIPERS
    if judged.verdict == "cannot-tell":
        return {"marker": "x", "ms": 7, "mew": 1.6, "color": look.QUIET}
    filled = ink if judged.verdict in OFF else look.WHITE
    return {"marker": "o" if tapes else "s", "ms": 7, "mfc": filled, "mec": ink, "mew": 1.6}


@dataclass(frozen=True)
class Bias:
    """A bias on a stem of mean size, so that shares and constants stand on one scale.

    judged: the verdict; off_percent: the bias; low_percent, high_percent: its interval.
    """

    judged: Judged
    off_percent: float
    low_percent: float
    high_percent: float


def biases(judged: Sequence[Judged], mean_size_cm: float | None) -> tuple[Bias, ...]:
    """Those whose bias is known, on one scale.

    judged: verdicts; mean_size_cm: diameter of the stem on which they are told.
    """
    found = []
    for one in judged:
        if one.bias is None or one.interval is None:
            continue
        size = (mean_size_cm or 1.0) * (pi if one.kind == "girth" else 1.0)
        times = 1.0 if one.unit == "%" else 100 / size
        found.append(Bias(one, *(times * value for value in (one.bias, *one.interval))))
    return tuple(found)


def reach_percent(shown: Sequence[Bias], matters_percent: float) -> float:
    """How far a chart of biases goes to either side.

    shown: biases; matters_percent: from which on one matters.
    """
    off = [
        1.08 * max(abs(one.low_percent), abs(one.high_percent))
        for one in shown
        if one.judged.verdict in OFF
    ]
    marks = [min(1.08 * abs(one.off_percent), 5 * matters_percent) for one in shown]
    return max([2 * matters_percent, *off, *marks])


class BiasPicture(Picture[None]):
    """Biases with their intervals, one below the other.

    title: above them; shown: the biases, from above; reach: of the chart to either side, per cent;
    matters_percent: from which on one matters.
    """

    width_px = 390
    #: Places from the left, and heights, in pixels.
    LEFT, WIDE, ROW, FOOT, HEAD = 92, 214, 20, 46, 30

    def __init__(
        self, title: str, shown: Sequence[Bias], reach: float, matters_percent: float
    ) -> None:
        super().__init__()
        self.title, self.shown, self.reach = title, shown, reach
        self.matters_percent = matters_percent
        self.height_px = self.FOOT + self.ROW * len(shown) + self.HEAD

    def draw(self, figure: Any) -> None:
        """The chart on `figure`; nothing moves."""
        count, reach = len(self.shown), self.reach
        axes = look.place(figure, self.LEFT, self.FOOT, self.WIDE, self.ROW * count)
        axes.set(xlim=(-reach, reach), ylim=(count - 0.5, -0.5), yticks=[])
        axes.spines["left"].set_visible(False)
        axes.locator_params(axis="x", nbins=6)
        axes.set_xlabel("reads less than the others, more: %", labelpad=1)
        edge = self.matters_percent
        axes.axvspan(-edge, edge, color=look.GROUND, lw=0)
        axes.axvline(0, color=look.TRUTH, lw=1.4)
        axes.text(
            -self.LEFT / self.WIDE + 0.01, 1 + 0.5 * self.HEAD / (self.ROW * count), self.title,
            transform=axes.transAxes, fontweight="bold", va="center", parse_math=False,
        )  # fmt: skip
        for at, one in enumerate(self.shown):
            self._row(axes, at, one)

    def _row(self, axes: Any, at: int, one: Bias) -> None:
        reach, how = self.reach, style(one.judged)
        low, high = (float(np.clip(v, -reach, reach)) for v in (one.low_percent, one.high_percent))
        ink = how.get("mec", how.get("color"))
        axes.plot([low, high], [at, at], color=ink, lw=2, solid_capstyle="butt")
        for end, mark in ((one.low_percent, "<"), (one.high_percent, ">")):
            if abs(end) > reach:
                axes.plot(float(np.clip(end, -reach, reach)), at, ls="", marker=mark, ms=6,
                          color=ink, clip_on=False)  # fmt: skip
        if abs(one.off_percent) <= reach:
            axes.plot(one.off_percent, at, ls="", **how)
        bold = "bold" if one.judged.verdict in OFF else "normal"
        axes.text(-0.03, at, code(one.judged.name), transform=axes.get_yaxis_transform(),
                  ha="right", va="center", fontweight=bold, parse_math=False)  # fmt: skip
        said = bias(one.judged) if one.judged.verdict in OFF else ""
        said = "spreads" if one.judged.verdict == "spreads" else said
        axes.text(1.03, at, said, transform=axes.get_yaxis_transform(), va="center")

    def show(self, numbers: None) -> None:
        """Nothing moves; `numbers` is None."""

    def describe(self, numbers: None) -> str:
        """The chart in words; `numbers` is None."""
        off = [f"{one.judged.name} {headline(one.judged)}" for one in self.shown
               if one.judged.verdict in OFF]  # fmt: skip
        said = "; ".join(off) or "nobody is off"
        return (
            f"{self.title}: bias and 95 % interval of each of {len(self.shown)}, in per cent on a "
            f"stem of middle size, with a band of ±{self.matters_percent:g} % that does not "
            f"matter. {said[0].upper()}{said[1:]}."
        )


class PointsPicture(Picture[None]):
    """One hand's readings off what the others agree on, against the stems' size.

    title: above them; points: its readings; reach: of the chart up and down, per cent; sizes_cm:
    from and to; mean_size_cm: where a constant of a bias is told.
    """

    width_px, height_px = 300, 206

    def __init__(
        self, title: str, points: HandPoints, reach: float, sizes_cm: tuple[float, float]
    ) -> None:
        super().__init__()
        self.title, self.points, self.reach, self.sizes_cm = title, points, reach, sizes_cm

    def draw(self, figure: Any) -> None:
        """The chart on `figure`; nothing moves."""
        one, reach = self.points, self.reach
        least, most = self.sizes_cm
        edge = 0.06 * (most - least) + 0.5
        axes = look.place(figure, 46, 44, 244, 130)
        axes.set(xlim=(least - edge, most + edge), ylim=(-reach, reach))
        axes.locator_params(axis="x", nbins=6)
        axes.locator_params(axis="y", nbins=5)
        axes.set_xlabel("stem's diameter, cm", labelpad=1)
        axes.text(-46 / 244 + 0.02, 1.14, self.title, transform=axes.transAxes, fontweight="bold",
                  va="center", parse_math=False)  # fmt: skip
        axes.axhline(0, color=look.TRUTH, lw=1.4)
        ink = look.TAPE if one.judged.kind == "girth" else look.CALIPERS
        mark = "o" if one.judged.kind == "girth" else "s"
        some = thinned(one.size_cm.size)
        size, off = one.size_cm[some], one.off_percent[some]
        inside = np.abs(off) <= reach
        axes.plot(size[inside], off[inside], ls="", marker=mark, ms=4.5, mfc="none", mec=ink,
                  mew=1.2)  # fmt: skip
        for side, way in ((off > reach, "^"), (off < -reach, "v")):
            ends = np.full(int(side.sum()), reach if way == "^" else -reach)
            axes.plot(size[side], ends, ls="", marker=way, ms=7, color=ink, clip_on=False)
        line = bias_percent(one.judged, np.linspace(least, most, 60))
        if line is not None:
            axes.plot(np.linspace(least, most, 60), line, color=look.TRUTH, lw=1.6, ls=(0, (5, 3)))

    def show(self, numbers: None) -> None:
        """Nothing moves; `numbers` is None."""

    def describe(self, numbers: None) -> str:
        """The chart in words; `numbers` is None."""
        one = self.points
        low, middle, high = np.percentile(one.off_percent, (10, 50, 90))
        beyond = int(np.count_nonzero(np.abs(one.off_percent) > self.reach))
        said = (
            f"{self.title}: {one.off_percent.size} readings off what the others agree on, against "
            f"the stems' size. The middle one is off by {signed(float(middle), 1)} %, eight of ten "
            f"lie from {signed(float(low), 1)} to {signed(float(high), 1)} %."
        )
        return said + (f" {beyond} lie off the picture." if beyond else "")


def tiles(every: Sequence[HandPoints]) -> list[Picture[None]]:
    """A picture of each, all on the same scales.

    every: points of hands or instruments, of at least one reading each.
    """
    good = np.concatenate([np.abs(one.off_percent[one.counts]) for one in every])
    reach = max(1.05 * float(good.max()) if good.size else 0.0, 1.0)
    sizes = np.concatenate([one.size_cm for one in every])
    ends = float(sizes.min()), float(sizes.max())
    return [PointsPicture(points_title(one), one, reach, ends) for one in every]


def bias_percent(judged: Judged, size_cm: FloatArray) -> FloatArray | None:
    """What one adds on stems of some sizes; None for who is not off.

    judged: the verdict; size_cm: diameters.
    """
    if judged.verdict not in ("reads-high", "reads-low") or judged.bias is None:
        return None
    if judged.unit == "%":
        return np.full_like(size_cm, judged.bias)
    reading = size_cm * (pi if judged.kind == "girth" else 1.0)
    return np.asarray(100 * judged.bias / reading)


def thinned(count: int) -> Any:
    """Places of the points that are drawn, evenly chosen where there are many.

    count: of points.

    >>> thinned(3).tolist(), thinned(5000).size
    ([0, 1, 2], 400)
    """
    return np.unique(np.linspace(0, count - 1, min(count, MOST_POINTS)).astype(np.int64))


def points_title(points: HandPoints) -> str:
    """Whose readings they are.

    points: of one hand or instrument.
    """
    name = code(points.judged.name)
    return f"{name} {WITH[points.judged.kind]}" if points.is_hand else name
