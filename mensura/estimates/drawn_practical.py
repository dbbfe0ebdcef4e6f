"""A class's practical drawn by seed: stems, hands and instruments as they are, and what they read.

Everything is invented: ovals with small ripples, hands that differ a little and lay a tape a little
otherwise on each stem, readings to a millimetre. Faults are planted on request and told beside the
readings, so that whoever judges readings can be judged. The sizes of the spreads are assumptions of
ours (common practice, no source); the field sheet's power is computed with them.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from mensura.checks import FloatArray
from mensura.draws import uniforms
from mensura.estimates.field_design import FieldDesign
from mensura.estimates.readings import IntArray, Readings
from mensura.stems.ellipse import Ellipse

BoolArray = NDArray[np.bool_]


@dataclass(frozen=True)
class PracticalClass:
    """Who goes out, with what, and how much they spread.

    hand_count, stem_count, tape_count, caliper_count: how many; least_repeats, most_repeats: of a
    tape on one stem by one hand; visited_share: of the stems that a hand gets round to;
    sound_hands_percent: by which sound hands differ, standard deviation; lay_percent: by which a
    hand lies a tape otherwise on each stem; jaws_percent: the same of calipers; repeat_cm: spread
    of a girth read again; jaws_repeat_cm: of a diameter; turned_deg: by which calipers are turned
    off the direction that is written down; ripple_percent: of a stem's widths off the oval;
    step_cm: to which all is read; least_cm, most_cm: of the stems' mean diameters.
    """

    hand_count: int = 7
    stem_count: int = 20
    tape_count: int = 3
    caliper_count: int = 3
    most_repeats: int = 3
    least_repeats: int = 1
    visited_share: float = 0.8
    sound_hands_percent: float = 0.2
    lay_percent: float = 0.3
    jaws_percent: float = 0.4
    repeat_cm: float = 0.2
    jaws_repeat_cm: float = 0.15
    turned_deg: float = 4.0
    ripple_percent: float = 0.4
    step_cm: float = 0.1
    least_cm: float = 20.0
    most_cm: float = 64.0


@dataclass(frozen=True)
class Planted:
    """One fault put into a practical.

    who: code of the hand or instrument; kind: "girth" or "diameter"; share_percent: of the reading,
    that it adds; off_cm: constant that it adds, in cm of its kind; times: by how much more it
    spreads than the others.
    """

    who: str
    kind: str
    share_percent: float = 0.0
    off_cm: float = 0.0
    times: float = 1.0


@dataclass(frozen=True)
class DrawnPractical:
    """The readings of an invented class, and the truth about them.

    readings: as the class brings them home; planted: what was put into them; slips: rows in which a
    figure was keyed in wrong, and how; would_be_cm: what stood there, by row.
    """

    readings: Readings
    planted: tuple[Planted, ...] = ()
    slips: dict[int, str] = field(default_factory=dict)
    would_be_cm: dict[int, float] = field(default_factory=dict)


#: Slips of writing that can be drawn.
SLIPS = ("slipped-point", "diameter-for-girth", "swapped-figures")


def drawn_practical(
    seed: int,
    faults: tuple[Planted, ...] = (),
    slips: tuple[str, ...] = (),
    of: PracticalClass | None = None,
    design: FieldDesign | None = None,
) -> DrawnPractical:
    """An invented class's readings.

    seed: names the draw; faults: planted; slips: of SLIPS, one reading each; of: the class; design:
    walked to its end in its own order, in place of the class's numbers. Without one, hands
    are Q01 and on, tapes T1 and on, calipers K1 and on, stems 1 and on; each hand takes a tape and
    a pair of calipers to each stem it gets round to, not always the same, the calipers twice at
    right angles, from the mark or from where it stands.

    >>> practical = drawn_practical(7)
    >>> practical.readings.hands[:2], len(practical.readings) > 300
    (('Q01', 'Q02'), True)
    """
    of = of or PracticalClass()
    draws = _Draws(seed)
    if design is not None:
        of = replace(of, hand_count=len(design.hands), stem_count=len(design.stems))
    sections = _stems(of, draws)
    hands = tuple(f"Q{i + 1:02d}" for i in range(of.hand_count))
    stems = tuple(f"{i + 1:02d}" for i in range(of.stem_count))
    instruments = tuple(
        [f"T{i + 1}" for i in range(of.tape_count)] + [f"K{i + 1}" for i in range(of.caliper_count)]
    )
    if design is None:
        stem, hand, instrument, girth, direction, repeat = _visits(of, draws)
        told = direction
    else:
        hands, stems, instruments = (
            tuple(sorted(codes)) for codes in (design.hands, design.stems, design.instruments)
        )
        stem, hand, instrument, girth, told, repeat = _designed(design, hands, stems, instruments)
        direction = _found(of, draws, stem, hand, girth, told, repeat)
    size, width = _truth(of, draws, sections, stem, girth, direction)
    own = draws.normal("hands", 2 * of.hand_count) * of.sound_hands_percent / 100
    for one in faults:  # a planted hand has no other bias than the planted
        if one.who in hands and one.times == 1:
            own[2 * hands.index(one.who) + (one.kind == "girth")] = 0.0
    lay = draws.normal("lay", of.hand_count * of.stem_count * 2)
    where = (hand * of.stem_count + stem) * 2 + girth
    lays = lay[where] * np.where(girth, of.lay_percent, of.jaws_percent) / 100
    again = draws.normal("again", stem.size) * np.where(girth, of.repeat_cm, of.jaws_repeat_cm)
    share, constant, times = (np.zeros(stem.size) for _ in range(3))
    for one in faults:
        at = girth == (one.kind == "girth")
        at &= (
            hand == hands.index(one.who)
            if one.who in hands
            else instrument == instruments.index(one.who)
        )
        share[at] += one.share_percent / 100
        constant[at] += one.off_cm
        times[at] += one.times - 1
    spread = (lays * width + again) * (1 + times)
    read = width * (1 + own[2 * hand + girth]) * (1 + share) + constant + spread
    read = np.round(np.maximum(read, of.step_cm) / of.step_cm) * of.step_cm
    row = np.arange(2, stem.size + 2)
    read, slipped, were = _slip(read, girth, size, row, slips, draws)
    readings = Readings(
        stems=stems,
        hands=hands,
        instruments=tuple(sorted(instruments)),
        clerks=("",),
        stem=stem,
        hand=hand,
        instrument=_sorted_places(instruments)[instrument],
        clerk=np.zeros(stem.size, np.int64),
        girth=girth,
        direction_deg=told,
        repeat=repeat,
        reading_cm=np.round(read, 6),
        row=row,
    )
    return DrawnPractical(readings, faults, slipped, were)


def faulty_practical(seed: int, of: PracticalClass | None = None) -> DrawnPractical:
    """A practical with a hand, a tape, a pair of calipers and three figures wrong.

    seed: names the draw and chooses who and which way; of: the class. The hand is off by 2 % or by
    1.8 cm, with tapes or with calipers too, the tape has stretched by 2.5 % and so reads low, the
    calipers are 0.8 cm off zero.

    >>> [one.who[0] for one in faulty_practical(3).planted]
    ['Q', 'T', 'K']
    """
    of = of or PracticalClass()
    u = uniforms(6, "faulty practical", seed)
    sign = 1.0 if u[0] < 0.5 else -1.0
    hand = f"Q{int(u[1] * of.hand_count) + 1:02d}"
    tape = f"T{int(u[2] * of.tape_count) + 1}"
    calipers = f"K{int(u[3] * of.caliper_count) + 1}"
    off = Planted(
        hand, "girth", **({"share_percent": 2 * sign} if seed % 2 else {"off_cm": 1.8 * sign})
    )
    planted = [off]
    if u[4] < 0.5 and seed % 2:
        planted.append(replace(off, kind="diameter"))
    planted.append(Planted(tape, "girth", share_percent=100 / 1.025 - 100))
    planted.append(Planted(calipers, "diameter", off_cm=0.8 if u[5] < 0.5 else -0.8))
    return drawn_practical(seed, tuple(planted), SLIPS, of)


class _Draws:
    """Numbers by purpose, so that one more of a kind moves no other."""

    def __init__(self, seed: int) -> None:
        self.seed = seed

    def uniform(self, purpose: str, count: int) -> FloatArray:
        return uniforms(count, "practical", purpose, self.seed)

    def normal(self, purpose: str, count: int) -> FloatArray:
        from scipy.special import ndtri

        shares: FloatArray = ndtri(np.clip(self.uniform(purpose, count), 1e-12, 1 - 1e-12))
        return shares


def _sorted_places(codes: tuple[str, ...]) -> IntArray:
    order = sorted(codes)
    return np.array([order.index(code) for code in codes], np.int64)


def _stems(of: PracticalClass, draws: _Draws) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Longer and shorter diameter of each stem, and where the longer lies from the mark, deg."""
    spaced = (np.arange(of.stem_count) + draws.uniform("sizes", of.stem_count)) / of.stem_count
    mean = of.least_cm + (of.most_cm - of.least_cm) * spaced
    mean = mean[np.argsort(draws.uniform("order", of.stem_count))]
    oval = 0.02 + 0.16 * draws.uniform("ovals", of.stem_count)
    return mean * (1 + oval / 2), mean * (1 - oval / 2), 180 * draws.uniform("axes", of.stem_count)


