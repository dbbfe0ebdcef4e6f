"""Calipers of a class in many directions: each stem's oval fitted with what every hand read there.

The fit serves a pair of calipers if hands read stems more than once with it, in directions that are
told, and hardly ever twice in the same one: such repeats need no oval.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from mensura.checks import FloatArray
from mensura.estimates.cells import Cells, into_cells
from mensura.estimates.oval_spreads import OvalSpreads, oval_spreads
from mensura.estimates.precision import Precision, class_precision
from mensura.estimates.readings import IntArray, Readings
from mensura.estimates.size_law import fit_size_law

#: Of an instrument's readings, at least: with a direction, or sharing one with another.
SHARED = 0.5
#: Of more instruments than this no ovals are fitted: a class, not a country.
MOST_FITTED = 400


class FittedOvals:
    """Ovals and cells of all calipers with told directions, fitted at once.

    readings: of a class; usable: which of them count.
    """

    def __init__(self, readings: Readings, usable: NDArray[np.bool_]) -> None:
        self.readings = readings
        self.told = usable & ~readings.girth & np.isfinite(readings.direction_deg)
        self.round_cm: FloatArray = np.full(len(readings), np.nan)
        self.found: OvalSpreads | None = None
        at = np.flatnonzero(self.told)
        if at.size and len(readings.instruments) <= MOST_FITTED:
            self.found = oval_spreads(
                readings.stem[at],
                readings.hand[at],
                readings.instrument[at],
                readings.direction_deg[at],
                readings.reading_cm[at],
            )
            self.round_cm[at] = self.found.round_cm

    def serves(self, at: IntArray) -> IntArray | None:
        """The readings of one pair of calipers that the fit tells of, None where it serves none.

        at: places of all its readings.
        """
        readings, own = self.readings, at[self.told[at]]
        if self.found is None or not own.size or own.size < SHARED * at.size:
            return None
        if self.found.freedom[readings.instrument[own[0]]] < 1:
            return None
        cell = readings.stem[own] * len(readings.hands) + readings.hand[own]
        turn = np.round(readings.direction_deg[own]).astype(np.int64) % 180
        _, count = np.unique(cell * 180 + turn, return_counts=True)
        return None if count[count > 1].sum() >= SHARED * at.size else own

    def table(self, at: IntArray) -> Cells:
        """Cells of round stems, their squares as if the fit had used none of them up.

        at: places of one instrument's readings that it serves.
        """
        hand, stem = (
            np.unique(each[at], return_inverse=True)[1].reshape(-1)
            for each in (self.readings.hand, self.readings.stem)
        )
        table = into_cells(hand, stem, self.round_cm[at])
        free = self._stem_freedom(at)
        whole = table.over_stems(table.count - 1)
        scale = np.where(free > 0, whole / np.where(free > 0, free, 1.0), 0.0)
        return replace(table, squares_cm2=table.squares_cm2 * scale[table.stem])

    def precision(self, at: IntArray) -> Precision:
        """Precision by the fit.

        at: places of one instrument's readings that it serves.
        """
        assert self.found is not None
        tool = int(self.readings.instrument[at[0]])
        plain = class_precision(self.table(at))
        again, apart = (
            float(each[tool]) for each in (self.found.repeatability_cm, self.found.between_hands_cm)
        )
        return replace(
            plain,
            repeatability_cm=again,
            between_hands_cm=apart,
            reproducibility_cm=float(np.hypot(again, apart)),
            repeats=round(float(self.found.freedom[tool])),
            freedom=int(self.found.hands_freedom[tool]),
            repeatability_law=fit_size_law(
                plain.stems.mean_cm, plain.stems.repeatability_cm, self._stem_freedom(at)
            ),
        )

    def _stem_freedom(self, at: IntArray) -> FloatArray:
        """Of the repeatability, on each stem of one instrument; nothing below a hair."""
        assert self.found is not None
        tool = int(self.readings.instrument[at[0]])
        free = self.found.stem_freedom[np.unique(self.readings.stem[at]), tool]
        return np.where(free > 1e-6, free, 0.0)
