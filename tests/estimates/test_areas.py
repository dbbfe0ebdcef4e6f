"""Areas from readings: each rule is right on a circle and says what it takes for granted."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.estimates import (
    area_from_diameters_cm2,
    area_from_girth_cm2,
    basal_area_ft2,
    basal_area_m2,
    diameter_from_girth_cm,
    form_factors,
    over_percent,
)
from mensura.stems import cherry_trees, circle

diameters = st.floats(0.5, 2000)


@given(diameters)
def test_every_rule_is_right_on_a_circle(diameter):
    """Girth, one diameter and any mean of equal diameters give the circle's own area."""
    stem = circle(diameter)
    assert area_from_girth_cm2(stem.taut_girth_cm) == pytest.approx(stem.area_cm2, rel=1e-13)
    assert diameter_from_girth_cm(stem.taut_girth_cm) == pytest.approx(diameter, rel=1e-13)
    assert basal_area_m2(diameter) == pytest.approx(stem.area_cm2 / 10_000, rel=1e-13)
    for mean in ("arithmetic", "geometric", "quadratic"):
        assert area_from_diameters_cm2([diameter] * 3, mean) == pytest.approx(
            stem.area_cm2, rel=1e-12
        )


@given(diameters, diameters)
def test_product_of_the_axes_is_the_ellipse(first, second):
    """The geometric mean of two axes gives π/4·d₁d₂; the others give more."""
    pair = [first, second]
    product = np.pi / 4 * first * second
    assert area_from_diameters_cm2(pair, "geometric") == pytest.approx(product, rel=1e-12)
    assert area_from_diameters_cm2(pair) >= product * (1 - 1e-12)
    assert area_from_diameters_cm2(pair, "quadratic") == pytest.approx(
        np.pi / 8 * (first**2 + second**2), rel=1e-12
    )


@given(st.floats(1, 700))
def test_square_feet_and_square_metres(inches):
    """Two trades, one area: 1 ft² is 0.3048² m² and 1 in is 2.54 cm, both by definition."""
    assert basal_area_ft2(inches) * 0.3048**2 == pytest.approx(
        basal_area_m2(inches * 2.54), rel=1e-12
    )


@given(st.floats(1, 1e5), st.floats(-90, 300))
def test_over_percent_undoes_itself(true, over):
    """An area made p per cent too large is found to be p per cent too large."""
    assert over_percent(true * (1 + over / 100), true) == pytest.approx(over, abs=1e-9)


def test_many_in_one_call():
    """Each rule takes arrays and keeps their shape."""
    girths = np.linspace(1, 300, 12).reshape(3, 4)
    assert area_from_girth_cm2(girths).shape == diameter_from_girth_cm(girths).shape == (3, 4)
    assert area_from_diameters_cm2(np.full((5, 2), 40.0)).shape == (5,)
    assert basal_area_m2([30, 40]).shape == basal_area_ft2([12, 16]).shape == (2,)
    assert over_percent([102, 99], 100).tolist() == pytest.approx([2, -1])


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda bad: area_from_girth_cm2(bad), "girth_cm is"),
        (lambda bad: diameter_from_girth_cm(bad), "girth_cm is"),
        (lambda bad: basal_area_m2(bad), "diameter_cm is"),
        (lambda bad: basal_area_ft2(bad), "diameter_in is"),
        (lambda bad: over_percent(bad, 1), "estimate_cm2 is"),
        (lambda bad: over_percent(1, bad), "true_cm2 is"),
        (lambda bad: form_factors(bad, 70, 10), "diameter_in is"),
        (lambda bad: form_factors(8, bad, 10), "height_ft is"),
        (lambda bad: form_factors(8, 70, bad), "volume_ft3 is"),
    ],
)
@pytest.mark.parametrize("bad", [0, -1, np.nan, np.inf, "40"])
def test_numbers_that_cannot_be(call, said, bad):
    """Each refusal names the argument, its value and its bound."""
    with pytest.raises(MeasureError, match=f"^{said} .*; expected a finite number above 0"):
        call(bad)


@pytest.mark.parametrize("girth", [20_000.1, 1e9])
def test_no_stem_is_that_thick(girth):
    """A girth above 200 m is a slip of the unit."""
    with pytest.raises(MeasureError, match="at most 20000 cm"):
        area_from_girth_cm2(girth)


def test_form_factor_of_plain_solids():
    """A cylinder fills itself, a cone a third: 12 in are 1 ft, so g is π/4 ft²."""
    assert form_factors(12, 40, np.pi / 4 * 40) == pytest.approx(1, rel=1e-14)
    assert form_factors(12, 40, np.pi / 12 * 40) == pytest.approx(1 / 3, rel=1e-14)


def test_the_column_girth_holds_diameters():
    """As diameters all 31 trees fit into their cylinders, as girths none does."""
    trees = cherry_trees()
    label, rest = trees.labelled_girth_in, (trees.height_ft, trees.volume_ft3)
    as_diameter = form_factors(label, *rest)
    as_girth = form_factors(label / np.pi, *rest)
    assert ((as_diameter > 0) & (as_diameter < 1)).all()
    assert (as_girth > 3).all()
    assert as_girth == pytest.approx(as_diameter * np.pi**2, rel=1e-13)
