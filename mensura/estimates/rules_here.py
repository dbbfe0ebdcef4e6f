"""The rules that hold for one stem, and what each costs there if it is ignored.

A cost is the sectional area, that of the circle of the girth that is read, summed where the rules
count two stems, with one rule ignored and all others kept, less that by the rules, in per cent of
the latter. Words and sources of a rule are those of its situation (`place_rules`).
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import cos, pi, radians
from typing import Any

from mensura.estimates.asked_stem import AskedStem
from mensura.estimates.place_rules import situation
from mensura.estimates.place_said import UNSOURCED, Rule, Said
from mensura.sources import SOURCES
from mensura.stems.ellipse import Ellipse
from mensura.stems.section import Section
from mensura.stems.wrapped import belt_cm

#: How far off a height is taken to be where none was told, m.
HEIGHT_OFF_M = 0.1
#: Heights that differ by less are the same, m.
_SAME_M = 1e-9
#: Breast heights that are met with, m; the first that is another one is compared.
_HEIGHTS_M = (1.37, 1.30)
#: What is said of calipers alone.
_CALIPERS = Rule(
    "Calipers, too, are held square to the stem.",
    (Said("SwissNFI2", "after chapter 8.13, p. 87, of calipers"),),
)
_JAWS = "level calipers"
_SIDES = {
    "uphill": " on the uphill side",
    "downhill": " on the downhill side",
    "middle": " half-way between the sides",
    "upper": " on the upper side of the lean",
    "under": " on the under side of the lean",
}


@dataclass(frozen=True)
class RuleHere:
    """One rule that holds for a stem, and what it costs there.

    key: of its situation; rule: with who says so; place: where that is on this stem; cost_key: of
    the way to ignore it; ignored: what is done instead; cost_percent: sectional area so less that
    by the rule, in per cent of the latter, above 0: too much.
    """

    key: str
    rule: Rule
    place: str
    cost_key: str
    ignored: str
    cost_percent: float

    def to_dict(self) -> dict[str, Any]:
        """Plain numbers and words, ready for JSON; the key carries the unit."""
        return {
            "key": self.key,
            "rule": self.rule.words,
            "source": told_source(self.rule),
            "place": self.place,
            "ignored": self.ignored,
            "cost_key": self.cost_key,
            "cost_percent": self.cost_percent,
        }


def where(asked: AskedStem) -> str:
    """The place by the rules, in words.

    asked: the stem.

    >>> where(AskedStem(40.0, slope_deg=20.0))
    '1.30 m along the stem from the ground on the uphill side'
    >>> where(AskedStem(40.0, swelling_percent=8.0))
    '1.55 m and 1.05 m, clear of the swelling, the mean of both, along the stem from the ground'
    """
    ground = "" if asked.litter_cm == 0 else ", litter off"
    legs = ", on each leg" if asked.fork_below else ""
    side = side_words(asked.rule_side, asked.slope_deg, asked.lean_deg)
    return f"{_heights(asked)} along the stem from the ground{side}{ground}{legs}"


def _heights(asked: AskedStem) -> str:
    """How high the rules measure, in words, a comma behind more than a number."""
    height = f"{asked.breast_height_m:.2f} m"
    clear = asked.clear_m
    if asked.swollen_times == 1.0:
        on_the_line = asked.fork_at_m == asked.breast_height_m
        return f"just below the fork at {height}, clear of its swelling," if on_the_line else height
    if len(clear) == 2:
        return f"{clear[0]:.2f} m and {clear[1]:.2f} m, clear of the swelling, the mean of both,"
    if not clear:
        return f"the sound place nearest to {height}, since there is no room beside the swelling,"
    beside = "above" if clear[0] > asked.breast_height_m else "below"
    other = "below" if beside == "above" else "above"
    return f"{clear[0]:.2f} m, just {beside} the swelling, with no room {other},"


def over_by_rule_percent(asked: AskedStem, squares_cm2: float) -> float:
    """Diameters squared, summed, against those by the rules, in per cent: areas of circles alike.

    asked: the stem; squares_cm2: of the diameters that are read.

    >>> over_by_rule_percent(AskedStem(40.0), 41.0**2)
    5.0625
    """
    return 100 * (squares_cm2 / sum(leg**2 for leg in asked.legs_cm) - 1)


def _at(asked: AskedStem, along_m: float) -> float:
    """What the stem's area is taken for at another place, against that by the rule, per cent."""
    stem = asked.stem
    if stem.fork is not None and stem.forked_at(along_m):
        return over_by_rule_percent(asked, sum(leg**2 for leg in stem.fork.leg_diameters_cm))
    across = max(0.0, float(stem.diameter_at_cm(along_m)))  # 0 above the top of a stem
    return over_by_rule_percent(asked, across**2)


