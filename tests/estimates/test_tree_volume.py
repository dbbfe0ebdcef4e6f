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


def test_a_straight_taper_is_a_cone():
    cone = Taper((0.0, 1.0), (1.0, 0.0))
    assert cone.volume_m3(40, 24) == pytest.approx(solid_m3("cone", 40, 24), rel=1e-12)
    halves = Taper((0.0, 0.25, 1.0), (1.0, 0.75, 0.0))
    assert halves.form_factor == pytest.approx(1 / 3, rel=1e-12)


@pytest.mark.parametrize("name", ["paraboloid", "neiloid"])
def test_a_drawn_stem_of_many_points_nears_the_solid(name):
    at = np.linspace(0, 1, 400)
    share = solid_radius_cm(name, 40, 25, at * 25) / 20
    stem = Taper(tuple(at.tolist()), tuple(share.tolist()))
    assert stem.volume_m3(40, 25) == pytest.approx(solid_m3(name, 40, 25), rel=1e-4)


def test_a_taper_is_the_integral_of_its_squares():
    stem = Taper((0.0, 0.1, 0.6, 1.0), (1.2, 0.95, 0.6, 0.0))
    fine = np.linspace(0, 1, 200_001)
    squares = np.interp(fine, stem.height_share, stem.diameter_share) ** 2
    assert stem.form_factor == pytest.approx(np.trapezoid(squares, fine), rel=1e-8)


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