def _visits(
    of: PracticalClass, draws: _Draws
) -> tuple[IntArray, IntArray, IntArray, BoolArray, FloatArray, IntArray]:
    """Columns of who reads which stem with what, in which direction, for the how manieth time."""
    places = of.hand_count * of.stem_count
    came = draws.uniform("came", places) < of.visited_share
    taped = draws.uniform("taped", places)
    tape = (draws.uniform("tape", places) ** 1.3 * of.tape_count).astype(int)
    jaws = (draws.uniform("jaws", places) ** 1.3 * of.caliper_count).astype(int)
    span = of.most_repeats - of.least_repeats + 1
    repeats = of.least_repeats + (draws.uniform("repeats", places) * span).astype(int)
    own = np.round(90 * draws.uniform("stand", places))
    at_mark = draws.uniform("mark", places) < 0.5
    rows: list[tuple[int, int, int, bool, float, int]] = []
    for place in np.flatnonzero(came):
        hand, stem = divmod(int(place), of.stem_count)
        # each hand has a favourite among the instruments, so that nothing is balanced
        if of.tape_count and (taped[place] < 0.9 or not of.caliper_count):
            one = (tape[place] + hand) % of.tape_count
            rows += [(stem, hand, one, True, np.nan, r + 1) for r in range(repeats[place])]
        if of.caliper_count and (taped[place] > 0.1 or not of.tape_count):
            one = of.tape_count + (jaws[place] + hand) % of.caliper_count
            first = 0.0 if at_mark[place] else float(own[place])
            rows += [(stem, hand, one, False, first + 90.0 * r, r + 1) for r in range(2)]
    stems, hands, tools, girths, directions, times = zip(*rows, strict=True)
    return (
        np.array(stems, np.int64),
        np.array(hands, np.int64),
        np.array(tools, np.int64),
        np.array(girths, np.bool_),
        np.array(directions),
        np.array(times, np.int64),
    )


