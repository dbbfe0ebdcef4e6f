"""Lines made from the proof's own by steps of known effect get the verdict of their making.

Two hundred that keep the meaning, forty each that weaken, strengthen and break it; then lines with
coefficients drawn at random, which no table could hold; then what must hold between two verdicts.
"""

from __future__ import annotations

import random
import runpy
from collections import Counter
from functools import cache
from pathlib import Path

import pytest
import sympy as sp
from hypothesis import assume as suppose
from hypothesis import given, settings
from hypothesis import strategies as st

from mensura.teaching.proof.judge import judge

MADE = runpy.run_path(str(Path(__file__).with_name("rewrites.py")))
EQUIVALENTS = MADE["equivalents"](200)
OTHERS = [*MADE["weaker"](40), *MADE["stronger"](40), *MADE["false"](40)]
DIRECTIONS = {
    "equivalent": (True, True),
    "weaker": (True, False),
    "stronger": (False, True),
    "leap": (False, False),
    "false": (False, False),
}


def numbers(one):
    """(greater − lesser) of a rewrite at forty allowed pairs of axes, in plain floats."""
    a, b, tape, cal = (MADE[name] for name in ("a", "b", "TAPE", "CAL"))
    areas = {tape: sp.pi * (a**2 + b**2) / 2, cal: sp.pi * a * b}
    greater, lesser = (sp.lambdify((a, b), side.subs(areas)) for side in one.pair)
    rng = random.Random(9)
    found = []
    for step in range(40):
        least = rng.uniform(0.5, 20)
        most = least * (1 + rng.choice([0.01, 0.1, 0.8, 4]))
        longer_first = "a > b" in one.assume or ("b > a" not in one.assume and step % 2 == 0)
        pair = (most, least) if longer_first else (least, most)
        found.append(greater(*pair) - lesser(*pair))
    return found


# ---- the generator ------------------------------------------------------------------------------


def test_rewrites_are_many_and_of_many_kinds():
    """200 different lines, each way of rewriting used ten times or more, the same in each run."""
    assert len(EQUIVALENTS) == 200
    assert len({one.line for one in EQUIVALENTS}) == 200
    ways = Counter(way for one in EQUIVALENTS for way in one.made.split(", "))
    assert set(ways) == {step.__name__ for step in (*MADE["FREE"], MADE["squared"], MADE["rooted"])}
    assert min(ways.values()) >= 10
    assert MADE["equivalents"](200) == EQUIVALENTS
    assert Counter(one.verdict for one in OTHERS) == {"weaker": 40, "stronger": 40, "false": 40}


def test_rewrites_are_true_or_false_in_numbers():
    """A true line has its greater side above for all pairs of axes; a false one has not."""
    for one in [*EQUIVALENTS, *(one for one in OTHERS if one.verdict == "weaker")]:
        assert min(numbers(one)) > 0, one
    for one in OTHERS:
        if one.verdict == "false":
            assert min(numbers(one)) < 0, one


# ---- the judge ----------------------------------------------------------------------------------


def label(one) -> str:
    return f"{one.verdict}: {one.line} | after {one.after} | {one.made}"


@pytest.mark.parametrize("one", [*EQUIVALENTS, *OTHERS], ids=label)
def test_a_rewrite_gets_the_verdict_of_its_making(one):
    """Verdict and directions, and numbers that refute a false line and no other."""
    verdict = judge(one.line, after=one.after, assume=one.assume)
    assert verdict.verdict in one.verdict.split(" or "), verdict.why
    assert (verdict.forwards, verdict.backwards) == DIRECTIONS[verdict.verdict]
    assert (verdict.counterexample is not None) is (one.verdict == "false")
    if verdict.counterexample:
        a, b, tape, cal = (MADE[name] for name in ("a", "b", "TAPE", "CAL"))
        values = {a: verdict.counterexample["a"], b: verdict.counterexample["b"]}
        areas = {tape: sp.pi * (a**2 + b**2) / 2, cal: sp.pi * a * b}
        greater, lesser = (side.subs(areas).subs(values).evalf(30) for side in one.pair)
        assert greater < lesser + 1e-9
        assert not one.assume or (values[a] > values[b]) is (one.assume == ("a > b",))


coefficients = st.one_of(
    st.integers(1, 999).map(str),
    st.integers(1, 999).map(lambda n: f"{n // 100}.{n % 100:02d}").filter(lambda t: float(t) > 0),
    st.tuples(st.integers(1, 99), st.integers(1, 99)).map(lambda t: f"({t[0]}/{t[1]})"),
)


@settings(max_examples=30)
@given(coefficients, coefficients)
def test_no_table_could_hold_these(first, second):
    """k·a² + k·b² against 2k·ab with any k: judged as a² + b² against 2ab is."""
    line = f"{first}a² + {first} b^2 > 2·{first}·ab"
    after = f"{second}(a - b)² > 0"
    assert judge(line, after=after).verdict == "equivalent"
    assert judge(line.replace(">", "≥"), after=after).verdict == "weaker"
    assert judge(line, after=after.replace(">", ">=")).verdict == "stronger"
    assert judge(line.replace(">", "<"), after=after).verdict == "false"


