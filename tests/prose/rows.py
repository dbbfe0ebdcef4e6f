"""What stands behind a figure: an expression, a source, data beside it, or a choice of the author.

A row names a piece of text, and for each figure in it what it rests on, in their order.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from prose.figures import NUMBER, Figure, Text, figures, sentence, value_of
from prose.quoted import QUOTED
from prose.tools import NAMES

from mensura.sources import SOURCES

#: What an author may choose, so that nothing can be worked out of it.
CHOICES = {
    "control": "the reader sets it on a control of the page, which draws what follows",
    "bench": "a size that the reader measures or makes on the bench or in the wood",
    "example": "data of an example, invented on the spot; nothing in the package holds them",
    "name": "a part of a name or a count that names: a standard, a line, a page of another work",
    "coefficient": "a whole number of a formula of the same text, named in words",
    "practice": "common practice, no source, and marked so where it stands",
}


@dataclass(frozen=True)
class Value:
    """A figure that an expression gives, to the digits typed or to so many of its figures.

    way: "is", or "at most" and "at least" for a bound that the figure is.
    """

    expression: str
    digits: int | None = None
    way: str = "is"


@dataclass(frozen=True)
class Quoted:
    """A figure as a source has it. key: of SOURCES; text: as declared in QUOTED."""

    key: str
    text: str


@dataclass(frozen=True)
class Given:
    """A figure that repeats data: of the code beside it, or of the question's own statement."""


@dataclass(frozen=True)
class Used:
    """A figure that another expression of the same row takes as it is."""


@dataclass(frozen=True)
class Shown:
    """A figure that the page prints too. line: a piece of what it prints, with the number in it."""

    line: str


@dataclass(frozen=True)
class Chosen:
    """A figure that an author chose. kind: of CHOICES."""

    kind: str


Behind = str | Value | Quoted | Given | Used | Shown | Chosen


@dataclass(frozen=True)
class Row:
    """A piece of text and what stands behind each of its figures."""

    context: str
    behind: tuple[Behind, ...]


def row(context: str, *behind: Behind) -> Row:
    """A piece of text and what stands behind each of its figures; a string is an expression."""
    return Row(" ".join(context.split()), behind)


def rounded(expression: str, digits: int) -> Value:
    """The figure is a value, rounded to so many figures."""
    return Value(expression, digits)


def at_most(expression: str) -> Value:
    """The figure is a bound from above: the value is not above it, nor less than half of it."""
    return Value(expression, None, "at most")


def at_least(expression: str) -> Value:
    """The figure is a bound from below: the value is not below it, nor more than twice of it."""
    return Value(expression, None, "at least")


quoted, given, used, shown, chosen = Quoted, Given(), Used(), Shown, Chosen


def _wanted(one: Value | str) -> Value:
    return Value(one) if isinstance(one, str) else one


def worked_out(expression: str) -> float:
    """The value of an expression in the names of :mod:`prose.tools`."""
    return float(eval(expression, dict(NAMES)))


def _numbers(code: str) -> set[float]:
    typed = re.findall(r"(?<![\w.])\d[\d_]*(?:\.\d+)?", code)
    return {float(one.replace("_", "")) for one in typed}


