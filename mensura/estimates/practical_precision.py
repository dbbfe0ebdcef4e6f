"""Precision of each instrument of a class, hands as laboratories and stems as levels.

A diameter has a direction: two widths at right angles of one stem are no repeats of each other.
Where hands did repeat in one direction, a level is a stem in one direction. Else the stems' ovals
are fitted together with the hands' cells (:mod:`mensura.estimates.oval_spreads`). Where that tells
nothing, a level is still a stem in one direction if at least half of the readings share theirs;
else each is brought to its stem's mean width by what the other hands' readings show of its oval,
and where even that cannot be known, how far stems are out of round is in the spread. Each is said.
What is flagged as a likely slip was written wrong, not measured wrong: it is in none of these.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from mensura.checks import FloatArray
from mensura.estimates.cells import Cells, into_cells
from mensura.estimates.hand_words import listed
from mensura.estimates.outliers import Mandel, Outliers, mandel_statistics, mark_outliers
from mensura.estimates.ovality_part import ovality_parts
from mensura.estimates.practical_ovals import SHARED, FittedOvals
from mensura.estimates.practical_parts import InstrumentPrecision
from mensura.estimates.precision import Precision, class_precision
from mensura.estimates.readings import KINDS, IntArray, Readings
from mensura.instruments.line_fit import resolution_of_cm

FITTED = "With {} each stem's oval is fitted along with the spreads, its error allowed for."
ONE_HAND = "Only one hand read with {}: hands cannot be set against each other."
ROUND = "With {} hardly any direction was read twice: out-of-roundness is in its spread."
BROUGHT = (
    "With {} hardly any direction was read twice: each reading is brought to its stem's mean "
    "width by the oval that the others' readings show, whose error is in the spread."
)
NOTHING = "No stem was read twice with {}: nothing can be told of its precision."
NO_REPEAT = "No hand read a stem twice with {}: the residual stands for the repeatability."
NO_REPEAT_ALIKE = (
    "No hand read a stem twice in one direction with {}: the residual stands for the repeatability."
)


def instrument_precisions(
    readings: Readings,
    typed_cm: FloatArray | None = None,
    slips: IntArray | None = None,
    off: Collection[tuple[str, str]] = (),
) -> tuple[InstrumentPrecision, ...]:
    """Precision of each instrument, girths before diameters of one that has both.

    readings: of a class, corrected or not; typed_cm: the same as they were typed, for the step to
    which they were read; slips: places of the likely ones; off: hands whose verdict is off, each
    with its kind: all is worked out once more without them. By the method of ISO 5725-2
    [ISO5725, clause 7].

    >>> from mensura.estimates.drawn_practical import drawn_practical
    >>> found = instrument_precisions(drawn_practical(7).readings)
    >>> found[3].instrument, found[3].kind, round(found[3].precision.repeatability_cm, 2)
    ('T1', 'girth', 0.2)
    """
    usable = np.isfinite(readings.reading_cm) & (readings.reading_cm > 0)
    if slips is not None:
        usable[slips] = False
    typed = readings.reading_cm if typed_cm is None else typed_cm
    found = _of_each(readings, typed, usable)
    drop = np.zeros(len(readings), dtype=bool)
    for name, kind in off:
        if name in readings.hands:
            here = readings.hand == readings.hands.index(name)
            drop |= here & (readings.girth == (kind == KINDS[0]))
    if not (drop & usable).any():
        return found
    less = {(one.instrument, one.kind): one for one in _of_each(readings, typed, usable & ~drop)}
    mended = []
    for one in found:
        own = tuple(name for name, kind in off if kind == one.kind and name in one.hand_codes)
        other = less.get((one.instrument, one.kind)) if own else None
        mended.append(replace(one, off=own, without_off=other.precision if other else None))
    return tuple(mended)


def _of_each(
    readings: Readings, typed: FloatArray, usable: NDArray[np.bool_]
) -> tuple[InstrumentPrecision, ...]:
    whose = readings.instrument * 2 + ~readings.girth
    others = _others(readings, usable)
    fitted = FittedOvals(readings, usable)
    found: list[InstrumentPrecision] = []
    served: list[tuple[int, IntArray]] = []
    keep = usable.copy()
    order = np.flatnonzero(usable)
    order = order[np.argsort(whose[order], kind="stable")]
    begins = np.flatnonzero(np.diff(whose[order], prepend=-1))
    for at in np.split(order, begins)[1:]:
        key = int(whose[at[0]])
        own = fitted.serves(at) if key % 2 else None
        one = _of_one(readings, typed, at, others, key) if own is None else None
        if own is not None:
            one = _of_fitted(readings, typed, own, fitted, key)
            served.append((len(found), own))
            assert one.table is not None
            assert one.outliers is not None
            keep[own] = ~one.outliers.outlying[one.table.cell]
        assert one is not None
        found.append(one)
    if any(not keep[own].all() for _, own in served):
        # the ovals are all calipers': without outliers they are other ones
        again = FittedOvals(readings, keep)
        for place, own in served:
            left = again.serves(own[keep[own]])
            sound = None if left is None else again.precision(left)
            found[place] = replace(found[place], precision=sound)
    return tuple(found)


def precision_notes(found: tuple[InstrumentPrecision, ...]) -> tuple[str, ...]:
    """What could not be done, each sentence once for all instruments that it is true of.

    found: of all instruments.
    """
    said = []
    for words in (FITTED, ROUND, BROUGHT, NOTHING, NO_REPEAT, NO_REPEAT_ALIKE, ONE_HAND):
        codes = [one.instrument for one in found if words.format(one.instrument) in one.note]
        if codes:
            said.append(words.format(listed(codes)))
    return tuple(said)


def _others(readings: Readings, usable: NDArray[np.bool_]) -> FloatArray:
    """Each diameter as its stem's mean width, nan where the oval is not known."""
    found = np.full(len(readings), np.nan)
    at = np.flatnonzero(usable & ~readings.girth)
    if at.size:
        cm = readings.reading_cm[at]
        oval = ovality_parts(readings.stem[at], readings.hand[at], readings.direction_deg[at], cm)
        found[at] = cm + oval.figure_cm
    return found


