"""The list of faults: each row says one thing, and all of the instruments stands in it."""

from __future__ import annotations

import dataclasses
import inspect
from collections import Counter

import numpy as np
import pytest

from mensura.checks import MeasureError
from mensura.instruments import FAULTS, UNKNOWABLE, Calipers, Lay, Tape, correct_girth
from mensura.instruments.fault import (
    BAND,
    INSTRUMENTS,
    JAWS,
    LAY,
    PLACES,
    READING,
    Fault,
    Setting,
    Typical,
)
from mensura.instruments.faults import LIMITS, fault, faults_of, settings_of
from mensura.instruments.typical import adds_cm
from mensura.stems import Ellipse, circle

OWNERS = {LAY: Lay, BAND: Tape, READING: Tape, JAWS: Calipers}
ROWS = [pytest.param(row, id=f"{row.of} {row.key}") for row in FAULTS]
SETTINGS = [
    pytest.param(OWNERS[row.of], one, id=f"{row.of} {one.field}")
    for row in FAULTS
    for one in row.settings
    if one.bounds
]


def test_one_name_one_fault() -> None:
    """No two faults of an instrument share a name, no two settings an option."""
    for kinds in INSTRUMENTS.values():
        assert max(Counter(one.key for one in faults_of(*kinds)).values()) == 1
    options = Counter(one.option for one in settings_of(LAY, BAND, JAWS, READING))
    assert max(options.values()) == 1


def test_every_field_stands_in_a_row() -> None:
    """What can be said of an instrument is a setting of one row; the scale alone is no fault."""
    for owner, kinds in ((Lay, (LAY,)), (Tape, (BAND, READING)), (Calipers, (JAWS, READING))):
        fields = [one.field for one in settings_of(*kinds)]
        assert sorted(fields) == sorted(set(inspect.signature(owner).parameters) - {"scale"})
    assert [one.field for one in LIMITS[JAWS]] == ["opening_cm"]


@pytest.mark.parametrize(("owner", "setting"), SETTINGS)
def test_bounds_hold_at_the_door(owner: type, setting: Setting) -> None:
    """A number beyond either bound is refused under the field's name, and not a number too."""
    for name, bound in setting.bounds.items():
        beyond = bound if name in ("above", "below") else bound + (1 if name == "at_most" else -1)
        with pytest.raises(MeasureError, match=rf"^{setting.field} is .*; expected "):
            owner(**{setting.field: beyond})
    with pytest.raises(MeasureError, match=rf"^{setting.field} is "):
        owner(**{setting.field: float("nan")})


#: Every fault there is, at once.
WORST_LAY = {
    one.field: 2 if one.kind == "count" else 0.4 for row in faults_of(LAY) for one in row.settings
}
WORST_BAND = {
    "thickness_cm": 0.1, "temperature_c": 40.0, "material": "steel", "pull_n": 90.0,
    "stiffness_n": 2e4, "stretch_percent": 1.0, "shrink_percent": 0.4, "worn_start_cm": 0.5,
    "resolution_cm": 0.7,
}  # fmt: skip
WORST_JAWS = {
    "press_cm": 0.1, "jaw_lean_deg": 1.0, "beam_slope_deg": 3.0, "zero_error_cm": 0.2,
    "resolution_cm": 0.7,
}  # fmt: skip


def test_readings_take_the_faults_in_the_order_of_the_rows() -> None:
    """With every fault at once a reading's breakdown has the rows' names in the rows' order."""
    stem = Ellipse(50, 44)
    told = Tape(**WORST_BAND).read(stem, Lay(**WORST_LAY))
    assert list(told.breakdown) == [one.key for one in faults_of(*INSTRUMENTS["tape"])]
    width = Calipers(**WORST_JAWS).reading(stem, 20)
    assert list(width.breakdown) == [one.key for one in faults_of(*INSTRUMENTS["calipers"])]


@pytest.mark.parametrize("row", ROWS)
def test_the_side_is_the_one_that_is_computed(row: Fault) -> None:
    """A typical size goes to the side that the row says."""
    sizes = [adds_cm(row, one) for one in row.typical]
    assert sizes or "typical sizes" in row.left_out_of
    if row.side != "either":
        assert {size > 0 for size in sizes} == {row.side == "too much"}


@pytest.mark.parametrize("row", ROWS)
def test_what_is_undone_is_undone(row: Fault) -> None:
    """What a row says of the way back is what the way back does."""
    assert (row.undone == "exactly") == (row.of == BAND)
    if row.of == BAND:
        for size in row.typical:
            tape = Tape(**size.settings)
            read = tape.read(circle(40)).reading_cm
            assert abs(read - 40 * np.pi) > 1e-3
            assert correct_girth(read, tape).girth_cm == pytest.approx(40 * np.pi, rel=1e-12)
    told = any(one.row is row for one in UNKNOWABLE)
    assert told == (row.of == LAY)


def test_a_row_that_contradicts_itself_is_refused() -> None:
    """An unknown kind, side or way back, a place where it does not belong, a foreign setting."""
    sound = fault("slack")
    for change in (
        {"of": "hand"},
        {"side": "left"},
        {"undone": "perhaps"},
        {"left_out_of": {"nowhere": "a reason"}},
        {"left_out_of": {"all faults": " "}},
        {"typical": (Typical({"tilt_deg": 1.0}, "a tilt"),)},
        {"made_by": ("tilt_deg",)},
        {"settings": ()},
    ):
        with pytest.raises(MeasureError, match=r"^slack: "):
            dataclasses.replace(sound, **change)
    with pytest.raises(MeasureError, match="left_out_of"):
        dataclasses.replace(fault("jaw lean", "calipers"), left_out_of={"what went wrong": "no"})


def test_reasons_are_sentences_of_their_own() -> None:
    """What is left out says why; nothing is left out of everything."""
    for row in FAULTS:
        assert set(row.left_out_of) < set(PLACES)
        assert row.belongs_in("all faults")
        for reason in row.left_out_of.values():
            assert len(reason.split()) >= 6


def test_look_ups() -> None:
    """By name and instrument; an unknown name is an error."""
    assert fault("pressing").of == LAY
    assert fault("pressing", "calipers").of == JAWS
    with pytest.raises(KeyError):
        fault("fold")
