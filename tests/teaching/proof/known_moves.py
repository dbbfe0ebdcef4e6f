"""Moves from line to line by known rules, so many of each, for a count of what the judge says.

Reversible moves keep the meaning; weakenings give the greater side something positive, take it from
the lesser, or double the greater; converses go back from the weaker line to the stronger; false
lines turn the sign or claim too much. The draws are seeded, and nothing here asks the judge. Each
line is checked by plain numbers where it is made, so that what is called true or false is so.
"""

from __future__ import annotations

import random
import runpy
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

import sympy as sp

REWRITES = runpy.run_path(str(Path(__file__).with_name("rewrites.py")))
Base, spelt, writable = REWRITES["Base"], REWRITES["spelt"], REWRITES["writable"]
a, b, AREAS, LENGTHS = (REWRITES[name] for name in ("a", "b", "AREAS", "LENGTHS"))

#: Beside the proof's own lines, lines that hold for equal lengths too.
LOOSE = (
    Base(a**2 + b**2, a * b, AREAS),
    Base(2 * a**2 + b**2, a * b, AREAS),
    Base((a + b) ** 2, 2 * a * b, AREAS),
    Base(a + b, sp.sqrt(a * b), LENGTHS),
    Base(2 * (a + b), sp.sqrt(a**2 + b**2), LENGTHS),
    Base(sp.sqrt(a**2 + b**2), a / 2, LENGTHS),
    Base(a**2 + b**2, sp.Integer(0), AREAS),
    Base(a**3 + b**3, a * b**2 / 2, (a**3, a * b**2 / 2, 5 * b**3)),
)
BASES = (*REWRITES["BASES"], *LOOSE)
FACTORS = (*REWRITES["CONSTANTS"], *REWRITES["MONOMIALS"], a + b, 1 / (a + b))


class Move(NamedTuple):
    """A line after another, of what kind it is (move, weakening, converse, false), how made.

    meets: whether the stronger line's sides meet where a = b. Lines that hold for equal lengths too
    may each follow from the other, with another remainder.
    """

    kind: str
    after: str
    line: str
    made: str
    assume: tuple[str, ...]
    meets: bool


def moves(count: int, seed: int = 60) -> Iterator[Move]:
    """So many, of the four kinds in turn, the same in each run."""
    rng = random.Random(seed)
    makers = (("move", _move), ("weakening", _weaker), ("converse", _weaker), ("false", _false))
    made = 0
    while made < count:
        kind, maker = makers[made % 4]
        base = rng.choice(BASES)
        pair, how = maker(base, rng)
        if not writable(*pair) or _holds(pair, base.assume) is (kind == "false"):
            continue
        after = spelt(base.greater, base.lesser, rng)
        line = spelt(*pair, rng)
        if kind == "converse":
            after, line = line, after
        made += 1
        yield Move(kind, after, line, how, base.assume, base not in LOOSE)


def _move(base: Any, rng: random.Random) -> tuple[tuple[Any, Any], str]:
    """One reversible move: regrouped, times what has a name, squared, root, reciprocal."""
    pair = (base.greater, base.lesser)
    plain = base.lesser != 0
    ways = ["added", "times", "moved", "turned"]
    rooted = any(side.has(sp.S.Half) for side in pair)
    ways += ["squared", "reciprocal", "alike"] * plain + ["rooted"] * (plain and not rooted)
    way = rng.choice(ways)
    if way == "added":
        term = rng.choice(base.alike) * rng.choice([1, -1])
        pair = (pair[0] + term, pair[1] + term)
    elif way in ("times", "alike"):
        factor = rng.choice(FACTORS if way == "times" else (*REWRITES["OTHERS"], *base.alike))
        pair = (sp.expand(pair[0] * factor), sp.expand(pair[1] * factor))
    elif way == "moved":
        pair = (sp.expand(pair[0] - pair[1]), sp.Integer(0))
    elif way == "turned":
        pair = (-pair[1], -pair[0])
    elif way == "squared":
        pair = (sp.expand(pair[0] ** 2), sp.expand(pair[1] ** 2))
    elif way == "rooted":
        pair = (sp.sqrt(pair[0]), sp.sqrt(pair[1]))
    else:
        pair = (1 / pair[1], 1 / pair[0])
    return pair, way


def _weaker(base: Any, rng: random.Random) -> tuple[tuple[Any, Any], str]:
    """The greater side made greater, or the lesser less; then perhaps times something."""
    pair = (base.greater, base.lesser)
    way = rng.choice(["given", "given", "doubled", "taken"])
    term = rng.choice(base.alike) * rng.choice([1, 2, sp.S.Half])
    if way == "given" or (way == "doubled" and base.lesser == 0):
        pair = (pair[0] + term, pair[1])
        way = f"{term} given"
    elif way == "doubled":
        pair = (2 * pair[0], pair[1])
    else:
        pair = (pair[0], pair[1] / 2 if pair[1] != 0 else -term)
        way = "taken from the lesser"
    if rng.random() < 0.4:
        factor = rng.choice(FACTORS)
        pair = (sp.expand(pair[0] * factor), sp.expand(pair[1] * factor))
        way += f", times {factor}"
    return pair, way


def _false(base: Any, rng: random.Random) -> tuple[tuple[Any, Any], str]:
    if rng.random() < 0.5:
        pair, way = _move(base, rng)
        return pair[::-1], f"{way}, sign turned round"
    term = rng.choice(base.alike)
    return (base.greater, base.lesser + term), f"{term} claimed too much"


def _holds(pair: tuple[Any, Any], assume: tuple[str, ...]) -> bool:
    """Whether the greater side is above for sixty pairs of axes, near each other and far apart."""
    areas = {
        REWRITES["TAPE"]: sp.pi * (a**2 + b**2) / 2,
        REWRITES["CAL"]: sp.pi * a * b,
    }
    gap = sp.lambdify((a, b), (pair[0] - pair[1]).subs(areas), "mpmath")
    rng = random.Random(7)
    for step in range(60):
        least = rng.uniform(0.05, 40)
        most = least * (1 + rng.choice([1e-4, 0.01, 0.3, 2, 30]))
        longer = "a > b" in assume or ("b > a" not in assume and step % 2 == 0)
        if gap(*((most, least) if longer else (least, most))) <= 0:
            return False
    return True
