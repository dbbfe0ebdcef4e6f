"""The rules of where to measure whose being ignored has a price, as data.

A row says what is right, what a hand does instead that does not know it, by how much (usual, least
and most that may be met: ours; common practice, no source), and how both are read
(:mod:`mensura.estimates.place_readings`). Who says each rule stands with the rules themselves.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from mensura.estimates import place_readings as reads
from mensura.estimates.place_readings import Case, Girths


@dataclass(frozen=True)
class IgnoredRule:
    """A rule, and what is done by who does not know it.

    key: its name in lists; rule: what is right; words: what is done instead, short, with {amount}
    and {breast}, the breast height by the rule; amount_words: what the amount is, with its unit;
    usual: of the amount; amounts: some that may be met, rising; read: girths by the rule and girths
    without it; assumes: what the computation does. amount and amounts are in their own unit.
    """

    key: str
    rule: str
    words: str
    amount_words: str
    usual: float
    amounts: tuple[float, float, float]
    read: Callable[[Case], Girths]
    assumes: str


_STRAIGHT = "a straight taper"
_LEAN = "the lean of the stem, °"

#: Every rule whose cost is computed, by its key.
IGNORED_RULES: Mapping[str, IgnoredRule] = MappingProxyType(
    {
        one.key: one
        for one in (
            IgnoredRule(
                "wrong-height",
                "measure the height with a stick",
                "held {amount:g} cm too low",
                "too low by, cm",
                20.0,
                (10.0, 20.0, 40.0),
                lambda case: reads.off(case, -case.amount / 100),
                _STRAIGHT,
            ),
            IgnoredRule(
                "other-breast-height",
                "take the breast height that the table was made for",
                "{amount:.2f} m for {breast:.2f} m",
                "the other breast height, m",
                1.37,
                (1.2, 1.37, 1.5),
                lambda case: reads.off(case, case.amount - case.breast_height_m),
                _STRAIGHT,
            ),
            IgnoredRule(
                "downhill",
                "measure the height from the uphill side",
                "from downhill, slope {amount:g}°",
                "slope, °",
                20.0,
                (10.0, 20.0, 30.0),
                lambda case: reads.from_side(case, "downhill"),
                f"{_STRAIGHT}; the two sides are D·tan β apart",
            ),
            IgnoredRule(
                "half-way",
                "measure the height from the uphill side",
                "from half-way, slope {amount:g}°",
                "slope, °",
                20.0,
                (10.0, 20.0, 30.0),
                lambda case: reads.from_side(case, "middle"),
                f"{_STRAIGHT}; some lists have half-way as the rule",
            ),
            IgnoredRule(
                "plumb",
                "measure the height along the stem",
                "height plumb, lean {amount:g}°",
                _LEAN,
                10.0,
                (5.0, 10.0, 20.0),
                lambda case: reads.leaning(case, "upper", plumb=True),
                f"{_STRAIGHT}, level ground",
            ),
            IgnoredRule(
                "wrong-side",
                "measure the height on the upper side of a leaning stem",
                "on the under side, lean {amount:g}°",
                _LEAN,
                10.0,
                (5.0, 10.0, 20.0),
                lambda case: reads.leaning(case, "under"),
                f"{_STRAIGHT}, level ground; manuals differ on the side",
            ),
            IgnoredRule(
                "middle-of-lean",
                "measure the height on the upper side of a leaning stem",
                "mid-way of a lean of {amount:g}°",
                _LEAN,
                10.0,
                (5.0, 10.0, 20.0),
                lambda case: reads.leaning(case, "middle"),
                f"{_STRAIGHT}, level ground; some manuals have the mean of both sides as the rule",
            ),
            IgnoredRule(
                "level-band",
                "hold the band square to the stem's axis",
                "band level, lean {amount:g}°",
                _LEAN,
                10.0,
                (5.0, 10.0, 20.0),
                reads.level_band,
                "a round stem; the ellipse's girth is exact",
            ),
            IgnoredRule(
                "level-calipers",
                "hold the calipers square to the stem's axis",
                "calipers level, lean {amount:g}°",
                _LEAN,
                10.0,
                (5.0, 10.0, 20.0),
                lambda case: reads.level_calipers(case, [0.0, 90.0]),
                "a round stem; in the lean and across it, the product of both",
            ),
            IgnoredRule(
                "level-calipers-in-lean",
                "hold the calipers square to the stem's axis",
                "one level width in a lean of {amount:g}°",
                _LEAN,
                10.0,
                (5.0, 10.0, 20.0),
                lambda case: reads.level_calipers(case, [0.0]),
                "a round stem; across the lean it would cost nothing",
            ),
            IgnoredRule(
                "swelling",
                "take the mean of two girths, equally far above and below",
                "on a swelling of {amount:g} %",
                "the swelling, % of diameter",
                8.0,
                (3.0, 8.0, 15.0),
                reads.swollen,
                f"{_STRAIGHT}, for which the mean is exact",
            ),
            IgnoredRule(
                "above-only",
                "take the mean of two girths, equally far above and below",
                "{amount:g} cm above a swelling",
                "above its middle, cm",
                50.0,
                (30.0, 50.0, 80.0),
                reads.above_only,
                f"{_STRAIGHT}; some manuals have above only as the rule",
            ),
            IgnoredRule(
                "two-as-one",
                "measure each stem of a fork below breast height",
                "two stems in one band",
                "gap between them, cm",
                0.0,
                (0.0, 5.0, 10.0),
                reads.two_as_one,
                "legs of 62.5 and 55 % of the stem below; round, upright, a taut band",
            ),
            IgnoredRule(
                "one-leg-of-two",
                "measure each stem of a fork below breast height",
                "one stem of two",
                "the thinner stem, % of the thicker",
                88.0,
                (50.0, 88.0, 100.0),
                reads.one_of_two,
                "only the thicker is counted",
            ),
            IgnoredRule(
                "litter",
                "clear the litter before the height is measured",
                "on {amount:g} cm of litter",
                "litter, cm",
                5.0,
                (2.0, 5.0, 15.0),
                lambda case: reads.off(case, case.amount / 100),
                _STRAIGHT,
            ),
            IgnoredRule(
                "raised-roots",
                "start where the roots end and the stem begins",
                "beside roots of {amount:g} cm",
                "roots above the ground, cm",
                15.0,
                (5.0, 15.0, 40.0),
                lambda case: reads.off(case, -case.amount / 100),
                _STRAIGHT,
            ),
            IgnoredRule(
                "moss",
                "take moss and loose bark off first",
                "over {amount:g} cm of moss",
                "moss or loose bark, cm",
                0.5,
                (0.2, 0.5, 1.0),
                reads.mossy,
                "the same thickness all round",
            ),
            IgnoredRule(
                "climber",
                "put the band under the climber, never over it",
                "over a climber of {amount:g} cm",
                "its diameter, cm",
                2.0,
                (1.0, 2.0, 5.0),
                reads.climbed,
                "one round climber on a round stem, a taut band",
            ),
            IgnoredRule(
                "furrows",
                "lay the band over the grooves, never press it in",
                "into grooves of {amount:g} cm",
                "the deepest groove, cm",
                2.0,
                (1.0, 2.0, 4.0),
                reads.grooved,
                "six grooves, an invented pattern; the band follows all of their floor",
            ),
            IgnoredRule(
                "butt-swell",
                "go 0.46 m above the end of the swell",
                "on a butt swell, {amount:g} % at the foot",
                "the swell at the ground, % of diameter",
                40.0,
                (20.0, 40.0, 80.0),
                reads.swollen_butt,
                f"a swell that ends at 1.8 m as a cosine's square does; {_STRAIGHT}",
            ),
            IgnoredRule(
                "buttress",
                "go 50 cm above where the buttresses end",
                "round buttresses {amount:g} m high",
                "they end at, m",
                2.0,
                (1.5, 2.0, 3.0),
                reads.buttressed,
                "five lobes that reach 1.5 diameters at the ground; their shape is invented",
            ),
            IgnoredRule(
                "stilt-root",
                "go above the highest root",
                "round stilt roots from {amount:g} m down",
                "the highest root, m",
                1.4,
                (1.35, 1.4, 1.6),
                reads.stilted,
                "four roots of an eighth of the diameter, at 45°; invented",
            ),
            IgnoredRule(
                "snow",
                "measure the height from the ground and not from the snow",
                "on {amount:g} cm of snow",
                "snow, cm",
                40.0,
                (20.0, 40.0, 100.0),
                lambda case: reads.off(case, case.amount / 100),
                _STRAIGHT,
            ),
            IgnoredRule(
                "off-the-mark",
                "come back to the same mark",
                "{amount:g} cm above the mark",
                "off the mark, cm",
                10.0,
                (2.0, 10.0, 20.0),
                lambda case: reads.off(case, case.amount / 100),
                f"{_STRAIGHT}; of a growth it takes more than of a girth",
            ),
        )
    }
)
