"""Bars of shares: the scale is the least that holds them, its numbers stand at its lines."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.views.kit import look
from mensura.views.kit.share_bars import ShareBars

SCALES_CM = (0.5, 1.0, 2.0, 4.0)
NAMES = {"play": "play", "press": "press"}


def bars(below: float = 1.0) -> ShareBars:
    """Two rows and their sum, 200 px wide."""
    with look.house_style():
        figure = look.new_figure(480, 240)
        return ShareBars(figure, (120, 46), (200, 160), NAMES, SCALES_CM, below, look.CALIPERS)


KEPT = {below: bars(below) for below in (1.0, 0.5)}


@given(st.sampled_from([1.0, 0.5]), st.floats(-1, 2), st.floats(-1, 2))
def test_the_scale_is_the_least_that_holds_all(below: float, one: float, two: float) -> None:
    """No bar reaches over an end, and the next smaller scale would not hold them."""
    drawn = KEPT[below]
    drawn.show({"play": one, "press": two})
    low, high = drawn.axes.get_xlim()
    assert low == pytest.approx(-below * high)
    ends = [segment[1][0] for segment in drawn.bars.get_segments()]
    assert low <= min(ends)
    if max(ends) <= SCALES_CM[-1] and min(ends) >= -below * SCALES_CM[-1]:
        assert max(ends) <= high
        smaller = [scale for scale in SCALES_CM if scale < high]
        if smaller:
            assert max(ends) > smaller[-1] or min(ends) < -below * smaller[-1]


@pytest.mark.parametrize("below", KEPT)
def test_numbers_stand_at_the_lines(below: float) -> None:
    """Each number of the scale says what the line above it stands for, whatever the scale."""
    drawn = KEPT[below]
    for most in (0.4, 1.7):
        drawn.show({"play": most})
        said = [float(line.replace("−", "-")) for line in drawn.numbers.lines]
        high = drawn.axes.get_xlim()[1]
        lines = np.asarray(drawn.ground.get_xticks())
        # the lines are drawn once, at shares of whatever the scale is
        assert said == pytest.approx(lines * high)
        at_px = np.asarray(drawn._ticks_px)
        assert at_px == pytest.approx((lines + below) / (1 + below) * 200)


def test_a_share_of_a_millimetre_is_seen() -> None:
    """The panel's rounding of 0.1 cm is more than a line wide: it was two pixels on ±6 cm."""
    drawn = KEPT[1.0]
    drawn.show({"play": 0.1, "press": 0.3})
    low, high = drawn.axes.get_xlim()
    assert 0.1 / (high - low) * 200 >= 15
