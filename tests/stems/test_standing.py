"""A stem where it stands: heights from every side, every cut, and what cannot stand so."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from mensura.checks import MeasureError
from mensura.instruments.calipers import Calipers
from mensura.instruments.lay import Lay
from mensura.instruments.tape import Tape
from mensura.stems import Buttress, Ellipse, Fork, Outline, SeveralStems, StemInSpace, Swelling

diameters = st.floats(10.0, 120.0)
leans = st.floats(0.0, 45.0)
slopes = st.floats(0.0, 40.0)
ways = st.floats(-360.0, 360.0)
tapers = st.floats(0.0, 5.0)


@given(diameters, leans, slopes, ways, st.sampled_from(["uphill", "downhill", "upper", "under"]))
def test_ground_on_a_side_is_where_the_surface_meets_the_plane(across, lean, slope, way, side):
    """In space: the point on the stem's surface at that place lies on the ground's plane."""
    stem = StemInSpace(across, 1.3, 0.0, lean, way, slope)
    point = stem.axis * stem.ground_m(side) + stem.side_vector(side) * across / 200
    assert point[2] + point[0] * np.tan(np.radians(slope)) == pytest.approx(0.0, abs=1e-9)
    assert stem.side_vector(side) @ stem.axis == pytest.approx(0.0, abs=1e-12)


@given(diameters, st.floats(-40.0, 40.0), st.floats(0.0, 35.0))
def test_ground_in_the_plane_of_lean_and_slope_in_closed_form(across, lean, slope):
    """Uphill D/2·tan(β − λ) above the axis's foot, λ counted downhill; downhill as much below."""
    stem = StemInSpace(across, lean_deg=abs(lean), lean_towards_deg=0 if lean >= 0 else 180,
                       slope_deg=slope)  # fmt: skip
    rise = across / 200 * np.tan(np.radians(slope - lean))
    assert stem.ground_m("uphill") == pytest.approx(rise, abs=1e-12)
    assert stem.ground_m("downhill") == pytest.approx(-rise, abs=1e-12)
    assert stem.ground_m("middle") == 0.0


@given(leans, slopes, ways)
def test_middle_is_halfway_between_opposite_sides(lean, slope, way):
    """Uphill and downhill, upper and under lie as far above the middle as below it."""
    stem = StemInSpace(40.0, lean_deg=lean, lean_towards_deg=way, slope_deg=slope)
    for one, other in (("uphill", "downhill"), ("upper", "under")):
        assert stem.ground_m(one) + stem.ground_m(other) == pytest.approx(0.0, abs=1e-9)


@given(leans, slopes, ways, st.floats(0.0, 100.0))
def test_litter_and_roots_raise_the_ground_upright(lean, slope, way, thick):
    """The place where the litter meets the stem is as thick above the soil's plane, upright."""
    stem = StemInSpace(40.0, lean_deg=lean, lean_towards_deg=way, slope_deg=slope,
                       litter_cm=thick, roots_cm=thick / 2)  # fmt: skip
    for above, height in (("litter", thick), ("roots", thick / 2)):
        point = stem.axis * stem.ground_m("uphill", above) + stem.side_vector("uphill") * 0.2
        high = point[2] + point[0] * np.tan(np.radians(slope))
        assert high == pytest.approx(height / 100, abs=1e-9)


def test_heights_along_and_plumb_differ_by_the_cosine():
    """1.3 m plumb is 1.3/cos λ along the stem, from whichever side."""
    stem = StemInSpace(40.0, lean_deg=20.0, slope_deg=10.0)
    for side in ("uphill", "downhill", "middle", "upper", "under"):
        along = stem.along_m(1.3, side) - stem.ground_m(side)
        plumb = stem.along_m(1.3, side, plumb=True) - stem.ground_m(side)
        assert along == pytest.approx(1.3, rel=1e-12)
        assert plumb == pytest.approx(1.3 / np.cos(np.radians(20.0)), rel=1e-12)


@given(leans, slopes, ways, st.floats(0.0, 3.0), st.sampled_from(["uphill", "under", "middle"]),
       st.booleans(), st.sampled_from(["soil", "litter", "roots"]))  # fmt: skip
def test_height_of_a_place_and_back(lean, slope, way, high, side, plumb, above):
    """The height told of a place is the one that leads to it, from any side and ground."""
    stem = StemInSpace(40.0, 1.3, 0.0, lean, way, slope, litter_cm=9.0, roots_cm=31.0)
    place = stem.along_m(high, side, plumb, above)
    assert stem.height_m(place, side, plumb, above) == pytest.approx(high, abs=1e-12)


