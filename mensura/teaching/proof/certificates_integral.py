"""What holds a step with an integral, a Fourier series or a limit to account, exactly.

Integrals over a full turn are computed in closed form, for every whole n at once; a bound under the
integral is proved for each t. Sums over n are taken term by term: that is allowed for the support
function of a convex hull, whose series and whose derivative's series converge in the mean square.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from mensura.teaching.proof.certificates import (
    Maker,
    demand,
    difference,
    is_zero,
    kind_of,
    in_letters,
    sign_of,
    unfolded,
)
from mensura.teaching.proof.letters import letters
from mensura.teaching.proof.steps import THEREFORE, Step


@dataclass(frozen=True)
class RootBound:
    """A root is at least an expression, for each t: their squares differ by what is never negative.

    remainder: makes the difference of the squares, in a form that shows its sign.
    """

    remainder: Maker

    def check(self, step: Step) -> str:
        """That √F² − g² is the remainder, and all signs. step: √F ≥ g."""
        s, relation = letters(), step.relation()
        _forwards(step, 0)
        rest = self.remainder(s)
        root = relation.lhs
        demand(kind_of(relation) == "≥" and root.is_Pow and root.exp == s.half, step, "no root ≥")
        demand(sign_of(rest) is not None, step, f"the sign of {rest} is not certain")
        demand(sign_of(relation.rhs) is not None, step, "the right side may be negative")
        demand(is_zero(root.base - relation.rhs**2 - rest), step, "the squares differ otherwise")
        return f"bound: the squares of both sides differ by {in_letters(rest)}, never below 0"


@dataclass(frozen=True)
class IntegralBound:
    """What holds for each t holds for the integrals over the whole turn.

    Premises: a letter is the integral of f; f ≥ g for each t. The step: the letter ≥ the integral
    of g, in closed form.
    """

    def check(self, step: Step) -> str:
        """That the integrand is the bounded one, and the integral's value. step: what follows."""
        s, relation = letters(), step.relation()
        _forwards(step, 2)
        whole, bound = (one.relation() for one in step.premises)
        demand(kind_of(whole) == "=" and kind_of(bound) == "≥", step, "no integral with a bound")
        demand(kind_of(relation) == "≥", step, "expected ≥")
        demand(whole.rhs == s.turn(bound.lhs, s.t), step, "another function is bounded")
        value = s.turn(bound.rhs, s.t).doit()
        demand(is_zero(difference(relation) - (whole.lhs - value)), step, f"not the bound {value}")
        return f"bound: f ≥ g for each t, and the integral of g is {in_letters(value)}, exactly"


@dataclass(frozen=True)
class MeanSquare:
    """The square of a mean is at most the mean of the squares (Cauchy and Schwarz).

    The premise: a letter P is the integral of f over a turn. The step: P² ≤ 2π times the integral
    of f². Proof: the integral of (f − P/2π)², which is never below 0.
    """

    def check(self, step: Step) -> str:
        """That P² and its bound differ by that square's integral. step: what follows."""
        import sympy as sp

        s, relation = letters(), step.relation()
        _forwards(step, 1)
        whole = step.premises[0].relation()
        demand(kind_of(whole) == "=" and kind_of(relation) == "≥", step, "no integral with ≤")
        demand(isinstance(whole.rhs, sp.Integral), step, "no integral")
        f, letter = whole.rhs.function, whole.lhs
        demand(whole.rhs == s.turn(f, s.t), step, "not over one turn")
        squares = s.turn(f**2, s.t).doit()
        mean = letter / (2 * s.pi)
        # ∫(f − m)² = ∫f² − 2m∫f + 2πm², with ∫f = P: a square's integral, so at least 0
        square = squares - 2 * mean * letter + 2 * s.pi * mean**2
        demand(is_zero(difference(relation) - 2 * s.pi * square), step, "not Cauchy and Schwarz's")
        return f"square: 2π∫(f − P/2π)² dt is left over, and ∫f² dt is {in_letters(squares)}"


