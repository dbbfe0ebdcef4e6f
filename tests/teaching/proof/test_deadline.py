"""No line takes long: there is a deadline within the decision, and the reply says so."""

from __future__ import annotations

import sys
import time

import pytest

from mensura.teaching.proof.judge import judge
from mensura.teaching.proof.patience import OutOfTime, brace, deciding, tick

MEANS, APART = "(a²+b²)/2 > ab", "a+b > |a−b|"

#: Lines within the reader's bounds that once took from 2 to 42 s.
SLOW = [
    *((f"(πa+b)^{n} > (πb+a)^{n}", MEANS, ("a > b",)) for n in (8, 10, 12)),
    ("(πa+b)^12 > (πb+a)^12", MEANS, ()),
    *((f"((a+b)^4)^{k} > ((a−b)^4)^{k}", APART, ()) for k in (4, 5, 6)),
    *((f"(√2+√3+√5+√7)^{n}·a > b", APART, ("a > b",)) for n in (8, 10, 12)),
    ("(A_tape+ab)^10/(a²+b²)^10 > 1", APART, ("a > b",)),
    ("√((A_tape+ab)^12+(a+0.001b)^12) > (A_tape+ab)^6", APART, ("b > a",)),
    ("√((√(a²+b²)+a)^8+(1.37a+2.91b)^8) > (a+2√(ab)+b)^4", APART, ("b > a",)),
    ("(a+3b)^12+(√(a²+b²)+a)^12 > (a+√(ab))^12", APART, ()),
    ("1/(πa+b)^8 < 1/(a+0.001b)^8", APART, ()),
    ("(√(2)a+√(3)b)^10 > 0", MEANS, ("b > a",)),
    ("(2a+b)^12/(a+0.001b)^12 > 1", APART, ()),
    ("1/(A_tape+ab)^12 < 1/(|a−b|+a)^12", APART, ()),
    ("999999999999^12 > a", APART, ()),
    ("(A_tape−A_cal)^12 > 0", "2 > 1", ()),
]

#: The lines among them that are false; the rest are true where they are meant to hold.
FALSE = {
    "(πa+b)^12 > (πb+a)^12",
    "√((A_tape+ab)^12+(a+0.001b)^12) > (A_tape+ab)^6",
    "1/(A_tape+ab)^12 < 1/(|a−b|+a)^12",
    "999999999999^12 > a",
}


@pytest.mark.parametrize(("line", "after", "assume"), SLOW)
def test_a_slow_line_is_answered_in_two_seconds(line, after, assume):
    """Of processor time; what was not decided is not called false, true or a step."""
    start = time.process_time()
    found = judge(line, after, assume)
    assert time.process_time() - start < 2
    if found.verdict == "false":
        assert line in FALSE or "√(a²" in line
    if found.verdict == "unreadable":
        assert "could not be decided in time" in found.why or "too" in found.why
        assert not found.forwards
        assert found.counterexample is None
    assert sys.getprofile() is None


def test_a_decision_ends_by_its_steps():
    """So that the same line is given up on any machine that is fast enough."""

    def count(times: int) -> None:
        with deciding(steps=1000, limit_s=60):
            for _ in range(times):
                tick()

    count(1000)
    with pytest.raises(OutOfTime):
        count(1001)
    tick()  # outside nothing is counted


def test_a_decision_ends_by_the_clock_within_one_call_of_the_algebra():
    """Calls within a single long call are counted; afterwards none are."""
    import sympy

    x, y, z = sympy.symbols("x y z")
    long = sympy.Poly((x + y + z + 1) ** 9, x, y, z)
    terms = long.as_dict()

    def factored() -> None:
        with deciding(steps=10**12, limit_s=0.3):
            brace(terms, times=1000)
            while True:
                (long * long).factor_list()

    start = time.thread_time()
    with pytest.raises(OutOfTime):
        factored()
    assert 0.2 < time.thread_time() - start < 1.5
    assert sys.getprofile() is None


def test_a_number_too_long_for_one_multiplication_is_not_begun():
    """Before a common divisor is sought: polynomials of high powers in many letters."""
    from sympy import QQ

    terms = {(80, 80, 80): QQ(1), (0, 0, 0): QQ(10) ** 40}
    with pytest.raises(OutOfTime), deciding():
        brace(terms)
    brace(terms)


def test_another_profiler_is_left_alone():
    """One that is already there goes on; our own loops still keep the deadline."""
    heard = []

    def mine(frame, event, argument):
        heard.append(event)

    sys.setprofile(mine)
    try:
        found = judge("((a+b)^4)^5 > ((a−b)^4)^5", APART)
        assert sys.getprofile() is mine
    finally:
        sys.setprofile(None)
    assert found.verdict != "false"
    assert heard
