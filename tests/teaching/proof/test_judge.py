"""The verdicts of the issue's own examples, and rules that hold for every pair of lines."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.teaching.proof.judge import judge, read_assumptions, shows_square
from mensura.teaching.proof.notation import read_line


@pytest.mark.parametrize(
    ("after", "line", "assume", "verdict"),
    [
        # the same difference of sides, or a positive multiple: division by ab counts
        ("(a-b)^2 > 0", "a^2 + b^2 > 2ab", (), "equivalent"),
        ("a^2 + b^2 > 2ab", "a/b + b/a > 2", (), "equivalent"),
        ("a^2 + b^2 > 2ab", "A_cal < A_tape", (), "equivalent"),
        # one increasing map on both sides
        ("A_tape > A_cal", "√A_tape > √A_cal", (), "equivalent"),
        ("a^2 + b^2 > 2ab", "(a²+b²)² > 4a²b²", (), "equivalent"),
        # something not negative added; > became ≥; half powers
        ("a^2 + b^2 > 2ab", "a^2 + b^2 > ab", (), "weaker"),
        ("a^2 + b^2 > 2ab", "a^2 + b^2 >= 2ab", (), "weaker"),
        ("a^2 + b^2 > 2ab", "√(ab)(a-b)^2 + a√(ab)·b > 0", (), "weaker"),
        # the other way round, and true
        ("a^2 + b^2 > ab", "a^2 + b^2 > 2ab", (), "stronger"),
        ("(a-b)^2 >= 0", "(a-b)^2 > 0", (), "stronger"),
        ("(a-b)^2 >= 0", "(a-b)^2 > 0", ("a != b",), "equivalent"),
        # true, but no step
        ("a^2 + b^2 > 2ab", "a + b > 0", (), "unrelated"),
        ("a^2 + b^2 > 2ab", "(a+b)/(a-b)^2 > 0", (), "unrelated"),
        ("a ≠ b", "a^2 + b^2 > 2ab", (), "leap"),
        # false
        ("a^2 + b^2 > 2ab", "a^2 + b^2 > 3ab", (), "false"),
        ("(a-b)^2 > 0", "a > b", (), "false"),
        ("(a-b)^2 > 0", "a > b", ("a > b",), "equivalent"),
        ("a > b", "a^2 - b^2 > 0", ("a > b",), "equivalent"),
        ("(a-b)^2 > 0", "a^2 + b^2 > 2b", (), "false"),
        # not read
        ("(a-b)^2 > 0", "a^2 + b^2 > 2ab)", (), "unreadable"),
        ("(a-b)^2", "a^2 + b^2 > 2ab", (), "unreadable"),
    ],
)
def test_verdicts(after, line, assume, verdict):
    """Each kind of verdict on the examples that define it."""
    assert judge(line, after, assume).verdict == verdict


def test_the_missing_sentence_is_named():
    """A line that needs a > b says so, and which numbers break it."""
    said = judge("a^2 > b^2", "(a-b)^2 > 0")
    assert "let a be the longer half-axis" in said.why
    assert said.counterexample == {"a": 1.0, "b": 2.0}


def test_the_counterexample_is_plugged_in_on_both_sides():
    """The reason shows both sides as numbers."""
    said = judge("a^2 + b^2 > 3ab", "a^2 + b^2 > 2ab")
    assert said.counterexample == {"a": 2.0, "b": 1.0}
    assert "left side is 5 and the right side 6" in said.why


def test_a_line_that_touches_equality_is_told_what_would_hold():
    """A strict line that fails only by equality hears that ≥ would hold."""
    said = judge("(a^2 - 4b^2)^2 > 0", "(a-b)^2 > 0")
    assert said.verdict == "false"
    assert said.counterexample == {"a": 2.0, "b": 1.0}
    assert "With ≥" in said.why


def test_an_irrational_counterexample_is_found():
    """Where only a = √2·b breaks a line, the ratio found is √2 or its like."""
    said = judge("(a^2 - 2b^2)^2 > 0", "(a-b)^2 > 0")
    assert said.verdict == "false"
    ratio = said.counterexample["a"] / said.counterexample["b"]
    assert ratio == pytest.approx(2**0.5, rel=1e-12)


def test_an_odd_dimension_is_remarked_and_not_refused():
    """Areas and a plain number in one sum: a remark beside the verdict."""
    said = judge("a^2 + b^2 + 1 > 2ab", "a^2 + b^2 > 2ab")
    assert said.verdict == "weaker"
    assert "dimensions" in said.remark
    assert judge("a^2 + b^2 > 2ab", "(a-b)^2 > 0").remark == ""


def test_a_false_line_before_is_remarked():
    """What follows from a false line still follows, and the reply says what is wrong."""
    said = judge("a^2 + b^2 > 2ab", "a^2 + b^2 > 3ab")
    assert said.verdict == "weaker"
    assert "not true" in said.remark


def test_assumptions_are_read_and_others_refused():
    """a > b in any writing, a ≠ b as a citation; nothing else."""
    assert read_assumptions(["a>b", "a ≠ b", "b > 0"]) == ("a > b", True)
    assert read_assumptions(["b > a"]) == ("b > a", False)
    for bad in (["a = b"], ["a > 2b"], ["nonsense"], ["a > b", "b > a"]):
        with pytest.raises(MeasureError, match="assume"):
            read_assumptions(bad)


def test_only_what_is_seen_counts_as_a_square():
    """A square, a size, a positive product of them; not what merely comes to one."""
    for text in ("(a-b)^2 > 0", "0 < |a-b|", "2ab(a-b)^2/π > 0", "(a-b)^4 ≥ 0"):
        assert shows_square(read_line(text)), text
    for text in ("a²-2ab+b² > 0", "(a-b)^3 > 0", "-(a-b)^2 > 0", "(a-b)^2 > 1", "2^2 > 0"):
        assert not shows_square(read_line(text)), text


_K = st.integers(1, 30)


@given(_K, _K, st.integers(0, 3), st.integers(0, 3))
def test_positive_multiples_are_equivalent(k, m, i, j):
    """Both sides times k/m · aⁱbʲ: equivalent, whatever the numbers."""
    line = f"{k}/{m}·a^{i}b^{j}·(a²+b²) > {k}/{m}·a^{i}b^{j}·2ab"
    assert judge(line, "a^2 + b^2 > 2ab").verdict == "equivalent"


@given(_K, _K)
def test_the_weight_of_ab_decides(k, m):
    """a² + b² > (k/m)·ab after a² + b² > 2ab: weaker below 2, the same at 2, false above."""
    found = judge(f"a^2 + b^2 > {k}/{m}·ab", "a^2 + b^2 > 2ab").verdict
    assert found == ("weaker" if k < 2 * m else "equivalent" if k == 2 * m else "false")


@given(st.fractions(min_value=-1, max_value=3, max_denominator=9))
def test_stronger_is_weaker_turned_round(share):
    """A true line with more taken away is stronger, and the other then weaker."""
    less = f"a^2 + b^2 > ({share.numerator}/{share.denominator})·ab"
    if share < 2:
        assert judge("a^2 + b^2 > 2ab", less).verdict == "stronger"
        assert judge(less, "a^2 + b^2 > 2ab").verdict == "weaker"
    elif share > 2:
        assert judge(less, "a^2 + b^2 > 2ab").verdict == "false"


def test_reasons_show_the_multiple_and_the_remainder():
    """The reason names what the difference was multiplied by, and what was added."""
    assert "1/(ab) times" in judge("a/b + b/a > 2", "a^2 + b^2 > 2ab").why
    assert "plus ab" in judge("a^2 + b^2 > ab", "a^2 + b^2 > 2ab").why
    assert "square roots" in judge("√A_tape > √A_cal", "A_tape > A_cal").why
