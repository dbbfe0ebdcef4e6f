"""What the proof's panel works out: both sides of an outline's lines, readings left to chance."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from mensura.checks import MeasureError
from mensura.stems import Ellipse
from mensura.teaching.proof import road
from mensura.views.proof.numbers import (
    FIXED,
    MOST_TERMS,
    OUTLINES,
    ProofShown,
    outline,
    scatters,
    squares_shown,
)

HALF_CM = st.floats(10, 40)
STEPS = {step.key: step for step in road("outline").steps}


def shown(name: str, terms: int = 12, turn_deg: float = 30.0) -> ProofShown:
    """The outline's road with one outline chosen."""
    return ProofShown(road("outline"), 1, 30.0, 24.0, turn_deg, name, terms)


def test_outlines_are_what_they_are_called() -> None:
    """A square of 40 cm; a Reuleaux triangle of 44 cm, whose area is (π − √3)/2 of its square."""
    assert outline(OUTLINES[1]).area_cm2 == pytest.approx(1600)
    triangle = outline(OUTLINES[2])
    assert triangle.area_cm2 == pytest.approx((math.pi - math.sqrt(3)) / 2 * 44**2, rel=1e-4)
    assert triangle.taut_girth_cm == pytest.approx(44 * math.pi, rel=1e-5)
    assert outline(OUTLINES[3]).area_cm2 == pytest.approx(math.pi * 30 * 20, rel=1e-4)
    assert outline(OUTLINES[4]).area_cm2 == pytest.approx(math.pi * 23**2, rel=1e-4)
    disc = outline(OUTLINES[0])
    assert "invented" in OUTLINES[0]
    assert disc.hull_area_cm2 > disc.area_cm2 + 5
    assert FIXED["outline"] in OUTLINES


@pytest.mark.parametrize("name", OUTLINES)
def test_lines_of_an_outline_hold(name: str) -> None:
    """What each line says is so of each outline; a sum that is broken off stays on its side."""
    one = shown(name)
    hull, true = (float(x) for x in (one.section.hull_area_cm2, one.section.area_cm2))
    for key, step in STEPS.items():
        sides = one.sides(STEPS[key])
        # a line has numbers here just where the road gives it numbers
        assert (sides is None) == (step.sides(30, 24) is None), key
        if sides is None:
            continue
        left, right = sides
        if key in ("outline-5", "outline-6", "outline-18"):
            continue
        constant = key in ("outline-16", "outline-17", "outline-19")
        if constant and name not in (OUTLINES[2], OUTLINES[4]):
            continue
        size = max(abs(left), abs(right), 1.0)
        if "≥" in step.line:
            assert left >= right - 1e-5 * size, key
        else:
            assert left == pytest.approx(right, rel=1e-5), key
    assert one.sides(STEPS["outline-12"]) == (
        pytest.approx(float(one.section.taut_girth_cm) ** 2 / 4 / math.pi),
        true,
    )
    assert one.sides(STEPS["outline-9"]) == (
        pytest.approx(float(one.section.taut_girth_cm) ** 2 / 4 / math.pi),
        hull,
    )


@pytest.mark.parametrize("name", OUTLINES)
def test_a_longer_sum_comes_nearer(name: str) -> None:
    """Both sides of the lines with a sum approach each other, from one side, ripple by ripple."""
    gaps = []
    for terms in (2, 5, 12, MOST_TERMS, 1000):
        left, right = shown(name, terms).sides(STEPS["outline-6"]) or (0, 0)
        gaps.append(left - right)
        area, series = shown(name, terms).sides(STEPS["outline-5"]) or (0, 0)
        assert series - area == pytest.approx(gaps[-1] / (4 * math.pi), abs=1e-6)
    assert gaps == sorted(gaps, reverse=True)
    assert gaps[-1] >= -1e-6
    # the circle is a polygon of 1440 sides, whose own ripples begin where this sum ends
    assert gaps[-1] < 0.01 * max(gaps[0], 10.0)


