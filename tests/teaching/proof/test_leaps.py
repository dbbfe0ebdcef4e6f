"""What follows, but by no single move, is a leap: it proves nothing until its steps are written."""

from __future__ import annotations

import pytest

from mensura.teaching.proof import ENOUGH, THEREFORE
from mensura.teaching.proof.chain import Chain
from mensura.teaching.proof.judge import judge

LEAPS = [
    ("a²+b²>2ab", "√((a²+b²)/2) > (a+b)/2", ()),
    ("a²+b²>2ab", "a⁹+b⁹ > a⁸b + a b⁸", ()),
    ("a²+b²>2ab", "G > π(a+b)", ()),
    ("A_tape > A_cal", "(a−b)¹² > 0", ()),
    ("A_tape > A_cal", "|a²−b²| > 0", ()),
    ("A_tape > A_cal", "(√a−√b)² > 0", ()),
    ("A_tape > A_cal", "|a−b| > 0", ()),
    ("|a−b| > 0", "A_tape > A_cal", ()),
    ("a > b", "A_tape > A_cal", ("a > b",)),
    ("a > b", "G > π(a+b)", ("a > b",)),
    ("a > b", "a¹² > b¹²", ("a > b",)),
    ("a ≠ b", "A_tape > A_cal", ()),
    ("A_tape > A_cal", "a ≠ b", ()),
]


@pytest.mark.parametrize(("after", "line", "assume"), LEAPS)
def test_a_leap_goes_neither_way(after, line, assume):
    """True, and it follows; but it is no step, and the reply asks for the steps between."""
    found = judge(line, after, assume)
    assert found.verdict == "leap", found.why
    assert not found.forwards
    assert not found.backwards
    assert found.why.startswith("True, and it follows")
    assert "steps between" in found.why or "square first" in found.why


EMPTY = ["1 > 0", "2 > 1", "π > 3", "a/a > 0", "a + 1 > a"]


@pytest.mark.parametrize("text", EMPTY)
@pytest.mark.parametrize("other", ["a² + b² > ab", "a² + b² > 2ab", "a > 0", "A_tape > A_cal"])
def test_a_line_about_numbers_leads_nowhere(text, other):
    """Nothing follows from 1 > 0, and 1 > 0 comes from nothing."""
    assert judge(other, text).verdict == "unrelated"
    assert judge(text, other).verdict == "unrelated"
    assert judge(text, text).verdict == "equivalent"


@pytest.mark.parametrize("line", ["a² > 0", "a + b > 0", "a + b > √(ab)", "(a+b)³ > a³ + b³"])
def test_of_any_two_lengths_nothing_leads_to_anything(line):
    """Lines that hold for equal lengths too are no steps from one another for being true."""
    assert judge(line, "a² + b² > ab").verdict == "unrelated"


#: Steps that go by one move; what the reply must name.
MOVES = [
    ("a² + b² > 2ab", "3a² + 3b² > 6ab", (), "3"),
    ("a² + b² > 2ab", "π(a²+b²)/2 > πab", (), "π/2"),
    ("a² + b² > 2ab", "a/b + b/a > 2", (), "1/(ab)"),
    ("a² + b² > 2ab", "1/a + 1/b > 4/(a+b)", (), "a + b"),
    ("a² + b² > 2ab", "1 > 2ab/(a²+b²)", (), "1/(a² + b²)"),
    ("1 − 2ab/(a²+b²) > 0", "a² + b² > 2ab", (), "a² + b²"),
    ("a² + b² > 2ab", "1/(2ab) > 1/(a²+b²)", (), "reciprocals"),
    ("a + b > |a−b|", "1/|a−b| > 1/(a+b)", (), "reciprocals"),
    ("a + b > |a−b|", "(a+b)/|a−b| > 1", (), "1/|a − b|"),
    ("a + b > 2√(ab)", "(a+b)² > 4ab", (), "squared"),
    ("A_tape > A_cal", "√A_tape > √A_cal", (), "square roots"),
    ("√(a²+b²) > (a+b)/√2", "√(√(a²+b²)) > √((a+b)/√2)", (), "square roots"),
    ("a + b > 2√(ab)", "√(30(a+b)) > √(60√(ab))", (), "square roots"),
    ("|a−b| > 0", "a² − 2ab + b² > 0", (), "squared"),
    ("(a−b)² > 0", "(a−b)²(a²+ab+b²) > 0", (), "a² + ab + b²"),
    ("a > b", "a² > b²", ("a > b",), "squared"),
    ("a > b", "(a−b)² > 0", ("a > b",), "not zero"),
    ("a > b", "a − b > 0", (), "rearranged"),
    ("a ≠ b", "(√a − √b)² > 0", (), "square of what is not zero"),
    ("a ≠ b", "a² ≠ b²", (), "zero exactly where"),
    ("√π·a > √π·b", "√π(A_tape) > √π·A_tape·b/a", ("a > b",), "multiplied by"),
]


