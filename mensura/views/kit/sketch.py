"""Drawings in words and lines, for what no curve shows: how an instrument is held.

A sketch is a still picture drawn in shown pixels from its lower left corner, so that what is
written here is where it stands. The helpers below keep one look for wood, band, calipers, pointer
and measure in all of them.
"""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Sequence
from typing import Any

import numpy as np

from mensura.checks import FloatArray
from mensura.views.kit import look
from mensura.views.kit.live import Picture

Place = tuple[float, float]


class Sketch(Picture[None]):
    """A still picture without numbers.

    alt: the same in words.
    """

    alt: str = ""

    def draw(self, figure: Any) -> None:
        """The axes of `figure` in shown pixels, and the sketch on them."""
        axes = look.place(figure, 0, 0, self.width_px, self.height_px)
        axes.set(xlim=(0, self.width_px), ylim=(0, self.height_px))
        axes.axis("off")
        self.sketch(axes)

    @abstractmethod
    def sketch(self, axes: Any) -> None:
        """Draw everything on `axes`, in shown pixels."""

    def show(self, numbers: None) -> None:
        """Nothing moves; `numbers` is None."""

    def describe(self, numbers: None) -> str:
        """The picture in words; `numbers` is None."""
        return self.alt


def words(axes: Any, place_px: Place, text: str, **how: Any) -> None:
    """Text at a place.

    axes: of a sketch; place_px: its left middle, unless `how` says otherwise; text: what is
    written; how: as Matplotlib's text takes it.
    """
    axes.text(*place_px, text, **{"va": "center", "linespacing": 1.25, **how})


def title(axes: Any, place_px: Place, text: str) -> None:
    """The name of one part of a sketch, bold.

    axes: of a sketch; place_px: its left middle; text: what is written.
    """
    words(axes, place_px, text, fontweight="bold", va="center_baseline")


def pointer(axes: Any, start_px: Place, end_px: Place, colour: str = look.QUIET) -> None:
    """A thin line from words to what they name, ending in a dot.

    axes: of a sketch; start_px: beside the words; end_px: on the thing; colour: of both.
    """
    axes.plot(*zip(start_px, end_px, strict=True), color=colour, lw=1, zorder=6)
    axes.plot(*end_px, ls="", marker="o", ms=4, color=colour, zorder=6)


def arrow(axes: Any, start_px: Place, end_px: Place, colour: str = look.TRUTH) -> None:
    """An arrow: something is moved that way.

    axes: of a sketch; start_px, end_px: tail and tip; colour: of the line.
    """
    style = {"arrowstyle": "-|>", "color": colour, "lw": 1.6, "shrinkA": 0, "shrinkB": 0}
    axes.annotate("", end_px, start_px, arrowprops=style, zorder=6)


def measure(axes: Any, start_px: Place, end_px: Place, colour: str = look.TRUTH) -> None:
    """A length: a line with a head at either end.

    axes: of a sketch; start_px, end_px: its ends; colour: of the line.
    """
    style = {"arrowstyle": "<|-|>", "color": colour, "lw": 1.2, "shrinkA": 0, "shrinkB": 0}
    axes.annotate("", end_px, start_px, arrowprops=style, zorder=6)


def wood(axes: Any, edge_px: FloatArray | Sequence[Place], line: str = look.BARK) -> None:
    """A filled piece of wood.

    axes: of a sketch; edge_px: its corners, shape (n, 2); line: colour of the bark.
    """
    from matplotlib.patches import Polygon

    axes.add_patch(Polygon(np.asarray(edge_px), fc=look.WOOD, ec=line, lw=1.6, closed=True))


def disc(axes: Any, centre_px: Place, radius_px: float, **how: Any) -> None:
    """A round section or the end of a rod, filled as wood.

    axes: of a sketch; centre_px, radius_px: where and how large; how: as Matplotlib's Circle.
    """
    from matplotlib.patches import Circle

    axes.add_patch(
        Circle(centre_px, radius_px, **{"fc": look.WOOD, "ec": look.BARK, "lw": 1.6, **how})
    )


def band(axes: Any, path_px: FloatArray | Sequence[Place], **how: Any) -> None:
    """A tape seen from its edge, or a narrow tape seen flat.

    axes: of a sketch; path_px: points along it, shape (n, 2); how: as Matplotlib's plot takes it.
    """
    x_px, y_px = np.asarray(path_px, dtype=float).T
    style = {"color": look.TAPE, "lw": 3, "solid_capstyle": "butt", "zorder": 4}
    axes.plot(x_px, y_px, **{**style, **how})


