"""What is drawn of a standing stem is where the stem is: its edge, its band, its stick."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.stems import (
    Buttress,
    Fork,
    StemInSpace,
    Swelling,
    band_line_m,
    leg_lines_m,
    place_of_point_m,
    side_view,
    stick_m,
)

leans = st.floats(0.0, 40.0)
slopes = st.floats(0.0, 40.0)
ways = st.floats(-180.0, 180.0)


@given(leans, slopes, ways, st.floats(0.0, 2.0))
def test_band_ends_on_the_drawn_edge(lean, slope, way, taper):
    """A square band's line is as long as the section is wide, and its ends lie on the outline."""
    stem = StemInSpace(40.0, 1.3, taper, lean, way, slope, Swelling(1.3, 12.0))
    line = band_line_m(stem, 1.3)
    assert np.hypot(*(line[1] - line[0])) == pytest.approx(0.4 * 1.12, rel=1e-12)
    edge = shapely.Polygon(side_view(stem).stems_m[0]).exterior
    for end in line:
        assert edge.distance(shapely.Point(end)) < 1e-9


@given(leans, slopes, ways)
def test_level_band_is_level_and_as_wide_as_level_calipers(lean, slope, way):
    """Held level it stays at one height and is D/cos λ long on a cylinder."""
    stem = StemInSpace(40.0, lean_deg=lean, lean_towards_deg=way, slope_deg=slope)
    line = band_line_m(stem, 1.0, level=True)
    assert line[0, 1] == pytest.approx(line[1, 1], abs=1e-12)
    assert line[1, 0] - line[0, 0] == pytest.approx(0.4 / np.cos(np.radians(lean)), rel=1e-12)


@given(st.floats(1.0, 40.0), st.floats(-5.0, 5.0), st.sampled_from([0.0, 180.0]))
def test_level_band_on_a_cone_ends_on_its_edge(lean, taper, way):
    """A level cut of a tapering stem is not centred on the axis; its ends lie on the outline."""
    stem = StemInSpace(40.0, 1.3, taper, lean, way)
    line = band_line_m(stem, 1.3, level=True)
    assert line[1, 0] - line[0, 0] == pytest.approx(
        stem.section_at(1.3, level=True).width_cm(0.0) / 100, rel=1e-9
    )
    edge = shapely.Polygon(side_view(stem).stems_m[0]).exterior
    for end in line:
        assert end[1] == pytest.approx(1.3 * np.cos(np.radians(lean)), abs=1e-12)
        assert edge.distance(shapely.Point(end)) < 1e-9


@given(leans, slopes, st.sampled_from([0.0, 180.0]), st.sampled_from(["uphill", "downhill"]))
def test_stick_stands_on_the_soil_and_ends_at_the_place(lean, slope, way, side):
    """In the plane of lean and slope: its foot on the line of the soil, its top on the band."""
    stem = StemInSpace(40.0, lean_deg=lean, lean_towards_deg=way, slope_deg=slope)
    if lean + slope > 75:
        return
    stick = stick_m(stem, 1.3, side)
    soil = side_view(stem).soil_m
    fall = (soil[1, 1] - soil[0, 1]) / (soil[1, 0] - soil[0, 0])
    assert stick[0, 1] == pytest.approx(fall * stick[0, 0], abs=1e-12)
    assert np.hypot(*(stick[1] - stick[0])) == pytest.approx(1.3, rel=1e-12)
    line = shapely.LineString(band_line_m(stem, stem.along_m(1.3, side)))
    assert line.distance(shapely.Point(stick[1])) < 1e-9
    assert (stick[0, 0] < 0) == (side == "uphill") or lean > 0


