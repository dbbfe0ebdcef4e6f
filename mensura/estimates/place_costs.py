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

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from itertools import product
from types import MappingProxyType
from typing import Any

import numpy as np

from mensura.checks import ChoiceError, diameter, number
from mensura.estimates.areas import area_from_girth_cm2, diameter_from_girth_cm, over_percent
from mensura.estimates.comparison_rows import Row
from mensura.estimates.tree_volume import BREAST_M, FormFactor
from mensura.instruments.calipers import Calipers, mean_cm
from mensura.instruments.lay import LEVEL, Lay
from mensura.instruments.tape import Tape
from mensura.stems.bark import RoughBark
from mensura.stems.ellipse import Ellipse, circle
from mensura.stems.hulls import closed_length_cm
from mensura.stems.section import Section
from mensura.stems.several import SeveralStems
from mensura.stems.standing import Buttress, Fork, StemInSpace, Swelling

#: The usual stem, and what is plausible: diameters in cm, tapers in cm of diameter a metre. Thick
#: trees taper more than thin ones of the same height; here every size meets every taper.
USUAL_CM, USUAL_CM_PER_M = 40.0, 1.0
SIZES_CM = (20.0, 40.0, 80.0)
TAPERS_CM_PER_M = (0.5, 1.0, 2.5)
#: A tree's height, for the volume in m³; and a growth in diameter, between two visits.
TREE_M, GROWTH_CM = 25.0, 0.5

#: A fork's legs over the stem below it (25 and 22 cm on 40), and how far below the band it forks.
_LEGS, _FORK_BELOW_M = (0.625, 0.55), 0.4
#: A butt swell ends here; the place is so far above its end, 1.5 ft.
_SWELL_ENDS_M, _ABOVE_SWELL_M = 1.8, 0.4572
#: Buttresses: how many, and how far they reach at the ground over the diameter.
_LOBES, _LOBE_REACH = 5, 1.5
#: Stilt roots: how thick over the diameter; they leave the stem at 45°.
_ROOT_THICK = 0.125
_GROOVES = 6


@dataclass(frozen=True)
class Case:
    """A stem of which a rule is ignored.

    diameter_cm: where the rule has it read (of a stem forked below: below its fork), cm;
    taper_cm_per_m: of it; amount: how much of what the rule is about, in the rule's own unit;
    breast_height_m: by the rule.
    """

    diameter_cm: float
    taper_cm_per_m: float
    amount: float
    breast_height_m: float = BREAST_M

    def stem(self, side: str = "uphill", **more: Any) -> StemInSpace:
        """The stem, as thick as it is said to be at breast height on one side.

        side: of the stem, as for :class:`StemInSpace`; more: settings of it.
        """
        first = StemInSpace(self.diameter_cm, 0.0, self.taper_cm_per_m, **more)
        return replace(first, at_m=first.along_m(self.breast_height_m, side))


#: Girths in cm by the rule, one a stem, and girths if it is ignored.
Girths = tuple[list[float], list[float]]


@dataclass(frozen=True)
class IgnoredRule:
    """A rule, and what is done by who does not know it.

    key: its name in lists; rule: what is right; words: what is done instead, short, with {amount};
    amount_words: what the amount is, with its unit; usual: of the amount; least, most: of what may
    be met; read: girths by the rule and girths without it; assumes: what the computation does.
    """

    key: str
    rule: str
    words: str
    amount_words: str
    usual: float
    least: float
    most: float
    read: Callable[[Case], Girths]
    assumes: str


