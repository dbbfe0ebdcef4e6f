"""The model of hands and instruments: sums, spreads, and that blunders count for nothing."""

import tracemalloc

import numpy as np
import pytest

from mensura.estimates.drawn_practical import PracticalClass, drawn_practical
from mensura.estimates.hand_cells import cells_of
from mensura.estimates.hand_model import fit_again, fit_hands
from mensura.estimates.hand_reference import against_others, agreed
from mensura.estimates.hand_sums import BLOCK, NormalSums
from mensura.estimates.hand_variances import KEPT_VARIANCE, weights
from mensura.estimates.readings import Readings


def readings_of(rows, stems=None):
    """Readings out of (stem, hand, instrument, kind, direction, reading) rows."""
    codes = [tuple(sorted({row[i] for row in rows})) for i in range(3)]
    if stems is not None:
        codes[0] = tuple(sorted(stems))
    places = [np.array([codes[i].index(row[i]) for row in rows], np.int64) for i in range(3)]
    return Readings(
        stems=codes[0],
        hands=codes[1],
        instruments=codes[2],
        clerks=("",),
        stem=places[0],
        hand=places[1],
        instrument=places[2],
        clerk=np.zeros(len(rows), np.int64),
        girth=np.array([row[3] == "girth" for row in rows], bool),
        direction_deg=np.array([row[4] for row in rows], float),
        repeat=np.ones(len(rows), np.int64),
        reading_cm=np.array([row[5] for row in rows], float),
        row=np.arange(2, len(rows) + 2),
    )


def changed(readings, at, reading_cm):
    """The same readings with one of them another figure."""
    new = readings.reading_cm.copy()
    new[at] = reading_cm
    return Readings(**{**vars(readings), "reading_cm": new})


def without(readings, at):
    """The same readings with one left out."""
    columns = ("stem", "hand", "instrument", "clerk", "girth", "direction_deg", "repeat")
    columns += ("reading_cm", "row")
    kept = {name: np.delete(getattr(readings, name), at) for name in columns}
    return Readings(**{**vars(readings), **kept})


@pytest.mark.parametrize("seed", [1, 2, 3])
@pytest.mark.parametrize("full", [True, False])
def test_the_sums_solve_the_dense_problem(seed, full, monkeypatch):
    """Estimates and covariance equal generalised least squares with every matrix written out."""
    if not full:
        monkeypatch.setattr("mensura.estimates.hand_sums._FULL", 0)
    rng = np.random.default_rng(seed)
    stems, others, size = 5, 4, 60
    group = np.sort(rng.integers(0, 20, size))
    group = np.unique(group, return_inverse=True)[1]
    stem = group % stems
    kind = rng.integers(0, 2, group.max() + 1)
    columns = np.stack(
        [BLOCK * stem + i for i in range(BLOCK)]
        + [BLOCK * stems + rng.integers(0, 2, size), BLOCK * stems + rng.integers(2, 4, size)],
        axis=1,
    )
    numbers, right = rng.normal(size=columns.shape), rng.normal(size=size)
    own, lay = rng.uniform(0.5, 2, size), rng.uniform(0, 3, group.max() + 1)
    before, stem_before = rng.uniform(0.1, 1, others), rng.uniform(0.1, 1, BLOCK)
    p = 1 / own
    take = lay / (1 + lay * np.bincount(group, p))
    found = NormalSums(columns, group, kind, stems, others).solve(
        numbers, right, p, take, stem_before, before
    )
    x = np.zeros((size, BLOCK * stems + others))
    np.put_along_axis(x, columns, numbers, axis=1)
    v = np.diag(own) + np.where(group[:, None] == group[None, :], lay[group][:, None], 0.0)
    normal = x.T @ np.linalg.solve(v, x) + np.diag([*np.tile(stem_before, stems), *before])
    dense = np.linalg.solve(normal, x.T @ np.linalg.solve(v, right))
    assert found.stems.ravel() == pytest.approx(dense[: BLOCK * stems], abs=1e-10)
    assert found.others == pytest.approx(dense[BLOCK * stems :], abs=1e-10)
    assert found.covariance == pytest.approx(np.linalg.inv(normal)[-others:, -others:], abs=1e-10)
    # what the stems take up is the trace of their part of the hat matrix, kind by kind
    inner = np.linalg.inv(normal[: BLOCK * stems, : BLOCK * stems])
    for one in (0, 1):
        at = kind[group] == one
        xs, vs = x[at][:, : BLOCK * stems], v[np.ix_(at, at)]
        assert found.taken[one] == pytest.approx(np.trace(inner @ xs.T @ np.linalg.solve(vs, xs)))


def test_in_a_balanced_class_hands_differ_by_their_plain_means():
    """Every hand on every stem once, stems alike: the differences of mean logarithms."""
    rng = np.random.default_rng(5)
    size = rng.uniform(100, 106, 12)
    log = np.log(size)[:, None] + np.array([0, 0.001, -0.002, 0.02]) + rng.normal(0, 0.002, (12, 4))
    rows = [
        (f"{s:02d}", f"Q{h}", "T1", "girth", np.nan, float(np.exp(log[s, h])))
        for s in range(12)
        for h in range(4)
    ]
    model = fit_again(fit_hands(readings_of(rows)), slope_sd=np.full(5, 1e-6))
    assert np.min(model.weight) == 1
    means = log.mean(axis=0)
    # stems a little apart weigh a little otherwise, by their step
    assert model.adds[:4] - model.adds[0] == pytest.approx(means - means[0], abs=5e-6)


def test_weights_keep_what_is_said_of_a_normal_variance():
    """KEPT_VARIANCE is the weighted variance over the weight, by quadrature."""
    z = np.linspace(-9, 9, 400_001)
    density = np.exp(-(z**2) / 2) * weights(z)
    assert np.sum(z**2 * density) / np.sum(density) == pytest.approx(KEPT_VARIANCE, abs=5e-4)


