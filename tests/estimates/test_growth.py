"""Growth from two girths: closed forms by hand, by another root and by draws; refusals."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq
from scipy.stats import norm

from mensura.checks import MeasureError
from mensura.estimates.growth import (
    CHANCE_ERRORS,
    FOUND_ERRORS,
    OTHER,
    SAME,
    Again,
    ReadingDoubts,
    area_growth_a_year_percent,
    drawn_growths_cm,
    found_percent,
    growth_at_the_mark_cm,
    growth_between,
    growth_parts,
    least_growth,
    stands_out_after_years,
    u_growth_cm,
)
from mensura.stems.standing import StemInSpace

NONE = ReadingDoubts(0, 0, 0, 0, 0, 0, 0)
#: Each source alone, with what it makes of a growth from 100 to 110 cm: shared, and not.
ALONE = {
    "repeat_cm": (0.3, 0.3 * math.sqrt(2), 0.3 * math.sqrt(2)),
    "start_cm": (0.3, 0.0, 0.3 * math.sqrt(2)),
    "scale_percent": (0.5, 0.05, 0.005 * math.hypot(100, 110)),
    "hand_percent": (0.5, 0.05, 0.005 * math.hypot(100, 110)),
    "season_percent": (0.5, 0.05, 0.005 * math.hypot(100, 110)),
}


@pytest.mark.parametrize("field", ALONE)
def test_each_source_alone(field):
    """What both share cancels but for the growth's own share; what they do not adds its squares."""
    size, shared, other = ALONE[field]
    doubts = replace(NONE, **{field: size})
    assert u_growth_cm(100, 110, doubts, SAME) == pytest.approx(shared, abs=1e-12)
    assert u_growth_cm(100, 110, doubts, OTHER) == pytest.approx(other, rel=1e-12)


def test_another_hand_is_not_another_tape():
    """Only the source that is not shared any more is let out."""
    before = {one.key: one.u_cm() for one in growth_parts(100, 110)}
    after = {one.key: one.u_cm() for one in growth_parts(100, 110, again=Again(hand=False))}
    changed = {key for key in before if before[key] != after[key]}
    assert changed == {"hand"}
    tape = {one.key: one.u_cm() for one in growth_parts(100, 110, again=Again(tape=False))}
    assert {key for key in before if before[key] != tape[key]} == {"start", "scale"}


def test_back_at_another_height_on_a_stem_in_space():
    """10 cm higher costs a real stem's girth what the closed form says, and is given back."""
    stem = StemInSpace(40.0, 1.3, taper_cm_per_m=1.5)
    then, now = (stem.section_at(at).taut_girth_cm for at in (1.3, 1.4))
    assert growth_at_the_mark_cm(now - then, 10.0, 1.5) == pytest.approx(0.0, abs=1e-9)
    doubts = replace(NONE, back_cm=10.0, taper_cm_per_m=1.5)
    assert u_growth_cm(100, 110, doubts) == pytest.approx(math.sqrt(2) * (then - now), rel=1e-9)


@given(
    girth=st.floats(20, 400),
    growth=st.floats(0, 40),
    sizes=st.lists(st.floats(0, 1), min_size=7, max_size=7),
)
def test_sharing_never_makes_a_growth_less_sure(girth, growth, sizes):
    doubts = ReadingDoubts(*sizes)
    same = u_growth_cm(girth, girth + growth, doubts, SAME)
    for tape in (False, True):
        for hand in (False, True):
            assert same <= u_growth_cm(girth, girth + growth, doubts, Again(tape, hand)) + 1e-12


@pytest.mark.parametrize("again", [SAME, Again(hand=False), OTHER])
def test_drawn_growths_spread_as_the_law_says(again):
    """200,000 draws: mean and standard deviation, within what so many draws leave open."""
    read = drawn_growths_cm(125.0, 5.0, again=again, draws=200_000, seed=4)
    assert read.mean() == pytest.approx(5.0, abs=5 * 0.5 / math.sqrt(200_000))
    assert read.std() == pytest.approx(u_growth_cm(125.0, 130.0, again=again), rel=0.008)


@pytest.mark.parametrize("again", [SAME, Again(season=False), OTHER])
@pytest.mark.parametrize("girth", [40.0, 125.0, 250.0])
def test_the_least_growth_is_the_root_by_another_way(again, girth):
    """A bracketing root of the share that is found, with the normal law and nothing closed."""
    doubts = ReadingDoubts(scale_percent=0.4)
    chance = norm.ppf(0.975) * u_growth_cm(girth, girth, doubts, again)

    def short_of_it(growth):
        return norm.sf(chance, growth, u_growth_cm(girth, girth + growth, doubts, again)) - 0.9

    least = least_growth(girth, doubts, again)
    assert least.chance_cm == pytest.approx(chance, rel=1e-9)
    assert least.found_cm == pytest.approx(brentq(short_of_it, 1e-3, 50, xtol=1e-12), rel=1e-9)


