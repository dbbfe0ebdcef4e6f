"""Where the better instrument changes: found on the exact errors, never read off a chart.

Along one quantity (out-of-roundness, stem size, undergrowth) the number of readings that fit into
the time steps down here and there, and the calipers may open no further: those places follow in
closed form. Between them the errors are smooth curves, and where two cross is the root of their
difference, bracketed and closed in on to a billionth of the quantity's unit. Where nothing changes,
nothing is given back.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from math import sqrt
from typing import Any

import numpy as np

from mensura.checks import ChoiceError, FloatArray, number
from mensura.estimates.stem_scatter import WAYS, oval_widths, stem_scatter
from mensura.estimates.which_instrument import (
    CALIPERS,
    MOST_READINGS,
    TAPE,
    WAYS_OF,
    Kit,
    Morning,
    most_readings,
)

#: What can be moved, with its unit.
ALONG = {"out_of_round_percent": "%", "diameter_cm": "cm", "undergrowth": ""}

#: Between two steps the difference is looked at in so many places for a change of sign, and
#: wherever it comes near nought without one its least is found as well.
_LOOKS = 33
_SHARES = np.linspace(0.0, 1.0, _LOOKS)


@dataclass(frozen=True)
class Flip:
    """A place at which the better instrument changes.

    at: in the unit of what is moved; before, after: "tape", "calipers" or "neither", below it and
    above it; sudden: whether the error jumps there, because a reading more no longer fits into the
    time or the calipers open no further; else both errors are the same there.
    """

    at: float
    before: str
    after: str
    sudden: bool


def flips(
    morning: Morning,
    along: str = "out_of_round_percent",
    least: float = 0.0,
    greatest: float = 40.0,
    *,
    tape: Kit = TAPE,
    calipers: Kit = CALIPERS,
    ways: Iterable[str] = tuple(WAYS),
) -> tuple[Flip, ...]:
    """Every place between two ends at which the better instrument changes, from below.

    morning: the plot, whose own value of what is moved does not matter; along: one of ALONG; least,
    greatest: the ends, in its unit; tape, calipers: the instruments; ways: that the crew knows.
    Nothing is found where one instrument is better all along. Raises MeasureError.

    >>> [(round(one.at, 3), one.before, one.after) for one in flips(Morning())]
    [(9.7, 'tape', 'calipers')]
    >>> flips(Morning(), "diameter_cm", 45.0, 55.0)
    ()
    """
    if along not in ALONG:
        raise ChoiceError("along", along, ALONG)
    low = float(number(least, "least", ALONG[along]))
    high = float(number(greatest, "greatest", ALONG[along], above=low))
    for end in (low, high):
        _moved(morning, along, end)  # refused under its own name, if it cannot be
    inner = sorted(
        {at for kit in (tape, calipers) for at in steps(morning, kit, along) if low < at < high}
    )
    ends = np.array([low, *inner, high])
    places = ends[:-1, None] + np.diff(ends)[:, None] * _SHARES
    error = _Errors(morning, along, (tape, calipers), tuple(ways))
    # the number of readings is the same all along a stretch
    counts = error.counts(places[:, _LOOKS // 2])
    leads = error.leads(places, [count[:, None] for count in counts])
    crossed = _may_cross(leads)
    found: list[Flip] = []
    before = ""
    for at, (stretch, lead) in enumerate(zip(places, leads, strict=True)):
        first = _better(lead[0] if lead[0] else lead[1])
        if before and first != before:
            found.append(Flip(float(stretch[0]), before, first, sudden=True))
        before = first
        if crossed[at]:
            own = [int(count[at]) for count in counts]
            for root in _roots(partial(error.lead, counts=own), stretch, lead):
                after = {"tape": "calipers", "calipers": "tape"}[before]
                found.append(Flip(root, before, after, sudden=False))
                before = after
    return tuple(found)


def steps(morning: Morning, kit: Kit, along: str) -> tuple[float, ...]:
    """Where a reading more or less fits into the time, or calipers open no further; closed form.

    morning: the plot; kit: the instrument; along: one of ALONG. In the unit of what is moved.

    >>> [round(one, 2) for one in steps(Morning(), TAPE, "diameter_cm")][:2]
    [218.37, 85.44]
    """
    found = []
    ratio = morning.axis_ratio
    if kit.opening_cm is not None:
        if along == "diameter_cm":
            found.append(float(kit.opening_cm * np.sqrt(ratio)))
        elif along == "out_of_round_percent" and morning.diameter_cm < kit.opening_cm:
            found.append(float(100 * ((kit.opening_cm / morning.diameter_cm) ** 2 - 1)))
    for count in range(1, MOST_READINGS + 1):
        if along == "diameter_cm" and kit.per_10_cm_min > 0:
            each = (morning.a_stem_min - morning.walked_min) / count
            bare = each / (1 + kit.brush_share * morning.undergrowth)
            found.append(float(10 * (bare - kit.reading_min) / kit.per_10_cm_min))
        elif along == "undergrowth":
            bare = count * kit.minutes_a_reading_min(morning.diameter_cm, 0.0)
            slower = morning.brush_walk_min + bare * kit.brush_share
            if slower > 0:
                found.append(float((morning.a_stem_min - morning.walk_min - bare) / slower))
    return tuple(found)


def _moved(morning: Morning, along: str, places: Any) -> Morning:
    changed: dict[str, Any] = {along: places}
    return replace(morning, **changed)


class _Errors:
    """The errors of both instruments along one quantity, with given numbers of readings."""

    def __init__(
        self, morning: Morning, along: str, kits: Sequence[Kit], known: Collection[str]
    ) -> None:
        self.morning, self.along = morning, along
        self.rows = [(kit, way) for kit in kits for way in WAYS_OF[kit.name] if way in known]

    def counts(self, places: FloatArray) -> list[Any]:
        """How often a stem can be read there, a row for each instrument and way."""
        there = _moved(self.morning, self.along, places)
        fits = [most_readings(there, kit, way) for kit, way in self.rows]
        return [np.broadcast_to(fit, places.shape) for fit in fits]

    def leads(self, places: FloatArray, counts: Sequence[Any]) -> FloatArray:
        """By how much the calipers' error is the smaller; ±inf where one alone can be used."""
        least: dict[str, Any] = {"tape": np.inf, "calipers": np.inf}
        squares = self._squares(places, [np.maximum(count, 1) for count in counts])
        for (kit, _), count, square in zip(self.rows, counts, squares, strict=True):
            square = np.where(count, np.maximum(square, 0.0), np.inf)
            least[kit.name] = np.minimum(least[kit.name], square)
        with np.errstate(invalid="ignore"):  # neither of them: infinite less infinite
            lead = np.sqrt(least["tape"]) - np.sqrt(least["calipers"])
        return np.broadcast_to(lead, places.shape)

    def lead(self, place: float, counts: Sequence[int]) -> float:
        """The same at one place, where both can be used."""
        least = {"tape": np.inf, "calipers": np.inf}
        squares = self._squares(place, counts)
        for (kit, _), count, square in zip(self.rows, counts, squares, strict=True):
            if count:
                least[kit.name] = min(least[kit.name], max(float(square), 0.0))
        return sqrt(least["tape"]) - sqrt(least["calipers"])

    def _squares(self, places: Any, counts: Sequence[Any]) -> Iterator[Any]:
        """Mean square errors, a row for each instrument and way; nought where there is no reading.

        Numbers stay plain numbers: they are several times quicker than arrays of one.
        """
        plot, along = self.morning, self.along
        size = places if along == "diameter_cm" else plot.diameter_cm
        ratio = 1 / (1 + places / 100) if along == "out_of_round_percent" else plot.axis_ratio
        oval = oval_widths(ratio)
        for (kit, way), count in zip(self.rows, counts, strict=True):
            if isinstance(count, int) and not count:
                yield 0.0
                continue
            whole = kit.round_cm * size
            one = stem_scatter(oval, way, count, kit.hand_cm / whole)
            yield one.mean_square_share(kit.common_cm / whole, plot.stem_count)