def test_downhill_is_to_the_right_and_a_lean_uphill_to_the_left():
    """The ground falls to the right whichever way the stem leans."""
    for way, sign in ((0.0, 1), (180.0, -1)):
        stem = StemInSpace(30.0, lean_deg=15.0, lean_towards_deg=way, slope_deg=10.0)
        view = side_view(stem)
        assert view.soil_m[0, 1] > view.soil_m[1, 1]
        assert np.sign(view.axes_m[0][1, 0]) == sign
    across = side_view(StemInSpace(30.0, lean_deg=15.0, lean_towards_deg=90.0, slope_deg=10.0))
    assert across.soil_m[0, 1] == across.soil_m[1, 1] == 0.0


@pytest.mark.parametrize("way", [0.0, 180.0])
@pytest.mark.parametrize("spread", [0.0, 12.0])
def test_both_legs_fill_the_band_round_them(way, spread):
    """The band's line over both legs ends on the outer edges of the two drawn legs."""
    fork = Fork(1.1, (25.0, 22.0), 4.0, (spread, spread))
    stem = StemInSpace(40.0, lean_deg=10.0, lean_towards_deg=way, fork=fork)
    line = shapely.LineString(band_line_m(stem, 1.5))
    view = side_view(stem)
    assert len(view.stems_m) == 3
    legs = shapely.unary_union([shapely.Polygon(leg) for leg in view.stems_m[1:]])
    cut = line.buffer(1e-9).intersection(legs).envelope
    assert cut.length / 2 == pytest.approx(line.envelope.length / 2, abs=2e-2 if spread else 1e-6)
    lengths = [float(np.hypot(*(one[1] - one[0]))) for one in leg_lines_m(stem, 1.5)]
    assert lengths == pytest.approx([0.25, 0.22])


def test_buttress_widens_the_foot_and_is_gone_at_its_top():
    """At the ground the outline is as wide as stem and lobes, above its top as the stem."""
    stem = StemInSpace(60.0, 3.0, buttress=Buttress(4, 40.0, 2.0))
    outline = side_view(stem, to_m=3.0, points=200).stems_m[0]
    foot = outline[np.abs(outline[:, 1]) < 1e-9]
    assert foot[:, 0].max() - foot[:, 0].min() == pytest.approx(2 * 0.70, abs=4e-3)
    high = outline[outline[:, 1] > 2.0]
    assert high[:, 0].max() - high[:, 0].min() == pytest.approx(0.6, abs=1e-12)


def test_litter_and_roots_lie_above_the_soil():
    """Litter is the soil's line raised; roots begin where the stem does."""
    stem = StemInSpace(40.0, slope_deg=15.0, litter_cm=8.0, roots_cm=30.0)
    view = side_view(stem)
    assert view.litter_m - view.soil_m == pytest.approx(np.array([[0, 0.08], [0, 0.08]]))
    assert len(view.roots_m) == 2
    assert stick_m(stem, 1.3, "middle", above="roots")[0].tolist() == pytest.approx([0.0, 0.3])


@given(leans, ways, st.floats(0.0, 2.5), st.floats(-0.3, 0.3))
def test_a_click_beside_the_axis_is_the_place_square_to_it(lean, way, along, off):
    """Whatever the distance from the axis, the place is the foot of the square line on it."""
    stem = StemInSpace(40.0, lean_deg=lean, lean_towards_deg=way)
    left, right = band_line_m(stem, along)
    point = (left + right) / 2 + off * (right - left)
    assert place_of_point_m(stem, point) == pytest.approx(along, abs=1e-9)


def test_what_cannot_be_drawn_is_refused():
    """A point of three numbers, a picture of no height."""
    with pytest.raises(MeasureError, match="point_m"):
        place_of_point_m(StemInSpace(40.0), [0, 1, 2])
    with pytest.raises(MeasureError, match="to_m"):
        side_view(StemInSpace(40.0), to_m=0.0)
    with pytest.raises(MeasureError, match="above is 'moss'"):
        stick_m(StemInSpace(40.0), 1.3, above="moss")


def test_a_tapering_stem_ends_at_its_tip():
    """No place above the tip is drawn."""
    view = side_view(StemInSpace(10.0, 0.0, taper_cm_per_m=10.0), to_m=5.0)
    assert view.stems_m[0][:, 1].max() < 1.0
