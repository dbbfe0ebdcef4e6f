"""Even bark as another library lays it, and a belt as a hull."""

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
    with_bark,
    with_even_bark,
)

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
