"""What holds a step of algebra to account: each certificate proves its step exactly, or refuses.

A certificate reads the step's own relation and those of its premises, so that a changed number, a
turned sign, ≥ in the place of > or the wrong direction no longer fits. Nothing is sampled.
Certificates for integrals and series are in `certificates_integral`.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, ClassVar

from mensura.teaching.proof.steps import ENOUGH, THEREFORE, Certificate, Checked, ProofError, Step
from mensura.teaching.proof.symbols import is_zero, letters, sign_of, worked_out

#: Makes an expression from the letters.
Maker = Callable[[Any], Any]


def kind_of(relation: Any) -> str:
    """ "=", "≠", ">" or "≥"; < and ≤ count as > and ≥ read backwards.

    relation: of sympy. Raises ProofError for anything else.
    """
    import sympy as sp

    for kind, sign in ((sp.Eq, "="), (sp.Ne, "≠")):
        if isinstance(relation, kind):
            return sign
    if isinstance(relation, sp.Gt | sp.Lt):
        return ">"
    if isinstance(relation, sp.Ge | sp.Le):
        return "≥"
    raise ProofError(f"{relation} is no relation.")


def difference(relation: Any) -> Any:
    """The greater side less the smaller one.

    relation: of sympy.

    >>> s = letters()
    >>> difference(s.le(s.a, s.b))
    -a + b
    """
    import sympy as sp

    if isinstance(relation, sp.Lt | sp.Le):
        return relation.rhs - relation.lhs
    return relation.lhs - relation.rhs


def unfolded(expression: Any, definitions: list[Any]) -> Any:
    """An expression with each defined letter replaced by what it stands for.

    expression: of sympy; definitions: equations whose left side is a letter or its square.
    Raises ProofError where an equation defines no letter.
    """
    import sympy as sp

    for one in definitions:
        letter, meaning = one.lhs, one.rhs
        if letter.is_Pow and letter.exp == 2:
            letter, meaning = letter.base, sp.sqrt(meaning)
        if kind_of(one) != "=" or not letter.is_Symbol:
            raise ProofError(f"{one} defines no letter.")
        expression = expression.subs(letter, meaning)
    return expression


def demand(holds: bool, step: Step, what: str) -> None:
    """Raises ProofError unless it holds.

    holds: whether it does; step: the step in question; what: what does not hold, in words.
    """
    if not holds:
        raise ProofError(f"{what}.", step.key)


@dataclass(frozen=True)
class Goal(Certificate):
    """The theorem itself: nothing is claimed yet, and nothing may be concluded from it.

    left, right: names of the letters compared.
    """

    left: str
    right: str

    def check(self, step: Step) -> Checked:
        """That the line is the theorem, with >, and waits to be shown. step: the theorem's."""
        s, relation = letters(), step.relation()
        demand(relation == s.gt(vars(s)[self.left], vars(s)[self.right]), step, "another theorem")
        demand(step.direction == ENOUGH and not step.premises, step, "a theorem waits to be shown")
        return Checked("goal", f"{self.left} > {self.right}, shown once the last line below it is")


@dataclass(frozen=True)
class Definition(Certificate):
    """A line that says what a letter stands for, built again from what it means.

    letter: makes the letter, or what is defined; meaning: builds it anew by another way; says: that
    way, in words.
    """

    letter: Maker
    meaning: Maker
    says: str

    def check(self, step: Step) -> Checked:
        """That both ways give the same. step: the one that defines."""
        s, relation = letters(), step.relation()
        demand(step.direction == THEREFORE and not step.premises, step, "a definition is given")
        demand(kind_of(relation) == "=", step, "a definition is an equation")
        demand(relation.lhs == self.letter(s), step, "it defines something else")
        meaning = self.meaning(s)
        demand(_same(relation.rhs, meaning), step, f"it is not {self.says}")
        return Checked("definition", f"the same as {self.says}, exactly")


