"""Rows of what a page shows of the problem bank: how answers are read, replied to, and told apart.

Nothing here judges an answer: that is asked of the bank itself.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from mensura.teaching.answers.answers import AnswerError, read_answer
from mensura.teaching.answers.reply import reply
from mensura.teaching.problems.draw import Problem
from mensura.teaching.problems.family import Given

#: One row of a table: name → value.
Row = dict[str, Any]

NOTHING = "(nothing)"


def read_all(texts: Sequence[str]) -> list[Row]:
    """Answers as people type them, and how each is read.

    texts: as typed. Rows: typed, read (number and unit), figures, half_step of the last place; or
    no number, and what is said instead.

    >>> [row["read"] for row in read_all(["2' 7\\"", "π/4"])]
    ['31 in', '']
    """
    rows: list[Row] = []
    for text in texts:
        row: Row = {"typed": text or NOTHING, "read": "", "figures": None, "half_step": ""}
        try:
            one = read_answer(text)
        except AnswerError as error:
            rows.append({**row, "said": str(error)})
            continue
        read = " ".join(part for part in (f"{one.value:.10g}", one.unit) if part)
        row |= {"read": read, "figures": one.digits, "half_step": f"{one.half_step:g}"}
        rows.append({**row, "said": " ".join(one.notes)})
    return rows


def replies(problem: Problem, texts: Sequence[str]) -> list[Row]:
    """What is said to answers of a problem.

    problem: with its numbers; texts: as typed. Rows: typed, said.

    >>> from mensura.teaching.problems.bank import problem as numbered
    >>> replies(numbered("girth-to-area", "Q07", "quillmere"), ["0.442 m2"])
    [{'typed': '0.442 m2', 'said': 'Right.'}]
    """
    return [{"typed": text or NOTHING, "said": reply(problem, text).message} for text in texts]


def gaps(problem: Problem) -> list[Row]:
    """How far answer and slips of a problem lie apart, each from the next larger one.

    problem: with its numbers. Rows: smaller, larger, and widths, how many times the intervals that
    count as the two of them fit between (None where only the number itself counts); above 1 they
    cannot be mistaken for each other.

    >>> from mensura.teaching.problems.bank import problem as numbered
    >>> min(row["widths"] for row in gaps(numbered("girth-to-area", "Q07", "quillmere"))) > 1
    True
    """
    marks = [("the right answer", problem.answer, problem.tolerance)]
    marks += [(slip.name, slip.value, slip.tolerance) for slip in problem.slips]
    marks.sort(key=lambda mark: mark[1])
    return [
        {
            "smaller": low,
            "larger": high,
            "widths": (b - a) / (first + second) if first + second else None,
        }
        for (low, a, first), (high, b, second) in pairwise(marks)
    ]


def doubts(problem: Problem) -> list[Row]:
    """What half the step of each given number that is not exact does to the answer.

    problem: with its numbers. Rows: moved, the name of the number that is moved; by, in its unit;
    answer, in the problem's; off_percent. The first row is the answer as it is given.

    >>> from mensura.teaching.problems.bank import problem as numbered
    >>> len(doubts(numbered("share-of-bark", "Q07", "quillmere")))
    5
    """
    given, answer = Given(problem.numbers), problem.answer
    rows: list[Row] = [{"moved": "nothing", "by": None, "answer": answer, "off_percent": 0.0}]
    for quantity in problem.family.given:
        for by in () if quantity.exact else (-quantity.step / 2, quantity.step / 2):
            moved = float(problem.family.answer(given.moved(quantity.name, by)))
            off = 100 * (moved / answer - 1)
            rows.append({"moved": quantity.name, "by": by, "answer": moved, "off_percent": off})
    return rows


@dataclass(frozen=True)
class Factor:
    """A quotient of two results that says what happened.

    factor: the one over the other; means: of what, and which slip.
    """

    factor: float
    means: str


#: Worth knowing by heart, the largest first.
FACTORS = (
    Factor(1e4, "an area: centimetres for metres"),
    Factor(1e2, "a length: centimetres for metres"),
    Factor(math.pi**2, "an area: girth taken for diameter (π²)"),
    Factor(2.54**2, "an area: inches for centimetres"),
    Factor(4.0, "an area: diameter taken for radius"),
    Factor(math.pi, "a length: girth for diameter; an area: π forgotten"),
    Factor(2.54, "a length: inches for centimetres"),
    Factor(4 / math.pi, "an area or a volume: true, over the quarter-girth rule (4/π)"),
)
