"""The proof on any outline: its hull and circle, its waves, its width between parallel jaws."""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.estimates.areas import diameter_from_girth_cm
from mensura.stems.outline import Outline
from mensura.views import look
from mensura.views.proof_drawings import BIG_PT, ProofPicture
from mensura.views.proof_numbers import MOST_TERMS, ProofShown, wave_areas_cm2

#: Directions of the width's curve.
TURNS_DEG = np.linspace(0.0, 180.0, 181)


class OutlinePicture(ProofPicture):
    """A picture of one outline, drawn anew when another is chosen.

    section: the outline.
    """

    #: How much more ground than the outline is shown.
    room = 1.3

    def __init__(self, section: Outline) -> None:
        super().__init__()
        self.section = section
        hull = section.hull_cm
        self.middle = (hull.max(axis=0) + hull.min(axis=0)) / 2
        self.reach_cm = float(np.abs(hull - self.middle).max()) * self.room

    def ground(self, axes: Any) -> None:
        """The outline, filled as wood, on `axes` with room round it."""
        edge = self.section.outline_cm()
        x, y = self.middle
        reach = self.reach_cm
        axes.set(xlim=(x - reach, x + reach), ylim=(y - reach, y + reach), aspect="equal")
        axes.fill(edge[:, 0], edge[:, 1], fc=look.WOOD, ec=look.TRUTH, lw=1.4)


class HullPicture(OutlinePicture):
    """The outline, the taut band round it, and the circle of the same girth."""

    def draw(self, figure: Any) -> None:
        """All of it on `figure`; nothing moves."""
        axes = look.place(figure, 44, 44, 340, 340)
        self.ground(axes)
        x, y = self.middle
        axes.set_xlabel("from above, cm", labelpad=1)
        ticks = np.arange(-60, 61, 10)
        for set_ticks, middle in ((axes.set_xticks, x), (axes.set_yticks, y)):
            set_ticks(ticks[np.abs(ticks - middle) < self.reach_cm])
        section = self.section
        loop = np.vstack([section.hull_cm, section.hull_cm[:1]])
        axes.fill(loop[:, 0], loop[:, 1], fc="white", ec=look.QUIET, lw=0, hatch="///", zorder=0.5)
        axes.plot(loop[:, 0], loop[:, 1], color=look.TAPE, lw=2.8)
        radius = diameter_from_girth_cm(section.taut_girth_cm) / 2
        turn = np.linspace(0, 2 * np.pi, 361)
        axes.plot(
            x + radius * np.cos(turn),
            y + radius * np.sin(turn),
            color=look.TAPE,
            lw=2,
            ls=(0, (5, 2)),
        )
        page = self.page(figure)
        self._words(page)

    def _words(self, page: Any) -> None:
        section = self.section
        girth = section.taut_girth_cm
        left = 404
        rows = (
            (look.TRUTH, "-", 1.4, "the section", f"A = {section.area_cm2:.1f} cm²"),
            (look.TAPE, "-", 2.8, "the taut tape", f"P = {girth:.1f} cm"),
            (None, "-", 0, "inside the tape", f"hull {section.hull_area_cm2:.1f} cm²"),
            (look.TAPE, (0, (5, 2)), 2, "circle, same girth", f"P²/4π = {_circle(section)} cm²"),
        )
        for row, (colour, style, width, name, value) in enumerate(rows):
            up = 376 - 84 * row
            if colour:
                page.plot([left, left + 36], [up, up], color=colour, ls=style, lw=width)
            page.text(left + (46 if colour else 0), up, name, va="center_baseline")
            page.text(left, up - 30, value, va="center_baseline", fontsize=BIG_PT)
        hollow = float(section.hull_area_cm2) - float(section.area_cm2) > 0.05
        says = (
            "hatched: hollows that the\ntape counts as wood"
            if hollow
            else "no hollow under the tape"
        )
        page.text(left, 40, says, va="center")

    def show(self, numbers: ProofShown) -> None:
        """Nothing moves: the picture holds its own outline, not `numbers`."""

    def describe(self, numbers: ProofShown) -> str:
        """The picture in words; its `numbers` name the outline."""
        section = self.section
        return (
            f"The outline of {numbers.outline_name}: {section.area_cm2:.1f} cm² inside its edge, "
            f"{section.hull_area_cm2:.1f} cm² inside the taut tape, which reads "
            f"{section.taut_girth_cm:.1f} cm. Dashed, the circle of the same girth: "
            f"{_circle(section)} cm²."
        )


