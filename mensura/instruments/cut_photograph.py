"""A photograph of one cut with what gives it a size: a scale that lies on the cut.

It is what a camera and a hand bring home, and nothing is concluded in it yet. The one that is drawn
here is made up from an outline that is known, so that what is found in it can be checked.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mensura.checks import FloatArray, kept
from mensura.instruments.cut_end_photo import Correction, FoundOutline, outline_of_photograph
from mensura.instruments.drawn_photograph import filled_shares
from mensura.stems.outline import Outline

#: The made-up picture's side, and how much of it is ground at each edge.
_SIDE_PX, _MARGIN_PX = 600, 42
#: The scale: its length, how far it lies below the wood, how wide it is, and one of its fields.
SCALE_CM, _BELOW_CM, _WIDE_CM, _FIELD_CM = 40.0, 3.0, 0.8, 5.0
#: Red, green and blue of ground, sapwood, heartwood, rings, the crack and the scale's fields.
_GROUND = (74.0, 80.0, 78.0)
_SAPWOOD = (202.0, 178.0, 140.0)
_HEARTWOOD = (238.0, 218.0, 186.0)
_RING = (212.0, 188.0, 150.0)
_DARK = (58.0, 46.0, 38.0)
_FIELDS = ((245.0, 245.0, 245.0), (128.0, 140.0, 148.0))
#: Where the heartwood ends and the rings lie, as parts of the way from the pith.
_HEART, _RINGS = 0.85, (0.79, 0.69, 0.57, 0.44, 0.3, 0.16)
#: A crack in the heartwood, as parts of the section's height.
_CRACK = np.array([[-0.01, -0.015], [0.012, 0.007], [0.19, 0.27], [0.17, 0.275]])
#: The light at the upper left and at the lower right, and the lens's blur.
_LIGHT, _BLUR_PX = (1.04, 0.8), 0.9


@dataclass(frozen=True, eq=False)
class CutPhotograph:
    """A photograph of a cut with its scale.

    picture: levels of grey, or of red, green and blue, from 0 to 255; scale_cm: the scale's length;
    scale_px: its two ends, x1,y1,x2,y2, x to the right and y down.
    """

    picture: NDArray[Any]
    scale_cm: float
    scale_px: Any

    def found(
        self, threshold: float | None = None, corrections: Sequence[Correction] = ()
    ) -> FoundOutline:
        """The outline that is found in it.

        threshold: level between section and ground, from 0 to 255, found if None; corrections:
        pieces drawn by hand, added or cut. Raises PhotographError for what cannot be used.
        """
        return outline_of_photograph(
            self.picture,
            scale_cm=self.scale_cm,
            scale_px=self.scale_px,
            threshold=threshold,
            corrections=corrections,
        )


def made_up_photograph(outline: Outline) -> CutPhotograph:
    """A made-up photograph of a section: paler heartwood, a crack, a scale below it, uneven light.

    outline: of the section, in cm; one that is smaller than the scale is drawn as small as it is.

    >>> from mensura.stems import Ellipse
    >>> photo = made_up_photograph(Outline(Ellipse(50, 44).outline_cm()))
    >>> round(photo.found().outline.area_cm2 / Ellipse(50, 44).area_cm2, 2)
    1.0
    """
    from scipy import ndimage

    off = outline.outline_cm()
    off = off - (off.max(axis=0) + off.min(axis=0)) / 2
    # within the wood a coarser line does
    some = off[:: max(1, len(off) // 120)]
    high = 2 * float(off[:, 1].max())
    low = -high / 2 - _BELOW_CM
    tall = high + _BELOW_CM + _WIDE_CM
    room = max(2 * float(off[:, 0].max()), tall, SCALE_CM)
    view = _View((_SIDE_PX - 2 * _MARGIN_PX) / room, (_BELOW_CM + _WIDE_CM) / 2)
    picture = np.empty((_SIDE_PX, _SIDE_PX, 3))
    picture[:] = _GROUND
    _paint(picture, view.seen(off), _SAPWOOD)
    _paint(picture, view.seen(_HEART * some), _HEARTWOOD)
    for part in _RINGS:
        _paint(picture, view.seen(part * some), _RING)
        _paint(picture, view.seen((part - 0.009) * some), _HEARTWOOD)
    _paint(picture, view.seen(high * _CRACK), _DARK)
    half = SCALE_CM / 2
    for place, left in enumerate(np.arange(-half, half, _FIELD_CM)):
        right, foot = left + _FIELD_CM, low - _WIDE_CM
        field = np.array([[left, foot], [right, foot], [right, low], [left, low]])
        _paint(picture, view.seen(field), _FIELDS[place % 2])
    scale = view.seen(np.array([[-half, low], [half, low]]))
    rows, columns = np.mgrid[:_SIDE_PX, :_SIDE_PX] / (2 * _SIDE_PX)
    light = _LIGHT[0] + (_LIGHT[1] - _LIGHT[0]) * (rows + columns)
    picture = ndimage.gaussian_filter(picture * light[..., None], (_BLUR_PX, _BLUR_PX, 0))
    dots = np.clip(np.round(picture), 0, 255).astype(np.uint8)
    return CutPhotograph(kept(dots), SCALE_CM, kept(scale))


@dataclass(frozen=True)
class _View:
    """Where places of the cut lie in the picture. per_cm: dots; up_cm: by how much it is raised."""

    per_cm: float
    up_cm: float

    def seen(self, points_cm: FloatArray) -> FloatArray:
        """Places in the picture, shape (n, 2), x to the right and y down."""
        x, y = np.asarray(points_cm).T
        return np.asarray(np.stack([x, -(y + self.up_cm)], axis=-1) * self.per_cm + _SIDE_PX / 2)


def _paint(picture: FloatArray, points_px: FloatArray, colour: Sequence[float]) -> None:
    """Fill a closed line with a colour, its border dots in part."""
    share = filled_shares(points_px, picture.shape[:2])[..., None]
    picture += share * (np.array(colour) - picture)
