"""The same budget by draws: the stand is measured again thousands of times, each time with errors.

In each draw every error is drawn anew, once for all, for each plot or for each tree as it says, and
the figure is worked out with that error alone and with all of them. Plots are drawn as well, one
less than there are, each as often as it comes, which has just the spread of their mean. Nothing is
kept but sums, so memory does not grow with the draws, and time does in step with them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from math import inf, isfinite, sqrt
from typing import Any

import numpy as np

from mensura.checks import FloatArray, whole
from mensura.estimates.input_errors import DEFAULTS, InputError
from mensura.estimates.interval_stream import IntervalStream
from mensura.estimates.propagation import coverage_factor
from mensura.estimates.stand_budget import SAMPLING, StandBudget, stand_budget
from mensura.estimates.stand_chain import MOVES, Chain

DRAWS = 10_000
#: Below so many the stream's first numbers hold both ends.
MOST_DRAWS = 100_000
#: Trees times draws that are held at once.
AT_ONCE = 2**17

#: What is told the share that is done.
Told = Callable[[float], None]


class _Sums:
    """Moments of numbers that come in chunks, about a place near their mean.

    about: the place, in the numbers' unit.
    """

    def __init__(self, about: float) -> None:
        self.about, self.count = about, 0
        self.powers = np.zeros(4)

    def add(self, chunk: FloatArray) -> None:
        """Takes the next numbers."""
        off = chunk - self.about
        self.count += chunk.size
        self.powers += [float(np.power(off, power).sum()) for power in (1, 2, 3, 4)]

    def variance(self) -> tuple[float, float]:
        """The variance, and its standard error for want of more numbers."""
        one, two, three, four = self.powers / self.count
        square = max(two - one**2, 0.0)
        fourth = four - 4 * one * three + 6 * one**2 * two - 3 * one**4
        return square, sqrt(max(fourth - square**2, 0.0) / self.count)

    @property
    def mean(self) -> float:
        """Of all numbers."""
        return self.about + float(self.powers[0]) / self.count


def drawn_stand_budget(
    chain: Chain,
    errors: Sequence[InputError] = DEFAULTS,
    draws: int = DRAWS,
    seed: int = 1,
    coverage_percent: float = 95.0,
    told: Told | None = None,
) -> StandBudget:
    """The budget by the law of propagation, and beside it by draws [JCGM101].

    chain, errors, coverage_percent: as for :func:`stand_budget`; draws: from 200 to 100 000; seed:
    of the generator; told: is told the share that is done, from 0 to 1. Errors are drawn from
    normal distributions, cut where a tree would have no wood left. Raises MeasureError.

    >>> from mensura.estimates.stand import Plots, Trees
    >>> from mensura.estimates.tree_volume import FormFactor
    >>> trees = Trees(np.repeat([0, 1], 10), np.full(20, 30.0), np.full(20, 25.0), np.full(20, 0.8),
    ...               np.zeros(20, dtype=int))
    >>> plots = Plots(("A", "B"), area_m2=np.array([500.0]))
    >>> chain = Chain(trees, plots, FormFactor(0.45).unchecked_m3)
    >>> found = drawn_stand_budget(chain, [InputError("hand", 1.5, "%", "tree")], draws=4000)
    >>> round(100 * found.u / found.value, 2), round(100 * found.drawn_u / found.value, 1)
    (0.67, 0.7)
    """
    count = whole(draws, "draws", at_least=200, at_most=MOST_DRAWS)
    start = whole(seed, "seed", at_least=0, at_most=2**63 - 1)
    law = stand_budget(chain, errors, coverage_percent)
    lines = [one for one in law.shares if one.error is not None]
    own = next((one for one in law.shares if one.name == SAMPLING), None)
    generator = np.random.default_rng(start)
    plots, trees = len(chain.plots.names), chain.trees.plot.size
    sums = [_Sums(law.value) for _ in law.shares]
    place = {id(one): at for at, one in enumerate(law.shares)}
    stream = IntervalStream(count, coverage_percent)
    residuals = chain.residuals()
    # shrunk by what the plots' spread holds of the errors that are new for each tree and plot
    shrunk = _shrink(residuals, plots, own.u if own else 0.0)
    size = max(1, AT_ONCE // max(trees, plots))
    for done in range(0, count, size):
        some = min(size, count - done)
        together: dict[str, Any] = {}
        for one in lines:
            assert one.error is not None
            moves, by = MOVES[one.error.name], _drawn(chain, one.error, generator, some)
            sums[place[id(one)]].add(_figures(chain, {moves: by}, some))
            together[moves] = _both(together.get(moves), by)
        figures = _figures(chain, together, some)
        if own is not None:
            times = generator.multinomial(plots - 1, np.full(plots, 1 / plots), size=some)
            sampled = times @ shrunk * (plots / (plots - 1))
            sums[place[id(own)]].add(law.value + sampled)
            figures = figures + sampled
        stream.add(figures)
        if told is not None:
            told((done + some) / count)
    return _with_draws(law, sums, stream, count, coverage_percent)


def _shrink(residuals: FloatArray, plots: int, own_u: float) -> FloatArray:
    seen = float(np.square(residuals).sum()) * plots / max(plots - 1, 1)
    return residuals * (own_u / sqrt(seen)) if seen > 0 else residuals


def _both(first: Any, second: Any) -> Any:
    """Two errors of one quantity, one after the other."""
    return second if first is None else first + second + first * second


def _drawn(chain: Chain, error: InputError, generator: np.random.Generator, some: int) -> Any:
    """An error as a share of each tree's quantity, or of each plot's area, in some draws."""
    plots, trees = len(chain.plots.names), chain.trees.plot.size
    wide = {"all": 1, "plot": plots, "tree": trees}[error.scope]
    normal = generator.standard_normal((some, wide))
    if MOVES[error.name] == "area":
        return np.broadcast_to(normal * (error.u / 100), (some, plots))
    if error.scope == "plot":
        normal = normal[:, chain.trees.plot]
    return normal * (error.u / 100 if error.unit == "%" else chain.shares_of(error))


def _figures(chain: Chain, moved: dict[str, Any], some: int) -> FloatArray:
    """The figure of a hectare in each of some draws."""
    shares = {name: by for name, by in moved.items() if name != "area"}
    parts = chain.moved_parts(**shares)
    ground = moved.get("area")
    if ground is None:
        return np.broadcast_to(np.sum(parts, axis=-1), (some,))
    larger = np.maximum(1 + ground, 1e-3)
    if chain.by_ratio:
        area = chain.plots.map_area_m2
        return np.asarray(np.sum(parts, axis=-1) * area.sum() / (larger @ area))
    return np.asarray(np.sum(parts / larger[:, chain.trees.plot], axis=-1))


def _with_draws(
    law: StandBudget,
    sums: Sequence[_Sums],
    stream: IntervalStream,
    count: int,
    coverage_percent: float,
) -> StandBudget:
    found = [one.variance() for one in sums]
    total = sum(square for square, _ in found)
    shares = []
    for at, (one, (square, _)) in enumerate(zip(law.shares, found, strict=True)):
        share = square / total if total > 0 else 0.0
        parts = [
            ((1 - share) if other == at else -share) * error
            for other, (_, error) in enumerate(found)
        ]
        error = sqrt(sum(part**2 for part in parts)) / total if total > 0 else 0.0
        shares.append(
            replace(one, drawn_u=sqrt(square), drawn_share=share, drawn_share_error=error)
        )
    return replace(
        law,
        shares=tuple(shares),
        draws=count,
        drawn_u=stream.u,
        drawn_mean=stream.mean,
        drawn_interval=stream.interval(),
        notes=(*law.notes, *_without_student(law, coverage_percent)),
    )


def _without_student(law: StandBudget, coverage_percent: float) -> list[str]:
    """That the draws' interval is another than the law's, and what it may be compared with."""
    if not isfinite(law.degrees_of_freedom):
        return []
    reach = coverage_factor(inf, coverage_percent)
    low, high = (law.value + sign * reach * law.u for sign in (-1, 1))
    return [
        "The interval from the draws has no part for few plots, Student's, which the interval "
        f"beside it has: compare it with the value ± {reach:.2f} u, {low:.1f} to {high:.1f}."
    ]
