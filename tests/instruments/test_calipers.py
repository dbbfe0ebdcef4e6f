"""Calipers: one width a direction; three means of the same readings."""

import numpy as np
import pytest
import shapely.affinity
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.instruments import MEANS, Calipers, evenly_turned_deg, lean_from_rod_deg, mean_cm
from mensura.stems import Ellipse, Outline, RoughBark, circle

readings = st.lists(st.floats(1, 200), min_size=1, max_size=20)


def test_readings_on_the_axes():
    """On the axes calipers read the axes."""
    assert Calipers().read(Ellipse(60, 48), [0, 90]) == pytest.approx([60, 48], rel=1e-14)


def test_shape_is_stems_then_directions():
    """Three stems in four directions make a table of three by four."""
    stems = Ellipse([60, 50, 40], 40)
    table = Calipers().read(stems, [0, 45, 90, 135])
    assert table.shape == (3, 4)
    assert table[1] == pytest.approx(Calipers().read(Ellipse(50, 40), [0, 45, 90, 135]))
    square = [[0, 0], [9, 0], [9, 9], [0, 9]]
    assert Calipers().read(Outline([square, square]), [0, 45]).shape == (2, 2)
    assert Calipers().read(circle(40), 30).shape == (1,)


def test_calipers_ride_the_ridges():
    """Rough bark takes wood away and leaves the readings almost as they were."""
    smooth, rough = Ellipse(60, 48), RoughBark(Ellipse(60, 48), 60, 2.0, 7)
    directions = evenly_turned_deg(18)
    difference = Calipers().read(smooth, directions) - Calipers().read(rough, directions)
    assert (difference >= -1e-12).all()
    assert difference.max() < 0.3
    assert smooth.area_cm2 - rough.area_cm2 > 50


@given(readings)
def test_order_of_the_means(values):
    """Geometric ≤ arithmetic ≤ quadratic, all within the readings."""
    geometric, arithmetic, quadratic = (
        mean_cm(values, kind) for kind in ("geometric", "arithmetic", "quadratic")
    )
    slack = 1 + 1e-12
    assert min(values) <= geometric * slack
    assert geometric <= arithmetic * slack
    assert arithmetic <= quadratic * slack
    assert quadratic <= max(values) * slack


@given(readings, st.sampled_from(MEANS), st.floats(0.1, 9))
def test_means_scale_and_do_not_mind_the_order(values, kind, factor):
    """A mean of k-fold readings is k-fold; the order of reading is free."""
    mean = mean_cm(values, kind)
    assert mean_cm(np.array(values) * factor, kind) == pytest.approx(mean * factor, rel=1e-12)
    assert mean_cm(values[::-1], kind) == pytest.approx(mean, rel=1e-12)


def test_means_by_hand():
    """60 and 48 cm: 54, √2880 and √2952."""
    assert mean_cm([60, 48]) == 54
    assert mean_cm([60, 48], "geometric") == pytest.approx(np.sqrt(2880), rel=1e-14)
    assert mean_cm([60, 48], "quadratic") == pytest.approx(np.sqrt(2952), rel=1e-14)


def test_means_of_many_stems():
    """The mean is taken over the last axis."""
    assert mean_cm([[60, 48], [40, 40]]).tolist() == [54, 40]
    assert type(mean_cm([60, 48])) is float


def test_even_directions():
    """Directions part the half turn evenly and start where they are told to."""
    assert evenly_turned_deg(4).tolist() == [0, 45, 90, 135]
    assert evenly_turned_deg(2, -30).tolist() == [-30, 60]
    assert evenly_turned_deg(1, 12.5).tolist() == [12.5]


@pytest.mark.parametrize("count", [0, -1, 2.5, "2", True])
def test_counts_that_cannot_be(count):
    """There is at least one direction."""
    with pytest.raises(MeasureError, match=r"^count is .*a whole number from 1"):
        evenly_turned_deg(count)


