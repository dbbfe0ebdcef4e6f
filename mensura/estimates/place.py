"""Where to measure one stem, and what each rule for it costs if it is ignored.

A stem is told as a crew would tell it: how thick at the right place, how it leans, how the ground
falls, where it forks or swells. From that follow the girth by the rules, what a level band and
level calipers read at any height, and the sectional area with one rule ignored and all others kept.

The rules kept here, where none is chosen by the user: breast height from the uphill ground, litter
off, along the stem; on level ground a leaning stem from its upper side; band square to the axis;
a fork below that place is two stems, at or above it one. Assumed: what is assumed of a
:class:`StemInSpace`, and legs that do not taper.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import cos, pi, radians
from typing import Any

from mensura.checks import ChoiceError, MeasureError, diameter, number
from mensura.estimates.place_words import RULES, cautions_for, notes_for, side_words
from mensura.stems.ellipse import Ellipse
from mensura.stems.section import Section
from mensura.stems.standing import SIDES, Fork, StemInSpace, Swelling

#: Azimuths of a lean in words, degrees from downhill.
TOWARDS = {"downhill": 0.0, "across": 90.0, "uphill": 180.0}
#: How far off a height is taken to be where none was told, m.
HEIGHT_OFF_M = 0.1
#: The ground on one side of a stem is at most so far from its middle, along the stem, m.
_FARTHEST_M = 5.0
#: Heights that differ by less are the same, m.
_SAME_M = 1e-9


@dataclass(frozen=True)
class AskedStem:
    """A stem as somebody tells it who asks where to measure.

    diameter_cm: by the rules, square to the axis, swelling left out; if the stem forks below breast
    height, of the stem just below its fork. lean_deg: from plumb, from 0 and below 90;
    lean_towards: downhill, across or uphill; slope_deg: of the ground. side: from which the height
    asked for is told, one of SIDES, None for the side of the rule; height_m: that height above the
    ground there, None for breast height; plumb: it is told upright, not along the stem.
    taper_cm_per_m: of the diameter. fork_at_m: above the ground on the rule's side, along the stem;
    leg_diameters_cm: of both legs; leg_gap_cm: between them. swelling_percent: of the diameter, at
    its middle; swelling_at_m: where that is, as fork_at_m, None for breast height;
    swelling_reach_m: how far up and down it goes. litter_cm: on the soil; moss_cm: moss or loose
    bark all round the stem; breast_height_m: above 0, at most 3.
    Raises MeasureError for what cannot be.
    """

    diameter_cm: float
    lean_deg: float = 0.0
    lean_towards: str = "downhill"
    slope_deg: float = 0.0
    side: str | None = None
    height_m: float | None = None
    plumb: bool = False
    taper_cm_per_m: float = 0.0
    fork_at_m: float | None = None
    leg_diameters_cm: tuple[float, float] | None = None
    leg_gap_cm: float = 0.0
    swelling_percent: float = 0.0
    swelling_at_m: float | None = None
    swelling_reach_m: float = 0.25
    litter_cm: float = 0.0
    moss_cm: float = 0.0
    breast_height_m: float = 1.3

    def __post_init__(self) -> None:
        diameter(self.diameter_cm, "diameter_cm")
        number(self.lean_deg, "lean_deg", "deg", at_least=0.0, below=90.0)
        if self.lean_towards not in TOWARDS:
            raise ChoiceError("lean_towards", self.lean_towards, TOWARDS)
        number(self.slope_deg, "slope_deg", "deg", at_least=0.0, below=80.0)
        if self.side is not None and self.side not in SIDES:
            raise ChoiceError("side", self.side, SIDES)
        for name in ("height_m", "fork_at_m", "swelling_at_m"):
            if getattr(self, name) is not None:
                number(getattr(self, name), name, "m", at_least=0.0, at_most=60.0)
        number(self.taper_cm_per_m, "taper_cm_per_m", "cm/m", at_least=-20.0, at_most=20.0)
        if (self.fork_at_m is None) != (self.leg_diameters_cm is None):
            alone = "leg_diameters_cm" if self.leg_diameters_cm is None else "fork_at_m"
            wanted = "two diameters" if alone == "leg_diameters_cm" else "a height in m"
            beside = "a fork" if alone == "leg_diameters_cm" else "two legs"
            raise MeasureError(alone, None, "", f"{wanted} beside {beside}")
        number(self.leg_gap_cm, "leg_gap_cm", "cm", at_least=0.0, at_most=500.0)
        if self.leg_gap_cm and self.fork_at_m is None:
            raise MeasureError("fork_at_m", None, "", "a height in m beside a gap between legs")
        number(self.swelling_percent, "swelling_percent", "%", above=-90.0, at_most=200.0)
        number(self.swelling_reach_m, "swelling_reach_m", "m", above=0.0, at_most=10.0)
        number(self.litter_cm, "litter_cm", "cm", at_least=0.0, at_most=200.0)
        number(self.moss_cm, "moss_cm", "cm", at_least=0.0, at_most=50.0)
        number(self.breast_height_m, "breast_height_m", "m", above=0.0, at_most=3.0)

    @property
    def rule_side(self) -> str:
        """The side from which the rule tells its height."""
        return "upper" if self.lean_deg and not self.slope_deg else "uphill"

    @property
    def asked_side(self) -> str:
        """The side from which the height asked for is told."""
        return self.side or self.rule_side

    @property
    def asked_height_m(self) -> float:
        """The height asked for, m above the ground on its side."""
        return self.breast_height_m if self.height_m is None else self.height_m

    @property
    def fork_below(self) -> bool:
        """Whether it forks below breast height, so that there are two stems."""
        return self.fork_at_m is not None and self.fork_at_m < self.breast_height_m

    @property
    def legs_cm(self) -> tuple[float, ...]:
        """Diameters that are measured by the rule: of the stem, or of both legs."""
        two = self.leg_diameters_cm if self.fork_below else None
        return (self.diameter_cm,) if two is None else two

    @cached_property
    def ground_m(self) -> float:
        """The ground on the rule's side, m along the axis from where that meets the ground."""
        ground = self._leaning().ground_m(self.rule_side)
        if abs(ground) > _FARTHEST_M:
            wanted = (
                f"a stem whose sides meet the ground within {2 * _FARTHEST_M:g} m of each other"
            )
            raise MeasureError("lean_deg", self.lean_deg, "deg", wanted)
        return ground

    @property
    def place_m(self) -> float:
        """The rule's place, m along the axis from where that meets the ground."""
        return self.ground_m + self.breast_height_m

    @cached_property
    def stem(self) -> StemInSpace:
        """The stem in space."""
        fork = swelling = None
        at_m = self.place_m
        if self.fork_at_m is not None and self.leg_diameters_cm is not None:
            fork_m = max(0.0, self.ground_m + self.fork_at_m)
            fork = Fork(fork_m, self.leg_diameters_cm, self.leg_gap_cm)
            at_m = fork_m if self.fork_below else at_m
        if self.swelling_percent:
            middle = self.breast_height_m if self.swelling_at_m is None else self.swelling_at_m
            swelling = Swelling(
                max(0.0, self.ground_m + middle), self.swelling_percent, self.swelling_reach_m
            )
        return replace(
            self._leaning(), at_m=at_m, taper_cm_per_m=self.taper_cm_per_m, swelling=swelling,
            fork=fork,
        )  # fmt: skip

    def _leaning(self) -> StemInSpace:
        return StemInSpace(
            self.diameter_cm, lean_deg=self.lean_deg, slope_deg=self.slope_deg,
            lean_towards_deg=TOWARDS[self.lean_towards],
        )  # fmt: skip

    def section_at(self, along_m: float, level: bool) -> Section:
        """The section there, swelling and both legs with it.

        along_m: along the axis, m; level: cut level, else square to the axis.
        """
        stem = self.stem
        if stem.swelling is None:
            return stem.section_at(along_m, level)
        times = float(stem.swelling.factor(along_m))
        if stem.fork is not None and stem.forked_at(along_m):
            # both legs are swollen alike, and as far from each other as before
            first, second = (times * leg for leg in stem.fork.leg_diameters_cm)
            fork = replace(stem.fork, leg_diameters_cm=(first, second))
            wide = times * max(1.0, stem.diameter_cm, first, second)
            swollen = replace(stem, diameter_cm=wide, taper_cm_per_m=0.0, swelling=None, fork=fork)
            return swollen.section_at(along_m, level)
        if not (level and stem.lean_deg):  # round, exactly
            across = times * float(stem.diameter_at_cm(along_m))
            diameter(across, "taper_cm_per_m")
            return Ellipse(across, across)
        return stem.section_at(along_m, level)