@dataclass(frozen=True)
class Series:
    """The perimeter's series in h = ((a − b)/(a + b))², coefficient by coefficient.

    The premise: P is the integral. With a = m(1 + x), b = m(1 − x) the integrand is smooth in x
    near 0 for all t at once, so it may be developed under the integral; x² = h.
    """

    def check(self, step: Step) -> str:
        """That each coefficient up to the order named is the integral's. step: P = series + O."""
        import sympy as sp

        s, relation = letters(), step.relation()
        _forwards(step, 1)
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
            value = s.turn(sp.simplify(coefficient), s.t).doit() / (2 * s.pi * m)
            wanted = polynomial.coeff(s.h, n // 2) if n % 2 == 0 else 0
            demand(is_zero(value - wanted), step, f"the coefficient at x^{n} is {value}")
        return f"series: each coefficient below h^{power} integrated exactly; odd powers vanish"


@dataclass(frozen=True)
class LeadingTerm:
    """A limit as b → a of what is claimed too much, against a yardstick such as (a − b)²/(ab).

    yardstick: makes it; it vanishes as the square of x = (a − b)/(a + b). Premises say what the
    letters stand for. Both are developed exactly up to x²; a mean over θ is taken of the
    coefficient, which is allowed since all is smooth in x and θ.
    """

    yardstick: Maker

    def check(self, step: Step) -> str:
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
        value = sp.simplify(top / bottom)
        if mean:
            value = s.turn(sp.expand(sp.expand_trig(value)), s.theta).doit() / (2 * s.pi)
        demand(is_zero(value - relation.rhs), step, f"the limit is {value}")
        return f"limit: both developed exactly up to ((a − b)/(a + b))²; {in_letters(value)}"


@dataclass(frozen=True)
class FourierForm:
    """A Fourier series whose letters are what they are named for.

    c₀ is the mean of the function, p_n and q_n are 1/π times the integrals against cos nφ and
    sin nφ. only_odd: whether even n are left out.
    """

    only_odd: bool = False

    def check(self, step: Step) -> str:
        """That each term gives back its own coefficient and no other. step: h(φ) = series."""
        s, relation = letters(), step.relation()
        demand(step.direction == THEREFORE and not step.premises, step, "a definition is given")
        demand(kind_of(relation) == "=", step, "expected =")
        demand(relation.lhs == s.support(s.phi), step, "not the support function")
        start, term, index, least = _series(relation.rhs, step)
        at = 2 * s.k + 1 if self.only_odd else s.n
        demand((index, least) == ((s.k, 0) if self.only_odd else (s.n, 1)), step, "other terms")
        demand(start == s.c0, step, "c₀ is not the mean")
        demand(is_zero(_over_turn(term)), step, "a term has a mean")
        for wave, letter in ((s.cos, s.p), (s.sin, s.q)):
            value = _over_turn(term * wave(at * s.phi)) / s.pi
            demand(is_zero(value - letter[at]), step, f"{letter}_n is not its coefficient")
        return "orthogonality: c₀, p_n, q_n are its mean and coefficients, exactly for every n"


@dataclass(frozen=True)
class SupportFormula:
    """Girth and area of a convex hull from its support function h(φ).

    of: "girth" or "area". The edge is (h cos φ − h′ sin φ, h sin φ + h′ cos φ); its speed is
    h + h″, never below 0 for a convex hull. Whole derivatives vanish over a turn.
    """

    of: Literal["girth", "area"]

    def check(self, step: Step) -> str:
        """That the integrand is the edge's, but for a whole derivative. step: P or A_hull = ∫."""
        import sympy as sp

        s, relation = letters(), step.relation()
        demand(step.direction == THEREFORE and not step.premises, step, "it is given")
        demand(kind_of(relation) == "=", step, "expected =")
        h = s.support(s.phi)
        slope = sp.diff(h, s.phi)
        x = h * s.cos(s.phi) - slope * s.sin(s.phi)
        y = h * s.sin(s.phi) + slope * s.cos(s.phi)
        speed = h + sp.diff(h, s.phi, 2)
        east, north = sp.diff(x, s.phi), sp.diff(y, s.phi)
        true = is_zero(east + speed * s.sin(s.phi)) and is_zero(north - speed * s.cos(s.phi))
        demand(true, step, "the edge is another one")
        if self.of == "girth":
            letter, exact, whole = s.P, speed, slope
        else:
            letter, exact, whole = s.A_hull, (x * north - y * east) / 2, h * slope / 2
        demand(relation.lhs == letter, step, f"not the {self.of}")
        (integral,) = relation.rhs.atoms(sp.Integral) or (None,)
        demand(integral is not None, step, "no integral")
        factor = sp.simplify(relation.rhs / integral)
        demand(integral == s.turn(integral.function, s.phi), step, "not over one turn")
        given = factor * integral.function
        demand(is_zero(exact - given - sp.diff(whole, s.phi)), step, "another integrand")
        return f"identity: the {self.of}'s integrand but for the derivative of a periodic function"


@dataclass(frozen=True)
class Parseval:
    """An integral of h and h′ becomes a sum over the ripples, each by itself.

    Premises: the Fourier series of h; a letter as an integral over the turn. No two different
    ripples meet in the integral, whatever whole numbers they have.
    """

    def check(self, step: Step) -> str:
        """That constant, ripple n, and no mixed term give the right side. step: what follows."""
        import sympy as sp

        s, relation = letters(), step.relation()
        _forwards(step, 2)
        series, whole = (one.relation() for one in step.premises)
        demand(kind_of(relation) == "=" and relation.lhs == whole.lhs, step, "of another letter")
        start, term, index, least = _series(series.rhs, step)
        (integral,) = whole.rhs.atoms(sp.Integral) or (None,)
        demand(integral is not None, step, "no integral")
        factor = sp.simplify(whole.rhs / integral)
        h = s.support(s.phi)

        def value(function: Any) -> Any:
            return factor * integral.function.subs(h, function).doit()

        gap = sp.Symbol("gap", integer=True, positive=True)
        other = term.subs(index, index + gap)
        mixed = value(start + term + other) - value(start + term) - value(start + other)
        demand(is_zero(_over_turn(mixed + value(start))), step, "two ripples meet")
        constant, ripple = _over_turn(value(start)), _over_turn(value(start + term) - value(start))
        sums = relation.rhs.atoms(sp.Sum)
        if is_zero(ripple):
            demand(not sums and is_zero(relation.rhs - constant), step, f"it is {constant}")
            return "orthogonality: every ripple integrates to 0, exactly for every n"
        demand(len(sums) == 1, step, "the ripples are missing")
        (total,) = sums
        demand(total.limits == ((index, least, s.oo),), step, "other ripples")
        mark = sp.Symbol("mark")
        rest = sp.expand(relation.rhs.subs(total, mark))
        demand(is_zero(rest.coeff(mark, 0) - constant), step, f"the constant is {constant}")
        demand(
            is_zero(rest.coeff(mark, 1) * total.function - ripple), step, f"a ripple is {ripple}"
        )
        return (
            f"orthogonality: ripple n gives {in_letters(sp.factor(ripple))}, exactly, no mixed"
        )


@dataclass(frozen=True)
class OneRipple:
    """A sum of terms that are never negative is at least any one of them.

    The premise: X = constant times the sum. The step: X ≥ constant times the n-th term.
    """

    def check(self, step: Step) -> str:
        """That all terms are at least 0, and those from 2 on above 0 where a ripple is. step."""
        import sympy as sp

        s, relation = letters(), step.relation()
        _forwards(step, 1)
        whole = step.premises[0].relation()
        sums = whole.rhs.atoms(sp.Sum)
        demand(len(sums) == 1 and kind_of(whole) == "=", step, "no sum")
        (total,) = sums
        constant = sp.simplify(whole.rhs / total)
        demand(kind_of(relation) == "≥" and sign_of(constant) == 1, step, "expected ≥")
        demand(sign_of(total) == 0, step, "a term may be negative")
        claimed = whole.lhs - constant * total.function
        demand(is_zero(difference(relation) - claimed), step, "not a term of that sum")
        factor = sp.factor(total.function.subs(s.n, s.k + 2))
        ripple = s.p[s.k + 2] ** 2 + s.q[s.k + 2] ** 2
        demand(sign_of(sp.cancel(factor / ripple)) == 1, step, "the factor may be 0")
        return "bound: every term is at least 0; from n = 2 on the factor n² − 1 is above 0"


@dataclass(frozen=True)
class Width:
    """The distance of two parallel supporting lines from the Fourier series.

    mean: False for the width in every direction, where only odd ripples are there; True for the
    mean width. Premises: the width as h(φ) + h(φ + π); the series; for the mean also P = 2πc₀.
    """

    mean: bool = False

    def check(self, step: Step) -> str:
        """That what the ripples add vanishes. step: w = 2c₀, or the mean of w = P/π."""
        s, relation = letters(), step.relation()
        _forwards(step, 3 if self.mean else 2)
        width, series, *more = (one.relation() for one in step.premises)
        demand(kind_of(relation) == "=" and width.lhs == s.w, step, "no width")
        start, term, _, _ = _series(series.rhs, step)
        h = s.support
        demand(series.lhs == h(s.phi), step, "not the support function")
        turned = width.rhs.replace(h, lambda angle: start)
        ripple = width.rhs.replace(h, lambda angle: term.subs(s.phi, angle))
        if not self.mean:
            demand(is_zero(ripple), step, "a ripple is left in the width")
            demand(relation.lhs == s.w and is_zero(relation.rhs - turned), step, f"it is {turned}")
            return "identity: odd ripples cancel in h(φ) + h(φ + π), exactly for every odd n"
        demand(is_zero(_over_turn(ripple)), step, "a ripple is left in the mean")
        demand(relation.lhs == s.turn(width.rhs, s.phi) / (2 * s.pi), step, "not the mean width")
        girth = more[0]
        demand(is_zero(turned - unfolded(relation.rhs, [girth])), step, "it is another mean")
        return "orthogonality: over a turn every ripple's width has the mean 0"


def _forwards(step: Step, premises: int) -> None:
    """A certificate of this file proves in one direction, from so many premises."""
    demand(step.direction == THEREFORE, step, "it follows forwards only")
    demand(len(step.premises) == premises, step, "it has other premises")


def _series(expression: Any, step: Step) -> tuple[Any, Any, Any, Any]:
    """Constant, term, index and least index of a series."""
    import sympy as sp

    sums = expression.atoms(sp.Sum)
    demand(len(sums) == 1, step, "no series")
    (total,) = sums
    ((index, least, most),) = total.limits
    demand(most == sp.oo, step, "the series breaks off")
    start = expression - total
    demand(not start.has(sp.Sum), step, "the series has a factor")
    return start, total.function, index, least


def _over_turn(expression: Any) -> Any:
    """Integral over φ from 0 to 2π, exactly, products of waves written as sums first."""
    import sympy as sp
    from sympy.simplify.fu import TR8

    s = letters()
    waves = sp.expand(TR8(sp.expand(expression)))
    total = sp.Integer(0)
    for part in sp.Add.make_args(waves):
        wave, rest = part.as_independent(s.phi)[::-1]
        if wave == 1:
            total += 2 * s.pi * rest
            continue
        frequency = wave.args[0].coeff(s.phi) if wave.func in (s.cos, s.sin) else None
        whole = frequency is not None and frequency.is_integer and frequency.is_nonzero
        if not (whole and is_zero(wave.args[0].diff(s.phi) - frequency)):
            rest, wave = sp.Integer(1), sp.integrate(part, (s.phi, 0, 2 * s.pi))
            total += wave  # no wave of a whole number: sympy says what it can
    return sp.simplify(total)


def _second_order(expression: Any, x: Any, step: Step) -> Any:
    """Coefficient at x² with b = a(1 − x)/(1 + x), after O(1) and O(x) were found to vanish."""
    import sympy as sp

    s = letters()
    for order in expression.atoms(sp.Order):
        demand(sp.degree(order.expr, s.h) >= 2, step, "the series breaks off too early")
    turned = expression.replace(sp.Order, lambda *_: sp.Integer(0))  # O(h²) is O(x⁴)
    turned = turned.subs(s.h, ((s.a - s.b) / (s.a + s.b)) ** 2).subs(s.b, s.a * (1 - x) / (1 + x))
    turned = sp.powsimp(sp.powdenest(turned, force=False))
    found = [sp.diff(turned, x, n).subs(x, 0) for n in range(3)]
    demand(is_zero(found[0]) and is_zero(found[1]), step, "it does not vanish as x²")
    return sp.simplify(found[2] / 2)
