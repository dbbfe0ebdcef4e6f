"""Where the slips of one problem land: how many times the right answer each of them makes.

A row for each slip, on a scale that multiplies, with the right answer and what counts as right as
a strip through all of them. Slips that lie apart can be told apart by their result alone. What
counts as right is mostly narrower than a line: its strip is drawn at least as wide as can be seen.
"""

from __future__ import annotations

import math
from typing import Any

from mensura.checks import MeasureError
from mensura.teaching.problems.draw import Problem
from mensura.views.kit import look
from mensura.views.kit.live import Picture, Still, draw_still
from mensura.views.kit.parts import WIDEST_PX
from mensura.written import rounded

_ROW_PX, _LEFT_PX, _RIGHT_PX, _TOP_PX, _BOTTOM_PX = 46.0, 14.0, 14.0, 62.0, 58.0
#: Room for a letter, and between two columns of words.
_LETTER_PX, _APART_PX = 9.2, 14.0
_STRIP_PX = 14.0
_STEPS = (1, 2, 5)


class SlipMap(Picture[None]):
    """The slips of one problem on one scale.

    problem: with its numbers.
    Raises MeasureError if the answer or a slip is not above 0, or the answer is a number of a list:
    no scale that multiplies holds it.
    """

    width_px = WIDEST_PX

    def __init__(self, problem: Problem) -> None:
        super().__init__()
        values = [problem.answer, *(slip.value for slip in problem.slips)]
        if problem.family.exact or min(values) <= 0:
            raise MeasureError(
                "problem", problem.family.key, "", "one whose answer and slips lie above 0"
            )
        self.problem = problem
        self.rows = sorted(
            ((slip.value / problem.answer, slip) for slip in problem.slips),
            key=lambda row: row[0],
            reverse=True,
        )
        self.height_px = round(_TOP_PX + _ROW_PX * len(self.rows) + _BOTTOM_PX)

    @property
    def ends(self) -> tuple[float, float]:
        """Least and greatest of the scale, in times the right answer."""
        ratios = [1.0, *(ratio for ratio, _ in self.rows)]
        return min(ratios) / 1.5, max(ratios) * 1.5

    def value(self, number: float) -> str:
        """A slip's number with its unit.

        number: in the problem's unit.
        """
        return f"{rounded(number, 4)} {self.problem.family.unit}".strip()

    def draw(self, figure: Any) -> None:
        """Rows, scale and the right answer on `figure`."""
        count = len(self.rows)
        width = self.width_px - _LEFT_PX - _RIGHT_PX
        axes = look.place(figure, _LEFT_PX, _BOTTOM_PX, width, _ROW_PX * count)
        least, greatest = self.ends
        axes.set_xscale("log")
        axes.set(xlim=(least, greatest), ylim=(count - 0.5, -0.5))
        axes.minorticks_off()
        axes.set_xticks(*self._ticks(least, greatest))
        axes.set_yticks([])
        axes.spines["left"].set_visible(False)
        axes.set_xlabel("times the right answer", labelpad=4)
        axes.grid(True, axis="x")
        axes.set_axisbelow(True)
        self._right(axes, math.log10(greatest / least) / width)
        longest = max(len(self.value(slip.value)) for _, slip in self.rows)
        value_px = longest * _LETTER_PX + _APART_PX
        for row, (ratio, slip) in enumerate(self.rows):
            low = row + 0.22
            axes.plot([1, ratio], [low, low], color=look.CLASSROOM, lw=1.4, ls=(0, (4, 2)))
            axes.plot(ratio, low, ls="", marker="x", ms=10, mew=2.6, color=look.TAPE, zorder=4)
            for place, words, side, left_px in (
                (0, slip.name.replace("-", " "), "left", 0.0),
                (1, f"× {rounded(ratio, 3)}", "right", -value_px),
                (1, self.value(slip.value), "right", 0.0),
            ):
                axes.annotate(
                    words,
                    (place, row - 0.22),
                    (left_px * 72 / look.SHOWN_DPI, 0),
                    xycoords=("axes fraction", "data"),
                    textcoords="offset points",
                    ha=side,
                    va="center",
                    annotation_clip=False,
                    bbox={"fc": "white", "ec": "none", "pad": 0.5},
                    zorder=3,
                )

    def _right(self, axes: Any, decades_a_px: float) -> None:
        """The right answer as a line, and round it what counts as right, as a strip."""
        half = math.log10(1 + self.problem.tolerance / self.problem.answer)
        widened = half < _STRIP_PX / 2 * decades_a_px
        half = max(half, _STRIP_PX / 2 * decades_a_px)
        for row in range(len(self.rows)):  # where a row's words stand they are left away
            low, high = row + 0.01, row + 0.43
            axes.fill_between(
                [10**-half, 10**half], low, high, fc=look.WOOD, ec=look.BARK, lw=1, zorder=1
            )
            axes.plot([1, 1], [low, high], color=look.TRUTH, lw=2, zorder=2)
        within = f"within {self.problem.tolerance_percent:.2g} %: counts as right"
        for up_px, words, how in (
            (46.0, f"right: {self.value(self.problem.answer)}", {"fontweight": "bold"}),
            (22.0, f"{within} (drawn wider)" if widened else within, {}),
        ):
            axes.annotate(
                words,
                (0.5, 1),
                (0, (up_px - 10) * 72 / look.SHOWN_DPI),
                xycoords="axes fraction",
                textcoords="offset points",
                ha="center",
                annotation_clip=False,
                **how,
            )

    @staticmethod
    def _ticks(least: float, greatest: float) -> tuple[list[float], list[str]]:
        """Places and words of the marks: 1, 2 and 5 on a short scale, fewer on a long one."""
        low, high = math.floor(math.log10(least)), math.ceil(math.log10(greatest))
        decades = math.log10(greatest / least)
        steps = _STEPS if decades < 2.2 else (1,)
        every = max(1, round(decades / 5))
        places = [
            step * 10.0**power
            for power in range(low, high + 1)
            if power % every == 0
            for step in steps
            if least <= step * 10.0**power <= greatest
        ]
        return places, [f"{place:,.10g}".replace(",", "\u202f") for place in places]

    def show(self, numbers: None) -> None:
        """Nothing moves; `numbers` is None."""

    def describe(self, numbers: None) -> str:
        """The right answer, and each slip with its number; `numbers` is None."""
        told = "; ".join(
            f"{slip.name.replace('-', ' ')} {self.value(slip.value)}, {rounded(ratio, 3)} times"
            for ratio, slip in self.rows
        )
        return (
            f"Where the slips of one problem land. The right answer is "
            f"{self.value(self.problem.answer)}; within {self.problem.tolerance_percent:.2g} % of "
            f"it counts. The slips, with how many times the right answer each makes: {told}."
        )


def slip_map(problem: Problem) -> Still:
    """A picture of where the slips of a problem land.

    problem: with its numbers. Raises MeasureError if the answer or a slip is not above 0, or the
    answer is a number of a list.
    """
    return draw_still(SlipMap(problem), None)
