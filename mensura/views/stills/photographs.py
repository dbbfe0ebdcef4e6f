"""Photographs side by side, each with the outline that was found in it: to be judged by eye."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mensura.checks import FloatArray
from mensura.instruments.cut_end_photo import FoundOutline
from mensura.instruments.cut_photograph import CutPhotograph
from mensura.instruments.drawn_photograph import SpoiltPhotograph
from mensura.instruments.photo_plane import PhotographError
from mensura.views.kit import look
from mensura.views.kit.live import Picture, Still, draw_still
from mensura.views.kit.parts import Part, part

#: Levels of grey and the colours that a made-up grey picture is shown in: ground, wood, scale.
_LEVELS = (20.0, 74.0, 188.0, 235.0)
_TINTS = ((24, 28, 28), (74, 80, 78), (238, 218, 186), (250, 250, 250))
#: So many levels of such a picture are shown as one, wood's own in the middle of theirs.
_CALM = 19.0
#: Between photographs, and the room for a title and for a line below.
_GAP_PX, _TITLE_PX, _KEY_PX = 16, 26, 30
#: How wide the whole is, and how far the first photograph stands off its edge.
_WIDE_PX, _EDGE_PX = 860, 6


@dataclass(frozen=True, eq=False)
class Pane:
    """One photograph of several.

    title: above it; picture: levels of grey, or of red, green and blue; edge_px: what was found,
    shape (n, 2), None for nothing; scale_px: the scale's two ends; told: of it, for its words.
    """

    title: str
    picture: NDArray[Any]
    edge_px: FloatArray | None
    scale_px: FloatArray
    told: str


class Photographs(Picture[None]):
    """Photographs in rows, with what was found in each.

    panes: each photograph; across: so many stand in a row.
    """

    width_px = _WIDE_PX

    def __init__(self, panes: Sequence[Pane], across: int) -> None:
        super().__init__()
        self.panes, self.across = tuple(panes), across
        self.side_px = (_WIDE_PX - 2 * _EDGE_PX - (across - 1) * _GAP_PX) / across
        highest = max(one.picture.shape[0] / one.picture.shape[1] for one in self.panes)
        self.tall_px = min(highest, 1.25) * self.side_px
        self.rows = -(-len(self.panes) // across)
        self.row_px = round(self.tall_px + _TITLE_PX + _GAP_PX)
        self.height_px = self.rows * self.row_px + _KEY_PX

    def draw(self, figure: Any) -> None:
        """Every photograph on `figure`, and the key; nothing moves."""
        page = look.place(figure, 0, 0, self.width_px, self.height_px)
        page.set(xlim=(0, self.width_px), ylim=(0, self.height_px))
        page.axis("off")
        how = {"va": "center_baseline"}
        for place, pane in enumerate(self.panes):
            row, column = divmod(place, self.across)
            left = _EDGE_PX + column * (self.side_px + _GAP_PX)
            top = self.height_px - row * self.row_px
            page.text(left, top - 14, pane.title, fontweight="bold", **how)
            self._photograph(figure, pane, left, top - _TITLE_PX - self.tall_px)
        self._line(page, "outline", np.array([[8.0, 16.0], [30.0, 16.0]]))
        page.text(38, 16, "found outline", **how)
        self._line(page, "scale", np.array([[168.0, 16.0], [190.0, 16.0]]))
        page.text(200, 16, "scale", **how)

    def _photograph(self, figure: Any, pane: Pane, left: float, low: float) -> None:
        high, wide = pane.picture.shape[:2]
        times = min(self.side_px / wide, self.tall_px / high)
        size = wide * times, high * times
        axes = look.place(figure, left, low + (self.tall_px - size[1]), *size)
        box = (-0.5, wide - 0.5, high - 0.5, -0.5)
        axes.imshow(
            _tinted(pane.picture, times), extent=box, aspect="auto", interpolation="antialiased"
        )
        axes.set(xlim=box[:2], ylim=box[2:])
        axes.axis("off")
        if pane.edge_px is not None:
            self._line(axes, "outline", np.vstack([pane.edge_px, pane.edge_px[:1]]))
        self._line(axes, "scale", np.asarray(pane.scale_px).reshape(-1, 2))

    @staticmethod
    def _line(axes: Any, sign: str, points: FloatArray) -> None:
        """An outline or a scale, cased so that it is seen on wood and ground alike."""
        case = {"color": look.WHITE, "solid_capstyle": "round"}
        if sign == "outline":
            axes.plot(*points.T, lw=3.6, **case)
            axes.plot(*points.T, lw=1.5, color=look.TRUTH)
        else:
            axes.plot(*points.T, lw=4.6, **case)
            axes.plot(*points.T, lw=2.2, color=look.CALIPERS)
            axes.plot(*points.T, ls="", marker="D", ms=5, mfc=look.WHITE, mec=look.CALIPERS, mew=2)

    def parts(self) -> tuple[Part, ...]:
        """One for each photograph; the key goes with those of the last row."""
        page, found = self.whole, []
        for row in range(self.rows):
            last = row == self.rows - 1
            band = page
            if not last:
                band, page = page.cut_y(self.height_px - (row + 1) * self.row_px)
            for column in range(self.across):
                if column < self.across - 1:
                    at = _EDGE_PX + (column + 1) * (self.side_px + _GAP_PX) - _GAP_PX / 2
                    box, band = band.cut_x(round(at))
                else:
                    box = band
                if row * self.across + column < len(self.panes):
                    found.append(part(f"photograph-{row}-{column}", box))
        return tuple(found)

    def show(self, numbers: None) -> None:
        """Nothing moves; `numbers` is None."""

    def describe(self, numbers: None) -> str:
        """The photographs in words; `numbers` is None."""
        told = " ".join(f"{one.title}: {one.told}" for one in self.panes)
        return f"Photographs, each with the outline that was found in it. {told}"


def threshold_panes(photo: CutPhotograph, threshold: float) -> list[Pane]:
    """One photograph twice: with the threshold that was found, and with another.

    photo: of a cut; threshold: the other level, from 0 to 255, by which there may be nothing found.
    """
    found = photo.found()
    words = f"Threshold {threshold:.0f}, set by hand"
    first = _pane(photo, f"Threshold {found.threshold:.0f}, found", found)
    try:
        return [first, _pane(photo, words, photo.found(threshold))]
    except PhotographError as why:
        return [first, Pane(f"{words}: nothing", photo.picture, None, photo.scale_px, str(why))]


def _pane(photo: CutPhotograph, title: str, found: FoundOutline) -> Pane:
    edge = np.asarray(found.edge_px)
    left, top = edge.min(axis=0)
    right, low = edge.max(axis=0)
    told = (
        f"the outline goes from {left:.0f} to {right:.0f} across and from {top:.0f} to {low:.0f} "
        "down."
    )
    return Pane(title, photo.picture, edge, photo.scale_px, told)


def two_thresholds(photo: CutPhotograph, threshold: float) -> Still:
    """One photograph twice: with the threshold that was found, and with another.

    photo: of a cut; threshold: the other, from 0 to 255, by which there may be nothing found.

    >>> from mensura.instruments.cut_photograph import made_up_photograph
    >>> from mensura.stems import Ellipse, Outline
    >>> two_thresholds(made_up_photograph(Outline(Ellipse(50, 44).outline_cm())), 168).width_px
    860
    """
    return draw_still(Photographs(threshold_panes(photo, threshold), 2), None)


def spoilt_panes(photographs: Sequence[SpoiltPhotograph]) -> list[Pane]:
    """What spoils a photograph, with what is found in each.

    photographs: each as it was drawn.
    """
    return [
        Pane(
            one.name[:1].upper() + one.name[1:],
            one.picture,
            np.asarray(one.found().edge_px),
            one.scale_px,
            one.why,
        )
        for one in photographs
    ]


def spoilt_side_by_side(photographs: Sequence[SpoiltPhotograph]) -> Still:
    """What spoils a photograph, each as a small picture with what is found in it.

    photographs: each as it was drawn.

    >>> from mensura.instruments.drawn_photograph import spoilt_photographs
    >>> spoilt_side_by_side(spoilt_photographs()[1:3]).alt[:34]
    'Photographs, each with the outline'
    """
    return draw_still(Photographs(spoilt_panes(photographs), 3), None)


def _tinted(picture: NDArray[Any], times: float) -> NDArray[np.uint8]:
    """A made-up grey picture in wood's colours, any in no more dots than are shown."""
    from scipy import ndimage

    dots = np.asarray(picture)
    if dots.ndim == 2:
        # the camera's noise is in what is measured; shown, it would only be grain
        calm = ndimage.gaussian_filter(dots.astype(np.float32), 1.2)
        calm = np.round((calm - _LEVELS[2]) / _CALM) * _CALM + _LEVELS[2]
        tints = zip(*_TINTS, strict=True)
        dots = np.stack([np.interp(calm, _LEVELS, tint) for tint in tints], axis=-1)
    step = max(int(1 / (look.DENSITY * times)), 1)
    high, wide = (size // step * step for size in dots.shape[:2])
    blocks = dots[:high, :wide, :3].reshape(high // step, step, wide // step, step, 3)
    return np.asarray(blocks.mean(axis=(1, 3), dtype=np.float32)).astype(np.uint8)
