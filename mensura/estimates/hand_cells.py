"""A class's readings in cells and groups, the replicates of the model of hands and instruments.

A cell is one instrument of one hand on one stem in one direction, to a degree: its repeats are one
figure. A group is all cells of one hand on one stem with one kind of instrument: they share how it
was laid there. A girth counts as the diameter of its circle; all figures are logarithms.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mensura.checks import FloatArray
from mensura.estimates.readings import IntArray, Readings

BoolArray = NDArray[np.bool_]
#: Kinds of reading, and classes of spread: diameters whose direction is not told are one of
#: their own, since the stem's oval is in their spread.
GIRTH, DIAMETER, UNTOLD = 0, 1, 2


@dataclass(frozen=True, eq=False)
class Cells:
    """Readings, their cells, and the cells' groups; girths are kind 0, diameters kind 1.

    used: places of the readings that can be used; log_size: of each, a diameter's logarithm; cell:
    of each; hand_of, hand_kind, instrument_of, instrument_kind: of each pair of hand or instrument
    and kind that has readings, its place in the readings' codes, and its kind; stem, hand,
    instrument, kind, spread_class, group: of each cell, hand and instrument as places in those
    pairs; along, across: of each cell, cos 2θ and sin 2θ, 0 where no direction is told; group_cell:
    one cell of each group; stem_count: of all stems, read or not.
    """

    used: IntArray
    log_size: FloatArray
    cell: IntArray
    hand_of: IntArray
    hand_kind: IntArray
    instrument_of: IntArray
    instrument_kind: IntArray
    stem: IntArray
    hand: IntArray
    instrument: IntArray
    kind: IntArray
    spread_class: IntArray
    along: FloatArray
    across: FloatArray
    group: IntArray
    group_cell: IntArray
    stem_count: int

    @property
    def hands(self) -> int:
        """How many pairs of hand and kind."""
        return int(self.hand_of.size)

    @property
    def judged(self) -> int:
        """How many of those and of instruments together."""
        return int(self.hand_of.size + self.instrument_of.size)

    @property
    def group_kind(self) -> IntArray:
        """The kind of each group."""
        return self.kind[self.group_cell]


def cells_of(readings: Readings) -> Cells:
    """The cells of a class's readings.

    readings: those that are not above nought are left out. Raises ValueError where none is left.

    >>> from mensura.estimates.drawn_practical import drawn_practical
    >>> found = cells_of(drawn_practical(7).readings)
    >>> found.used.size > found.stem.size > found.group_cell.size
    True
    """
    cm = readings.reading_cm
    used = np.flatnonzero(np.isfinite(cm) & (cm > 0))
    if not used.size:
        raise ValueError("no reading above nought")
    kind = np.where(readings.girth[used], GIRTH, DIAMETER)
    stem = readings.stem[used]
    hands, hand = np.unique(readings.hand[used] * 2 + kind, return_inverse=True)
    tools, tool = np.unique(readings.instrument[used] * 2 + kind, return_inverse=True)
    direction = np.where(kind == GIRTH, np.nan, readings.direction_deg[used])
    told = np.isfinite(direction)
    direction = np.where(told, direction, 0.0)
    turn = np.radians(2 * direction)
    whole = np.where(told, np.round(np.mod(direction, 180.0)) % 180, 180).astype(np.int64)
    groups = stem * hands.size + hand
    key = (groups * tools.size + tool) * 181 + whole
    _, first, cell = np.unique(key, return_index=True, return_inverse=True)
    _, group_cell, group = np.unique(groups[first], return_index=True, return_inverse=True)
    return Cells(
        used=used,
        log_size=np.log(np.where(kind == GIRTH, cm[used] / np.pi, cm[used])),
        cell=cell,
        hand_of=hands // 2,
        hand_kind=hands % 2,
        instrument_of=tools // 2,
        instrument_kind=tools % 2,
        stem=stem[first],
        hand=hand[first],
        instrument=tool[first],
        kind=kind[first],
        spread_class=np.where(kind == GIRTH, GIRTH, np.where(told, DIAMETER, UNTOLD))[first],
        along=(np.cos(turn) * told)[first],
        across=(np.sin(turn) * told)[first],
        group=group,
        group_cell=group_cell,
        stem_count=len(readings.stems),
    )