def test_start_must_be_a_number():
    """The first direction is checked."""
    with pytest.raises(MeasureError, match=r"^start_deg is nan deg"):
        evenly_turned_deg(2, np.nan)


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ([60, 0], r"readings_cm \(item 2\) is 0 cm; expected a finite number above 0"),
        ([60, -1], r"readings_cm \(item 2\) is -1 cm"),
        ([np.nan], r"readings_cm \(item 1\) is nan cm"),
        ([2001], r"readings_cm \(item 1\) is 2001 cm; .*at most 2000 cm"),
        ([], r"readings_cm is missing; expected at least one reading"),
        ("60", "readings_cm is '60'"),
        (["60", "48"], r"readings_cm is \['60', '48'\] cm"),
    ],
)
@pytest.mark.parametrize("kind", MEANS)
def test_readings_that_cannot_be(values, said, kind):
    """Each refusal names the reading and the bound."""
    with pytest.raises(MeasureError, match=f"^{said}"):
        mean_cm(values, kind)


def test_means_that_are_not_there():
    """The refusal lists the means there are."""
    with pytest.raises(MeasureError, match=r"^kind is 'harmonic'; expected one of: arithmetic"):
        mean_cm([60, 48], "harmonic")


@pytest.mark.parametrize("direction", [np.nan, np.inf, "north", [0, np.nan]])
def test_directions_that_cannot_be(direction):
    """A direction is a finite number of degrees."""
    with pytest.raises(MeasureError, match=r"^directions_deg "):
        Calipers().read(circle(40), direction)


# faults

OVAL = Ellipse(60, 48)
ELBOW = Outline([[0, 0], [40, 0], [40, 20], [20, 20], [20, 40], [0, 40]])
SECTIONS = [OVAL, circle(40), RoughBark(OVAL, 28, 1.0, 7), ELBOW]

sections = st.sampled_from(SECTIONS)
angles = st.floats(-360, 360)


def some(least, greatest):
    """Nothing, or anything between the bounds."""
    return st.one_of(st.just(0.0), st.floats(least, greatest))


faulty = st.builds(
    Calipers,
    zero_error_cm=some(-3, 3),
    jaw_lean_deg=some(-10, 10),
    beam_slope_deg=some(-30, 30),
    press_cm=some(0, 1),
    resolution_cm=st.sampled_from([0.0, 0.1, 0.5, 1.0]),
    rounding=st.sampled_from(["nearest", "down"]),
)


@given(sections, faulty, st.lists(angles, min_size=1, max_size=4))
def test_breakdown_sums(section, calipers, directions):
    """For each reading the shares add up to what it is off the sound one."""
    told = calipers.reading(section, directions)
    total = sum(told.breakdown.values(), np.zeros(len(directions)))
    assert total == pytest.approx(told.readings_cm - told.widths_cm, abs=1e-12 * 100)
    assert told.widths_cm == pytest.approx(Calipers().read(section, directions), rel=1e-14)
    assert {adds.shape for adds in told.breakdown.values()} <= {(len(directions),)}
    order = ["pressing", "jaw lean", "beam slope", "zero error", "rounding"]
    assert list(told.breakdown) == [name for name in order if name in told.breakdown]


def test_sound_calipers_have_no_breakdown():
    """Nothing wrong, nothing added."""
    told = Calipers().reading(OVAL, [0, 90])
    assert told.breakdown == {}
    assert told.readings_cm.tolist() == told.widths_cm.tolist()


def test_jaw_lean_on_a_circle_of_forty():
    """1° of lean at 20 cm from the beam: 0.346 cm too low (the 0.349 of 20·tan 1° less 0.003)."""
    told = Calipers(jaw_lean_deg=1.0).reading(circle(40), [0, 33])
    assert told.breakdown["jaw lean"].round(3).tolist() == [-0.346, -0.346]


@given(st.floats(5, 150), st.floats(-20, 20), angles)
def test_jaw_lean_on_any_circle(diameter, lean, direction):
    """r + r(1 − sin φ)/cos φ, in every direction; leaning inwards reads too much."""
    r, phi = diameter / 2, np.radians(lean)
    told = Calipers(jaw_lean_deg=lean).read(circle(diameter), direction)[0]
    assert told == pytest.approx(r + r * (1 - np.sin(phi)) / np.cos(phi), rel=1e-12)
    if abs(lean) > 0.01:
        assert (told < diameter) == (lean > 0)


@given(sections, st.floats(0.1, 30), angles)
def test_jaw_lean_as_lines_on_a_drawing(section, lean, direction):
    """Beam, fixed jaw and leaning jaw as lines against the points: where they meet is read."""
    phi = np.radians(lean)
    turn = np.radians(direction)
    along = np.array([np.cos(turn), np.sin(turn)])
    square = np.array([-np.sin(turn), np.cos(turn)])
    points = section.outline_cm()
    x, y = points @ along, points @ square
    beam = y.min()
    # the jaw rises from its foot (f, beam) towards (sin φ, cos φ); every point lies on its inside
    foot = (x - (y - beam) * np.tan(phi)).max()
    told = Calipers(jaw_lean_deg=lean).read(section, direction)[0]
    assert told == pytest.approx(foot - x.min(), abs=2e-3)


