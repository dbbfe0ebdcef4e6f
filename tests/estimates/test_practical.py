"""A practical studied: what is planted comes out, in every part, and nothing breaks on little."""

from __future__ import annotations

import json
from dataclasses import replace

import numpy as np
import pytest

from mensura.estimates.drawn_practical import (
    Planted,
    PracticalClass,
    drawn_practical,
    faulty_practical,
)
from mensura.estimates.practical import Practical, by_cards, study_practical
from mensura.estimates.practical_agreement import ONE_WAY, tapes_and_calipers
from mensura.estimates.practical_precision import (
    FITTED,
    NO_REPEAT_ALIKE,
    ROUND,
    instrument_precisions,
)
from mensura.estimates.practical_rows import units_typed
from mensura.estimates.readings import Readings
from mensura.instruments.tape_card import card


@pytest.fixture(scope="module")
def study() -> Practical:
    return study_practical(faulty_practical(3).readings)


def only(readings: Readings, keep: np.ndarray) -> Readings:
    """Some of the readings, the codes as they were."""
    columns = ("stem", "hand", "instrument", "clerk", "girth", "direction_deg", "repeat")
    more = ("reading_cm", "row")
    return replace(readings, **{one: getattr(readings, one)[keep] for one in (*columns, *more)})


def test_faults_and_slips_that_were_planted_come_out(study: Practical) -> None:
    drawn = faulty_practical(3)
    assert {one.name for one in study.judged.accused} == {one.who for one in drawn.planted}
    assert {one.row: one.slip for one in study.flags} == drawn.slips


def test_json_is_plain_and_has_what_it_promises(study: Practical) -> None:
    told = json.loads(json.dumps(study.to_dict(), allow_nan=False))
    keys = {"name", "kind", "verdict", "form", "bias", "interval", "unit", "why", "causes"}
    assert all(keys <= set(one) for one in told["hands"] + told["instruments"])
    assert len(told["hands"]) == 14
    assert [one["name"] for one in told["instruments"]] == ["K1", "K2", "K3", "T1", "T2", "T3"]
    by_row = {one["row"]: one for one in told["flags"]}
    drawn = faulty_practical(3)
    for row, slip in drawn.slips.items():
        assert by_row[row]["slip"] == slip
        assert by_row[row]["would_be"] == pytest.approx(drawn.would_be_cm[row], rel=0.01)


def test_a_slip_is_told_in_the_unit_in_which_it_was_typed() -> None:
    readings = faulty_practical(3).readings
    typed = [f"{10 * one:.0f}" for one in readings.reading_cm]
    flags = study_practical(readings, typed).to_dict()["flags"]
    assert {one["unit"] for one in flags} == {"mm"}
    assert all(one["would_be"] == pytest.approx(10 * one["would_be_cm"]) for one in flags)


@pytest.mark.parametrize(
    ("figure", "cm", "unit"),
    [("3.1", 310.0, "m"), ("39,1", 99.314, "inches"), ("3.25", 99.06, "feet"), ("99", 99.0, "cm")],
)
def test_units_by_hand(figure: str, cm: float, unit: str) -> None:
    assert units_typed([figure], np.array([cm])) == (unit,)


def test_precision_gives_back_the_spread_of_repeats() -> None:
    """Readings drawn with a spread of 0.2 cm on a tape, and 0.15 cm in a marked direction."""
    of = PracticalClass(stem_count=60, turned_deg=0.0)
    readings = drawn_practical(11, of=of).readings
    for one in instrument_precisions(readings):
        assert one.precision is not None
        if one.kind == "girth":
            assert one.precision.stands_for == "repeats"
            assert one.precision.repeatability_cm == pytest.approx(0.2, rel=0.25)


def test_a_slip_is_in_no_standard_deviation(study: Practical) -> None:
    """With the slips put right the figures are nearly the same; with them in, they are not."""
    drawn = faulty_practical(3)
    right = drawn.readings.reading_cm.copy()
    for row, cm in drawn.would_be_cm.items():
        right[drawn.readings.row == row] = cm
    mended = study_practical(replace(drawn.readings, reading_cm=right))
    assert not mended.flags
    for one, other in zip(study.precision, mended.precision, strict=True):
        assert one.precision is not None
        assert other.precision is not None
        first, second = one.precision.repeatability_cm, other.precision.repeatability_cm
        assert first == pytest.approx(second, rel=0.35)
    assert study.agreement is not None
    assert mended.agreement is not None
    assert study.agreement.pair.spread_cm == pytest.approx(mended.agreement.pair.spread_cm, rel=0.1)
    raw, _ = tapes_and_calipers(drawn.readings)
    assert raw is not None
    assert raw.single.spread_cm > 3 * study.agreement.single.spread_cm


