"""The condition panel's numbers: a band that is no longer what it was, and the way back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.areas import area_from_girth_cm2, diameter_from_girth_cm, over_percent
from mensura.instruments.correction import CorrectedGirth, correct_girth
from mensura.instruments.materials import MATERIALS
from mensura.instruments.tape import REFERENCE_C, REFERENCE_N, Tape
from mensura.stems.ellipse import circle
from mensura.teaching.controls import Control, Switch

CONTROLS = (
    Control("girth_cm", "true girth", "cm", 60, 220, 0.1, 125, "Stem"),
    Control("stretch_percent", "stretch", "%", -0.5, 2, 0.1, 1, "Band"),
    Control("worn_start_cm", "worn off its start", "cm", 0, 2, 0.1, 0.5, "Band"),
    Control("thickness_mm", "thickness", "mm", 0, 3, 0.1, 0.4, "Band"),
    Control("temperature_c", "temperature", "°C", -20, 60, 1, 35, "Reading"),
    Control("pull_n", "pull", "N", 0, 150, 5, 90, "Reading"),
)
SWITCHES = (
    Switch("fibreglass", "fibreglass, not steel", "Band"),
    Switch("down", "read down to whole cm", "Reading"),
)

MM_PER_CM = 10.0

#: Faults in the order in which they are taken, and how they are called.
FAULTS = {
    "thickness": "thickness",
    "temperature": "temperature",
    "pull": "pull",
    "stretch": "stretch",
    "worn start": "worn start",
    "resolution": "rounding",
}

SOUND = {
    "stretch_percent": 0.0,
    "worn_start_cm": 0.0,
    "thickness_mm": 0.0,
    "temperature_c": REFERENCE_C,
    "pull_n": REFERENCE_N,
    "down": False,
}


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


def numbers(
    girth_cm: float,
    stretch_percent: float,
    worn_start_cm: float,
    thickness_mm: float,
    temperature_c: float,
    pull_n: float,
    fibreglass: bool,
    down: bool,
) -> ConditionShown:
    """What the panel shows for a state of its controls.

    girth_cm: of the stem; stretch_percent, worn_start_cm, thickness_mm: of the band; temperature_c,
    pull_n: at the reading; fibreglass: whether the band is, else it is steel; down: whether it is
    read down to whole cm.

    >>> from mensura.teaching.controls import starting
    >>> shown = numbers(**starting(CONTROLS, SWITCHES) | SOUND | {"worn_start_cm": 0.5})
    >>> shown.reading_cm, shown.back.girth_cm
    (125.5, 125.0)
    """
    girth = girth_cm
    band = MATERIALS["fibreglass" if fibreglass else "steel"]
    tape = Tape(
        stretch_percent=stretch_percent,
        worn_start_cm=worn_start_cm,
        thickness_cm=thickness_mm / MM_PER_CM,
        temperature_c=temperature_c,
        material=band.name,
        pull_n=pull_n,
        stiffness_n=band.stiffness_n,
        resolution_cm=1.0 if down else 0.0,
        rounding="down",
    )
    reading = tape.read(circle(girth / np.pi))
    breakdown = {name: float(part) for name, part in reading.breakdown.items()}
    read = float(reading.reading_cm)
    told = read - breakdown.get("resolution", 0.0)
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
