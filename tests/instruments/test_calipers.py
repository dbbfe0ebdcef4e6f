"""Calipers: one width a direction; three means of the same readings."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.instruments import MEANS, Calipers, evenly_turned_deg, mean_cm
from mensura.stems import Ellipse, Outline, RoughBark, circle

readings = st.lists(st.floats(1, 200), min_size=1, max_size=20)


def test_readings_on_the_axes():
    """On the axes calipers read the axes."""
    assert Calipers().read(Ellipse(60, 48), [0, 90]) == pytest.approx([60, 48], rel=1e-14)


def test_shape_is_stems_then_directions():
    """Three stems in four directions make a table of three by four."""
    stems = Ellipse([60, 50, 40], 40)
    table = Calipers().read(stems, [0, 45, 90, 135])
    assert table.shape == (3, 4)
    assert table[1] == pytest.approx(Calipers().read(Ellipse(50, 40), [0, 45, 90, 135]))
    square = [[0, 0], [9, 0], [9, 9], [0, 9]]
    assert Calipers().read(Outline([square, square]), [0, 45]).shape == (2, 2)
    assert Calipers().read(circle(40), 30).shape == (1,)


def test_calipers_ride_the_ridges():
    """Rough bark takes wood away and leaves the readings almost as they were."""
    smooth, rough = Ellipse(60, 48), RoughBark(Ellipse(60, 48), 60, 2.0, 7)
    directions = evenly_turned_deg(18)
    difference = Calipers().read(smooth, directions) - Calipers().read(rough, directions)
    assert (difference >= -1e-12).all()
    assert difference.max() < 0.3
    assert smooth.area_cm2 - rough.area_cm2 > 50


@given(readings)
def test_order_of_the_means(values):
    """Geometric ≤ arithmetic ≤ quadratic, all within the readings."""
    geometric, arithmetic, quadratic = (
        mean_cm(values, kind) for kind in ("geometric", "arithmetic", "quadratic")
    )
    slack = 1 + 1e-12
    assert min(values) <= geometric * slack
    assert geometric <= arithmetic * slack
    assert arithmetic <= quadratic * slack
    assert quadratic <= max(values) * slack


@given(readings, st.sampled_from(MEANS), st.floats(0.1, 9))
def test_means_scale_and_do_not_mind_the_order(values, kind, factor):
    """A mean of k-fold readings is k-fold; the order of reading is free."""
    mean = mean_cm(values, kind)
    assert mean_cm(np.array(values) * factor, kind) == pytest.approx(mean * factor, rel=1e-12)
    assert mean_cm(values[::-1], kind) == pytest.approx(mean, rel=1e-12)


def test_means_by_hand():
    """60 and 48 cm: 54, √2880 and √2952."""
    assert mean_cm([60, 48]) == 54
    assert mean_cm([60, 48], "geometric") == pytest.approx(np.sqrt(2880), rel=1e-14)
    assert mean_cm([60, 48], "quadratic") == pytest.approx(np.sqrt(2952), rel=1e-14)


def test_means_of_many_stems():
    """The mean is taken over the last axis."""
    assert mean_cm([[60, 48], [40, 40]]).tolist() == [54, 40]
    assert type(mean_cm([60, 48])) is float


def test_even_directions():
    """Directions part the half turn evenly and start where they are told to."""
    assert evenly_turned_deg(4).tolist() == [0, 45, 90, 135]
    assert evenly_turned_deg(2, -30).tolist() == [-30, 60]
    assert evenly_turned_deg(1, 12.5).tolist() == [12.5]


@pytest.mark.parametrize("count", [0, -1, 2.5, "2", True])
def test_counts_that_cannot_be(count):
    """There is at least one direction."""
    with pytest.raises(MeasureError, match=r"^count is .*a whole number from 1"):
        evenly_turned_deg(count)


def test_start_must_be_a_number():
    """The first direction is checked."""
    with pytest.raises(MeasureError, match=r"^start_deg is nan deg"):
        evenly_turned_deg(2, np.nan)


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ([60, 0], r"readings_cm \(item 2\) is 0 cm; expected a finite number above 0"),
        ([60, -1], r"readings_cm \(item 2\) is -1 cm"),
        ([np.nan], r"readings_cm \(item 1\) is nan cm"),
        ([2001], r"readings_cm \(item 1\) is 2001 cm; .*at most 2000 cm"),
        ([], r"readings_cm is nothing; expected at least one reading"),
        ("60", "readings_cm is '60' cm"),
        (["60", "48"], r"readings_cm is \['60', '48'\] cm"),
    ],
)
@pytest.mark.parametrize("kind", MEANS)
def test_readings_that_cannot_be(values, said, kind):
    """Each refusal names the reading and the bound."""
    with pytest.raises(MeasureError, match=f"^{said}"):
        mean_cm(values, kind)


def test_means_that_are_not_there():
    """The refusal lists the means there are."""
    with pytest.raises(MeasureError, match=r"^kind is 'harmonic'; expected one of: arithmetic"):
        mean_cm([60, 48], "harmonic")


@pytest.mark.parametrize("direction", [np.nan, np.inf, "north", [0, np.nan]])
def test_directions_that_cannot_be(direction):
    """A direction is a finite number of degrees."""
    with pytest.raises(MeasureError, match=r"^directions_deg "):
        Calipers().read(circle(40), direction)
