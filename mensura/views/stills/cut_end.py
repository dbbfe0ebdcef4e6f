"""A cut end as a picture that lies still: its outline, and every caliper practice by direction.

Left, the section with the taut tape, what the tape spans hatched, its longest and shortest width.
Right, the error of the area by the direction in which a practice begins; the tape is a line, and
the truth is zero.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.comparison import PRACTICE_WORDS
from mensura.estimates.cut_end import CutEnd
from mensura.views.kit import look
from mensura.views.kit.live import Picture, Still, draw_still
from mensura.views.kit.parts import Part, part
from mensura.views.stills.direction_chart import SEVERAL, DirectionChart, draw_key
from mensura.written import signed


class CutEndChart(Picture[CutEnd]):
    """The section and its two charts; nothing moves.

    cut: what is drawn.
    """

    width_px = 860
    height_px = 540

    #: Where the section lies: left, foot, side; how much more ground than it is shown.
    SECTION_PX = (8, 100, 400)
    ROOM = 1.06
    ONE_PX = (480.0, 312.0, 354.0, 106.0)
    SEVERAL_PX = (480.0, 46.0, 354.0, 188.0)

    def __init__(self, cut: CutEnd) -> None:
        super().__init__()
        self.cut = cut

    def draw(self, figure: Any) -> None:
        """All of it on `figure`."""
        page = look.place(figure, 0, 0, self.width_px, self.height_px)
        page.set(xlim=(0, self.width_px), ylim=(0, self.height_px))
        page.axis("off")
        how = {"va": "center_baseline"}
        self._draw_section(figure, page)
        page.text(436, 524, "Area too large, %, by the first width's direction", **how,
                  fontweight="bold")  # fmt: skip
        draw_key(page, 446, (500, 478, 456, 434))
        page.text(446, 254, "several, on a finer scale", **how)
        for box, practices in ((self.ONE_PX, ("one",)), (self.SEVERAL_PX, SEVERAL)):
            left, low, _, high = box
            page.plot([left, left], [low, low + high], color=look.QUIET, lw=1)
            DirectionChart(page, box, practices).show(self.cut)

    def _draw_section(self, figure: Any, page: Any) -> None:
        left, low, side = self.SECTION_PX
        cut, how = self.cut, {"va": "center_baseline"}
        axes = look.place(figure, left, low, side, side)
        edge = cut.outline.outline_cm()
        middle = (edge.max(axis=0) + edge.min(axis=0)) / 2
        reach = float(np.hypot(*(edge - middle).T).max()) * self.ROOM
        axes.set(
            xlim=(middle[0] - reach, middle[0] + reach),
            ylim=(middle[1] - reach, middle[1] + reach),
        )
        axes.axis("off")
        hull = _closed(cut.outline.hull_cm)
        axes.fill(*hull.T, fc="white", ec="none", hatch="////", zorder=0.5)
        fill = look.BARK_FILL if cut.wood else look.WOOD
        axes.fill(*edge.T, fc=fill, ec=look.TRUTH, lw=1.4)
        if cut.wood:
            axes.fill(*cut.wood.outline_cm().T, fc=look.WOOD, ec=look.BARK, lw=0.8)
        axes.plot(*hull.T, color=look.TAPE, lw=2.4)
        if cut.pith:
            axes.plot([cut.pith.x_cm], [cut.pith.y_cm], ls="", marker="+", ms=10, mew=1.8,
                      color=look.BARK)  # fmt: skip
        ends = cut.ends
        styles: tuple[Any, Any] = ("-", (0, (5, 2)))
        for turn, style in zip((ends.longest_deg, ends.shortest_deg), styles, strict=True):
            axes.plot(*_width_cm(edge, turn).T, color=look.CALIPERS, lw=2, ls=style)
        page.text(8, 524, "The cut", fontweight="bold", **how)
        rows: tuple[tuple[Any, str], ...] = (
            ("-", f"longest {ends.longest_cm:.1f} cm"),
            ((0, (5, 2)), f"shortest {ends.shortest_cm:.1f} cm"),
        )
        for (style, words), at in zip(rows, (12, 216), strict=True):
            page.plot([at, at + 34], [76, 76], color=look.CALIPERS, lw=2, ls=style)
            page.text(at + 42, 76, words, **how)
        page.plot([12, 46], [50, 50], color=look.TAPE, lw=2.4)
        page.text(54, 50, f"tape {cut.taut_girth_cm:.1f} cm, area "
                  f"{signed(cut.tape_over_percent)} %", **how)  # fmt: skip
        length = _bar_cm(reach)
        px = length * side / (2 * reach)
        page.plot([12, 12 + px], [24, 24], color=look.TRUTH, lw=2, solid_capstyle="butt")
        marks = "; hatched: spanned" + (", +: pith" if cut.pith else "")
        page.text(20 + px, 24, f"{length:g} cm{marks}", **how)

    def parts(self) -> tuple[Part, ...]:
        """The section, and the two charts, each with the key."""
        section, right = self.whole.cut_x(430)
        key, one, several = right.cut_y(423, 270)
        return part("cut", section), part("one", key, one), part("several", key, several)

    def show(self, numbers: CutEnd) -> None:
        """Nothing moves: the picture holds its own cut, not `numbers`."""

    def describe(self, numbers: CutEnd) -> str:
        """The picture in words, with its `numbers`."""
        n = numbers
        practices = "; ".join(
            f"{PRACTICE_WORDS[one.practice]}, from {signed(one.least_over_percent)} % at "
            f"{one.least_deg:g}° to {signed(one.most_over_percent)} % at {one.most_deg:g}°"
            for one in n.calipers
        )
        return (
            f"A cut of {n.true_area_cm2:.1f} cm², its longest width {n.ends.longest_cm:.1f} cm at "
            f"{n.ends.longest_deg:.0f}° and its shortest {n.ends.shortest_cm:.1f} cm at "
            f"{n.ends.shortest_deg:.0f}°, with a taut tape of {n.taut_girth_cm:.1f} cm round it. "
            f"Errors of the area: tape {signed(n.tape_over_percent)} % whatever the direction; "
            f"calipers by the direction of the first width: {practices}."
        )


def _closed(points_cm: FloatArray) -> FloatArray:
    return np.vstack([points_cm, points_cm[:1]])


def _width_cm(edge_cm: FloatArray, turn_deg: float) -> FloatArray:
    """A line as long as the width, through the middle of what it spans."""
    turn = np.radians(turn_deg)
    along = np.array([np.cos(turn), np.sin(turn)])
    across = np.array([-along[1], along[0]])
    reach, side = edge_cm @ along, edge_cm @ across
    beside = float(side[int(reach.argmax())] + side[int(reach.argmin())]) / 2
    return np.asarray(np.outer([reach.min(), reach.max()], along) + beside * across)


def _bar_cm(reach_cm: float) -> float:
    """A round length that is about a quarter of what is shown.

    >>> _bar_cm(24.0), _bar_cm(3.0)
    (10.0, 1.0)
    """
    size = 10.0 ** math.floor(math.log10(reach_cm / 2))
    return next(size * one for one in (5.0, 2.0, 1.0) if size * one <= reach_cm / 2)


def cut_end_chart(cut: CutEnd) -> Still:
    """The picture of a cut, with its words.

    cut: of :func:`mensura.estimates.cut_end.cut_end`.

    >>> from mensura.estimates.cut_end import cut_end
    >>> from mensura.stems import Outline
    >>> cut_end_chart(cut_end(Outline([[0, 0], [40, 0], [40, 40], [0, 40]]))).alt[:20]
    'A cut of 1600.0 cm²,'
    """
    return draw_still(CutEndChart(cut), cut)
