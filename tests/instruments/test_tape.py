"""The girth tape: level it reads the taut girth, tilted more; four scales show one band."""

import inspect

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.instruments import CM_PER_INCH, LEVEL, SCALES, Lay, Tape, rounded_cm
from mensura.stems import Ellipse, Outline, RoughBark, circle, reuleaux

OVAL = Ellipse(60, 48)
SECTIONS = [
    OVAL,
    circle(40),
    reuleaux(40),
    RoughBark(OVAL, 28, 1.0, 7),
    Outline([[0, 0], [20, 0], [20, 10], [10, 10], [10, 20], [0, 20]]),
]


def test_level_tape_reads_the_taut_girth():
    """Laid level, the tape adds nothing to the last digit."""
    for section in SECTIONS:
        reading = Tape().read(section)
        assert reading.reading_cm == reading.taut_girth_cm == section.taut_girth_cm
        assert reading.tilt_adds_cm == 0
        assert reading.scale == "girth, cm"


@given(st.sampled_from(SECTIONS), st.floats(-60, 60), st.floats(-360, 360))
def test_tilt_never_shortens(section, tilt, direction):
    """A tilted tape reads at least the girth, the same when it falls instead of rises."""
    reading = Tape().read(section, Lay(tilt, direction))
    assert reading.tilt_adds_cm >= -1e-10 * reading.taut_girth_cm
    assert Tape().read(section, Lay(-tilt, direction)).reading_cm == pytest.approx(
        reading.reading_cm, rel=1e-12
    )
    assert Tape().read(section, Lay(tilt, direction + 180)).reading_cm == pytest.approx(
        reading.reading_cm, rel=1e-10
    )


@given(st.sampled_from(SECTIONS), st.floats(1, 60), st.floats(-360, 360))
def test_tilt_adds_less_than_the_shortcut(section, tilt, direction):
    """The loop lies between girth and girth/cos(tilt), the shortcut of some handbooks."""
    reading = Tape().read(section, Lay(tilt, direction))
    shortcut = reading.taut_girth_cm / np.cos(np.radians(tilt))
    assert reading.taut_girth_cm < reading.reading_cm < shortcut


def test_small_tilt_on_a_circle():
    """On a circle 5° add tan²5°/4 of the girth, near enough, in every direction."""
    added = [Tape().read(circle(40), Lay(5, d)).tilt_adds_cm for d in (0, 33, 90, 200)]
    assert added == pytest.approx([40 * np.pi * np.tan(np.radians(5)) ** 2 / 4] * 4, rel=0.002)


def test_rising_along_the_longer_axis_adds_most():
    """Steepest rise along 60 cm adds more than along 48 cm."""
    along, across = (Tape().read(OVAL, Lay(10, d)).tilt_adds_cm for d in (0, 90))
    assert along > across > 0


@pytest.mark.parametrize(
    ("scale", "expected"),
    [
        ("girth, cm", 40 * np.pi),
        ("girth, in", 40 * np.pi / 2.54),
        ("diameter, cm", 40),
        ("diameter, in", 40 / 2.54),
    ],
)
def test_four_scales(scale, expected):
    """Each scale shows its own number on a circle of 40 cm; the band is the same length."""
    reading = Tape(scale).read(circle(40))
    assert reading.marks == pytest.approx(expected, rel=1e-14)
    assert reading.reading_cm == pytest.approx(40 * np.pi, rel=1e-15)
    assert reading.scale == scale


def test_scales_are_four():
    """No scale without a test; an inch is 2.54 cm by definition (1959 agreement, from memory)."""
    assert sorted(SCALES) == ["diameter, cm", "diameter, in", "girth, cm", "girth, in"]
    assert CM_PER_INCH == 2.54


def test_many_lays_on_one_stem():
    """Arrays of tilts and directions broadcast, level ones too."""
    tilts = np.array([[0], [5], [10.0]])
    reading = Tape().read(OVAL, Lay(tilts, [0, 45, 90, 135]))
    assert reading.reading_cm.shape == (3, 4)
    assert reading.reading_cm[0] == pytest.approx(OVAL.taut_girth_cm, rel=1e-13)
    assert Tape().read(OVAL, Lay(np.zeros(5))).reading_cm.tolist() == [OVAL.taut_girth_cm] * 5
    assert Tape().read(OVAL, Lay(0, [0, 90])).marks.shape == (2,)