def _designed(
    design: FieldDesign,
    hands: tuple[str, ...],
    stems: tuple[str, ...],
    instruments: tuple[str, ...],
) -> tuple[IntArray, IntArray, IntArray, BoolArray, FloatArray, IntArray]:
    """The same columns as _visits, as the design has them."""
    turns = [turn for hand in design.hands for turn in design.turns[hand]]
    place = {
        name: {code: at for at, code in enumerate(codes)}
        for name, codes in (("stem", stems), ("hand", hands), ("instrument", instruments))
    }
    stem, hand, instrument = (
        np.array([of_name[getattr(turn, name)] for turn in turns], np.int64)
        for name, of_name in place.items()
    )
    return (
        stem,
        hand,
        instrument,
        np.array([turn.kind == "girth" for turn in turns], np.bool_),
        np.array([np.nan if t.direction_deg is None else t.direction_deg for t in turns], float),
        np.array([turn.repeat for turn in turns], np.int64),
    )


def _found(
    of: PracticalClass,
    draws: _Draws,
    stem: IntArray,
    hand: IntArray,
    girth: BoolArray,
    told: FloatArray,
    repeat: IntArray,
) -> FloatArray:
    """The directions in which calipers are laid: as told, or from where each hand stands."""
    stands = 180 * draws.uniform("stands", of.hand_count * of.stem_count)
    own = stands[hand * of.stem_count + stem] + 90.0 * ((repeat - 1) % 2)
    return np.where(np.isnan(told) & ~girth, own, told)


def _truth(
    of: PracticalClass,
    draws: _Draws,
    sections: tuple[FloatArray, FloatArray, FloatArray],
    stem: IntArray,
    girth: BoolArray,
    direction: FloatArray,
) -> tuple[FloatArray, FloatArray]:
    """Mean diameter, and what a sound instrument reads, cm, of each reading."""
    longer, shorter, axis = sections
    mean = Ellipse(longer, shorter).taut_girth_cm / np.pi
    turned = np.nan_to_num(direction) + of.turned_deg * draws.normal("turned", stem.size)
    off = np.radians(turned - axis[stem])
    oval = np.hypot(longer[stem] * np.cos(off), shorter[stem] * np.sin(off))
    waves = draws.normal("ripples", 2 * of.stem_count) * of.ripple_percent / 100
    along = np.radians(4 * turned)
    ripple = waves[2 * stem] * np.cos(along) + waves[2 * stem + 1] * np.sin(along)
    size = mean[stem]
    return size, np.where(girth, np.pi * size, oval + ripple * size)


def _slip(
    read: FloatArray,
    girth: BoolArray,
    size: FloatArray,
    row: IntArray,
    slips: tuple[str, ...],
    draws: _Draws,
) -> tuple[FloatArray, dict[int, str], dict[int, float]]:
    told: dict[int, str] = {}
    were: dict[int, float] = {}
    read = read.copy()
    order = np.argsort(draws.uniform("slips", read.size))
    for slip in slips:
        for at in order:
            if int(row[at]) in told or (slip == "diameter-for-girth" and not girth[at]):
                continue
            figures = f"{read[at]:.1f}"
            if slip == "slipped-point":
                wrong = read[at] * (10.0 if read[at] < 100 else 0.1)
            elif slip == "diameter-for-girth":
                wrong = read[at] / np.pi
            else:
                wrong = float(figures[1] + figures[0] + figures[2:])
            # what a slip leaves as it was is none
            if figures[1] == "0" or abs(wrong / read[at] - 1) < 0.1:
                continue
            told[int(row[at])], were[int(row[at])] = slip, float(round(read[at], 6))
            read[at] = np.round(wrong, 1)
            break
    return read, told, were
