"""Numbers that move: one artist for all of them.

A live picture pays for every moving text. The numbers of a band that slides past, and the values
beside bars, are therefore drawn as outlines, kept once made, in a single collection.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Any

import numpy as np

from mensura.views.kit import look

POINTS_PER_INCH = 72.0


@lru_cache(maxsize=512)
def _outline(number: int) -> Any:
    """The number's outline in points, its middle at the origin across, its foot at 0."""
    from matplotlib.path import Path
    from matplotlib.textpath import TextPath

    made = TextPath((0, 0), f"{number:d}", size=look.TEXT_PT)
    corners = np.array(made.vertices)
    middle = (corners[:, 0].max() + corners[:, 0].min()) / 2
    return Path(corners - [middle, 0], made.codes, readonly=True)


class Numerals:
    """Whole numbers at moving places on axes.

    axes: to draw on, counted in cm; colour: of the numbers. `artist` is what moves.
    """

    def __init__(self, axes: Any, colour: str = look.TRUTH) -> None:
        from matplotlib.collections import PathCollection
        from matplotlib.transforms import Affine2D

        size = look.SHOWN_DPI * look.DENSITY / POINTS_PER_INCH
        self.artist: Any = PathCollection(
            [_outline(0)],
            offsets=np.full((1, 2), np.nan),
            offset_transform=axes.transData,
            transform=Affine2D().scale(size),
            facecolors=colour,
            linewidths=0,
        )
        axes.add_collection(self.artist, autolim=False)
        # what stands here now
        self.values: list[int] = []
        self.places: list[tuple[float, float]] = []

    def set(self, values: Sequence[int], places_cm: Sequence[tuple[float, float]]) -> None:
        """Put numbers at places.

        values: the numbers; places_cm: of the middle of each one's foot, in the axes' data.
        """
        self.values, self.places = list(values), list(places_cm)
        self.artist.set_visible(bool(self.values))
        if self.values:
            self.artist.set_paths([_outline(value) for value in self.values])
            self.artist.set_offsets(np.array(self.places, dtype=float))


@lru_cache(maxsize=64)
def _letter(letter: str) -> Any:
    """One letter's outline in points, from where its line has come to."""
    from matplotlib.path import Path
    from matplotlib.textpath import TextPath

    made = TextPath((0, 0), letter, size=look.TEXT_PT)
    return Path(made.vertices, made.codes, readonly=True)


@lru_cache(maxsize=64)
def _advance_px(letter: str) -> float:
    """How far a letter moves its line on, in shown pixels: seen between two others."""
    between, without = (
        float(np.array(_letter(text).vertices)[:, 0].max()) for text in (f"0{letter}0", "00")
    )
    return (between - without) * look.SHOWN_DPI / POINTS_PER_INCH


def line_width_px(line: str) -> float:
    """How long a line of figures, signs and points is as it is drawn, in shown pixels.

    line: as it is written.

    >>> 25 < line_width_px("+0.5") < 40
    True
    """
    return sum(_advance_px(letter) for letter in line)


class Values:
    """Lines of figures with signs and points, each ending at its place; one artist for all.

    axes: to draw on, counted in shown pixels; colour: of the figures. `artist` is what moves.
    """

    def __init__(self, axes: Any, colour: str = look.TRUTH) -> None:
        from matplotlib.collections import PathCollection
        from matplotlib.transforms import Affine2D

        self.artist: Any = PathCollection(
            [_letter("0")],
            offsets=np.full((1, 2), np.nan),
            offset_transform=axes.transData,
            transform=Affine2D().scale(look.SHOWN_DPI * look.DENSITY / POINTS_PER_INCH),
            facecolors=colour,
            linewidths=0,
        )
        axes.add_collection(self.artist, autolim=False)
        # what stands here now
        self.lines: list[str] = []

    def set(self, lines: Sequence[str], places_px: Sequence[tuple[float, float]]) -> None:
        """Put lines so that each ends at its place.

        lines: of figures, signs and points; places_px: right end of each line's foot.
        """
        self.lines = list(lines)
        letters, starts = [], []
        for line, (right, foot) in zip(lines, places_px, strict=True):
            left = right - line_width_px(line)
            for letter in line:
                letters.append(_letter(letter))
                starts.append((left, foot))
                left += _advance_px(letter)
        self.artist.set_paths(letters)
        self.artist.set_offsets(np.array(starts))


def half_width_px(number: int) -> float:
    """Half the width of a number as it is drawn, in shown pixels.

    number: whole.

    >>> 10 < half_width_px(125) < 16
    True
    """
    corners = _outline(number).vertices[:, 0]
    return float(np.abs(corners).max()) * look.SHOWN_DPI / POINTS_PER_INCH
