"""The quarter-girth rule: one factor, π/4, read from both sides; and what bark does to it."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.estimates import (
    HOPPUS_FOOT_FT3,
    HOPPUS_FOOT_M3,
    hoppus_sold_ft,
    hoppus_true_m3,
    huber_from_girth_m3,
    huber_m3,
    over_percent,
    quarter_girth_hoppus_ft,
    quarter_girth_m3,
    quarter_girth_over_percent,
    quarter_girth_under_bark_m3,
    under_bark_diameter_cm,
)

girths = st.floats(10, 900)
lengths = st.floats(0.2, 40)


@given(girths, lengths)
def test_a_square_log_is_what_the_rule_means(girth, length):
    """A squared log with that girth holds the rule's volume exactly: its side is G/4."""
    side_m = girth / 4 / 100
    assert quarter_girth_m3(girth, length) == pytest.approx(side_m * side_m * length, rel=1e-13)


@given(girths, lengths)
def test_below_true_and_above_a_cubic_foot(girth, length):
    """21.46 % below the round log's volume; and that volume is 27.32 % above the rule's figure."""
    rule, true = quarter_girth_m3(girth, length), huber_from_girth_m3(girth, length)
    assert rule / true == pytest.approx(np.pi / 4, rel=1e-12)
    assert over_percent(rule, true) == pytest.approx(quarter_girth_over_percent(), rel=1e-9)
    assert 100 * (true / rule - 1) == pytest.approx(100 * (HOPPUS_FOOT_FT3 - 1), rel=1e-9)


@given(girths, lengths)
def test_inches_and_feet_give_the_same_timber(girth, length):
    """A hoppus foot is a cubic foot of the rule's volume, whichever units were taped."""
    in_feet = quarter_girth_hoppus_ft(girth / 2.54, length / 0.3048)
    assert in_feet == pytest.approx(quarter_girth_m3(girth, length) / 0.3048**3, rel=1e-12)
    assert hoppus_true_m3(in_feet) == pytest.approx(huber_from_girth_m3(girth, length), rel=1e-12)


@given(st.floats(0, 1e6))
def test_sold_and_true_undo_each_other(volume):
    """There and back."""
    assert hoppus_true_m3(hoppus_sold_ft(volume)) == pytest.approx(volume, rel=1e-14)


@given(girths, lengths, st.floats(0, 0.95))
def test_under_bark_takes_two_thicknesses_off_the_diameter(girth, length, share):
    """The girth's 2πt is the diameter's 2t."""
    bark = share * girth / (2 * np.pi)
    under = under_bark_diameter_cm(girth / np.pi, bark)
    rule = quarter_girth_under_bark_m3(girth, bark, length)
    assert rule == pytest.approx(np.pi / 4 * huber_m3(under, length), rel=1e-9)


@given(st.floats(20, 100), girths, lengths)
def test_over_bark_against_the_wood(factor, girth, length):
    """The stated error is that of the rule's figure over bark against Huber's under bark."""
    wood = huber_m3(girth / np.pi * factor / 100, length)
    said = over_percent(quarter_girth_m3(girth, length), wood)
    assert said == pytest.approx(quarter_girth_over_percent(factor), rel=1e-9, abs=1e-9)


def test_the_bark_that_the_rule_forgives():
    """At a bark factor of √π/2 the two errors cancel; a thicker bark makes the figure too large."""
    even = 100 * np.sqrt(np.pi) / 2
    assert quarter_girth_over_percent(even) == pytest.approx(0, abs=1e-11)
    assert quarter_girth_over_percent(even - 1) > 0 > quarter_girth_over_percent(even + 1)


def test_many_in_one_call():
    """Arrays broadcast, single logs give floats."""
    assert quarter_girth_m3([100, 120, 140], [[4], [6]]).shape == (2, 3)
    assert quarter_girth_over_percent([100, 90]).shape == (2,)
    assert isinstance(quarter_girth_hoppus_ft(48, 12), float)
    assert pytest.approx(HOPPUS_FOOT_FT3 * 0.3048**3) == HOPPUS_FOOT_M3


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: quarter_girth_m3(0, 5), "mid_girth_cm is 0 cm"),
        (lambda: quarter_girth_m3(np.nan, 5), "mid_girth_cm is nan"),
        (lambda: quarter_girth_m3(120, 600), "log_length_m is 600 m"),
        (lambda: quarter_girth_hoppus_ft(-1, 5), "mid_girth_in is -1 in"),
        (lambda: quarter_girth_hoppus_ft(48, 0), "log_length_ft is 0 ft"),
        (lambda: hoppus_true_m3(-1), "volume_hoppus_ft is -1 hoppus ft"),
        (lambda: hoppus_sold_ft("1"), "volume_m3 is '1'"),
        (lambda: quarter_girth_under_bark_m3(60, 9.6, 5), "bark_thickness_cm is 9.6 cm"),
        (lambda: quarter_girth_under_bark_m3(60, -1, 5), "bark_thickness_cm is -1 cm"),
        (lambda: quarter_girth_over_percent(101), "factor_percent is 101 %"),
    ],
)
def test_refusals(call, said):
    """Each names the argument, its value and what is expected."""
    with pytest.raises(MeasureError, match=f"^{said}.*expected"):
        call()
