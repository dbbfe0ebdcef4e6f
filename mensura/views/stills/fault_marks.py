"""Faults on one scale that goes by tens: a mark a fault, its name and its value beside it.

The smallest are a hundredth of the largest, so equal steps are equal factors. On such a scale a bar
would have no foot to stand on; each fault is a mark, upwards where it makes too much of a stem and
downwards where it makes too little. A row may have a range, a line through its mark.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from mensura.checks import MeasureError
from mensura.views.kit import look
from mensura.views.kit.live import Picture
from mensura.views.kit.parts import WIDEST_PX, Part, part

N = TypeVar("N")


@dataclass(frozen=True)
class Marked:
    """One row of the chart.

    words: its name; adds: where its mark stands, its sign the way it points, in the unit of the
    scale; said: the value as written; calipers: whether it is a fault of theirs, which the words
    say too; ends: from where to where it may lie, in the unit of the scale, of one sign.
    """

    words: str
    adds: float
    said: str
    calipers: bool = False
    ends: tuple[float, float] | None = None


class FaultMarks(Picture[N], Generic[N]):
    """One mark for each row, all on a scale by tens.

    rows: from below.
    """

    # one chart that a phone shows legibly: the names stand beside their marks
    width_px = WIDEST_PX

    #: Ends of the scale and the lines on it; what is written below; what the marks mean.
    LEAST, MOST = 0.008, 12.0
    LINES: tuple[float, ...] = (0.01, 0.1, 1, 10)
    BELOW = ""
    UP, DOWN = "reads too long", "reads too short"
    #: Further rows of the key, "" for none.
    ALSO = ""
    LEFT_PX, ACROSS_PX = 14.0, 452.0
    # so close that all rows stand on a projector's low screen in letters that are read from afar
    ROW_PX, FOOT_PX = 24, 68
    #: Between a mark's middle and the words beside it.
    BESIDE_PX = 12.0

    def __init__(self, rows: Sequence[Marked]) -> None:
        super().__init__()
        self.rows = tuple(rows)
        self.height_px = self.FOOT_PX + 46 + self._also_px + self.ROW_PX * len(self.rows)

    @property
    def _also_px(self) -> int:
        return 22 * len(self.ALSO.splitlines())

    def draw(self, figure: Any) -> None:
        """All of it on `figure`; nothing moves."""
        rows, foot, across = len(self.rows), self.FOOT_PX, self.ACROSS_PX
        axes = look.place(figure, self.LEFT_PX, foot, across, self.ROW_PX * rows)
        axes.set(xscale="log", xlim=(self.LEAST, self.MOST), ylim=(-0.5, rows - 0.5))
        axes.set_xticks(self.LINES, [f"{one:g}" for one in self.LINES])
        axes.minorticks_off()
        axes.set_xlabel(self.BELOW)
        axes.set_yticks([])
        axes.spines["left"].set_visible(False)
        axes.grid(True, axis="x")
        axes.set_axisbelow(True)
        for row, one in enumerate(self.rows):
            if one.ends:
                self._range(axes, row, one.ends)
            axes.plot([abs(one.adds)], [row], ls="", **_mark(one.adds > 0, one.calipers))
            self._row(axes, row, one)
        above = foot + self.ROW_PX * rows + 8
        key = look.place(figure, self.LEFT_PX, above, across, 30 + self._also_px)
        key.set(xlim=(0, across), ylim=(0, 30 + self._also_px))
        key.axis("off")
        up = 15 + self._also_px
        for at, words, upwards in ((10, self.UP, True), (170, self.DOWN, False)):
            key.plot([at], [up], ls="", **_mark(upwards, False))
            key.text(at + 14, up, words, va="center_baseline")
        if any(one.calipers for one in self.rows):
            key.plot([290], [up], ls="", **_mark(True, True))
            key.text(304, up, "of calipers", va="center_baseline")
        for row, words in enumerate(reversed(self.ALSO.splitlines())):
            key.text(3, 13 + 22 * row, words, va="center_baseline")

    def parts(self) -> tuple[Part, ...]:
        """The larger half with what the marks mean, and the smaller half with the scale."""
        # between two rows, so that no letter is cut
        half = self.FOOT_PX + self.ROW_PX * (len(self.rows) // 2)
        large, small = self.whole.cut_y(half)
        return part("large", large), part("small", small)

    def _range(self, axes: Any, row: int, ends: tuple[float, float]) -> None:
        """A line from end to end with a small bar at each."""
        reach = [abs(end) for end in ends]
        axes.plot(reach, [row, row], color=look.QUIET, lw=1.6, solid_capstyle="butt")
        axes.plot(
            reach, [row, row], ls="", marker="|", ms=8, mfc=look.QUIET, mec=look.QUIET, mew=1.6
        )

    def _row(self, axes: Any, row: int, one: Marked) -> None:
        """Name and value of a fault, on the sides of its mark that have room for them.

        Raises MeasureError if none has.
        """
        size, words, value = abs(one.adds), one.words, one.said
        beside: dict[str, Any] = {"va": "center", "textcoords": "offset points"}
        # the lines of the scale are not to go through letters
        beside |= {"bbox": {"fc": "white", "ec": "none", "pad": 1}}
        gap = self.BESIDE_PX * 72 / look.SHOWN_DPI
        renderer = axes.figure.canvas.get_renderer()
        left, right = ((-gap, 0), {"ha": "right"}), ((gap, 0), {"ha": "left"})
        # a range's ends stand between the mark and the words
        places = sorted([size, *map(abs, one.ends or ())])
        foot = {left[0]: places[0], right[0]: places[-1]}
        # the name goes left and the value right, else the other way round, else both on one side
        sides = ((left, right), (right, left), (right, None), (left, None))
        for of_name, of_value in sides:
            said = words if of_value else f"{value}   {words}"
            if not of_value and of_name is left:
                said = f"{words}   {value}"
            at, way = of_name
            texts = [axes.annotate(said, (foot[at], row), at, **way, **beside)]
            if of_value:
                at, way = of_value
                texts.append(axes.annotate(value, (foot[at], row), at, **way, **beside))
            ends = [text.get_window_extent(renderer) for text in texts]
            if min(end.x0 for end in ends) > 4 and max(end.x1 for end in ends) < renderer.width - 4:
                return
            for text in texts:
                text.remove()
        raise MeasureError("fault", words, "", "a name that has room beside its mark")

    def show(self, numbers: N) -> None:
        """Nothing moves: the picture holds its own rows, not `numbers`."""


def _mark(upwards: bool, calipers: bool) -> dict[str, Any]:
    """Filled and upwards, or empty and downwards; vermilion for a tape, blue for calipers."""
    ink = look.CALIPERS if calipers else look.TAPE
    fill = ink if upwards else look.WHITE
    return {"marker": "^" if upwards else "v", "ms": 9, "mfc": fill, "mec": ink, "mew": 1.6}