def fault_of(figure: Figure, behind: Behind, text: Text, whole: Row, page: str) -> str | None:
    """What is wrong with a figure by what stands behind it; None if it is right.

    page: what the page prints.
    """
    size = abs(figure.value)
    if isinstance(behind, str | Value):
        wanted = _wanted(behind)
        try:
            value = worked_out(wanted.expression)
        except Exception as reason:
            return f"{wanted.expression} fails: {reason!r}"
        compared = value if figure.signed else abs(value)
        typed = figure.value if figure.signed else size
        if wanted.way == "at most":
            right = typed / 2 <= compared <= typed
        elif wanted.way == "at least":
            right = typed <= compared <= 2 * typed
        elif wanted.digits is not None:
            places = wanted.digits - 1 - math.floor(math.log10(abs(compared) or 1))
            right = math.isclose(round(compared, places), typed, abs_tol=1e-9)
        else:
            right = abs(compared - typed) <= figure.step / 2 * (1 + 1e-6)
        return None if right else f"{wanted.expression} is {value:.6g}, not {figure.shown}"
    if isinstance(behind, Quoted):
        if behind.key not in SOURCES:
            return f"there is no source {behind.key}"
        if behind.text not in QUOTED.get(behind.key, {}):
            return f"{behind.text!r} is not among what is quoted from {behind.key} (quoted.py)"
        told = [value_of(n["digits"]) for n in NUMBER.finditer(behind.text)]
        return None if size in told else f"{behind.key} has {behind.text}, not {figure.shown}"
    if isinstance(behind, Given):
        typed = {abs(one.value) for one in figures(text.statement)}
        data = _numbers(text.beside) | typed
        near = any(math.isclose(size, factor * one) for one in data for factor in (1, 10, 100))
        return None if near else f"{figure.shown} is not among the data beside it"
    if isinstance(behind, Used):
        code = " ".join(_wanted(b).expression for b in whole.behind if isinstance(b, str | Value))
        return None if size in _numbers(code) else f"{figure.shown} is used in no expression"
    if isinstance(behind, Shown):
        line = " ".join(behind.line.split())
        if line not in page:
            return f"the page does not print {line!r}"
        told = [value_of(n["digits"]) for n in NUMBER.finditer(line)]
        near = any(abs(one - size) <= figure.step / 2 * (1 + 1e-6) for one in told)
        return None if near else f"{figure.shown} is not printed in {line!r}"
    return None if behind.kind in CHOICES else f"{behind.kind!r} is none of {', '.join(CHOICES)}"


def covered(
    texts: Sequence[Text], rows: Sequence[Row]
) -> Iterator[tuple[Text, Row, Figure, Behind]]:
    """Each figure that a row speaks of, with its text, its row and what stands behind it."""
    for text in texts:
        for one in rows:
            for inside in _met(text, one):
                if len(inside) == len(one.behind):
                    for figure, behind in zip(inside, one.behind, strict=True):
                        yield text, one, figure, behind


def _met(text: Text, one: Row) -> Iterator[list[Figure]]:
    """The figures of each place in a text that a row speaks of."""
    pattern = r"\s+".join(re.escape(part) for part in one.context.split())
    for found in re.finditer(pattern, text.words):
        start, end = found.span()
        inside = [f for f in figures(text.words) if start <= f.start and f.end <= end]
        if inside:
            yield inside


def judged(texts: Sequence[Text], rows: Sequence[Row], page: str = "") -> list[str]:
    """All that is wrong: figures without a row, rows without their text, and wrong figures."""
    wrong = []
    held: set[tuple[int, int]] = set()
    met: set[Row] = set()
    for text, one, figure, behind in covered(texts, rows):
        held.add((id(text), figure.start))
        met.add(one)
        fault = fault_of(figure, behind, text, one, page)
        if fault:
            wrong.append(f"{text.where}: {one.context!r}: {fault}")
    for one in (r for r in rows if r not in met):
        inside = next((i for text in texts for i in _met(text, one)), None)
        told = ", ".join(f.shown for f in inside) if inside else ""
        wrong.append(
            f"{one.context!r} has the figures {told}: a reason for each"
            if told
            else f"no text has the figures of {one.context!r}"
        )
    return wrong + [
        f"{text.where}: no row for {f.shown} in: {sentence(text.words, f)}\n"
        f"    {skeleton(text.words, f)}"
        for text in texts
        for f in figures(text.words)
        if (id(text), f.start) not in held
    ]


def skeleton(words: str, figure: Figure) -> str:
    """A row to fill in for one figure: a few words on both sides of it."""
    left = words[: figure.start].rsplit("\n", 1)[-1].split(" ")[-4:]
    right = words[figure.end :].split("\n", 1)[0].split(" ")[:3]
    context = " ".join(left) + words[figure.start : figure.end] + " ".join(right)
    while (there := figures(context)) and len(there) > 1:
        if there[0].shown != figure.shown:
            context = context[there[0].end :].strip()
        else:
            context = context[: there[1].start].strip()
    return f'row({context.strip()!r}, "…"),'


__all__ = [
    "CHOICES",
    "Chosen",
    "Row",
    "at_least",
    "at_most",
    "chosen",
    "covered",
    "fault_of",
    "given",
    "judged",
    "quoted",
    "rounded",
    "row",
    "shown",
    "used",
]