def _may_cross(leads: FloatArray) -> Any:
    """Which stretches hold a change of sign, or come near enough to nought for two of them."""
    whole = np.isfinite(leads).all(axis=-1)
    size = np.abs(np.where(np.isfinite(leads), leads, 1.0))
    changes = leads.min(axis=-1) * leads.max(axis=-1) <= 0
    inner = size[:, 1:-1]
    dips = (inner <= size[:, :-2]) & (inner <= size[:, 2:]) & _near(size)
    return whole & (changes | dips.any(axis=-1))


def _near(size: FloatArray) -> Any:
    return size[..., 1:-1] < size.max(axis=-1, keepdims=True) / 4


def _better(lead: float) -> str:
    if np.isnan(lead):
        return "neither"
    return "calipers" if lead > 0 else "tape"


def _roots(lead: Callable[[Any], Any], places: FloatArray, leads: FloatArray) -> list[float]:
    """Where the lead changes its sign, from below."""
    from scipy.optimize import brentq, minimize_scalar

    places, leads = _with_dips(lead, places, leads, minimize_scalar)
    # where it is just nought the stretches on both sides are one
    places, leads = places[leads != 0], leads[leads != 0]
    changes = np.flatnonzero(leads[:-1] * leads[1:] < 0)
    return [
        float(brentq(lead, places[at], places[at + 1], xtol=1e-12, rtol=1e-14)) for at in changes
    ]


def _with_dips(
    lead: Callable[[Any], Any], places: FloatArray, leads: FloatArray, minimize: Any
) -> tuple[FloatArray, FloatArray]:
    """The same places, and between them the bottoms of dips that reach across nought."""
    size = np.abs(leads)
    sign = np.sign(leads)
    inner = np.arange(1, len(places) - 1)
    dips = inner[
        (size[inner] <= size[inner - 1])
        & (size[inner] <= size[inner + 1])
        & (sign[inner] == sign[inner - 1])
        & (sign[inner] == sign[inner + 1])
        & _near(size)
    ]
    more = []
    for at in dips:
        side = sign[at]
        low = minimize(
            lambda place, side=side: float(side * lead(place)),
            bounds=(places[at - 1], places[at + 1]),
            method="bounded",
            options={"xatol": 1e-9},
        )
        if low.fun < 0:
            more.append(float(low.x))
    if not more:
        return places, leads
    together = np.sort(np.concatenate([places, more]))
    return together, np.asarray(lead(together))
