"""All faults of a typical size side by side, on one scale: what is worth a class's worry.

The smallest are a hundredth of the largest, so the scale goes by tens: equal steps are equal
factors. On such a scale a bar would have no foot to stand on; each fault is a mark.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.instruments.lay import Lay
from mensura.instruments.materials import MATERIALS
from mensura.instruments.tape import REFERENCE_C, REFERENCE_N, Tape
from mensura.stems.ellipse import circle
from mensura.views.kit import look
from mensura.views.kit.live import Picture, Still, draw_still
from mensura.written import signed

#: The stem on which all of them are tried.
GIRTH_CM = 125.0

#: Each fault of a typical size: its words, how the band lies, and what it is like.
TYPICAL: dict[str, tuple[Lay, Tape]] = {
    "steel band 20 °C warmer": (Lay(), Tape(material="steel", temperature_c=REFERENCE_C + 20)),
    "steel pulled with 40 N too much": (
        Lay(),
        Tape(pull_n=REFERENCE_N + 40, stiffness_n=MATERIALS["steel"].stiffness_n),
    ),
    "band 0.3 mm thick": (Lay(), Tape(thickness_cm=0.03)),
    "fibreglass 20 °C warmer": (
        Lay(),
        Tape(material="fibreglass", temperature_c=REFERENCE_C + 20),
    ),
    "ends miss each other by 7 cm": (Lay(overlap_offset_cm=7.0), Tape()),
    "tilt of 5°": (Lay(tilt_deg=5.0), Tape()),
    "knot 1 cm high": (Lay(knot_cm=1.0), Tape()),
    "start worn by 0.5 cm": (Lay(), Tape(worn_start_cm=0.5)),
    "bark pressed in by 1 mm": (Lay(press_cm=0.1), Tape()),
    "tilt of 10°": (Lay(tilt_deg=10.0), Tape()),
    "climber as thick as a thumb, 2 cm": (Lay(climber_cm=2.0), Tape()),
    "band stretched by 1 %": (Lay(), Tape(stretch_percent=1.0)),
    "wander of 5 cm, two waves": (Lay(wander_cm=5.0, wander_waves=2), Tape()),
    "slack of 2 cm": (Lay(slack_cm=2.0), Tape()),
    "tilt of 20°": (Lay(tilt_deg=20.0), Tape()),
}


def typical_sizes_cm() -> dict[str, float]:
    """What each fault of TYPICAL adds to the reading of a round stem, the smallest first, in cm.

    >>> round(typical_sizes_cm()["start worn by 0.5 cm"], 6)
    0.5
    """
    stem = circle(GIRTH_CM / np.pi)
    sizes = {
        words: float(tape.read(stem, lay).reading_cm) - GIRTH_CM
        for words, (lay, tape) in TYPICAL.items()
    }
    return dict(sorted(sizes.items(), key=lambda one: abs(one[1])))


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
