"""A class's readings before anything is judged: every hand's, with each instrument's own mark."""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.estimates.class_rows import first_look, over_middle_percent
from mensura.estimates.comparison_rows import Row
from mensura.estimates.readings import KINDS, Readings
from mensura.views.kit import look
from mensura.views.kit.live import Picture, Still, draw_still
from mensura.views.kit.parts import Part, part

#: Each instrument's mark, in the order of their codes, so that they are told apart without colour.
_MARKS = ("o", "D", "^", "v", "P", "s")
#: Readings further off than this are counted, not drawn, in per cent.
_MOST = {"girth": 5.0, "diameter": 14.0}
#: So many hands fit beside each other.
_HANDS = 8


class FirstLook(Picture[Readings]):
    """Girths, and diameters: how far each lies off the middle of its stem, hand by hand.

    readings: of a class.
    """

    height_px = 352

    def __init__(self, readings: Readings) -> None:
        super().__init__()
        self.readings = readings

    def draw(self, figure: Any) -> None:
        """Both charts on `figure`; nothing moves."""
        readings = self.readings
        for left_px, kind in zip((70, 500), KINDS, strict=True):
            axes = look.place(figure, left_px, 46, 340, 270)
            over = over_middle_percent(readings, kind)
            told = np.isfinite(over)
            hands = np.unique(readings.hand[told])[:_HANDS]
            tools = np.unique(readings.instrument[told])[: len(_MARKS)]
            most = _MOST[kind]
            axes.set(xlim=(-0.5, max(len(hands), 1) - 0.5), ylim=(-most, most))
            axes.axhline(0, color=look.TRUTH, lw=1)
            axes.set_xticks(range(len(hands)), [readings.hands[hand] for hand in hands])
            axes.set_ylabel(f"{kind} over its stem's middle, %")
            axes.set_xlabel("hand", labelpad=1)
            axes.grid(True, axis="y")
            axes.set_axisbelow(True)
            colour = look.TAPE if kind == "girth" else look.CALIPERS
            for place, tool in enumerate(tools):
                side = (place - (len(tools) - 1) / 2) * 0.26
                here = told & (readings.instrument == tool) & np.isin(readings.hand, hands)
                at = np.searchsorted(hands, readings.hand[here]) + side
                axes.plot(
                    at,
                    np.where(np.abs(over[here]) <= most, over[here], np.nan),
                    ls="",
                    marker=_MARKS[place],
                    ms=4.5,
                    mfc="none",
                    mec=colour,
                    mew=1.2,
                    label=readings.instruments[tool],
                )
            axes.legend(
                loc="lower left",
                bbox_to_anchor=(-0.02, 1.0),
                ncols=len(tools),
                frameon=False,
                handletextpad=0.1,
                columnspacing=1.2,
                borderaxespad=0.2,
            )

    def parts(self) -> tuple[Part, ...]:
        """Girths, and diameters."""
        girth, diameter = self.whole.cut_x(425)
        return part("girths", girth), part("diameters", diameter)

    def show(self, numbers: Readings) -> None:
        """Nothing moves: the charts hold the readings given at the start, not `numbers`."""

    def describe(self, numbers: Readings) -> str:
        """The charts in words, with the middle of each hand's `numbers` by instrument."""
        said = []
        for kind in KINDS:
            rows = first_look(numbers, kind)
            of_hands = "; ".join(f"{row['hand']} {_by_tool(row)}" for row in rows)
            over = over_middle_percent(numbers, kind)
            outside = int(np.count_nonzero(np.abs(over[np.isfinite(over)]) > _MOST[kind]))
            more = (
                f" {outside} further than {_MOST[kind]:g} % off are not drawn." if outside else ""
            )
            said.append(f"{kind.capitalize()}s: {of_hands}.{more}")
        return (
            "Two charts of a class's readings, one mark a reading, hand by hand: how many per cent "
            "each lies above or below the middle of all readings of its kind on its stem. The "
            "middle for each hand with each instrument, in per cent. " + " ".join(said)
        )


def _by_tool(row: Row) -> str:
    """What stands in a row under each instrument."""
    return ", ".join(f"{name[:-3]} {row[name]}" for name in row if name != "hand" and row[name])


def readings_at_first_sight(readings: Readings) -> Still:
    """Every reading of a class against the middle of its stem, before anything is judged.

    readings: of a class.

    >>> from mensura.estimates.quillmere_practical import quillmere_practical
    >>> readings_at_first_sight(quillmere_practical().readings).alt[:35]
    "Two charts of a class's readings, o"
    """
    return draw_still(FirstLook(readings), readings)
