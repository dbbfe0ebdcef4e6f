"""Scenes of the problems' pictures with a stem in its ground, and with two legs from above.

Slope, lean and the gap between two legs follow the given numbers; sizes are not to scale.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.checks import FloatArray
from mensura.views.kit import look, sketch
from mensura.views.kit.sketch import Place
from mensura.views.problems.scene_parts import (
    Numbers,
    Scene,
    column,
    on_circle,
    present,
    rings,
)

_HALF, _TAPE, _FOOT = 38.0, 84.0, 66.0
_RIGHT = 248.0


def standing(numbers: Numbers) -> Scene:
    """A stem in its ground from the side, with a tape round it.

    numbers: given; slope and lean at their angles, a swelling and buttresses where there are some.
    """
    lean, slope = (np.radians(numbers.get(name, 0.0)) for name in ("lean_deg", "slope_deg"))
    calipers = "first_reading_cm" in numbers
    if calipers:
        lean = np.arccos(np.clip(numbers["second_reading_cm"] / numbers["first_reading_cm"], 0, 1))
    elif "allowed_cm" in numbers:
        lean = np.radians(14.0)
    level = calipers or "allowed_cm" in numbers
    foot = np.array([84.0 if lean > 0.3 else 106.0 if lean else 124.0, _FOOT if slope else 34.0])
    along, across = np.array([np.sin(lean), np.cos(lean)]), np.array([np.cos(lean), -np.sin(lean)])
    swollen, buttressed = "on_girth_cm" in numbers, "buttress_top_m" in numbers
    tape = 150.0 if buttressed else _TAPE
    lowered = _HALF * 2 * np.tan(slope) if "taper_cm_per_m" in numbers and slope else 0.0

    def half(up: Any) -> Any:
        wide = _HALF + 0 * up
        if swollen:
            wide = wide + 14 * np.cos(np.pi / 2 * np.clip((up - _TAPE) / 34, -1, 1)) ** 2
        if buttressed:
            wide = 30 + 52 * np.clip(1 - up / 118, 0, 1) ** 2
        return wide

    def at(up: float, side: float) -> Place:
        """A place so far up the stem, −1 at its left edge and 1 at its right."""
        x, y = foot + up * along + side * half(np.float64(up)) * across
        return float(x), float(y)

    def path(up: float) -> FloatArray:
        left, right = np.array(at(up, -1)), np.array(at(up, 1))
        if level:
            middle = foot + up * along
            reach = half(np.float64(up)) / np.cos(lean)
            aside = np.array([reach, 0.0])
            left, right = middle - aside, middle + aside
        return np.array([left, right])

    def draw(axes: Any) -> None:
        up = np.linspace(-60, (214 - foot[1]) / np.cos(lean), 90)
        middle, wide = foot + np.outer(up, along), np.outer(half(up), across)
        edge = np.concatenate([middle + wide, (middle - wide)[::-1]])
        edge[:, 1] = np.maximum(edge[:, 1], 2.0)  # the rest is in the ground
        sketch.wood(axes, edge)
        x = np.linspace(0, _RIGHT, 60)
        ground = np.maximum(foot[1] - (x - foot[0]) * np.tan(slope), 0)
        axes.fill_between(x, 0, ground, fc=look.GROUND, lw=0, zorder=3)
        if lean:
            axes.plot([foot[0]] * 2, [foot[1], 208], color=look.QUIET, lw=1, ls=(0, (8, 4)),
                      zorder=3)  # fmt: skip
            arc = sketch.arc_px(tuple(foot), (136, 136), 90 - np.degrees(lean), 90)
            axes.plot(*arc.T, color=look.TRUTH, lw=1.4, zorder=6)
        if lowered or level:
            ends = np.array([at(tape, -1), at(tape, 1)]) if level else path(tape)
            axes.plot(*ends.T, color=look.QUIET, lw=1.4, ls=(0, (4, 3)), zorder=5)
        if "rule_height_m" in numbers:
            x, y = foot + tape * along
            axes.plot([x, x], [foot[1], y], color=look.TRUTH, lw=2, zorder=6)
        if calipers:
            (x1, y), (x2, _) = path(tape)
            sketch.bar(axes, (x1 - 12, y), (x2 + 12, y))
        else:
            sketch.band(axes, path(tape - lowered), lw=8)

    right = at(tape - lowered, 0.9)
    labels = present(
        numbers,
        [
            ("lean_deg", on_circle(tuple(foot), 136, 90 - float(np.degrees(lean)) / 2)),
            ("above_girth_cm", at(_TAPE + 46, 0.95)),
            ("on_girth_cm|laid_at_m|girth_cm", right),
            ("first_reading_cm", right),
            ("second_reading_cm", None),
            ("below_girth_cm", at(_TAPE - 40, 0.95)),
            ("buttress_top_m", at(118, 0.95)),
            ("rule_height_m", (float(foot[0] + tape * along[0]), float(foot[1] + 30))),
            ("diameter_cm", at(118, 0.9)),
            ("slope_deg", (foot[0] + 62, float(max(foot[1] - 62 * np.tan(slope), 2)))),
        ],
    )
    says = "A stem in its ground from the side, a tape round it."
    if calipers:
        says = "A leaning stem from the side, level calipers on it."
    return Scene(230, draw, labels, says)


def legs(numbers: Numbers) -> Scene:
    """The two legs of a fork from above, and one tape round both.

    numbers: given; the gap follows them.
    """
    x, y, radius = 124.0, 75.0, 46.0
    gap = 2 * radius * numbers["leg_gap_cm"] / numbers["leg_diameter_cm"]
    radius, gap = (part * 92 / (2 * radius + gap / 2) for part in (radius, gap))
    off = radius + gap / 2

    def draw(axes: Any) -> None:
        for side in (-1, 1):
            rings(axes, (x + side * off, y), radius)
        r = radius + 2
        left = sketch.arc_px((x - off, y), (r, r), 90, 270)
        right = sketch.arc_px((x + off, y), (r, r), -90, 90)
        sketch.band(axes, np.concatenate([left, right, left[:1]]))
        sketch.measure(axes, (x - gap / 2, y - 4), (x + gap / 2, y - 4))
        sketch.measure(axes, (x + gap / 2, y + 8), (x + off + radius, y + 8), look.CALIPERS)

    labels = column(
        98, ("leg_diameter_cm", (x + off + radius * 0.6, y + 8)), ("leg_gap_cm", (x, y - 4))
    )
    return Scene(150, draw, labels, "Two round legs from above, one tape round both.")


def fork(numbers: Numbers) -> Scene:
    """A stem that forks below breast height, a tape below the fork and one on each leg.

    numbers: given; all three girths have their places.
    """
    x, crotch = 124.0, (124.0, 106.0)
    outer_left = [(x - 42, 90.0), (x - 80, 214.0)]
    inner_left = [crotch, (x - 33, 218.0)]
    inner_right = [crotch, (x + 32, 216.0)]
    outer_right = [(x + 42, 90.0), (x + 72, 212.0)]

    def on(edge: list[Place], share: float) -> Place:
        """A place on a leg's edge: 0 at the fork, 1 at the cut."""
        (x1, y1), (x2, y2) = edge
        return x1 + share * (x2 - x1), y1 + share * (y2 - y1)

    first = [on(outer_left, 0.48), on(inner_left, 0.55)]
    second = [on(inner_right, 0.52), on(outer_right, 0.49)]

    def draw(axes: Any) -> None:
        feet = (x - 42, 2.0), (x + 42, 2.0)
        sketch.wood(axes, [feet[0], *outer_left, *inner_left[::-1], *inner_right,
                           *outer_right[::-1], feet[1]])  # fmt: skip
        axes.fill_between([0, _RIGHT], 0, [34, 34], fc=look.GROUND, lw=0, zorder=3)
        for ends in (first, second, [(x - 43, 66), (x + 43, 66)]):
            sketch.band(axes, ends, lw=8)

    labels = present(
        numbers,
        [
            ("girth_1_cm", on(first, 0.8)),
            ("girth_2_cm", on(second, 0.8)),
            ("below_fork_cm", (x + 36, 66)),
        ],
    )
    says = "A stem that forks, from the side: a tape below the fork and one round each leg."
    return Scene(230, draw, labels, says)
