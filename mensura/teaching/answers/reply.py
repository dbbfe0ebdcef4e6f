"""The reply to an answer: right, a slip by its name, or high or low; never the answer itself.

Whatever asks for a number is answered here, a problem of the bank and an exercise of a workbook
alike: each says what it asked (`Asked`). The rules, in this order. What cannot be read gets one
sentence and another try; so does anything but a whole number where the answer is a number of a list
or a count. A unit of the wrong kind is explained; another unit of the right kind is converted.
Within tolerance: right; if the answer shows far more figures than the data carry, that is said.
Near a slip: its name and why. Rightly rounded, but so coarsely that half its last place is more
than the tolerance: too coarse. Else high or low, and by which power of ten or about how many times.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Protocol

from mensura.teaching.answers.answers import AnswerError, Typed, convert, read_answer
from mensura.typed import LONGEST
from mensura.written import rounded

#: Figures beyond those that the data carry which pass without a word.
_SPARE_FIGURES = 2

_COUNT = "Answer with a whole number, and no unit behind it."

#: How people write a number of a list, or a count: "(2)", "No. 2", "reading 2", "7 readings".
_COUNTED = re.compile(
    r"\s*(?:(?:no|nr|number|reading|readings|#)\b[.:]?|#)?\s*\(?\s*(\d{1,6})\s*\)?"
    r"\s*(?:readings?)?\s*\.?\s*",
    re.ASCII | re.IGNORECASE,
)


@dataclass(frozen=True)
class Reply:
    """What is said to an answer, a choice or a guess.

    right: whether it counts; rest: plain sentences; opens: the words before them that say how it
    stands, "Right." or ""; slip: name of the slip it shows, or None; readable: False if it could
    not be read, so that nothing counts.

    >>> Reply(True, "Its girth is π times its diameter.", "Right.").message
    'Right. Its girth is π times its diameter.'
    """

    right: bool
    rest: str
    opens: str = ""
    slip: str | None = None
    readable: bool = True

    @property
    def message(self) -> str:
        """All that is said."""
        return " ".join(part for part in (self.opens, self.rest) if part)


@dataclass(frozen=True)
class KnownSlip:
    """A wrong computation that is known by its result.

    value: what it gives, in the answer's unit; says: what went wrong; name: in a word or two, ""
    if it has none; tolerance: how near counts as it, if not the answer's own tolerance.
    """

    value: float
    says: str
    name: str = ""
    tolerance: float = 0.0


@dataclass(frozen=True)
class Asked:
    """What was asked, where the answer is one number.

    answer: in `unit`, which is a name of UNITS; not 0 unless exact; tolerance: how far a right one
    may be off; slips: those that are known by their numbers; exact: a count, or a number of a list;
    asks_unit: a number without its unit is not enough; figures: how many the data carry, None if
    that is not told; because: said to a right answer; near: said to a wrong one of the tolerance;
    counts_as: other units, each with how many of `unit` it stands for here, whatever it holds
    elsewhere.
    """

    answer: float
    unit: str
    tolerance: float
    slips: Sequence[KnownSlip] = ()
    exact: bool = False
    asks_unit: bool = False
    figures: int | None = None
    because: str = ""
    near: str = ""
    counts_as: Mapping[str, float] = field(default_factory=dict)


class Asks(Protocol):
    """A question that can say what it asks: a problem of the bank, an exercise of a workbook."""

    @property
    def asked(self) -> Asked:
        """What is asked."""


def reply(question: Asks, text: str) -> Reply:
    """The reply to an answer as it was typed.

    question: what was asked; text: as typed; nothing in it is evaluated.
    """
    asked = question.asked
    if asked.exact and isinstance(text, str) and len(text) <= LONGEST:
        counted = _COUNTED.fullmatch(text)
        text = counted[1] if counted else text
    try:
        typed = read_answer(text)
    except AnswerError as error:
        return Reply(False, _COUNT if asked.exact else error.says, readable=False)
    if asked.exact and not (typed.unit is None and typed.value.is_integer()):
        return Reply(False, _COUNT, readable=False)
    try:
        values = _values(typed, asked)
    except AnswerError as error:
        return Reply(False, error.says)
    if typed.unit is None and asked.asks_unit:
        slip = _slip(asked, values)
        missing = f"The unit is missing; write it behind the number, like {asked.unit}."
        if slip is None:
            return Reply(False, missing, readable=False)
        return Reply(False, f"{slip.says} {missing}", slip=slip.name or None)
    for value, half_step in values:
        if abs(value - asked.answer) <= max(asked.tolerance, 1e-9 * abs(asked.answer)):
            return Reply(True, _right(asked, typed, value != values[0][0], half_step), "Right.")
    slip = _slip(asked, values)
    if slip is not None:
        return Reply(False, slip.says, slip=slip.name or None)
    value, half_step = values[0]
    two_ways = len(values) > 1 and not asked.exact
    comma = "(A comma or point before three figures may be read in two ways.)" if two_ways else ""
    coarse = asked.tolerance < half_step <= abs(asked.answer) / 5
    if coarse and abs(value - asked.answer) <= half_step * (1 + 1e-9):
        return Reply(False, _coarse(asked))
    return Reply(False, " ".join(part for part in (_off(asked, value), comma, asked.near) if part))


def _slip(asked: Asked, values: list[tuple[float, float]]) -> KnownSlip | None:
    """The slip that a number shows, the nearest if it may be one of two, or None."""
    for value, _ in values:
        fit = sorted(
            (
                slip
                for slip in asked.slips
                if abs(value - slip.value)
                <= max(slip.tolerance, asked.tolerance, 1e-9 * abs(slip.value))
            ),
            key=lambda slip: abs(value - slip.value),
        )
        if len(fit) > 1:
            both = f"Two slips lead to about this number. {fit[0].says} Or: {fit[1].says}"
            return replace(fit[0], says=both)
        if fit:
            return fit[0]
    return None


def _values(typed: Typed, asked: Asked) -> list[tuple[float, float]]:
    """The number, or both readings of it, in the problem's unit, each with half its last place."""
    found = []
    for value in dict.fromkeys((typed.value, typed.other)):
        if value is None:
            continue
        # read the other way, the same last place counts a thousand times as much
        half = typed.half_step * (abs(value / typed.value) if typed.value else 1.0)
        if typed.unit is None:
            found.append((value, half))
        elif typed.unit in asked.counts_as:
            times = asked.counts_as[typed.unit]
            found.append((times * value, times * half))
        else:
            there = convert(value, typed.unit, asked.unit)
            found.append((there, abs(convert(value + half, typed.unit, asked.unit) - there)))
    return found