@dataclass(frozen=True)
class PlaceCost:
    """What one ignored rule costs, at one stem and over plausible ones.

    key, words, rule, assumes: of the rule; girth_percent, area_percent, volume_percent: at the
    usual stem (several stems count as one of their area together); volume_m3: what the tree of
    TREE_M gains by it; growth_percent: of a growth of GROWTH_CM that it would be taken for if only
    the second visit ignored the rule; girth_least_percent to area_most_percent: over the plausible
    tapers and sizes.
    """

    key: str
    words: str
    rule: str
    assumes: str
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

    key: one of RULES; diameter_cm: by the rule; taper_cm_per_m: of the stem, 0 to 20; amount: in
    the unit of the rule's amount_words, the usual one if None; breast_height_m: above 0, at most 3.
    Raises ChoiceError, MeasureError.

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
    ('buttress', True)
    """
    for key in amounts:
        _rule(key)
    found = [
        _cost(one, diameter_cm, taper_cm_per_m, amounts.get(key), breast_height_m)
        for key, one in RULES.items()
    ]
    return tuple(sorted(found, key=lambda one: abs(one.area_percent)))


def place_cost_rows(costs: tuple[PlaceCost, ...]) -> list[Row]:
    """The costs as rows of a table.

    costs: of :func:`place_costs`. Rows: ignored, in its words; girth_adds_percent;
    area_adds_percent, and from where to where over plausible tapers and sizes; volume_adds_m3, in
    a tree of TREE_M.

    >>> list(place_cost_rows(place_costs())[0])[:3]
    ['ignored', 'girth_adds_percent', 'area_adds_percent']
    """
    return [
        {
            "ignored": one.words,
            "girth_adds_percent": one.girth_percent,
            "area_adds_percent": one.area_percent,
            "least_percent": one.area_least_percent,
            "most_percent": one.area_most_percent,
            "volume_adds_m3": one.volume_m3,
        }
        for one in costs
    ]


def amount_rows(key: str) -> list[Row]:
    """How one cost grows with its amount, at the usual stem.

    key: one of RULES. Rows: the least, the usual and the most that may be met, with
    area_adds_percent. Raises ChoiceError.

    >>> [round(row["area_adds_percent"], 2) for row in amount_rows("downhill")]
    [0.35, 0.73, 1.16]
    """
    one = _rule(key)
    return [
        {one.amount_words: amount, "area_adds_percent": area_cost_percent(key, amount=amount)}
        for amount in (one.least, one.usual, one.most)
    ]


def growth_rows(costs: tuple[PlaceCost, ...]) -> list[Row]:
    """What each ignored rule would be taken for by who comes back to see how a stem has grown.

    costs: of :func:`place_costs`. Rows: second_time, what was done then; diameter_adds_cm; and its
    share of a growth of GROWTH_CM, growth_percent.

    >>> {row["second_time"]: round(row["growth_percent"]) for row in growth_rows(place_costs())}[
    ...     "10 cm above the mark"]
    -20
    """
    return [
        {
            "second_time": one.words,
            "diameter_adds_cm": one.growth_percent / 100 * GROWTH_CM,
            "growth_percent": one.growth_percent,
        }
        for one in costs
    ]


def _rule(key: str) -> IgnoredRule:
    if key not in RULES:
        raise ChoiceError("key", key, tuple(RULES))
    return RULES[key]


def _read(
    key: str,
    diameter_cm: float,
    taper_cm_per_m: float,
    amount: float | None,
    breast_height_m: float,
) -> Girths:
    one = _rule(key)
    return one.read(
        Case(
            float(diameter(diameter_cm, "diameter_cm")),
            float(number(taper_cm_per_m, "taper_cm_per_m", "cm/m", at_least=0.0, at_most=20.0)),
            float(number(one.usual if amount is None else amount, "amount", "", at_least=0.0)),
            float(number(breast_height_m, "breast_height_m", "m", above=0.0, at_most=3.0)),
        )
    )


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
        words=one.words.format(amount=one.usual if amount is None else amount),
        rule=one.rule,
        assumes=one.assumes,
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
    return 100 * ((1 + area_percent / 100) ** 0.5 - 1)


# ---- how each is read ----------------------------------------------------------------------------


def _taped(section: Section, lay: Lay = LEVEL) -> float:
    return float(Tape().read(section, lay).reading_cm)


def _places(stem: StemInSpace, ignored_m: float) -> Girths:
    """The band at the place where the stem's diameter is told, and at another."""
    return [_taped(stem.section_at(stem.at_m))], [_taped(stem.section_at(ignored_m))]


def _off(case: Case, off_m: float) -> Girths:
    stem = case.stem()
    return _places(stem, stem.at_m + off_m)


