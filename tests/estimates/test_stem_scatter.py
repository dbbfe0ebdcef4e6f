"""One oval stem by chance: exact means and variances against quadrature, draws and limits."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from scipy.integrate import quad

from mensura.checks import ChoiceError
from mensura.estimates import (
    classroom_over_percent,
    oval_widths,
    scatters,
    stem_scatter,
    tape_over_percent,
)
from mensura.estimates.stem_scatter import WAYS

RATIOS = (0.95, 0.8, 0.5, 0.25)


def width(turn: Any, ratio: float) -> Any:
    """Of an ellipse of mean diameter 1, straight from its axes."""
    return np.hypot(np.cos(turn) / np.sqrt(ratio), np.sin(turn) * np.sqrt(ratio))


def averaged(of: Any) -> float:
    return float(quad(of, 0, np.pi, epsabs=1e-13, epsrel=1e-13, limit=200)[0] / np.pi)


@pytest.mark.parametrize("ratio", RATIOS)
def test_moments_are_those_of_adaptive_quadrature(ratio: float) -> None:
    """Every moment, of a width, of the mean of two and of their product, to twelve digits."""
    found = oval_widths(ratio)
    for moments, of in (
        (found.one, lambda t: width(t, ratio)),
        (found.pair, lambda t: (width(t, ratio) + width(t + np.pi / 2, ratio)) / 2),
    ):
        mean = averaged(of)
        assert moments.mean == pytest.approx(mean, rel=1e-12)
        for power, name in ((2, "second"), (3, "third"), (4, "fourth")):
            central = averaged(lambda t, power=power: (of(t) - mean) ** power)  # noqa: B023
            assert getattr(moments, name) == pytest.approx(central, rel=1e-9, abs=1e-13)

    def product(turn: float) -> float:
        return float(width(turn, ratio) * width(turn + np.pi / 2, ratio))

    mean = averaged(product)
    assert found.product_mean == pytest.approx(mean, rel=1e-12)
    spread = averaged(lambda t: (product(t) - mean) ** 2)
    assert found.product_variance == pytest.approx(spread, rel=1e-9)
    assert found.square_mean == pytest.approx(averaged(lambda t: width(t, ratio) ** 2), rel=1e-12)


def test_several_stems_are_what_each_is() -> None:
    """An array of axis ratios gives each its own numbers."""
    several = oval_widths(np.array(RATIOS))
    for at, ratio in enumerate(RATIOS):
        alone = oval_widths(ratio)
        assert several.one.third[at] == pytest.approx(alone.one.third, rel=1e-12)
        assert several.product_variance[at] == pytest.approx(alone.product_variance, rel=1e-12)


@pytest.mark.parametrize("ratio", RATIOS)
def test_a_steady_hand_has_the_known_errors(ratio: float) -> None:
    """The tape's excess; one reading's as the quadratic mean of the axes; all four by sums over
    directions, as the page on out-of-roundness has them."""
    oval = oval_widths(ratio)
    one, two, product, tape = scatters(20.0, 20.0 * ratio)
    for way, count, scatter in (
        ("girth", 1, tape),
        ("directions", 1, one),
        ("pairs", 2, two),
        ("products", 2, product),
    ):
        found = stem_scatter(oval, way, count, 0.0)
        assert 100 * (found.mean_share - 1) == pytest.approx(scatter.mean_percent, rel=1e-9)
        assert 100 * found.variance**0.5 == pytest.approx(scatter.spread_percent, rel=1e-8)
    assert tape.mean_percent == pytest.approx(tape_over_percent(ratio), rel=1e-12)
    assert one.mean_percent == pytest.approx(classroom_over_percent(ratio), rel=1e-9)


def test_small_ovality_has_the_honest_order() -> None:
    """One reading is biased more than the tape, 4 : 3; a pair's mean as much; their product 2/3."""
    oval = oval_widths(0.999)
    bias = {
        way: stem_scatter(oval, way, 1 if way in ("girth", "directions") else 2, 0.0).mean_share - 1
        for way in WAYS
    }
    assert bias["directions"] / bias["girth"] == pytest.approx(4 / 3, rel=1e-3)
    assert bias["pairs"] / bias["girth"] == pytest.approx(1, rel=1e-3)
    assert bias["products"] / bias["girth"] == pytest.approx(2 / 3, rel=1e-3)


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("share", [0.0, 0.05])
def test_draws_agree(way: str, share: float) -> None:
    """Four readings of each of 200 000 stems: mean and variance within four sampling errors."""
    ratio, count, stems = 0.7, 4, 200_000
    rng = np.random.default_rng(20)
    hand = rng.normal(0, share, (stems, count))
    if way == "girth":
        readings = averaged(lambda t: width(t, ratio)) + hand
    elif way == "directions":
        readings = width(rng.uniform(0, np.pi, (stems, count)), ratio) + hand
    else:
        first = rng.uniform(0, np.pi, (stems, count // 2, 1))
        turns = first + np.array([0, np.pi / 2])
        readings = width(turns, ratio).reshape(stems, count) + hand
    if way == "products":
        area = (readings[:, 0::2] * readings[:, 1::2]).mean(axis=1)
    else:
        area = readings.mean(axis=1) ** 2
    found = stem_scatter(oval_widths(ratio), way, count, share)
    spread = area.std()
    assert found.mean_share == pytest.approx(area.mean(), abs=4 * spread / stems**0.5 + 1e-12)
    fourth = ((area - area.mean()) ** 4).mean()
    doubt = max(fourth - spread**4, 0) ** 0.5 / stems**0.5
    assert found.variance == pytest.approx(spread**2, abs=4 * doubt + 1e-12)


def test_a_round_stem_by_a_steady_hand_is_right() -> None:
    """Nothing is over and nothing scatters, whatever the way."""
    for way in WAYS:
        found = stem_scatter(oval_widths(1.0), way, 2, 0.0)
        assert found.mean_square_share(0.0, 18) == pytest.approx(0.0, abs=1e-25)


def test_an_error_that_all_share_by_draws() -> None:
    """A common error of 3 % on pairs of a spreading hand: bias and both variances by draws."""
    ratio, share, common, plots = 0.8, 0.04, 0.03, 400_000
    rng = np.random.default_rng(21)
    turn = rng.uniform(0, np.pi, (plots, 2))[..., None] + np.array([0, np.pi / 2])
    readings = width(turn, ratio) + rng.normal(0, share, turn.shape)
    readings = readings + rng.normal(0, common, (plots, 1, 1))
    found = stem_scatter(oval_widths(ratio), "products", 2, share)
    plot = readings.prod(axis=2).mean(axis=1)  # two stems each
    assert found.bias_share(common) == pytest.approx(plot.mean() - 1, abs=4 * plot.std() / 600)
    whole = found.own_variance(common) / 2 + found.shared_variance(common)
    assert whole == pytest.approx(plot.var(), rel=0.015)
    assert found.mean_square_share(common, 2) == pytest.approx(((plot - 1) ** 2).mean(), rel=0.015)


def test_an_unknown_way_is_refused() -> None:
    """And the ways that there are are named."""
    with pytest.raises(ChoiceError, match="one of: girth, directions"):
        stem_scatter(oval_widths(0.8), "crosswise", 2, 0.0)
