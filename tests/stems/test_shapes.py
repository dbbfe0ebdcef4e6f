"""Ready shapes as calipers, tape and another library see them."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.stems import (
    Ellipse,
    Outline,
    belt_cm,
    circle,
    from_radii,
    reuleaux,
    widths_cm,
    with_bark,
    with_even_bark,
)


@given(st.floats(1, 1000))
def test_same_width_everywhere(width):
    """No direction of the calipers tells it from a circle."""
    widths = widths_cm(reuleaux(width, 3000), np.arange(0, 180, 3))
    assert widths == pytest.approx(width, rel=1e-6)


@pytest.mark.parametrize("points", [6, 30, 1200, 12_000])
def test_points_lie_on_the_arcs(points):
    """Every corner of the polygon is one width away from the opposite corner of the triangle."""
    shape = reuleaux(40, points)
    corners = 40 / np.sqrt(3) * np.exp(1j * np.radians([90, 210, 330]))
    edge = shape.points_cm @ [1, 1j]
    away = np.abs(edge[:, None] - corners).max(axis=1)
    assert away == pytest.approx(40, rel=1e-12)
    assert len(edge) == points // 3 * 3


def test_more_points_come_closer_from_below():
    """The polygon lies inside the true shape, so area and girth grow with the points."""
    shapes = [reuleaux(40, n) for n in (12, 120, 1200)]
    girths = [s.taut_girth_cm for s in shapes]
    areas = [s.area_cm2 for s in shapes]
    assert girths == sorted(girths)
    assert areas == sorted(areas)
    assert girths[-1] < 40 * np.pi
    assert areas[-1] < (np.pi - np.sqrt(3)) / 2 * 1600


@pytest.mark.parametrize(("width", "points"), [(0, 9), (-4, 9), (2001, 9), (40, 5), (40, 7.5)])
def test_shapes_that_cannot_be(width, points):
    """Width and number of points are checked."""
    with pytest.raises(MeasureError, match=r"^(width_cm|points) is "):
        reuleaux(width, points)


PLANK = Outline([[0, 0], [4, 0], [4, 3], [0, 3]])
LOBES = from_radii(np.arange(0, 360, 5.0), 20 + 2 * np.cos(np.radians(3 * np.arange(0, 360, 5.0))))
WOODS = [PLANK, Ellipse(45, 37), circle(41), reuleaux(40), LOBES, with_bark(circle(40), 20, 1.0, 3)]


@pytest.mark.parametrize("wood", WOODS)
@pytest.mark.parametrize("bark", [0.1, 1.5, 12.0])
def test_even_bark_as_another_library_lays_it(wood, bark):
    """GEOS lays the same bark round the same hull: area, girth, and the bark's place."""
    stem = with_even_bark(wood, bark)
    theirs = shapely.Polygon(wood.hull_cm).buffer(bark, quad_segs=360)
    assert stem.area_cm2 == pytest.approx(theirs.area, rel=2e-5)
    assert stem.taut_girth_cm == pytest.approx(theirs.length, rel=2e-5)
    ours = shapely.Polygon(stem.points_cm)
    assert shapely.hausdorff_distance(ours.exterior, theirs.exterior) < 0.01 * bark + 0.05


@pytest.mark.parametrize("wood", WOODS)
def test_even_bark_is_steiners_rule(wood):
    """Girth 2πt more, area by the wood's girth and a full circle, every width 2t more."""
    bark = 1.5
    stem = with_even_bark(wood, bark)
    around, inside = wood.taut_girth_cm, wood.hull_area_cm2
    # an ellipse's hull is a polygon of its edge: a hair small
    assert stem.taut_girth_cm - 2 * np.pi * bark == pytest.approx(around, rel=1e-5)
    area = inside + around * bark + np.pi * bark**2
    assert stem.area_cm2 == pytest.approx(area, rel=2e-5)
    for turn in (0.0, 17.0, 90.0):
        assert stem.width_cm(turn) == pytest.approx(wood.width_cm(turn) + 2 * bark, abs=1e-3)


def test_even_bark_comes_nearer_from_below():
    """Corners lie on the arcs: girth never above the rule, and near it with more points."""
    girths = [with_even_bark(PLANK, 0.5, n).taut_girth_cm for n in (60, 600, 6000)]
    assert girths == sorted(girths)
    assert girths[-1] < 14 + np.pi
    assert girths[-1] == pytest.approx(14 + np.pi, rel=1e-7)


@pytest.mark.parametrize(
    ("wood", "bark", "points", "field"),
    [
        (PLANK, 0, 600, "bark_cm"),
        (PLANK, 201, 600, "bark_cm"),
        (PLANK, 1, 59, "points"),
        (Ellipse([40, 50], 40), 1, 600, "wood"),
    ],
)
def test_bark_that_cannot_be(wood, bark, points, field):
    """Thickness, points and number of stems are checked."""
    with pytest.raises(MeasureError, match=f"^{field} is "):
        with_even_bark(wood, bark, points)


@given(st.floats(1, 200), st.floats(0.1, 200))
def test_belt_is_the_hull_of_two_circles(first, second):
    """Dense polygons of both circles, side by side, and the line pulled tight round them."""
    turn = np.exp(1j * np.linspace(0, 2 * np.pi, 4000, endpoint=False))
    edge = np.concatenate([first / 2 * turn, (first + second) / 2 + second / 2 * turn])
    hull = shapely.MultiPoint(np.stack([edge.real, edge.imag], axis=-1)).convex_hull
    assert belt_cm(first, second) == pytest.approx(hull.length, rel=1e-6)
    assert belt_cm(second, first) == pytest.approx(belt_cm(first, second), rel=1e-12)


def test_belt_broadcasts_and_is_checked():
    """One stem, several climbers; equal circles; nothing is refused."""
    assert belt_cm(40.0, [2.0, 40.0]) == pytest.approx([126.83316, 80 + 40 * np.pi], abs=5e-6)
    with pytest.raises(MeasureError, match=r"^second_diameter_cm is "):
        belt_cm(40.0, 0.0)
