"""Certificates of their own: signs read off the form, zero found exactly, wrong bounds refused."""

import pytest
import sympy as sp
from hypothesis import given, settings
from hypothesis import strategies as st

from mensura.teaching.proof import THEREFORE, ProofError, Step
from mensura.teaching.proof.certificates import (
    Bound,
    Identity,
    MonotoneMap,
    difference,
    in_letters,
    kind_of,
    rises,
    unfolded,
)
from mensura.teaching.proof.certificates_integral import MeanSquare
from mensura.teaching.proof.symbols import is_zero, letters, sign_of

S = letters()


def step(statement, certificate, *premises, assumption=""):
    """A step that follows forwards."""
    return Step("x-2", "", statement, premises, THEREFORE, "", "stem", (certificate,), assumption)


def given_line(statement):
    """A premise that is not asked for its own certificate."""
    return Step("x-1", "", statement, (), THEREFORE, "", "stem", ())


@pytest.mark.parametrize(
    ("expression", "sign"),
    [
        (S.a + S.b, 1),
        (S.pi * S.a * S.b / 2, 1),
        ((S.a - S.b) ** 2, 0),
        ((S.a - S.b) ** 2 + S.a, 1),
        (sp.sin(S.theta) ** 2 * S.a, 0),
        (S.hollows, 0),
        (sp.Integer(0), 0),
        (sp.Integer(-1), None),
        (S.a - S.b, None),
        ((S.a - S.b) ** 3, None),
        (-((S.a - S.b) ** 2), None),
        (S.sqrt(S.a**2 + S.b**2), 1),
        (sp.sin(S.theta), None),
        (S.Sum((S.n**2 - 1) * S.p[S.n] ** 2, (S.n, 1, S.oo)), 0),
        (S.Sum((S.n**2 - 1) * S.p[S.n] ** 2, (S.n, 0, S.oo)), None),
        (S.Sum((S.n**2 - 4) * S.p[S.n] ** 2, (S.n, 1, S.oo)), None),
    ],
    ids=str,
)
def test_signs_are_read_off_the_form(expression, sign):
    """1 above 0, 0 never below, None where the form does not tell; n = 0 would spoil the sum."""
    assert sign_of(expression) == sign


def test_a_square_is_above_0_only_if_its_base_is_0_only_where_a_is_b():
    assert sign_of((S.a - S.b) ** 2, unequal=True) == 1
    assert sign_of((S.a**2 - S.b**2) ** 2, unequal=True) == 1
    assert sign_of((S.a - 2 * S.b) ** 2, unequal=True) == 0


numbers = st.integers(-6, 6)


@settings(max_examples=40, deadline=None)
@given(numbers, numbers, numbers, st.integers(1, 6))
def test_zero_is_found_and_nothing_else(p, q, r, s):
    """(pa + qb)² + r(cos² + sin²) less its expansion is 0; with a bit more it is not."""
    a, b, t = S.a, S.b, S.t
    square = (p * a + q * b) ** 2 + r * (sp.cos(s * t) ** 2 + sp.sin(s * t) ** 2)
    written = p * p * a**2 + 2 * p * q * a * b + q * q * b**2 + r
    assert is_zero(square - written)
    assert not is_zero(square - written - sp.Rational(1, 10**9))
    assert not is_zero(square - written + a * b * sp.sin(t))


def test_differences_and_kinds():
    assert difference(S.le(S.a, S.b)) == S.b - S.a
    assert [kind_of(r) for r in (S.eq(1, S.a), S.ne(S.a, S.b), S.gt(S.a, 1), S.le(S.a, 1))] == [
        "=", "≠", ">", "≥",
    ]  # fmt: skip
    with pytest.raises(ProofError, match="no relation"):
        kind_of(S.a)


def test_only_equations_define():
    """w² = 4ab defines w as 2√(ab); a > b and a + b = P define nothing."""
    assert unfolded(S.w, [S.eq(S.w**2, 4 * S.a * S.b)]) == 2 * S.sqrt(S.a * S.b)
    for line in (S.gt(S.w, S.a), S.eq(S.a + S.b, S.P)):
        with pytest.raises(ProofError, match="defines no letter"):
            unfolded(S.w, [line])


