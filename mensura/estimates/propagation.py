"""How the doubts of several inputs come together in one figure, in two ways.

The law of propagation of uncertainty takes the model for straight at the estimates
[GUM1995, clause 5]; the propagation of distributions draws the inputs and looks at what comes out
[JCGM101]. Beside each other they show where straight is not good enough.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import inf
from typing import Any

from mensura.checks import FloatArray

#: Model of an input quantity: from arrays of the inputs, in their order, to the figure.
Model = Callable[..., Any]


@dataclass(frozen=True)
class InputQuantity:
    """One input of a budget.

    name: as a row of the budget is called; unit: of its numbers; estimate: of the quantity;
    standard_uncertainty: one standard deviation; distribution: "normal", "student",
    "rectangular", "arcsine" or "tilt"; degrees_of_freedom: of the standard uncertainty.
    """

    name: str
    unit: str
    estimate: float
    standard_uncertainty: float
    distribution: str = "normal"
    degrees_of_freedom: float = inf


@dataclass(frozen=True)
class GumResult:
    """What the law of propagation says of a figure, all in the figure's own unit.

    value: at the estimates; u: combined standard uncertainty; degrees_of_freedom: effective
    (Welch and Satterthwaite); k: coverage factor for 95 %; expanded: k·u; sensitivities,
    contributions: one for each input.
    """

    value: float
    u: float
    degrees_of_freedom: float
    k: float
    expanded: float
    sensitivities: tuple[float, ...]
    contributions: tuple[float, ...]


@dataclass(frozen=True)
class DrawnResult:
    """What the propagation of distributions says of a figure, all in the figure's own unit.

    value: mean of the draws; u: their standard deviation; interval: 95 %, as much left out above
    as below; draws: how many; seed: of the generator.
    """

    value: float
    u: float
    interval: tuple[float, float]
    draws: int
    seed: int


def propagate(
    model: Model,
    inputs: Sequence[InputQuantity],
    correlation: FloatArray | None = None,
    coverage_percent: float = 95.0,
) -> GumResult:
    """The law of propagation of uncertainty.

    model: of the figure; inputs: in the model's order; correlation: their matrix, None where they
    know nothing of each other; coverage_percent: of the expanded uncertainty.
    """
    raise NotImplementedError


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
    of the generator.
    """
    raise NotImplementedError