@given(sections, st.floats(1, 60), angles)
def test_beam_slope_reads_high(section, slope, direction):
    """A sloping beam crosses the stem the longer way, w/cos β, up or down."""
    up, down = (Calipers(beam_slope_deg=s).reading(section, direction) for s in (slope, -slope))
    width = up.widths_cm
    assert up.readings_cm == pytest.approx(width / np.cos(np.radians(slope)), rel=1e-12)
    assert (up.breakdown["beam slope"] > 0).all()
    assert down.readings_cm == pytest.approx(up.readings_cm, rel=1e-14)


@given(sections, st.floats(0.01, 2), angles)
def test_pressing_and_zero(section, size, direction):
    """Two jaws, twice the depth; a zero error goes on top of every reading with its sign."""
    pressed = Calipers(press_cm=size).reading(section, direction)
    assert pressed.breakdown["pressing"] == pytest.approx(-2 * size, rel=1e-14)
    for sign in (1, -1):
        told = Calipers(zero_error_cm=sign * size).reading(section, direction)
        assert told.breakdown["zero error"].tolist() == [sign * size]


def test_opening():
    """As wide as the stem is wide enough; less is refused, and how wide they must be is told."""
    assert Calipers(opening_cm=60).read(OVAL, [0, 90]).tolist() == pytest.approx([60, 48])
    assert Calipers(opening_cm=50).read(OVAL, 90) == pytest.approx([48])
    with pytest.raises(MeasureError, match=r"^opening_cm is 50 cm; .* that open to 60 cm\.$"):
        Calipers(opening_cm=50).read(OVAL, [0, 90])
    with pytest.raises(MeasureError, match=r"that open to 60\.01 cm"):
        Calipers(opening_cm=60, beam_slope_deg=1).read(OVAL, 0)
    assert Calipers(opening_cm=60.01, beam_slope_deg=1).read(OVAL, 0) > 60
    # a zero error moves the figures, not the jaws
    assert Calipers(opening_cm=60, zero_error_cm=2).read(OVAL, 0) == pytest.approx([62])


def test_many_stems_with_faults():
    """An array of stems in several directions is each stem by itself."""
    calipers = Calipers(0.2, 2.0, 5.0, 0.1, None, 0.1)
    stems = Ellipse([60, 50, 40.0], 48)
    table = calipers.reading(stems, [0, 45, 90])
    assert table.readings_cm.shape == (3, 3)
    for index, first in enumerate([60, 50, 40]):
        single = calipers.reading(Ellipse(first, 48), [0, 45, 90])
        assert table.readings_cm[index] == pytest.approx(single.readings_cm, rel=1e-12)
        for fault, adds in single.breakdown.items():
            assert table.breakdown[fault][index] == pytest.approx(adds, abs=1e-10)


