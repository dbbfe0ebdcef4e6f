"""What reads a stem: girth tapes and calipers."""

from mensura.instruments.calipers import MEANS, Calipers, evenly_turned_deg, mean_cm
from mensura.instruments.tape import CM_PER_INCH, LEVEL, SCALES, Lay, Tape, TapeReading

__all__ = [
    "CM_PER_INCH",
    "LEVEL",
    "MEANS",
    "SCALES",
    "Calipers",
    "Lay",
    "Tape",
    "TapeReading",
    "evenly_turned_deg",
    "mean_cm",
]
