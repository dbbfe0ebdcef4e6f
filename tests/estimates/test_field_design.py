"""Plans of practicals: evenly dealt, shuffled, repeats kept apart, and what they cannot tell."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest

from mensura.checks import MeasureError
from mensura.estimates.field_design import (
    FieldDesign,
    class_minutes,
    design_notes,
    field_design,
    kind_of_code,
    stems_that_fit,
)

HANDS = tuple(f"Q{one:02d}" for one in range(1, 7))
TOOLS = ("T1", "T2", "T3", "K1", "K2")


def all_turns(plan: FieldDesign):
    return [turn for turns in plan.turns.values() for turn in turns]


@pytest.mark.parametrize("hands", [3, 6, 7])
@pytest.mark.parametrize("stems", [5, 18])
def test_instruments_are_dealt_out_evenly(hands: int, stems: int) -> None:
    """To one: a hand's stems with each tape, and the hands that bring each tape to a stem."""
    plan = field_design(tuple(f"Q{one}" for one in range(hands)), stems, TOOLS, 1, "alder")
    for kind in ("girth", "diameter"):
        tools = [t for t, k in zip(plan.instruments, plan.kinds, strict=True) if k == kind]
        visits = {(t.hand, t.stem, t.instrument) for t in all_turns(plan) if t.kind == kind}
        assert len(visits) == hands * stems  # one of a kind to each stem
        for who, count in (("hand", plan.hands), ("stem", plan.stems)):
            met = Counter((v[who == "stem"], v[2]) for v in visits)
            for code in count:
                shares = [met[code, tool] for tool in tools]
                assert max(shares) - min(shares) <= 1


def test_hands_instruments_and_stems_can_be_told_apart() -> None:
    """The columns of hands, tapes and stems have all the rank that sums to nought leave them."""
    plan = field_design(HANDS, 8, TOOLS, 1, "alder")
    girths = [turn for turn in all_turns(plan) if turn.kind == "girth"]
    tapes = ("T1", "T2", "T3")
    columns = [[turn.hand == one for turn in girths] for one in plan.hands]
    columns += [[turn.instrument == one for turn in girths] for one in tapes]
    columns += [[turn.stem == one for turn in girths] for one in plan.stems]
    rank = np.linalg.matrix_rank(np.array(columns, float))
    assert rank == len(HANDS) + len(tapes) + 8 - 2


def test_the_same_for_ever_and_another_for_another_key() -> None:
    plan = field_design(HANDS, 9, TOOLS, 2, "alder")
    assert plan == field_design(HANDS, 9, TOOLS, 2, "alder")
    assert plan.turns != field_design(HANDS, 9, TOOLS, 2, "birch").turns
    walk = [turn.stem for turn in plan.turns["Q01"]]
    assert walk != sorted(walk)
    assert walk != [turn.stem for turn in plan.turns["Q02"]]


@pytest.mark.parametrize("marked", [True, False])
def test_repeats_come_back_on_another_round(marked: bool) -> None:
    """Between a visit and its repeat lie at least as many visits as half a walk with that tool."""
    plan = field_design(HANDS, 18, ("T1", "T2", "K1"), 3, "alder", marked)
    for turns in plan.turns.values():
        visits = list(dict.fromkeys((t.stem, t.instrument, round_of(t)) for t in turns))
        at = {visit: place for place, visit in enumerate(visits)}
        assert [again for _, _, again in visits] == sorted(again for _, _, again in visits)
        for stem, tool, again in visits:
            if again:
                half = 4 if tool[0] == "T" else 9
                assert at[stem, tool, again] - at[stem, tool, again - 1] >= half
    assert not [note for note in design_notes(plan) if "copied" in note]


def round_of(turn) -> int:
    two = turn.kind == "diameter" and turn.direction_deg is None
    return (turn.repeat - 1) // (2 if two else 1)


def test_calipers_are_laid_at_right_angles_from_the_mark_or_as_the_hand_finds() -> None:
    for marked, directions, repeats in ((True, {0.0, 90.0}, {1, 2}), (False, {None}, {1, 2, 3, 4})):
        plan = field_design(HANDS, 3, ("K1", "K2"), 2, "alder", marked)
        turns = plan.turns["Q03"]
        assert {turn.direction_deg for turn in turns} == directions
        assert {turn.repeat for turn in turns} == repeats
        keys = [(t.stem, t.instrument, t.direction_deg, t.repeat) for t in turns]
        assert len(set(keys)) == len(keys) == 12
        firsts = turns[::2], turns[1::2]
        assert all(a.stem == b.stem for a, b in zip(*firsts, strict=True))


