"""Several stems as one section: the band round all of them, by another library and by hand."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial import ConvexHull

from mensura.checks import MeasureError
from mensura.instruments.tape import Tape
from mensura.stems import Ellipse, SeveralStems, belt_cm

sizes = st.floats(5.0, 60.0)
places = st.floats(-80.0, 80.0)
ovals = st.tuples(sizes, sizes, places, places)


def together(rows):
    return SeveralStems(
        tuple(Ellipse(first, second) for first, second, _, _ in rows),
        tuple((x, y) for _, _, x, y in rows),
    )


def edges_cm(stems, points=4000):
    return np.concatenate(
        [
            one.outline_cm(points) + np.asarray(middle)
            for one, middle in zip(stems.sections, stems.middles_cm, strict=True)
        ]
    )


@given(st.lists(ovals, min_size=1, max_size=5))
def test_band_and_area_as_qhull_finds_them(rows):
    """Girth and hull of any ovals anywhere are those of SciPy's hull of dense edges."""
    stems = together(rows)
    hull = ConvexHull(edges_cm(stems))
    assert stems.taut_girth_cm == pytest.approx(hull.area, rel=3e-6)
    assert stems.hull_area_cm2 == pytest.approx(hull.volume, rel=3e-6)
    assert stems.taut_girth_cm >= hull.area * (1 - 1e-12)


@given(st.lists(ovals, min_size=2, max_size=4), st.floats(-60.0, 60.0), st.floats(0.0, 180.0))
def test_tilted_loop_is_the_band_round_stretched_edges(rows, tilt, direction):
    """A loop in a tilted plane is as long as the hull of the edges lifted on to it in space."""
    stems = together(rows)
    edges = edges_cm(stems)
    turn = np.radians(direction)
    along = edges @ [np.cos(turn), np.sin(turn)]
    beside = edges @ [-np.sin(turn), np.cos(turn)]
    lifted = np.stack([np.hypot(along, along * np.tan(np.radians(tilt))) * np.sign(along), beside])
    assert stems.oblique_girth_cm(tilt, direction) == pytest.approx(
        ConvexHull(lifted.T).area, rel=3e-6
    )


@given(sizes, sizes, st.floats(0.0, 40.0), st.floats(0.0, 360.0))
def test_two_round_stems_are_the_belt_both_ways(first, second, gap, turn):
    """The closed form and the integral of the reach agree to twelve digits, wherever they stand."""
    apart = (first + second) / 2 + gap
    middle = (apart * np.cos(np.radians(turn)), apart * np.sin(np.radians(turn)))
    two = SeveralStems((Ellipse(first, first), Ellipse(second, second)), ((0.0, 0.0), middle))
    assert two.taut_girth_cm == pytest.approx(belt_cm(first, second, gap), rel=1e-12)
    assert two.oblique_girth_cm(0.0) == pytest.approx(belt_cm(first, second, gap), rel=1e-11)


@given(sizes, sizes, places, places)
def test_one_stem_is_itself_wherever_it_stands(first, second, x, y):
    """Girth, widths and areas of a single oval do not hang on its place."""
    oval, moved = Ellipse(first, second), SeveralStems((Ellipse(first, second),), ((x, y),))
    assert moved.taut_girth_cm == pytest.approx(oval.taut_girth_cm, rel=1e-12)
    assert moved.hull_area_cm2 == pytest.approx(oval.area_cm2, rel=1e-11)
    assert moved.area_cm2 == oval.area_cm2
    for turn in (0.0, 33.0, 90.0):
        assert moved.width_cm(turn) == pytest.approx(oval.width_cm(turn), rel=1e-12)


def test_stems_in_each_other_share_their_wood_once():
    """Two circles of 40 cm whose middles lie 20 cm apart: two discs less one lens, by hand."""
    two = SeveralStems((Ellipse(40, 40), Ellipse(40, 40)), ((0.0, 0.0), (20.0, 0.0)))
    lens = 2 * 400 * np.arccos(0.5) - 20 / 2 * np.sqrt(4 * 400 - 400)
    assert two.area_cm2 == pytest.approx(2 * np.pi * 400 - lens, rel=1e-6)
    assert two.taut_girth_cm == pytest.approx(40 * np.pi + 40, rel=1e-12)
    within = SeveralStems((Ellipse(40, 40), Ellipse(10, 10)), ((0.0, 0.0), (5.0, 0.0)))
    assert within.area_cm2 == pytest.approx(400 * np.pi, rel=1e-6)
    assert within.taut_girth_cm == pytest.approx(40 * np.pi, rel=1e-12)


def test_touching_stems_are_apart():
    """Two legs without a gap keep both their areas to the last digit."""
    two = SeveralStems((Ellipse(25, 25), Ellipse(22, 22)), ((12.5, 0.0), (-11.0, 0.0)))
    assert two.area_cm2 == np.pi / 4 * 25 * 25 + np.pi / 4 * 22 * 22


def test_instruments_read_them():
    """A tape reads the belt; calipers the whole width, and across it the thicker one."""
    two = SeveralStems((Ellipse(25, 25), Ellipse(22, 22)), ((12.5, 0.0), (-14.0, 0.0)))
    assert Tape().read(two).reading_cm == pytest.approx(belt_cm(25, 22, 3.0), abs=0.05)
    assert two.width_cm(0.0) == pytest.approx(50.0)
    assert two.width_cm(90.0) == 25.0
    assert two.scaled(2.0).taut_girth_cm == pytest.approx(2 * two.taut_girth_cm, rel=1e-12)
    drawn = shapely.Polygon(two.outline_cm())
    assert drawn.length == pytest.approx(two.taut_girth_cm, rel=1e-5)
    assert two.under_bark_area_cm2(1.0) == pytest.approx(np.pi / 4 * (23**2 + 20**2))


@pytest.mark.parametrize(
    ("sections", "middles", "field"),
    [
        ((), (), "sections"),
        ((Ellipse(4, 4),), (), "sections"),
        ((Ellipse([4, 5], 4),), ((0.0, 0.0),), "sections"),
        ((Ellipse(4, 4),), ((float("nan"), 0.0),), "middles_cm"),
        ((Ellipse(4, 4),), ((0.0, 0.0, 1.0),), "middles_cm"),
        ((Ellipse(4, 4),), (("left", 0.0),), "middles_cm"),
    ],
)
def test_what_is_no_group_of_stems_is_refused(sections, middles, field):
    """None, one middle too few, an array, a place that is no place."""
    with pytest.raises(MeasureError) as refused:
        SeveralStems(sections, middles)
    assert refused.value.field == field
