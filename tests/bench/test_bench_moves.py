"""Moves by known rules, counted by kind and verdict; the worst time is printed.

Two hundred as a rule; MENSURA_MOVES=3000 for as many as you have patience for.

What is told of a weakening or converse that is called equivalent is printed whole, to be looked at.
"""

from __future__ import annotations

import os
import runpy
import time
from collections import Counter
from pathlib import Path

from mensura.teaching.proof.judge import judge

PROOF = Path(__file__).resolve().parents[1] / "teaching" / "proof"
COUNT = int(os.environ.get("MENSURA_MOVES", "200"))


def test_moves_by_known_rules():
    """None that weakens is equivalent, none that is false stands, none that is true is false."""
    counted: Counter[tuple[str, str]] = Counter()
    times, odd = [], []
    for one in runpy.run_path(str(PROOF / "known_moves.py"))["moves"](COUNT, seed=61):
        start = time.process_time()
        found = judge(one.line, one.after, one.assume)
        times.append((time.process_time() - start, one.line, one.after))
        counted[one.kind, found.verdict] += 1
        if one.kind in ("weakening", "converse") and found.verdict == "equivalent":
            odd.append((one, found.why))
        if one.kind == "false":
            assert not found.stands, one
        else:
            assert found.verdict != "false", one
    for (kind, verdict), number in sorted(counted.items()):
        print(f"\n{kind:10} {verdict:11} {number:5}", end="")
    worst, line, after = max(times)
    print(f"\nworst {worst:.2f} s: {line} | after {after}")
    print(f"mean {sum(seconds for seconds, _, _ in times) / len(times):.3f} s")
    for one, why in odd:
        print(one, why)
    assert sum(counted.values()) == COUNT
    assert not odd
