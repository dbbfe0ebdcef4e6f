"""From the readings to the cubic metres of a hectare: what each unsure input brings along.

An error that is new for each tree, or each plot, averages out over many. One that is the same for
all does not: measuring ten times as many trees leaves it as large as it was. So every share of the
variance stands with whether it averages out. The spread from plot to plot holds already whatever is
new for each tree and plot, so that is taken out of it, and what is left is the sampling's own.

Assumed: errors are independent of each other and, on average, nought; which trees stand on a plot
is beyond doubt; a bark of the same share all along the stem.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import inf, isfinite, sqrt
from statistics import NormalDist
from typing import Any

import numpy as np

from mensura.checks import number
from mensura.estimates.input_errors import DEFAULTS, InputError
from mensura.estimates.propagation import coverage_factor
from mensura.estimates.stand_chain import FIGURES, MOVES, Chain

#: How the sampling is called among the inputs.
SAMPLING = "sampling"
#: From so much of the figure on, in per cent, a common error makes the interval miss on one side.
LARGE_COMMON_PERCENT = 10.0


@dataclass(frozen=True)
class Share:
    """What one error brings to the figure.

    name: the input, or "sampling"; scope: "tree", "plot" or "all"; u: standard uncertainty that it
    brings, in the figure's unit; share: of the variance, from 0 to 1; averages_out: whether more
    trees or plots make it smaller; error: as it was given, None for the sampling; drawn_u, the same
    from the draws, drawn_share, drawn_share_error: its share, and the standard error of that for
    want of more draws; None where nothing was drawn.
    """

    name: str
    scope: str
    u: float
    share: float
    averages_out: bool
    error: InputError | None = None
    drawn_u: float | None = None
    drawn_share: float | None = None
    drawn_share_error: float | None = None


@dataclass(frozen=True)
class StandBudget:
    """A figure of a hectare, how unsure it is, and through what.

    figure: one of FIGURES; value: in its unit, as all that follows; u: standard uncertainty;
    shares: the largest first, together 1; averaging_u: what more plots would make smaller;
    common_u: what they would not; interval: by Student on plots − 1 for the averaging
    part (Welch and Satterthwaite) [GUM1995, clause G.4, from memory]; degrees_of_freedom: of that;
    plots, trees: how many; unused: inputs whose errors move nothing here; notes: what has to be
    said with it; drawn_u, drawn_mean, drawn_interval: from the draws, None where there are none.
    """

    figure: str
    value: float
    u: float
    shares: tuple[Share, ...]
    averaging_u: float
    common_u: float
    interval: tuple[float, float]
    degrees_of_freedom: float
    plots: int
    trees: int
    unused: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    draws: int = 0
    drawn_u: float | None = None
    drawn_mean: float | None = None
    drawn_interval: tuple[float, float] | None = None

    @property
    def u_percent(self) -> float:
        """Standard uncertainty in per cent of the figure; inf for a figure of 0."""
        return 100 * self.u / self.value if self.value else inf

    def by_input(self) -> dict[str, float]:
        """The share of each input, all its errors together, the largest first."""
        found: dict[str, float] = {}
        for one in self.shares:
            found[one.name] = found.get(one.name, 0.0) + one.share
        return dict(sorted(found.items(), key=lambda item: -item[1]))

    def name_of(self, share: Share) -> str:
        """What a share is called: the input, and where its figure is from if two are alike.

        share: one of them.
        """
        alike = [one for one in self.shares if (one.name, one.scope) == (share.name, share.scope)]
        told = share.error is not None and share.error.origin and len(alike) > 1
        return f"{share.name} ({share.error.origin})" if told and share.error else share.name

    def to_dict(self) -> dict[str, Any]:
        """All of it by keys for JSON; what is not known is None."""
        unit = FIGURES[self.figure][1]
        return {
            "figure": self.figure,
            "unit": unit,
            "value": self.value,
            "u": self.u,
            "u_percent": _known(self.u_percent),
            "interval": [_known(end) for end in self.interval],
            "degrees_of_freedom": _known(self.degrees_of_freedom),
            "averages_out_u": self.averaging_u,
            "does_not_average_out_u": self.common_u,
            "shares": [
                {
                    "input": one.name,
                    "new_for": one.scope,
                    "averages_out": one.averages_out,
                    "u_of_input": None if one.error is None else one.error.u,
                    "unit_of_input": None if one.error is None else one.error.unit,
                    "u": one.u,
                    "share_percent": 100 * one.share,
                    "drawn_share_percent": _times(one.drawn_share, 100),
                    "drawn_share_error_percent": _times(one.drawn_share_error, 100),
                    "origin": "" if one.error is None else one.error.origin,
                }
                for one in self.shares
            ],
            "draws": self.draws,
            "drawn_u": self.drawn_u,
            "drawn_interval": None if self.drawn_interval is None else list(self.drawn_interval),
            "unused": list(self.unused),
            "notes": list(self.notes),
        }


def counted_errors(
    chain: Chain, errors: Iterable[InputError]
) -> tuple[tuple[InputError, ...], tuple[str, ...]]:
    """Those errors that move the figure, and the names of the inputs whose errors do not.

    chain: the way to the figure; errors: of inputs.
    """
    used: list[InputError] = []
    unused: list[str] = []
    for one in errors:
        moves = MOVES.get(one.name, "")
        idle = not moves or (moves == "bark" and not np.any(chain.bark_cm))
        if not idle and moves != "area":
            idle = not np.any(np.abs(chain.slopes(moves)) > 1e-9 * np.abs(chain.as_read).max())
        if idle:
            unused.append(one.name)
        elif one.u > 0:
            used.append(one)
    return tuple(used), tuple(dict.fromkeys(unused))


def variance_of(chain: Chain, error: InputError) -> float:
    """The variance that one error brings to the figure, by the law of propagation [GUM1995].

    chain: the way to the figure; error: of an input that counts. In the square of the figure's
    unit. A tree's part moves with its own error, so squares are summed; what is one for a plot, or
    for all, is summed first and squared then.
    """
    moves = MOVES[error.name]
    where = chain.trees.plot
    if moves == "area":
        pull = chain.area_pull() * error.u / 100
        return float(pull.sum() ** 2 if error.scope == "all" else np.square(pull).sum())
    each = chain.slopes(moves) * chain.shares_of(error)
    if error.scope == "tree":
        return float(np.square(each).sum())
    if error.scope == "plot":
        return float(np.square(np.bincount(where, each)).sum())
    return float(each.sum() ** 2)


def stand_budget(
    chain: Chain,
    errors: Sequence[InputError] = DEFAULTS,
    coverage_percent: float = 95.0,
) -> StandBudget:
    """The budget of a hectare's figure by the law of propagation.

    chain: from the readings to the figure; errors: of the inputs; coverage_percent: of the
    interval. Its own approximation: to first order in each error. Raises MeasureError.

    >>> from mensura.estimates.stand import Plots, Trees
    >>> from mensura.estimates.tree_volume import FormFactor
    >>> trees = Trees(np.repeat([0, 1], 10), np.full(20, 30.0), np.full(20, 25.0), np.full(20, 0.8),
    ...               np.zeros(20, dtype=int))
    >>> plots = Plots(("A", "B"), area_m2=np.array([500.0]))
    >>> chain = Chain(trees, plots, FormFactor(0.45).unchecked_m3)
    >>> each = InputError("hand", 1.5, "%", "tree")
    >>> same = InputError("instrument", 1.0, "%", "all")
    >>> [round(stand_budget(chain, [one]).u_percent, 2) for one in (each, same)]
    [0.67, 2.0]
    """
    used, unused = counted_errors(chain, errors)
    value = float(chain.as_read.sum())
    count = len(chain.plots.names)
    variances = [variance_of(chain, one) for one in used]
    new = sum(part for part, one in zip(variances, used, strict=True) if one.scope != "all")
    common = sum(variances) - new
    seen = sampling_variance(chain)
    own = max(seen - new, 0.0)
    averaging = new + own
    total = averaging + common
    shares = [
        Share(one.name, one.scope, sqrt(part), part / total, one.scope != "all", one)
        for one, part in zip(used, variances, strict=True)
        if total > 0
    ]
    if count > 1 and total > 0:
        shares.append(Share(SAMPLING, "plot", sqrt(own), own / total, True))
    shares.sort(key=lambda one: -one.share)
    free = (count - 1) * (total / averaging) ** 2 if averaging > 0 and count > 1 else inf
    reach = coverage_factor(free, coverage_percent) * sqrt(total)
    return StandBudget(
        figure=chain.figure,
        value=value,
        u=sqrt(total),
        shares=tuple(shares),
        averaging_u=sqrt(averaging),
        common_u=sqrt(max(common, 0.0)),
        interval=(value - reach, value + reach),
        degrees_of_freedom=free,
        plots=count,
        trees=int(chain.trees.plot.size),
        unused=unused,
        notes=(*_notes(chain, seen, new, unused), *_one_side(value, common, coverage_percent)),
    )


def common_cover_percent(common_percent: float, coverage_percent: float = 95.0) -> float:
    """How often value ± k·u holds the truth if one error, the same for all, is all there is.

    common_percent: its standard uncertainty, in per cent, above 0 and at most 100;
    coverage_percent: that k is for. Closed form, for a figure that is the truth times 1 + e, e
    normal: u is taken from the figure itself, so a figure that is too low has an interval that is
    too narrow as well. Raises MeasureError.

    >>> [round(common_cover_percent(one), 1) for one in (1, 10, 20)]
    [95.0, 94.2, 92.0]
    """
    each = float(number(common_percent, "common_percent", "%", above=0.0, at_most=100.0)) / 100
    reach = coverage_factor(inf, coverage_percent) * each
    below = NormalDist().cdf((1 / (1 + reach) - 1) / each)
    above = 1 - NormalDist().cdf((1 / (1 - reach) - 1) / each) if reach < 1 else 0.0
    return 100 * (1 - below - above)


def sampling_variance(chain: Chain) -> float:
    """The square of the figure's standard error from plot to plot; 0 for one plot.

    chain: the way to the figure. It holds what is new for each tree and plot as well. In the square
    of the figure's unit.
    """
    count = len(chain.plots.names)
    if count < 2:
        return 0.0
    return float(np.square(chain.residuals()).sum()) * count / (count - 1)


def _notes(chain: Chain, seen: float, new: float, unused: Sequence[str]) -> list[str]:
    count = len(chain.plots.names)
    notes = []
    if count == 1:
        notes.append(
            "One plot says nothing about the rest of the stand: the sampling is not in this budget."
        )
    elif new > seen:
        notes.append(
            "The plots differ less than the errors that are new for each tree and plot would make "
            "them: by chance, or those are set too large. The sampling counts as nothing here."
        )
    if chain.plots.counted and chain.figure == "volume_m3":
        notes.append(
            "A counted tree stands for the gauge's basal area, whatever its diameter: an error of "
            "the diameter is mostly cancelled. The error of a plot's area is that of the factor."
        )
    if unused:
        notes.append(f"Without effect here: {', '.join(unused)}.")
    return notes


def _one_side(value: float, common: float, coverage_percent: float) -> list[str]:
    """What has to be said where a large error is the same for all."""
    percent = 100 * sqrt(max(common, 0.0)) / value if value > 0 else 0.0
    if percent <= LARGE_COMMON_PERCENT:
        return []
    held = common_cover_percent(min(percent, 100.0), coverage_percent)
    return [
        f"What is the same for all leaves the figure unsure by {percent:.0f} %. With so much the "
        f"interval, as far up as down, holds the truth less often than {coverage_percent:g} times "
        f"in a hundred, {held:.0f} times if there were nothing else; nearly all its misses are "
        "truths above its upper end."
    ]


def _known(value: float) -> float | None:
    return value if isfinite(value) else None


def _times(value: float | None, by: float) -> float | None:
    return None if value is None else value * by
