"""Solids of revolution: exact volumes, and where each rule for logs errs, with its sign."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import quad

from mensura.checks import MeasureError
from mensura.estimates import (
    LOG_RULES,
    SOLIDS,
    form_factors,
    frustum_from_girths_m3,
    frustum_m3,
    frustum_mid_diameter_cm,
    huber_m3,
    newton_m3,
    rule_over_percent,
    smalian_m3,
    solid_form_factor,
    solid_m3,
    solid_radius_cm,
)

powers = st.one_of(st.sampled_from([0.0, 1.0, 2.0, 3.0]), st.floats(0.2, 8))
tapering = st.one_of(st.sampled_from([1.0, 2.0, 3.0]), st.floats(0.5, 8))
diameters = st.floats(5, 200)
heights = st.floats(1, 60)


def summed(power, base, height, low, high):
    """Volume between two heights by quadrature of the radius, in m³."""
    return quad(
        lambda z: np.pi * (solid_radius_cm(power, base, height, min(z, height)) / 100) ** 2,
        low,
        high,
        epsabs=0,
        epsrel=1e-10,
        limit=200,
    )[0]


@given(powers, diameters, heights)
def test_whole_solid_by_quadrature(power, base, height):
    """g·H/(p + 1) is the sum of its slices."""
    assert solid_m3(power, base, height) == pytest.approx(
        summed(power, base, height, 0, height), rel=1e-7
    )


@given(powers, diameters, heights, st.floats(0, 0.95), st.floats(0.02, 1))
def test_a_log_cut_from_it_by_quadrature(power, base, height, start, share):
    """A piece between two heights: its end diameters and length give its volume."""
    low = start * height
    high = low + share * (height - low)
    ends = 2 * solid_radius_cm(power, base, height, [low, high])
    volume = frustum_m3(power, ends[0], ends[1], high - low)
    assert volume == pytest.approx(summed(power, base, height, low, high), rel=1e-6)
    middle = 2 * solid_radius_cm(power, base, height, (low + high) / 2)
    assert frustum_mid_diameter_cm(power, ends[0], ends[1]) == pytest.approx(middle, rel=1e-7)


@given(diameters, st.floats(0, 1), heights)
def test_the_textbook_forms(butt, share, length):
    """Paraboloid, cone and neiloid as their own formulas have it."""
    thick, thin = np.pi / 40000 * butt**2, np.pi / 40000 * (share * butt) ** 2
    for solid, mean in {
        "paraboloid": (thick + thin) / 2,
        "cone": (thick + np.sqrt(thick * thin) + thin) / 3,
        "neiloid": (thick + np.cbrt(thick**2 * thin) + np.cbrt(thick * thin**2) + thin) / 4,
    }.items():
        volume = frustum_m3(solid, butt, share * butt, length)
        assert volume == pytest.approx(mean * length, rel=1e-10)
        girths = np.pi * butt, np.pi * share * butt
        assert frustum_from_girths_m3(solid, *girths, length) == pytest.approx(volume, rel=1e-10)
        assert frustum_m3(solid, share * butt or 1e-9, butt, length) == pytest.approx(
            volume, rel=1e-5
        )


@given(tapering, diameters, heights)
def test_the_limits(power, butt, length):
    """No taper is a cylinder, a tip is the whole solid, and the change is smooth between."""
    cylinder = huber_m3(butt, length)
    assert frustum_m3(power, butt, butt, length) == pytest.approx(cylinder, rel=1e-13)
    assert frustum_m3(power, butt, butt * (1 - 1e-9), length) == pytest.approx(cylinder, rel=1e-8)
    assert frustum_m3(power, butt, 0, length) == pytest.approx(
        solid_m3(power, butt, length), rel=1e-13
    )
    assert frustum_m3("cylinder", butt, butt, length) == pytest.approx(cylinder, rel=1e-13)


@given(tapering, diameters, heights, st.floats(0.1, 0.9))
def test_two_pieces_make_the_whole(power, base, height, cut):
    """The lower log and the top piece sum to the tree."""
    at = 2 * solid_radius_cm(power, base, height, cut * height)
    assume(at > 1e-6)
    pieces = frustum_m3(power, base, at, cut * height) + solid_m3(power, at, (1 - cut) * height)
    assert pieces == pytest.approx(solid_m3(power, base, height), rel=1e-9)


@given(diameters, st.floats(0, 1))
def test_newton_is_exact_for_all_four(butt, share):
    """Cylinder, paraboloid, cone, neiloid: areas up to the third degree of the height."""
    for solid in SOLIDS:
        top = butt if solid == "cylinder" else share * butt
        assert rule_over_percent("newton", solid, butt, top) == pytest.approx(0, abs=1e-9)


@given(diameters, st.floats(0, 1))
def test_huber_and_smalian_are_exact_for_two(butt, share):
    """Cylinder and paraboloid."""
    for rule in ("huber", "smalian"):
        assert rule_over_percent(rule, "cylinder", butt, butt) == pytest.approx(0, abs=1e-9)
        assert rule_over_percent(rule, "paraboloid", butt, share * butt) == pytest.approx(
            0, abs=1e-9
        )


@given(st.sampled_from(["cone", "neiloid"]), diameters, st.floats(0, 0.95))
def test_signs_and_two_to_one(solid, butt, share):
    """Cone and neiloid: Huber too small, Smalian too large by exactly twice as much."""
    huber = rule_over_percent("huber", solid, butt, share * butt)
    smalian = rule_over_percent("smalian", solid, butt, share * butt)
    assert huber < 0 < smalian
    assert smalian == pytest.approx(-2 * huber, rel=1e-6)


@given(st.floats(0.1, 0.95), diameters, st.floats(0, 0.9))
def test_fuller_than_a_paraboloid_turns_the_signs(power, butt, share):
    """Between cylinder and paraboloid the area is concave: Huber too large, Smalian too small."""
    assert rule_over_percent("smalian", power, butt, share * butt) < 1e-9
    assert rule_over_percent("huber", power, butt, share * butt) > -1e-9


@given(st.sampled_from(sorted(SOLIDS)), diameters, st.floats(0.3, 1), heights)
def test_the_error_is_that_of_the_rules_themselves(solid, butt, share, length):
    """The percentage agrees with the volumes, whatever the length."""
    top = butt if solid == "cylinder" else share * butt
    middle = frustum_mid_diameter_cm(solid, butt, top)
    true = frustum_m3(solid, butt, top, length)
    for rule, volume in {
        "huber": huber_m3(middle, length),
        "smalian": smalian_m3(butt, top, length),
        "newton": newton_m3(butt, middle, top, length),
    }.items():
        assert rule_over_percent(rule, solid, butt, top) == pytest.approx(
            100 * (volume / true - 1), abs=1e-9
        )


@given(powers, st.floats(2, 60), st.floats(3, 150))
def test_form_factor_as_found_from_a_record(power, base_in, height_ft):
    """The solid's own form factor is what form_factors finds from its measures in inches, feet."""
    volume = solid_m3(power, base_in * 2.54, height_ft * 0.3048) / 0.3048**3
    assert form_factors(base_in, height_ft, volume) == pytest.approx(
        solid_form_factor(power), rel=1e-11
    )


