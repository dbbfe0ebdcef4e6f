"""Stragglers and outliers in tables that were made with and without them."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mensura.estimates import into_cells, mandel_statistics, mark_outliers
from mensura.estimates.outliers import MARKS, TESTS


def full(read):
    """Readings of shape (stems, hands, repeats) as cells."""
    stem, hand, _ = np.indices(read.shape).reshape(3, -1)
    return into_cells(hand, stem, np.ravel(read))


def drawn(stems=400, hands=7, repeats=3, seed=1):
    rng = np.random.default_rng(seed)
    read = 40 + rng.normal(size=(stems, hands, 1)) * 0.5
    return read + rng.normal(size=(stems, hands, repeats)) * 0.3


def words(found, cell):
    return MARKS[found.mark[cell]], TESTS[found.test[cell]]


def test_false_alarms_are_as_many_as_chance_allows():
    """Of 2000 sound stems Cochran marks five in a hundred and calls one in a hundred an outlier;
    so does Grubbs for one, and for two."""
    table = full(drawn(stems=2000, seed=3))
    found = mark_outliers(table)
    for test in (1, 2, 3):
        hit = np.unique(table.stem[found.test == test]).size / 2000
        out = np.unique(table.stem[(found.test == test) & found.outlying]).size / 2000
        assert 0.03 < hit < 0.065, TESTS[test]
        assert 0.003 < out < 0.018, TESTS[test]


def test_a_hand_that_scatters_is_found_by_cochran():
    """One cell's repeats 3 cm apart where others are within .6 or so."""
    read = drawn(stems=5)
    read[2, 4] = [39.0, 42.0, 40.5]
    found = mark_outliers(full(read))
    assert words(found, 2 * 7 + 4) == ("outlier", "Cochran")
    assert found.statistic[2 * 7 + 4] > found.critical[2 * 7 + 4]


def test_two_that_scatter_are_found_one_after_the_other():
    """Set aside in turn, so that the greater does not hide the lesser."""
    read = drawn(stems=3, hands=12)
    read[1, 4] = [35.0, 45.0, 40.5]
    read[1, 9] = [38.0, 42.5, 40.5]
    found = mark_outliers(full(read))
    by_cochran = np.flatnonzero(found.outlying & (found.test == 1))
    assert by_cochran.tolist() == [12 + 4, 12 + 9]


def test_one_and_two_far_means_are_found_by_grubbs():
    """One hand 4 cm high; on another stem two hands 4 cm low, which hide each other from the test
    for one."""
    rng = np.random.default_rng(8)
    read = 40 + rng.normal(size=(3, 9, 1)) * 0.3 + rng.normal(size=(3, 9, 2)) * 0.1
    read[0, 5] += 4
    read[1, [2, 6]] -= 4
    found = mark_outliers(full(read))
    assert words(found, 5) == ("outlier", "Grubbs")
    assert words(found, 9 + 2) == words(found, 9 + 6) == ("outlier", "Grubbs for two")
    assert not found.outlying[18:].any()


def test_one_step_of_the_scale_is_no_outlier():
    """All repeats equal but one pair a millimetre apart: an outlier by the bare formula, nothing
    to a scale that is read to the millimetre."""
    read = np.full((1, 8, 2), 40.0)
    read[0, 3, 1] += 0.1
    read += np.arange(8)[None, :, None] * 0.1
    assert words(mark_outliers(full(read)), 3) == ("outlier", "Cochran")
    assert not mark_outliers(full(read), step_cm=0.1).mark.any()


@settings(deadline=None, max_examples=50)
@given(
    st.lists(
        st.tuples(st.integers(0, 5), st.integers(0, 3), st.integers(380, 420)),
        min_size=1,
        max_size=60,
    )
)
def test_any_table_goes_through(rows):
    """Empty, single and equal cells: no error, a mark for each, a statistic for each marked one;
    and Mandel's statistics are those of plain loops."""
    hand, stem, read = zip(*rows, strict=True)
    table = into_cells(hand, stem, np.array(read) / 10)
    found, shown = mark_outliers(table), mandel_statistics(table)
    assert ((found.mark > 0) == (found.test > 0)).all()
    assert (np.isfinite(found.statistic) == (found.mark > 0)).all()
    cells = {}
    for h, s, x in rows:
        cells.setdefault((s, h), []).append(x / 10)
    for place, (s, h) in enumerate(sorted(cells)):
        means = [np.mean(one) for (t, _), one in cells.items() if t == s]
        if len(means) >= 3 and np.std(means) > 1e-6:
            expected = (np.mean(cells[s, h]) - np.mean(means)) / np.std(means, ddof=1)
            assert shown.h[place] == pytest.approx(expected, abs=1e-6)
        variances = [np.var(o, ddof=1) for (t, _), o in cells.items() if t == s and len(o) > 1]
        if len(variances) >= 2 and sum(variances) > 1e-6 and len(cells[s, h]) > 1:
            expected = (np.var(cells[s, h], ddof=1) / np.mean(variances)) ** 0.5
            assert shown.k[place] == pytest.approx(expected, abs=1e-6)


def test_mandel_has_its_critical_values_beside_it():
    """For as many hands and repeats as there are on the stem, nan where there are too few."""
    table = into_cells([0, 0, 1, 1, 2, 2, 0], [0] * 6 + [1], [9.0, 11, 10, 12, 14, 18, 20])
    shown = mandel_statistics(table)
    assert shown.h_straggler[:3] == pytest.approx([1.15] * 3, abs=5e-3)
    assert shown.k_straggler[:3] == pytest.approx([1.65] * 3, abs=5e-3)
    assert np.isnan([shown.h[3], shown.k[3], shown.h_outlier[3], shown.k_outlier[3]]).all()


def test_two_equal_means_beside_a_third_are_rounding_and_no_outlier() -> None:
    """Read to 0.1: 30.0, 30.0 and 30.2 are as far apart as Grubbs's statistic of three goes."""
    table = into_cells([0, 1, 2], [0, 0, 0], [30.0, 30.0, 30.2])
    assert mark_outliers(table).mark.max() == 2
    assert mark_outliers(table, 0.1).mark.max() == 0
    far = into_cells([0, 1, 2], [0, 0, 0], [30.0, 30.0, 45.0])
    assert mark_outliers(far, 0.1).mark.tolist() == [0, 0, 2]