@pytest.mark.parametrize("section", SECTIONS)
def test_one_lay_gives_plain_floats(section):
    """One stem and one lay give Python floats."""
    for lay in (LEVEL, Lay(10, 20)):
        reading = Tape().read(section, lay)
        assert type(reading.reading_cm) is type(reading.marks) is float
        assert type(reading.tilt_adds_cm) is float


@pytest.mark.parametrize("tilt", [90, -90, 91, np.nan, np.inf, "5", [0, 90]])
def test_lays_that_cannot_be(tilt):
    """A tape does not stand upright round a stem."""
    with pytest.raises(MeasureError, match=r"^tilt_deg .*above -90 and below 90 deg\.$"):
        Lay(tilt_deg=tilt)


def test_direction_must_be_a_number():
    """The direction of the rise is checked too."""
    with pytest.raises(MeasureError, match="tilt_direction_deg is nan deg; expected a finite"):
        Lay(5, np.nan)


@pytest.mark.parametrize("scale", ["cm", "", "girth", None])
def test_scales_that_are_not_there(scale):
    """The refusal lists the scales there are."""
    with pytest.raises(MeasureError, match=r"^scale is .*one of: girth, cm; girth, in; diameter"):
        Tape(scale)


# the band's condition

amounts = st.one_of(st.just(0.0), st.floats(0.01, 1))
bands = st.builds(
    lambda stretch, worn, thick, warm, pull, step, rounding: Tape(
        stretch_percent=40 * max(stretch, 0.0),
        shrink_percent=40 * max(-stretch, 0.0),
        worn_start_cm=5 * worn,
        thickness_cm=0.3 * thick,
        temperature_c=20 + 60 * warm,
        material="plastic",
        pull_n=50 + 100 * pull,
        stiffness_n=3000,
        resolution_cm=step,
        rounding=rounding,
    ),
    *(amounts.map(lambda x: -x) | amounts, amounts, amounts, amounts.map(lambda x: -x) | amounts),
    st.floats(-0.5, 1),
    st.sampled_from([0.0, 0.1, 0.5, 1.0]),
    st.sampled_from(["nearest", "down"]),
)
lays = st.builds(
    Lay,
    tilt_deg=st.floats(-20, 20),
    wander_cm=amounts,
    overlap_offset_cm=amounts,
    slack_cm=amounts,
    knot_cm=amounts,
    twist_lift_cm=amounts,
    climber_cm=amounts,
    press_cm=amounts.map(lambda x: x / 5),
    height_off_m=amounts,
    taper_cm_per_m=amounts,
)


@given(st.sampled_from(SECTIONS[:4]), lays, bands)
def test_breakdown_of_lay_and_band_sums(section, lay, tape):
    """All steps together are reading less taut girth, whatever is combined."""
    reading = tape.read(section, lay)
    off = reading.reading_cm - reading.taut_girth_cm
    assert sum(reading.breakdown.values()) == pytest.approx(off, abs=1e-12 * reading.reading_cm)
    assert list(reading.breakdown)[: len(lay.faults)] == list(lay.faults)


def test_seventy_marks_of_a_stretched_band():
    """At a stretch of 42.86 %, 70 marks span 100 cm: a girth of 100 cm is read as 70."""
    tape = Tape(stretch_percent=100 * 30 / 70)
    reading = tape.read(circle(100 / np.pi))
    assert reading.reading_cm == pytest.approx(70, rel=1e-14)
    assert reading.breakdown["stretch"] == pytest.approx(-30, rel=1e-13)
    assert tape.way_cm(70.0) == pytest.approx(100, rel=1e-14)
    assert round(tape.stretch_percent, 2) == 42.86


