"""Ovality alone: the closed forms against the sections and instruments they stand for."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from mensura.checks import MeasureError
from mensura.estimates import (
    area_from_diameters_cm2,
    area_from_girth_cm2,
    calipers_limit_deg,
    classroom_over_percent,
    nearer_limit_deg,
    one_reading_over_percent,
    out_of_round_percent,
    over_percent,
    scatters,
    tape_over_percent,
    two_readings_over_percent,
)
from mensura.instruments import MEANS, Calipers, Tape
from mensura.stems import Ellipse, Outline, classroom_girth_cm

ratios = st.floats(0.05, 1)
oval = st.floats(0.3, 0.98)
half_cm = st.floats(10, 40)


@given(ratios, st.floats(1, 1000))
def test_tape_closed_form_is_what_a_tape_does(ratio, long):
    """The formula in the axis ratio equals a tape on a real stem of any size."""
    stem = Ellipse(long, long * ratio)
    area = area_from_girth_cm2(Tape().read(stem).reading_cm)
    assert tape_over_percent(ratio) == pytest.approx(over_percent(area, stem.area_cm2), abs=1e-9)


@given(ratios)
def test_blackboard_closed_form_is_what_the_blackboard_does(ratio):
    """(1 − r)²/2r is the area from the blackboard's perimeter."""
    area = area_from_girth_cm2(classroom_girth_cm(60, 60 * ratio))
    true = Ellipse(60, 60 * ratio).area_cm2
    assert classroom_over_percent(ratio) == pytest.approx(over_percent(area, true), abs=1e-9)


@given(ratios, st.floats(-360, 360), st.sampled_from(MEANS))
def test_two_readings_closed_form_is_what_calipers_do(ratio, off, mean):
    """The closed form equals two real readings at right angles, drawn together."""
    stem = Ellipse(60, 60 * ratio)
    area = area_from_diameters_cm2(Calipers().read(stem, [off, off + 90]), mean)
    assert two_readings_over_percent(ratio, off, mean) == pytest.approx(
        over_percent(area, stem.area_cm2), abs=1e-8
    )


@given(ratios, st.floats(-360, 360))
def test_one_reading_closed_form_is_what_calipers_do(ratio, off):
    """One reading off the longer axis, too large or too small."""
    stem = Ellipse(60, 60 * ratio)
    area = area_from_diameters_cm2(Calipers().read(stem, off))
    assert one_reading_over_percent(ratio, off) == pytest.approx(
        over_percent(area, stem.area_cm2), abs=1e-8
    )


@given(st.floats(0.05, 0.999))
def test_order_of_the_practices(ratio):
    """On the axes: product 0 < arithmetic < tape < quadratic = blackboard."""
    product, arithmetic, quadratic = (
        two_readings_over_percent(ratio, 0, m) for m in ("geometric", "arithmetic", "quadratic")
    )
    assert product == pytest.approx(0, abs=1e-10)
    assert product < arithmetic < tape_over_percent(ratio) < quadratic
    assert quadratic == pytest.approx(classroom_over_percent(ratio), rel=1e-10)


@given(ratios)
def test_at_45_degrees_every_mean_reads_as_the_blackboard_claims(ratio):
    """Halfway between the axes both widths are alike, so that the means agree."""
    for mean in MEANS:
        assert two_readings_over_percent(ratio, 45, mean) == pytest.approx(
            classroom_over_percent(ratio), abs=1e-9
        )


@given(ratios)
def test_mean_bias_of_one_reading(ratio):
    """Over all directions one reading is biased as the quadratic mean of the axes."""
    turned = one_reading_over_percent(ratio, np.arange(0, 180, 0.5))
    assert turned.mean() == pytest.approx(classroom_over_percent(ratio), abs=1e-8)


def test_circle_has_no_error():
    """On a circle nobody errs."""
    assert tape_over_percent(1) == pytest.approx(0, abs=1e-12)
    assert classroom_over_percent(1) == 0
    assert one_reading_over_percent(1, 77) == pytest.approx(0, abs=1e-12)
    assert two_readings_over_percent(1, 77) == pytest.approx(0, abs=1e-12)
    assert out_of_round_percent(40, 40) == 0


@given(st.floats(1, 1000), st.floats(1, 1000))
def test_out_of_roundness_and_axis_ratio(first, second):
    """b/a = 1/(1 + out-of-roundness), whichever axis comes first."""
    index = out_of_round_percent(first, second)
    assert out_of_round_percent(second, first) == index
    assert 1 / (1 + index / 100) == pytest.approx(min(first, second) / max(first, second))