@given(diameters, st.floats(0.5, 45.0), st.floats(-20.0, 20.0), ways)
def test_level_cut_of_a_cone_in_space(across, lean, taper, way):
    """Points of a level plane found on the cone by root finding in space: its widths, both ways."""
    stem = StemInSpace(across, 1.3, taper, lean, way)
    axis = stem.axis
    level_m = 1.3 * axis[2]
    flat = np.array([np.cos(np.radians(way)), np.sin(np.radians(way)), 0.0])
    beside = np.cross([0.0, 0.0, 1.0], flat)

    def outside(far_m, direction, from_m=(0.0, 0.0)):
        point = 1.3 * axis + (from_m[0] + far_m * direction[0]) * flat
        point = point + (from_m[1] + far_m * direction[1]) * beside
        assert point[2] == pytest.approx(level_m)
        along = point @ axis
        return np.linalg.norm(point - along * axis) - (across - taper * (along - 1.3)) / 200

    ends = [brentq(outside, 0.0, across / 20, args=((way, 0.0),), xtol=1e-15) for way in (1, -1)]
    section = stem.section_at(1.3, level=True)
    assert section.width_cm(0.0) == pytest.approx(100 * sum(ends), rel=1e-9)
    middle = (ends[0] - ends[1]) / 2
    half = brentq(outside, 0.0, across / 20, args=((0.0, 1.0), (middle, 0.0)), xtol=1e-15)
    assert section.width_cm(90.0) == pytest.approx(200 * half, rel=1e-9)


@given(diameters, leans, tapers, ways)
def test_traced_cuts_are_the_ellipses_they_follow(across, lean, taper, way):
    """Followed point by point a plain stem's level cut is its ellipse, to a millionth."""
    stem = StemInSpace(across, 1.3, taper, lean, way)
    traced, exact = stem._traced(1.3, level=True), stem.section_at(1.3, level=True)
    assert isinstance(traced, Outline)
    assert isinstance(exact, Ellipse)
    assert traced.taut_girth_cm == pytest.approx(exact.taut_girth_cm, rel=1e-6)
    assert traced.area_cm2 == pytest.approx(exact.area_cm2, rel=1e-9)
    for turn in (0.0, 90.0):
        assert traced.width_cm(turn) == pytest.approx(exact.width_cm(turn), rel=1e-6)


@given(st.floats(1.0, 45.0), st.floats(-50.0, 150.0), st.floats(0.02, 0.5), st.floats(0.9, 1.7))
def test_level_cut_of_a_swelling_lies_on_its_surface(lean, percent, reach, at):
    """Every point of a level cut, put back into space, is as far off the axis as the stem."""
    swelling = Swelling(at, percent, reach)
    stem = StemInSpace(40.0, lean_deg=lean, swelling=swelling)
    section = stem.section_at(1.3, level=True)
    turn = np.radians(lean)
    for x, y in section.outline_cm()[::97] if isinstance(section, Outline) else ():
        along = 1.3 + x / 100 * np.sin(turn)
        far = np.hypot(x * np.cos(turn), y)
        assert far == pytest.approx(20.0 * swelling.factor(along), rel=1e-6)


def test_square_cut_of_a_swelling_is_a_circle():
    """Thicker by its per cent at its middle, gone at its reach, none beyond."""
    stem = StemInSpace(40.0, swelling=Swelling(1.3, 8.0, 0.25))
    assert stem.section_at(1.3).taut_girth_cm == pytest.approx(np.pi * 43.2, rel=1e-14)
    assert stem.section_at(1.425).width_cm(0.0) == pytest.approx(40 * 1.04, rel=1e-12)
    for place in (1.05, 1.55, 2.0):
        assert stem.section_at(place).taut_girth_cm == pytest.approx(np.pi * 40, rel=1e-12)


def test_buttress_is_gone_at_its_top_and_even_there():
    """A section above the lobes is round; at the ground it reaches stem and lobe."""
    stem = StemInSpace(60.0, 3.0, lean_towards_deg=30.0, buttress=Buttress(3, 40.0, 2.0, 30.0))
    assert stem.section_at(2.0).taut_girth_cm == pytest.approx(np.pi * 60, rel=1e-6)
    foot = stem.section_at(0.0)
    # the first lobe lies at azimuth 30, which is the section's own first axis
    assert foot.support_cm(0.0) == pytest.approx(70.0, rel=1e-6)
    assert foot.taut_girth_cm > np.pi * 60 * 1.4
    assert foot.area_cm2 < foot.hull_area_cm2


