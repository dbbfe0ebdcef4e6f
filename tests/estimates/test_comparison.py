"""The one object that command, panel and workbook show: every practice on one stem."""

import json

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.estimates import (
    PRACTICE_WORDS,
    PRACTICES,
    area_from_diameters_cm2,
    area_from_girth_cm2,
    compare,
    over_percent,
    two_readings_over_percent,
)
from mensura.instruments import Calipers, Lay, Tape
from mensura.stems import Ellipse, Outline, RoughBark, circle, reuleaux


def test_stem_of_the_book():
    """60 by 48 cm: the numbers that every workbook quotes."""
    result = compare(Ellipse(60, 48))
    assert result.taut_girth_cm == pytest.approx(170.1700, abs=5e-5)
    assert result.true_area_cm2 == pytest.approx(2261.947, abs=5e-4)
    assert result.tape_area_cm2 == pytest.approx(2304.391, abs=5e-4)
    assert result.tape_over_percent == pytest.approx(1.8764, abs=5e-5)
    assert result.classroom_over_percent == pytest.approx(2.5, abs=1e-10)
    over = {one.practice: one.over_percent for one in result.calipers}
    assert over == pytest.approx(
        {
            "one": 25,
            "two-arithmetic": 1.25,
            "two-geometric": 0,
            "two-quadratic": 2.5,
            "many-arithmetic": result.tape_over_percent,
        },
        abs=1e-9,
    )


def test_many_directions_come_to_the_tape():
    """Eighteen directions already give mean width = girth/π, by Cauchy's theorem."""
    result = compare(Ellipse(60, 48))
    assert result.calipers[-1].readings_cm.mean() == pytest.approx(
        result.taut_girth_cm / np.pi, rel=1e-9
    )


@given(st.floats(5, 200), st.floats(0.3, 1), st.floats(0, 40), st.floats(-180, 180))
def test_parts_of_a_comparison_fit_together(long, ratio, tilt, direction):
    """Every error is that of its own area; the lay changes the tape's lines only."""
    stem = Ellipse(long, long * ratio)
    level = compare(stem, caliper_direction_deg=direction)
    tilted = compare(stem, Lay(tilt, 20), direction)
    assert tilted.level_area_cm2 == level.level_area_cm2 == level.tape_area_cm2
    assert tilted.tape_area_cm2 >= level.tape_area_cm2 * (1 - 1e-12)
    assert tilted.level_over_percent == level.tape_over_percent
    assert tilted.tape_over_percent == over_percent(tilted.tape_area_cm2, tilted.true_area_cm2)
    for one, same in zip(tilted.calipers, level.calipers, strict=True):
        assert one.over_percent == same.over_percent
        assert one.over_percent == over_percent(one.area_cm2, tilted.true_area_cm2)
        assert one.directions_deg[0] == direction


@given(st.floats(0.3, 1), st.floats(-180, 180))
def test_turned_calipers_follow_the_closed_forms(ratio, direction):
    """Two readings turned off the axes err as the closed forms say."""
    rows = {
        o.practice: o
        for o in compare(Ellipse(60, 60 * ratio), caliper_direction_deg=direction).calipers
    }
    for mean in ("arithmetic", "geometric", "quadratic"):
        assert rows[f"two-{mean}"].over_percent == pytest.approx(
            two_readings_over_percent(ratio, direction, mean), abs=1e-8
        )


def test_circle_has_no_error():
    """On a circle every practice is right."""
    result = compare(circle(40))
    errors = [result.tape_over_percent, result.classroom_over_percent, result.level_over_percent]
    errors += [one.over_percent for one in result.calipers]
    assert errors == pytest.approx([0] * 8, abs=1e-10)


def test_rough_bark_counts_for_the_tape_only():
    """Furrows leave readings alone and take wood away, so every practice errs upwards."""
    smooth, rough = compare(Ellipse(60, 48)), compare(RoughBark(Ellipse(60, 48), 40, 2, 7))
    assert rough.classroom_over_percent is None
    assert rough.true_area_cm2 < rough.hull_area_cm2 < smooth.true_area_cm2
    assert rough.tape_over_percent > smooth.tape_over_percent + 2
    assert {one.practice: one.over_percent > 2 for one in rough.calipers} == dict.fromkeys(
        PRACTICES, True
    )


def test_constant_width_fools_every_practice():
    """On a Reuleaux triangle tape and calipers agree and are 11.44 % wrong."""
    result = compare(reuleaux(40, 12_000))
    errors = [result.tape_over_percent] + [one.over_percent for one in result.calipers]
    assert errors == pytest.approx([11.4402] * 6, abs=2e-4)


