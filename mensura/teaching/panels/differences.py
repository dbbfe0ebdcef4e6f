"""The numbers of the panel on tape against calipers: differences, their limits, the oval's part.

An invented class reads ovals, exact ellipses, with a tape and with calipers, once or as a pair at
right angles. The limits of agreement are those of :mod:`mensura.estimates.agreement`, the stem as
the unit. What out-of-roundness explains comes from the other hands' readings of the stem, as in a
class, not from the ellipse that only we know (:mod:`mensura.estimates.ovality_part`).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from mensura.checks import FloatArray, kept
from mensura.draws import uniforms
from mensura.estimates.agreement import (
    Agreement,
    DifferenceTrend,
    difference_trend,
    limits_from_differences,
)
from mensura.estimates.balanced_class import GOLDEN
from mensura.estimates.ovality_part import ovality_parts
from mensura.stems.ellipse import Ellipse
from mensura.teaching.controls import Choice, Control, State, starting

#: As far as numbers are drawn.
MOST_STEMS, MOST_HANDS = 40, 8
#: Stems' mean diameters, and how far single stems are out of round beside the mean of all.
LEAST_CM, MOST_CM = 20.0, 64.0
LEAST_TIMES, MOST_TIMES = 0.4, 1.6
#: By which sound hands differ, each with the tape and with the calipers, of a reading.
SOUND_PERCENT = 0.2

SINGLE, PAIR = "single readings", "means of pairs"
#: Where hands hold calipers, and how that is told.
DIRECTIONS = ("as each one stands", "all from the path", "the longest way")
LEFT_IN, TAKEN_OUT = "left in", "taken out"

CONTROLS = (
    Control("out_of_round_percent", "out-of-round", "%", 0, 12, 0.5, 8, "Stems"),
    Control("stem_count", "stems", "", 4, MOST_STEMS, 1, 20, "Stems", whole=True),
    Control("hand_count", "hands", "", 2, MOST_HANDS, 1, 5, "Readings", whole=True),
    Control("girth_cm", "a girth spreads by", "cm", 0.1, 3, 0.1, 0.4, "Readings"),
    Control("width_cm", "widths spread by", "cm", 0.05, 1.5, 0.05, 0.2, "Readings"),
    Control("tape_percent", "the tape is off", "%", -3, 3, 0.25, 0, "Instruments"),
    Control("zero_cm", "calipers off zero", "cm", -1, 1, 0.05, 0, "Instruments"),
    Control("seed", "class number", "", 1, 30, 1, 5, "Instruments", whole=True),
)
CHOICES = (
    Choice("jaws", "calipers", "Readings", (SINGLE, PAIR)),
    Choice("directions", "held", "Readings", DIRECTIONS),
    Choice("oval", "the oval's part", "Stems", (LEFT_IN, TAKEN_OUT)),
)


def whole_state(**changes: Any) -> State:
    """Where all controls stand, with some changes from the start.

    changes: names with their values.
    """
    return starting(CONTROLS, CHOICES) | changes


OVAL_OUT = whole_state(oval=TAKEN_OUT)
OF_PAIRS = whole_state(jaws=PAIR)
LONGEST = whole_state(directions="the longest way")
OFF_ZERO = whole_state(zero_cm=0.8, oval=TAKEN_OUT)
STRETCHED = whole_state(tape_percent=-2.5, jaws=PAIR)


@dataclass(frozen=True, eq=False)
class DifferencesShown:
    """All that the panel shows of one class.

    stem, hand: of each difference; mean_cm: of both ways; difference_cm: girth over π less the
    calipers, as read, with the oval's part taken out where that is asked and known; off_axis_deg:
    from the longest way to where the calipers, or the first of a pair, were held; known: of each,
    whether the other hands' readings give the oval's part; agreement: limits of those shown;
    left_in: of all, as read; taken_out: whether the part is; oval_cm: how far the curve of a mean
    stem swings, half the longest less the shortest, an approximation; pair: whether calipers' pairs
    are shown; directions: one of DIRECTIONS; asked_out: whether the part is asked to be taken out;
    trend: how the differences go with the stems' size.
    """

    stem: Any
    hand: Any
    mean_cm: FloatArray
    difference_cm: FloatArray
    off_axis_deg: FloatArray
    known: Any
    agreement: Agreement
    left_in: Agreement
    taken_out: bool
    oval_cm: float
    pair: bool
    directions: str
    asked_out: bool
    trend: DifferenceTrend | None


def numbers(
    out_of_round_percent: float,
    stem_count: int,
    hand_count: int,
    girth_cm: float,
    width_cm: float,
    tape_percent: float,
    zero_cm: float,
    seed: int,
    jaws: str,
    directions: str,
    oval: str,
) -> DifferencesShown:
    """What the panel shows for a state of its controls.

    out_of_round_percent: longest less shortest of the mean, on average; stem_count, hand_count: of
    the class; girth_cm, width_cm: spread of a reading; tape_percent: that all girths are off;
    zero_cm: that all widths are; seed: names the class; jaws: SINGLE or PAIR; directions: one of
    DIRECTIONS; oval: LEFT_IN or TAKEN_OUT.

    >>> shown = numbers(**OVAL_OUT)
    >>> shown.agreement.spread_cm < shown.left_in.spread_cm / 2
    True
    """
    size, times, stands, own, spread = _class(seed)
    size, times = size[:stem_count, None], times[:stem_count, None]
    half = size * out_of_round_percent / 200 * times
    longest, across = size + half, size - half
    away = {
        DIRECTIONS[0]: stands[:stem_count, :hand_count],
        DIRECTIONS[1]: np.repeat(stands[:stem_count, :1], hand_count, axis=1),
        DIRECTIONS[2]: np.zeros((stem_count, hand_count)),
    }[directions]
    sized = own[:, None, :hand_count] * SOUND_PERCENT / 100 + 1
    noise = spread[:, :stem_count, :hand_count]
    mean = np.asarray(Ellipse(longest, across).taut_girth_cm) / np.pi
    tape = mean * sized[0] * (1 + tape_percent / 100) + noise[0] * girth_cm / np.pi
    widths = [
        np.hypot(longest * np.cos(turn), across * np.sin(turn)) * sized[1] + zero_cm
        for turn in (np.radians(away), np.radians(away + 90))
    ]
    widths = [one + by * width_cm for one, by in zip(widths, noise[1:], strict=True)]
    pair = jaws == PAIR
    read = (widths[0] + widths[1]) / 2 if pair else widths[0]
    stem, hand = (one.ravel() for one in np.indices(read.shape))
    tape, read, turned = tape.ravel(), read.ravel(), away.ravel()
    apart = tape - read
    left_in = limits_from_differences(stem, apart, hand)
    known = np.zeros(apart.size, bool)
    agreement, out = left_in, False
    if not pair:
        part = ovality_parts(stem, hand, turned, read).figure_cm
        known = np.isfinite(part)
        if oval == TAKEN_OUT and np.unique(stem[known]).size > 1:
            out = True
            stem, hand, tape, read, turned = (
                one[known] for one in (stem, hand, tape, read, turned)
            )
            apart = tape - read - part[known]
            agreement = limits_from_differences(stem, apart, hand)
    size_cm = (tape + read) / 2
    return DifferencesShown(
        stem=stem,
        hand=hand,
        mean_cm=size_cm,
        difference_cm=apart,
        off_axis_deg=turned,
        known=known,
        agreement=agreement,
        left_in=left_in,
        taken_out=out,
        oval_cm=0.0 if pair or out else float(half.mean()),
        pair=pair,
        directions=directions,
        asked_out=oval == TAKEN_OUT,
        trend=difference_trend(stem, apart, size_cm),
    )


@lru_cache(maxsize=32)
def _class(seed: int) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray, FloatArray]:
    """Stems' sizes and ovals, where hands stand off the longest way, what hands add, spreads."""
    from scipy.special import ndtri

    def drawn(count: int, purpose: str) -> FloatArray:
        return uniforms(count, "differences", purpose, seed)

    def normal(purpose: str, *shape: int) -> FloatArray:
        u = np.clip(drawn(int(np.prod(shape)), purpose), 1e-12, 1 - 1e-12)
        return kept(np.asarray(ndtri(u), dtype=np.float64).reshape(shape))

    start = float(drawn(1, "sizes")[0])
    spaced: FloatArray = np.asarray((start + GOLDEN * np.arange(MOST_STEMS)) % 1, np.float64)
    sizes: FloatArray = LEAST_CM + (MOST_CM - LEAST_CM) * spaced
    return (
        kept(sizes),
        kept(LEAST_TIMES + (MOST_TIMES - LEAST_TIMES) * drawn(MOST_STEMS, "ovals")),
        kept(180 * drawn(MOST_STEMS * MOST_HANDS, "stands").reshape(MOST_STEMS, MOST_HANDS)),
        normal("hands", 2, MOST_HANDS),
        normal("again", 3, MOST_STEMS, MOST_HANDS),
    )
