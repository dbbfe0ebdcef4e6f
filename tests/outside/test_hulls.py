"""Taut tape and calipers are facts about the convex hull: Qhull beside GEOS, and by hand.

Tape and calipers measure different things, the girth of the hull and the distance of parallel
tangents [ClarkEtAl2000].
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial import ConvexHull

from mensura.places import data_file
from mensura.stems import Ellipse, Outline, RoughBark, from_radii, read_outline, reuleaux

radii = st.lists(st.floats(2, 60), min_size=3, max_size=60)


def agrees_with_qhull(section):
    """Girth, area and corners of the hull as SciPy's Qhull finds them (area is its perimeter)."""
    hull = ConvexHull(section.outline_cm())
    assert section.taut_girth_cm == pytest.approx(hull.area, rel=1e-12)
    assert section.hull_area_cm2 == pytest.approx(hull.volume, rel=1e-12)
    corners = section.outline_cm()[hull.vertices]
    for direction in (0, 31, 90, 155):
        turn = np.radians(direction)
        reach = np.ptp(corners @ [np.cos(turn), np.sin(turn)])
        assert section.width_cm(direction) == pytest.approx(reach, rel=1e-12)


@given(radii)
def test_any_outline(values):
    """Two libraries with different algorithms agree on every star that is drawn."""
    agrees_with_qhull(from_radii(np.arange(len(values)) * 360 / len(values), values))


@given(st.integers(3, 80), st.floats(0.1, 10), st.integers(0, 10**6))
def test_rough_bark(ridges, depth, seed):
    """The same on rough bark, whose hull spans the furrows."""
    agrees_with_qhull(RoughBark(Ellipse(60, 48), ridges, depth, seed))


@pytest.mark.parametrize(
    "section",
    [reuleaux(40), read_outline(data_file("quillmere-disc-07.csv"))],
    ids=["reuleaux", "disc"],
)
def test_ready_outlines(section):
    """The same on the constant-width shape and on the invented disc."""
    agrees_with_qhull(section)


def test_elbow_of_three_squares():
    """Three unit squares: hull 6 + √2 long round an area of 3.5, own edge 8 (by hand)."""
    elbow = Outline([[0, 0], [2, 0], [2, 1], [1, 1], [1, 2], [0, 2]])
    edge = np.roll(elbow.points_cm, -1, axis=0) - elbow.points_cm
    assert np.hypot(*edge.T).sum() == 8
    assert elbow.taut_girth_cm == pytest.approx(6 + np.sqrt(2), rel=1e-15)
    assert elbow.hull_area_cm2 == 3.5
    assert elbow.area_cm2 == 3