@dataclass(frozen=True)
class Identity(Certificate):
    """The difference of the sides is a positive multiple of the differences before it.

    factors: one for each premise; None where the premise only says what a letter stands for. An
    equation may be taken with any factor, an inequality with one that is certainly positive.
    """

    factors: tuple[Maker | Fraction | int | None, ...]

    def check(self, step: Step) -> Checked:
        """That difference = Σ factor × difference, and strictness alike. step: what follows."""
        told, remains, kinds = _combined(step, self.factors)
        demand(is_zero(remains), step, "the difference of its sides is another one")
        wanted = ">" if ">" in kinds else "≥" if "≥" in kinds else "="
        demand(kind_of(step.relation()) == wanted, step, f"expected {wanted}")
        return Checked("identity", f"left less right is {told}, exactly")


@dataclass(frozen=True)
class Bound(Certificate):
    """As Identity, but for a remainder that is certainly not negative.

    factors: as for Identity; remainder: makes what is left, in a form that shows its sign;
    unequal: whether a ≠ b is used to see that it is above 0.
    """

    factors: tuple[Maker | Fraction | int | None, ...]
    remainder: Maker
    unequal: bool = False

    def check(self, step: Step) -> Checked:
        """That the remainder is what is left, and its sign. step: what follows."""
        demand(step.direction == THEREFORE, step, "with a remainder it follows forwards only")
        told, remains, kinds = _combined(step, self.factors)
        rest = self.remainder(letters())
        demand(is_zero(remains - rest), step, f"{rest} is not what is left")
        sign = sign_of(rest, self.unequal)
        demand(sign is not None, step, f"the sign of {rest} is not certain")
        if self.unequal:
            demand("a ≠ b" in step.assumption, step, "a ≠ b is used but not said")
            demand(sign_of(rest) == 0, step, "a ≠ b is said but not used")
        wanted = ">" if ">" in kinds or sign == 1 else "≥"
        demand(kind_of(step.relation()) == wanted, step, f"expected {wanted}")
        sort = "above 0" if sign else "never below 0"
        return Checked(
            "bound", f"left less right is {told} plus {in_letters(rest)}, which is {sort}"
        )


@dataclass(frozen=True)
class Square(Certificate):
    """An expression that is a positive constant times a square, and 0 only where a = b.

    of: makes what is squared; constant: makes the constant. The step is a ≠ b, and enough for the
    line before it.
    """

    of: Maker
    constant: Maker
    grounds: ClassVar[bool] = True

    def check(self, step: Step) -> Checked:
        """That the line before is c·(…)² > 0, which a ≠ b gives. step: the one that says a ≠ b."""
        s = letters()
        demand(step.direction == ENOUGH and len(step.premises) == 1, step, "one line waits for it")
        demand(step.relation() == s.ne(s.a, s.b), step, "it does not say a ≠ b")
        demand(step.assumption == "a ≠ b", step, "a ≠ b is not named as the assumption")
        before = step.premises[0].relation()
        of, constant = self.of(s), self.constant(s)
        demand(kind_of(before) == ">", step, "the line before it is no >")
        demand(is_zero(difference(before) - constant * of**2), step, "no such square")
        demand(sign_of(constant) == 1, step, "the constant is not certainly positive")
        demand(sign_of(of**2, unequal=True) == 1, step, "the square may be 0 though a ≠ b")
        return Checked(
            "square", f"the line before it is {in_letters(constant * of**2)} > 0, 0 only for a = b"
        )


