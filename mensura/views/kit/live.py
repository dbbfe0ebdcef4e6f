"""A live picture: still parts written down once, moving parts anew on every change, as shapes.

The figure is never rebuilt. A change sets the data of the moving artists and lets them draw into a
recorder; what looks other than before is what a page needs. A still is the same shapes as an SVG;
dots are made only where a page cannot paint shapes.
"""

from __future__ import annotations

import base64
import html
import io
from abc import ABC, abstractmethod
from collections.abc import Mapping
from contextlib import closing
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any, Generic, TypeVar

import numpy as np

from mensura.views.kit.look import DENSITY, house_style, new_figure
from mensura.views.kit.parts import Box, Moved, Part, part, parts_json
from mensura.views.kit.record import STILL, Drawn, packed, unpacked
from mensura.views.kit.svg import svg

N = TypeVar("N")


class Picture(ABC, Generic[N]):
    """What is drawn: still parts, moving parts, and the words that say the same.

    width_px, height_px: size as shown, in CSS pixels; moving: the artists that change, in the
    order in which they are drawn; looked_at: control → part to look at while it is moved, where
    that is not the part in which most changes.
    """

    width_px: int = 860
    height_px: int = 480
    looked_at: Mapping[str, str] = MappingProxyType({})

    def __init__(self) -> None:
        self.moving: list[Any] = []

    @property
    def whole(self) -> Box:
        """All of the picture, to be cut into its parts."""
        return Box(0, 0, self.width_px, self.height_px)

    def parts(self) -> tuple[Part, ...]:
        """Of what the picture consists, in the order in which a narrow page shows it.

        What is wider than WIDEST_PX needs more than one part.
        """
        return (part("picture", self.whole),)

    @abstractmethod
    def draw(self, figure: Any) -> None:
        """Draw the still parts on `figure` and make the moving artists, once."""

    @abstractmethod
    def show(self, numbers: N) -> None:
        """Set the moving artists' data from `numbers`; nothing else."""

    @abstractmethod
    def describe(self, numbers: N) -> str:
        """The picture in words, with the present `numbers`: its alternative text."""


class Live(Generic[N]):
    """A picture kept ready: :meth:`record` and :meth:`changes` answer a change with its shapes.

    picture: what to draw. Raises MeasureError if something in it cannot be sent as shapes.
    """

    def __init__(self, picture: Picture[N]) -> None:
        from mensura.views.kit.recorder import Recorder

        self.picture = picture
        with house_style():
            self.figure = new_figure(picture.width_px, picture.height_px)
            picture.draw(self.figure)
            for artist in picture.moving:
                artist.set_animated(True)
            self._recorder: Any = Recorder(picture.width_px, picture.height_px, DENSITY)
            self._recorder.begin(still=True)
            self.figure.draw(self._recorder)
            self._still = self._recorder.drawn
        self._last: dict[int, Drawn] = {}
        self._background: Any = None
        self.parts = parts_json(picture.parts(), picture.height_px)
        self.moved = Moved(picture.parts(), picture.height_px)

    def close(self) -> None:
        """Give figure and buffers back at once; nothing can be drawn afterwards.

        A figure is a web of circles, perhaps round two large buffers, which would lie about until
        the whole heap is next gone through.
        """
        for artist in self.picture.moving:
            artist.set_animated(False)
        self.picture.moving = []
        canvas = self.figure.canvas
        self.figure.clear()
        # the canvas keeps the buffer in its renderer
        canvas.renderer = None
        self._background = self._recorder = None
        self._last = {}

    # ---- as shapes ---------------------------------------------------------------------------

    @property
    def size_px(self) -> tuple[int, int]:
        """Width and height as shown."""
        return self.picture.width_px, self.picture.height_px

    def see(self, numbers: N) -> dict[int, tuple[Drawn, Drawn | None]]:
        """Set the moving artists, and write down those that look other than before.

        numbers: to show. Returns, by place in the order of drawing, how each is now and was.
        """
        self.picture.show(numbers)
        changed = {}
        recorder = self._recorder
        for place, artist in enumerate(self.picture.moving):
            recorder.begin()
            if artist.get_visible():
                artist.draw(recorder)
            before = self._last.get(place)
            if not recorder.drawn.same(before):
                self._last[place] = recorder.drawn
                changed[place] = recorder.drawn, before
        return changed

    def record(self, numbers: N) -> bytes:
        """All shapes of the picture of `numbers`, packed; what came before does not matter."""
        self.see(numbers)
        return self.whole()

    def whole(self) -> bytes:
        """All shapes of the picture as it was last seen, packed."""
        one = self._recorder
        return packed(self.size_px, one.styles, one.marks, {STILL: self._still, **self._last})

    def changes(self, numbers: N, by: str = "") -> tuple[bytes, str]:
        """What a change to `numbers` changes in the shapes, packed, and the part to look at.

        by: control that was just moved, if one was: then the part is that which it moves most, for
        a page that has room for one only; else "".
        """
        one = self._recorder
        styles, marks = len(one.styles), len(one.marks)
        changed = self.see(numbers)
        part = ""
        if by:
            most = self.moved.by(by, changed)
            part = self.picture.looked_at.get(by, most)
        # both are numbered as they come
        new_styles = {key: one.styles[key] for key in range(styles, len(one.styles))}
        new_marks = {key: one.marks[key] for key in range(marks, len(one.marks))}
        artists = {place: now for place, (now, _) in changed.items()}
        return packed(self.size_px, new_styles, new_marks, artists), part

    # ---- as dots -----------------------------------------------------------------------------

    def paint(self, numbers: N) -> Any:
        """The finished buffer for `numbers`: uint8, shape (height, width, 4), at double density."""
        canvas: Any = self.figure.canvas
        self.picture.show(numbers)
        with house_style():  # how letters are set is asked when they are drawn
            if self._background is None:
                canvas.draw()
                self._background = canvas.copy_from_bbox(self.figure.bbox)
            canvas.restore_region(self._background)
            for artist in self.picture.moving:
                if artist.get_visible():
                    artist.draw(canvas.get_renderer())
        return np.asarray(canvas.buffer_rgba())

    # ---- as a picture for a page ---------------------------------------------------------------

    def still(self, numbers: N) -> Still:
        """The picture of `numbers` for keeping, with its alternative text."""
        return replace(self.view(numbers), png=encode_small(self.paint(numbers)))

    def view(self, numbers: N) -> Still:
        """The picture of `numbers` for a page at work, which keeps nothing of it: without a PNG."""
        one = self.picture
        record = unpacked(self.record(numbers))
        alt = one.describe(numbers)
        return Still(svg(record, alt), alt, one.width_px, one.height_px, self.parts)

    def tag(self, numbers: N) -> str:
        """The picture of `numbers` as an `<img>`, for a page at work."""
        return self.view(numbers).html


