"""Handbook tables and constants of basal area, and the rules of practice that lean on them."""

import numpy as np
import pytest

from mensura.estimates import (
    area_from_diameters_cm2,
    area_from_girth_cm2,
    basal_area_ft2,
    basal_area_m2,
    diameter_from_girth_cm,
    out_of_round_percent,
    over_percent,
)

# Southern Regional Extension Forestry, Service Forester's Handbook, table "Basal area and plots
# per acre" [SREF]: inches, square feet to three decimals. All seventeen rows.
HANDBOOK = {
    4: 0.087,
    5: 0.136,
    6: 0.196,
    7: 0.267,
    8: 0.349,
    9: 0.442,
    10: 0.545,
    11: 0.660,
    12: 0.785,
    13: 0.922,
    14: 1.069,
    15: 1.227,
    16: 1.396,
    17: 1.576,
    18: 1.767,
    19: 1.969,
    20: 2.182,
}


@pytest.mark.parametrize(("inches", "printed"), HANDBOOK.items())
def test_handbook_table(inches, printed):
    """Each row to the printed digit [SREF], in square feet and through metres."""
    assert basal_area_ft2(inches) == pytest.approx(printed, abs=5e-4)
    assert basal_area_m2(inches * 2.54) / 0.3048**2 == pytest.approx(printed, abs=5e-4)


def test_printed_constants():
    """0.005454 (forestry glossaries; [SREF] prints 0.00545) and 0.00007854 (from memory)."""
    assert basal_area_ft2(1) == pytest.approx(0.005454, abs=5e-7)
    assert basal_area_ft2(1) == pytest.approx(0.00545, abs=5e-6)
    assert basal_area_m2(1) == pytest.approx(0.00007854, abs=5e-9)


def test_constants_for_a_girth():
    """g = G²/(4π·10⁴) m² from cm and G²/(576·π) ft² from inches (closed forms)."""
    assert area_from_girth_cm2(1) / 1e4 == pytest.approx(7.957747e-6, rel=1e-7)
    assert basal_area_ft2(1 / np.pi) == pytest.approx(5.526213e-4, rel=1e-7)
    assert area_from_girth_cm2(2.54) / 1e4 / 0.3048**2 == pytest.approx(5.526213e-4, rel=1e-7)


@pytest.mark.parametrize(("inches", "printed"), [(10, 54.54), (12, 78.54)])
def test_a_hundred_trees(inches, printed):
    """100 trees of 10 in make 54.54 ft², of 12 in 78.54 ft² (unsigned web examples)."""
    assert 100 * basal_area_ft2(inches) == pytest.approx(printed, abs=5e-3)


def test_rounding_down():
    """The code rounds down to whole centimetres [CFMP1999, section 2.2.1]: 20.5 read as 20.

    By hand: (20/20.5)² − 1 = −4.82 % of the area.
    """
    rounded, true = (1e4 * basal_area_m2(d) for d in (20, 20.5))
    assert over_percent(rounded, true) == pytest.approx(-4.82, abs=5e-3)


def test_two_axes_averaged():
    """Two diameters at right angles are averaged [CFMP1999, section 2.2.1]: 60 and 48 make 54.

    By hand π/4·54² = 2290.221 cm², 1.25 % above the oval's own π/4·60·48.
    """
    area = area_from_diameters_cm2([60, 48])
    assert area == pytest.approx(2290.221, abs=5e-4)
    assert over_percent(area, area_from_diameters_cm2([60, 48], "geometric")) == pytest.approx(1.25)


def test_out_of_roundness_as_defined():
    """Longest less the one at right angles, over the shorter [ForSci1975]: 60, 48 make 25 %."""
    assert out_of_round_percent(60, 48) == pytest.approx(25, rel=1e-14)


def test_girth_to_diameter():
    """355/113 for π (Zu Chongzhi, 5th century, from memory): 355 cm of girth are 113 cm through."""
    assert diameter_from_girth_cm(355) == pytest.approx(113, rel=1e-7)
