"""Cells and the sums of ISO 5725-2, by plain loops and by drawn classes."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mensura import MeasureError
from mensura.estimates import class_precision, into_cells, stem_precision
from mensura.estimates.precision import _freedom_of_reproducibility

READING = st.tuples(
    st.integers(0, 4), st.integers(0, 2), st.integers(300, 340).map(lambda one: one / 10)
)


def by_hand(readings):
    """Repeatability and part between hands of one stem: loops over the clauses' sums."""
    hands = {}
    for hand, value in readings:
        hands.setdefault(hand, []).append(value)
    sizes = [len(one) for one in hands.values()]
    means = [sum(one) / len(one) for one in hands.values()]
    free = sum(sizes) - len(sizes)
    if free == 0:
        return None
    pairs = list(zip(hands.values(), means, strict=True))
    within = sum((x - m) ** 2 for one, m in pairs for x in one) / free
    if len(sizes) < 2:
        return within, None
    mean = sum(n * m for n, m in zip(sizes, means, strict=True)) / sum(sizes)
    apart = sum(n * (m - mean) ** 2 for n, m in zip(sizes, means, strict=True)) / (len(sizes) - 1)
    each = (sum(sizes) - sum(n * n for n in sizes) / sum(sizes)) / (len(sizes) - 1)
    return within, max((apart - within) / each, 0.0)


@settings(deadline=None)
@given(st.lists(READING, min_size=1, max_size=40))
def test_each_stem_by_plain_loops(readings):
    """Any numbers of readings in any cells: each stem as by hand, nan where nothing can be told."""
    hand, stem, read = zip(*readings, strict=True)
    found = stem_precision(into_cells(hand, stem, read))
    for place in range(max(stem) + 1):
        here = [(h, x) for h, s, x in readings if s == place]
        assert found.readings[place] == len(here)
        expected = by_hand(here) if here else None
        if expected is None:
            assert np.isnan(found.repeatability_cm[place])
            continue
        within, between = expected
        assert found.repeatability_cm[place] ** 2 == pytest.approx(within, abs=1e-9)
        if between is None:
            assert np.isnan(found.reproducibility_cm[place])
        else:
            assert found.between_hands_cm[place] ** 2 == pytest.approx(between, abs=1e-9)
            square = found.reproducibility_cm[place] ** 2
            assert square == pytest.approx(within + between, abs=1e-9)


@settings(deadline=None)
@given(st.lists(READING, min_size=2, max_size=30), st.randoms(use_true_random=False))
def test_order_and_names_do_not_matter(readings, random):
    """Shuffled rows, and hands by other numbers, give the same precision."""
    hand, stem, read = map(np.array, zip(*readings, strict=True))
    one = class_precision(into_cells(hand, stem, read))
    order = list(range(len(readings)))
    random.shuffle(order)
    two = class_precision(into_cells((7 - hand)[order], stem[order], read[order]))
    for name in ("repeatability_cm", "between_hands_cm", "reproducibility_cm"):
        same = pytest.approx(getattr(one, name), abs=1e-6, nan_ok=True)
        assert getattr(two, name) == same


def drawn(rng, hands=7, stems=400, repeats=2, within=0.3, between=0.5, rise=0.0):
    hand, stem, _ = np.indices((hands, stems, repeats)).reshape(3, -1)
    size = 20 + 60 * np.arange(stems) / stems
    away = rng.normal(size=(hands, stems))[hand, stem] * between
    read = size[stem] + away + rng.normal(size=hand.size) * (within + rise * size[stem])
    return hand, stem, read


def test_drawn_spreads_are_found():
    """A hand's .3 and .5 between hands, drawn anew on each of 400 stems: found within 3 %."""
    found = class_precision(into_cells(*drawn(np.random.default_rng(11))))
    assert found.repeatability_cm == pytest.approx(0.3, rel=0.03)
    assert found.between_hands_cm == pytest.approx(0.5, rel=0.04)
    assert found.reproducibility_cm == pytest.approx(0.34**0.5, rel=0.03)
    assert (found.stands_for, found.repeats, found.freedom) == ("repeats", 2800, 2400)
    assert found.repeatability_law.kind == "constant"
    assert found.repeatability_limit_cm == pytest.approx(2.8 * found.repeatability_cm)
    assert found.reproducibility_limit_cm == pytest.approx(2.8 * found.reproducibility_cm)