def _at_0_and_90(readings: Readings) -> Readings:
    """Calipers' readings without a spread, on stems 4 cm longer than wide."""
    jaws = ~readings.girth
    turned = np.where(jaws, np.where(readings.repeat == 1, 0.0, 90.0), np.nan)
    stem = readings.stem.astype(float)
    cm = 30 + stem + np.where(turned == 90.0, 4.0, 0.0) + 0.1 * readings.hand
    return only(replace(readings, direction_deg=turned, reading_cm=cm), jaws)


def test_an_oval_is_not_taken_for_a_spread() -> None:
    """Pairs at 0 and 90 degrees: a stem is counted once, and told with its oval."""
    made = _at_0_and_90(drawn_practical(4).readings)
    for one in instrument_precisions(made):
        assert one.note == FITTED.format(one.instrument)
        here = made.instrument == made.instruments.index(one.instrument)
        assert one.stems == len(one.stem_codes) == np.unique(made.stem[here]).size
        assert one.precision is not None
        assert one.precision.stands_for == "repeats"
        assert one.precision.repeatability_cm < 0.01


def test_two_directions_once_each_are_no_repeats() -> None:
    """Each direction by another hand: it is a level of its own, and nobody read it twice."""
    made = _at_0_and_90(drawn_practical(4).readings)
    odd = only(made, made.hand % 2 == (made.direction_deg == 90.0))
    odd = replace(odd, instrument=np.zeros_like(odd.instrument))
    for one in instrument_precisions(odd):
        assert one.note == NO_REPEAT_ALIKE.format(one.instrument)
        assert one.stem_codes[0].endswith("°")
        here = odd.instrument == odd.instruments.index(one.instrument)
        assert one.stems == np.unique(odd.stem[here]).size < len(one.stem_codes)


def test_without_directions_it_is_said_that_ovals_are_in_the_spread() -> None:
    readings = drawn_practical(4).readings
    turned = np.arange(len(readings)) * 7.3 % 180.0
    few = only(replace(readings, direction_deg=turned), ~readings.girth & (readings.hand < 1))
    assert ROUND.format("K1") in instrument_precisions(few)[0].note


def test_what_out_of_roundness_explains_is_taken_out(study: Practical) -> None:
    """Once it is, singles agree as well as pairs do, which hold hardly any of it."""
    found = study.agreement
    assert found is not None
    assert found.left is not None
    assert found.pair is not None
    assert found.left.spread_cm < 0.6 * found.single.spread_cm
    assert found.left.spread_cm == pytest.approx(found.pair.spread_cm, rel=0.25)
    assert found.mean_cm.shape == found.difference_cm.shape == found.direction_deg.shape
    assert len(found.hand_codes) == found.ovality.known.size == found.mean_cm.size


def test_who_is_off_is_told_with_and_without(study: Practical) -> None:
    """Q03 and T2 read low, K3 high: without them tapes and calipers agree, and so do hands."""
    found = study.agreement
    assert found is not None
    assert set(found.off) == {"Q03 with tapes", "K3", "T2"}
    assert found.sound is not None
    assert found.sound.sound is None
    assert found.single.mean_cm < -0.5
    assert abs(found.sound.single.mean_cm) < 0.2
    assert found.pair is not None
    assert found.sound.pair is not None
    assert found.sound.pair.spread_cm < 0.6 * found.pair.spread_cm
    told = study.to_dict()["agreement"]
    assert told["without_off"]["single"]["mean_cm"] == found.sound.single.mean_cm
    for one in study.precision:
        assert one.off == (("Q03",) if one.kind == "girth" else ())
        assert (one.without_off is None) == (one.kind == "diameter")
    tape = next(one for one in study.precision if one.instrument == "T3")
    assert tape.precision is not None
    assert tape.without_off is not None
    assert tape.without_off.between_hands_cm < 0.5 * tape.precision.between_hands_cm


def test_without_whom_is_off_is_without_their_readings(study: Practical) -> None:
    """The same as if they had never been read; nobody off, nothing more is told."""
    readings = study.readings
    hand, girth = readings.hand == readings.hands.index("Q03"), readings.girth
    tools = [readings.instruments.index(one) for one in ("T2", "K3")]
    sound = ~(hand & girth) & ~np.isin(readings.instrument, tools)
    sound[[one.at for one in study.flags]] = False
    alone, _ = tapes_and_calipers(only(readings, sound))
    assert alone is not None
    assert alone.off == ()
    assert study.agreement is not None
    assert study.agreement.sound is not None
    assert study.agreement.sound.single == alone.single
    assert study.agreement.sound.pair is not None
    assert alone.pair is not None
    assert study.agreement.sound.pair.upper_interval_cm == alone.pair.upper_interval_cm


