"""What reads a stem: girth tapes and calipers, their faults, and the way back."""

from mensura.instruments.band_curve import band_curve_cm
from mensura.instruments.calipers import (
    MEANS,
    CaliperReading,
    Calipers,
    CalipersOnStem,
    evenly_turned_deg,
    lean_from_rod_deg,
    mean_cm,
)
from mensura.instruments.check_slips import LikelySlip, likely_slips
from mensura.instruments.class_check import ClassedMark, check_class
from mensura.instruments.correction import (
    UNKNOWABLE,
    CorrectedByCard,
    CorrectedGirth,
    Unknowable,
    correct_by_card,
    correct_girth,
)
from mensura.instruments.fault import Fault
from mensura.instruments.faults import FAULTS
from mensura.instruments.lay import LEVEL, Lay, lift_adds_cm
from mensura.instruments.line_fit import (
    LackOfFit,
    LineFit,
    fit_line,
    lack_of_fit,
    resolution_of_cm,
    student_factor,
)
from mensura.instruments.materials import MATERIALS, BandMaterial, material
from mensura.instruments.permissible import permissible_error_mm
from mensura.instruments.tape import CM_PER_INCH, SCALES, Tape, TapeReading, rounded_cm
from mensura.instruments.tape_card import Card, CheckedMark, card
from mensura.instruments.tape_check import TapeCheck, check_tape
from mensura.instruments.typical import typical_sizes_cm

__all__ = [
    "CM_PER_INCH",
    "FAULTS",
    "LEVEL",
    "MATERIALS",
    "MEANS",
    "SCALES",
    "UNKNOWABLE",
    "BandMaterial",
    "CaliperReading",
    "Calipers",
    "CalipersOnStem",
    "Card",
    "CheckedMark",
    "ClassedMark",
    "CorrectedByCard",
    "CorrectedGirth",
    "Fault",
    "LackOfFit",
    "Lay",
    "LikelySlip",
    "LineFit",
    "Tape",
    "TapeCheck",
    "TapeReading",
    "Unknowable",
    "band_curve_cm",
    "card",
    "check_class",
    "check_tape",
    "correct_by_card",
    "correct_girth",
    "evenly_turned_deg",
    "fit_line",
    "lack_of_fit",
    "lean_from_rod_deg",
    "lift_adds_cm",
    "likely_slips",
    "material",
    "mean_cm",
    "permissible_error_mm",
    "resolution_of_cm",
    "rounded_cm",
    "student_factor",
    "typical_sizes_cm",
]
