"""A tape card: what a check beside a reference says of one tape, or one pair of calipers.

The model is that of the rest of the package: reading = reference/(1 + stretch) + worn start for a
tape, reading = reference·(1 + scale) + zero error for calipers. Both are one straight line, reading
= rise·reference + start, found by least squares (:mod:`mensura.instruments.line_fit`). Below stand
the line, what it says of the instrument, and the way back from a reading to the length, each with
its uncertainty. What the reference itself may be off is common to all marks: it is added to the
line's own doubt, and no number of marks makes it smaller [GUM1995, example H.3.6, from memory].
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import ChoiceError, FloatArray, MeasureError, number, plain
from mensura.instruments.line_fit import (
    LackOfFit,
    fit_line,
    lack_of_fit,
    resolution_of_cm,
    student_factor,
)
from mensura.instruments.materials import REFERENCE_C, known_expansion_per_c

KINDS = ("tape", "calipers")

#: A check with more rows is none: it was taken for one.
MOST_READINGS = 10_000


@dataclass(frozen=True)
class CheckedMark:
    """One place of the reference, and what was read there.

    reference_cm: the length; readings_cm: one or more readings of it.
    """

    reference_cm: float
    readings_cm: tuple[float, ...]

    @property
    def error_cm(self) -> float:
        """Mean reading less reference, cm."""
        return float(np.mean(self.readings_cm)) - self.reference_cm


@dataclass(frozen=True)
class Card:
    """A straight line through a check, and what it is good for.

    instrument: its code, "" for none; kind: one of KINDS; marks: where it was held against the
    reference; rise: reading for each cm of reference; start_cm: reading at no length at all, below
    nought where the start stands forward; u_rise, u_start_cm: their standard uncertainties, the
    reference's own in them, None for two marks, which always lie on a line; correlation: of those
    two; degrees_of_freedom: of the spread; residual_sd_cm: of the readings about the line, never
    below step/√12; taken_sd_cm: with which the line's doubts are worked out, larger than that where
    repeats would rid the step, or marks share it; resolution_cm: the step; reference_u_cm,
    reference_u_percent: standard uncertainty of the reference, common to all marks; temperature_c,
    pull_n: at which it holds, None if nobody said; expansion_per_c: with which the readings were
    brought to that temperature, None if they were not.
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
    taken_sd_cm: float | None = None
    expansion_per_c: float | None = None

    # ---- from a reading to the length ----------------------------------------------------------

    def true_cm(self, reading_cm: ArrayLike) -> Any:
        """The length that a reading means.

        reading_cm: one or more, cm. Returns cm.

        >>> round(card([50, 100, 150], [51.0, 100.5, 150.0]).true_cm(100.5), 6)
        100.0
        """
        reading = number(reading_cm, "reading_cm", "cm", above=0.0, at_most=20000.0)
        return plain((np.asarray(reading) - self.start_cm) / self.rise)

    def u_true_cm(self, reading_cm: ArrayLike) -> Any:
        """Standard uncertainty of that length, from the card alone, in cm; None for two marks.

        reading_cm: one or more, cm. The reading's own spread and step are not in it.
        """
        if self.u_rise is None or self.u_start_cm is None or self.correlation is None:
            return None
        true = np.asarray(self.true_cm(reading_cm))
        common = 2 * true * self.correlation * self.u_rise * self.u_start_cm
        both = np.square(true * self.u_rise) + self.u_start_cm**2 + common
        return plain(np.sqrt(np.maximum(both, 0.0)) / self.rise)

    def expanded_cm(self, reading_cm: ArrayLike) -> Any:
        """Half the width of the length's 95 % interval, from the card alone; None for two marks.

        reading_cm: one or more, cm. Student's factor, with :meth:`degrees_of_freedom_at`.
        """
        u, free = self.u_true_cm(reading_cm), self.degrees_of_freedom_at(reading_cm)
        if u is None:
            return None
        factors = [student_factor(one) for one in np.ravel(free)]
        return plain(np.reshape(factors, np.shape(free)) * u)

    def degrees_of_freedom_at(self, reading_cm: ArrayLike) -> Any:
        """Effective degrees of freedom of a length's uncertainty; None for two marks.

        reading_cm: one or more, cm. Those of the line, and more where the reference's own part is
        added, which has none to lose (Welch and Satterthwaite) [GUM1995, clause G.4, from memory].
        """
        u = self.u_true_cm(reading_cm)
        if u is None:
            return None
        true = np.asarray(self.true_cm(reading_cm))
        given = np.square(self.reference_u_cm) + np.square(true * self.reference_u_percent / 100)
        return plain(self._free(np.square(u) - given, np.square(u)))

    def drawn_on(self, reading_cm: ArrayLike) -> Any:
        """Whether a reading lies outside the marks, where the line is only drawn on.

        reading_cm: one or more, cm. Returns true or false, one for each.
        """
        true = np.round(np.asarray(self.true_cm(reading_cm)), 6)
        read = np.asarray(reading_cm)
        places = [one.reference_cm for one in self.marks]
        told = [reading for one in self.marks for reading in one.readings_cm]
        # a reading that the check itself has is not outside, wherever its line puts it
        low = (true < min(places)) & (read < min(told))
        high = (true > max(places)) & (read > max(told))
        outside = low | high
        return bool(outside) if np.ndim(outside) == 0 else outside

    # ---- the instrument ------------------------------------------------------------------------

    @property
    def stretch_percent(self) -> float:
        """By how much a tape's marks have moved apart; below 0: together."""
        return 100 * (1 / self.rise - 1)

    @property
    def stretch_u_percent(self) -> float | None:
        """Its standard uncertainty: what the rise is off by counts 1/rise² times; None for two."""
        return None if self.u_rise is None else 100 * self.u_rise / self.rise**2

    @property
    def stretch_interval_percent(self) -> tuple[float, float] | None:
        """Its 95 % interval; None for two marks."""
        return self._interval(
            self.stretch_percent, self.stretch_u_percent, self.stretch_degrees_of_freedom
        )

    @property
    def scale_percent(self) -> float:
        """By how much calipers read too much for each cm."""
        return 100 * (self.rise - 1)

    @property
    def scale_u_percent(self) -> float | None:
        """Its standard uncertainty; None for two marks."""
        return None if self.u_rise is None else 100 * self.u_rise

    @property
    def scale_interval_percent(self) -> tuple[float, float] | None:
        """Its 95 % interval; None for two marks."""
        return self._interval(
            self.scale_percent, self.scale_u_percent, self.stretch_degrees_of_freedom
        )

    @property
    def start_interval_cm(self) -> tuple[float, float] | None:
        """95 % interval of the worn start, or of the calipers' zero error; None for two marks."""
        return self._interval(self.start_cm, self.u_start_cm, self.start_degrees_of_freedom)

    def lack_of_fit(self) -> LackOfFit | None:
        """The test whether a straight line will do; None where nothing was repeated."""
        true, read = columns_cm(self.marks)
        return lack_of_fit(true, read, self.resolution_cm)

    # ---- what was found, together ----------------------------------------------------------------

    @property
    def found_correlation(self) -> float | None:
        """Of stretch and worn start, for calipers of scale and zero error; None for two marks.

        A stretch falls where the rise grows, so a tape's has the other sign than `correlation`.
        """
        if self.correlation is None:
            return None
        return -self.correlation if self.kind == "tape" else self.correlation

    @property
    def stretch_degrees_of_freedom(self) -> float | None:
        """Effective degrees of freedom of the stretch, or of the scale; None for two marks.

        More than the line's where the reference's own uncertainty is added, as of a length.
        """
        if self.u_rise is None:
            return None
        every = np.square(self.u_rise)
        given = np.square(self.rise * self.reference_u_percent / 100)
        return float(self._free(every - given, every))

    @property
    def start_degrees_of_freedom(self) -> float | None:
        """The same of the worn start, or of the zero error."""
        if self.u_start_cm is None:
            return None
        every = np.square(self.u_start_cm)
        return float(self._free(every - np.square(self.rise * self.reference_u_cm), every))

    def _free(self, line: Any, every: Any) -> Any:
        """Effective degrees of freedom of a variance of which only a part comes from the line."""
        share = np.where(every > 0, line / np.where(every > 0, every, 1.0), 1.0)
        # below a hundred-thousandth nobody could tell the factor from the normal curve's
        return self.degrees_of_freedom / np.square(np.clip(share, 1e-5, 1.0))

    @staticmethod
    def _interval(value: float, u: float | None, free: float | None) -> tuple[float, float] | None:
        if u is None or free is None:
            return None
        half = student_factor(free) * u
        return value - half, value + half