def _right(asked: Asked, typed: Typed, thousands: bool, half_step: float) -> str:
    words = []
    if thousands:
        words.append("The comma or point was read the way that fits.")
    if asked.because:
        words.append(asked.because)
    if asked.figures is not None and not asked.exact:
        if typed.digits > asked.figures + _SPARE_FIGURES:
            told = rounded(asked.answer, asked.figures)
            unit = f" {asked.unit}" if asked.unit else ""
            words.append(
                f"But the data carry {asked.figures} figures only, and {typed.digits} were "
                f"written; {told}{unit} says as much as can be known."
            )
        elif half_step > asked.tolerance:
            words.append("One figure more would show that it is no lucky rounding.")
    return " ".join(words)


def _coarse(asked: Asked) -> str:
    said = "On the way to the answer, but too coarse"
    if asked.figures is None:
        return f"{said}. {asked.near}".rstrip()
    return f"{said}: the data carry {asked.figures} figures. Give as many."


def _off(asked: Asked, value: float) -> str:
    """High or low, and by about how much, without giving the answer away."""
    answer = asked.answer
    if asked.exact:
        return "Not that number. Work it out once more, one after the other."
    if not value or value * answer < 0:
        wrong = "0 is too small" if not value and answer > 0 else "The sign is the wrong way round"
        if not value and answer < 0:
            wrong = "0 is too large"
        return f"{wrong}. Check what is taken from what."
    ratio = abs(value / answer)
    # below 0, "large" might be taken for either way
    words = ("too large", "too small") if answer > 0 else ("too far from 0", "too near to 0")
    side = words[ratio < 1]
    power = round(math.log10(ratio))
    near = max(2 * asked.tolerance / abs(answer), 0.01)
    if power and abs(ratio / 10.0**power - 1) <= near:
        times = f"10 to the power {abs(power)}" if abs(power) > 3 else f"{10 ** abs(power)}"
        return f"It is {side} by a factor of {times}: look at the units and the point."
    far = max(ratio, 1 / ratio)
    if far < 1.05:
        return f"Close, but {side} by more than the data allow. Look at the rounding."
    if far < 2:
        return f"It is {side}, by less than a factor of 2."
    if far < 10:
        return f"It is {side}, about {far:.0f} times."
    return f"It is {side}, by more than a factor of {10 ** int(math.log10(far))}."
