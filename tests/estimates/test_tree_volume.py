"""Volume rules: solids in closed form, by quadrature, and what is refused."""

from __future__ import annotations

import numpy as np
import pytest

from mensura.checks import MeasureError
from mensura.estimates.solids import solid_m3, solid_radius_cm
from mensura.estimates.tree_volume import (
    Equation,
    FormFactor,
    Taper,
    fitted_equation,
    rule_of_trees,
    volumes_m3,
)


@pytest.mark.parametrize(("name", "share"), [("cylinder", 1.0), ("paraboloid", 0.5)])
def test_a_form_factor_is_the_solid_that_has_it(name, share):
    assert FormFactor(share).volume_m3(40, 25) == pytest.approx(solid_m3(name, 40, 25), rel=1e-12)


def test_a_straight_taper_is_a_cone_through_the_diameter_at_breast_height():
    """40 cm at 1.3 m of 24 m: 40·24/22.7 = 42.29 cm on the ground, by hand."""
    cone = Taper((0.0, 1.0), (1.0, 0.0))
    butt_cm = 40 * 24 / 22.7
    assert cone.volume_m3(40, 24) == pytest.approx(np.pi / 12 * (butt_cm / 100) ** 2 * 24)
    assert cone.volume_m3(40, 24) == pytest.approx(solid_m3("cone", butt_cm, 24), rel=1e-12)
    halves = Taper((0.0, 0.25, 1.0), (1.0, 0.75, 0.0))
    assert halves.form_factor(24) == pytest.approx((24 / 22.7) ** 2 / 3, rel=1e-12)


def test_a_taper_is_scaled_at_breast_height_by_hand():
    """13 m high, breast height at its tenth, where the stem is 0.9 of its own unit: by hand.

    Pieces, over π/12·(36/0.9 cm)²: 1.3 m of (1.1² + 1.1·0.9 + 0.9²) and 11.7 m of 0.9².
    """
    stem = Taper((0.0, 0.1, 1.0), (1.1, 0.9, 0.0))
    by_hand = np.pi / 12 * 0.4**2 * (1.3 * 3.01 + 11.7 * 0.81)
    assert stem.volume_m3(36, 13) == pytest.approx(by_hand, rel=1e-12)
    # the same stem drawn twice as wide is the same stem
    wide = Taper((0.0, 0.1, 1.0), (2.2, 1.8, 0.0))
    assert wide.volume_m3([36, 36], [13, 30]) == pytest.approx(stem.volume_m3([36, 36], [13, 30]))


def test_a_tree_without_a_breast_height_has_no_drawn_stem():
    """Refused as it is read, nothing as it is drawn; a stem that is nought at 1.3 m as well."""
    cone = Taper((0.0, 1.0), (1.0, 0.0))
    for tall in (1.0, 1.3, [20, 1.2]):
        with pytest.raises(MeasureError, match="height_m"):
            cone.volume_m3(2, tall)
    assert cone.unchecked_m3(np.array([2.0, 40.0]), np.array([1.3, 24.0])).tolist() == [
        0.0,
        cone.volume_m3(40, 24),
    ]
    gap = Taper((0.0, 0.1, 0.5, 1.0), (1.0, 0.0, 0.0, 0.0))
    with pytest.raises(MeasureError, match="a thickness at"):
        gap.volume_m3(36, 13)
    with pytest.raises(MeasureError, match="form_factor"):
        gap.form_factor(13)


@pytest.mark.parametrize("name", ["paraboloid", "neiloid"])
def test_a_drawn_stem_of_many_points_nears_the_solid(name):
    at = np.linspace(0, 1, 400)
    share = solid_radius_cm(name, 40, 25, at * 25) / 20
    stem = Taper(tuple(at.tolist()), tuple(share.tolist()))
    breast_cm = 2 * solid_radius_cm(name, 40, 25, 1.3)
    assert stem.volume_m3(breast_cm, 25) == pytest.approx(solid_m3(name, 40, 25), rel=1e-4)


def test_a_taper_is_the_integral_of_its_squares():
    stem = Taper((0.0, 0.1, 0.6, 1.0), (1.2, 0.95, 0.6, 0.0))
    fine = np.linspace(0, 1, 200_001)
    squares = np.interp(fine, stem.height_share, stem.diameter_share) ** 2
    there = 1.2 - 0.25 * (1.3 / 26) / 0.1
    assert stem.form_factor(26) == pytest.approx(np.trapezoid(squares, fine) / there**2, rel=1e-8)


def test_an_equation_is_the_sum_of_its_powers():
    rule = Equation(((0.01, 0, 0), (4e-5, 1.9, 1.1)))
    assert rule.volume_m3(30, 20) == pytest.approx(0.01 + 4e-5 * 30**1.9 * 20**1.1, rel=1e-12)
    assert Equation(((np.pi / 80000, 2, 1),)).volume_m3(30, 20) == pytest.approx(
        FormFactor(0.5).volume_m3(30, 20), rel=1e-12
    )


def test_an_equation_finds_the_trees_it_came_from():
    draws = np.random.default_rng(5)
    thick, tall = draws.uniform(12, 60, 40), draws.uniform(9, 32, 40)
    rule = Equation(((0.02, 0, 0), (3.4e-5, 2, 1)))
    found = fitted_equation(thick, tall, rule.volume_m3(thick, tall))
    assert [term[0] for term in found.terms] == pytest.approx([0.02, 3.4e-5], rel=1e-9)


def test_each_species_has_its_own_rule():
    rules = {"oak": FormFactor(0.5), "": FormFactor(0.4)}
    species = ("oak", "pine", "oak")
    thick, tall = np.array([30.0, 30.0, 40.0]), np.full(3, 20.0)
    found = volumes_m3(rules, species, thick, tall)
    assert found[1] == pytest.approx(0.8 * found[0])
    again = rule_of_trees(rules, species)(np.stack([thick, 2 * thick]), tall)
    assert again == pytest.approx(np.stack([found, 4 * found]), rel=1e-12)


def test_an_equation_below_nought_is_refused_and_drawn_as_nought():
    rule = Equation(((-0.5, 0, 0), (4e-5, 2, 1)))
    with pytest.raises(MeasureError, match="volume_m3"):
        rule.volume_m3(10, 10)
    assert rule_of_trees({"": rule}, ("",))(np.array([10.0]), np.array([10.0])) == 0


@pytest.mark.parametrize(
    "made",
    [
        lambda: FormFactor(0.0),
        lambda: FormFactor(1.1),
        lambda: Equation(()),
        lambda: Equation(((1.0, 2.0),)),  # type: ignore[arg-type]
        lambda: Taper((0.0,), (1.0,)),
        lambda: Taper((0.0, 0.9), (1.0, 0.0)),
        lambda: Taper((0.0, 0.5, 0.5, 1.0), (1.0, 0.9, 0.8, 0.0)),
        lambda: Taper((0.0, 1.0), (0.0, 0.0)),
        lambda: volumes_m3({"oak": FormFactor()}, ("pine",), np.array([3.0]), np.array([3.0])),
    ],
)
def test_what_is_no_rule_is_refused(made):
    with pytest.raises(MeasureError):
        made()
