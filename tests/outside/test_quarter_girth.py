"""The quarter-girth rule against a dictionary of units, and two mixed-up pages set right."""

import pytest

from mensura.estimates import (
    HOPPUS_FOOT_FT3,
    HOPPUS_FOOT_M3,
    hoppus_sold_ft,
    hoppus_true_m3,
    huber_from_girth_m3,
    quarter_girth_hoppus_ft,
    quarter_girth_m3,
    quarter_girth_over_percent,
    quarter_girth_under_bark_m3,
)


def test_share_of_the_true_volume():
    """78.54 %, short by 21.46 % (forestry dictionary, read; π/4 by hand)."""
    share = quarter_girth_m3(120, 6) / huber_from_girth_m3(120, 6)
    assert 100 * share == pytest.approx(78.54, abs=5e-3)
    assert quarter_girth_over_percent() == pytest.approx(-21.46, abs=5e-3)


def test_the_hoppus_foot():
    """1.273 cubic feet, 0.036054 m³ [Rowlett]."""
    assert pytest.approx(1.273, abs=5e-4) == HOPPUS_FOOT_FT3
    assert pytest.approx(0.036054, abs=5e-7) == HOPPUS_FOOT_M3
    assert hoppus_true_m3(1) == HOPPUS_FOOT_M3


def test_the_hoppus_ton():
    """50 hoppus feet are 1.8027 m³ (encyclopedia, read)."""
    assert hoppus_true_m3(50) == pytest.approx(1.8027, abs=5e-5)
    assert hoppus_sold_ft(1.8027) == pytest.approx(50, abs=2e-3)


def test_both_percentages_have_their_place():
    """Two pages that we read call the rule's figure 27.3 % below the true volume, or the true
    volume 21 % above it. By hand: the figure is 1 − π/4 = 21.46 % below the true volume, which is
    4/π − 1 = 27.32 % above the figure."""
    rule, true = quarter_girth_m3(120, 6), huber_from_girth_m3(120, 6)
    assert 100 * (true - rule) / true == pytest.approx(21.46, abs=5e-3)
    assert 100 * (true - rule) / rule == pytest.approx(27.32, abs=5e-3)


def test_a_hundred_super_feet():
    """100 super feet are 100/12 hoppus feet, 0.3005 m³; a page of forest history prints 0.301,
    its last figure one too high."""
    assert hoppus_true_m3(100 / 12) == pytest.approx(0.300451, abs=5e-7)
    assert abs(hoppus_true_m3(100 / 12) - 0.301) > 5e-4


def test_by_hand():
    """A girth of 48 in over 12 ft: a side of 1 ft, so 12 hoppus feet. The same log in metres, with
    half an inch of bark: the girth loses π inches, its quarter π/4 of an inch."""
    assert quarter_girth_hoppus_ft(48, 12) == 12
    bark = quarter_girth_under_bark_m3(48 * 2.54, 1.27, 12 * 0.3048) / 0.3048**3
    side_in = 12 - 3.141592653589793 / 4
    assert bark == pytest.approx(12 * (side_in / 12) ** 2, rel=1e-12)
