"""What moves a panel: what can be declared, and what each control can be set to."""

from __future__ import annotations

from typing import Any

import pytest

from mensura.checks import MeasureError
from mensura.teaching.controls import Choice, Control, Stepper, Switch

ACROSS = Control("across_cm", "across", "cm", 0, 10, 0.1, 5, "Where")
UP = Control("up", "up", "", 0, 10, 1, 4, "Where", whole=True)


@pytest.mark.parametrize("start", [0, 10, -1, 11, float("nan")])
def test_no_control_starts_at_its_end(start: float) -> None:
    """A control that could move one way only, or not at all, cannot be declared."""
    with pytest.raises(MeasureError, match="a start between 0 and 10"):
        Control("up", "up", "", 0, 10, 1, start, "Where")
    assert Control("up", "up", "", 0, 10, 1, 5, "Where").start == 5


@pytest.mark.parametrize("step", [0, -0.5, float("nan")])
def test_a_step_leads_somewhere(step: float) -> None:
    """No step, one backwards, and none at all cannot be declared."""
    with pytest.raises(MeasureError, match="a step greater than 0"):
        Control("up_cm", "up", "cm", 0, 10, step, 5, "Where")


def test_whole_numbers_have_whole_steps() -> None:
    with pytest.raises(MeasureError, match="a whole step greater than 0"):
        Control("up", "up", "", 0, 10, 0.5, 5, "Where", whole=True)


@pytest.mark.parametrize(
    ("least", "greatest", "step", "start", "said"),
    [
        (0, 10, 0.5, 5.2, "a start that steps of 0.5 from 0 reach"),
        (-1, 1, 0.3, 0.5, "a greatest that steps of 0.3 from -1 reach"),
        (0, 10, 3, 6, "a greatest that steps of 3 from 0 reach"),
    ],
)
def test_start_and_greatest_lie_on_the_grid(
    least: float, greatest: float, step: float, start: float, said: str
) -> None:
    """What the slider cannot reach is neither its start nor its end; binary dust is no matter."""
    with pytest.raises(MeasureError, match=said):
        Control("up_cm", "up", "cm", least, greatest, step, start, "Where")
    assert Control("up_cm", "up", "cm", -0.5, 0.5, 0.05, -0.3, "Where").ends == (-0.5, 0.5)


def test_a_control_checks_what_it_is_given() -> None:
    """Inside its ends, both included; whole where it counts; numbers only."""
    assert ACROSS.check(0) == 0
    assert ACROSS.check(10) == 10
    assert isinstance(UP.check(3.0), int)
    for bad in (-0.1, 10.1, float("nan"), float("inf"), "5", None, True):
        with pytest.raises(MeasureError, match="at least 0 and at most 10 cm"):
            ACROSS.check(bad)
    with pytest.raises(MeasureError, match=r"up is 3\.5; expected a whole number"):
        UP.check(3.5)


@pytest.mark.parametrize("bad", [1, 0, "yes", None, 7.0])
def test_a_switch_is_ticked_or_not(bad: Any) -> None:
    """Nothing is taken for a tick but what is one."""
    one = Switch("down", "round down", "Tape")
    assert [one.check(value) for value in one.ends] == [False, True]
    with pytest.raises(MeasureError, match=r"round down is .*; expected True or False"):
        one.check(bad)


def test_a_choice_is_one_of_its_options() -> None:
    one = Choice("stem", "stem", "Stem", ("oval", "rough"))
    assert one.check("rough") == "rough"
    with pytest.raises(MeasureError, match="one of: oval, rough"):
        one.check("square")


@pytest.mark.parametrize("options", [(), ("oval",), ("oval", "oval")])
def test_there_is_something_to_choose(options: tuple[str, ...]) -> None:
    with pytest.raises(MeasureError, match="at least two different options"):
        Choice("stem", "stem", "Stem", options)


def test_a_stepper_that_counts_nothing() -> None:
    """Steps are counted from one."""
    with pytest.raises(MeasureError, match="count"):
        Stepper("step", "line", 0)
    assert Stepper("step", "line", 1).place(1) == "Line 1 of 1"


@pytest.mark.parametrize("value", [0, 10, 2.5, "3", True, None])
def test_a_step_that_is_not_there(value: Any) -> None:
    """Only whole steps from the first to the last can be asked for."""
    with pytest.raises(MeasureError, match=r"line is .*; expected a whole number from 1 to 9"):
        Stepper("step", "line", 9).check(value)
