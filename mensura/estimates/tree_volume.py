"""Volume of a standing tree from its diameter and height, by one of three rules given as data.

A form factor is a share of the cylinder, an equation a sum of powers, a taper a drawn stem. None
of them looks at the tree itself: each was found on other trees, and is right for these only as far
as they are alike.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import LARGEST_CM, FloatArray, MeasureError, number, plain
from mensura.instruments.line_fit import fit_line

#: Taller than the tallest tree there is: a slip of the unit. Common practice, no source.
TALLEST_M = 120.0
#: Where a tree's diameter is read, above the ground.
BREAST_M = 1.3
#: A share of the cylinder for stems nobody has cut: invented, near what stands in many tables.
USUAL_FORM_FACTOR = 0.45


class VolumeRule(Protocol):
    """From diameter and height to volume; any rule of this file."""

    @property
    def words(self) -> str:
        """What it is, for whoever reads the volume."""

    def volume_m3(self, diameter_cm: ArrayLike, height_m: ArrayLike) -> Any:
        """Volume of the tree, from its diameter_cm and its height_m."""

    def unchecked_m3(self, diameter_cm: Any, height_m: Any) -> Any:
        """The same for a diameter_cm and a height_m that were looked at, never below 0."""


@dataclass(frozen=True)
class FormFactor:
    """The stem is so much of a cylinder of its breast-height diameter and its own height.

    share: above 0, at most 1. Raises MeasureError.

    >>> round(FormFactor(0.45).volume_m3(40, 25), 4)
    1.4137
    """

    share: float = USUAL_FORM_FACTOR

    def __post_init__(self) -> None:
        number(self.share, "share", "", above=0.0, at_most=1.0)

    @property
    def words(self) -> str:
        """What it is, for whoever reads the volume."""
        return f"form factor {self.share:g}"

    def volume_m3(self, diameter_cm: ArrayLike, height_m: ArrayLike) -> Any:
        """Volume f·g·h; the section is taken for a circle.

        diameter_cm: at breast height; height_m: of the whole tree; they broadcast.
        """
        return plain(self.unchecked_m3(*_tree(diameter_cm, height_m)))

    def unchecked_m3(self, diameter_cm: Any, height_m: Any) -> Any:
        """The same for a diameter_cm and a height_m that were looked at."""
        return self.share * np.pi / 40000 * np.square(diameter_cm) * height_m


@dataclass(frozen=True)
class Equation:
    """A sum of powers, Σ c·dᵖ·h^q, with d in cm, h in m and the volume in m³.

    terms: of each its coefficient c and the powers p and q; origin: where it is from. Raises
    MeasureError.

    >>> square_and_height = Equation(((0.02, 0, 0), (3.5e-5, 2, 1)))
    >>> round(square_and_height.volume_m3(40, 25), 4)
    1.42
    """

    terms: tuple[tuple[float, float, float], ...]
    origin: str = ""

    def __post_init__(self) -> None:
        if not self.terms:
            raise MeasureError("terms", None, "", "at least one term")
        for term in self.terms:
            if len(term) != 3:
                raise MeasureError("terms", term, "", "a coefficient and two powers each")
            number(term, "terms", "", at_least=-1e6, at_most=1e6)

    @property
    def words(self) -> str:
        """What it is, for whoever reads the volume."""
        return "equation " + (self.origin or " + ".join(_term(*one) for one in self.terms))

    def volume_m3(self, diameter_cm: ArrayLike, height_m: ArrayLike) -> Any:
        """Volume by the equation.

        diameter_cm: at breast height; height_m: of the whole tree; they broadcast. Raises
        MeasureError if it is below 0 for any tree: the equation is not for trees so small.
        """
        found = plain(self._summed_m3(*_tree(diameter_cm, height_m)))
        return number(found, "volume_m3", "m³", at_least=0.0)

    def unchecked_m3(self, diameter_cm: Any, height_m: Any) -> Any:
        """The same for a diameter_cm and a height_m that were looked at; what is below 0 is 0."""
        return np.maximum(self._summed_m3(diameter_cm, height_m), 0.0)

    def _summed_m3(self, diameter_cm: Any, height_m: Any) -> Any:
        thick, tall = np.asarray(diameter_cm), np.asarray(height_m)
        with np.errstate(over="ignore"):
            return sum(c * thick**p * tall**q for c, p, q in self.terms)


@dataclass(frozen=True)
class Taper:
    """A stem drawn once for all trees, each as thick at 1.3 m as its diameter was read.

    height_share: from 0, the ground, to 1, the tip, rising; diameter_share: there, over any
    diameter of the drawn stem, since it is made wider or thinner until it fits at breast height;
    origin: where it is from. Straight between the points, so that each piece is a frustum of a
    cone. Assumes that trees of all sizes have one shape. Raises MeasureError.

    >>> cone = Taper((0.0, 1.0), (1.0, 0.0))
    >>> round(cone.volume_m3(40, 24), 4)
    1.1238
    """

    height_share: tuple[float, ...]
    diameter_share: tuple[float, ...]
    origin: str = ""

    def __post_init__(self) -> None:
        at, share = self.height_share, self.diameter_share
        if len(at) != len(share) or len(at) < 2:
            raise MeasureError("height_share", len(at), "", "two points or more, each with both")
        number(at, "height_share", "", at_least=0.0, at_most=1.0)
        number(share, "diameter_share", "", at_least=0.0, at_most=3.0)
        if at[0] != 0 or at[-1] != 1 or np.any(np.diff(at) <= 0):
            raise MeasureError("height_share", at[0], "", "points that rise from 0 to 1")
        if max(share) == 0:
            raise MeasureError("diameter_share", 0.0, "", "a stem that is thick somewhere")

    def form_factor(self, height_m: ArrayLike) -> Any:
        """Share of the breast-height cylinder that it fills, ∫ y² over y² at 1.3 m; y its share.

        height_m: of the tree, above 1.3 m. The lower the tree, the thinner the drawn stem is at
        breast height, and the more it fills. Raises MeasureError where it has no thickness there.
        """
        tall = number(height_m, "height_m", "m", above=BREAST_M, at_most=TALLEST_M)
        return plain(number(self._filled(tall), "form_factor", "", above=0.0))

    def _filled(self, height_m: Any) -> Any:
        """The same; 0 for a tree that has no thickness at breast height."""
        at, share = np.asarray(self.height_share), np.asarray(self.diameter_share)
        low, high = share[:-1], share[1:]
        squares = (np.diff(at) * (low * low + low * high + high * high)).sum() / 3
        # 1.3 m on a lower tree is above its tip
        tall = np.maximum(np.asarray(height_m, dtype=np.float64), BREAST_M)
        there = np.square(np.interp(BREAST_M / tall, at, share))
        is_tree = (there > 0) & (tall > BREAST_M)
        return np.divide(squares, there, out=np.zeros_like(there), where=is_tree)

    @property
    def words(self) -> str:
        """What it is, for whoever reads the volume."""
        named = f" {self.origin}" if self.origin else f" of {len(self.height_share)} points"
        return f"taper{named}, at {BREAST_M} m as thick as the tree"

    def volume_m3(self, diameter_cm: ArrayLike, height_m: ArrayLike) -> Any:
        """Volume of the drawn stem.

        diameter_cm: at breast height; height_m: of the whole tree; they broadcast. Raises
        MeasureError for a tree whose drawn stem has no thickness at 1.3 m.
        """
        thick, tall = _tree(diameter_cm, height_m)
        number(tall, "height_m", "m", above=BREAST_M)
        if not np.all(self._filled(tall)):
            raise MeasureError("height_m", tall, "m", "a drawn stem with a thickness at 1.3 m")
        return plain(self.unchecked_m3(thick, tall))

    def unchecked_m3(self, diameter_cm: Any, height_m: Any) -> Any:
        """The same for a diameter_cm and a height_m that were looked at; nothing below 1.3 m."""
        return self._filled(height_m) * np.pi / 40000 * np.square(diameter_cm) * height_m


def fitted_equation(
    diameter_cm: ArrayLike, height_m: ArrayLike, volume_m3: ArrayLike, origin: str = ""
) -> Equation:
    """The equation V = a + b·d²h through trees that were cut and measured, by least squares.

    diameter_cm, height_m, volume_m3: one each a tree, three trees or more; origin: as it is
    printed. Each tree weighs alike, so large ones rule. Raises MeasureError.

    >>> found = fitted_equation([20, 30, 40], [15, 20, 25], [0.23, 0.65, 1.42])
    >>> [float(f"{term[0]:.3g}") for term in found.terms]
    [0.02, 3.5e-05]
    """
    thick, tall = _tree(diameter_cm, height_m)
    known = number(volume_m3, "volume_m3", "m³", at_least=0.0)
    line = fit_line(np.square(thick) * tall, known)
    return Equation(((float(line.start_cm), 0.0, 0.0), (float(line.rise), 2.0, 1.0)), origin)


def volumes_m3(
    rules: dict[str, VolumeRule],
    species: Sequence[str],
    diameter_cm: FloatArray,
    height_m: FloatArray,
) -> FloatArray:
    """Volume of each tree by its species' rule.

    rules: by species, in small letters, "" for all that have none of their own; species,
    diameter_cm, height_m: one a tree. Raises MeasureError for a species without a rule.
    """
    found = np.zeros(len(species))
    names = np.array([one.casefold() for one in species], dtype=object)
    for name in dict.fromkeys(names):
        rule = rules.get(name, rules.get(""))
        if rule is None:
            raise MeasureError("species", name, "", f"one of: {', '.join(rules)}")
        here = names == name
        found[here] = rule.volume_m3(diameter_cm[here], height_m[here])
    return found


def rule_of_trees(
    rules: dict[str, VolumeRule], species: Sequence[str]
) -> Callable[[Any, Any], Any]:
    """One rule for a list of trees, each by its species' own: of arrays of shape (..., trees).

    rules, species: as for :func:`volumes_m3`, which has refused what cannot be. What an error of a
    reading moves out of an equation's reach counts as nothing, so that errors can be drawn.
    """
    names = np.array([one.casefold() for one in species], dtype=object)
    own = {name: rules.get(name, rules.get("")) for name in dict.fromkeys(names)}
    masks = [(rule, names == name) for name, rule in own.items() if rule is not None]

    def volume(over_cm: Any, tall_m: Any) -> Any:
        if len({id(rule) for rule, _ in masks}) == 1:
            return masks[0][0].unchecked_m3(over_cm, tall_m)
        thick, tall = np.broadcast_arrays(over_cm, tall_m)
        found = np.zeros(thick.shape)
        for rule, here in masks:
            found[..., here] = rule.unchecked_m3(thick[..., here], tall[..., here])
        return found

    return volume


def _tree(diameter_cm: ArrayLike, height_m: ArrayLike) -> tuple[Any, Any]:
    thick = number(diameter_cm, "diameter_cm", "cm", above=0.0, at_most=LARGEST_CM)
    return thick, number(height_m, "height_m", "m", above=0.0, at_most=TALLEST_M)


def _term(coefficient: float, diameter_power: float, height_power: float) -> str:
    powers = ((diameter_power, "d"), (height_power, "h"))
    told = [f"{letter}^{power:g}" if power != 1 else letter for power, letter in powers if power]
    return "·".join([f"{coefficient:g}", *told])
