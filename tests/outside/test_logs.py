"""Logs and solids against published volumes, a printed constant and the theorem on cubics."""

import pytest

from mensura.estimates import (
    frustum_from_girths_m3,
    frustum_m3,
    huber_from_girth_m3,
    newton_from_girths_m3,
    rule_over_percent,
    smalian_from_girths_m3,
    smalian_m3,
    solid_form_factor,
    solid_m3,
    solid_radius_cm,
)

FT = 0.3048
PI = 3.141592653589793


@pytest.mark.parametrize(
    ("length_ft", "lower_ft", "upper_ft", "printed_ft3"),
    [(4.5, 4.8, 4.1, 70.13213), (4.5, 4.1, 3.9, 56.56045), (11, 3.9, 3.2, 109.2306)],
)
def test_cone_from_its_circumferences(length_ft, lower_ft, upper_ft, printed_ft3):
    """H/12π·(C₁² + C₁C₂ + C₂²), three pieces of one tall trunk in cubic feet (worksheet of a
    tree-measuring club, unsigned, read). To all seven printed figures."""
    girths_cm = PI * lower_ft * FT * 100, PI * upper_ft * FT * 100
    volume = frustum_from_girths_m3("cone", *girths_cm, length_ft * FT) / FT**3
    assert volume == pytest.approx(printed_ft3, rel=5e-7)
    middle_cm = sum(girths_cm) / 2
    by_newton = newton_from_girths_m3(girths_cm[0], middle_cm, girths_cm[1], length_ft * FT)
    assert by_newton / FT**3 == pytest.approx(printed_ft3, rel=5e-7)
    # the other two rules enclose it, on the sides that theory says
    assert huber_from_girth_m3(middle_cm, length_ft * FT) / FT**3 < printed_ft3
    assert smalian_from_girths_m3(*girths_cm, length_ft * FT) / FT**3 > printed_ft3


def test_the_same_with_rounded_girths():
    """Its first piece with both circumferences rounded to 0.1 ft, 15.1 and 12.9: by hand
    4.5/(12π)·(228.01 + 194.79 + 166.41) = 70.33 cubic feet, 0.3 % more."""
    volume = frustum_from_girths_m3("cone", 15.1 * FT * 100, 12.9 * FT * 100, 4.5 * FT)
    assert volume / FT**3 == pytest.approx(70.332, abs=1e-3)


def test_printed_constant_of_smalian():
    """0.0027271·(D₁² + D₂²)·L, inches and feet to cubic feet (unsigned note; π/1152 by hand)."""
    volume = smalian_m3(12 * 2.54, 10 * 2.54, 16 * FT) / FT**3
    assert volume == pytest.approx(0.0027271 * (144 + 100) * 16, rel=2e-5)
    assert volume == pytest.approx(PI / 1152 * 244 * 16, rel=1e-12)


@pytest.mark.parametrize(
    ("solid", "form", "huber", "smalian"),
    [
        ("cylinder", 1, 0, 0),
        ("paraboloid", 1 / 2, 0, 0),
        ("cone", 1 / 3, -25, 50),
        ("neiloid", 1 / 4, -50, 100),
    ],
)
def test_whole_solids(solid, form, huber, smalian):
    """Volume over that of the cylinder as textbooks have it (from memory), and by theorem the
    errors in per cent on a whole solid; Newton has none, as Simpson's rule is exact to cubics."""
    assert solid_form_factor(solid) == pytest.approx(form, rel=1e-15)
    top = 40 if solid == "cylinder" else 0
    assert frustum_m3(solid, 40, top, 9) == pytest.approx(PI * 0.04 * 9 * form, rel=1e-13)
    for rule, error in {"huber": huber, "smalian": smalian, "newton": 0}.items():
        assert rule_over_percent(rule, solid, 40, top) == pytest.approx(error, abs=1e-10)


def test_smalian_by_sections():
    """Smalian's rule erred by more than 8 % on stems of Pinus radiata once the sections were longer
    than 5 m [Goulding1979, abstract]. A neiloid of 30 m, our extreme of a flared stem, brackets
    that: by hand (the trapezium rule on a cubic) it errs by 1/36 with sections of 5 m and by 1/9
    with 10 m."""
    true = solid_m3("neiloid", 60, 30)
    for sections in (3, 6):
        step = 30 / sections
        ends = 2 * solid_radius_cm("neiloid", 60, 30, [step * k for k in range(sections + 1)])
        said = smalian_m3(ends[:-1], ends[1:], step).sum()
        assert 100 * (said / true - 1) == pytest.approx(100 / sections**2, rel=1e-9)
