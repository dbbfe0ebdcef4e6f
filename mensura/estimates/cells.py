"""Readings by hand and stem: what one hand read on one stem with one kind of instrument is a cell.

Of each cell that holds anything its count, mean and sum of squares about that mean are kept, sorted
by stem, so that a hundred thousand readings of a thousand stems stay a few short columns. Readings
are taken less their common mean before anything is squared: figures that differ in their last
places only lose none.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mensura.checks import FloatArray, MeasureError, number
from mensura.estimates.readings import IntArray


@dataclass(frozen=True)
class Cells:
    """Cells with a reading in them, by stem and then by hand.

    hand, stem: places in the lists of hands and stems; count: readings in each; mean_cm: of them;
    squares_cm2: sum of squares about that mean; hands, stems: how long those lists are; cell: of
    each reading, the cell it lies in.
    """

    hand: IntArray
    stem: IntArray
    count: IntArray
    mean_cm: FloatArray
    squares_cm2: FloatArray
    hands: int
    stems: int
    cell: IntArray

    def over_stems(self, values: ArrayLike) -> FloatArray:
        """Sum of something of each cell over the cells of each stem.

        values: one for each cell, in any unit, which is the result's too.
        """
        sums = np.bincount(self.stem, np.asarray(values, dtype=np.float64), self.stems)
        return sums.astype(np.float64, copy=False)

    def only(self, keep: NDArray[np.bool_]) -> Cells:
        """Some of the cells, as if the others were empty.

        keep: for each cell, whether it stays. The places of readings are not carried on.
        """
        return Cells(
            self.hand[keep],
            self.stem[keep],
            self.count[keep],
            self.mean_cm[keep],
            self.squares_cm2[keep],
            self.hands,
            self.stems,
            np.zeros(0, dtype=np.int64),
        )


def into_cells(hand: ArrayLike, stem: ArrayLike, reading_cm: ArrayLike) -> Cells:
    """Readings put into cells.

    hand, stem: whole numbers from 0, places in the lists of hands and stems; reading_cm: finite,
    cm (or per cent of the stem's size: then whatever follows is in per cent too); all of one
    length. Raises MeasureError.

    >>> table = into_cells([0, 0, 1, 1], [0, 0, 0, 1], [30.0, 30.4, 31.0, 44.0])
    >>> table.count.tolist(), table.mean_cm.round(6).tolist()
    ([2, 1, 1], [30.2, 31.0, 44.0])
    >>> table.squares_cm2.round(6).tolist()
    [0.08, 0.0, 0.0]
    """
    reading = np.atleast_1d(number(reading_cm, "reading_cm", "cm"))
    of_hand, of_stem = code_places(hand, "hand", reading), code_places(stem, "stem", reading)
    if reading.size == 0:
        raise MeasureError("reading_cm", 0, "", "one reading or more")
    hands, stems = int(of_hand.max()) + 1, int(of_stem.max()) + 1
    found, cell, count = np.unique(
        of_stem * hands + of_hand, return_inverse=True, return_counts=True
    )
    cell = cell.reshape(-1)
    middle = reading.mean()
    away = reading - middle
    mean = np.bincount(cell, away, found.size) / count
    squares = np.bincount(cell, np.square(away - mean[cell]), found.size).astype(np.float64)
    return Cells(
        found % hands,
        found // hands,
        count.astype(np.int64),
        middle + mean,
        squares,
        hands,
        stems,
        cell.astype(np.int64),
    )


def code_places(given: ArrayLike, field: str, like: Any) -> IntArray:
    """Places in a list of codes, checked: whole numbers from 0, as many as there are readings.

    given: what was given; field: its name; like: an array of the length that is wanted.
    """
    array = np.atleast_1d(np.asarray(given))
    if array.dtype.kind not in "iu" and array.size:
        raise MeasureError(field, given, "", "whole numbers from 0, places in a list of codes")
    if array.shape != like.shape:
        raise MeasureError(field, int(array.size), "", f"one for each reading, {like.size} of them")
    if array.size and array.min() < 0:
        raise MeasureError(field, int(array.min()), "", "whole numbers from 0")
    return array.astype(np.int64)
