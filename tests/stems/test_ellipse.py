"""Ellipses: one stem or a million, either axis first, level or tilted, over bark or under."""

from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from mensura.checks import MeasureError
from mensura.stems import (
    Ellipse,
    Outline,
    circle,
    classroom_girth_cm,
    ellipse_girth_cm,
    widths_cm,
)

lengths = st.floats(0.5, 2000)
angles = st.floats(-720, 720)


def arc_on_cylinder_cm(first_cm, second_cm, tilt_deg, direction_deg):
    """Length of the tilted loop as a curve in space, integrated without any formula of ours."""
    a, b = first_cm / 2, second_cm / 2
    slope, turn = np.tan(np.radians(tilt_deg)), np.radians(direction_deg)

    def speed(t):
        dx, dy = -a * np.sin(t), b * np.cos(t)
        return np.sqrt(dx**2 + dy**2 + (slope * (dx * np.cos(turn) + dy * np.sin(turn))) ** 2)

    quarters = np.linspace(0, 2 * np.pi, 9)
    return sum(quad(speed, lo, hi, epsabs=0, epsrel=1e-11)[0] for lo, hi in pairwise(quarters))


def test_known_stem():
    """The stem of the whole book: 60 by 48 cm."""
    stem = Ellipse(60, 48)
    assert stem.area_cm2 == pytest.approx(720 * np.pi, rel=1e-14)
    assert stem.taut_girth_cm == pytest.approx(170.1700, abs=5e-5)
    assert stem.hull_area_cm2 == stem.area_cm2
    assert (stem.width_cm(0), stem.width_cm(90)) == (60, pytest.approx(48, rel=1e-14))


def test_circle_is_plain():
    """A circle: girth πd, area πd²/4, the same width all round."""
    stem = circle(40)
    assert stem.taut_girth_cm == pytest.approx(40 * np.pi, rel=1e-15)
    assert stem.area_cm2 == pytest.approx(400 * np.pi, rel=1e-15)
    assert widths_cm(stem, np.arange(0, 360, 7)) == pytest.approx(40, rel=1e-14)
    assert classroom_girth_cm(40, 40) == pytest.approx(40 * np.pi, rel=1e-15)


@given(lengths, lengths)
def test_either_axis_may_be_the_longer(first, second):
    """Swapping the axes changes neither girth nor area."""
    one, other = Ellipse(first, second), Ellipse(second, first)
    assert one.taut_girth_cm == pytest.approx(other.taut_girth_cm, rel=1e-12)
    assert one.area_cm2 == pytest.approx(other.area_cm2, rel=1e-14)
    assert one.width_cm(30) == pytest.approx(other.width_cm(60), rel=1e-12)


@given(st.lists(st.tuples(lengths, lengths), min_size=1, max_size=6), angles, st.floats(-80, 80))
def test_many_equal_one_by_one(pairs, direction, tilt):
    """An array of stems gives, in order, what the single stems give."""
    first, second = np.array(pairs).T
    many = Ellipse(first, second)
    singles = [Ellipse(*pair) for pair in pairs]
    assert many.shape == (len(pairs),)
    assert many.taut_girth_cm == pytest.approx([s.taut_girth_cm for s in singles], rel=1e-14)
    assert many.area_cm2 == pytest.approx([s.area_cm2 for s in singles], rel=1e-14)
    assert many.width_cm(direction) == pytest.approx(
        [s.width_cm(direction) for s in singles], rel=1e-13
    )
    assert many.oblique_girth_cm(tilt, direction) == pytest.approx(
        [s.oblique_girth_cm(tilt, direction) for s in singles], rel=1e-12
    )


def test_a_million_in_one_call():
    """A million stems are one call, and spot checks of it equal single stems."""
    long = np.linspace(10, 100, 1_000_000)
    short = long * np.linspace(1, 0.5, 1_000_000)
    girth = Ellipse(long, short).taut_girth_cm
    assert girth.shape == (1_000_000,)
    for i in (0, 123_456, 999_999):
        assert girth[i] == pytest.approx(Ellipse(long[i], short[i]).taut_girth_cm, rel=1e-14)


def test_single_stems_give_plain_floats():
    """One stem gives Python floats, so that they print as plain numbers."""
    stem = Ellipse(60, 48)
    for value in (
        stem.area_cm2,
        stem.taut_girth_cm,
        stem.width_cm(10),
        stem.oblique_girth_cm(10),
        stem.under_bark_area_cm2(1),
    ):
        assert type(value) is float


@given(lengths, lengths, angles)
def test_widths_repeat_after_half_a_turn(first, second, direction):
    """Calipers turned by 180° read the same; the width stays between the axes."""
    stem = Ellipse(first, second)
    width = stem.width_cm(direction)
    assert stem.width_cm(direction + 180) == pytest.approx(width, rel=1e-11)
    assert min(first, second) * (1 - 1e-12) <= width <= max(first, second) * (1 + 1e-12)


