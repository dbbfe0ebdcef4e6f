"""A check beside a reference: a condition that is put in comes out."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import linregress

from mensura.checks import MeasureError
from mensura.instruments import Tape, check_tape


@given(st.floats(-5, 45), st.floats(0, 20))
def test_a_condition_is_found_again(apart, worn):
    """Readings of a tape that is worn, and stretched or shrunk, at three places, to the last digit.

    apart: by how many per cent its marks have moved apart, or together if below 0.
    """
    stretch, shrunk = max(apart, 0.0), max(-apart, 0.0)
    there = Tape(stretch_percent=stretch, shrink_percent=shrunk, worn_start_cm=worn)
    true = np.array([50.0, 100.0, 150.0])
    found = check_tape(true, there.marks_cm(true)[0], thickness_cm=0.04)
    assert found.tape.stretch_percent == pytest.approx(stretch, abs=1e-9)
    assert found.tape.shrink_percent == pytest.approx(shrunk, abs=1e-9)
    assert found.tape.worn_start_cm == pytest.approx(worn, abs=1e-9)
    assert found.tape.thickness_cm == 0.04
    assert found.misfit_cm < 1e-9


def test_seventy_marks_on_a_hundred_cm():
    """By hand: mark 70 at 100 cm and 35 at 50 are 30/70 of stretch and nothing worn."""
    found = check_tape([50, 100], [35, 70])
    assert found.tape.stretch_percent == pytest.approx(300 / 7)
    assert found.tape.worn_start_cm == pytest.approx(0, abs=1e-12)


def test_a_line_as_another_fit_draws_it():
    """numpy's least squares; the worst reading lies so far off."""
    true, read = np.array([50.0, 100.0, 150.0, 175.0]), np.array([51.3, 100.7, 150.3, 175.4])
    slope, worn = np.polyfit(true, read, 1)
    found = check_tape(true, read)
    assert found.tape.stretch_percent == pytest.approx(100 * (1 / slope - 1))
    assert found.tape.worn_start_cm == pytest.approx(worn)
    assert found.misfit_cm == pytest.approx(np.abs(read - slope * true - worn).max())


PLACES, READ = np.array([50.0, 100.0, 150.0]), np.array([51.3, 100.7, 150.3])


def test_doubt_by_hand():
    """Off by +1/30, −2/30, +1/30 cm: s² = 6/900 with one degree of freedom, so s = 0.0816 cm.

    At no length 100 cm from the middle: s·√(1/3 + 100²/5000) = 0.1247 cm. The rise of 0.99 has
    s/√5000, which is 1/0.99² times as much of the stretch: 0.1178 %.
    """
    found = check_tape(PLACES, READ)
    assert found.spread_cm == pytest.approx(np.sqrt(6) / 30)
    assert found.worn_doubt_cm == pytest.approx(0.1247, abs=5e-5)
    assert found.stretch_doubt_percent == pytest.approx(0.1178, abs=5e-5)
    assert found.doubt_cm([100, 150]) == pytest.approx(
        np.sqrt(6) / 30 / 0.99 * np.sqrt([1 / 3, 1 / 3 + 1 / 2])
    )


def test_doubt_as_other_programs_have_it():
    """scipy.stats.linregress gives both standard errors; numpy's covariance those of the line."""
    true, read = np.array([50.0, 100.0, 150.0, 175.0]), np.array([51.3, 100.7, 150.3, 175.4])
    found, line = check_tape(true, read), linregress(true, read)
    assert found.worn_doubt_cm == pytest.approx(line.intercept_stderr)
    assert found.stretch_doubt_percent == pytest.approx(100 * line.stderr / line.slope**2)
    _, spread = np.polyfit(true, read, 1, cov=True)
    for place in (0.0, 80.0, 240.0):
        across = np.array([place, 1.0])
        of_line = np.sqrt(across @ spread @ across)
        assert found.doubt_cm(place) == pytest.approx(of_line / line.slope, rel=1e-6)


def test_two_places_have_no_doubt_that_could_be_told():
    """A line always goes through two points: how far off it may be is not known."""
    found = check_tape([50, 100], [35, 70])
    assert found.spread_cm is None
    with pytest.raises(MeasureError, match="three places or more"):
        found.doubt_cm(100)


@pytest.mark.parametrize(
    ("true", "read", "field"),
    [
        ([50], [50], "true_cm"),
        ([50, 50], [50, 51], "true_cm"),
        ([50, 100], [50, 100, 150], "true_cm"),
        ([50, 100], [100, 50], "read_cm"),
        ([50, 100], [45, 100], "read_cm"),
        ([50, np.nan], [45, 100], "true_cm"),
    ],
)
def test_what_tells_nothing_of_a_tape(true, read, field):
    """Too few places, one place twice, a tape that falls, a start that was added."""
    with pytest.raises(MeasureError, match=f"^{field}"):
        check_tape(true, read)
