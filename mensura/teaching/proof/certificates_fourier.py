"""What holds a step with a Fourier series to account: every ripple at once, exactly.

Integrals over a turn are computed for a whole number n that stays a letter. Sums over n are taken
term by term: that is allowed for the support function of a convex hull, whose series and whose
derivative's series converge in the mean square.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Literal

from mensura.teaching.proof.certificates import demand, difference, in_letters, kind_of, unfolded
from mensura.teaching.proof.certificates_integral import forwards
from mensura.teaching.proof.steps import THEREFORE, Certificate, Checked, Step
from mensura.teaching.proof.symbols import is_zero, letters, sign_of, simplified, worked_out


@dataclass(frozen=True)
class FourierForm(Certificate):
    """A Fourier series whose letters are what they are named for.

    c₀ is the mean of the function, p_n and q_n are 1/π times the integrals against cos nφ and
    sin nφ. only_odd: whether even n are left out.
    """

    only_odd: bool = False

    def check(self, step: Step) -> Checked:
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
        return Checked(
            "orthogonality", "c₀, p_n, q_n are its mean and coefficients, exactly for every n"
        )


@dataclass(frozen=True)
class SupportFormula(Certificate):
    """Girth and area of a convex hull from its support function h(φ).

    of: "girth" or "area". The edge is (h cos φ − h′ sin φ, h sin φ + h′ cos φ); its speed is
    h + h″, never below 0 for a convex hull. Whole derivatives vanish over a turn.
    """

    of: Literal["girth", "area"]

    def check(self, step: Step) -> Checked:
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
        integrals = relation.rhs.atoms(sp.Integral)
        demand(len(integrals) == 1, step, "no integral")
        (integral,) = integrals
        factor = simplified(relation.rhs / integral)
        demand(integral == s.turn(integral.function, s.phi), step, "not over one turn")
        given = factor * integral.function
        demand(is_zero(exact - given - sp.diff(whole, s.phi)), step, "another integrand")
        return Checked(
            "identity", f"the {self.of}'s integrand but for the derivative of a periodic function"
        )


@dataclass(frozen=True)
class Parseval(Certificate):
    """An integral of h and h′ becomes a sum over the ripples, each by itself.

    Premises: the Fourier series of h; a letter as an integral over the turn. No two different
    ripples meet in the integral, whatever whole numbers they have.
    """

    def check(self, step: Step) -> Checked:
        """That constant, ripple n, and no mixed term give the right side. step: what follows."""
        import sympy as sp

        s, relation = letters(), step.relation()
        forwards(step, 2)
        series, whole = (one.relation() for one in step.premises)
        demand(kind_of(relation) == "=" and relation.lhs == whole.lhs, step, "of another letter")
        start, term, index, least = _series(series.rhs, step)
        integrals = whole.rhs.atoms(sp.Integral)
        demand(len(integrals) == 1, step, "no integral")
        (integral,) = integrals
        factor = simplified(whole.rhs / integral)
        h = s.support(s.phi)
        demand(series.lhs == h, step, "the series is not that of h")

        def value(function: Any) -> Any:
            return factor * worked_out(integral.function.subs(h, function))

        gap = sp.Symbol("gap", integer=True, positive=True)
        other = term.subs(index, index + gap)
        mixed = value(start + term + other) - value(start + term) - value(start + other)
        demand(is_zero(_over_turn(mixed + value(start))), step, "two ripples meet")
        constant, ripple = _over_turn(value(start)), _over_turn(value(start + term) - value(start))
        sums = relation.rhs.atoms(sp.Sum)
        if is_zero(ripple):
            demand(not sums and is_zero(relation.rhs - constant), step, f"it is {constant}")
            return Checked("orthogonality", "every ripple integrates to 0, exactly for every n")
        demand(len(sums) == 1, step, "the ripples are missing")
        (total,) = sums
        demand(total.limits == ((index, least, s.oo),), step, "other ripples")
        mark = sp.Symbol("mark")
        rest = sp.expand(relation.rhs.subs(total, mark))
        demand(is_zero(rest.coeff(mark, 0) - constant), step, f"the constant is {constant}")
        demand(
            is_zero(rest.coeff(mark, 1) * total.function - ripple), step, f"a ripple is {ripple}"
        )
        return Checked(
            "orthogonality", f"ripple n gives {in_letters(sp.factor(ripple))}, exactly, no mixed"
        )


@dataclass(frozen=True)
class OneRipple(Certificate):
    """A sum of terms that are never negative is at least any one of them.

    The premise: X = constant times the sum. The step: X ≥ constant times the n-th term.
    """

    def check(self, step: Step) -> Checked:
        """That all terms are at least 0, and those from 2 on above 0 where a ripple is. step."""
        import sympy as sp

        s, relation = letters(), step.relation()
        forwards(step, 1)
        whole = step.premises[0].relation()
        sums = whole.rhs.atoms(sp.Sum)
        demand(len(sums) == 1 and kind_of(whole) == "=", step, "no sum")
        (total,) = sums
        constant = simplified(whole.rhs / total)
        demand(kind_of(relation) == "≥" and sign_of(constant) == 1, step, "expected ≥")
        demand(sign_of(total) == 0, step, "a term may be negative")
        claimed = whole.lhs - constant * total.function
        demand(is_zero(difference(relation) - claimed), step, "not a term of that sum")
        factor = sp.factor(total.function.subs(s.n, s.k + 2))
        ripple = s.p[s.k + 2] ** 2 + s.q[s.k + 2] ** 2
        demand(sign_of(sp.cancel(factor / ripple)) == 1, step, "the factor may be 0")
        return Checked(
            "bound", "every term is at least 0; from n = 2 on the factor n² − 1 is above 0"
        )


@dataclass(frozen=True)
class Width(Certificate):
    """The distance of two parallel supporting lines from the Fourier series.

    mean: False for the width in every direction, where only odd ripples are there; True for the
    mean width. Premises: the width as h(φ) + h(φ + π); the series; for the mean also P = 2πc₀.
    """

    mean: bool = False

    def check(self, step: Step) -> Checked:
        """That what the ripples add vanishes. step: w = 2c₀, or the mean of w = P/π."""
        s, relation = letters(), step.relation()
        forwards(step, 3 if self.mean else 2)
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
            return Checked(
                "identity", "odd ripples cancel in h(φ) + h(φ + π), exactly for every odd n"
            )
        demand(is_zero(_over_turn(ripple)), step, "a ripple is left in the mean")
        demand(relation.lhs == s.turn(width.rhs, s.phi) / (2 * s.pi), step, "not the mean width")
        girth = more[0]
        demand(is_zero(turned - unfolded(relation.rhs, [girth])), step, "it is another mean")
        return Checked("orthogonality", "over a turn every ripple's width has the mean 0")


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


@lru_cache(maxsize=1024)
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
    return simplified(total)
