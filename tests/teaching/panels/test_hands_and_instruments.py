"""The panel on hands and tapes: its quick look by hand, and the model's own verdict."""

from __future__ import annotations

from statistics import median

import numpy as np
import pytest

from mensura.estimates import balanced_class, judge_hands
from mensura.teaching.controls import State
from mensura.teaching.panels.hands_and_instruments import (
    A_LENGTH,
    ALL_SOUND,
    CHOICES,
    CONTROLS,
    KEPT_TAPE,
    STRETCHED,
    SWITCHES,
    numbers,
    whole_state,
)

STATES: list[State] = [
    whole_state(**{one.name: end}) for one in (*CONTROLS, *CHOICES) for end in one.ends
]


@pytest.mark.parametrize("state", [*STATES, KEPT_TAPE, STRETCHED])
def test_the_quick_look_is_medians_by_hand(state: State) -> None:
    """Each reading less the median of the other hands' there, or of those with other tapes."""
    shown = numbers(**state)
    stems, hands = shown.girth_cm.shape
    for stem in range(0, stems, 3):
        row, tape = shown.girth_cm[stem], shown.tape_of[stem]
        for hand in range(hands):
            others = median(row[one] for one in range(hands) if one != hand)
            off = 100 * (row[hand] / others - 1)
            assert shown.hand_off_percent[stem, hand] == pytest.approx(off, abs=1e-9)
            others = median(row[one] for one in range(hands) if tape[one] != tape[hand])
            off = 100 * (row[hand] / others - 1)
            assert shown.tape_off_percent[stem, hand] == pytest.approx(off, abs=1e-9)
    assert shown.hand_look_percent == pytest.approx(np.median(shown.hand_off_percent, axis=0))
    for one in range(3):
        own = shown.tape_off_percent[shown.tape_of == one]
        assert shown.tape_look_percent[one] == pytest.approx(np.median(own))


@pytest.mark.parametrize("state", [ALL_SOUND, A_LENGTH, STRETCHED, KEPT_TAPE])
def test_the_verdict_is_the_model_s_own(state: State) -> None:
    """On the very readings that are shown, asked anew."""
    shown = numbers(**state)
    readings = balanced_class(
        int(state["seed"]), shown.planted, stem_count=12, repeats=2, go_round=shown.go_round
    )
    own = judge_hands(readings)
    assert shown.judged == own.hands + own.instruments
    means = readings.reading_cm.reshape(12, 6, 2).mean(axis=2)
    assert shown.girth_cm == pytest.approx(means)


def test_presets_show_what_they_are_called() -> None:
    """Nobody; a hand with a constant; a tape with a share; a tape that only two hands had."""

    def told(state: State) -> list[tuple[str, str, str]]:
        return [(one.name, one.verdict, one.form) for one in numbers(**state).accused]

    assert told(ALL_SOUND) == []
    assert told(A_LENGTH) == [("Q03", "reads-high", "constant")]
    assert told(STRETCHED) == [("T2", "reads-low", "share")]
    assert told(KEPT_TAPE) == []
    kept = {one.name: one.verdict for one in numbers(**KEPT_TAPE).judged}
    assert kept["T2"] == "cannot-tell"
    names = [one.name for one in (*CONTROLS, *CHOICES, *SWITCHES)]
    assert all(list(one) == names for one in (ALL_SOUND, A_LENGTH, STRETCHED, KEPT_TAPE))


def test_the_model_is_asked_only_by_the_tick() -> None:
    """Without it there is no verdict; with it nothing else of the picture changes."""
    quick, asked = numbers(**whole_state()), numbers(**whole_state(asked=True))
    assert quick.judged == ()
    assert len(asked.judged) == 9
    assert np.array_equal(quick.hand_off_percent, asked.hand_off_percent)
    assert (quick.share_percent, quick.constant_cm) == (asked.share_percent, asked.constant_cm)


def test_share_and_constant_leave_what_they_leave() -> None:
    """The planted form lies nearer: a share over the girth climbs, a constant is level."""
    share = numbers(**whole_state(hand_percent=4.0))
    assert share.share_percent == pytest.approx(4.0, abs=0.3)
    assert share.share_left_cm < share.constant_left_cm
    constant = numbers(**whole_state(hand_percent=0.0, hand_cm=4.0))
    assert constant.constant_cm == pytest.approx(4.0, abs=0.5)
    assert constant.constant_left_cm < constant.share_left_cm


def test_ten_classes_are_told_rightly() -> None:
    """Every third class number: with nobody off nobody is accused, and Q03's 2 % is found."""
    for seed in range(1, 31, 3):
        assert numbers(**whole_state(hand_percent=0.0, asked=True, seed=seed)).accused == ()
        found = numbers(**whole_state(asked=True, seed=seed)).accused
        assert [(one.name, one.verdict) for one in found] == [("Q03", "reads-high")]
