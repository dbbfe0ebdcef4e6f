"""Theorems on girth, width and area, tried on every section that hypothesis can draw."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.estimates import (
    area_from_girth_cm2,
    one_reading_over_percent,
    over_percent,
    tape_over_percent,
    two_readings_over_percent,
)
from mensura.instruments import Calipers, Tape, evenly_turned_deg
from mensura.stems import Ellipse, Outline, RoughBark, circle, from_radii, reuleaux, widths_cm

ellipses = st.builds(
    lambda long, ratio: Ellipse(long, long * ratio), st.floats(1, 500), st.floats(0.05, 1)
)
polygons = st.lists(st.floats(2, 60), min_size=3, max_size=30).map(
    lambda radii: from_radii(np.arange(len(radii)) * 360 / len(radii), radii)
)
rough_stems = st.builds(
    lambda long, ratio, ridges, share, seed: RoughBark(
        Ellipse(long, long * ratio), ridges, share * long * ratio**2 / 2, seed
    ),
    st.floats(5, 150),
    st.floats(0.5, 1),
    st.integers(3, 80),
    st.floats(0.01, 0.9),
    st.integers(0, 10**6),
)
sections = st.one_of(ellipses, polygons, rough_stems)
SQUARE = Outline([[0, 0], [1, 0], [1, 1], [0, 1]])


@given(sections)
def test_tape_is_never_too_small(section):
    """G² ≥ 4πA for every section, hollow or not: the isoperimetric inequality [Berger2010].

    A study of 709 discs found the same, always over-estimates [Pulkkinen2012, abstract].
    """
    area = area_from_girth_cm2(Tape().read(section).reading_cm)
    assert area >= section.hull_area_cm2 * (1 - 1e-12)
    assert section.hull_area_cm2 >= section.area_cm2 * (1 - 1e-12)


@given(st.floats(0.1, 2000))
def test_equality_for_the_circle(diameter):
    """The circle, and it alone, has G² = 4πA."""
    stem = circle(diameter)
    assert area_from_girth_cm2(stem.taut_girth_cm) == pytest.approx(stem.area_cm2, rel=1e-13)
    flattened = Ellipse(diameter, diameter * 0.99)
    assert area_from_girth_cm2(flattened.taut_girth_cm) > flattened.area_cm2 * (1 + 1e-5)


# 4πA/P² of the regular n-gon is π/(n·tan(π/n)) (closed form): the values to six places. It rises
# to 1 with n; a note that calls it least as n grows is wrong.
@pytest.mark.parametrize(
    ("n", "quotient"),
    [(3, 0.604600), (4, 0.785398), (5, 0.864806), (6, 0.906900), (8, 0.948059), (12, 0.977049)],
)
def test_regular_polygons(n, quotient):
    """The area of a regular polygon over that of the circle with its girth."""
    stem = from_radii(np.arange(n) * 360 / n, np.full(n, 30.0))
    measured = stem.area_cm2 / area_from_girth_cm2(stem.taut_girth_cm)
    assert measured == pytest.approx(quotient, abs=5e-7)
    assert measured == pytest.approx(np.pi / (n * np.tan(np.pi / n)), rel=1e-12)


def test_square_section():
    """On a square the tape is 4/π − 1 = 27.32 % over (closed form)."""
    area = area_from_girth_cm2(SQUARE.taut_girth_cm)
    assert over_percent(area, SQUARE.area_cm2) == pytest.approx(27.323954, abs=5e-7)


def test_reuleaux_girth():
    """Constant width w means girth πw: Barbier's theorem [Barbier1860]."""
    shape = reuleaux(40, 12_000)
    assert widths_cm(shape, np.arange(0, 180, 0.5)) == pytest.approx(40, rel=1e-7)
    assert shape.taut_girth_cm == pytest.approx(40 * np.pi, rel=1e-7)


def test_reuleaux_area():
    """Width 1 has area (π − √3)/2 = 0.704770923010457972 [OEIS-A060708].

    So calipers and tape, which agree here, are both 11.44 % over (closed form).
    """
    published = 0.704770923010457972
    assert published == pytest.approx((np.pi - np.sqrt(3)) / 2, abs=1e-16)
    shape = reuleaux(1, 120_000)
    assert shape.area_cm2 == pytest.approx(published, rel=1e-8)
    area = area_from_girth_cm2(shape.taut_girth_cm)
    assert over_percent(area, shape.area_cm2) == pytest.approx(11.440205, abs=5e-6)
    one = Calipers().read(shape, 77)[0]
    assert np.pi / 4 * one**2 == pytest.approx(area, rel=1e-6)