def test_a_band_that_has_shrunk():
    """Shrunk by 2 %, a mark covers 0.98 cm: 125.7 cm reads 128.2, area 1/0.98² = +4.1 %."""
    tape = Tape(shrink_percent=2)
    reading = tape.read(circle(40))
    assert reading.reading_cm == pytest.approx(40 * np.pi / 0.98, rel=1e-14)
    assert reading.reading_cm == pytest.approx(128.23, abs=0.005)
    assert reading.breakdown["shrinking"] == pytest.approx(40 * np.pi * 2 / 98, rel=1e-12)
    assert (reading.reading_cm / (40 * np.pi)) ** 2 == pytest.approx(1.0412, abs=5e-5)
    assert tape.way_cm(reading.reading_cm) == pytest.approx(40 * np.pi, rel=1e-14)
    # what stretches by 25 % and then shrinks by 20 % is as it was
    both = Tape(stretch_percent=25, shrink_percent=20).read(circle(40))
    assert both.reading_cm == pytest.approx(40 * np.pi, rel=1e-14)
    assert list(both.breakdown) == ["stretch", "shrinking"]


@given(st.floats(0.01, 30), st.sampled_from(SECTIONS))
def test_sides_of_the_conditions(size, section):
    """Stretch and warmth lower a reading, shrinking and cold raise it, so do worn start, thickness.

    Pulled harder than the reference, a band reads too little; slacker, too much.
    """

    def share(**condition):
        return next(iter(Tape(**condition).read(section).breakdown.values()))

    assert share(stretch_percent=size) < 0 < share(shrink_percent=size)
    steel = {"material": "steel", "reference_c": 20.0}
    assert share(temperature_c=20 + size, **steel) < 0 < share(temperature_c=20 - size, **steel)
    assert share(pull_n=50 + size, stiffness_n=1e4) < 0 < share(pull_n=50 - size, stiffness_n=1e4)
    assert share(worn_start_cm=size) == size
    assert share(thickness_cm=size) == pytest.approx(np.pi * size, rel=1e-14)


def test_at_the_reference_nothing_is_added():
    """20 °C and 50 N are the length's own conditions [Phillips2016; UKSI2016]."""
    tape = Tape(material="steel", temperature_c=20, pull_n=50, stiffness_n=2e4)
    assert tape.read(OVAL).breakdown == {}
    moved = Tape(material="steel", temperature_c=35, reference_c=35)
    assert moved.read(OVAL).reading_cm == OVAL.taut_girth_cm


def test_a_frayed_far_end_adds_nothing():
    """The far end is not read: a worn start has a term, a frayed end has none, by any name."""
    names = set(inspect.signature(Tape).parameters)
    assert "worn_start_cm" in names
    assert not [name for name in names if "end" in name or "fray" in name]


def test_own_expansion_goes_before_the_materials():
    """A number that is given is taken; beside it the material is a word."""
    one = Tape(material="steel", temperature_c=120, expansion_per_c=1e-4).read(circle(40))
    other = Tape(temperature_c=120, expansion_per_c=1e-4).read(circle(40))
    assert one.reading_cm == other.reading_cm == pytest.approx(40 * np.pi / 1.01, rel=1e-14)


def test_diameter_scale_shows_the_faults_too():
    """Marks are the faulty reading over π."""
    reading = Tape("diameter, cm", stretch_percent=2.5).read(circle(41))
    assert reading.marks == pytest.approx(40, rel=1e-14)


@pytest.mark.parametrize(
    ("field", "more"),
    [
        ("stretch_percent", {}),
        ("worn_start_cm", {}),
        ("thickness_cm", {}),
        ("temperature_c", {"material": "steel"}),
        ("reference_c", {"material": "steel", "temperature_c": 30.0}),
        ("expansion_per_c", {"temperature_c": 60.0}),
        ("pull_n", {"stiffness_n": 1e4}),
        ("reference_pull_n", {"pull_n": 20.0, "stiffness_n": 1e4}),
        ("stiffness_n", {"pull_n": 20.0}),
        ("resolution_cm", {}),
    ],
)
def test_arrays_of_every_condition(field, more):
    """Three bands at once are three bands one by one; on three stems, a table."""
    values = [0.0, 0.5, 1.0]
    if field == "stiffness_n":
        values = [1e3, 1e4, 2e4]
    elif field == "expansion_per_c":
        values = [0.0, 1e-5, 1e-4]
    together = Tape(**{field: np.array(values)}, **more).read(OVAL)
    assert together.reading_cm.shape == (3,)
    singles = [Tape(**{field: value}, **more).read(OVAL) for value in values]
    assert together.reading_cm == pytest.approx([one.reading_cm for one in singles], rel=1e-14)
    stems = Ellipse([[60], [50.0]], 48)
    table = Tape(**{field: np.array(values)}, **more).read(stems).reading_cm
    assert table.shape == (2, 3)
    assert table[0] == pytest.approx(together.reading_cm, rel=1e-14)