def test_constant_width_is_not_found_by_turning() -> None:
    """The triangle's width is the same in every direction; the square's is not."""
    widths = {
        name: [shown(name, turn_deg=t).sides(STEPS["outline-14"])[0] for t in range(0, 91, 15)]
        for name in OUTLINES[1:3]
    }
    assert max(widths[OUTLINES[2]]) - min(widths[OUTLINES[2]]) < 1e-3
    assert max(widths[OUTLINES[1]]) == pytest.approx(40 * math.sqrt(2))
    assert min(widths[OUTLINES[1]]) == pytest.approx(40)


@given(HALF_CM, HALF_CM)
def test_readings_left_to_chance(a: float, b: float) -> None:
    """One reading: mean (a − b)²/2ab, deviation |a² − b²|/(2√2 ab), by hand; the order of four."""
    one, two, product, tape = scatters(a, b)
    assert one.mean_percent == pytest.approx(100 * (a - b) ** 2 / (2 * a * b), abs=1e-9)
    spread = 100 * abs(a * a - b * b) / (2 * math.sqrt(2) * a * b)
    assert one.spread_percent == pytest.approx(spread, abs=1e-9)
    assert tape.spread_percent == 0
    eps = 1e-9
    assert one.mean_percent >= tape.mean_percent - eps
    assert one.mean_percent >= two.mean_percent - eps
    assert two.mean_percent >= product.mean_percent - eps
    assert tape.mean_percent >= product.mean_percent - eps


def test_means_of_two_by_quadrature() -> None:
    """The means over all directions against an adaptive integral of the readings themselves."""
    stem, true = Ellipse(72, 30), math.pi * 36 * 15

    def area(turn_deg: float, mean: str) -> float:
        first, second = float(stem.width_cm(turn_deg)), float(stem.width_cm(turn_deg + 90))
        middle = (first + second) ** 2 / 4 if mean == "arithmetic" else first * second
        return math.pi / 4 * middle

    _, two, product, _ = scatters(36, 15)
    for way, mean in ((two, "arithmetic"), (product, "geometric")):
        whole = quad(area, 0, 180, args=(mean,), limit=200)[0] / 180
        assert way.mean_percent == pytest.approx(100 * (whole / true - 1), rel=1e-7)
        square = quad(lambda t, m=mean: (area(t, m) / true - 1) ** 2, 0, 180, limit=200)[0] / 180
        expected = 100 * math.sqrt(square - (whole / true - 1) ** 2)
        assert way.spread_percent == pytest.approx(expected, rel=1e-6)


@given(HALF_CM, HALF_CM)
def test_both_bounds_hold_the_girth(a: float, b: float) -> None:
    """π(a + b) ≤ P ≤ 2π√((a² + b²)/2), with P from the exact integral."""
    one = squares_shown(a, b)
    girth = float(one.stem.taut_girth_cm)
    assert one.inner_cm <= girth * (1 + 1e-12)
    assert girth <= one.outer_cm * (1 + 1e-12)
    assert one.tape_cm2 == pytest.approx(one.outer_cm**2 / (4 * math.pi))
    assert one.calipers_cm2 == pytest.approx(float(one.stem.area_cm2))


def test_sides_are_the_road_s_own() -> None:
    """On the roads of the ellipse the numbers are the step's, at the turn that is set."""
    way = road("calipers")
    one = ProofShown(way, 1, 30.0, 24.0, 12.0, OUTLINES[0], 12)
    for step in way.steps:
        assert one.sides(step) == step.sides(30, 24, 12)
    way = road("classroom")
    one = ProofShown(way, 1, 30.0, 24.0, 12.0, OUTLINES[0], 12)
    for step in way.steps:
        assert one.sides(step) == step.sides(30, 24)
    with pytest.raises(MeasureError):
        ProofShown(way, 1, -1.0, 24.0, 0.0, OUTLINES[0], 12).sides(way.steps[0])


def test_the_body_between_the_jaws() -> None:
    """The outline on its own road, the oval stem on the others."""
    assert shown(OUTLINES[1]).body is shown(OUTLINES[1]).section
    body = ProofShown(road("calipers"), 1, 30.0, 24.0, 0.0, OUTLINES[1], 12).body
    assert np.allclose([body.width_cm(0), body.width_cm(90)], [60, 48])