@pytest.mark.parametrize("again", [SAME, OTHER])
def test_nine_of_ten_by_draws(again):
    """Found in nine of ten; nothing at all is found in two or three of a hundred, upwards."""
    least = least_growth(125.0, again=again)
    share = found_percent(125.0, least.found_cm, again=again, draws=200_000)
    assert share == pytest.approx(90, abs=0.3)
    assert found_percent(125.0, 0.0, again=again, draws=200_000) == pytest.approx(2.5, abs=0.2)
    # a tenth less is found clearly less often, so the size is no lucky one
    assert found_percent(125.0, 0.9 * least.found_cm, again=again, draws=200_000) < 85


def test_years_are_growths():
    """Twice the growth a year halves the years; that many years' growth is the least one."""
    years = stands_out_after_years(100.0, [0.5, 1.0, 2.0])
    assert years[0] == pytest.approx(2 * years[1]) == pytest.approx(4 * years[2])
    assert years[1] == pytest.approx(least_growth(100.0).found_cm)


def test_all_figures_of_one_growth():
    """From 100 to 110 in five years, by hand."""
    one = growth_between(100.0, 110.0, 5.0, replace(NONE, repeat_cm=0.3))
    assert (one.growth_cm, one.a_year_cm) == (10.0, 2.0)
    assert one.u_growth_cm == pytest.approx(0.3 * math.sqrt(2))
    assert one.u_a_year_cm == pytest.approx(0.06 * math.sqrt(2))
    assert one.diameter_growth_cm == pytest.approx(10 / math.pi)
    assert one.u_diameter_growth_cm == pytest.approx(0.3 * math.sqrt(2) / math.pi)
    assert one.area_growth_cm2 == pytest.approx((110**2 - 100**2) / (4 * math.pi))
    assert one.u_area_growth_cm2 == pytest.approx(0.3 / (2 * math.pi) * math.hypot(100, 110))
    assert one.stands_out
    assert one.chance_cm == pytest.approx(CHANCE_ERRORS * 0.3 * math.sqrt(2))


@pytest.mark.parametrize(
    ("field", "size", "expected"),
    [
        # a shift of the scale stays in an area by the growth over 2π, a share twice by itself
        ("start_cm", 0.4, 0.4 * 10 / (2 * math.pi)),
        ("scale_percent", 0.5, 2 * 0.005 * (110**2 - 100**2) / (4 * math.pi)),
    ],
)
def test_what_an_area_keeps_of_a_shared_error(field, size, expected):
    one = growth_between(100.0, 110.0, 5.0, replace(NONE, **{field: size}))
    assert one.u_area_growth_cm2 == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("again", [SAME, OTHER])
def test_the_doubt_of_an_area_by_draws(again):
    """Areas of drawn pairs of girths, made here without the package's draws."""
    rng, count = np.random.default_rng(9), 200_000
    doubts = ReadingDoubts()

    def drawn(size, shared):
        return rng.normal(size=(1 if shared else 2, count)) * size

    girths = np.array([[100.0], [110.0]])
    share = drawn(0.001, again.tape) + drawn(0.002, again.hand) + drawn(0.0005, again.season)
    read = girths * (1 + share) + drawn(0.1, again.tape) + drawn(0.2, False)
    read = read + drawn(math.pi * 1.0 * 0.01, False)
    areas = read**2 / (4 * math.pi)
    one = growth_between(100.0, 110.0, 5.0, doubts, again)
    assert one.u_area_growth_cm2 == pytest.approx((areas[1] - areas[0]).std(), rel=0.01)


def test_a_share_a_year_year_by_year():
    """Seven years of that share, one after the other, lead from the first area to the second."""
    percent, area = area_growth_a_year_percent(80.0, 95.0, 7.0), 80.0**2
    for _ in range(7):
        area *= 1 + percent / 100
    assert area == pytest.approx(95.0**2, rel=1e-12)


def test_shrinking_stands_out_as_well():
    assert growth_between(110.0, 100.0, 5.0).stands_out
    assert not growth_between(100.2, 100.0, 5.0).stands_out


def test_it_takes_arrays():
    u = u_growth_cm([50.0, 100.0], [[51.0], [101.0]])
    assert np.shape(u) == (2, 2)
    assert np.shape(least_growth([50.0, 100.0]).found_cm) == (2,)


def test_the_two_factors_are_the_normal_laws():
    assert pytest.approx(norm.ppf(0.975), rel=1e-15) == CHANCE_ERRORS
    assert pytest.approx(norm.ppf(0.9), rel=1e-15) == FOUND_ERRORS


@pytest.mark.parametrize(
    ("call", "field"),
    [
        (lambda: growth_between(0.0, 100.0, 5.0), "first_girth_cm"),
        (lambda: growth_between(100.0, -1.0, 5.0), "second_girth_cm"),
        (lambda: growth_between(100.0, 101.0, 0.0), "between_years"),
        (lambda: ReadingDoubts(repeat_cm=-0.1), "repeat_cm"),
        (lambda: ReadingDoubts(hand_percent=float("nan")), "hand_percent"),
        (lambda: stands_out_after_years(100.0, 0.0), "growth_a_year_cm"),
        (lambda: drawn_growths_cm(100.0, -100.0), "growth_cm"),
        (lambda: drawn_growths_cm(100.0, 1.0, draws=0), "draws"),
        (lambda: growth_at_the_mark_cm(1.0, "high", 1.0), "higher_cm"),
    ],
)
def test_what_is_refused(call, field):
    with pytest.raises(MeasureError) as refused:
        call()
    assert refused.value.field == field
