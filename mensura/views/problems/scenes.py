"""Scenes of the problems' pictures: a stem and an instrument, and where a number may stand in them.

Angles, the ratio of two axes, the taper of a log and the count of stems follow the given numbers;
sizes are not to scale. What is in no given number is drawn as for any stem.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import numpy as np

from mensura.views.kit import look, sketch
from mensura.views.kit.sketch import Place
from mensura.views.problems.flat_scenes import band, beside
from mensura.views.problems.scene_parts import (
    COLUMN_PX,
    WIDTH_PX,
    Label,
    Numbers,
    Scene,
    beam,
    on_circle,
    present,
    rectangle,
    rings,
    tape_round,
)
from mensura.views.problems.standing_scenes import fork, legs, standing

# ---- from above ----------------------------------------------------------------------------------


def girth(numbers: Numbers) -> Scene:
    """A round stem with a tape round it.

    numbers: given; a diameter is drawn only if it is one of them.
    """
    middle, radius = (134.0, 115.0), 92.0
    across = [name for name in ("diameter_cm", "diameter_in") if name in numbers]

    def draw(axes: Any) -> None:
        rings(axes, middle, radius)
        tape_round(axes, middle, (radius + 2, radius + 2))
        if across:
            x, y = middle
            sketch.measure(axes, (x - radius, y), (x + radius, y), look.CALIPERS)

    labels = (
        *present(
            numbers,
            [
                (r"girth_(cm|in|mm)|reading_cm", on_circle(middle, radius + 2, 30)),
                ("growth_cm", None),
                ("area_cm2", (middle[0] + 40, middle[1] - 30)),
            ],
        ),
        Label(r"diameter_(cm|in)", (middle[0], middle[1] + 14), how={"ha": "center"}),
    )
    return Scene(230, draw, labels, "A round section from above with a tape round it.")


def _ratio(numbers: Numbers) -> float:
    """Shorter over longer axis, as given; 3 : 4 if it is not."""
    for long, short in (
        ("first_diameter_cm", "second_diameter_cm"),
        ("half_axis_a_cm", "half_axis_b_cm"),
        ("first_reading_cm", "second_reading_cm"),
    ):
        if long in numbers and short in numbers:
            ratio = numbers[short] / numbers[long]
            return float(np.clip(min(ratio, 1 / ratio), 0.45, 0.97))
    return 0.75


def oval(numbers: Numbers) -> Scene:
    """An oval stem with a tape round it and its two axes measured.

    numbers: given; the ratio of the axes follows them.
    """
    x, y, a = 136.0, 136.0, 112.0
    b = 88.0
    a = min(a, b / _ratio(numbers))
    b = a * _ratio(numbers)
    half = any(name.startswith("half_axis") for name in numbers)
    low, right = y - b - 20, x + a + 22

    def draw(axes: Any) -> None:
        edge = sketch.arc_px((x, y), (a, b), 0, 360)
        sketch.wood(axes, edge)
        tape_round(axes, (x, y), (a + 2, b + 2))
        if {"first_diameter_cm", "first_reading_cm", "half_axis_a_cm"} & set(numbers):
            start = x if half else x - a
            for at in (start, x + a):
                axes.plot([at, at], [low - 5, y], color=look.QUIET, lw=0.8, ls=(0, (3, 2)))
            sketch.measure(axes, (start, low), (x + a, low), look.CALIPERS)
        if {"second_diameter_cm", "second_reading_cm", "half_axis_b_cm"} & set(numbers):
            start = y if half else y - b
            for at in (start, y + b):
                axes.plot([x, right + 5], [at, at], color=look.QUIET, lw=0.8, ls=(0, (3, 2)))
            sketch.measure(axes, (right, start), (right, y + b), look.CALIPERS)

    along = (x + a / 2) if half else x
    up = (y + b / 2) if half else y
    labels = (
        Label("first_diameter_cm|first_reading_cm|half_axis_a_cm", (max(along, 110.0), low - 16),
              how={"ha": "center"}),
        Label("second_diameter_cm|second_reading_cm|half_axis_b_cm", (right + 10, up), None, "\n"),
        Label("girth_cm", (x + a - 4, 214), (x + a * 0.55, y + b * 0.85)),
    )  # fmt: skip
    return Scene(230, draw, labels, "An oval section from above, a tape round it, its axes marked.")


def turned(numbers: Numbers) -> Scene:
    """An oval stem between the jaws of calipers that stand off its axes.

    numbers: given; ratio and turn follow them.
    """
    x, y, a = 140.0, 128.0, 88.0
    b = a * _ratio(numbers)
    turn_deg = float(numbers.get("turn_deg", 30.0))
    turn = np.radians(turn_deg)
    reach = float(np.hypot(a * np.cos(turn), b * np.sin(turn)))

    def draw(axes: Any) -> None:
        rotation = np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
        sketch.wood(axes, sketch.arc_px((0, 0), (a, b), 0, 360) @ rotation + (x, y))
        base = y - float(np.hypot(a * np.sin(turn), b * np.cos(turn))) - 4
        beam(axes, (x - reach, base), 2 * reach + 40)
        for side in (-1, 1):
            at = x + side * (reach + 4)
            sketch.bar(axes, (at, base - 16), (at, y + 46))
        axis = (a + 24) * np.array([np.cos(turn), np.sin(turn)])
        axes.plot(
            [x - axis[0], x + axis[0]], [y - axis[1], y + axis[1]], color=look.TRUTH, lw=1.2,
            ls=(0, (8, 4)), zorder=5,
        )  # fmt: skip
        axes.plot([x, x + reach], [y, y], color=look.CALIPERS, lw=1.2, zorder=5)
        arc = sketch.arc_px((x, y), (44, 44), 0, turn_deg)
        axes.plot(arc[:, 0], arc[:, 1], color=look.TRUTH, lw=1.4, zorder=6)

    labels = (
        Label("turn_deg", (COLUMN_PX, 128), on_circle((x, y), 44, turn_deg / 2), "\n"),
        Label("jaw_lean_deg", (COLUMN_PX, 70), None, "\n"),
    )
    says = "An oval section from above between the jaws of calipers, its long axis dashed."
    return Scene(230, draw, labels, says)


def bark(numbers: Numbers) -> Scene:
    """A section whose bark is drawn, with a tape round it.

    numbers: given; the bark is drawn thick enough to be seen.
    """
    middle, outer, inner = (134.0, 115.0), 94.0, 78.0

    def draw(axes: Any) -> None:
        sketch.disc(axes, middle, outer, fc=look.BARK_FILL)
        rings(axes, middle, inner)
        tape_round(axes, middle, (outer + 2, outer + 2))
        if "bark_cm" in numbers:
            start, end = (on_circle(middle, radius, -8) for radius in (inner, outer))
            axes.plot(*zip(start, end, strict=True), color=look.TRUTH, lw=2, zorder=6)

    labels = present(
        numbers,
        [
            (r"girth_(cm|in|mm)|reading_cm", on_circle(middle, outer + 2, 30)),
            ("diameter_cm", None),
            ("bark_cm", on_circle(middle, (inner + outer) / 2, -8)),
            ("bark_factor", None),
        ],
    )
    says = "A section from above: wood, a ring of bark round it, and a tape on the bark."
    return Scene(230, draw, labels, says)


# ---- standing, lying ----------------------------------------------------------------------------


def lay(numbers: Numbers) -> Scene:
    """A standing stem with a tape round it, as it lies.

    numbers: given; a tilt is drawn at its angle, a climber and ends that miss where given.
    """
    x, y, half = 124.0, 112.0, 66.0
    tilt = float(np.tan(np.radians(numbers.get("tilt_deg", 0.0))))
    high = 34.0 if "height_off_m" in numbers else 0.0
    miss = 17.0 if "overlap_offset_cm" in numbers else 0.0

    def at(side: float) -> float:
        return y + high + half * side * tilt

    def draw(axes: Any) -> None:
        axes.add_patch(rectangle((0, 0), (248, 14), look.GROUND))
        sketch.wood(axes, sketch.trunk_px(x, half, (14, 14), 214))
        axes.plot([x - half - 40, x + half + 44], [y, y], color=look.QUIET, lw=1, ls=(0, (8, 4)))
        if "climber_cm" in numbers:
            up = np.linspace(14, 214, 120)
            way = x + 42 + 3 * np.sin(up / 18)
            axes.fill_betweenx(up, way - 8, way + 8, fc="white", ec=look.BARK, lw=1.6, zorder=3)
        across = np.linspace(-half - 2, half + 2, 60)
        path = np.column_stack([x + across, y + high + tilt * across])
        slope = path - (0, 5)
        sag = 12 * np.cos(np.pi * across / (2 * half + 4)) ** 2 if "slack_cm" in numbers else 0
        slope[:, 1] = slope[:, 1] - sag
        slope[:, 1] += miss * (across > 0)
        for part in (slope[:30], slope[30:]) if miss else (slope,):
            sketch.band(axes, part, lw=8)

    labels = present(
        numbers,
        [
            ("height_off_m", (x + half - 12, at(0.82))),
            ("climber_cm", (x + 48, 172)),
            ("tilt_deg", (x + half + 2, at(1.0))),
            ("overlap_offset_cm", (x + 2, y + 6)),
            ("slack_cm", (x + 22, at(0.3) - 14)),
            (r"girth_cm|reading_cm", (x + half - 6, at(0.9) - 5 + miss)),
            (r"(?!height_off|climber|tilt|overlap|slack|girth|reading).*_deg", None),
        ],
    )
    return Scene(230, draw, labels, "A standing stem from the side with a tape round it.")


def log(numbers: Numbers) -> Scene:
    """A log that lies, with its ends and its middle.

    numbers: given; the taper follows the sizes of its ends.
    """
    left, right, y, thick = 50.0, 380.0, 118.0, 46.0
    thin = 0.72 * thick
    for wide, narrow in (
        ("butt_diameter_cm", "top_diameter_cm"),
        ("butt_girth_cm", "top_girth_cm"),
    ):
        if wide in numbers and narrow in numbers:
            ratio = numbers[narrow] / numbers[wide]
            thin = thick * float(np.clip(min(ratio, 1 / ratio), 0.35, 1.0))
    mid = (thick + thin) / 2
    centre = (left + right) / 2
    middles = [name for name in numbers if name.startswith("mid_")]

    def draw(axes: Any) -> None:
        from matplotlib.patches import Ellipse

        edge = [(left, y - thick), (right, y - thin), (right, y + thin), (left, y + thick)]
        sketch.wood(axes, edge)
        axes.add_patch(
            Ellipse((right, y), 0.5 * thin, 2 * thin, fc=look.WOOD, ec=look.BARK, lw=1.6)
        )
        for size in (0.35, 0.68):
            axes.add_patch(
                Ellipse((right, y), 0.5 * thin * size, 2 * thin * size, fc="none", ec=look.RING)
            )
        for at, size in ((left, thick), (centre, mid)):
            if at == left or middles:
                line = sketch.arc_px((at, y), (0.25 * size, size), 90, 270)
                colour = look.BARK if at == left else look.TAPE
                axes.fill(*line.T, fc=look.WOOD, lw=0) if at == left else None
                axes.plot(*line.T, color=colour, lw=1.6 if at == left else 3)
        if {"log_length_m", "log_length_ft", "tree_height_m"} & set(numbers):
            sketch.measure(axes, (left, y - thick - 20), (right, y - thick - 20))

    ends = {"va": "bottom", "ha": "left"}
    top = y + thick + 10
    labels = (
        Label("butt_(diameter|girth)_cm", (12, top), None, "\n", ends),
        Label("mid_(girth|diameter)_(cm|in)", (centre, top), None, "\n", {**ends, "ha": "center"}),
        Label(
            "top_(diameter|girth)_cm", (WIDTH_PX - 10.0, top), None, "\n", {**ends, "ha": "right"}
        ),
        Label("log_length_(m|ft)|tree_height_m", (centre, y - thick - 38), how={"ha": "center"}),
    )
    return Scene(238, draw, labels, "A log lying on its side, the thick end on the left.")


# ---- instruments ---------------------------------------------------------------------------------


def jaws(numbers: Numbers) -> Scene:
    """Calipers on a round stem, from above.

    numbers: given; the sliding jaw leans as it is given, at least enough to be seen.
    """
    x, y, radius = 128.0, 122.0, 68.0
    jaw_lean_deg = float(numbers.get("jaw_lean_deg", 0.0))
    if jaw_lean_deg:
        jaw_lean_deg = float(np.copysign(max(abs(jaw_lean_deg), 4.0), jaw_lean_deg))
    lean = np.radians(jaw_lean_deg)
    base = y - radius - 4
    foot = x + radius / np.cos(lean) + 4 - (y - base) * np.tan(lean)

    def draw(axes: Any) -> None:
        rings(axes, (x, y), radius)
        beam(axes, (x - radius, base), 2 * radius + 46)
        sketch.bar(axes, (x - radius - 4, base - 16), (x - radius - 4, y + 58))
        long = y + 58 - base
        start = (foot - 16 * np.tan(lean), base - 16)
        sketch.bar(axes, start, (float(foot + long * np.tan(lean)), y + 58))

    labels = present(
        numbers,
        [
            ("jaw_lean_deg", (float(foot + 110 * np.tan(lean)), base + 110)),
            ("contact_cm", None),
            (r"reading_cm|first_reading_cm", (x + radius + 6, base - 7)),
            ("zero_error_cm", None),
        ],
    )
    labels += (Label("diameter_cm|first_diameter_cm", (x, y), None, "\n", {"ha": "center"}),)
    return Scene(224, draw, labels, "Calipers on a round section from above, the beam below it.")


# ---- many ----------------------------------------------------------------------------------------


def plot(numbers: Numbers) -> Scene:
    """A round plot from above with stems in it.

    numbers: given; as many stems as are counted or listed, up to 60, else as on any plot.
    """
    middle, radius = (134.0, 115.0), 98.0
    named = sum(bool(re.fullmatch(r"(girth|diameter)_\d_cm", name)) for name in numbers)
    count = int(np.clip(numbers.get("stem_count", named or 13), 1, 60))

    def draw(axes: Any) -> None:
        sketch.disc(axes, middle, radius, fc=look.GROUND, ec=look.QUIET, ls=(0, (6, 3)))
        turn = np.arange(count) * 2.39996  # the golden angle: spread evenly, in no rows
        away = (radius - 14) * np.sqrt((np.arange(count) + 0.6) / count)
        for k, (angle, far) in enumerate(zip(turn, away, strict=True)):
            size = (6, 8, 5, 7)[k % 4] * (1.0 if count <= 25 else 0.7)
            place = (middle[0] + far * np.cos(angle), middle[1] + far * np.sin(angle))
            sketch.disc(axes, place, size)
        if "plot_radius_m" in numbers:
            sketch.measure(axes, middle, on_circle(middle, radius, 30))

    labels = present(
        numbers,
        [
            ("plot_radius_m", on_circle(middle, radius * 0.8, 30)),
            ("plot_area_m2", (middle[0] + radius * 0.92, middle[1])),
            ("stem_count", (middle[0] + 60, middle[1] - 40)),
            ("slope_deg", None),
        ],
    )
    return Scene(230, draw, labels, "A round plot from above with stems in it.")


def readings(numbers: Numbers) -> Scene:
    """Several stems, or several readings on slips of paper.

    numbers: given; those that are called girth_1_cm, reading_1_cm and the like.
    """
    names = [name for name in numbers if re.fullmatch(r"[a-z]+_\d_cm", name)]
    slips = all(name.startswith("reading") for name in names)
    across = 4 if len(names) in (4, 7, 8) else min(3, max(1, len(names)))
    rows = -(-len(names) // across)
    pitch, step = 404.0 / across, 66 if slips else 96
    high = step * rows + 8 * bool(rows)
    down = 36.0 if slips else 76.0

    def place(k: int) -> Place:
        return 13 + pitch * (k % across + 0.5), high - step * (k // across) - down

    def draw(axes: Any) -> None:
        from matplotlib.patches import Rectangle

        for k in range(len(names)):
            x, y = place(k)
            if slips:
                card = Rectangle((x - 48, y - 26), 96, 52, fc="white", ec=look.QUIET, lw=1.2)
                axes.add_patch(card)
            else:
                rings(axes, (x, y + 46), 24)

    labels = tuple(
        Label(name, place(k), None, "\n", {"ha": "center"}) for k, name in enumerate(names)
    )
    says = "Readings, each on a slip of paper." if slips else "Several sections from above."
    return Scene(high, draw, labels, says)


def numbers_alone(numbers: Numbers) -> Scene:
    """Nothing but the numbers.

    numbers: given; all stand as lines.
    """
    return Scene(0, lambda _: None, (), "A list of what is given.")


#: Kind of a family's picture → its scene.
SCENES: dict[str, Callable[[Numbers], Scene]] = {
    "girth": girth,
    "oval": oval,
    "turned": turned,
    "lay": lay,
    "standing": standing,
    "legs": legs,
    "fork": fork,
    "bark": bark,
    "band": band,
    "beside": beside,
    "jaws": jaws,
    "log": log,
    "plot": plot,
    "readings": readings,
    "numbers": numbers_alone,
}
