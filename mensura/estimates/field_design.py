"""Who measures what with what, in which order: a plan by which hands, instruments and stems part.

Each hand takes one tape and one pair of calipers to each stem. Which of several is dealt out by
sums of shuffled places, so that each hand has each instrument on as many stems, each stem meets
each as often (to one), and none of the three can pass for another. The order is shuffled against
habit; repeats come back on another round, against copying the last figure.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from mensura.checks import MeasureError, whole
from mensura.draws import uniforms

#: A class, not a country.
MOST_HANDS, MOST_STEMS, MOST_INSTRUMENTS, MOST_REPEATS = 60, 500, 24, 10
MOST_TURNS = 100_000


@dataclass(frozen=True)
class Turn:
    """One reading to be taken.

    stem, hand, instrument: codes; kind: "girth" or "diameter"; direction_deg: along the beam, from
    the mark on the stem, None for a girth or where the hand finds it; repeat: from 1.
    """

    stem: str
    hand: str
    instrument: str
    kind: str
    direction_deg: float | None
    repeat: int


@dataclass(frozen=True)
class FieldDesign:
    """A practical before it is walked.

    stems, hands, instruments: codes; kinds: of the instruments, "girth" or "diameter"; marked:
    whether a line on each stem fixes height and directions; turns: of each hand, in the order that
    it walks; repeats: rounds; done_after: how many readings' time after the start each hand is
    done, waiting for instruments that others hold counted in.
    """

    stems: tuple[str, ...]
    hands: tuple[str, ...]
    instruments: tuple[str, ...]
    kinds: tuple[str, ...]
    marked: bool
    turns: dict[str, tuple[Turn, ...]]
    repeats: int = 1
    done_after: dict[str, int] = field(default_factory=dict)

    @property
    def turn_count(self) -> int:
        """How many readings all hands take together."""
        return sum(map(len, self.turns.values()))


def kind_of_code(code: str) -> tuple[str, str]:
    """An instrument's code and kind: T for a tape, K for calipers, or as it says itself.

    code: like T1, K1 or B7=girth. Raises MeasureError for any other.

    >>> kind_of_code("K1"), kind_of_code(" B7 = girth")
    (('K1', 'diameter'), ('B7', 'girth'))
    """
    name, says, word = (one.strip() for one in code.partition("="))
    kind = word.lower() if says else {"T": "girth", "K": "diameter"}.get(name[:1].upper(), "")
    if not name or kind not in ("girth", "diameter"):
        wanted = "a code that begins with T (tape) or K (calipers), or says it, like B7=girth"
        raise MeasureError("instruments", code, "", wanted)
    return name, kind


def field_design(
    hands: tuple[str, ...],
    stem_count: int,
    instruments: tuple[str, ...],
    repeats: int,
    key: str,
    marked: bool = True,
) -> FieldDesign:
    """The plan of a practical; the same for ever for the same hands and key.

    hands: codes; stem_count: how many stems, numbered from 1; instruments: codes; repeats: of a
    girth, from 1, and of calipers' two directions at right angles; key: the class's; marked: as in
    FieldDesign. Where no line on the stem tells directions, the two readings of calipers are
    repeats 1 and 2, then 3 and 4. Raises MeasureError.

    >>> plan = field_design(("Q01", "Q02"), 4, ("T1", "T2", "K1"), 2, "alder")
    >>> plan.turn_count, sorted({turn.stem for turn in plan.turns["Q01"]})
    (48, ['01', '02', '03', '04'])
    """
    whole(stem_count, "stem_count", at_least=1, at_most=MOST_STEMS)
    whole(repeats, "repeats", at_least=1, at_most=MOST_REPEATS)
    _codes(hands, "hands", "a code of a hand or more, each once", MOST_HANDS)
    named = [kind_of_code(one) for one in instruments]
    tools = tuple(name for name, _ in named)
    _codes(tools, "instruments", "a code of an instrument or more, each once", MOST_INSTRUMENTS)
    kinds = tuple(kind for _, kind in named)
    each = sum({"girth": 1, "diameter": 2}[kind] for kind in set(kinds))
    turns = each * stem_count * len(hands) * repeats
    if turns > MOST_TURNS:
        wanted = f"at most {MOST_TURNS:,} readings in all, not {turns:,}"
        raise MeasureError("stem_count", stem_count, "", wanted)
    digits = max(2, len(str(stem_count)))
    stems = tuple(f"{one + 1:0{digits}d}" for one in range(stem_count))
    shuffle = _Shuffle(key, hands)
    sets = _dealt(hands, stems, tools, kinds, shuffle)
    order, done = _walked(hands, tools, kinds, sets, repeats, shuffle)
    walks: dict[str, tuple[Turn, ...]] = {}
    for hand in hands:
        walk: list[Turn] = []
        for again, tool in order[hand]:
            kind = kinds[tools.index(tool)]
            for stem in _leg(sets[hand, tool], hand, tool, again, shuffle):
                walk += _turns(stem, hand, tool, kind, again, marked)
        walks[hand] = tuple(walk)
    return FieldDesign(stems, hands, tools, kinds, marked, walks, repeats, done)


def design_notes(design: FieldDesign) -> tuple[str, ...]:
    """What this plan cannot tell, or what the walk does not allow, a sentence each.

    design: of a practical.

    >>> for note in design_notes(field_design(("Q01",), 3, ("T1",), 1, "alder")):
    ...     print(note)
    One hand only: hand and instrument cannot be told apart, and nobody is there to agree with.
    T1 is the only tape: only calipers can show that it is off, and there are none.
    Each hand reads a stem once with an instrument: there is no repeat to tell a hand's spread from.
    """
    said = []
    if len(design.hands) == 1:
        said.append(
            "One hand only: hand and instrument cannot be told apart, and nobody is there to agree "
            "with."
        )
    elif len(design.hands) == 2:
        said.append("Two hands only: where they differ, nothing tells which of them is off.")
    for kind, noun, others in (
        ("girth", "tape", "calipers"),
        ("diameter", "pair of calipers", "tapes"),
    ):
        there = "the stems' shape ties them" if len(set(design.kinds)) == 2 else "there are none"
        of_kind = [
            code for code, one in zip(design.instruments, design.kinds, strict=True) if one == kind
        ]
        if len(of_kind) == 1:
            said.append(
                f"{of_kind[0]} is the only {noun}: only {others} can show that it is off, and "
                f"{there}."
            )
    users = {(turn.instrument, turn.hand) for turns in design.turns.values() for turn in turns}
    for code in design.instruments:
        hands = sorted(hand for tool, hand in users if tool == code)
        if not hands:
            said.append(f"{code} is used by nobody: there are fewer stems than instruments.")
        elif len(hands) == 1 and len(design.hands) > 1:
            said.append(f"Only {hands[0]} has {code}: the two cannot be told apart.")
    if "diameter" in design.kinds and not design.marked:
        said.append(
            "Without a line nobody can say in which direction calipers lay: the stems' oval shape "
            "is in what they read, and only large faults of calipers are found."
        )
    if design.repeats == 1:
        said.append(
            "Each hand reads a stem once with an instrument: there is no repeat to tell a hand's "
            "spread from."
        )
    elif any(_right_after(turns) for turns in design.turns.values()):
        said.append(
            "There are so few stems that some repeats come right after each other: the last figure "
            "is easily copied."
        )
    return tuple(said)


def class_minutes(design: FieldDesign, seconds_a_reading: float) -> float:
    """How long the class is out, waiting for instruments that others hold counted in.

    design: of the practical; seconds_a_reading: an assumption, with walking and writing.

    >>> class_minutes(field_design(("Q01", "Q02"), 4, ("T1", "T2"), 1, "alder"), 30.0)
    2.0
    """
    return max(design.done_after.values(), default=0) * seconds_a_reading / 60


def stems_that_fit(
    hands: tuple[str, ...],
    instruments: tuple[str, ...],
    repeats: int,
    key: str,
    minutes: float,
    seconds_a_reading: float,
) -> int:
    """How many stems a class gets round to, 0 if not even one.

    hands, instruments, repeats, key: as in :func:`field_design`; minutes: there are;
    seconds_a_reading: an assumption. At most MOST_STEMS, or what makes MOST_TURNS readings.

    >>> stems_that_fit(("Q01", "Q02"), ("T1", "T2"), 1, "alder", 6.0, 30.0)
    12
    """
    kinds = {kind_of_code(one)[1] for one in instruments}
    each = len(hands) * repeats * (("girth" in kinds) + 2 * ("diameter" in kinds))
    low, high = 0, max(1, min(MOST_STEMS, MOST_TURNS // max(each, 1)))
    while low < high:
        middle = (low + high + 1) // 2
        plan = field_design(hands, middle, instruments, repeats, key)
        if class_minutes(plan, seconds_a_reading) <= minutes:
            low = middle
        else:
            high = middle - 1
    return low


# ---- dealing, walking ----------------------------------------------------------------------------


class _Shuffle:
    """Orders that hang on the class's key and hands alone."""

    def __init__(self, key: str, hands: Sequence[str]) -> None:
        self.key = ("field design", key, *hands)

    def places(self, count: int, *purpose: object) -> list[int]:
        """A shuffled order of so many places."""
        return [int(one) for one in np.argsort(uniforms(count, *self.key, *purpose))]


