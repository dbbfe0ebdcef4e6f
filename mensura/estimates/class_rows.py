"""Rows of a class's practical, as workbook 11 shows them: at first sight, then as it was judged.

At first sight nothing is modelled: each reading against the middle of all that were read of its
stem, so that a class may guess. The rest stands in a study and is only put side by side.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.checks import ChoiceError, FloatArray
from mensura.estimates.agreement import Agreement
from mensura.estimates.comparison_rows import Row
from mensura.estimates.hand_causes import likely_causes
from mensura.estimates.hand_verdict import Judged
from mensura.estimates.practical import Practical
from mensura.estimates.readings import KINDS, Readings
from mensura.estimates.suspicious import SLIPS
from mensura.written import signed

#: What is set against the tape, in words.
AGAINST = {
    "single": "one caliper reading",
    "left": "one, the oval's part taken out",
    "pair": "mean of two at right angles",
}


def over_middle_percent(readings: Readings, kind: str) -> FloatArray:
    """How far each reading lies above the middle of all of its kind on its stem, in per cent.

    readings: of a class; kind: "girth" or "diameter"; nan for readings of the other kind. Raises
    ChoiceError for another word.
    """
    if kind not in KINDS:
        raise ChoiceError("kind", kind, KINDS)
    mine = readings.girth == (kind == "girth")
    over = np.full(len(readings), np.nan)
    for stem in np.unique(readings.stem[mine]):
        here = mine & (readings.stem == stem)
        middle = np.median(readings.reading_cm[here])
        over[here] = 100 * (readings.reading_cm[here] / middle - 1)
    return over


def first_look(readings: Readings, kind: str) -> list[Row]:
    """The middle of that for each hand with each instrument, one hand a row.

    readings: of a class; kind: "girth" or "diameter". Rows: hand, and "T1, %" for each instrument,
    None where the hand never had it.

    >>> from mensura.estimates.quillmere_practical import quillmere_practical
    >>> sorted(first_look(quillmere_practical().readings, "diameter")[0])
    ['K1, %', 'K2, %', 'hand']
    """
    over = over_middle_percent(readings, kind)
    told = np.isfinite(over)
    tools = np.unique(readings.instrument[told])
    rows: list[Row] = []
    for hand in np.unique(readings.hand[told]):
        row: Row = {"hand": readings.hands[hand]}
        for tool in tools:
            here = told & (readings.hand == hand) & (readings.instrument == tool)
            middle = signed(float(np.median(over[here])), 1) if here.any() else None
            row[f"{readings.instruments[tool]}, %"] = middle
        rows.append(row)
    return rows


def accused_rows(study: Practical) -> list[Row]:
    """Who reads high or low, or spreads, and by how much.

    study: of a class. Rows: who, reads (its kind), verdict, form, bias and from_to (its interval),
    with their unit.

    >>> from mensura.estimates.practical import study_practical
    >>> from mensura.estimates.quillmere_practical import quillmere_practical
    >>> study = study_practical(quillmere_practical().readings)
    >>> [(row["who"], row["form"]) for row in accused_rows(study)]
    [('Q04', 'share'), ('K1', 'constant'), ('T2', 'share')]
    """
    return [
        {
            "who": one.name,
            "reads": one.kind,
            "verdict": one.verdict,
            "form": one.form,
            "bias": _amount(one, one.bias),
            "from": _amount(one, one.interval and one.interval[0]),
            "to": _amount(one, one.interval and one.interval[1]),
        }
        for one in study.judged.accused
    ]


def sound_rows(study: Practical) -> list[Row]:
    """The others, with what they may be off by.

    study: of a class. Rows as in :func:`accused_rows`, without form.
    """
    accused = study.judged.accused
    judged = (*study.judged.hands, *study.judged.instruments)
    return [
        {
            "who": one.name,
            "reads": one.kind,
            "verdict": one.verdict,
            "bias": _amount(one, one.bias),
            "from": _amount(one, one.interval and one.interval[0]),
            "to": _amount(one, one.interval and one.interval[1]),
        }
        for one in judged
        if one not in accused
    ]


def practise_rows(study: Practical) -> list[Row]:
    """The most likely fault of each of them, and what to do about it.

    study: of a class. Rows: who, most_likely, what_to_do.
    """
    rows: list[Row] = []
    for one in study.judged.accused:
        causes = likely_causes(one, one in study.judged.hands)
        if causes:
            rows.append(
                {
                    "who": one.name,
                    "most likely": causes[0].words.lower(),
                    "what to do": causes[0].practise,
                }
            )
    return rows


def slip_rows(study: Practical) -> list[Row]:
    """The figures that look like slips, by line of the file.

    study: of a class. Rows: line, hand, read_cm, slip in words, would_be_cm.
    """
    readings = study.readings
    return [
        {
            "line": one.row,
            "hand": readings.hands[readings.hand[one.at]],
            "read_cm": one.reading_cm,
            "likely slip": SLIPS[one.slip],
            "would_be_cm": one.would_be_cm,
        }
        for one in study.flags
    ]


def precision_rows(study: Practical) -> list[Row]:
    """Precision by the method of ISO 5725-2, one instrument a row.

    study: of a class. Rows: instrument, reads, repeatability_cm, between_hands_cm, any_hand_cm
    (reproducibility), standard deviations.
    """
    return [
        {
            "instrument": one.instrument,
            "reads": one.kind,
            "repeatability_cm": one.precision.repeatability_cm,
            "between_hands_cm": one.precision.between_hands_cm,
            "any_hand_cm": one.precision.reproducibility_cm,
        }
        for one in study.precision
        if one.precision is not None
    ]


def limits_rows(study: Practical) -> list[Row]:
    """Limits of agreement of tape less calipers, as diameters.

    study: of a class. Rows: against (words), mean_cm, lower_cm, upper_cm, wide_cm (from one limit
    to the other); none without both instruments.
    """
    if study.agreement is None:
        return []
    rows: list[Row] = []
    for name, words in AGAINST.items():
        one: Agreement | None = getattr(study.agreement, name)
        if one is not None:
            rows.append(
                {
                    "tape against": words,
                    "mean_cm": one.mean_cm,
                    "lower_cm": one.lower_cm,
                    "upper_cm": one.upper_cm,
                    "wide_cm": one.upper_cm - one.lower_cm,
                }
            )
    return rows


def _amount(one: Judged, value: Any) -> str:
    if value is None:
        return ""
    digits = 2 if one.unit == "cm" else 1
    return f"{signed(float(value), digits)} {one.unit}"
