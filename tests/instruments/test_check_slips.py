"""Likely slips: what a keyboard does is named, and a sound check is left in peace."""

import numpy as np
import pytest
from scipy.stats import t as student

from mensura.instruments import likely_slips
from mensura.instruments.check_slips import SHIFTED, SHRUNK, SWAPPED, TURNED, UNITS, far_reading

MARKS = np.repeat([40.0, 70.0, 100.0, 130.0, 160.0, 190.0], 3)
READ = np.round(MARKS / 1.008 + 0.6 + 0.07 * np.random.default_rng(2).standard_normal(18), 1)
DRAWN = 2000


def typed(place, value, column="reading"):
    true, read = MARKS.copy(), READ.copy()
    (read if column == "reading" else true)[place] = value
    return likely_slips(true, read, 0.1)


@pytest.mark.parametrize("step", [0.0, 0.1, 0.5, 1.0])
@pytest.mark.parametrize("repeats", [1, 3])
@pytest.mark.parametrize("marks", [3, 4, 10, 20])
def test_sound_checks_are_left_in_peace(marks, repeats, step):
    """Of 2,000 drawn tapes at most two are told of a far reading, and few by all the rules."""
    rng = np.random.default_rng(5)
    for hand, even in ((0.05, True), (0.3, False), (1.0, True)):
        places = np.linspace(20, 200, marks) if even else np.sort(rng.uniform(20, 200, marks))
        true = np.repeat(places, repeats)
        stretch, worn = rng.uniform(-0.5, 1.5, (DRAWN, 1)), rng.uniform(-0.3, 2.0, (DRAWN, 1))
        read = true / (1 + stretch / 100) + worn
        read += hand * (step or 0.1) * rng.standard_normal(read.shape)
        read = np.round(read / step) * step if step else read
        assert np.sum(far_reading(true, read, step) >= 0) <= 2
        for one in read[:40]:
            assert likely_slips(true, one, step) == (), (hand, even)


@pytest.mark.parametrize("step", [0.1, 1.0])
def test_all_rules_on_two_thousand_drawn_tapes(step):
    """At most two of them, by any rule: six marks read once, and three at odd places."""
    rng = np.random.default_rng(8)
    for true in (np.linspace(40, 190, 6), np.array([33.7, 90.2, 171.9])):
        fired = 0
        for _ in range(DRAWN):
            read = true / (1 + rng.uniform(-0.5, 1.5) / 100) + rng.uniform(-0.3, 2)
            read = np.round((read + 0.5 * step * rng.standard_normal(true.size)) / step) * step
            fired += bool(likely_slips(true, read, step))
        assert fired <= 2


def test_students_test_against_a_line_without_the_reading():
    """The limit, by numpy's line through all the others and its own uncertainty there."""
    true = np.array([40.0, 70.0, 100.0, 130.0, 160.0, 190.0, 220.0])
    read = true + np.array([0.1, -0.1, 0.0, 0.15, -0.05, -0.1, 0.0])
    others = np.arange(7) != 2
    line, spread = np.polyfit(true[others], read[others], 1, cov=True)
    at = np.array([true[2], 1.0])
    own = np.sum((read - np.polyval(line, true))[others] ** 2) / 4
    reach = student.ppf(1 - 2e-4 / 7 / 2, 4) * np.sqrt(own + at @ spread @ at)
    for share, place in ((0.99, -1), (1.01, 2)):
        read[2] = np.polyval(line, true[2]) + share * reach
        assert far_reading(true, read) == place
    assert far_reading(true[:3], [1.0, 99.0, 100.0]) == -1


def test_one_figure_mistyped():
    """Each by its row and column, with what it may have been meant to be."""
    (one,) = typed(7, 1006.0)
    assert (one.place, one.value_cm, one.slip) == (7, 1006.0, SHIFTED)
    assert one.would_be_cm == pytest.approx(100.6)
    (one,) = typed(7, 9.9)
    assert (one.slip, one.would_be_cm) == (SHRUNK, pytest.approx(99.0))
    (one,) = typed(10, READ[10] + 10)
    assert (one.place, one.column, one.slip) == (10, "reading_cm", "10 cm miscounted")
    assert one.would_be_cm == pytest.approx(READ[10])
    assert one.expected_cm == pytest.approx(READ[10], abs=0.3)
    (one,) = typed(13, 195.3)
    assert (one.slip, one.would_be_cm) == (TURNED, 159.3)
    (one,) = typed(0, 47.3)
    assert (one.slip, one.would_be_cm) == ("", None)


def test_a_reference_mistyped():
    """The reference is told where it would be one of the others; 17 for 70 was not turned."""
    for value, meant in ((230.0, 130.0), (1300.0, 130.0), (31.0, None)):
        (one,) = typed(9, value, "reference")
        assert (one.place, one.would_be_cm) == (9, meant)
        assert one.column == ("reference_cm" if meant else "reading_cm")


def test_all_of_them():
    """mm typed as cm throughout, dm, inches, and columns swapped."""
    for factor, slip in ((10, SHIFTED), (0.1, SHRUNK), (1 / 2.54, UNITS), (1.07, UNITS)):
        (one,) = likely_slips(MARKS, factor * READ, 0.1 * factor)
        assert (one.place, one.slip) == (None, slip)
    assert likely_slips(MARKS, 1.04 * MARKS, 0.1) == ()
    assert likely_slips(MARKS, 1.06 * MARKS, 0.1, "calipers")[0].slip == UNITS
    (one,) = likely_slips(READ, MARKS, 10.0)
    assert one.slip == SWAPPED
    assert likely_slips([50, 100], [50.5, 99.9], 0.1) == ()
    assert likely_slips([50, 100, 150], [100, 60, 20], 1) == ()