def strap(axes: Any, place_px: Place, half_px: float, wide_px: float) -> None:
    """A band round a standing stem, seen flat from the side.

    axes: of a sketch; place_px: where it crosses the stem's axis, at the back; half_px: half the
    stem's width; wide_px: width of the band.
    """
    from matplotlib.patches import Polygon

    front = arc_px(place_px, (half_px + 2, 6 + wide_px / 4), 180, 360)
    up = np.array([0, wide_px / 2])
    edge = np.vstack([front + up, front[::-1] - up])
    axes.add_patch(Polygon(edge, fc=look.TAPE, lw=0, zorder=4))


def bar(axes: Any, start_px: Place, end_px: Place, **how: Any) -> None:
    """A jaw or a beam: a thin bar.

    axes: of a sketch; start_px, end_px: its ends; how: as Matplotlib's plot takes it.
    """
    style = {"color": look.CALIPERS, "lw": 6, "solid_capstyle": "butt", "zorder": 4}
    axes.plot(*zip(start_px, end_px, strict=True), **{**style, **how})


def cross(axes: Any, place_px: Place, size_pt: float = 11) -> None:
    """The mark of what is wrong.

    axes: of a sketch; place_px: its middle; size_pt: its width.
    """
    axes.plot(*place_px, ls="", marker="x", ms=size_pt, mew=2.6, color=look.TRUTH, zorder=7)


def tick(axes: Any, place_px: Place, size_px: float = 13) -> None:
    """The mark of what is right.

    axes: of a sketch; place_px: its middle; size_px: its width.
    """
    x, y = place_px
    half = size_px / 2
    path = np.array([(x - half, y), (x - half * 0.25, y - half * 0.75), (x + half, y + half * 0.8)])
    axes.plot(path[:, 0], path[:, 1], color=look.TRUTH, lw=2.6, zorder=7)


def arc_px(centre_px: Place, radii_px: Place, from_deg: float, to_deg: float) -> FloatArray:
    """Points along part of an ellipse, shape (90, 2).

    centre_px: its middle; radii_px: across and upwards; from_deg, to_deg: anticlockwise from the
    right.

    >>> arc_px((100, 50), (10, 5), 0, 90)[[0, -1]].round(6).tolist()
    [[110.0, 50.0], [100.0, 55.0]]
    """
    turn = np.radians(np.linspace(from_deg, to_deg, 90))
    return np.column_stack(
        [centre_px[0] + radii_px[0] * np.cos(turn), centre_px[1] + radii_px[1] * np.sin(turn)]
    )


def trunk_px(middle_px: float, half_px: float, foot_px: Place, top_px: float) -> FloatArray:
    """Edge of a standing stem from the side, with a flare at its foot and a wavy cut above.

    middle_px: of the stem; half_px: half its width; foot_px: heights of the ground at its left
    and its right; top_px: height of the cut. Shape (n, 2).

    >>> edge = trunk_px(200, 40, (50, 60), 300)
    >>> bool(edge[:, 0].min() < 160), bool(edge[:, 1].max() <= 310)
    (True, True)
    """
    up = np.linspace(0, 1, 60)
    flare = 16 * np.exp(-9 * up)
    left = np.column_stack([middle_px - half_px - flare, foot_px[0] + up * (top_px - foot_px[0])])
    right = np.column_stack([middle_px + half_px + flare, foot_px[1] + up * (top_px - foot_px[1])])
    across = np.linspace(-half_px, half_px, 40)
    cut = np.column_stack([middle_px + across, top_px + 6 * np.sin(np.pi * across / half_px)])
    return np.vstack([left, cut, right[::-1]])


def calipers(axes: Any, closed_px: Place, gap_px: float, reach_px: float, **how: Any) -> None:
    """Calipers lying flat: a beam with a scale, a fixed jaw, and one that slides.

    axes: of a sketch; closed_px: where the fixed jaw's face meets the beam; gap_px: how far the
    sliding jaw stands from it; reach_px: length of the jaws; how: beam_px, length of the beam.
    """
    from matplotlib.patches import Rectangle

    x, y = closed_px
    beam_px = float(how.get("beam_px", gap_px + 90))
    axes.add_patch(
        Rectangle((x - 14, y - 14), beam_px + 14, 14, fc=look.BEAM_FILL, ec=look.CALIPERS, lw=1.6)
    )
    marks = np.arange(0, beam_px - 4, 8)
    tops = y - 14 + np.where(np.arange(marks.size) % 5, 5, 9)
    axes.vlines(x + marks, y - 14, tops, colors=look.CALIPERS, lw=1)
    for jaw in (x - 4, x + gap_px + 4):
        bar(axes, (jaw, y - 16), (jaw, y + reach_px), lw=6)
