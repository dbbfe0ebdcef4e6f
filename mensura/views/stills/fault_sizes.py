"""All faults of a typical size side by side, on one scale: what is worth a class's worry.

The smallest are a hundredth of the largest, so the scale goes by tens: equal steps are equal
factors. On such a scale a bar would have no foot to stand on; each fault is a mark.
"""

from __future__ import annotations

from typing import Any

from mensura.instruments.typical import GIRTH_CM, typical_sizes_cm
from mensura.views.kit import look
from mensura.views.kit.live import Picture, Still, draw_still
from mensura.written import signed


class SizesPicture(Picture[dict[str, float]]):
    """One mark for each fault: upwards where it lengthens the reading, downwards where not.

    sizes: what each adds, in cm.
    """

    width_px = 860

    LEAST_CM, MOST_CM = 0.008, 12.0
    ROW_PX = 29

    def __init__(self, sizes: dict[str, float]) -> None:
        super().__init__()
        self.sizes = sizes
        self.height_px = 96 + self.ROW_PX * len(sizes)

    def draw(self, figure: Any) -> None:
        """All of it on `figure`; nothing moves."""
        rows, foot = len(self.sizes), 50
        axes = look.place(figure, 300, foot, 480, self.ROW_PX * rows)
        axes.set(xscale="log", xlim=(self.LEAST_CM, self.MOST_CM), ylim=(-0.5, rows - 0.5))
        axes.set_xticks([0.01, 0.1, 1, 10], ["0.01", "0.1", "1", "10"])
        axes.minorticks_off()
        axes.set_xlabel(
            f"changes a reading of {GIRTH_CM:g} cm by, cm (each line ten times the one before)"
        )
        axes.set_yticks([])
        axes.spines["left"].set_visible(False)
        axes.grid(True, axis="x")
        axes.set_axisbelow(True)
        beside = {"annotation_clip": False, "va": "center", "textcoords": "offset points"}
        for row, (words, adds) in enumerate(self.sizes.items()):
            size = abs(adds)
            axes.plot([self.LEAST_CM, size], [row, row], color=look.GRID, lw=1, zorder=0)
            axes.plot(
                [size],
                [row],
                ls="",
                marker="^" if adds > 0 else "v",
                ms=9,
                mfc=look.TAPE if adds > 0 else "white",
                mec=look.TAPE,
                mew=1.6,
            )
            axes.annotate(words, (self.LEAST_CM, row), (-8, 0), ha="right", **beside)
            axes.annotate(signed(adds, 2 if size >= 0.1 else 3), (size, row), (10, 0), **beside)
        key = look.place(figure, 300, foot + self.ROW_PX * rows + 8, 540, 30)
        key.set(xlim=(0, 540), ylim=(0, 30))
        key.axis("off")
        key.plot([10], [15], ls="", marker="^", ms=9, color=look.TAPE)
        key.text(24, 15, "reads too long", va="center_baseline")
        key.plot([170], [15], ls="", marker="v", ms=9, mfc="white", mec=look.TAPE, mew=1.6)
        key.text(184, 15, "reads too short", va="center_baseline")

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
