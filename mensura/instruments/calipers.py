"""Calipers: two parallel jaws read a width, the distance of two supporting lines.

One reading depends on its direction. Several are drawn together by a mean, and which mean is taken
matters: arithmetic, geometric and quadratic give three different areas from the same readings.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, MeasureError, diameter, number, plain, whole
from mensura.stems.section import Section, widths_cm

MEANS = ("arithmetic", "geometric", "quadratic")


@dataclass(frozen=True)
class Calipers:
    """Sound calipers, square and without play, that open as far as any stem needs.

    >>> from mensura.stems import Ellipse
    >>> Calipers().read(Ellipse(60, 48), [0, 90]).round(3)
    array([60., 48.])
    """

    def read(self, section: Section, directions_deg: ArrayLike) -> FloatArray:
        """Readings in cm, one for each direction of the measured width.

        section: any section, of shape S; directions_deg: k directions.
        Returns shape S + (k,).
        """
        return widths_cm(section, directions_deg)


def mean_cm(readings_cm: ArrayLike, kind: str = "arithmetic") -> Any:
    """Mean of the readings of each stem.

    readings_cm: shape (..., k), above 0, cm; kind: "arithmetic", "geometric" or "quadratic"
    (the root of the mean square). Returns cm, shape (...).
    Raises MeasureError for another kind.

    >>> [round(mean_cm([60, 48], kind), 4) for kind in MEANS]
    [54.0, 53.6656, 54.3323]
    """
    readings = np.atleast_1d(diameter(readings_cm, "readings_cm"))
    if not readings.shape[-1]:
        raise MeasureError("readings_cm", None, "cm", "at least one reading")
    if kind == "arithmetic":
        mean = readings.mean(axis=-1)
    elif kind == "geometric":
        mean = np.exp(np.log(readings).mean(axis=-1))
    elif kind == "quadratic":
        mean = np.sqrt((readings**2).mean(axis=-1))
    else:
        raise MeasureError("kind", kind, "", "one of: " + ", ".join(MEANS))
    return plain(mean)


def evenly_turned_deg(count: int, start_deg: float = 0.0) -> FloatArray:
    """Directions spread evenly over the half turn in which calipers can differ.

    count: how many, at least 1; start_deg: the first of them. Returns degrees, shape (count,).

    >>> evenly_turned_deg(2, 10).tolist()
    [10.0, 100.0]
    """
    whole_count = whole(count, "count", at_least=1, at_most=1_000_000)
    start = float(number(start_deg, "start_deg", "deg"))
    return np.linspace(start, start + 180.0, whole_count, endpoint=False, dtype=np.float64)