def _circle(section: Outline) -> str:
    return f"{np.pi * (diameter_from_girth_cm(section.taut_girth_cm) / 2) ** 2:.1f}"


class SpectrumPicture(OutlinePicture):
    """The missing area, wave by wave, and its sum up to the wave that is chosen."""

    def draw(self, figure: Any) -> None:
        """Ground, level of the whole and words on `figure`, then bars and sum."""
        from matplotlib.collections import PolyCollection

        self.waves_cm2 = wave_areas_cm2(self.section.hull_cm)
        circle = np.pi * (diameter_from_girth_cm(self.section.taut_girth_cm) / 2) ** 2
        self.missing_cm2 = float(circle - self.section.hull_area_cm2)
        # of a circle nothing is missing: what the polygon's corners leave is not drawn as much
        self.top_cm2 = max(self.missing_cm2, 1.0)
        axes = look.place(figure, 72, 48, 532, 250)
        axes.set(xlim=(0.3, MOST_TERMS + 0.7), ylim=(0, 1.12 * self.top_cm2))
        axes.set_xticks([1, *range(4, MOST_TERMS + 1, 4)])
        axes.set_xlabel("wave n of the hull's reach", labelpad=1)
        axes.set_ylabel("area, cm²")
        axes.axhline(self.missing_cm2, color=look.TAPE, lw=2.4, ls=(0, (5, 2)))
        self.bars = PolyCollection([], facecolors=look.WOOD, edgecolors=look.TRUTH, linewidths=1.2)
        axes.add_collection(self.bars, autolim=False)
        (self.sum,) = axes.plot([], [], color=look.CALIPERS, lw=2.6, drawstyle="steps-mid")
        (self.dot,) = axes.plot([], [], ls="", marker="o", ms=9, color=look.CALIPERS, mec="white")
        page = self.page(figure)
        page.plot([14, 50], [398, 398], color=look.TAPE, lw=2.4, ls=(0, (5, 2)))
        page.text(60, 398, f"missing: P²/4π − hull = {self.missing_cm2:.2f} cm²", va="center")
        page.plot([14, 50], [368, 368], color=look.CALIPERS, lw=2.6)
        self.word = page.text(60, 368, "", va="center")
        page.fill([20, 44, 44, 20], [330, 330, 346, 346], fc=look.WOOD, ec=look.TRUTH, lw=1.2)
        page.text(60, 338, "wave n: (n² − 1)|cₙ|²π/2, never below 0", va="center")
        self.moving += [self.bars, self.sum, self.dot, self.word]

    def show(self, numbers: ProofShown) -> None:
        """Set bars and sum from `numbers`."""
        count = numbers.terms
        shares = self.waves_cm2[:count]
        n = np.arange(1, count + 1)
        self.bars.set_verts(
            [
                [(k - 0.34, 0), (k - 0.34, share), (k + 0.34, share), (k + 0.34, 0)]
                for k, share in zip(n, shares, strict=True)
            ]
        )
        sums = np.cumsum(shares)
        self.sum.set_data(n, sums)
        self.dot.set_data([count], [sums[-1]])
        self.word.set_text(f"summed up to wave {count}: {sums[-1]:.2f} cm²{self._part(sums[-1])}")

    def _part(self, total_cm2: float) -> str:
        if self.missing_cm2 < 0.05:
            return ""
        return f", {min(100 * total_cm2 / self.missing_cm2, 100):.1f} %"

    def describe(self, numbers: ProofShown) -> str:
        """The picture in words, with its `numbers`."""
        shares = self.waves_cm2[: numbers.terms]
        largest = int(np.argmax(shares)) + 1
        return (
            f"The area that the circle holds more than the hull of {numbers.outline_name}, "
            f"{self.missing_cm2:.2f} cm², as bars for its waves. None is below 0; the largest is "
            f"wave {largest} with {shares.max():.2f} cm². Waves 1 to {numbers.terms} sum to "
            f"{shares.sum():.2f} cm²{self._part(float(shares.sum()))}. A sum that stops "
            "illustrates; that no bar is below 0 proves."
        )


