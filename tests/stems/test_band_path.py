"""The band's way round: nodes sum to the hull's girth, and a climber is a hull of two curves."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from mensura.stems import Ellipse, Outline, RoughBark, circle, reuleaux
from mensura.stems.band_path import PANEL, band_path

OVAL = Ellipse(60, 48)
ELBOW = Outline([[0, 0], [40, 0], [40, 20], [20, 20], [20, 40], [0, 40]])
SQUARES = [
    Outline([[0, 0], [40, 0], [40, 40], [0, 40]]),
    Outline([[-20, -3], [0, -4], [20, -3], [20, 3], [0, 4], [-20, 3]]),
    Outline([[0, 0], [40, 0], [20, 30]]),
]
SECTIONS = [OVAL, circle(40), Ellipse(50, 10), reuleaux(40, 600), RoughBark(OVAL, 28, 1.0), ELBOW]

sections = st.sampled_from(SECTIONS)
angles = st.floats(-360, 360)


def dense_hull_cm(stem, climber, direction):
    """Girth of the hull of a drawn ellipse and a drawn climber, both as dense polygons."""
    turn = np.linspace(0, 2 * np.pi, 20_001)[:-1]
    unit = np.column_stack([np.cos(turn), np.sin(turn)])
    half = np.array([stem.first_cm, stem.second_cm]) / 2
    normal = np.array([np.cos(np.radians(direction)), np.sin(np.radians(direction))])
    touch = half**2 * normal / np.hypot(*(half * normal))
    rod = touch + climber / 2 * (normal + unit)
    return shapely.MultiPoint(np.vstack([half * unit, rod])).convex_hull.length


@given(sections, st.integers(1, 20), st.floats(0, 3))
def test_steps_sum_to_the_taut_girth(section, waves, steepness):
    """However many nodes a wave asks for, together they are the whole way."""
    path = band_path(section, waves=waves, steepness=steepness)
    assert path.step_cm.sum() == pytest.approx(section.taut_girth_cm, rel=1e-12)
    assert float(path.length_cm) == pytest.approx(section.taut_girth_cm, rel=1e-13)


@given(sections, st.floats(0.01, 10), angles)
def test_way_comes_back_to_its_start(section, climber, direction):
    """Steps times directions close, round a climber too, and every direction is a unit."""
    path = band_path(section, climber, direction)
    closed = (path.step_cm[:, None] * path.tangent).sum(axis=0)
    assert closed == pytest.approx([0, 0], abs=1e-8)
    assert np.hypot(*path.tangent.T) == pytest.approx(1, rel=1e-12)


@given(sections, st.integers(1, 12), st.floats(0, 2))
def test_along_is_what_has_been_passed(section, waves, steepness):
    """The arc length at a node lies between the steps before it and those up to it."""
    path = band_path(section, waves=waves, steepness=steepness)
    passed = np.cumsum(path.step_cm)
    along = path.along_cm - path.along_cm[0] + path.step_cm[0]
    assert (np.diff(path.along_cm) > 0).all()
    slack = 1.01 * path.step_cm.max()
    assert (np.abs(along - passed) <= slack).all()
    assert 0 <= path.along_cm[0] <= slack
    assert path.along_cm[-1] <= float(path.length_cm) * (1 + 1e-12)


def test_arc_length_on_a_circle():
    """On a circle the arc is radius times angle, in one panel and in many."""
    for waves, steepness, panels in ((1, 0.0, 1), (40, 2.0, 4)):
        path = band_path(circle(40), waves=waves, steepness=steepness)
        assert len(path.step_cm) > PANEL * (panels - 1)
        turned = np.mod(np.arctan2(-path.tangent[:, 0], path.tangent[:, 1]), 2 * np.pi)
        assert path.along_cm == pytest.approx(20 * turned, abs=1e-10)


@pytest.mark.parametrize("waves", [1, 2, 6, 30])
@pytest.mark.parametrize("steepness", [0.1, 1, 3])
@pytest.mark.parametrize("section", [OVAL, Ellipse(50, 10), ELBOW], ids=["oval", "flat", "elbow"])
def test_waves_are_resolved(section, waves, steepness):
    """A wave's length is that of the plane wave on the unrolled hull, whatever the section.

    Averaged over whole waves only the steepness counts, so the mean of many evenly spaced
    values is the outcome to expect.
    """
    path = band_path(section, waves=waves, steepness=steepness)
    whole = float(path.length_cm)
    rise = steepness * np.cos(2 * np.pi * waves * path.along_cm / whole)
    summed = (path.step_cm * np.sqrt(1 + rise**2)).sum()
    even = steepness * np.cos(np.linspace(0, 2 * np.pi, 4096, endpoint=False))
    assert summed == pytest.approx(whole * np.sqrt(1 + even**2).mean(), rel=1e-6)


@pytest.mark.parametrize(
    "stem", [circle(40), OVAL, Ellipse(48, 60), Ellipse(50, 15)], ids=lambda s: str(s)
)
@pytest.mark.parametrize(("climber", "direction"), [(2, 0), (2, 37), (8, 90), (0.5, 200), (30, 5)])
def test_climber_against_the_hull_of_dense_polygons(stem, climber, direction):
    """Tangents, free arc and climber's arc together are the hull's girth."""
    length = float(band_path(stem, climber, direction).length_cm)
    assert length == pytest.approx(dense_hull_cm(stem, climber, direction), abs=1e-5)


@given(st.floats(0.3, 1), st.floats(0.05, 20), angles)
def test_climber_on_an_ellipse_and_on_its_outline(ratio, climber, direction):
    """The exact path and the polygon's hull: its corner is up to half an edge, 0.011 cm, off."""
    smooth = Ellipse(50, 50 * ratio)
    drawn = Outline(smooth.outline_cm(7200))
    exact, hull = (float(band_path(s, climber, direction).length_cm) for s in (smooth, drawn))
    assert hull == pytest.approx(exact, abs=0.011)