@dataclass(frozen=True)
class Still:
    """A picture that does not move, with its alternative text; a notebook shows it as it is.

    svg: the picture as shapes; alt: the same in words; width_px, height_px: size as shown; parts:
    of what it consists, as `parts_json` writes it; png: the picture as dots, at double density, or
    b"" if it is for a page at work.
    """

    svg: str
    alt: str
    width_px: int
    height_px: int
    parts: str = ""
    png: bytes = b""

    def _repr_mimebundle_(
        self, include: Any = None, exclude: Any = None
    ) -> tuple[dict[str, Any], dict[str, Any]]:
        data = {"text/html": self.html, "text/plain": self.alt}
        if not self.png:
            return data, {}
        return data | {"image/png": self.png}, {"image/png": self.metadata}

    @property
    def html(self) -> str:
        """The picture as an `<img>`: JupyterLab leaves a bare picture's alternative text away."""
        return image_tag(self.svg, self.alt, self.width_px, self.height_px, self.parts)

    @property
    def metadata(self) -> dict[str, Any]:
        """Alternative text and shown size, as a notebook keeps them beside a PNG."""
        return {"alt": self.alt, "width": self.width_px, "height": self.height_px}


def draw_still(picture: Picture[N], numbers: N) -> Still:
    """A picture drawn once, for a page or a workbook.

    picture: what to draw; numbers: what it shows.
    """
    with closing(Live(picture)) as live:
        return live.still(numbers)


def draw_view(picture: Picture[N], numbers: N) -> Still:
    """A picture drawn once and made for speed, for a page at work that keeps nothing of it.

    picture: what to draw; numbers: what it shows.
    """
    with closing(Live(picture)) as live:
        return live.view(numbers)


def image_tag(svg: str, alt: str, width_px: int, height_px: int, parts: str = "") -> str:
    """An `<img>` that carries its picture, its words and its parts; decoded before it is shown.

    svg: the picture; alt: its alternative text; width_px, height_px: size as shown; parts: of what
    it consists, as `parts_json` writes it. It takes the width there is, up to a third more than its
    own (for the back of a room).

    >>> image_tag("<svg/>", 'say "a<b"', 10, 5)[:49]
    '<img alt="say &quot;a&lt;b&quot;" width="10" heig'
    """
    data = base64.b64encode(svg.encode("utf-8")).decode("ascii")
    told = f'data-parts="{html.escape(parts)}" ' if parts else ""
    return (
        f'<img alt="{html.escape(alt)}" width="{width_px}" height="{height_px}" {told}'
        f'decoding="sync" style="width:100%;max-width:{width_px * 4 // 3}px;height:auto" '
        f'src="data:image/svg+xml;base64,{data}">'
    )


def encode_small(buffer: Any) -> bytes:
    """A true-colour PNG, the same bytes for the same picture.

    buffer: uint8, shape (h, w, 4).
    """
    from PIL import Image

    height, width = buffer.shape[:2]
    image = Image.frombuffer("RGBA", (width, height), buffer, "raw", "RGBA", 0, 1).convert("RGB")
    out = io.BytesIO()
    image.save(out, "PNG", compress_level=9)
    return out.getvalue()