@dataclass(frozen=True)
class RuleHere:
    """One rule that holds for a stem, and what it costs there.

    key: of its situation; rule: in a sentence; source: who says so; place: where that is on this
    stem; ignored: what is done instead; cost_percent: sectional area so less that by the rule, in
    per cent of the latter, above 0: too much.
    """

    key: str
    rule: str
    source: str
    place: str
    ignored: str
    cost_percent: float


@dataclass(frozen=True)
class Place:
    """Where to measure a stem, and the figures there.

    asked: the stem; girth_cm: by the rules, square to the axis, of each stem that they count;
    band_cm: a band square to the axis at the height asked for, round all that stands there;
    over_percent: the area of its circle less that by the rules, in per cent; level_band_cm: a level
    band there; level_caliper_in_lean_cm, level_caliper_across_cm: level calipers there, their beam
    in the upright plane of the lean and across it; rules: those that hold, the dearest first;
    notes, cautions: what has to be said.
    """

    asked: AskedStem
    girth_cm: tuple[float, ...]
    band_cm: float
    over_percent: float
    level_band_cm: float
    level_caliper_in_lean_cm: float
    level_caliper_across_cm: float
    rules: tuple[RuleHere, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]

    @property
    def where(self) -> str:
        """The rule's place in words."""
        return _where(self.asked)

    def to_dict(self) -> dict[str, Any]:
        """Plain numbers, lists and words, ready for JSON; the keys carry the units."""
        girths = list(self.girth_cm)
        return {
            "place": self.where,
            "girth_cm": girths[0] if len(girths) == 1 else girths,
            "band_cm": self.band_cm,
            "over_percent": self.over_percent,
            "level_band_cm": self.level_band_cm,
            "level_caliper_in_lean_cm": self.level_caliper_in_lean_cm,
            "level_caliper_across_cm": self.level_caliper_across_cm,
            "rules": [vars(one) for one in self.rules],
            "notes": list(self.notes),
            "cautions": list(self.cautions),
        }


