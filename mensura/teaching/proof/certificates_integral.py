"""What holds a step with an integral or a limit to account, exactly.

Integrals over a full turn are computed in closed form; a bound under the integral is proved for
each t; a limit as b → a is the quotient of two coefficients, each developed exactly.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from mensura.teaching.proof.certificates import (
    Maker,
    demand,
    difference,
    in_letters,
    kind_of,
    unfolded,
)
from mensura.teaching.proof.steps import THEREFORE, Certificate, Checked, Step
from mensura.teaching.proof.symbols import is_zero, letters, sign_of, simplified, worked_out


@dataclass(frozen=True)
class RootBound(Certificate):
    """A root is at least an expression, for each t: their squares differ by what is never negative.

    remainder: makes the difference of the squares, in a form that shows its sign.
    """

    remainder: Maker

    def check(self, step: Step) -> Checked:
        """That √F² − g² is the remainder, and all signs. step: √F ≥ g."""
        s, relation = letters(), step.relation()
        forwards(step, 0)
        rest = self.remainder(s)
        root = relation.lhs
        demand(isinstance(relation, s.sp.Ge), step, "expected ≥")
        demand(root.is_Pow and root.exp == s.half, step, "no root on the left")
        demand(sign_of(rest) is not None, step, f"the sign of {rest} is not certain")
        demand(sign_of(relation.rhs) is not None, step, "the right side may be negative")
        demand(is_zero(root.base - relation.rhs**2 - rest), step, "the squares differ otherwise")
        return Checked(
            "bound", f"the squares of both sides differ by {in_letters(rest)}, never below 0"
        )


@dataclass(frozen=True)
class IntegralBound(Certificate):
    """What holds for each t holds for the integrals over the whole turn.

    Premises: a letter is the integral of f; f ≥ g for each t. The step: the letter ≥ the integral
    of g, in closed form.
    """

    def check(self, step: Step) -> Checked:
        """That the integrand is the bounded one, and the integral's value. step: what follows."""
        s, relation = letters(), step.relation()
        forwards(step, 2)
        whole, bound = (one.relation() for one in step.premises)
        bounded = kind_of(whole) == "=" and isinstance(bound, s.sp.Ge)
        demand(bounded, step, "no integral with a bound")
        demand(kind_of(relation) == "≥", step, "expected ≥")
        demand(whole.rhs == s.turn(bound.lhs, s.t), step, "another function is bounded")
        value = worked_out(s.turn(bound.rhs, s.t))
        demand(is_zero(difference(relation) - (whole.lhs - value)), step, f"not the bound {value}")
        return Checked(
            "bound", f"f ≥ g for each t, and the integral of g is {in_letters(value)}, exactly"
        )


@dataclass(frozen=True)
class MeanSquare(Certificate):
    """The square of a mean is at most the mean of the squares (Cauchy and Schwarz).

    The premise: a letter P is the integral of f over a turn. The step: P² ≤ 2π times the integral
    of f². Proof: the integral of (f − P/2π)², which is never below 0.
    """

    def check(self, step: Step) -> Checked:
        """That P² and its bound differ by that square's integral. step: what follows."""
        import sympy as sp

        s, relation = letters(), step.relation()
        forwards(step, 1)
        whole = step.premises[0].relation()
        demand(kind_of(whole) == "=" and kind_of(relation) == "≥", step, "no integral with ≤")
        demand(isinstance(whole.rhs, sp.Integral), step, "no integral")
        f, letter = whole.rhs.function, whole.lhs
        demand(whole.rhs == s.turn(f, s.t), step, "not over one turn")
        squares = worked_out(s.turn(f**2, s.t))
        mean = letter / (2 * s.pi)
        # ∫(f − m)² = ∫f² − 2m∫f + 2πm², with ∫f = P: a square's integral, so at least 0
        square = squares - 2 * mean * letter + 2 * s.pi * mean**2
        demand(is_zero(difference(relation) - 2 * s.pi * square), step, "not Cauchy and Schwarz's")
        return Checked(
            "square", f"2π∫(f − P/2π)² dt is left over, and ∫f² dt is {in_letters(squares)}"
        )


