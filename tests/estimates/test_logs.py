"""Volumes of logs: three rules that agree on a cylinder and part as the log tapers."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import simpson

from mensura.checks import MeasureError
from mensura.estimates import (
    huber_from_girth_m3,
    huber_m3,
    newton_from_girths_m3,
    newton_m3,
    smalian_from_girths_m3,
    smalian_m3,
)

diameters = st.floats(1, 300)
lengths = st.floats(0.1, 40)


@given(diameters, lengths)
def test_a_cylinder_is_a_cylinder(across, length):
    """All three rules give π/4·d²·L where the log does not taper."""
    true = np.pi / 4 * (across / 100) ** 2 * length
    assert huber_m3(across, length) == pytest.approx(true, rel=1e-13)
    assert smalian_m3(across, across, length) == pytest.approx(true, rel=1e-13)
    assert newton_m3(across, across, across, length) == pytest.approx(true, rel=1e-13)


@given(diameters, diameters, diameters, lengths)
def test_newton_is_simpsons_rule(butt, middle, top, length):
    """Newton's rule is SciPy's Simpson of the three areas."""
    areas = np.pi / 4 * np.square([butt / 100, middle / 100, top / 100])
    by_scipy = simpson(areas, dx=length / 2)
    assert newton_m3(butt, middle, top, length) == pytest.approx(by_scipy, rel=1e-12)


@given(st.lists(st.floats(-3, 3), min_size=4, max_size=4), lengths)
def test_newton_is_exact_up_to_the_third_degree(coefficients, length):
    """Any area that is a cubic of the height is summed exactly, whatever its coefficients."""
    shape = np.polynomial.Polynomial(coefficients)
    lowest = shape(np.linspace(0, 1, 201)).min()
    area = shape - min(lowest, 0) + 0.05  # m², kept above nothing
    across = 100 * np.sqrt(4 / np.pi * area(np.array([0, 0.5, 1])))
    whole = area.integ()
    true = length * (whole(1) - whole(0))
    assert newton_m3(*across, length) == pytest.approx(true, rel=1e-10)


def test_newton_is_not_exact_for_the_fourth_degree():
    """The limit of the rule: an area x⁴ holds 1/5, and Newton says (1 + 4/16)/6 = 5/24."""
    across = 100 * np.sqrt(4 / np.pi * np.array([1, 1 / 16, 0]))
    assert newton_m3(*across, 1) == pytest.approx(5 / 24, rel=1e-12)


@given(diameters, diameters, lengths, st.floats(0.2, 5))
def test_scale_rules(butt, top, length, factor):
    """Twice the length is twice the volume; every diameter twice as large, four times."""
    volume = smalian_m3(butt, top, length)
    assert smalian_m3(butt, top, length * 3) == pytest.approx(3 * volume, rel=1e-12)
    larger = smalian_m3(butt * factor, top * factor, length)
    assert larger == pytest.approx(factor**2 * volume, rel=1e-12)
    assert smalian_m3(top, butt, length) == pytest.approx(volume, rel=1e-14)


@given(diameters, diameters, diameters, lengths)
def test_girths_and_diameters_say_the_same(butt, middle, top, length):
    """A girth is π diameters, in each rule."""
    by_girths = newton_from_girths_m3(np.pi * butt, np.pi * middle, np.pi * top, length)
    assert by_girths == pytest.approx(newton_m3(butt, middle, top, length), rel=1e-12)
    ends = smalian_from_girths_m3(np.pi * butt, np.pi * top, length)
    assert ends == pytest.approx(smalian_m3(butt, top, length), rel=1e-12)
    at_mid = huber_from_girth_m3(np.pi * middle, length)
    assert at_mid == pytest.approx(huber_m3(middle, length), rel=1e-12)


def test_many_logs_in_one_call():
    """Arrays broadcast; a single log gives a float."""
    volumes = newton_m3([44, 50], [40, 46], [36, 0], [[5], [6], [7]])
    assert volumes.shape == (3, 2)
    assert volumes[1, 1] == pytest.approx(newton_m3(50, 46, 0, 6), rel=1e-14)
    assert isinstance(huber_m3(40, 5), float)
    assert smalian_from_girths_m3([120, 130], 0, 4).shape == (2,)


@pytest.mark.parametrize("bad", [-1, np.nan, np.inf, "40", 1e9])
@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda bad: huber_m3(bad, 5), "mid_diameter_cm"),
        (lambda bad: huber_m3(40, bad), "log_length_m"),
        (lambda bad: smalian_m3(bad, 30, 5), "butt_diameter_cm"),
        (lambda bad: smalian_m3(30, bad, 5), "top_diameter_cm"),
        (lambda bad: newton_m3(40, bad, 30, 5), "mid_diameter_cm"),
        (lambda bad: huber_from_girth_m3(bad, 5), "mid_girth_cm"),
        (lambda bad: smalian_from_girths_m3(bad, 90, 5), "butt_girth_cm"),
        (lambda bad: smalian_from_girths_m3(90, bad, 5), "top_girth_cm"),
        (lambda bad: newton_from_girths_m3(99, bad, 90, 5), "mid_girth_cm"),
    ],
)
def test_numbers_that_cannot_be(call, name, bad):
    """Each refusal names the argument and the bound."""
    with pytest.raises(MeasureError, match=f"^{name} is .*; expected a finite number"):
        call(bad)


def test_only_a_tip_may_be_nothing():
    """The thin end may come to a point; a middle or a thick end may not, nor a length."""
    assert smalian_m3(40, 0, 6) == pytest.approx(huber_m3(40, 6) / 2, rel=1e-14)
    for call in (lambda: huber_m3(0, 6), lambda: smalian_m3(0, 40, 6), lambda: huber_m3(40, 0)):
        with pytest.raises(MeasureError, match="above 0"):
            call()


def test_a_length_in_centimetres_is_noticed():
    """500 cm typed for 5 m is longer than any log."""
    with pytest.raises(MeasureError, match=r"log_length_m is 500 m; expected .* at most 150 m"):
        huber_m3(40, 500)
