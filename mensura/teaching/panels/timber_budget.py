"""The timber budget's numbers: what makes the cubic metres of a hectare unsure, and what to do.

A made-up stand of even plots stands in for the class's own. What is new for each tree or plot gets
smaller with more of them, what is one for all does not; the model is
:mod:`mensura.estimates.stand_budget`, and what to do first :mod:`mensura.estimates.remedies`.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import Any

import numpy as np

from mensura.checks import FloatArray, kept
from mensura.estimates.input_errors import InputError
from mensura.estimates.remedies import Gain, best_plan, what_first
from mensura.estimates.stand import Plots, Trees
from mensura.estimates.stand_budget import SAMPLING, Share, StandBudget, stand_budget
from mensura.estimates.stand_chain import Chain
from mensura.estimates.tree_volume import FormFactor
from mensura.teaching.controls import Control, State, starting

CONTROLS = (
    Control("plots", "plots", "", 2, 40, 1, 12, "Sample", whole=True),
    Control("trees", "trees on a plot", "", 3, 20, 1, 12, "Sample", whole=True),
    Control("differ_percent", "plots differ by", "%", 5, 50, 1, 25, "Sample"),
    Control("hand_percent", "hand", "%", 0, 5, 0.1, 1, "New each time"),
    Control("bark_percent", "bark", "%", 0, 40, 1, 10, "New each time"),
    Control("height_percent", "height, each", "%", 0, 10, 0.1, 2.9, "New each time"),
    Control("area_percent", "plot area", "%", 0, 10, 0.1, 1, "New each time"),
    Control("instrument_percent", "instrument", "%", 0, 3, 0.1, 0.3, "One for all"),
    Control("shape_percent", "shape", "%", 0, 3, 0.1, 0.3, "One for all"),
    Control("height_all_percent", "height meter", "%", 0, 10, 0.1, 1, "One for all"),
    Control("form_percent", "form factor", "%", 0, 15, 0.5, 5, "One for all"),
    Control("hours", "hours there are", "h", 0, 40, 1, 18, "What to do"),
)
#: Every row of the budget: the control that sets it, its input and what it is new for.
ROWS = MappingProxyType(
    {
        "sampling": (SAMPLING, "plot"),
        "hand_percent": ("hand", "tree"),
        "bark_percent": ("bark", "tree"),
        "height_percent": ("height", "tree"),
        "area_percent": ("plot area", "plot"),
        "instrument_percent": ("instrument", "all"),
        "shape_percent": ("shape", "all"),
        "height_all_percent": ("height", "all"),
        "form_percent": ("form factor", "all"),
    }
)
#: The made-up stand.
DIAMETER_CM, HEIGHT_M, FORM_FACTOR, BARK_CM, PLOT_M2 = 30.0, 24.0, 0.45, 0.8, 400.0
#: Numbers of plots for which the curve is worked out.
COUNTS: FloatArray = kept(np.concatenate([np.arange(2.0, 20.0), np.arange(20.0, 101.0, 4.0)]))


def whole_state(**changes: Any) -> State:
    """Where all controls stand, with some changes from the start.

    changes: names with their values.
    """
    return starting(CONTROLS) | changes


PRESETS = MappingProxyType(
    {
        "Forty plots": whole_state(plots=40),
        "Own form factor": whole_state(form_percent=2.5),
        "Plots much alike": whole_state(differ_percent=8.0),
        "A poor height meter": whole_state(height_all_percent=5.0),
        "Three plots": whole_state(plots=3, form_percent=3.0),
    }
)


@dataclass(frozen=True, eq=False)
class TimberShown:
    """All that the panel shows of one stand and its errors.

    budget: of its cubic metres a hectare; rows: for each of ROWS what it brings, in per cent of the
    figure, and its share of the variance, in per cent; common_percent, averaging_percent: what more
    plots do not make smaller, and what they do; curve_percent: u with each of COUNTS plots;
    gains: of every remedy, the most for an hour first; plan: what to do with the hours there are;
    hours: those.
    """

    budget: StandBudget
    rows: dict[str, tuple[float, float]]
    common_percent: float
    averaging_percent: float
    curve_percent: FloatArray
    gains: tuple[Gain, ...]
    plan: tuple[Gain, ...]
    hours: float

    @property
    def largest(self) -> str:
        """The row with the largest share."""
        return max(self.rows, key=lambda name: self.rows[name][1])

    @property
    def steps(self) -> tuple[tuple[str, float, float], ...]:
        """The plan with equal steps together: what, how long in h, and u after it in per cent."""
        found: list[tuple[str, float, float, int]] = []
        for one in self.plan:
            name = one.remedy.name
            if found and found[-1][0] == name:
                _, hours, _, times = found.pop()
                found.append((name, hours + one.hours, one.after_percent, times + 1))
            else:
                found.append((name, one.hours, one.after_percent, 1))
        return tuple(
            (f"{name}, {times} times" if times > 1 else name, hours, after)
            for name, hours, after, times in found
        )


@lru_cache(maxsize=64)
def _chain(plots: int, trees: int, differ_percent: float) -> Chain:
    """The made-up stand: even plots, whose volumes lie evenly spread about their mean.

    plots: how many; trees: on each; differ_percent: standard deviation of the plots' volumes.
    """
    apart = np.arange(plots) - (plots - 1) / 2
    of_each = 1 + differ_percent / 100 * apart / np.std(apart, ddof=1)
    across = DIAMETER_CM * np.sqrt(np.repeat(of_each, trees))
    rule = FormFactor(FORM_FACTOR).unchecked_m3
    return Chain(
        Trees(
            plot=kept(np.repeat(np.arange(plots), trees)),
            diameter_cm=kept(across),
            height_m=kept(np.full(plots * trees, HEIGHT_M)),
            volume_m3=kept(np.asarray(rule(across, HEIGHT_M))),
            species=kept(np.zeros(plots * trees, dtype=np.int64)),
        ),
        Plots(
            tuple(f"P{k}" for k in range(1, plots + 1)),
            area_m2=kept(np.array([PLOT_M2])),
            factor_m2_per_ha=kept(np.empty(0)),
        ),
        rule,
        bark_cm=BARK_CM * np.sqrt(np.repeat(of_each, trees)),
    )


@lru_cache(maxsize=64)
def _budget(
    plots: int, trees: int, differ_percent: float, errors: tuple[InputError, ...]
) -> StandBudget:
    """The budget of the made-up stand: the hours may move without a new one.

    plots, trees, differ_percent: as :func:`_chain` takes them; errors: of the inputs.
    """
    return stand_budget(_chain(plots, trees, differ_percent), errors)


def numbers(
    plots: int, trees: int, differ_percent: float, hours: float, **errors: Any
) -> TimberShown:
    """What the panel shows for a state of its controls.

    plots: how many; trees: on each; differ_percent: standard deviation from plot to plot, as seen;
    hours: that there are for what could be done better; errors: the other controls' values by name.

    >>> shown = numbers(**whole_state())
    >>> shown.largest, round(shown.budget.u_percent, 1)
    ('sampling', 8.9)
    """
    given = tuple(
        InputError(name, errors[row], "%", scope)
        for row, (name, scope) in ROWS.items()
        if row in errors
    )
    budget = _budget(plots, trees, differ_percent, given)
    of: dict[tuple[str, str], Share] = {(one.name, one.scope): one for one in budget.shares}
    rows = {}
    for row, key in ROWS.items():
        one = of.get(key)
        rows[row] = (100 * one.u / budget.value, 100 * one.share) if one else (0.0, 0.0)
    common, averaging = (
        100 * part / budget.value for part in (budget.common_u, budget.averaging_u)
    )
    return TimberShown(
        budget=budget,
        rows=rows,
        common_percent=common,
        averaging_percent=averaging,
        curve_percent=np.sqrt(common**2 + averaging**2 * plots / COUNTS),
        gains=what_first(budget),
        plan=best_plan(budget, hours),
        hours=hours,
    )
