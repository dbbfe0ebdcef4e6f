"""What each fault costs this class, in area of its own stems, and what it takes to notice it."""

from __future__ import annotations

from mensura.estimates.fault_costs import (
    HAND_CM,
    STEP_CM,
    FaultCost,
    fault_costs,
)
from mensura.stems.compartment import INVENTED
from mensura.views.kit.live import Still, draw_still
from mensura.views.stills.fault_marks import FaultMarks, Marked
from mensura.written import signed

#: More stems than this nobody reads twice.
MANY = 999

Costs = tuple[FaultCost, ...]


class CostsPicture(FaultMarks[Costs]):
    """One mark for each fault: what it does to the area, and in brackets the stems to read twice.

    costs: of :func:`mensura.estimates.fault_costs.fault_costs`, from below.
    """

    LEAST, MOST = 0.009, 30.0
    LINES = (0.01, 0.1, 1, 10)
    BELOW = (
        f"changes the area of {INVENTED.split(':', maxsplit=1)[0]} by, %\n"
        "(each line ten times the one before)"
    )
    UP, DOWN = "too much area", "too little"
    ALSO = "In brackets: stems to read twice until it shows."

    def __init__(self, costs: Costs) -> None:
        super().__init__(
            [
                Marked(name, one.area_percent, _said(one), one.instrument == "calipers")
                for one, name in zip(costs, _names(costs), strict=True)
            ]
        )
        self.costs = costs

    def describe(self, numbers: Costs) -> str:
        """The picture in words, with its `numbers`."""
        named = zip(_names(numbers), numbers, strict=True)
        parts = "; ".join(f"{name} {_said(one)}" for name, one in named)
        return (
            f"What each fault of typical size does to the area of {INVENTED}, in per cent, the "
            "smallest first, on a scale that goes by tens; in brackets how many stems have to be "
            "read twice, as it is and as it should be, until the fault shows above the hand's "
            f"spread ({HAND_CM['tape']:g} cm of girth, {HAND_CM['calipers']:g} cm of width) and a "
            f"step of {STEP_CM['tape']:g} cm: {parts}."
        )


def _names(costs: Costs) -> list[str]:
    """What each is called; where both instruments have a fault of the same words, whose it is."""
    words = [one.words for one in costs]
    return [
        f"{one.instrument}: {one.words}" if words.count(one.words) > 1 else one.words
        for one in costs
    ]


def _said(one: FaultCost) -> str:
    size = signed(one.area_percent, 2 if abs(one.area_percent) >= 0.1 else 3)
    return f"{size} ({one.stem_count if one.stem_count <= MANY else f'over {MANY}'})"


def faults_on_one_scale() -> Still:
    """Every fault of the one list on the stems of compartment 7, by what it costs in area.

    >>> faults_on_one_scale().alt[:49]
    'What each fault of typical size does to the area '
    """
    costs = fault_costs()
    return draw_still(CostsPicture(costs), costs)
