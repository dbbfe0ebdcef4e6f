"""What it costs to ignore each rule of where to measure: sorted, with its range, to argue with."""

from __future__ import annotations

from mensura.estimates.place_costs import (
    SIZES_CM,
    TAPERS_CM_PER_M,
    PlaceCost,
    place_costs,
)
from mensura.estimates.tree_volume import BREAST_M
from mensura.views.kit.live import Still, draw_still
from mensura.views.stills.fault_marks import FaultMarks, Marked
from mensura.written import signed

PlaceCosts = tuple[PlaceCost, ...]


class PlaceCostsPicture(FaultMarks[PlaceCosts]):
    """One mark for each rule that is ignored: what it does to the area, and over which range.

    costs: of :func:`mensura.estimates.place_costs.place_costs`, from below.
    """

    LEAST, MOST = 0.002, 500.0
    LINES = (0.01, 0.1, 1, 10, 100)
    BELOW = "changes the sectional area by, %\n(each line ten times the one before)"
    UP, DOWN = "too much area", "too little"

    def __init__(self, costs: PlaceCosts) -> None:
        usual = costs[0]
        self.ALSO = (
            f"Mark: a stem of {usual.diameter_cm:g} cm that tapers by {usual.taper_cm_per_m:g} cm "
            f"a metre.\nLine: stems of {SIZES_CM[0]:g} to {SIZES_CM[-1]:g} cm, "
            f"{TAPERS_CM_PER_M[0]:g} to {TAPERS_CM_PER_M[-1]:g} cm a metre."
        )
        super().__init__(
            [
                Marked(
                    one.words,
                    one.area_percent,
                    _said(one.area_percent),
                    "calipers" in one.key,
                    (one.area_least_percent, one.area_most_percent) if _ranges(one) else None,
                )
                for one in costs
            ]
        )

    def describe(self, numbers: PlaceCosts) -> str:
        """The picture in words, with its `numbers`."""
        return (
            "What it does to the sectional area to ignore a rule of where to measure, in per cent, "
            "the cheapest first, on a scale that goes by tens; for a stem of "
            f"{numbers[0].diameter_cm:g} cm that loses {numbers[0].taper_cm_per_m:g} cm of "
            "diameter with each metre, and in "
            f"brackets from where to where it goes for stems of {SIZES_CM[0]:g} to "
            f"{SIZES_CM[-1]:g} cm that lose {TAPERS_CM_PER_M[0]:g} to {TAPERS_CM_PER_M[-1]:g} cm: "
            + "; ".join(_in_words(one) for one in numbers)
            + "."
        )


def _ranges(one: PlaceCost) -> bool:
    """Whether the range would be seen: on some rules neither size nor taper has a hold."""
    return abs(one.area_most_percent - one.area_least_percent) > 0.02 * abs(one.area_percent)


def _said(percent: float) -> str:
    """To three figures."""
    size = abs(percent)
    return signed(percent, 2 if size < 9.995 else 1 if size < 99.95 else 0)


def _in_words(one: PlaceCost) -> str:
    told = f"{one.words} {_said(one.area_percent)}"
    ends = sorted((one.area_least_percent, one.area_most_percent), key=abs)
    return f"{told} ({_said(ends[0])} to {_said(ends[1])})" if _ranges(one) else told


def place_costs_on_one_scale(breast_height_m: float = BREAST_M) -> Still:
    """Every rule of the place whose being ignored has a price, by that price.

    breast_height_m: by the rule, above 0, at most 3.

    >>> place_costs_on_one_scale().alt[:48]
    'What it does to the sectional area to ignore a r'
    """
    costs = place_costs(breast_height_m=breast_height_m)
    return draw_still(PlaceCostsPicture(costs), costs)
