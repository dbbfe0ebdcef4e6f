"""Verdicts on hands and instruments: faults found and told apart, sound ones left alone."""

import itertools
import json
import re

import numpy as np
import pytest

from mensura.checks import MeasureError
from mensura.estimates.drawn_practical import (
    SLIPS,
    Planted,
    PracticalClass,
    drawn_practical,
    faulty_practical,
)
from mensura.estimates.hand_verdict import Matters
from mensura.estimates.hands import holm, judge_hands
from mensura.estimates.readings import Readings

OFF = ("reads-high", "reads-low", "spreads")


def all_of(judged):
    """Every verdict, by code and kind."""
    return {(one.name, one.kind): one for one in judged.hands + judged.instruments}


def readings_of(rows, stems=()):
    """Readings out of (stem, hand, instrument, reading) rows, all girths."""
    codes = [
        tuple(sorted({row[i] for row in rows} | set(stems if i == 0 else ()))) for i in (0, 1, 2)
    ]
    at = [np.array([codes[i].index(row[i]) for row in rows], np.int64) for i in (0, 1, 2)]
    size = len(rows)
    return Readings(
        *codes,
        ("",),
        *at,
        np.zeros(size, np.int64),
        np.ones(size, bool),
        np.full(size, np.nan),
        np.ones(size, np.int64),
        np.array([row[3] for row in rows], float),
        np.arange(2, size + 2),
    )


def class_of(hands, tape_of, off=None, stems=12):
    """Hands that each read every stem with tapes, to 0.2 %; off: factor by hand or tape."""
    rng, off = np.random.default_rng(3), off or {}
    girth = np.linspace(70, 190, stems)
    return readings_of(
        [
            (f"{s:02d}", hand, tape, girth[s] * off.get(hand, 1) * off.get(tape, 1)
             * (1 + 0.002 * rng.normal()))
            for s in range(stems)
            for hand in hands
            for tape in tape_of(hand, s)
        ]
    )  # fmt: skip


@pytest.fixture(scope="module")
def faulty():
    """Twenty practicals with a hand, a tape, a pair of calipers and three figures wrong."""
    return [(one, judge_hands(one.readings)) for one in map(faulty_practical, range(20))]


def test_faults_are_found_and_their_form_told(faulty):
    """At least 95 % of the planted faults, with the right sign and form."""
    found, told = [], []
    for practical, judged in faulty:
        for fault in practical.planted:
            one = all_of(judged)[fault.who, fault.kind]
            high = fault.share_percent + fault.off_cm > 0
            found.append(one.verdict == ("reads-high" if high else "reads-low"))
            told.append(one.form == ("share" if fault.share_percent else "constant"))
    assert len(found) >= 60
    assert np.mean(found) >= 0.95
    assert np.mean(np.array(found) & np.array(told)) >= 0.95


def test_sound_ones_are_left_alone(faulty):
    """At most 3 % of sound hands and instruments read high or low or spread, blunders and all."""
    accused = []
    for practical, judged in faulty:
        planted = {(fault.who, fault.kind) for fault in practical.planted}
        accused += [one.verdict in OFF for key, one in all_of(judged).items() if key not in planted]
    assert len(accused) > 300
    assert np.mean(accused) <= 0.03


def test_intervals_hold_what_was_planted(faulty):
    """Of 95 % intervals, a unit of their own each, nine in ten at the least hold the fault."""
    holds = []
    for practical, judged in faulty:
        for fault in practical.planted:
            one = all_of(judged)[fault.who, fault.kind]
            if one.form != "unclear":
                assert one.unit == ("%" if one.form == "share" else "cm")
                planted = fault.share_percent or fault.off_cm
                holds.append(one.interval[0] <= planted <= one.interval[1])
    assert np.mean(holds) >= 0.9


def test_with_no_fault_hardly_any_practical_accuses():
    """At most 5 % of practicals in which nobody is off accuse anyone."""
    accusing = [
        bool(judge_hands(drawn_practical(seed, slips=SLIPS).readings).accused)
        for seed in range(200, 260)
    ]
    assert np.mean(accusing) <= 0.05


def test_one_hand_off_does_not_move_the_others():
    """A hand 2 % or 6 % high: what the other six read is told as without it."""
    for percent in (2.0, 6.0):
        sound = all_of(judge_hands(drawn_practical(4).readings))
        fault = Planted("Q03", "girth", share_percent=percent)
        off = all_of(judge_hands(drawn_practical(4, (fault,)).readings))
        assert off["Q03", "girth"].verdict == "reads-high"
        for key, one in sound.items():
            if key != ("Q03", "girth"):
                assert off[key].verdict == one.verdict == "sound"
                assert off[key].bias == pytest.approx(one.bias, abs=0.12)


