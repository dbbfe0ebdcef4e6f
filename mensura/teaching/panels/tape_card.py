"""The tape card panel's numbers: a tape with planted faults, held against a reference, its card.

What is planted is known here, so the card can be held against the truth, as no class can do it with
a tape of its own. The hand's chance is drawn by a keyed hash: a draw is the same on every machine.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, kept, plain
from mensura.draws import uniforms
from mensura.instruments.line_fit import fit_line, student_factor
from mensura.instruments.tape_card import Card, card
from mensura.teaching.controls import Control, State

#: The most marks and repeats that are drawn, how many classes, and where the reference ends.
MOST_MARKS, MOST_REPEATS, CLASSES, LONGEST_CM = 12, 10, 40, 320.0

CONTROLS = (
    Control("stretch_percent", "stretch", "%", -1.0, 2.0, 0.05, 1.0, "Planted in the tape"),
    Control("worn_start_cm", "worn start", "cm", -0.5, 2.0, 0.05, 0.5, "Planted in the tape"),
    Control("marks", "marks", "", 2, MOST_MARKS, 1, 5, "The check", whole=True),
    Control("first_cm", "first mark", "cm", 5.0, 100.0, 5.0, 50.0, "The check"),
    Control("last_cm", "last mark", "cm", 150.0, 300.0, 5.0, 250.0, "The check"),
    Control("repeats", "readings a mark", "", 1, MOST_REPEATS, 1, 2, "The check", whole=True),
    Control("hand_sd_cm", "hand's spread", "cm", 0.0, 0.5, 0.01, 0.05, "The hand"),
    Control("step_cm", "read in steps of", "cm", 0.0, 1.0, 0.1, 0.1, "The hand"),
    Control("draw", "which class", "", 1, CLASSES, 1, 7, "The hand", whole=True),
    Control("reading_cm", "reads on a stem", "cm", 30.0, 310.0, 0.5, 126.5, "A stem"),
)

#: A check as it should be, one that is too short, and one read too coarsely however often.
GOOD: State = {"marks": 5, "first_cm": 20.0, "last_cm": 300.0, "repeats": 2}
FAR: State = {"marks": 5, "first_cm": 100.0, "last_cm": 150.0, "repeats": 2}
COARSE: State = {"step_cm": 1.0, "hand_sd_cm": 0.05, "repeats": 10}
TWO: State = {"marks": 2}


@dataclass(frozen=True)
class Told:
    """One figure of the card beside what was planted.

    planted, found: in the figure's own unit; u: standard uncertainty, None for two marks; half: of
    the 95 % interval, None likewise.
    """

    planted: float
    found: float
    u: float | None
    half: float | None

    @property
    def holds(self) -> bool | None:
        """Whether the interval holds what was planted; None where there is no interval."""
        if self.half is None:
            return None
        return abs(self.found - self.planted) <= self.half + 1e-9


@dataclass(frozen=True)
class TapeCardShown:
    """All that the panel shows of one check of one tape.

    places_cm: the marks on the reference; reference_cm, readings_cm: one for one, repeats after
    each other; card: what they give; stretch_percent, worn_start_cm: planted; factor: Student's,
    for 95 %, None for two marks; stretch, worn, correction: figures of the card beside the truth;
    reading_cm: of the stem; drawn_on: whether that lies outside the marks; draw: which class;
    classes_percent: stretch that each class finds, this one among them; classes_half_percent: half
    of its 95 % interval, None for two marks.
    """

    places_cm: FloatArray
    reference_cm: FloatArray
    readings_cm: FloatArray
    card: Card
    stretch_percent: float
    worn_start_cm: float
    factor: float | None
    stretch: Told
    worn: Told
    correction: Told
    reading_cm: float
    drawn_on: bool
    draw: int
    classes_percent: FloatArray
    classes_half_percent: FloatArray | None

    @property
    def classes_hold(self) -> Any:
        """Which classes' intervals hold the planted stretch; None for two marks."""
        if self.classes_half_percent is None:
            return None
        off = np.abs(self.classes_percent - self.stretch_percent)
        return off <= self.classes_half_percent + 1e-9

    def true_error_cm(self, reference_cm: ArrayLike) -> Any:
        """Reading less reference of the planted tape, without any chance, in cm.

        reference_cm: where, one or more, cm.
        """
        where = np.asarray(reference_cm, float)
        return plain(where / (1 + self.stretch_percent / 100) + self.worn_start_cm - where)

    def found_error_cm(self, reference_cm: ArrayLike) -> Any:
        """Reading less reference by the card's line, in cm.

        reference_cm: where, one or more, cm.
        """
        where = np.asarray(reference_cm, float)
        return plain(self.card.rise * where + self.card.start_cm - where)

    def half_band_cm(self, reference_cm: ArrayLike) -> Any:
        """Half the width of the line's 95 % band, in cm; None for two marks.

        reference_cm: where, one or more, cm.
        """
        one = self.card
        if self.factor is None or one.u_rise is None or one.u_start_cm is None:
            return None
        where = np.asarray(reference_cm, float)
        common = 2 * where * (one.correlation or 0.0) * one.u_rise * one.u_start_cm
        square = np.square(where * one.u_rise) + one.u_start_cm**2 + common
        return plain(self.factor * np.sqrt(np.maximum(square, 0.0)))


