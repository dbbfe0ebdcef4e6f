"""What a practical takes off the readings of one hand with one instrument."""

from __future__ import annotations

from dataclasses import replace
from math import hypot, pi, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import ChoiceError, MeasureError
from mensura.estimates.class_correction import (
    ClassCorrection,
    ClassFound,
    Verdict,
    all_errors_after,
    class_found,
    corrected_cm,
    corrections_of,
    errors_after,
)
from mensura.estimates.input_errors import DEFAULTS, InputError
from mensura.estimates.practical import Practical, study_practical
from mensura.estimates.quillmere_practical import quillmere_practical


@pytest.fixture(scope="module")
def study() -> Practical:
    return study_practical(quillmere_practical().readings)


def test_who_was_found_off_is_undone_and_who_was_sound_is_not(study: Practical) -> None:
    """T2 reads 2.5 % low: 117 cm by a sound hand were 120; its length undoes the planted share."""
    hand, tape = corrections_of(study, "Q03", "T2")
    assert hand.off == 0
    assert float(corrected_cm(117.0, hand, tape)) == pytest.approx(120.0, abs=0.35)
    steep, sound = corrections_of(study, "Q04", "T1")
    assert sound.off == 0
    assert float(corrected_cm(102.1, steep, sound)) == pytest.approx(100.0, abs=0.4)


def test_a_constant_is_taken_off_as_a_length(study: Practical) -> None:
    """K1 stands 0.78 cm too high, on a stem of 20 cm as on one of 60."""
    _, jaws = corrections_of(study, "Q01", "K1", "diameter")
    assert jaws.unit == "cm"
    off = np.array([20.0, 60.0]) - corrected_cm([20.0, 60.0], jaws)
    assert off == pytest.approx([0.78, 0.78], abs=0.1)


def test_both_at_once_are_undone_one_after_the_other() -> None:
    """By hand: (105.5 − 0.5)/(1.05 · 0.98)."""
    one = ClassCorrection("K1", "instrument", "girth", 0.5, "cm", 0.1, "")
    two = ClassCorrection("Q01", "hand", "girth", 5.0, "%", 0.1, "")
    three = ClassCorrection("Q01", "hand", "girth", -2.0, "%", 0.1, "")
    assert corrected_cm(105.5, one, two, three) == pytest.approx(105.0 / (1.05 * 0.98))


@given(st.floats(-4, 4), st.floats(-1, 1), st.floats(30, 300))
def test_a_reading_made_with_known_faults_goes_back(share: float, length: float, girth: float):
    """What was read with a share and a length too much is the girth again."""
    reading = girth * (1 + share / 100) + length
    by_share = ClassCorrection("T1", "instrument", "girth", share, "%", 0.1, "")
    by_length = ClassCorrection("Q01", "hand", "girth", length, "cm", 0.1, "")
    assert corrected_cm(reading, by_length, by_share) == pytest.approx(girth)


def test_what_stays_unsure_is_carried_on(study: Practical) -> None:
    """A sound hand's mean and its doubt, an accused tape's, the others', repeats for each tree."""
    corrections = corrections_of(study, "Q03", "T2")
    all_hand, all_tape, others, each = errors_after(study, corrections)
    mean = next(one for one in study.judged.hands if (one.name, one.kind) == ("Q03", "girth"))
    assert mean.bias is not None
    assert mean.interval is not None
    half = (mean.interval[1] - mean.interval[0]) / 2 / 1.96
    assert all_hand.u == pytest.approx(hypot(mean.bias, half), rel=1e-3)
    assert (all_tape.name, all_tape.scope, all_tape.unit) == ("instrument", "all", "%")
    assert 0.05 < all_tape.u < 0.2
    # T1 and T3 have no card either: √(0.3² + 0.3²)/2
    assert (others.name, others.scope, others.unit) == ("instrument", "all", "%")
    assert others.u == pytest.approx(hypot(0.3, 0.3) / 2)
    assert others.origin == "the 2 other tapes, no card"
    assert (each.name, each.scope, each.unit) == ("hand", "tree", "cm")
    assert 0.1 < each.u < 0.6


def test_what_the_others_share_stays_whatever_was_found(study: Practical) -> None:
    """u/√n of one's own error; a sound one is judged against one fewer; its unit is kept."""
    wide = [InputError("instrument", 0.4, "cm", "all"), InputError("instrument", 9, "%", "tree")]

    def shared(tool: str, kind: str, errors: list[InputError]) -> list[InputError]:
        left = errors_after(study, corrections_of(study, "Q03", tool, kind), errors)
        return [one for one in left if not one.origin.startswith("practical")]

    (one,) = shared("T2", "girth", wide)
    assert (one.u, one.unit, one.scope) == (pytest.approx(0.4 / sqrt(2)), "cm", "all")
    (one,) = shared("T1", "girth", wide)
    assert (one.u, one.origin) == (pytest.approx(0.4), "the other tape, no card")
    (one,) = shared("K1", "diameter", wide)
    assert (one.u, one.origin) == (pytest.approx(0.4), "the other calipers, no card")
    (one,) = shared("K2", "diameter", wide)
    assert (one.u, one.origin) == (pytest.approx(0.4), "no other sound calipers, no card")
    assert shared("T2", "girth", []) == []
    # all that is told of others is kept, and what was found takes its place once
    every = all_errors_after(study, corrections_of(study, "Q03", "T2"), [*wide, *DEFAULTS[-1:]])
    assert [one.scope for one in every if one.name == "instrument"] == ["all", "all", "tree"]
    assert DEFAULTS[-1] in every


