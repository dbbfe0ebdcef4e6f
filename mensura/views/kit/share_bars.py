"""What each fault adds, as bars in cm on one scale, with the values beside them.

The scale follows the bars: it is the first that holds them all, so that small shares are seen too;
its numbers move, its lines stay. All bars are one artist and all values are another, so that a
panel stays quick.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from mensura.views.kit import look
from mensura.views.kit.numerals import Values, line_width_px
from mensura.written import minus, signed


class ShareBars:
    """Rows of bars: one for each fault, and a last one, black, for all of them together.

    figure: to draw on; place_px: left and bottom of the bars; size_px: width and height of them;
    names: each fault and how its row is called, from above, without the last; scales_cm: what the
    scale may reach to the right, the least first; below: how far it reaches to the left, as a share
    of that, a multiple of a half; colour: of the bars; digits: of the values after the point.
    """

    #: What the last row is called.
    TOGETHER = "together"
    #: Width of the column of values, and half the height of a figure in it.
    VALUES_PX = 72.0
    HALF_DIGIT_PX = 5.4
    #: How far below the bars the scale's numbers stand.
    NUMBERS_PX = 18.0

    def __init__(
        self,
        figure: Any,
        place_px: tuple[float, float],
        size_px: tuple[float, float],
        names: Mapping[str, str],
        scales_cm: Sequence[float],
        below: float,
        colour: str,
        digits: int = 2,
    ) -> None:
        from matplotlib.collections import LineCollection

        self.names, self.digits = list(names), digits
        self.scales_cm, self.below = tuple(scales_cm), below
        rows = len(self.names) + 1
        axes = look.place(figure, *place_px, *size_px)
        axes.set(xlim=(-below, 1), ylim=(rows - 0.4, -0.6))
        self.ground = axes
        self._shares = np.arange(-below, 1.25, 0.5)
        axes.set_xticks(self._shares, [""] * len(self._shares))
        axes.set_xlabel("adds to the reading, cm", labelpad=16)
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
        # the lines and their axes lie still; only what the bars are measured by changes
        self.axes = look.place(figure, *place_px, *size_px)
        self.axes.set(xlim=axes.get_xlim(), ylim=axes.get_ylim())
        self.axes.axis("off")
        self.axes.add_collection(self.bars, autolim=False)
        column = look.place(
            figure, place_px[0] + size_px[0], place_px[1], self.VALUES_PX, size_px[1]
        )
        column.set(xlim=(0, self.VALUES_PX), ylim=(0, size_px[1]))
        column.axis("off")
        self.values = Values(column)
        middle = (np.arange(rows, 0, -1) - 0.4) * pitch_px
        self._ends_px = [(self.VALUES_PX - 8.0, float(up) - self.HALF_DIGIT_PX) for up in middle]
        # the scale's numbers stand where the ticks are, each round its own middle
        room = self.VALUES_PX / 2
        foot = look.place(
            figure,
            place_px[0] - room,
            place_px[1] - self.NUMBERS_PX,
            size_px[0] + 2 * room,
            self.NUMBERS_PX,
        )
        foot.set(xlim=(-room, size_px[0] + room), ylim=(0, self.NUMBERS_PX))
        foot.axis("off")
        self.numbers = Values(foot)
        self._ticks_px = (self._shares + below) / (1 + below) * size_px[0]
        self.moving = [self.bars, self.values.artist, self.numbers.artist]

    def scale_cm(self, adds_cm: Sequence[float]) -> float:
        """What the scale reaches to the right: the least that holds all bars.

        adds_cm: what the bars show.
        """
        need = max(max(adds_cm), -min(adds_cm) / self.below)
        return next((one for one in self.scales_cm if one >= need), self.scales_cm[-1])

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
        scale = self.scale_cm(adds)
        self.axes.set_xlim(-self.below * scale, scale)
        ticks = [f"{share * scale:+g}" if share else "0" for share in self._shares]
        lines = [minus(tick) for tick in ticks]
        self.numbers.set(
            lines,
            [
                (at + line_width_px(line) / 2, 4.0)
                for at, line in zip(self._ticks_px, lines, strict=True)
            ],
        )
        self.values.set([signed(one, self.digits) for one in adds], self._ends_px)
