"""Calipers' spreads come back from drawn practicals, whatever way hands stood to the stems."""

from __future__ import annotations

import numpy as np
import pytest

from mensura.checks import MeasureError
from mensura.estimates.oval_spreads import oval_spreads

SPREAD_CM, APART_CM, STEP_CM = (0.25, 0.15, 0.35), 0.3, 0.1
PRACTICALS = 60


def drawn(rng: np.random.Generator, from_mark: bool) -> tuple[np.ndarray, ...]:
    """Seven hands, twenty oval stems, three pairs of calipers, each cell at θ and θ + 90°."""
    stem, hand = np.divmod(np.flatnonzero(rng.random(140) > 0.25), 7)
    tool = rng.permutation(np.arange(stem.size) % 3)
    start = np.where(from_mark | (hand % 2 == 0), 0, rng.integers(0, 90, stem.size))
    size, long = np.linspace(20, 62, 20), rng.uniform(0, 0.06, 20)
    axis, apart = rng.uniform(0, np.pi, 20), rng.normal(0, APART_CM, stem.size)
    stem, hand, tool, apart = (np.repeat(one, 2) for one in (stem, hand, tool, apart))
    turn = np.repeat(start, 2) + np.tile([0.0, 90.0], stem.size // 2)
    ripple = 1 + long[stem] / 2 * np.cos(2 * (np.radians(turn) - axis[stem]))
    spread = rng.normal(0, np.array(SPREAD_CM)[tool])
    cm = size[stem] * ripple + apart + spread
    return stem, hand, tool, turn, np.round(cm / STEP_CM) * STEP_CM


@pytest.mark.parametrize("from_mark", [True, False])
def test_known_spreads_come_back_within_5_percent(from_mark: bool) -> None:
    rng = np.random.default_rng(16)
    found = [oval_spreads(*drawn(rng, from_mark)) for _ in range(PRACTICALS)]
    again = np.sqrt(np.mean([one.repeatability_cm**2 for one in found], axis=0))
    rounded = np.hypot(SPREAD_CM, STEP_CM / np.sqrt(12))
    assert np.sqrt(np.mean(again**2)) == pytest.approx(np.sqrt(np.mean(rounded**2)), rel=0.05)
    assert again == pytest.approx(rounded, rel=0.08)
    apart = np.sqrt(np.mean([one.between_hands_cm**2 for one in found]))
    assert apart == pytest.approx(APART_CM, rel=0.08)


def test_against_dense_projections() -> None:
    """Every matrix written out: all squares have the mean that the two variances give them."""
    rng = np.random.default_rng(3)
    stem, hand, tool, turn, cm = drawn(rng, False)
    found = oval_spreads(stem, hand, tool, turn, cm)
    cell, level = (stem * 7 + hand) * 3 + tool, stem * 3 + tool

    def dummies(groups: np.ndarray) -> np.ndarray:
        return (groups[:, None] == np.unique(groups)).astype(float)

    angle = np.radians(2 * turn)[:, None]
    oval = np.hstack([np.cos(angle) * dummies(stem), np.sin(angle) * dummies(stem)])
    inner, outer = (
        np.eye(cm.size) - design @ np.linalg.pinv(design)
        for design in (np.hstack([dummies(one), oval]) for one in (cell, level))
    )
    of_tool = dummies(tool)
    within = np.linalg.solve(of_tool.T @ inner**2 @ of_tool, of_tool.T @ (inner @ cm) ** 2)
    assert found.repeatability_cm == pytest.approx(np.sqrt(within))
    assert found.freedom == pytest.approx(of_tool.T @ np.diag(inner))
    cells = dummies(cell)
    whose = (cells.T @ of_tool > 0).astype(float)
    left = of_tool.T @ ((outer @ cm) ** 2 - outer**2 @ of_tool @ within)
    between = np.linalg.solve(of_tool.T @ (outer @ cells) ** 2 @ whose, left)
    assert found.between_hands_cm == pytest.approx(np.sqrt(np.maximum(between, 0)))


def test_what_nothing_tells_is_nan() -> None:
    """One reading a cell: no repeats; one hand: nobody beside it."""
    alone = oval_spreads([0, 0, 1], [0, 1, 0], [0, 0, 0], [0, 90, 0], [40.0, 41.0, 50.0])
    assert np.isnan(alone.repeatability_cm[0])
    one = oval_spreads([0] * 3, [0] * 3, [0] * 3, [0, 0, 90], [40.0, 40.2, 43.0])
    assert one.repeatability_cm[0] == pytest.approx(0.02**0.5)
    assert np.isnan(one.between_hands_cm[0])
    with pytest.raises(MeasureError):
        oval_spreads([0, 0], [0, 0], [0, 0], [0.0], [40.0, 41.0])
