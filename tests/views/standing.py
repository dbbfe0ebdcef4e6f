"""Which ink stands on which in a picture as recorded: what a colour must be told from.

A record is gone through in its order, on two sheets of inks' numbers that Matplotlib's own renderer
draws without soft edges: one holds what is filled, one the lines on it. Before something is drawn
it is asked what lies under it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from matplotlib.backends.backend_agg import RendererAgg
from matplotlib.font_manager import FontProperties
from matplotlib.path import Path
from matplotlib.transforms import Affine2D, Bbox

from mensura.views.kit.look import INKS, SHOWN_DPI
from mensura.views.kit.record import (
    CLOSED,
    CODED,
    MARKS,
    OPEN,
    PATH,
    PER_PX,
    STILL,
    TEXT,
    Record,
    unpacked,
)

NAMES = tuple(INKS)
NONE = 255
#: A fill narrower than this is a line: nothing stands on it.
NARROW_PX = 5.0
#: Of what is drawn at once, less than this share on another ground is a crossing.
CROSSING = 0.05
#: A line parts two fills if it is so near to where they meet.
NEAR_PX = 2


@dataclass
class Standing:
    """What stands on what, and in how many dots.

    texts: (ink, ground); things: (inks of one thing, its line's and its fill's; ground), for lines
    and marks; beside: (fill, fill, line that parts them or ""); solid: inks of undashed lines.
    """

    texts: Counter[tuple[str, str]] = field(default_factory=Counter)
    things: Counter[tuple[tuple[str, ...], str]] = field(default_factory=Counter)
    beside: Counter[tuple[str, str, str]] = field(default_factory=Counter)
    solid: set[str] = field(default_factory=set)

    def add(self, other: Standing) -> None:
        """Take in what another picture has; other: what was found there."""
        self.texts += other.texts
        self.things += other.things
        self.beside += other.beside
        self.solid |= other.solid


class Sheets:
    """The two sheets of one picture, a dot for each pixel shown.

    width_px, height_px: as shown.
    """

    def __init__(self, width_px: int, height_px: int) -> None:
        self.width, self.height = width_px, height_px
        self._scratch = RendererAgg(width_px, height_px, 72)
        self._words = RendererAgg(1, 1, SHOWN_DPI)
        self._down = Affine2D().scale(1, -1).translate(0, height_px)
        self.fills = np.full((height_px, width_px), NAMES.index("paper"), np.uint8)
        self.lines = np.full((height_px, width_px), NONE, np.uint8)
        self.found = Standing()

    def copy(self) -> Sheets:
        """Sheets that look the same, on which nothing was found so far."""
        other = Sheets(self.width, self.height)
        other.fills, other.lines = self.fills.copy(), self.lines.copy()
        return other

    def dots(self, path: Path, style: dict[str, Any], fill: bool, at: Any = None) -> Any:
        """Where a path paints: bool, shape (height, width).

        path: in shown pixels, downwards; style: as recorded; fill: its inside, else its line; at:
        places where it stands, if it is a mark.
        """
        one = self._scratch
        one.clear()
        gc = one.new_gc()
        gc.set_antialiased(False)
        gc.set_foreground((1, 1, 1, 1), isRGBA=True)
        gc.set_linewidth(0 if fill else max(1.0, style["w"]))
        if not fill:
            cap = style.get("c", "butt")
            gc.set_capstyle("projecting" if cap == "square" else cap)
            gc.set_joinstyle(style.get("j", "miter"))
            if "d" in style:
                gc.set_dashes(style.get("o", 0), style["d"])
        if "k" in style:
            left, top, right, low = (side / PER_PX for side in style["k"])
            gc.set_clip_rectangle(Bbox([[left, self.height - low], [right, self.height - top]]))
        face = (1.0, 1.0, 1.0, 1.0) if fill else None
        if at is None:
            one.draw_path(gc, path, self._down, face)
        else:
            turned = Affine2D().scale(1, -1)
            one.draw_markers(gc, path, turned, Path(at), self._down, face)
        # a dot's four bytes are looked at as one word, in which how thick it is comes first
        return np.asarray(one.buffer_rgba()).view("<u4")[..., 0] > 0xFFFFFF

    def under(self, where: Any) -> dict[str, int]:
        """Which fills lie where, and in how many dots; where: as :meth:`dots` gives it."""
        count = np.bincount(self.fills[where], minlength=len(NAMES))
        return {NAMES[k]: int(count[k]) for k in np.flatnonzero(count)}

    def stand(self, inks: Iterable[str], where: Any) -> None:
        """Count a thing on what lies under it; inks: of its line and fill; where: it is."""
        under = self.under(where)
        for ground, dots in under.items():
            if dots >= CROSSING * sum(under.values()):
                self.found.things[tuple(sorted(set(inks))), ground] += dots

    # ---- what is recorded --------------------------------------------------------------------

    def draw(self, record: Record, keys: Iterable[int]) -> None:
        """Draw some of the artists; record: they are in; keys: theirs."""
        for op, beside in (one for key in keys for one in record.artists[key]):
            if op[0] == TEXT:
                self.text(op, record.styles[op[1]])
            elif op[0] == PATH:
                self.thing(as_path(beside), record.styles[op[1]], None)
            elif op[0] == MARKS:
                mark = as_path(record.marks[op[2]])
                self.thing(mark, record.styles[op[1]], beside / PER_PX)

    def thing(self, path: Path, style: dict[str, Any], at: Any) -> None:
        """A path or a mark: what its line stands on is what lies round its own fill."""
        inks = [style[key] for key in ("f", "s", "hs") if key in style]
        inside = self.dots(path, style, True, at) if "f" in style else None
        line = self.dots(path, style, False, at) if "s" in style else None
        ground = at is None and inside is not None and thick(inside)
        if line is not None:
            self.stand(inks, line)
        elif not ground and inside is not None:
            self.stand(inks, inside)
        if inside is not None:
            if ground:
                self.fills[inside] = NAMES.index(style["f"])
            self.lines[inside] = NONE if ground else NAMES.index(style["f"])
            if "hs" in style:
                self.stand([style["hs"]], inside)
        if line is not None:
            self.lines[line] = NAMES.index(style["s"])
            if at is None and "d" not in style:
                self.found.solid.add(style["s"])

    def text(self, op: list[Any], style: dict[str, Any]) -> None:
        """A line of text: the box that its letters fill."""
        _, _, words, left, foot, angle = op
        weight = "bold" if "bold" in style else "normal"
        size = FontProperties(size=style["t"] * 72 / SHOWN_DPI, weight=weight)
        wide, high, deep = self._words.get_text_width_height_descent(words, size, False)
        box = np.array([[0, deep], [wide, deep], [wide, deep - high], [0, deep - high]])
        turned = Affine2D().rotate_deg(-angle).translate(left / PER_PX, foot / PER_PX)
        for ground, dots in self.under(self.dots(Path(turned.transform(box)), {}, True)).items():
            self.found.texts[style["f"], ground] += dots

    def meet(self) -> None:
        """Count the fills that meet, each pair with the line between them."""
        apart = np.pad(self.lines, NEAR_PX + 1, constant_values=NONE)
        near = np.lib.stride_tricks.sliding_window_view(apart, (2 * NEAR_PX + 2,) * 2)
        for down, right in ((0, 1), (1, 0)):
            one = self.fills[: self.height - down, : self.width - right]
            other = self.fills[down:, right:]
            rows, columns = np.nonzero(one != other)
            seen = near[rows + 1, columns + 1].reshape(len(rows), (2 * NEAR_PX + 2) ** 2)
            counts = np.stack([(seen == k).sum(axis=1) for k in range(len(NAMES))], axis=1)
            most = np.where(counts.any(axis=1), counts.argmax(axis=1), NONE)
            three = np.stack([one[rows, columns], other[rows, columns], most], axis=1)
            each, count = np.unique(three, axis=0, return_counts=True)
            for (a, b, line), dots in zip(each, count, strict=True):
                first, second = sorted((NAMES[a], NAMES[b]))
                self.found.beside[first, second, "" if line == NONE else NAMES[line]] += int(dots)


def thick(inside: Any) -> bool:
    """Whether something can stand on a fill; inside: where it is."""
    dots = inside.sum()
    edges = ((inside[:, 1:] != inside[:, :-1]).sum(), (inside[1:] != inside[:-1]).sum())
    return bool(dots) and all(dots > NARROW_PX * edge / 2 for edge in edges)


def as_path(outline: Any) -> Path:
    """A recorded outline as Matplotlib's; outline: as `unpacked` gives it."""
    points = outline.points / PER_PX
    if outline.way == CODED:
        return Path(points, outline.codes)
    if outline.way == OPEN:
        return Path(points)
    assert outline.way == CLOSED
    return Path(np.vstack([points, points[:1]]), closed=True)


def standings(records: Iterable[bytes]) -> Iterator[Standing]:
    """What stands on what in each of some pictures of one figure.

    records: whole ones, of the same still parts, which are gone through once.
    """
    still: Sheets | None = None
    for data in records:
        record = unpacked(data)
        if still is None:
            still = Sheets(*record.size_px)
            still.draw(record, [STILL])
            yield still.found
        sheets = still.copy()
        sheets.draw(record, [key for key in sorted(record.artists) if key != STILL])
        sheets.meet()
        yield sheets.found
