"""What the scenes of the problems' pictures are made of: places for numbers, wood, tape, beam.

A scene is drawn in shown pixels from its lower left corner, and says which names of the vocabulary
have a place in it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from mensura.views.kit import look, sketch
from mensura.views.kit.sketch import Place

Numbers = Mapping[str, float]

#: Column of the labels beside a stem, and how far apart they stand.
COLUMN_PX, _STEP_PX = 262.0, 46.0

#: Width of every picture.
WIDTH_PX = 430


@dataclass(frozen=True)
class Label:
    """A place for a number.

    names: expression for the names that may stand there; place_px: where; to_px: what it points at,
    or None; between: what parts words and number; how: as Matplotlib's text takes it.
    """

    names: str
    place_px: Place
    to_px: Place | None = None
    between: str = " "
    how: Any = None

    def draw(self, axes: Any, text: str) -> None:
        """The words with their pointer.

        axes: of a sketch; text: words and number.
        """
        sketch.words(axes, self.place_px, text, zorder=8, **(self.how or {}))
        if self.to_px:
            x, y = self.place_px
            sketch.pointer(axes, (x - 6, y), self.to_px)


@dataclass(frozen=True)
class Scene:
    """A drawing with places for numbers.

    height_px: as shown; draw: draws on axes in shown pixels; labels: the places, the first that
    fits a name takes it; says: the drawing in words.
    """

    height_px: int
    draw: Callable[[Any], None]
    labels: tuple[Label, ...]
    says: str


def column(top_px: float, *parts: tuple[str, Place | None]) -> tuple[Label, ...]:
    """Labels one under the other, right of a stem.

    top_px: height of the first; parts: names and what each points at.
    """
    return tuple(
        Label(names, (COLUMN_PX, top_px - _STEP_PX * row), to, "\n")
        for row, (names, to) in enumerate(parts)
    )


def present(numbers: Numbers, parts: list[tuple[str, Place | None]]) -> tuple[Label, ...]:
    """A column of those parts only that have their number.

    numbers: given; parts: names and what each points at, from the top.
    """
    found = [part for part in parts if any(re.fullmatch(part[0], name) for name in numbers)]
    top = 115 + _STEP_PX * (len(found) - 1) / 2
    return column(top, *found)


def on_circle(middle_px: Place, radius_px: float, turn_deg: float) -> Place:
    """A point of a circle.

    middle_px, radius_px: of the circle; turn_deg: anticlockwise from the right.

    >>> [round(one, 6) for one in on_circle((10, 20), 5, 90)]
    [10.0, 25.0]
    """
    turn = np.radians(turn_deg)
    return (
        float(middle_px[0] + radius_px * np.cos(turn)),
        float(middle_px[1] + radius_px * np.sin(turn)),
    )


def rings(axes: Any, middle_px: Place, radius_px: float) -> None:
    """A sawn section: wood with a few rings, so that it is seen to be one.

    axes: of a sketch; middle_px, radius_px: where and how large.
    """
    sketch.disc(axes, middle_px, radius_px)
    for share in (0.12, 0.34, 0.56, 0.78):
        sketch.disc(axes, middle_px, radius_px * share, fc="none", ec=look.RING, lw=1)


def tape_round(axes: Any, middle_px: Place, radii_px: Place, turn_deg: float = 0) -> None:
    """A tape from above, with its tab where it starts.

    axes: of a sketch; middle_px: its middle; radii_px: across and upwards; turn_deg: how far the
    loop is turned, anticlockwise.
    """
    loop = sketch.arc_px((0, 0), radii_px, -90, 270)
    turn = np.radians(turn_deg)
    loop = loop @ np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
    loop = loop + np.asarray(middle_px)
    sketch.band(axes, loop)
    x, y = loop[0]
    sketch.band(axes, [(x, y + 5), (x, y - 10)])


def beam(axes: Any, start_px: Place, length_px: float) -> None:
    """A beam with its scale.

    axes: of a sketch; start_px: where the fixed jaw's face meets it; length_px: from there.
    """
    from matplotlib.patches import Rectangle

    x, y = start_px
    axes.add_patch(
        Rectangle((x - 14, y - 14), length_px + 14, 14, fc=look.BEAM_FILL, ec=look.CALIPERS,
                  lw=1.6, zorder=2)
    )  # fmt: skip
    marks = np.arange(x, x + length_px - 2, 8)
    long = np.where(np.arange(marks.size) % 5, 5, 9)
    axes.vlines(marks, y - 14, y - 14 + long, color=look.TRUTH, lw=1, zorder=3)


def rectangle(corner_px: Place, size_px: Place, colour: str) -> Any:
    """A filled patch without an edge.

    corner_px: lower left; size_px: width and height; colour: of the fill.
    """
    from matplotlib.patches import Rectangle

    return Rectangle(corner_px, *size_px, fc=colour, lw=0)