@given(st.floats(5, 100), st.floats(0.01, 10), angles)
def test_climber_on_a_circle_stands_anywhere(diameter, climber, direction):
    """A round stem has no direction."""
    one, other = (float(band_path(circle(diameter), climber, d).length_cm) for d in (0, direction))
    assert one == pytest.approx(other, rel=1e-10)
    assert one > np.pi * diameter


@given(st.floats(5, 100), st.floats(0.3, 1), st.floats(0.01, 5), angles)
def test_climber_is_mirrored_with_the_stem(long, ratio, climber, direction):
    """Opposite sides and mirrored directions are alike on an ellipse."""
    stem = Ellipse(long, long * ratio)
    lengths = [
        float(band_path(stem, climber, d).length_cm)
        for d in (direction, -direction, direction + 180, 180 - direction)
    ]
    assert lengths == pytest.approx([lengths[0]] * 4, rel=1e-10)


def test_climber_on_a_flat_side_stands_in_its_middle():
    """On a square of 40 cm: the hull of square and rod, by hand from its tangents."""
    square = Outline([[0, 0], [40, 0], [40, 40], [0, 40]])
    # from the corner to the rod's edge: the rod's middle is 20 along and 1 out, radius 1
    tangent = 20.0  # √(20² + 1² − 1²)
    lean = 2 * np.arctan(1 / 20)  # of the tangent against the side
    expected = 120 + 2 * tangent + 2 * lean * 1
    assert float(band_path(square, 2, 0).length_cm) == pytest.approx(expected, abs=1e-5)


@pytest.mark.parametrize("direction", [0, 45, 90, 137.3, 270, -60])
@pytest.mark.parametrize("climber", [0.01, 2.0, 60.0, 1500.0])
@pytest.mark.parametrize("section", [reuleaux(40, 600), RoughBark(OVAL, 28, 1.0), ELBOW, *SQUARES])
def test_climber_against_the_hull_of_all_points(section, climber, direction):
    """The outline's corners and the climber's edge, thrown together: GEOS's hull of them all."""
    angle = np.radians(direction)
    along, square = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
    reach, across = section.outline_cm() @ along, section.outline_cm() @ square
    side = across[reach > reach.max() - 1e-9]
    middle = (reach.max() + climber / 2) * along + (side.min() + side.max()) / 2 * square
    turn = np.linspace(0, 2 * np.pi, 3601)[:-1]
    rod = middle + climber / 2 * np.column_stack([np.cos(turn), np.sin(turn)])
    hull = shapely.MultiPoint(np.vstack([section.outline_cm(), rod])).convex_hull
    path = band_path(section, climber, direction)
    assert float(path.length_cm) == pytest.approx(hull.length, abs=1e-6)
    assert path.step_cm.sum() == pytest.approx(hull.length, abs=1e-6)
    # and the way's own direction at every node is that of a side of the hull
    ring = np.array(hull.exterior.coords)
    sides = np.diff(ring if hull.exterior.is_ccw else ring[::-1], axis=0)
    turned = np.sort(np.arctan2(sides[:, 1], sides[:, 0]))
    turned = np.concatenate([turned[-1:] - 2 * np.pi, turned, turned[:1] + 2 * np.pi])
    own = np.arctan2(path.tangent[:, 1], path.tangent[:, 0])
    near = np.clip(np.searchsorted(turned, own), 1, len(turned) - 1)
    assert np.minimum(np.abs(turned[near] - own), np.abs(turned[near - 1] - own)).max() < 1e-6


def test_many_ellipses_are_one_many_times():
    """Arrays of stems, climbers and directions; one of them without a climber."""
    stems = Ellipse(np.array([60, 50, 40.0]), 48)
    climbers, directions = np.array([2, 0, 5.0]), np.array([0, 30, 100.0])
    lengths = band_path(stems, climbers, directions).length_cm
    assert lengths.shape == (3,)
    for index in range(3):
        stem = Ellipse(stems.first_cm[index], 48)
        one = band_path(stem, climbers[index], directions[index]).length_cm
        assert lengths[index] == pytest.approx(float(one), abs=1e-8)
    assert lengths[1] == pytest.approx(Ellipse(50, 48).taut_girth_cm, abs=1e-8)


def test_furrows_do_not_lengthen_the_way():
    """Rough bark below its ridges is not on the way: only the hull is."""
    rough = RoughBark(OVAL, 28, 1.0, 7)
    assert float(band_path(rough).length_cm) == pytest.approx(rough.taut_girth_cm, rel=1e-13)


@pytest.mark.parametrize("direction", [0, 3, -4, 40, 180])
@pytest.mark.parametrize("ratio", [1, 0.8, 0.5])
def test_tab_of_an_ellipse_and_of_its_outline(ratio, direction):
    """On the first axis, or where the band leaves the stem for a climber that stands there."""
    smooth = Ellipse(40, 40 * ratio)
    drawn = Outline(smooth.outline_cm(7200))
    tilts = []
    for section in (smooth, drawn):
        path = band_path(section, 2.0, direction)
        wave = np.cos(2 * np.pi * path.along_cm / float(path.length_cm))
        tilts.append((path.step_cm[:, None] * path.tangent * wave[:, None]).sum(axis=0))
    assert tilts[1] == pytest.approx(tilts[0], abs=0.02)