def card(
    reference_cm: ArrayLike,
    reading_cm: ArrayLike,
    *,
    kind: str = "tape",
    instrument: str = "",
    resolution_cm: float | None = None,
    reference_u_cm: float = 0.0,
    reference_u_percent: float = 0.0,
    temperature_c: ArrayLike | None = None,
    pull_n: ArrayLike | None = None,
    material: str | None = None,
    expansion_per_c: float | None = None,
) -> Card:
    """A card from readings beside a reference, repeats welcome.

    reference_cm, reading_cm: one for one, shape (n,), cm; kind: one of KINDS; instrument: its code;
    resolution_cm: the step of the readings, 0 for none, found from their figures if None;
    reference_u_cm, reference_u_percent: standard uncertainty of the reference; temperature_c: at
    which it was read, one for all or one a reading; pull_n: the same, and their mean is kept;
    material, expansion_per_c: of the band; with one of them the readings are brought to 20 °C, and
    temperatures may differ. Raises MeasureError for fewer than two different places, a line that
    falls, or temperatures that differ where nothing says how the band lengthens.

    >>> found = card([50, 100, 150], [51.3, 100.7, 150.2], resolution_cm=0.0)
    >>> round(found.stretch_percent, 2), round(found.start_cm, 2), round(found.u_start_cm, 2)
    (1.11, 1.83, 0.06)
    """
    if kind not in KINDS:
        raise ChoiceError("kind", kind, KINDS)
    true, read = (
        np.atleast_1d(np.asarray(number(values, name, "cm", above=0.0, at_most=20000.0), float))
        for values, name in ((reference_cm, "reference_cm"), (reading_cm, "reading_cm"))
    )
    if true.shape != read.shape or true.ndim != 1 or not 1 < true.size <= MOST_READINGS:
        raise MeasureError("reference_cm", true.size, "", "two different places or more")
    if np.ptp(true) == 0:
        raise MeasureError("reference_cm", float(true[0]), "cm", "two different places or more")
    step = (
        resolution_of_cm(read)
        if resolution_cm is None
        else number(resolution_cm, "resolution_cm", "cm", at_least=0.0, at_most=100.0)
    )
    off_cm = number(reference_u_cm, "reference_u_cm", "cm", at_least=0.0, at_most=1000.0)
    off_percent = number(reference_u_percent, "reference_u_percent", "%", at_least=0.0, at_most=50)
    at_c, warmth, read = _brought(true, read, temperature_c, _expansion(material, expansion_per_c))
    pull = None if pull_n is None else number(pull_n, "pull_n", "N", at_least=0.0, at_most=10000.0)
    line = fit_line(true, read, step)
    if not line.rise > 0:
        raise MeasureError("reading_cm", float(read[-1]), "cm", "readings that rise with reference")
    u_rise = u_start = correlation = spread = taken = None
    if line.places > 2:
        spread, taken = max(line.spread_cm, step / np.sqrt(12)), line.taken_cm
        common = line.correlation * line.u_rise * line.u_start_cm
        u_rise = float(np.hypot(line.u_rise, line.rise * off_percent / 100))
        u_start = float(np.hypot(line.u_start_cm, line.rise * off_cm))
        both = u_rise * u_start
        correlation = float(common / both) if both > 0 else line.correlation
    return Card(
        instrument=instrument,
        kind=kind,
        marks=tuple(
            CheckedMark(float(one), tuple(read[true == one].tolist())) for one in np.unique(true)
        ),
        rise=line.rise,
        start_cm=line.start_cm,
        u_rise=u_rise,
        u_start_cm=u_start,
        correlation=correlation,
        degrees_of_freedom=line.degrees_of_freedom,
        residual_sd_cm=None if spread is None else float(spread),
        resolution_cm=float(step),
        reference_u_cm=off_cm,
        reference_u_percent=off_percent,
        temperature_c=at_c,
        pull_n=None if pull is None else float(np.mean(pull)),
        taken_sd_cm=taken,
        expansion_per_c=warmth,
    )


