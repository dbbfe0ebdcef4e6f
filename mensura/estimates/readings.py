"""The readings that a class brings home: one row a reading, kept as columns.

Codes of stems, hands and instruments are text; each column counts places in the list of its codes,
so that a hundred thousand readings are a few arrays. Nothing is corrected here.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mensura.checks import FloatArray

IntArray = NDArray[np.int64]

KINDS = ("girth", "diameter")


@dataclass(frozen=True)
class Readings:
    """A class's readings, one a place in every column.

    stems, hands, instruments, clerks: the codes, sorted, a clerk's "" where nobody is named; stem,
    hand, instrument, clerk: of each reading, its place in those; girth: whether it is a girth, else
    a diameter; direction_deg: clockwise from the mark on the stem, along the calipers' beam, nan
    where none is told; repeat: which one, from 1; reading_cm: as read, in cm; row: line of the
    file, the header being line 1.
    """

    stems: tuple[str, ...]
    hands: tuple[str, ...]
    instruments: tuple[str, ...]
    clerks: tuple[str, ...]
    stem: IntArray
    hand: IntArray
    instrument: IntArray
    clerk: IntArray
    girth: NDArray[np.bool_]
    direction_deg: FloatArray
    repeat: IntArray
    reading_cm: FloatArray
    row: IntArray

    def __len__(self) -> int:
        return int(self.reading_cm.size)
