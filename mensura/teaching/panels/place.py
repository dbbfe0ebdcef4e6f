"""The place panel's numbers: one standing stem, the place that was chosen, and what it costs.

The stem leans, stands on a slope, tapers, is swollen at breast height, has buttresses and a fork.
Somebody puts a band round it; a rule says where it belongs. The cost is the sectional area by the
band less that by the rule, cut into what each choice adds, in the order in which they are made:
height, swelling, buttress, band, fork.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.place_readings import ABOVE_BUTTRESS_M
from mensura.stems.ellipse import Ellipse
from mensura.stems.hulls import hull_points_cm
from mensura.stems.section import Section
from mensura.stems.several import SeveralStems
from mensura.stems.side_view import SideView, leg_lines_m, side_view, stick_m
from mensura.stems.standing import Buttress, Fork, StemInSpace, Swelling
from mensura.teaching.controls import Choice, Control, State, Stepper, Switch, starting

# at first slope and swelling count, and of all else there is little; presets have one trouble each
CONTROLS = (
    Control("diameter_cm", "diameter", "cm", 15, 80, 1, 40, "Stem"),
    Control("lean_deg", "lean (+ downhill)", "°", -20, 20, 0.5, 2, "Stem"),
    Control("slope_deg", "slope", "°", 0, 35, 1, 15, "Stem"),
    Control("taper_cm_per_m", "taper", "cm/m", 0, 4, 0.1, 1.5, "Stem"),
    Control("swelling_percent", "swelling at 1.3 m", "%", -15, 30, 1, 8, "Stem"),
    Control("buttress_m", "buttress up to", "m", 0, 2, 0.05, 0.2, "Stem"),
    Control("fork_m", "fork at", "m", 0.5, 2.6, 0.05, 1.7, "Stem"),
    Control("thinner_percent", "thinner leg", "%", 20, 100, 5, 80, "Stem"),
    Control("litter_cm", "litter", "cm", 0, 30, 1, 2, "Stem"),
    Control("height_m", "height", "m", 0.6, 2.2, 0.01, 1.9, "Your band"),
)
SWITCHES = (Switch("cleared", "litter scraped away", "Your band"),)
#: Breast heights that are in use somewhere; the chapter's table says where, and who says so.
_HEIGHTS = ("1.30 m", "1.20 m", "1.37 m", "1.40 m", "1.50 m")
#: As the picture has them: on level ground nothing is uphill.
LEFT, RIGHT = "left side, uphill", "right side, downhill"
CHOICES = (
    Choice("side", "told from", "Your band", (LEFT, RIGHT, "half-way")),
    Choice("stick", "stick held", "Your band", ("along the stem", "upright")),
    Choice("band", "band held", "Your band", ("square to the stem", "level")),
    Choice(
        "legs", "above a fork", "Your band", ("each leg", "one band round both", "thicker leg only")
    ),
    Choice("rule_height", "height by the rule", "Rule", _HEIGHTS),
    Choice(
        "rule_side",
        "from, by the rule",
        "Rule",
        ("uphill side", "half-way", "upper side of lean", "side it leans to"),
    ),
)
#: First the place is set, then its cost is told, and only then the rule's place is shown.
STEPPER = Stepper("step", "step", 3)
SET, COST, RULE = 1, 2, 3

#: What can be chosen wrongly, in the order in which it is taken.
SHARES = ("height", "swelling", "buttress", "band", "fork")
#: What can move a band from the height that a rule names, or make two of it.
MOVED_BY = ("buttress", "mean", "above", "below", "legs")
#: Where the swelling has its middle, m above the uphill ground, and how far it reaches: assumed.
SWOLLEN_M, REACH_M = 1.3, 0.25
#: Lobes of the buttress, and how far they stand off for each m of its height, cm: assumed.
LOBES, LOBE_CM_PER_M = 4, 16.0
#: How far each leg turns away from the stem below the fork: assumed.
SPREAD_DEG = 8.0
_SIDES = {
    LEFT: "uphill",
    RIGHT: "downhill",
    "uphill side": "uphill",
    "half-way": "middle",
    "upper side of lean": "upper",
    "side it leans to": "under",
}
#: How far up the axis the stem is drawn, and the ground to either side, m; points on an edge.
DRAWN_M, GROUND_M, _EDGE = 4.0, 2.3, 24
#: Corners of a section as it is drawn, and how far the stick stands off the stem, cm.
_CORNERS, _AWAY_CM = 120, 5.0
#: Points on a section with lobes, of which every sixth is drawn: its girth is right to 0.1 mm.
_TRACED = 720


def whole_state(**changes: Any) -> State:
    """Where all controls stand, with some changes from the start.

    changes: names with their values.
    """
    return starting(CONTROLS, SWITCHES, CHOICES, (STEPPER,)) | changes


#: A straight, round, upright stem on level ground, measured by the rule; then one thing is wrong.
_PLAIN: State = {
    "lean_deg": 0.0,
    "slope_deg": 0.0,
    "swelling_percent": 0.0,
    "buttress_m": 0.0,
    "fork_m": 2.6,
    "litter_cm": 0.0,
    "height_m": 1.3,
}
PRESETS = MappingProxyType(
    {
        "On a slope": whole_state(**_PLAIN | {"slope_deg": 25.0}, side=RIGHT),
        "A lean": whole_state(
            **_PLAIN | {"lean_deg": 15.0}, side=RIGHT, stick="upright", band="level"
        ),
        "A swelling": whole_state(**_PLAIN | {"swelling_percent": 12.0}),
        "A fork": whole_state(**_PLAIN | {"fork_m": 0.8}, legs="one band round both"),
        "Buttresses": whole_state(**_PLAIN | {"buttress_m": 1.8}),
        "Deep litter": whole_state(**_PLAIN | {"litter_cm": 25.0, "taper_cm_per_m": 2.5}),
    }
)


@dataclass(frozen=True, eq=False)
class PlaceShown:
    """All that the panel shows of one stem, one band, and one rule.

    stem: where it stands; step: how much is told, 1 to 3; height_m, side, plumb, cleared, level,
    legs: the band's place as it was chosen; along_m: where that is on the stem's axis;
    rule_height_m, rule_side: of the rule; rule_m: where it has the band, or both bands of which
    the mean is taken; moved_by: what moved it there, of MOVED_BY; girths_cm: the readings;
    read_cm, rule_cm: one girth of the same area as all that was read, and by the rule;
    shares_percent: what each choice adds to the area by the rule. To draw, downhill to the right:
    view, stick_m, bands_m, rule_bands_m from the side; wood_cm, bands_cm: sections and bands seen
    along the stem, or from above.
    """

    stem: StemInSpace
    step: int
    height_m: float
    side: str
    plumb: bool
    cleared: bool
    level: bool
    legs: str
    along_m: float
    rule_height_m: float
    rule_side: str
    rule_m: tuple[float, ...]
    moved_by: tuple[str, ...]
    girths_cm: tuple[float, ...]
    read_cm: float
    rule_cm: float
    shares_percent: dict[str, float]
    view: SideView
    stick_m: FloatArray
    bands_m: tuple[FloatArray, ...]
    rule_bands_m: tuple[FloatArray, ...]
    wood_cm: tuple[FloatArray, ...]
    bands_cm: tuple[FloatArray, ...]

    @property
    def forked(self) -> bool:
        """Whether there are two legs where the band lies."""
        return self.stem.forked_at(self.along_m)

    @property
    def as_one(self) -> bool:
        """Whether one band goes round two legs."""
        return self.forked and self.legs == "one band round both"

    @property
    def girth_over_percent(self) -> float:
        """How much too large the girth is, or the girth of the same area."""
        return 100 * (self.read_cm / self.rule_cm - 1)

    @property
    def area_over_percent(self) -> float:
        """How much too large the sectional area is."""
        return 100 * ((self.read_cm / self.rule_cm) ** 2 - 1)

    @property
    def off_m(self) -> float:
        """How far the band is above the rule's place, or above the middle of both."""
        return self.along_m - float(np.mean(self.rule_m))


