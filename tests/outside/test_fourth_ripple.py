"""The rule of 22.5° and 30° hangs on the fourth ripple: by Fourier's series and by brute force.

h = c₀ + r₂ cos 2φ + r₄ cos 4φ: half the mean of two widths at right angles is c₀ + r₄ cos 4θ, so
that r₂ drops out; their product is (c₀ + r₄ cos 4θ)² − r₂² cos² 2θ, times 4. The brute force asks
only for points of an edge, shapely for area and hull, and NumPy for the reach of the points.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
import shapely
from scipy.integrate import quad

POINTS = 12_000
A, B = 30.0, 24.0


def edge(a: float, b: float, ripple: float) -> np.ndarray:
    """Points of the curve whose supporting lines are the ellipse's, moved out by r cos 4φ."""
    turn = np.linspace(0, 2 * np.pi, POINTS, endpoint=False)
    h = np.hypot(a * np.cos(turn), b * np.sin(turn))
    slope = (b * b - a * a) * np.sin(turn) * np.cos(turn) / h - 4 * ripple * np.sin(4 * turn)
    h = h + ripple * np.cos(4 * turn)
    toward = np.stack([np.cos(turn), np.sin(turn)])
    onward = np.stack([-np.sin(turn), np.cos(turn)])
    return (h * toward + slope * onward).T


def errors_percent(points: np.ndarray, turn_deg: Any) -> tuple[Any, Any, Any]:
    """Tape, arithmetic mean and product of two widths, from nothing but the points."""
    wood = shapely.Polygon(points)
    tape = shapely.convex_hull(wood).length ** 2 / (4 * math.pi)
    first, second = (
        np.ptp(points @ np.array([np.cos(turn), np.sin(turn)]), axis=0)
        for turn in (np.radians(turn_deg), np.radians(turn_deg) + math.pi / 2)
    )
    claims = tape, math.pi / 4 * ((first + second) / 2) ** 2, math.pi / 4 * first * second
    tape, mean, product = (100 * (claim / wood.area - 1) for claim in claims)
    return tape, mean, product


def own_ripple(n: int, a: float = A, b: float = B) -> float:
    """Ripple n of the ellipse's reach, by an adaptive integral over a quarter turn."""
    whole = quad(
        lambda t: math.hypot(a * math.cos(t), b * math.sin(t)) * math.cos(n * t), 0, math.pi / 2
    )
    return (2 if n == 0 else 4) * whole[0] / math.pi


OWN = own_ripple(4)


def test_an_ellipse_of_60_by_48_cm_has_a_fourth_ripple_of_less_than_a_millimetre() -> None:
    """0.8 mm, below 0: taken away it is 0, twice as much turns its sign round: 1.7 mm."""
    assert pytest.approx(-0.0831, abs=5e-5) == OWN
    assert round(-10 * OWN, 1) == 0.8
    assert round(-20 * OWN, 1) == 1.7
    c0, r2 = own_ripple(0), own_ripple(2)
    assert -((A - B) ** 2) / (16 * c0) == pytest.approx(OWN, rel=0.01)
    assert r2 == pytest.approx((A - B) / 2, rel=0.01)


@pytest.mark.parametrize("ripple", [0.0, -OWN, -2 * OWN, 0.3, -0.3])
@pytest.mark.parametrize("turn", [0.0, 10.0, 22.5, 37.0, 45.0])
def test_two_widths_by_the_series_and_by_force(ripple: float, turn: float) -> None:
    """Mean and product of two widths, and the girth, as the series says, with ripples up to 8."""
    points = edge(A, B, ripple)
    theta = math.radians(turn)
    c0 = own_ripple(0)
    r2, r4, r6, r8 = (own_ripple(n) + (ripple if n == 4 else 0) for n in (2, 4, 6, 8))
    middle = c0 + r4 * math.cos(4 * theta) + r8 * math.cos(8 * theta)
    apart = r2 * math.cos(2 * theta) + r6 * math.cos(6 * theta)
    tape, mean, product = errors_percent(points, turn)
    true = shapely.Polygon(points).area
    assert tape == pytest.approx(100 * (math.pi * c0**2 / true - 1), abs=2e-4)
    assert mean == pytest.approx(100 * (math.pi * middle**2 / true - 1), abs=2e-3)
    assert product == pytest.approx(100 * (math.pi * (middle**2 - apart**2) / true - 1), abs=2e-3)


def test_the_ellipse_s_rule_by_force() -> None:
    """Nearer than the tape up to 22.4° for the mean, up to 29.9° for the product."""
    points = edge(A, B, 0.0)
    for turn, mean_nearer, product_nearer in (
        (22.3, 1, 1),
        (22.6, 0, 1),
        (29.8, 0, 1),
        (30.1, 0, 0),
    ):
        tape, mean, product = errors_percent(points, turn)
        assert (mean < tape, product < tape) == (mean_nearer, product_nearer)


def test_without_the_ripple_the_mean_claims_what_the_tape_does() -> None:
    """0.8 mm on the axes: mean and tape within 0.005 % at every turn, product nearer below 45°."""
    points = edge(A, B, -OWN)
    for turn in (0, 10, 20, 30, 40, 44):
        tape, mean, product = errors_percent(points, turn)
        assert mean == pytest.approx(tape, abs=0.005)
        assert product < tape
        assert tape == pytest.approx(1.87, abs=0.01)


def test_with_twice_the_ripple_the_rule_is_upside_down() -> None:
    """1.7 mm: on the axes the mean errs more than the tape, at 45° less; the product never more."""
    points = edge(A, B, -2 * OWN)
    tape, mean, product = errors_percent(points, 0)
    assert (round(tape, 2), round(mean, 2), round(product, 2)) == (1.88, 2.5, 1.25)
    tape, mean, product = errors_percent(points, 45)
    assert (round(tape, 2), round(mean, 2), round(product, 2)) == (1.88, 1.25, 1.25)
    for turn in range(0, 46, 5):
        tape, mean, product = errors_percent(points, turn)
        assert product < tape
        assert (mean < tape) == (turn > 22.5)


@pytest.mark.parametrize("ratio", [0.95, 0.9, 0.8, 0.7])
def test_product_of_a_pair_whose_direction_is_left_to_chance(ratio: float) -> None:
    """Two thirds of the tape's error on the mean, nearer in two directions of three."""
    points = edge(30, 30 * ratio, 0.0)
    tape, mean, product = errors_percent(points, np.arange(0, 90, 0.5))
    assert product.mean() / tape == pytest.approx(2 / 3, abs=0.01)
    assert (product < tape).mean() == pytest.approx(2 / 3, abs=0.01)
    # the arithmetic mean has the tape's error on the mean, and is nearer in half the directions
    assert mean.mean() / tape == pytest.approx(1, abs=0.01)
    assert (mean < tape).mean() == pytest.approx(0.5, abs=0.01)