def test_one_direction_alone_is_said() -> None:
    readings = drawn_practical(5).readings
    one_way = np.where(readings.repeat == 1, 40.0, 222.0)
    turned = np.where(readings.girth, np.nan, one_way)
    assert ONE_WAY in tapes_and_calipers(replace(readings, direction_deg=turned))[1]
    assert ONE_WAY not in tapes_and_calipers(readings)[1]


def test_a_pair_is_two_at_right_angles_of_one_hand_stem_and_instrument() -> None:
    """Against a plain loop over groups."""
    from mensura.estimates.practical_agreement import _pairs

    readings = drawn_practical(9).readings
    jaws = np.flatnonzero(~readings.girth)
    first, cm = _pairs(readings, jaws)
    want = []
    keys = list(zip(readings.stem, readings.hand, readings.instrument, strict=True))
    for key in sorted({keys[one] for one in jaws}):
        mine = [one for one in jaws if keys[one] == key]
        turn = readings.direction_deg[mine]
        along = [one for one, t in zip(mine, turn, strict=True) if (t - turn[0] + 45) % 180 < 90]
        across = [one for one in mine if one not in along]
        for one, two in zip(along, across, strict=False):
            want.append((readings.reading_cm[one] + readings.reading_cm[two]) / 2)
    assert first.size == len(want) > 50
    assert sorted(cm) == pytest.approx(sorted(want))


def test_tapes_by_some_and_calipers_by_others_are_compared_by_stems() -> None:
    readings = drawn_practical(5).readings
    apart = only(readings, readings.girth == (readings.hand < 4))
    found, said = tapes_and_calipers(apart)
    assert found is not None
    assert said[0].startswith("Hardly any hand")
    assert tapes_and_calipers(only(readings, readings.girth)) == (None, ())
    one_stem = only(readings, readings.girth | (readings.stem == 3))
    assert tapes_and_calipers(one_stem)[1][0].startswith("Fewer than two stems")


def test_a_card_brings_a_stretched_tape_back() -> None:
    """Stretched by 2.5 %: told without its card, and no longer with it."""
    fault = Planted("T2", "girth", share_percent=-2.5)
    readings = drawn_practical(4, (fault,)).readings
    true = np.array([50.0, 100.0, 150.0, 200.0])
    own = card(true, true * 0.975, resolution_cm=0.0)
    plain, mended = study_practical(readings), study_practical(readings, cards={"t2": own})
    assert [one.name for one in plain.judged.accused] == ["T2"]
    assert mended.judged.accused == ()
    assert mended.cards_used == ("T2",)
    assert mended.cards_missing == ("K1", "K2", "K3", "T1", "T3")
    assert plain.corrected is plain.readings
    here = readings.instrument == readings.instruments.index("T2")
    assert mended.corrected.reading_cm[here] == pytest.approx(readings.reading_cm[here] / 0.975)
    assert np.array_equal(mended.readings.reading_cm, readings.reading_cm)


def test_a_card_of_the_other_kind_is_not_used_and_said() -> None:
    readings = drawn_practical(4).readings
    own = card([50, 100, 150], [49, 99, 149], resolution_cm=0.0, kind="calipers")
    same, used, missing, said = by_cards(readings, {"T1": own})
    assert np.array_equal(same.reading_cm, readings.reading_cm)
    assert used == ()
    assert "T1" in missing
    assert said == ("The card of T1 is for calipers: its girths stay as read.",)
    assert by_cards(readings, {"X9": own})[3][0].startswith("No card is of an instrument")


@pytest.mark.parametrize("keep", ["one hand", "one each", "one reading", "none", "one stem"])
def test_little_is_studied_all_the_same(keep: str) -> None:
    """What can be told is told, the rest in sentences, and JSON holds no nan."""
    readings = drawn_practical(6).readings
    some = {
        "one hand": readings.hand == 2,
        "one each": readings.repeat == 1,
        "one reading": readings.row == 5,
        "none": readings.row < 0,
        "one stem": readings.stem == 4,
    }[keep]
    found = study_practical(only(readings, some))
    json.dumps(found.to_dict(), allow_nan=False)
    assert found.judged.accused == ()
    if keep not in ("one each",):
        assert found.notes
    assert all(one.endswith(".") and "\n" not in one for one in found.notes)


def test_equal_readings_tell_nothing() -> None:
    readings = drawn_practical(6).readings
    cm = np.full(len(readings), 99.0)
    found = study_practical(only(replace(readings, reading_cm=cm), readings.girth))
    json.dumps(found.to_dict(), allow_nan=False)
    assert {one.verdict for one in found.judged.hands} == {"cannot-tell"}
    assert any("nothing differs" in one for one in found.notes)


def test_progress_rises_to_the_end() -> None:
    told: list[float] = []
    study_practical(drawn_practical(6).readings, progress=told.append)
    assert told == sorted(told)
    assert told[-1] == 1.0