def rules_here(asked: AskedStem) -> tuple[RuleHere, ...]:
    """The rules that hold for a stem, the dearest first.

    asked: the stem.

    >>> [one.cost_key for one in rules_here(AskedStem(40.0, lean_deg=10.0))][:2]
    ['level-calipers-in-lean', 'level-band']
    """
    found = [*_height_rules(asked), *_lean_rules(asked), *_fork_rules(asked)]
    found += _surface_rules(asked)
    return tuple(sorted(found, key=lambda one: -abs(one.cost_percent)))


def work_name(key: str) -> str:
    """A work in short, for a list.

    key: of :data:`mensura.sources.SOURCES`.

    >>> work_name("Luoma2017"), work_name("Subedi2018")
    ('Luoma and others 2017', 'Subedi 2018')
    """
    work = SOURCES[key]
    whole = re.sub(r" \(.*?\)", "", work.author).partition(";")[0]
    names = whole.replace(" and others", ", and others").split(", ")
    names = [one for one in names if one not in ("unsigned", "author not known to us")]
    year = re.search(r"\d{4}", work.year)
    if ". " in names[0]:
        last = [one.rpartition(". ")[2] for one in names]
        told = last[0] if len(last) == 1 else f"{last[0]} and others"
        if len(last) == 2 and last[1] != "and others":
            told = " and ".join(last)
    else:
        told = ", ".join(names).removeprefix("A ")
        told = told[:1].upper() + told[1:]
    return f"{told} {year.group()}" if year else told


def short_source(rule: Rule) -> str:
    """Who says so, in short.

    rule: of a situation.

    >>> short_source(Rule("Uphill.", (Said("DeYoung2016", "figure 3.3"), Said("Subedi2018"))))
    'DeYoung 2016, figure 3.3; Subedi 2018'
    """
    told = [work_name(one.key) + (one.place and f", {one.place}") for one in rule.said]
    return "; ".join(told) or UNSOURCED


def told_source(rule: Rule) -> str:
    """Who says so, with the place in the work, for readers who have no list of our keys.

    rule: of a situation.

    >>> told_source(Rule("Do not cut a climber."))
    'common practice, no source'
    """
    told = []
    for one in rule.said:
        work = SOURCES[one.key]
        told.append(f"{work.author}, {work.year}: {work.title}" + (one.place and f", {one.place}"))
    return "; ".join(told) or UNSOURCED


def side_words(side: str, slope_deg: float, lean_deg: float) -> str:
    """From which side a height is told, with a blank before it; "" where no side differs.

    side: one of SIDES; slope_deg, lean_deg: of ground and stem.

    >>> side_words("uphill", 20.0, 0.0), side_words("uphill", 0.0, 0.0)
    (' on the uphill side', '')
    """
    return _SIDES[side] if slope_deg or lean_deg else ""


def _rule(
    asked: AskedStem,
    key: str,
    cost: str,
    ignored: str,
    cost_percent: float,
    rule: Rule | int = 0,
) -> RuleHere:
    told = situation(key).rules[rule] if isinstance(rule, int) else rule
    return RuleHere(key, told, where(asked), cost, ignored, cost_percent)


def _height_rules(asked: AskedStem) -> list[RuleHere]:
    height = asked.breast_height_m
    other = asked.asked_height_m
    if abs(other - height) < _SAME_M:
        other = height + HEIGHT_OFF_M
    cost = _at(asked, other)
    legs = ", each leg" if asked.stem.forked_at(other) and not asked.fork_below else ""
    found = [_rule(asked, "breast-height", "wrong-height", f"at {other:.2f} m{legs}", cost)]
    foreign = next(one for one in _HEIGHTS_M if abs(one - height) > 0.03)
    told, cost = f"at {foreign:.2f} m, another breast height", _at(asked, foreign)
    found.append(_rule(asked, "breast-height", "other-breast-height", told, cost))
    if asked.slope_deg:
        sides = {"downhill": "downhill", "middle": "half-way"}
        if asked.asked_side != asked.rule_side:
            sides = {asked.asked_side: "other-side"} | sides
        for side, key in sides.items():
            words = side_words(side, asked.slope_deg, asked.lean_deg)
            told = f"{height:.2f} m from the ground{words}"
            found.append(
                _rule(asked, "slope", key, told, _at(asked, asked.from_side_m(height, side)))
            )
    if asked.litter_cm:
        cost = _at(asked, height + asked.litter_along_m)
        words = f"from the top of {asked.litter_cm:g} cm of litter"
        found.append(_rule(asked, "ground", "litter", words, cost))
    return found


