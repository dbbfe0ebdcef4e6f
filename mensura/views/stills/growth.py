"""Real girths over time: five orange trees, as they grew round and as they grew in area."""

from __future__ import annotations

from typing import Any

from mensura.estimates.areas import area_from_girth_cm2
from mensura.stems.records import OrangeGirths, orange_girths
from mensura.views.kit import look
from mensura.views.kit.live import Picture, Still, draw_still
from mensura.views.kit.parts import Part, part

#: Each tree's mark and line, so that five lines are told apart without colour.
_STYLES: dict[int, tuple[str, Any]] = {
    1: ("o", "-"),
    2: ("s", (0, (6, 2))),
    3: ("^", (0, (1, 1.5))),
    4: ("D", (0, (6, 1.5, 1.5, 1.5))),
    5: ("v", (0, (3, 2))),
}
#: How far a label is moved up, in points, where two lines end side by side.
_LIFT_PT = {1: 6, 2: -3, 3: -6, 4: 3}


class GrowthPicture(Picture[OrangeGirths]):
    """Girth against time, and area against time, of each tree.

    record: girths of the trees.
    """

    height_px = 380

    def __init__(self, record: OrangeGirths) -> None:
        super().__init__()
        self.record = record

    def draw(self, figure: Any) -> None:
        """Both charts on `figure`; nothing moves."""
        record = self.record
        for left_px, values, name, most in (
            (62, record.girth_cm, "girth, cm", 24),
            (496, area_from_girth_cm2(record.girth_cm), "sectional area, cm²", 40),
        ):
            axes = look.place(figure, left_px, 46, 300, 318)
            axes.set(xlim=(0, 1650), ylim=(0, most))
            axes.set_xticks([0, 500, 1000, 1500])
            axes.set_xlabel("days since 31 December 1968", labelpad=1)
            axes.set_ylabel(name)
            axes.grid(True)
            axes.set_axisbelow(True)
            for tree, (mark, line) in _STYLES.items():
                rows = record.tree == tree
                days, sizes = record.age_days[rows], values[rows]
                axes.plot(days, sizes, color=look.TRUTH, lw=1.3, ls=line, marker=mark, ms=5)
                axes.annotate(
                    f"tree {tree}",
                    (days[-1], sizes[-1]),
                    (8, _LIFT_PT.get(tree, 0)),
                    textcoords="offset points",
                    va="center",
                    annotation_clip=False,
                )

    def parts(self) -> tuple[Part, ...]:
        """Girth, and area."""
        girth, area = self.whole.cut_x(432)
        return part("girth", girth), part("area", area)

    def show(self, numbers: OrangeGirths) -> None:
        """Nothing moves: the charts hold the record given at the start, not `numbers`."""

    def describe(self, numbers: OrangeGirths) -> str:
        """The charts in words, with the first and the last of the `numbers`."""
        parts = []
        for tree in _STYLES:
            girths = numbers.girth_cm[numbers.tree == tree]
            first, last = area_from_girth_cm2(girths[0]), area_from_girth_cm2(girths[-1])
            parts.append(
                f"tree {tree} from {girths[0]:.1f} to {girths[-1]:.1f} cm of girth and from "
                f"{first:.1f} to {last:.1f} cm² of area"
            )
        return (
            "Two charts of five orange trees from day 118 to day 1582, girth and sectional area "
            "against time: " + "; ".join(parts) + ". The areas fan out more than the girths."
        )


def orange_growth() -> Still:
    """The five orange trees [Draper1998]: girth and area against time.

    >>> orange_growth().alt[:41]
    'Two charts of five orange trees from day '
    """
    record = orange_girths()
    return draw_still(GrowthPicture(record), record)