def test_fewer_points_for_a_picture():
    """A panel may take fewer: with 720 the girth of five lobes is right to a ten-thousandth."""
    stem = StemInSpace(60.0, lean_deg=10.0, buttress=Buttress(5, 40.0, 2.0))
    fine, quick = stem.section_at(1.0, level=True), stem.section_at(1.0, level=True, points=720)
    assert len(quick.outline_cm()) == 720
    assert quick.taut_girth_cm == pytest.approx(fine.taut_girth_cm, rel=1e-4)
    assert quick.area_cm2 == pytest.approx(fine.area_cm2, rel=1e-9)
    with pytest.raises(MeasureError, match="points is 59"):
        stem.section_at(1.0, points=59)


@given(st.floats(0.0, 40.0), ways, st.floats(0.0, 20.0), st.floats(0.001, 1.0))
def test_legs_in_space(lean, way, gap, above):
    """Parallel legs: square they are circles a gap apart, level both are stretched by 1/cos λ."""
    stem = StemInSpace(40.0, lean_deg=lean, lean_towards_deg=way,
                       fork=Fork(1.0, (25.0, 22.0), gap))  # fmt: skip
    square, level = stem.section_at(1.0 + above), stem.section_at(1.0 + above, level=True)
    assert isinstance(square, SeveralStems)
    assert isinstance(level, SeveralStems)
    assert square.width_cm(0.0) == pytest.approx(47.0 + gap, rel=1e-9)
    assert level.width_cm(0.0) == pytest.approx((47.0 + gap) / np.cos(np.radians(lean)), rel=1e-9)
    assert square.width_cm(90.0) == pytest.approx(25.0) == level.width_cm(90.0)
    assert level.area_cm2 == pytest.approx(square.area_cm2 / np.cos(np.radians(lean)), rel=1e-9)
    # a level band is the square section's loop in a plane tilted by the lean
    assert level.taut_girth_cm == pytest.approx(square.oblique_girth_cm(lean, 0.0), rel=1e-9)
    assert [leg.area_cm2 for leg in stem.legs_at(1.0 + above)] == pytest.approx(
        [np.pi / 4 * 625, np.pi / 4 * 484]
    )


def test_legs_spread_apart():
    """Two legs that turn 10° from the axis are 2·h·tan 10° farther apart h above the fork."""
    stem = StemInSpace(40.0, fork=Fork(1.0, (20.0, 20.0), 0.0, (10.0, 10.0)))
    (x1, _), (x2, _) = stem.section_at(1.5).middles_cm
    assert x1 - x2 == pytest.approx(20.0 + 100 * np.tan(np.radians(10.0)), rel=1e-12)


def test_how_far_a_stem_may_lean_uphill_is_told():
    """On a slope of 40° a stem that leans uphill lies on the ground from 50° on."""
    with pytest.raises(MeasureError, match=r"lean_deg is 60 deg; .*, below 50 deg\."):
        StemInSpace(40.0, lean_deg=60.0, lean_towards_deg=180.0, slope_deg=40.0)
    assert StemInSpace(40.0, lean_deg=60.0, slope_deg=40.0).ground_m("uphill") < 0


def test_on_the_fork_it_is_one_stem():
    """The line itself counts as below: one stem; a hair above, two."""
    stem = StemInSpace(40.0, fork=Fork(1.3, (25.0, 22.0)))
    assert not stem.forked_at(1.3)
    assert len(stem.legs_at(1.3)) == 1
    assert stem.forked_at(1.3000001)
    assert len(stem.legs_at(1.3000001)) == 2
    assert not StemInSpace(40.0).forked_at(50.0)


@settings(max_examples=30)
@given(st.floats(0.0, 40.0), st.floats(0.5, 2.5), tapers, ways)
def test_any_instrument_reads_it_at_any_height(lean, place, taper, way):
    """A tape square to the axis reads πD; held level it reads as one tilted by the lean would."""
    stem = StemInSpace(50.0, 1.3, taper, lean, way, 15.0)
    square = stem.section_at(place)
    across = 50.0 - taper * (place - 1.3)
    tape = Tape(resolution_cm=0.0)
    assert tape.read(square).reading_cm == pytest.approx(np.pi * across, rel=1e-12)
    if taper == 0:
        level = tape.read(stem.section_at(place, level=True)).reading_cm
        tilted = tape.read(square, Lay(tilt_deg=lean)).reading_cm
        assert level == pytest.approx(tilted, rel=1e-9)
    calipers = Calipers(resolution_cm=0.0)
    level_section = stem.section_at(place, level=True)
    widths = [level_section.width_cm(turn) for turn in (0.0, 90.0)]
    assert calipers.read(level_section, [0.0, 90.0]) == pytest.approx(widths, rel=1e-9)


