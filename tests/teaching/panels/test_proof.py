"""What the proof's panel works out: both sides of each line, of the outline that is chosen."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.teaching.panels.proof import (
    CIRCLE,
    CONSTANT_WIDTH,
    DISC,
    ELLIPSE,
    FIXED,
    MOST_TERMS,
    OUTLINES,
    SQUARE,
    ProofShown,
    numbers,
    outline_named,
    squares_shown,
)
from mensura.teaching.proof import ProofError, road

HALF_CM = st.floats(10, 40)
STEPS = {step.key: step for step in road("outline").steps}


def shown(name: str, terms: int = 12, turn_deg: float = 30.0) -> ProofShown:
    """The outline's road with one outline chosen."""
    return ProofShown(road("outline"), 1, 30.0, 24.0, turn_deg, name, terms)


def test_outlines_are_what_they_are_called() -> None:
    """A square of 40 cm; a Reuleaux triangle of 44 cm, whose area is (π − √3)/2 of its square."""
    assert outline_named(SQUARE).area_cm2 == pytest.approx(1600)
    triangle = outline_named(CONSTANT_WIDTH)
    assert triangle.area_cm2 == pytest.approx((math.pi - math.sqrt(3)) / 2 * 44**2, rel=1e-4)
    assert triangle.taut_girth_cm == pytest.approx(44 * math.pi, rel=1e-5)
    assert outline_named(ELLIPSE).area_cm2 == pytest.approx(math.pi * 30 * 20, rel=1e-4)
    assert outline_named(CIRCLE).area_cm2 == pytest.approx(math.pi * 23**2, rel=1e-4)
    disc = outline_named(DISC)
    assert "invented" in DISC
    assert disc.hull_area_cm2 > disc.area_cm2 + 5
    assert FIXED["outline"] in OUTLINES


def test_an_outline_of_another_name_is_refused() -> None:
    """No name falls back to some outline."""
    for name in ("a star", "", "A square"):
        with pytest.raises(MeasureError, match="expected one of: disc 07"):
            outline_named(name)


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
        if step.constant_width and name not in (CONSTANT_WIDTH, CIRCLE):
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
        for name in (SQUARE, CONSTANT_WIDTH)
    }
    assert max(widths[CONSTANT_WIDTH]) - min(widths[CONSTANT_WIDTH]) < 1e-3
    assert max(widths[SQUARE]) == pytest.approx(40 * math.sqrt(2))
    assert min(widths[SQUARE]) == pytest.approx(40)


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
    one = ProofShown(way, 1, 30.0, 24.0, 12.0, DISC, 12)
    for step in way.steps:
        assert one.sides(step) == step.sides(30, 24, 12)
    way = road("classroom")
    one = ProofShown(way, 1, 30.0, 24.0, 12.0, DISC, 12)
    for step in way.steps:
        assert one.sides(step) == step.sides(30, 24)
    with pytest.raises(MeasureError):
        ProofShown(way, 1, -1.0, 24.0, 0.0, DISC, 12).sides(way.steps[0])


def test_the_body_between_the_jaws() -> None:
    """The outline on its own road, the oval stem on the others."""
    assert shown(SQUARE).body is shown(SQUARE).section
    body = ProofShown(road("calipers"), 1, 30.0, 24.0, 0.0, SQUARE, 12).body
    assert np.allclose([body.width_cm(0), body.width_cm(90)], [60, 48])


def test_a_line_put_in_moves_no_numbers() -> None:
    """In a copy of the road with a line more, renumbered, each line has the numbers it had."""
    way = road("outline")
    for place in (1, 4, 12, 17):
        more = replace(way.steps[place], line="put in", numbers=None, outlined=None)
        lines = (*way.steps[:place], more, *way.steps[place:])
        steps = tuple(replace(one, key=f"outline-{n}") for n, one in enumerate(lines, 1))
        longer = replace(way, steps=steps)
        before = {one.line: shown(SQUARE).sides(one) for one in way.steps}
        one = replace(shown(SQUARE), road=longer)
        after = {step.line: one.sides(step) for step in longer.steps}
        assert after.pop("put in") is None
        assert after == before


def test_a_line_without_numbers_of_its_own_is_refused() -> None:
    """On a road of outlines no line may fall back to an ellipse's numbers, or to none."""
    way = road("outline")
    bare = replace(way.steps[5], outlined=None)
    with pytest.raises(ProofError, match="outline-6: it has no numbers"):
        replace(way, steps=(*way.steps[:5], bare, *way.steps[6:]))
    with pytest.raises(ProofError, match="outline-3: two steps"):
        replace(way, steps=(*way.steps[:5], way.steps[2]))


def test_constant_width_is_shown_where_it_is_assumed() -> None:
    """Lines that speak of it are shown on the outline that has it, whatever was chosen."""
    way = road("outline")
    for place, step in enumerate(way.steps, 1):
        one = numbers(way, {"step": place, "outline": SQUARE})
        assert one.outline_name == (CONSTANT_WIDTH if step.constant_width else SQUARE)
        assert step.constant_width == ("no even ripple" in step.assumption)
    assert any(step.constant_width for step in way.steps)


def test_what_a_road_has_no_control_for_stays() -> None:
    """A state that names a step only is filled up."""
    one = numbers(road("classroom"), {"step": 5, "a_cm": 20.0})
    assert (one.step, one.a_cm, one.b_cm) == (5, 20.0, FIXED["b_cm"])
    assert one.outline_name == DISC
