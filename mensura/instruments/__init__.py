"""What reads a stem: girth tapes and calipers, their faults, and the way back."""

from mensura.instruments.band_way import band_curve_cm
from mensura.instruments.calipers import (
    MEANS,
    CaliperReading,
    Calipers,
    CalipersOnStem,
    evenly_turned_deg,
    mean_cm,
)
from mensura.instruments.correction import (
    UNKNOWABLE,
    CorrectedGirth,
    Unknowable,
    correct_girth,
)
from mensura.instruments.lay import LEVEL, Lay, lift_adds_cm
from mensura.instruments.materials import MATERIALS, BandMaterial, material
from mensura.instruments.tape import CM_PER_INCH, SCALES, Tape, TapeReading, rounded_cm

__all__ = [
    "CM_PER_INCH",
    "LEVEL",
    "MATERIALS",
    "MEANS",
    "SCALES",
    "UNKNOWABLE",
    "BandMaterial",
    "CaliperReading",
    "Calipers",
    "CalipersOnStem",
    "CorrectedGirth",
    "Lay",
    "Tape",
    "TapeReading",
    "Unknowable",
    "band_curve_cm",
    "correct_girth",
    "evenly_turned_deg",
    "lift_adds_cm",
    "material",
    "mean_cm",
    "rounded_cm",
]
