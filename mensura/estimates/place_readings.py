"""A stem read twice: where the rule has it, and where a hand has it that does not know the rule.

Each function here puts one stem in its ground (:class:`mensura.stems.standing.StemInSpace`), reads
it by the package's own tape or calipers both ways, and returns the girths in cm: by the rule, one a
stem, and without it. What they assume beside a straight taper and round wood is said in
:mod:`mensura.estimates.ignored_rules`, row by row.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from mensura.estimates.tree_volume import BREAST_M
from mensura.instruments.calipers import Calipers, mean_cm
from mensura.instruments.lay import LEVEL, Lay
from mensura.instruments.tape import Tape
from mensura.stems.bark import RoughBark
from mensura.stems.ellipse import Ellipse, circle
from mensura.stems.hulls import closed_length_cm
from mensura.stems.section import Section
from mensura.stems.several import SeveralStems
from mensura.stems.standing import Buttress, Fork, StemInSpace, Swelling

#: Girths in cm by the rule, one a stem, and girths if it is ignored.
Girths = tuple[list[float], list[float]]

#: A fork's legs over the stem below it (25 and 22 cm on 40), and how far below the band it forks.
_LEGS, _FORK_BELOW_M = (0.625, 0.55), 0.4
#: So far above where buttresses end today a stem is measured, m [RAINFOR2021, as summarised].
ABOVE_BUTTRESS_M = 0.5
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


def _taped(section: Section, lay: Lay = LEVEL) -> float:
    return float(Tape().read(section, lay).reading_cm)


def _places(stem: StemInSpace, ignored_m: float) -> Girths:
    """The band at the place where the stem's diameter is told, and at another."""
    return [_taped(stem.section_at(stem.at_m))], [_taped(stem.section_at(ignored_m))]


def off(case: Case, off_m: float) -> Girths:
    """So much above the rule's place, the ground being level.

    case: the stem; off_m: along it, below 0 for lower.
    """
    stem = case.stem()
    return _places(stem, stem.at_m + off_m)


def from_side(case: Case, side: str) -> Girths:
    """The height told from another side of a stem on a slope of the case's amount in degrees.

    case: the stem; side: as for :class:`StemInSpace`. By the rule it is uphill.
    """
    stem = case.stem(slope_deg=case.amount)
    return _places(stem, stem.along_m(case.breast_height_m, side))


def leaning(case: Case, side: str, plumb: bool = False) -> Girths:
    """The height of a stem that leans by the case's amount in degrees, told otherwise.

    case: the stem; side: as for :class:`StemInSpace`; plumb: upright and not along the stem. By the
    rule it is told along the upper side.
    """
    stem = case.stem("upper", lean_deg=case.amount)
    return _places(stem, stem.along_m(case.breast_height_m, side, plumb))


def level_band(case: Case) -> Girths:
    """The band level round a stem that leans by the case's amount in degrees.

    case: the stem. By the rule it lies square to the axis.
    """
    stem = case.stem("upper", lean_deg=case.amount)
    square, level = (stem.section_at(stem.at_m, level=one) for one in (False, True))
    return [_taped(square)], [_taped(level)]


def level_calipers(case: Case, directions_deg: list[float]) -> Girths:
    """Calipers level on a stem that leans by the case's amount in degrees, their product taken.

    case: the stem; directions_deg: of the widths, from the lean's.
    """
    stem = case.stem("upper", lean_deg=case.amount)
    widths = [
        Calipers().read(stem.section_at(stem.at_m, one), directions_deg) for one in (False, True)
    ]
    square, level = (float(np.pi * mean_cm(each, "geometric")) for each in widths)
    return [square], [level]


def swollen(case: Case) -> Girths:
    """On a swelling of the case's amount in per cent, not the mean of two beside it.

    case: the stem. The two lie half a metre above and below.
    """
    plain = case.stem()
    stem = replace(plain, swelling=Swelling(plain.at_m, case.amount))
    return [_both_sides(stem)], [_taped(stem.section_at(stem.at_m))]


def _both_sides(stem: StemInSpace, off_m: float = 0.5) -> float:
    low, high = (_taped(stem.section_at(stem.at_m + off)) for off in (-off_m, off_m))
    return (low + high) / 2


def above_only(case: Case) -> Girths:
    """Only above a swelling of 8 %, so far in cm as the case's amount says.

    case: the stem.
    """
    plain = case.stem()
    stem = replace(plain, swelling=Swelling(plain.at_m, 8.0))
    off_m = case.amount / 100
    return [_both_sides(stem)], [_taped(stem.section_at(stem.at_m + off_m))]


