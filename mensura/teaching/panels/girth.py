"""The girth panel's numbers: one round stem, its true girth, and a reading of it."""

from __future__ import annotations

from dataclasses import dataclass

from mensura.estimates.areas import area_from_girth_cm2, diameter_from_girth_cm, over_percent
from mensura.teaching.controls import Control

CONTROLS = (
    Control("girth_cm", "girth of the stem", "cm", 60, 220, 0.5, 126, "Stem"),
    Control("misread_cm", "misread by", "cm", -5, 5, 0.1, 2, "Tape"),
)


@dataclass(frozen=True)
class GirthShown:
    """All that the panel shows of one stem and one reading.

    girth_cm, diameter_cm, area_cm2: of the stem, taken for round; read_cm, read_diameter_cm,
    read_area_cm2: as the band was read; girth_over_percent, area_over_percent: how much too large.
    """

    girth_cm: float
    diameter_cm: float
    area_cm2: float
    read_cm: float
    read_diameter_cm: float
    read_area_cm2: float
    girth_over_percent: float
    area_over_percent: float


def numbers(girth_cm: float, misread_cm: float) -> GirthShown:
    """What the panel shows for a state of its controls.

    girth_cm: of the stem; misread_cm: how much too long it is read.

    >>> shown = numbers(girth_cm=150, misread_cm=1.5)
    >>> round(shown.girth_over_percent, 2), round(shown.area_over_percent, 2)
    (1.0, 2.01)
    """
    girth = girth_cm
    read = girth + misread_cm
    area, read_area = float(area_from_girth_cm2(girth)), float(area_from_girth_cm2(read))
    return GirthShown(
        girth_cm=girth,
        diameter_cm=float(diameter_from_girth_cm(girth)),
        area_cm2=area,
        read_cm=read,
        read_diameter_cm=float(diameter_from_girth_cm(read)),
        read_area_cm2=read_area,
        girth_over_percent=100 * (read - girth) / girth,
        area_over_percent=float(over_percent(read_area, area)),
    )
