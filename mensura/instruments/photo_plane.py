"""From dots of a photograph to centimetres in the plane of the cut: by a scale, or by four marks.

A scale is two points a known length apart: right where the camera looked square at the cut. Four
marks, the corners of a rectangle lying in the plane of the cut, also undo the perspective of a
camera that did not. Neither knows of a lens that bends straight lines; none is undone here.

Places in a photograph are x to the right and y down, in px, the middle of the first dot at (0, 0).
Places in the plane are x to the right and y up, in cm.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import LARGEST_CM, FloatArray, MeasureError, kept, number

#: A scale shorter than this says nothing: a click is good to a dot or two.
LEAST_SCALE_PX = 10.0
#: Three marks nearer than that to one line, in parts of the way between the outer two, show no
#: corner.
_LEAST_CORNER = 0.02
#: Sides that differ from what was typed by more than the first, as a ratio, are refused if the
#: other reading of the two fits far better; by the others they are told, as a leaning camera may
#: foreshorten one: the last holds where the other reading fits far better.
_WRONG_SIDES, _ODD_SIDES, _DOUBTED_SIDES = 1.5, 1.25, 1.1
#: Far better: so small a part of the other's difference, as logarithms; first to refuse by.
_FAR_BETTER = (1 / 2, 1 / 3)


class PhotographError(MeasureError):
    """A photograph, or what was said of it, that cannot be used; told in one sentence.

    says: the whole sentence; field: what it was said of; value: what was given.

    >>> print(PhotographError("nothing stands out in the photograph; expected a cut end."))
    nothing stands out in the photograph; expected a cut end.
    """

    def __init__(self, says: str, field: str = "photograph", value: object = None) -> None:
        self.says = says
        self.field, self.value, self.unit, self.where = field, value, "", ""
        self.expectation = "a photograph of a whole cut end with a scale"
        ValueError.__init__(self, says)

    def sentence(self, field_name: str) -> str:
        """The sentence, opened by field_name if it was said of another field than the photograph.

        field_name: a command's option, say.
        """
        return f"{field_name}: {self.says}" if field_name != self.field else self.says


@dataclass(frozen=True, eq=False)
class Plane:
    """How places of a photograph lie in the plane of the cut.

    matrix: 3 × 3, takes (x, y, 1) in px to cm times a common factor.
    """

    matrix: Any

    def to_cm(self, points_px: ArrayLike) -> FloatArray:
        """Places in the plane, shape (n, 2), in cm.

        points_px: shape (n, 2) or (2,), in the photograph.
        """
        return _moved(np.asarray(self.matrix), points_px)

    def to_px(self, points_cm: ArrayLike) -> FloatArray:
        """Places in the photograph, shape (n, 2), in px.

        points_cm: shape (n, 2) or (2,), in the plane.

        >>> plane = plane_by_scale([[0, 0], [100, 0]], 50.0)
        >>> plane.to_px(plane.to_cm([20, 10])).tolist()
        [20.0, 10.0]
        """
        return _moved(np.linalg.inv(np.asarray(self.matrix)), points_cm)

    def shows(self, points_px: ArrayLike) -> bool:
        """Whether all places lie in the plane's same half, before the camera and not behind it.

        points_px: shape (n, 2), in the photograph.
        """
        row = np.asarray(self.matrix)[2]
        deep = np.asarray(points_px, dtype=np.float64) @ row[:2] + row[2]
        return bool(np.all(deep > 0) or np.all(deep < 0))

    def moved(self, origin_cm: ArrayLike) -> Plane:
        """The same plane with another place as its origin.

        origin_cm: that place, shape (2,), in the plane as it is.
        """
        x, y = np.asarray(origin_cm, dtype=np.float64)
        return Plane(kept(np.array([[1, 0, -x], [0, 1, -y], [0, 0, 1.0]]) @ self.matrix))


def plane_by_scale(
    scale_px: ArrayLike, scale_cm: float, shape_px: Sequence[int] | None = None
) -> Plane:
    """The plane of a camera that looked square at the cut.

    scale_px: the two ends of the scale, shape (2, 2) or (4,); scale_cm: how far they are apart,
    above 0; shape_px: rows and columns of the photograph, to refuse a scale outside it.
    Raises PhotographError, MeasureError.

    >>> plane_by_scale([[0, 0], [100, 0]], 50.0).to_cm([20, 10]).tolist()
    [10.0, -5.0]
    """
    ends = _marks(scale_px, 2, "scale_px", "the scale", shape_px)
    length_cm = float(number(scale_cm, "scale_cm", "cm", above=0.0, at_most=LARGEST_CM))
    length_px = float(np.hypot(*(ends[1] - ends[0])))
    if length_px < LEAST_SCALE_PX:
        long = f"{length_px:.3g} px long" if length_px else "of no length"
        raise PhotographError(
            f"the scale is {long} in the photograph; expected two ends at least "
            f"{LEAST_SCALE_PX:g} px apart.",
            "scale_px",
        )
    each_cm = length_cm / length_px
    return Plane(kept(np.diag([each_cm, -each_cm, 1.0])))


def plane_by_marks(
    marks_px: ArrayLike, marks_cm: ArrayLike, shape_px: Sequence[int] | None = None
) -> Plane:
    """The plane in which four marks are the corners of a rectangle, whatever way the camera looked.

    marks_px: the corners in order round the rectangle, shape (4, 2) or (8,); marks_cm: length of
    the side from the first to the second, and of the next side; shape_px: rows and columns of the
    photograph, to refuse marks outside it. Raises PhotographError, MeasureError.
    The eight unknowns of the map follow from the four places by linear equations (by hand).

    >>> plane = plane_by_marks([[0, 0], [100, 0], [90, 80], [10, 80]], [50, 40])
    >>> plane.to_cm([[100, 0], [90, 80]]).round(6).tolist()
    [[50.0, 0.0], [50.0, -40.0]]
    """
    marks = _marks(marks_px, 4, "marks_px", "the marks", shape_px)
    sides = number(marks_cm, "marks_cm", "cm", above=0.0, at_most=LARGEST_CM)
    wide, high = np.asarray(sides, dtype=np.float64).reshape(2)
    steps = np.roll(marks, -1, axis=0) - marks
    after = np.roll(steps, -1, axis=0)
    turns = steps[:, 0] * after[:, 1] - steps[:, 1] * after[:, 0]
    if np.hypot(*steps.T).min() < LEAST_SCALE_PX or not (np.all(turns > 0) or np.all(turns < 0)):
        raise PhotographError(
            "the four marks are no rectangle seen from anywhere; expected its corners in order, "
            f"at least {LEAST_SCALE_PX:g} px apart.",
            "marks_px",
        )
    across = np.roll(marks, -1, axis=0) - np.roll(marks, 1, axis=0)
    chord_px = np.hypot(*across.T)
    off_px = np.abs(turns[[3, 0, 1, 2]]) / chord_px
    flat = np.flatnonzero(off_px < np.maximum(LEAST_SCALE_PX, _LEAST_CORNER * chord_px))
    if flat.size:
        x, y = marks[flat[0]]
        raise PhotographError(
            f"the mark ({x:g}, {y:g}) lies {off_px[flat[0]]:.1f} px off the line through those "
            "beside it; expected the four corners of a rectangle.",
            "marks_px",
        )
    odd, better = _sides_off(marks, wide, high)
    if odd > np.log(_WRONG_SIDES) and better < odd * _FAR_BETTER[0]:
        raise PhotographError(
            f"{_seen_sides(marks)}, and that is no {wide:g}x{high:g} but rather {high:g}x{wide:g}: "
            "the first corner or the order seems wrong; expected the width's side from the first "
            "to the second.",
            "marks_px",
        )
    # y runs down in a photograph: corners that go round clockwise there lie below the first side
    down = -high if turns[0] > 0 else high
    corners = np.array([[0, 0], [wide, 0], [wide, down], [0, down]])
    rows, right = [], []
    for (x, y), (u, v) in zip(marks, corners, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        right += [u, v]
    matrix = np.append(np.linalg.solve(np.array(rows), np.array(right)), 1.0).reshape(3, 3)
    return Plane(kept(matrix))


def marks_notes(marks_px: ArrayLike, marks_cm: ArrayLike) -> tuple[str, ...]:
    """What is odd about four marks that were not refused, in sentences without their full stop.

    marks_px, marks_cm: as for :func:`plane_by_marks`. A camera that leans shortens one side, so
    that nothing is certain.

    >>> marks_notes([0, 0, 100, 0, 100, 80, 0, 80], [50, 40])
    ()
    >>> len(marks_notes([0, 0, 100, 0, 100, 80, 0, 80], [40, 45]))
    1
    """
    marks = np.asarray(marks_px, dtype=np.float64).reshape(4, 2)
    wide, high = np.asarray(marks_cm, dtype=np.float64).reshape(2)
    odd, better = _sides_off(marks, wide, high)
    doubted = odd > np.log(_DOUBTED_SIDES) and better < odd * _FAR_BETTER[1]
    if odd <= np.log(_ODD_SIDES) and not doubted:
        return ()
    return (
        f"{_seen_sides(marks)}, which does not look like {wide:g}x{high:g}: if the camera did not "
        "lean as much, the first corner, the order or a length is wrong",
    )


def _sides_off(marks: FloatArray, wide: float, high: float) -> tuple[float, float]:
    """How far the ratio of the sides seen is from what was typed, and from its reverse: logs."""
    seen, typed = np.log(np.divide(*_sides_px(marks))), np.log(wide / high)
    return float(abs(seen - typed)), float(abs(seen + typed))


def _sides_px(marks: FloatArray) -> FloatArray:
    """Mean lengths of the first and third side, and of the other two."""
    sides = np.hypot(*(np.roll(marks, -1, axis=0) - marks).T)
    return np.asarray((sides[:2] + sides[2:]) / 2)


def _seen_sides(marks: FloatArray) -> str:
    first, second = _sides_px(marks)
    return f"the marks are {first:.0f} by {second:.0f} px apart in the photograph"


def _moved(matrix: FloatArray, points: ArrayLike) -> FloatArray:
    places = np.asarray(points, dtype=np.float64)
    out = places @ matrix[:, :2].T + matrix[:, 2]
    return np.asarray(out[..., :2] / out[..., 2:])


def _marks(
    given: ArrayLike, count: int, field: str, name: str, shape_px: Sequence[int] | None
) -> FloatArray:
    places = np.asarray(number(given, field, "px"))
    if places.size != 2 * count:
        raise PhotographError(
            f"{name} needs {count} places of two numbers each, x and y in px; "
            f"got {places.size} numbers.",
            field,
        )
    places = places.reshape(count, 2)
    if shape_px is not None:
        high, wide = shape_px[:2]
        out = (places < -0.5) | (places > np.array([wide, high]) + 0.5)
        if out.any():
            x, y = places[int(np.argmax(out.any(axis=1)))]
            raise PhotographError(
                f"the place ({x:g}, {y:g}) lies outside the photograph of {wide} × {high} px; "
                f"expected {name} in it.",
                field,
            )
    return places