def _forked(case: Case, legs_cm: tuple[float, float], gap_cm: float) -> StemInSpace:
    fork_m = max(case.breast_height_m - _FORK_BELOW_M, 0.0)
    fork = Fork(fork_m, legs_cm, gap_cm)
    return StemInSpace(case.diameter_cm, fork_m, case.taper_cm_per_m, fork=fork)


def two_as_one(case: Case) -> Girths:
    """One taut band round both legs of a fork, so far apart in cm as the case's amount says.

    case: the stem.
    """
    first, second = (share * case.diameter_cm for share in _LEGS)
    stem = _forked(case, (first, second), case.amount)
    each = [_taped(leg) for leg in stem.legs_at(case.breast_height_m)]
    return each, [float(stem.section_at(case.breast_height_m).taut_girth_cm)]


def one_of_two(case: Case) -> Girths:
    """Only the thicker leg of a fork counted; the other has the case's amount in per cent of it.

    case: the stem.
    """
    first = _LEGS[0] * case.diameter_cm
    stem = _forked(case, (first, first * case.amount / 100), 0.0)
    each = [_taped(leg) for leg in stem.legs_at(case.breast_height_m)]
    return each, [max(each)]


def mossy(case: Case) -> Girths:
    """A layer so thick in cm as the case's amount says left on, all round.

    case: the stem.
    """
    bare, over = (circle(case.diameter_cm + more) for more in (0.0, 2 * case.amount))
    return [_taped(bare)], [_taped(over)]


def climbed(case: Case) -> Girths:
    """A climber so thick in cm as the case's amount says left under the band.

    case: the stem.
    """
    stem = circle(case.diameter_cm)
    return [_taped(stem)], [_taped(stem, Lay(climber_cm=case.amount))]


def grooved(case: Case) -> Girths:
    """The band pressed to the floor of grooves, of which the deepest has the case's amount in cm.

    case: the stem.
    """
    ridges = Ellipse(case.diameter_cm, case.diameter_cm)
    stem = RoughBark(ridges, _GROOVES, case.amount)
    return [_taped(stem)], [float(closed_length_cm(stem.outline_cm()))]


def swollen_butt(case: Case) -> Girths:
    """At breast height on a butt swell of the case's amount in per cent of diameter at the ground.

    case: the stem. The swell is the upper half of a swelling whose middle is the ground.
    """
    place_m = max(_SWELL_ENDS_M + _ABOVE_SWELL_M, case.breast_height_m)
    butt = Swelling(0.0, case.amount, _SWELL_ENDS_M)
    stem = StemInSpace(case.diameter_cm, place_m, case.taper_cm_per_m, swelling=butt)
    return _places(stem, case.breast_height_m)


def buttressed(case: Case) -> Girths:
    """Round buttresses that end so high in m as the case's amount says, at breast height.

    case: the stem. By the rule it is read 50 cm above where they end, and never below breast
    height.
    """
    place_m = max(case.amount + ABOVE_BUTTRESS_M, case.breast_height_m)
    lobes = Buttress(_LOBES, _LOBE_REACH * case.diameter_cm, case.amount)
    stem = StemInSpace(case.diameter_cm, place_m, case.taper_cm_per_m, buttress=lobes)
    return _places(stem, case.breast_height_m)


def stilted(case: Case) -> Girths:
    """Round stilt roots, the highest so high in m as the case's amount says, at breast height.

    case: the stem. Four round roots at 45°, cut level, and the stem between them. By the rule it is
    read where the highest leaves the stem, and never below breast height.
    """
    place_m = max(case.amount, case.breast_height_m)
    stem = StemInSpace(case.diameter_cm, place_m, case.taper_cm_per_m)
    between = stem.section_at(case.breast_height_m)
    by_rule = [_taped(stem.section_at(place_m))]
    if case.amount <= case.breast_height_m:
        return by_rule, [_taped(between)]
    thick = float(stem.diameter_at_cm(case.breast_height_m))
    root = _ROOT_THICK * case.diameter_cm
    away = thick / 2 + 100 * (case.amount - case.breast_height_m)
    long = root * 2**0.5
    roots = (Ellipse(long, root), Ellipse(root, long)) * 2
    middles = ((away, 0.0), (0.0, away), (-away, 0.0), (0.0, -away))
    among = SeveralStems((Ellipse(thick, thick), *roots), ((0.0, 0.0), *middles))
    return by_rule, [float(among.taut_girth_cm)]
