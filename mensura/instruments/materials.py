"""What bands are made of, and what each resists and suffers; ranges where sources disagree."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from mensura.checks import ChoiceError, MeasureError, number, plain


@dataclass(frozen=True)
class BandMaterial:
    """A band's material.

    name: as the command takes it; expansion_per_c: used where no other is given, per °C, None if
    no source gives one; least_per_c, most_per_c: the range in the sources; resists, suffers: in
    plain words; source: of the expansion; stiffness_n: EA of one sample band, in newtons, None
    where we have none; sample: which band that is, and who says so.
    """

    name: str
    expansion_per_c: float | None
    least_per_c: float | None
    most_per_c: float | None
    resists: str
    suffers: str
    source: str
    stiffness_n: float | None = None
    sample: str = ""


#: Newtons in a kilogram's weight (by definition).
_N_PER_KG = 9.80665

#: Temperature at which lengths hold, °C [Phillips2016]; pull at which a tape is proved, N
#: [UKSI2016].
REFERENCE_C = 20.0
REFERENCE_N = 50.0

_PRACTICE = "common practice, no source"

MATERIALS: dict[str, BandMaterial] = {
    row.name: row
    for row in (
        BandMaterial(
            "cloth",
            None,
            None,
            None,
            "light, soft, cheap; does not cut",
            "stretches with use and pull, shrinks and swells with wet, frays, print wears off",
            _PRACTICE,
        ),
        BandMaterial(
            "reinforced cloth",
            None,
            None,
            None,
            "wires or threads woven in hold the length better than plain cloth",
            "wet, fraying; a broken thread lets it stretch in one place",
            _PRACTICE,
        ),
        BandMaterial(
            "fibreglass",
            36e-6,
            8e-6,
            36e-6,
            "wet, rot, small kinks; cuts less than steel; does not carry current when dry",
            "stretches under pull more than steel; a crushed place breaks and sheds glass "
            "splinters; print wears off",
            "36e-6 for epoxy with glass: property table, unsigned; 8e-6 along the fibres: from "
            "memory",
            stiffness_n=25e3,
            sample="a band as sold, of no stated size: our assumption, common practice, no source; "
            "hang a weight on yours and look",
        ),
        BandMaterial(
            "plastic",
            80e-6,
            50e-6,
            180e-6,
            "wet, dirt; cuts less than steel",
            "warmth and pull lengthen it, cold makes it brittle",
            "80e-6 for rigid PVC: property table, unsigned; tables of polymers differ tenfold",
        ),
        BandMaterial(
            "steel",
            11.6e-6,
            9.5e-6,
            13.5e-6,
            "keeps its length under pull and for years",
            "rust, kinks, sharp edges; lengthens with warmth, by little",
            "11.6e-6: surveying examples; 11.5e-6 with ±2e-6: [GUM1995]",
            stiffness_n=2.1e6 * _N_PER_KG * 0.02,
            sample="10 mm by 0.2 mm, E = 2.1e6 kg/cm²: surveying examples, unsigned",
        ),
        BandMaterial(
            "stainless steel",
            17e-6,
            10e-6,
            18e-6,
            "as steel, and wet",
            "kinks, sharp edges; lengthens with warmth half as much again as plain steel, or no "
            "more than it, by its kind",
            "16 to 18e-6 austenitic, 10 to 12e-6 ferritic: property tables, unsigned",
        ),
    )
}


def material(name: str) -> BandMaterial:
    """A material by name.

    name: one of MATERIALS. Raises MeasureError with the list for another.

    >>> material("steel").expansion_per_c
    1.16e-05
    """
    if name not in MATERIALS:
        raise ChoiceError("material", name, MATERIALS)
    return MATERIALS[name]


def known_expansion_per_c(name: str) -> float:
    """How much a band of a material lengthens, for each °C.

    name: one of MATERIALS. Raises MeasureError for another, or one for which no source gives a
    number.

    >>> known_expansion_per_c("steel")
    1.16e-05
    """
    known = material(name)
    if known.expansion_per_c is None:
        raise MeasureError(
            "expansion_per_c", None, "", f"a number: no source gives one for {known.name}"
        )
    return known.expansion_per_c


def pull_share(friction: Any, turn_rad: Any = np.pi) -> Any:
    """Which share of a pull at its end a band feels on the mean, where it lies on the bark.

    friction: coefficient μ between band and bark, at least 0, 0 for a smooth post; turn_rad: the
    angle round which each end has to pull, above 0; half a turn if both ends are pulled alike.
    The pull falls as e^(−μφ) along the bark (the capstan law: Euler 1769, Eytelwein 1808, from
    memory), where the band is about to slip; its mean is (1 − e^(−μφ))/(μφ). Raises MeasureError
    for less friction than none.

    >>> [round(pull_share(friction), 2) for friction in (0.0, 0.2, 0.3, 0.5)]
    [1.0, 0.74, 0.65, 0.5]
    """
    along = np.asarray(number(friction, "friction", "", at_least=0.0, at_most=10.0)) * np.asarray(
        number(turn_rad, "turn_rad", "rad", above=0.0, at_most=100.0)
    )
    some = np.where(along > 0, along, 1.0)
    return plain(np.where(along > 0, -np.expm1(-some) / some, 1.0))
