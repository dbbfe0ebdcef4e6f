"""Rewrites of the lines of the proof whose verdict is known by the way they are made.

A line is a pair (greater side, lesser side) of sympy expressions. What is done to both sides alike
keeps its meaning: the same term added, the same positive factor, the same square or root. What is
given to the greater side alone weakens it. The result is then spelt at random, as a class would.
The draws are seeded; nothing here asks the judge.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from typing import Any, NamedTuple

import sympy as sp

a, b = sp.symbols("a b", positive=True)
TAPE, CAL = sp.symbols("A_tape A_cal", positive=True)
HALF = sp.Rational(1, 2)


class Rewrite(NamedTuple):
    """A line, the line before it, the verdict that it must get, and how it was made."""

    after: str
    line: str
    verdict: str
    made: str
    assume: tuple[str, ...]
    pair: tuple[Any, Any]


class Base(NamedTuple):
    """A line to start from, greater side first, and positive terms of the same dimension."""

    greater: Any
    lesser: Any
    alike: tuple[Any, ...]
    assume: tuple[str, ...] = ()


AREAS = (a * b, a**2 / 3, b**2, 2 * a * b, sp.pi * a * b)
LENGTHS = (a, b / 2, sp.sqrt(a * b), 3 * b)
BASES = (
    Base(a**2 + b**2, 2 * a * b, AREAS),
    Base((a - b) ** 2, sp.Integer(0), AREAS),
    Base(sp.pi * (a**2 + b**2) / 2, sp.pi * a * b, AREAS),
    Base((a + b) ** 2 / 4, a * b, AREAS),
    Base(a + b, 2 * sp.sqrt(a * b), LENGTHS),
    Base(sp.sqrt((a**2 + b**2) / 2), sp.sqrt(a * b), LENGTHS),
    Base(a / b + b / a, sp.Integer(2), (sp.Integer(1), a / b, sp.Rational(3, 4))),
    Base(a**3 + b**3, a**2 * b + a * b**2, (a**3, a * b**2 / 2, 5 * b**3)),
    Base(TAPE, CAL, AREAS),
    Base(a**2, b**2, AREAS, ("a > b",)),
    Base(a, b, LENGTHS, ("a > b",)),
    Base(b, a, LENGTHS, ("b > a",)),
)
CONSTANTS = tuple(map(sp.sympify, (2, 3, HALF, sp.Rational(3, 4), sp.Rational(5, 2), sp.pi)))
MONOMIALS = (a, b, a * b, 1 / (a * b), sp.sqrt(a * b), a**2)
SUMS = (a + b, 1 / (a + b))
OTHERS = (a + 2 * b, a**2 + a * b + b**2, 3 * a + b)


# ---- spelling -----------------------------------------------------------------------------------

RAISED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")


class Speller:
    """Writes an expression down; each hand has habits and does not always keep to them."""

    def __init__(self, rng: random.Random) -> None:
        self.rng = rng
        self.times = rng.choice(["", " ", "·", " × ", "*"])
        self.raised = rng.random() < 0.5
        self.root = rng.choice(["√", "sqrt"])
        self.pi = rng.choice(["π", "pi"])
        self.gap = rng.choice(["", " "])
        self.comma = rng.random() < 0.3

    def number(self, value: sp.Rational) -> str:
        if value.q in (2, 4, 5) and self.rng.random() < 0.4:
            text = str(float(value))
            return text.replace(".", ",") if self.comma else text
        return str(value.p) if value.q == 1 else f"{value.p}/{value.q}"

    def power(self, base: Any, exponent: sp.Rational) -> str:
        if exponent == 1:
            return self.factor(base)
        if exponent == HALF:
            return f"{self.root}({self.sum(base)})"
        if exponent.q == 2:
            whole = self.power(base, exponent - HALF)
            return f"{whole}{self.times or ' '}{self.root}({self.sum(base)})"
        if exponent.q != 1:
            raise ValueError(f"no student writes the power {exponent}")
        shown = self.factor(base)
        if self.raised != (self.rng.random() < 0.15):
            return shown + str(exponent).translate(RAISED)
        return f"{shown}^{exponent}"

    def factor(self, part: Any) -> str:
        """A factor, in brackets wherever it is not a name, a number or a power."""
        if part == sp.pi:
            return self.pi
        if part.is_Symbol:
            return str(part)
        if part.is_Integer and part >= 0:
            return str(part)
        if part.is_Pow and part.exp.is_positive:
            return self.power(part.base, part.exp)
        return f"({self.sum(part)})"

    def product(self, term: Any) -> str:
        """A term without its sign: numbers first, then names, over what divides it."""
        number, rest = term.as_coeff_Mul()
        above, below = [], []
        parts = list(sp.Mul.make_args(rest))
        if self.rng.random() < 0.7:
            parts = one_root(parts)
        for part in parts:
            base, exponent = part.as_base_exp()
            if exponent.is_negative:
                below.append(self.power(base, -exponent))
            elif part != 1:
                above.append(self.power(base, exponent))
        self.rng.shuffle(above)
        bare = number.q != 1 and above and self.rng.random() < 0.5
        if bare:
            below.insert(0, str(number.q))
            number = sp.Integer(number.p)
        if number != 1 or not above:
            shown = self.number(number)
            above.insert(0, f"({shown})" if "/" in shown else shown)
        top = self.joined(above)
        if not below:
            return top
        under = self.joined(below)
        return f"{top}/({under})" if len(below) > 1 else f"{top}/{under}"

    def joined(self, parts: list[str]) -> str:
        """Factors side by side, with a sign or a gap where they would run into one another."""
        text = parts[0]
        for part in parts[1:]:
            words = re.search(r"[A-Za-z_]*$", text)[0], re.match(r"[A-Za-z_]*", part)[0]
            names = all(words) and max(map(len, words)) > 1
            digits = part[0].isdigit() and text[-1] not in ")"
            rooted = text.endswith(self.root)
            glue = self.times
            if not glue.strip() and digits:
                glue = " · "
            elif not glue and (names or rooted):
                glue = " "
            text += glue + part
        return text

    def sum(self, side: Any) -> str:
        """One side of a line."""
        terms = list(sp.Add.make_args(side))
        self.rng.shuffle(terms)
        terms.sort(key=lambda term: bool(term.could_extract_minus_sign()))
        text = ""
        for term in terms:
            minus = term.as_coeff_Mul()[0].is_negative
            shown = self.product(-term if minus else term)
            if text:
                text += f"{self.gap}{'-' if minus else '+'}{self.gap}{shown}"
            else:
                text = ("-" if minus else "") + shown
        return text

    def line(self, greater: Any, lesser: Any, strict: bool = True, swap: bool | None = None) -> str:
        """The whole line, either side first."""
        if swap is None:
            swap = self.rng.random() < 0.4
        sign = self.rng.choice(["<"] if strict else ["<=", "≤"])
        left, right = lesser, greater
        if not swap:
            sign = sign.translate(str.maketrans("<≤", ">≥"))
            left, right = right, left
        return f"{self.sum(left)}{self.gap}{sign}{self.gap}{self.sum(right)}"


def one_root(parts: list[Any]) -> list[Any]:
    """The factors with √x·√y written as √(xy), above and below alike."""
    for half in (HALF, -HALF):
        under = [part.base for part in parts if part.is_Pow and part.exp == half]
        if len(under) > 1:
            parts = [part for part in parts if not (part.is_Pow and part.exp == half)]
            parts.append(sp.Pow(sp.Mul(*under, evaluate=False), half, evaluate=False))
    return parts


def spelt(greater: Any, lesser: Any, rng: random.Random, strict: bool = True) -> str:
    """The line in some hand."""
    return Speller(rng).line(greater, lesser, strict)


# ---- what keeps the meaning ---------------------------------------------------------------------


def added(pair, base, rng):
    """The same term on both sides."""
    term = rng.choice(base.alike) * rng.choice([1, -1])
    return tuple(side + term for side in pair)


def scaled(pair, base, rng):
    """Both sides times the same positive number."""
    factor = rng.choice(CONSTANTS)
    return tuple(sp.expand(side * factor) for side in pair)


def times_monomial(pair, base, rng):
    """Both sides times, or over, the same product of axes."""
    factor = rng.choice(MONOMIALS)
    return tuple(sp.expand(side * factor) for side in pair)


def times_sum(pair, base, rng):
    """Both sides times, or over, the same sum of axes."""
    factor = rng.choice(SUMS)
    return tuple(side * factor for side in pair)


def times_other(pair, base, rng):
    """Both sides times the same other sum, which is no factor that has a name."""
    factor = rng.choice(OTHERS)
    return tuple(side * factor for side in pair)


def moved(pair, base, rng):
    """Everything to one side."""
    difference = sp.expand(pair[0] - pair[1])
    return (difference, sp.Integer(0)) if rng.random() < 0.5 else (sp.Integer(0), -difference)


def turned(pair, base, rng):
    """Both sides with the other sign, which turns the relation round."""
    return -pair[1], -pair[0]


def multiplied_out(pair, base, rng):
    """The same sides without brackets."""
    return tuple(sp.expand(side) for side in pair)


def squared(pair, base, rng):
    """Both sides squared; they are not negative."""
    return tuple(sp.expand(side**2) for side in pair)


def rooted(pair, base, rng):
    """The root of both sides; they are not negative."""
    return tuple(sp.sqrt(side) for side in pair)


FREE = (added, scaled, times_monomial, times_sum, times_other, moved, turned, multiplied_out)

#: Ways of rewriting that may go together in one move: the same terms, times what has a name.
TOGETHER = {"added", "scaled", "times_monomial", "times_sum", "moved", "turned", "multiplied_out"}
ALIKE = {"times_other", "times_monomial", "scaled", "times_sum", "multiplied_out"}


def by_one_move(made: list[str], base: Base) -> bool:
    """Whether what was done is certainly one move; else it may be one, or a leap."""
    ways = set(made)
    if ways & {"squared", "rooted"}:
        rest = ways - {"squared", "rooted", "multiplied_out"}
        return not rest or (rest == {"scaled"} and base.lesser != 0)
    return ways <= TOGETHER or (ways <= ALIKE and base.lesser != 0)


def chains(rng: random.Random) -> Iterator[tuple[Base, Any, str]]:
    """Bases in turn, each with one to three things done that keep the meaning."""
    count = 0
    while True:
        base = BASES[count % len(BASES)]
        count += 1
        pair, made = (base.greater, base.lesser), []
        # a square or a root comes first, while both sides are known not to be negative
        if rng.random() < 0.3:
            plain = base.lesser != 0 and not any(side.has(HALF) for side in pair)
            step = rooted if plain and rng.random() < 0.5 else squared
            pair = step(pair, base, rng)
            made.append(step.__name__)
        for step in rng.sample(FREE, rng.choice([1, 1, 2])):
            pair = step(pair, base, rng)
            made.append(step.__name__)
        yield base, pair, ", ".join(made)


def writable(*sides: Any) -> bool:
    """Whether only powers that students write stand in the sides, and no root within a root."""
    powers = [power for side in sides for power in side.atoms(sp.Pow)]
    nested = any(
        power.exp.q == 2 and power.base.atoms(sp.Pow) & roots(power.base) for power in powers
    )
    return all(power.exp.q in (1, 2) and abs(power.exp) <= 8 for power in powers) and not nested


def roots(side: Any) -> set[Any]:
    """The powers with a half in a side."""
    return {power for power in side.atoms(sp.Pow) if power.exp.q == 2}


# ---- the lists ----------------------------------------------------------------------------------


def equivalents(count: int, seed: int = 40) -> list[Rewrite]:
    """Lines that say what their last line says."""
    rng, found, seen = random.Random(seed), [], set()
    for base, pair, made in chains(rng):
        if len(found) == count:
            return found
        after = spelt(base.greater, base.lesser, rng)
        line = spelt(*pair, rng)
        if writable(*pair) and line not in seen:
            seen.add(line)
            verdict = "equivalent" if by_one_move(made.split(", "), base) else "equivalent or leap"
            found.append(Rewrite(after, line, verdict, made, base.assume, pair))
    return found


def remainders(rng: random.Random) -> Iterator[tuple[Base, Any, Any, str]]:
    """A base, its weakened form times a monomial, and that remainder."""
    for base, _, _ in chains(rng):
        given = rng.choice(base.alike) * rng.choice([1, 2, HALF])
        factor = rng.choice(CONSTANTS + MONOMIALS)
        greater, lesser = (sp.expand(side * factor) for side in (base.greater + given, base.lesser))
        if rng.random() < 0.3:
            greater, lesser = sp.expand(greater - lesser), sp.Integer(0)
        yield base, greater, lesser, f"{given} given away, times {factor}"


def weaker(count: int, seed: int = 41) -> list[Rewrite]:
    """A positive remainder on the greater side alone, or ≥ for >."""
    rng, found = random.Random(seed), []
    for base, greater, lesser, made in remainders(rng):
        if len(found) == count:
            return found
        after = spelt(base.greater, base.lesser, rng)
        if len(found) % 3 == 2:
            greater, lesser, made = base.greater * 3, base.lesser * 3, "≥ for >"
        line = spelt(greater, lesser, rng, strict=made != "≥ for >")
        found.append(Rewrite(after, line, "weaker", made, base.assume, (greater, lesser)))
    return found


def stronger(count: int, seed: int = 42) -> list[Rewrite]:
    """The same pairs the other way round."""
    return [
        one._replace(after=one.line, line=one.after, verdict="stronger")
        for one in weaker(count, seed)
    ]


def false(count: int, seed: int = 43) -> list[Rewrite]:
    """The sign turned round, or a remainder on the lesser side alone."""
    rng, found = random.Random(seed), []
    for base, pair, made in chains(rng):
        if len(found) == count:
            return found
        after = spelt(base.greater, base.lesser, rng)
        if len(found) % 2:
            given = rng.choice(base.alike) / 10
            pair, made = (base.greater, base.lesser + given), f"{given} claimed too much"
        else:
            pair, made = pair[::-1], made + ", sign turned round"
        if writable(*pair):
            found.append(Rewrite(after, spelt(*pair, rng), "false", made, base.assume, pair))
    return found
