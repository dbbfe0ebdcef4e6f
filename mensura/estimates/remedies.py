"""What should we do better first? What each remedy takes off the uncertainty, for each hour of it.

A remedy makes some errors smaller, or adds plots, and takes hours. Since squares add up, work on a
small share is lost whatever it costs: the largest share tells where to look, and hours tell what to
do. Hours and effects are data, to be changed; those given here are invented.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import inf, sqrt
from typing import Any

from mensura.checks import ChoiceError, MeasureError, number, whole
from mensura.estimates.input_errors import INPUTS, SCOPES, InputError
from mensura.estimates.stand_budget import SAMPLING, StandBudget


@dataclass(frozen=True)
class Effect:
    """What a remedy does to the errors of one input.

    name: the input; scope: "tree", "plot" or "all"; times: how large the error is afterwards, as a
    share of what it was, from 0 to 1. Raises MeasureError.
    """

    name: str
    scope: str
    times: float

    def __post_init__(self) -> None:
        if self.name not in INPUTS:
            raise ChoiceError("remedy, of", self.name, tuple(INPUTS))
        if self.scope not in SCOPES:
            raise ChoiceError(f"remedy, {self.name}, for", self.scope, SCOPES)
        number(self.times, f"remedy, {self.name}, times", "", at_least=0.0, at_most=1.0)


@dataclass(frozen=True)
class Remedy:
    """One thing that can be done better.

    name: short; words: what is done, in a sentence; effects: on the errors; more_plots: how many
    plots it adds, which may be done again and again; hours, hours_a_plot, hours_a_tree: of the
    whole party, once, for each plot and for each tree of it; those for a plot count the added ones
    only where there are some; origin: where the figures come from. Raises MeasureError.
    """

    name: str
    words: str
    effects: tuple[Effect, ...] = ()
    more_plots: int = 0
    hours: float = 0.0
    hours_a_plot: float = 0.0
    hours_a_tree: float = 0.0
    origin: str = "invented"

    def __post_init__(self) -> None:
        whole(self.more_plots, f"{self.name}, more_plots", at_least=0, at_most=1_000_000)
        hours = ("hours", "hours_a_plot", "hours_a_tree")
        for one in hours:
            number(getattr(self, one), f"{self.name}, {one}", "h", at_least=0.0, at_most=1e6)
        if not self.effects and not self.more_plots:
            raise MeasureError(f"{self.name}, effects", None, "", "an effect, or more plots")
        if not any(getattr(self, one) for one in hours):
            raise MeasureError(f"{self.name}, hours", 0, "h", "some time that it takes")

    def takes_hours(self, plots: int, trees: int) -> float:
        """How many hours it takes in a stand of so many plots and trees.

        plots, trees: that are measured now.

        >>> REMEDIES[0].name, REMEDIES[0].takes_hours(20, 200)
        ('five more plots', 5.0)
        """
        if self.more_plots:
            each = trees / plots
            return self.hours + self.more_plots * (self.hours_a_plot + each * self.hours_a_tree)
        return self.hours + plots * self.hours_a_plot + trees * self.hours_a_tree


#: An hour is hardly worth while where it gains less than this share of what it could elsewhere.
WORTH = 0.05

#: Read twice, and averaged.
_TWICE = sqrt(0.5)

#: Invented, all of it: the hours of a party of two, and how far the errors fall.
REMEDIES: tuple[Remedy, ...] = (
    Remedy(
        "five more plots", "Lay out and measure five more plots, placed at random like the others.",
        more_plots=5, hours_a_plot=1.0,
    ),
    Remedy(
        "card for the tape", "Check the tape or calipers beside a reference, and use the card.",
        (Effect("instrument", "all", 0.3),), hours=1.0,
    ),
    Remedy(
        "practise the hands", "Measure some stems together until all hands agree.",
        (Effect("hand", "all", 0.4), Effect("hand", "tree", 0.7)), hours=2.0,
    ),
    Remedy(
        "read each stem twice", "Read each girth or diameter twice, and take the mean.",
        (Effect("hand", "tree", _TWICE),), hours_a_tree=0.01,
    ),
    Remedy(
        "check the height meter", "Check it on a mast or a wall of known height, and correct.",
        (Effect("height", "all", 0.3),), hours=1.5,
    ),
    Remedy(
        "measure heights twice", "Measure each height from two sides, and take the mean.",
        (Effect("height", "tree", _TWICE),), hours_a_tree=0.05,
    ),
    Remedy(
        "a form factor of this stand", "Measure some 20 felled trees in sections for their own.",
        (Effect("form factor", "all", 0.5),), hours=20.0,
    ),
    Remedy(
        "gauge the bark", "Measure the bark of each tree at two places.",
        (Effect("bark", "tree", 0.5), Effect("bark", "all", 0.5)), hours_a_tree=0.02,
    ),
    Remedy(
        "look at cut ends", "Measure 30 of them, and take off what tapes read too much.",
        (Effect("shape", "all", 0.4),), hours=4.0,
    ),
    Remedy(
        "lay plots out with care", "Tape each plot's radius anew, level, from its middle.",
        (Effect("plot area", "plot", 0.4), Effect("plot area", "all", 0.4)), hours_a_plot=0.3,
    ),
)  # fmt: skip


@dataclass(frozen=True)
class Gain:
    """What one remedy would bring.

    remedy: which; hours: that it takes here; before_percent, after_percent: standard uncertainty of
    the figure, in per cent of it; gain_percent_per_hour: what it falls by, for each hour.
    """

    remedy: Remedy
    hours: float
    before_percent: float
    after_percent: float

    @property
    def gain_percent(self) -> float:
        """By how much the uncertainty falls, in points of per cent."""
        return self.before_percent - self.after_percent

    @property
    def gain_percent_per_hour(self) -> float:
        """The same for each hour; inf where it takes none."""
        return self.gain_percent / self.hours if self.hours > 0 else inf

    def to_dict(self) -> dict[str, Any]:
        """All of it by keys for JSON."""
        return {
            "remedy": self.remedy.name,
            "words": self.remedy.words,
            "hours": self.hours,
            "u_before_percent": self.before_percent,
            "u_after_percent": self.after_percent,
            "gain_percent": self.gain_percent,
            "gain_percent_per_hour": self.gain_percent_per_hour,
            "origin": self.remedy.origin,
        }


@dataclass(frozen=True)
class _State:
    """Squares of the shares, in per cent squared of the figure, and how much is measured.

    squares: by input and scope; plots, trees: that are measured.
    """

    squares: tuple[tuple[str, str, float], ...]
    plots: int
    trees: int

    @property
    def u_percent(self) -> float:
        return sqrt(sum(square for *_, square in self.squares))

    def after(self, remedy: Remedy) -> _State:
        factor = {(one.name, one.scope): one.times**2 for one in remedy.effects}
        plots = self.plots + remedy.more_plots
        fewer = self.plots / plots
        squares = tuple(
            (
                name,
                scope,
                square * factor.get((name, scope), 1.0) * (1 if scope == "all" else fewer),
            )
            for name, scope, square in self.squares
        )
        return _State(squares, plots, round(self.trees * plots / self.plots))

    def gain(self, remedy: Remedy) -> Gain:
        hours = remedy.takes_hours(self.plots, self.trees)
        return Gain(remedy, hours, self.u_percent, self.after(remedy).u_percent)


def what_first(budget: StandBudget, remedies: Sequence[Remedy] = REMEDIES) -> tuple[Gain, ...]:
    """Every remedy's gain, the most for an hour first: what to do better first.

    budget: of a figure above 0, of two plots or more where plots are added; remedies: that may be
    chosen. Each gain is of that remedy alone: two of them together do not gain the sum. Assumes
    that added plots are like those that are there. Raises MeasureError.
    """
    state = _state(budget)
    gains = [state.gain(one) for one in _possible(budget, remedies)]
    return tuple(sorted(gains, key=lambda one: (-one.gain_percent_per_hour, one.hours)))


def best_plan(
    budget: StandBudget, hours: float, remedies: Sequence[Remedy] = REMEDIES
) -> tuple[Gain, ...]:
    """What to do, step by step, with so many hours: each time what then gains most for an hour.

    budget, remedies: as for :func:`what_first`; hours: that there are, at least 0. Each remedy is
    taken once, more plots again and again. A rule of thumb: step by step is near the best that the
    hours can buy, and not always the best. Raises MeasureError.
    """
    left = float(number(hours, "hours", "h", at_least=0.0, at_most=1e4))
    state, open_ones = _state(budget), list(_possible(budget, remedies))
    steps: list[Gain] = []
    while len(steps) < 1000:
        gains = [state.gain(one) for one in open_ones]
        # a step that takes less than a thousandth off is none
        least = 1e-3 * state.u_percent
        fit = [one for one in gains if one.hours <= left + 1e-9 and one.gain_percent > least]
        if not fit:
            break
        best = max(fit, key=lambda one: one.gain_percent_per_hour)
        steps.append(best)
        state, left = state.after(best.remedy), left - best.hours
        if not best.remedy.more_plots:
            open_ones.remove(best.remedy)
    return tuple(steps)


def first_words(gains: Sequence[Gain]) -> str:
    """The answer in two sentences: what to do better first, and where work would be lost.

    gains: of :func:`what_first`.
    """
    best = gains[0] if gains else None
    if best is None or best.gain_percent < 1e-3:
        return "None of these remedies would make the figure surer."
    told = (
        f"Do first: {best.remedy.name}. In {best.hours:.3g} h it brings the standard uncertainty "
        f"from {best.before_percent:.2f} % to {best.after_percent:.2f} %."
    )
    least = WORTH * best.gain_percent_per_hour
    lost = [one.remedy.name for one in gains if one.gain_percent_per_hour < least]
    if lost:
        told += f" Hardly worth an hour here: {', '.join(lost)}."
    return told


def remedied(errors: Iterable[InputError], remedy: Remedy) -> tuple[InputError, ...]:
    """The errors of inputs after a remedy.

    errors: before it; remedy: one of what could be done.

    >>> [one.u for one in remedied([InputError("height", 1.0, "%", "all")], REMEDIES[4])]
    [0.3]
    """
    times = {(one.name, one.scope): one.times for one in remedy.effects}
    return tuple(replace(one, u=one.u * times.get((one.name, one.scope), 1.0)) for one in errors)


def _state(budget: StandBudget) -> _State:
    if not budget.value > 0:
        raise MeasureError("budget", budget.value, "", "of a figure above 0")
    squares = tuple(
        (one.name, one.scope, (100 * one.u / budget.value) ** 2) for one in budget.shares
    )
    return _State(squares, budget.plots, budget.trees)


def _possible(budget: StandBudget, remedies: Sequence[Remedy]) -> Iterable[Remedy]:
    sampled = any(one.name == SAMPLING for one in budget.shares)
    return (one for one in remedies if sampled or not one.more_plots)
