"""A stem in space against values worked out elsewhere, scipy's integral and hull, and by hand.

The tables are theorems worked out by hand elsewhere, to the digits that stand here: heights lost on
slopes and leans by a stem of 40 cm, and calipers and tapes held level on a leaning cylinder.
"""

import numpy as np
import pytest
import shapely
from scipy.integrate import quad
from scipy.optimize import brentq
from scipy.spatial import ConvexHull
from scipy.special import ellipe

from mensura.estimates import area_from_girth_cm2, over_percent
from mensura.stems import Buttress, Fork, StemInSpace, Swelling, band_line_m, side_view

# Slope in degrees, height in cm between uphill and downhill of a stem of 40 cm (D·tan β), and the
# area too large in per cent where it is measured downhill and loses 1 cm with each metre (theorem).
SLOPES = [(10, 7.05, 0.353), (20, 14.56, 0.729), (30, 23.09, 1.158), (40, 33.56, 1.685)]

# Lean in degrees, cm that 1.3 m plumb is too high along the stem, cm between its upper and its
# under side (D·tan λ, D 40), per cent by which level calipers in the lean read too much, and per
# cent of area too large by a level band (theorem; the last by elliptic integral).
LEANS = [
    (5, 0.50, 3.50, 0.382, 0.383),
    (10, 2.01, 7.05, 1.543, 1.552),
    (15, 4.59, 10.72, 3.528, 3.574),
    (20, 8.34, 14.56, 6.418, 6.572),
    (30, 20.11, 23.09, 15.47, 16.368),
]


@pytest.mark.parametrize(("slope", "apart", "area"), SLOPES)
def test_downhill_instead_of_uphill(slope, apart, area):
    """Height and area, 1 cm of taper a metre."""
    stem = StemInSpace(40.0, 1.3, slope_deg=slope)
    assert 100 * (stem.ground_m("uphill") - stem.ground_m("downhill")) == pytest.approx(
        apart, abs=5e-3
    )
    # 40 cm where the rule has it, on the uphill side
    tapering = StemInSpace(40.0, stem.along_m(1.3), 1.0, slope_deg=slope)
    low = tapering.section_at(tapering.along_m(1.3, "downhill"))
    right = tapering.section_at(tapering.along_m(1.3, "uphill"))
    assert over_percent(low.area_cm2, right.area_cm2) == pytest.approx(area, abs=1.5e-3)


@pytest.mark.parametrize(("lean", "plumb", "sides", "calipers", "band"), LEANS)
@pytest.mark.parametrize("way", [0.0, 77.0, 180.0])
def test_leaning_stem(lean, plumb, sides, calipers, band, way):
    """Heights, level calipers and level band; whichever way it leans."""
    stem = StemInSpace(40.0, lean_deg=lean, lean_towards_deg=way)
    high = stem.along_m(1.3, "middle", plumb=True) - stem.along_m(1.3, "middle")
    assert 100 * high == pytest.approx(plumb, abs=5e-3)
    assert 100 * (stem.ground_m("under") - stem.ground_m("upper")) == pytest.approx(sides, abs=5e-3)
    level = stem.section_at(1.3, level=True)
    assert over_percent(level.width_cm(0.0), 40.0) == pytest.approx(calipers, abs=2e-3)
    assert level.width_cm(90.0) == 40.0
    girth = level.taut_girth_cm
    assert girth == pytest.approx(
        40 * 2 * ellipe(np.sin(np.radians(lean)) ** 2) / np.cos(np.radians(lean)), rel=1e-12
    )
    area = over_percent(area_from_girth_cm2(girth), area_from_girth_cm2(np.pi * 40))
    assert area == pytest.approx(band, abs=1e-3)


