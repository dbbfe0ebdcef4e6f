"""What was found in a photograph, drawn over it: judged by eye before any figure is believed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mensura.instruments.cut_end_photo import Correction, FoundOutline
from mensura.views.kit import look
from mensura.views.kit.live import Picture, Still, draw_still
from mensura.views.kit.parts import Part, part

#: The photograph's box, in shown px; the line of words below it; the margin.
_WIDE_PX, _HIGH_PX, _LINE_PX, _EDGE_PX = 456, 456, 24, 12
#: Under every line on a photograph lies a wider one in the page's colour: one of both is seen.
_CASE = {"color": look.WHITE, "solid_capstyle": "round"}


class FoundOutlinePicture(Picture[None]):
    """The photograph with the found outline, its scale or marks, pith and corrections.

    photograph: grey levels, or red, green and blue; found: in it; scale_px: the scale's ends, or
    the four marks; corrections: what was drawn by hand; title: above it, or "".
    """

    width_px = _WIDE_PX + 2 * _EDGE_PX

    def __init__(
        self,
        photograph: NDArray[Any],
        found: FoundOutline,
        scale_px: Any = None,
        corrections: Sequence[Correction] = (),
        title: str = "",
    ) -> None:
        super().__init__()
        self.rows, self.columns = photograph.shape[:2]
        self.dots = _shrunk(photograph)
        self.found, self.corrections, self.title = found, tuple(corrections), title
        self.scale = None if scale_px is None else np.asarray(scale_px, dtype=float).reshape(-1, 2)
        self.times = min(_WIDE_PX / self.columns, _HIGH_PX / self.rows)
        self.lines = self._lines()
        self.top_px = _LINE_PX if title else 0
        self.height_px = round(
            self.rows * self.times + 2 * _EDGE_PX + _LINE_PX * len(self.lines) + self.top_px + 6
        )

    def _lines(self) -> list[tuple[str, str]]:
        """The rows of the key: (which sign, its words)."""
        rows = [("outline", "found outline: does it run on the edge all the way round?")]
        if self.scale is not None:
            four = len(self.scale) == 4
            rows.append(("marks", "four marks in the cut's plane") if four else ("scale", "scale"))
        if self.found.pith_cm is not None:
            rows.append(("pith", "pith"))
        if self.corrections:
            rows.append(("hand", "drawn by hand: added or cut"))
        kind = "darker" if self.found.darker else "lighter"
        level = f"{self.found.threshold:.0f}"
        rows.append(("", f"threshold {level} of 255; the cut is {kind} than its ground"))
        return rows

    def draw(self, figure: Any) -> None:
        """Photograph and lines on `figure`; nothing moves."""
        wide, high = self.columns * self.times, self.rows * self.times
        low = self.height_px - _EDGE_PX - self.top_px - high
        axes = look.place(figure, (self.width_px - wide) / 2, low, wide, high)
        axes.set(xlim=(-0.5, self.columns - 0.5), ylim=(self.rows - 0.5, -0.5))
        axes.axis("off")
        axes.imshow(
            self.dots,
            extent=(-0.5, self.columns - 0.5, self.rows - 0.5, -0.5),
            aspect="auto",
            interpolation="antialiased",
        )
        axes.set(xlim=(-0.5, self.columns - 0.5), ylim=(self.rows - 0.5, -0.5))
        for one in self.corrections:
            self._sign(axes, "hand", np.vstack([one.points_px, one.points_px[:1]]))
        edge = np.asarray(self.found.edge_px)
        self._sign(axes, "outline", np.vstack([edge, edge[:1]]))
        if self.scale is not None:
            four = len(self.scale) == 4
            self._sign(axes, "marks" if four else "scale", self.scale)
        if self.found.pith_cm is not None:
            self._sign(axes, "pith", self.found.plane.to_px(self.found.pith_cm)[None])
        if self.title:
            figure.text(
                _EDGE_PX / self.width_px,
                1 - (_EDGE_PX / 2 + _LINE_PX / 2) / self.height_px,
                self.title[:1].upper() + self.title[1:],
                fontweight="bold",
                va="center_baseline",
            )
        key = look.place(figure, _EDGE_PX, 0, _WIDE_PX, low)
        key.set(xlim=(0, _WIDE_PX), ylim=(0, low))
        key.axis("off")
        for row, (sign, words) in enumerate(self.lines):
            up = low - _LINE_PX * (row + 0.7)
            if sign in ("outline", "hand", "scale"):
                self._sign(key, sign, np.array([[7.0, up], [27.0, up]]))
            elif sign:
                self._sign(key, sign, np.array([[16.0, up]]))
            key.text(38 if sign else 0, up, words, va="center_baseline")

    @staticmethod
    def _sign(axes: Any, sign: str, points: Any) -> None:
        """One of the key's signs, cased so that it is seen on wood, bark and ground alike."""
        if sign == "outline":
            axes.plot(*points.T, lw=3.6, **_CASE)
            axes.plot(*points.T, lw=1.5, color=look.TRUTH)
        elif sign == "hand":
            axes.plot(*points.T, lw=3.6, **_CASE)
            axes.plot(*points.T, lw=1.6, color=look.BARK, ls=(0, (3, 2)))
        elif sign == "scale":
            axes.plot(*points.T, lw=4.6, **_CASE)
            axes.plot(*points.T, lw=2.2, color=look.CALIPERS)
            axes.plot(*points.T, ls="", marker="D", ms=6, mfc=look.WHITE, mec=look.CALIPERS, mew=2)
        elif sign == "marks":
            axes.plot(*points.T, ls="", marker="s", ms=9, mfc=look.WHITE, mec=look.CALIPERS, mew=2)
        else:
            axes.plot(*points.T, ls="", marker="P", ms=11, mfc=look.TRUTH, mec=look.WHITE, mew=1.2)

    def parts(self) -> tuple[Part, ...]:
        """The whole is one part, narrow enough for a phone."""
        return (part("photograph", self.whole),)

    def show(self, numbers: None) -> None:
        """Nothing moves; `numbers` is None."""

    def describe(self, numbers: None) -> str:
        """The picture in words; `numbers` is None."""
        edge = np.asarray(self.found.edge_px)
        left, top = edge.min(axis=0)
        right, low = edge.max(axis=0)
        named = f"{self.title[:1].upper()}{self.title[1:]}: a" if self.title else "A"
        told = [
            f"{named} photograph of {self.columns} by {self.rows} dots with the found outline "
            f"drawn over it, from {left:.0f} to {right:.0f} across and from {top:.0f} to "
            f"{low:.0f} down.",
            "Whether it runs on the edge has to be judged by eye.",
        ]
        if self.scale is not None:
            places = ", ".join(f"({x:.0f}, {y:.0f})" for x, y in self.scale)
            told.append(f"{'Marks' if len(self.scale) == 4 else 'Scale'} at {places}.")
        if self.found.pith_cm is not None:
            x, y = self.found.plane.to_px(self.found.pith_cm)
            told.append(f"Pith at ({x:.0f}, {y:.0f}).")
        if self.corrections:
            told.append(f"Pieces drawn by hand: {len(self.corrections)}.")
        told.append(f"{self.lines[-1][1].capitalize()}.")
        return " ".join(told)


