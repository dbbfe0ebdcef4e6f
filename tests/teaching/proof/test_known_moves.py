"""A count of moves by known rules: what weakens is never equivalent, what is false never stands.

The long count, with the worst time, is printed by tests/bench/test_bench_moves.py.
"""

from __future__ import annotations

import runpy
from collections import Counter
from functools import cache
from pathlib import Path

from mensura.teaching.proof.judge import judge
from mensura.teaching.proof.patience import deciding


@cache
def moves():
    """The moves, drawn by the first test that wants them: who collects tests needs none."""
    made = runpy.run_path(str(Path(__file__).with_name("known_moves.py")))["moves"]
    return tuple(made(280))


def told(one):
    """The verdict, by the limit of steps alone: test_deadline is about a machine that stalls."""
    with deciding(limit_s=60):
        return judge(one.line, one.after, one.assume)


def test_moves_are_of_every_kind():
    """Seventy of each, of many ways of making."""
    assert set(Counter(one.kind for one in moves()).values()) == {70}
    ways = Counter(one.made for one in moves() if one.kind == "move")
    assert len(ways) >= 7
    assert min(ways.values()) >= 2


def test_a_reversible_move_is_equivalent():
    """And what is done is named."""
    for one in moves():
        if one.kind == "move":
            found = told(one)
            assert found.verdict == "equivalent", (one, found.why)


def test_what_weakens_and_its_converse_are_never_equivalent():
    """A weakening does not lead back, and a converse does not follow."""
    for one in moves():
        if one.kind in ("weakening", "converse"):
            found = told(one)
            assert found.verdict not in ("equivalent", "false", "unreadable"), (one, found.why)
            wrong_way = found.forwards if one.kind == "converse" else found.backwards
            assert not (wrong_way and one.meets), (one, found.why)


def test_what_is_false_is_called_false():
    """With numbers."""
    for one in moves():
        if one.kind == "false":
            found = told(one)
            assert found.verdict == "false", (one, found.why)
            assert found.counterexample
