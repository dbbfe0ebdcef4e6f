"""The constant-width shape as calipers and tape see it; the bump adds its own lens."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.stems import Ellipse, reuleaux, widths_cm, with_bump


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


@pytest.mark.parametrize(("high", "at", "wide"), [(2.2, 13, 5), (0.5, 200, 20), (4, -90, 2)])
def test_a_bump_by_hand_and_by_quadrature(high, at, wide):
    """On a circle of radius R it stands R + h far out, and adds ∫(Rb + b²/2)dθ of area."""
    shape = with_bump(Ellipse(40, 40), high, at, wide, points=7200)
    angle = np.radians(at)
    assert shape.support_cm(at) == pytest.approx(20 + high, abs=1e-3)
    top = shape.outline_cm()[np.hypot(*shape.outline_cm().T).argmax()]
    assert top == pytest.approx((20 + high) * np.array([np.cos(angle), np.sin(angle)]), abs=1e-2)
    # ∫exp(−(x/w)²)dx = w√π, ∫exp(−2(x/w)²)dx = w√(π/2)
    w = np.radians(wide)
    lens = 20 * high * w * np.sqrt(np.pi) + high**2 / 2 * w * np.sqrt(np.pi / 2)
    assert shape.area_cm2 - 400 * np.pi == pytest.approx(lens, abs=1e-3)


def test_without_its_bump_it_is_the_oval():
    """Every point on the ellipse; with a bump, those far from it stay where they were."""
    smooth, bumped = (with_bump(Ellipse(40, 36), high, 13, 5) for high in (0, 2.2))
    edge = smooth.outline_cm()
    assert np.hypot(*(edge / [20, 18]).T) == pytest.approx(1, rel=1e-12)
    moved = np.hypot(*(bumped.outline_cm() - edge).T)
    off = (np.degrees(np.arctan2(edge[:, 1], edge[:, 0])) - 13 + 180) % 360 - 180
    assert moved[np.abs(off) > 30].max() < 1e-12
    assert moved == pytest.approx(2.2 * np.exp(-((off / 5) ** 2)), abs=1e-12)


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ((Ellipse([40, 30], 36), 1, 0, 5), "stem"),
        ((Ellipse(40, 36), -1, 0, 5), "bump_cm"),
        ((Ellipse(40, 36), 1, np.nan, 5), "bump_deg"),
        ((Ellipse(40, 36), 1, 0, 0), "wide_deg"),
        ((Ellipse(40, 36), 1, 0, 5, 2), "points"),
    ],
)
def test_bumps_that_cannot_be(given, said):
    """Each refusal names the field."""
    with pytest.raises(MeasureError, match=f"^{said} is "):
        with_bump(*given)