def _standing(
    diameter_cm: float,
    lean_deg: float,
    slope_deg: float,
    taper_cm_per_m: float,
    swelling_percent: float,
    buttress_m: float,
    fork_m: float,
    thinner_percent: float,
    litter_cm: float,
) -> StemInSpace:
    """The stem of the controls; heights are told along it from the uphill ground."""
    bare = StemInSpace(
        diameter_cm,
        lean_deg=abs(lean_deg),
        lean_towards_deg=180.0 if lean_deg < 0 else 0.0,
        slope_deg=slope_deg,
        litter_cm=litter_cm,
    )
    ground_m = bare.ground_m("uphill")
    stem = replace(bare, at_m=ground_m + SWOLLEN_M, taper_cm_per_m=taper_cm_per_m)
    fork_at_m = ground_m + fork_m
    # both legs together have the section that the stem would have had
    share = thinner_percent / 100
    thicker = float(stem.diameter_at_cm(fork_at_m)) / np.sqrt(1 + share**2)
    fork = Fork(fork_at_m, (thicker, share * thicker), 0.0, (SPREAD_DEG, SPREAD_DEG))
    swelling = buttress = None
    if swelling_percent and fork_m >= SWOLLEN_M + REACH_M:
        swelling = Swelling(ground_m + SWOLLEN_M, swelling_percent, REACH_M)
    top_m = min(buttress_m, fork_m) + ground_m
    if buttress_m and top_m > 0.02:
        buttress = Buttress(LOBES, LOBE_CM_PER_M * buttress_m, top_m)
    return replace(stem, swelling=swelling, buttress=buttress, fork=fork)