@pytest.mark.parametrize(("lean", "taper"), [(5, 0.5), (10, 2.0), (25, 10.0), (45, 20.0)])
def test_level_girth_of_a_cone_as_a_curve_in_space(lean, taper):
    """The cut followed in space by root finding and integrated by SciPy: the ellipse's girth."""
    stem = StemInSpace(40.0, 1.3, taper, lean, 60.0)
    turn, axis = np.radians(lean), stem.axis
    first = np.array([np.cos(np.radians(60)), np.sin(np.radians(60)), 0.0])
    second = np.cross([0.0, 0.0, 1.0], first)

    def far_cm(angle):
        def outside(far):
            point = 130 * axis + far * (np.cos(angle) * first + np.sin(angle) * second)
            along = point @ axis
            return np.linalg.norm(point - along * axis) - (20 - taper / 200 * (along - 130))

        return brentq(outside, 0.0, 200.0, xtol=1e-13)

    step = 1e-5

    def speed(angle):
        return np.hypot(far_cm(angle), (far_cm(angle + step) - far_cm(angle - step)) / (2 * step))

    length = 2 * quad(speed, 0.0, np.pi, epsabs=1e-9)[0]
    section = stem.section_at(1.3, level=True)
    assert section.taut_girth_cm == pytest.approx(length, rel=1e-8)
    area = quad(lambda angle: far_cm(angle) ** 2, 0.0, np.pi, epsabs=1e-8)[0]
    assert section.area_cm2 == pytest.approx(area, rel=1e-9)
    assert 1 / np.cos(turn) < section.width_cm(0.0) / 40  # a cone's cut is longer still


@pytest.mark.parametrize(("first", "second", "gap"), [(25, 22, 0), (25, 22, 6), (40, 12, 3)])
@pytest.mark.parametrize("lean", [0, 15, 35])
def test_two_legs_as_one(first, second, gap, lean):
    """SciPy's hull of both legs cut level; upright it is 2√(c² − δ²) + R(π + 2β) + r(π − 2β)."""
    fork = Fork(1.0, (first, second), gap)
    section = StemInSpace(48.0, lean_deg=lean, fork=fork).section_at(1.4, level=True)
    edges = np.concatenate(
        [
            one.outline_cm(40_000) + np.asarray(middle)
            for one, middle in zip(section.sections, section.middles_cm, strict=True)
        ]
    )
    hull = ConvexHull(edges)
    assert section.taut_girth_cm == pytest.approx(hull.area, rel=1e-8)
    assert section.hull_area_cm2 == pytest.approx(hull.volume, rel=1e-8)
    if lean == 0:
        apart, off = (first + second) / 2 + gap, (first - second) / 2
        angle = np.arcsin(off / apart)
        belt = 2 * np.sqrt(apart**2 - off**2)
        belt += first / 2 * (np.pi + 2 * angle) + second / 2 * (np.pi - 2 * angle)
        assert section.taut_girth_cm == pytest.approx(belt, rel=1e-12)


def test_lobes_by_quadrature():
    """Area of a section with lobes, ½∫ρ² by SciPy; its taut girth is that of GEOS's hull."""
    buttress = Buttress(5, 30.0, 2.0)
    section = StemInSpace(60.0, buttress=buttress).section_at(0.5)

    def radius_cm(angle):
        return 30 + 30 * 0.75**2 * ((1 + np.cos(5 * angle)) / 2) ** 4

    area = quad(lambda angle: radius_cm(angle) ** 2 / 2, 0, 2 * np.pi, limit=200)[0]
    assert section.area_cm2 == pytest.approx(area, rel=1e-9)
    angle = np.linspace(0, 2 * np.pi, 20_001)
    dense = np.stack([radius_cm(angle) * np.cos(angle), radius_cm(angle) * np.sin(angle)], axis=-1)
    hull = shapely.MultiPoint(dense).convex_hull
    assert section.taut_girth_cm == pytest.approx(hull.length, rel=1e-6)


def test_swelling_by_hand():
    """8 % at its middle, half of it half-way out: (1 + p)² less 1 is 16.64 % of the area."""
    stem = StemInSpace(40.0, swelling=Swelling(1.3, 8.0, 0.3))
    swollen, sound = stem.section_at(1.3).area_cm2, stem.section_at(1.7).area_cm2
    assert over_percent(swollen, sound) == pytest.approx(16.64, abs=1e-9)
    assert stem.section_at(1.15).width_cm(0.0) == pytest.approx(41.6, abs=1e-9)


def test_picture_is_the_stem():
    """Upright on a slope of 30°: its foot falls from −20·tan 30° to the other side (by hand)."""
    view = side_view(StemInSpace(40.0, slope_deg=30.0))
    foot = view.stems_m[0][np.abs(np.abs(view.stems_m[0][:, 1]) - 0.2 * np.tan(np.pi / 6)) < 1e-9]
    assert sorted(foot.round(6).tolist()) == [[-0.2, 0.11547], [0.2, -0.11547]]
    band = band_line_m(StemInSpace(40.0, lean_deg=30.0), 1.0, level=True)
    assert np.ptp(band[:, 0]) == pytest.approx(0.4 / np.cos(np.pi / 6), rel=1e-12)
