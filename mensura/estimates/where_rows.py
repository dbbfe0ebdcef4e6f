"""Rows of workbook 09: rules with their care beside them, a level band and level calipers on a
lean, two legs as one figure, and stems that were taped twice.

Sentences are those of the rules' own data; figures come from a stem as it stands.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import hypot, pi, radians, tan
from types import MappingProxyType

from mensura.checks import ChoiceError
from mensura.estimates.areas import over_percent
from mensura.estimates.comparison_rows import Row
from mensura.estimates.growth import growth_between
from mensura.estimates.growth_rows import COMBINATIONS
from mensura.estimates.place_costs import place_cost_rows, place_costs
from mensura.estimates.place_rows import short, situation_rows
from mensura.estimates.place_rules import SITUATIONS, situation
from mensura.estimates.stand_growth import stand_growth
from mensura.estimates.tree_volume import BREAST_M
from mensura.stems.standing import StemInSpace
from mensura.stems.wrapped import belt_cm


@dataclass(frozen=True)
class TapedTwice:
    """A stem and its two girths.

    stem: its code; first_girth_cm, second_girth_cm: above 0, cm.
    """

    stem: str
    first_girth_cm: float
    second_girth_cm: float


_LOWER = tuple(SITUATIONS)[: tuple(SITUATIONS).index("swelling")]
#: The two halves in which a page tells the situations: how a stem stands, and what is on it.
PARTS = MappingProxyType(
    {
        "how it stands": _LOWER,
        "what is on it": tuple(key for key in SITUATIONS if key not in _LOWER),
    }
)


def _keys(part: str) -> tuple[str, ...]:
    if part not in PARTS:
        raise ChoiceError("part", part, tuple(PARTS))
    return PARTS[part]


def rule_care_rows(part: str) -> list[Row]:
    """Each kind of stem: where it is measured, what to mind there, and who says so.

    part: one of PARTS. Raises ChoiceError for another.

    >>> [len(rule_care_rows(part)) for part in PARTS]
    [11, 13]
    """
    keys = _keys(part)
    return [
        {
            "stem": row["stem"],
            "where to measure": row["where to measure"],
            "care": situation(key).caution or "–",
            "who says so": row["who says so"],
        }
        for key, row in zip(keys, situation_rows(keys), strict=True)
    ]


def differ_rows(part: str) -> list[Row]:
    """What manuals differ on: a question a row, its views a line each; ours is the rule's own.

    part: one of PARTS. Raises ChoiceError for another. Keys alone; the places in them tells
    :func:`mensura.estimates.place_rows.disagreement_rows`.

    >>> list(differ_rows("how it stands")[0])
    ['question', 'what manuals say']
    """
    return [
        {
            "question": differ.about,
            "what manuals say": "\n".join(f"{one.words} {short(one.said)}" for one in differ.views),
        }
        for key in _keys(part)
        for differ in situation(key).disagreements
    ]


#: Costs that a page shows as figures, one of each kind: height, side, band, what lies under it.
FEW_COSTS = (
    "other-breast-height",
    "downhill",
    "wrong-side",
    "level-band",
    "swelling",
    "moss",
    "buttress",
    "two-as-one",
)


def few_cost_rows(
    diameter_cm: float, taper_cm_per_m: float, breast_height_m: float = BREAST_M
) -> list[Row]:
    """What FEW_COSTS come to on one stem, in girth, area and volume.

    diameter_cm, taper_cm_per_m: of the stem; breast_height_m: by the rule. Raises MeasureError.

    >>> [row["ignored"] for row in few_cost_rows(40, 1.0)][-1]
    'two stems in one band'
    """
    costs = {one.key: one for one in place_costs(diameter_cm, taper_cm_per_m, breast_height_m)}
    return place_cost_rows(tuple(costs[key] for key in FEW_COSTS))


def level_rows(leans_deg: Sequence[float] = (5, 10, 15, 20)) -> list[Row]:
    """A level band round a leaning cylinder, exact and by the rule of thumb, and level calipers.

    leans_deg: from plumb, below 90. Girth exact by the elliptic integral [AS1964], approximate by
    1 + tan²λ/4; calipers with their beam in the plane of the lean. Rows: in per cent of what the
    section square to the stem has.

    >>> row = level_rows([10])[0]
    >>> [round(row[name], 3) for name in ("girth_over_percent", "by tan²/4_over_percent")]
    [0.773, 0.777]
    """
    rows: list[Row] = []
    for lean_deg in leans_deg:
        stem = StemInSpace(40.0, lean_deg=lean_deg)
        square, level = stem.section_at(1.3), stem.section_at(1.3, level=True)
        times = float(level.taut_girth_cm / square.taut_girth_cm)
        in_lean = float(level.width_cm(0.0) / square.width_cm(0.0))
        rows.append(
            {
                "lean_deg": float(lean_deg),
                "girth_over_percent": 100 * (times - 1),
                "by tan²/4_over_percent": 25 * tan(radians(lean_deg)) ** 2,
                "area_over_percent": 100 * (times**2 - 1),
                "one width in the lean: area_over_percent": 100 * (in_lean**2 - 1),
            }
        )
    return rows


def leg_rows(first_cm: float = 25.0, second_cm: float = 22.0) -> list[Row]:
    """Two round legs that touch as one figure, by every way that somebody publishes or follows.

    first_cm, second_cm: diameters, above 0, cm, the thicker first. The root of the sum of the
    squares keeps the area. Rows: way, diameter_cm, area_over_percent.

    >>> [round(row["area_over_percent"], 2) for row in leg_rows()]
    [0.0, -43.64, 16.86, 33.59, 99.19]
    """
    whole = hypot(first_cm, second_cm)
    ways = (
        ("root of the sum of the squares", whole),
        ("the thicker leg alone", first_cm),
        ("the thicker leg and half the other", first_cm + second_cm / 2),
        ("one taut band round both", float(belt_cm(first_cm, second_cm)) / pi),
        ("sum of the diameters", first_cm + second_cm),
    )
    return [
        {
            "two legs as one": words,
            "diameter_cm": across,
            "area_over_percent": float(over_percent(across**2, whole**2)),
        }
        for words, across in ways
    ]


def taped_rows(
    taped: Iterable[TapedTwice],
    between_years: float,
    second_reading: str = "same tape, hand and season",
) -> list[Row]:
    """Stems that were taped twice: each one's growth, whether it stands out, and the mean of all.

    taped: the stems; between_years: from the first reading to the second, above 0; second_reading:
    what it has in common with the first, one of COMBINATIONS. Below nought is told, never set to 0.
    Rows: stem, first_cm, second_cm, growth_cm, u_cm (its standard uncertainty), year_cm (growth
    a year), stands out. Raises ChoiceError, MeasureError.

    >>> two = [TapedTwice("1", 100.0, 105.0), TapedTwice("2", 80.0, 79.0)]
    >>> [row["stands out"] for row in taped_rows(two, 5)]
    ['yes', 'yes: smaller', 'no']
    """
    if second_reading not in COMBINATIONS:
        raise ChoiceError("second_reading", second_reading, tuple(COMBINATIONS))
    again, stems = COMBINATIONS[second_reading], tuple(taped)
    rows: list[Row] = []
    for one in stems:
        grown = growth_between(one.first_girth_cm, one.second_girth_cm, between_years, None, again)
        smaller = ": smaller" if grown.growth_cm < 0 else ""
        rows.append(
            {
                "stem": one.stem,
                "first_cm": one.first_girth_cm,
                "second_cm": one.second_girth_cm,
                "growth_cm": grown.growth_cm,
                "u_cm": grown.u_growth_cm,
                "a year_cm": grown.a_year_cm,
                "stands out": f"yes{smaller}" if grown.stands_out else "no",
            }
        )
    if len(stems) < 2:
        return rows
    first = [one.first_girth_cm for one in stems]
    second = [one.second_girth_cm for one in stems]
    mean = stand_growth(first, second, between_years, None, again)
    return [
        *rows,
        {
            "stem": "mean",
            "first_cm": sum(first) / len(first),
            "second_cm": sum(second) / len(second),
            "growth_cm": mean.growth_cm,
            "u_cm": mean.u_growth_cm,
            "a year_cm": mean.a_year_cm,
            "stands out": "yes" if mean.stands_out else "no",
        },
    ]
