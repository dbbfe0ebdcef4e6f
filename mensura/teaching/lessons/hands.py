"""A show of hands: what a class is asked, from which answers it chooses, how many chose each.

A prediction has its answers. A numerical exercise gets some: its right answer and what its known
slips give, in the order of their size, so that the place of the right one tells nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from mensura.checks import MeasureError, whole
from mensura.teaching.lessons.exercise import Exercise
from mensura.teaching.lessons.predict import Prediction
from mensura.written import minus, rounded

#: So many answers have a key and a place on a screen.
MOST_OPTIONS = 6

#: No class has more.
MOST_HANDS = 9999


@dataclass(frozen=True)
class Option:
    """An answer for which hands are raised.

    text: the answer; reply: what is said to it once the answer is shown; right: whether it holds.
    """

    text: str
    reply: str
    right: bool = False


def options_of(question: Prediction | Exercise) -> tuple[Option, ...]:
    """The answers that a class chooses from.

    question: of a workbook.

    >>> from mensura.teaching.lessons.questions import question
    >>> [one.text for one in options_of(question("02-1"))]
    ['1427 cm²', '1817 cm²', '3634 cm²', '17930 cm²']
    """
    if isinstance(question, Prediction):
        return tuple(Option(one.text, one.reply, one.right) for one in question.choices)
    slips = [(one.value, one.says) for one in question.slips][: MOST_OPTIONS - 1]
    values = [(question.answer, question.because), *slips]
    for figures in range(3, 9):
        texts = [minus(rounded(value, figures)) for value, _ in values]
        near = float(rounded(question.answer, figures)) - question.answer
        if len(set(texts)) == len(texts) and abs(near) <= question.tolerance:
            break
    unit = f" {question.unit}" if question.unit else ""
    made = [
        (value, Option(f"{text}{unit}", says, count == 0))
        for count, ((value, says), text) in enumerate(zip(values, texts, strict=True))
    ]
    return tuple(one for _, one in sorted(made, key=lambda pair: pair[0]))


def share_percent(hands: int, of: int) -> float:
    """Share of a class.

    hands: that were raised; of: all that were raised; 0 of none is 0.

    >>> share_percent(3, 12), share_percent(0, 0)
    (25.0, 0.0)
    """
    return 100.0 * hands / of if of else 0.0


class Count:
    """The hands of one asking, counted in.

    many: how many answers there are; hands: as counted before, 0 each unless given.
    Raises MeasureError for hands that do not fit.

    >>> count = Count(3)
    >>> count.raise_hand(1), count.raise_hand(2), count.take_back(), count.hands
    (None, None, True, [0, 1, 0])
    """

    def __init__(self, many: int, hands: Sequence[int] = ()) -> None:
        self.hands = [_checked(one) for one in hands] or [0] * many
        if len(self.hands) != many:
            raise MeasureError("hands", len(self.hands), "", f"{many} numbers")
        self._raised: list[int] = []

    @property
    def total(self) -> int:
        """All hands."""
        return sum(self.hands)

    def raise_hand(self, option: int) -> None:
        """One more hand.

        option: which answer, from 0.
        """
        self.put(option, min(MOST_HANDS, self.hands[self._at(option)] + 1))
        self._raised.append(option)

    def take_back(self, option: int | None = None) -> bool:
        """One hand less; returns whether there was one.

        option: of which answer, from 0; None for the hand that was raised last.
        """
        if option is None:
            while self._raised and not self.hands[self._raised[-1]]:
                self._raised.pop()
            if not self._raised:
                return False
            option = self._raised.pop()
        if not self.hands[self._at(option)]:
            return False
        self.hands[option] -= 1
        return True

    def put(self, option: int, hands: int) -> None:
        """So many hands, as they were counted elsewhere.

        option: which answer, from 0; hands: how many.
        """
        self.hands[self._at(option)] = _checked(hands)

    def _at(self, option: int) -> int:
        return whole(option, "answer", at_least=0, at_most=len(self.hands) - 1)


def _checked(hands: int) -> int:
    return whole(hands, "hands", at_least=0, at_most=MOST_HANDS)
