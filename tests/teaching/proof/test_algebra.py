"""Quantities are exact, the same quantity has one form, and signs are decided, not tried."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.teaching.proof.algebra import MIXED, Algebra, degrees, dimension
from mensura.teaching.proof.examples import values
from mensura.teaching.proof.formula import expanded, formula
from mensura.teaching.proof.limits import A_LONGER, ANY, B_LONGER, TooInvolved, Undefined
from mensura.teaching.proof.notation import read_line
from mensura.teaching.proof.signs import UNDEFINED, order_at, signs_of


def quantity(text, region=ANY):
    """(algebra, quantity) of one side."""
    algebra = Algebra(region)
    return algebra, algebra.of(read_line(f"{text} > 0").left)


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("(a - b)^2", "a^2 - 2ab + b^2"),
        ("√((a+b)^2)", "a + b"),
        ("√((a-b)^2)", "|a - b|"),
        ("√((a²+b²)/2)·√2", "√(a²+b²)"),
        ("√12·√(ab)", "2√3·√a·√b"),
        ("1/(√a + √b)", "(√a - √b)/(a - b)"),
        ("√(a^2 b)", "a√b"),
        ("|a-b||b-a|", "(a-b)^2"),
        ("G^2/(4π)", "A_tape"),
        ("√(√(a^4))", "a"),
        ("a^(3/2) b^(1/2)", "a√(ab)"),
        ("|√(ab) - (a+b)/2|", "(√a - √b)^2/2"),
    ],
)
def test_the_same_quantity_has_one_form(first, second):
    """Two ways of writing a quantity give the same element."""
    algebra = Algebra()
    one, other = (algebra.of(read_line(f"{text} > 0").left) for text in (first, second))
    assert algebra.tidy(one - other) == 0


@pytest.mark.parametrize(
    ("text", "region", "taken"),
    [
        ("(a - b)^2", ANY, {1}),
        ("a - b", ANY, {1, -1}),
        ("a - b", A_LONGER, {1}),
        ("a - b", B_LONGER, {-1}),
        ("a^2 - 3ab + b^2", ANY, {1, 0, -1}),
        ("(a^2 - 2b^2)^2", ANY, {1, 0}),
        ("√(a - b)", ANY, {1, UNDEFINED}),
        ("π(a²+b²)/2 - 3ab", ANY, {1}),
        ("3(a²+b²)/2 - πab", ANY, {1, 0, -1}),
        ("a² + 1 - a", ANY, {1}),
        ("(a - 1)^2", ANY, {1, 0}),
        ("√(a²+b²) - (a+b)/√2", ANY, {1}),
        ("√a + √b - √(a+b)", ANY, {1}),
        ("(a-b)^2 + 1", ANY, {1}),
    ],
)
def test_signs_are_decided(text, region, taken):
    """Which signs a quantity takes where the line should hold."""
    algebra, value = quantity(text, region)
    assert signs_of(algebra, value).taken == taken


@given(st.lists(st.integers(-6, 6), min_size=2, max_size=6), st.booleans())
def test_signs_agree_with_many_numbers(coefficients, half):
    """No number contradicts a decided sign: a scan of ratios finds none outside the set."""
    text = " + ".join(
        f"({c})·{'√' if half else ''}a^{k}·{'√' if half else ''}b^{len(coefficients) - k}"
        for k, c in enumerate(coefficients)
        if c
    )
    if not text:
        return
    line = read_line(f"{text} > 0")
    algebra = Algebra()
    signs = signs_of(algebra, algebra.of(line.left))
    for step in range(1, 80):
        ratio = Fraction(step, 20)
        if ratio == 1:
            continue
        # by plain numbers where they are clear, else with fifty digits
        powers = [k / 2 if half else k for k in range(len(coefficients))]
        terms = [c * float(ratio) ** p for c, p in zip(coefficients, powers, strict=True)]
        left, equal = sum(terms), False
        if abs(left) < 1e-6 * sum(map(abs, terms)):
            left, _, equal = values(line, ratio, Fraction(1))
        sign = 0 if equal else (1 if left > 0 else -1)
        assert sign in signs.taken


@pytest.mark.parametrize(
    ("text", "where", "power"),
    [
        ("(a-b)^2", "equal", 2),
        ("|a-b|", "equal", 1),
        ("√A_tape - √A_cal", "equal", 2),
        ("a + b", "equal", 0),
        ("(a-b)^2 + 1 - 1", "equal", 2),
        ("a^2 + ab", "small", 2),
        ("a^2 + ab", "large", 4),
    ],
)
def test_orders(text, where, power):
    """With which power a quantity goes towards a place."""
    assert order_at(*quantity(text), where) == power


def test_what_has_no_value_or_takes_too_long_is_refused():
    """Roots of what is negative, zero below a stroke, heaped powers, heaped roots."""
    for text in ("√(-a)", "1/(a - a)", "√(2ab - a² - b²)"):
        with pytest.raises(Undefined):
            quantity(text)
    with pytest.raises(TooInvolved, match="powers multiply up to 36"):
        quantity("((a+b)^3(a-b)^3)^6")
    with pytest.raises(TooInvolved, match="roots"):
        quantity("√(a+b)+√(a+2b)+√(a+3b)+√(a+5b)+√(a+7b)")


def test_degrees_and_dimensions():
    """Bounds on degrees before multiplying out; unlike terms are found."""
    assert degrees(read_line("(a+b)^3/(ab) > 0").left) == (3, 2)
    assert dimension(read_line("π(a²+b²)/2 > 0").left) == 2
    assert dimension(read_line("√(ab) - |a-b| > 0").left) == 1
    assert dimension(read_line("a² + b² + 1 > 0").left) == MIXED
    assert dimension(read_line("0 > a").left) is None


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("a + b", "a + b"),
        ("1/(2ab)", "1/(2ab)"),
        ("π/2", "π/2"),
        ("1/(√a + √b)^2", "1/(√a + √b)²"),
        ("a^2 b - a b^2", "ab(a − b)"),
        ("√(a²+b²)", "√(a² + b²)"),
        ("1/|a-b|", "1/|a − b|"),
        ("(a+b)|a-b|/2", "(a + b)|a − b|/2"),
    ],
)
def test_a_quantity_is_told_as_a_formula(text, told):
    """Short quantities are told as formulas, others are not."""
    assert formula(*quantity(text)) == told


def test_a_remainder_is_told_multiplied_out():
    """A sum stays a sum, so that a student sees the terms."""
    assert expanded(*quantity("ab + (a-b)^2")) == "a² − ab + b²"