def _by_rule(
    stem: StemInSpace, height_m: float, side: str
) -> tuple[tuple[float, ...], tuple[str, ...]]:
    """Where the rule has the band on the stem's axis, and what moved it there."""
    at = stem.along_m(height_m, side)
    moved_by = []
    if stem.buttress is not None and stem.buttress.top_m + ABOVE_BUTTRESS_M > at:
        at = stem.buttress.top_m + ABOVE_BUTTRESS_M
        moved_by.append("buttress")
    swelling, fork = stem.swelling, stem.fork
    if swelling is not None and abs(at - swelling.at_m) < swelling.reach_m:
        off = swelling.reach_m + abs(at - swelling.at_m)
        foot = stem.buttress.top_m + ABOVE_BUTTRESS_M if stem.buttress is not None else 0.0
        if at - off < foot:
            moved_by.append("above")
            return (swelling.at_m + swelling.reach_m,), tuple(moved_by)
        if fork is not None and at + off > fork.at_m:
            moved_by.append("below")
            return (swelling.at_m - swelling.reach_m,), tuple(moved_by)
        moved_by.append("mean")
        return (at - off, at + off), tuple(moved_by)
    if stem.forked_at(at):
        moved_by.append("legs")
    return (at,), tuple(moved_by)


def _legs_there(stem: StemInSpace, along_m: float) -> StemInSpace:
    """The same stem with legs as thick as they are at a place above its fork."""
    fork = stem.fork
    if fork is None or not stem.forked_at(along_m):
        return stem
    thinner = float(stem.diameter_at_cm(along_m)) / float(stem.diameter_at_cm(fork.at_m))
    first, second = (thinner * leg for leg in fork.leg_diameters_cm)
    return replace(stem, fork=replace(fork, leg_diameters_cm=(first, second)))


@dataclass(frozen=True)
class _Banded:
    """A band round a stem at a place: what it reads, and where it is drawn.

    girths_cm: the readings; chain_cm: the girth of the same area as one choice after the other is
    made: height, swelling, buttress, band, fork.
    """

    girths_cm: tuple[float, ...]
    chain_cm: tuple[float, ...]
    bands_m: tuple[FloatArray, ...]
    wood_cm: tuple[FloatArray, ...]
    bands_cm: tuple[FloatArray, ...]


def _banded(stem: StemInSpace, along_m: float, level: bool, legs: str) -> _Banded:
    """A band at a place of a stem."""
    girth_cm = float(np.pi * stem.diameter_at_cm(along_m))
    way = 1.0 if stem.axis[0] >= 0 else -1.0
    if stem.forked_at(along_m):
        there = _legs_there(stem, along_m)
        both = there.section_at(along_m, level)
        assert isinstance(both, SeveralStems)
        one_band = legs == "one band round both"
        each = both.sections if level else there.legs_at(along_m)
        read = tuple(float(one.taut_girth_cm) for one in each)
        level_cm = float(np.sqrt(np.sum(np.square(read))))
        wood = tuple(
            way * (one.outline_cm(_CORNERS) + np.asarray(middle))
            for one, middle in zip(both.sections, both.middles_cm, strict=True)
        )
        if one_band:
            read, bands = (float(both.taut_girth_cm),), (hull_points_cm(np.concatenate(wood)),)
        else:
            kept_legs = 1 if legs == "thicker leg only" else 2
            read, bands = read[:kept_legs], wood[:kept_legs]
        lines = leg_lines_m(there, along_m)[: len(read)]
        if level or one_band:
            lines = tuple(_line_m(stem, along_m, level, way * band[:, 0]) for band in bands)
        last_cm = float(np.sqrt(np.sum(np.square(read))))
        chain = girth_cm, girth_cm, girth_cm, level_cm, last_cm
        return _Banded(read, chain, lines, wood, bands)
    swollen_cm = girth_cm * float(stem.swelling.factor(along_m)) if stem.swelling else girth_cm
    lobed_cm = swollen_cm
    cut: Section = Ellipse(swollen_cm / np.pi, swollen_cm / np.pi)
    if stem.buttress is not None and along_m < stem.buttress.top_m:
        cut = stem.section_at(along_m, points=_TRACED)
        lobed_cm = float(cut.taut_girth_cm)
    if level and stem.lean_deg:
        cut = stem.section_at(along_m, level=True, points=_TRACED)
    read_cm = float(cut.taut_girth_cm)
    edge = cut.outline_cm(_CORNERS) if isinstance(cut, Ellipse) else cut.outline_cm()[::6]
    wood_cm = way * edge
    band_cm = wood_cm if isinstance(cut, Ellipse) else hull_points_cm(wood_cm)
    line = _line_m(stem, along_m, level, way * band_cm[:, 0])
    chain = girth_cm, swollen_cm, lobed_cm, read_cm, read_cm
    return _Banded((read_cm,), chain, (line,), (wood_cm,), (band_cm,))


