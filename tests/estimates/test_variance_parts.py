"""Variances taken apart, by dense matrices and by drawn variances."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize
from scipy.stats import f_oneway

from mensura import MeasureError
from mensura.estimates import crossed_parts, nested_parts, one_way_parts, variance_parts

ROWS = st.lists(
    st.tuples(st.integers(0, 4), st.integers(0, 5), st.integers(-50, 50)), min_size=4, max_size=40
)


def restricted(group, read, between, within):
    """Twice the restricted likelihood's logarithm, other sign, with whole matrices."""
    shared = np.equal.outer(group, group)
    spread = within * np.eye(read.size) + between * shared
    ones = np.ones(read.size)
    inverse = np.linalg.inv(spread)
    weight = ones @ inverse @ ones
    away = read - (ones @ inverse @ read) / weight
    return np.linalg.slogdet(spread)[1] + np.log(weight) + away @ inverse @ away


def test_restricted_likelihood_by_whole_matrices():
    """Unequal groups: no variances near ours, nor any that a plain search finds, are likelier."""
    rng = np.random.default_rng(3)
    group = np.repeat(range(6), [1, 2, 3, 5, 8, 4])
    read = rng.normal(size=6)[group] * 2 + rng.normal(size=group.size)
    found = one_way_parts(group, read, "reml")
    ours = restricted(group, read, found.between_cm2, found.within_cm2)
    search = minimize(
        lambda logs: restricted(group, read, *np.exp(logs)), [0.0, 0.0], method="Nelder-Mead"
    )
    assert ours <= search.fun + 1e-6
    assert np.exp(search.x) == pytest.approx([found.between_cm2, found.within_cm2], rel=1e-3)
    inverse = np.linalg.inv(
        found.within_cm2 * np.eye(read.size) + found.between_cm2 * np.equal.outer(group, group)
    )
    assert found.u_mean_cm == pytest.approx(inverse.sum() ** -0.5, rel=1e-9)


@settings(deadline=None)
@given(ROWS)
def test_one_way_beside_scipy(rows):
    """F is SciPy's; a common addend changes nothing; groups by other numbers neither."""
    group, _, read = map(np.array, zip(*rows, strict=True))
    groups = [read[group == one] for one in np.unique(group)]
    assume(len(groups) > 1 and read.size > len(groups))
    assume(sum(one.var() * one.size for one in groups) > 1e-6)
    found = one_way_parts(group, read)
    assert found.f == pytest.approx(f_oneway(*groups).statistic, rel=1e-9, abs=1e-9)
    moved = one_way_parts(9 - group, read + 1000.0)
    assert moved.between_cm2 == pytest.approx(found.between_cm2, rel=1e-6, abs=1e-6)
    assert moved.mean_cm == pytest.approx(found.mean_cm + 1000, abs=1e-6)
    likeliest = one_way_parts(group, read, "reml")
    assert likeliest.between_cm2 >= 0
    assert likeliest.within_cm2 > 0


@settings(deadline=None)
@given(ROWS)
def test_crossed_by_whole_matrices(rows):
    """Any cells filled, any number of times: the sums by dense least squares, how often each
    variance counts by traces of projections, the parts that hang together by ranks."""
    hand, stem, read = map(np.array, zip(*rows, strict=True))
    hands, stems = np.eye(5)[hand], np.eye(6)[stem]
    hands, stems = hands[:, hands.any(axis=0)], stems[:, stems.any(axis=0)]

    def onto(columns):
        return columns @ np.linalg.pinv(columns)

    both, by_hands, by_stems = onto(np.hstack([hands, stems])), onto(hands), onto(stems)
    rank = round(np.trace(both))
    found = crossed_parts(hand, stem, read)
    assert found.apart == hands.shape[1] + stems.shape[1] - rank
    freedom = read.size - rank, rank - stems.shape[1], rank - hands.shape[1]
    assert (found.rest_freedom, found.hands_freedom, found.stems_freedom) == freedom
    left = read - both @ read
    if freedom[0]:
        assert found.rest_cm2 == pytest.approx(left @ left / freedom[0], abs=1e-7)
    for degrees, first, columns, square, each in (
        (freedom[1], by_stems, hands, found.hands_square_cm2, found.hands_each),
        (freedom[2], by_hands, stems, found.stems_square_cm2, found.stems_each),
    ):
        if degrees:
            between = both - first
            assert square == pytest.approx(read @ between @ read / degrees, abs=1e-6)
            times = np.trace(columns.T @ between @ columns) / degrees
            assert each == pytest.approx(times, abs=1e-7)


