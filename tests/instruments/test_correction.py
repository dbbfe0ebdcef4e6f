"""Back from a reading to the girth: what can be undone is undone exactly, the rest has a side."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.instruments import MATERIALS, UNKNOWABLE, Lay, Tape, correct_girth
from mensura.stems import circle


def some(least, greatest):
    return st.one_of(st.just(0.0), st.floats(least, greatest))


bands = st.builds(
    Tape,
    stretch_percent=some(0, 60),
    shrink_percent=some(0, 40),
    worn_start_cm=some(0, 10),
    thickness_cm=some(0, 0.5),
    temperature_c=st.one_of(st.none(), st.floats(-30, 60)),
    reference_c=st.floats(0, 30),
    material=st.sampled_from([name for name, one in MATERIALS.items() if one.expansion_per_c]),
    pull_n=st.one_of(st.none(), st.floats(0, 200)),
    reference_pull_n=st.floats(0, 100),
    stiffness_n=st.floats(500, 1e5),
)


@given(bands, st.floats(10, 500))
def test_there_and_back(tape, girth):
    """What a band made of a girth is undone to the last digits, whatever its condition."""
    told, _ = tape.marks_cm(girth)
    corrected = correct_girth(told, tape)
    # a worn start is added and taken off: its digits count too
    assert corrected.girth_cm == pytest.approx(girth, abs=1e-12 * (girth + told))
    assert tape.way_cm(told) == corrected.girth_cm


@given(bands, st.floats(20, 500))
def test_back_and_there(tape, reading):
    """The girth that is concluded gives the reading again, and the parts sum to the difference."""
    corrected = correct_girth(reading, tape)
    told, _ = tape.marks_cm(corrected.girth_cm)
    assert told == pytest.approx(reading, rel=1e-12)
    off = reading - corrected.girth_cm
    assert sum(corrected.breakdown.values()) == pytest.approx(off, abs=1e-12 * (reading + 600))


@given(bands, st.floats(20, 100))
def test_a_level_tape_on_a_stem_is_corrected(tape, diameter):
    """Through the stem: read by a worn tape, corrected to the taut girth, diameter and area."""
    stem = circle(diameter)
    corrected = correct_girth(tape.read(stem).reading_cm, tape)
    assert corrected.girth_cm == pytest.approx(stem.taut_girth_cm, rel=1e-12)
    assert corrected.diameter_cm == pytest.approx(diameter, rel=1e-12)
    assert corrected.area_cm2 == pytest.approx(stem.area_cm2, rel=1e-12)


@given(st.floats(30, 300), st.sampled_from([0.1, 0.5, 1.0]), st.sampled_from(["nearest", "down"]))
def test_rounding_stays_within_what_is_told(girth, step, rounding):
    """The girth lies no further off than the half step that is told; down, only above."""
    tape = Tape(resolution_cm=step, rounding=rounding)
    corrected = correct_girth(tape.marks_cm(girth)[0], tape)
    off = girth - corrected.girth_cm
    assert corrected.rounding_cm == (step if rounding == "down" else step / 2)
    assert abs(off) <= corrected.rounding_cm + 1e-8
    assert off >= -1e-8 or rounding == "nearest"
    assert "rounding" not in corrected.breakdown


def test_by_hand():
    """Half a centimetre worn off, then a stretch of 2 %: (100 − 0.5)·1.02 = 101.49."""
    corrected = correct_girth(100.0, Tape(stretch_percent=2, worn_start_cm=0.5))
    assert corrected.girth_cm == pytest.approx(101.49, rel=1e-14)
    assert corrected.breakdown == pytest.approx({"stretch": -1.99, "worn start": 0.5}, rel=1e-12)
    assert corrected.diameter_cm == pytest.approx(101.49 / np.pi)
    assert corrected.area_cm2 == pytest.approx(101.49**2 / (4 * np.pi))


def test_arrays_of_readings_and_of_bands():
    """Many readings of many bands at once; single ones stay plain floats."""
    corrected = correct_girth([[100.0], [200.0]], Tape(stretch_percent=[0, 1, 2.0]))
    assert corrected.girth_cm.tolist() == [[100, 101, 102], [200, 202, 204]]
    assert type(correct_girth(100, Tape()).girth_cm) is float


@pytest.mark.parametrize(
    ("reading", "tape", "said"),
    [
        (0, Tape(), "a finite number above 0"),
        (-3, Tape(), "a finite number above 0"),
        ("12", Tape(), "a finite number above 0"),
        (20001, Tape(), "a finite number above 0 and at most 20000"),
        (5, Tape(worn_start_cm=5), "a reading longer than what is worn off"),
        (0.1, Tape(thickness_cm=0.1), "a reading longer than what is worn off"),
        ([100, 2], Tape(worn_start_cm=3), "a reading longer than what is worn off"),
    ],
)
def test_readings_that_cannot_be(reading, tape, said):
    """What leaves no girth is refused, not made zero."""
    with pytest.raises(MeasureError, match=rf"^reading_cm .*; expected {said}"):
        correct_girth(reading, tape)


#: The figures in UNKNOWABLE's words, again from lays on a stem of 125 cm.
REACHES = {
    "tilt": [(Lay(tilt_deg=5), 0.2), (Lay(tilt_deg=10), 1.0), (Lay(tilt_deg=20), 4.0)],
    "wander": [(Lay(wander_cm=5), 2.0)],
    "overlap": [(Lay(overlap_offset_cm=7), 0.2)],
    "slack": [(Lay(slack_cm=3), 3.0)],
    "twist": [(Lay(twist_lift_cm=0.5), 0.1)],
    "knot": [(Lay(knot_cm=1), 0.4), (Lay(knot_cm=1, knot_width_cm=10), 0.9)],
    "climber": [(Lay(climber_cm=2), 1.2)],
    "pressing": [(Lay(press_cm=0.1), -0.6)],
    "height, too high": [(Lay(height_off_m=1, taper_cm_per_m=1), -3.1)],
    "height, too low": [(Lay(height_off_m=-1, taper_cm_per_m=1), 3.1)],
}


@pytest.mark.parametrize("one", UNKNOWABLE, ids=lambda one: one.fault)
def test_what_is_said_of_the_unknowable(one):
    """Side and reach in words are those that the lay computes."""
    stem = circle(125 / np.pi)
    for lay, figure in REACHES[one.fault]:
        share = lay.shares_cm(stem)[one.fault.partition(",")[0]]
        assert (share > 0) == one.raises_reading
        digits = 0 if abs(figure) >= 1 and figure == int(figure) else 1
        assert round(share, digits) == figure
        if one.fault != "slack":
            link = "at" if one.fault == "tilt" else "for"
            assert f"{abs(figure):g} cm {link} " in one.reach


def test_every_fault_of_a_lay_is_unknowable():
    """A number confesses no fault of the lay, so each stands in the list."""
    faults = Lay(5, 0, 1, 1, 2, 1, 1, 1, 0, 1, 0, 0.1, 1, 1).faults
    assert {one.fault.partition(",")[0] for one in UNKNOWABLE} == set(faults)
