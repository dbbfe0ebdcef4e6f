"""A million draws of a budget's three figures, against plain numbers of the same count."""

from __future__ import annotations

import time
from typing import Any

import numpy as np
import pytest

from mensura.estimates.budget import girth_budget

WHOLE: dict[str, Any] = {
    "resolution_cm": 1.0,
    "tilt_up_to_deg": 6.0,
    "hand_sd_cm": 0.3,
    "temperature_range_c": (5.0, 35.0),
    "material": "steel",
}


def plain(count: int) -> None:
    """The same inputs drawn at once, added, and the three figures' ends by sorting."""
    g = np.random.default_rng(1)
    told = 126.3 + g.uniform(-0.5, 0.5, count) + g.normal(0, 0.3, count)
    told *= 1 + 11.6e-6 * g.uniform(-15, 15, count)
    told /= 1 + np.radians(g.uniform(0, 6, count)) ** 2 / 4
    for figure in (told, told / np.pi, told**2 / 4 / np.pi):
        figure.mean(), figure.std(), np.quantile(figure, [0.025, 0.975])


def test_a_million_draws() -> None:
    """Printed: how long they take, and against plain numpy; held: not ten times as long as that."""
    for _ in range(3):
        took = []
        for work in (lambda: plain(1_000_000), lambda: girth_budget(126.3, **WHOLE)):
            start = time.perf_counter()
            work()
            took.append(time.perf_counter() - start)
        ratio = took[1] / took[0]
        print(f"\n1,000,000 draws of a budget: {took[1]:.2f} s, {ratio:.2f} times plain numpy")
        if ratio < 10:
            return
    pytest.fail(f"a million draws take {ratio:.1f} times as long as plain numpy")