def _from_side(case: Case, side: str) -> Girths:
    stem = case.stem(slope_deg=case.amount)
    return _places(stem, stem.along_m(case.breast_height_m, side))


def _leaning(case: Case, side: str, plumb: bool = False) -> Girths:
    stem = case.stem("upper", lean_deg=case.amount)
    return _places(stem, stem.along_m(case.breast_height_m, side, plumb))


def _level_band(case: Case) -> Girths:
    stem = case.stem("upper", lean_deg=case.amount)
    square, level = (stem.section_at(stem.at_m, level=one) for one in (False, True))
    return [_taped(square)], [_taped(level)]


def _level_calipers(case: Case, directions_deg: list[float]) -> Girths:
    stem = case.stem("upper", lean_deg=case.amount)
    square, level = (
        float(mean_cm(Calipers().read(stem.section_at(stem.at_m, one), directions_deg), "geometric"))
        for one in (False, True)
    )
    return [float(np.pi) * square], [float(np.pi) * level]


def _swollen(case: Case) -> Girths:
    """The rule's reading is the mean of two at equal distances, off the swelling."""
    plain = case.stem()
    stem = replace(plain, swelling=Swelling(plain.at_m, case.amount))
    return [_both_sides(stem)], [_taped(stem.section_at(stem.at_m))]


def _both_sides(stem: StemInSpace, off_m: float = 0.5) -> float:
    low, high = (_taped(stem.section_at(stem.at_m + off)) for off in (-off_m, off_m))
    return (low + high) / 2


def _above_only(case: Case) -> Girths:
    plain = case.stem()
    stem = replace(plain, swelling=Swelling(plain.at_m, 8.0))
    off_m = case.amount / 100
    return [_both_sides(stem)], [_taped(stem.section_at(stem.at_m + off_m))]


def _forked(case: Case, legs_cm: tuple[float, float], gap_cm: float) -> StemInSpace:
    fork_m = max(case.breast_height_m - _FORK_BELOW_M, 0.0)
    fork = Fork(fork_m, legs_cm, gap_cm)
    return StemInSpace(case.diameter_cm, fork_m, case.taper_cm_per_m, fork=fork)


def _two_as_one(case: Case) -> Girths:
    first, second = (share * case.diameter_cm for share in _LEGS)
    stem = _forked(case, (first, second), case.amount)
    each = [_taped(leg) for leg in stem.legs_at(case.breast_height_m)]
    return each, [float(stem.section_at(case.breast_height_m).taut_girth_cm)]


def _one_of_two(case: Case) -> Girths:
    first = _LEGS[0] * case.diameter_cm
    stem = _forked(case, (first, first * case.amount / 100), 0.0)
    each = [_taped(leg) for leg in stem.legs_at(case.breast_height_m)]
    return each, [max(each)]


def _mossy(case: Case) -> Girths:
    bare, mossy = (circle(case.diameter_cm + more) for more in (0.0, 2 * case.amount))
    return [_taped(bare)], [_taped(mossy)]


def _climbed(case: Case) -> Girths:
    stem = circle(case.diameter_cm)
    return [_taped(stem)], [_taped(stem, Lay(climber_cm=case.amount))]


def _grooved(case: Case) -> Girths:
    ridges = Ellipse(case.diameter_cm, case.diameter_cm)
    stem = RoughBark(ridges, _GROOVES, case.amount)
    return [_taped(stem)], [float(closed_length_cm(stem.outline_cm()))]


def _swollen_butt(case: Case) -> Girths:
    """The swell is a half of a swelling whose middle is the ground."""
    place_m = _SWELL_ENDS_M + _ABOVE_SWELL_M
    butt = Swelling(0.0, case.amount, _SWELL_ENDS_M)
    stem = StemInSpace(case.diameter_cm, place_m, case.taper_cm_per_m, swelling=butt)
    return _places(stem, case.breast_height_m)


def _buttressed(case: Case) -> Girths:
    top_m = case.amount
    lobes = Buttress(_LOBES, _LOBE_REACH * case.diameter_cm, top_m)
    stem = StemInSpace(case.diameter_cm, top_m, case.taper_cm_per_m, buttress=lobes)
    return _places(stem, case.breast_height_m)