def _codes(codes: Sequence[str], name: str, wanted: str, most: int) -> None:
    if not codes or len({one.casefold() for one in codes}) < len(codes) or "" in codes:
        raise MeasureError(name, ",".join(codes), "", wanted)
    if len(codes) > most:
        raise MeasureError(name, len(codes), "", f"at most {most} of them")


def _dealt(
    hands: Sequence[str],
    stems: Sequence[str],
    tools: Sequence[str],
    kinds: Sequence[str],
    shuffle: _Shuffle,
) -> dict[tuple[str, str], list[str]]:
    """The stems of each hand with each instrument."""
    sets: dict[tuple[str, str], list[str]] = {(hand, tool): [] for hand in hands for tool in tools}
    for kind in ("girth", "diameter"):
        of_kind = [tool for tool, one in zip(tools, kinds, strict=True) if one == kind]
        if not of_kind:
            continue
        hand_place = shuffle.places(len(hands), "hands", kind)
        stem_place = shuffle.places(len(stems), "stems", kind)
        for hand, first in zip(hands, hand_place, strict=True):
            for stem, second in zip(stems, stem_place, strict=True):
                sets[hand, of_kind[(first + second) % len(of_kind)]].append(stem)
    return sets


def _walked(
    hands: Sequence[str],
    tools: Sequence[str],
    kinds: Sequence[str],
    sets: dict[tuple[str, str], list[str]],
    repeats: int,
    shuffle: _Shuffle,
) -> tuple[dict[str, list[tuple[int, str]]], dict[str, int]]:
    """With which instrument each hand goes after which, and when it is done, in readings.

    An instrument is in one hand at a time. Whatever is free goes to whoever can start first; of
    several, to the instrument that has most left to do, then to the hand that has. A round is done
    before the next begins.
    """
    takes = {
        (hand, tool): len(sets[hand, tool]) * (1 if kind == "girth" else 2)
        for hand in hands
        for tool, kind in zip(tools, kinds, strict=True)
    }
    turn_of = dict(zip(hands, shuffle.places(len(hands), "start"), strict=True))
    tool_of = dict(zip(tools, shuffle.places(len(tools), "first"), strict=True))
    again = dict.fromkeys(hands, 0)
    left = {hand: [tool for tool in tools if takes[hand, tool]] for hand in hands}
    hand_free, tool_free = dict.fromkeys(hands, 0), dict.fromkeys(tools, 0)
    hand_load = {h: repeats * sum(takes[h, t] for t in tools) for h in hands}
    tool_load = {t: repeats * sum(takes[h, t] for h in hands) for t in tools}
    order: dict[str, list[tuple[int, str]]] = {hand: [] for hand in hands}
    while True:
        open_ = [(hand, tool) for hand in hands for tool in left[hand]]
        if not open_:
            return order, hand_free
        hand, tool = min(
            open_,
            key=lambda one: (
                max(hand_free[one[0]], tool_free[one[1]]),
                -tool_load[one[1]],
                -hand_load[one[0]],
                (tool_of[one[1]] + turn_of[one[0]]) % len(tools),
                turn_of[one[0]],
            ),
        )
        took = takes[hand, tool]
        hand_free[hand] = tool_free[tool] = max(hand_free[hand], tool_free[tool]) + took
        hand_load[hand] -= took
        tool_load[tool] -= took
        order[hand].append((again[hand], tool))
        left[hand].remove(tool)
        if not left[hand] and again[hand] + 1 < repeats:
            again[hand] += 1
            left[hand] = [one for one in tools if takes[hand, one]]


