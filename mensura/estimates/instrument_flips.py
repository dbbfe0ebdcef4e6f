"""Where the better instrument changes: found on the exact errors, never read off a chart.

Along one quantity (out-of-roundness, stem size, undergrowth) the number of readings that fit into
the time steps down here and there, and the calipers may open no further: those places follow in
closed form. Between them the errors are smooth curves, and where two cross is the root of their
difference, bracketed and closed in on to a billionth of the quantity's unit. Where nothing changes,
nothing is given back.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from mensura.checks import ChoiceError, FloatArray, number
from mensura.estimates.stem_scatter import WAYS
from mensura.estimates.which_instrument import (
    CALIPERS,
    MOST_READINGS,
    TAPE,
    WAYS_OF,
    Kit,
    Morning,
    most_readings,
    plot_error,
)

#: What can be moved, with its unit.
ALONG = {"out_of_round_percent": "%", "diameter_cm": "cm", "undergrowth": ""}

#: Between two steps the difference is looked at in so many places for a change of sign, and
#: wherever it comes near nought without one its least is found as well.
_LOOKS = 33


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
    [(9.416, 'tape', 'calipers')]
    >>> flips(Morning(), "diameter_cm", 45.0, 55.0)
    ()
    """
    if along not in ALONG:
        raise ChoiceError("along", along, ALONG)
    low = float(number(least, "least", ALONG[along]))
    high = float(number(greatest, "greatest", ALONG[along], above=low))
    for end in (low, high):
        replace(morning, **{along: end})  # refused under its own name, if it cannot be
    known = tuple(ways)
    inner = sorted(
        {at for kit in (tape, calipers) for at in steps(morning, kit, along) if low < at < high}
    )
    ends = [low, *inner, high]
    found: list[Flip] = []
    before = ""
    for start, stop in zip(ends, ends[1:], strict=False):
        lead = _lead(morning, along, (start + stop) / 2, tape, calipers, known)
        places = np.linspace(start, stop, _LOOKS)
        leads = np.broadcast_to(lead(places), places.shape)
        first = _better(leads[0] if leads[0] else leads[1])
        if before and first != before:
            found.append(Flip(start, before, first, sudden=True))
        before = first
        for at in _roots(lead, places, leads) if np.isfinite(leads).all() else ():
            after = {"tape": "calipers", "calipers": "tape"}[before]
            found.append(Flip(at, before, after, sudden=False))
            before = after
    return tuple(found)


def steps(morning: Morning, kit: Kit, along: str) -> tuple[float, ...]:
    """Where a reading more or less fits into the time, or calipers open no further; closed form.

    morning: the plot; kit: the instrument; along: one of ALONG. In the unit of what is moved.

    >>> [round(one, 2) for one in steps(Morning(), TAPE, "diameter_cm")][:2]
    [198.67, 77.46]
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


def _lead(
    morning: Morning, along: str, inside: float, tape: Kit, calipers: Kit, known: tuple[str, ...]
) -> Callable[[Any], Any]:
    """By how much the calipers' error is the smaller, with as many readings as fit all along."""
    middle = replace(morning, **{along: inside})
    counts = [
        (kit, way, count)
        for kit in (tape, calipers)
        for way in WAYS_OF[kit.name]
        if way in known and (count := most_readings(middle, kit, way))
    ]

    def lead(places: Any) -> Any:
        there = replace(morning, **{along: places})
        least = {"tape": np.inf, "calipers": np.inf}
        for kit, way, count in counts:
            error = plot_error(there, kit, way, count).error_percent
            least[kit.name] = np.minimum(least[kit.name], error)
        if not counts:
            return np.full(np.shape(places), np.nan)
        return least["tape"] - least["calipers"]

    return lead


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
        & (size[inner] < size.max() / 4)
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