@given(lengths, st.floats(0.2, 1), angles)
def test_squares_of_two_widths_at_right_angles(long, ratio, direction):
    """w² + w'² at right angles is the same in every direction (director circle)."""
    stem = Ellipse(long, long * ratio)
    total = stem.width_cm(direction) ** 2 + stem.width_cm(direction + 90) ** 2
    assert total == pytest.approx(long**2 * (1 + ratio**2), rel=1e-12)


@pytest.mark.parametrize("direction", [0, 17, 90, 133, -45])
def test_width_is_the_reach_of_the_edge(direction):
    """The closed form of the width equals the reach of a hundred thousand points of the edge."""
    stem = Ellipse(60, 48)
    turn = np.radians(direction)
    reach = np.ptp(stem.outline_cm(100_000) @ [np.cos(turn), np.sin(turn)])
    assert stem.width_cm(direction) == pytest.approx(reach, rel=1e-8)


@given(st.floats(1, 200), st.floats(0.1, 1), st.floats(-85, 85), angles)
def test_tilted_loop_equals_the_curve_in_space(long, ratio, tilt, direction):
    """The closed form of the tilted loop is the arc length of the cut on the cylinder."""
    second = long * ratio
    assert Ellipse(long, second).oblique_girth_cm(tilt, direction) == pytest.approx(
        arc_on_cylinder_cm(long, second, tilt, direction), rel=1e-9
    )


@given(lengths, lengths, angles)
def test_no_tilt_is_the_taut_girth(first, second, direction):
    """A tilt of 0° adds nothing, whatever direction is named."""
    stem = Ellipse(first, second)
    assert stem.oblique_girth_cm(0, direction) == pytest.approx(stem.taut_girth_cm, rel=1e-12)


@given(lengths, st.floats(0.1, 1), st.floats(0, 80), st.floats(0, 80), angles)
def test_more_tilt_is_a_longer_loop(long, ratio, one, other, direction):
    """The loop grows with the tilt, and a fall is as long as a rise."""
    stem = Ellipse(long, long * ratio)
    less, more = sorted((one, other))
    assert stem.oblique_girth_cm(less, direction) <= stem.oblique_girth_cm(more, direction) * (
        1 + 1e-13
    )
    assert stem.oblique_girth_cm(-more, direction) == stem.oblique_girth_cm(more, direction)


def test_tilts_broadcast_against_stems():
    """Five tilts of three stems make a table of three by five."""
    stems = Ellipse(np.array([[30.0], [40], [60]]), 30)
    table = stems.oblique_girth_cm(np.array([0, 5, 10, 15, 20.0]), 30)
    assert table.shape == (3, 5)
    assert table[2, 3] == pytest.approx(Ellipse(60, 30).oblique_girth_cm(15, 30), rel=1e-14)


@given(lengths, lengths)
def test_blackboard_perimeter_is_never_below(first, second):
    """2π√((a² + b²)/2) is at least the girth."""
    assert classroom_girth_cm(first, second) >= ellipse_girth_cm(first, second) * (1 - 1e-14)


@given(st.floats(5, 200), st.floats(0.4, 1), st.floats(0, 0.95))
def test_under_bark_equals_a_polygon_shrunk_by_shapely(long, ratio, share):
    """Steiner's formula inwards equals the inner parallel set of a fine polygon."""
    stem = Ellipse(long, long * ratio)
    thickness = share * long * ratio**2 / 2
    polygon = Outline(stem.outline_cm(4000))
    assert stem.under_bark_area_cm2(thickness) == pytest.approx(
        polygon.under_bark_area_cm2(thickness), rel=2e-5, abs=2e-5 * stem.area_cm2
    )


def test_no_bark_is_the_whole_area():
    """A bark of thickness 0 takes nothing."""
    assert Ellipse(60, 48).under_bark_area_cm2(0) == Ellipse(60, 48).area_cm2


@pytest.mark.parametrize("thickness", [19.2, 40, -0.1, np.nan, "1"])
def test_bark_thicker_than_the_sharpest_curve_is_refused(thickness):
    """On 60 by 48 cm the sharpest curve has a radius of 24²/30 = 19.2 cm."""
    with pytest.raises(MeasureError, match="bark_thickness_cm is"):
        Ellipse(60, 48).under_bark_area_cm2(thickness)


