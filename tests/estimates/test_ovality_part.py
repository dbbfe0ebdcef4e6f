"""What ovality explains, against real tapes and calipers on stems whose shape is known."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mensura import MeasureError
from mensura.estimates import ovality_part_from_axes_cm, ovality_parts, pair_part_cm
from mensura.instruments import Calipers
from mensura.stems import Ellipse, RippledOval

CALIPERS = Calipers()


def widths_cm(stem, turns_deg):
    """Real readings of sound calipers in these directions."""
    return CALIPERS.read(stem, turns_deg)


def test_longest_way_and_across_on_a_real_oval():
    """Tape less calipers on an ellipse, in five directions: the exact figure to the last digit,
    the ripple's to the second order."""
    oval, turns = Ellipse(46, 40), [0.0, 20.0, 45.0, 77.0, 90.0]
    truth = oval.taut_girth_cm / np.pi - widths_cm(oval, turns)
    ripple, ellipse = ovality_part_from_axes_cm(46, 40, turns)
    assert ellipse == pytest.approx(truth, abs=1e-12)
    assert ripple == pytest.approx(truth, abs=0.06)
    assert np.abs(truth).max() > 2.9


def test_a_pairs_mean_leaves_nearly_nothing():
    """At right angles, however turned: a hundredth of what one reading shows, and never more than
    (d₁ − d₂)²/7(d₁ + d₂)."""
    oval, turns = Ellipse(46, 40), np.linspace(0, 90, 19)
    pair = (widths_cm(oval, turns) + widths_cm(oval, turns + 90)) / 2
    truth = oval.taut_girth_cm / np.pi - pair
    assert pair_part_cm(46, 40, turns) == pytest.approx(truth, abs=1e-12)
    assert np.abs(truth).max() < 36 / (7 * 86)
    assert np.abs(truth).max() < 0.021 * 3


def test_a_fourth_ripple_is_what_a_pair_cannot_show():
    """An ellipse with 2 mm of a fourth ripple more: the pair's mean is off by twice that on the
    axes, the other way at 45°, and no more than the ellipse's own part is explained."""
    oval = Ellipse(46, 40)
    stem = RippledOval(oval, 0.2)
    for turn, ripple in ((0.0, -0.4), (45.0, 0.4)):
        pair = widths_cm(stem, [turn, turn + 90]).mean()
        left = stem.taut_girth_cm / np.pi - pair - pair_part_cm(46, 40, turn)
        assert left == pytest.approx(ripple, abs=1e-6)


def test_three_directions_by_hand():
    """Widths 42 + 2·cos 2(θ − 30°) at 0, 60 and 120° are 43, 43 and 40: in direction 30° a tape
    reads 2 less than calipers, across 2 more, at 75° as much."""
    stem, hand = [0] * 6, [0, 0, 0, 1, 1, 1]
    turns = [0, 60, 120, 30, 120, 75]
    found = ovality_parts(stem, hand, turns, [43, 43, 40, 44, 40, 42])
    assert found.known.tolist() == [3] * 6
    assert found.figure_cm[3:] == pytest.approx([-2, 2, 0], abs=1e-12)
    assert found.figure_cm[:3] == pytest.approx([-1, -1, 2], abs=1e-12)


@settings(deadline=None, max_examples=60)
@given(
    st.floats(20, 80),
    st.floats(1.0, 1.19),
    st.floats(0, 180),
    st.lists(st.integers(0, 17), min_size=1, max_size=5, unique=True),
    st.floats(0, 180),
)
def test_real_ovals_lie_in_the_range(across, ratio, axis, tens, here):
    """Any oval less than 19 % out of round, read in any directions: what a tape would exceed the
    reading by lies in the range (but for the second order), and is the figure where three
    directions or more tell; on the exact ellipse to the last digits."""
    first, second = across * ratio, across
    turns = np.array([10.0 * one for one in tens])
    oval = Ellipse(first, second)
    read = widths_cm(oval, [*(turns - axis), here - axis])
    stem, hand = np.zeros(read.size, int), np.r_[np.zeros(turns.size, int), 1]
    found = ovality_parts(stem, hand, [*turns, here], read)
    truth = oval.taut_girth_cm / np.pi - read[-1]
    # second order, and as much more as ill-placed directions make of it: at most twice a reading
    second_order = 1e-9 + 4 * (first - second) ** 2 / (first + second)
    assert found.least_cm[-1] - second_order <= truth <= found.greatest_cm[-1] + second_order
    if found.known[-1] == 3:
        assert found.least_cm[-1] == found.greatest_cm[-1]
        assert found.ellipse_cm[-1] == pytest.approx(truth, abs=1e-7)
    else:
        assert np.isnan(found.ellipse_cm[-1])


