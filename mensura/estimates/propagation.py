"""How the doubts of several inputs come together in one figure, in two ways.

The law of propagation of uncertainty takes the model for straight at the estimates
[GUM1995, clause 5]; the propagation of distributions draws the inputs and looks at what comes out
[JCGM101]. Beside each other they show where straight is not good enough.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import floor, inf, isnan, nan, sqrt
from typing import Any

import numpy as np

from mensura.checks import FloatArray, MeasureError, number, whole
from mensura.estimates.derivatives import next_terms, slopes_of
from mensura.estimates.distributions import Drawer, correlation_matrix, groups, standard
from mensura.estimates.distributions import InputQuantity as InputQuantity
from mensura.estimates.interval_stream import WITHIN, IntervalStream, MissedError
from mensura.instruments.line_fit import student_factor

#: Model of an input quantity: from arrays of the inputs, in their order, to the figure.
Model = Callable[..., Any]

#: So many draws at most, and so many at once: they stay in a processor's own memory.
MOST_DRAWS = 50_000_000
CHUNK = 2**16
#: Nodes of a quadrature over an input that only adds: exact to a computer's last figures.
NODES = 24
#: Fewer degrees of freedom than these leave draws without a standard deviation.
LEAST_FREEDOM = 2.0
#: So many standard errors of an interval's end are allowed for before the two ways are told apart.
SURE_ERRORS = 2.0


@dataclass(frozen=True)
class GumResult:
    """What the law of propagation says of a figure, all in the figure's own unit.

    value: at the estimates, less what a tilt adds on average; u: combined standard uncertainty;
    degrees_of_freedom: effective (Welch and Satterthwaite); k: coverage factor for 95 %, by Student
    at the next lower whole number of them [GUM1995, clause G.4.1]; expanded: k·u; sensitivities,
    contributions: one for each input; shifts: what each adds to the figure on average, taken off.
    """

    value: float
    u: float
    degrees_of_freedom: float
    k: float
    expanded: float
    sensitivities: tuple[float, ...]
    contributions: tuple[float, ...]
    shifts: tuple[float, ...] = ()


@dataclass(frozen=True)
class DrawnResult:
    """What the propagation of distributions says of a figure, all in the figure's own unit.

    value: mean of the draws; u: their standard deviation; interval: 95 %, as much left out above
    as below; draws: how many; seed: of the generator; interval_errors: standard error of each end
    for want of more draws. With an input of 2 degrees of freedom or fewer draws have no standard
    deviation: u is then not a number, and the value that of the law of propagation.
    """

    value: float
    u: float
    interval: tuple[float, float]
    draws: int
    seed: int
    interval_errors: tuple[float, float] = (nan, nan)


def propagate(
    model: Model,
    inputs: Sequence[InputQuantity],
    correlation: FloatArray | None = None,
    coverage_percent: float = 95.0,
    second_order: bool = False,
) -> GumResult:
    """The law of propagation of uncertainty [GUM1995, clause 5].

    model: of the figure; inputs: in the model's order; correlation: their matrix, None where they
    know nothing of each other; coverage_percent: of the expanded uncertainty; second_order: with
    the next terms of the series, for a model that bends [GUM1995, clause 5.1.2, note].
    Inputs that are correlated count as one, with the least of their degrees of freedom: exact where
    all come from one series of readings. A tilt has no sensitivity where it is level: the mean of
    what it does is taken off, and its standard deviation stands as its contribution.
    Raises MeasureError.

    >>> area = lambda girth: girth**2 / (4 * np.pi)
    >>> found = propagate(area, [InputQuantity("girth", "cm", 125.0, 0.5)])
    >>> round(found.value, 1), round(found.u, 2), round(found.k, 2), round(found.expanded, 1)
    (1243.4, 9.95, 1.96, 19.5)
    """
    places = np.array([one.estimate for one in inputs], dtype=np.float64)
    spreads = np.array([one.standard_uncertainty for one in inputs], dtype=np.float64)
    matrix = correlation_matrix(correlation, len(inputs))
    middle = float(model(*places))
    slopes = slopes_of(model, places, spreads)
    parts, shifts = np.abs(slopes) * spreads, np.zeros(len(inputs))
    signed = slopes * spreads
    for place, one in enumerate(inputs):
        if one.distribution == "tilt":
            if matrix is not None and np.count_nonzero(matrix[place]) > 1:
                raise MeasureError("correlation", one.name, "", "a tilt that is independent")
            slopes[place], signed[place] = 0.0, 0.0
            shifts[place], parts[place] = _bent(model, places, place, one, middle)
    squares = np.square(parts)
    variance = float(squares.sum())
    free = np.array([one.degrees_of_freedom for one in inputs])
    shared = 0.0  # Σ of each variance squared over its degrees of freedom
    for group in groups(matrix, len(inputs)):
        if len(group) > 1 and matrix is not None:
            some = np.ix_(group, group)
            together = float(signed[group] @ matrix[some] @ signed[group])
            variance += together - float(squares[group].sum())
        else:
            together = float(squares[group].sum())
        shared += max(together, 0.0) ** 2 / float(free[group].min())
    variance = max(variance, 0.0)
    effective = variance**2 / shared if shared > 0 else inf
    if second_order:
        variance += next_terms(model, places, spreads)
    u = sqrt(variance)
    k = coverage_factor(effective, coverage_percent)
    return GumResult(
        value=middle - float(shifts.sum()),
        u=u,
        degrees_of_freedom=effective,
        k=k,
        expanded=k * u,
        sensitivities=tuple(map(float, slopes)),
        contributions=tuple(map(float, parts)),
        shifts=tuple(map(float, shifts)),
    )


def _bent(
    model: Model, places: FloatArray, place: int, one: InputQuantity, middle: float
) -> tuple[float, float]:
    """What an input that only adds does to a figure: its mean, and its standard deviation."""
    nodes, weights = np.polynomial.legendre.leggauss(NODES)
    even, weights = (nodes + 1) / 2, weights / 2
    values = list(places)
    values[place] = one.estimate + one.standard_uncertainty * standard(one.distribution, even)
    off = middle - np.asarray(model(*values))
    mean = float(weights @ off)
    return mean, sqrt(float(weights @ np.square(off - mean)))


def propagate_draws(
    model: Model,
    inputs: Sequence[InputQuantity],
    correlation: FloatArray | None = None,
    draws: int = 1_000_000,
    seed: int = 1,
    coverage_percent: float = 95.0,
) -> DrawnResult:
    """The propagation of distributions, in chunks of draws, so that memory stays flat.

    model, inputs, correlation, coverage_percent: as for :func:`propagate`; draws: how many; seed:
    of the generator. Correlated inputs are normal or rectangular. Raises MeasureError [JCGM101].

    >>> four = [InputQuantity(name, "", 0.0, 1.0, "rectangular") for name in "abcd"]
    >>> found = propagate_draws(lambda *x: sum(x), four, draws=100_000)
    >>> round(found.u, 1), [round(end, 1) for end in found.interval]
    (2.0, [-3.9, 3.9])
    """
    return draw_figures(
        lambda *values: (model(*values),),
        inputs,
        correlation,
        draws=draws,
        seed=seed,
        coverage_percent=coverage_percent,
    )[0]


def draw_figures(
    models: Callable[..., Sequence[Any]],
    inputs: Sequence[InputQuantity],
    correlation: FloatArray | None = None,
    draws: int = 1_000_000,
    seed: int = 1,
    coverage_percent: float = 95.0,
    told: Callable[[int], None] | None = None,
    within: float = WITHIN,
) -> list[DrawnResult]:
    """The propagation of distributions for several figures from the same draws.

    models: from the inputs to each figure; inputs, correlation, draws, seed, coverage_percent: as
    for :func:`propagate_draws`; told: is told now and then how many are drawn; within: see
    :class:`IntervalStream`. Raises MeasureError.
    """
    count = whole(draws, "draws", at_least=100, at_most=MOST_DRAWS)
    start = whole(seed, "seed", at_least=0, at_most=2**63 - 1)
    drawer = Drawer(inputs, correlation_matrix(correlation, len(inputs)))
    while True:
        generator = np.random.default_rng(start)
        streams: list[IntervalStream] = []
        for done in range(0, count, CHUNK):
            size = min(CHUNK, count - done)
            figures = models(*drawer.draw(generator, size))
            streams = streams or [
                IntervalStream(count, coverage_percent, within=within) for _ in figures
            ]
            for stream, figure in zip(streams, figures, strict=True):
                stream.add(np.broadcast_to(np.asarray(figure, dtype=np.float64), (size,)))
            if told is not None:
                told(done + size)
        try:
            intervals = [(one.interval(), one.interval_errors()) for one in streams]
        except MissedError:
            within = 4 * within + 1
            continue
        break
    loose = any(
        one.distribution == "student" and one.degrees_of_freedom <= LEAST_FREEDOM
        for one in inputs
        if one.standard_uncertainty > 0
    )
    fixed = models(*(one.estimate for one in inputs)) if loose else ()
    return [
        DrawnResult(
            value=float(fixed[place]) if loose else stream.mean,
            u=nan if loose else stream.u,
            interval=ends,
            draws=count,
            seed=start,
            interval_errors=errors,
        )
        for place, (stream, (ends, errors)) in enumerate(zip(streams, intervals, strict=True))
    ]


def coverage_factor(degrees_of_freedom: float, coverage_percent: float = 95.0) -> float:
    """How many standard uncertainties reach to an interval's ends, by Student.

    degrees_of_freedom: cut to a whole number, at least 1, inf for a well known spread;
    coverage_percent: between the ends. [GUM1995, clause G.4.1].

    >>> [round(coverage_factor(free), 2) for free in (4, 16.7, inf)]
    [2.78, 2.12, 1.96]
    """
    share = number(coverage_percent, "coverage_percent", "%", above=0.0, below=100.0)
    free = inf if degrees_of_freedom > 1e6 else max(floor(degrees_of_freedom), 1)
    return student_factor(free, share)


def agreement(law: GumResult, drawn: DrawnResult) -> tuple[bool | None, float]:
    """Whether the two ways agree, and the tolerance: half a unit of the second figure of u.

    law, drawn: of one figure. Both ends of both intervals are compared [JCGM101, clause 8]. None
    where the draws are too few to tell: an end may lie on either side of the tolerance within two
    of its standard errors. An error that is not known counts as none.

    >>> law = GumResult(0.0, 2.0, inf, 1.96, 3.92, (), ())
    >>> agreement(law, DrawnResult(0.0, 2.0, (-3.88, 3.88), 10**6, 1))
    (True, 0.05)
    >>> agreement(law, DrawnResult(0.0, 2.0, (-3.88, 3.88), 10**4, 1, (0.03, 0.03)))
    (None, 0.05)
    """
    if not law.u > 0:
        return True, 0.0
    figures = f"{law.u:.1e}".split("e")
    tolerance = 0.5 * 10.0 ** (int(figures[1]) - 1)
    if isnan(drawn.u):
        return False, tolerance
    ends = np.array([law.value - law.expanded, law.value + law.expanded])
    off = np.abs(ends - drawn.interval)
    within = SURE_ERRORS * np.nan_to_num(np.array(drawn.interval_errors))
    if np.any(off - within > tolerance):
        return False, tolerance
    return (True if np.all(off + within <= tolerance) else None), tolerance
