"""What each fault adds, as bars in cm on one scale, with the values beside them.

All bars are one artist and all values are another, so that a panel stays quick.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from mensura.views.kit import look
from mensura.views.kit.numerals import Values
from mensura.written import signed


class ShareBars:
    """Rows of bars: one for each fault, and a last one, black, for all of them together.

    figure: to draw on; place_px: left and bottom of the bars; size_px: width and height of them;
    names: each fault and how its row is called, from above, without the last; least_cm, most_cm:
    ends of the scale; ticks_cm: where numbers stand on it; colour: of the bars; digits: of the
    values after the point.
    """

    #: What the last row is called.
    TOGETHER = "together"
    #: Width of the column of values, and half the height of a figure in it.
    VALUES_PX = 72.0
    HALF_DIGIT_PX = 5.4

    def __init__(
        self,
        figure: Any,
        place_px: tuple[float, float],
        size_px: tuple[float, float],
        names: Mapping[str, str],
        least_cm: float,
        most_cm: float,
        ticks_cm: Sequence[float],
        colour: str,
        digits: int = 2,
    ) -> None:
        from matplotlib.collections import LineCollection

        self.names, self.digits = list(names), digits
        rows = len(self.names) + 1
        axes = look.place(figure, *place_px, *size_px)
        axes.set(xlim=(least_cm, most_cm), ylim=(rows - 0.4, -0.6))
        axes.set_xticks(list(ticks_cm), [signed(tick, 0) for tick in ticks_cm])
        axes.set_xlabel("adds to the reading, cm", labelpad=1)
        axes.set_yticks([])
        axes.spines["left"].set_visible(False)
        axes.grid(True, axis="x")
        axes.set_axisbelow(True)
        axes.axvline(0, color=look.TRUTH, lw=1.2)
        axes.axhline(rows - 1.5, color=look.QUIET, lw=1)
        for row, name in enumerate([*names.values(), self.TOGETHER]):
            axes.annotate(
                name,
                (0, row),
                (-8, 0),
                xycoords=("axes fraction", "data"),
                textcoords="offset points",
                ha="right",
                va="center",
                annotation_clip=False,
            )
        pitch_px = size_px[1] / (rows + 0.2)
        thick = 0.5 * pitch_px * 72 / look.SHOWN_DPI
        self.bars: Any = LineCollection(
            [], colors=[*[colour] * (rows - 1), look.TRUTH], linewidths=thick, capstyle="butt"
        )
        axes.add_collection(self.bars, autolim=False)
        column = look.place(
            figure, place_px[0] + size_px[0], place_px[1], self.VALUES_PX, size_px[1]
        )
        column.set(xlim=(0, self.VALUES_PX), ylim=(0, size_px[1]))
        column.axis("off")
        self.values = Values(column)
        middle = (np.arange(rows, 0, -1) - 0.4) * pitch_px
        self._ends_px = [(self.VALUES_PX - 8.0, float(up) - self.HALF_DIGIT_PX) for up in middle]
        self.moving = [self.bars, self.values.artist]

    def show(self, breakdown: dict[str, float]) -> None:
        """Set bars and values.

        breakdown: what each fault adds, in cm; one that is missing adds nothing.
        """
        adds = [breakdown.get(name, 0.0) for name in self.names]
        adds.append(sum(adds))
        ends = np.zeros((len(adds), 2, 2))
        ends[:, :, 1] = np.arange(len(adds))[:, None]
        ends[:, 1, 0] = adds
        self.bars.set_segments(list(ends))
        self.values.set([signed(one, self.digits) for one in adds], self._ends_px)
