"""A tape laid beside a reference: its stretch, what is worn off, and how surely that is known."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import MeasureError, number, plain
from mensura.instruments.line_fit import LineFit, fit_line
from mensura.instruments.tape import Tape


@dataclass(frozen=True)
class TapeCheck:
    """What a check beside a reference found.

    tape: the condition that fits best; misfit_cm: how far the worst reading lies off it, in cm;
    places_cm: where the two were compared, on the reference; spread_cm: how far a reading lies off
    the line, as a standard deviation with two degrees of freedom fewer than places, in cm; None for
    two places, which always lie on a line; line: that line itself.
    """

    tape: Tape
    misfit_cm: float
    places_cm: tuple[float, ...]
    spread_cm: float | None
    line: LineFit

    def doubt_cm(self, true_cm: ArrayLike) -> Any:
        """One standard uncertainty of a length that the tape measured and the line brought back.

        true_cm: the length, cm, one or more. Returns cm. Least in the middle of the places, and
        growing beyond them, where the line is only drawn on. Raises MeasureError for two places.

        >>> round(check_tape([50, 100, 150], [51.3, 100.7, 150.2]).doubt_cm(150), 2)
        0.04
        """
        at = number(true_cm, "true_cm", "cm", at_least=0.0, at_most=1e5)
        return plain(np.asarray(self._known.u_line_cm(at)) / self._known.rise)

    @property
    def worn_doubt_cm(self) -> float:
        """One standard uncertainty of the worn start, in cm: of the line at no length at all."""
        return float(self._known.u_start_cm)

    @property
    def stretch_doubt_percent(self) -> float:
        """One standard uncertainty of the stretch, in per cent of a sound length."""
        # the rise is 1/(1 + s): what it is off by counts (1 + s)² times in s
        return float(100 * self._known.u_rise / self._known.rise**2)

    @property
    def _known(self) -> LineFit:
        if self.spread_cm is None:
            raise MeasureError("places_cm", len(self.places_cm), "", "three places or more")
        return self.line


def check_tape(true_cm: ArrayLike, read_cm: ArrayLike, thickness_cm: float = 0.0) -> TapeCheck:
    """Stretch or shrinking and worn start of a tape, from readings beside a reference, both flat.

    true_cm: on the reference, two places or more, cm; read_cm: on the tape at the same places, cm;
    thickness_cm: of the band, kept for the stem; on the floor it plays no part.
    The readings' straight line by least squares: it rises by 1/(1 + stretch), or, where it rises
    by more than 1, by 1/(1 − shrunk), and starts at what is worn off. Doubts of a line through
    points: textbook formulas, from memory; the way of checking: common practice, no source. Raises
    MeasureError for too few places, places that are all one, or a line that no worn, stretched tape
    can have.

    >>> found = check_tape([50, 100, 150], [51.3, 100.7, 150.2])
    >>> round(found.tape.stretch_percent, 2), round(found.tape.worn_start_cm, 2)
    (1.11, 1.83)
    >>> round(found.stretch_doubt_percent, 2), round(found.worn_doubt_cm, 2)
    (0.06, 0.06)
    """
    true, read = (
        np.atleast_1d(np.asarray(number(values, name, "cm", at_least=0.0, at_most=1e5), float))
        for values, name in ((true_cm, "true_cm"), (read_cm, "read_cm"))
    )
    if true.shape != read.shape or true.ndim != 1 or np.ptp(true) == 0:
        raise MeasureError("true_cm", true.size, "", "two different places or more, one a reading")
    line = fit_line(true, read)
    rise, worn = line.rise, line.start_cm
    if rise <= 0 or worn < -1e-9:
        raise MeasureError(
            "read_cm", float(worn), "cm", "readings that a worn or stretched tape could give"
        )
    off = read - rise * true - worn
    tape = Tape(
        stretch_percent=max(100 * (1 / rise - 1), 0.0),
        shrink_percent=max(100 * (1 - 1 / rise), 0.0),
        worn_start_cm=max(worn, 0.0),
        thickness_cm=thickness_cm,
    )
    spread = line.spread_cm if line.degrees_of_freedom else None
    return TapeCheck(tape, float(np.abs(off).max()), tuple(true.tolist()), spread, line)