@given(st.integers(1, 60), st.integers(1, 200))
def test_the_coefficient_decides(k, m):
    """k·a² + k·b² > m·ab: false above 2k, weaker below, equivalent at 2k."""
    expected = "equivalent" if m == 2 * k else "weaker" if m < 2 * k else "false"
    verdict = judge(f"{k}a^2 + {k}b^2 > {m}ab", after="(a-b)^2 > 0")
    assert verdict.verdict == expected
    if m > 2 * k:
        a, b = verdict.counterexample["a"], verdict.counterexample["b"]
        assert k * a * a + k * b * b <= m * a * b + 1e-9
        assert a != b


@settings(max_examples=30)
@given(st.integers(1, 5), coefficients)
def test_any_power_that_students_write(n, factor):
    """aⁿ and bⁿ for a and b, any factor before them: times (a + b)² for 2, for more a leap."""
    line = f"{factor}a^{2 * n} + {factor}·b^{2 * n} > {factor} · 2 a^{n} b^{n}"
    expected = "equivalent" if n <= 2 else "leap"
    assert judge(line, after="a^2 + b^2 > 2ab").verdict == expected


# ---- between two verdicts -----------------------------------------------------------------------

#: Lines that are true for every a ≠ b: (text, whether its sides meet where a = b, its relation).
TRUE = [
    ("a² + b² > 2ab", True),
    ("(a−b)² ≥ 0", True),
    ("a/b + b/a > 2", True),
    ("a + b > 2√(ab)", True),
    ("a + b ≥ 2 sqrt(a b)", True),
    ("A_tape > A_cal", True),
    ("a³ + b³ > ab(a+b)", True),
    ("|a−b| > 0", True),
    ("a² + b² > ab", False),
    ("(a+b)² > 0", False),
    ("2a² + 2b² ≥ 3ab", False),
    ("A_tape > 3ab", False),
    ("a + b > √(ab)", False),
    ("a + b > 0", False),
    ("(a + b)^3 > a^3 + b^3", False),
    ("|a−b| < a+b", False),
]
texts = st.sampled_from([text for text, _ in TRUE])
MEETS = dict(TRUE)
TURNED = {
    "equivalent": {"equivalent"},
    "weaker": {"stronger"},
    "stronger": {"weaker"},
    # what follows by a leap need not be enough
    "leap": {"leap", "unrelated"},
    "unrelated": {"unrelated", "leap"},
}


@cache
def judged(line, after):
    """The verdict, found once for each pair of lines."""
    return judge(line, after=after)


@settings(max_examples=30)
@given(texts, texts)
def test_turning_two_true_lines_round_turns_the_verdict_round(line, after):
    """Equivalent is mutual, weaker one way is stronger the other; none of them is false."""
    # of two lines that both keep a gap at a = b each may follow from the other with a remainder
    suppose(MEETS[line] or MEETS[after])
    one, other = judged(line, after), judged(after, line)
    assert other.verdict in TURNED[one.verdict]
    assert (one.forwards, one.backwards) == (other.backwards, other.forwards)


@settings(max_examples=30)
@given(texts, texts)
def test_equivalent_is_mutual(line, after):
    """Whatever the two lines are, if each says the other it does so both ways round."""
    one, other = judged(line, after), judged(after, line)
    assert (one.verdict == "equivalent") is (other.verdict == "equivalent")


@pytest.mark.parametrize("text", MEETS)
def test_a_line_says_what_it_says(text):
    """Written twice, it is equivalent to itself."""
    assert judged(text, text).verdict == "equivalent"


def names(text, value):
    return st.just((text, value))


leaves = st.one_of(
    names("a", lambda a, b: a),
    names("b", lambda a, b: b),
    st.integers(1, 9).map(lambda n: (str(n), lambda a, b: float(n))),
)


def built(parts):
    """(text, value) of sums, differences, products, squares and roots, brackets always written."""
    two = st.tuples(parts, parts)
    return st.one_of(
        two.map(lambda p: (f"({p[0][0]} + {p[1][0]})", lambda a, b: p[0][1](a, b) + p[1][1](a, b))),
        two.map(lambda p: (f"({p[0][0]} - {p[1][0]})", lambda a, b: p[0][1](a, b) - p[1][1](a, b))),
        two.map(lambda p: (f"({p[0][0]})({p[1][0]})", lambda a, b: p[0][1](a, b) * p[1][1](a, b))),
        parts.map(lambda p: (f"({p[0]})²", lambda a, b: p[1](a, b) ** 2)),
        parts.map(lambda p: (f"|{p[0]}|", lambda a, b: abs(p[1](a, b)))),
    )


sides = st.recursive(leaves, built, max_leaves=5)
lengths = st.floats(0.5, 30)


@given(sides, sides, st.sampled_from(["<", ">", "≤", ">=", "="]), lengths, lengths)
def test_what_fails_in_numbers_is_never_called_true(left, right, sign, a, b):
    """A line that some a and b refute is false, and the numbers given refute it too."""
    suppose(abs(a - b) > 0.01)

    def fails(a: float, b: float, by: float) -> bool:
        gap = left[1](a, b) - right[1](a, b)
        return {
            "<": gap >= by,
            ">": gap <= -by,
            "≤": gap > by,
            ">=": gap < -by,
            "=": abs(gap) > by,
        }[sign]

    suppose(fails(a, b, 1e-6))
    verdict = judge(f"{left[0]} {sign} {right[0]}", after="(a - b)^2 > 0")
    assert verdict.verdict in ("false", "unreadable")
    assert verdict.verdict == "false", verdict.why
    assert fails(verdict.counterexample["a"], verdict.counterexample["b"], 0)
