"""The way from the readings to a figure of a hectare, and how far each reading moves it.

Every tree brings a part: what it stands for, times its volume. An error of a reading moves the part
of its tree, and how far is its slope, taken from the rule itself, whatever rule it is: a form
factor, a table, a curve. An error of a plot's area moves all that stands on it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from math import pi
from types import MappingProxyType
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import ChoiceError, FloatArray, MeasureError, kept, number
from mensura.estimates.input_errors import InputError
from mensura.estimates.stand import Plots, Trees, each_tree_stands_for

#: From diameter over bark in cm and height in m to the whole tree's volume in m³.
VolumeRule = Callable[[Any, Any], Any]

#: What is worked out, in words, and its unit.
FIGURES = {
    "volume_m3": ("volume a hectare", "m³/ha"),
    "basal_area_m2": ("basal area a hectare", "m²/ha"),
    "stems": ("stems a hectare", "1/ha"),
}

#: What an input's error moves: the diameter, the bark's thickness, the height, the tree's volume,
#: or the ground it stands for. A log's length moves nothing here.
MOVES = {
    "instrument": "diameter",
    "hand": "diameter",
    "shape": "diameter",
    "bark": "bark",
    "height": "height",
    "form factor": "form",
    "plot area": "area",
}
#: For the slopes: small beside an error, and large beside the rounding of a number.
_STEP = 1e-4


@dataclass(frozen=True)
class Chain:
    """What stands between the readings and a figure of a hectare.

    trees, plots: as they were measured; volume: the rule by which a tree's volume was found;
    figure: one of FIGURES; bark_cm: thickness on one side, one for all or one a tree, 0 for a
    volume over bark; girth: whether girths were read, so that a centimetre of it is less than a
    third of one of diameter. Raises MeasureError.
    """

    trees: Trees
    plots: Plots
    volume: VolumeRule
    figure: str = "volume_m3"
    bark_cm: ArrayLike = 0.0
    girth: bool = True

    def __post_init__(self) -> None:
        if self.figure not in FIGURES:
            raise ChoiceError("figure", self.figure, tuple(FIGURES))
        if self.trees.plot.size == 0:
            raise MeasureError("trees", None, "", "at least one tree")
        bark = number(self.bark_cm, "bark_cm", "cm", at_least=0.0)
        if np.any(2 * np.asarray(bark) >= self.trees.diameter_cm):
            raise MeasureError("bark_cm", float(np.max(bark)), "cm", "less than half the diameter")
        each = np.broadcast_to(np.asarray(bark, dtype=np.float64), (self.trees.plot.size,))
        object.__setattr__(self, "bark_cm", each)

    @cached_property
    def by_ratio(self) -> bool:
        """Whether the plots' areas on the map differ, so that sums are divided."""
        area = self.plots.map_area_m2
        return bool(area.size and np.ptp(area) > 1e-9 * area.max())

    @cached_property
    def weights(self) -> FloatArray:
        """How many trees of the hectare each tree stands for, all plots together."""
        stands_for = each_tree_stands_for(self.trees, self.plots)
        if not self.by_ratio:
            return kept(np.asarray(stands_for / len(self.plots.names)))
        area = self.plots.map_area_m2
        return kept(np.asarray(stands_for * area[self.trees.plot] / area.sum()))

    def parts(self, moved: str = "", by: Any = 0.0) -> Any:
        """What each tree brings to the figure of the hectare, shape (..., trees).

        moved: "diameter", "bark", "height" or "form"; by: the error of it as a share of itself, in
        a shape that broadcasts. :meth:`moved_parts` moves several at once.
        """
        return self.moved_parts(**{moved: by}) if moved else self.moved_parts()

    def moved_parts(
        self, diameter: Any = 0.0, bark: Any = 0.0, height: Any = 0.0, form: Any = 0.0
    ) -> Any:
        """The same with errors of all of it, each a share of the quantity itself.

        diameter, bark, height, form: in shapes that broadcast to (..., trees).
        """
        if self.figure == "stems" and not self.plots.counted:
            return self.weights + 0 * np.asarray(diameter)
        factor = np.maximum(1 + np.asarray(diameter), 1e-3)
        # a counted tree stands for the gauge's basal area, whatever its diameter was read to be
        weights = self.weights / np.square(factor) if self.plots.counted else self.weights
        if self.figure == "stems":
            return weights
        over = self.trees.diameter_cm * factor
        if self.figure == "basal_area_m2":
            return weights * (pi / 40000 * np.square(over))
        each = self.volume(over, self.trees.height_m * np.maximum(1 + np.asarray(height), 1e-3))
        if np.any(self.bark_cm):
            thick = np.asarray(self.bark_cm) * np.maximum(1 + np.asarray(bark), 0.0)
            each = each * np.square(np.maximum(1 - 2 * thick / over, 0.0))
        return weights * each * np.maximum(1 + np.asarray(form), 0.0)

    def shares_of(self, error: InputError) -> FloatArray:
        """An error's standard uncertainty as a share of each tree's own quantity, shape (trees,).

        error: of any input that counts here.
        """
        if error.unit == "%":
            return np.full(self.trees.plot.size, error.u / 100)
        moves = MOVES[error.name]
        if moves == "height":
            return np.asarray(error.u / self.trees.height_m)
        if moves == "bark":
            thick = np.asarray(self.bark_cm)
            even: FloatArray = np.zeros_like(thick)
            np.divide(error.u, thick, out=even, where=thick > 0)
            return even
        reading = self.trees.diameter_cm * (pi if self.girth else 1.0)
        return np.asarray(error.u / reading)

    def slopes(self, moves: str) -> FloatArray:
        """By how much each tree's part grows for a share of one more, shape (trees,).

        moves: "diameter", "bark", "height" or "form". In the figure's unit.
        """
        return self._slopes[moves]

    @cached_property
    def _slopes(self) -> Mapping[str, FloatArray]:
        """Of all that an error may move in a tree."""
        even = np.ones(self.trees.plot.size)
        found = {}
        for moves in ("diameter", "bark", "height", "form"):
            up, down = self.parts(moves, _STEP), self.parts(moves, -_STEP)
            found[moves] = kept(np.asarray((up - down) / (2 * _STEP) * even))
        return MappingProxyType(found)

    @cached_property
    def as_read(self) -> FloatArray:
        """What each tree brings to the figure, without any error; shape (trees,)."""
        return kept(np.asarray(self.parts() * np.ones(self.trees.plot.size)))

    def area_pull(self) -> FloatArray:
        """By how much the figure falls where a plot's area is a share larger, shape (plots,).

        Of a mean of plots that is the plot's own part; where sums are divided, its share of the
        ground. In the figure's unit.
        """
        parts = self.as_read
        if self.by_ratio:
            area = self.plots.map_area_m2
            return np.asarray(parts.sum() * area / area.sum())
        here = np.bincount(self.trees.plot, parts, minlength=len(self.plots.names))
        return here.astype(np.float64)

    def residuals(self) -> FloatArray:
        """How far each plot lies off the mean, as it enters the sum over plots; shape (plots,).

        Their squares over n − 1, times n, are the square of the standard error.
        """
        parts = self.as_read
        here = np.bincount(self.trees.plot, parts, minlength=len(self.plots.names))
        if not self.by_ratio:
            return np.asarray(here - here.mean())
        area = self.plots.map_area_m2
        return np.asarray(here - here.sum() * area / area.sum())
