"""A verdict in plain words, and what a class's readings do not allow, a sentence each.

No hand's code stands in what is said to a hand: a note goes to one, and nobody else is named in it.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from mensura.estimates.hand_verdict import Judged
from mensura.estimates.readings import Readings

_LISTED = 6


def why(
    judged: Judged,
    *,
    is_hand: bool,
    beyond: bool,
    needed: float,
    marked: bool,
    users: Sequence[str],
    others: int,
    agreeing: int,
    rival: int,
    alone: bool,
    apart: bool,
) -> str:
    """Why a verdict is as it is.

    judged: the verdict; is_hand: else an instrument; beyond: whether its bias is beyond chance;
    needed: from which bias on it matters, in the verdict's unit; marked: whether a line on each
    stem fixed height and directions; users: who read with the instrument, or with what the hand
    read; others, agreeing, rival: how many there are, agree, and agree on something else; alone:
    whether hand and instrument cannot be told apart; apart: whether its hands read with nothing
    that other hands had.
    """
    noun = "hands" if is_hand else "instruments"
    said = []
    if alone and others == 0 and is_hand and not users[1:]:
        said.append(f"No other hand read a {judged.kind}: nobody to agree with.")
    elif alone and is_hand:
        said.append(
            f"Nobody else read with {listed(users)}: hand and instrument cannot be told apart."
            if others
            else f"No other hand read a {judged.kind}: nobody to agree with."
        )
    elif alone:
        said.append(
            f"Only {listed(users)} read with {judged.name}: "
            "hand and instrument cannot be told apart."
        )
    elif others == 0:
        said.append(f"No other of the {noun} to set it against.")
    elif rival >= agreeing and agreeing <= others:
        said.append(f"The {noun} do not agree, and no side has more of them: which is off, nothing "
                    "here tells.")  # fmt: skip
    elif judged.bias is None:
        said.append("It shares too few stems with the others.")
    elif apart and judged.verdict == "cannot-tell" and beyond:
        said.append(
            f"{_bias(judged)}, but its hands read with nothing that the other hands had: they or "
            f"{judged.name} may be off."
        )
    elif judged.verdict == "cannot-tell":
        said.append(
            f"{_bias(judged)}: chance alone could do it; more stems would tell."
            if abs(judged.bias) >= needed
            else f"It may be off by more than {_figure(needed, judged.unit)} either way or not at "
            "all: too few stems."
        )
    elif judged.verdict in ("reads-high", "reads-low"):
        said.append(f"{_bias(judged)}, on {_count(judged.stems, 'stem')}.")
        said.append(_form(judged))
        if is_hand and not marked:
            said.append("Finding the height is part of it: no line was on the stems.")
    else:
        low, high = judged.interval or (0.0, 0.0)
        most = max(abs(low), abs(high))
        said.append(
            f"It agrees with the others to {_figure(most, judged.unit)}, "
            f"on {_count(judged.stems, 'stem')}."
        )
    if judged.spreads and judged.spread_times is not None and judged.spread_percent is not None:
        said.append(
            f"It spreads {judged.spread_times:.1f} times as much as the others: "
            f"{judged.spread_percent:.1f} % of a reading."
        )
    return " ".join(said)


def _bias(judged: Judged) -> str:
    bias, unit = judged.bias or 0.0, judged.unit
    low, high = judged.interval or (0.0, 0.0)
    way = "high" if bias > 0 else "low"
    return (
        f"It reads {way} by {_figure(abs(bias), unit)} "
        f"(95 %: {_signed(low, unit)} to {_figure_signed(high, unit)})"
    )


def _form(judged: Judged) -> str:
    if judged.form == "share":
        return "It grows with the stem: a share of the reading."
    if judged.form == "constant":
        return "It is as many centimetres on small and on large stems: a constant."
    return "Whether it grows with the stem, these stems cannot tell."


def _figure(value: float, unit: str) -> str:
    return f"{value:.2f} {unit}" if unit == "cm" else f"{value:.1f} {unit}"


def _signed(value: float, unit: str) -> str:
    return (f"{value:+.2f}" if unit == "cm" else f"{value:+.1f}").replace("-", "−")


def _figure_signed(value: float, unit: str) -> str:
    return f"{_signed(value, unit)} {unit}"


def _count(count: int, noun: str) -> str:
    return f"{count} {noun}{'' if count == 1 else 's'}"


def listed(codes: Sequence[str]) -> str:
    """Codes in a sentence, the first few of many.

    codes: in order.

    >>> listed(["T1", "T2", "K1"])
    'T1, T2 and K1'
    """
    if len(codes) > _LISTED:
        return ", ".join(codes[:_LISTED]) + f" and {len(codes) - _LISTED} more"
    if len(codes) < 2:
        return "".join(codes)
    return ", ".join(codes[:-1]) + f" and {codes[-1]}"


def notes_on(readings: Readings, most: int) -> tuple[str, ...]:
    """What these readings do not allow.

    readings: of a class; most: hands or instruments that can be judged.
    """
    cm = readings.reading_cm
    usable = np.isfinite(cm) & (cm > 0)
    said: list[str] = []
    if not np.any(usable):
        return ("There is no reading above 0 cm: nothing can be told of hands and instruments.",)
    for codes, noun in ((readings.hands, "hands"), (readings.instruments, "instruments")):
        if len(codes) > most:
            said.append(f"There are {len(codes)} {noun}; at most {most} are judged at once.")
    if not np.all(usable):
        left = int(np.count_nonzero(~usable))
        said.append(f"{_count(left, 'reading')} not above 0 cm counted for nothing.")
    stem, hand = readings.stem[usable], readings.hand[usable]
    unread = np.flatnonzero(np.bincount(stem, minlength=len(readings.stems)) == 0)
    if unread.size:
        noun = "stem" if unread.size == 1 else "stems"
        missed = listed([readings.stems[i] for i in unread])
        said.append(f"Nobody measured {noun} {missed}.")
    if np.unique(hand).size == 1:
        said.append("Only one hand read: whether it is off, nobody else's readings tell.")
    if usable.sum() > 1 and np.ptp(cm[usable]) == 0:
        said.append(
            f"All {int(usable.sum())} readings are {cm[usable][0]:g} cm: nothing differs, so "
            "nothing can be told."
        )
        return tuple(said)
    of = (stem * len(readings.hands) + hand) * len(readings.instruments)
    of = (of + readings.instrument[usable]) * 2 + readings.girth[usable]
    if np.unique(of).size == of.size:
        said.append(
            "Nobody read a stem twice with one instrument: a hand's repeats cannot be told from "
            "how it lays an instrument on each stem."
        )
    pairs = np.unique(stem * len(readings.hands) + hand) // len(readings.hands)
    if np.unique(hand).size > 1 and np.bincount(pairs).max() < 2:
        said.append("No stem was measured by two hands: hands cannot be set against each other.")
    return tuple(said)
