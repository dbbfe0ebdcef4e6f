"""Rows of faults: what is read, against closed forms and by hand."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from scipy.integrate import quad

from mensura.checks import MeasureError
from mensura.estimates.fault_rows import (
    UNKNOWN,
    attempts,
    by_calipers,
    expansions,
    laid,
    permissible,
    pulled,
    shares,
    tape_card,
    taped,
    warmed,
)
from mensura.instruments import MATERIALS, Calipers, Lay, Tape, check_tape
from mensura.stems import Ellipse, belt_cm, circle


def test_laid_names_what_differs_and_nothing_else() -> None:
    """Two settings that differ, one that does not; waves are counted."""
    lay = Lay(wander_cm=5.0, wander_waves=[1, 2], slack_cm=[0.0, 1.0])
    rows = laid(circle(40), lay)
    assert list(rows[0]) == [
        *("wander_waves", "slack_cm", "reading_cm", "adds_cm", "adds_percent", "area_over_percent"),
    ]
    assert rows[1]["wander_waves"] == 2
    assert isinstance(rows[1]["wander_waves"], int)
    assert list(laid(circle(40), Lay(slack_cm=1.0))[0]) == [
        *("reading_cm", "adds_cm", "adds_percent", "area_over_percent"),
    ]


def test_laid_against_closed_forms() -> None:
    """A belt round stem and climber; Pythagoras; slack is what hangs loose."""
    girth = 40 * math.pi
    for row in laid(circle(40), Lay(climber_cm=[0.5, 2.0, 4.0])):
        assert girth + row["adds_cm"] == pytest.approx(belt_cm(40, row["climber_cm"]), rel=1e-12)
    for row in laid(circle(40), Lay(overlap_offset_cm=[1.0, 10.0])):
        assert girth + row["adds_cm"] == pytest.approx(math.hypot(girth, row["overlap_offset_cm"]))
    (row,) = laid(circle(40), Lay(slack_cm=2.0))
    assert row["adds_percent"] == pytest.approx(200 / girth)
    assert row["area_over_percent"] == pytest.approx(100 * ((1 + 2 / girth) ** 2 - 1))


def test_shares_lead_from_the_girth_to_the_reading() -> None:
    """Each step is the one before and what it adds; an array of readings has no one way."""
    reading = Tape(stretch_percent=1, worn_start_cm=0.5).read(circle(40), Lay(tilt_deg=5))
    rows = shares(reading)
    assert [row["step"] for row in rows] == ["taut girth", "tilt", "stretch", "worn start"]
    for before, after in pairwise(rows):
        assert after["reading_cm"] - before["reading_cm"] == pytest.approx(after["adds_cm"])
    assert rows[-1]["reading_cm"] == pytest.approx(reading.reading_cm)
    assert reading.adds_cm == pytest.approx(sum(reading.breakdown.values()))
    assert reading.adds_percent == pytest.approx(100 * reading.adds_cm / reading.taut_girth_cm)
    with pytest.raises(MeasureError, match=r"^reading is .*expected a single one"):
        shares(Tape().read(circle([40, 50])))


def test_taped_by_stems_and_by_conditions() -> None:
    """A stretch is a share, a worn start an amount; several of both make every pair."""
    rows = taped(Tape(stretch_percent=100 * 30 / 70), [50, 100, 150])
    assert [row["reading_cm"] for row in rows] == pytest.approx([35, 70, 105])
    assert [row["adds_percent"] for row in rows] == pytest.approx([-30, -30, -30])
    rows = taped(Tape(worn_start_cm=[[1.0], [2.0]]), [50, 100])
    assert [row["worn_start_cm"] for row in rows] == [1, 1, 2, 2]
    assert [row["adds_cm"] for row in rows] == pytest.approx([1, 1, 2, 2])
    assert list(taped(Tape(), 50)[0]) == [
        *("girth_cm", "reading_cm", "adds_cm", "adds_percent", "area_over_percent"),
    ]


def test_calipers_on_round_stems_by_their_formulas() -> None:
    """A lean: r + r(1 − sin φ)/cos φ; a slope: w/cos β; a zero: itself, on every stem."""
    phi = math.radians(2.0)
    (row,) = by_calipers(40.0, jaw_lean_deg=2.0)
    assert row["reading_cm"] == pytest.approx(20 + 20 * (1 - math.sin(phi)) / math.cos(phi))
    rows = by_calipers(40.0, beam_slope_deg=[5, 10])
    assert [row["reading_cm"] for row in rows] == pytest.approx(
        [40 / math.cos(math.radians(slope)) for slope in (5, 10)]
    )
    rows = by_calipers([10, 60], zero_error_cm=0.4)
    assert [row["off_cm"] for row in rows] == pytest.approx([0.4, 0.4])
    assert rows[0]["off_percent"] == pytest.approx(4)
    assert rows[0]["area_over_percent"] == pytest.approx(100 * (1.04**2 - 1))
    rows = by_calipers([10, 60], zero_error_cm=[0.4, 0.5], press_cm=0.1)
    assert [(row["zero_error_cm"], row["diameter_cm"]) for row in rows] == [
        *((0.4, 10), (0.4, 60), (0.5, 10), (0.5, 60)),
    ]
    assert rows[-1]["off_cm"] == pytest.approx(0.3)


def test_a_stem_too_wide_is_said_and_not_made_up() -> None:
    """Two readings of the one; a sentence for the other, which fits one way only."""
    read, refused = attempts(Calipers(opening_cm=50.0), [Ellipse(48, 44), Ellipse(54, 47)])
    assert read == {
        "stem": "48 by 44 cm",
        "readings_cm": pytest.approx([48, 44]),
        "said": "read",
    }
    assert refused["readings_cm"] is None
    assert "calipers that open to 54 cm" in refused["said"]


def test_a_card_brings_every_reading_back() -> None:
    """What the tape reads on the girth of the card is what stands before it."""
    tape = Tape(stretch_percent=1.01, worn_start_cm=1.77, thickness_cm=0.04)
    for row in tape_card(tape, [60, 189]):
        assert tape.read(circle(row["girth_cm"] / math.pi)).reading_cm == pytest.approx(
            row["reads_cm"]
        )
        assert row["reads_cm"] + row["add_cm"] == pytest.approx(row["girth_cm"])


def test_a_checked_card_has_its_doubt() -> None:
    """Half a millimetre in the middle of the places, more beyond: as the check itself says."""
    check = check_tape([50, 100, 150], [51.3, 100.7, 150.3], thickness_cm=0.04)
    rows = tape_card(check, [100, 150, 189])
    for row in rows:
        way = row["girth_cm"] + math.pi * 0.04
        assert row["doubt_cm"] == pytest.approx(check.doubt_cm(way))
    assert rows[0]["doubt_cm"] < rows[1]["doubt_cm"] < 0.1 < rows[2]["doubt_cm"]
    assert "doubt_cm" not in tape_card(check_tape([50, 100], [50.5, 100.2]), [100])[0]


def test_friction_takes_a_part_of_the_pull() -> None:
    """On a smooth post the hand's pull is all along; on bark its mean over half a turn is less."""
    hand = Tape(pull_n=[20, 50, 90], stiffness_n=25e3)
    smooth, rough = pulled(hand, 125, [0, 0.3])
    assert [smooth[f"{pull} N adds, cm"] for pull in (20, 50, 90)] == pytest.approx(
        [125 / (1 + (pull - 50) / 25e3) - 125 for pull in (20, 50, 90)]
    )
    share = quad(lambda turn: math.exp(-0.3 * turn), 0, math.pi)[0] / math.pi
    assert rough["mean_share_percent"] == pytest.approx(100 * share)
    assert [rough[f"{pull} N adds, cm"] for pull in (20, 50, 90)] == pytest.approx(
        [125 / (1 + (share * pull - 50) / 25e3) - 125 for pull in (20, 50, 90)]
    )


