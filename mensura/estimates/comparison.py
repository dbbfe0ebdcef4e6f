"""One stem, every practice: readings, the areas concluded from them, and each error.

The command `mensura compare`, the panel's table and the workbooks all show this one object.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np

from mensura.checks import FloatArray, number
from mensura.estimates.areas import area_from_diameters_cm2, area_from_girth_cm2, over_percent
from mensura.instruments.calipers import CaliperReading, Calipers, evenly_turned_deg
from mensura.instruments.lay import LEVEL, Lay
from mensura.instruments.tape import Tape
from mensura.stems.ellipse import Ellipse, classroom_girth_cm
from mensura.stems.section import Section

#: Instruments without a fault.
SOUND_TAPE = Tape()
SOUND_CALIPERS = Calipers()

#: Directions in the practice of "many" readings: every ten degrees.
MANY = 18

#: Each caliper practice: how many evenly turned directions, and which mean of the readings.
PRACTICES: dict[str, tuple[int, str]] = {
    "one": (1, "arithmetic"),
    "two-arithmetic": (2, "arithmetic"),
    "two-geometric": (2, "geometric"),
    "two-quadratic": (2, "quadratic"),
    "many-arithmetic": (MANY, "arithmetic"),
}

#: The same practices in words for a table.
PRACTICE_WORDS = {
    "one": "one reading",
    "two-arithmetic": "two at right angles, arithmetic mean",
    "two-geometric": "two at right angles, product",
    "two-quadratic": "two at right angles, quadratic mean",
    "many-arithmetic": f"{MANY} directions, arithmetic mean",
}


@dataclass(frozen=True)
class CaliperEstimate:
    """What one caliper practice concludes.

    practice: its name; directions_deg: of the measured widths; readings_cm: one a direction;
    area_cm2: concluded from their mean; over_percent: its error in per cent of the true area;
    breakdown: what each of the calipers' faults adds to each reading, in cm.
    """

    practice: str
    directions_deg: FloatArray
    readings_cm: FloatArray
    area_cm2: float
    over_percent: float
    breakdown: dict[str, FloatArray] = field(default_factory=dict)


@dataclass(frozen=True)
class Comparison:
    """Readings, areas and errors of one stem.

    true_area_cm2: wood and bark; hull_area_cm2: inside the taut tape; taut_girth_cm: a level
    tape's reading; reading_cm: the tape's as it lies; tape_area_cm2, tape_over_percent: from that
    reading; level_area_cm2, level_over_percent: from the level one; classroom_over_percent: the
    blackboard formula's claim, None unless the stem is a smooth ellipse; calipers: the practices;
    breakdown: what each fault of lay and band adds in cm, summing to reading_cm − taut_girth_cm.
    """

    true_area_cm2: float
    hull_area_cm2: float
    taut_girth_cm: float
    reading_cm: float
    tape_area_cm2: float
    tape_over_percent: float
    level_area_cm2: float
    level_over_percent: float
    classroom_over_percent: float | None
    calipers: tuple[CaliperEstimate, ...]
    breakdown: dict[str, float] = field(default_factory=dict)

    def to_dict(self) -> dict[str, Any]:
        """Plain numbers, lists and names, ready for JSON; the keys carry the units."""
        return {
            "true_area_cm2": self.true_area_cm2,
            "hull_area_cm2": self.hull_area_cm2,
            "taut_girth_cm": self.taut_girth_cm,
            "reading_cm": self.reading_cm,
            "tape_area_cm2": self.tape_area_cm2,
            "tape_over_percent": self.tape_over_percent,
            "classroom_over_percent": self.classroom_over_percent,
            "breakdown": [
                {"fault": fault, "adds_cm": adds} for fault, adds in self.breakdown.items()
            ],
            "calipers": [
                {
                    "practice": one.practice,
                    "directions_deg": one.directions_deg.tolist(),
                    "readings_cm": one.readings_cm.tolist(),
                    "area_cm2": one.area_cm2,
                    "over_percent": one.over_percent,
                    "breakdown": [
                        {"fault": fault, "adds_cm": adds.tolist()}
                        for fault, adds in one.breakdown.items()
                    ],
                }
                for one in self.calipers
            ],
        }


def compare(
    section: Section,
    lay: Lay = LEVEL,
    caliper_direction_deg: float = 0.0,
    tape: Tape = SOUND_TAPE,
    calipers: Calipers = SOUND_CALIPERS,
) -> Comparison:
    """Every practice on one stem.

    section: one stem; lay: how the tape lies; caliper_direction_deg: of the first width measured;
    tape, calipers: the instruments in their condition, sound if nothing is said.

    >>> result = compare(Ellipse(60, 48))
    >>> round(result.tape_over_percent, 4), round(result.classroom_over_percent, 4)
    (1.8764, 2.5)
    """
    # far beyond a turn, adding the right angle would be lost in rounding
    start = float(
        number(
            caliper_direction_deg, "caliper_direction_deg", "deg", at_least=-360.0, at_most=360.0
        )
    )
    true = float(section.area_cm2)
    reading = tape.read(section, lay)
    areas = [float(area_from_girth_cm2(g)) for g in (reading.reading_cm, reading.taut_girth_cm)]
    classroom = None
    if isinstance(section, Ellipse):
        claimed = classroom_girth_cm(section.first_cm, section.second_cm)
        classroom = float(over_percent(area_from_girth_cm2(claimed), true))
    return Comparison(
        true_area_cm2=true,
        hull_area_cm2=float(section.hull_area_cm2),
        taut_girth_cm=float(reading.taut_girth_cm),
        reading_cm=float(reading.reading_cm),
        tape_area_cm2=areas[0],
        tape_over_percent=float(over_percent(areas[0], true)),
        level_area_cm2=areas[1],
        level_over_percent=float(over_percent(areas[1], true)),
        classroom_over_percent=classroom,
        calipers=tuple(_practise(section, true, start, calipers)),
        breakdown={fault: float(adds) for fault, adds in reading.breakdown.items()},
    )


def _practise(
    section: Section, true_cm2: float, start_deg: float, calipers: Calipers
) -> list[CaliperEstimate]:
    read: dict[int, tuple[FloatArray, CaliperReading]] = {}
    rows = []
    for practice, (count, mean) in PRACTICES.items():
        if count not in read:
            directions = evenly_turned_deg(count, start_deg)
            read[count] = directions, calipers.reading(section, directions)
        directions, told = read[count]
        readings = told.readings_cm
        area = float(area_from_diameters_cm2(readings, mean))
        over = float(over_percent(area, true_cm2))
        rows.append(CaliperEstimate(practice, directions, readings, area, over, told.breakdown))
    return rows


def nearer_limit_deg(
    section: Section, mean: str = "arithmetic", reading_cm: float | None = None
) -> float | None:
    """How far two readings may turn off the first axis before the tape is nearer, on any section.

    section: one stem; mean: of the two readings; reading_cm: the tape's, its level one if None.
    Looks every half degree up to 45° and interpolates: good to 0.01°. Returns degrees; 0 if the
    tape is nearer (or as near) from the start; None if the calipers are nearer all the way.
    For a smooth ellipse and a level tape the closed form is
    :func:`mensura.estimates.calipers_limit_deg`.

    >>> round(nearer_limit_deg(Ellipse(60, 48)), 2)
    22.44
    """
    girth = section.taut_girth_cm if reading_cm is None else reading_cm
    true = float(section.area_cm2)
    tape = abs(float(area_from_girth_cm2(girth)) - true)
    turns = np.linspace(0.0, 45.0, 91)
    readings = np.stack([section.width_cm(turns), section.width_cm(turns + 90)], axis=-1)
    error = np.abs(area_from_diameters_cm2(readings, mean) - true)
    spans = nearer_spans_deg(turns, (error - tape) / true)
    if not spans or spans[0][0] > 0:
        return 0.0
    return None if spans[0][1] == turns[-1] else spans[0][1]


def nearer_spans_deg(turns_deg: FloatArray, lead: FloatArray) -> tuple[tuple[float, float], ...]:
    """Where a lead is below zero: every stretch of turns, by straight lines between them.

    turns_deg: increasing, degrees; lead: error of the calipers less that of the tape, any unit.
    Returns first and last turn of each stretch, in degrees; nothing where it is never below.

    >>> nearer_spans_deg(np.array([0.0, 10.0, 20.0, 30.0]), np.array([-1.0, 1.0, 1.0, -1.0]))
    ((0.0, 5.0), (25.0, 30.0))
    """
    below = lead < -1e-9
    edges = np.flatnonzero(below[1:] != below[:-1])
    before, after = lead[edges], lead[edges + 1]
    share = np.clip(before / (before - after), 0.0, 1.0)
    crossings = turns_deg[edges] + share * (turns_deg[edges + 1] - turns_deg[edges])
    ends = [*map(float, crossings)]
    if below[0]:
        ends.insert(0, float(turns_deg[0]))
    if below[-1]:
        ends.append(float(turns_deg[-1]))
    return tuple(zip(ends[::2], ends[1::2], strict=True))
