"""Progress over the topics as a picture: each topic a row of stems, one for each kind of problem.

A dashed outline is a stem that nobody has looked at yet. Once it is tried it stands there as wood,
with a tape begun at its bark; taped, the tape lies all the way round and its tab at zero sticks
out. A pointer stands under the one at hand. The count stands beside each topic in words.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from mensura.teaching.problems.standing import TopicProgress
from mensura.views.kit import look, sketch
from mensura.views.kit.live import Picture
from mensura.views.kit.parts import Part, part

#: What a state is called in the key of the picture.
STATES = {"untried": "not tried yet", "tried": "tried", "taped": "taped"}

_ACROSS, _CELL_PX, _HIGH_PX, _KEY_PX = 4, 215.0, 62.0, 36.0
_RADIUS_PX, _PITCH_PX, _LEFT_PX = 8.5, 26.0, 14.0
_TAPE_PX, _TAPE_PT = 1.3, 2.0  # how far a tape lies outside the wood, and its width
_CIRCLE = sketch.arc_px((0, 0), (1.0, 1.0), 0, 360)
_BEGUN = sketch.arc_px((0, 0), (1.0, 1.0), 60, 175)
_TAB = np.array([(0.5, 0.866), (0.72, 1.247)])  # radii; at 60°, where the tape begins


@dataclass(frozen=True)
class Shown:
    """What the picture shows.

    topics: each with its families' states; current: key of the family at hand, "" for none.
    """

    topics: tuple[TopicProgress, ...]
    current: str = ""


class ProgressPicture(Picture[Shown]):
    """Rows of stems, topic by topic.

    topics: which there are, with their families; their states may be any.
    """

    def __init__(self, topics: Sequence[TopicProgress]) -> None:
        super().__init__()
        self.topics = tuple(topics)
        self.rows = -(-len(self.topics) // _ACROSS)
        self.height_px = int(self.rows * _HIGH_PX + _KEY_PX)

    def parts(self) -> tuple[Part, ...]:
        """The topics in two halves, and the key."""
        topics, key = self.whole.cut_y(_KEY_PX - 7)
        left, right = topics.cut_x(_ACROSS // 2 * _CELL_PX)
        keyed = key.cut_x(474)[0]
        return part("first topics", left, keyed), part("last topics", right, keyed)

    def corner_px(self, index: int) -> tuple[float, float]:
        """Where a topic's cell begins: its left and its top.

        index: of the topic, from 0.
        """
        row, column = divmod(index, _ACROSS)
        return column * _CELL_PX, self.height_px - row * _HIGH_PX

    def places_px(self) -> Any:
        """Middles and radii of all stems, topic by topic, shape (n, 3); many are drawn smaller."""
        found = []
        for index, topic in enumerate(self.topics):
            left, top = self.corner_px(index)
            pitch = min(_PITCH_PX, (_CELL_PX - 2 * _LEFT_PX) / max(1, len(topic.families)))
            radius = min(_RADIUS_PX, pitch / 2 - 1.3 - _TAPE_PX)
            for k in range(len(topic.families)):
                found.append((left + _LEFT_PX + radius + k * pitch, top - 40.0, radius))
        return np.array(found, dtype=float).reshape(-1, 3)

    def draw(self, figure: Any) -> None:
        """Names, empty rings and the key on `figure`; what fills the rings moves."""
        from matplotlib.collections import LineCollection, PolyCollection

        axes = look.place(figure, 0, 0, self.width_px, self.height_px)
        axes.set(xlim=(0, self.width_px), ylim=(0, self.height_px))
        axes.axis("off")
        self.counts = []
        for index, topic in enumerate(self.topics):
            left, top = self.corner_px(index)
            sketch.words(axes, (left + _LEFT_PX, top - 19), topic.topic, va="baseline")
            end = left + _CELL_PX - _LEFT_PX
            self.counts.append(axes.text(end, top - 19, "", ha="right", va="baseline"))
        self._places = self.places_px()
        self._rings(axes, self._places)
        self._key(axes)
        self.wood: Any = PolyCollection([], fc=look.WOOD, ec=look.BARK, lw=1.0, zorder=3)
        self.tapes: Any = LineCollection([], colors=look.TAPE, lw=_TAPE_PT, zorder=4)
        for artist in (self.wood, self.tapes):
            axes.add_collection(artist, autolim=False)
        (self.here,) = axes.plot([], [], ls="", marker="^", ms=8, color=look.TRUTH, zorder=5)
        self.moving = [self.wood, self.tapes, self.here, *self.counts]

    @staticmethod
    def _rings(axes: Any, places_px: Any) -> None:
        """Dashed rings, all of them one artist: a patch each took longer than all the rest."""
        from matplotlib.collections import PolyCollection

        edges = [_CIRCLE * radius + (x, y) for x, y, radius in places_px]
        rings = PolyCollection(edges, fc="white", ec=look.QUIET, lw=1.0, ls=(0, (3, 2)), zorder=1)
        axes.add_collection(rings, autolim=False)

    def _key(self, axes: Any) -> None:
        axes.plot([12, self.width_px - 12], [_KEY_PX - 4] * 2, color=look.GRID, lw=1)
        for (state, words), left in zip(STATES.items(), (24.0, 182.0, 274.0), strict=True):
            place = (left, 13.0)
            self._rings(axes, [(*place, _RADIUS_PX)])
            if state != "untried":
                sketch.disc(axes, place, _RADIUS_PX, lw=1.0)
            for line in _tape(state, *place, _RADIUS_PX):
                sketch.band(axes, line, lw=_TAPE_PT)
            sketch.words(axes, (left + 16, 9), words, va="baseline")
        axes.plot(404, 14, marker="^", ms=8, color=look.TRUTH)
        sketch.words(axes, (416, 9), "at hand", va="baseline")

    def show(self, numbers: Shown) -> None:
        """Fill rings, set counts and the pointer.

        numbers: the same topics as at the start, with their states.
        """
        states = [state for topic in numbers.topics for state in topic.states]
        keys = [key for topic in numbers.topics for key in topic.families]
        stems = list(zip(states, self._places, strict=True))
        self.wood.set_verts([_CIRCLE * r + (x, y) for state, (x, y, r) in stems if state in _TAPES])
        self.tapes.set_segments([line for state, stem in stems for line in _tape(state, *stem)])
        here = self._places[[key == numbers.current for key in keys]]
        self.here.set_data(here[:, 0], here[:, 1] - _RADIUS_PX - 9)
        for text, topic in zip(self.counts, numbers.topics, strict=True):
            text.set_text(topic.words)

    def describe(self, numbers: Shown) -> str:
        """Each topic with its counts.

        numbers: what is shown.
        """
        told = []
        for topic in numbers.topics:
            tried = topic.states.count("tried")
            also = f", {tried} more tried" if tried else ""
            told.append(f"{topic.topic} {topic.words}{also}")
        return f"Kinds of problems taped, by topic: {'; '.join(told)}."


#: The lines of a tape, in radii: begun, and all the way round with its tab.
_TAPES = {"tried": (_BEGUN,), "taped": (_CIRCLE, _TAB)}


def _tape(state: str, x: float, y: float, radius: float) -> list[Any]:
    """The lines of the tape round one stem, in shown pixels; none in a state that has none."""
    return [line * (radius + _TAPE_PX) + (x, y) for line in _TAPES.get(state, ())]
