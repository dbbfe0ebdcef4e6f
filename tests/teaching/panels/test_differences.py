"""The panel on tape against calipers: its limits by hand, and the oval's part by the ellipse."""

from __future__ import annotations

import numpy as np
import pytest

from mensura.estimates import limits_from_differences, ovality_part_from_axes_cm
from mensura.teaching.controls import State
from mensura.teaching.panels.differences import (
    CHOICES,
    CONTROLS,
    DIRECTIONS,
    LEAST_TIMES,
    LONGEST,
    MOST_TIMES,
    OF_PAIRS,
    OFF_ZERO,
    OVAL_OUT,
    STRETCHED,
    TAKEN_OUT,
    _class,
    numbers,
    whole_state,
)

STATES: list[State] = [
    whole_state(**{one.name: end}) for one in (*CONTROLS, *CHOICES) for end in one.ends
]
#: Readings without any spread that can be set to nought.
SURE = {"girth_cm": 0.1, "width_cm": 0.05}


@pytest.mark.parametrize("state", STATES)
def test_limits_are_those_of_what_is_shown(state: State) -> None:
    """The estimate's own of the dots; the mean by hand, every stem alike."""
    shown = numbers(**state)
    own = limits_from_differences(shown.stem, shown.difference_cm, shown.hand)
    assert (own.lower_cm, own.upper_cm) == (shown.agreement.lower_cm, shown.agreement.upper_cm)
    stems = np.unique(shown.stem)
    means = [shown.difference_cm[shown.stem == one].mean() for one in stems]
    assert shown.agreement.mean_cm == pytest.approx(np.mean(means))
    half = 1.959964 * shown.agreement.spread_cm
    assert shown.agreement.upper_cm - shown.agreement.mean_cm == pytest.approx(half, rel=1e-6)


def test_single_readings_swing_with_the_oval() -> None:
    """As the exact ellipse has it, to the spread of readings and hands."""
    shown = numbers(**whole_state(**SURE))
    size, times, stands, _, _ = _class(5)
    half = size[:20, None] * 8 / 200 * times[:20, None]
    _, exact = ovality_part_from_axes_cm(
        size[:20, None] + half, size[:20, None] - half, stands[:20, :5]
    )
    left = shown.difference_cm - exact.ravel()
    assert left.std() < 0.25 < 1.2 < shown.difference_cm.std()
    assert shown.off_axis_deg == pytest.approx(stands[:20, :5].ravel())
    assert LEAST_TIMES < times.min() < times.max() < MOST_TIMES


def test_the_oval_s_part_comes_from_the_other_hands() -> None:
    """Held in one direction by all nobody knows it; as each stands, most; and it takes most out."""
    out = numbers(**OVAL_OUT)
    assert out.taken_out
    assert out.agreement.spread_cm < out.left_in.spread_cm / 2
    assert out.difference_cm.size == np.count_nonzero(out.known) > 50
    for way in DIRECTIONS[1:]:
        shown = numbers(**whole_state(directions=way, oval=TAKEN_OUT))
        assert not shown.taken_out
        assert not shown.known.any()
        assert shown.agreement is shown.left_in
        assert shown.difference_cm.size == 100
    assert not numbers(**whole_state(hand_count=2, oval=TAKEN_OUT)).taken_out


def test_a_pair_is_nearly_free_of_the_oval() -> None:
    """Of pairs the spread is the same whether stems are round or not."""
    oval, round_ = (
        numbers(**OF_PAIRS | {"out_of_round_percent": one}).agreement.spread_cm for one in (12, 0)
    )
    assert oval == pytest.approx(round_, rel=0.15)
    single = numbers(**whole_state(out_of_round_percent=12.0)).agreement.spread_cm
    assert single > 5 * oval


def test_presets_show_what_they_are_called() -> None:
    """The longest way reads over, calipers off zero shift, a stretched tape grows with the stem."""
    assert numbers(**LONGEST).agreement.mean_cm < -1
    assert numbers(**OFF_ZERO).agreement.mean_cm == pytest.approx(-0.8, abs=0.2)
    trend = numbers(**STRETCHED).trend
    assert trend is not None
    assert trend.grows
    assert trend.rise == pytest.approx(-0.025, abs=0.006)


def test_no_state_changes_what_all_share() -> None:
    """The same class again after another."""
    first = numbers(**whole_state())
    numbers(**OFF_ZERO)
    assert np.array_equal(numbers(**whole_state()).difference_cm, first.difference_cm)
