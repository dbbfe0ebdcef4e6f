"""The place panel's numbers: published costs, closed forms, and shares that add up anywhere."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import ellipe

from mensura.draws import uniforms
from mensura.stems.wrapped import belt_cm
from mensura.teaching.controls import Control, State
from mensura.teaching.panels.place import (
    CHOICES,
    CONTROLS,
    MOVED_BY,
    PRESETS,
    REACH_M,
    RIGHT,
    SHARES,
    SPREAD_DEG,
    SWITCHES,
    numbers,
    whole_state,
)

#: Upright, on level ground, nothing on it, measured by the rule.
PLAIN: State = whole_state(
    lean_deg=0.0,
    slope_deg=0.0,
    taper_cm_per_m=1.0,
    swelling_percent=0.0,
    buttress_m=0.0,
    fork_m=2.6,
    litter_cm=0.0,
    height_m=1.3,
)


def drawn(count: int) -> list[State]:
    """States with every control anywhere, its ends among them."""
    movers = (*CONTROLS, *SWITCHES, *CHOICES)
    found = []
    for at in range(count):
        shares = uniforms(len(movers), "place panel", at)
        state: State = {"step": 1 + at % 3}
        for one, share in zip(movers, shares, strict=True):
            if isinstance(one, Control):
                steps = round((one.greatest - one.least) / one.step)
                state[one.name] = one.check(round(one.least + round(share * steps) * one.step, 9))
            else:
                state[one.name] = one.ends[int(share * len(one.ends))]
        found.append(state)
    return found


def test_by_the_rule_nothing_is_lost() -> None:
    """The rule's own place costs nothing, on a plain stem, on a slope and on a lean."""
    for more in (
        {},
        {"slope_deg": 30.0},
        {"lean_deg": 12.0},
        {"slope_deg": 20.0, "lean_deg": -9.0},
    ):
        shown = numbers(**PLAIN | more)
        assert shown.area_over_percent == pytest.approx(0.0, abs=1e-9)
        assert shown.rule_m == pytest.approx((shown.along_m,))
        assert shown.moved_by == ()


@pytest.mark.parametrize(("slope", "published"), [(10, 0.353), (20, 0.729), (30, 1.158)])
def test_downhill_costs_what_is_published(slope: float, published: float) -> None:
    """D 40 cm, 1 cm/m: D·tan β lower (closed form); the per cents worked by hand from it."""
    shown = numbers(**PLAIN | {"slope_deg": float(slope), "side": RIGHT})
    lower_m = 0.4 * np.tan(np.radians(slope))
    assert shown.off_m == pytest.approx(-lower_m)
    assert shown.area_over_percent == pytest.approx(100 * ((40 + lower_m) ** 2 / 1600 - 1))
    assert shown.area_over_percent == pytest.approx(published, abs=6e-4)


def test_a_level_band_costs_the_ellipse() -> None:
    """Round a leaning cylinder: the elliptic integral, +1.552 % at 10°."""
    state = PLAIN | {"lean_deg": 10.0, "taper_cm_per_m": 0.0, "band": "level"}
    shown = numbers(**state)
    cosine = np.cos(np.radians(10.0))
    girth = 4 * 20.0 / cosine * ellipe(1 - cosine**2)
    assert shown.girths_cm == pytest.approx((girth,), rel=1e-9)
    assert shown.area_over_percent == pytest.approx(1.552, abs=6e-4)
    assert shown.shares_percent["band"] == pytest.approx(shown.area_over_percent)


def test_on_a_swelling_the_square_of_it_is_lost() -> None:
    """(1 + p)² − 1 at its middle; clear of it on both sides nothing, since taper is straight."""
    shown = numbers(**PLAIN | {"swelling_percent": 8.0})
    assert shown.area_over_percent == pytest.approx(16.64)
    assert shown.moved_by == ("mean",)
    assert shown.rule_m == pytest.approx((1.3 - REACH_M, 1.3 + REACH_M))
    clear = numbers(**PLAIN | {"swelling_percent": 8.0, "height_m": 1.3 + REACH_M})
    assert clear.area_over_percent == pytest.approx(100 * ((40 - REACH_M) ** 2 / 1600 - 1))


def test_legs_together_are_the_stem() -> None:
    """Each by itself nothing is lost; the thicker one alone is its own share of the area."""
    forked = PLAIN | {"fork_m": 0.8, "thinner_percent": 60.0}
    each = numbers(**forked)
    assert each.moved_by == ("legs",)
    assert each.area_over_percent == pytest.approx(0.0, abs=1e-9)
    assert each.girths_cm[1] / each.girths_cm[0] == pytest.approx(0.6)
    one = numbers(**forked | {"legs": "thicker leg only"})
    assert one.area_over_percent == pytest.approx(100 * (1 / 1.36 - 1))


def test_two_as_one_is_a_belt() -> None:
    """Near the fork the band is the belt of two circles, whose closed form the stems have; higher
    up their own spread is between them."""
    forked = PLAIN | {"fork_m": 1.25, "legs": "one band round both", "taper_cm_per_m": 0.0}
    shown = numbers(**forked)
    thicker, thinner = (40 / np.hypot(1, 0.8) * one for one in (1.0, 0.8))
    between = 2 * 5.0 * np.tan(np.radians(SPREAD_DEG))
    # legs cut aslant are wider by 1/cos of their spread: under 1 %
    assert shown.girths_cm[0] == pytest.approx(belt_cm(thicker, thinner, between), rel=0.008)
    assert shown.girths_cm[0] > belt_cm(thicker, thinner, 0.0)
    cost = 100 * ((shown.girths_cm[0] / np.pi) ** 2 / (thicker**2 + thinner**2) - 1)
    assert shown.area_over_percent == pytest.approx(cost)


