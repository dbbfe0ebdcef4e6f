"""Critical values against drawn samples: how often chance passes them is what they promise."""

import numpy as np
import pytest

from mensura import MeasureError
from mensura.estimates import (
    cochran_critical,
    double_grubbs_critical,
    grubbs_critical,
    mandel_h_critical,
    mandel_k_critical,
)

DRAWS = 100_000


def within_luck(passed, chance):
    """Whether a share of DRAWS lies within four standard errors of a chance."""
    return abs(np.mean(passed) - chance) < 4 * np.sqrt(chance * (1 - chance) / DRAWS)


@pytest.mark.parametrize("chance", [0.05, 0.01])
@pytest.mark.parametrize("hands", [4, 7, 12])
def test_means_of_hands(hands, chance):
    """Grubbs for one on both sides and on one, for two on one side, and Mandel's h of one hand.
    Adding up single chances is exact there to within the luck of the draws."""
    rng = np.random.default_rng(hands)
    means = np.sort(rng.normal(size=(DRAWS, hands)), axis=1)
    away = (means - means.mean(axis=1, keepdims=True)) / means.std(axis=1, ddof=1, keepdims=True)
    assert within_luck(np.abs(away).max(axis=1) > grubbs_critical(hands, chance), chance)
    assert within_luck(away[:, -1] > grubbs_critical(hands, chance, 1), chance)
    of_one = rng.permuted(away, axis=1)[:, 0]
    assert within_luck(np.abs(of_one) > mandel_h_critical(hands, chance), chance)
    rest = means[:, :-2]
    left = rest.var(axis=1) * (hands - 2) / (means.var(axis=1) * hands)
    assert within_luck(left < double_grubbs_critical(hands, chance, 1), chance)


@pytest.mark.parametrize("chance", [0.05, 0.01])
@pytest.mark.parametrize(("hands", "repeats"), [(3, 2), (7, 3), (12, 2)])
def test_variances_of_hands(hands, repeats, chance):
    """Cochran's C and Mandel's k of one hand. C is passed as often as promised or a hair less."""
    rng = np.random.default_rng(hands)
    variances = rng.chisquare(repeats - 1, (DRAWS, hands))
    share = variances.max(axis=1) / variances.sum(axis=1)
    assert within_luck(share > cochran_critical(hands, repeats, chance), chance)
    k = np.sqrt(variances[:, 0] / variances.mean(axis=1))
    assert within_luck(k > mandel_k_critical(hands, repeats, chance), chance)


def test_arrays_and_limits():
    """Many at once; more hands make Grubbs's value grow and Cochran's fall; never beyond what can
    be reached at all: (p − 1)/√p for G and h, √p for k, 1 for C."""
    hands = np.arange(3, 60)
    grubbs, cochran = grubbs_critical(hands), cochran_critical(hands, 2)
    assert (np.diff(grubbs) > 0).all()
    assert (np.diff(cochran) < 0).all()
    assert (grubbs <= (hands - 1) / np.sqrt(hands)).all()
    assert (mandel_h_critical(hands) < grubbs).all()
    assert (mandel_k_critical(hands, 2) < np.sqrt(hands)).all()
    pairs = [double_grubbs_critical(each) for each in (4, 5, 30, 100, 300)]
    assert pairs == sorted(pairs)
    assert pairs[-1] < 1


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        (lambda: cochran_critical(1, 2), "hands"),
        (lambda: cochran_critical(5, 1), "repeats"),
        (lambda: cochran_critical(5.5, 2), "hands"),
        (lambda: grubbs_critical(2), "hands"),
        (lambda: grubbs_critical(5, 0.0), "chance"),
        (lambda: grubbs_critical(5, 0.05, 3), "sides"),
        (lambda: mandel_h_critical(2), "hands"),
        (lambda: mandel_k_critical(4, 1), "repeats"),
        (lambda: double_grubbs_critical(3), "hands"),
        (lambda: double_grubbs_critical(301), "hands"),
    ],
)
def test_what_makes_no_sense_is_refused(wrong, field):
    """Too few hands or repeats, a chance of nought, a third side."""
    with pytest.raises(MeasureError) as refused:
        wrong()
    assert refused.value.field == field