@dataclass(frozen=True)
class MonotoneMap(Certificate):
    """Both sides of the line before go through one strictly increasing map.

    image: makes the map's value from the letters and a positive x; factors: as for Identity,
    one premise with factor 1, None for those that only say what a letter stands for.
    """

    image: Callable[[Any, Any], Any]
    factors: tuple[int | None, ...] = (1,)

    def check(self, step: Step) -> Checked:
        """That the sides are the mapped ones, and that the map rises. step: what follows."""
        import sympy as sp

        s, relation = letters(), step.relation()
        x = sp.Symbol("x", positive=True)
        definitions, lines = _sorted(step, self.factors)
        ((factor, line),) = lines
        demand(factor == 1, step, "a map takes the sides as they are")
        demand(type(relation) is type(line), step, "its sign is not that of the line before")
        for now, earlier in ((relation.lhs, line.lhs), (relation.rhs, line.rhs)):
            now, earlier = unfolded(now, definitions), unfolded(earlier, definitions)
            demand(sign_of(earlier) is not None, step, f"{earlier} may lie outside the map")
            demand(is_zero(now - self.image(s, earlier)), step, "its sides are not the mapped ones")
        slope = sp.diff(self.image(s, x), x)
        demand(sign_of(slope) == 1, step, "the map does not certainly rise")
        image = in_letters(self.image(s, x))
        return Checked(
            "monotone map", f"x ↦ {image} on both sides; its slope {in_letters(slope)} is above 0"
        )


@dataclass(frozen=True)
class DerivativeSign(Certificate):
    """A line that says that a function of θ rises between 0 and an upper end.

    slope: makes the derivative in a form that shows its sign; upper: makes the upper end of θ;
    unequal: whether a ≠ b is used. The function is the right side of the only premise.
    """

    slope: Maker
    upper: Maker
    unequal: bool = True

    def check(self, step: Step) -> Checked:
        """That the derivative is identically the slope, and its sign. step: Derivative(…) > 0."""
        import sympy as sp

        s, relation = letters(), step.relation()
        demand(step.direction == THEREFORE, step, "it follows forwards only")
        function = _right_side(step.premises[0])
        demand(relation.lhs == sp.Derivative(function, s.theta), step, "of another function")
        demand(isinstance(relation, sp.Gt) and relation.rhs == 0, step, "expected > 0")
        slope = self.slope(s)
        demand(is_zero(sp.diff(function, s.theta) - slope), step, "the slope is another one")
        demand(rises(slope, self.upper(s), self.unequal), step, "the slope's sign is not certain")
        demand(not self.unequal or "a ≠ b" in step.assumption, step, "a ≠ b is used but not said")
        return Checked("derivative sign", f"the slope is {in_letters(slope)}, above 0 up to 45°")


@dataclass(frozen=True)
class AtAngle(Certificate):
    """What the right side of the only premise is at one angle.

    at: makes the angle.
    """

    at: Maker

    def check(self, step: Step) -> Checked:
        """That the function has that value there, exactly. step: f at the angle = value."""
        import sympy as sp

        s, relation = letters(), step.relation()
        demand(step.direction == THEREFORE, step, "it follows forwards only")
        function, at = _right_side(step.premises[0]), self.at(s)
        demand(relation == s.eq(sp.Subs(function, s.theta, at), relation.rhs), step, "another line")
        value = function.subs(s.theta, at)
        demand(is_zero(value - relation.rhs), step, f"it is {value} there")
        return Checked(
            "identity", f"put in {in_letters(at)} for θ, both sides are the same, exactly"
        )


@dataclass(frozen=True)
class Crossing(Certificate):
    """Where a rising function of θ reaches a number: below it before, above it after.

    at: makes the angle; slope: the function's derivative, in a form that shows its sign; upper:
    makes the end up to which it rises. Premises: a limit that is the function, one that is the
    number.
    """

    at: Maker
    slope: Maker
    upper: Maker

    def check(self, step: Step) -> Checked:
        """That f(at) is the number exactly, and that f rises. step: f at the angle = number."""
        import sympy as sp

        s, relation = letters(), step.relation()
        function, level = (_right_side(one) for one in step.premises)
        wanted = s.eq(sp.Subs(function, s.theta, self.at(s)), level)
        demand(relation == wanted, step, "another function, angle or number")
        demand(is_zero(function.subs(s.theta, self.at(s)) - level), step, "it is not reached there")
        demand(is_zero(sp.diff(function, s.theta) - self.slope(s)), step, "another slope")
        demand(rises(self.slope(s), self.upper(s)), step, "the slope's sign is not certain")
        demand(step.direction == THEREFORE, step, "it follows forwards only")
        return Checked(
            "derivative sign", f"exact there, and it rises by {in_letters(self.slope(s))} up to 45°"
        )


