"""Scenes of the problems' pictures in which a band lies flat: alone, or beside a steel rule."""

from __future__ import annotations

import re
from typing import Any

import numpy as np

from mensura.views.kit import look, sketch
from mensura.views.problems.scene_parts import Label, Numbers, Scene


def band(numbers: Numbers) -> Scene:
    """The band of a tape from its start, flat, with its marks.

    numbers: given; a worn start is drawn dashed.
    """
    left, right, low, high = 30.0, 400.0, 70.0, 104.0
    worn = 46.0 if "worn_start_cm" in numbers else 0.0

    def draw(axes: Any) -> None:
        from matplotlib.patches import Rectangle

        axes.add_patch(
            Rectangle((left + worn, low), right - left - worn, high - low, fc=look.BAND_FILL,
                      ec=look.TAPE, lw=1.8)
        )  # fmt: skip
        if worn:
            axes.add_patch(
                Rectangle((left, low), worn, high - low, fc="white", ec=look.TAPE, lw=1.4,
                          ls=(0, (3, 2)))
            )  # fmt: skip
        marks = np.arange(left + worn, right, 8)
        count = np.round((marks - left) / 8).astype(int)
        axes.vlines(marks, low, low + np.where(count % 5, 9, 16), color=look.TRUTH, lw=1)
        if "stretch_percent" in numbers:
            sketch.arrow(axes, (right + 2, low + 17), (right + 26, low + 17))
            sketch.arrow(axes, (left - 2, low + 17), (left - 26, low + 17))
        if any(name.startswith(("girth", "reading")) for name in numbers):
            sketch.measure(axes, (left + worn, low - 16), (right, low - 16), look.TAPE)

    middle = (left + right) / 2
    labels: tuple[Label, ...] = (
        Label(r"girth_(cm|in|mm)|reading_cm", (middle, low - 34), how={"ha": "center"}),
        Label("worn_start_cm", (left + 4, high + 24), None, " ", {"ha": "left"}),
        Label("stretch_percent", (right, high + 24), None, " ", {"ha": "right"}),
        Label("temperature_c", (right, high + 24), None, " ", {"ha": "right"}),
    )
    if {"stretch_percent", "temperature_c"} <= set(numbers):
        labels = labels[:3]
    return Scene(150, draw, labels, "The band of a tape, flat, its start on the left.")


def beside(numbers: Numbers) -> Scene:
    """A tape laid beside a steel rule, with the lengths at which it is read.

    numbers: given; two readings stand at a quarter of the rule and at its end, four at each
    quarter. The tape's marks are drawn further apart than the rule's, its start worn.
    """
    left, right, rule, tape = 30.0, 400.0, 30.0, 74.0
    names = [name for name in numbers if re.fullmatch(r"reading_\d_cm", name)]
    quarters = (1, 4) if len(names) == 2 else range(1, len(names) + 1)
    places = [left + (right - left - 14) * quarter / 4 for quarter in quarters]

    def marks(axes: Any, start: float, pitch: float, foot: float, way: int) -> None:
        at = np.arange(start, right - 1, pitch)
        long = np.where(np.arange(at.size) % 5, 7, 13)
        axes.vlines(at, foot, foot + way * long, color=look.TRUTH, lw=1, zorder=4)

    def draw(axes: Any) -> None:
        from matplotlib.patches import Rectangle

        for low, fill, edge in (
            (rule, look.BEAM_FILL, look.CALIPERS),
            (tape, look.BAND_FILL, look.TAPE),
        ):
            axes.add_patch(
                Rectangle((left, low), right - left, 34, fc=fill, ec=edge, lw=1.8, zorder=2)
            )
        sketch.words(axes, (left, tape + 46), "tape")
        sketch.words(axes, (left, rule - 14), "rule")
        marks(axes, left, 8.9, rule + 34, -1)
        marks(axes, left + 5.0, 9.3, tape, 1)
        for x in places:
            axes.plot([x, x], [rule + 4, tape + 40], color=look.TRUTH, lw=1.4, zorder=5)

    labels = tuple(
        Label(name, (x, 134.0), None, "\n", {"ha": "center"})
        for name, x in zip(names, places, strict=True)
    )
    return Scene(164, draw, labels, "A cloth tape above a steel rule, read at places of the rule.")
