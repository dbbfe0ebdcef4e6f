"""One straight line by least squares, and how far the reading's step lets it be known.

Readings of one tape, or of many tapes at the same marks at once: reading = rise·reference + start.
The spread about the line says how sure rise and start are, by the textbook formulas
(from memory).
It is never taken below what rounding to a step gives: the mean of each mark keeps a standard
uncertainty of step/√12, however often it is read, so that n readings at every mark count at least
as a spread of √n·step/√12.

Marks whose readings lie at the same place between two graduations share that error, and marks at
even distances may do so in turn. Fourier's series of a sawtooth, summed over the marks with the
weights that they have in the line, gives the variance of that; the greatest within two standard
uncertainties of the rise is taken, since the rise itself is what is not known. A hand of standard
deviation σ blurs what is shared by exp(−4π²k²σ²/step²) in the k-th wave; what is no longer shared
stays with each mark by itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, kept, number, plain

#: Waves of the sawtooth that are summed one by one, and how many rises are tried.
WAVES, RISES = 6, 7


@dataclass(frozen=True)
class LineFit:
    """A line, or many at the same marks.

    rise: reading for each cm of reference; start_cm: reading at no length at all; spread_cm: of the
    readings about the line, a standard deviation with count − 2 degrees of freedom, nought for two
    readings; taken_cm: the same, never below what the step gives, with which the doubts below are
    worked out; count: of readings; places: how many different marks; middle_cm: mean of the
    references; among_cm2: sum of squares about it.
    """

    rise: Any
    start_cm: Any
    spread_cm: Any
    taken_cm: Any
    count: int
    places: int
    middle_cm: float
    among_cm2: float

    @property
    def degrees_of_freedom(self) -> int:
        """Readings less the two numbers that the line took from them."""
        return self.count - 2

    @property
    def u_rise(self) -> Any:
        """Standard uncertainty of the rise."""
        return plain(np.asarray(self.taken_cm) / np.sqrt(self.among_cm2))

    @property
    def u_start_cm(self) -> Any:
        """Standard uncertainty of the start."""
        return self.u_line_cm(0.0)

    @property
    def correlation(self) -> float:
        """Of rise and start: below 0, since a line turns about its middle."""
        rise, start = 1 / np.sqrt(self.among_cm2), self._share_at(0.0)
        return float(-self.middle_cm * rise / start)

    def u_line_cm(self, true_cm: ArrayLike) -> Any:
        """Standard uncertainty of the line's height at a reference, cm.

        true_cm: one or more, cm. For many lines of one reference, or one line of many.
        """
        return plain(np.asarray(self.taken_cm) * self._share_at(true_cm))

    def _share_at(self, true_cm: ArrayLike) -> Any:
        off = np.asarray(true_cm, dtype=np.float64) - self.middle_cm
        return np.sqrt(1 / self.count + off**2 / self.among_cm2)


@dataclass(frozen=True)
class LackOfFit:
    """Whether a straight line will do, where readings were repeated.

    f: mean square of the marks' means about the line over that of the repeats; between, within:
    their degrees of freedom; p: how often chance alone gives as much or more.
    """

    f: float
    between: int
    within: int
    p: float

    @property
    def will_do(self) -> bool:
        """Whether nothing speaks against the line: chance gives as much in five of a hundred."""
        return self.p >= 0.05


def fit_line(true_cm: ArrayLike, read_cm: ArrayLike, resolution_cm: float = 0.0) -> LineFit:
    """The line of least squares through readings.

    true_cm: references, shape (n,), two different ones or more, repeats welcome, cm; read_cm: shape
    (..., n), cm; resolution_cm: step of the readings, 0 for none. Formulas of a line: textbooks,
    from memory; of the step: this module's opening, after [GUM1995, clause F.2.2.1].

    >>> line = fit_line([50, 100, 150], [51.3, 100.7, 150.2])
    >>> round(line.rise, 4), round(line.start_cm, 4), round(line.spread_cm, 4)
    (0.989, 1.8333, 0.0408)
    """
    true, read = np.asarray(true_cm, float), np.asarray(read_cm, float)
    places, home, counts = np.unique(true, return_inverse=True, return_counts=True)
    count, middle = true.size, float(true.mean())
    off = true - middle
    among = float((off**2).sum())
    means = read.mean(axis=-1)
    rise = ((read - means[..., None]) * off).sum(axis=-1) / among
    start = means - rise * middle
    left = read - rise[..., None] * true - start[..., None]
    spread = np.sqrt((left**2).sum(axis=-1) / max(count - 2, 1)) if count > 2 else 0.0 * rise
    taken = np.asarray(spread)
    if resolution_cm > 0 and count > 2:
        hand = _hand_in_steps(read, home, counts, taken, resolution_cm)
        weights = _weights(counts, places, middle, among)
        shares = np.array([1 / count + middle**2 / among, 1 / among])
        many, rises, hands = (np.atleast_1d(one) for one in (taken, rise, hand))
        floor = _floor(many, rises, hands, places - middle, weights, shares, resolution_cm)
        taken = np.maximum(taken, floor if np.ndim(rise) else floor[0])
    return LineFit(
        plain(rise), plain(start), plain(spread), plain(taken), count, places.size, middle, among
    )


def lack_of_fit(
    true_cm: ArrayLike, read_cm: ArrayLike, resolution_cm: float = 0.0
) -> LackOfFit | None:
    """The F test of a straight line against the marks' own means: textbooks, from memory.

    true_cm, read_cm: as for :func:`fit_line`, of one tape; resolution_cm: step of the readings:
    what it leaves in common to a mark's repeats counts as theirs. None where nothing was repeated,
    where there are but two marks, or where repeats show no spread at all.

    >>> found = lack_of_fit([50, 50, 100, 100, 150, 150], [50.1, 50.3, 101, 101.2, 150.2, 150.4])
    >>> round(found.f, 2), found.between, found.within, round(found.p, 3)
    (48.17, 1, 3, 0.006)
    """
    from scipy.special import fdtrc

    true, read = np.asarray(true_cm, float), np.asarray(read_cm, float)
    places, home, counts = np.unique(true, return_inverse=True, return_counts=True)
    between, within = places.size - 2, true.size - places.size
    if between < 1 or within < 1:
        return None
    line = fit_line(true, read)
    own = np.bincount(home, read) / counts
    about = (counts * (own - line.rise * places - line.start_cm) ** 2).sum() / between
    repeats = ((read - own[home]) ** 2).sum() / within
    common = 0.0
    if resolution_cm > 0:
        hand = _hand_in_steps(read, home, counts, np.asarray(line.spread_cm), resolution_cm)
        each = (true.size - (counts**2).sum() / true.size) / (places.size - 1)
        common = float(each * resolution_cm**2 * shared_variance(hand))
    if repeats + common <= 0:
        return None
    f = float(about / (repeats + common))
    return LackOfFit(f, between, within, float(fdtrc(between, within, f)))


def resolution_of_cm(readings_cm: ArrayLike) -> float:
    """The step of readings, as their figures tell it: 1, 0.5, 0.1, 0.05 cm and so on; cm.

    readings_cm: one or more, cm. Noughts at the end count for nothing. 0 where there are more than
    six figures after the point: no hand wrote them. Common practice, no source.

    >>> [resolution_of_cm(one) for one in ([51.3, 100.7], [51.0, 100.5], [51, 100])]
    [0.1, 0.5, 1.0]
    """
    from decimal import Decimal

    values = np.atleast_1d(number(readings_cm, "readings_cm", "cm")).ravel().tolist()
    written = [Decimal(repr(one)).normalize() for one in values]
    digits = max((-int(one.as_tuple().exponent) for one in written), default=0)
    if digits > 6:
        return 0.0
    steps = [int(one.scaleb(max(digits, 0))) for one in written]
    if digits > 0 and all(one % 5 == 0 for one in steps):
        return float(5 / 10**digits)
    return float(1 / 10 ** max(digits, 0))


def student_factor(degrees_of_freedom: float, coverage_percent: float = 95.0) -> float:
    """How many standard uncertainties reach so far either way, by Student's distribution.

    degrees_of_freedom: above 0; without end: the normal curve's 1.96; coverage_percent: between
    both ends.

    >>> round(student_factor(1), 2), round(student_factor(16), 2), round(student_factor(np.inf), 2)
    (12.71, 2.12, 1.96)
    """
    from scipy.special import ndtri, stdtrit

    upper = (1 + coverage_percent / 100) / 2
    if np.isinf(degrees_of_freedom) or degrees_of_freedom > 1e9:
        return float(ndtri(upper))
    return float(stdtrit(degrees_of_freedom, upper))


# ---- rounding ------------------------------------------------------------------------------------


def shared_variance(hand_in_steps: ArrayLike) -> Any:
    """What repeats at a mark keep of the rounding error's variance, in squares of the step.

    hand_in_steps: standard deviation of the hand's readings over the step. 1/12 for a hand that
    never moves, next to nothing from half a step on.

    >>> [round(shared_variance(hand), 4) for hand in (0.0, 0.1, 0.3, 0.5)]
    [0.0833, 0.0369, 0.0015, 0.0]
    """
    hands, shared, _ = _table()
    return plain(np.interp(np.asarray(hand_in_steps, float), hands, shared))


@lru_cache(maxsize=1)
def _table() -> tuple[FloatArray, FloatArray, FloatArray]:
    """Hands in steps; what repeats keep in common; how far they scatter, in squares of a step."""
    hands, waves = np.linspace(0, 1.5, 1501), np.arange(1, 801)
    series = np.exp(-4 * np.pi**2 * np.outer(hands[1:], waves) ** 2) / waves**2
    shared = np.concatenate([[1 / 12], series.sum(axis=1) / (2 * np.pi**2)])
    return kept(hands), kept(shared), kept(hands**2 + 1 / 12 - shared)


def _hand_in_steps(
    read: FloatArray, home: Any, counts: Any, spread: FloatArray, step: float
) -> FloatArray:
    """The hand's own spread over the step, from its repeats, else from the readings' spread."""
    hand: FloatArray
    hands, _, scatter = _table()
    if counts.max() == 1:
        hand = np.sqrt(np.maximum(np.square(spread / step) - 1 / 12, 0.0))
        return np.asarray(np.minimum(hand, hands[-1]), dtype=np.float64)
    own = np.zeros((*read.shape[:-1], counts.size))
    low, high = own + np.inf, own - np.inf
    for place in range(read.shape[-1]):
        mark = home[place]
        own[..., mark] += read[..., place] / counts[mark]
        low[..., mark] = np.minimum(low[..., mark], read[..., place])
        high[..., mark] = np.maximum(high[..., mark], read[..., place])
    within = ((read - own[..., home]) ** 2).sum(axis=-1) / (read.shape[-1] - counts.size)
    hand = np.interp(within / step**2, scatter, hands)
    # two neighbouring figures are what a single place between them gives: they prove no hand
    moved = (high - low).max(axis=-1) > 1.5 * step
    return np.asarray(hand * moved, dtype=np.float64)


def _weights(counts: Any, places: FloatArray, middle: float, among: float) -> FloatArray:
    """What each mark's mean counts in start and rise."""
    rise = (places - middle) * counts / among
    return np.array([counts / counts.sum() - middle * rise, rise])


