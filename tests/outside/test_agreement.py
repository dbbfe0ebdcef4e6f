"""Limits of agreement against the example they were published with, from its raw figures.

Peak flow of 17 people by two meters, twice each, in litres a minute [BlandAltman1986, table 1],
read. A person stands for a stem, and a litre a minute for a cm.
"""

import numpy as np
import pytest
from scipy.stats import nct

from mensura.estimates import (
    into_cells,
    limits_from_differences,
    limits_of_agreement,
    one_way_parts,
)

LARGE = """494 395 516 434 476 557 413 442 650 433 417 656 267 478 178 423 427
490 397 512 401 470 611 415 431 638 429 420 633 275 492 165 372 421"""
MINI = """512 430 520 428 500 600 364 380 658 445 432 626 260 477 259 350 451
525 415 508 444 500 625 460 390 642 432 420 605 227 467 268 370 443"""
PEOPLE = np.arange(17)


def both(text):
    """First and second readings, a row each."""
    return np.array([[float(one) for one in row.split()] for row in text.split("\n")])


def of_both(text):
    """Both readings as cells: one hand."""
    return into_cells(np.zeros(34, int), np.tile(PEOPLE, 2), both(text).ravel())


def first_readings(k=2.0):
    return limits_from_differences(PEOPLE, both(LARGE)[0] - both(MINI)[0], coverage_factor=k)


def test_mean_spread_and_limits():
    """Mean −2.1, spread 38.8, limits −79.7 and 75.5 at two standard deviations, which were worked
    out from the rounded 38.8; −79.6 and 75.4 unrounded; −78.1 and 73.9 at 1.96: three versions of
    one pair are about [BlandAltman1986]."""
    found = first_readings()
    assert found.mean_cm == pytest.approx(-2.1, abs=0.05)
    assert found.spread_cm == pytest.approx(38.8, abs=0.05)
    assert (found.lower_cm, found.upper_cm) == pytest.approx((-79.7, 75.5), abs=0.1)
    assert (found.lower_cm, found.upper_cm) == pytest.approx((-79.65, 75.41), abs=5e-3)
    other = first_readings(1.959963984540054)
    assert (other.lower_cm, other.upper_cm) == pytest.approx((-78.1, 73.9), abs=0.05)


def test_intervals():
    """The mean from −22.0 to 17.8 (standard error 9.4, Student's 2.12 with 16 degrees), from
    memory. Of the limits −114.3 to −45.1 and 40.9 to 110.1 are printed, from memory: by standard
    errors, even on both sides. Ours lean outwards, as a spread is rather larger than smaller: they
    differ by less than a fifth of their length, and are Student's noncentral t, by SciPy."""
    found = first_readings()
    assert found.mean_interval_cm == pytest.approx((-22.0, 17.8), abs=0.06)
    assert found.freedom == 16
    assert found.lower_interval_cm == pytest.approx((-114.3, -45.1), abs=69.2 / 5)
    assert found.upper_interval_cm == pytest.approx((40.9, 110.1), abs=69.2 / 5)
    assert found.lower_interval_cm[0] < -114.3
    assert found.upper_interval_cm[1] > 110.1
    ends = nct.ppf([0.025, 0.975], 16, 2 * 17**0.5) * found.spread_cm / 17**0.5
    assert found.upper_interval_cm == pytest.approx(found.mean_cm + ends, rel=2e-3)
    assert found.lower_interval_cm == pytest.approx(found.mean_cm - ends[::-1], rel=2e-3)


def test_repeats_of_either_meter():
    """Spread within people 15.3 and 19.9 [BlandAltman1999]; repeatability 43.2 and 56.4 from
    rounded figures, 43.3 and 56.3 unrounded [BlandAltman1986]; all from memory."""
    for text, within, twice in ((LARGE, 15.3, 43.2), (MINI, 19.9, 56.4)):
        found = one_way_parts(np.tile(PEOPLE, 2), both(text).ravel())
        assert found.within_cm2**0.5 == pytest.approx(within, abs=0.05)
        assert 2 * (2 * found.within_cm2) ** 0.5 == pytest.approx(twice, abs=0.1)


def test_means_of_two_mended():
    """The means of two readings differ by a spread of 33.2, single readings by 37.7, since a mean
    of two hides half of the repeats' variance [BlandAltman1986], from memory."""
    found = limits_of_agreement(of_both(LARGE), of_both(MINI))
    assert found.between_stems_cm == pytest.approx(33.2, abs=0.05)
    assert found.spread_cm == pytest.approx(37.7, abs=0.05)
    assert (found.first_repeat_cm, found.second_repeat_cm) == pytest.approx((15.3, 19.9), abs=0.05)
    assert (found.stems, found.hands, found.cells) == (17, 1, 17)
