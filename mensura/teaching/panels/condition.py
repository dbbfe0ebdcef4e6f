"""The condition panel's numbers: a band that is no longer what it was, and the way back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.areas import area_from_girth_cm2, diameter_from_girth_cm, over_percent
from mensura.instruments.correction import CorrectedGirth, correct_girth
from mensura.instruments.fault import BAND, READING
from mensura.instruments.faults import faults_in, settings_of
from mensura.instruments.materials import MATERIALS
from mensura.instruments.tape import Tape
from mensura.stems.ellipse import circle
from mensura.teaching.controls import Control, State, Switch, control_of, set_from, sound_of

#: The faults of the panel, in the order in which they are taken.
FAULTS = faults_in("chapter panel", BAND, READING)

#: Those that change from reading to reading, under a heading of their own.
_READING = ("temperature", "pull")
CONTROLS = (
    Control("girth_cm", "true girth", "cm", 60, 220, 0.1, 125, "Stem"),
    *(
        control_of(row.settings[0], "Reading" if reading else "Band")
        for reading in (False, True)
        for row in FAULTS.values()
        if row.of == BAND and (row.key in _READING) == reading
    ),
)
SWITCHES = (
    Switch("fibreglass", "fibreglass, not steel", "Band"),
    Switch("down", "read down to whole cm", "Reading"),
)

SOUND: State = sound_of(row.settings[0] for row in FAULTS.values() if row.of == BAND)
SOUND |= {"down": False}


@dataclass(frozen=True)
class ConditionShown:
    """All that the panel shows of one band on one round stem.

    girth_cm, diameter_cm, area_cm2: of the stem; tape: the band; reading_cm, read_diameter_cm,
    read_area_cm2: as the band tells it; diameter_over_percent, area_over_percent: how much too
    large; breakdown: what each fault adds, in cm; told_cm: before any rounding; step_cm: distance
    along the bark of two marks that say 1 cm; back: the way back from the reading.
    """

    girth_cm: float
    diameter_cm: float
    area_cm2: float
    tape: Tape
    reading_cm: float
    read_diameter_cm: float
    read_area_cm2: float
    diameter_over_percent: float
    area_over_percent: float
    breakdown: dict[str, float]
    told_cm: float
    step_cm: float
    back: CorrectedGirth

    def place_cm(self, marks_cm: FloatArray | float) -> Any:
        """Where a band's marks lie along the bark, its held start at 0.

        marks_cm: what they say, in cm. Returns cm.
        """
        return (np.asarray(marks_cm) - self.tape.worn_start_cm) * self.step_cm


def numbers(girth_cm: float, fibreglass: bool, down: bool, **band: Any) -> ConditionShown:
    """What the panel shows for a state of its controls.

    girth_cm: of the stem; fibreglass: whether the band is, else it is steel; down: whether it is
    read down to whole cm; band: the other values of CONTROLS by name.

    >>> from mensura.teaching.controls import starting
    >>> start = starting(CONTROLS, SWITCHES)
    >>> shown = numbers(**start | SOUND | {"worn_start_cm": 0.5})
    >>> shown.reading_cm, shown.back.girth_cm
    (125.5, 125.0)
    """
    girth = girth_cm
    stuff = MATERIALS["fibreglass" if fibreglass else "steel"]
    tape = Tape(
        material=stuff.name,
        stiffness_n=stuff.stiffness_n,
        resolution_cm=1.0 if down else 0.0,
        rounding="down",
        **set_from(settings_of(BAND), band),
    )
    reading = tape.read(circle(girth / np.pi))
    breakdown = {name: float(part) for name, part in reading.breakdown.items()}
    read = float(reading.reading_cm)
    told = read - breakdown.get("rounding", 0.0)
    area, read_area = float(area_from_girth_cm2(girth)), float(area_from_girth_cm2(read))
    diameter, read_diameter = (float(diameter_from_girth_cm(one)) for one in (girth, read))
    return ConditionShown(
        girth_cm=girth,
        diameter_cm=diameter,
        area_cm2=area,
        tape=tape,
        reading_cm=read,
        read_diameter_cm=read_diameter,
        read_area_cm2=read_area,
        diameter_over_percent=float(over_percent(read_diameter, diameter)),
        area_over_percent=float(over_percent(read_area, area)),
        breakdown=breakdown,
        told_cm=told,
        step_cm=girth / (told - tape.worn_start_cm),
        back=correct_girth(read, tape),
    )