def test_a_pair_gives_its_own_direction_and_a_range_elsewhere():
    """0 and 90° known: along them a figure; at 45° as far either way as the assumption lets it
    be; at 20° in between, about −c·cos 40°. A less oval class makes a narrower range."""
    turns = [0, 90, 0, 45, 20]
    given_ = ([0] * 5, [0, 0, 1, 1, 1], turns, [44.0, 40.0, 44.1, 42.0, 43.5])
    found = ovality_parts(*given_)
    assert found.figure_cm[2] == pytest.approx(-2.0)
    reach = (42.0 * 20 / 220) ** 2 - 4
    assert found.greatest_cm[3] == pytest.approx(reach**0.5)
    assert found.least_cm[3] == pytest.approx(-(reach**0.5))
    middle = (found.least_cm[4] + found.greatest_cm[4]) / 2
    assert middle == pytest.approx(-2 * np.cos(np.radians(40)))
    tight = ovality_parts(*given_, largest_out_of_round_percent=11)
    assert tight.greatest_cm[3] < found.greatest_cm[3] / 2
    # more oval than assumed: the pair itself is believed, and nothing more
    least = ovality_parts(*given_, largest_out_of_round_percent=5)
    assert (least.least_cm[3], least.greatest_cm[3]) == pytest.approx((0, 0), abs=1e-9)


def test_no_reading_explains_itself():
    """A hand alone on a stem knows nothing of it from others: a range, as wide as assumed."""
    found = ovality_parts([0] * 3, [0] * 3, [0, 60, 120], [44.0, 41.0, 41.0])
    assert found.known.tolist() == [0, 0, 0]
    assert found.greatest_cm == pytest.approx([44 / 11, 41 / 11, 41 / 11])
    assert found.least_cm == pytest.approx(-found.greatest_cm)


def test_a_direction_that_nobody_told():
    """Of a stem that is known by others: from one end of its ovality to the other."""
    found = ovality_parts([0] * 4, [0, 0, 0, 1], [0, 60, 120, float("nan")], [44.0, 41, 41, 43])
    assert (found.least_cm[3], found.greatest_cm[3]) == pytest.approx((-2, 2))
    assert np.isnan(found.ellipse_cm[3])


def test_directions_close_together_do_not_count_as_three():
    """0, 90 and 93°: the third tells next to nothing of sin 2θ, so there is a range."""
    found = ovality_parts([0] * 4, [0, 0, 0, 1], [0, 90, 93, 45], [44.0, 40.0, 40.05, 42.0])
    assert found.known[3] == 2
    assert found.greatest_cm[3] > 2


def test_stems_are_kept_apart():
    """Two stems at once are the two one by one, whatever the order of rows."""
    rng = np.random.default_rng(2)
    stem, hand = rng.integers(0, 2, 60), rng.integers(0, 4, 60)
    turns = rng.choice([0.0, 45.0, 90.0, 120.0], 60)
    read = 40 + 10 * stem + 2 * np.cos(2 * np.radians(turns)) + rng.normal(size=60) * 0.1
    both = ovality_parts(stem, hand, turns, read)
    for one in (0, 1):
        alone = ovality_parts(
            stem[stem == one] * 0, hand[stem == one], turns[stem == one], read[stem == one]
        )
        assert both.least_cm[stem == one] == pytest.approx(alone.least_cm)
        assert both.greatest_cm[stem == one] == pytest.approx(alone.greatest_cm)


@pytest.mark.parametrize(
    ("given_", "field"),
    [
        (([0], [0], [0.0, 1.0], [40.0]), "direction_deg"),
        (([0], [0], [float("inf")], [40.0]), "direction_deg"),
        (([0], [0], [0.0], [-40.0]), "width_cm"),
        (([0], [0], [0.0], [40.0], 101.0), "largest_out_of_round_percent"),
    ],
)
def test_bad_columns_are_refused(given_, field):
    """One sentence that names the column."""
    with pytest.raises(MeasureError) as refused:
        ovality_parts(*given_)
    assert refused.value.field == field
