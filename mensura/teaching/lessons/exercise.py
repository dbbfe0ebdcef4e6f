"""A numerical exercise that checks itself: a number is read, compared, and answered in words."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from mensura.checks import MeasureError, shown

# a space or thin space may stand between thousands
_TYPED = re.compile(
    r"([+-]?(?:\d{1,3}(?:[ \u00a0\u2009\u202f]\d{3})+(?:[.,]\d*)?|\d+(?:[.,]\d*)?|[.,]\d+))\s*(.*)",
    re.ASCII | re.DOTALL,
)
_SAME_UNIT = {"deg": "°", "degree": "°", "degrees": "°", "percent": "%", "per cent": "%"}


@dataclass(frozen=True)
class Slip:
    """A nameable wrong computation.

    value: what it gives, in the exercise's unit; says: what went wrong, in one sentence.
    """

    value: float
    says: str


@dataclass(frozen=True)
class Exercise:
    """A question with one numerical answer.

    text: plain words with all the data; unit: of the answer, as it is written; answer: in that
    unit; tolerance: how far a right answer may be off, same unit, above 0; because: how it is
    found; slips: wrong computations that are known by their result.
    Raises MeasureError if the tolerance is not above 0, or a slip lies within it.

    >>> disc = Exercise("A girth is 100 cm. The diameter?", "cm", 31.83, 0.05, "d = G/π")
    >>> disc.reply("31,8").right, disc.reply("31.8 m").right
    (True, False)
    """

    text: str
    unit: str
    answer: float
    tolerance: float
    because: str
    slips: Sequence[Slip] = ()

    def __post_init__(self) -> None:
        if not self.tolerance > 0:
            raise MeasureError("tolerance", self.tolerance, self.unit, "a number above 0")
        for slip in self.slips:
            if abs(slip.value - self.answer) <= self.tolerance:
                raise MeasureError("slips", slip.value, self.unit, "a slip outside the tolerance")

    def reply(self, typed: str) -> Reply:
        """What is said to an answer as it was typed; nothing typed is evaluated.

        typed: a number, with decimal point or comma, with or without the unit.
        """
        wanted = f"a number in {self.unit}" if self.unit else "a number"
        if not typed.strip():
            return Reply(False, f"Type {wanted} first.")
        match = _TYPED.fullmatch(typed.strip().replace("−", "-"))
        if match is None or len(typed) > 60:
            return Reply(False, f"{shown(typed)} was not read as a number; expected {wanted}.")
        unit = match.group(2).strip()
        if unit and _unit(unit) != _unit(self.unit):
            return Reply(False, f"The unit is {shown(unit)}; expected {wanted}.")
        value = float(re.sub(r"[ \u00a0\u2009\u202f]", "", match.group(1)).replace(",", "."))
        if abs(value - self.answer) <= self.tolerance:
            return Reply(True, f"Right. {self.because}")
        for slip in self.slips:
            if abs(value - slip.value) <= self.tolerance:
                return Reply(False, slip.says)
        side = "too large" if value > self.answer else "too small"
        comma = (
            " A comma is read as a decimal comma." if re.search(r",\d{3}$", match.group(1)) else ""
        )
        return Reply(
            False,
            f"{value:g} is {side}. An answer within {self.tolerance:g} {self.unit} counts.{comma}",
        )


@dataclass(frozen=True)
class Reply:
    """What is said to an answer.

    right: whether it counts; sentence: the words.
    """

    right: bool
    sentence: str


def _unit(text: str) -> str:
    plain = " ".join(text.lower().split())
    plain = _SAME_UNIT.get(plain, plain)
    return plain.replace("²", "2").replace("³", "3").replace("^", "").replace(" ", "")
