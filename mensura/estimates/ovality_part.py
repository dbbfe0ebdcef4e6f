"""How much of the difference, tape less calipers, a stem's out-of-roundness alone explains.

A tape gives the mean of the widths over all directions (Cauchy); one reading of calipers is the
width in one direction, w(θ) = m + c·cos 2θ + s·sin 2θ as far as the second ripple goes. So the tape
exceeds it by −c·cos 2θ − s·sin 2θ, whatever the hands do. What other readings of the stem know of
m, c and s decides what can be said:

- three directions, or the longest way and across, give a figure;
- one pair at right angles gives c alone (turned to it): a figure along it, a range anywhere else,
  as wide as the stem could be out of round, which is an assumption and is said;
- the mean of a pair at right angles holds no second ripple: nothing is left to explain but what an
  ellipse adds in second order, a hair (and what a fourth ripple does, which no pair shows).

The second ripple alone is an approximation; the exact ellipse stands beside it, for which the
*squares* of the widths go as q + p·cos 2θ + r·sin 2θ. Closed forms; mean width [Cauchy1841].
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, MeasureError, diameter, number, plain
from mensura.estimates.cells import code_places
from mensura.estimates.readings import IntArray
from mensura.stems.ellipse import Ellipse

#: What a part of the stem's shape must be known by, in readings, to count as known.
KNOWN_READINGS = 0.25

#: Longer less shorter way, in per cent of the shorter: more is taken for no stem of the class's.
LARGEST_OUT_OF_ROUND_PERCENT = 20.0

#: What a page says of the mean of a pair.
OF_A_PAIR = (
    "The mean of two readings at right angles is nearly free of out-of-roundness: what a tape "
    "reads more or less than that mean is hardly the stem's oval shape."
)


@dataclass(frozen=True)
class OvalityPart:
    """What ovality explains of tape less calipers, for each reading.

    least_cm, greatest_cm: from and to, the same where it is a figure; ellipse_cm: the figure on an
    exact ellipse, nan where there is only a range; known: how many of mean, cos 2θ and sin 2θ the
    other readings give.
    """

    least_cm: FloatArray
    greatest_cm: FloatArray
    ellipse_cm: FloatArray
    known: IntArray

    @property
    def figure_cm(self) -> FloatArray:
        """The figure, nan where there is only a range."""
        same = self.greatest_cm - self.least_cm <= 1e-9
        return np.asarray(np.where(same, (self.least_cm + self.greatest_cm) / 2, np.nan))


def ovality_part_from_axes_cm(
    longest_cm: ArrayLike, across_cm: ArrayLike, off_axis_deg: ArrayLike
) -> tuple[Any, Any]:
    """Tape less one reading, from the longest way and the one across: by the ripple, and exact.

    longest_cm, across_cm: diameters of the stem, cm; off_axis_deg: direction of the reading from
    the longest; they broadcast. Returns −½(d₁ − d₂)·cos 2θ, an approximation, and girth/π less the
    width of the exact ellipse, both cm. Closed forms. Raises MeasureError.

    >>> ripple, ellipse = ovality_part_from_axes_cm(44, 40, [0, 45, 90])
    >>> ripple.round(3).tolist(), ellipse.round(3).tolist()
    ([-2.0, 0.0, 2.0], [-1.976, -0.024, 2.024])
    """
    first, second = diameter(longest_cm, "longest_cm"), diameter(across_cm, "across_cm")
    turn = np.radians(number(off_axis_deg, "off_axis_deg", "deg"))
    ripple = -(first - second) / 2 * np.cos(2 * turn)
    mean = np.asarray(Ellipse(first, second).taut_girth_cm) / np.pi
    return plain(ripple), plain(mean - _width_cm(first, second, turn))


def pair_part_cm(longest_cm: ArrayLike, across_cm: ArrayLike, off_axis_deg: ArrayLike) -> Any:
    """Tape less the mean of two readings at right angles on an exact ellipse, cm: nearly nothing.

    longest_cm, across_cm: diameters of the stem, cm; off_axis_deg: how far the pair is turned off
    them; they broadcast. The second ripple drops out of such a mean; what is left is of second
    order, from + to −(d₁ − d₂)²/8(d₁ + d₂) or so as the pair turns. Closed form. Raises
    MeasureError.

    >>> pair_part_cm(44, 40, [0, 22.5, 45]).round(3).tolist()
    [0.024, 0.0, -0.024]
    """
    first, second = diameter(longest_cm, "longest_cm"), diameter(across_cm, "across_cm")
    turn = np.radians(number(off_axis_deg, "off_axis_deg", "deg"))
    mean = np.asarray(Ellipse(first, second).taut_girth_cm) / np.pi
    one, two = (_width_cm(first, second, turn + quarter) for quarter in (0.0, np.pi / 2))
    return plain(mean - (one + two) / 2)


def ovality_parts(
    stem: ArrayLike,
    hand: ArrayLike,
    direction_deg: ArrayLike,
    width_cm: ArrayLike,
    largest_out_of_round_percent: float = LARGEST_OUT_OF_ROUND_PERCENT,
) -> OvalityPart:
    """What ovality explains of tape less each caliper reading, from other hands' readings.

    stem, hand: whole numbers from 0, of each reading; direction_deg: along the beam, from the mark
    on the stem, nan where none is told; width_cm: as read, cm; largest_out_of_round_percent: the
    assumption that bounds a range, of the shorter way, 0 to 100. A hand's own readings never
    explain themselves. Readings without a direction are explained by a range, and explain none.
    What less than a quarter of a reading would tell counts as unknown. A reading with its figure
    added is what a tape should give: the difference that is left is not the oval's. Raises
    MeasureError.

    >>> three = ovality_parts([0] * 4, [0, 0, 0, 1], [0, 60, 120, 90], [44.0, 41.0, 41.0, 40.1])
    >>> three.figure_cm.round(6).tolist()[3], int(three.known[3])
    (2.0, 3)
    >>> pair = ovality_parts([0] * 4, [0, 0, 1, 1], [0, 90, 0, 45], [44.0, 40.0, 43.9, 42.2])
    >>> pair.figure_cm.round(6).tolist()[2:], int(pair.known[3])
    ([-2.0, nan], 2)
    >>> pair.least_cm.round(2).tolist()[3], pair.greatest_cm.round(2).tolist()[3]
    (-3.26, 3.26)
    """
    width = np.atleast_1d(diameter(width_cm, "width_cm"))
    of_stem, of_hand = code_places(stem, "stem", width), code_places(hand, "hand", width)
    turn = np.radians(_directions(direction_deg, width))
    largest = float(
        number(
            largest_out_of_round_percent, "largest_out_of_round_percent", "%", at_least=0.0,
            at_most=100.0,
        )
    )  # fmt: skip
    told = np.isfinite(turn)
    rows = np.stack([np.ones_like(turn), np.cos(2 * turn), np.sin(2 * turn)], axis=-1)
    rows = np.where(told[:, None], rows, 0.0)
    _, cell = np.unique(of_stem * (int(of_hand.max()) + 1) + of_hand, return_inverse=True)
    cell = cell.reshape(-1)
    home = np.zeros(int(cell.max()) + 1, dtype=np.int64)
    home[cell] = of_stem
    knows = np.zeros((home.size, 3, 3))
    sees = np.zeros((home.size, 3, 2))
    np.add.at(knows, cell, rows[:, :, None] * rows[:, None, :])
    both = np.stack([width, np.square(width)], axis=-1)
    np.add.at(sees, cell, rows[:, :, None] * both[:, None, :])
    # what all hands know of the stem, less what this one does
    knows, sees = (_others(each, home) for each in (knows, sees))
    sizes = _others(np.bincount(cell, width)[:, None].astype(np.float64), home)[:, 0]
    counts = _others(np.bincount(cell).astype(np.float64)[:, None], home)[:, 0]
    with np.errstate(invalid="ignore", divide="ignore"):
        mean = np.where(counts > 0, sizes / counts, np.nan)[cell]
    mean = np.where(np.isfinite(mean), mean, width)
    reach = mean * largest / (200 + largest)
    values, vectors = np.linalg.eigh(knows)
    told_by = values >= KNOWN_READINGS
    inverse = np.where(told_by, 1 / np.where(told_by, values, 1.0), 0.0)
    shape = np.einsum("cij,cj,ckj,ckm->cim", vectors, inverse, vectors, sees)
    known = told_by.sum(axis=1)
    target = np.where(told[:, None], -rows * [0.0, 1.0, 1.0], 0.0)
    least, greatest = _range(
        target, shape[cell, :, 0], vectors[cell], told_by[cell], known[cell], reach, told
    )
    return OvalityPart(
        least, greatest, _on_ellipse(shape[cell, :, 1], known[cell], turn), known[cell]
    )


def _range(
    target: FloatArray, shape: FloatArray, vectors: FloatArray, told_by: Any, known: IntArray,
    reach: FloatArray, told: Any,
) -> tuple[FloatArray, FloatArray]:  # fmt: skip
    """Least and greatest of target·shape over all shapes that fit and are not too oval."""
    figure = (target * shape).sum(axis=1)
    hidden = np.where(told_by, 0.0, np.einsum("nij,ni->nj", vectors, target))
    sure = told & (np.abs(hidden).max(axis=1) < 1e-9)
    least, greatest = -reach, reach.copy()
    least, greatest = np.where(sure, figure, least), np.where(sure, figure, greatest)
    # of a known oval without a direction: anything from one end to the other
    oval = np.hypot(shape[:, 1], shape[:, 2])
    lost = ~told & (known == 3)
    least, greatest = np.where(lost, -oval, least), np.where(lost, oval, greatest)
    # one part unknown: along it until the stem would be too oval
    line = told & ~sure & (known == 2)
    along = vectors[:, :, 0]
    a = np.square(along[:, 1:]).sum(axis=1)
    b = (along[:, 1:] * shape[:, 1:]).sum(axis=1)
    c = oval**2 - reach**2
    with np.errstate(invalid="ignore", divide="ignore"):
        root = np.sqrt(np.maximum(b**2 - a * c, 0.0))
        rise = (target * along).sum(axis=1)
        ends = np.stack([figure + rise * (-b - root) / a, figure + rise * (-b + root) / a])
    least = np.where(line, ends.min(axis=0), least)
    return least, np.where(line, ends.max(axis=0), greatest)


def _on_ellipse(squares: FloatArray, known: IntArray, turn: FloatArray) -> FloatArray:
    """Tape less the width on the ellipse whose squared widths were fitted; nan where none was."""
    middle, swing = squares[:, 0], np.hypot(squares[:, 1], squares[:, 2])
    able = (known == 3) & (middle > swing) & np.isfinite(turn)
    answer = np.full(turn.size, np.nan)
    if able.any():
        longest, across = np.sqrt((middle + swing)[able]), np.sqrt((middle - swing)[able])
        mean = np.asarray(Ellipse(longest, across).taut_girth_cm) / np.pi
        here = squares[able, 1] * np.cos(2 * turn[able]) + squares[able, 2] * np.sin(2 * turn[able])
        answer[able] = mean - np.sqrt(middle[able] + here)
    return answer


def _others(each: FloatArray, home: IntArray) -> FloatArray:
    """For each cell, the sum of all cells of its stem but itself."""
    whole_ = np.zeros((int(home.max()) + 1, *each.shape[1:]))
    np.add.at(whole_, home, each)
    return np.asarray(whole_[home] - each)


def _directions(direction_deg: ArrayLike, width: FloatArray) -> FloatArray:
    turn = np.atleast_1d(np.asarray(direction_deg, dtype=np.float64))
    if turn.shape != width.shape:
        expected = f"one for each reading, {width.size} of them"
        raise MeasureError("direction_deg", int(turn.size), "", expected)
    if np.isinf(turn).any():
        raise MeasureError("direction_deg", float("inf"), "deg", "a finite number, or nan")
    return turn


def _width_cm(first: Any, second: Any, turn: Any) -> Any:
    return np.sqrt(np.square(first * np.cos(turn)) + np.square(second * np.sin(turn)))