REFUSED = {
    "lean_deg": [{"lean_deg": 90.0}, {"lean_deg": -1.0}, {"lean_deg": "steep"},
                 {"lean_deg": float("nan")}],
    "diameter_cm": [{"diameter_cm": 0.0}, {"diameter_cm": -4.0}, {"diameter_cm": "wide"},
                    {"diameter_cm": [40.0, 41.0]}],
    "slope_deg": [{"slope_deg": 80.0}, {"slope_deg": -1.0}],
    "taper_cm_per_m": [{"taper_cm_per_m": 21.0}, {"taper_cm_per_m": "much"}],
    "litter_cm": [{"litter_cm": -1.0}, {"litter_cm": 301.0}],
    "roots_cm": [{"roots_cm": -1.0}],
    "lean_towards_deg": [{"lean_towards_deg": float("inf")}],
}  # fmt: skip


@pytest.mark.parametrize(
    ("field", "given_as"), [(field, one) for field, many in REFUSED.items() for one in many]
)
def test_a_stem_that_cannot_stand_is_refused(field, given_as):
    """One sentence that names the field."""
    with pytest.raises(MeasureError) as refused:
        StemInSpace(**{"diameter_cm": 40.0, **given_as})
    assert refused.value.field == field
    assert str(refused.value).startswith(field)
    assert str(refused.value).endswith(".")


@pytest.mark.parametrize(
    ("make", "field"),
    [
        (lambda: Fork(-0.1, (20, 20)), "fork_at_m"),
        (lambda: Fork(1.0, (0, 20)), "leg_diameters_cm"),
        (lambda: Fork(1.0, (20,)), "leg_diameters_cm"),
        (lambda: Fork(1.0, (20, 20), -1.0), "leg_gap_cm"),
        (lambda: Fork(1.0, (20, 20), 0.0, (60.0, 0.0)), "leg_spread_deg"),
        (lambda: StemInSpace(40.0, fork=Fork(1.0, (41.0, 20.0))), "leg_diameters_cm"),
        (lambda: Swelling(-1.0, 8.0), "swelling_at_m"),
        (lambda: Swelling(1.3, 201.0), "swelling_percent"),
        (lambda: Swelling(1.3, -90.0), "swelling_percent"),
        (lambda: Swelling(1.3, 8.0, 0.0), "swelling_reach_m"),
        (lambda: Buttress(1, 20.0, 1.0), "buttress_lobes"),
        (lambda: Buttress(3, 0.0, 1.0), "buttress_reach_cm"),
        (lambda: Buttress(3, 20.0, 0.0), "buttress_top_m"),
        (lambda: StemInSpace(40.0).along_m(-0.1), "height_m"),
        (lambda: StemInSpace(40.0).along_m(1.3, "left"), "side"),
        (lambda: StemInSpace(40.0).ground_m("uphill", "moss"), "above"),
        (lambda: StemInSpace(40.0, taper_cm_per_m=20.0).section_at(4.0), "height_m"),
        (
            lambda: StemInSpace(40.0, taper_cm_per_m=20.0, swelling=Swelling(4, 8)).section_at(4.0),
            "height_m",
        ),
        (
            lambda: StemInSpace(40.0, lean_deg=50.1, lean_towards_deg=180.0, slope_deg=40.0),
            "lean_deg",
        ),
        (
            lambda: StemInSpace(40.0, 1.3, 20.0, lean_deg=89.0).section_at(1.3, level=True),
            "lean_deg",
        ),
        (
            lambda: StemInSpace(
                40.0, lean_deg=50.0, fork=Fork(1.0, (20, 20), 0.0, (45.0, 0.0))
            ).section_at(1.2, level=True),
            "leg_spread_deg",
        ),
    ],
)
def test_what_does_not_fit_is_refused(make, field):
    """Forks below ground, legs too thick, heights without a stem, a side there is none of."""
    with pytest.raises(MeasureError) as refused:
        make()
    assert refused.value.field == field
