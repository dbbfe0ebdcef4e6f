"""A small class drawn by seed, in which every hand reads every stem: for panels and for power.

The plainest plan of a practical: the tapes go round, so that each hand has each tape on as many
stems (to one), or each hand keeps one tape, so that hand and tape cannot be told apart. Stems,
spreads and faults are those of :mod:`mensura.estimates.drawn_practical`, all invented; numbers
belong to a stem, a hand and a repeat, so that one more of a kind changes no other.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from mensura.checks import FloatArray, kept, whole
from mensura.draws import uniforms
from mensura.estimates.drawn_practical import Planted, PracticalClass
from mensura.estimates.readings import Readings

#: A class, as far as numbers are drawn for it.
MOST_HANDS, MOST_STEMS, MOST_TAPES, MOST_REPEATS = 12, 60, 6, 4
#: Sizes one after another fill the class's range evenly, however many there are.
GOLDEN = (5**0.5 - 1) / 2


def balanced_class(
    seed: int,
    faults: tuple[Planted, ...] = (),
    *,
    hand_count: int = 6,
    stem_count: int = 12,
    tape_count: int = 3,
    repeats: int = 2,
    go_round: bool = True,
    of: PracticalClass | None = None,
) -> Readings:
    """Girths of all stems by all hands.

    seed: names the draw; faults: of hands or tapes, planted; hand_count, stem_count, tape_count,
    repeats: how many, all equal; go_round: whether the tapes do, else each hand keeps one; of: how
    much a class spreads. Hands are Q01 and on, tapes T1 and on, stems 01 and on; the readings are
    in the order stem, hand, repeat. Raises MeasureError for more than there are numbers for.

    >>> readings = balanced_class(7, (Planted("Q03", "girth", share_percent=3.0),))
    >>> len(readings), readings.hands[2], readings.instruments
    (144, 'Q03', ('T1', 'T2', 'T3'))
    """
    whole(hand_count, "hand_count", at_least=2, at_most=MOST_HANDS)
    whole(stem_count, "stem_count", at_least=2, at_most=MOST_STEMS)
    whole(tape_count, "tape_count", at_least=1, at_most=MOST_TAPES)
    whole(repeats, "repeats", at_least=1, at_most=MOST_REPEATS)
    of = of or PracticalClass()
    hands = tuple(f"Q{one + 1:02d}" for one in range(hand_count))
    tapes = tuple(f"T{one + 1}" for one in range(tape_count))
    first = float(uniforms(1, "balanced class", "sizes", seed)[0])
    spaced = (first + GOLDEN * np.arange(stem_count)) % 1
    girth = np.pi * (of.least_cm + (of.most_cm - of.least_cm) * spaced)[:, None, None]
    own = _normal(seed, "hands", MOST_HANDS)[:hand_count] * of.sound_hands_percent / 100
    lay = _normal(seed, "lay", stem_count * MOST_HANDS).reshape(stem_count, MOST_HANDS)
    again = _normal(seed, "again", stem_count * MOST_HANDS * MOST_REPEATS)
    again = again.reshape(stem_count, MOST_HANDS, MOST_REPEATS)[:, :hand_count, :repeats]
    lay = lay[:, :hand_count, None] * of.lay_percent / 100
    stem, hand, repeat = np.indices((stem_count, hand_count, repeats))
    tape = (hand + stem * go_round) % tape_count
    share, constant, times = (np.zeros(stem.shape) for _ in range(3))
    for one in faults:
        at = hand == hands.index(one.who) if one.who in hands else tape == tapes.index(one.who)
        if one.who in hands and one.times == 1:  # a planted hand has no other bias
            own[hands.index(one.who)] = 0.0
        share[at] += one.share_percent / 100
        constant[at] += one.off_cm
        times[at] += one.times - 1
    spread = (lay * girth + again * of.repeat_cm) * (1 + times)
    read = girth * (1 + own[hand]) * (1 + share) + constant + spread
    read = np.round(np.maximum(read, of.step_cm) / of.step_cm) * of.step_cm
    count = stem.size
    return Readings(
        stems=tuple(f"{one + 1:02d}" for one in range(stem_count)),
        hands=hands,
        instruments=tapes,
        clerks=("",),
        stem=stem.ravel(),
        hand=hand.ravel(),
        instrument=tape.ravel(),
        clerk=np.zeros(count, np.int64),
        girth=np.ones(count, np.bool_),
        direction_deg=np.full(count, np.nan),
        repeat=repeat.ravel() + 1,
        reading_cm=np.round(read.ravel(), 6),
        row=np.arange(2, count + 2),
    )


@lru_cache(maxsize=64)
def _normal(seed: int, purpose: str, count: int) -> FloatArray:
    from scipy.special import ndtri

    u = uniforms(count, "balanced class", purpose, seed)
    return kept(np.asarray(ndtri(np.clip(u, 1e-12, 1 - 1e-12)), dtype=np.float64))
