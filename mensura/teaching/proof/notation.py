"""A line as a student writes it, read into a tree. Text is parsed here and never evaluated.

Read are: numbers (3, 0.5, 0,5, ½), the half-axes a and b, π or pi, the classroom's areas A_tape and
A_cal and its girth G; + − × ÷ and their keyboard forms; products without a sign (2ab, (a−b)(a+b));
powers with ^ or ², whole or half; √( ) or sqrt( ); |a−b|; brackets of three kinds; and one of
> < ≥ ≤ = ≠. LaTeX's fractions, roots, powers and signs are read too. What cannot be read raises
:class:`Unreadable`, which names the place.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from mensura.teaching.proof.asides import without_asides
from mensura.teaching.proof.tokens import (
    BRACKETS,
    DEEPEST,
    GREATEST_POWER,
    LONGEST,
    MOST_HEAPED,
    Token,
    Unreadable,
    tokens,
)
from mensura.teaching.proof.tree import Line, Node, raised, written

__all__ = ["LONGEST", "Line", "Node", "Unreadable", "raised", "read_line", "written"]


@lru_cache(maxsize=256)
def read_line(text: str) -> Line:
    """A line, read.

    text: as it was typed. Raises Unreadable, with the place.

    >>> read_line("2 ab <= a^2+b²").read_as
    '2ab ≤ a² + b²'
    """
    return _Reader(text).line()


# ---- the reader --------------------------------------------------------------------------------


class _Reader:
    """Recursive descent, one method for each level of binding."""

    cites = False

    def __init__(self, text: str) -> None:
        if len(text) <= LONGEST:
            text, self.cites = without_asides(text)
        self.tokens = tokens(text)
        self.text = text
        self.at = 0
        self.depth = 0
        self.bars = 0

    @property
    def now(self) -> Token:
        return self.tokens[self.at]

    def take(self) -> Token:
        self.at += 1
        return self.tokens[self.at - 1]

    def line(self) -> Line:
        if self.now.kind == "end":
            raise Unreadable("the line is empty; expected two sides and a sign, like a² > b².", 1)
        left = self.sum()
        if self.now.kind == "end":
            raise Unreadable(
                "the line has no relation sign; expected one of > < ≥ ≤ = ≠.", self.now.place
            )
        sign = self.take()
        if sign.kind != "relation":
            self.stuck(sign)
        right = self.sum()
        if self.now.kind == "relation":
            self.second(left, sign, right)
        if self.now.kind != "end":
            self.stuck(self.now)
        return Line(left, str(sign.value), right, self.cites)

    def second(self, left: Node, sign: Token, middle: Node) -> None:
        """Refuses a second relation, and says how both are written."""
        again = self.take()
        says = "a second relation sign; write one relation in a line"
        try:
            last = written(self.sum())
        except Unreadable:
            last = "…"
        if sign.value == "=":
            first = f"{written(left)} {again.value} {last}"
        else:
            first = f"{written(left)} {sign.value} {written(middle)}"
        both = f"{says}: first {first}, then {written(middle)} {again.value} {last}."
        raise Unreadable(both if len(both) < 200 else f"{says}.", again.place)

    def stuck(self, token: Token) -> None:
        if token.kind == "close":
            raise Unreadable(f"the bracket ‘{token.text}’ was never opened.", token.place)
        if token.kind == "number":
            raise Unreadable(
                f"the number {token.text} stands behind a factor; write it in front, or a power "
                "with ^, like a^2.",
                token.place,
            )
        raise Unreadable(f"‘{token.text}’ does not fit here.", token.place)

    def sum(self) -> Node:
        self.depth += 1
        if self.depth > DEEPEST:
            raise Unreadable(f"more than {DEEPEST} brackets in each other.", self.now.place)
        left = self.product()
        while self.now.kind == "operator" and self.now.value in ("+", "-"):
            sign = self.take()
            left = Node(str(sign.value), (left, self.product()), None, left.place)
        self.depth -= 1
        return left

    def product(self) -> Node:
        if self.now.kind == "operator" and self.now.value in ("+", "-"):
            sign = self.take()
            self.depth += 1
            if self.depth > DEEPEST:
                raise Unreadable("too many signs in a row.", sign.place)
            inner = self.product()
            self.depth -= 1
            return inner if sign.value == "+" else Node("minus", (inner,), None, sign.place)
        left = _multiplied(self.run())
        while self.now.kind == "operator" and self.now.value in ("*", "/"):
            sign = self.take()
            start = self.now
            factors = self.run()
            if sign.value == "*":
                left = _multiplied([left, *factors])
            else:
                left = self.divided(left, factors, start)
        return left

    def divided(self, left: Node, factors: list[Node], start: Token) -> Node:
        """left / factors, where factors without a sign between them may be read in two ways."""
        numbers = [factor.kind == "number" for factor in factors]
        circle = len(factors) == 2 and numbers[0] and factors[1].value == "π"
        if len(factors) == 1 or circle:
            return Node("/", (left, _multiplied(factors)), None, left.place)
        if left.constant and numbers[0] and factors[1].value != "π":
            # 1/2(a² + b²) and π/2 ab: a number in front
            front = Node("/", (left, factors[0]), None, left.place)
            return _multiplied([front, *factors[1:]])
        piece = self.text[start.place - 1 : self.now.place - 1].strip()
        raise Unreadable(
            f"‘/{piece}’ can be read in two ways; write brackets, as in /({piece}) or (…/…)·….",
            start.place,
        )

    def run(self) -> list[Node]:
        """Factors without a sign between them."""
        factors = [self.factor()]
        while True:
            token = self.now
            opens = token.kind in ("name", "open", "root", "abs", "fraction") or (
                token.kind == "bar" and not self.bars
            )
            if not opens:
                if token.kind == "number":
                    self.stuck(token)
                return factors
            last = factors[-1]
            if last.kind == "√" and not last.parts[0].bracketed:
                # √2(a + b) is √2 times the bracket; how far the root of √2ab goes nobody can tell
                single = last.parts[0].kind in ("number", "name")
                if token.kind == "name" or (token.kind == "open" and not single):
                    self.under_root(last)
            factors.append(self.factor())

    def under_root(self, root: Node) -> None:
        """Refuses a root whose end is not clear, and says how it is written."""
        under, behind = written(root.parts[0]), ""
        while self.now.kind == "name":
            behind += self.take().text
        behind = behind or "(…)"
        raise Unreadable(
            f"what stands under the root can be read in two ways; write √({under}{behind}) or "
            f"√{under}·{behind}.",
            root.place,
        )

    def factor(self) -> Node:
        """A piece with its power."""
        base = self.piece()
        token = self.now
        if token.kind not in ("power", "raised"):
            return base
        self.take()
        exponent = self.exponent() if token.kind == "power" else Fraction(token.value or 0)
        if self.now.kind in ("power", "raised"):
            raise Unreadable("a power of a power; write one power.", self.now.place)
        if abs(exponent) > GREATEST_POWER or exponent.denominator > 2:
            raise Unreadable(
                f"the power {exponent}; expected a whole or half one up to {GREATEST_POWER}.",
                token.place,
            )
        node = Node("^", (base,), exponent, base.place)
        if (heaped := _heaped(node)) > MOST_HEAPED:
            raise Unreadable(
                f"powers of powers multiply up to {heaped}; expected at most {MOST_HEAPED}.",
                token.place,
            )
        return node

    def exponent(self) -> Fraction:
        """What stands behind ^: a number, with a sign or in brackets."""
        sign = 1
        opened = self.take() if self.now.kind == "open" else None
        if self.now.kind == "operator" and self.now.value in ("+", "-"):
            sign = -1 if self.take().value == "-" else 1
        token = self.take()
        if token.kind != "number" or not isinstance(token.value, Fraction):
            raise Unreadable("a power must be a number, like ^2 or ^(1/2).", token.place)
        size = token.value
        if opened is not None:
            if self.now.kind == "operator" and self.now.value == "/":
                self.take()
                below = self.take()
                if below.kind != "number" or not isinstance(below.value, Fraction):
                    raise Unreadable("a power must be a number, like ^(1/2).", below.place)
                if not below.value:
                    raise Unreadable("this divides by 0.", below.place)
                size /= below.value
            self.close(opened)
        return sign * size

    def close(self, opened: Token) -> None:
        token = self.now
        if token.kind == "close" and token.text == BRACKETS[opened.text]:
            self.take()
            return
        if token.kind == "close":
            raise Unreadable(
                f"‘{token.text}’ closes a bracket that opened as ‘{opened.text}’.", token.place
            )
        if token.kind in ("end", "relation"):
            raise Unreadable(f"the bracket ‘{opened.text}’ is never closed.", opened.place)
        self.stuck(token)

    def piece(self) -> Node:
        token = self.take()
        if token.kind == "number":
            if self.now.kind == "number":
                raise Unreadable(
                    "two numbers side by side; write one, or a sign between them.", self.now.place
                )
            return Node("number", (), token.value, token.place)
        if token.kind == "name":
            return Node("name", (), token.value, token.place)
        if token.kind == "open":
            bars, self.bars = self.bars, 0
            inner = self.sum()
            self.close(token)
            self.bars = bars
            return Node(inner.kind, inner.parts, inner.value, token.place, True)
        if token.kind == "root":
            self.depth += 1
            if self.depth > DEEPEST:
                raise Unreadable("too many roots in each other.", token.place)
            under = self.factor()
            self.depth -= 1
            if under.kind == "^" and under.parts[0].bracketed:
                under = Node(under.kind, under.parts, under.value, under.place, True)
            return Node("√", (under,), None, token.place)
        if token.kind == "abs":
            bars, self.bars = self.bars, 0
            inner = self.piece()
            self.bars = bars
            if inner.kind == "| |" and not inner.bracketed:
                return inner
            return Node("| |", (inner,), None, token.place)
        if token.kind == "fraction":
            above, below = self.braced(token), self.braced(token)
            return Node("/", (above, below), None, token.place, True)
        if token.kind == "bar":
            self.bars += 1
            inner = self.sum()
            if self.now.kind != "bar":
                if self.now.kind in ("end", "relation"):
                    raise Unreadable("the bar | is never closed.", token.place)
                self.stuck(self.now)
            self.take()
            self.bars -= 1
            return Node("| |", (inner,), None, token.place)
        if token.kind in ("end", "relation", "close"):
            raise Unreadable("something is missing here: a number, a letter or a bracket.",
                             token.place)  # fmt: skip
        if token.kind in ("power", "raised"):
            raise Unreadable("a power without anything in front of it.", token.place)
        raise Unreadable(f"‘{token.text}’ does not fit here.", token.place)

    def braced(self, token: Token) -> Node:
        """One of the two parts of a fraction in braces."""
        opened = self.take()
        if opened.kind != "open" or opened.text != "{":
            raise Unreadable(
                f"‘{token.text}’ needs two parts in braces, like {token.text}{{a}}{{b}}.",
                token.place,
            )
        bars, self.bars = self.bars, 0
        inner = self.sum()
        self.close(opened)
        self.bars = bars
        return inner


def _heaped(node: Node) -> int:
    """The greatest product of whole powers that stand in each other."""
    inner = max((_heaped(part) for part in node.parts), default=1)
    if node.kind != "^":
        return inner
    assert isinstance(node.value, Fraction)
    return inner * max(1, -(-abs(node.value.numerator) // node.value.denominator))


def _multiplied(factors: list[Node]) -> Node:
    result = factors[0]
    for factor in factors[1:]:
        result = Node("*", (result, factor), None, result.place)
    return result