def _lean_rules(asked: AskedStem) -> list[RuleHere]:
    if not asked.lean_deg:
        return []
    height = asked.breast_height_m
    plumb = _at(asked, asked.from_side_m(height, asked.rule_side, plumb=True))
    found = [_rule(asked, "lean-along", "plumb", f"{height:.2f} m upright, not along it", plumb)]
    if not asked.slope_deg:
        sides = {"under": "wrong-side", "middle": "middle-of-lean"}
        for side, key in sides.items():
            words = side_words(side, asked.slope_deg, asked.lean_deg)
            told = f"{height:.2f} m from the ground{words}"
            cost = _at(asked, asked.from_side_m(height, side))
            found.append(_rule(asked, "lean-side", key, told, cost, rule=1))
    bands = products = squares = 0.0
    for cut in _level_cuts(asked):
        bands += (float(cut.taut_girth_cm) / pi) ** 2
        first, across = float(cut.width_cm(0.0)), float(cut.width_cm(90.0))
        products, squares = products + first * across, squares + first**2
    ways = (
        ("level-band", "a level band", bands, 0),
        (
            "level-calipers",
            f"{_JAWS}, in the lean and across it, their product",
            products,
            _CALIPERS,
        ),
        ("level-calipers-in-lean", f"{_JAWS}, in the lean alone", squares, _CALIPERS),
    )
    for key, told, read, rule in ways:
        cost = over_by_rule_percent(asked, read)
        found.append(_rule(asked, "lean-square", key, told, cost, rule=rule))
    return found


def _level_cuts(asked: AskedStem) -> Sequence[Section]:
    """Each stem that the rules count, cut level at their place, without a swelling."""
    if asked.fork_below:
        lean = cos(radians(asked.lean_deg))
        return [Ellipse(leg / lean, leg) for leg in asked.legs_cm]
    sound = replace(asked.stem, swelling=None, fork=None)
    return [sound.section_at(asked.breast_height_m, level=True)]


def _fork_rules(asked: AskedStem) -> list[RuleHere]:
    stem = asked.stem
    if stem.fork is None or asked.fork_at_m is None:
        return []
    first, second = stem.fork.leg_diameters_cm
    both, thicker = first**2 + second**2, max(first, second)
    if not asked.fork_below:
        key = "fork-at" if asked.fork_at_m == asked.breast_height_m else "fork-above"
        words = f"as two stems, {first:g} and {second:g} cm"
        return [_rule(asked, key, "counted-twice", words, over_by_rule_percent(asked, both))]
    square = replace(stem, swelling=None).section_at(asked.breast_height_m)
    ways = (
        ("two-as-one", "one band round both", (float(square.taut_girth_cm) / pi) ** 2),
        ("one-leg-of-two", f"the leg of {thicker:g} cm alone", thicker**2),
        (
            "below-the-fork",
            f"one stem of {asked.diameter_cm:g} cm, below the fork",
            asked.diameter_cm**2,
        ),
    )
    return [
        _rule(asked, "fork-below", cost, ignored, over_by_rule_percent(asked, squares))
        for cost, ignored, squares in ways
    ]


def _surface_rules(asked: AskedStem) -> list[RuleHere]:
    found = []
    times, height = asked.swollen_times, asked.breast_height_m
    if times != 1.0:
        told = f"at {height:.2f} m, {'over the swelling' if times > 1 else 'in the hollow'}"
        cost = 100 * (times**2 * (1 + _at(asked, height) / 100) - 1)
        found.append(_rule(asked, "swelling", "swelling", told, cost))
        if len(asked.clear_m) == 2:
            high = asked.clear_m[0]
            told, cost = f"at {high:.2f} m alone", _at(asked, high)
            found.append(_rule(asked, "swelling", "above-only", told, cost))
    if asked.moss_cm:
        around = sum((leg + 2 * asked.moss_cm) ** 2 for leg in asked.legs_cm)
        words = f"over {asked.moss_cm:g} cm of moss or loose bark"
        found.append(_rule(asked, "moss", "moss", words, over_by_rule_percent(asked, around)))
    if asked.climber_cm:
        thicker, *others = sorted(asked.legs_cm, reverse=True)
        band = float(belt_cm(thicker, asked.climber_cm)) / pi
        around = band**2 + sum(leg**2 for leg in others)
        words = f"over a climber of {asked.climber_cm:g} cm"
        cost = over_by_rule_percent(asked, around)
        found.append(_rule(asked, "climber", "climber", words, cost))
    return found