def test_a_spread_that_grows_is_said_to():
    """1 % of the size and nothing else: in proportion, for a hand and between hands."""
    hand, stem, read = drawn(np.random.default_rng(5), within=0.0, between=0.0, rise=0.01)
    law = class_precision(into_cells(hand, stem, read)).repeatability_law
    assert law.kind == "proportional"
    assert law.rise == pytest.approx(0.01, rel=0.04)
    assert law.at_cm([20.0, 60.0]) == pytest.approx([20 * law.rise, 60 * law.rise])


def test_how_surely_another_hands_spread_is_known():
    """Degrees of freedom of s_R², by Satterthwaite: those of the hands where nobody repeats; with
    two readings each, what makes 2·σ⁴/f the variance that 3000 drawn stems show, to a tenth."""
    single = stem_precision(into_cells([0, 0, 1, 2, 3], [0, 1, 1, 1, 1], [30.0, 31, 32, 33, 35]))
    assert _freedom_of_reproducibility(single).tolist() == [0.0, 3.0]
    # 36/1/2 = 18 with one degree, 2/2 = 1 with two: 19²/(18² + ½), by hand
    pairs = stem_precision(into_cells([0, 0, 1, 1], [0] * 4, [1.0, 3, 7, 9]))
    assert _freedom_of_reproducibility(pairs) == pytest.approx([361 / 324.5])
    stems = stem_precision(
        into_cells(*drawn(np.random.default_rng(3), stems=3000, within=0.5, between=0.3))
    )
    free = np.median(_freedom_of_reproducibility(stems))
    # of the sum that is not cut off at nought, since that is what is approximated
    square = stems.hands_squares_cm2 / (6 * 2) + stems.repeatability_cm**2 / 2
    assert 2 * square.mean() ** 2 / square.var() == pytest.approx(free, rel=0.12)


def test_without_repeats_the_residual_stands_in():
    """One reading in each cell: what hand and stem leave is the repeatability, and is called so;
    the hands' own part is found within the luck of seven hands."""
    rng = np.random.default_rng(2)
    hand, stem = np.indices((7, 300)).reshape(2, -1)
    read = 30 + stem % 40 + np.linspace(-0.6, 0.6, 7)[hand] + rng.normal(size=hand.size) * 0.3
    keep = rng.random(hand.size) > 0.3
    found = class_precision(into_cells(hand[keep], stem[keep], read[keep]))
    assert found.stands_for == "residual"
    assert found.repeatability_cm == pytest.approx(0.3, rel=0.05)
    assert found.between_hands_cm == pytest.approx(np.linspace(-0.6, 0.6, 7).std(ddof=1), rel=0.05)
    assert found.repeatability_law is None
    assert np.isnan(found.stems.repeatability_cm).all()


def test_too_little_is_said_not_guessed():
    """One hand has no other beside it; one reading has no spread; equal ones spread by nought."""
    alone = class_precision(into_cells([0, 0], [0, 0], [30.0, 30.2]))
    assert alone.repeatability_cm == pytest.approx(0.02**0.5)
    assert np.isnan(alone.between_hands_cm)
    single = class_precision(into_cells([0], [0], [30.0]))
    assert single.stands_for == "nothing"
    assert np.isnan(single.repeatability_cm)
    equal = class_precision(into_cells([0, 0, 1, 1] * 4, np.repeat(range(4), 4), [30.0] * 16))
    assert (equal.repeatability_cm, equal.between_hands_cm) == (0.0, 0.0)
    assert equal.repeatability_law is None


@pytest.mark.parametrize(
    ("hand", "stem", "read", "field"),
    [
        ([0], [0, 1], [30.0, 31.0], "hand"),
        ([0, -1], [0, 0], [30.0, 31.0], "hand"),
        ([0.5, 1], [0, 0], [30.0, 31.0], "hand"),
        ([0, 1], [0, 0], [30.0, float("nan")], "reading_cm"),
        ([], [], [], "reading_cm"),
    ],
)
def test_bad_columns_are_refused(hand, stem, read, field):
    """One sentence that names the column."""
    with pytest.raises(MeasureError) as refused:
        into_cells(hand, stem, read)
    assert refused.value.field == field


def test_some_cells_only():
    """Cells set aside count no more; the others keep what they had."""
    table = into_cells([0, 0, 1, 1, 2], [0, 0, 0, 0, 1], [30.0, 30.2, 31.0, 31.4, 44.0])
    rest = table.only(table.hand != 1)
    assert rest.mean_cm == pytest.approx([30.1, 44.0])
    assert class_precision(rest).repeatability_cm == pytest.approx(0.02**0.5)
