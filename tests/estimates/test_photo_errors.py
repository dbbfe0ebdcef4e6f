"""Errors of a photograph: pictures made point by point, and what is refused."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon

from mensura.checks import MeasureError
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


def around(count: int) -> np.ndarray:
    """Points evenly on a circle of radius 1."""
    turn = 2 * np.pi * np.arange(count) / count
    return np.column_stack([np.cos(turn), np.sin(turn)])


@given(st.floats(0.3, 5), st.floats(-20, 20))
def test_a_pinhole_draws_it_so(way_m, nearer_cm):
    """A cut and a scale through a pinhole 1 away from the picture."""
    rim = np.column_stack([around(200) * 0.2, np.full(200, way_m - nearer_cm / 100)])
    scale = np.array([[0, 0, way_m], [0.3, 0, way_m]])
    drawn, along = rim[:, :2] / rim[:, 2:], scale[:, :2] / scale[:, 2:]
    metres = 0.3 / np.linalg.norm(along[1] - along[0])
    true, seen = Polygon(rim[:, :2]).area, Polygon(drawn * metres).area
    found = area_of_widths_percent(scale_off_plane_percent(way_m, nearer_cm))
    assert found == pytest.approx(100 * (seen / true - 1), abs=1e-7)


@given(st.integers(3, 400))
def test_corners_against_polygons(count):
    """GEOS's area and length of the clicked outline."""
    outline = Polygon(around(count))
    area, girth = 100 * (outline.area / np.pi - 1), 100 * (outline.length / 2 / np.pi - 1)
    assert clicked_area_percent(count) == pytest.approx(area, abs=1e-9)
    assert clicked_girth_percent(count) == pytest.approx(girth, abs=1e-9)


@pytest.mark.parametrize("bent", [-30.0, -3.0, 0.0, 2.0, 40.0])
def test_a_disc_bent_point_by_point(bent):
    """Rings of the disc, each moved to r·(1 + k·r²): the picture's area is the outermost's."""
    radius = np.linspace(0, 1, 4001)
    moved = radius * (1 + bent / 100 * radius**2)
    area = np.sum(np.diff(moved) * (moved[1:] + moved[:-1])) * np.pi
    assert bent_area_percent(bent) == pytest.approx(100 * (area / np.pi - 1), abs=1e-9)


@given(st.floats(0.001, 50))
def test_enough_clicks_and_no_more(short_percent):
    """The count that is named is enough, and one fewer is not."""
    count = clicks_for(short_percent)
    assert -clicked_area_percent(count) <= short_percent
    assert count == 3 or -clicked_area_percent(count - 1) > short_percent


def test_drawn_marks_spread_as_told():
    """200 000 photographs with both marks and the edge drawn."""
    draws = np.random.default_rng(13)
    first, second, edge = draws.normal(size=(3, 200_000))
    scale = 400 + 1.2 * (second - first)
    area = ((250 + 0.8 * edge) / scale) ** 2
    spread = 100 * area.std() / area.mean()
    assert u_photo_area_percent(400, 1.2, 250, 0.8) == pytest.approx(spread, rel=0.01)


def test_many_at_once():
    """Arrays broadcast and stay arrays; single numbers are floats."""
    assert scale_off_plane_percent([1.0, 2.0], 0.0).tolist() == [0.0, 0.0]
    assert scale_read_percent(300, [0, 3]).shape == (2,)
    assert isinstance(u_photo_area_percent(300, 1, 200, 1), float)


@pytest.mark.parametrize(
    ("call", "field"),
    [
        (lambda: scale_off_plane_percent(0, 1), "camera_to_scale_m"),
        (lambda: scale_off_plane_percent(1, 100), "nearer_cm"),
        (lambda: scale_read_percent(300, 300), "too_short_px"),
        (lambda: scale_read_percent(0, 1), "scale_px"),
        (lambda: area_of_widths_percent(-100), "width_percent"),
        (lambda: bent_area_percent(-34), "bent_at_edge_percent"),
        (lambda: clicked_area_percent(2), "click_count"),
        (lambda: clicked_girth_percent(7.5), "click_count"),
        (lambda: clicks_for(0), "short_percent"),
        (lambda: clicks_for(1e-12), "short_percent"),
        (lambda: u_photo_area_percent(300, -1, 200, 1), "u_mark_px"),
        (lambda: u_photo_area_percent(300, 1, 0, 1), "radius_px"),
        (lambda: u_photo_area_percent(300, 1, 200, float("nan")), "u_edge_px"),
    ],
)
def test_what_is_refused(call, field):
    with pytest.raises(MeasureError) as refused:
        call()
    assert refused.value.field == field