def test_plain_numbers_for_json():
    """The dictionary holds names, numbers and lists only, and survives JSON."""
    plain = compare(Ellipse(60, 48), Lay(5, 0), 10).to_dict()
    again = json.loads(json.dumps(plain, allow_nan=False))
    assert again == plain
    assert [one["practice"] for one in plain["calipers"]] == list(PRACTICES)
    assert compare(reuleaux(9)).to_dict()["classroom_over_percent"] is None
    assert plain["reading_cm"] > plain["taut_girth_cm"]


def test_practices_have_words():
    """No practice without words for its row in a table."""
    assert list(PRACTICES) == list(PRACTICE_WORDS)
    assert "18 directions" in PRACTICE_WORDS["many-arithmetic"]


@pytest.mark.parametrize("direction", [np.nan, np.inf, "north"])
def test_directions_that_cannot_be(direction):
    """The calipers' direction is checked under its own name."""
    with pytest.raises(MeasureError, match=r"^caliper_direction_deg is"):
        compare(Outline([[0, 0], [9, 0], [0, 9]]), caliper_direction_deg=direction)


# instruments with faults


def test_faults_are_carried_with_their_shares():
    """Readings, areas and shares are those of the faulty instruments, part by part."""
    stem, lay = Ellipse(60, 48), Lay(tilt_deg=8, slack_cm=0.3, climber_cm=1.5)
    tape = Tape(stretch_percent=2, worn_start_cm=0.4, resolution_cm=0.1)
    calipers = Calipers(zero_error_cm=0.2, jaw_lean_deg=1.0)
    result = compare(stem, lay, 15, tape, calipers)
    read = tape.read(stem, lay)
    assert result.reading_cm == read.reading_cm
    assert result.breakdown == read.breakdown
    assert result.taut_girth_cm == stem.taut_girth_cm
    assert result.tape_area_cm2 == area_from_girth_cm2(read.reading_cm)
    assert result.level_over_percent == compare(stem).tape_over_percent
    for one in result.calipers:
        told = calipers.reading(stem, one.directions_deg)
        assert one.readings_cm.tolist() == told.readings_cm.tolist()
        mean = PRACTICES[one.practice][1]
        assert one.area_cm2 == area_from_diameters_cm2(told.readings_cm, mean)
        assert list(one.breakdown) == ["jaw lean", "zero error"]


def test_sound_instruments_have_nothing_to_show():
    """No fault, no shares; a tilt alone is one share of the tape and none of the calipers."""
    assert compare(Ellipse(60, 48)).breakdown == {}
    tilted = compare(Ellipse(60, 48), Lay(tilt_deg=5))
    assert list(tilted.breakdown) == ["tilt"]
    assert all(one.breakdown == {} for one in tilted.calipers)


@given(
    st.floats(0.5, 1),
    st.floats(-15, 15),
    st.floats(0, 3),
    st.floats(-5, 20),
    st.floats(-1, 1),
    st.floats(-3, 3),
)
def test_shares_sum_in_plain_numbers_too(ratio, tilt, size, stretch, zero, lean):
    """What goes to JSON sums as well, for the tape and for every reading of the calipers."""
    result = compare(
        Ellipse(50, 50 * ratio),
        Lay(tilt_deg=tilt, wander_cm=size, knot_cm=size, slack_cm=size),
        0,
        Tape(
            stretch_percent=max(stretch, 0),
            shrink_percent=max(-stretch, 0),
            worn_start_cm=size,
            resolution_cm=0.1,
        ),
        Calipers(zero_error_cm=zero, jaw_lean_deg=lean, resolution_cm=0.1),
    )
    plain = json.loads(json.dumps(result.to_dict(), allow_nan=False))
    off = plain["reading_cm"] - plain["taut_girth_cm"]
    assert sum(row["adds_cm"] for row in plain["breakdown"]) == pytest.approx(off, abs=1e-10)
    widths = Calipers().read(Ellipse(50, 50 * ratio), plain["calipers"][-1]["directions_deg"])
    last = plain["calipers"][-1]
    total = np.sum([row["adds_cm"] for row in last["breakdown"]], axis=0)
    assert np.array(last["readings_cm"]) - widths == pytest.approx(total, abs=1e-10)


def test_two_wrongs_may_look_right():
    """A stretched band on a tilted lay can read the taut girth: shares show what a sum hides."""
    stem = circle(40)
    added = Lay(tilt_deg=10).shares_cm(stem)["tilt"]
    stretch = 100 * added / stem.taut_girth_cm
    result = compare(stem, Lay(tilt_deg=10), tape=Tape(stretch_percent=stretch))
    assert result.tape_over_percent == pytest.approx(0, abs=1e-9)
    assert result.breakdown["tilt"] == pytest.approx(-result.breakdown["stretch"], rel=1e-9)
