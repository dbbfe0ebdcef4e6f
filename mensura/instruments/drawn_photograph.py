"""Made-up photographs of a made-up cut end, one for each thing that spoils such a picture.

Every picture is drawn from one oval whose size is known, so that what a spoilt picture does to the
figures can be told to the digit. No picture shows a real tree, and the sizes of the faults are
examples, not measured ones.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mensura.checks import FloatArray, kept
from mensura.instruments.cut_end_photo import Correction, FoundOutline, outline_of_photograph
from mensura.stems.ellipse import Ellipse
from mensura.stems.hulls import hull_points_cm
from mensura.stems.outline import Outline

#: The picture's size; dots to the cm in the plane of the cut; where the cut's middle lies.
SIZE_PX = (420, 420)
PER_CM = 7.0
_MIDDLE_PX = (210.0, 195.0)
#: Levels of wood, ground and scale, and the noise of the camera, in grey levels.
_WOOD, _GROUND, _SCALE, _NOISE = 188.0, 74.0, 235.0, 6.0
#: The scale's length, and how far below the cut's middle it lies.
SCALE_CM, _SCALE_DOWN_CM = 30.0, 23.5
#: How far the camera stands off, how far nearer to it the scale lies where it is off the plane,
#: and by how much the camera leans where it does.
CAMERA_CM, NEARER_CM, LEAN_DEG = 150.0, 12.0, 15.0
#: By how much a bent lens draws in a place so far from the middle of the picture.
BENT_PERCENT, BENT_AT_CM = -2.0, 18.0


@dataclass(frozen=True, eq=False)
class SpoiltPhotograph:
    """One made-up picture and what is true of it.

    name: what spoils it; why: what that does, in a sentence; remedy: what to do, in a sentence;
    picture: grey levels; true: the section; scale_px: the two ends of the scale of SCALE_CM, as a
    hand would click them; marks_cm, marks_px: of a rectangle in the plane, or None; corrections:
    what a careful hand would draw.
    """

    name: str
    why: str
    remedy: str
    picture: NDArray[np.uint8]
    true: Outline
    scale_px: FloatArray
    marks_cm: tuple[float, float] | None = None
    marks_px: Any = None
    corrections: tuple[Correction, ...] = ()

    def found(self) -> FoundOutline:
        """What is found in it by the scale alone, with nothing put right."""
        return outline_of_photograph(self.picture, scale_cm=SCALE_CM, scale_px=self.scale_px)

    def put_right(self) -> FoundOutline | None:
        """What is found with marks or corrections; None where the picture has to be taken anew."""
        if self.marks_px is not None:
            return outline_of_photograph(
                self.picture, marks_cm=self.marks_cm, marks_px=self.marks_px
            )
        if not self.corrections:
            return None
        return outline_of_photograph(
            self.picture,
            scale_cm=SCALE_CM,
            scale_px=self.scale_px,
            corrections=self.corrections,
        )


def filled_shares(points_px: FloatArray, shape_px: Sequence[int]) -> FloatArray:
    """How much of each dot of a picture lies inside a closed line: exact along rows.

    points_px: shape (n, 2), x to the right, y down, dots' middles at whole numbers; shape_px: rows
    and columns. Each row is looked at in eight lines; a line's own part of a dot is exact.

    >>> box = np.array([[0.5, 0.5], [2.0, 0.5], [2.0, 1.5], [0.5, 1.5]])
    >>> filled_shares(box, (3, 4))[1].tolist()
    [0.0, 1.0, 0.5, 0.0]
    """
    rows, columns = shape_px
    shares = np.zeros((rows, columns + 1))
    after = np.roll(points_px, -1, axis=0)
    for line in range(8):
        level = np.arange(rows) + (line + 0.5) / 8 - 0.5
        low = np.minimum(points_px[:, 1], after[:, 1])[:, None]
        high = np.maximum(points_px[:, 1], after[:, 1])[:, None]
        edge, row = np.nonzero((low <= level) & (level < high))
        start, end = points_px[edge], after[edge]
        x = start[:, 0] + (end[:, 0] - start[:, 0]) * (level[row] - start[:, 1]) / (
            end[:, 1] - start[:, 1]
        )
        way = np.sign(end[:, 1] - start[:, 1])
        place = np.clip(x + 0.5, 0, columns - 1e-9)
        dot = place.astype(int)
        # right of a crossing all is inside or outside; of the dot it crosses, what lies right of it
        np.add.at(shares, (row, dot), way * (dot + 1 - place))
        np.add.at(shares, (row, dot + 1), way * (place - dot))
    return np.asarray(np.abs(np.cumsum(shares, axis=1)[:, :columns]) / 8)


def spoilt_photographs() -> tuple[SpoiltPhotograph, ...]:
    """Made-up pictures of one cut: a good one first, then one for each thing that spoils it.

    >>> [one.name for one in spoilt_photographs()][:2]
    ['a good photograph', 'a scale nearer than the cut']
    """
    true = Outline(Ellipse(38.0, 34.0).outline_cm())
    half = SCALE_CM / 2
    along = np.linspace(-half, half, 13)
    scale = np.stack([along, np.full_like(along, -_SCALE_DOWN_CM)], axis=-1)
    near = CAMERA_CM / (CAMERA_CM - NEARER_CM)
    edge = true.outline_cm()
    corners = np.array([[-21.0, 21.0], [21.0, 21.0], [21.0, -21.0], [-21.0, -21.0]])
    groove = np.array([[8.0, -20.0], [12.0, -20.0], [12.0, -3.0], [8.0, -3.0]])
    x, y = edge.T
    sap = np.arctan2(y, x)
    dark = (sap > 0.4) & (sap < 1.5)
    inner = edge * np.where(dark, 0.88, 1.0)[:, None]
    patch = np.vstack([edge[dark], edge[dark][::-1] * 0.8])
    # the far end of a log seen past the near one: the cut's rim and a strip of the log's side
    side = np.vstack([edge, edge * 0.985 + np.array([1.6, 0.0])])
    return (
        SpoiltPhotograph(
            "a good photograph",
            "Camera square to the cut, scale in its plane, even ground.",
            "Nothing to put right.",
            _picture(edge, scale),
            true,
            _seen(scale[[0, -1]]),
        ),
        SpoiltPhotograph(
            "a scale nearer than the cut",
            f"A scale {NEARER_CM:g} cm nearer to a camera {CAMERA_CM:g} cm away looks longer, so "
            "the cut seems smaller.",
            "Lay the scale in the plane of the cut and take the photograph again.",
            _picture(edge, scale * near),
            true,
            _seen(scale[[0, -1]] * near),
        ),
        SpoiltPhotograph(
            "a camera that leans",
            f"A camera that leans {LEAN_DEG:g}° shortens one way of the cut and not the other.",
            "Mark the four corners of a rectangle in the plane of the cut.",
            _picture(edge, scale, LEAN_DEG),
            true,
            _seen(scale[[0, -1]], LEAN_DEG),
            (42.0, 42.0),
            _seen(corners, LEAN_DEG),
        ),
        SpoiltPhotograph(
            "parallax: the log's side is seen",
            "A camera beside the axis sees a strip of the log's side as if it were cut.",
            "Cut the strip off by hand, or stand in the axis and take the photograph again.",
            _picture(hull_points_cm(side), scale),
            true,
            _seen(scale[[0, -1]]),
            corrections=(Correction("cut", _strip(edge)),),
        ),
        SpoiltPhotograph(
            "a saw mark",
            "A dark groove that runs out at the edge is taken for ground.",
            "Add the groove by hand.",
            _picture(edge, scale, dark=groove),
            true,
            _seen(scale[[0, -1]]),
            corrections=(Correction("add", _seen(_within(groove, edge))),),
        ),
        SpoiltPhotograph(
            "sapwood of the ground's colour",
            "Sapwood as dark as the ground is lost from the edge.",
            "Draw the lost piece by hand, or lay a sheet of another colour behind the cut.",
            _picture(inner, scale),
            true,
            _seen(scale[[0, -1]]),
            corrections=(Correction("add", _seen(patch)),),
        ),
        SpoiltPhotograph(
            "a lens that bends",
            f"A lens that draws in the cut's edge by {-BENT_PERCENT:g} % draws in a scale further "
            "out by more, so the cut seems larger.",
            "Stand off and zoom in, cut and scale in the picture's middle.",
            _picture(_bent(edge), _bent(scale)),
            true,
            _seen(_bent(scale[[0, -1]])),
        ),
    )


def _bent(points_cm: FloatArray) -> FloatArray:
    """Where a lens draws places of the plane, by r·(1 + k·r²) about the picture's middle."""
    bend = BENT_PERCENT / 100 / BENT_AT_CM**2
    apart = np.square(points_cm).sum(axis=-1, keepdims=True)
    return np.asarray(points_cm * (1 + bend * apart))


