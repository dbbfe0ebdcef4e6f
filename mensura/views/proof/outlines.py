"""The proof on any outline: its hull and circle, its ripples, its width between parallel jaws."""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.estimates.areas import diameter_from_girth_cm
from mensura.stems.outline import Outline
from mensura.stems.ripples import outline_terms
from mensura.teaching.panels.proof import MOST_TERMS, ProofShown
from mensura.views.kit import look
from mensura.views.kit.parts import WIDEST_PX, Part, part
from mensura.views.proof.drawings import BIG_PT, ProofPicture, TallPicture

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

    def parts(self) -> tuple[Part, ...]:
        """The outline, and the areas."""
        outline, words = self.whole.cut_x(395)
        return part("outline", outline), part("areas", words)

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


class SpectrumPicture(OutlinePicture, TallPicture):
    """The missing area, ripple by ripple, and its sum up to the ripple that is chosen."""

    def draw(self, figure: Any) -> None:
        """Ground, level of the whole and words on `figure`, then bars and sum."""
        from matplotlib.collections import PolyCollection

        self.lost_cm2 = outline_terms(self.section, MOST_TERMS).lost_cm2
        circle = np.pi * (diameter_from_girth_cm(self.section.taut_girth_cm) / 2) ** 2
        self.missing_cm2 = float(circle - self.section.hull_area_cm2)
        # of a circle nothing is missing: what the polygon's corners leave is not drawn as much
        self.top_cm2 = max(self.missing_cm2, 1.0)
        axes = look.place(figure, 66, 46, 400, 178)
        axes.set(xlim=(0.3, MOST_TERMS + 0.7), ylim=(0, 1.12 * self.top_cm2))
        axes.set_xticks([1, *range(4, MOST_TERMS + 1, 4)])
        axes.set_xlabel("ripple n of the hull", labelpad=1)
        axes.set_ylabel("area, cm²")
        axes.axhline(self.missing_cm2, color=look.TAPE, lw=2.4, ls=(0, (5, 2)))
        self.bars = PolyCollection([], facecolors=look.WOOD, edgecolors=look.TRUTH, linewidths=1.2)
        axes.add_collection(self.bars, autolim=False)
        (self.sum,) = axes.plot([], [], color=look.CALIPERS, lw=2.6, drawstyle="steps-mid")
        (self.dot,) = axes.plot([], [], ls="", marker="o", ms=9, color=look.CALIPERS, mec="white")
        page = self.page(figure)
        page.plot([14, 50], [322, 322], color=look.TAPE, lw=2.4, ls=(0, (5, 2)))
        page.text(60, 322, f"missing: P²/4π − hull = {self.missing_cm2:.2f} cm²", va="center")
        page.plot([14, 50], [294, 294], color=look.CALIPERS, lw=2.6)
        self.word = page.text(60, 294, "", va="center")
        page.fill([20, 44, 44, 20], [258, 258, 274, 274], fc=look.WOOD, ec=look.TRUTH, lw=1.2)
        page.text(60, 266, "ripple n: (π/2)(n² − 1)(p² + q²), never below 0", va="center")
        self.moving += [self.bars, self.sum, self.dot, self.word]

    def show(self, numbers: ProofShown) -> None:
        """Set bars and sum from `numbers`."""
        count = numbers.terms
        shares = self.lost_cm2[:count]
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
        self.word.set_text(f"summed up to ripple {count}: {sums[-1]:.2f} cm²{self._part(sums[-1])}")

    def _part(self, total_cm2: float) -> str:
        if self.missing_cm2 < 0.05:
            return ""
        return f", {min(100 * total_cm2 / self.missing_cm2, 100):.1f} %"

    def describe(self, numbers: ProofShown) -> str:
        """The picture in words, with its `numbers`."""
        shares = self.lost_cm2[: numbers.terms]
        largest = int(np.argmax(shares)) + 1
        return (
            f"The area that the circle holds more than the hull of {numbers.outline_name}, "
            f"{self.missing_cm2:.2f} cm², as bars for its ripples. None is below 0; the largest is "
            f"ripple {largest} with {shares.max():.2f} cm². Ripples 1 to {numbers.terms} sum to "
            f"{shares.sum():.2f} cm²{self._part(float(shares.sum()))}. A sum that stops "
            "illustrates; that no bar is below 0 proves."
        )


