"""A tape card: what a check beside a reference says of one tape, or one pair of calipers.

The model is that of the rest of the package: reading = reference/(1 + stretch) + worn start for a
tape, reading = reference·(1 + scale) + zero error for calipers. Both are one straight line, reading
= rise·reference + start, found by least squares. Below stand the line, what it says of the
instrument, and the way back from a reading to the length, each with its uncertainty.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import ChoiceError, FloatArray, MeasureError, number, plain

KINDS = ("tape", "calipers")


@dataclass(frozen=True)
class CheckedMark:
    """One place of the reference, and what was read there.

    reference_cm: the length; readings_cm: one or more readings of it.
    """

    reference_cm: float
    readings_cm: tuple[float, ...]


@dataclass(frozen=True)
class Card:
    """A straight line through a check, and what it is good for.

    instrument: its code, "" for none; kind: one of KINDS; marks: where it was held against the
    reference; rise: reading for each cm of reference; start_cm: reading at no length at all;
    u_rise, u_start_cm: their standard uncertainties, None for two marks, which always lie on a
    line; correlation: of the two; degrees_of_freedom: of their spread; residual_sd_cm: of the
    readings about the line, never below what the step gives; resolution_cm: the step;
    reference_u_cm, reference_u_percent: standard uncertainty of the reference, common to all marks;
    temperature_c, pull_n: at which it holds, None if nobody said.
    """

    instrument: str
    kind: str
    marks: tuple[CheckedMark, ...]
    rise: float
    start_cm: float
    u_rise: float | None
    u_start_cm: float | None
    correlation: float | None
    degrees_of_freedom: float
    residual_sd_cm: float | None
    resolution_cm: float = 0.0
    reference_u_cm: float = 0.0
    reference_u_percent: float = 0.0
    temperature_c: float | None = None
    pull_n: float | None = None

    def true_cm(self, reading_cm: ArrayLike) -> Any:
        """The length that a reading means.

        reading_cm: one or more, cm. Returns cm.

        >>> round(card([50, 100, 150], [51.0, 100.5, 150.0]).true_cm(100.5), 6)
        100.0
        """
        reading = number(reading_cm, "reading_cm", "cm", above=0.0, at_most=20000.0)
        return plain((np.asarray(reading) - self.start_cm) / self.rise)

    def u_true_cm(self, reading_cm: ArrayLike) -> Any:
        """Standard uncertainty of that length, from the line alone, in cm; None for two marks.

        reading_cm: one or more, cm. The reading's own spread and step are not in it.
        """
        if self.u_rise is None or self.u_start_cm is None or self.correlation is None:
            return None
        true = np.asarray(self.true_cm(reading_cm))
        common = 2 * true * self.correlation * self.u_rise * self.u_start_cm
        line = np.square(true * self.u_rise) + self.u_start_cm**2 + common
        return plain(np.sqrt(np.maximum(line, 0.0)) / self.rise)

    def drawn_on(self, reading_cm: ArrayLike) -> Any:
        """Whether a reading lies outside the marks, where the line is only drawn on.

        reading_cm: one or more, cm. Returns true or false, one for each.
        """
        true = np.asarray(self.true_cm(reading_cm))
        places = [one.reference_cm for one in self.marks]
        return plain((true < min(places)) | (true > max(places)))

    @property
    def stretch_percent(self) -> float:
        """By how much a tape's marks have moved apart; below 0: together."""
        return 100 * (1 / self.rise - 1)

    @property
    def scale_percent(self) -> float:
        """By how much calipers read too much for each cm."""
        return 100 * (self.rise - 1)


def card(
    reference_cm: ArrayLike,
    reading_cm: ArrayLike,
    *,
    kind: str = "tape",
    instrument: str = "",
    resolution_cm: float | None = None,
    reference_u_cm: float = 0.0,
    reference_u_percent: float = 0.0,
    temperature_c: float | None = None,
    pull_n: float | None = None,
) -> Card:
    """A card from readings beside a reference, repeats welcome.

    reference_cm, reading_cm: one for one, shape (n,), cm; kind: one of KINDS; instrument: its code;
    resolution_cm: the step of the readings, found from their figures if None; reference_u_cm,
    reference_u_percent: standard uncertainty of the reference; temperature_c, pull_n: at which it
    was read. Raises MeasureError for fewer than two different places, or a line that falls.

    >>> found = card([50, 100, 150], [51.3, 100.7, 150.2], resolution_cm=0.0)
    >>> round(found.stretch_percent, 2), round(found.start_cm, 2)
    (1.11, 1.83)
    """
    if kind not in KINDS:
        raise ChoiceError("kind", kind, KINDS)
    true, read = (
        np.atleast_1d(np.asarray(number(values, name, "cm", above=0.0, at_most=20000.0), float))
        for values, name in ((reference_cm, "reference_cm"), (reading_cm, "reading_cm"))
    )
    if true.shape != read.shape or true.ndim != 1 or np.ptp(true) == 0:
        raise MeasureError("reference_cm", true.size, "", "two different places or more")
    step = 0.0 if resolution_cm is None else float(resolution_cm)
    rise, start = _line(true, read)
    places = np.unique(true)
    free, among = true.size - 2, float(((true - true.mean()) ** 2).sum())
    spread = u_rise = u_start = correlation = None
    if places.size > 2 and free > 0:
        off = read - rise * true - start
        spread = float(np.sqrt(max((off**2).sum() / free, step**2 / 12)))
        u_rise = spread / np.sqrt(among)
        u_start = spread * float(np.sqrt(1 / true.size + true.mean() ** 2 / among))
        correlation = float(-true.mean() * u_rise / u_start)
    return Card(
        instrument=instrument,
        kind=kind,
        marks=tuple(CheckedMark(float(one), tuple(read[true == one].tolist())) for one in places),
        rise=rise,
        start_cm=start,
        u_rise=u_rise,
        u_start_cm=u_start,
        correlation=correlation,
        degrees_of_freedom=free,
        residual_sd_cm=spread,
        resolution_cm=step,
        reference_u_cm=reference_u_cm,
        reference_u_percent=reference_u_percent,
        temperature_c=temperature_c,
        pull_n=pull_n,
    )


def _line(true_cm: FloatArray, read_cm: FloatArray) -> tuple[float, float]:
    middle = true_cm.mean()
    among = ((true_cm - middle) ** 2).sum()
    rise = ((true_cm - middle) * (read_cm - read_cm.mean())).sum() / among
    return float(rise), float(read_cm.mean() - rise * middle)