def test_a_hand_may_be_sound_with_tapes_and_high_with_calipers():
    """Hand and kind of instrument are judged together."""
    fault = Planted("Q05", "diameter", share_percent=3.0)
    judged = all_of(judge_hands(drawn_practical(8, (fault,)).readings))
    assert judged["Q05", "diameter"].verdict == "reads-high"
    assert judged["Q05", "girth"].verdict == "sound"


def test_nobody_is_part_of_what_the_others_agree_on():
    """Of three hands, one 0.6 % high: so much above the two others, which are half of it below."""
    hands = judge_hands(
        class_of(["Q1", "Q2", "Q3"], lambda hand, s: ("T1", "T2"), {"Q3": 1.006}, stems=80)
    ).hands
    assert hands[2].bias == pytest.approx(0.6, abs=0.06)
    assert hands[0].bias == pytest.approx(-0.3, abs=0.15)
    assert {one.verdict for one in hands} == {"sound"}


def test_what_is_agreed_on_has_its_own_doubt():
    """Where sound hands differ by 0.5 %, a hand's bias is less sure than where they are alike."""

    def half_width(percent):
        of = PracticalClass(sound_hands_percent=percent)
        fault = Planted("Q03", "girth", share_percent=8.0)
        one = all_of(judge_hands(drawn_practical(5, (fault,), of=of).readings))["Q03", "girth"]
        return (one.interval[1] - one.interval[0]) / 2

    assert half_width(0.6) > 1.3 * half_width(0.0)


def test_what_sound_ones_add_grows_as_the_reading():
    """Nobody gives reason to doubt it, so that the figures for one in doubt are the surer."""
    judged = judge_hands(drawn_practical(7).readings)
    assert np.max(np.abs(judged.model.slopes)) < 0.004


@pytest.mark.parametrize(("code", "off_cm"), [("K1", 1.2), ("K2", -1.2)])
def test_two_calipers_are_told_apart_by_the_tapes(code, off_cm):
    """Of two that differ, the one that differs from girth over π is off; without tapes neither."""
    of = PracticalClass(caliper_count=2)
    practical = drawn_practical(6, (Planted(code, "diameter", off_cm=off_cm),), of=of)
    judged = all_of(judge_hands(practical.readings))
    other = {"K1": "K2", "K2": "K1"}[code]
    assert judged[code, "diameter"].verdict == ("reads-high" if off_cm > 0 else "reads-low")
    assert judged[code, "diameter"].form == "constant"
    assert judged[other, "diameter"].verdict == "sound"
    of = PracticalClass(caliper_count=2, tape_count=0)
    practical = drawn_practical(6, (Planted(code, "diameter", off_cm=off_cm),), of=of)
    judged = all_of(judge_hands(practical.readings))
    for one in ("K1", "K2"):
        assert judged[one, "diameter"].verdict == "cannot-tell"
        assert "no side has more" in judged[one, "diameter"].why


@pytest.mark.parametrize(
    ("code", "kind", "least"),
    [("Q03", "girth", 0.9), ("Q03", "diameter", 0.7), ("K2", "diameter", 0.7)],
)
def test_who_spreads_is_told(code, kind, least):
    """A hand or calipers that spread three times as much: that one, that kind, nobody else.

    With calipers the stem's own ripples and how they are turned spread all alike, so that three
    times as much of one's own is about twice as much in all, and harder to find.
    """
    found, others = [], 0
    for seed in range(20):
        fault = Planted(code, kind, times=3.0)
        judged = all_of(judge_hands(drawn_practical(seed, (fault,), SLIPS).readings))
        one = judged.pop((code, kind))
        found.append(one.verdict == "spreads")
        if found[-1]:
            assert one.spread_times >= 1.5
            assert "spreads" in one.why
        others += sum(other.verdict in OFF for other in judged.values())
    assert np.mean(found) >= least
    assert others <= 1


def test_a_bias_goes_before_a_spread():
    """High and spreading: the verdict is the bias, the spread stands in the reasons."""
    faults = (
        Planted("Q03", "girth", share_percent=6.0),
        Planted("Q03", "girth", times=5.0),
    )
    one = all_of(judge_hands(drawn_practical(3, faults).readings))["Q03", "girth"]
    assert one.verdict == "reads-high"
    assert one.spreads
    assert "spreads" in one.why


