"""The numbers of the panel on hands and instruments: a quick look, and the model's own verdict.

Two answers stand beside each other and are never mixed up. The quick look is closed and follows a
slider at once: each reading less the median of the other hands' on the same stem, and for a tape
less the median of those read there with other tapes. The verdict is that of the whole model
(:func:`mensura.estimates.hands.judge_hands`) on the very same readings; it is asked only while the
tick is set, and what it said is kept.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import Any

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.balanced_class import balanced_class
from mensura.estimates.drawn_practical import Planted
from mensura.estimates.hand_verdict import Judged
from mensura.estimates.hands import judge_hands
from mensura.estimates.readings import IntArray, Readings
from mensura.teaching.controls import Choice, Control, State, Switch, starting

#: Who reads; and in whom a fault can be planted.
HAND_COUNT, TAPE_COUNT = 6, 3
HAND, TAPE = "Q03", "T2"

#: How the tapes are dealt out: whether they go round.
DEALT = MappingProxyType({"tapes go round": True, "each hand keeps one": False})

CONTROLS = (
    Control("hand_percent", f"share {HAND} adds", "%", -4, 4, 0.25, 2, "Planted"),
    Control("hand_cm", f"length {HAND} adds", "cm", -4, 4, 0.25, 0, "Planted"),
    Control("hand_times", f"{HAND} spreads, times", "", 0.5, 6, 0.5, 1, "Planted"),
    Control("tape_percent", f"share {TAPE} adds", "%", -4, 4, 0.25, 0, "Planted"),
    Control("stem_count", "stems", "", 4, 24, 1, 12, "Class", whole=True),
    Control("repeats", "readings of a stem", "", 1, 4, 1, 2, "Class", whole=True),
    Control("seed", "class number", "", 1, 30, 1, 7, "Class", whole=True),
)
CHOICES = (
    Choice("dealt", "tapes", "Class", tuple(DEALT)),
    Choice("looked_at", "right chart", "Shown", (HAND, TAPE)),
)
SWITCHES = (Switch("asked", "ask the model", "Shown"),)


def whole_state(**changes: Any) -> State:
    """Where all controls stand, with some changes from the start.

    changes: names with their values.
    """
    return starting(CONTROLS, CHOICES, SWITCHES) | changes


#: Nobody is off; a hand that adds a length; a stretched tape; a hand and its own tape.
ALL_SOUND = whole_state(hand_percent=0.0, asked=True)
A_LENGTH = whole_state(hand_percent=0.0, hand_cm=2.5, asked=True)
STRETCHED = whole_state(hand_percent=0.0, tape_percent=-2.5, looked_at=TAPE, asked=True)
KEPT_TAPE = whole_state(
    hand_percent=0.0, tape_percent=-2.5, dealt="each hand keeps one", looked_at=TAPE, asked=True
)


@dataclass(frozen=True, eq=False)
class HandsShown:
    """All that the panel shows of one class.

    hands, tapes: codes; girth_cm: mean of the repeats, by stem and hand; tape_of: with which tape;
    hand_off_percent: of each of those, less the others' median, of that; tape_off_percent: the
    same less the median with other tapes; hand_look_percent, tape_look_percent: the quick look,
    medians of those, by hand and by tape; looked_at: whose readings are to the right; others_cm,
    off_cm: of those, the others' median, and the readings less it; share_percent, constant_cm: what
    goes through those, medians; share_left_cm, constant_left_cm: what either leaves, mean distance;
    judged: the model's verdicts, hands, then tapes; nothing while it is not asked; go_round:
    whether the tapes do; planted: in them.
    """

    hands: tuple[str, ...]
    tapes: tuple[str, ...]
    girth_cm: FloatArray
    tape_of: IntArray
    hand_off_percent: FloatArray
    tape_off_percent: FloatArray
    hand_look_percent: FloatArray
    tape_look_percent: FloatArray
    looked_at: str
    others_cm: FloatArray
    off_cm: FloatArray
    share_percent: float
    constant_cm: float
    share_left_cm: float
    constant_left_cm: float
    judged: tuple[Judged, ...]
    go_round: bool
    planted: tuple[Planted, ...]

    @property
    def accused(self) -> tuple[Judged, ...]:
        """Whom the model says to be off."""
        return tuple(one for one in self.judged if one.verdict not in ("sound", "cannot-tell"))


def numbers(
    hand_percent: float,
    hand_cm: float,
    hand_times: float,
    tape_percent: float,
    stem_count: int,
    repeats: int,
    seed: int,
    dealt: str,
    looked_at: str,
    asked: bool,
) -> HandsShown:
    """What the panel shows for a state of its controls.

    hand_percent, hand_cm: what Q03 adds, a share and a constant; hand_times: its spread beside the
    others'; tape_percent: what T2 adds; stem_count, repeats: of the class; seed: names it; dealt:
    one of DEALT; looked_at: Q03 or T2; asked: whether the model is.

    >>> shown = numbers(**whole_state(asked=True))
    >>> [(one.name, one.verdict, one.form) for one in shown.accused]
    [('Q03', 'reads-high', 'share')]
    """
    go_round = DEALT[dealt]
    planted = _planted(hand_percent, hand_cm, hand_times, tape_percent)
    readings = _read(planted, stem_count, repeats, seed, go_round)
    shape = (stem_count, HAND_COUNT, repeats)
    girth = readings.reading_cm.reshape(shape).mean(axis=2)
    tape_of = readings.instrument.reshape(shape)[:, :, 0]
    not_own = ~np.eye(HAND_COUNT, dtype=bool)
    others = _median_where(girth, not_own[None])
    hand_off = 100 * (girth / others - 1)
    with_others = _median_where(girth, tape_of[:, :, None] != tape_of[:, None, :])
    tape_off = 100 * (girth / with_others - 1)
    # whose readings lie to the right
    if looked_at == HAND:
        at = np.s_[:, int(HAND[1:]) - 1]
        base, off = others[at], (girth - others)[at]
    else:
        mine = tape_of == int(TAPE[1:]) - 1
        base, off = with_others[mine], (girth - with_others)[mine]
    share, constant = float(np.median(off / base)), float(np.median(off))
    return HandsShown(
        hands=readings.hands,
        tapes=readings.instruments,
        girth_cm=girth,
        tape_of=tape_of,
        hand_off_percent=hand_off,
        tape_off_percent=tape_off,
        hand_look_percent=np.median(hand_off, axis=0),
        tape_look_percent=np.array(
            [np.median(tape_off[tape_of == one]) for one in range(TAPE_COUNT)]
        ),
        looked_at=looked_at,
        others_cm=base,
        off_cm=off,
        share_percent=100 * share,
        constant_cm=constant,
        share_left_cm=float(np.abs(off - share * base).mean()),
        constant_left_cm=float(np.abs(off - constant).mean()),
        judged=_judged(planted, stem_count, repeats, seed, go_round) if asked else (),
        go_round=go_round,
        planted=planted,
    )


def _planted(
    hand_percent: float, hand_cm: float, hand_times: float, tape_percent: float
) -> tuple[Planted, ...]:
    hand = Planted(HAND, "girth", hand_percent, hand_cm, hand_times)
    tape = Planted(TAPE, "girth", tape_percent)
    return tuple(
        one for one in (hand, tape) if (one.share_percent, one.off_cm, one.times) != (0, 0, 1)
    )


def _read(
    planted: tuple[Planted, ...], stem_count: int, repeats: int, seed: int, go_round: bool
) -> Readings:
    return balanced_class(
        seed,
        planted,
        hand_count=HAND_COUNT,
        stem_count=stem_count,
        tape_count=TAPE_COUNT,
        repeats=repeats,
        go_round=go_round,
    )


@lru_cache(maxsize=1024)
def _judged(
    planted: tuple[Planted, ...], stem_count: int, repeats: int, seed: int, go_round: bool
) -> tuple[Judged, ...]:
    """The whole model on the readings that are shown: some hundredths of a second, so it is kept"""
    found = judge_hands(_read(planted, stem_count, repeats, seed, go_round))
    return found.hands + found.instruments


def _median_where(girth: FloatArray, counts: Any) -> FloatArray:
    """For each stem and hand, the median of the readings on that stem that count for it.

    counts: by stem, hand, and the other hand.
    """
    beside = np.where(counts, girth[:, None, :], np.inf)
    beside.sort(axis=2)
    count = np.broadcast_to(counts.sum(axis=2), girth.shape)[:, :, None]
    low, high = (np.take_along_axis(beside, place, 2) for place in ((count - 1) // 2, count // 2))
    return np.asarray(((low + high) / 2)[:, :, 0])