@lru_cache(maxsize=1)
def _chances() -> FloatArray:
    """Normal numbers for each class, mark and repeat, by the rule of Box and Müller."""
    many = MOST_MARKS * MOST_REPEATS
    drawn = [uniforms(2 * many, "tape card", draw) for draw in range(1, CLASSES + 1)]
    one, other = np.array(drawn).reshape(CLASSES, 2, many).swapaxes(0, 1)
    normal = np.sqrt(-2 * np.log1p(-one)) * np.cos(2 * np.pi * other)
    return kept(normal.reshape(CLASSES, MOST_MARKS, MOST_REPEATS))


def numbers(
    stretch_percent: float,
    worn_start_cm: float,
    marks: int,
    first_cm: float,
    last_cm: float,
    repeats: int,
    hand_sd_cm: float,
    step_cm: float,
    draw: int,
    reading_cm: float,
) -> TapeCardShown:
    """What the panel shows for a state of its controls.

    stretch_percent, worn_start_cm: planted; marks: how many; first_cm, last_cm: between which they
    lie, evenly, each at a whole cm; repeats: readings of each; hand_sd_cm: spread of the hand;
    step_cm: of the reading, 0 for none; draw: which class; reading_cm: of the tape on a stem.

    >>> from mensura.teaching.controls import starting
    >>> shown = numbers(**starting(CONTROLS) | {"hand_sd_cm": 0.0, "step_cm": 0.0})
    >>> round(shown.stretch.found, 6), round(shown.worn.found, 6)
    (1.0, 0.5)
    """
    places = np.round(np.linspace(first_cm, last_cm, marks))
    chance = _chances()[:, :marks, :repeats]
    told = places[:, None] / (1 + stretch_percent / 100) + worn_start_cm + hand_sd_cm * chance
    if step_cm:
        told = np.floor(told / step_cm + 0.5) * step_cm
    # what a step leaves is dust of a binary kind
    every = np.round(told, 9).reshape(CLASSES, -1)
    reference, readings = np.repeat(places, repeats), every[draw - 1]
    found, line = (
        card(reference, readings, resolution_cm=step_cm),
        fit_line(reference, every, step_cm),
    )
    factor = None if found.u_rise is None else student_factor(found.degrees_of_freedom)
    true_cm = (reading_cm - worn_start_cm) * (1 + stretch_percent / 100)

    def beside(planted: float, value: float, u: float | None) -> Told:
        half = None if u is None or factor is None else float(factor * u)
        return Told(planted, float(value), None if u is None else float(u), half)

    return TapeCardShown(
        places_cm=places,
        reference_cm=reference,
        readings_cm=readings,
        card=found,
        stretch_percent=stretch_percent,
        worn_start_cm=worn_start_cm,
        factor=factor,
        stretch=beside(stretch_percent, found.stretch_percent, found.stretch_u_percent),
        worn=beside(worn_start_cm, found.start_cm, found.u_start_cm),
        correction=beside(
            true_cm - reading_cm,
            found.true_cm(reading_cm) - reading_cm,
            found.u_true_cm(reading_cm),
        ),
        reading_cm=reading_cm,
        drawn_on=bool(found.drawn_on(reading_cm)),
        draw=draw,
        classes_percent=100 * (1 / line.rise - 1),
        classes_half_percent=(
            None if factor is None else factor * 100 * line.u_rise / np.square(line.rise)
        ),
    )