@pytest.mark.parametrize("factor", [10.0, 1 / np.pi, 0.1, 1.3])
def test_a_blunder_counts_for_nothing(factor):
    """With one figure keyed in wrong the model says what it says without that figure."""
    readings = drawn_practical(11).readings
    at = int(np.flatnonzero(readings.girth)[17])
    wrong = changed(readings, at, factor * readings.reading_cm[at])
    spoilt, clean = fit_hands(wrong), fit_hands(without(readings, at))
    assert spoilt.weight[at] == 0
    error = np.sqrt(np.diag(clean.covariance)[: clean.cells.judged])
    against = [against_others(one, 0.01).adds for one in (spoilt, clean)]
    assert np.max(np.abs(against[0] - against[1]) / error) < 0.05


def test_the_spreads_that_were_drawn_are_found():
    """Lays and repeats of tapes over 20 practicals, within a twentieth and a tenth."""
    of = PracticalClass(sound_hands_percent=0.0)
    found = [fit_hands(drawn_practical(seed, of=of).readings).variances for seed in range(20)]
    lay = np.sqrt(np.mean([one.lay[0] for one in found]))
    assert 100 * lay == pytest.approx(of.lay_percent, rel=0.07)
    turn = np.degrees(np.sqrt(np.mean([one.turn for one in found])))
    assert turn == pytest.approx(of.turned_deg, rel=0.25)
    oval = np.sqrt(np.mean([one.oval for one in found]))
    # longer less shorter over both is uniform from 1 to 9 %; a cosine has half its square
    assert 100 * oval == pytest.approx(np.sqrt((9**3 - 1) / 3 / 8 / 2), rel=0.1)


def test_errors_are_as_large_as_they_are_said_to_be():
    """Over 40 sound practicals: a deviation over its standard error has a spread of one."""
    of = PracticalClass(sound_hands_percent=0.0)
    scores = []
    for seed in range(40):
        model = fit_hands(drawn_practical(seed, of=of).readings)
        found = against_others(model, 0.01)
        scores.append(found.adds / np.sqrt(found.adds_var))
    scores = np.concatenate(scores)
    assert 0.85 < np.std(scores) < 1.1
    assert 0.93 < np.mean(np.abs(scores) < 1.96) < 0.99


def test_cells_and_groups():
    """Repeats share a cell, directions half a turn apart too; tapes and calipers never a group."""
    rows = [
        ("1", "Q1", "T1", "girth", np.nan, 100.0),
        ("1", "Q1", "T1", "girth", np.nan, 100.1),
        ("1", "Q1", "T2", "girth", np.nan, 100.2),
        ("1", "Q1", "K1", "diameter", 10.0, 32.0),
        ("1", "Q1", "K1", "diameter", 190.0, 32.1),
        ("1", "Q1", "K1", "diameter", 100.0, 31.0),
        ("2", "Q1", "K1", "diameter", np.nan, 31.0),
        ("2", "Q1", "K1", "diameter", 0.0, 0.0),
    ]
    cells = cells_of(readings_of(rows))
    assert cells.used.tolist() == [0, 1, 2, 3, 4, 5, 6]
    assert cells.cell[0] == cells.cell[1] != cells.cell[2]
    assert cells.cell[3] == cells.cell[4] != cells.cell[5]
    groups = cells.group[cells.cell]
    assert groups[0] == groups[2]
    assert groups[3] == groups[5]
    assert len({groups[0], groups[3], groups[6]}) == 3
    assert cells.spread_class[cells.cell].tolist() == [0, 0, 0, 1, 1, 1, 2]
    assert cells.hands == 2


def test_nothing_above_nought_is_refused():
    """No usable reading, no model."""
    readings = changed(readings_of([("1", "Q1", "T1", "girth", np.nan, 1.0)]), 0, -1.0)
    with pytest.raises(ValueError, match="no reading"):
        fit_hands(readings)


@pytest.mark.parametrize(
    ("values", "together", "rival"),
    [
        ([0.0, 0.001, -0.002, 0.02], [True, True, True, False], 1),
        ([0.0, 0.02], [True, False], 1),
        ([0.0, 0.001, 0.03, 0.031, 0.032], [False, False, True, True, True], 2),
    ],
)
def test_who_agrees(values, together, rival):
    """The larger group that lies together is the reference; how large the next one is, is told."""
    values = np.array(values)
    found = agreed(values, np.eye(values.size) * 1e-7, 0.01, np.ones(values.size, bool))
    assert found.together.tolist() == together
    assert found.rival == rival
    apart = ~found.together & (np.abs(values - np.median(values[found.together])) > 0.015)
    assert np.all(found.weight[apart] == 0)


def test_a_share_and_a_constant_do_not_agree():
    """Alike on a middling stem, they differ on small ones."""
    values, same = np.array([0.02, 0.02]), np.eye(2) * 1e-7
    near = agreed(values, same, 0.01, np.ones(2, bool), np.array([0.0, 0.0]), same)
    far = agreed(values, same, 0.01, np.ones(2, bool), np.array([0.0, 0.02]), same)
    assert near.together.all()
    assert not far.together.all()


def test_memory_grows_with_the_readings():
    """Ten times the stems take at most twelve times the memory."""
    peaks = []
    for stems in (60, 600):
        readings = drawn_practical(1, of=PracticalClass(stem_count=stems)).readings
        tracemalloc.start()
        fit_hands(readings)
        peaks.append(tracemalloc.get_traced_memory()[1])
        tracemalloc.stop()
    assert peaks[1] < 12 * peaks[0]