def _line_m(stem: StemInSpace, along_m: float, level: bool, across_cm: FloatArray) -> FloatArray:
    """A band from the side: from where it goes through the axis so far along the lean."""
    axis = stem.axis[[0, 2]]
    way = 1.0 if axis[0] >= 0 else -1.0
    along = np.array([way, 0.0]) if level else np.array([way * axis[1], -abs(axis[0])])
    ends = np.array([across_cm.min(), across_cm.max()]) / 100
    return np.asarray(along_m * axis + np.outer(ends, along))


def _rule_lines_m(stem: StemInSpace, rule_m: tuple[float, ...]) -> tuple[FloatArray, ...]:
    """The rule's bands from the side."""
    lines: list[FloatArray] = []
    for along in rule_m:
        if stem.forked_at(along):
            lines += leg_lines_m(_legs_there(stem, along), along)
        else:
            half = np.array([-0.5, 0.5]) * float(stem.diameter_at_cm(along))
            lines.append(_line_m(stem, along, False, half))
    return tuple(lines)


def numbers(
    height_m: float,
    side: str,
    stick: str,
    cleared: bool,
    band: str,
    legs: str,
    rule_height: str,
    rule_side: str,
    step: int,
    **stem: float,
) -> PlaceShown:
    """What the panel shows for a state of its controls.

    height_m, side, stick, cleared: how the band's place is told; band: how it is held; legs: what
    is done above a fork; rule_height, rule_side: of the rule; step: how much is told; stem: the
    other values of CONTROLS by name.

    >>> shown = numbers(**PRESETS["A swelling"])
    >>> round(shown.area_over_percent, 2), [round(at, 2) for at in shown.rule_m]
    (25.44, [1.05, 1.55])
    """
    stands = _standing(**stem)
    plumb, level = stick == "upright", band == "level"
    above = "soil" if cleared else "litter"
    along = stands.along_m(height_m, _SIDES[side], plumb, above)
    by = _SIDES[rule_side]
    if by == "uphill" and not stands.slope_deg and stands.lean_deg:
        by = "upper"  # on level ground there is none: the side that looks up
    rule_height_m = float(rule_height.split()[0])
    rule_m, moved_by = _by_rule(stands, rule_height_m, by)
    rule_cm = float(np.pi * np.mean(stands.diameter_at_cm(np.array(rule_m))))
    banded = _banded(stands, along, level, legs)
    areas = np.square(np.array([rule_cm, *banded.chain_cm]) / rule_cm)
    shares = dict(zip(SHARES, (100 * np.diff(areas)).tolist(), strict=True))
    return PlaceShown(
        stem=stands,
        step=step,
        height_m=height_m,
        side=_SIDES[side],
        plumb=plumb,
        cleared=cleared,
        level=level,
        legs=legs,
        along_m=along,
        rule_height_m=rule_height_m,
        rule_side=by,
        rule_m=rule_m,
        moved_by=moved_by,
        girths_cm=banded.girths_cm,
        read_cm=banded.chain_cm[-1],
        rule_cm=rule_cm,
        shares_percent=shares,
        view=side_view(stands, DRAWN_M, GROUND_M, _EDGE),
        stick_m=stick_m(stands, height_m, _SIDES[side], plumb, above, _AWAY_CM),
        bands_m=banded.bands_m,
        rule_bands_m=_rule_lines_m(stands, rule_m),
        wood_cm=banded.wood_cm,
        bands_cm=banded.bands_cm,
    )