def _stilted(case: Case) -> Girths:
    """Four round roots at 45° from the highest root on, cut level, and the stem between them."""
    stem = StemInSpace(case.diameter_cm, case.amount, case.taper_cm_per_m)
    thick = float(stem.diameter_at_cm(case.breast_height_m))
    root = _ROOT_THICK * case.diameter_cm
    away = thick / 2 + max(100 * (case.amount - case.breast_height_m), 0.0)
    long = root * 2**0.5
    roots = (Ellipse(long, root), Ellipse(root, long)) * 2
    middles = ((away, 0.0), (0.0, away), (-away, 0.0), (0.0, -away))
    among = SeveralStems((Ellipse(thick, thick), *roots), ((0.0, 0.0), *middles))
    return [_taped(stem.section_at(stem.at_m))], [float(among.taut_girth_cm)]


_STRAIGHT = "a straight taper"
_LEAN = "the lean of the stem, °"

#: Every rule whose cost is computed, by its key.
RULES: Mapping[str, IgnoredRule] = MappingProxyType(
    {
        one.key: one
        for one in (
            IgnoredRule(
                "wrong-height",
                "measure the height with a stick",
                "{amount:g} cm too low",
                "too low by, cm",
                *(20.0, 10.0, 40.0),
                lambda case: _off(case, -case.amount / 100),
                _STRAIGHT,
            ),
            IgnoredRule(
                "other-breast-height",
                "take the breast height that the table was made for",
                "{amount:.2f} m for 1.30 m",
                "the other breast height, m",
                *(1.37, 1.2, 1.5),
                lambda case: _off(case, case.amount - case.breast_height_m),
                _STRAIGHT,
            ),
            IgnoredRule(
                "downhill",
                "measure the height from the uphill side",
                "from downhill, slope {amount:g}°",
                "slope, °",
                *(20.0, 10.0, 30.0),
                lambda case: _from_side(case, "downhill"),
                f"{_STRAIGHT}; the two sides are D·tan β apart",
            ),
            IgnoredRule(
                "half-way",
                "measure the height from the uphill side",
                "from half-way, slope {amount:g}°",
                "slope, °",
                *(20.0, 10.0, 30.0),
                lambda case: _from_side(case, "middle"),
                f"{_STRAIGHT}; some lists have half-way as the rule",
            ),
            IgnoredRule(
                "plumb",
                "measure the height along the stem",
                "height plumb, lean {amount:g}°",
                _LEAN,
                *(10.0, 5.0, 20.0),
                lambda case: _leaning(case, "upper", plumb=True),
                f"{_STRAIGHT}, level ground",
            ),
            IgnoredRule(
                "wrong-side",
                "measure the height on the upper side of a leaning stem",
                "on the under side, lean {amount:g}°",
                _LEAN,
                *(10.0, 5.0, 20.0),
                lambda case: _leaning(case, "under"),
                f"{_STRAIGHT}, level ground; manuals differ on the side",
            ),
            IgnoredRule(
                "level-band",
                "hold the band square to the stem's axis",
                "band level, lean {amount:g}°",
                _LEAN,
                *(10.0, 5.0, 20.0),
                _level_band,
                "a round stem; the ellipse's girth is exact",
            ),
            IgnoredRule(
                "level-calipers",
                "hold the calipers square to the stem's axis",
                "calipers level, lean {amount:g}°",
                _LEAN,
                *(10.0, 5.0, 20.0),
                lambda case: _level_calipers(case, [0.0, 90.0]),
                "a round stem; in the lean and across it, the product of both",
            ),
            IgnoredRule(
                "level-calipers-in-lean",
                "hold the calipers square to the stem's axis",
                "one level width in a lean of {amount:g}°",
                _LEAN,
                *(10.0, 5.0, 20.0),
                lambda case: _level_calipers(case, [0.0]),
                "a round stem; across the lean it would cost nothing",
            ),
            IgnoredRule(
                "swelling",
                "take the mean of two girths, equally far above and below",
                "on a swelling of {amount:g} %",
                "the swelling, % of diameter",
                *(8.0, 3.0, 15.0),
                _swollen,
                f"{_STRAIGHT}, for which the mean is exact",
            ),
            IgnoredRule(
                "above-only",
                "take the mean of two girths, equally far above and below",
                "only {amount:g} cm above a swelling",
                "above its middle, cm",
                *(50.0, 30.0, 80.0),
                _above_only,
                f"{_STRAIGHT}; some manuals have above only as the rule",
            ),
            IgnoredRule(
                "two-as-one",
                "measure each stem of a fork below breast height",
                "two stems in one band",
                "gap between them, cm",
                *(0.0, 0.0, 10.0),
                _two_as_one,
                "legs of 62.5 and 55 % of the stem below; round, upright, a taut band",
            ),
            IgnoredRule(
                "one-leg-of-two",
                "measure each stem of a fork below breast height",
                "one stem of two",
                "the thinner stem, % of the thicker",
                *(88.0, 50.0, 100.0),
                _one_of_two,
                "only the thicker is counted",
            ),
            IgnoredRule(
                "litter",
                "clear the litter before the height is measured",
                "on {amount:g} cm of litter",
                "litter, cm",
                *(5.0, 2.0, 15.0),
                lambda case: _off(case, case.amount / 100),
                _STRAIGHT,
            ),
            IgnoredRule(
                "raised-roots",
                "start where the roots end and the stem begins",
                "from beside roots {amount:g} cm high",
                "roots above the ground, cm",
                *(15.0, 5.0, 40.0),
                lambda case: _off(case, -case.amount / 100),
                _STRAIGHT,
            ),
            IgnoredRule(
                "moss",
                "take moss and loose bark off first",
                "over {amount:g} cm of moss",
                "moss or loose bark, cm",
                *(0.5, 0.2, 1.0),
                _mossy,
                "the same thickness all round",
            ),
            IgnoredRule(
                "climber",
                "put the band under the climber, never over it",
                "over a climber of {amount:g} cm",
                "its diameter, cm",
                *(2.0, 1.0, 5.0),
                _climbed,
                "one round climber on a round stem, a taut band",
            ),
            IgnoredRule(
                "furrows",
                "lay the band over the grooves, never press it in",
                "pressed into grooves of {amount:g} cm",
                "the deepest groove, cm",
                *(2.0, 1.0, 4.0),
                _grooved,
                "six grooves, an invented pattern; the band follows all of their floor",
            ),
            IgnoredRule(
                "butt-swell",
                "go 0.46 m above the end of the swell",
                "on a butt swell, {amount:g} % at the foot",
                "the swell at the ground, % of diameter",
                *(40.0, 20.0, 80.0),
                _swollen_butt,
                f"a swell that ends at 1.8 m as a cosine's square does; {_STRAIGHT}",
            ),
            IgnoredRule(
                "buttress",
                "go to where the buttresses end",
                "round buttresses {amount:g} m high",
                "they end at, m",
                *(2.0, 1.5, 3.0),
                _buttressed,
                "five lobes that reach 1.5 diameters at the ground; their shape is invented",
            ),
            IgnoredRule(
                "stilt-root",
                "go above the highest root",
                "round stilt roots from {amount:g} m down",
                "the highest root, m",
                *(1.4, 1.35, 1.6),
                _stilted,
                "four roots of an eighth of the diameter, at 45°; invented",
            ),
            IgnoredRule(
                "snow",
                "measure the height from the ground and not from the snow",
                "from the top of {amount:g} cm of snow",
                "snow, cm",
                *(40.0, 20.0, 100.0),
                lambda case: _off(case, case.amount / 100),
                _STRAIGHT,
            ),
            IgnoredRule(
                "off-the-mark",
                "come back to the same mark",
                "{amount:g} cm above the mark",
                "off the mark, cm",
                *(10.0, 2.0, 20.0),
                lambda case: _off(case, case.amount / 100),
                f"{_STRAIGHT}; of a growth it takes more than of a girth",
            ),
        )
    }
)
