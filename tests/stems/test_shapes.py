"""The constant-width shape as calipers and tape see it."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.stems import reuleaux, widths_cm


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
