"""A practical studied: one class's readings, and all that the evening's report says of them.

Nothing is left out of a study for being flagged: slips, stragglers and spreads are told, and the
methods that judge are robust against them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from mensura.estimates.agreement import Agreement, DifferenceTrend
from mensura.estimates.cells import Cells
from mensura.estimates.hand_habits import Habit
from mensura.estimates.hand_verdict import HandsJudged, Matters
from mensura.estimates.outliers import Mandel, Outliers
from mensura.estimates.ovality_part import OvalityPart
from mensura.estimates.precision import Precision
from mensura.estimates.readings import Readings
from mensura.estimates.suspicious import Flag
from mensura.instruments.tape_card import Card


@dataclass(frozen=True)
class InstrumentPrecision:
    """Precision of one instrument by the method of ISO 5725-2, hands as laboratories.

    instrument: its code; kind: "girth" or "diameter"; hand_codes, stem_codes: of the places in
    table; table: cells of hands and stems, cm of its kind; precision: without outliers, None where
    nothing can be told; with_outliers: the same of all cells; mandel, outliers: of each cell;
    note: what could not be done, or "".
    """

    instrument: str
    kind: str
    hand_codes: tuple[str, ...]
    stem_codes: tuple[str, ...]
    table: Cells | None
    precision: Precision | None
    with_outliers: Precision | None
    mandel: Mandel | None
    outliers: Outliers | None
    note: str = ""


@dataclass(frozen=True)
class TapesAndCalipers:
    """Tapes against calipers, all as diameters, cm: girth over π less what calipers read.

    single: limits of agreement of single caliper readings; pair: of the mean of a hand's two at
    right angles, None where there are none; trend: whether differences grow with size; ovality: of
    each difference in singles, what out-of-roundness alone explains; left: limits of agreement of
    singles once that part is taken out, None where nothing is known of it; stem_codes, mean_cm,
    difference_cm, direction_deg: of the points to draw, one a hand, stem and caliper reading.
    """

    single: Agreement
    pair: Agreement | None
    trend: DifferenceTrend | None
    ovality: OvalityPart
    left: Agreement | None
    stem_codes: tuple[str, ...]
    hand_codes: tuple[str, ...]
    mean_cm: Any
    difference_cm: Any
    direction_deg: Any


@dataclass(frozen=True)
class Practical:
    """What a class's readings are worth.

    readings: as typed; corrected: the same with the cards' corrections, the same object where there
    is no card; cards_used, cards_missing: codes of instruments; flags: likely slips; judged: the
    verdicts; habits: questions for hands; precision: one an instrument; agreement: tapes against
    calipers, None where a class had only one of them; notes: what could not be done, a sentence
    each.
    """

    readings: Readings
    corrected: Readings
    cards_used: tuple[str, ...]
    cards_missing: tuple[str, ...]
    flags: tuple[Flag, ...]
    judged: HandsJudged
    habits: tuple[Habit, ...]
    precision: tuple[InstrumentPrecision, ...]
    agreement: TapesAndCalipers | None
    notes: tuple[str, ...]

    def to_dict(self) -> dict[str, Any]:
        """Plain numbers and names, ready for JSON."""
        raise NotImplementedError


def study_practical(
    readings: Readings,
    figures: Sequence[str] | None = None,
    matters: Matters | None = None,
    cards: Mapping[str, Card] | None = None,
    progress: Callable[[float], None] | None = None,
) -> Practical:
    """All that a report says of a class's readings.

    readings: as typed; figures: of each, as it was typed; matters: what is large enough to be told;
    cards: by the instrument's code; progress: told, now and then, the share that is done.
    """
    raise NotImplementedError
