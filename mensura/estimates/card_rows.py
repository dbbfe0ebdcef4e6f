"""Rows and words of a tape's card: what it adds at which reading, and what has to be said with it.

A command prints them, a page shows them; nothing is computed here that the card does not say.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, floor, log10, sqrt

from mensura.estimates.comparison_rows import Row
from mensura.instruments.check_slips import (
    SHIFTED,
    SHRUNK,
    SWAPPED,
    LikelySlip,
    likely_slips,
)
from mensura.instruments.class_check import MOST_PER_C, ClassedMark
from mensura.instruments.line_fit import plain_floor_cm
from mensura.instruments.materials import REFERENCE_C, REFERENCE_N
from mensura.instruments.tape_card import Card, columns_cm
from mensura.written import rounded, signed

#: About so many readings over the range of the marks.
ROWS = 9


def card_readings_cm(card: Card) -> list[float]:
    """Round readings over the range of a card's marks, and one on either side of it, in cm.

    card: of an instrument.

    >>> from mensura.instruments.tape_card import card
    >>> card_readings_cm(card([40, 100, 190], [40.1, 99.9, 189.0]))
    [20.0, 40.0, 60.0, 80.0, 100.0, 120.0, 140.0, 160.0, 180.0, 200.0]
    """
    low, high = card.marks[0].reference_cm, card.marks[-1].reference_cm
    rough = (high - low) / (ROWS - 1)
    power = 10.0 ** floor(log10(rough))
    step = power * next(one for one in (1, 2, 2.5, 5, 10) if one * power >= rough * 0.999)
    first, last = floor(low / step - 1e-9), ceil(high / step + 1e-9)
    return [round(step * place, 9) for place in range(first, last + 1) if place > 0]


def card_rows(card: Card) -> list[Row]:
    """What a card makes of round readings.

    card: of an instrument. Rows: reads_cm, length_cm, add_cm, u_cm and plus_minus_cm (half of the
    95 % interval; both None for two marks), drawn_on.

    >>> from mensura.instruments.tape_card import card
    >>> row = card_rows(card([50, 100, 150], [51.3, 100.7, 150.2]))[2]
    >>> row["reads_cm"], round(row["length_cm"], 2), round(row["u_cm"], 3), row["drawn_on"]
    (80.0, 79.04, 0.027, False)
    """
    rows: list[Row] = []
    for told in card_readings_cm(card):
        length = float(card.true_cm(told))
        if length > 0:
            rows.append(
                {
                    "reads_cm": told,
                    "length_cm": length,
                    "add_cm": length - told,
                    "u_cm": card.u_true_cm(told),
                    "plus_minus_cm": card.expanded_cm(told),
                    "drawn_on": card.drawn_on(told),
                }
            )
    return rows


def card_digits(card: Card) -> int:
    """How many digits after the point lengths in cm are told with: two figures of the doubt.

    card: of an instrument.

    >>> from mensura.instruments.tape_card import card
    >>> card_digits(card([50, 100, 150], [51.3, 100.7, 150.2]))
    3
    """
    doubts = [row["u_cm"] for row in card_rows(card) if row["u_cm"]]
    return min(max(1 - floor(log10(min(doubts))), 2), 4) if doubts else 2


def card_name(card: Card) -> str:
    """What a card is of, in words.

    card: of an instrument.
    """
    kind = "tape" if card.kind == "tape" else "calipers"
    return f"{kind} {card.instrument}".strip()


def found_names(card: Card) -> str:
    """What is found of an instrument, in words.

    card: of an instrument.
    """
    return "stretch and worn start" if card.kind == "tape" else "scale and zero error"


def card_notes(
    card: Card,
    marks: Sequence[ClassedMark] = (),
    accuracy_class: str | None = None,
    pulls_n: Sequence[float] = (),
) -> list[str]:
    """What has to be said with a card, in sentences.

    card: of an instrument; marks: each beside its limit; accuracy_class: of the limits, None where
    none was named; pulls_n: of the readings, where they were told.
    """
    low, high = card.marks[0].reference_cm, card.marks[-1].reference_cm
    notes = [*_line_notes(card), *_holds(card, pulls_n)]
    notes.append(
        f"Outside the marks, {low:g} to {high:g} cm, the line is only drawn on: such readings are "
        "marked so."
    )
    notes.append(_reference(card))
    notes.append(
        "Not in it: the spread and the step of the reading that is corrected. They belong to that "
        "reading, and are counted there, once."
    )
    if accuracy_class is not None:
        notes += _class_notes(card, marks, accuracy_class)
    return notes


def slip_rows(
    slips: Sequence[LikelySlip],
    card: Card,
    reference_cm: Sequence[float],
    rows: Sequence[int] | None = None,
) -> list[Row]:
    """What looks like slips in a check, each by its place and in a sentence.

    slips: in the order of the readings; card: made of them; reference_cm: of each reading; rows: of
    the file, None where there is none: then the mark is named. Rows: row, column, value_cm,
    likely_slip, would_be_cm, says.
    """
    return [
        {
            "row": None if one.place is None or rows is None else rows[one.place],
            "column": one.column,
            "value_cm": one.value_cm,
            "likely_slip": one.slip or None,
            "would_be_cm": one.would_be_cm,
            "says": _slip_words(one, card, reference_cm, rows),
        }
        for one in slips
    ]


def card_slips(card: Card) -> list[str]:
    """What looks like slips in the readings that a card keeps, in sentences.

    card: of an instrument.
    """
    true, read = columns_cm(card.marks)
    slips = likely_slips(true, read, card.resolution_cm, card.kind)
    return [row["says"] for row in slip_rows(slips, card, true.tolist())]


def _slip_words(
    one: LikelySlip, card: Card, reference_cm: Sequence[float], rows: Sequence[int] | None
) -> str:
    if one.place is None:
        ratio, per_cent = (
            ("stretch", card.stretch_percent)
            if card.kind == "tape"
            else ("scale", card.scale_percent)
        )
        seen = {
            SHIFTED: "All readings are about ten times their references",
            SHRUNK: "All readings are about a tenth of their references",
            SWAPPED: "All readings are round figures, and most references are not",
        }.get(one.slip, f"A {ratio} of {signed(per_cent, 1)} % is beyond ±5 %")
    else:
        at = (
            f"At the mark of {reference_cm[one.place]:g} cm"
            if rows is None
            else f"Row {rows[one.place]}"
        )
        seen = f"{at}, {one.column}: {one.value_cm:g} cm "
        if one.expected_cm is not None:
            there = f", which has {one.expected_cm:.2f} cm there"
            seen += "lies far off the line of all other readings"
            seen += there if one.column == "reading_cm" else ""
        else:
            seen += "and the figure beside it differ about tenfold"
    likely = f" Likely: {one.slip}" if one.slip else " Look at the sheet again"
    would = f"; it would be {one.would_be_cm:g} cm" if one.would_be_cm is not None else ""
    return f"{seen}.{likely}{would}. Nothing was changed."


def _line_notes(card: Card) -> list[str]:
    notes = []
    names = found_names(card)
    if card.u_start_cm is None:
        notes.append(
            "Two marks always lie on a line, however often they are read, and whether the "
            f"instrument is straight nobody has seen: so nothing is said of how sure {names} are. "
            "Hold it against a third mark."
        )
    if card.start_cm < 0:
        name = "worn start" if card.kind == "tape" else "zero error"
        interval = card.start_interval_cm
        chance = interval is not None and interval[0] <= 0 <= interval[1]
        why = (
            "its interval holds nought, so that this may be chance"
            if chance
            else "the start stands forward, or was held so"
            if card.kind == "tape"
            else "closed jaws show less than nought"
        )
        how = f"{rounded(-card.start_cm, 2)} cm below nought"
        notes.append(f"The {name} is {how}: {why}. It is kept as it is.")
    test = card.lack_of_fit()
    if test is not None:
        odds = f"F = {rounded(test.f, 3)} with {test.between} and {test.within} degrees of freedom"
        percent = 100 * test.p
        chance_words = f"{percent:.0f}" if percent >= 1 else "fewer than 1"
        notes.append(
            f"A straight line {'will' if test.will_do else 'will not'} do: {odds}; chance alone "
            f"gives as much in {chance_words} of 100 checks."
            + ("" if test.will_do else f" What is said of {names} holds for a line only.")
        )
    elif card.u_start_cm is not None:
        notes.append("Whether a straight line will do cannot be tested: it takes repeats.")
    return notes + _step_notes(card)


def _step_notes(card: Card) -> list[str]:
    """What the step does to the spread, so that it can be worked out by hand."""
    taken, spread, step = card.taken_sd_cm, card.residual_sd_cm, card.resolution_cm
    if taken is None or spread is None or not step:
        return []
    counts = [len(one.readings_cm) for one in card.marks]
    least = plain_floor_cm(counts, [one.reference_cm for one in card.marks], step)
    each = rounded(step / sqrt(12), 2)
    several = f"√{counts[0]} · {each} = " if counts[0] > 1 and len(set(counts)) == 1 else ""
    told = (
        f"The step of {step:g} cm leaves the mean of each mark a standard uncertainty of step/√12 "
        f"= {each} cm, however often it is read: here that is a spread of at least {several}"
        f"{rounded(least, 2)} cm"
    )
    if taken > 1.001 * max(least, spread):
        return [
            f"{told}. Marks whose readings fall alike between two graduations share this error: u "
            f"is worked out with a spread of {rounded(taken, 2)} cm."
        ]
    larger = "that" if taken > 1.001 * spread else "the readings' own, which is larger"
    return [f"{told}. u is worked out with {larger}, {rounded(taken, 2)} cm."]


def _holds(card: Card, pulls_n: Sequence[float]) -> list[str]:
    at, pull = card.temperature_c, card.pull_n
    warm = "nobody said at which temperature" if at is None else f"at {at:g} °C"
    tight = "nobody said at which pull" if pull is None else f"at a pull of {pull:.3g} N"
    notes = [f"It holds {warm}, {tight}." if at is not None else f"It holds {tight}; {warm}."]
    if at is None and pull is None:
        notes = ["Nobody said at which temperature and pull it holds."]
    if card.expansion_per_c is not None:
        notes.append(
            f"The readings were brought to {at:g} °C with {1e6 * card.expansion_per_c:.3g} "
            "millionths per °C; the reference is taken to keep its length."
        )
    if len(pulls_n) and max(pulls_n) > min(pulls_n):
        notes.append(
            f"The pulls went from {min(pulls_n):g} to {max(pulls_n):g} N: their mean is told, and "
            "what they did stays in the spread."
        )
    return notes


def _reference(card: Card) -> str:
    parts = [f"{card.reference_u_cm:g} cm"] if card.reference_u_cm else []
    parts += [f"{card.reference_u_percent:g} %"] if card.reference_u_percent else []
    if not parts:
        return "The reference is taken as exact: nobody said how sure it is."
    told = " and ".join(parts)
    note = (
        f"The reference's own standard uncertainty, {told}, is common to all marks: it is added, "
        "and no number of marks makes it smaller."
    )
    ratio, start = card.stretch_degrees_of_freedom, card.start_degrees_of_freedom
    if ratio is None or start is None:
        return note
    names = found_names(card).split(" and ")
    every = [card.degrees_of_freedom_at(row["reads_cm"]) for row in card_rows(card)]
    low, high = _count(min(every)), _count(max(every))
    ends = low if low == high else f"{low} to {high}"
    return (
        f"{note} ± 95 % uses Student's factor with the effective degrees of freedom (Welch and "
        f"Satterthwaite): {_count(ratio)} for the {names[0]}, {_count(start)} for the {names[1]}, "
        f"{ends} for the corrections."
    )


def _count(degrees_of_freedom: float) -> str:
    """Degrees of freedom, to three figures."""
    if degrees_of_freedom > 1000:
        return "over 1000"
    return f"{degrees_of_freedom:.3g}"


def _class_notes(card: Card, marks: Sequence[ClassedMark], accuracy_class: str) -> list[str]:
    words = {True: "within", False: "not within", None: "not to be decided with this reading"}
    counts = {one: sum(mark.within is one for mark in marks) for one in words}
    told = ", ".join(f"{count} {words[one]}" for one, count in counts.items() if count)
    notes = [f"Class {accuracy_class}: of {len(marks)} marks {told}."]
    if any(mark.expanded_cm is None for mark in marks):
        notes.append("Two single readings show no spread, so no mark can be decided.")
    notes.append(
        f"The limits hold at {REFERENCE_C:g} °C and at the pull that the tape states "
        f"({REFERENCE_N:g} N if it states none), for scales in units of length. This is a class "
        "check for teaching, not legal verification."
    )
    if card.temperature_c is None:
        notes.append(f"Nobody said how warm the band was: {REFERENCE_C:g} °C is assumed.")
    elif card.temperature_c != REFERENCE_C:
        notes.append(
            f"At {card.temperature_c:g} °C a band of unknown material may be off by up to "
            f"{1e6 * MOST_PER_C:.0f} millionths per °C: that is allowed for. Name the material, "
            f"and the errors are brought to {REFERENCE_C:g} °C."
        )
    return notes


def freedom_words(degrees_of_freedom: float) -> str:
    """Degrees of freedom as they are written.

    degrees_of_freedom: a count, whole or not.

    >>> freedom_words(1), freedom_words(16)
    ('1 degree of freedom', '16 degrees of freedom')
    """
    return f"{degrees_of_freedom:g} degree{'s' * (degrees_of_freedom != 1)} of freedom"


def within_words(mark: ClassedMark) -> str:
    """What the class check says of a mark.

    mark: beside its limit.
    """
    if mark.permissible_cm is None:
        return ""
    if mark.within is None:
        return "cannot be decided with this reading"
    return "within" if mark.within else "not within"
