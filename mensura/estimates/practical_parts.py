"""What a study of a practical consists of; it is put together elsewhere, and only held here."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from mensura.estimates.agreement import Agreement, DifferenceTrend
from mensura.estimates.cells import Cells
from mensura.estimates.hand_habits import Habit
from mensura.estimates.hand_verdict import HandsJudged
from mensura.estimates.outliers import Mandel, Outliers
from mensura.estimates.ovality_part import OvalityPart
from mensura.estimates.precision import Precision
from mensura.estimates.readings import Readings
from mensura.estimates.suspicious import Flag


@dataclass(frozen=True)
class InstrumentPrecision:
    """Precision of one instrument by the method of ISO 5725-2, hands as laboratories.

    instrument: its code; kind: "girth" or "diameter"; hand_codes, stem_codes: of the places in
    table; table: cells of hands and stems, cm of its kind, without likely slips; precision: without
    outliers, None where nothing can be told; with_outliers: the same of all cells; mandel,
    outliers: of each cell; note: what could not be done, or ""; stems: how many were read;
    off: hands of its kind whose verdict is off; without_off: precision without those, None where
    there are none or nothing can be told.
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
    stems: int = 0
    off: tuple[str, ...] = ()
    without_off: Precision | None = None


@dataclass(frozen=True)
class TapesAndCalipers:
    """Tapes against calipers, all as diameters, cm: girth over π less what calipers read.

    single: limits of agreement of single caliper readings; pair: of the mean of a hand's two at
    right angles, None where there are none; trend: whether differences grow with size; ovality: of
    each difference in singles, what out-of-roundness alone explains; left: limits of agreement of
    singles once that part is taken out, None where nothing is known of it; stem_codes, hand_codes,
    mean_cm, difference_cm, direction_deg: of the points to draw, one a hand, stem and caliper
    reading; off: hands with one kind, and instruments, whose verdict is off; sound: the same once
    more without their readings, None where there are none or too little is left.
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
    off: tuple[str, ...] = ()
    sound: TapesAndCalipers | None = None


@dataclass(frozen=True)
class Studied:
    """What a class's readings are worth.

    readings: as typed; corrected: the same with the cards' corrections, the same object where there
    is no card; cards_used, cards_missing: codes of instruments; flags: likely slips; judged: the
    verdicts; habits: questions for hands; precision: one an instrument; agreement: tapes against
    calipers, None where a class had only one of them; notes: what could not be done, a sentence
    each; units: of each reading as it was typed, none where nobody knows.
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
    units: tuple[str, ...] = ()
