"""A practical studied: one class's readings, and all that the evening's report says of them.

Nothing is left out of a verdict for being flagged: slips, stragglers and spreads are told, and the
methods that judge are robust against them. Standard deviations and limits of agreement are not: of
those the likely slips are left out, and it is said; where hands or instruments are off, they are
told both with and without them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from mensura.estimates.hand_habits import habits
from mensura.estimates.hand_verdict import Matters
from mensura.estimates.hands import judge_hands
from mensura.estimates.practical_agreement import tapes_and_calipers
from mensura.estimates.practical_parts import InstrumentPrecision, Studied, TapesAndCalipers
from mensura.estimates.practical_precision import instrument_precisions, precision_notes
from mensura.estimates.practical_rows import practical_dict, units_typed
from mensura.estimates.readings import Readings
from mensura.estimates.suspicious import suspicious
from mensura.instruments.tape_card import Card

__all__ = ["InstrumentPrecision", "Practical", "TapesAndCalipers", "study_practical"]


@dataclass(frozen=True)
class Practical(Studied):
    """What a class's readings are worth.

    readings: as typed; corrected: the same with the cards' corrections, the same object where there
    is no card; cards_used, cards_missing: codes of instruments; flags: likely slips; judged: the
    verdicts; habits: questions for hands; precision: one an instrument; agreement: tapes against
    calipers, None where a class had only one of them; notes: what could not be done, a sentence
    each; units: of each reading as it was typed, none where nobody knows.
    """

    def to_dict(self) -> dict[str, Any]:
        """Plain numbers and names, ready for JSON."""
        return practical_dict(self)


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

    >>> from mensura.estimates.drawn_practical import faulty_practical
    >>> study = study_practical(faulty_practical(3).readings)
    >>> [one.name for one in study.judged.accused], [one.slip for one in study.flags]
    (['Q03', 'K3', 'T2'], ['diameter-for-girth', 'swapped-figures', 'slipped-point'])
    >>> round(study.agreement.pair.lower_cm, 1), round(study.agreement.pair.upper_cm, 1)
    (-2.2, 0.8)
    >>> round(study.agreement.sound.pair.lower_cm, 1)
    -0.8
    """
    tell = progress or _nobody
    flags = suspicious(readings, figures)
    tell(0.15)
    corrected, used, missing, said = by_cards(readings, cards or {})
    judged = judge_hands(corrected, matters)
    tell(0.6)
    asked = () if judged.model is None else habits(readings, judged.model)
    tell(0.7)
    slips = np.array([one.at for one in flags], dtype=np.int64)
    off = judged.accused
    hands = [(one.name, one.kind) for one in judged.hands if one in off]
    tools = [one.name for one in judged.instruments if one in off]
    precision = instrument_precisions(corrected, readings.reading_cm, slips, hands)
    tell(0.85)
    agreement, told = tapes_and_calipers(corrected, slips, hands, tools)
    tell(1.0)
    if slips.size:
        which = "1 likely slip is" if slips.size == 1 else f"{slips.size} likely slips are"
        said += (f"{which} left out of precision, and of tape against calipers.",)
    notes = (*said, *judged.notes, *precision_notes(precision), *told)
    return Practical(
        readings, corrected, used, missing, flags, judged, asked, precision, agreement, notes,
        units_typed(figures, readings.reading_cm),
    )  # fmt: skip


def by_cards(
    readings: Readings, cards: Mapping[str, Card]
) -> tuple[Readings, tuple[str, ...], tuple[str, ...], tuple[str, ...]]:
    """Readings with the cards' corrections, instruments with a card and without, what is to say.

    readings: as typed; cards: by the instrument's code, whatever its capitals. A tape's card is for
    girths and calipers' for diameters; what a card of the other kind would do to a reading is not
    done, and said. Without any card nothing is missing.
    """
    of = {code.casefold(): card for code, card in cards.items()}
    with_card = tuple(code for code in readings.instruments if code.casefold() in of)
    if not with_card:
        said: tuple[str, ...] = ()
        if cards:
            said = ("No card is of an instrument that was read: nothing is corrected.",)
        return readings, (), readings.instruments if cards else (), said
    cm = readings.reading_cm.astype(np.float64, copy=True)
    used, told = [], []
    for place, code in enumerate(readings.instruments):
        card = of.get(code.casefold())
        if card is None:
            continue
        here = (readings.instrument == place) & np.isfinite(cm) & (cm > 0)
        fits = here & (readings.girth == (card.kind == "tape"))
        if np.count_nonzero(fits) < np.count_nonzero(here):
            noun = "diameters" if card.kind == "tape" else "girths"
            whose = "a tape's" if card.kind == "tape" else "for calipers"
            told.append(f"The card of {code} is {whose}: its {noun} stay as read.")
        true = np.asarray(card.true_cm(cm[fits])) if fits.any() else np.zeros(0)
        if np.any(true <= 0):
            told.append(f"The card of {code} leaves nothing of some readings: they stay as read.")
        cm[fits] = np.where(true > 0, true, cm[fits])
        if fits.any():
            used.append(code)
            outside = int(np.count_nonzero(card.drawn_on(readings.reading_cm[fits])))
            if outside:
                told.append(
                    f"{outside} of {np.count_nonzero(fits)} readings with {code} lie outside the "
                    "marks of its card, where its line is only drawn on."
                )
    missing = tuple(code for code in readings.instruments if code not in used)
    return replace(readings, reading_cm=cm), tuple(used), missing, tuple(told)


def _nobody(share: float) -> None:
    pass
