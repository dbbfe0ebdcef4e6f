"""The out-of-round panel's numbers by plain arithmetic, at its controls' ends and between."""

from __future__ import annotations

import math
from itertools import product
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import ellipe

from mensura.estimates.out_of_round import calipers_limit_deg
from mensura.teaching.controls import starting
from mensura.teaching.panels.out_of_round import (
    CONTROLS,
    MEANS,
    SMOOTH,
    SWITCHES,
    TURNS_DEG,
    UPSIDE_DOWN,
    numbers,
)

START = starting(CONTROLS, SWITCHES)
BY_NAME = {control.name: control for control in CONTROLS}
ENDS = [
    dict(zip(BY_NAME, values, strict=True)) | {"marked": True}
    for values in product(*((c.least, c.greatest) for c in CONTROLS))
]
#: One control at an end, the others as at the start; and values that are awkward.
NEAR = [START | {c.name: end, "marked": True} for c in CONTROLS for end in (c.least, c.greatest)]
AWKWARD = [
    START | changes | {"marked": True}
    for changes in (
        {},
        SMOOTH,
        SMOOTH | {"second_cm": 60},
        UPSIDE_DOWN,
        UPSIDE_DOWN | {"first_cm": 48, "second_cm": 60, "fourth_ripple_cm": 0.3},
        SMOOTH | {"fourth_ripple_cm": 0.08},
        SMOOTH | {"fourth_ripple_cm": -0.3},
        {"second_cm": 60, "fourth_ripple_cm": -0.15},
        SMOOTH | {"second_cm": 59.5},
        SMOOTH | {"first_cm": 48, "second_cm": 60},
        {"ridges": 3, "furrow_depth_cm": 3},
        {"ridges": 60, "furrow_depth_cm": 0.1},
        {"ridges": 28, "furrow_depth_cm": 0},
        {"caliper_direction_deg": 45},
        {"caliper_direction_deg": 22.5} | SMOOTH,
        {"tilt_deg": 0, "tilt_direction_deg": 90},
    )
]
STATES = AWKWARD + NEAR + ENDS[::9]

slid = {
    c.name: st.integers(0, round((c.greatest - c.least) / c.step)).map(
        lambda k, c=c: int(c.least + k) if c.whole else round(c.least + k * c.step, 9)
    )
    for c in CONTROLS
}


def smooth(**changes: Any) -> dict[str, Any]:
    return START | SMOOTH | changes


def own_fourth_cm(state: dict[str, Any]) -> float:
    """Fourth ripple of the ellipse, by a sum over one turn."""
    a, b = state["first_cm"] / 2, state["second_cm"] / 2
    turn = np.radians(np.arange(0, 360, 0.1))
    reach = np.sqrt((a * a + b * b) / 2 + (a * a - b * b) / 2 * np.cos(2 * turn))
    return float(2 * (reach * np.cos(4 * turn)).mean())


@given(st.fixed_dictionaries(slid))
def test_smooth_and_level_by_plain_arithmetic(state: dict[str, Any]) -> None:
    """Girth by the complete elliptic integral, widths by their square root, areas by π/4."""
    state = state | SMOOTH | {"marked": False}
    shown = numbers(**state)
    a, b = sorted((state["first_cm"], state["second_cm"]), reverse=True)
    girth = 2 * a * ellipe(1 - (b / a) ** 2)
    true = math.pi / 4 * a * b
    result = shown.result
    assert result.true_area_cm2 == pytest.approx(true, rel=1e-12)
    assert result.reading_cm == pytest.approx(girth, rel=1e-12)
    assert result.tape_over_percent == pytest.approx(
        100 * (girth**2 / (4 * math.pi) / true - 1), abs=1e-9
    )
    turn = math.radians(state["caliper_direction_deg"])
    one = math.hypot(state["first_cm"] * math.cos(turn), state["second_cm"] * math.sin(turn))
    two = math.hypot(state["first_cm"] * math.sin(turn), state["second_cm"] * math.cos(turn))
    areas = [one**2, ((one + two) / 2) ** 2, one * two, (one**2 + two**2) / 2]
    for square, estimate in zip(areas, result.calipers, strict=False):
        assert estimate.area_cm2 == pytest.approx(math.pi / 4 * square, rel=1e-11)
    assert shown.axis_ratio == b / a
    assert shown.smooth_exact_percent == pytest.approx(result.tape_over_percent, abs=1e-9)
    assert shown.smooth_classroom_percent == pytest.approx(100 * (a - b) ** 2 / (2 * a * b))


@given(st.fixed_dictionaries(slid))
def test_what_holds_for_every_stem(state: dict[str, Any]) -> None:
    """True area ≤ hull's ≤ the level tape's ≤ the tilted tape's; furrows never touch the smooth."""
    shown = numbers(**state | {"marked": True})
    result = shown.result
    own, added = own_fourth_cm(state), state["fourth_ripple_cm"]
    ellipse = math.pi / 4 * state["first_cm"] * state["second_cm"]
    # what the ripple takes: (π/2)(4² − 1) times its square, before and after
    ellipse -= 7.5 * math.pi * ((own + added) ** 2 - own**2)
    little = 1e-9 * ellipse
    assert 0 < result.true_area_cm2 <= result.hull_area_cm2 + little
    assert result.hull_area_cm2 <= ellipse + little
    assert result.hull_area_cm2 <= result.level_area_cm2 + little
    assert result.level_area_cm2 <= result.tape_area_cm2 + little
    assert np.isfinite([one.over_percent for one in result.calipers]).all()
    for share in shown.shares.values():
        assert share.shape == TURNS_DEG.shape
        assert (share[np.isfinite(share)] >= 0).all()
        # a pair at right angles is the same pair after a quarter turn
        assert share[-1] == pytest.approx(share[0], nan_ok=True)