@dataclass(frozen=True)
class Series(Certificate):
    """The perimeter's series in h = ((a − b)/(a + b))², coefficient by coefficient.

    The premise: P is the integral. With a = m(1 + x), b = m(1 − x) the integrand is smooth in x
    near 0 for all t at once, so it may be developed under the integral; x² = h.
    """

    def check(self, step: Step) -> Checked:
        """That each coefficient up to the order named is the integral's. step: P = series + O."""
        import sympy as sp

        s, relation = letters(), step.relation()
        forwards(step, 1)
        whole = step.premises[0].relation()
        demand(kind_of(relation) == "=" and relation.lhs == whole.lhs, step, "no series of P")
        series = sp.expand(relation.rhs / (s.pi * (s.a + s.b)))
        order = series.getO()
        demand(order is not None, step, "it breaks off without saying so")
        demand(isinstance(whole.rhs, sp.Integral), step, "no integral")
        power = sp.degree(order.expr, s.h)
        polynomial = series.removeO()
        demand(polynomial.is_polynomial(s.h), step, "no powers of h")
        x, m = sp.Symbol("x", real=True), sp.Symbol("m", positive=True)
        f = whole.rhs.function.subs({s.a: m * (1 + x), s.b: m * (1 - x)}, simultaneous=True)
        for n in range(2 * power):
            coefficient = sp.diff(f, x, n).subs(x, 0) / sp.factorial(n)
            value = worked_out(s.turn(simplified(coefficient), s.t)) / (2 * s.pi * m)
            wanted = polynomial.coeff(s.h, n // 2) if n % 2 == 0 else 0
            demand(is_zero(value - wanted), step, f"the coefficient at x^{n} is {value}")
        return Checked(
            "series", f"each coefficient below h^{power} integrated exactly; odd powers vanish"
        )


@dataclass(frozen=True)
class LeadingTerm(Certificate):
    """A limit as b → a of what is claimed too much, against a yardstick such as (a − b)²/(ab).

    yardstick: makes it; it vanishes as the square of x = (a − b)/(a + b). Premises say what the
    letters stand for. Both are developed exactly up to x²; a mean over θ is taken of the
    coefficient, which is allowed since all is smooth in x and θ.
    """

    yardstick: Maker

    def check(self, step: Step) -> Checked:
        """That the limit is the quotient of the two coefficients. step: Limit = value."""
        import sympy as sp

        s, relation = letters(), step.relation()
        demand(step.direction == THEREFORE, step, "it follows forwards only")
        limit = relation.lhs
        demand(kind_of(relation) == "=" and isinstance(limit, sp.Limit), step, "no limit = value")
        inside, variable, target = limit.args[:3]
        demand((variable, target) == (s.b, s.a), step, "not as b → a")
        definitions = [one.relation() for one in step.premises]
        yard, x = self.yardstick(s), sp.Symbol("x", real=True)
        mean = inside.atoms(sp.Integral)
        body = inside
        if mean:
            (integral,) = mean
            demand(inside == integral / (2 * s.pi), step, "no mean over a turn")
            demand(integral == s.turn(integral.function, s.theta), step, "no mean over θ")
            body = integral.function
        letters_used = body.free_symbols
        for one in definitions:
            demand(bool(one.lhs.free_symbols & letters_used), step, f"{one} is not needed")
            letters_used = letters_used | one.rhs.free_symbols
        above = unfolded(body * yard, definitions)
        top, bottom = _second_order(above, x, step), _second_order(yard, x, step)
        demand(bool(bottom.is_positive), step, "the yardstick does not vanish as x²")
        value = simplified(top / bottom)
        if mean:
            value = worked_out(s.turn(sp.expand(sp.expand_trig(value)), s.theta)) / (2 * s.pi)
        demand(is_zero(value - relation.rhs), step, f"the limit is {value}")
        return Checked(
            "limit", f"both developed exactly up to ((a − b)/(a + b))²; {in_letters(value)}"
        )


@dataclass(frozen=True)
class MeanOverTurn(Certificate):
    """A mean over θ in closed form. The premise says what the letter under it stands for."""

    def check(self, step: Step) -> Checked:
        """That the integral has that value, exactly. step: mean = value."""
        s, relation = letters(), step.relation()
        forwards(step, 1)
        before = step.premises[0].relation()
        demand(kind_of(relation) == "=", step, "expected =")
        demand(kind_of(before) == "=", step, "it says not what the letter is")
        mean = s.turn(before.lhs, s.theta) / (2 * s.pi)
        demand(relation.lhs == mean, step, "another mean")
        value = worked_out(s.turn(before.rhs, s.theta)) / (2 * s.pi)
        demand(is_zero(value - relation.rhs), step, f"the mean is {value}")
        return Checked("integral", f"the mean over θ is {in_letters(value)}, exactly")


def forwards(step: Step, premises: int) -> None:
    """A certificate that proves in one direction, from so many premises.

    step: the step in question; premises: how many it must have. Raises ProofError.
    """
    demand(step.direction == THEREFORE, step, "it follows forwards only")
    demand(len(step.premises) == premises, step, "it has other premises")


def _second_order(expression: Any, x: Any, step: Step) -> Any:
    """Coefficient at x² with b = a(1 − x)/(1 + x), after O(1) and O(x) were found to vanish."""
    import sympy as sp

    s = letters()
    for order in expression.atoms(sp.Order):
        demand(sp.degree(order.expr, s.h) >= 2, step, "the series breaks off too early")
    found = _developed(expression, x)
    demand(is_zero(found[0]) and is_zero(found[1]), step, "it does not vanish as x²")
    return simplified(found[2] / 2)


@lru_cache(maxsize=256)
def _developed(expression: Any, x: Any) -> tuple[Any, ...]:
    """Value and first two derivatives at x = 0, with b = a(1 − x)/(1 + x)."""
    import sympy as sp

    s = letters()
    turned = expression.replace(sp.Order, lambda *_: sp.Integer(0))  # O(h²) is O(x⁴)
    turned = turned.subs(s.h, ((s.a - s.b) / (s.a + s.b)) ** 2).subs(s.b, s.a * (1 - x) / (1 + x))
    turned = sp.powsimp(sp.powdenest(turned, force=False))
    return tuple(sp.diff(turned, x, n).subs(x, 0) for n in range(3))
