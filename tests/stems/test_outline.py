"""Outlines: the polygon is the section; tape and calipers see its hull only."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError, OutlineError
from mensura.stems import Ellipse, Outline, from_radii, widths_cm

SQUARE = Outline([[0, 0], [40, 0], [40, 40], [0, 40]])
ELBOW = Outline([[0, 0], [20, 0], [20, 10], [10, 10], [10, 20], [0, 20]])
angles = st.floats(-720, 720)
# stars: radii at even angles, always one edge round the middle
stars = st.lists(st.floats(5, 60), min_size=3, max_size=24).map(
    lambda radii: from_radii(np.arange(len(radii)) * 360 / len(radii), radii)
)


def loop_in_space_cm(outline, tilt_deg, direction_deg):
    """Length of the tilted taut loop, edge by edge in space, over the level hull."""
    corners = outline.hull_cm
    turn = np.radians(direction_deg)
    rise = corners @ [np.cos(turn), np.sin(turn)] * np.tan(np.radians(tilt_deg))
    space = np.column_stack([corners, rise])
    return np.linalg.norm(np.roll(space, -1, axis=0) - space, axis=1).sum()


def test_square():
    """A square of 40 cm: every number by hand."""
    assert (SQUARE.area_cm2, SQUARE.taut_girth_cm, SQUARE.hull_area_cm2) == (1600, 160, 1600)
    assert SQUARE.width_cm(0) == 40
    assert SQUARE.width_cm(45) == pytest.approx(40 * np.sqrt(2), rel=1e-14)
    assert SQUARE.shape == ()


def test_hollow_counts_as_wood_for_tape_and_calipers():
    """An elbow of three squares: the tape bridges the corner, the area leaves it out."""
    assert ELBOW.area_cm2 == 300
    assert ELBOW.hull_area_cm2 == 350
    assert ELBOW.taut_girth_cm == pytest.approx(60 + 10 * np.sqrt(2), rel=1e-14)
    assert ELBOW.width_cm(45) == pytest.approx(30 / np.sqrt(2), rel=1e-14)


def test_hull_runs_anticlockwise_and_is_not_closed():
    """The tape's path has five corners here, each once, anticlockwise."""
    hull = ELBOW.hull_cm
    assert hull.shape == (5, 2)
    assert len(np.unique(hull, axis=0)) == 5
    assert Outline(hull).area_cm2 == 350
    (x, y), (u, v) = hull[1] - hull[0], hull[2] - hull[1]
    assert x * v - y * u > 0


@given(stars)
def test_sense_of_turning_does_not_matter(outline):
    """Clockwise and anticlockwise points are the same stem, kept anticlockwise."""
    back = Outline(outline.points_cm[::-1])
    assert back.area_cm2 == pytest.approx(outline.area_cm2, rel=1e-12)
    assert back.taut_girth_cm == pytest.approx(outline.taut_girth_cm, rel=1e-12)
    assert back.area_cm2 > 0
    assert outline.area_cm2 > 0


@given(stars, angles, st.floats(-500, 500), st.floats(-500, 500))
def test_moving_and_turning_the_stem_changes_nothing(outline, turn, x, y):
    """Area and girth do not depend on where the stem stands; widths turn with it."""
    c, s = np.cos(np.radians(turn)), np.sin(np.radians(turn))
    moved = Outline(outline.points_cm @ np.array([[c, s], [-s, c]]) + [x, y])
    assert moved.area_cm2 == pytest.approx(outline.area_cm2, rel=1e-9)
    assert moved.taut_girth_cm == pytest.approx(outline.taut_girth_cm, rel=1e-9)
    assert moved.hull_area_cm2 == pytest.approx(outline.hull_area_cm2, rel=1e-9)
    assert moved.width_cm(turn + 20) == pytest.approx(outline.width_cm(20), rel=1e-9)


@given(stars, st.floats(0.1, 10))
def test_lengths_scale_and_areas_scale_squared(outline, factor):
    """A stem k times as wide has k times the girth and k² times the area."""
    large = Outline(outline.points_cm * factor)
    assert large.taut_girth_cm == pytest.approx(outline.taut_girth_cm * factor, rel=1e-12)
    assert large.area_cm2 == pytest.approx(outline.area_cm2 * factor**2, rel=1e-12)


@given(stars)
def test_hull_is_never_smaller(outline):
    """The hull holds at least the section's area in at most its perimeter."""
    edge = np.roll(outline.points_cm, -1, axis=0) - outline.points_cm
    assert outline.hull_area_cm2 >= outline.area_cm2 * (1 - 1e-12)
    assert outline.taut_girth_cm <= np.hypot(*edge.T).sum() * (1 + 1e-12)