def place_on(asked: AskedStem) -> Place:
    """Where to measure a stem, what is read there, and what each rule costs if it is ignored.

    asked: the stem. Raises MeasureError where the stem has tapered to nothing.

    >>> found = place_on(AskedStem(40.0, slope_deg=20.0, taper_cm_per_m=1.0))
    >>> [round(one.cost_percent, 3) for one in found.rules if one.key == "slope"]
    [0.729]
    >>> [round(one, 4) for one in place_on(AskedStem(40.0)).girth_cm]
    [125.6637]
    """
    along = asked.stem.along_m(asked.asked_height_m, asked.asked_side, asked.plumb)
    if not asked.stem.forked_at(along) and asked.stem.diameter_at_cm(along) <= 0:
        wanted = "a height at which the taper leaves a stem"
        raise MeasureError("height_m", asked.asked_height_m, "m", wanted)
    square, level = asked.section_at(along, False), asked.section_at(along, True)
    band = float(square.taut_girth_cm)
    rules = sorted(_rules(asked), key=lambda one: -abs(one.cost_percent))
    return Place(
        asked,
        tuple(pi * leg for leg in asked.legs_cm),
        band,
        _over(asked, (band / pi) ** 2),
        float(level.taut_girth_cm),
        float(level.width_cm(0.0)),
        float(level.width_cm(90.0)),
        tuple(rules),
        notes_for(asked),
        cautions_for(asked),
    )


# ---- rules ---------------------------------------------------------------------------------------


def _where(asked: AskedStem) -> str:
    ground = "" if asked.litter_cm == 0 else ", litter off"
    legs = ", on each leg" if asked.fork_below else ""
    side = side_words(asked.rule_side, asked.slope_deg, asked.lean_deg)
    return f"{asked.breast_height_m:.2f} m along the stem from the ground{side}{ground}{legs}"


def _over(asked: AskedStem, squares_cm2: float) -> float:
    """Diameters squared against those by the rule, in per cent: areas of circles alike."""
    return 100 * (squares_cm2 / sum(leg**2 for leg in asked.legs_cm) - 1)


def _at(asked: AskedStem, along_m: float) -> float:
    """What the stem's area is taken for at another place, against that by the rule, per cent."""
    stem = asked.stem
    if stem.fork is not None and stem.forked_at(along_m):
        return _over(asked, sum(leg**2 for leg in stem.fork.leg_diameters_cm))
    across = float(stem.diameter_at_cm(along_m))
    if across <= 0:
        raise MeasureError(
            "taper_cm_per_m", asked.taper_cm_per_m, "cm/m", "a taper that leaves a stem there"
        )
    return _over(asked, across**2)


def _rules(asked: AskedStem) -> list[RuleHere]:
    found = [*_height_rules(asked), *_lean_rules(asked), *_fork_rules(asked)]
    return [*found, *_surface_rules(asked)]


def _rule(asked: AskedStem, key: str, ignored: str, cost: float, place: str = "") -> RuleHere:
    rule, source = RULES[key]
    return RuleHere(key, rule, source, place or _where(asked), ignored, cost)


