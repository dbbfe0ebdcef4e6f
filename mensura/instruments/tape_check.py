"""A tape laid beside a reference: its stretch, what is worn off, and how well that fits."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, MeasureError, number
from mensura.instruments.tape import Tape


@dataclass(frozen=True)
class TapeCheck:
    """What a check beside a reference found.

    tape: the condition that fits best; misfit_cm: how far the worst reading lies off it, in cm.
    """

    tape: Tape
    misfit_cm: float


def check_tape(true_cm: ArrayLike, read_cm: ArrayLike, thickness_cm: float = 0.0) -> TapeCheck:
    """Stretch and worn start of a tape, from its readings beside a reference, both lying flat.

    true_cm: on the reference, two places or more, cm; read_cm: on the tape at the same places, cm;
    thickness_cm: of the band, kept for the stem; on the floor it plays no part.
    The readings' straight line by least squares: it rises by 1/(1 + stretch) and starts at what is
    worn off. Common practice, no source. Raises MeasureError for too few places, places that are
    all one, or a line that no worn, stretched tape can have.

    >>> found = check_tape([50, 100, 150], [51.3, 100.7, 150.3])
    >>> round(found.tape.stretch_percent, 2), round(found.tape.worn_start_cm, 2)
    (1.01, 1.77)
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
    misfit = float(np.abs(read - rise * true - worn).max())
    tape = Tape(
        stretch_percent=100 * (1 / rise - 1),
        worn_start_cm=max(worn, 0.0),
        thickness_cm=thickness_cm,
    )
    return TapeCheck(tape, misfit)


def _line(true_cm: FloatArray, read_cm: FloatArray) -> tuple[float, float]:
    middle = true_cm.mean()
    rise = ((true_cm - middle) * (read_cm - read_cm.mean())).sum() / ((true_cm - middle) ** 2).sum()
    return float(rise), float(read_cm.mean() - rise * middle)