def _seen(points_cm: FloatArray, lean_deg: float = 0.0) -> FloatArray:
    """Where places of the plane lie in the picture of a camera that leans to one side."""
    lean = np.radians(lean_deg)
    x, y = np.asarray(points_cm).T
    nearer = CAMERA_CM / (CAMERA_CM + x * np.sin(lean))
    places = np.stack([x * np.cos(lean) * nearer, -y * nearer], axis=-1)
    return kept(places * PER_CM + np.array(_MIDDLE_PX))


def _picture(
    edge_cm: FloatArray,
    scale_cm: FloatArray,
    lean_deg: float = 0.0,
    dark: FloatArray | None = None,
) -> NDArray[np.uint8]:
    from scipy import ndimage

    wide = np.array([0.0, 0.45])
    bar = np.vstack([scale_cm + wide, scale_cm[::-1] - wide])
    share = filled_shares(_seen(edge_cm, lean_deg), SIZE_PX)
    if dark is not None:
        share = share * (1 - filled_shares(_seen(dark, lean_deg), SIZE_PX))
    light = _GROUND + (_WOOD - _GROUND) * share
    light += (_SCALE - _GROUND) * filled_shares(_seen(bar, lean_deg), SIZE_PX)
    light = ndimage.gaussian_filter(light, 0.9)
    light += _NOISE * np.random.default_rng(7).standard_normal(light.shape)
    return kept(np.clip(np.round(light), 0, 255).astype(np.uint8))


def _strip(edge_cm: FloatArray) -> FloatArray:
    """A crescent outside the edge on the side where the log's side is seen, in the picture."""
    turn = np.radians(np.linspace(-92, 92, 120))
    a, b = edge_cm[:, 0].max(), edge_cm[:, 1].max()
    near = np.stack([a * np.cos(turn), b * np.sin(turn)], axis=-1)
    far = np.stack([a + 6 + 0 * turn, np.linspace(-b - 1, b + 1, 120)], axis=-1)
    return _seen(np.vstack([near, far[::-1]]))


def _within(piece_cm: FloatArray, edge_cm: FloatArray) -> FloatArray:
    import shapely

    both = shapely.intersection(shapely.polygons(piece_cm), shapely.polygons(edge_cm))
    return np.asarray(shapely.get_coordinates(both)[:-1])