def found_on_photograph(
    photograph: NDArray[Any],
    found: FoundOutline,
    scale_px: Any = None,
    corrections: Sequence[Correction] = (),
    title: str = "",
) -> Still:
    """The found outline drawn over its photograph.

    photograph: grey levels, or red, green and blue; found: in it; scale_px: the scale's ends, or
    the four marks; corrections: what was drawn by hand; title: above it, or "".

    >>> from mensura.instruments.drawn_photograph import spoilt_photographs
    >>> one = spoilt_photographs()[0]
    >>> found_on_photograph(one.picture, one.found(), one.scale_px).width_px
    480
    """
    picture = FoundOutlinePicture(photograph, found, scale_px, corrections, title)
    return draw_still(picture, None)


def _shrunk(photograph: NDArray[Any]) -> NDArray[np.uint8]:
    """No more dots than are shown, red, green and blue."""
    dots = np.asarray(photograph)
    if dots.ndim == 2:
        dots = np.repeat(dots[..., None], 3, axis=2)
    step = max(int(max(dots.shape[:2]) / (look.DENSITY * max(_WIDE_PX, _HIGH_PX))), 1)
    high, wide = (size // step * step for size in dots.shape[:2])
    blocks = dots[:high, :wide, :3].reshape(high // step, step, wide // step, step, 3)
    return np.asarray(blocks.mean(axis=(1, 3), dtype=np.float32)).astype(np.uint8)