@given(stars, angles)
def test_width_repeats_after_half_a_turn(outline, direction):
    """Calipers turned by 180° read the same."""
    assert outline.width_cm(direction + 180) == pytest.approx(
        outline.width_cm(direction), rel=1e-10
    )


@given(stars, st.floats(-85, 85), angles)
def test_tilted_loop_equals_edges_in_space(outline, tilt, direction):
    """The stretched hull is as long as the hull's edges lifted onto the tilted plane."""
    assert outline.oblique_girth_cm(tilt, direction) == pytest.approx(
        loop_in_space_cm(outline, tilt, direction), rel=1e-10
    )


@given(stars, angles)
def test_no_tilt_is_the_taut_girth(outline, direction):
    """A tilt of 0° adds nothing."""
    assert outline.oblique_girth_cm(0, direction) == pytest.approx(outline.taut_girth_cm, rel=1e-12)


@given(st.floats(10, 200), st.floats(0.4, 1), st.floats(0, 60), angles)
def test_fine_polygon_tends_to_the_ellipse(long, ratio, tilt, direction):
    """With 5000 points an outline gives the ellipse's numbers to a millionth."""
    stem = Ellipse(long, long * ratio)
    fine = Outline(stem.outline_cm(5000))
    assert fine.area_cm2 == pytest.approx(stem.area_cm2, rel=1e-6)
    assert fine.taut_girth_cm == pytest.approx(stem.taut_girth_cm, rel=1e-6)
    assert fine.width_cm(direction) == pytest.approx(stem.width_cm(direction), rel=1e-6)
    assert fine.oblique_girth_cm(tilt, direction) == pytest.approx(
        stem.oblique_girth_cm(tilt, direction), rel=1e-6
    )


def test_many_equal_one_by_one():
    """An array of outlines gives, in order, what the single outlines give."""
    points = np.stack([ELBOW.points_cm, ELBOW.points_cm[:, ::-1] * 2, ELBOW.points_cm + 7])
    many, singles = Outline(points), [Outline(p) for p in points]
    assert many.shape == (3,)
    for one in ("area_cm2", "taut_girth_cm", "hull_area_cm2"):
        assert getattr(many, one) == pytest.approx([getattr(s, one) for s in singles], rel=1e-13)
    assert many.width_cm(25) == pytest.approx([s.width_cm(25) for s in singles], rel=1e-13)
    assert many.oblique_girth_cm(20, 30) == pytest.approx(
        [s.oblique_girth_cm(20, 30) for s in singles], rel=1e-13
    )
    assert many.under_bark_area_cm2(1) == pytest.approx(
        [s.under_bark_area_cm2(1) for s in singles], rel=1e-13
    )
    assert widths_cm(many, [0, 45, 90, 135]).shape == (3, 4)


def test_ten_thousand_in_one_call():
    """Ten thousand outlines are one call."""
    sizes = np.linspace(0.5, 2, 10_000)
    girths = Outline(SQUARE.points_cm * sizes[:, None, None]).taut_girth_cm
    assert girths == pytest.approx(160 * sizes, rel=1e-12)


def test_many_have_no_common_hull():
    """The path of a tape belongs to one stem."""
    with pytest.raises(MeasureError, match="hull_cm is '\\(2,\\)'; expected a single outline"):
        _ = Outline([SQUARE.points_cm, SQUARE.points_cm]).hull_cm


def test_last_point_may_close_the_edge():
    """A last point equal to the first is dropped."""
    closed = Outline([[0, 0], [40, 0], [40, 40], [0, 40], [0, 0]])
    assert closed.points_cm.shape == (4, 2)
    assert closed.area_cm2 == 1600


def test_far_from_the_origin_the_area_stays():
    """A square a million kilometres away would lose its area to rounding if summed naively."""
    assert Outline(SQUARE.points_cm + 2**30).area_cm2 == 1600


def test_under_bark_of_a_square():
    """2 cm of even bark leave 36 × 36 cm of wood; none leaves all."""
    assert SQUARE.under_bark_area_cm2(2) == pytest.approx(1296, rel=1e-12)
    assert SQUARE.under_bark_area_cm2(0) == 1600


@given(stars, st.floats(0, 1), st.floats(0, 1))
def test_thicker_bark_leaves_less(outline, one, other):
    """The wood under the bark shrinks as the bark grows."""
    thin, thick = sorted((one, other))
    assert outline.under_bark_area_cm2(thick) <= outline.under_bark_area_cm2(thin) * (1 + 1e-9)


@pytest.mark.parametrize(("thickness", "said"), [(20, "leave some wood"), (-1, "at least 0 cm")])
def test_bark_that_cannot_be(thickness, said):
    """A bark that leaves no wood, or is thinner than nothing, is refused."""
    with pytest.raises(MeasureError, match=f"^bark_thickness_cm is {thickness} cm; .*{said}"):
        SQUARE.under_bark_area_cm2(thickness)


