"""Back from a reading to the girth: what can be undone is undone, the rest is named with its side.

A band's stretch, worn start, warmth, thickness and pull follow exact rules, so they are undone
exactly. How the band lay can no longer be known from the number: of that only the side, and how
far it may reach if somebody saw it, can be said.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from mensura.checks import MeasureError, number, plain
from mensura.instruments.tape import Tape


@dataclass(frozen=True)
class Unknowable:
    """A fault that a number cannot confess.

    fault: its name; raises_reading: True if it makes readings too large; reach: how far, in words.
    """

    fault: str
    raises_reading: bool
    reach: str


#: What no correction undoes. Sizes for a stem of 125 cm girth, from :class:`Lay`.
UNKNOWABLE: tuple[Unknowable, ...] = (
    Unknowable("tilt", True, "0.2 cm at 5°, 1 cm at 10°, 4 cm at 20°"),
    Unknowable("wander", True, "2 cm for 5 cm from crest to trough in two waves"),
    Unknowable("overlap", True, "0.2 cm for ends that miss by 7 cm"),
    Unknowable("slack", True, "as much as hangs loose"),
    Unknowable("twist", True, "0.1 cm for a stand-off of 0.5 cm"),
    Unknowable("knot", True, "0.4 cm for a knot 1 cm high"),
    Unknowable("climber", True, "1.2 cm for a climber as thick as a thumb (2 cm)"),
    Unknowable("pressing", False, "0.6 cm for every millimetre"),
    Unknowable("height, too high", False, "3 cm for every cm that it is thinner there"),
    Unknowable("height, too low", True, "3 cm for every cm that it is thicker there"),
)


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
    """Undo a band's stretch, worn start, temperature, thickness and pull.

    reading_cm: as the band told it, above 0, cm; tape: its condition.
    Exact but for the rounding, of which half a step is told. Raises MeasureError if what is left
    is no girth.

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
    parts.pop("resolution", None)
    step = np.asarray(tape.resolution_cm) * (1.0 if tape.rounding == "down" else 0.5)
    return CorrectedGirth(
        girth, plain(girth / np.pi), plain(girth**2 / (4 * np.pi)), parts, plain(step)
    )