def test_cards_of_the_others_take_its_place(study: Practical) -> None:
    """By hand: one card of 0.1 % and one tape at 0.3 % make √(0.1² + 0.3²)/2 in two rows."""
    found = replace(class_found(study), cards_used=("T1", "T2"))
    off = corrections_of(found, "Q03", "T2")
    cards = {name: InputError("instrument", 0.1, "%", "all") for name in ("T1", "T2", "T3")}
    told = {one.origin: one.u for one in errors_after(found, off, cards=cards)}
    assert told["card of T1"] == pytest.approx(0.1 / 2)
    assert told["the other tape, no card"] == pytest.approx(0.3 / 2)
    both = replace(found, cards_used=("T1", "T3"))
    told = {one.origin: one.u for one in errors_after(both, off, cards=cards)}
    assert told["cards of T1 and T3"] == pytest.approx(hypot(0.1, 0.1) / 2)
    assert not any("no card" in one for one in told)
    # corrected by cards that nobody has at hand: as without
    told = {one.origin: one.u for one in errors_after(both, off)}
    assert told["the 2 other tapes, no card at hand"] == pytest.approx(0.3 / sqrt(2))


def test_a_hand_that_spreads_is_new_for_each_tree_by_its_own_spread(study: Practical) -> None:
    """Its repeats are not the class's."""
    found = class_found(study)
    hands = tuple(
        replace(one, verdict="spreads", spread_percent=1.7) if one.name == "Q03" else one
        for one in found.hands
    )
    wild = replace(found, hands=hands)
    each = [
        one for one in errors_after(wild, corrections_of(wild, "Q03", "T2")) if one.scope == "tree"
    ]
    assert [(one.u, one.unit) for one in each] == [(1.7, "%")]


def test_others_that_share_an_error_are_no_truth() -> None:
    """Tapes drawn with errors of 0.3 %: what comes off T3 misses by the mean of the others'."""
    rng = np.random.default_rng(12)
    own = rng.normal(0, 0.3, (4000, 3))
    found = own[:, 2] - own[:, :2].mean(axis=1)
    left = own[:, 2] - found
    verdicts = tuple(Verdict(f"T{at}", "girth", "sound", 0.0, (0.0, 0.0), "%") for at in (1, 2, 3))
    told = ClassFound((Verdict("Q01", "girth", "sound", 0.0, (0.0, 0.0), "%"),), verdicts)
    *_, shared = errors_after(told, corrections_of(told, "Q01", "T3"))
    assert shared.u == pytest.approx(left.std(), rel=0.04)


def test_the_truth_lies_where_it_is_said_to_lie() -> None:
    """Over drawn practicals, girths by a faulty tape come back within 1.96 u in 19 of 20."""
    from mensura.estimates.drawn_practical import faulty_practical

    off = []
    for seed in range(1, 9):
        drawn = faulty_practical(seed)
        study = study_practical(drawn.readings)
        planted = {one.who: one.share_percent for one in drawn.planted if one.kind == "girth"}
        for one in study.judged.instruments:
            if one.kind == "girth" and planted.get(one.name) and one.unit == "%":
                _, tape = corrections_of(study, study.judged.hands[0].name, one.name)
                off.append(abs(tape.off - planted[one.name]) / tape.u)
    assert len(off) >= 6
    assert np.mean(np.array(off) < 1.96) >= 0.8


def test_a_code_that_was_not_there_is_named(study: Practical) -> None:
    """What there is stands in the refusal; a caliper reads no girths."""
    with pytest.raises(ChoiceError, match="T1"):
        corrections_of(study, "Q03", "T9")
    with pytest.raises(MeasureError, match="'K1'; expected one that reads girths, as here: T1, T2"):
        corrections_of(study, "Q03", "K1")
    assert corrections_of(study, "q03", "t2") == corrections_of(study, "Q03", "T2")
    with pytest.raises(ChoiceError, match="girth"):
        corrections_of(study, "Q03", "T1", "height")


def test_area_of_what_a_stretched_tape_read() -> None:
    """By hand: a tape 2.5 % low makes an area 4.94 % low; corrected, it is the area again."""
    tape = ClassCorrection("T2", "instrument", "girth", -2.5, "%", 0.1, "")
    read = 0.975 * 120.0
    assert (read**2 / (4 * pi)) / (120.0**2 / (4 * pi)) - 1 == pytest.approx(-0.0494, abs=1e-4)
    assert corrected_cm(read, tape) == pytest.approx(120.0)