def test_blunders_make_nobody_spread():
    """Three figures of one hand keyed in wrong, and it is sound still."""
    readings = drawn_practical(12).readings
    mine = np.flatnonzero((readings.hand == 1) & readings.girth)[[1, 6, 11]]
    for factor in (10.0, 1 / np.pi, 1.4):
        cm = readings.reading_cm.copy()
        cm[mine] *= factor
        judged = judge_hands(Readings(**{**vars(readings), "reading_cm": cm}))
        assert judged.accused == ()


@pytest.mark.parametrize(("seed", "code", "kind"), [(33, "K1", "diameter"), (4, "T2", "girth")])
def test_slips_beside_an_instrument_that_spreads(seed, code, kind):
    """Two figures of one hand are wrong and an instrument spreads: the hand does not for that."""
    fault = Planted(code, kind, times=3.0)
    judged = judge_hands(drawn_practical(seed, (fault,), SLIPS).readings)
    assert {one.name for one in judged.accused} <= {code}


def test_what_matters_is_a_setting():
    """A tape 2.5 % low is off by default, and sound where only 5 % matters."""
    readings = drawn_practical(2, (Planted("T2", "girth", share_percent=-2.5),)).readings
    assert all_of(judge_hands(readings))["T2", "girth"].verdict == "reads-low"
    lax = judge_hands(readings, Matters(share_percent=5, girth_cm=8, diameter_cm=3))
    assert lax.accused == ()


@pytest.mark.parametrize(
    ("field", "value"), [("share_percent", 0), ("girth_cm", -1), ("chance_percent", 60)]
)
def test_settings_are_checked(field, value):
    """What cannot be meant is refused by its name."""
    with pytest.raises(MeasureError, match=field):
        Matters(**{field: value})


def test_the_height_counts_where_no_line_was_on_the_stems():
    """A hand that reads high is told that finding the height is part of it."""
    readings = drawn_practical(4, (Planted("Q03", "girth", share_percent=3),)).readings
    free, marked = (
        all_of(judge_hands(readings, Matters(marked=marked)))["Q03", "girth"].why
        for marked in (False, True)
    )
    assert "height" in free
    assert "height" not in marked


def test_no_hand_reads_of_another(faulty):
    """In what is said to a hand no other hand's code stands."""
    for _, judged in faulty:
        assert all(not re.search(r"\bQ\d\d\b", one.why) for one in judged.hands)


def test_json_holds_what_is_promised(faulty):
    """Names and plain numbers, one object for each hand and kind, one for each instrument."""
    _, judged = faulty[0]
    rows = json.loads(json.dumps([one.to_dict() for one in judged.hands + judged.instruments]))
    promised = {"name", "kind", "verdict", "form", "bias", "interval", "unit", "why"}
    assert all(promised <= set(row) for row in rows)
    assert {row["verdict"] for row in rows} <= {*OFF, "sound", "cannot-tell"}
    assert {row["form"] for row in rows} <= {"share", "constant", "unclear"}
    assert len({(row["name"], row["kind"]) for row in rows}) == len(rows) == 7 * 2 + 6


# ---- what readings do not allow -----------------------------------------------------------------


def test_one_hand_only():
    """Nobody to agree with, and no instrument apart from its hand."""
    judged = judge_hands(class_of(["Q1"], lambda hand, s: ("T1", "T2"), {"T2": 0.97}))
    assert [one.verdict for one in judged.hands + judged.instruments] == ["cannot-tell"] * 3
    assert judged.hands[0].why == "No other hand read a girth: nobody to agree with."
    assert "Only one hand read: whether it is off, nobody else's readings tell." in judged.notes
    assert all("cannot be told apart" in one.why for one in judged.instruments)


def test_an_instrument_of_one_hand_only():
    """It says exactly that, of the instrument and of the hand; the rest is still judged."""
    judged = all_of(
        judge_hands(
            class_of(
                ["Q1", "Q2", "Q3", "Q4", "Q5"],
                lambda hand, s: ("T9",) if hand == "Q3" else ("T1", "T2"),
                {"T9": 0.97, "Q5": 1.03},
            )
        )
    )
    assert judged["T9", "girth"].verdict == judged["Q3", "girth"].verdict == "cannot-tell"
    assert judged["T9", "girth"].why.startswith(
        "Only Q3 read with T9: hand and instrument cannot be told apart. Together they read low"
    )
    assert judged["Q3", "girth"].why == (
        "Nobody else read with T9: hand and instrument cannot be told apart."
    )
    assert judged["Q5", "girth"].verdict == "reads-high"
    assert judged["T1", "girth"].verdict == "sound"


