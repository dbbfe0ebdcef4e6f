"""Of which parts a picture consists, so that a narrow or low page can arrange them anew.

A part is a name and the boxes that belong to it: the axes with all that is written round them, and
a key, if it needs one. Boxes are cut out of the whole by straight lines, in shown pixels from the
picture's lower left corner, as everything in a picture is placed; so together they cover it. How a
page arranges them is the page's own business (`parts.js`): here is only said what belongs together.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np

from mensura.checks import MeasureError
from mensura.views.kit.record import Drawn

#: A phone's page has 360 px: of no part's letters may more than a quarter be lost there.
WIDEST_PX = 480


@dataclass(frozen=True)
class Box:
    """A piece of a picture, in shown pixels from the picture's lower left corner.

    left_px, low_px, right_px, high_px: its edges.
    """

    left_px: float
    low_px: float
    right_px: float
    high_px: float

    @property
    def width_px(self) -> float:
        """How wide it is."""
        return self.right_px - self.left_px

    def cut_x(self, *at_px: float, over_px: float = 0.0) -> tuple[Box, ...]:
        """Pieces side by side, from the left.

        at_px: where the box is cut; over_px: by how much each piece reaches over a cut, so that a
        mark that stands there is whole.

        >>> [(one.left_px, one.right_px) for one in Box(0, 0, 90, 10).cut_x(40, over_px=2)]
        [(0, 42), (38, 90)]
        """
        edges = _edges(self.left_px, at_px, self.right_px)
        return tuple(
            Box(
                max(self.left_px, a - over_px),
                self.low_px,
                min(self.right_px, b + over_px),
                self.high_px,
            )
            for a, b in pairwise(edges)
        )

    def cut_y(self, *at_px: float) -> tuple[Box, ...]:
        """Pieces one below the other, from the top.

        at_px: where the box is cut, from the top.

        >>> [(one.low_px, one.high_px) for one in Box(0, 0, 10, 90).cut_y(60, 20)]
        [(60, 90), (20, 60), (0, 20)]
        """
        edges = _edges(-self.high_px, [-at for at in at_px], -self.low_px)
        return tuple(Box(self.left_px, -b, self.right_px, -a) for a, b in pairwise(edges))


def _edges(first: float, between: Sequence[float], last: float) -> list[float]:
    edges = [first, *between, last]
    if any(a >= b for a, b in pairwise(edges)):
        cuts = ", ".join(f"{abs(at):g}" for at in between)
        raise MeasureError("cuts", cuts, "px", "places in order inside the box")
    return edges


@dataclass(frozen=True)
class Part:
    """Something that is looked at by itself.

    name: as a button calls it; boxes: of what it consists, in the order in which they are shown.
    """

    name: str
    boxes: tuple[Box, ...]


def part(name: str, *boxes: Box) -> Part:
    """A part of a picture.

    name: as a button calls it; boxes: of what it consists.
    """
    return Part(name, boxes)


def parts_json(parts: Sequence[Part], height_px: float) -> str:
    """The parts as the page takes them: names, and boxes as left, top, width and height.

    parts: of one picture; height_px: of that picture.

    >>> parts_json([part("stem", Box(0, 10, 40, 100))], 100)
    '[{"name":"stem","boxes":[[0,0,40,90]]}]'
    """
    told = [
        {
            "name": one.name,
            "boxes": [
                [
                    _plain(x)
                    for x in (b.left_px, height_px - b.high_px, b.width_px, b.high_px - b.low_px)
                ]
                for b in one.boxes
            ],
        }
        for one in parts
    ]
    return json.dumps(told, separators=(",", ":"), ensure_ascii=False)


def _plain(length_px: float) -> float:
    return int(length_px) if length_px == int(length_px) else round(float(length_px), 2)


class Moved:
    """Which part a control moves most, as seen from what it changed so far.

    parts: of the picture; height_px: of that picture. A single step of a slider changes little, so
    what was counted for a control is kept: the part does not jump to and fro in a drag.
    """

    #: What comes or goes, or changes its number of points, counts as moved so far, px.
    ANEW_PX = 6.0
    #: However far a point goes, it counts no more, px.
    FARTHEST_PX = 20.0

    def __init__(self, parts: Sequence[Part], height_px: float) -> None:
        self.parts = tuple(parts)
        # edges of each box downwards from the upper edge, as shapes are told
        self._boxes = [
            [(b.left_px, height_px - b.high_px, b.right_px, height_px - b.low_px) for b in p.boxes]
            for p in self.parts
        ]
        self._counts: dict[str, dict[str, float]] = {}

    def by(self, control: str, changed: Mapping[int, tuple[Drawn, Drawn | None]]) -> str:
        """The part that a control moves most; "" while it has moved none.

        control: that has just been moved; changed: how the artists that it moved are and were.
        """
        counts = self._counts.setdefault(control, {one.name: 0.0 for one in self.parts})
        for now, before in changed.values():
            points, moved_px = _moved(now, before)
            for one, boxes in zip(self.parts, self._boxes, strict=True):
                counts[one.name] += sum(_within(points, moved_px, box) for box in boxes)
        return _most(counts)


def _moved(now: Drawn, before: Drawn | None) -> tuple[Any, Any]:
    """Where an artist's points are, in shown pixels, and how far each has moved."""
    points, was = now.places_px(), before.places_px() if before is not None else None
    if was is None or was.shape != points.shape:
        both = points if was is None else np.concatenate([points, was])
        return both, np.full(len(both), Moved.ANEW_PX)
    moved_px = np.hypot(*(points - was).T)
    if not moved_px.any():  # other words in the same place, or another colour
        moved_px = moved_px + Moved.ANEW_PX
    return points, np.minimum(moved_px, Moved.FARTHEST_PX)


def _within(points: Any, weights: Any, box: tuple[float, float, float, float]) -> float:
    left, top, right, low = box
    x, y = points.T
    return float(weights[(x >= left) & (x < right) & (y >= top) & (y < low)].sum())


def _most(counts: Mapping[str, float]) -> str:
    name = max(counts, key=lambda key: counts[key], default="")
    return name if name and counts[name] else ""
