"""The reply to an answer: right, a slip by its name, or high or low; never the answer itself.

The rules, in this order. What cannot be read gets one sentence and another try; so does anything
but a whole number where the answer is a number of a list or a count. A unit of the
wrong kind is explained; another unit of the right kind is converted. Within tolerance: right; if
the answer shows far more figures than the data carry, that is said. Near a slip: its name and why.
Rightly rounded, but so coarsely that half its last place is more than the tolerance: too
coarse. Else high or low, and by which power of ten or about how many times.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from mensura.teaching.answers.answers import AnswerError, Typed, convert, read_answer
from mensura.teaching.problems.draw import Problem, rounded
from mensura.teaching.problems.editions import Numbered
from mensura.typed import LONGEST

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
    """What is said to an answer.

    right: whether it counts; slip: name of the slip it shows, or None; message: plain sentences;
    readable: False if it could not be read, so that nothing counts.
    """

    right: bool
    slip: str | None
    message: str
    readable: bool = True


def reply(problem: Problem, text: str) -> Reply:
    """The reply to an answer as it was typed.

    problem: what was asked; text: as typed; nothing in it is evaluated.
    """
    unit = problem.family.unit
    if problem.family.exact and isinstance(text, str) and len(text) <= LONGEST:
        counted = _COUNTED.fullmatch(text)
        text = counted[1] if counted else text
    try:
        typed = read_answer(text)
    except AnswerError as error:
        return Reply(False, None, _COUNT if problem.family.exact else str(error), False)
    if problem.family.exact and not (typed.unit is None and typed.value.is_integer()):
        return Reply(False, None, _COUNT, False)
    try:
        values = _values(typed, unit)
    except AnswerError as error:
        return Reply(False, None, str(error))
    if typed.unit is None and problem.family.asks_unit:
        slip = _slip(problem, values)
        missing = f"The unit is missing; write it behind the number, like {unit}."
        if slip is None:
            return Reply(False, None, missing, False)
        return Reply(False, slip.name, f"{slip.says} {missing}")
    for value, half_step in values:
        if abs(value - problem.answer) <= max(problem.tolerance, 1e-9 * abs(problem.answer)):
            return Reply(True, None, _right(problem, typed, len(values) > 1, half_step))
    slip = _slip(problem, values)
    if slip is not None:
        return Reply(False, slip.name, slip.says)
    value, half_step = values[0]
    coarse = problem.tolerance < half_step <= abs(problem.answer) / 5
    if coarse and abs(value - problem.answer) <= half_step * (1 + 1e-9):
        return Reply(
            False,
            None,
            f"On the way to the answer, but too coarse: the data carry {problem.figures} figures. "
            "Give as many.",
        )
    return Reply(False, None, _off(problem, value, len(values) > 1))


def _slip(problem: Problem, values: list[tuple[float, float]]) -> Numbered | None:
    """The slip that a number shows, or None."""
    for value, _ in values:
        for slip in problem.slips:
            if abs(value - slip.value) <= max(slip.tolerance, 1e-9 * abs(slip.value)):
                return slip
    return None


def _values(typed: Typed, unit: str) -> list[tuple[float, float]]:
    """The number, or both readings of it, in the problem's unit, each with half its last place."""
    found = []
    for value in dict.fromkeys((typed.value, typed.other)):
        if value is None:
            continue
        # read the other way, the same last place counts a thousand times as much
        half = typed.half_step * (abs(value / typed.value) if typed.value else 1.0)
        if typed.unit is None:
            found.append((value, half))
        else:
            there = convert(value, typed.unit, unit)
            found.append((there, abs(convert(value + half, typed.unit, unit) - there)))
    return found


def _right(problem: Problem, typed: Typed, two_ways: bool, half_step: float) -> str:
    words = ["Right."]
    if two_ways:
        words.append("The comma or point was read the way that fits.")
    if not problem.family.exact:
        if typed.digits > problem.figures + _SPARE_FIGURES:
            told = rounded(problem.answer, problem.figures)
            unit = f" {problem.family.unit}" if problem.family.unit else ""
            words.append(
                f"But the data carry {problem.figures} figures only, and {typed.digits} were "
                f"written; {told}{unit} says as much as can be known."
            )
        elif half_step > problem.tolerance:
            words.append("One figure more would show that it is no lucky rounding.")
    return " ".join(words)


def _off(problem: Problem, value: float, two_ways: bool) -> str:
    """High or low, and by about how much, without giving the answer away."""
    answer = problem.answer
    if problem.family.exact:
        return "Not that number. Work it out once more, one after the other."
    comma = " (A comma or point before three figures may be read in two ways.)" if two_ways else ""
    if not value or value * answer < 0:
        wrong = "0 is too small" if not value and answer > 0 else "The sign is the wrong way round"
        if not value and answer < 0:
            wrong = "0 is too large"
        return f"{wrong}. Check what is taken from what.{comma}"
    ratio = abs(value / answer)
    # below 0, "large" might be taken for either way
    words = ("too large", "too small") if answer > 0 else ("too far from 0", "too near to 0")
    side = words[ratio < 1]
    power = round(math.log10(ratio))
    near = max(2 * problem.tolerance / abs(answer), 0.01)
    if power and abs(ratio / 10.0**power - 1) <= near:
        times = f"10 to the power {abs(power)}" if abs(power) > 3 else f"{10 ** abs(power)}"
        return f"It is {side} by a factor of {times}: look at the units and the point.{comma}"
    far = max(ratio, 1 / ratio)
    if far < 1.05:
        return f"Close, but {side} by more than the data allow. Look at the rounding.{comma}"
    if far < 2:
        return f"It is {side}, by less than a factor of 2.{comma}"
    if far < 10:
        return f"It is {side}, about {far:.0f} times.{comma}"
    return f"It is {side}, by more than a factor of {10 ** int(math.log10(far))}.{comma}"
