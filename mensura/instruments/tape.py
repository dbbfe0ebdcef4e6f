"""The girth tape: it reads the taut loop round the convex hull, wherever the hand has laid it.

A level tape reads the girth. A tilted one lies along a longer way round: the loop in which the
tilted plane cuts the cylinder standing over the hull. A loop without friction would slide down to
the level girth; here the band is held where it lies by friction on the bark (our assumption).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from mensura.checks import MeasureError, number, plain
from mensura.stems.section import Section, tilt

CM_PER_INCH = 2.54

#: What one unit of each scale means in centimetres of girth.
SCALES = {
    "girth, cm": 1.0,
    "girth, in": CM_PER_INCH,
    "diameter, cm": float(np.pi),
    "diameter, in": float(np.pi) * CM_PER_INCH,
}


@dataclass(frozen=True)
class Lay:
    """How a tape lies on a stem: its tilt against the level, and where it rises steepest.

    tilt_deg: above −90 and below 90; tilt_direction_deg: of steepest rise, anticlockwise from the
    stem's first axis. Numbers or arrays that broadcast against the stems.

    >>> Lay(tilt_deg=10, tilt_direction_deg=0)
    Lay(tilt_deg=10.0, tilt_direction_deg=0.0)
    """

    tilt_deg: Any = 0.0
    tilt_direction_deg: Any = 0.0

    def __post_init__(self) -> None:
        object.__setattr__(self, "tilt_deg", tilt(self.tilt_deg))
        direction = number(self.tilt_direction_deg, "tilt_direction_deg", "deg")
        object.__setattr__(self, "tilt_direction_deg", direction)


#: A tape laid as it should be.
LEVEL = Lay()


@dataclass(frozen=True)
class TapeReading:
    """What a tape told, and what each step added to it.

    reading_cm: length of the band round the stem; taut_girth_cm: what a level tape reads;
    scale: name of the band's scale; marks: what the scale shows (in the scale's own unit).
    """

    reading_cm: Any
    taut_girth_cm: Any
    scale: str
    marks: Any

    @property
    def tilt_adds_cm(self) -> Any:
        """How much the tilt adds to the girth, in cm; never below 0."""
        return self.reading_cm - self.taut_girth_cm


@dataclass(frozen=True)
class Tape:
    """A sound tape with one of four scales.

    scale: "girth, cm", "girth, in", "diameter, cm" or "diameter, in" (a diameter scale's marks
    are π times as far apart, so that the band shows girth/π).
    Raises MeasureError for another scale.

    >>> from mensura.stems import circle
    >>> round(Tape("diameter, cm").read(circle(40)).marks, 6)
    40.0
    """

    scale: str = "girth, cm"

    def __post_init__(self) -> None:
        if self.scale not in SCALES:
            raise MeasureError("scale", self.scale, "", "one of: " + "; ".join(SCALES))

    def read(self, section: Section, lay: Lay = LEVEL) -> TapeReading:
        """The tape's reading on a section.

        section: any section, one or many; lay: how the tape lies on it.

        >>> from mensura.stems import Ellipse
        >>> reading = Tape().read(Ellipse(60, 48), Lay(tilt_deg=10))
        >>> round(reading.reading_cm, 3), round(reading.tilt_adds_cm, 3)
        (171.703, 1.533)
        """
        level = section.taut_girth_cm
        # level is the common case: it is the taut girth itself, to the last digit
        flat = not np.any(lay.tilt_deg)
        if flat:
            lays = np.broadcast_shapes(np.shape(lay.tilt_deg), np.shape(lay.tilt_direction_deg))
            reading = plain(level + np.zeros(lays)) if lays else level
        else:
            reading = section.oblique_girth_cm(lay.tilt_deg, lay.tilt_direction_deg)
        return TapeReading(reading, level, self.scale, reading / SCALES[self.scale])
