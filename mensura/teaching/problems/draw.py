"""One problem of a family: numbers that are the student's own, and the same for ever.

Numbers come from a keyed hash of key, set, student, family and try, and from nothing else. A draw
is rejected, and the next one taken, where a slip would land within tolerance of the answer or of
another slip: a wrong answer must never look right, nor be called by the wrong name.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Any

from mensura.checks import MeasureError, whole
from mensura.draws import uniforms
from mensura.teaching.problems.family import LEAST_TOLERANCE_PERCENT, Family, Given
from mensura.teaching.problems.vocabulary import meaning

_CODE = re.compile(r"[A-Za-z0-9][A-Za-z0-9_.-]{0,19}")
_MOST_DRAWS = 400

#: A student's numbers are counted from 1 to this.
MOST_TRIES = 100_000

#: Intervals round answer and slips must keep this share of their widths apart.
_APART = 1.2


@dataclass(frozen=True)
class Numbered:
    """A slip with its number.

    name, says: as in the family; value: in the answer's unit; tolerance: how near counts as it.
    """

    name: str
    says: str
    value: float
    tolerance: float


@dataclass(frozen=True)
class Problem:
    """A problem with its numbers.

    family: what it is one of; student, key, set_name, try_number: what the numbers come from;
    numbers: name → number; answer: in the family's unit; tolerance: how far a right answer may be
    off, in that unit; slips: with their numbers.
    """

    family: Family
    student: str
    key: str
    set_name: str
    try_number: int
    numbers: dict[str, float]
    answer: float
    tolerance: float
    slips: tuple[Numbered, ...]

    @property
    def tolerance_percent(self) -> float:
        """How far a right answer may be off, in per cent of it; 0 if it must be met exactly."""
        return 0.0 if self.family.exact else round(100 * self.tolerance / abs(self.answer), 9)

    @property
    def figures(self) -> int:
        """How many figures the data carry: as few as keep a rounded answer within tolerance."""
        if self.family.exact:
            return len(f"{self.answer:.10g}".lstrip("-"))
        size = math.floor(math.log10(abs(self.answer)))
        return max(2, math.ceil(size + 1 - math.log10(2 * self.tolerance)))

    @property
    def text(self) -> str:
        """The problem in words, with its numbers and how exactly it is asked."""
        return f"{self._filled(self.family.text)} {self.told_tolerance}"

    @property
    def told_tolerance(self) -> str:
        """How near an answer must be, and why."""
        if self.family.exact:
            return "Answer with the number."
        unit = " Write the unit." if self.family.asks_unit else ""
        least = self.tolerance_percent <= LEAST_TOLERANCE_PERCENT * (1 + 1e-9)
        why = "there is room for rounding on the way" if least else "the data are no finer"
        return f"An answer within {self.tolerance_percent:.2g} % counts: {why}.{unit}"

    @property
    def hints(self) -> tuple[str, ...]:
        """Three hints of rising strength, with the numbers."""
        return tuple(self._filled(hint) for hint in self.family.hints)

    @property
    def solution(self) -> str:
        """The worked solution, with the numbers."""
        given = Given(self.numbers)
        figures = max(self.figures + 2, 5)
        extra = {
            name: rounded(compute(given), figures) for name, compute in self.family.steps.items()
        }
        extra["answer"] = rounded(self.answer, self.figures)
        signed = {name: text.replace("-", "−", 1) for name, text in extra.items()}
        return self._filled(self.family.solution, signed)

    def _filled(self, text: str, extra: dict[str, str] | None = None) -> str:
        written = {
            quantity.name: quantity.written(self.numbers[quantity.name]).replace("-", "−")
            for quantity in self.family.given
        }
        return text.format_map({**written, **(extra or {})})

    def to_dict(self, solution: bool = False) -> dict[str, Any]:
        """The problem as plain data.

        solution: whether answer, slips and worked solution are told as well.
        """
        unit = self.family.unit
        told: dict[str, Any] = {
            "family": self.family.key,
            "topic": self.family.topic,
            "text": self.text,
            "given": {
                name: {"value": value, "unit": meaning(name).unit}
                for name, value in self.numbers.items()
            },
            "unit": unit,
            "tolerance_percent": self.tolerance_percent,
        }
        if solution:
            told["answer"] = {"value": self.answer, "unit": unit}
            told["slips"] = [
                {"name": slip.name, "value": slip.value, "unit": unit} for slip in self.slips
            ]
            told["solution"] = self.solution
        return told


def draw(
    family: Family, student: str, key: str, set_name: str = "1", try_number: int = 1
) -> Problem:
    """A student's problem of a family.

    family: which method; student: a code like Q07; key: the lecturer's, kept for a class; set_name:
    which set of problems; try_number: 1 for the first numbers, 2 for the next.
    Raises MeasureError for what is no code or count, or if no numbers of the family keep answer and
    slips apart.
    """
    _code("student", student)
    for name, value in (("key", key), ("set", set_name)):
        if not isinstance(value, str) or not 0 < len(value) <= 60 or not value.isprintable():
            raise MeasureError(name, value, "", "1 to 60 printable characters")
    try_number = whole(try_number, "try", at_least=1, at_most=MOST_TRIES)
    for attempt in range(_MOST_DRAWS):
        parts = ("problem", key, set_name, student, family.key, str(try_number), str(attempt))
        # each part with its length, so that no key can borrow from its neighbour
        shares = uniforms(len(family.given), *(f"{len(part)}:{part}" for part in parts))
        numbers = {
            quantity.name: quantity.at(min(int(share * quantity.count), quantity.count - 1))
            for quantity, share in zip(family.given, shares, strict=True)
        }
        found = work(family, numbers)
        if found is not None:
            answer, tolerance, slips = found
            return Problem(
                family, student, key, set_name, try_number, numbers, answer, tolerance, slips
            )
    raise MeasureError(
        "family", family.key, "", "ranges in which answer and slips can be told apart"
    )


def work(
    family: Family, numbers: dict[str, float]
) -> tuple[float, float, tuple[Numbered, ...]] | None:
    """Answer, tolerance and slips for some numbers; None if they are rejected.

    family: which method; numbers: name → number.
    """
    given = Given(numbers)
    if not family.fits(given):
        return None
    answer = float(family.answer(given))
    if not math.isfinite(answer) or (answer == 0 and not family.exact):
        return None
    tolerance = 0.0 if family.exact else tolerance_of(family, given, answer)
    share = tolerance / abs(answer) if answer else 0.0
    slips = []
    for slip in family.slips:
        value = float(slip.compute(given))
        if not math.isfinite(value):
            return None
        slips.append(Numbered(slip.name, slip.says, value, max(tolerance, share * abs(value))))
    marks = [(answer, tolerance), *((slip.value, slip.tolerance) for slip in slips)]
    least = 1e-9 * max(1.0, abs(answer))
    for index, (first, wide) in enumerate(marks):
        for second, other in marks[index + 1 :]:
            if abs(first - second) <= max(_APART * (wide + other), least):
                return None
    return answer, tolerance, tuple(slips)


def tolerance_of(family: Family, given: Given, answer: float) -> float:
    """How far the answer moves if each number is off by half its step, all the worst way.

    family: which method; given: the numbers; answer: in the family's unit. At least
    LEAST_TOLERANCE_PERCENT of the answer, since people round on the way. Rounded up to two figures.
    """
    total = 0.0
    for quantity in family.given:
        if quantity.exact:
            continue
        moved = [
            abs(float(family.answer(given.moved(quantity.name, way * quantity.step / 2))) - answer)
            for way in (-1, 1)
        ]
        total += max(moved)
    wanted = max(total, LEAST_TOLERANCE_PERCENT / 100 * abs(answer))
    percent = 100 * wanted / abs(answer)
    step = 10.0 ** (math.floor(math.log10(percent)) - 1)
    return math.ceil(round(percent / step, 9)) * step / 100 * abs(answer)


def rounded(value: float, figures: int) -> str:
    """A number to some significant figures, written without a power of ten where that is short.

    value: in any unit; figures: how many.

    >>> rounded(7853.98, 3), rounded(0.0785398, 3), rounded(1.23456e-7, 2)
    ('7850', '0.0785', '1.2e-07')
    """
    if value == 0:
        return "0"
    size = math.floor(math.log10(abs(value)))
    kept = round(value, figures - 1 - size)
    if -5 <= size <= 9:
        return f"{kept:.{max(0, figures - 1 - size)}f}"
    return f"{kept:.{figures - 1}e}"


def _code(name: str, value: object) -> None:
    if not isinstance(value, str) or not _CODE.fullmatch(value):
        raise MeasureError(name, value, "", "a code like Q07: letters, digits, dashes, at most 20")