def _height_rules(asked: AskedStem) -> list[RuleHere]:
    stem, height = asked.stem, asked.breast_height_m
    other = asked.asked_height_m
    if abs(other - height) < _SAME_M:
        other = height + HEIGHT_OFF_M
    found = [
        _rule(asked, "breast-height", f"at {other:.2f} m", _at(asked, asked.ground_m + other)),
    ]
    if asked.slope_deg:
        side = asked.asked_side if asked.asked_side != asked.rule_side else "downhill"
        words = side_words(side, asked.slope_deg, asked.lean_deg)
        cost = _at(asked, stem.along_m(height, side))
        found.append(_rule(asked, "slope", f"{height:.2f} m from the ground{words}", cost))
    if asked.litter_cm:
        off = asked.litter_cm / 100
        cost = _at(asked, asked.place_m + off)
        found.append(_rule(asked, "litter", f"from the top of {100 * off:g} cm of litter", cost))
    return found


def _lean_rules(asked: AskedStem) -> list[RuleHere]:
    if not asked.lean_deg:
        return []
    stem, height = asked.stem, asked.breast_height_m
    plumb = _at(asked, stem.along_m(height, asked.rule_side, plumb=True))
    found = [_rule(asked, "lean-along", f"{height:.2f} m upright, not along it", plumb)]
    if not asked.slope_deg:
        side = asked.asked_side
        if abs(stem.ground_m(side) - asked.ground_m) < _SAME_M:
            side = "under"
        words = side_words(side, asked.slope_deg, asked.lean_deg)
        cost = _at(asked, stem.along_m(height, side))
        found.append(_rule(asked, "lean-side", f"{height:.2f} m from the ground{words}", cost))
    bands, products = 0.0, 0.0
    for cut in _level_cuts(asked):
        bands += (float(cut.taut_girth_cm) / pi) ** 2
        products += float(cut.width_cm(0.0)) * float(cut.width_cm(90.0))
    found.append(_rule(asked, "lean-square", "a level band", _over(asked, bands)))
    words = "level calipers, once in the lean and once across it, their product"
    found.append(_rule(asked, "lean-calipers", words, _over(asked, products)))
    return found


def _level_cuts(asked: AskedStem) -> Sequence[Section]:
    """Each stem that the rules count, cut level at their place, without a swelling."""
    if asked.fork_below:
        lean = cos(radians(asked.lean_deg))
        return [Ellipse(leg / lean, leg) for leg in asked.legs_cm]
    sound = replace(asked.stem, swelling=None, fork=None)
    return [sound.section_at(asked.place_m, level=True)]


def _fork_rules(asked: AskedStem) -> list[RuleHere]:
    stem = asked.stem
    if stem.fork is None or asked.fork_at_m is None:
        return []
    first, second = stem.fork.leg_diameters_cm
    both, thicker = first**2 + second**2, max(first, second)
    if not asked.fork_below:
        key = "fork-at" if asked.fork_at_m == asked.breast_height_m else "fork-above"
        words = f"as two stems, {first:g} and {second:g} cm"
        place = "below the fork and its swelling" if key == "fork-at" else ""
        return [_rule(asked, key, words, _over(asked, both), place)]
    square = replace(stem, swelling=None).section_at(asked.place_m)
    band = float(square.taut_girth_cm)
    under = f"one stem of {asked.diameter_cm:g} cm, below the fork"
    return [
        _rule(asked, "fork-below", "one band round both", _over(asked, (band / pi) ** 2)),
        _rule(asked, "fork-both", f"the leg of {thicker:g} cm alone", _over(asked, thicker**2)),
        _rule(asked, "fork-two", under, _over(asked, asked.diameter_cm**2)),
    ]


def _surface_rules(asked: AskedStem) -> list[RuleHere]:
    found = []
    swelling, height = asked.stem.swelling, asked.breast_height_m
    if swelling is not None:
        times = float(swelling.factor(asked.place_m))
        if abs(times - 1) > 1e-12:
            clear = abs(swelling.at_m - asked.place_m) + swelling.reach_m
            low, high = height - clear, height + clear
            place = f"{high:.2f} m and {low:.2f} m, the mean of both"
            if low < 0 or (asked.fork_below and asked.fork_at_m and low < asked.fork_at_m):
                place = f"{high:.2f} m, just above it: there is no room below"
            what = "over the swelling" if times > 1 else "in the hollow"
            cost = 100 * (times**2 - 1)
            found.append(_rule(asked, "swelling", f"at {height:.2f} m, {what}", cost, place))
    if asked.moss_cm:
        around = sum((leg + 2 * asked.moss_cm) ** 2 for leg in asked.legs_cm)
        words = f"over {asked.moss_cm:g} cm of moss or loose bark"
        found.append(_rule(asked, "moss", words, _over(asked, around)))
    return found
