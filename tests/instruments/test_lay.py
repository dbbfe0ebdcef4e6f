"""How a tape lies: every fault has its side, shares add up, many stems are one stem many times."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.instruments import LEVEL, Lay, Tape, lift_adds_cm
from mensura.instruments.lay import BATCH, LAY_FIELDS
from mensura.stems import Ellipse, Outline, RoughBark, circle, reuleaux

OVAL = Ellipse(60, 48)
ELBOW = Outline([[0, 0], [40, 0], [40, 20], [20, 20], [20, 40], [0, 40]])
SECTIONS = [OVAL, circle(40), reuleaux(40, 600), RoughBark(OVAL, 28, 1.0, 7), ELBOW]

sections = st.sampled_from(SECTIONS)
angles = st.floats(-360, 360)


def some(least, greatest):
    """Nothing, or anything up to the bound."""
    return st.one_of(st.just(0.0), st.floats(least, greatest))


lays = st.builds(
    Lay,
    tilt_deg=some(-40, 40),
    tilt_direction_deg=angles,
    overlap_offset_cm=some(-15, 15),
    wander_cm=some(0, 15),
    wander_waves=st.integers(1, 6),
    slack_cm=some(0, 5),
    twist_lift_cm=some(0, 3),
    knot_cm=some(0, 5),
    knot_width_cm=some(0, 20),
    climber_cm=some(0.01, 8),
    climber_direction_deg=angles,
    press_cm=some(0, 1),
    height_off_m=some(-1, 5),
    taper_cm_per_m=some(-1, 3),
)

#: Each fault that makes readings larger, as a lay of the size it is given.
RAISE = {
    "tilt": lambda size, turn: Lay(tilt_deg=3 * size, tilt_direction_deg=turn),
    "wander": lambda size, turn: Lay(wander_cm=size, wander_waves=1 + int(abs(turn)) % 5),
    "twist": lambda size, turn: Lay(twist_lift_cm=size),
    "knot": lambda size, turn: Lay(knot_cm=size),
    "climber": lambda size, turn: Lay(climber_cm=size, climber_direction_deg=turn),
    "slack": lambda size, turn: Lay(slack_cm=size),
    "overlap": lambda size, turn: Lay(overlap_offset_cm=size if turn > 0 else -size),
}


@given(sections, lays)
def test_shares_sum_to_what_the_reading_is_off(section, lay):
    """Whatever is combined, the shares add up to reading less taut girth."""
    reading = Tape().read(section, lay)
    assert set(reading.breakdown) == set(lay.faults)
    off = reading.reading_cm - reading.taut_girth_cm
    assert sum(reading.breakdown.values()) == pytest.approx(off, abs=1e-12 * reading.reading_cm)


@pytest.mark.parametrize("fault", RAISE)
@given(sections, st.floats(0.01, 8), angles)
def test_these_raise_every_reading(fault, section, size, turn):
    """Tilt, wander, twist, knot, climber, slack, overlap: each alone adds, and names itself."""
    lay = RAISE[fault](size, turn)
    shares = lay.shares_cm(section)
    assert list(shares) == [fault] == list(lay.faults)
    assert shares[fault] > 0
    more = RAISE[fault](size * 1.5, turn).shares_cm(section)[fault]
    assert more > shares[fault]


@given(sections, st.floats(0.01, 2))
def test_pressing_lowers_every_reading(section, press):
    """Each millimetre of depth takes 2π mm of girth, whatever the shape."""
    assert Lay(press_cm=press).shares_cm(section)["pressing"] == pytest.approx(-2 * np.pi * press)


@given(sections, st.floats(0.1, 5), st.floats(0.1, 3))
def test_height_follows_the_taper(section, metres, taper):
    """Too high lowers the diameter by taper times height; too low raises it by as much."""
    for sign in (1, -1):
        share = Lay(height_off_m=sign * metres, taper_cm_per_m=taper).shares_cm(section)["height"]
        assert share == pytest.approx(-sign * np.pi * metres * taper, rel=1e-9)


def test_height_on_a_cylinder_adds_nothing():
    """Without taper the height does not matter, and is no fault."""
    assert Lay(height_off_m=0.5).faults == ()
    assert Lay(taper_cm_per_m=2).faults == ()
    assert Lay(height_off_m=0.5).shares_cm(OVAL) == {}


@given(st.floats(5, 200), st.floats(0.001, 0.5))
def test_one_wave_of_wander_is_a_tilt_on_a_circle(diameter, slope):
    """z = W/2·sin θ is the plane that rises W over one diameter: tan(tilt) = W/D exactly."""
    tilt, wander = np.degrees(np.arctan(slope)), slope * diameter
    wave = Lay(wander_cm=wander, wander_waves=1).shares_cm(circle(diameter))["wander"]
    plane = Lay(tilt_deg=tilt).shares_cm(circle(diameter))["tilt"]
    assert wave == pytest.approx(plane, rel=1e-9, abs=1e-12 * diameter)


def test_a_wave_can_undo_a_tilt():
    """Shares depend on the order: after a tilt the wave that mirrors it takes the tilt away."""
    tilt = np.degrees(np.arctan(5 / 40))
    lay = Lay(tilt_deg=tilt, tilt_direction_deg=-90, wander_cm=5, wander_waves=1)
    shares = lay.shares_cm(circle(40))
    assert shares["tilt"] > 0 > shares["wander"]
    assert shares["tilt"] + shares["wander"] == pytest.approx(0, abs=1e-12)


@given(sections, st.floats(-30, 30), angles)
def test_tilt_by_itself_and_beside_others_is_the_same_cut(section, tilt, direction):
    """The closed form and the sum along the way agree (a hair of overlap asks for the sum)."""
    alone = Lay(tilt, direction).shares_cm(section).get("tilt", 0.0)
    summed = Lay(tilt, direction, overlap_offset_cm=1e-9).shares_cm(section).get("tilt", 0.0)
    assert summed == pytest.approx(alone, abs=1e-9)


@given(st.floats(0.5, 1), lays)
def test_ellipse_and_its_dense_outline_agree(ratio, lay):
    """Two routes: Gauss sums on the exact ellipse, and edges of 7200 points.

    A climber stands at a corner of the drawn edge, up to half an edge beside its place.
    """
    smooth = Ellipse(50, 50 * ratio)
    drawn = Outline(smooth.outline_cm(7200))
    one, other = lay.shares_cm(smooth), lay.shares_cm(drawn)
    assert list(one) == list(other)
    for fault in one:
        assert other[fault] == pytest.approx(one[fault], abs=1e-3 if lay.climber_cm else 2e-4)


@given(sections, lays, st.floats(0.5, 3))
def test_all_lengths_scale(section, lay, factor):
    """Stem and lay both k times as large: every share k times as large."""
    lengths = [n for n in LAY_FIELDS if n.endswith("_cm")]
    grown = {n: getattr(lay, n) * (factor if n in lengths else 1) for n in LAY_FIELDS}
    grown["wander_waves"] = lay.wander_waves
    grown["taper_cm_per_m"] = lay.taper_cm_per_m * factor
    large = Lay(**grown).shares_cm(section.scaled(factor))
    for fault, adds in lay.shares_cm(section).items():
        # a fault near the smallest float there is may shrink to none at all
        assert large.get(fault, 0.0) == pytest.approx(factor * adds, abs=1e-6 * factor)


ARRAYS = {
    "tilt_deg": [0, 5, -10.0],
    "tilt_direction_deg": [0, 90, 200.0],
    "overlap_offset_cm": [0, 2, -3.0],
    "wander_cm": [0, 2, 5.0],
    "wander_waves": [1, 2, 3],
    "slack_cm": [0, 1, 2.0],
    "twist_lift_cm": [0, 0.5, 1],
    "knot_cm": [0, 1, 2.0],
    "knot_width_cm": [0, 4, 20.0],
    "climber_cm": [0, 1, 2.0],
    "climber_direction_deg": [0, 45, 190.0],
    "press_cm": [0, 0.1, 0.2],
    "height_off_m": [0, 1, -1.0],
    "taper_cm_per_m": [0, 1, 2.0],
}
#: What must be there beside a field for it to matter.
BESIDE = {
    "tilt_direction_deg": {"tilt_deg": 8.0},
    "wander_waves": {"wander_cm": 4.0},
    "knot_width_cm": {"knot_cm": 1.0},
    "climber_direction_deg": {"climber_cm": 2.0},
    "height_off_m": {"taper_cm_per_m": 1.5},
    "taper_cm_per_m": {"height_off_m": 0.8},
}


@pytest.mark.parametrize("name", LAY_FIELDS)
@pytest.mark.parametrize(
    "section", [OVAL, Ellipse([60, 50, 40.0], 48), ELBOW], ids=["oval", "three", "elbow"]
)
def test_arrays_of_every_field(name, section):
    """Three values at once give what they give one by one, on one stem and on three."""
    lay = Lay(**{name: np.array(ARRAYS[name])}, **BESIDE.get(name, {}))
    assert lay.shape == (3,)
    together = Tape().read(section, lay)
    assert together.reading_cm.shape == (3,)
    for index, value in enumerate(ARRAYS[name]):
        stem = Ellipse(section.first_cm[index], 48) if section.shape else section
        single = Tape().read(stem, Lay(**{name: value}, **BESIDE.get(name, {})))
        assert together.reading_cm[index] == pytest.approx(single.reading_cm, rel=1e-12)
        for fault, adds in single.breakdown.items():
            told = np.broadcast_to(together.breakdown[fault], 3)[index]
            assert told == pytest.approx(adds, abs=1e-9)


def test_every_field_stands_in_the_table():
    """No field of a lay without its arrays above."""
    assert set(ARRAYS) == set(LAY_FIELDS)


def test_many_stems_are_one_stem_many_times():
    """More stems than fit one batch, all faults at once, against single stems."""
    rng = np.random.default_rng(5)
    count = BATCH + 100
    stems = Ellipse(rng.uniform(15, 90, count), rng.uniform(15, 90, count))
    drawn = {
        "tilt_deg": rng.uniform(-15, 15, count),
        "tilt_direction_deg": rng.uniform(0, 360, count),
        "overlap_offset_cm": rng.uniform(-3, 3, count),
        "wander_cm": rng.uniform(0, 4, count),
        "wander_waves": rng.integers(1, 4, count),
        "slack_cm": rng.uniform(0, 1, count),
        "twist_lift_cm": rng.uniform(0, 1, count),
        "knot_cm": rng.uniform(0, 1, count),
        "climber_cm": rng.uniform(0, 3, count),
        "climber_direction_deg": rng.uniform(0, 360, count),
        "press_cm": rng.uniform(0, 0.1, count),
        "height_off_m": rng.uniform(-0.3, 0.3, count),
        "taper_cm_per_m": rng.uniform(0, 2, count),
    }
    together = Tape().read(stems, Lay(**drawn))
    assert together.reading_cm.shape == (count,)
    for index in (0, 1, BATCH - 1, BATCH, count - 1):
        stem = Ellipse(stems.first_cm[index], stems.second_cm[index])
        single = Tape().read(stem, Lay(**{n: v[index] for n, v in drawn.items()}))
        assert together.reading_cm[index] == pytest.approx(single.reading_cm, rel=1e-9)
        for fault, adds in single.breakdown.items():
            assert together.breakdown[fault][index] == pytest.approx(adds, abs=1e-7)


def test_many_stems_under_many_lays():
    """A column of stems and a row of lays make a table."""
    stems, lay = Ellipse([[60], [40.0]], 48), Lay(wander_cm=[0, 2, 5.0], climber_cm=1.0)
    shares = lay.shares_cm(stems)
    assert shares["wander"].shape == (2, 3)
    assert shares["wander"][1, 2] == pytest.approx(
        Lay(wander_cm=5.0, climber_cm=1.0).shares_cm(Ellipse(40, 48))["wander"], rel=1e-9
    )


@pytest.mark.parametrize(("girth", "lift"), [(125.66, 0.5), (40.0, 2.0), (300.0, 0.01)])
def test_lift_as_a_hull(girth, lift):
    """Two tangents to a circle, against the hull of the drawn circle and the point."""
    shapely = pytest.importorskip("shapely")
    radius = girth / (2 * np.pi)
    turn = np.linspace(0, 2 * np.pi, 200_001)[:-1]
    edge = radius * np.column_stack([np.cos(turn), np.sin(turn)])
    hull = shapely.MultiPoint(np.vstack([edge, [[radius + lift, 0]]])).convex_hull
    assert lift_adds_cm(girth, lift) == pytest.approx(hull.length - girth, abs=1e-6)


@pytest.mark.parametrize(
    ("girth", "lift", "width"),
    [(125.66, 0.5, 10), (125.66, 1, 20), (60.0, 2.0, 20), (60.0, 0.3, 50)],
)
def test_a_wide_top_as_a_hull(girth, lift, width):
    """A flat top that keeps its distance, against the hull of the drawn circle and that top."""
    shapely = pytest.importorskip("shapely")
    radius = girth / (2 * np.pi)
    turn = np.linspace(0, 2 * np.pi, 200_001)[:-1]
    over = np.linspace(-width / 2, width / 2, 50_001) / radius
    edge = radius * np.column_stack([np.cos(turn), np.sin(turn)])
    top = (radius + lift) * np.column_stack([np.cos(over), np.sin(over)])
    hull = shapely.MultiPoint(np.vstack([edge, top])).convex_hull
    assert lift_adds_cm(girth, lift, width) == pytest.approx(hull.length - girth, abs=1e-6)
    share = Lay(knot_cm=lift, knot_width_cm=width).shares_cm(circle(girth / np.pi))["knot"]
    assert share == pytest.approx(lift_adds_cm(girth, lift) + width * lift / radius, rel=1e-12)


def test_a_top_all_round():
    """The widest top that leaves the band some bark is taken, a wider one refused."""
    free = 60 - 2 * (60 / (2 * np.pi)) * np.arccos(1 / (1 + 2 * np.pi / 60))
    assert lift_adds_cm(60.0, 1.0, free - 1e-6) > lift_adds_cm(60.0, 1.0, free - 1)
    with pytest.raises(MeasureError, match="expected a top that leaves the band some bark"):
        lift_adds_cm(60.0, 1.0, free + 1e-6)
    assert lift_adds_cm(60.0, 0.0, 100.0) == 0  # of no height, so there is none


def test_lift_of_nothing():
    """No stand-off, no addition; arrays keep their shape."""
    assert lift_adds_cm(125.0, 0.0) == 0
    assert lift_adds_cm(np.full((2, 1), 125.0), np.array([0.0, 1, 2])).shape == (2, 3)


def test_level_lay_has_no_fault():
    """The lay as it should be."""
    assert (LEVEL.faults, LEVEL.shape, LEVEL.shares_cm(OVAL)) == ((), (), {})


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("wander_cm", -1, "finite number at least 0 and at most 2000 cm"),
        ("slack_cm", -0.1, "finite number at least 0"),
        ("twist_lift_cm", np.nan, "finite number at least 0"),
        ("knot_cm", [0, -1], "finite number at least 0"),
        ("knot_width_cm", -1, "finite number at least 0"),
        ("climber_cm", -2, "finite number at least 0"),
        ("press_cm", -1, "finite number at least 0"),
        ("overlap_offset_cm", np.inf, "finite number at least -2000"),
        ("wander_waves", 0, "finite number at least 1 and at most 50"),
        ("wander_waves", 51, "finite number at least 1 and at most 50"),
        ("wander_waves", 2.5, "a whole number of waves"),
        ("climber_direction_deg", "north", "a finite number"),
        ("height_off_m", 101, "finite number at least -10 and at most 100 m"),
        ("taper_cm_per_m", -101, "finite number at least -100 and at most 100 cm/m"),
    ],
)
def test_lays_that_cannot_be(field, value, said):
    """Each refusal names the field and the bound; nothing is clipped."""
    with pytest.raises(MeasureError, match=rf"^{field} .*; expected (a )?{said}"):
        Lay(**{field: value})


@pytest.mark.parametrize(
    ("section", "lay", "said"),
    [
        (circle(40), Lay(press_cm=20.0), "^press_cm is 20 cm; expected less than the stem's rad"),
        (
            circle(40),
            Lay(height_off_m=20, taper_cm_per_m=2),
            "^height_off_m is 20 m; expected a height at which this taper leaves some stem",
        ),
        (
            Outline([ELBOW.points_cm, ELBOW.points_cm]),
            Lay(wander_cm=2.0),
            "^section is .*; expected a single outline, or an array of ellipses",
        ),
        (
            Outline([ELBOW.points_cm, ELBOW.points_cm]),
            Lay(height_off_m=1.0, taper_cm_per_m=1.0),
            "^section is .*; expected a single outline, or an array of ellipses",
        ),
    ],
)
def test_stems_that_a_lay_cannot_be_on(section, lay, said):
    """What leaves no stem, or would need a way round not held, is refused."""
    with pytest.raises(MeasureError, match=said):
        lay.shares_cm(section)
