"""What a photograph adds, against figures worked out on paper from similar triangles and polygons.

Theorems throughout: the figures follow from the shapes, and anybody can work them out again.
"""

import pytest

from mensura.estimates.photo_errors import (
    area_of_widths_percent,
    bent_area_percent,
    clicked_area_percent,
    clicked_girth_percent,
    clicks_for,
    scale_off_plane_percent,
    scale_read_percent,
    u_photo_area_percent,
)


@pytest.mark.parametrize(
    ("way_m", "width", "area"), [(1, 2.041, 4.123), (2, 1.010, 2.030), (3, 0.671, 1.347)]
)
def test_a_scale_two_centimetres_behind_the_cut(way_m, width, area):
    """1/98, 1/99 and 2/298 of a width, and their areas (similar triangles)."""
    found = scale_off_plane_percent(way_m, 2)
    assert found == pytest.approx(width, abs=5e-4)
    assert area_of_widths_percent(found) == pytest.approx(area, abs=6e-4)


def test_a_pixel_in_three_hundred():
    """1/299 too wide or 1/301 too narrow, a third of a per cent; areas 0.67 % (rule of three)."""
    assert scale_read_percent(300, 1) == pytest.approx(100 / 299)
    assert scale_read_percent(300, -1) == pytest.approx(-100 / 301)
    assert area_of_widths_percent(1 / 3) == pytest.approx(0.668, abs=5e-4)


@pytest.mark.parametrize(("bent", "area"), [(-1, -1.99), (-2, -3.96)])
def test_a_bent_disc(bent, area):
    """0.99² and 0.98² by hand."""
    assert bent_area_percent(bent) == pytest.approx(area)


@pytest.mark.parametrize(
    ("count", "area", "girth"),
    [
        (12, -4.507, -1.138),
        (24, -1.138, -0.285),
        (36, -0.507, -0.127),
        (72, -0.127, -0.032),
    ],
)
def test_clicked_corners(count, area, girth):
    """Inscribed polygons: sines to three decimals (closed form)."""
    assert clicked_area_percent(count) == pytest.approx(area, abs=5e-4)
    assert clicked_girth_percent(count) == pytest.approx(girth, abs=5e-4)


def test_hexagon_and_ninety_six_corners():
    """A hexagon's way round is six radii; Archimedes' 96 corners lie above 3 + 10/71 (Euclid;
    *Measurement of a Circle*, from memory)."""
    pi = 3.14159265358979
    assert (1 + clicked_girth_percent(6) / 100) * pi == pytest.approx(3)
    assert 3 + 10 / 71 < (1 + clicked_girth_percent(96) / 100) * pi < pi


def test_thirty_six_corners_are_just_too_few_for_half_a_per_cent():
    """0.507 % with 36, 0.480 % with 37 (closed form)."""
    assert clicks_for(0.5) == 37


def test_three_four_five_makes_ten():
    """Marks that make 3 % of the scale, an edge that makes 4 % of the radius: 5 % of a width, 10 %
    of the area, by hand [GUM1995]."""
    assert u_photo_area_percent(100, 3 / 2**0.5, 100, 4) == pytest.approx(10)
