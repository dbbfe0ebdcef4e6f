"""Which rule is exact for which form: fractions against quadrature, the proof against itself."""

from fractions import Fraction

import numpy as np
import pytest

from mensura.checks import MeasureError
from mensura.estimates import exactness, rule_over_percent, taper_m3, taper_over_percent
from mensura.estimates.exactness import (
    PLACES,
    area_curve_m3,
    power_by_rule,
    power_true,
    whole_solid_percent,
)
from mensura.estimates.solids import LOG_RULES, SOLIDS, solid_m3


@pytest.mark.parametrize("power", range(8))
def test_true_volumes_of_powers_by_quadrature(power):
    """∫xᵖ from −½ to ½ by Gauss's rule of ten nodes, exact to the 19th degree."""
    nodes, weights = np.polynomial.legendre.leggauss(10)
    assert float(power_true(power)) == pytest.approx(
        float(weights @ (nodes / 2) ** power) / 2, abs=1e-15
    )


@pytest.mark.parametrize("rule", LOG_RULES)
def test_the_proof_proves_what_it_says(rule):
    """Every line with two sides holds but the last of them, and that one fails."""
    found = exactness(rule)
    sides = [(one.left, one.right) for one in found.proof if one.left is not None]
    assert len(sides) == found.degree + 2
    assert all(left == right for left, right in sides[:-1])
    assert sides[-1][0] != sides[-1][1]
    assert all(
        f" {left}, truly {right}" in line.says
        for line, (left, right) in zip(found.proof[1:], sides, strict=False)
    )
    # powers of even degree decide; odd ones vanish by symmetry, so there is no second end
    assert sum((weight for _, weight in PLACES[rule]), Fraction(0)) == 1


@pytest.mark.parametrize("rule", LOG_RULES)
@pytest.mark.parametrize("solid", SOLIDS)
def test_exactness_agrees_with_the_solids(rule, solid):
    """The same errors by floats on whole solids, and none on a frustum where it is called exact."""
    top = 40 if solid == "cylinder" else 0
    assert float(whole_solid_percent(rule, solid)) == pytest.approx(
        rule_over_percent(rule, solid, 40, top), abs=1e-9
    )
    frustum_top = 40 if solid == "cylinder" else 25
    off = rule_over_percent(rule, solid, 40, frustum_top)
    assert (abs(off) < 1e-9) == (solid in exactness(rule).exact_for)


@pytest.mark.parametrize("rule", LOG_RULES)
def test_exact_up_to_its_degree_and_no_further(rule):
    """Areas drawn at random: of that degree none errs, of one more each does."""
    rng = np.random.default_rng(3)
    degree = exactness(rule).degree
    for more in (0, 1):
        terms = rng.uniform(0.01, 0.05, degree + 1 + more)
        curve = lambda h, c=terms: np.sqrt(np.polyval(c[::-1], h) * 40000 / np.pi)  # noqa: E731
        off = taper_over_percent(rule, curve, 2.0)
        assert (abs(off) < 1e-10) == (more == 0)
        assert taper_m3(curve, 2.0) == pytest.approx(area_curve_m3(terms, 2.0), rel=1e-12)


def test_what_is_left_over_is_the_error_term():
    """On an area that bends by 1: −L³/24, +L³/12; with a fourth derivative of 1 +L⁵/2880."""
    bend = Fraction(1, 2)
    assert bend * (power_by_rule("huber", 2) - power_true(2)) == Fraction(-1, 24)
    assert bend * (power_by_rule("smalian", 2) - power_true(2)) == Fraction(1, 12)
    fourth = Fraction(1, 24)
    assert fourth * (power_by_rule("newton", 4) - power_true(4)) == Fraction(1, 2880)
    for rule, words in (("huber", "−L³/24"), ("smalian", "+L³/12"), ("newton", "+L⁵/2880")):
        assert exactness(rule).error_term.startswith(words)


def test_sections_cut_the_error_by_their_square():
    """Twice the sections, a quarter of Smalian's error on a neiloid, a sixteenth of Newton's on a
    curve of the fourth degree."""
    neiloid = lambda h: 60 * (1 - h / 30) ** 1.5  # noqa: E731
    errors = [taper_over_percent("smalian", neiloid, 30, n) for n in (2, 4, 8)]
    assert errors[0] / errors[1] == pytest.approx(4) == errors[1] / errors[2]
    fourth = lambda h: 60 * (1 - h / 30) ** 2  # noqa: E731
    coarse, fine = (taper_over_percent("newton", fourth, 30, n) for n in (1, 2))
    assert coarse / fine == pytest.approx(16, rel=1e-6)


def test_a_taper_that_is_a_solid():
    """A cone by its curve; any curve that cannot be a stem is refused."""
    assert taper_m3(lambda h: 40 * (1 - h / 21), 21) == pytest.approx(
        solid_m3("cone", 40, 21), rel=1e-13
    )
    assert taper_m3(lambda h: 40.0, 5) == pytest.approx(solid_m3("cylinder", 40, 5), rel=1e-13)
    with pytest.raises(MeasureError, match="diameter_at"):
        taper_m3(lambda h: 10 - h, 21)
    with pytest.raises(MeasureError, match="rule"):
        taper_over_percent("simpson", lambda h: 40.0, 5)
    with pytest.raises(MeasureError, match="solid"):
        whole_solid_percent("huber", "cube")
