"""What an input of a budget is taken for, and draws of it.

Every distribution is written as estimate + standard uncertainty · z, with z of its own: so a whole
budget is a few rows of standard numbers, stretched and shifted [JCGM101, clause 6.4].
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import inf, sqrt
from typing import Any

import numpy as np

from mensura.checks import ChoiceError, FloatArray, MeasureError, number
from mensura.instruments.line_fit import shared_variance

#: From numbers even between 0 and 1 to standard numbers; None where a generator has its own way.
_FROM_EVEN: dict[str, Callable[[FloatArray], FloatArray] | None] = {
    "normal": None,
    "student": None,
    "rectangular": lambda even: (2 * even - 1) * sqrt(3),
    "arcsine": lambda even: -sqrt(2) * np.cos(np.pi * even),
    "tilt": lambda even: even * sqrt(12),
}

#: All there are.
DISTRIBUTIONS = tuple(_FROM_EVEN)


@dataclass(frozen=True)
class InputQuantity:
    """One input of a budget.

    name: as a row of the budget is called; unit: of its numbers; estimate: of the quantity;
    standard_uncertainty: one standard deviation; distribution: "normal", "student",
    "rectangular", "arcsine" or "tilt"; degrees_of_freedom: of the standard uncertainty.
    A tilt is an angle between the estimate and √12 standard uncertainties above it, each alike; a
    student is drawn with its degrees of freedom, which makes it wider than its standard
    uncertainty. Raises MeasureError for a spread below 0 or an unknown distribution.

    >>> InputQuantity("step", "cm", 126.3, 0.2887, "rectangular").degrees_of_freedom
    inf
    """

    name: str
    unit: str
    estimate: float
    standard_uncertainty: float
    distribution: str = "normal"
    degrees_of_freedom: float = inf

    def __post_init__(self) -> None:
        if self.distribution not in DISTRIBUTIONS:
            raise ChoiceError("distribution", self.distribution, DISTRIBUTIONS)
        number(self.estimate, f"{self.name}, estimate", self.unit)
        number(self.standard_uncertainty, f"{self.name}, uncertainty", self.unit, at_least=0.0)
        if not self.degrees_of_freedom > 0:
            raise MeasureError(
                f"{self.name}, degrees of freedom", self.degrees_of_freedom, "", "a number above 0"
            )


def correlation_matrix(given: Any, count: int) -> FloatArray | None:
    """The correlations of some inputs, checked.

    given: a square of numbers, or None; count: of the inputs. Raises MeasureError for what is no
    matrix of correlations: not as many, not alike across its diagonal, or impossible together.

    >>> correlation_matrix([[1, 0.5], [0.5, 1]], 2).tolist()
    [[1.0, 0.5], [0.5, 1.0]]
    """
    if given is None:
        return None
    matrix: FloatArray = np.asarray(number(given, "correlation", "", at_least=-1.0, at_most=1.0))
    wanted = f"{count} rows of {count} numbers, 1 on the diagonal and alike across it"
    if matrix.shape != (count, count):
        raise MeasureError("correlation", str(matrix.shape), "", wanted)
    if np.any(np.diag(matrix) != 1) or np.any(np.abs(matrix - matrix.T) > 1e-12):
        raise MeasureError("correlation", "unlike across its diagonal", "", wanted)
    if np.linalg.eigvalsh(matrix).min() < -1e-9:
        raise MeasureError(
            "correlation", "impossible", "", "numbers that can stand together: no sum so unsure "
            "that its variance is below 0",
        )  # fmt: skip
    return matrix


def groups(matrix: FloatArray | None, count: int) -> list[list[int]]:
    """Inputs that know of each other, each in one list; the others alone.

    matrix: of correlations, or None; count: of the inputs.

    >>> groups(np.array([[1.0, 0.0, 0.5], [0.0, 1.0, 0.0], [0.5, 0.0, 1.0]]), 3)
    [[0, 2], [1]]
    """
    left, found = list(range(count)), []
    while left:
        group = [left.pop(0)]
        for one in group:  # grows while it is walked
            near = [b for b in left if matrix is not None and matrix[one, b] != 0]
            group += near
            left = [b for b in left if b not in near]
        found.append(sorted(group))
    return found


class Drawer:
    """Draws the inputs of a budget, a chunk at a time.

    inputs: the quantities; matrix: their correlations, checked, or None.
    Correlated ones are drawn as normal numbers of the right correlation, of which the rectangular
    ones keep only their rank; what the rank takes off a correlation is put on before, by the closed
    form for normal and even numbers (Pearson 1907, from memory). Raises MeasureError for
    correlated inputs of other distributions.
    """

    def __init__(self, inputs: Sequence[InputQuantity], matrix: FloatArray | None) -> None:
        self.inputs = tuple(inputs)
        self._joined: list[int] = []
        if matrix is not None:
            together = [one for one in groups(matrix, len(self.inputs)) if len(one) > 1]
            self._joined = [place for group in together for place in group]
        for place in self._joined:
            if self.inputs[place].distribution not in ("normal", "rectangular"):
                one = self.inputs[place]
                raise MeasureError(
                    f"{one.name}, correlated, distribution", one.distribution, "",
                    "normal or rectangular",
                )  # fmt: skip
        if self._joined and matrix is not None:
            self._root = self._square_root(matrix[np.ix_(self._joined, self._joined)])

    def _square_root(self, matrix: FloatArray) -> FloatArray:
        """A matrix that makes independent normal numbers correlated as is wanted."""
        even = np.array([self.inputs[one].distribution == "rectangular" for one in self._joined])
        both, either = even[:, None] & even, even[:, None] ^ even
        wanted = np.where(both, 2 * np.sin(np.pi / 6 * matrix), matrix)
        wanted = np.where(either, matrix * sqrt(np.pi / 3), wanted)
        np.fill_diagonal(wanted, 1.0)
        values, vectors = np.linalg.eigh(wanted)
        if values.min() < -1e-9:
            raise MeasureError(
                "correlation", "too strong", "", "one that inputs of these distributions can have"
            )
        return np.asarray(vectors * np.sqrt(np.maximum(values, 0.0)))

    def draw(self, generator: np.random.Generator, size: int) -> list[FloatArray]:
        """Values of every input, in their order and units.

        generator: of the numbers; size: how many of each.
        """
        made: list[FloatArray] = []
        joined: dict[int, FloatArray] = {}
        if self._joined:
            rows = self._root @ generator.standard_normal((len(self._joined), size))
            joined = dict(zip(self._joined, rows, strict=True))
        for place, one in enumerate(self.inputs):
            if one.standard_uncertainty == 0:
                made.append(np.full(size, one.estimate))
                continue
            if place in joined:
                z = joined[place]
                if one.distribution == "rectangular":
                    from scipy.special import ndtr

                    z = standard(one.distribution, ndtr(z))
            elif one.distribution == "normal":
                z = generator.standard_normal(size)
            elif one.distribution == "student":
                free = one.degrees_of_freedom
                z = generator.standard_normal(size)
                if free < inf:
                    z /= np.sqrt(generator.standard_gamma(free / 2, size) * (2 / free))
            else:
                z = standard(one.distribution, generator.random(size))
            z *= one.standard_uncertainty
            z += one.estimate
            made.append(z)
        return made


def standard(distribution: str, even: FloatArray, degrees_of_freedom: float = inf) -> FloatArray:
    """Standard numbers of a distribution from numbers that are even between 0 and 1.

    distribution: one of DISTRIBUTIONS; even: numbers above 0 and below 1; degrees_of_freedom: of a
    student.

    >>> standard("rectangular", np.array([0.5, 1.0])).round(3).tolist()
    [0.0, 1.732]
    """
    of = _FROM_EVEN[distribution]
    if of is not None:
        return of(even)
    from scipy.special import ndtri, stdtrit

    if distribution == "student" and degrees_of_freedom < inf:
        return np.asarray(stdtrit(degrees_of_freedom, even))
    return np.asarray(ndtri(even))


def step_parts_cm(step_cm: float, hand_sd_cm: float, readings: int = 1) -> tuple[float, float]:
    """What a step brings to the mean of some readings: the part that stays, the part that averages.

    step_cm: of the readings; hand_sd_cm: spread of one reading by the hand, before it is rounded;
    readings: how many are averaged. Two standard uncertainties, cm. A hand that spreads moves each
    reading to another place in its step, so that the errors of rounding differ and average; a hand
    that never moves repeats the same one. Exact for a place in the step that may be any, each
    alike (Fourier's series of a sawtooth, :func:`mensura.instruments.line_fit.shared_variance`).

    >>> [tuple(round(part, 3) for part in step_parts_cm(1, hand, 10)) for hand in (0, 0.1, 0.3)]
    [(0.289, 0.0), (0.192, 0.068), (0.038, 0.09)]
    """
    if not step_cm > 0 or readings == 1:
        return step_cm / sqrt(12), 0.0
    stays = float(shared_variance(hand_sd_cm / step_cm))
    return step_cm * sqrt(stays), step_cm * sqrt(max(1 / 12 - stays, 0.0) / readings)
