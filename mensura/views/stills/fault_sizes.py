"""All faults of a typical size side by side, on one scale: what is worth a class's worry.

The smallest are a hundredth of the largest, so the scale goes by tens: equal steps are equal
factors. On such a scale a bar would have no foot to stand on; each fault is a mark.
"""

from __future__ import annotations

from typing import Any

from mensura.checks import MeasureError
from mensura.instruments.typical import GIRTH_CM, typical_sizes_cm
from mensura.views.kit import look
from mensura.views.kit.live import Picture, Still, draw_still
from mensura.views.kit.parts import WIDEST_PX
from mensura.written import signed


class SizesPicture(Picture[dict[str, float]]):
    """One mark for each fault: upwards where it lengthens the reading, downwards where not.

    sizes: what each adds, in cm.
    """

    # one chart that a phone shows legibly: the names stand beside their marks
    width_px = WIDEST_PX

    LEAST_CM, MOST_CM = 0.008, 12.0
    LEFT_PX, ACROSS_PX = 14.0, 452.0
    # so close that all rows stand on a projector's low screen in letters that are read from afar
    ROW_PX, FOOT_PX = 24, 68
    #: Between a mark's middle and the words beside it.
    BESIDE_PX = 12.0

    def __init__(self, sizes: dict[str, float]) -> None:
        super().__init__()
        self.sizes = sizes
        self.height_px = self.FOOT_PX + 46 + self.ROW_PX * len(sizes)

    def draw(self, figure: Any) -> None:
        """All of it on `figure`; nothing moves."""
        rows, foot, across = len(self.sizes), self.FOOT_PX, self.ACROSS_PX
        axes = look.place(figure, self.LEFT_PX, foot, across, self.ROW_PX * rows)
        axes.set(xscale="log", xlim=(self.LEAST_CM, self.MOST_CM), ylim=(-0.5, rows - 0.5))
        axes.set_xticks([0.01, 0.1, 1, 10], ["0.01", "0.1", "1", "10"])
        axes.minorticks_off()
        axes.set_xlabel(
            f"changes a reading of {GIRTH_CM:g} cm by, cm\n(each line ten times the one before)"
        )
        axes.set_yticks([])
        axes.spines["left"].set_visible(False)
        axes.grid(True, axis="x")
        axes.set_axisbelow(True)
        for row, (words, adds) in enumerate(self.sizes.items()):
            axes.plot(
                [abs(adds)],
                [row],
                ls="",
                marker="^" if adds > 0 else "v",
                ms=9,
                mfc=look.TAPE if adds > 0 else "white",
                mec=look.TAPE,
                mew=1.6,
            )
            self._row(axes, row, words, adds)
        key = look.place(figure, self.LEFT_PX, foot + self.ROW_PX * rows + 8, across, 30)
        key.set(xlim=(0, across), ylim=(0, 30))
        key.axis("off")
        key.plot([10], [15], ls="", marker="^", ms=9, color=look.TAPE)
        key.text(24, 15, "reads too long", va="center_baseline")
        key.plot([170], [15], ls="", marker="v", ms=9, mfc="white", mec=look.TAPE, mew=1.6)
        key.text(184, 15, "reads too short", va="center_baseline")

    def _row(self, axes: Any, row: int, words: str, adds: float) -> None:
        """Name and value of a fault, on the sides of its mark that have room for them.

        Raises MeasureError if none has.
        """
        size = abs(adds)
        value = signed(adds, 2 if size >= 0.1 else 3)
        beside: dict[str, Any] = {"va": "center", "textcoords": "offset points"}
        # the lines of the scale are not to go through letters
        beside |= {"bbox": {"fc": "white", "ec": "none", "pad": 1}}
        gap = self.BESIDE_PX * 72 / look.SHOWN_DPI
        renderer = axes.figure.canvas.get_renderer()
        left, right = ((-gap, 0), {"ha": "right"}), ((gap, 0), {"ha": "left"})
        # the name goes left and the value right, else the other way round, else both right
        for of_name, of_value in ((left, right), (right, left), (right, None)):
            said = words if of_value else f"{value}   {words}"
            texts = [axes.annotate(said, (size, row), of_name[0], **of_name[1], **beside)]
            if of_value:
                texts.append(
                    axes.annotate(value, (size, row), of_value[0], **of_value[1], **beside)
                )
            ends = [text.get_window_extent(renderer) for text in texts]
            if min(end.x0 for end in ends) > 4 and max(end.x1 for end in ends) < renderer.width - 4:
                return
            for text in texts:
                text.remove()
        raise MeasureError("fault", words, "", "a name that has room beside its mark")

    def show(self, numbers: dict[str, float]) -> None:
        """Nothing moves: the picture holds its own sizes, not `numbers`."""

    def describe(self, numbers: dict[str, float]) -> str:
        """The picture in words, with its `numbers`."""
        parts = "; ".join(
            f"{words} {signed(adds, 2 if abs(adds) >= 0.1 else 3)}"
            for words, adds in numbers.items()
        )
        return (
            f"What each fault of typical size adds to a reading of {GIRTH_CM:g} cm of girth, in "
            f"cm, the smallest first, on a scale that goes by tens: {parts}."
        )


def sizes_side_by_side() -> Still:
    """All faults of typical size on one scale, on a stem of 125 cm girth, sorted.

    >>> sizes_side_by_side().alt[:40]
    'What each fault of typical size adds to '
    """
    sizes = typical_sizes_cm()
    return draw_still(SizesPicture(sizes), sizes)