def columns_cm(marks: tuple[CheckedMark, ...]) -> tuple[FloatArray, FloatArray]:
    """References and readings, one for one, in cm.

    marks: of a card.

    >>> columns_cm((CheckedMark(50.0, (51.0, 51.1)),))[0].tolist()
    [50.0, 50.0]
    """
    pairs = [(one.reference_cm, reading) for one in marks for reading in one.readings_cm]
    true, read = np.asarray(pairs, dtype=np.float64).T
    return true, read


def _expansion(name: str | None, expansion_per_c: float | None) -> float | None:
    if expansion_per_c is not None:
        return float(number(expansion_per_c, "expansion_per_c", "", above=-0.001, below=0.001))
    if name is None:
        return None
    return known_expansion_per_c(name)


def _brought(
    true: FloatArray, read: FloatArray, temperature_c: ArrayLike | None, expansion: float | None
) -> tuple[float | None, float | None, FloatArray]:
    """The temperature that holds, the expansion that was used, and the readings at it."""
    if temperature_c is None:
        return None, None, read
    told = number(temperature_c, "temperature_c", "°C", at_least=-60.0, at_most=80.0)
    degrees = np.broadcast_to(np.asarray(told, dtype=np.float64), true.shape)
    if expansion is None:
        if np.ptp(degrees) > 0:
            low, high = float(degrees.min()), float(degrees.max())
            raise MeasureError(
                "temperature_c",
                f"{low:g} to {high:g} °C",
                "",
                "one temperature, or beside it material or expansion_per_c, to bring all to one",
            )
        return float(degrees[0]), None, read
    warmed = 1 + expansion * (degrees - REFERENCE_C)
    # a warm band tells a reference as it would a shorter one: the line is drawn through those
    line = fit_line(true / warmed, read)
    return REFERENCE_C, expansion, read + line.rise * (true - true / warmed)