def _of_fitted(
    readings: Readings, typed: FloatArray, at: IntArray, fitted: FittedOvals, key: int
) -> InstrumentPrecision:
    """One pair of calipers of whose stems the ovals are fitted."""
    code = readings.instruments[key // 2]
    table = fitted.table(at)
    marks = mark_outliers(table, float(resolution_of_cm(typed[at])))
    whole, hands = fitted.precision(at), np.unique(readings.hand[at])
    _, codes, _ = _levels(readings, at, by_stem=True)
    notes = [FITTED.format(code)]
    if hands.size < 2:
        notes.append(ONE_HAND.format(code))
    return InstrumentPrecision(
        code,
        KINDS[key % 2],
        tuple(readings.hands[one] for one in hands.tolist()),
        codes,
        table,
        whole,
        whole,
        mandel_statistics(table),
        marks,
        " ".join(notes),
        len(codes),
    )


def _of_one(
    readings: Readings, typed: FloatArray, at: IntArray, round_cm: FloatArray, key: int
) -> InstrumentPrecision:
    tool, kind = divmod(key, 2)
    code, notes = readings.instruments[tool], []
    step = float(resolution_of_cm(typed[at]))
    cm = readings.reading_cm
    level, codes, mixed = _levels(readings, at)
    brought = False
    if mixed:
        known = np.isfinite(round_cm[at])
        brought = bool(np.count_nonzero(known) >= SHARED * at.size)
        if brought:
            cm, at = round_cm, at[known]
            level, codes, _ = _levels(readings, at, by_stem=True)
        notes.append((BROUGHT if brought else ROUND).format(code))
    hands, hand = np.unique(readings.hand[at], return_inverse=True)
    table = into_cells(hand.reshape(-1), level, cm[at])
    whole, sound, mandel, marks = _worked_out(table, step)
    if whole.stands_for == "nothing":
        notes.append(NOTHING.format(code))
    elif whole.stands_for == "residual":
        notes.append((NO_REPEAT_ALIKE if kind and not brought else NO_REPEAT).format(code))
    if hands.size < 2:
        notes.append(ONE_HAND.format(code))
    return InstrumentPrecision(
        code,
        KINDS[kind],
        tuple(readings.hands[one] for one in hands.tolist()),
        codes,
        table,
        sound,
        whole,
        mandel,
        marks,
        " ".join(notes),
        int(np.unique(readings.stem[at]).size),
    )


def _worked_out(table: Cells, step: float) -> tuple[Precision, Precision | None, Mandel, Outliers]:
    whole = class_precision(table)
    marks = mark_outliers(table, step)
    keep: NDArray[np.bool_] = ~marks.outlying
    sound = whole if keep.all() else class_precision(table.only(keep)) if keep.any() else None
    if sound is not None and sound.stands_for == "nothing":
        sound = None
    return whole, sound, mandel_statistics(table), marks


def _levels(
    readings: Readings, at: IntArray, by_stem: bool = False
) -> tuple[IntArray, tuple[str, ...], bool]:
    """Each reading's level, the levels' names, and whether directions are mixed up in them."""
    stem, direction = readings.stem[at], readings.direction_deg[at]
    told = ~readings.girth[at] & np.isfinite(direction)
    # no direction is -1
    turn = np.where(told, np.round(np.nan_to_num(direction)) % 180, -1).astype(np.int64)
    names, level, count = np.unique(stem * 181 + turn + 1, return_inverse=True, return_counts=True)
    level = level.reshape(-1).astype(np.int64)
    shared = float(count[count > 1].sum())
    if not by_stem and (not told.any() or shared >= SHARED * at.size):
        return level, tuple(_name(readings, one) for one in names.tolist()), False
    names, level, count = np.unique(stem, return_inverse=True, return_counts=True)
    codes = tuple(readings.stems[one] for one in names.tolist())
    return level.reshape(-1).astype(np.int64), codes, bool(count.max() > 1)


def _name(readings: Readings, key: int) -> str:
    code, turn = readings.stems[key // 181], key % 181 - 1
    return code if turn < 0 else f"{code}, {turn}°"