@pytest.mark.parametrize(
    ("mean", "limit"), [("arithmetic", 22.4), ("geometric", 29.9), ("quadratic", 0)]
)
def test_limit_on_the_stem_of_the_book(mean, limit):
    """60 by 48 cm: calipers are nearer within 22.4° (arithmetic) and 29.9° (product)."""
    assert calipers_limit_deg(60, 48, mean) == pytest.approx(limit, abs=0.05)
    assert calipers_limit_deg(48, 60, mean) == pytest.approx(limit, abs=0.05)


@pytest.mark.parametrize(("mean", "limit"), [("arithmetic", 22.5), ("geometric", 30)])
def test_limit_for_slightly_oval_stems(mean, limit):
    """The limit tends to 22.5° and 30°, by theory sin² 2θ = ½ and ¾, from below."""
    limits = calipers_limit_deg(60, 60 * np.array([0.8, 0.9, 0.98, 0.999]), mean)
    assert (np.diff(limits) > 0).all()
    assert (limits < limit + 1e-6).all()
    assert limits[-1] == pytest.approx(limit, abs=1e-4)


@given(oval, st.sampled_from(["arithmetic", "geometric"]))
def test_limit_by_bisection_of_real_readings(ratio, mean):
    """Turning real calipers until they err as much as a real tape gives the closed form."""
    stem = Ellipse(60, 60 * ratio)
    tape = area_from_girth_cm2(Tape().read(stem).reading_cm)

    def behind(turn):
        return area_from_diameters_cm2(Calipers().read(stem, [turn, turn + 90]), mean) - tape

    assert behind(0) < 0 < behind(45)
    assert calipers_limit_deg(60, 60 * ratio, mean) == pytest.approx(
        brentq(behind, 0, 45, xtol=1e-11), abs=1e-5
    )


@given(oval, st.sampled_from(MEANS))
def test_limit_agrees_with_the_search_for_any_section(ratio, mean):
    """The closed form and the stepwise search for any section meet within 0.01°."""
    stem = Ellipse(60, 60 * ratio)
    closed = calipers_limit_deg(60, 60 * ratio, mean)
    assert nearer_limit_deg(stem, mean) == pytest.approx(closed, abs=0.01)


def test_search_on_a_fine_polygon():
    """An outline of the same stem gives the same limit; a long tape reading never overtakes."""
    stem = Outline(Ellipse(60, 48).outline_cm(2000))
    assert nearer_limit_deg(stem) == pytest.approx(calipers_limit_deg(60, 48), abs=0.01)
    assert nearer_limit_deg(stem, reading_cm=180) is None
    assert nearer_limit_deg(Ellipse(40, 40)) == 0


def test_limit_of_a_circle_is_not_a_number():
    """Nothing is off the axis of a circle; its place in an array stays marked."""
    limits = calipers_limit_deg([60, 60], [60, 48])
    assert np.isnan(limits[0])
    assert limits[1] == pytest.approx(22.44, abs=0.005)
    assert np.isnan(calipers_limit_deg(40, 40, "quadratic"))


@pytest.mark.parametrize("ratio", [0, -0.5, 1.01, np.nan, "0.8"])
@pytest.mark.parametrize(
    "closed_form",
    [
        tape_over_percent,
        classroom_over_percent,
        lambda ratio: two_readings_over_percent(ratio, 0),
        lambda ratio: one_reading_over_percent(ratio, 0),
    ],
)
def test_ratios_that_cannot_be(closed_form, ratio):
    """The axis ratio is shorter over longer: above 0, at most 1."""
    with pytest.raises(MeasureError, match=r"^axis_ratio is .*above 0 and at most 1\.$"):
        closed_form(ratio)


@pytest.mark.parametrize(
    "call",
    [
        lambda mean: calipers_limit_deg(60, 48, mean),
        lambda mean: two_readings_over_percent(0.8, 0, mean),
    ],
)
def test_means_that_are_not_there(call):
    """The refusal lists the means there are."""
    with pytest.raises(MeasureError, match=r"^mean is 'median'; expected one of: arithmetic, geo"):
        call("median")


@pytest.mark.parametrize("off", [np.nan, np.inf])
def test_turns_that_cannot_be(off):
    """How far the calipers are turned is a finite number."""
    for call in (two_readings_over_percent, one_reading_over_percent):
        with pytest.raises(MeasureError, match=r"^off_axis_deg is"):
            call(0.8, off)


@given(half_cm, half_cm)
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
