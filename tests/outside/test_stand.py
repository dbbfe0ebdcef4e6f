"""Stands against printed tables and constants of the trade, certified values, and felled trees."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import scipy.stats

from mensura.estimates.plot_means import mean_of_plots
from mensura.estimates.stand import Plots, Trees, stand
from mensura.estimates.tree_volume import FormFactor, Taper, fitted_equation
from mensura.stems import cherry_trees

INCH_CM, FOOT_M = 2.54, 0.3048
ACRE_HA = 43_560 * FOOT_M**2 / 10_000
#: Square feet an acre in 1 m² a hectare: 43 560/10 000 (unit table, read; by definition).
FT2_PER_ACRE = 4.356


def one_stand(diameters_cm, plots: Plots):
    """All trees on the first plot."""
    each = np.asarray(diameters_cm, dtype=float)
    none = np.zeros(each.size, dtype=np.int64)
    return stand(Trees(none, each, np.full(each.size, 20.0), np.ones(each.size), none), plots)


@pytest.mark.parametrize(
    ("inches", "printed_ft2"),
    [(4, 0.087), (5, 0.136), (6, 0.196), (8, 0.349), (10, 0.545), (12, 0.785), (14, 1.069),
     (16, 1.396), (18, 1.767), (20, 2.182)],
)  # fmt: skip
def test_a_printed_table_of_basal_areas(inches, printed_ft2):
    """A tree on a plot of one acre is its own basal area an acre [SREF], read."""
    found = one_stand([inches * INCH_CM], Plots(("A",), area_m2=np.array([ACRE_HA * 1e4])))
    of_acre = found.per_hectare.basal_area_m2.value * FT2_PER_ACRE
    assert of_acre == pytest.approx(printed_ft2, abs=5.1e-4)


@pytest.mark.parametrize(("inches", "printed"), [(10, 18.35), (12, 12.74), (20, 4.58)])
def test_trees_an_acre_for_each_counted_one(inches, printed):
    """Through a gauge of 10 ft² an acre [SREF], read: made from rounded areas, hence 0.1 %."""
    found = one_stand(
        [inches * INCH_CM], Plots(("A",), factor_m2_per_ha=np.array([10 / FT2_PER_ACRE]))
    )
    assert found.per_hectare.stems.value * ACRE_HA == pytest.approx(printed, rel=1e-3)
    assert found.per_hectare.basal_area_m2.value * FT2_PER_ACRE == pytest.approx(10, rel=1e-12)


@pytest.mark.parametrize(("factor", "stems"), [(1, 14.147), (2, 28.294), (4, 56.588)])
def test_trees_a_hectare_for_each_counted_one_of_30_cm(factor, stems):
    """Factor over basal area, after [Kleinn2007]; three figures worked out from its formulas."""
    found = one_stand([30.0], Plots(("A",), factor_m2_per_ha=np.array([float(factor)])))
    assert found.per_hectare.stems.value == pytest.approx(stems, abs=5e-4)


def test_a_tree_on_a_plot_of_33_feet_stands_for_10_square_feet():
    """12 in on a radius of 33 ft (web note, read): exact, for 43 560 is 40·33²."""
    area = np.pi * (33 * FOOT_M) ** 2
    found = one_stand([12 * INCH_CM], Plots(("A",), area_m2=np.array([area])))
    of_acre = found.per_hectare.basal_area_m2.value * FT2_PER_ACRE
    assert of_acre == pytest.approx(10, rel=1e-12)


@pytest.mark.parametrize(("inches", "printed_ft2"), [(10, 54.54), (12, 78.54)])
def test_a_hundred_trees_an_acre(inches, printed_ft2):
    """100 of 10 in and of 12 in (unsigned web examples, read)."""
    found = one_stand(
        np.full(100, inches * INCH_CM), Plots(("A",), area_m2=np.array([ACRE_HA * 1e4]))
    )
    of_acre = found.per_hectare.basal_area_m2.value * FT2_PER_ACRE
    assert of_acre == pytest.approx(printed_ft2, abs=5e-3)


def test_the_constant_of_the_code():
    """G = 0.0000785398·Σd² [CFMP1999], read."""
    each = [12.4, 18.9, 33.0, 41.7]
    found = one_stand(each, Plots(("A",), area_m2=np.array([10_000.0])))
    by_constant = 0.0000785398 * sum(one**2 for one in each)
    assert found.per_hectare.basal_area_m2.value == pytest.approx(by_constant, rel=1e-6)


def test_standard_error_and_interval_are_scipys():
    """Of five plots of one area: SciPy's standard error and its Student distribution."""
    each = [24.1, 31.7, 0.0, 40.2, 18.8]
    found = mean_of_plots(each)
    assert found.se == pytest.approx(scipy.stats.sem(each), rel=1e-12)
    low, high = scipy.stats.t.interval(0.95, 4, loc=np.mean(each), scale=scipy.stats.sem(each))
    assert found.interval == pytest.approx((low, high), rel=1e-6)


def test_an_equation_through_certified_points():
    """Norris, certified by [NIST-StRD]: V = a + b·d²h with h = 1 m and d = √x."""
    path = Path(scipy.stats.__file__).parent / "tests" / "data" / "nist_linregress" / "Norris.dat"
    volume, square = np.loadtxt(path, skiprows=60).T
    found = fitted_equation(np.sqrt(square), np.ones(square.size), volume)
    assert found.terms[0][0] == pytest.approx(-0.262323073774029, rel=1e-9)
    assert found.terms[1][0] == pytest.approx(1.00211681802045, rel=1e-12)


def test_felled_cherry_trees_by_equation_and_by_form_factor():
    """31 trees with measured volumes [Meyer1953]; their column Girth holds the diameter.

    Least squares by numpy as a second route; what both rules leave is told in per cent.
    """
    trees = cherry_trees()
    thick = trees.labelled_girth_in * INCH_CM
    tall, known = trees.height_ft * FOOT_M, trees.volume_ft3 * FOOT_M**3
    found = fitted_equation(thick, tall, known)
    design = np.column_stack([np.ones(thick.size), thick**2 * tall])
    by_numpy = np.linalg.lstsq(design, known, rcond=None)[0]
    assert [term[0] for term in found.terms] == pytest.approx(by_numpy, rel=1e-9)
    by_equation = found.volume_m3(thick, tall)
    assert np.sum(by_equation) == pytest.approx(known.sum(), rel=1e-9)
    assert np.std(by_equation / known - 1) < 0.09
    # a cone from the breast's height up, as a drawn stem, is nearest of the simple solids
    cone = Taper((0.0, 1.0), (76 / 71.5, 0.0))
    assert np.sum(cone.volume_m3(thick, tall)) == pytest.approx(known.sum(), rel=0.04)
    share = known.sum() / np.sum(FormFactor(1.0).volume_m3(thick, tall))
    assert np.sum(FormFactor(share).volume_m3(thick, tall)) == pytest.approx(known.sum())
    # as girths they would have given a tenth of it
    as_girths = FormFactor(share).volume_m3(thick / np.pi, tall)
    assert np.sum(as_girths) == pytest.approx(known.sum() / np.pi**2)