def _floor(
    spread: FloatArray, rise: FloatArray, hand: FloatArray, off: FloatArray, weights: FloatArray,
    shares: FloatArray, step: float,
) -> FloatArray:  # fmt: skip
    """The least spread that the step leaves to start and rise: the most of some rises."""
    waves = np.arange(1, WAVES + 1)
    sizes = step**2 / (2 * np.pi**2) / waves**2
    sizes = sizes * np.exp(-4 * np.pi**2 * np.square(np.multiply.outer(hand, waves)))
    # each mark keeps the whole of step²/12: what it does not share, by itself
    alone = step**2 / 12 - sizes.sum(axis=-1)
    every = (weights**2).sum(axis=1)
    doubt = np.maximum(spread, step * np.sqrt((every / shares).max() / 12)) * np.sqrt(shares[1])
    least = alone[..., None] * every
    most = np.zeros_like(least)
    across = weights.T.astype(complex)
    for turn in np.linspace(-2.0, 2.0, RISES):
        once = np.exp(2j * np.pi / step * np.multiply.outer(rise + turn * doubt, off))
        wave, here = np.ones_like(once), least.copy()
        for place in range(WAVES):
            wave *= once
            sums = wave @ across
            here += sizes[..., place, None] * (sums.real**2 + sums.imag**2)
        most = np.maximum(most, here)
    # where the waves of all marks tell against each other, the marks by themselves
    most = np.maximum(most, step**2 / 12 * every)
    return np.asarray(np.sqrt((most / shares).max(axis=-1)), dtype=np.float64)


def plain_floor_cm(counts: ArrayLike, places_cm: ArrayLike, resolution_cm: float) -> float:
    """The least spread by the step where no marks share their rounding, cm.

    counts: readings at each mark; places_cm: the marks, cm; resolution_cm: the step. Each mark's
    mean keeps step/√12: for n readings at every mark that is √n·step/√12.

    >>> round(plain_floor_cm([3, 3, 3], [50, 100, 150], 0.1), 3)
    0.05
    """
    many, places = np.asarray(counts, float), np.asarray(places_cm, float)
    middle = float((many * places).sum() / many.sum())
    among = float((many * (places - middle) ** 2).sum())
    weights = _weights(many, places, middle, among)
    shares = np.array([1 / many.sum() + middle**2 / among, 1 / among])
    return float(resolution_cm * np.sqrt(((weights**2).sum(axis=1) / shares).max() / 12))