@pytest.mark.parametrize("state", STATES)
def test_shares_and_limits_agree(state: dict[str, Any]) -> None:
    """Share: the pair's error over the tape's, at the present turn; limit: where it reaches 1."""
    shown = numbers(**state)
    result = shown.result
    tape = abs(result.tape_area_cm2 - result.true_area_cm2)
    here = round(2 * shown.caliper_direction_deg)
    assert TURNS_DEG[here] == shown.caliper_direction_deg
    for one in result.calipers:
        if one.practice in MEANS and tape > 1e-6:
            share = shown.shares[one.practice]
            error = abs(one.area_cm2 - result.true_area_cm2)
            assert share[here] == pytest.approx(error / tape, rel=1e-9)
    half = TURNS_DEG <= 45
    for practice, spans in shown.nearer_deg.items():
        share = shown.shares[practice]
        inside = np.zeros(half.sum(), dtype=bool)
        for first, last in spans:
            inside |= (first <= TURNS_DEG[half]) & (TURNS_DEG[half] <= last)
        assert (share[half][inside] <= 1 + 1e-9).all()
        assert not (share[half][~inside] < 1 - 1e-9).any()
        ends = [turn for span in spans for turn in span if 0 < turn < 45]
        for end in ends:
            assert np.interp(end, TURNS_DEG, share) == pytest.approx(1, abs=1e-6)
        assert shown.limits_deg[practice] == (ends[0] if ends else None)


@pytest.mark.parametrize(("first", "second"), [(60, 48), (48, 60), (60, 59), (70, 35), (52, 44)])
def test_smooth_limits_are_the_closed_form_s(first: float, second: float) -> None:
    """Where the curve of the pair's share crosses 1 is where the closed form says."""
    shown = numbers(**smooth(first_cm=first, second_cm=second))
    for practice in ("two-arithmetic", "two-geometric"):
        wanted = calipers_limit_deg(first, second, MEANS[practice])
        assert shown.limits_deg[practice] == pytest.approx(wanted, abs=0.01)
        assert shown.nearer_deg[practice] == ((0, shown.limits_deg[practice]),)
    assert calipers_limit_deg(first, second, "quadratic") == 0
    assert shown.nearer_deg["two-quadratic"] == ()


def test_the_ripple_by_plain_arithmetic() -> None:
    """60 by 48 cm and 0.17 cm of ripple: girth, area, widths and errors, by hand."""
    state = START | UPSIDE_DOWN | {"caliper_direction_deg": 0}
    shown = numbers(**state)
    own = own_fourth_cm(state)
    assert own == pytest.approx(-0.0831, abs=5e-5)
    assert shown.fourth_cm == pytest.approx(own + 0.17)
    girth = 2 * 60 * ellipe(1 - 0.8**2)
    true = math.pi / 4 * 60 * 48 - 7.5 * math.pi * ((own + 0.17) ** 2 - own**2)
    result = shown.result
    assert result.reading_cm == pytest.approx(girth, rel=1e-12)
    assert result.true_area_cm2 == pytest.approx(true, rel=1e-12)
    one, two, product_, *_ = result.calipers
    assert one.readings_cm.tolist() == pytest.approx([60.34])
    assert two.readings_cm.tolist() == pytest.approx([60.34, 48.34])
    assert product_.area_cm2 == pytest.approx(math.pi / 4 * 60.34 * 48.34)
    assert shown.smooth_exact_percent == pytest.approx(result.tape_over_percent)


def test_the_fourth_ripple_alone_turns_the_rule_round() -> None:
    """Half of the preset's ripple takes the mean's rule away, all of it turns it round."""
    spans = {
        added: numbers(**START | UPSIDE_DOWN | {"fourth_ripple_cm": added}).nearer_deg
        for added in (0, 0.08, 0.09, 0.17)
    }
    assert spans[0]["two-arithmetic"] == ((0, pytest.approx(22.44, abs=0.01)),)
    assert spans[0.17]["two-arithmetic"] == ((pytest.approx(22.55, abs=0.01), 45),)
    assert spans[0.17]["two-geometric"] == spans[0.09]["two-geometric"] == ((0, 45),)
    # beside the sign's change the mean of two and the tape claim the same within 0.06 per cent
    for added in (0.08, 0.09):
        for turn in range(0, 46, 5):
            state = START | UPSIDE_DOWN | {"caliper_direction_deg": turn}
            result = numbers(**state | {"fourth_ripple_cm": added}).result
            apart = result.calipers[1].over_percent - result.tape_over_percent
            assert abs(apart) < 0.06
