"""A numerical exercise of a workbook: fixed numbers, answered as every problem is."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from mensura.checks import MeasureError
from mensura.teaching.answers.reply import Asked, KnownSlip, Reply, reply
from mensura.teaching.answers.units import UNITS


@dataclass(frozen=True)
class Exercise:
    """A question with one numerical answer.

    text: plain words with all the data; unit: of the answer, a name of UNITS; answer: in that unit;
    tolerance: how far a right answer may be off, same unit, above 0; because: how it is found;
    slips: wrong computations that are known by their result.
    Raises MeasureError for a unit that is not known, an answer of 0, a tolerance that is not above
    0, or a slip that lies within it.

    >>> disc = Exercise("A girth is 100 cm. The diameter?", "cm", 31.83, 0.05, "d = G/π")
    >>> disc.reply("31,8").right, disc.reply("318.3 mm").right, disc.reply("31.8 m").right
    (True, True, False)
    """

    text: str
    unit: str
    answer: float
    tolerance: float
    because: str
    slips: Sequence[KnownSlip] = ()

    def __post_init__(self) -> None:
        if self.unit not in UNITS:
            named = ", ".join(name for name in UNITS if name)
            raise MeasureError("unit", self.unit, "", f"one of: {named}")
        if not math.isfinite(self.answer) or not self.answer:
            raise MeasureError("answer", self.answer, self.unit, "a finite number that is not 0")
        if not self.tolerance > 0:
            raise MeasureError("tolerance", self.tolerance, self.unit, "a number above 0")
        for slip in self.slips:
            if abs(slip.value - self.answer) <= self.tolerance:
                raise MeasureError("slips", slip.value, self.unit, "a slip outside the tolerance")

    @property
    def asked(self) -> Asked:
        """What an answer is held against, and what is said of it."""
        unit = f" {self.unit}" if self.unit else ""
        return Asked(
            self.answer,
            self.unit,
            self.tolerance,
            self.slips,
            because=self.because,
            near=f"An answer within {self.tolerance:g}{unit} counts.",
        )

    def reply(self, typed: str) -> Reply:
        """What is said to an answer.

        typed: as it was typed; nothing in it is evaluated.
        """
        return reply(self, typed)
