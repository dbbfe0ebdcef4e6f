"""Predict, then see: a question with a few answers, each of which has its own reply."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from mensura.checks import MeasureError


@dataclass(frozen=True)
class Choice:
    """One answer that may be chosen, and what is said to it.

    text: the answer; reply: why it is right, or what it overlooks; right: whether it holds.
    """

    text: str
    reply: str
    right: bool = False


@dataclass(frozen=True)
class Prediction:
    """A question asked before anything moves.

    question: plain text; choices: two to six, of which exactly one is right.
    Raises MeasureError otherwise.

    >>> asked = Prediction("Is it?", [Choice("yes", "So it is.", True), Choice("no", "Look.")])
    >>> asked.reply(1)
    'Not so. Look.'
    """

    question: str
    choices: Sequence[Choice]

    def __post_init__(self) -> None:
        if not 2 <= len(self.choices) <= 6:
            raise MeasureError("choices", len(self.choices), "", "two to six answers")
        right = sum(choice.right for choice in self.choices)
        if right != 1:
            raise MeasureError("choices", right, "", "exactly one right answer")

    def reply(self, index: int | None) -> str:
        """What is said to the answer chosen.

        index: of the choice, or None if nothing was chosen.
        """
        if index is None:
            return "Choose an answer first."
        choice = self.choices[index]
        return f"{'Yes.' if choice.right else 'Not so.'} {choice.reply}"