# Cauchy's theorem: the mean width over all directions is girth/π for a convex section (stated for
# ovals by H. L. Resnikoff, 2013, arXiv 1504.06733). Girths below by hand; the ellipse's 9.6884482
# is that of the published circumference.
@pytest.mark.parametrize(
    ("section", "girth"),
    [
        (SQUARE, 4),
        (Outline([[0, 0], [4, 0], [4, 3], [0, 3]]), 14),
        (Outline([[0, 0], [4, 0], [0, 3]]), 12),
        (Outline([[0, 0], [1, 0], [0.5, np.sqrt(0.75)]]), 3),
        (Ellipse(4, 2), 9.6884482205476762),
        (reuleaux(1, 1200), np.pi),
        (Outline([[0, 0], [2, 0], [2, 1], [1, 1], [1, 2], [0, 2]]), 6 + np.sqrt(2)),
    ],
    ids=["square", "rectangle", "right triangle", "even triangle", "ellipse", "reuleaux", "elbow"],
)
def test_mean_width_is_girth_over_pi(section, girth):
    """Seven shapes, one law; for the elbow it is the hull's girth, the tape's."""
    mean = section.width_cm(evenly_turned_deg(7200, 0.0125)).mean()
    assert mean == pytest.approx(girth / np.pi, rel=5e-7)
    assert mean == pytest.approx(section.taut_girth_cm / np.pi, rel=5e-7)


@given(sections)
def test_mean_width_of_any_section(section):
    """Cauchy's theorem on whatever is drawn: many calipers agree with one tape [Cauchy1841]."""
    mean = section.width_cm(evenly_turned_deg(720)).mean()
    assert mean == pytest.approx(section.taut_girth_cm / np.pi, rel=2e-4)


def test_square_between_its_extreme_widths():
    """Unit square: least width 1, greatest √2, mean 4/π = 1.2732395447 (closed form)."""
    widths = SQUARE.width_cm(evenly_turned_deg(3600))
    assert (widths.min(), widths.max()) == pytest.approx((1, np.sqrt(2)), rel=1e-14)
    assert widths.mean() == pytest.approx(1.2732395447, rel=1e-6)


@given(st.floats(-360, 360))
def test_director_circle(direction):
    """w² + w'² at right angles is 4(a² + b²) = 20 for a = 2, b = 1: Monge's circle (theorem)."""
    pair = Calipers().read(Ellipse(4, 2), [direction, direction + 90])
    assert (pair**2).sum() == pytest.approx(20, rel=1e-13)


@pytest.mark.parametrize(("ratio", "places"), [(0.9, 0.003), (0.99, 3e-5), (0.999, 3e-6)], ids=str)
def test_two_to_three_to_four(ratio, places):
    """Small ovality: the biases of arithmetic mean, girth and quadratic mean are as 2 : 3 : 4.

    From the series of E in small ovality (theorem); at r = 0.9: 0.2778, 0.4167, 0.5556 %.
    """
    arithmetic = two_readings_over_percent(ratio, 0, "arithmetic")
    quadratic = two_readings_over_percent(ratio, 0, "quadratic")
    girth = tape_over_percent(ratio)
    assert girth / arithmetic * 2 == pytest.approx(3, abs=places)
    assert quadratic / arithmetic * 2 == pytest.approx(4, abs=1e-6)
    if ratio == 0.9:
        assert [arithmetic, girth, quadratic] == pytest.approx([0.2778, 0.4167, 0.5556], abs=5e-5)


# Arithmetic mean (1 − r)²/4r and quadratic mean (1 − r)²/2r of the axes (closed forms). A 1927
# article, Acta Forestalia Fennica 32(3) 7208, states in its abstract that the error of the mean of
# two diameters of an ellipse lies between two limits, least for the longest and the shortest.
@pytest.mark.parametrize(
    ("ratio", "arithmetic", "quadratic"),
    [
        (0.95, 0.0658, 0.1316),
        (0.90, 0.2778, 0.5556),
        (0.85, 0.6618, 1.3235),
        (0.80, 1.2500, 2.5000),
        (0.75, 2.0833, 4.1667),
        (0.70, 3.2143, 6.4286),
        (0.50, 12.500, 25.000),
    ],
)
def test_error_of_two_diameters_lies_between_two_limits(ratio, arithmetic, quadratic):
    """Least on the axes, greatest at 45°, and the table's values at both ends."""
    turned = two_readings_over_percent(ratio, np.arange(0, 91, 1.0))
    assert turned.argmin() in (0, 90)
    assert turned.argmax() == 45
    assert turned.min() == pytest.approx(arithmetic, abs=5e-5)
    assert turned.max() == pytest.approx(quadratic, abs=5e-5)


def test_mean_errors_over_all_directions():
    """Small ovality, leading order: one reading 4, two by arithmetic mean 3, tape 3, product 2.

    From sin² 2θ having the mean ½ (theorem); the tape's 3 is the series of E.
    """
    ratio, turns = 0.99, evenly_turned_deg(3600)
    unit = (1 - ratio) ** 2 / (8 * ratio) * 100
    assert one_reading_over_percent(ratio, turns).mean() / unit == pytest.approx(4, rel=1e-6)
    arithmetic, product = (
        two_readings_over_percent(ratio, turns, m).mean() for m in ("arithmetic", "geometric")
    )
    assert arithmetic / unit == pytest.approx(3, rel=1e-3)
    assert product / unit == pytest.approx(2, rel=1e-3)
    assert tape_over_percent(ratio) / unit == pytest.approx(3, rel=1e-3)
