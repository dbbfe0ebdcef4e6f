"""What it costs to ignore a rule of where to measure: each computed on a stem, none told.

For each rule a stem is put in its ground and read twice by the package's own instruments: where the
rule has it, and where a hand would have it that does not know the rule. What is read becomes the
area of the circle of that girth, summed over stems where there are several; the cost is the area if
the rule is ignored less that by the rule, in per cent of the latter. Above 0: too much.

Volume is taken as g·h·f with the tree's height and form factor the same both times. So its cost in
per cent is the area's; in m³ it is told for a tree of TREE_M with the usual form factor.

Every cost is told at a usual stem and as a range over plausible tapers and sizes (all of them with
each other). The usual amounts (how steep, how deep, how thick) are ours: common practice, no
source. Whoever has others asks with them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import product
from types import MappingProxyType
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import ChoiceError, diameter, number, plain
from mensura.estimates.areas import area_from_girth_cm2, diameter_from_girth_cm, over_percent
from mensura.estimates.comparison_rows import Row
from mensura.estimates.ignored_rules import IGNORED_RULES, IgnoredRule
from mensura.estimates.place_readings import Case, Girths
from mensura.estimates.solids import SOLIDS
from mensura.estimates.tree_volume import BREAST_M, TALLEST_M, FormFactor
from mensura.written import signed

#: The usual stem, and what is plausible: diameters in cm, tapers in cm of diameter a metre. Thick
#: trees taper more than thin ones of the same height; here every size meets every taper.
USUAL_CM, USUAL_CM_PER_M = 40.0, 1.0
SIZES_CM = (20.0, 40.0, 80.0)
TAPERS_CM_PER_M = (0.5, 1.0, 2.5)
#: A tree's height, for the volume in m³; and a growth in diameter, between two visits.
TREE_M, GROWTH_CM = 25.0, 0.5


#: Trees by which a taper can be judged: diameter in cm and height in m.
TREES_CM_M = ((20.0, 18.0), (40.0, 25.0), (80.0, 35.0))


def breast_taper_cm_per_m(diameter_cm: ArrayLike, height_m: ArrayLike, power: ArrayLike) -> Any:
    """Taper at breast height of a solid of revolution, p·D/(2(H − 1.3)): its slope there.

    diameter_cm: at 1.3 m; height_m: of the tree, above 1.3, at most 120; power: p of its sectional
    area, as in :data:`mensura.estimates.solids.SOLIDS`, from 0 to 10; they broadcast. Returns cm of
    diameter for each metre. The stem curve in [WikiTaper] has p = 1.6. Raises MeasureError.

    >>> [round(breast_taper_cm_per_m(30, 25, power), 4) for power in (1, 2, 3)]
    [0.6329, 1.2658, 1.8987]
    """
    thick = diameter(diameter_cm, "diameter_cm")
    tall = number(height_m, "height_m", "m", above=BREAST_M, at_most=TALLEST_M)
    steep = number(power, "power", "", at_least=0.0, at_most=10.0)
    return plain(np.asarray(steep) * thick / (2 * (np.asarray(tall) - BREAST_M)))


def breast_taper_rows() -> list[Row]:
    """What tapers trees have at breast height, were they solids: why 0.5 to 2.5 cm/m is plausible.

    Rows: diameter_cm, height_m, and for a paraboloid, a cone and a neiloid cm of diameter a metre.

    >>> [round(value, 2) for value in breast_taper_rows()[0].values()]
    [20.0, 18.0, 0.6, 1.2, 1.8]
    """
    return [
        {"diameter_cm": thick, "height_m": tall}
        | {
            f"{name}, cm/m": float(breast_taper_cm_per_m(thick, tall, SOLIDS[name]))
            for name in ("paraboloid", "cone", "neiloid")
        }
        for thick, tall in TREES_CM_M
    ]


@dataclass(frozen=True)
class PlaceCost:
    """What one ignored rule costs, at one stem and over plausible ones.

    key, words, rule, assumes: of the rule; diameter_cm, taper_cm_per_m: of the usual stem, which is
    as thick as that where the rule has it read; girth_percent, area_percent, volume_percent: at the
    usual stem (several stems count as one of their area together); volume_m3: what the tree of
    TREE_M gains by it; growth_percent: of a growth of GROWTH_CM that it would be taken for if only
    the second visit ignored the rule; girth_least_percent, girth_most_percent, area_least_percent,
    area_most_percent: over the plausible tapers and sizes.
    """

    key: str
    words: str
    rule: str
    assumes: str
    diameter_cm: float
    taper_cm_per_m: float
    girth_percent: float
    area_percent: float
    volume_percent: float
    volume_m3: float
    growth_percent: float
    girth_least_percent: float
    girth_most_percent: float
    area_least_percent: float
    area_most_percent: float


def area_cost_percent(
    key: str,
    diameter_cm: float = USUAL_CM,
    taper_cm_per_m: float = USUAL_CM_PER_M,
    amount: float | None = None,
    breast_height_m: float = BREAST_M,
) -> float:
    """What ignoring one rule does to the sectional area of one stem, in per cent.

    key: one of IGNORED_RULES; diameter_cm: by the rule; taper_cm_per_m: of the stem, 0 to 20;
    amount: in the unit of the rule's amount_words, the usual one if None; breast_height_m: above 0,
    at most 3. Raises ChoiceError, MeasureError.

    >>> round(area_cost_percent("downhill", 40.0, 1.0, 20.0), 3)
    0.729
    >>> round(area_cost_percent("level-band", 40.0, 0.0, 10.0), 3)
    1.552
    """
    by_rule, ignored = _read(key, diameter_cm, taper_cm_per_m, amount, breast_height_m)
    return _percent(by_rule, ignored)


def place_costs(
    diameter_cm: float = USUAL_CM,
    taper_cm_per_m: float = USUAL_CM_PER_M,
    breast_height_m: float = BREAST_M,
    amounts: Mapping[str, float] = MappingProxyType({}),
) -> tuple[PlaceCost, ...]:
    """Every rule ignored once, the cheapest first.

    diameter_cm, taper_cm_per_m: of the usual stem; breast_height_m: by the rule; amounts: by the
    rule's key, where the usual one is not meant. Raises ChoiceError, MeasureError.

    >>> dear = place_costs()[-1]
    >>> dear.key, dear.area_percent > 100
    ('stilt-root', True)
    """
    own = tuple(sorted((key, float(amount)) for key, amount in amounts.items()))
    return _costs(float(diameter_cm), float(taper_cm_per_m), float(breast_height_m), own)


def place_cost_rows(costs: tuple[PlaceCost, ...]) -> list[Row]:
    """The costs as rows of a table.

    costs: of :func:`place_costs`. Rows: ignored, in its words; girth_adds_percent;
    area_adds_percent, which is the volume's too; volume_adds_m3, in a tree of TREE_M.

    >>> list(place_cost_rows(place_costs())[0])[:3]
    ['ignored', 'girth_adds_percent', 'area_adds_percent']
    """
    return [
        {
            "ignored": one.words,
            "girth_adds_percent": one.girth_percent,
            "area_adds_percent": one.area_percent,
            "volume_adds_m3": one.volume_m3,
        }
        for one in costs
    ]


def cost_range_rows(costs: tuple[PlaceCost, ...]) -> list[Row]:
    """From where to where each cost goes over plausible tapers and sizes, as rows of a table.

    costs: of :func:`place_costs`. Rows: ignored, in its words; of girth, and of area and volume
    the least_adds_percent and the most_adds_percent, whichever way.

    >>> row = cost_range_rows(place_costs())[-1]
    >>> [f"{value:.0f}" for value in list(row.values())[1:]]
    ['29', '98', '68', '292']
    """
    rows: list[Row] = []
    for one in costs:
        girth = sorted((one.girth_least_percent, one.girth_most_percent), key=abs)
        area = sorted((one.area_least_percent, one.area_most_percent), key=abs)
        rows.append(
            {
                "ignored": one.words,
                "girth: least_adds_percent": girth[0],
                "girth: most_adds_percent": girth[1],
                "area, volume: least_adds_percent": area[0],
                "area, volume: most_adds_percent": area[1],
            }
        )
    return rows


def cost_amount_rows(key: str) -> list[Row]:
    """How one cost grows with its amount, at the usual stem.

    key: one of IGNORED_RULES. Rows: amounts that may be met, with area_adds_percent. Raises
    ChoiceError.

    >>> [round(row["area_adds_percent"], 2) for row in cost_amount_rows("downhill")]
    [0.35, 0.73, 1.16]
    """
    one = _rule(key)
    return [
        {one.amount_words: amount, "area_adds_percent": area_cost_percent(key, amount=amount)}
        for amount in one.amounts
    ]


def cost_of_growth_rows(costs: tuple[PlaceCost, ...], at_most_percent: float = 100.0) -> list[Row]:
    """What each ignored rule would be taken for by who comes back to see how a stem has grown.

    costs: of :func:`place_costs`; at_most_percent: of the growth; what costs more would be seen.
    Rows: second_time, what was done then; diameter_adds_cm; and its
    share of a growth of GROWTH_CM, growth_percent.

    >>> rows = cost_of_growth_rows(place_costs())
    >>> [round(row["growth_percent"]) for row in rows if "the mark" in row["second_time"]]
    [-20]
    """
    return [
        {
            "second_time": one.words,
            "diameter_adds_cm": one.growth_percent / 100 * GROWTH_CM,
            "growth_percent": one.growth_percent,
        }
        for one in costs
        if abs(one.growth_percent) <= at_most_percent * (1 + 1e-9)
    ]


def every_amount_rows() -> list[Row]:
    """Every rule with a small, a usual and a large amount of what it is about, in the list's order.

    Rows: ignored, in words of the usual amount; what the amount is; then three amounts, each with
    what it does to the usual stem's area, in per cent.

    >>> every_amount_rows()[2]["large"]
    '30: +1.16'
    """
    rows: list[Row] = []
    for key, one in IGNORED_RULES.items():
        costs = [area_cost_percent(key, amount=amount) for amount in one.amounts]
        told = [
            f"{amount:g}: {signed(cost, 2 if abs(cost) < 9.995 else 1)}"
            for amount, cost in zip(one.amounts, costs, strict=True)
        ]
        rows.append(
            {"ignored": _words(one, one.usual, BREAST_M), "amount": one.amount_words}
            | dict(zip(("small", "usual", "large"), told, strict=True))
        )
    return rows


@lru_cache(maxsize=8)
def _costs(
    diameter_cm: float,
    taper_cm_per_m: float,
    breast_height_m: float,
    amounts: tuple[tuple[str, float], ...],
) -> tuple[PlaceCost, ...]:
    own = {_rule(key).key: amount for key, amount in amounts}
    found = [
        _cost(one, diameter_cm, taper_cm_per_m, own.get(key), breast_height_m)
        for key, one in IGNORED_RULES.items()
    ]
    return tuple(sorted(found, key=lambda one: abs(one.area_percent)))


def _rule(key: str) -> IgnoredRule:
    if key not in IGNORED_RULES:
        raise ChoiceError("key", key, tuple(IGNORED_RULES))
    return IGNORED_RULES[key]


def _read(
    key: str,
    diameter_cm: float,
    taper_cm_per_m: float,
    amount: float | None,
    breast_height_m: float,
) -> Girths:
    one = _rule(key)
    breast = float(number(breast_height_m, "breast_height_m", "m", above=0.0, at_most=3.0))
    return one.read(
        Case(
            float(diameter(diameter_cm, "diameter_cm")),
            float(number(taper_cm_per_m, "taper_cm_per_m", "cm/m", at_least=0.0, at_most=20.0)),
            float(number(_amount(one, amount, breast), "amount", "", at_least=0.0)),
            breast,
        )
    )


def _amount(one: IgnoredRule, amount: float | None, breast_height_m: float) -> float:
    """What is asked for; else what is usual, and never a breast height for itself."""
    if amount is not None:
        return amount
    if one.key == "other-breast-height" and one.usual == breast_height_m:
        return BREAST_M
    return one.usual


def _words(one: IgnoredRule, amount: float, breast_height_m: float) -> str:
    return one.words.format(amount=amount, breast=breast_height_m)


def _area_cm2(girths_cm: list[float]) -> float:
    return float(np.sum(area_from_girth_cm2(girths_cm)))


def _percent(by_rule: list[float], ignored: list[float]) -> float:
    return float(over_percent(_area_cm2(ignored), _area_cm2(by_rule)))


def _cost(
    one: IgnoredRule,
    diameter_cm: float,
    taper_cm_per_m: float,
    amount: float | None,
    breast_height_m: float,
) -> PlaceCost:
    by_rule, ignored = _read(one.key, diameter_cm, taper_cm_per_m, amount, breast_height_m)
    area = _percent(by_rule, ignored)
    every = [
        area_cost_percent(one.key, size, taper, amount, breast_height_m)
        for size, taper in product(SIZES_CM, TAPERS_CM_PER_M)
    ]
    least, most = min(area, *every), max(area, *every)
    # several stems count as one of their area together
    thick = [2 * (_area_cm2(girths) / np.pi) ** 0.5 for girths in (by_rule, ignored)]
    volumes = [
        float(np.sum(FormFactor().volume_m3(diameter_from_girth_cm(girths), TREE_M)))
        for girths in (by_rule, ignored)
    ]
    return PlaceCost(
        key=one.key,
        words=_words(one, _amount(one, amount, breast_height_m), breast_height_m),
        rule=one.rule,
        assumes=one.assumes,
        diameter_cm=diameter_cm,
        taper_cm_per_m=taper_cm_per_m,
        girth_percent=_girth_percent(area),
        area_percent=area,
        volume_percent=100 * (volumes[1] / volumes[0] - 1),
        volume_m3=volumes[1] - volumes[0],
        growth_percent=float(100 * (thick[1] - thick[0]) / GROWTH_CM),
        girth_least_percent=_girth_percent(least),
        girth_most_percent=_girth_percent(most),
        area_least_percent=least,
        area_most_percent=most,
    )


def _girth_percent(area_percent: float) -> float:
    """What the girth of one stem has to be wrong by for its area to be wrong by so much."""
    return float(100 * (np.sqrt(1 + area_percent / 100) - 1))