def test_many_logs_in_one_call():
    """Arrays broadcast over logs, for one solid at a time."""
    volumes = frustum_m3("cone", [44, 50, 60], [36, 50, 0], [[5], [6]])
    assert volumes.shape == (2, 3)
    assert volumes[1, 2] == pytest.approx(solid_m3("cone", 60, 6), rel=1e-14)
    assert volumes[0, 1] == pytest.approx(huber_m3(50, 5), rel=1e-14)
    assert rule_over_percent("huber", "cone", [44, 44], [44, 0]).tolist() == pytest.approx([0, -25])
    assert solid_radius_cm("neiloid", 40, [20, 30], [[1], [2]]).shape == (2, 2)


@pytest.mark.parametrize("bad", ["ball", "", -0.1, 10.5, np.nan, [1, 2], None, True])
def test_what_is_no_solid(bad):
    """A name outside the four, or a power outside 0 to 10."""
    for call in (
        lambda: solid_form_factor(bad),
        lambda: frustum_m3(bad, 40, 30, 5),
        lambda: rule_over_percent("huber", bad, 40, 30),
    ):
        with pytest.raises(MeasureError, match=r"^solid"):
            call()


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: frustum_m3("cylinder", 40, 39, 5), "top_diameter_cm is 39 cm.*in a cylinder"),
        (lambda: solid_radius_cm("cone", 40, 20, 20.1), "above_base_m is 20.1 m.*tree's height"),
        (lambda: solid_radius_cm("cone", 40, 20, -1), "above_base_m is -1 m"),
        (lambda: solid_m3("cone", 0, 20), "base_diameter_cm is 0 cm"),
        (lambda: solid_m3("cone", 40, 2000), "tree_height_m is 2000 m"),
        (lambda: frustum_m3("cone", 40, -1, 5), "top_diameter_cm is -1 cm"),
        (lambda: frustum_from_girths_m3("cone", 0, 0, 5), "butt_girth_cm is 0 cm"),
        (lambda: rule_over_percent("guess", "cone", 40, 30), "rule is 'guess'.*huber, smalian"),
    ],
)
def test_refusals(call, said):
    """Each names the argument, its value and what is expected."""
    with pytest.raises(MeasureError, match=f"^{said}"):
        call()


def test_the_names_are_in_order_of_fullness():
    """Each named solid is leaner than the one before it, and every rule has its name."""
    forms = [solid_form_factor(name) for name in SOLIDS]
    assert forms == sorted(forms, reverse=True)
    assert LOG_RULES == ("huber", "smalian", "newton")
