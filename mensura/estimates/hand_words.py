"""A verdict in plain words, and what a class's readings do not allow, a sentence each.

No hand's code stands in what is said to a hand: a note goes to one, and nobody else is named in it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.hand_cells import BoolArray
from mensura.estimates.hand_variances import medians
from mensura.estimates.hand_verdict import Judged
from mensura.estimates.readings import IntArray, Readings
from mensura.estimates.suspicious import MOST_BIAS

_LISTED = 6


#: By how much girths over π and diameters are apart, and what that looks like.
_APART_BY = (
    (float(np.pi), "as if diameters had been written for girths, or girths for diameters"),
    (2.54, "as if one of them had been in inches and the other in centimetres"),
    (10.0, "as if one of them had been in millimetres and the other in centimetres"),
    (100.0, "as if one of them had been in metres and the other in centimetres"),
)
#: So near such a factor, a logarithm, it is told.
_NEAR_CAUSE = 0.1
_FEWEST_STEMS = 3


@dataclass(frozen=True)
class Circumstances:
    """What a verdict came about by, for its words.

    is_hand: else an instrument; beyond: whether its bias is beyond chance; needed: from which bias
    on it matters, in the verdict's unit; marked: whether a line on each stem fixed height and
    directions; users: who read with the instrument, or with what the hand read; others, agreeing,
    rival: how many it was set against, agree, and agree on something else; mates: how many hands
    hang together with it by what they read with; of_kind: how many hands read this kind; untied:
    whether nothing ties it to others of its kind but that hands are alike; mixed: whether its hands
    had another of its kind; alone: whether they had none on more than a stem; sided, crossed:
    whether the other kind of instrument sides with a hand that most hands differ from, or with
    several others; contested: whether an instrument is with its kind in that; astray: whether
    the instruments that only a hand and its mates had read off with them; equal: whether all
    readings are.
    """

    is_hand: bool
    beyond: bool
    needed: float
    marked: bool
    users: tuple[str, ...]
    others: int
    agreeing: int
    rival: int
    mates: int
    of_kind: int
    untied: bool
    mixed: bool
    alone: bool
    sided: bool
    crossed: bool
    astray: bool
    contested: bool
    equal: bool


def why(judged: Judged, told: Circumstances) -> str:
    """Why a verdict is as it is.

    judged: the verdict; told: what it came about by.
    """
    said = [_first(judged, told)]
    if judged.verdict in ("reads-high", "reads-low"):
        said.append(_form(judged))
    if told.is_hand and not told.marked and judged.verdict not in ("sound", "cannot-tell"):
        said.append("Finding the height is part of it: no line was on the stems.")
    if judged.spreads and judged.spread_times is not None and judged.spread_percent is not None:
        said.append(
            f"It spreads {judged.spread_times:.1f} times as much as the others: "
            f"{judged.spread_percent:.1f} % of a reading."
        )
    return " ".join(said)


def _first(judged: Judged, told: Circumstances) -> str:
    noun = "hands" if told.is_hand else "instruments"
    if told.equal:
        return "All readings are equal: nothing can be told."
    if told.is_hand and told.of_kind < 2:
        return f"No other hand read a {judged.kind}: nobody to agree with."
    if told.is_hand and told.mates < 2:
        return f"Nobody else read with {listed(told.users)}: {_UNTOLD}"
    if not told.is_hand and len(told.users) < 2:
        together = ""
        if told.mates < 2 and judged.bias is not None and abs(judged.bias) >= told.needed:
            together = f" Together they read {_way(judged)}."
        return f"Only {listed(told.users)} read with {judged.name}: {_UNTOLD}{together}"
    if told.others == 0:
        return f"There are no other {noun} to set it against."
    if told.untied:
        return _untied(judged, told)
    if judged.bias is None:
        return "It shares too few stems with the others."
    if told.contested:
        return "Tapes and calipers differ as the hands do: nothing here tells which are off."
    if told.rival >= told.agreeing and told.agreeing <= told.others:
        return (
            f"The {noun} do not agree, and no side has more of them: nothing here tells which "
            "is off."
        )
    other = "calipers" if judged.kind == "girth" else "tapes"
    if told.sided:
        return (
            f"It reads {_way(judged)} beside most hands, but the {other} side with it: nothing "
            "here tells which is off."
        )
    if told.crossed and judged.verdict == "cannot-tell":
        return (
            f"It agrees with most hands, but the {other} side with those that do not: nothing "
            "here tells which is off."
        )
    if told.astray and judged.verdict == "cannot-tell" and abs(judged.bias) < told.needed:
        return (
            "It agrees with the hands that had the same, but together they read off, with what "
            f"nobody else had: {_UNTOLD}"
        )
    if judged.verdict == "cannot-tell":
        if abs(judged.bias) >= told.needed:
            return f"It reads {_way(judged)}: chance alone could do it; more stems would tell."
        most = _figure(told.needed, judged.unit)
        return f"It may be off by more than {most}, or not at all: too few stems to tell."
    stems = f"{judged.stems} stem{'' if judged.stems == 1 else 's'}"
    if judged.verdict in ("reads-high", "reads-low"):
        return f"It reads {_way(judged)}, on {stems}."
    most = _figure(max(map(abs, judged.interval or (0.0,))), judged.unit)
    return f"On average it agrees with the others to {most}, on {stems}."


def _untied(judged: Judged, told: Circumstances) -> str:
    noun, other = ("tape", "another") if judged.kind == "girth" else ("calipers", "other")
    said = (
        f"The hands that read with {judged.name} had no other {noun}, and no hand with {other} "
        f"{noun} had {judged.name}: {_UNTOLD}"
    )
    if told.mixed and told.alone:
        said = (
            f"Hands that read with {judged.name} had {other} {noun} on one stem at most, where a "
            f"wrong code would mislead: {_UNTOLD}"
        )
    elif told.mixed:
        said = (
            f"The hands that read with {judged.name} had no {noun} that other hands had: {_UNTOLD}"
        )
    if judged.bias is None or judged.interval is None:
        return said
    if abs(judged.bias) >= told.needed:
        return f"{said} Together they read {_way(judged)}."
    most = _figure(max(map(abs, judged.interval)), judged.unit)
    return f"{said} Together they agree with the others to {most}."


_UNTOLD = "hand and instrument cannot be told apart."


def _way(judged: Judged) -> str:
    bias, unit = judged.bias or 0.0, judged.unit
    low, high = judged.interval or (0.0, 0.0)
    return (
        f"{'high' if bias > 0 else 'low'} by {_figure(abs(bias), unit)} "
        f"(95 %: {_signed(low, unit)} to {_signed(high, unit)} {unit})"
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
    untold = int(np.count_nonzero(~readings.girth & usable & ~np.isfinite(readings.direction_deg)))
    if untold:
        said.append(
            f"{_count(untold, 'diameter')} without a direction: how far the stems are out of round "
            "is in their spread."
        )
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
    said += _kinds_apart(stem, cm[usable], readings.girth[usable])
    return tuple(said)


def _kinds_apart(stem: IntArray, cm: FloatArray, girth: BoolArray) -> list[str]:
    """A sentence if girths over π and diameters of the same stems are of different sizes."""
    count = int(stem.max()) + 1
    size = np.log(np.where(girth, cm / np.pi, cm))
    apart = medians(size[girth], stem[girth], count) - medians(size[~girth], stem[~girth], count)
    both = apart[np.isfinite(apart)]
    if both.size < _FEWEST_STEMS:
        return []
    log_apart = float(np.median(both))
    if abs(np.expm1(log_apart)) <= MOST_BIAS:
        return []
    times = float(np.exp(abs(log_apart)))
    which = "diameters are" if log_apart < 0 else "girths over π are"
    near, cause = min(
        (abs(np.log(times / factor)), cause)
        for factor, cause in _APART_BY
        if factor != np.pi or log_apart < 0  # one kind for the other makes a girth the smaller
    )
    if near >= _NEAR_CAUSE:
        cause = "as if one kind had been measured or written otherwise"
    return [
        f"The {which} {times:.3g} times as large, stem by stem: {cause}. Which of the two is "
        "wrong these readings do not tell."
    ]
