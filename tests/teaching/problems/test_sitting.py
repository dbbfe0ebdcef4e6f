"""A sitting: hints grow, the solution opens after an honest attempt, junk is no attempt."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.teaching.answers.reply import reply
from mensura.teaching.problems.draw import Problem, draw
from mensura.teaching.problems.families.girth import FAMILIES
from mensura.teaching.problems.sitting import Sitting

AREA = next(one for one in FAMILIES if one.key == "girth-to-area")


def problem(student: str = "Q07", try_number: int = 1) -> Problem:
    """One of the area's problems."""
    return draw(AREA, student, "k", "1", try_number)


def wrong(of: Problem) -> str:
    """An answer that can be read and is far off."""
    return f"{of.answer * 31:.4g} cm2"


def right(of: Problem) -> str:
    """The answer, to more figures than are needed."""
    return f"{of.answer:.5g} cm2"


def test_a_wrong_and_a_right_answer() -> None:
    """Each makes an attempt that tells of it; the solution is open from the first."""
    sitting = Sitting(problem())
    assert sitting.solution() is None
    said, attempt = sitting.answer(wrong(sitting.problem), "then")
    assert not said.right
    assert attempt
    assert (attempt.right, attempt.slip, attempt.text) == (False, None, wrong(sitting.problem))
    assert (attempt.student, attempt.key, attempt.set_name) == ("Q07", "k", "1")
    assert (attempt.family, attempt.try_number, attempt.when) == ("girth-to-area", 1, "then")
    assert dict(attempt.numbers) == sitting.problem.numbers
    assert attempt.edition == sitting.problem.edition == 1
    assert sitting.open
    assert not sitting.solved
    said, attempt = sitting.answer(right(sitting.problem), "later")
    assert said.right
    assert attempt
    assert attempt.right
    assert sitting.solved
    assert not attempt.solution_read
    assert sitting.solution() == sitting.problem.solution


@pytest.mark.parametrize("text", ["", "   ", "banana", "nan", "1/0", "9" * 400, "__import__('os')"])
def test_what_cannot_be_read_is_no_attempt(text: str) -> None:
    """Nothing counts, and nothing is opened."""
    sitting = Sitting(problem())
    said, attempt = sitting.answer(text, "then")
    assert attempt is None
    assert said.message
    assert not sitting.open
    assert sitting.solution() is None
    assert not sitting.solution_read


def test_a_missing_unit_is_no_attempt() -> None:
    """The unit is asked for; the number alone counts as nothing."""
    sitting = Sitting(problem())
    _, attempt = sitting.answer(f"{sitting.problem.answer:.5g}", "then")
    assert attempt is None
    assert not sitting.solved


@given(st.text(max_size=30))
def test_an_attempt_is_what_can_be_read(text: str) -> None:
    """Any text: an attempt if and only if it could be read; the reply is the bank's."""
    sitting = Sitting(problem())
    said, attempt = sitting.answer(text, "then")
    assert said == reply(sitting.problem, text)
    assert (attempt is not None) == said.readable == sitting.open


def test_the_same_answer_twice_is_one_attempt() -> None:
    """The Enter key pressed twice counts once; another answer between makes it another attempt."""
    sitting = Sitting(problem())
    texts = [wrong(sitting.problem), wrong(sitting.problem), "7 cm2", wrong(sitting.problem)]
    made = [sitting.answer(text, "then")[1] is not None for text in texts]
    assert made == [True, False, True, True]


def test_three_hints_open_the_solution() -> None:
    """Each hint is the next one; after the third the solution may be read, and no hint is left."""
    sitting = Sitting(problem())
    for hint in sitting.problem.hints:
        assert not sitting.open
        assert sitting.hint() == hint
    assert sitting.hint() is None
    assert sitting.hints_read == 3
    assert sitting.solution() == sitting.problem.solution
    _, attempt = sitting.answer(right(sitting.problem), "then")
    assert attempt
    assert (attempt.hints, attempt.solution_read) == (3, True)


def test_taken_up_from_a_log() -> None:
    """Another day the same problem is as it was left; others' and other numbers do not touch it."""
    first = Sitting(problem())
    first.hint()
    _, one = first.answer(wrong(first.problem), "then")
    first.solution()
    _, two = first.answer(right(first.problem), "later")
    assert one
    assert two
    again = Sitting(problem())
    again.resume([one])
    assert (again.hints_read, again.tried, again.solved, again.solution_read) == (
        1,
        True,
        False,
        False,
    )
    again.resume([one, two])
    assert (again.tried, again.solved, again.solution_read) == (True, True, True)
    for other in (problem("Q08"), problem(try_number=2)):
        fresh = Sitting(other)
        fresh.resume([one, two])
        assert fresh == Sitting(other)
