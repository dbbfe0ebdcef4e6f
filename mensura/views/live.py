"""A live picture: still parts drawn once, moving parts drawn anew on every change, then encoded.

The figure is never rebuilt. The still parts are drawn and kept as a background; a change restores
the background, sets the data of the moving artists, draws them and encodes the buffer. The cost is
then nearly all in the encoding.
"""

from __future__ import annotations

import base64
import html
import io
from abc import ABC, abstractmethod
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

import numpy as np

from mensura.views.look import house_style, new_figure

N = TypeVar("N")


class Picture(ABC, Generic[N]):
    """What is drawn: still parts, moving parts, and the words that say the same.

    width_px, height_px: size as shown, in CSS pixels; moving: the artists that change, in the
    order in which they are drawn.
    """

    width_px: int = 860
    height_px: int = 480

    def __init__(self) -> None:
        self.moving: list[Any] = []

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
    """A picture kept ready: :meth:`frame` answers a change with encoded bytes.

    picture: what to draw.
    """

    def __init__(self, picture: Picture[N]) -> None:
        self.picture = picture
        with house_style():
            self.figure = new_figure(picture.width_px, picture.height_px)
            picture.draw(self.figure)
        for artist in picture.moving:
            artist.set_animated(True)
        canvas = self.figure.canvas
        canvas.draw()
        self._canvas = canvas
        self._renderer = canvas.get_renderer()
        self._background = canvas.copy_from_bbox(self.figure.bbox)

    def paint(self, numbers: N) -> Any:
        """The finished buffer for `numbers`: uint8, shape (height, width, 4), at double density."""
        self._canvas.restore_region(self._background)
        self.picture.show(numbers)
        for artist in self.picture.moving:
            if artist.get_visible():
                artist.draw(self._renderer)
        return np.asarray(self._canvas.buffer_rgba())

    def frame(self, numbers: N) -> bytes:
        """The picture of `numbers` as a PNG made for speed."""
        return encode_fast(self.paint(numbers))

    def still(self, numbers: N) -> Still:
        """The picture of `numbers` as a PNG made for keeping, with its alternative text."""
        return Still(
            encode_small(self.paint(numbers)),
            self.picture.describe(numbers),
            self.picture.width_px,
            self.picture.height_px,
        )


@dataclass(frozen=True)
class Still:
    """A picture that does not move, with its alternative text; a notebook shows it as it is.

    png: encoded at double density; alt: the same in words; width_px, height_px: size as shown.
    """

    png: bytes
    alt: str
    width_px: int
    height_px: int

    def _repr_mimebundle_(
        self, include: Any = None, exclude: Any = None
    ) -> tuple[dict[str, Any], dict[str, Any]]:
        return {"image/png": self.png, "text/plain": self.alt}, {"image/png": self.metadata}

    @property
    def metadata(self) -> dict[str, Any]:
        """Alternative text and shown size, as a notebook keeps them beside a picture."""
        return {"alt": self.alt, "width": self.width_px, "height": self.height_px}


def draw_still(picture: Picture[N], numbers: N) -> Still:
    """A picture drawn once, for a page or a workbook.

    picture: what to draw; numbers: what it shows.
    """
    return Live(picture).still(numbers)


def image_tag(png: bytes, alt: str, width_px: int, height_px: int) -> str:
    """An `<img>` that carries its picture and its words; decoded before it is shown.

    png: the picture; alt: its alternative text; width_px, height_px: size as shown.

    >>> image_tag(b"x", 'say "a<b"', 10, 5)[:49]
    '<img alt="say &quot;a&lt;b&quot;" width="10" heig'
    """
    data = base64.b64encode(png).decode("ascii")
    return (
        f'<img alt="{html.escape(alt)}" width="{width_px}" height="{height_px}" '
        f'decoding="sync" style="max-width:none" src="data:image/png;base64,{data}">'
    )


def encode_fast(buffer: Any) -> bytes:
    """A palette PNG of at most 256 colours: half the time of a full one and a third of its size.

    buffer: uint8, shape (h, w, 4). The near-white of the palette is set to pure white, so that the
    picture's ground is the page's.
    """
    from PIL import Image

    height, width = buffer.shape[:2]
    image = Image.frombuffer("RGBA", (width, height), buffer, "raw", "RGBA", 0, 1).convert("RGB")
    small = image.quantize(256, method=Image.Quantize.FASTOCTREE, dither=Image.Dither.NONE)
    palette = small.getpalette() or []
    small.putpalette([255 if level >= 252 else level for level in palette])
    out = io.BytesIO()
    small.save(out, "PNG", compress_level=1)
    return out.getvalue()


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