def test_a_negative_factor_is_refused():
    """b > a does not follow from a > b, however one multiplies."""
    turned = step(lambda s: s.gt(s.b, s.a), Identity((-1,)), given_line(lambda s: s.gt(s.a, s.b)))
    with pytest.raises(ProofError, match="not certainly positive"):
        turned.verify()


def test_a_remainder_of_unknown_sign_is_refused():
    """a² > b from a > b would need a² − a, which may be negative."""
    claimed = step(
        lambda s: s.gt(s.a**2, s.b), Bound((1,), lambda s: s.a**2 - s.a),
        given_line(lambda s: s.gt(s.a, s.b)),
    )  # fmt: skip
    with pytest.raises(ProofError, match="not certain"):
        claimed.verify()


def test_a_positive_remainder_gives_a_strict_line():
    """From a ≥ b follows a + P > b, and not merely ≥."""
    before = given_line(lambda s: s.ge(s.a, s.b))
    step(lambda s: s.gt(s.a + s.P, s.b), Bound((1,), lambda s: s.P), before).verify()
    with pytest.raises(ProofError, match="expected >"):
        step(lambda s: s.ge(s.a + s.P, s.b), Bound((1,), lambda s: s.P), before).verify()


def test_falling_maps_and_sides_out_of_reach_are_refused():
    """1/x falls; and squaring rises only where both sides are positive."""
    before = given_line(lambda s: s.gt(s.a, s.b))
    fallen = step(lambda s: s.gt(1 / s.a, 1 / s.b), MonotoneMap(lambda s, x: 1 / x), before)
    with pytest.raises(ProofError, match="does not certainly rise"):
        fallen.verify()
    below = given_line(lambda s: s.gt(s.a - s.b, -s.b))
    squared = step(lambda s: s.gt((s.a - s.b) ** 2, s.b**2), MonotoneMap(lambda s, x: x**2), below)
    with pytest.raises(ProofError, match="outside the map"):
        squared.verify()


def test_a_slope_counts_only_as_far_as_its_sine_is_positive():
    slope = S.sin(4 * S.theta)
    assert rises(slope, S.pi / 4)
    assert not rises(slope, S.pi / 3)
    assert not rises(-slope, S.pi / 4)
    assert not rises(S.sin(4 * S.theta + 1), S.pi / 8)


def test_a_better_bound_than_cauchy_and_schwarz_give_is_refused():
    """P² ≤ π²(a + b)² is false, for that is the lower bound; 2π²(a² + b²) is accepted."""
    arc = given_line(
        lambda s: s.eq(s.P, s.turn(s.sqrt((s.a * s.sin(s.t)) ** 2 + (s.b * s.cos(s.t)) ** 2), s.t))
    )
    step(lambda s: s.le(s.P**2, 2 * s.pi**2 * (s.a**2 + s.b**2)), MeanSquare(), arc).verify()
    with pytest.raises(ProofError, match="not Cauchy"):
        step(lambda s: s.le(s.P**2, s.pi**2 * (s.a + s.b) ** 2), MeanSquare(), arc).verify()


def test_a_line_of_another_form_is_a_refusal_and_no_crash():
    with pytest.raises(ProofError, match="x-2"):
        step(lambda s: s.a, Identity((1,)), given_line(lambda s: s.gt(s.a, s.b))).verify()
    with pytest.raises(ProofError, match="x-2"):
        step(lambda s: s.eq(s.P, 1), MeanSquare(), given_line(lambda s: s.eq(s.P, s.a))).verify()


def test_words_of_the_board():
    assert in_letters(S.pi * S.a**2 / S.c0**12) == "π·a²/c₀¹²"
    assert in_letters(S.sqrt(S.a) * S.sin(2 * S.theta)) == "√(a)·sin(2·θ)"
