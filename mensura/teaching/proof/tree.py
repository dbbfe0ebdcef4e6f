"""The tree of a line, and how a line is written in the house's notation."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True)
class Node:
    """A piece of a line.

    kind: "number", "name", "+", "-", "*", "/", "^", "minus", "√" or "| |"; parts: what it is made
    of; value: a number's or exponent's value, or a name; place: where it begins, from 1; bracketed:
    whether brackets stand round it.
    """

    kind: str
    parts: tuple[Node, ...] = ()
    value: Fraction | str | None = None
    place: int = 0
    bracketed: bool = False

    def walk(self) -> Iterator[Node]:
        """This piece and every piece in it."""
        yield self
        for part in self.parts:
            yield from part.walk()

    @property
    def constant(self) -> bool:
        """Whether neither a nor b is in it."""
        return all(n.kind != "name" or n.value == "π" for n in self.walk())


@dataclass(frozen=True)
class Line:
    """A relation: left sign right, the sign being one of > < ≥ ≤ = ≠.

    cites_unequal: whether "since a ≠ b" was written beside it.
    """

    left: Node
    sign: str
    right: Node
    cites_unequal: bool = False

    @property
    def read_as(self) -> str:
        """The line as it was understood, in one notation."""
        left, right = self.sides_read
        return f"{left} {self.sign} {right}"

    @property
    def sides_read(self) -> tuple[str, str]:
        """Both sides as they were understood."""
        return written(self.left), written(self.right)

    @property
    def names(self) -> frozenset[str]:
        """The letters and names that stand in it: "a", "π", "A_tape"."""
        pieces = (*self.left.walk(), *self.right.walk())
        return frozenset(str(one.value) for one in pieces if one.kind == "name")


_RAISED = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")


def raised(exponent: Fraction) -> str:
    """An exponent as it is written: ², or ^(1/2).

    >>> raised(Fraction(2)), raised(Fraction(1, 2)), raised(Fraction(1))
    ('²', '^(1/2)', '')
    """
    if exponent == 1:
        return ""
    whole = exponent.denominator == 1
    return str(exponent).translate(_RAISED) if whole else f"^({exponent})"


def written(node: Node) -> str:
    """A tree as a line in the house's notation.

    node: of a line.

    >>> from mensura.teaching.proof.notation import read_line
    >>> written(read_line("1/2*(a+b)^2 = 0").left)
    '1/2·(a + b)²'
    """
    return _written(node)[0]


def _written(node: Node) -> tuple[str, int]:
    """Text, and how tightly it binds: 0 sum, 1 product, 2 power, 3 a single piece."""
    kind = node.kind
    if kind == "number":
        value = node.value
        assert isinstance(value, Fraction)
        if value.denominator == 1:
            return str(value), 3
        text = f"{float(value):.12g}"
        exact = Fraction(text) == value
        return (text, 3) if exact else (str(value), 1)
    if kind == "name":
        return str(node.value), 3
    if kind == "√":
        return f"√({written(node.parts[0])})" if node.parts[0].parts else (
            f"√{written(node.parts[0])}"), 3  # fmt: skip
    if kind == "| |":
        return f"|{written(node.parts[0])}|", 3
    if kind == "^":
        assert isinstance(node.value, Fraction)
        base = node.parts[0]
        inner = f"({written(base)})" if base.kind == "√" else _wrapped(base, 3)
        return inner + (raised(node.value) or "¹"), 2
    if kind == "minus":
        return "−" + _wrapped(node.parts[0], 1), 0
    left, right = node.parts
    if kind == "+":
        return f"{_wrapped(left, 0)} + {_wrapped(right, 1)}", 0
    if kind == "-":
        return f"{_wrapped(left, 0)} − {_wrapped(right, 1)}", 0
    if kind == "/":
        return f"{_wrapped(left, 1)}/{_wrapped(right, 2)}", 1
    first, second = _wrapped(left, 1), _wrapped(right, 2)
    tight = left.kind != "/" and not second[:1].isdigit() and not _long(left) and not _long(right)
    return f"{first}{'' if tight else '·'}{second}", 1


def _long(node: Node) -> bool:
    """Whether a piece ends or begins so that a factor beside it needs a sign."""
    last = node.parts[1] if node.kind == "*" else node
    return (
        any(each.value in ("A_tape", "A_cal") for each in node.walk())
        or (node.kind == "*" and node.parts[0].kind == "/")
        or (last.kind == "√" and not last.parts[0].parts)
    )


def _wrapped(node: Node, least: int) -> str:
    text, binds = _written(node)
    return text if binds >= least else f"({text})"