def test_drawn_variances_are_found_without_bias():
    """Hands .5, stems 2 and the rest .3 (deviations), a third of the cells empty: on the average
    of 300 drawn classes each variance is found within four standard errors."""
    rng = np.random.default_rng(6)
    hand, stem = np.indices((7, 18)).reshape(2, -1)
    found = []
    for _ in range(300):
        read = rng.normal(size=7)[hand] * 0.5 + rng.normal(size=18)[stem] * 2
        read = read + rng.normal(size=hand.size) * 0.3
        keep = rng.random(hand.size) > 0.33
        parts = crossed_parts(hand[keep], stem[keep], read[keep])
        found.append([parts.hands_cm2, parts.stems_cm2, parts.rest_cm2])
    error = np.std(found, axis=0) / 300**0.5
    assert (np.abs(np.mean(found, axis=0) - [0.25, 4.0, 0.09]) < 4 * error).all()


def test_nested_variances_are_found_without_bias():
    """Stems 2, hands within stems .8, repeats .4, cells of one to four readings."""
    rng = np.random.default_rng(7)
    found = []
    for _ in range(300):
        count = rng.integers(1, 5, 12 * 5)
        inner = np.repeat(np.arange(60), count)
        outer = inner // 5
        read = rng.normal(size=12)[outer] * 2 + rng.normal(size=60)[inner] * 0.8
        read = read + rng.normal(size=inner.size) * 0.4
        parts = nested_parts(outer, inner % 5, read)
        found.append([parts.outer_cm2, parts.inner_cm2, parts.within_cm2])
    error = np.std(found, axis=0) / 300**0.5
    assert (np.abs(np.mean(found, axis=0) - [4.0, 0.64, 0.16]) < 4 * error).all()


def test_what_cannot_be_told_is_nan():
    """One group; no repeats; two parts that share no hand and no stem still give a rest."""
    alone = one_way_parts([0, 0], [1.0, 2.0])
    assert np.isnan([alone.f, alone.between_cm2]).all()
    assert np.isnan(one_way_parts([0, 1], [1.0, 2.0]).within_cm2)
    assert np.isnan(nested_parts([0, 1], [0, 0], [1.0, 2.0]).inner_cm2)
    hand, stem = np.array([0, 0, 1, 1, 2, 2, 3, 3]), np.array([0, 1, 0, 1, 2, 3, 2, 3])
    split = crossed_parts(hand, stem, [1.0, 2, 2, 3.5, 7, 9, 8, 9])
    assert (split.apart, split.rest_freedom) == (2, 2)


def test_an_unknown_method_is_refused():
    """Only the two there are."""
    with pytest.raises(MeasureError, match="anova or reml"):
        one_way_parts([0, 1], [1.0, 2.0], "ml")


def test_unequal_groups_by_hand():
    """Groups of one and three: n₀ = 4 − 10/4 = 1.5, squares 27 and 2, so (27 − 1)/1.5."""
    found = one_way_parts([0, 1, 1, 1], [0.0, 5.0, 6.0, 7.0])
    assert found.between_squares_cm2 == pytest.approx(27)
    assert found.within_cm2 == pytest.approx(1)
    assert found.between_cm2 == pytest.approx(26 / 1.5)


def test_large_tables_go_another_way_to_the_same(monkeypatch):
    """With empty cells, in parts that never met, in a chain of hands each of whom met the next."""
    rng = np.random.default_rng(8)
    stem, hand = np.indices((9, 5)).reshape(2, -1)
    some = rng.random(stem.size) < 0.6
    apart = (stem < 4) == (hand < 2)
    chain = (stem == hand) | (stem == hand + 1)
    for keep, parts in ((some, 1), (apart, 2), (chain, 1)):
        of = hand[keep], stem[keep], rng.normal(size=int(keep.sum()))
        filled = crossed_parts(*of)
        with monkeypatch.context() as none:
            none.setattr(variance_parts, "_MOST_FILLED", 0)
            kept = crossed_parts(*of)
        assert filled.apart == kept.apart == parts
        for name in ("stems_cm2", "hands_cm2", "rest_cm2"):
            assert getattr(filled, name) == pytest.approx(getattr(kept, name), nan_ok=True)