def rises(slope: Any, upper: Any, unequal: bool = False) -> bool:
    """Whether a slope is above 0 for 0 < θ < upper: each sine in it stays within 0 and π.

    slope: of sympy; upper: the end of θ in radians; unequal: whether a ≠ b is granted.
    """
    import sympy as sp

    s = letters()
    for number, sine in enumerate(sorted(slope.atoms(sp.sin), key=str)):
        inside = sine.args[0]
        if inside.subs(s.theta, 0) != 0 or not 0 < inside.coeff(s.theta) * upper <= sp.pi:
            return False
        if not is_zero(sp.diff(inside, s.theta, 2)):
            return False
        slope = slope.subs(sine, sp.Symbol(f"sine_{number}", positive=True))
    return sign_of(slope, unequal) == 1


def _same(given: Any, meaning: Any) -> bool:
    """Whether both are the same; if an integral is given, its limits and its integrand."""
    import sympy as sp

    if isinstance(given, sp.Integral):
        alike = isinstance(meaning, sp.Integral) and given.limits == meaning.limits
        return alike and is_zero(given.function - meaning.function)
    roots = any(power.exp.is_integer is False for power in meaning.atoms(sp.Pow))
    return not roots and is_zero(given - worked_out(meaning))


def _right_side(premise: Step) -> Any:
    """The function on a premise's right side, once the whole premise was verified."""
    premise.verify()
    return premise.relation().rhs


def _sorted(step: Step, factors: tuple[Any, ...]) -> tuple[list[Any], list[tuple[Any, Any]]]:
    """Premises that only define, and (factor, relation) of the others."""
    demand(len(factors) == len(step.premises) > 0, step, "it has other premises")
    relations = [one.relation() for one in step.premises]
    definitions = [r for f, r in zip(factors, relations, strict=True) if f is None]
    lines = [(f, r) for f, r in zip(factors, relations, strict=True) if f is not None]
    if step.direction == ENOUGH:  # backwards only what can be turned round
        demand(sum(kind_of(r) != "=" for _, r in lines) == 1, step, "it cannot be turned round")
    return definitions, lines


def _combined(step: Step, factors: tuple[Any, ...]) -> tuple[str, Any, set[str]]:
    """In words, what is left of the difference once the premises are taken off, and their signs."""
    import sympy as sp

    s, relation = letters(), step.relation()
    definitions, lines = _sorted(step, factors)
    remains = unfolded(difference(relation), definitions)
    names = [one.key for f, one in zip(factors, step.premises, strict=True) if f is not None]
    told, kinds = [], set()
    for (factor, line), name in zip(lines, names, strict=True):
        made = factor(s) if callable(factor) else sp.Rational(factor)
        kind = kind_of(line)
        demand(kind != "≠", step, "≠ has no difference")
        if kind != "=":
            demand(sign_of(made) == 1, step, f"the factor {made} is not certainly positive")
        remains -= made * unfolded(difference(line), definitions)
        kinds.add(kind)
        told.append(
            f"({in_letters(made)}) times that of {name}" if made != 1 else f"that of {name}"
        )
    return " plus ".join(told) or "0", remains, kinds


def in_letters(expression: Any) -> str:
    """An expression in the letters of the board.

    expression: of sympy.

    >>> in_letters(letters().pi * letters().a ** 2)
    'π·a²'
    """
    import sympy as sp

    text = re.sub(r"\*\*(\d+|\(-\d+\))", _raised, sp.sstr(expression)).replace("*", "·")
    for name, sign in (("pi", "π"), ("theta", "θ"), ("phi", "φ"), ("sqrt", "√"), ("c_0", "c₀")):
        text = text.replace(name, sign)
    return text


def _raised(power: re.Match[str]) -> str:
    """A whole exponent as small raised digits."""
    return power[1].strip("()").translate(str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹"))
