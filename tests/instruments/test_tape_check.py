"""A check beside a reference: a condition that is put in comes out."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.instruments import Tape, check_tape


@given(st.floats(-5, 45), st.floats(0, 20))
def test_a_condition_is_found_again(stretch, worn):
    """Readings of a tape that is so worn and stretched, at three places, to the last digit."""
    there = Tape(stretch_percent=stretch, worn_start_cm=worn)
    true = np.array([50.0, 100.0, 150.0])
    found = check_tape(true, there.marks_cm(true)[0], thickness_cm=0.04)
    assert found.tape.stretch_percent == pytest.approx(stretch, abs=1e-9)
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