def test_warmth_within_what_a_band_of_that_expansion_reads() -> None:
    """Half a millionth either way of a real tape's reading; unknown stays unknown."""
    for row in warmed(125.0, 20):
        known = MATERIALS[row["material"]]
        for name, expansion in (("least_mm", known.least_per_c), ("most_mm", known.most_per_c)):
            if expansion is None:
                assert row[name] == UNKNOWN
                continue
            told, _ = Tape(temperature_c=40, expansion_per_c=expansion).marks_cm(125.0)
            assert row[name] == pytest.approx(10 * (125.0 - told), rel=5e-3)


def test_expansions_in_millionths() -> None:
    """Steel's 11.6; what no source gives is nothing; the range holds what we take."""
    by = {row["material"]: row for row in expansions()}
    assert list(by) == list(MATERIALS)
    assert by["steel"]["we_take"] == pytest.approx(11.6)
    assert by["cloth"]["we_take"] == UNKNOWN
    for row in by.values():
        if row["we_take"] != UNKNOWN:
            assert row["millionths per °C: least"] <= row["we_take"] * (1 + 1e-12)
            assert row["we_take"] <= row["most"] * (1 + 1e-12)
        assert row["source"]


def test_permissible_errors_a_length_a_row() -> None:
    """The three classes on a length of 1.26 m, which counts as 2; a hook on the second."""
    (row,) = permissible([1.26])
    assert list(row.values()) == pytest.approx([1.26, 0.3, 0.7, 1.4, 0.9])
    assert [one["II_mm"] for one in permissible(np.array([0.5, 1.0, 3.0]))] == pytest.approx(
        [0.5, 0.5, 0.9]
    )
