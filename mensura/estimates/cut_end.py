"""A cut end: on the outline of one real section, what tape and calipers would have made of it.

The outline is the truth here. The tape's overestimate of it has two parts, which sum to it: what
the taut tape spans over hollows, and what the hull lacks of a circle of its girth. Calipers have
no one error but one for each direction in which a practice begins; the tape has no direction.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from types import MappingProxyType
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, MeasureError, kept, number
from mensura.estimates.areas import area_from_diameters_cm2, area_from_girth_cm2, over_percent
from mensura.estimates.comparison import PRACTICES
from mensura.estimates.cut_end_parts import Pith, UnderBark, pith_of, under_bark_of
from mensura.estimates.out_of_round import out_of_round_percent, tape_over_percent
from mensura.instruments.calipers import evenly_turned_deg
from mensura.stems.end_widths import EndWidths, HullWidths
from mensura.stems.outline import Outline

#: Two widths that somebody sought out on the cut: which two, and which mean of them.
CHOSEN: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "longest-and-shortest-arithmetic": ("shortest", "arithmetic"),
        "longest-and-shortest-geometric": ("shortest", "geometric"),
        "longest-and-across-arithmetic": ("across", "arithmetic"),
        "longest-and-across-geometric": ("across", "geometric"),
    }
)

#: The same in words for a table.
CHOSEN_WORDS: Mapping[str, str] = MappingProxyType(
    {
        "longest-and-shortest-arithmetic": "longest and shortest, arithmetic mean",
        "longest-and-shortest-geometric": "longest and shortest, product",
        "longest-and-across-arithmetic": "longest and the one across it, arithmetic mean",
        "longest-and-across-geometric": "longest and the one across it, product",
    }
)


@dataclass(frozen=True)
class PracticeAllRound:
    """One caliper practice, begun in every direction.

    practice: its name; directions_deg: in which its first width was taken, shape (n,);
    over_percent: its error of the area for each, per cent, shape (n,); nearer_percent: in how many
    of a hundred directions it is nearer to the truth than the tape.
    """

    practice: str
    directions_deg: FloatArray
    over_percent: FloatArray
    nearer_percent: float

    @property
    def mean_over_percent(self) -> float:
        """Its error on the average of all directions, per cent."""
        return float(self.over_percent.mean())

    @property
    def least_over_percent(self) -> float:
        """Its least error, per cent; below 0: too small."""
        return float(self.over_percent.min())

    @property
    def most_over_percent(self) -> float:
        """Its greatest error, per cent."""
        return float(self.over_percent.max())

    @property
    def least_deg(self) -> float:
        """The direction in which it is least, degrees."""
        return float(self.directions_deg[int(np.argmin(self.over_percent))])

    @property
    def most_deg(self) -> float:
        """The direction in which it is greatest, degrees."""
        return float(self.directions_deg[int(np.argmax(self.over_percent))])

    def to_dict(self) -> dict[str, Any]:
        """Plain numbers, lists and names, ready for JSON; the keys carry the units."""
        return {
            "practice": self.practice,
            "mean_over_percent": self.mean_over_percent,
            "least_over_percent": self.least_over_percent,
            "least_deg": self.least_deg,
            "most_over_percent": self.most_over_percent,
            "most_deg": self.most_deg,
            "nearer_than_tape_percent": self.nearer_percent,
            "directions_deg": self.directions_deg.tolist(),
            "over_percent": self.over_percent.tolist(),
        }


@dataclass(frozen=True)
class ChosenPractice:
    """Two widths that were sought out on the cut, and what is concluded from them.

    practice: its name; directions_deg, readings_cm: of the two widths; area_cm2: concluded;
    over_percent: its error in per cent of the true area.
    """

    practice: str
    directions_deg: tuple[float, float]
    readings_cm: tuple[float, float]
    area_cm2: float
    over_percent: float


@dataclass(frozen=True)
class CutEnd:
    """All that is concluded from the outline of one cut.

    outline: the truth; true_area_cm2: inside it, hollows left out; hull_area_cm2, taut_girth_cm:
    inside a taut tape, and its length; ends: longest and shortest width; across_cm: the width
    square to the longest; out_of_round_percent: the two of them, longer less shorter in per cent
    of the shorter; tape_area_cm2, tape_over_percent: from the girth, and its error;
    hollows_percent, not_round_percent: its two parts; ellipse_over_percent: what the tape would be
    over on a smooth ellipse as much out of round; calipers: every practice begun in every
    direction; chosen: two widths that were sought out; pith, wood, under_bark: the pith, the
    wood's outline and its figures, None where they are not marked.
    """

    outline: Outline
    true_area_cm2: float
    hull_area_cm2: float
    taut_girth_cm: float
    ends: EndWidths
    across_cm: float
    out_of_round_percent: float
    tape_area_cm2: float
    tape_over_percent: float
    hollows_percent: float
    not_round_percent: float
    ellipse_over_percent: float
    calipers: tuple[PracticeAllRound, ...]
    chosen: tuple[ChosenPractice, ...]
    pith: Pith | None
    wood: Outline | None
    under_bark: UnderBark | None

    def to_dict(self) -> dict[str, Any]:
        """Plain numbers, lists and names, ready for JSON; the keys carry the units."""
        return {
            "true_area_cm2": self.true_area_cm2,
            "taut_girth_cm": self.taut_girth_cm,
            **asdict(self.ends),
            "across_longest_cm": self.across_cm,
            "out_of_round_percent": self.out_of_round_percent,
            "tape_area_cm2": self.tape_area_cm2,
            "tape_over_percent": self.tape_over_percent,
            "hollows_percent": self.hollows_percent,
            "not_round_percent": self.not_round_percent,
            "ellipse_over_percent": self.ellipse_over_percent,
            "calipers": [one.to_dict() for one in self.calipers],
            "chosen_calipers": [
                {
                    "practice": one.practice,
                    "directions_deg": list(one.directions_deg),
                    "readings_cm": list(one.readings_cm),
                    "area_cm2": one.area_cm2,
                    "over_percent": one.over_percent,
                }
                for one in self.chosen
            ],
            "pith": None if self.pith is None else self.pith.to_dict(),
            "under_bark": None if self.under_bark is None else asdict(self.under_bark),
        }


def cut_end(
    outline: Outline,
    step_deg: float = 1.0,
    pith_cm: ArrayLike | None = None,
    under_bark: Outline | None = None,
) -> CutEnd:
    """What tape and calipers would have made of one cut, whose outline is known.

    outline: of the section, bark and all, a single one; step_deg: between the directions that are
    tried, 0.1 to 45; pith_cm: where the pith lies, x and y as the outline has them, cm; under_bark:
    the outline of the wood, inside the other. Raises MeasureError for a pith or a wood that does
    not lie in it. Out-of-roundness as in [ForSci1975].

    >>> from mensura.stems import Ellipse
    >>> oval = cut_end(Outline(Ellipse(60, 48).outline_cm()))
    >>> round(oval.tape_over_percent, 2), round(oval.ellipse_over_percent, 2)
    (1.88, 1.88)
    """
    if outline.shape:
        raise MeasureError("outline", str(outline.shape), "", "a single outline, not an array")
    step = float(number(step_deg, "step_deg", "deg", at_least=0.1, at_most=45.0))
    true, girth = float(outline.area_cm2), float(outline.taut_girth_cm)
    hull = float(outline.hull_area_cm2)
    widths = HullWidths(outline)
    ends = widths.ends()
    across = float(widths.widths_cm(ends.longest_deg + 90.0))
    off_round = float(out_of_round_percent(ends.longest_cm, across))
    tape = float(area_from_girth_cm2(girth))
    tape_over = float(over_percent(tape, true))
    return CutEnd(
        outline=outline,
        true_area_cm2=true,
        hull_area_cm2=hull,
        taut_girth_cm=girth,
        ends=ends,
        across_cm=across,
        out_of_round_percent=off_round,
        tape_area_cm2=tape,
        tape_over_percent=tape_over,
        hollows_percent=100 * (hull - true) / true,
        not_round_percent=100 * (tape - hull) / true,
        ellipse_over_percent=float(tape_over_percent(1 / (1 + off_round / 100))),
        calipers=tuple(
            _all_round(name, widths, np.arange(0.0, 180.0, step), true, tape_over)
            for name in PRACTICES
        ),
        chosen=tuple(_chosen(name, ends, across, true) for name in CHOSEN),
        pith=None if pith_cm is None else pith_of(outline, pith_cm),
        wood=under_bark,
        under_bark=None if under_bark is None else under_bark_of(outline, under_bark),
    )


def practice_over_percent(
    widths: HullWidths, practice: str, directions_deg: ArrayLike, true_cm2: float
) -> FloatArray:
    """Error of one caliper practice, begun in each of some directions, in per cent of the area.

    widths: of the outline; practice: a name of PRACTICES; directions_deg: of the first width, any
    shape; true_cm2: the area, above 0. Returns the shape of the directions.

    >>> square = Outline([[0, 0], [40, 0], [40, 40], [0, 40]])
    >>> practice_over_percent(HullWidths(square), "one", [0, 45], 1600.0).round(1).tolist()
    [-21.5, 57.1]
    """
    if practice not in PRACTICES:
        raise MeasureError("practice", practice, "", "one of: " + ", ".join(PRACTICES))
    count, mean = PRACTICES[practice]
    begun = np.asarray(number(directions_deg, "directions_deg", "deg"))
    readings = widths.widths_cm(begun[..., None] + evenly_turned_deg(count))
    return np.asarray(over_percent(area_from_diameters_cm2(readings, mean), true_cm2))


def _all_round(
    practice: str, widths: HullWidths, directions: FloatArray, true: float, tape_over: float
) -> PracticeAllRound:
    over = practice_over_percent(widths, practice, directions, true)
    nearer = 100 * float(np.mean(np.abs(over) < abs(tape_over) - 1e-9))
    return PracticeAllRound(practice, kept(directions), kept(over), nearer)


def _chosen(practice: str, ends: EndWidths, across: float, true: float) -> ChosenPractice:
    which, mean = CHOSEN[practice]
    second = (
        (ends.shortest_deg, ends.shortest_cm)
        if which == "shortest"
        else ((ends.longest_deg + 90.0) % 180.0, across)
    )
    readings = ends.longest_cm, second[1]
    area = float(area_from_diameters_cm2(readings, mean))
    return ChosenPractice(
        practice,
        (ends.longest_deg, second[0]),
        readings,
        area,
        float(over_percent(area, true)),
    )