# rounding


def test_a_hair_below_a_mark_is_on_it():
    """A hook of 126.3 stays 126.3 in steps of 0.1, to the nearest and downwards."""
    for told in (126.3, 126.3 - 1e-12, 0.1 * 1263):
        for rounding in ("nearest", "down"):
            assert rounded_cm(told, 0.1, rounding) == pytest.approx(126.3, abs=1e-12)
            assert f"{rounded_cm(told, 0.1, rounding):.4f}" == "126.3000"


@given(st.floats(1, 500), st.sampled_from([0.05, 0.1, 0.5, 1, 2]))
def test_rounding_to_the_nearest_and_down(told, step):
    """Whole steps, off by half a step at most, or below by less than one; twice is once."""
    nearest, down = (rounded_cm(told, step, way) for way in ("nearest", "down"))
    for value, way in ((nearest, "nearest"), (down, "down")):
        assert value / step == pytest.approx(round(value / step), abs=1e-9)
        assert rounded_cm(value, step, way) == value
    assert abs(nearest - told) <= step / 2 + 1e-8
    assert -1e-8 <= told - down < step
    assert rounded_cm(told, 0.0) == told


def test_rounding_by_hand():
    """The half goes up; arrays round by their own steps, 0 leaving alone."""
    assert [rounded_cm(v, 0.5) for v in (20.24, 20.25, 20.74, 20.75)] == [20, 20.5, 20.5, 21]
    assert rounded_cm(np.array([1.26, 1.26, 1.26]), np.array([0, 0.1, 1])).tolist() == [
        1.26,
        pytest.approx(1.3),
        1,
    ]


@pytest.mark.parametrize(
    ("condition", "said"),
    [
        ({"stretch_percent": -2}, r"stretch_percent is -2 %; .*at least 0 and at most 1000 %"),
        ({"shrink_percent": -2}, r"shrink_percent is -2 %; .*at least 0 and below 100 %"),
        ({"shrink_percent": 100}, r"shrink_percent is 100 %; .*at least 0 and below 100 %"),
        ({"stretch_percent": [0, -120]}, r"stretch_percent \(item 2\) is -120 %"),
        ({"worn_start_cm": -0.1}, "worn_start_cm is -0.1 cm; .*at least 0"),
        ({"thickness_cm": -0.1}, "thickness_cm is -0.1 cm; .*at least 0"),
        ({"resolution_cm": -1}, "resolution_cm is -1 cm; .*at least 0"),
        ({"resolution_cm": np.nan}, "resolution_cm is nan cm"),
        ({"rounding": "up"}, "rounding is 'up'; expected one of: nearest, down"),
        ({"temperature_c": 30}, "expansion_per_c is missing; expected a number, or a material"),
        ({"temperature_c": -91, "material": "steel"}, "temperature_c is -91 °C; .*at least -90"),
        (
            {"temperature_c": 30, "expansion_per_c": 1},
            "expansion_per_c is 1 per °C; .*at most 0.00",
        ),
        ({"reference_c": 300}, "reference_c is 300 °C; .*at most 200 °C"),
        ({"pull_n": 30}, "stiffness_n is missing; expected a number above 0, beside a pull"),
        ({"pull_n": -1, "stiffness_n": 9e3}, "pull_n is -1 N; .*at least 0"),
        ({"pull_n": 1, "stiffness_n": -9e3}, "stiffness_n is -9000 N; .*above 0"),
        ({"pull_n": 0, "stiffness_n": 50}, "pull_n is 0 N; expected a pull that this stiffness"),
        ({"reference_pull_n": -1}, "reference_pull_n is -1 N; .*at least 0"),
    ],
)
def test_bands_that_cannot_be(condition, said):
    """Each refusal names the field and the bound."""
    with pytest.raises(MeasureError, match=f"^{said}"):
        Tape(**condition)


def test_a_reading_of_nothing_is_refused():
    """Rounded down to 0, a reading is not told."""
    with pytest.raises(MeasureError, match=r"^reading_cm is 0 cm; expected a reading above 0"):
        Tape(resolution_cm=100, rounding="down").read(circle(20))