class WidthPicture(OutlinePicture):
    """The outline between parallel jaws, and its width in every direction."""

    room = 1.5

    def draw(self, figure: Any) -> None:
        """Outline and curve on `figure`, then jaws and mark."""
        axes = look.place(figure, 14, 70, 260, 260)
        self.ground(axes)
        axes.axis("off")
        self.widths_cm = np.asarray(self.section.width_cm(TURNS_DEG))
        self.mean_cm = float(diameter_from_girth_cm(self.section.taut_girth_cm))
        (self.jaws,) = axes.plot([], [], color=look.CALIPERS, lw=4.4, solid_capstyle="butt")
        chart = look.place(figure, 350, 70, 250, 260)
        most = float(self.widths_cm.max())
        chart.set(xlim=(0, 180), ylim=(0, 1.25 * most))
        chart.set_xticks([0, 45, 90, 135, 180])
        chart.set_xlabel("calipers turned, °", labelpad=1)
        chart.set_ylabel("width, cm")
        chart.grid(True)
        chart.set_axisbelow(True)
        chart.axhline(self.mean_cm, color=look.TAPE, lw=3, ls=(0, (5, 2)))
        chart.plot(TURNS_DEG, self.widths_cm, color=look.CALIPERS, lw=2.4)
        (self.mark,) = chart.plot(
            [], [], ls="", marker="s", ms=11, color=look.CALIPERS, mec="white", clip_on=False
        )
        page = self.page(figure)
        page.plot([14, 50], [398, 398], color=look.CALIPERS, lw=4.4, solid_capstyle="butt")
        self.word = page.text(60, 398, "", va="center_baseline", fontsize=BIG_PT)
        page.plot([14, 50], [364, 364], color=look.TAPE, lw=3, ls=(0, (5, 2)))
        page.text(
            60,
            364,
            f"mean of all widths = taut girth/π = {self.mean_cm:.2f} cm",
            va="center_baseline",
        )
        low, high = float(self.widths_cm.min()), most
        self.flat = high - low < 0.05
        self.says = (
            "The same in every direction: calipers cannot tell."
            if self.flat
            else f"From {low:.1f} to {high:.1f} cm: calipers see that it is not round."
        )
        page.text(14, 22, self.says, va="center_baseline")
        self.moving += [self.jaws, self.mark, self.word]

    def show(self, numbers: ProofShown) -> None:
        """Turn the jaws and move the mark as `numbers` say."""
        turn_deg = numbers.turn_deg
        angle = np.radians(turn_deg)
        along = np.array([np.cos(angle), np.sin(angle)])
        square = np.array([-along[1], along[0]])
        half = 0.3 * self.reach_cm
        rows: list[Any] = []
        hull = self.section.hull_cm
        for side in (-1, 1):
            reach = side * (hull @ along)
            # a jaw rests on a corner, or along a whole edge
            touch = hull[reach > reach.max() - 1e-6].mean(axis=0)
            foot = touch + side * 0.02 * self.reach_cm * along
            rows += [foot - half * square, foot + half * square, [np.nan, np.nan]]
        self.jaws.set_data(*np.array(rows).T)
        width = float(self.section.width_cm(turn_deg))
        self.mark.set_data([turn_deg], [width])
        self.word.set_text(f"calipers at {turn_deg:g}°: {width:.2f} cm")

    def describe(self, numbers: ProofShown) -> str:
        """The picture in words, with its `numbers`."""
        width = float(self.section.width_cm(numbers.turn_deg))
        return (
            f"The outline of {numbers.outline_name} between parallel jaws turned "
            f"{numbers.turn_deg:g}°, which read {width:.2f} cm; beside it the width in every "
            f"direction, with the mean of all of them, the taut girth over π, "
            f"{self.mean_cm:.2f} cm. {self.says}"
        )
