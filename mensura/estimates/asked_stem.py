"""A stem as somebody tells it who asks where to measure, and the stem in space that follows.

The rules kept here, where none is chosen by the user: breast height from the uphill ground, litter
off, along the stem; on level ground a leaning stem from its upper side; band square to the axis;
a fork below that place is two stems, at or above it one. Assumed: what is assumed of a
:class:`StemInSpace`, and legs that do not taper.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from math import cos, radians, sin, tan

from mensura.checks import ChoiceError, MeasureError, diameter, number
from mensura.stems.ellipse import Ellipse
from mensura.stems.section import Section
from mensura.stems.standing import SIDES, Fork, StemInSpace, Swelling

#: Azimuths of a lean in words, degrees from downhill.
TOWARDS = {"downhill": 0.0, "across": 90.0, "uphill": 180.0}


@dataclass(frozen=True)
class AskedStem:
    """A stem as somebody tells it who asks where to measure.

    diameter_cm: by the rules, square to the axis, swelling left out: where a swelling leaves room
    on one side only, the diameter there; if the stem forks below breast height, of the stem just
    below its fork. lean_deg: from plumb, from 0 and below 90;
    lean_towards: downhill, across or uphill; slope_deg: of the ground. side: from which the height
    asked for is told, one of SIDES, None for the side of the rule; height_m: that height above the
    ground there, None for breast height; plumb: it is told upright, not along the stem.
    taper_cm_per_m: of the diameter. fork_at_m: above the ground on the rule's side, along the stem;
    leg_diameters_cm: of both legs; leg_gap_cm: between them. swelling_percent: of the diameter, at
    its middle; swelling_at_m: where that is, as fork_at_m, None for breast height;
    swelling_reach_m: how far up and down it goes. litter_cm: on the soil, upright; moss_cm: moss or
    loose bark all round the stem; climber_cm: diameter of a climber on it, on the thicker of two;
    breast_height_m: above 0, at most 3.
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
    climber_cm: float = 0.0
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
        number(self.climber_cm, "climber_cm", "cm", at_least=0.0, at_most=50.0)
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
    def swelling(self) -> Swelling | None:
        """Its swelling, if it has one."""
        if not self.swelling_percent:
            return None
        middle_m = self.breast_height_m if self.swelling_at_m is None else self.swelling_at_m
        return Swelling(middle_m, self.swelling_percent, self.swelling_reach_m)

    @property
    def swollen_times(self) -> float:
        """What the swelling makes of the diameter at breast height, as a factor; 1 for none."""
        times = 1.0 if self.swelling is None else float(self.swelling.factor(self.breast_height_m))
        return 1.0 if abs(times - 1) <= 1e-12 else times

    @property
    def clear_m(self) -> tuple[float, ...]:
        """Where the rule measures, along the stem from the ground on its side, m.

        Breast height; beside a swelling as far above as below, where there is room; one of these
        where there is room on one side only; nothing where there is none.

        >>> [round(one, 2) for one in AskedStem(40.0, swelling_percent=8.0).clear_m]
        [1.55, 1.05]
        """
        height_m = self.breast_height_m
        if self.swelling is None or self.swollen_times == 1.0:
            return (height_m,)
        off_m = abs(self.swelling.at_m - height_m) + self.swelling.reach_m
        fork_m, low_m, high_m = self.fork_at_m, height_m - off_m, height_m + off_m
        under = low_m >= (fork_m if fork_m is not None and self.fork_below else 0.0)
        over = fork_m is None or self.fork_below or high_m <= fork_m
        return (high_m,) * over + (low_m,) * under

    @cached_property
    def stem(self) -> StemInSpace:
        """The stem in space, its places told along it from the ground on the rule's side."""
        fork, swelling = None, self.swelling
        if self.fork_at_m is not None and self.leg_diameters_cm is not None:
            fork = Fork(self.fork_at_m, self.leg_diameters_cm, self.leg_gap_cm)
        at_m = self.clear_m[0] if len(self.clear_m) == 1 else self.breast_height_m
        if self.fork_below and self.fork_at_m is not None:
            at_m = self.fork_at_m
        return replace(
            self._leaning(), at_m=at_m, taper_cm_per_m=self.taper_cm_per_m, swelling=swelling,
            fork=fork,
        )  # fmt: skip

    def from_side_m(self, height_m: float, side: str, plumb: bool = False) -> float:
        """A height told on another side, from the ground on the rule's side, along the stem, m.

        height_m: above the ground there; side: one of SIDES; plumb: told upright.

        >>> round(AskedStem(40.0, slope_deg=20.0).from_side_m(1.3, "downhill"), 4)
        1.1544
        """
        stem = self._leaning()
        return stem.along_m(height_m, side, plumb) - stem.ground_m(self.rule_side)

    @property
    def litter_along_m(self) -> float:
        """How far up the stem its litter reaches, which is told upright, m.

        >>> round(AskedStem(40.0, lean_deg=60.0, litter_cm=5.0).litter_along_m, 9)
        0.1
        """
        towards = cos(radians(TOWARDS[self.lean_towards]))
        lean, slope = radians(self.lean_deg), radians(self.slope_deg)
        return self.litter_cm / 100 / (cos(lean) + sin(lean) * towards * tan(slope))

    def _leaning(self) -> StemInSpace:
        return StemInSpace(
            self.diameter_cm, lean_deg=self.lean_deg, slope_deg=self.slope_deg,
            lean_towards_deg=TOWARDS[self.lean_towards],
        )  # fmt: skip

    def section_at(self, along_m: float, level: bool) -> Section:
        """The section there, swelling and both legs with it.

        along_m: where the cut goes through the axis, from the ground on the rule's side, along the
        stem, m; level: cut level, else square to the axis.
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