@pytest.mark.parametrize(
    ("points", "said"),
    [
        ([[0, 0], [10, 10], [10, 0], [0, 10]], "crosses or touches itself: the edge from point 1"),
        ([[0, 0], [4, 0], [2, 0], [2, 4]], "turns back on itself|crosses or touches"),
        ([[0, 0], [10, 0], [20, 0]], "encloses no area"),
        ([[0, 0], [0, 0], [0, 0]], r"the same point twice, \(0, 0\), as point 1 and point 2"),
        ([[0, 0], [1, 1]], "at least 3 different points; got 2"),
        ([[0, 0], [9, 0], [9, 9], [5, 0], [0, 9]], "touches itself"),
        ([[0, 0]], "at least 3"),
        ([], "points of two numbers each"),
        ([1, 2, 3], "points of two numbers each"),
        ([[1, 2, 3]] * 3, "points of two numbers each"),
        (np.zeros((0, 3, 2)), "points of two numbers each"),
        ([[0, 0], [2001, 0], [0, 9]], "is 2001 cm wide; expected at most 2000 cm"),
        ([SQUARE.points_cm, [[0, 0], [9, 9], [9, 0], [0, 9]]], "outline number 2 crosses"),
    ],
)
def test_outlines_that_are_no_stem(points, said):
    """Each refusal is an OutlineError of one sentence that says what is wrong."""
    with pytest.raises(OutlineError, match=said) as caught:
        Outline(points)
    assert str(caught.value).endswith(".")
    assert str(caught.value).count("\n") == 0
    assert isinstance(caught.value, ValueError)


@pytest.mark.parametrize("bad", [np.nan, np.inf, -np.inf])
def test_points_must_be_finite(bad):
    """A point that is no number is named by its place."""
    with pytest.raises(MeasureError, match=r"^points_cm \(item 5\) is .* cm; expected a finite"):
        Outline([[0, 0], [1, 0], [bad, 1]])


@given(st.permutations(range(8)))
def test_radii_in_any_order(order):
    """The order in which radii are written down does not matter."""
    angle = np.array([0, 40, 95, 130, 180, 222, 270, 333])
    radius = np.array([20, 21, 19, 18, 22, 20, 21, 20.5])
    straight = from_radii(angle, radius)
    shuffled = from_radii(angle[list(order)], radius[list(order)])
    assert np.array_equal(straight.points_cm, shuffled.points_cm)


def test_radii_past_a_full_turn():
    """Angles count modulo a turn: −90° and 270° are one direction."""
    assert from_radii([-90, 0, 90, 180], [9, 10, 11, 12]).area_cm2 == pytest.approx(
        from_radii([270, 360, 450, 540], [9, 10, 11, 12]).area_cm2, rel=1e-13
    )


@given(st.lists(st.floats(1, 900), min_size=3, max_size=90))
def test_area_from_radii_by_triangles(radii):
    """The area is the sum of the triangles between neighbouring radii, ½·r·s·sin γ."""
    count = len(radii)
    stem = from_radii(np.arange(count) * 360 / count, radii)
    triangles = np.array(radii) * np.roll(radii, -1) * np.sin(2 * np.pi / count) / 2
    assert stem.area_cm2 == pytest.approx(triangles.sum(), rel=1e-10)


@pytest.mark.parametrize(
    ("angle", "radius", "said"),
    [
        ([0, 90], [1, 2], "at least 3 radii; got 2"),
        ([0, 90, 180], [1, 2], "two lists of the same length"),
        ([[0, 90, 180]], [[1, 2, 3]], "two lists of the same length"),
        ([0, 120, 120], [1, 2, 3], "the angle 120 deg stands twice"),
        ([0, 120, 360], [1, 2, 3], "the angle 0 deg stands twice"),
        ([0, 90, 140], [1, 2, 3], "no radius lies between 140 and 0 deg"),
        ([300, 100, 20], [1, 2, 3], "no radius lies between 100 and 300 deg"),
    ],
)
def test_radii_that_do_not_go_round(angle, radius, said):
    """Radii must go all round the stem, each direction once."""
    with pytest.raises(OutlineError, match=said):
        from_radii(angle, radius)


@pytest.mark.parametrize("bad", [0, -5, np.nan, np.inf, 2001])
def test_radii_must_be_lengths(bad):
    """A radius is above 0 and at most 2000 cm."""
    with pytest.raises(MeasureError, match=r"^radii_cm \(item 2\) is "):
        from_radii([0, 120, 240], [1, bad, 1])
