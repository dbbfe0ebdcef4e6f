"""Growth beside its noise: what the charts hold is what their words say."""

import re

import numpy as np
import pytest

from mensura.estimates.growth import ReadingDoubts, drawn_growths_cm, found_percent
from mensura.views.kit.live import Live
from mensura.views.stills.growth_and_noise import (
    AGAIN_YEARS,
    PAIRS,
    SIDES,
    GrowthAndNoise,
    growth_and_noise,
    noises,
)

CHARTS = noises()


def test_another_hand_waits_longer():
    same, other = CHARTS
    assert other.wait_years > 1.5 * same.wait_years
    assert sum(other.above) < sum(same.above)


@pytest.mark.parametrize("which", [0, 1])
def test_counts_are_near_what_many_draws_say(which):
    """Twenty pairs each: all years together within four standard errors of 20,000 pairs."""
    one, (_, again) = CHARTS[which], SIDES[which]
    shares = np.array([found_percent(125.0, 0.4 * year, again=again) / 100 for year in AGAIN_YEARS])
    spread = np.sqrt(PAIRS * (shares * (1 - shares)).sum())
    assert sum(one.above) == pytest.approx(PAIRS * shares.sum(), abs=4 * spread)
    # and no two years are the same draws
    assert len({row.tobytes() for row in one.read_cm}) == len(AGAIN_YEARS)


def test_words_hold_the_counts_and_the_waits():
    words = growth_and_noise().alt
    for one in CHARTS:
        assert ", ".join(map(str, one.above)) in words
        assert f"after {one.wait_years:.1f} years" in words
    assert [float(years) for years in re.findall(r"after ([\d.]+) years", words)] == [
        round(one.wait_years, 1) for one in CHARTS
    ]


def test_filled_marks_are_those_that_stand_out():
    live = Live(GrowthAndNoise(CHARTS))
    for axes, one in zip(live.figure.axes, CHARTS, strict=True):
        marks = [line for line in axes.lines if line.get_marker() == "o"]
        filled, empty = (np.asarray(line.get_ydata()) for line in marks)
        assert filled.size == sum(one.above)
        assert filled.size + empty.size == PAIRS * len(AGAIN_YEARS)
        assert filled.min() > one.chance_cm >= empty.max()
        low, high = axes.get_ylim()
        assert low < min(empty.min(), filled.min())
        assert high > filled.max()
    live.close()


def test_less_noise_is_seen_sooner():
    """A stem taped twice as well waits half as long where all else is nothing."""
    fine, coarse = (noises(doubts=ReadingDoubts(size, 0, 0, 0, 0, 0, 0))[0] for size in (0.1, 0.2))
    assert coarse.wait_years == pytest.approx(2 * fine.wait_years)
    assert np.ptp(drawn_growths_cm(125.0, 0.4, ReadingDoubts(0, 0, 0, 0, 0, 0, 0))) < 1e-9