def test_two_hands_that_differ():
    """Neither is accused; by how much they differ is told."""
    judged = judge_hands(class_of(["Q1", "Q2"], lambda hand, s: ("T1", "T2"), {"Q2": 1.03}))
    assert [one.verdict for one in judged.hands] == ["cannot-tell"] * 2
    assert judged.hands[1].bias == pytest.approx(3.0, abs=0.3)
    assert "no side has more of them" in judged.hands[0].why
    assert [one.verdict for one in judged.instruments] == ["sound"] * 2


def test_a_stem_measured_by_nobody():
    """It is named, and the rest is judged."""
    whole = class_of(["Q1", "Q2", "Q3"], lambda hand, s: ("T1", "T2"))
    judged = judge_hands(Readings(**{**vars(whole), "stems": (*whole.stems, "91", "92")}))
    assert "Nobody measured stems 91 and 92." in judged.notes
    assert {one.verdict for one in judged.hands} == {"sound"}
    assert "91" not in judged.sizes_cm


def test_one_reading_each():
    """No repeats: said once, and the rest is judged."""
    judged = judge_hands(class_of(["Q1", "Q2", "Q3", "Q4"], lambda hand, s: ("T1",), {"Q4": 1.03}))
    assert any(note.startswith("Nobody read a stem twice") for note in judged.notes)
    assert judged.hands[3].verdict == "reads-high"


@pytest.mark.parametrize(
    ("girth", "by", "said"),
    [
        (True, 1 / np.pi, "as if diameters had been written for girths, or girths for diameters."),
        (False, np.pi, "as if diameters had been written for girths, or girths for diameters."),
        (True, 1 / 2.54, "as if one of them had been in inches and the other in centimetres."),
        (False, 10.0, "as if one of them had been in millimetres and the other in centimetres."),
        (True, np.pi, "as if one kind had been measured or written otherwise."),
    ],
)
def test_a_class_that_wrote_one_kind_for_the_other(girth, by, said):
    """It is said, with its likely cause and that nobody can tell which kind is wrong."""
    readings = drawn_practical(3).readings
    cm = np.where(readings.girth == girth, readings.reading_cm * by, readings.reading_cm)
    notes = judge_hands(Readings(**{**vars(readings), "reading_cm": cm})).notes
    assert len(notes) == 1
    which = "girths over π" if girth == (by > 1) else "diameters"
    assert re.match(rf"The {which} are [0-9.]+ times as large, stem by stem: ", notes[0])
    assert said.rstrip(".") in notes[0]
    assert notes[0].endswith("Which of the two is wrong these readings do not tell.")
    faulty = faulty_practical(3).readings  # a tape and calipers off are no other kind
    assert judge_hands(faulty).notes == ()


def test_stems_that_no_two_hands_share():
    """Nothing can be set against anything."""
    rows = [(f"{s:02d}", f"Q{s % 3}", "T1", 100.0 + s) for s in range(15)]
    judged = judge_hands(readings_of(rows))
    assert any("No stem was measured by two hands" in note for note in judged.notes)
    assert {one.verdict for one in judged.hands} == {"cannot-tell"}


def test_all_readings_equal():
    """One sentence; nothing is told, nothing fails."""
    rows = [(f"{s:02d}", f"Q{h}", "T1", 100.0) for s in range(6) for h in range(4)]
    judged = judge_hands(readings_of(rows))
    assert judged.notes[-1].startswith("All 24 readings are 100 cm")
    assert {one.verdict for one in judged.hands} == {"cannot-tell"}


@pytest.mark.parametrize("cm", [[], [0.0, -3.0, np.nan]])
def test_nothing_to_judge(cm):
    """An empty sheet, or no figure above nought: a sentence and no verdicts."""
    rows = [("01", "Q1", "T1", value) for value in cm]
    judged = judge_hands(readings_of(rows))
    assert judged.hands == judged.instruments == ()
    assert judged.notes == (
        "There is no reading above 0 cm: nothing can be told of hands and instruments.",
    )


def test_a_crowd_is_refused():
    """More hands than a class has: said, not computed for hours."""
    rows = [("01", f"Q{h}", "T1", 100.0) for h in range(401)]
    judged = judge_hands(readings_of(rows))
    assert judged.notes[0] == "There are 401 hands; at most 400 are judged at once."
    assert judged.hands == ()


# ---- Holm's steps -------------------------------------------------------------------------------


def test_holm_is_the_closed_test():
    """One is beyond chance when every group of several with it in it is, by its least chance."""
    rng = np.random.default_rng(9)
    for _ in range(60):
        chances = rng.uniform(0, 1, 5) ** 4
        closed = [
            all(
                min(chances[list(group)]) * len(group) <= 0.05
                for size in range(1, 6)
                for group in itertools.combinations(range(5), size)
                if one in group
            )
            for one in range(5)
        ]
        assert holm(chances, 0.05).tolist() == closed
