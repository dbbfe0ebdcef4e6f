"""The door: what may enter, and the one sentence for what may not."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import (
    LARGEST_CM,
    MeasureError,
    OutlineError,
    diameter,
    number,
    plain,
    shown,
    whole,
)


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_finite_floats_pass_unchanged(value):
    """A finite number comes back as the same float."""
    passed = number(value, "length_cm", "cm")
    assert passed == value
    assert type(passed) is float


@given(st.lists(st.lists(st.floats(-1e9, 1e9), min_size=2, max_size=2), max_size=5))
def test_arrays_keep_their_shape(rows):
    """Lists of any shape become float64 arrays of that shape."""
    passed = number(rows, "length_cm", "cm")
    assert passed.dtype == np.float64
    assert passed.shape == np.shape(rows)
    assert np.array_equal(passed, np.array(rows, dtype=float))


@given(st.floats(-10, 10), st.floats(-10, 10), st.floats(-10, 10))
def test_bounds(value, low, high):
    """Open bounds shut their own value out, closed ones let it in."""
    for bounds, good in (
        ({"above": low, "below": high}, low < value < high),
        ({"at_least": low, "at_most": high}, low <= value <= high),
    ):
        if good:
            assert number(value, "length_cm", "cm", **bounds) == value
        else:
            with pytest.raises(MeasureError):
                number(value, "length_cm", "cm", **bounds)


@pytest.mark.parametrize(
    ("bounds", "passes", "refused"),
    [
        ({"above": 0}, 5e-324, 0),
        ({"at_least": 0}, 0, -5e-324),
        ({"below": 90}, 89.99999999999999, 90),
        ({"at_most": 2000}, 2000, 2000.0000000000002),
    ],
)
def test_bounds_to_the_last_digit(bounds, passes, refused):
    """The neighbours of a bound, one floating-point step away, fall on the right side."""
    assert number(passes, "length_cm", "cm", **bounds) == passes
    with pytest.raises(MeasureError):
        number(refused, "length_cm", "cm", **bounds)


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (np.nan, "length_cm is nan cm; expected a finite number above 0 cm."),
        (-np.inf, "length_cm is -inf cm; expected a finite number above 0 cm."),
        (0, "length_cm is 0 cm; expected a finite number above 0 cm."),
        ([3, 0], "length_cm (item 2) is 0 cm; expected a finite number above 0 cm."),
        ([[3, 4], [5, np.nan]], "length_cm (item 4) is nan cm; expected a finite number above"),
        ("3", "length_cm is '3'; expected"),
        (b"3", "length_cm is b'3' cm; expected"),
        ("", "length_cm is empty; expected"),
        (True, "length_cm is True cm; expected"),
        ([True, False], "length_cm is [True, False] cm; expected"),
        (["3", "4"], "length_cm is ['3', '4'] cm; expected"),
        (3 + 0j, "length_cm is (3+0j) cm; expected"),
        (np.array([3 + 4j]), "length_cm is array([3.+4.j]) cm; expected"),
        ([[1], [1, 2]], "length_cm is [[1], [1, 2]] cm; expected"),
        ({"a": 1}, "length_cm is {'a': 1} cm; expected"),
        (np.datetime64("2020-01-01"), f"length_cm is {np.datetime64('2020-01-01')!r} cm; expected"),
        (10**400, "length_cm is a number too large to hold cm; expected"),
        pytest.param(10**5000, "length_cm is a number too large to hold cm; expected", id="huge"),
    ],
)
def test_what_may_not_enter(value, said):
    """One sentence names the field, its place, the value, the unit and the expectation."""
    with pytest.raises(MeasureError) as caught:
        number(value, "length_cm", "cm", above=0)
    message = str(caught.value)
    assert message.startswith(said)
    assert message.endswith("expected a finite number above 0 cm.")
    assert isinstance(caught.value, ValueError)


def test_the_first_bad_item_is_named_in_a_long_array():
    """Among a million numbers the first bad one is found."""
    values = np.ones(1_000_000)
    values[[700_000, 900_000]] = -1
    with pytest.raises(MeasureError, match=r"\(item 700001\) is -1 cm"):
        number(values, "length_cm", "cm", above=0)


def test_error_keeps_its_parts():
    """A command or a panel can name the field in its own words."""
    with pytest.raises(MeasureError) as caught:
        number([1, 95], "tilt_deg", "deg", above=-90, below=90)
    error = caught.value
    assert (error.field, error.value, error.unit, error.where) == ("tilt_deg", 95, "deg", "item 2")
    assert error.expectation == "a finite number above -90 and below 90"
    assert error.sentence("--tilt") == (
        "--tilt (item 2) is 95 deg; expected a finite number above -90 and below 90 deg."
    )


def test_outline_error_is_a_measure_error():
    """An outline's fault can be caught with the others, and its field renamed."""
    error = OutlineError("the file is empty.")
    assert isinstance(error, MeasureError)
    assert str(error) == error.sentence("points_cm") == "the file is empty."
    assert error.sentence("--outline") == "--outline: the file is empty."
    assert (error.points, error.file) == ((), "")


def test_an_outline_error_keeps_its_points():
    """Who knows the points by other names says so; nobody looks for them in the sentence."""
    error = OutlineError("the edge from {} to {} meets itself.", (2, 3))
    assert str(error) == error.message == "the edge from point 2 to point 3 meets itself."
    told = error.told("row {}", {2: 7, 3: 9})
    assert str(told) == "the edge from row 7 to row 9 meets itself."
    assert str(told.told("row {}", {7: 1})) == str(told)
    assert str(OutlineError("the column '{0}' is unknown.")) == "the column '{0}' is unknown."


@pytest.mark.parametrize("good", [3, 3.0, np.int64(3), 24, 2000])
def test_whole_numbers(good):
    """Whole numbers of any type become int."""
    assert whole(good, "ridges", at_least=3, at_most=2000) == good
    assert type(whole(good, "ridges", at_least=3, at_most=2000)) is int


@pytest.mark.parametrize("bad", [2, 2001, 3.5, True, "3", None, np.nan, np.inf, [3], 10**400])
def test_what_is_no_whole_number(bad):
    """Halves, words, truth values and what lies outside the bounds are refused."""
    with pytest.raises(MeasureError, match=r"^ridges is .*whole number from 3 to 2000\.$"):
        whole(bad, "ridges", at_least=3, at_most=2000)


def test_no_stem_is_wider_than_20_m():
    """A diameter over 2000 cm is a slip of the unit; 2000 cm itself passes."""
    assert diameter(LARGEST_CM, "first_cm") == 2000
    with pytest.raises(MeasureError, match=r"at most 2000 cm\.$"):
        diameter(np.nextafter(LARGEST_CM, np.inf), "first_cm")


@given(st.one_of(st.text(), st.floats(), st.integers(), st.binary(), st.none(), st.booleans()))
def test_whatever_is_quoted_stays_on_one_line(value):
    """A quoted value is short and printable, so that no message is broken by it."""
    quoted = shown(value)
    assert quoted.isprintable()
    assert 0 < len(quoted) <= 500


def test_arrays_are_quoted_on_one_line():
    """A table of numbers is quoted in one line."""
    assert shown(np.arange(6).reshape(2, 3)) == "array([[0, 1, 2], [3, 4, 5]])"


@given(st.floats(allow_nan=False))
def test_plain(value):
    """A single number becomes a float, many stay an array."""
    assert type(plain(np.float64(value))) is float
    assert type(plain(np.array(value))) is float
    assert plain(np.array([value])).tolist() == [value]