def test_litter_is_height() -> None:
    """Left in, the band goes up by it; scraped away, by nothing."""
    left = numbers(**PLAIN | {"litter_cm": 10.0})
    away = numbers(**PLAIN | {"litter_cm": 10.0, "cleared": True})
    assert left.off_m == pytest.approx(0.10)
    assert away.off_m == pytest.approx(0.0)
    assert left.shares_percent["height"] == pytest.approx(100 * (39.9**2 / 1600 - 1))


def test_a_buttress_sends_the_rule_up() -> None:
    """50 cm above where its lobes are gone; below, the band spans them."""
    shown = numbers(**PLAIN | {"buttress_m": 1.8})
    assert shown.moved_by == ("buttress",)
    assert shown.rule_m == pytest.approx((2.3,))
    assert shown.shares_percent["buttress"] > 1
    assert shown.shares_percent["height"] == pytest.approx(100 * ((40 / 39) ** 2 - 1))


def test_beside_a_fork_or_a_buttress_one_side_is_taken() -> None:
    """Where the other side of a swelling is no plain stem."""
    swollen = PLAIN | {"swelling_percent": 10.0}
    below = numbers(**swollen | {"fork_m": 1.55, "rule_height": "1.37 m"})
    assert below.moved_by == ("below",)
    assert below.rule_m == pytest.approx((1.05,))
    above = numbers(**swollen | {"buttress_m": 0.7})
    assert above.moved_by == ("above",)
    assert above.rule_m == pytest.approx((1.55,))


def test_on_level_ground_the_upper_side_stands_for_uphill() -> None:
    """A lean has two sides where a slope has none."""
    lean = PLAIN | {"lean_deg": -15.0, "side": RIGHT}
    assert numbers(**lean).rule_side == "upper"
    assert numbers(**lean).off_m == pytest.approx(0.0, abs=1e-12)
    assert numbers(**lean | {"slope_deg": 1.0}).rule_side == "uphill"


def test_shares_add_up_and_the_picture_is_whole_anywhere() -> None:
    """Over 400 states: the parts are the cost, the rule lies on plain wood, every line is there."""
    met = set()
    for state in drawn(400):
        shown = numbers(**state)
        assert tuple(shown.shares_percent) == SHARES
        total = sum(shown.shares_percent.values())
        assert total == pytest.approx(shown.area_over_percent, abs=1e-9)
        fork, swelling, buttress = shown.stem.fork, shown.stem.swelling, shown.stem.buttress
        for at in shown.rule_m:
            if swelling and not shown.stem.forked_at(at):
                assert swelling.factor(at) == pytest.approx(1.0)
            if buttress:
                assert at >= buttress.top_m + 0.5 - 1e-12
        assert fork is not None
        if swelling:  # a swollen stem ends before it forks
            assert fork.at_m >= swelling.at_m + swelling.reach_m - 1e-12
        legs = np.square(fork.leg_diameters_cm).sum()
        assert legs == pytest.approx(shown.stem.diameter_at_cm(fork.at_m) ** 2)
        pieces = (*shown.bands_m, *shown.rule_bands_m, *shown.wood_cm, *shown.bands_cm)
        assert all(np.isfinite(one).all() for one in (*pieces, shown.stick_m))
        assert len(shown.bands_m) == len(shown.bands_cm) == len(shown.girths_cm)
        met |= set(shown.moved_by)
    assert met == set(MOVED_BY)


def test_the_drawn_band_is_as_wide_as_its_section() -> None:
    """From the side and from above it is one band: as far across, and where the axis is."""
    for state in drawn(60):
        shown = numbers(**state)
        if shown.forked and not (shown.level or shown.as_one):
            continue
        for line, band in zip(shown.bands_m, shown.bands_cm, strict=True):
            wide = float(np.ptp(band[:, 0]))
            assert 100 * np.hypot(*(line[1] - line[0])) == pytest.approx(wide)
            if shown.level:
                assert line[0, 1] == pytest.approx(line[1, 1])


def test_each_preset_is_one_situation() -> None:
    """It has the student begin before anything is told, and something to be lost."""
    for values in PRESETS.values():
        assert values["step"] == 1
        assert abs(numbers(**values).area_over_percent) > 1


@pytest.mark.parametrize("level", [False, True])
def test_a_lobed_section_is_traced_finely_enough(level: bool) -> None:
    """With the panel's points the girth is that of sixteen times as many, to 0.1 mm."""
    for diameter_cm, height_m in ((15.0, 0.6), (80.0, 0.6), (40.0, 1.0)):
        state = PLAIN | {"buttress_m": 2.0, "diameter_cm": diameter_cm, "height_m": height_m}
        shown = numbers(
            **state | {"lean_deg": 12.0, "band": "level" if level else "square to the stem"}
        )
        fine = shown.stem.section_at(shown.along_m, level, points=20_160).taut_girth_cm
        assert shown.girths_cm[0] == pytest.approx(fine, abs=0.01)
