"""Prints what the study's own verdict finds in nine of ten practicals, plan by plan.

Run as `python tests/simulate_detectable.py` (some minutes on one core) and put the rows into
mensura/estimates/detectable_formula.py. Each seed is one class and names who is off and which way;
the least share at which the verdict finds that one is looked for by halving, between 0.2 % and
12 %; nine of ten of the seeds' least shares lie at or below the size that is printed.
"""

from __future__ import annotations

import sys

import numpy as np

from mensura.draws import uniforms
from mensura.estimates.balanced_class import balanced_class
from mensura.estimates.drawn_practical import Planted, PracticalClass
from mensura.estimates.hands import judge_hands

#: Hands, tapes, stems, repeats, and by how many per cent a hand lays a tape otherwise.
PLANS = (
    (6, 3, 12, 2, 0.3), (6, 3, 5, 2, 0.3), (6, 3, 24, 2, 0.3), (6, 3, 40, 2, 0.3),
    (6, 3, 12, 2, 0.8), (6, 3, 8, 2, 0.8), (6, 3, 24, 2, 0.8), (10, 3, 12, 2, 0.8),
    (4, 3, 12, 2, 0.3), (10, 3, 12, 2, 0.3), (6, 3, 12, 1, 0.3), (6, 3, 12, 4, 0.3),
)  # fmt: skip
LEAST, MOST, HALVINGS = 0.2, 12.0, 7


def found(plan: tuple[int, int, int, int, float], who: str, percent: float, seed: int) -> bool:
    """Whether the verdict finds one of `who` ("hand" or "tape") that is off by so much."""
    hands, tapes, stems, repeats, lay_percent = plan
    which, side = uniforms(2, "detectable formula", who, seed)
    code = f"Q{int(which * hands) + 1:02d}" if who == "hand" else f"T{int(which * tapes) + 1}"
    sign = 1.0 if side < 0.5 else -1.0
    readings = balanced_class(
        seed, (Planted(code, "girth", share_percent=sign * percent),), hand_count=hands,
        stem_count=stems, tape_count=tapes, repeats=repeats,
        of=PracticalClass(lay_percent=lay_percent),
    )  # fmt: skip
    verdict = "reads-high" if sign > 0 else "reads-low"
    judged = judge_hands(readings)
    return any(
        one.name == code and one.verdict == verdict for one in judged.hands + judged.instruments
    )


def least(plan: tuple[int, int, int, int, float], who: str, seed: int) -> float:
    """The least share that is found, by halving the ratio of the ends."""
    low, high = np.log(LEAST), np.log(MOST)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        if found(plan, who, float(np.exp(middle)), seed):
            high = middle
        else:
            low = middle
    return float(np.exp((low + high) / 2))


if __name__ == "__main__":
    draws = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    for plan in PLANS:
        sizes = [
            float(np.quantile([least(plan, who, seed) for seed in range(1, draws + 1)], 0.9))
            for who in ("hand", "tape")
        ]
        print((*plan, *(round(size, 2) for size in sizes)), flush=True)
