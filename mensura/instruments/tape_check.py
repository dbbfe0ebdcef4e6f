"""A tape laid beside a reference: its stretch, what is worn off, and how surely that is known."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, MeasureError, number, plain
from mensura.instruments.tape import Tape


@dataclass(frozen=True)
class TapeCheck:
    """What a check beside a reference found.

    tape: the condition that fits best; misfit_cm: how far the worst reading lies off it, in cm;
    places_cm: where the two were compared, on the reference; spread_cm: how far a reading lies off
    the line, as a standard deviation with two degrees of freedom fewer than places, in cm; None for
    two places, which always lie on a line.
    """

    tape: Tape
    misfit_cm: float
    places_cm: tuple[float, ...]
    spread_cm: float | None

    def doubt_cm(self, true_cm: ArrayLike) -> Any:
        """One standard uncertainty of a length that the tape measured and the line brought back.

        true_cm: the length, cm, one or more. Returns cm. Least in the middle of the places, and
        growing beyond them, where the line is only drawn on. Raises MeasureError for two places.

        >>> round(check_tape([50, 100, 150], [51.3, 100.7, 150.2]).doubt_cm(150), 2)
        0.04
        """
        return plain(np.asarray(self._of_line_cm(true_cm)) / self._rise)

    @property
    def worn_doubt_cm(self) -> float:
        """One standard uncertainty of the worn start, in cm: of the line at no length at all."""
        return float(self._of_line_cm(0.0))

    @property
    def stretch_doubt_percent(self) -> float:
        """One standard uncertainty of the stretch, in per cent of a sound length."""
        middle = float(np.mean(self.places_cm))
        low, high = np.square(self._of_line_cm([middle, middle + 1.0]))
        # the rise is 1/(1 + s): what it is off by counts (1 + s)² times in s
        return float(100 * np.sqrt(high - low) / self._rise**2)

    @property
    def _rise(self) -> float:
        tape = self.tape
        return float(1 / ((1 + tape.stretch_percent / 100) * (1 - tape.shrink_percent / 100)))

    def _of_line_cm(self, true_cm: ArrayLike) -> Any:
        if self.spread_cm is None:
            raise MeasureError("places_cm", len(self.places_cm), "", "three places or more")
        true = np.asarray(number(true_cm, "true_cm", "cm", at_least=0.0, at_most=1e5), float)
        places = np.asarray(self.places_cm)
        off = true - places.mean()
        among = ((places - places.mean()) ** 2).sum()
        return self.spread_cm * np.sqrt(1 / places.size + off**2 / among)


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
    rise, worn = _line(true, read)
    if rise <= 0 or worn < -1e-9:
        raise MeasureError(
            "read_cm", float(worn), "cm", "readings that a worn or stretched tape could give"
        )
    off, free = read - rise * true - worn, true.size - 2
    tape = Tape(
        stretch_percent=max(100 * (1 / rise - 1), 0.0),
        shrink_percent=max(100 * (1 - 1 / rise), 0.0),
        worn_start_cm=max(worn, 0.0),
        thickness_cm=thickness_cm,
    )
    spread = float(np.sqrt((off**2).sum() / free)) if free else None
    return TapeCheck(tape, float(np.abs(off).max()), tuple(true.tolist()), spread)


def _line(true_cm: FloatArray, read_cm: FloatArray) -> tuple[float, float]:
    middle = true_cm.mean()
    rise = ((true_cm - middle) * (read_cm - read_cm.mean())).sum() / ((true_cm - middle) ** 2).sum()
    return float(rise), float(read_cm.mean() - rise * middle)
