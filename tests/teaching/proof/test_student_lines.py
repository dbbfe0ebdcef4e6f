"""The judge decides sixty-six lines of students as a lecturer would, for the lecturer's reason.

The lecturer's verdicts were written without the judge. They are checked here against plain numbers
too, so that a slip of the lecturer's is found and not built in.
"""

from __future__ import annotations

import itertools
import random
import runpy
from collections import Counter
from pathlib import Path

import pytest

from mensura.teaching.proof.judge import VERDICTS, Verdict, judge

DATA = runpy.run_path(str(Path(__file__).with_name("student_lines.py")))
LINES, LAST_LINES, DIRECTIONS, holds = (
    DATA[name] for name in ("LINES", "LAST_LINES", "DIRECTIONS", "holds")
)
READABLE = [one for one in LINES if one.verdict != "unreadable"]
FALSE = [one for one in LINES if one.verdict == "false"]
UNREADABLE = [one for one in LINES if one.verdict == "unreadable"]


def name(one) -> str:
    return f"{one.verdict}: {one.line} | after {one.after}"


def judged(one) -> Verdict:
    return judge(one.line, after=one.after, assume=one.assume)


def axes(assume: tuple[str, ...]) -> list[tuple[float, float]]:
    """Sixty pairs of half-axes that the assumptions allow, from needles to all but round."""
    rng = random.Random(4)
    pairs = []
    for step in range(60):
        least = rng.uniform(0.2, 40)
        most = least * (1 + rng.choice([0.004, 0.02, 0.1, 0.5, 2, 8]) * rng.uniform(0.7, 1.3))
        longer_first = "a > b" in assume or ("b > a" not in assume and step % 2 == 0)
        pairs.append((most, least) if longer_first else (least, most))
    return pairs


# ---- the lecturer's own verdicts ----------------------------------------------------------------


def test_sixty_six_lines_a_good_spread():
    """There are sixty-six, no two alike, some of each verdict, each with a reason."""
    assert len(LINES) == 66
    assert len({(one.after, one.line, one.assume) for one in LINES}) == 66
    assert set(Counter(one.verdict for one in LINES)) == set(VERDICTS)
    assert min(Counter(one.verdict for one in LINES).values()) >= 6
    assert all(one.reason.endswith(".") for one in LINES)


@pytest.mark.parametrize("one", READABLE, ids=name)
def test_the_lecturer_is_right_about_numbers(one):
    """A line called true holds for all sixty pairs of axes; one called false fails for some."""
    truths = [holds(one.sign, *one.sides(a, b)) for a, b in axes(one.assume)]
    assert all(truths) is (one.verdict != "false")


@pytest.mark.parametrize(
    "one", [one for one in LINES if one.verdict in ("weaker", "stronger")], ids=name
)
def test_weaker_and_stronger_differ_where_the_section_is_round(one):
    """At a = b the weaker of two lines keeps a gap that the other lacks, or only the other is >."""

    def gap(sides) -> float:
        left, right = sides(10.0, 10.0)
        return round(abs(left - right), 9)

    last, line = gap(LAST_LINES[one.after]), gap(one.sides)
    if last == line == 0:
        last, line = "≥" in one.after, one.sign in (">=", "<=")
    assert (line > last) is (one.verdict == "weaker")
    assert (line < last) is (one.verdict == "stronger")


# ---- the judge ----------------------------------------------------------------------------------


@pytest.mark.parametrize("one", LINES, ids=name)
def test_the_judge_agrees_with_the_lecturer(one):
    """The same verdict, and with it the directions in which the line is a step."""
    verdict = judged(one)
    assert verdict.verdict == one.verdict, f"{one.reason} The judge: {verdict.why}"
    assert (verdict.forwards, verdict.backwards) == DIRECTIONS[one.verdict]
    assert len(verdict.why.split()) >= 3


@pytest.mark.parametrize("one", LINES, ids=name)
def test_only_a_false_line_has_a_counterexample(one):
    """Numbers that refute stand beside false lines and beside no others."""
    assert (judged(one).counterexample is not None) is (one.verdict == "false")


@pytest.mark.parametrize("one", FALSE, ids=name)
def test_the_counterexample_refutes_the_line(one):
    """Half-axes that are allowed, and for which the line fails by plain arithmetic."""
    found = judged(one).counterexample
    assert set(found) == {"a", "b"}
    a, b = found["a"], found["b"]
    assert a > 0
    assert b > 0
    assert a != b
    assert "a > b" not in one.assume or a > b
    assert "b > a" not in one.assume or b > a
    assert not holds(one.sign, *one.sides(a, b))


@pytest.mark.parametrize("one", UNREADABLE, ids=name)
def test_an_unreadable_line_is_pointed_at(one):
    """The place lies where a reader would stumble, counted from 1."""
    verdict = judged(one)
    assert verdict.place in one.places, verdict.why


def test_a_line_that_needs_the_longer_axis_says_so():
    """Without "let a be the longer half-axis" the reply names that sentence; with it, no need."""
    for line in ("a - b > 0", "a² > b²", "a² − b² > 0", "a > b"):
        alone = judge(line, after="(a - b)^2 > 0")
        assert alone.verdict == "false"
        assert "longer" in alone.why or "a > b" in alone.why.replace(line, "")
        assert judge(line, after="a > b", assume=("a > b",)).verdict == "equivalent"


def test_odd_dimensions_get_a_remark():
    """A number beside areas is remarked on, whether the line is true or not."""
    after = "a^2 + b^2 > 2ab"
    assert judge("a² + b² + 1 > 2ab", after=after).remark
    assert judge("a² + b² > 2ab + 1", after=after).remark
    assert judge("a² + b + b² > 2ab", after=after).remark
    for plain in ("(a-b)² > 0", "a/b + b/a > 2", "a^3 + b^3 > a^2 b + a b^2", "√(a²+b²) > √(2ab)"):
        assert not judge(plain, after=after).remark


@pytest.mark.parametrize(
    "spelling",
    [
        "a^2 + b^2 > 2ab",
        "a²+b²>2ab",
        "  a ^ 2   +  b²  >  2 a b ",
        "2ab < a² + b²",
        "a*a + b*b > 2*a*b",
        "a·a + b × b > 2 · a · b",
        "b² + a² > ab·2",
        "a^(2) + b^2 > 2ab",
        "1.0a² + 1,0b² > 2,0ab",
        "a² + b² > (2a)(b)",
        "|a|² + |b|² > 2|ab|",
        "√(a^4) + sqrt(b^4) > 2√a√a·b",
        "A_tape > A_cal",
        "pi(a²+b²)/2 > A_cal",
        "a² + b² − 2ab > 0",
        "−2ab > −a² − b²",
    ],
)
def test_one_statement_in_many_spellings(spelling):
    """However it is spelt, the line says the same as any other spelling of it."""
    assert judge(spelling, after="a^2 + b^2 > 2ab").verdict == "equivalent"
    assert judge("a^2 + b^2 > 2ab", after=spelling).verdict == "equivalent"


def test_two_signs_for_at_least():
    """>=, ≥ and the sides swapped with <=, ≤ are one relation."""
    spelt = ["a² + b² >= 2ab", "a² + b² ≥ 2ab", "2ab <= a² + b²", "2ab ≤ a² + b²"]
    for line, after in itertools.product(spelt, spelt):
        assert judge(line, after=after).verdict == "equivalent"
