"""Twelve stems in their ground, each with the band where it is measured.

Every stem is a :class:`StemInSpace` and is drawn from the side as it stands; the band and the stick
are where the package itself puts them. The rules are those the workbook follows where manuals
differ; which manual says what is told beside the picture, not in it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from mensura.checks import FloatArray, number
from mensura.estimates.tree_volume import BREAST_M
from mensura.stems import (
    Buttress,
    Fork,
    StemInSpace,
    Swelling,
    band_line_m,
    leg_lines_m,
    side_view,
    stick_m,
)
from mensura.views.kit import look, sketch
from mensura.views.kit.live import Picture, Still, draw_still
from mensura.views.kit.parts import Part, part

#: Dots of a metre; how far up stems are drawn, m; half a cell's ground, m.
_PER_M, _TOP_M, _HALF_M = 76.0, 2.2, 1.24
#: A cell, its title above and its words below.
_WIDE_PX, _HIGH_PX, _TITLE_PX, _WORDS_PX = 215, 278, 26, 44
_KEY_PX = 30


@dataclass(frozen=True)
class Stand:
    """One stem with the place where it is measured.

    title, words: above and below it; stems: from left to right; feet_m: their feet's places;
    heights_m: of the bands on each stem, above the ground on a side, () for breast height; side,
    above: where the stick stands; usual: whether that height is breast height, so that a stick is
    drawn; away_cm: how far it stands off the stem; roots_m: heights along the stem at which stilt
    roots leave it.
    """

    title: str
    words: str
    stems: tuple[StemInSpace, ...]
    feet_m: tuple[float, ...] = (0.0,)
    heights_m: tuple[float, ...] = ()
    side: str = "uphill"
    above: str = "soil"
    usual: bool = True
    away_cm: float = 9.0
    roots_m: tuple[float, ...] = ()


def _shoot(lean_deg: float, diameter_cm: float, at_m: float) -> StemInSpace:
    towards = 0.0 if lean_deg >= 0 else 180.0
    return StemInSpace(diameter_cm, at_m, 2.0, abs(lean_deg), towards)


def stands(breast_height_m: float = BREAST_M) -> tuple[Stand, ...]:
    """The twelve stems, for a breast height.

    breast_height_m: from 1 to 1.6.

    >>> stands(1.37)[4].title
    'Fork below 1.37 m'
    """
    at = float(number(breast_height_m, "breast_height_m", "m", at_least=1.0, at_most=1.6))
    told = f"{at:.2f} m"
    return (
        Stand("Slope", "from the uphill side", (StemInSpace(38, at, 2, slope_deg=20),)),
        Stand(
            "Lean",
            "along the upper side,\nband square to the stem",
            (StemInSpace(38, at, 2, lean_deg=18),),
            (-0.3,),
            side="upper",
        ),
        Stand(
            "Lean on a slope",
            "along the uphill side,\nband square to the stem",
            (StemInSpace(38, at, 2, lean_deg=14, slope_deg=12),),
            (-0.3,),
        ),
        Stand(
            "Swelling",
            "as far above as below it:\ntake the mean",
            (StemInSpace(36, at, 2, swelling=Swelling(at, 26, 0.28)),),
            heights_m=(at - 0.35, at + 0.35),
            usual=False,
        ),
        Stand(
            f"Fork below {told}",
            "two stems, a band each,\nsquare to its own leg",
            (StemInSpace(40, 0.5, 2, fork=Fork(0.6, (25, 22), 2, (9, 11))),),
            away_cm=26.0,
        ),
        Stand(
            f"Fork at {told}",
            "one stem: lower, where the\nfork does not swell it",
            (StemInSpace(40, at - 0.3, 2, fork=Fork(at, (25, 22), 2, (9, 11))),),
            heights_m=(at - 0.3,),
            usual=False,
        ),
        Stand(
            f"Fork above {told}",
            f"one stem, at {told}",
            (StemInSpace(40, at, 2, fork=Fork(at + 0.45, (25, 22), 2, (9, 11))),),
        ),
        Stand(
            "Coppice",
            f"each shoot a stem,\nat {told} along it",
            (_shoot(-14, 17, at), _shoot(3, 20, at), _shoot(17, 15, at)),
            (-0.2, 0.0, 0.2),
        ),
        Stand(
            "Buttress",
            "50 cm above where it ends:\nnote the height",
            (StemInSpace(44, 2.0, 2, buttress=Buttress(4, 48, 1.5)),),
            heights_m=(2.0,),
            usual=False,
        ),
        Stand(
            "Stilt roots",
            "above the highest root:\nnote the height",
            (StemInSpace(26, 1.8, 1),),
            heights_m=(1.8,),
            usual=False,
            roots_m=(0.7, 1.1, 1.5),
        ),
        Stand(
            "Litter",
            "push it aside: measure\nfrom the soil",
            (StemInSpace(38, at, 2, litter_cm=20),),
        ),
        Stand(
            "Raised roots",
            "from where roots end and\nthe stem begins",
            (StemInSpace(36, at + 0.4, 2, roots_cm=42),),
            above="roots",
        ),
    )


class Situations(Picture[None]):
    """The twelve of them, four in a row; nothing moves.

    breast_height_m: at which a stem is measured where nothing hinders.
    """

    width_px = 4 * _WIDE_PX

    def __init__(self, breast_height_m: float = BREAST_M) -> None:
        super().__init__()
        self.stands, self.breast_m = stands(breast_height_m), breast_height_m
        self.rows = -(-len(self.stands) // 4)
        self.height_px = self.rows * _HIGH_PX + _KEY_PX

    def draw(self, figure: Any) -> None:
        """Every stem on `figure`, and the key."""
        page = look.place(figure, 0, 0, self.width_px, self.height_px)
        page.set(xlim=(0, self.width_px), ylim=(0, self.height_px))
        page.axis("off")
        for place, stand in enumerate(self.stands):
            row, column = divmod(place, 4)
            low = self.height_px - (row + 1) * _HIGH_PX
            _Cell(page, place + 1, stand, column * _WIDE_PX, low, self.breast_m).draw()
        y = 14
        page.plot([8, 40], [y, y], color=look.TAPE, lw=4, solid_capstyle="butt")
        sketch.words(page, (48, y), "band", va="center_baseline")
        sketch.measure(page, (108, y), (150, y))
        sketch.words(page, (156, y), f"stick, {self.breast_m:.2f} m", va="center_baseline")
        page.plot([278, 318], [y, y], color=look.QUIET, lw=1.6, ls=(0, (2, 2)))
        sketch.words(page, (326, y), f"{self.breast_m:.2f} m", va="center_baseline")

    def parts(self) -> tuple[Part, ...]:
        """Two stems that are looked at together, and the key."""
        cuts = [self.height_px - (row + 1) * _HIGH_PX for row in range(self.rows)]
        *rows, below = self.whole.cut_y(*cuts)
        key, _ = below.cut_x(2 * _WIDE_PX)
        found = []
        for row, box in enumerate(rows):
            for half, pair in enumerate(box.cut_x(2 * _WIDE_PX)):
                first = 4 * row + 2 * half
                found.append(part(f"{first + 1} and {min(first + 2, len(self.stands))}", pair, key))
        return tuple(found)

    def show(self, numbers: None) -> None:
        """Nothing moves; `numbers` is None."""

    def describe(self, numbers: None) -> str:
        """The picture in words; `numbers` is None."""
        told = "; ".join(
            f"{place}, {one.title.lower()}: {' '.join(one.words.split())}"
            for place, one in enumerate(self.stands, 1)
        )
        return (
            f"{len(self.stands)} stems from the side, each in its ground with a band where it is "
            f"measured, and beside it a stick of {self.breast_m:.2f} m where that is its height. "
            f"{told}."
        )


class _Cell:
    """One stem, its title and its words."""

    def __init__(
        self, page: Any, place: int, stand: Stand, left_px: float, low_px: float, breast_m: float
    ) -> None:
        self.page, self.number, self.stand = page, place, stand
        self.left_px, self.low_px, self.breast_m = left_px, low_px, breast_m

    def px(self, points_m: FloatArray, foot_m: float = 0.0) -> FloatArray:
        """Points of a stem's own picture as dots of the page."""
        first = self.stand.stems[0]
        # the soil's lower end lies at the foot of the room for the stem
        fall = float(np.tan(np.radians(first.slope_deg)))
        start = [self.left_px + _WIDE_PX / 2, self.low_px + _WORDS_PX + 10]
        moved = np.asarray(points_m) + np.array([foot_m, (0.92 * _HALF_M - foot_m) * fall])
        return np.asarray(moved * _PER_M + start)

    def draw(self) -> None:
        stand, page = self.stand, self.page
        high = self.low_px + _HIGH_PX
        sketch.title(page, (self.left_px + 8, high - 14), f"{self.number} {stand.title}")
        for line, words in enumerate(stand.words.split("\n")):
            place = (self.left_px + 8, self.low_px + _WORDS_PX - 13 - 19 * line)
            sketch.words(page, place, words, va="center_baseline")
        self._soil()
        for stem, foot_m in zip(stand.stems, stand.feet_m, strict=True):
            self._stem(stem, foot_m)
        if stand.stems[0].litter_cm:
            self._litter(stand.stems[0])

    def _soil(self) -> None:
        soil = self.px(side_view(self.stand.stems[0], half_width_m=_HALF_M).soil_m)
        low = self.low_px + _WORDS_PX
        # as far as the cell, and no lower than its words
        left, right = self.left_px + 8, self.left_px + _WIDE_PX - 8
        ends = np.interp([left, right], soil[:, 0], soil[:, 1])
        steep = (soil[1, 1] - soil[0, 1]) / (soil[1, 0] - soil[0, 0])
        if ends[1] < low + 6:
            right = soil[0, 0] + (low + 6 - soil[0, 1]) / steep
            ends = np.array([ends[0], low + 6])
        corners = [(left, low), (left, ends[0]), (right, ends[1]), (right, low)]
        self.page.fill(*np.array(corners).T, fc=look.GROUND, ec="none", zorder=1.5)
        self.page.plot([left, right], ends, color=look.QUIET, lw=1.4, zorder=2.5)

    def _stem(self, stem: StemInSpace, foot_m: float) -> None:
        stand, page = self.stand, self.page
        view = side_view(stem, to_m=_TOP_M, half_width_m=_HALF_M)
        for root_m in stand.roots_m:
            self._stilt(stem, root_m, foot_m)
        for line in view.roots_m:
            self._root(self.px(line, foot_m))
        for outline in view.stems_m:
            page.fill(*self.px(outline, foot_m).T, fc=look.WOOD, ec=look.BARK, lw=1.4, zorder=2)
        if not stand.usual:
            dotted = self.px(band_line_m(stem, stem.along_m(self.breast_m)), foot_m)
            dotted = dotted + np.array([[-14.0, 0.0], [14.0, 0.0]])
            page.plot(*dotted.T, color=look.QUIET, lw=1.6, ls=(0, (2, 2)), zorder=4)
        for height_m in stand.heights_m or (self.breast_m,):
            place = stem.along_m(height_m, stand.side, above=stand.above)
            for line in leg_lines_m(stem, place):
                self._band(self.px(line, foot_m))
        if stand.usual and foot_m == stand.feet_m[0]:
            stick = stick_m(
                stem, self.breast_m, stand.side, above=stand.above, away_cm=stand.away_cm
            )
            foot, top = (tuple(end) for end in self.px(stick, foot_m))
            sketch.measure(page, foot, top)

    def _band(self, line_px: FloatArray) -> None:
        """The near half of a band: a shallow bow from edge to edge."""
        turn = np.linspace(0.0, np.pi, 24)
        start, end = line_px
        along = (end - start) / 2
        down = np.array([along[1], -along[0]]) / np.hypot(*along)
        bow = (start + end) / 2 - np.outer(np.cos(turn), along * 1.03)
        sketch.band(self.page, bow + np.outer(4.0 * np.sin(turn), down), lw=4)

    def _stilt(self, stem: StemInSpace, root_m: float, foot_m: float) -> None:
        """A pair of roots that leave the stem and bow down into the soil."""
        for way in (-1.0, 1.0):
            turn = np.linspace(0.0, np.pi / 2, 24)
            reach = 0.5 * root_m
            x = way * (stem.diameter_cm / 200 - 0.03 + reach * np.sin(turn))
            self._root(self.px(np.stack([x, root_m * np.cos(turn)], axis=-1), foot_m))

    def _root(self, line_px: FloatArray) -> None:
        self.page.plot(*line_px.T, color=look.BARK, lw=7, solid_capstyle="butt", zorder=1)
        self.page.plot(*line_px.T, color=look.WOOD, lw=4.4, solid_capstyle="butt", zorder=1.2)

    def _litter(self, stem: StemInSpace) -> None:
        """A layer on the soil, pushed aside where the stick stands."""
        thick = stem.litter_cm / 100 * _PER_M
        left, right = self.left_px + 8, self.left_px + _WIDE_PX - 8
        foot = self.px(np.array([[-stem.diameter_cm / 200, 0.0]]))[0]
        for start, end in ((left, foot[0] - 18), (foot[0] + 2, right)):
            x = np.linspace(start, end, 40)
            heap = thick * np.clip(np.minimum(x - start + 8, end - x) / 10, 0, 1) ** 0.5
            if start > left:
                heap = np.full_like(x, thick)
            self.page.fill_between(x, foot[1], foot[1] + heap, fc=look.BARK_FILL, ec=look.BARK,
                                   lw=1, zorder=3)  # fmt: skip


def situations(breast_height_m: float = BREAST_M) -> Still:
    """Twelve stems, each with the band where it is measured.

    breast_height_m: from 1 to 1.6.

    >>> "uphill" in situations().alt
    True
    """
    return draw_still(Situations(breast_height_m), None)