@pytest.mark.parametrize("turn", [0, 20, -65, 90, 200])
@pytest.mark.parametrize(
    "calipers",
    [
        Calipers(),
        Calipers(zero_error_cm=0.4, beam_slope_deg=12, resolution_cm=0.5),
        Calipers(jaw_lean_deg=3, press_cm=0.3),
        Calipers(-0.2, -4.0, -8.0, 0.1),
    ],
    ids=repr,
)
def test_how_they_stand_on_a_stem(calipers, turn):
    """GEOS turns the drawn edge and finds what jaws and beam touch; the scale tells the reading."""
    stand = calipers.on_stem(OVAL, turn)
    edge = shapely.affinity.rotate(shapely.Polygon(OVAL.outline_cm(20_000)), -turn, origin=(0, 0))
    left, low, _, _ = edge.bounds
    edge = shapely.affinity.translate(edge, -left - calipers.press_cm, -low)
    assert shapely.Polygon(stand.outline_cm).symmetric_difference(edge).area < 0.1
    fixed, sliding, beam = stand.touch_cm
    assert fixed[0] == pytest.approx(0, abs=1e-9)
    assert beam[1] == pytest.approx(0, abs=1e-9)
    lean = np.tan(np.radians(calipers.jaw_lean_deg))
    assert sliding[0] == pytest.approx(stand.foot_cm + lean * sliding[1], abs=1e-9)
    # unpressed, each touch lies on the edge, and the lines go no deeper than the pressing
    off = np.array([[-calipers.press_cm, 0], [calipers.press_cm, 0], [0, 0]])
    for point in stand.touch_cm + off:
        assert edge.exterior.distance(shapely.Point(point)) < 1e-5
    x, y = np.array(edge.exterior.coords).T
    depth = (x - stand.foot_cm - lean * y).max() * np.cos(np.arctan(lean))
    assert depth == pytest.approx(calipers.press_cm * np.cos(np.arctan(lean)), abs=1e-5)
    # the mark at the foot says what is read
    told = calipers.reading(OVAL, turn)
    before = told.readings_cm - told.breakdown.get("rounding", 0)
    mark = (stand.foot_cm - stand.mark_zero_cm) / stand.mark_step_cm
    assert mark == pytest.approx(before[0], abs=1e-9)
    # the first axis is as long as the first diameter, and lies off by the turn
    across, up = stand.axis_cm[1] - stand.axis_cm[0]
    assert np.hypot(across, up) == pytest.approx(60)
    assert np.cos(np.radians(turn)) * 60 == pytest.approx(across)
    assert -np.sin(np.radians(turn)) * 60 == pytest.approx(up, abs=1e-9)


def test_calipers_stand_on_one_stem():
    """An array of stems is refused."""
    with pytest.raises(MeasureError, match=r"^stem is .*expected a single stem"):
        Calipers().on_stem(Ellipse([60, 50], 48), 0)


def test_rounded_readings():
    """Half-centimetre marks: to the nearest and downwards."""
    stem = Ellipse(60.3, 48.2)
    assert Calipers(resolution_cm=0.5).read(stem, [0, 90]).tolist() == [60.5, 48]
    assert Calipers(resolution_cm=0.5, rounding="down").read(stem, [0, 90]).tolist() == [60, 48]


@pytest.mark.parametrize(
    ("fault", "said"),
    [
        ({"jaw_lean_deg": 90}, "jaw_lean_deg is 90 deg; .*above -90 and below 90 deg"),
        ({"beam_slope_deg": -90}, "beam_slope_deg is -90 deg; .*above -90 and below 90 deg"),
        ({"press_cm": -1}, "press_cm is -1 cm; .*at least 0"),
        ({"zero_error_cm": np.inf}, "zero_error_cm is inf cm"),
        ({"resolution_cm": -1}, "resolution_cm is -1 cm; .*at least 0"),
        ({"opening_cm": 0}, "opening_cm is 0 cm; .*above 0"),
        ({"rounding": "up"}, "rounding is 'up'; expected one of: nearest, down"),
    ],
)
def test_calipers_that_cannot_be(fault, said):
    """Each refusal names the field and the bound."""
    with pytest.raises(MeasureError, match=f"^{said}"):
        Calipers(**fault)


def test_readings_that_faults_would_make_impossible():
    """Pressed through, or below zero: refused and not clipped."""
    with pytest.raises(MeasureError, match=r"^press_cm is 24 cm; expected less than half the stem"):
        Calipers(press_cm=24).read(OVAL, 90)
    with pytest.raises(MeasureError, match=r"^readings_cm is -2 cm; expected readings above 0"):
        Calipers(zero_error_cm=-50).read(OVAL, 90)


@given(st.floats(-10, 10), st.floats(5, 80), st.floats(10, 60))
def test_lean_from_a_rod_is_the_lean_of_the_line(lean_deg, apart_cm, rod_cm):
    """The jaw as a line through its foot: the foot stands nearer with the rod at the tips."""
    foot_cm = rod_cm - apart_cm * np.tan(np.radians(lean_deg))
    if foot_cm >= 0:
        found = lean_from_rod_deg(rod_cm, foot_cm, apart_cm)
        assert found == pytest.approx(lean_deg, abs=1e-9)


def test_a_rod_that_cannot_be():
    """Tips as far out as the base, a reading below nothing."""
    with pytest.raises(MeasureError, match=r"^apart_cm is 0 cm"):
        lean_from_rod_deg(20, 20, 0)
    with pytest.raises(MeasureError, match=r"^tips_cm is -1 cm"):
        lean_from_rod_deg(20, -1, 30)
