"""Growth from repeated readings: printed limits, published girths, textbook factors."""

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import norm, ttest_rel

from mensura.estimates import area_from_girth_cm2
from mensura.estimates.growth import (
    OTHER,
    ReadingDoubts,
    area_growth_a_year_percent,
    growth_between,
    least_growth,
    stands_out_after_years,
)
from mensura.estimates.stand_growth import stand_growth, u_mean_growth_cm
from mensura.stems import orange_girths

NONE = ReadingDoubts(0, 0, 0, 0, 0, 0, 0)


@pytest.mark.parametrize(
    ("spread", "printed"),
    # s_r and r, s_R and R as printed for three levels [BRE-LA], tables 1: there 1.96·√2 is 2.8
    [(0.213, 0.6), (0.487, 1.4), (0.572, 1.6), (0.459, 1.3), (1.364, 3.8), (2.348, 6.6)],
)
def test_chance_is_the_printed_repeatability_limit(spread, printed):
    chance = least_growth(100.0, replace(NONE, repeat_cm=spread)).chance_cm
    assert chance * 2.8 / 2.772 == pytest.approx(printed, abs=0.05)


def test_four_trained_hands():
    """0.3 cm of diameter from one to another [Luoma2017]: under 0.83 cm, 2.77 times as much, a
    difference of two readings is no growth; by hand."""
    least = least_growth(60.0, replace(NONE, repeat_cm=math.pi * 0.3))
    assert least.chance_cm / math.pi == pytest.approx(0.83, abs=0.005)


def test_the_factor_for_nine_of_ten():
    """2·(z + z')² is 21.0 for five in a hundred and nine of ten: the number of readings on each
    side for a difference of one spread, as textbooks on trials print it (from memory)."""
    size = least_growth(100.0, replace(NONE, repeat_cm=1.0)).found_cm
    assert size**2 == pytest.approx(21.0, abs=0.05)
    assert size**2 == pytest.approx(2 * (norm.ppf(0.975) + norm.ppf(0.9)) ** 2, rel=1e-9)


def test_ten_alike_add_plainly_and_ten_apart_by_squares():
    """Ten resistors against one standard of 100 mΩ: 1 Ω together, and 0.32 Ω if they were apart
    [GUM1995, clause 5.2.2, example, from memory]."""
    shared = replace(NONE, start_cm=0.1 / math.sqrt(2))
    assert 10 * u_mean_growth_cm(10, 100, 5, 0, shared, OTHER) == pytest.approx(1.0)
    apart = replace(NONE, repeat_cm=0.1 / math.sqrt(2))
    assert 10 * u_mean_growth_cm(10, 100, 5, 0, apart) == pytest.approx(0.32, abs=0.005)


def test_five_orange_trees():
    """Girths of 118 and 1582 days, and of 1372 and 1582 [Draper1998], by hand and SciPy's pairs."""
    record = orange_girths()
    first, last = record.first_cm, record.last_cm
    years = (1582 - 118) / 365.25
    assert (first.tolist(), last.tolist()) == (
        [3.0, 3.3, 3.0, 3.2, 3.0],
        [14.5, 20.3, 14.0, 21.4, 17.7],
    )
    one = growth_between(3.0, 14.5, years)
    assert one.growth_cm == 11.5
    assert one.a_year_cm == pytest.approx(11.5 / 4.00821, rel=1e-5)
    assert one.area_growth_cm2 == pytest.approx((14.5**2 - 3.0**2) / 12.56637, rel=1e-6)
    assert one.area_growth_cm2 == pytest.approx(
        area_from_girth_cm2(14.5) - area_from_girth_cm2(3.0)
    )
    # the mean of five growths, and its standard error by the growths alone
    mean = stand_growth(first, last, years, NONE)
    assert mean.growth_cm == pytest.approx((11.5 + 17.0 + 11.0 + 18.2 + 14.7) / 5)
    test = ttest_rel(last, first)
    assert mean.growth_cm / mean.averaged_cm == pytest.approx(float(test.statistic), rel=1e-12)


def test_which_orange_trees_had_stopped():
    """In the last 210 days 14.2 → 14.5, 20.3 → 20.3, 13.9 → 14.0, 20.9 → 21.4, 17.4 → 17.7: read
    to the millimetre and 1 mm unsure, a growth of 1 mm is none, one of 5 mm is [Draper1998]."""
    record = orange_girths()
    before = np.array([record.girth_cm[(record.tree == one) & (record.age_days == 1372)][0]
                       for one in range(1, 6)])  # fmt: skip
    doubts = replace(NONE, repeat_cm=0.1)
    told = [
        growth_between(one, two, 210 / 365.25, doubts).stands_out
        for one, two in zip(before, record.last_cm, strict=True)
    ]
    assert told == [True, False, False, True, True]
    # 2.77 mm by hand: three of the five lie beyond
    assert least_growth(14.0, doubts).chance_cm == pytest.approx(0.277, abs=5e-4)


def test_off_the_mark():
    """10 cm off the mark at 1 cm/m is 1 mm of diameter: a fifth of a growth of 5 mm, by hand."""
    doubts = replace(NONE, back_cm=10.0, taper_cm_per_m=1.0)
    one = growth_between(94.2, 94.2 + math.pi * 0.5, 1.0, doubts)
    share = one.u_diameter_growth_cm / math.sqrt(2) / one.diameter_growth_cm
    assert share == pytest.approx(0.2, rel=1e-9)
    assert stands_out_after_years(94.2, math.pi * 0.5, doubts) == pytest.approx(
        3.2415 * math.sqrt(2) * 0.1 / 0.5, rel=1e-4
    )


def test_what_doubles_in_ten_years():
    """7.18 % compound doubles in ten years, as tables of interest print it (2^(1/10) = 1.07177)."""
    percent = area_growth_a_year_percent(50.0, 50.0 * math.sqrt(2), 10.0)
    assert percent == pytest.approx(7.177, abs=5e-4)
