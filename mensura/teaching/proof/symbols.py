"""The letters that a proof is written in, and how lines are compared exactly; sympy loads here.

a and b are the half-axes in cm, both above 0. Relations are kept as they are written: nothing is
simplified away, so that a line says what stands on the board.
"""

from __future__ import annotations

from functools import cache, lru_cache
from types import SimpleNamespace
from typing import Any


@cache
def letters() -> SimpleNamespace:
    """Every symbol, once: a, b, P, G, θ, …, the functions, and eq, ne, gt, ge, le for relations.

    >>> s = letters()
    >>> s.gt((s.a - s.b) ** 2, 0)
    (a - b)**2 > 0
    """
    import sympy as sp

    def positive(name: str) -> Any:
        return sp.Symbol(name, positive=True)

    def written(kind: Any) -> Any:
        return lambda left, right: kind(sp.sympify(left), sp.sympify(right), evaluate=False)

    def turn(inside: Any, angle: Any) -> Any:
        return sp.Integral(inside, (angle, 0, 2 * sp.pi))

    return SimpleNamespace(
        sp=sp,
        pi=sp.pi,
        half=sp.Rational(1, 2),
        sqrt=sp.sqrt,
        sin=sp.sin,
        cos=sp.cos,
        a=positive("a"),
        b=positive("b"),
        G=positive("G"),
        P=positive("P"),
        A_tape=positive("A_tape"),
        A_cal=positive("A_cal"),
        A_hull=positive("A_hull"),
        A=positive("A"),
        hollows=sp.Symbol("hollows", nonnegative=True),
        h=sp.Symbol("h", nonnegative=True),
        t=sp.Symbol("t", real=True),
        theta=sp.Symbol("theta", real=True),
        phi=sp.Symbol("phi", real=True),
        w=positive("w"),
        w1=positive("w_1"),
        w2=positive("w_2"),
        c0=positive("c_0"),
        n=sp.Symbol("n", integer=True, positive=True),
        k=sp.Symbol("k", integer=True, nonnegative=True),
        p=sp.IndexedBase("p", real=True),
        q=sp.IndexedBase("q", real=True),
        support=sp.Function("support", real=True),
        oo=sp.oo,
        Sum=sp.Sum,
        turn=turn,
        eq=written(sp.Eq),
        ne=written(sp.Ne),
        gt=written(sp.Gt),
        ge=written(sp.Ge),
        le=written(sp.Le),
    )


@lru_cache(maxsize=1024)
def simplified(expression: Any) -> Any:
    """An expression in its simplest form, found once.

    expression: of sympy.

    >>> simplified((letters().a ** 2 - letters().a) / letters().a)
    a - 1
    """
    import sympy as sp

    return sp.simplify(expression)


@lru_cache(maxsize=1024)
def worked_out(expression: Any) -> Any:
    """An expression with its integrals and derivatives worked out, once.

    expression: of sympy.

    >>> worked_out(letters().turn(letters().sin(letters().t) ** 2, letters().t))
    pi
    """
    return expression.doit()


@lru_cache(maxsize=4096)
def is_zero(expression: Any) -> bool:
    """Whether an expression is identically 0, found exactly.

    Numbers put in may refute it, which is quick; they never prove it. expression: of sympy.

    >>> s = letters()
    >>> is_zero((s.a - s.b) ** 2 - s.a**2 - s.b**2 + 2 * s.a * s.b), is_zero(s.a - s.b)
    (True, False)
    """
    import sympy as sp

    once = sp.expand(expression)
    if once == 0:
        return True
    if _refuted(once):
        return False
    if once.has(sp.sin, sp.cos):
        # cos² + sin² = 1 through exponentials: products become sums, like terms meet
        once = sp.expand(sp.expand(sp.expand_trig(once)).rewrite(sp.exp))
        if once == 0:
            return True
    return bool(simplified(once) == 0)


def _refuted(expression: Any) -> bool:
    """Whether the expression is not 0 for some numbers put in, to thirty digits."""
    import sympy as sp

    heavy = (sp.Sum, sp.Integral, sp.Derivative, sp.Limit, sp.Order, sp.core.function.AppliedUndef)
    if expression.has(*heavy):
        return False
    known = sorted(expression.free_symbols | expression.atoms(sp.Indexed), key=str)
    chosen = {
        one: sp.Integer(3 + place) if one.is_integer else sp.Rational(7 + 4 * place, 5 + place)
        for place, one in enumerate(known)
    }
    value = expression.xreplace(chosen).evalf(30)
    return bool(value.is_number and value.is_finite and abs(value) > sp.Float("1e-15"))


def sign_of(expression: Any, unequal: bool = False) -> int | None:
    """1 if certainly above 0, 0 if certainly not below 0, None if its form does not tell.

    Read off the form alone: positive letters, even powers of what is real, their sums, products,
    powers, and sums over n term by term. expression: of sympy; unequal: whether a ≠ b is granted.

    >>> s = letters()
    >>> sign_of((s.a - s.b) ** 2), sign_of((s.a - s.b) ** 2, unequal=True), sign_of(s.a - s.b)
    (0, 1, None)
    """
    import sympy as sp

    s = letters()
    if expression.is_Number or expression.is_NumberSymbol:
        return 1 if expression.is_positive else 0 if expression.is_zero else None
    if expression.is_Symbol:
        return 1 if expression.is_positive else 0 if expression.is_nonnegative else None
    if isinstance(expression, sp.Sum):
        ((index, least, _),) = expression.limits
        steps = sp.Symbol("steps", integer=True, nonnegative=True)
        term = sp.factor(expression.function.subs(index, least + steps))
        return None if sign_of(term) is None else 0
    if expression.is_Pow:
        base, power = expression.args
        inner = sign_of(base, unequal)
        if inner == 1 and power.is_real:
            return 1
        if inner == 0 and power.is_positive:
            return 0
        if power.is_integer and power.is_even and base.is_real:
            factored = sp.factor(base)
            parts = factored.args if factored.is_Mul else (factored,)
            never_zero = all(
                sign_of(part) == 1 or part in (s.a - s.b, s.b - s.a) or part == -1 for part in parts
            )
            if unequal and never_zero:
                return 1
            return 0 if power.is_positive else None
        return None
    signs = [sign_of(part, unequal) for part in expression.args]
    known = [one for one in signs if one is not None]
    if len(known) < len(signs) or not known:
        return None
    return max(known) if expression.is_Add else min(known) if expression.is_Mul else None