class WidthPicture(ProofPicture):
    """The section between parallel jaws, and its width in every direction."""

    REACH_CM = 52.0
    MOST_CM = 100.0

    def draw(self, figure: Any) -> None:
        """Ground and words on `figure`, then section, jaws, curve and marks."""
        from matplotlib.patches import Polygon

        axes = look.place(figure, 8, 62, 280, 280)
        axes.set(xlim=(-self.REACH_CM, self.REACH_CM), ylim=(-self.REACH_CM, self.REACH_CM))
        axes.set_aspect("equal")
        axes.axis("off")
        self.wood = Polygon(np.zeros((3, 2)), fc=look.WOOD, ec=look.TRUTH, lw=1.4, closed=True)
        axes.add_patch(self.wood)
        (self.jaws,) = axes.plot([], [], color=look.CALIPERS, lw=4.4, solid_capstyle="butt")
        chart = look.place(figure, 350, 76, 250, 250)
        chart.set(xlim=(0, 180), ylim=(0, self.MOST_CM))
        chart.set_xticks([0, 45, 90, 135, 180])
        chart.set_xlabel("calipers turned, °", labelpad=1)
        chart.set_ylabel("width, cm")
        chart.grid(True)
        chart.set_axisbelow(True)
        (self.mean,) = chart.plot([], [], color=look.TAPE, lw=3, ls=(0, (5, 2)))
        (self.curve,) = chart.plot([], [], color=look.CALIPERS, lw=2.4)
        (self.mark,) = chart.plot(
            [], [], ls="", marker="s", ms=11, color=look.CALIPERS, mec="white", clip_on=False
        )
        page = self.page(figure)
        page.plot([14, 50], [398, 398], color=look.CALIPERS, lw=4.4, solid_capstyle="butt")
        page.plot([14, 50], [364, 364], color=look.TAPE, lw=3, ls=(0, (5, 2)))
        self.word = page.text(60, 398, "", va="center_baseline", fontsize=BIG_PT)
        self.mean_word = page.text(60, 364, "", va="center_baseline")
        self.says = page.text(14, 22, "", va="center_baseline")
        self.moving += [self.wood, self.jaws, self.mean, self.curve, self.mark]
        self.moving += [self.word, self.mean_word, self.says]

    def parts(self) -> tuple[Part, ...]:
        """The section between the jaws, and the chart; what is read above, what is seen below."""
        head, middle, foot = self.whole.cut_y(344, 32)
        read, seen = (one.cut_x(WIDEST_PX)[0] for one in (head, foot))
        section, chart = middle.cut_x(292)
        return part("section", read, section), part("every width", chart, seen)

    def show(self, numbers: ProofShown) -> None:
        """Set every moving artist from `numbers`."""
        body, turn_deg = numbers.body, numbers.turn_deg
        edge, hull = body.outline_cm(), body.hull_cm
        middle = (hull.max(axis=0) + hull.min(axis=0)) / 2
        self.wood.set_xy(edge - middle)
        angle = np.radians(turn_deg)
        along = np.array([np.cos(angle), np.sin(angle)])
        square = np.array([-along[1], along[0]])
        rows: list[Any] = []
        for side in (-1, 1):
            reach = side * (hull @ along)
            # a jaw rests on a corner, or along a whole edge
            touch = hull[reach > reach.max() - 1e-6].mean(axis=0) - middle
            foot = touch + side * 0.9 * along
            rows += [foot - 11 * square, foot + 11 * square, [np.nan, np.nan]]
        self.jaws.set_data(*np.array(rows).T)
        widths = np.asarray(body.width_cm(TURNS_DEG))
        width = float(body.width_cm(turn_deg))
        mean = float(diameter_from_girth_cm(body.taut_girth_cm))
        self.curve.set_data(TURNS_DEG, widths)
        self.mean.set_data([0, 180], [mean, mean])
        self.mark.set_data([turn_deg], [width])
        self.word.set_text(f"calipers at {turn_deg:g}°: {width:.2f} cm")
        self.mean_word.set_text(f"mean of all widths = taut girth/π = {mean:.2f} cm")
        self.says.set_text(_seen(widths))

    def describe(self, numbers: ProofShown) -> str:
        """The picture in words, with its `numbers`."""
        body = numbers.body
        on_outline = numbers.road.of_outlines
        name = numbers.outline_name if on_outline else "the oval stem"
        return (
            f"The section of {name} between parallel jaws turned {numbers.turn_deg:g}°, which read "
            f"{float(body.width_cm(numbers.turn_deg)):.2f} cm; beside it the width in every "
            f"direction, with the mean of all of them, the taut girth over π, "
            f"{float(diameter_from_girth_cm(body.taut_girth_cm)):.2f} cm. "
            f"{_seen(np.asarray(body.width_cm(TURNS_DEG)))}"
        )


def _seen(widths_cm: Any) -> str:
    """What calipers can tell from all their readings."""
    low, high = float(widths_cm.min()), float(widths_cm.max())
    if high - low < 0.05:
        return "The same in every direction: calipers cannot tell."
    return f"From {low:.1f} to {high:.1f} cm: calipers see that it is not round."
