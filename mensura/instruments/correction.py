"""Back from a reading to the girth: what can be undone is undone, the rest is named with its side.

A band's stretch, shrinking, worn start, warmth, thickness and pull follow exact rules, so they are
undone exactly, if they were the same all along the band. On bark the pull is not: friction takes a
part of it, and how much cannot be known. How the band lay can no longer be known from the number:
of that only the side, and how far it may reach if somebody saw it, can be said.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from mensura.checks import MeasureError, number, plain
from mensura.instruments.fault import LAY, Fault, Typical
from mensura.instruments.faults import faults_of
from mensura.instruments.tape import Tape
from mensura.instruments.typical import adds_cm


@dataclass(frozen=True)
class Unknowable:
    """A fault that a number cannot confess.

    fault: its name, and its case where it has two; row: of the list of faults; sizes: the typical
    ones that are told.
    """

    fault: str
    row: Fault
    sizes: tuple[Typical, ...]

    @property
    def raises_reading(self) -> bool:
        """True if it makes readings too large."""
        if self.row.side != "either":
            return self.row.side == "too much"
        return all(adds_cm(self.row, one) > 0 for one in self.sizes)

    @property
    def reach(self) -> str:
        """How far it goes on a stem of 125 cm girth, in words with its sizes in cm."""
        return self.row.reach or ", ".join(
            f"{_in_short(adds_cm(self.row, one))} cm {one.at}" for one in self.sizes
        )


def _in_short(size_cm: float) -> str:
    """A size to a millimetre; whole centimetres without one."""
    return f"{abs(size_cm):.1f}".removesuffix(".0")


def _unknowable() -> tuple[Unknowable, ...]:
    rows: list[Unknowable] = []
    for row in (one for one in faults_of(LAY) if one.undone == "not"):
        told = [one for one in row.typical if one.at]
        for case in dict.fromkeys(one.case for one in told) or [""]:
            name = f"{row.key}, {case}" if case else row.key
            rows.append(Unknowable(name, row, tuple(one for one in told if one.case == case)))
    return tuple(rows)


#: What no correction undoes: how the band lay. Sizes are computed when they are asked for.
UNKNOWABLE: tuple[Unknowable, ...] = _unknowable()


@dataclass(frozen=True)
class CorrectedGirth:
    """A girth brought back from a reading.

    girth_cm: of the way along the bark; diameter_cm, area_cm2: of the circle with that girth;
    breakdown: what each part of the band's condition had added, in cm; rounding_cm: how far the
    rounding may still be off.
    """

    girth_cm: Any
    diameter_cm: Any
    area_cm2: Any
    breakdown: dict[str, Any]
    rounding_cm: Any


def correct_girth(reading_cm: Any, tape: Tape) -> CorrectedGirth:
    """Undo a band's stretch, shrinking, worn start, temperature, thickness and pull.

    reading_cm: as the band told it, above 0, cm; tape: its condition.
    Exact but for the rounding, of which half a step is told, if the band's condition and its pull
    are the same all along. Raises MeasureError if what is left is no girth.

    >>> round(correct_girth(70.0, Tape(stretch_percent=100 * 30 / 70)).girth_cm, 10)
    100.0
    """
    reading = number(reading_cm, "reading_cm", "cm", above=0.0, at_most=20000.0)
    girth = tape.way_cm(reading)
    if np.any(np.asarray(girth) <= 0):
        raise MeasureError(
            "reading_cm", float(np.min(reading)), "cm", "a reading longer than what is worn off"
        )
    _, parts = tape.marks_cm(girth)
    parts.pop("rounding", None)
    step = np.asarray(tape.resolution_cm) * (1.0 if tape.rounding == "down" else 0.5)
    return CorrectedGirth(
        girth, plain(girth / np.pi), plain(girth**2 / (4 * np.pi)), parts, plain(step)
    )