@pytest.mark.parametrize(("after", "line", "assume", "named"), MOVES)
def test_one_move_is_named(after, line, assume, named):
    """Equivalent, by a move that can be undone and that the reply names."""
    found = judge(line, after, assume)
    assert found.verdict == "equivalent", found.why
    assert named in found.why
    assert judge(after, line, assume).verdict == "equivalent"


def test_what_the_last_line_says_is_granted():
    """After a > b the longer half-axis is known; the reply reminds that it must have been said."""
    found = judge("(a−b)² > 0", "a > b")
    assert found.verdict == "weaker"
    assert "said first" in found.remark
    assert judge("b − a > 0", "a < b").verdict == "equivalent"
    assert judge("a − b > 0", "(a−b)² > 0").verdict == "false"
    assert judge("b > a", "a > b").verdict == "false"


def test_a_line_may_cite_that_the_axes_differ():
    """Written beside the line, since a ≠ b counts as cited."""
    assert judge("a²+b² > 2ab", "a²+b² ≥ 2ab").verdict == "stronger"
    assert judge("so a²+b² > 2ab, since a ≠ b.", "a²+b² ≥ 2ab").verdict == "equivalent"


@pytest.mark.parametrize("longer", [False, True])
@pytest.mark.parametrize(
    ("text", "direction"),
    [
        ("A_tape > A_cal", THEREFORE),
        ("A_tape − A_cal > 0", THEREFORE),
        ("a > b", ENOUGH),
        ("|a−b| > 0", ENOUGH),
        ("(a−b)¹² > 0", ENOUGH),
        ("|a²−b²| > 0", ENOUGH),
        ("(√a−√b)² > 0", ENOUGH),
    ],
)
def test_no_leap_is_a_proof(longer, text, direction):
    """Neither of the theorem nor to it; the chain stays as it was."""
    chain = Chain(longer_axis=longer)
    reply = chain.write(text, direction)
    assert not reply.accepted
    assert not chain.proved
    assert chain.forwards == chain.backwards == []
    if reply.verdict.verdict == "leap":
        assert "True, and it follows, but" in reply.sentence


def test_a_proof_that_begins_with_the_longer_axis():
    """With a > b said, a proof still takes the steps."""
    chain = Chain(longer_axis=True)
    for text in ("a − b > 0", "(a−b)² > 0", "a²+b² > 2ab", "A_tape > A_cal"):
        assert not chain.proved
        assert chain.write(text, THEREFORE).accepted
    assert chain.proved


def test_an_arrow_before_the_line_must_fit():
    """∴ is passed over where ⇒ is chosen; ⇐ is refused there."""
    chain = Chain()
    assert chain.write("∴ (a−b)² > 0 ∎", THEREFORE).accepted
    refused = chain.write("⇐ a² + b² > 2ab", THEREFORE)
    assert not refused.accepted
    assert "begins with ⇐" in refused.sentence
    assert chain.write("⇐ a² + b² > 2ab", ENOUGH).accepted


def test_bridges_lead_through_roots():
    """Asked line by line after (√a − √b)² > 0, the hints lead to the theorem."""
    chain = Chain()
    assert chain.write("(√a − √b)² > 0", THEREFORE).accepted
    for _ in range(6):
        if chain.proved:
            break
        assert chain.write(chain.expected(THEREFORE), THEREFORE).accepted
    assert chain.proved