def _leg(stems: Sequence[str], hand: str, tool: str, again: int, shuffle: _Shuffle) -> list[str]:
    """The stems of one walk with one instrument, shuffled anew in each round.

    Those of the first half stay in the first half, so that half a walk at least lies between a
    reading and its repeat.
    """
    drawn = [stems[place] for place in shuffle.places(len(stems), "leg", hand, tool)]
    half = len(drawn) // 2
    halves = drawn[:half], drawn[half:]
    return [
        part[place]
        for name, part in zip("ab", halves, strict=True)
        for place in shuffle.places(len(part), "round", hand, tool, again, name)
    ]


def _turns(stem: str, hand: str, tool: str, kind: str, again: int, marked: bool) -> list[Turn]:
    """The readings of one hand at one stem with one instrument on one round."""
    if kind == "girth":
        return [Turn(stem, hand, tool, kind, None, again + 1)]
    if marked:
        return [Turn(stem, hand, tool, kind, deg, again + 1) for deg in (0.0, 90.0)]
    return [Turn(stem, hand, tool, kind, None, 2 * again + one) for one in (1, 2)]


def _right_after(turns: Sequence[Turn]) -> bool:
    """Whether a reading and its repeat follow each other."""
    visits: list[tuple[str, str]] = []
    seen = -1
    for turn in turns:
        place = (turn.stem, turn.instrument)
        again = (turn.repeat - 1) // (2 if turn.kind == "diameter" and turn.direction_deg is None
                                      else 1)  # fmt: skip
        if visits and visits[-1] == place and again != seen:
            return True
        visits.append(place)
        seen = again
    return False