def test_edge_points_and_normals():
    """Points lie on the edge; normals point inwards, have length 1 and are square to it."""
    stem = Ellipse(60, 48)
    turn = np.linspace(0, 2 * np.pi, 50, endpoint=False)
    points, inward = stem.edge_cm(turn)
    assert (points[:, 0] / 30) ** 2 + (points[:, 1] / 24) ** 2 == pytest.approx(1)
    assert np.linalg.norm(inward, axis=1) == pytest.approx(1)
    tangent = np.stack([-30 * np.sin(turn), 24 * np.cos(turn)], axis=-1)
    assert (inward * tangent).sum(axis=1) == pytest.approx(0, abs=1e-12)
    assert ((points * inward).sum(axis=1) < 0).all()


def test_hull_of_an_ellipse_is_its_edge():
    """The tape's path is the edge, and many stems have edges of their own."""
    assert Ellipse(60, 48).hull_cm.shape == (720, 2)
    assert Ellipse([60, 40, 30], 48).outline_cm(12).shape == (3, 12, 2)


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (0, "is 0 cm"),
        (-3, "is -3 cm"),
        (np.nan, "is nan cm"),
        (np.inf, "is inf cm"),
        (2000.5, "is 2000.5 cm"),
        ("60", "is '60'"),
        (True, "is True cm"),
        (None, "is nan cm"),
        ([60, 0], r"\(item 2\) is 0 cm"),
        (["60"], r"is \['60'\] cm"),
        (10**400, "is a number too large to hold cm"),
    ],
)
@pytest.mark.parametrize("field", ["first_cm", "second_cm"])
def test_diameters_that_cannot_be(field, value, said):
    """Each refusal names the field, the value, the unit and what was expected."""
    good = {"first_cm": 60, "second_cm": 48}
    wanted = f"^{field} .*{said}|^{field} {said}"
    with pytest.raises(MeasureError, match=wanted) as caught:
        Ellipse(**good | {field: value})
    assert str(caught.value).endswith("expected a finite number above 0 and at most 2000 cm.")


def test_axes_that_do_not_pair_are_refused():
    """Three first and two second diameters are no stems."""
    with pytest.raises(MeasureError, match=r"second_cm is .*as many as first_cm has"):
        Ellipse([60, 50, 40], [48, 40])


@pytest.mark.parametrize("tilt", [90, -90, 120, np.nan, np.inf])
def test_upright_tapes_are_refused(tilt):
    """A tilt of 90° or more is no loop round the stem."""
    with pytest.raises(MeasureError, match=r"^tilt_deg is .*above -90 and below 90 deg\.$"):
        Ellipse(60, 48).oblique_girth_cm(tilt)


@pytest.mark.parametrize("points", [2, 0, -1, 2.5, 2_000_000])
def test_points_of_the_edge_are_counted(points):
    """An edge has from 3 points to a million."""
    with pytest.raises(MeasureError, match=r"^points is .*whole number from 3 to 1000000"):
        Ellipse(60, 48).outline_cm(points)


@given(st.floats(1, 200), st.floats(1, 200), angles)
def test_a_line_touches_where_the_gradient_points(first_cm, second_cm, normal_deg):
    """The point fulfils the ellipse's equation, its gradient is the normal, and it reaches last."""
    stem = Ellipse(first_cm, second_cm)
    x, y = stem.touching_cm(normal_deg)
    a, b = first_cm / 2, second_cm / 2
    assert (x / a) ** 2 + (y / b) ** 2 == pytest.approx(1, rel=1e-12)
    normal = np.array([np.cos(np.radians(normal_deg)), np.sin(np.radians(normal_deg))])
    gradient = np.array([x / a**2, y / b**2])
    assert gradient / np.hypot(*gradient) == pytest.approx(normal, abs=1e-9)
    assert np.array([x, y]) @ normal == pytest.approx(stem.support_cm(normal_deg), rel=1e-12)


def test_points_that_stand_off_lie_on_the_offset_curve():
    """GEOS grows the drawn oval; each point that stands 3 cm off lies on the grown edge."""
    stem = Ellipse(60, 48)
    grown = shapely.Polygon(stem.outline_cm(20_000)).buffer(3.0, quad_segs=64).exterior
    for point in stem.touching_cm(np.arange(0, 360, 11), off_cm=3.0):
        assert grown.distance(shapely.Point(point)) < 1e-5


def test_touching_points_of_many_stems():
    """Stems, directions and distances broadcast; each is the point of one stem by itself."""
    stems = Ellipse([60, 50, 40.0], 48)
    turns, off = np.array([[0.0], [75.0]]), np.array([0.0, 1.0, 2.0])
    points = stems.touching_cm(turns, off_cm=off)
    assert points.shape == (2, 3, 2)
    for row, turn in enumerate(turns[:, 0]):
        for column in range(3):
            one = Ellipse(stems.first_cm[column], 48).touching_cm(turn, off[column])
            assert points[row, column] == pytest.approx(one, rel=1e-14)
    with pytest.raises(MeasureError, match="normal_deg"):
        stems.touching_cm(np.nan)
