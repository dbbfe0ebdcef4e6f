"""A prediction has one right answer, and every answer has its own reply."""

from __future__ import annotations

import pytest

from mensura.checks import MeasureError
from mensura.teaching.lessons.predict import Choice, Prediction

YES = Choice("yes", "So it is.", right=True)
NO = Choice("no", "Look again.")


def test_each_answer_has_its_reply() -> None:
    """The reply says first whether it holds, then why."""
    asked = Prediction("Is it?", [NO, YES])
    assert asked.reply(0) == "Not so. Look again."
    assert asked.reply(1) == "Yes. So it is."


def test_nothing_chosen() -> None:
    """The first answer is index 0, which is not the same as none."""
    assert Prediction("Is it?", [YES, NO]).reply(None) == "Choose an answer first."
    assert Prediction("Is it?", [YES, NO]).reply(0) == "Yes. So it is."


@pytest.mark.parametrize("choices", [[], [YES], [YES] + [NO] * 6])
def test_two_to_six_answers(choices: list[Choice]) -> None:
    """Fewer are no choice, more are no question."""
    with pytest.raises(MeasureError, match="two to six answers"):
        Prediction("Is it?", choices)


@pytest.mark.parametrize("choices", [[NO, NO], [YES, YES, NO]])
def test_exactly_one_is_right(choices: list[Choice]) -> None:
    """None or two right ones are a mistake of ours, refused when it is made."""
    with pytest.raises(MeasureError, match="exactly one right answer"):
        Prediction("Is it?", choices)


@pytest.mark.parametrize("count", [2, 6])
def test_the_limits_are_allowed(count: int) -> None:
    """Two answers and six answers both make a prediction."""
    assert len(Prediction("Is it?", [YES] + [NO] * (count - 1)).choices) == count
