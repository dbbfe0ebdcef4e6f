"""The way of workbook 12 at one look: a girth, a tree, a plot, a hectare, and what spoils each."""

from __future__ import annotations

import itertools
from typing import Any

import numpy as np

from mensura.views.kit import look, sketch
from mensura.views.kit.live import Still, draw_still
from mensura.views.kit.parts import Part, part

#: Middles of the four pictures, and their height.
_MIDDLES, _LEVEL = (108.0, 322.0, 537.0, 752.0), 168.0
_NAMES = ("1 a girth", "2 a tree", "3 a plot", "4 a hectare")
_SPOILS = (
    "instrument, hand,\na section not round,\nbark",
    "height,\nform",
    "the plot's area,\nthe slope, the edge",
    "which plots\nwere measured:\nchance",
)


class TimberWay(sketch.Sketch):
    """Four steps from a girth to cubic metres a hectare."""

    height_px = 340
    alt = (
        "Four small drawings in a row, each leading to the next. 1, a girth: a band round a "
        "section. What spoils it: instrument, hand, a section that is not round, bark. 2, a tree, "
        "with its height and the place of its girth. What spoils it: height and form. 3, a plot: a "
        "circle on the ground with stems in it. What spoils it: the plot's area, the slope, the "
        "edge. 4, a hectare: a square with five such circles. What spoils it: chance, which plots "
        "were measured."
    )

    def parts(self) -> tuple[Part, ...]:
        """To the tree, and on to the hectare."""
        left, right = self.whole.cut_x(430)
        return part("girth and tree", left), part("plot and hectare", right)

    def sketch(self, axes: Any) -> None:
        """The four drawings, their names and what spoils them, on `axes`."""
        for middle, name, spoils in zip(_MIDDLES, _NAMES, _SPOILS, strict=True):
            axes.text(middle, 326, name, ha="center", va="center", fontweight="bold")
            axes.text(middle, 72, spoils, ha="center", va="top", linespacing=1.25)
        for left, right in itertools.pairwise(_MIDDLES):
            between = (left + right) / 2
            sketch.arrow(axes, (between - 18, _LEVEL + 24), (between + 18, _LEVEL + 24))
        self._girth(axes)
        self._tree(axes)
        self._plot(axes)
        self._hectare(axes)

    def _girth(self, axes: Any) -> None:
        middle = _MIDDLES[0]
        edge = sketch.arc_px((middle, _LEVEL + 20), (62, 54), 0, 360)
        sketch.wood(axes, edge)
        band = sketch.arc_px((middle, _LEVEL + 20), (65, 57), 70, 430)
        sketch.band(axes, band)
        end = band[-1]
        sketch.band(axes, [end, end + np.array([48, -12])])

    def _tree(self, axes: Any) -> None:
        from matplotlib.patches import Ellipse

        middle, foot, top = _MIDDLES[1], 96.0, 296.0
        axes.plot([middle - 64, middle + 64], [foot] * 2, color=look.QUIET, lw=1.4)
        axes.add_patch(Ellipse((middle, 236), 92, 122, fc=look.GROUND, ec=look.QUIET, lw=1.2))
        sketch.wood(axes, [(middle - 13, foot), (middle + 13, foot), (middle + 2, 270),
                           (middle - 2, 270)])  # fmt: skip
        sketch.strap(axes, (middle, foot + 26), 12, 7)
        sketch.measure(axes, (middle + 62, foot), (middle + 62, top))

    def _plot(self, axes: Any) -> None:
        from matplotlib.patches import Circle

        middle = np.array([_MIDDLES[2], _LEVEL + 22])
        axes.add_patch(Circle(tuple(middle), 78, fc=look.GROUND, ec=look.TAPE, lw=2))
        # the golden angle strews stems evenly without looking laid out
        for at in range(11):
            turn, out = 2.39996 * at + 0.4, 66 * np.sqrt((at + 0.6) / 11)
            place = middle + out * np.array([np.cos(turn), np.sin(turn)])
            sketch.disc(axes, tuple(place), 4 + at * 37 % 6)
        axes.plot(*middle, ls="", marker="+", ms=10, mew=2, color=look.TRUTH, zorder=7)

    def _hectare(self, axes: Any) -> None:
        from matplotlib.patches import Circle, Rectangle

        left, low, side = _MIDDLES[3] - 78, _LEVEL - 58, 156
        axes.add_patch(Rectangle((left, low), side, side, fc=look.GROUND, ec=look.QUIET, lw=1.4))
        for across, up in ((0.2, 0.24), (0.72, 0.16), (0.5, 0.52), (0.84, 0.66), (0.22, 0.8)):
            place = (left + across * side, low + up * side)
            axes.add_patch(Circle(place, 13, fc="white", ec=look.TAPE, lw=2))
            axes.plot(*place, ls="", marker="+", ms=7, mew=1.6, color=look.TRUTH)


def timber_way() -> Still:
    """The four steps from a girth to a hectare, as a still picture.

    >>> timber_way().alt[:28]
    'Four small drawings in a row'
    """
    return draw_still(TimberWay(), None)
