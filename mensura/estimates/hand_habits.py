"""What a hand's readings show beside bias and spread: drift over the day, last figures, sameness.

These are questions to ask a hand, never accusations: a hand that grew surer, that likes round
figures, or whose second readings repeat its first. Each is told only beyond chance over all hands
together (5 % for each kind of question, by Holm's steps) and where it is large enough to see.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.hand_cells import BoolArray
from mensura.estimates.hand_model import HandModel
from mensura.estimates.hands import holm
from mensura.estimates.readings import KINDS, IntArray, Readings

#: Of fewer readings nothing is asked.
FEWEST = 12
#: A drift is told from so much over the day, in per cent of the reading.
DRIFT_PERCENT = 0.5
#: So many stems at most are paired for a slope, else pairs would be without end.
MOST_PAIRED = 600
#: Chance that anyone is asked one kind of question for nothing.
_LEVEL = 0.05


@dataclass(frozen=True)
class Habit:
    """A question for a hand.

    name: the hand's code; kind: "girth" or "diameter"; habit: "drift", "last-figures" or
    "too-equal"; question: in plain words; chance: of such readings from a hand without the habit.
    """

    name: str
    kind: str
    habit: str
    question: str
    chance: float


def habits(readings: Readings, model: HandModel) -> tuple[Habit, ...]:
    """All questions, by hand.

    readings: of a class, in the order they were read; model: fitted to them.

    >>> from mensura.estimates.drawn_practical import drawn_practical
    >>> from mensura.estimates.hand_model import fit_hands
    >>> readings = drawn_practical(7).readings
    >>> habits(readings, fit_hands(readings))
    ()
    """
    asked: list[Habit] = []
    for find in (_drifts, _last_figures, _too_equal):
        found = find(readings, model)
        told = holm(np.array([one.chance for one, _ in found]), _LEVEL)
        asked += [one for (one, large), sure in zip(found, told, strict=True) if sure and large]
    return tuple(sorted(asked, key=lambda one: (one.name, one.kind, one.habit)))


def _hands(readings: Readings, model: HandModel) -> list[tuple[str, str, BoolArray]]:
    """Code, kind and readings of each pair of hand and kind that has enough of them."""
    hand, good = model.columns[0], model.weight > 0
    # of readings that are all the same figure, whoever read, nobody is asked
    kinds = (readings.girth, ~readings.girth)  # as in KINDS
    differ = [one.any() and np.ptp(readings.reading_cm[one]) > 0 for one in kinds]
    rows = []
    for one, (code, kind) in enumerate(
        zip(model.cells.hand_of, model.cells.hand_kind, strict=True)
    ):
        mine = (hand == one) & good
        if np.count_nonzero(mine) >= FEWEST and differ[kind]:
            rows.append((readings.hands[code], KINDS[kind], mine))
    return rows


def _drifts(readings: Readings, model: HandModel) -> list[tuple[Habit, bool]]:
    """Whether what is left rises or falls in the order of the rows: ranks, a stem a unit."""
    from scipy.stats import kendalltau

    order, stem = readings.row[model.cells.used], readings.stem[model.cells.used]
    found = []
    for name, kind, mine in _hands(readings, model):
        stems, unit = np.unique(stem[mine], return_inverse=True)
        if stems.size < 8:
            continue
        counts = np.bincount(unit)
        when = np.bincount(unit, order[mine]) / counts
        left = np.bincount(unit, model.residual[mine]) / counts
        test = kendalltau(when, left)
        # the middle of all slopes two by two (Theil and Sen, from memory), over the whole day
        slope = _middle_slope(when, left)
        percent = 100 * slope * float(np.ptp(when))
        way = "higher" if percent > 0 else "lower"
        question = (
            f"Over the day the readings went {way} by {abs(percent):.1f} %: tiring, a habit that "
            "grew, or learning?"
        )
        habit = Habit(name, kind, "drift", question, float(np.nan_to_num(test.pvalue, nan=1.0)))
        found.append((habit, abs(percent) >= DRIFT_PERCENT))
    return found


def _middle_slope(when: FloatArray, left: FloatArray) -> float:
    """The middle of all slopes two by two; of very many stems, of some spread over the day."""
    some = np.argsort(when)[:: 1 + when.size // MOST_PAIRED]
    when, left = when[some], left[some]
    i, j = np.triu_indices(when.size, 1)
    apart = when[j] - when[i]
    told = apart != 0  # two stems read at the same time on the whole have no slope
    return float(np.median((left[j] - left[i])[told] / apart[told])) if told.any() else 0.0


def _last_figures(readings: Readings, model: HandModel) -> list[tuple[Habit, bool]]:
    """Whether some last figure, of millimetres, comes too often: one a stem and instrument."""
    from scipy.stats import binom

    used = model.cells.used
    figure = np.round(10 * readings.reading_cm[used]).astype(np.int64)
    found = []
    for name, kind, mine in _hands(readings, model):
        last = figure[_first_of(model.cells.cell, mine)] % 10
        counts = np.bincount(last, minlength=10)
        often = int(np.argmax(counts))
        # the most frequent of ten: no more than ten times the chance of any one
        chance = min(1.0, 10 * float(binom.sf(counts[often] - 1, last.size, 0.1)))
        question = (
            f"{counts[often]} of {last.size} readings end in {often}: is the last figure read, or "
            "rounded?"
        )
        large = last.size >= FEWEST and counts[often] >= 0.3 * last.size
        found.append((Habit(name, kind, "last-figures", question, chance), bool(large)))
    return found


def _too_equal(readings: Readings, model: HandModel) -> list[tuple[Habit, bool]]:
    """Whether repeats in a place are the same figure more often than the others' are."""
    from scipy.stats import binom

    cell, cm = model.cells.cell, readings.reading_cm[model.cells.used]
    rows = []
    for name, kind, mine in _hands(readings, model):
        at = np.flatnonzero(mine)
        at = at[np.argsort(cell[at], kind="stable")]
        starts = np.flatnonzero(np.diff(cell[at], prepend=-1))
        sizes = np.diff(np.append(starts, at.size))
        # a place a unit: are all its repeats one figure
        spans = np.maximum.reduceat(cm[at], starts) - np.minimum.reduceat(cm[at], starts)
        several = sizes > 1
        rows.append((name, kind, int(several.sum()), int((spans[several] < 1e-9).sum())))
    found = []
    for name, kind, count, same in rows:
        others = [(n, s) for other, k, n, s in rows if k == kind and other != name]
        total = sum(n for n, _ in others)
        if count < 6 or total < FEWEST:
            continue
        share = (sum(s for _, s in others) + 1) / (total + 2)
        chance = float(binom.sf(same - 1, count, share))
        question = (
            f"At {same} of {count} places all repeats are the same figure, with the others at "
            f"{100 * share:.0f} % of theirs: was the tape taken off and laid anew?"
        )
        found.append((Habit(name, kind, "too-equal", question, chance), same >= 0.5 * count))
    return found


def _first_of(cell: IntArray, mine: BoolArray) -> IntArray:
    """The first reading of each cell among those."""
    at = np.flatnonzero(mine)
    return at[np.unique(cell[at], return_index=True)[1]]
