"""One problem of a family: numbers that are the student's own, and the same for ever.

Numbers come from a keyed hash of key, set, student, family and try, and from nothing else. A draw
is passed over, and the next one taken, where a slip would land within tolerance of the answer or of
another slip: a wrong answer must never look right, nor be called by the wrong name. Which draws
those are is a rule of the family's edition (:mod:`mensura.teaching.problems.given_out`). Numbers
that were given out, and kept with their edition, are read back instead of being drawn anew.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from mensura.checks import MeasureError, whole
from mensura.draws import uniforms
from mensura.teaching.answers.reply import (
    FIGURES_ON_THE_WAY,
    Asked,
    Early,
    KnownSlip,
    figures_told,
)
from mensura.teaching.problems.codes import plain
from mensura.teaching.problems.family import LEAST_TOLERANCE_PERCENT, Family, Given
from mensura.teaching.problems.given_out import work
from mensura.teaching.problems.rounding_roads import early
from mensura.teaching.problems.vocabulary import meaning
from mensura.written import minus, rounded

_CODE = re.compile(r"[A-Za-z0-9][A-Za-z0-9_.-]{0,19}")

#: One of five that is to stand out by one sign alone, and by no other, takes about a hundred.
_MOST_DRAWS = 4000

#: A student's numbers are counted from 1 to this.
MOST_TRIES = 100_000


@dataclass(frozen=True)
class Problem:
    """A problem with its numbers.

    family: what it is one of, in the form of its edition; student, key, set_name, try_number: what
    the numbers come from; numbers: name → number; answer: in the family's unit; tolerance: how far
    a right answer may be off, in that unit; slips: those that can be told apart on these numbers,
    with theirs; edition: of the family, in which the numbers were given out.
    """

    family: Family
    student: str
    key: str
    set_name: str
    try_number: int
    numbers: dict[str, float]
    answer: float
    tolerance: float
    slips: tuple[KnownSlip, ...]
    edition: int = 1

    @property
    def asked(self) -> Asked:
        """What an answer is held against; how near it must be stands in the text already."""
        return Asked(
            self.answer,
            self.family.unit,
            self.tolerance,
            self.slips,
            exact=self.family.exact,
            asks_unit=self.family.asks_unit,
            figures=self.figures,
            counts_as=self.family.counts_as,
            early=self._early,
        )

    @cached_property
    def _early(self) -> tuple[Early, ...]:
        return early(self.family, Given(self.numbers))

    @property
    def tolerance_percent(self) -> float:
        """How far a right answer may be off, in per cent of it; 0 if it must be met exactly."""
        return 0.0 if self.family.exact else round(100 * self.tolerance / abs(self.answer), 9)

    @property
    def figures(self) -> int:
        """How many figures are asked for: as few as keep a rounded answer within tolerance."""
        if self.family.exact:
            return len(f"{self.answer:.10g}".lstrip("-"))
        size = math.floor(math.log10(abs(self.answer)))
        return max(2, math.ceil(size + 1 - math.log10(2 * self.tolerance)))

    @property
    def text(self) -> str:
        """The problem in words, with its numbers and how exactly it is asked."""
        text = self._filled(self.family.text)
        keep = self.asked.figures_on_the_way
        if keep > FIGURES_ON_THE_WAY and "figures" not in text:
            text += f" Keep {figures_told(keep)} on the way."
        return f"{text} {self.told_tolerance}"

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
        signed = {name: minus(text) for name, text in extra.items()}
        return self._filled(self.family.solution, signed)

    def _filled(self, text: str, extra: dict[str, str] | None = None) -> str:
        written = {
            quantity.name: minus(quantity.written(self.numbers[quantity.name]))
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
            "edition": self.edition,
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
    family: Family,
    student: str,
    key: str,
    set_name: str = "1",
    try_number: int = 1,
    edition: int | None = None,
) -> Problem:
    """A student's problem of a family.

    family: which method; student: a code like Q07; key: the lecturer's, kept for a class; set_name:
    which set of problems; try_number: 1 for the first numbers, 2 for the next; edition: the one in
    which it is given out, from 1, the family's newest unless it is named. Codes and keys count in
    composed form and without outer blanks.
    Raises MeasureError for what is no code, count or edition, or if no numbers of the family keep
    answer and slips apart.
    """
    student, key, set_name = checked(student, key, set_name)
    try_number = whole(try_number, "try", at_least=1, at_most=MOST_TRIES)
    newest = family.edition
    asked = newest if edition is None else whole(edition, "edition", at_least=1, at_most=newest)
    family = family.form(asked)
    for attempt in range(_MOST_DRAWS):
        parts = ("problem", key, set_name, student, family.key, str(try_number), str(attempt))
        # each part with its length, so that no key can borrow from its neighbour
        shares = uniforms(len(family.given), *(f"{len(part)}:{part}" for part in parts))
        numbers = {
            quantity.name: quantity.at(min(int(share * quantity.count), quantity.count - 1))
            for quantity, share in zip(family.given, shares, strict=True)
        }
        found = work(family, numbers, asked)
        if found is not None:
            return Problem(family, student, key, set_name, try_number, numbers, *found, asked)
    raise MeasureError(
        "family", family.key, "", "ranges in which answer and slips can be told apart"
    )


def read_back(
    family: Family,
    student: str,
    key: str,
    set_name: str,
    try_number: int,
    numbers: Mapping[str, float],
    edition: int,
) -> Problem | None:
    """A problem with the numbers that were given out; None if the family never had such numbers.

    family, student, key, set_name, try_number: as for :func:`draw`; numbers: name → number, as they
    were kept; edition: in which they were given out, whose form it is read back in. Nothing that
    came later in this form passes them over.
    """
    student, key, set_name = checked(student, key, set_name)
    family = family.form(edition)
    if set(numbers) != {quantity.name for quantity in family.given}:
        return None
    kept = {quantity.name: float(numbers[quantity.name]) for quantity in family.given}
    if not all(quantity.holds(kept[quantity.name]) for quantity in family.given):
        return None
    found = work(family, kept, family.from_edition)
    if found is None:
        return None
    return Problem(family, student, key, set_name, try_number, kept, *found, edition)


def checked(student: str, key: str, set_name: str) -> tuple[str, str, str]:
    """A student's code, the key and the set's name, in composed form and without outer blanks.

    student, key, set_name: as for :func:`draw`. Raises MeasureError for what is no code or key.
    """
    student, key, set_name = checked_code(student), plain(key), plain(set_name)
    for name, value in (("key", key), ("set", set_name)):
        if not isinstance(value, str) or not 0 < len(value) <= 60 or not value.isprintable():
            raise MeasureError(name, value, "", "1 to 60 printable characters")
    return student, key, set_name


def checked_code(student: str) -> str:
    """A student's code, in composed form and without outer blanks.

    student: as typed. Raises MeasureError for what is no code.

    >>> checked_code(" Q07 ")
    'Q07'
    """
    student = plain(student)
    if not isinstance(student, str) or not _CODE.fullmatch(student):
        raise MeasureError(
            "student", student, "", "a code like Q07: letters, digits, dashes, at most 20"
        )
    return student
