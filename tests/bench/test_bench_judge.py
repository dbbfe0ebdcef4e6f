"""How long a verdict takes in a warm process, beside a fixed piece of algebra.

Median and worst are printed and not held, since they belong to the machine; their ratio to the
same algebra on the same machine says whether the judge became slower.
"""

from __future__ import annotations

import runpy
import statistics
import time
from pathlib import Path

import sympy as sp

from mensura.teaching.proof.judge import judge

PROOF = Path(__file__).resolve().parents[1] / "teaching" / "proof"


def fixed_algebra() -> float:
    """Seconds for one factoring, in other letters each time so that no cache answers."""
    times = []
    for k in range(9):
        x, y = sp.symbols(f"x{k} y{k}", positive=True)
        start = time.perf_counter()
        sp.factor(sp.expand((x - y) ** 2 * (x + y) ** 3 * (x + 2 * y)))
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def test_verdicts_in_a_warm_process():
    """Each of the sixty-six lines and all rewrites gets a verdict; its time is printed."""
    lines = runpy.run_path(str(PROOF / "student_lines.py"))["LINES"]
    made = runpy.run_path(str(PROOF / "rewrites.py"))
    cases = [(one.line, one.after, one.assume) for one in lines]
    for kind, count in (("equivalents", 60), ("weaker", 20), ("stronger", 20), ("false", 20)):
        cases += [(one.line, one.after, one.assume) for one in made[kind](count)]
    judge("b² + a² > 2ab", after="(b - a)² > 0")
    algebra = fixed_algebra()
    times = []
    for line, after, assume in cases:
        start = time.perf_counter()
        judge(line, after=after, assume=assume)
        times.append((time.perf_counter() - start, line, after))
    median = statistics.median(seconds for seconds, _, _ in times)
    worst, line, after = max(times)
    print(f"\n{len(times)} verdicts: median {median * 1e3:.0f} ms (goal below 500), worst")
    print(f"{worst * 1e3:.0f} ms (goal below 2000): {line} | after {after}")
    print(f"beside one factoring of {algebra * 1e3:.1f} ms: {median / algebra:.1f} and")
    print(f"{worst / algebra:.1f} times as long")
    assert len(times) == 66 + 60 + 3 * 20
