"""Longest and shortest width: against every pair of corners, a fine turn, and shapes by hand."""

from __future__ import annotations

import time

import numpy as np
import pytest

from mensura.stems import Ellipse, Outline, reuleaux
from mensura.stems.end_widths import HullWidths, end_widths


def _scribble(seed: int) -> Outline:
    """A star of corners at random radii, off the origin."""
    draws = np.random.default_rng(seed)
    turn = np.linspace(0, 2 * np.pi, 60, endpoint=False)
    radii = draws.uniform(8, 24, turn.size)
    return Outline(np.column_stack([300 + radii * np.cos(turn), radii * np.sin(turn) - 70]))


@pytest.mark.parametrize("seed", range(8))
def test_the_longest_is_the_farthest_pair_and_nothing_is_shorter_than_the_shortest(
    seed: int,
) -> None:
    """Every corner against every other; every direction by hundredths of a degree."""
    outline = _scribble(seed)
    ends = end_widths(outline)
    points = np.asarray(outline.points_cm)
    apart = np.hypot(*(points[:, None] - points[None]).transpose(2, 0, 1))
    assert ends.longest_cm == pytest.approx(apart.max(), rel=1e-12)
    turns = np.arange(0, 180, 0.01)
    widths = np.asarray(outline.width_cm(turns))
    assert widths.max() <= ends.longest_cm + 1e-9
    assert 0 <= widths.min() - ends.shortest_cm < 0.01
    assert float(outline.width_cm(ends.longest_deg)) == pytest.approx(ends.longest_cm, rel=1e-12)
    assert float(outline.width_cm(ends.shortest_deg)) == pytest.approx(ends.shortest_cm, rel=1e-12)


@pytest.mark.parametrize("seed", range(3))
def test_widths_are_those_of_the_outline(seed: int) -> None:
    """The sorted search finds what trying all corners finds, turned by any number of turns."""
    outline = _scribble(seed)
    turns = np.random.default_rng(seed).uniform(-720, 720, (50, 4))
    found = HullWidths(outline).widths_cm(turns)
    assert found.shape == turns.shape
    np.testing.assert_allclose(found, outline.width_cm(turns), rtol=1e-12)


def test_shapes_by_hand() -> None:
    """An ellipse's axes; a Reuleaux triangle's one width; a triangle's side and height."""
    oval = end_widths(Outline(Ellipse(60, 48).outline_cm()))
    assert (oval.longest_cm, oval.shortest_cm) == pytest.approx((60, 48), rel=1e-5)
    shape = end_widths(reuleaux(40))
    assert (shape.longest_cm, shape.shortest_cm) == pytest.approx((40, 40), rel=1e-5)
    triangle = end_widths(Outline([[0, 0], [3, 0], [0, 4]]))
    assert (triangle.longest_cm, triangle.shortest_cm) == pytest.approx((5, 12 / 5))


def test_directions_lie_in_the_half_turn() -> None:
    for seed in range(8):
        ends = end_widths(_scribble(seed))
        assert 0 <= ends.longest_deg < 180
        assert 0 <= ends.shortest_deg < 180
    flat = end_widths(Outline([[0, 0], [40, 0], [20, 1e-9 + 5]]))
    assert flat.longest_deg == pytest.approx(0)


def test_the_largest_outline_takes_a_moment() -> None:
    """Fifty thousand corners, all on the hull."""
    turn = np.linspace(0, 2 * np.pi, 50_000, endpoint=False)
    outline = Outline(np.column_stack([30 * np.cos(turn), 24 * np.sin(turn)]))
    start = time.perf_counter()
    ends = end_widths(outline)
    assert time.perf_counter() - start < 2
    assert (ends.longest_cm, ends.shortest_cm) == pytest.approx((60, 48), rel=1e-8)