def test_an_instrument_is_in_one_hand_at_a_time() -> None:
    """One pair of calipers for six hands: the class is out for all that it has to do."""
    plan = field_design(HANDS, 18, ("T1", "T2", "K1"), 2, "alder")
    of_k1 = sum(turn.instrument == "K1" for turn in all_turns(plan))
    assert of_k1 == 6 * 18 * 2 * 2
    assert of_k1 <= max(plan.done_after.values()) <= 1.05 * of_k1
    own = field_design(HANDS[:1], 18, ("T1", "K1"), 2, "alder")
    assert own.done_after == {"Q01": 108}
    assert class_minutes(own, 40.0) == pytest.approx(72.0)


def test_stems_that_fit_are_the_most_that_do() -> None:
    words = (HANDS, TOOLS, 2, "alder")
    fit = stems_that_fit(*words, 120.0, 40.0)
    times = [class_minutes(field_design(HANDS, n, TOOLS, 2, "alder"), 40.0) for n in (fit, fit + 1)]
    assert times[0] <= 120 < times[1]
    assert stems_that_fit(*words, 1.0, 60.0) == 0


@pytest.mark.parametrize(
    ("hands", "stems", "tools", "repeats", "said"),
    [
        (("Q01",), 5, ("T1", "K1"), 2, "One hand only"),
        (("Q01", "Q02"), 5, ("T1", "K1"), 2, "Two hands only"),
        (HANDS, 1, ("T1", "T2", "K1"), 2, "so few stems"),
        (HANDS, 5, ("T1", "T2"), 1, "no repeat"),
        (HANDS, 5, ("T1", "K1"), 2, "T1 is the only tape: only calipers"),
        (("Q01", "Q02"), 1, ("T1", "T2", "T3"), 2, "is used by nobody"),
        (("Q01", "Q02"), 1, ("T1", "T2"), 2, "the two cannot be told apart"),
    ],
)
def test_what_a_plan_cannot_tell_is_said(hands, stems, tools, repeats, said: str) -> None:
    notes = design_notes(field_design(hands, stems, tools, repeats, "alder"))
    assert [note for note in notes if said in note]
    sound = design_notes(field_design(HANDS, 18, ("T1", "T2", "K1", "K2"), 2, "alder"))
    assert sound == ()


@pytest.mark.parametrize(
    ("hands", "stems", "tools", "repeats", "field"),
    [
        ((), 5, ("T1",), 1, "hands"),
        (("Q01", "q01"), 5, ("T1",), 1, "hands"),
        (("Q01",), 0, ("T1",), 1, "stem_count"),
        (("Q01",), 5, (), 1, "instruments"),
        (("Q01",), 5, ("T1", "T1"), 1, "instruments"),
        (("Q01",), 5, ("B7",), 1, "instruments"),
        (("Q01",), 5, ("T1",), 0, "repeats"),
        (tuple(f"Q{n}" for n in range(60)), 500, ("T1", "K1"), 2, "stem_count"),
    ],
)
def test_refused(hands, stems, tools, repeats, field: str) -> None:
    with pytest.raises(MeasureError) as told:
        field_design(hands, stems, tools, repeats, "alder")
    assert told.value.field == field


def test_a_code_says_its_kind() -> None:
    assert [kind_of_code(one)[1] for one in ("t9", "k2", "B7=Diameter")] == [
        "girth",
        "diameter",
        "diameter",
    ]


def test_calipers_without_a_line_are_warned_of() -> None:
    told = [
        [note for note in design_notes(field_design(HANDS, 18, tools, 2, "alder", marked))
         if "oval" in note]
        for tools, marked in ((("T1", "T2", "K1", "K2"), False), (("T1", "T2"), False),
                              (("T1", "T2", "K1", "K2"), True))
    ]  # fmt: skip
    assert [len(notes) for notes in told] == [1, 0, 0]
