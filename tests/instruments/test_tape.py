"""The girth tape: level it reads the taut girth, tilted more; four scales show one band."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.instruments import CM_PER_INCH, LEVEL, SCALES, Lay, Tape
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
