"""Whether a plan fits, and which spare steps make it fit."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.teaching.lessons.fitting import MOST_TRIED, fits, left_out, running_min
from mensura.teaching.lessons.plan import Step


def plan(*minutes: float, spare: tuple[int, ...] = ()) -> list[Step]:
    return [Step(one, text="a", spare=place in spare) for place, one in enumerate(minutes)]


@pytest.mark.parametrize(
    ("steps", "sentence"),
    [
        (plan(20, 25), "45 of 50 minutes: 5 to spare."),
        (plan(*[0.1] * 10, 49), "50 of 50 minutes: it fits to the minute."),
        (
            plan(30, 22.5),
            "52.5 of 50 minutes: 2.5 too many. Tick the steps that may be left out, or shorten "
            "some.",
        ),
        (
            plan(20, 4, 27, 3, spare=(1, 3)),
            "54 of 50 minutes: 4 too many. Leave out step 2 and it fits.",
        ),
        (
            plan(20, 4, 27, 5, spare=(1, 3)),
            "56 of 50 minutes: 6 too many. Leave out steps 2 and 4 and it fits.",
        ),
        (
            plan(60, 2, 3, 4, spare=(1, 2, 3)),
            "69 of 50 minutes: 19 too many. Even without steps 2, 3 and 4 it is 10 too many.",
        ),
    ],
)
def test_one_sentence(steps: list[Step], sentence: str) -> None:
    assert fits(steps, 50) == sentence


def test_running_times_have_no_dust() -> None:
    assert running_min(plan(0.1, 0.2, 3)) == [0.1, 0.3, 3.3]
    assert running_min([]) == []


@given(
    st.lists(st.tuples(st.integers(1, 20), st.booleans()), min_size=1, max_size=9),
    st.integers(1, 40),
)
def test_as_few_steps_as_do_it(told: list[tuple[int, bool]], over: int) -> None:
    """No smaller choice of spare steps would do; of as many, none shorter; held by trying all."""
    steps = [Step(minutes, text="a", spare=spare) for minutes, spare in told]
    spare = [place for place, one in enumerate(steps) if one.spare]
    chosen = left_out(steps, over)
    assert set(chosen) <= set(spare)
    if sum(steps[place].minutes for place in spare) < over:
        assert chosen == spare
        return
    takes = sum(steps[place].minutes for place in chosen)
    assert takes >= over
    for count in range(len(chosen) + 1):
        for other in combinations(spare, count):
            minutes = sum(steps[place].minutes for place in other)
            assert minutes < over or (count == len(chosen) and minutes >= takes)


def test_many_spare_steps_are_chosen_at_once() -> None:
    """Of more than are tried in all ways, the longest come first."""
    steps = plan(*range(1, MOST_TRIED + 20), spare=tuple(range(MOST_TRIED + 19)))
    longest = len(steps)
    assert left_out(steps, longest + 1) == [longest - 2, longest - 1]
    assert left_out(steps, 10_000) == list(range(longest))
