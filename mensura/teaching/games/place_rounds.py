"""Where would you measure? A stem is drawn in its ground; the class puts the band on.

The reply names the rule that was kept or broken, who says so, and what the choice costs on this
very stem: the taut girths there against those at the rule's place, and the areas of their circles.
The stems are invented. Which round is whose says `place_deck.py`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from mensura.checks import ChoiceError, number
from mensura.estimates.place_rules import situation
from mensura.stems.standing import StemInSpace
from mensura.teaching.answers.reply import Reply
from mensura.teaching.games.place_kinds import SQUARE_LAW, Kind
from mensura.teaching.games.place_scene import (
    BANDS,
    BREAST_HEIGHT_M,
    EACH,
    HELD,
    LEVEL,
    MEAN,
    ONE,
    SQUARE,
    Mark,
    Scene,
    Spot,
)

#: How a reply begins that is not "Kept": the rule is broken, or another manual's is kept, or there
#: is no survey's rule that we know of.
BROKEN, OTHER_MANUAL = "Broken", "By another manual"
ONLY_LISTS = "Not as lists of big trees have it, and we read no survey's rule"

#: A place is meant if it lies so near: as well as a scale is read.
NEAR_M = 0.03


@dataclass(frozen=True)
class Placed:
    """Where somebody puts the band.

    scale_m: of its middle, on the scale; second_m: of the other band, if there are two for a mean;
    bands: one of BANDS; held: one of HELD.
    """

    scale_m: float
    second_m: float | None = None
    bands: str = ONE
    held: str = SQUARE


@dataclass(frozen=True, eq=False)
class PlaceRound:
    """One round of the game.

    code, number: to whom it belongs, and which of hers it is; kind: of round; scene: what is drawn;
    nought_m: where the scale's nought lies, along the stem; mirrored: whether downhill, or the
    lean, is drawn to the left.
    """

    code: str
    number: int
    kind: Kind
    scene: Scene
    nought_m: float
    mirrored: bool

    # ---- what is asked -----------------------------------------------------------------------

    @property
    def stem(self) -> StemInSpace:
        """The stem that is drawn."""
        return self.scene.stem

    @property
    def leans(self) -> bool:
        """Whether level is another thing than square."""
        return self.stem.lean_deg > 0

    @property
    def ends_m(self) -> tuple[float, float]:
        """From where to where on the scale a band can be put."""
        low = max(self.stem.ground_m(side) for side in ("uphill", "downhill")) + 0.05
        return math.ceil(self.scale_m(low) * 100) / 100, self.scale_m(self.scene.high_m - 0.1)

    @property
    def start_m(self) -> float:
        """Where the band lies at first, on the scale: low, where no rule wants it."""
        return round(self.ends_m[0] + 0.2, 2)

    def scale_m(self, along_m: float) -> float:
        """What the scale reads at a place, to the cm.

        along_m: along the stem.
        """
        return round(along_m - self.nought_m, 2)

    def along_m(self, scale_m: float) -> float:
        """The place at a mark of the scale, along the stem.

        scale_m: what the scale reads there.
        """
        return scale_m + self.nought_m

    @property
    def question(self) -> str:
        """What is asked."""
        across = f"{self.stem.diameter_at_cm(self.scene.kept[0].low_m):.0f}"
        return (
            f"{self.kind.told}. What stands here, about {across} cm thick (made up), is to be "
            "measured at breast height, 1.3 m, by this page's rules. Where do you put the band?"
        )

    @property
    def facts(self) -> tuple[str, ...]:
        """What is to be seen, a line each, told on the scale."""
        stem, scene = self.stem, self.scene
        told = []
        if self.leans:
            told.append(f"The stem leans by {stem.lean_deg:g}° from plumb")
        if stem.slope_deg:
            told.append(f"The ground falls by {stem.slope_deg:g}°")
        if self.leans or stem.slope_deg:
            sides = ("uphill", "downhill") if stem.slope_deg else ("upper", "under")
            names = {"upper": "on its upper side", "under": "on the side it leans to"}
            told += [
                f"The soil meets the stem {names.get(side, side)} at "
                f"{self.scale_m(stem.ground_m(side)):.2f} m"
                for side in sides
            ]
        else:
            told.append(f"The soil meets the stem at {self.scale_m(0.0):.2f} m")
        if scene.cover:
            top = stem.ground_m("middle", "litter")
            told.append(f"The {scene.cover} reaches up to {self.scale_m(top):.2f} m")
        told += [self._marked(mark) for mark in scene.marks]
        if stem.fork is not None:
            told.append(f"Two stems begin at {self.scale_m(stem.fork.at_m):.2f} m")
        return tuple(f"{one}." for one in told)

    def _marked(self, mark: Mark) -> str:
        if mark.low_m <= 0:
            return f"Its {mark.name} {_reach(mark.name)} up to {self.scale_m(mark.high_m):.2f} m"
        ends = f"from {self.scale_m(mark.low_m):.2f} to {self.scale_m(mark.high_m):.2f} m"
        return f"It is swollen {ends}" if mark.name == "swollen" else f"The {mark.name} is {ends}"

    # ---- what is answered --------------------------------------------------------------------

    def checked(self, placed: Placed) -> Placed:
        """The same, if a band can be put so.

        placed: where. Raises MeasureError for a place off the stem, ChoiceError for a word that is
        none.
        """
        if placed.bands not in BANDS:
            raise ChoiceError("bands", placed.bands, tuple(BANDS))
        if placed.held not in HELD:
            raise ChoiceError("held", placed.held, tuple(HELD))
        low, high = self.ends_m
        for place in (placed.scale_m, placed.second_m):
            if place is not None:
                number(place, "scale_m", "m", at_least=low - 1e-9, at_most=high + 1e-9)
        return placed

    def reply(self, placed: Placed) -> Reply:
        """What is said: the rule kept or broken, who says so, the cost.

        placed: where the band lies.
        """
        placed = self.checked(placed)
        spot, kept = self.meant(placed)
        held = placed.held == SQUARE or not self.leans
        if kept and held and spot is not None:
            return Reply(True, f"Kept: {spot.law.told} {self.cost(placed)}")
        said = []
        if not kept:
            law = self.scene.kept[0].law if spot is None else spot.law
            went = self._went_wrong(placed, spot)
            if spot is not None and spot.view is not None:
                said.append(f"{OTHER_MANUAL}: {went}. There: {spot.view.told}")
                own = f": {law.told}" if spot.view != law else "."
                said.append(f"The rule here is another{own} So measure here")
            else:
                opens = ONLY_LISTS if law.only_of_lists else BROKEN
                said.append(f"{opens}: {went}. The rule: {law.told} So measure")
            said[-1] += f" {self.scene.kept[0].how}."
        if not held:
            said.append(f"{BROKEN}: the band is level. The rule: {SQUARE_LAW.told}")
        return Reply(False, " ".join([*said, self.cost(placed)]))

    @property
    def caution(self) -> str:
        """Where people can be hurt at such a stem, "" if nowhere in particular."""
        return situation(self.kind.situation).caution

    def meant(self, placed: Placed) -> tuple[Spot | None, bool]:
        """Which spot a placing is, and whether that keeps a rule; None if it is near none.

        placed: where the band lies.
        """
        middle = self.along_m(placed.scale_m)
        if placed.bands == MEAN:
            other = self._second_m(placed)
            if not self._mean_holds(middle, other):
                return None, False
            middle = (middle + other) / 2
        found = [
            (_off_m(spot, middle), not kept, place, spot, kept)
            for kept, spots in ((True, self.scene.kept), (False, self.scene.broken))
            for place, spot in enumerate(spots)
            if self._same_bands(spot, placed.bands, middle)
        ]
        near = [one for one in found if one[0] <= NEAR_M]
        if not near:
            return None, False
        _, _, _, spot, kept = min(near, key=lambda one: one[:3])
        return spot, kept

    def _second_m(self, placed: Placed) -> float:
        """Where the other of two bands lies, along the stem; on the first, if there is but one."""
        return self.along_m(placed.scale_m if placed.second_m is None else placed.second_m)

    def _same_bands(self, spot: Spot, bands: str, middle_m: float) -> bool:
        if bands == spot.bands:
            return True
        # the mean of two is as good as one where the stem is even; one stem has one band
        alone = not self.stem.forked_at(middle_m)
        even = bands == EACH or (bands == MEAN and self.scene.kept[0].bands != MEAN)
        return spot.bands == ONE and alone and even

    def _mean_holds(self, first_m: float, second_m: float) -> bool:
        """Whether two bands lie clear of what is marked, and on one stem."""
        inside = [
            mark.low_m + 0.01 < place < mark.high_m - 0.01
            for mark in self.scene.marks
            for place in (first_m, second_m)
        ]
        return not any(inside) and not any(map(self.stem.forked_at, (first_m, second_m)))

    def _went_wrong(self, placed: Placed, spot: Spot | None) -> str:
        """What was done instead, in words."""
        if spot is not None:
            return f"you measured {spot.how}"
        place = self.along_m(placed.scale_m)
        first = self.scene.kept[0]
        forked = self.stem.forked_at(place)
        if placed.bands == MEAN and first.bands == MEAN:
            marked = " or ".join(mark.name for mark in self.scene.marks)
            other = self._second_m(placed)
            if not self._mean_holds(place, other):
                return f"one of the bands still lies on the {marked}"
            off = (place + other) / 2 - first.low_m
            return f"the middle of the two bands lies {_off_words(off)} 1.3 m"
        if placed.bands == MEAN:
            other = self._second_m(placed)
            forked = forked or self.stem.forked_at(other)
            place = (place + other) / 2
        if forked and first.bands == EACH and placed.bands != EACH:
            return "two stems are taken as one"
        if not forked and first.bands == EACH:
            return "you measured below the fork, where there is one stem still"
        if forked and first.bands == ONE:
            return "you measured above the fork, and the stem below it is wanted"
        off = place - min(max(place, first.low_m), first.high_m)
        return f"the band lies {_off_words(off)} where it should"

    # ---- what it costs -----------------------------------------------------------------------

    def girths_cm(self, placed: Placed) -> tuple[float, ...]:
        """What is read, in cm: one girth, or one for each stem or band.

        placed: where the band lies.
        """
        stem, place, level = self.stem, self.along_m(placed.scale_m), placed.held == LEVEL
        if placed.bands == EACH:
            legs = stem.legs_at(place)
            return tuple(float(leg.taut_girth_cm) for leg in legs)
        places = [place]
        if placed.bands == MEAN and placed.second_m is not None:
            places.append(self.along_m(placed.second_m))
        return tuple(float(stem.section_at(one, level).taut_girth_cm) for one in places)

    def area_cm2(self, placed: Placed) -> float:
        """The sectional area that is concluded from it: of one circle, or over all stems, in cm².

        placed: where the band lies.
        """
        read = self.girths_cm(placed)
        if placed.bands == EACH:
            return sum(girth**2 for girth in read) / (4 * math.pi)
        return (sum(read) / len(read)) ** 2 / (4 * math.pi)

    @property
    def right(self) -> Placed:
        """A placing by the rule that is told first; not rounded to the scale's marks."""
        return self.placed_at(self.scene.kept[0])

    def placed_at(self, first: Spot) -> Placed:
        """A placing that is meant by a spot: of a stretch where it is nearest to breast height.

        first: one of the scene's.
        """
        if first.bands == MEAN:
            clear = max(abs(end - first.low_m) for m in self.scene.marks for end in _ends(m))
            low, high = (first.low_m + way * (clear + 0.01) - self.nought_m for way in (-1, 1))
            return Placed(high, low, MEAN)
        place = first.low_m if first.high_m == first.low_m else _nearest(first)
        return Placed(place - self.nought_m, bands=first.bands)

    def cost_percent(self, placed: Placed) -> float:
        """What a placing adds to the sectional area by the rule, in per cent of it.

        placed: where the band lies.
        """
        return 100 * (self.area_cm2(placed) / self.area_cm2(self.right) - 1)

    def cost(self, placed: Placed) -> str:
        """What it costs, in a sentence.

        placed: where the band lies.
        """
        read, cost = self.girths_cm(placed), self.cost_percent(placed)
        told = " and ".join(f"{girth:.1f}" for girth in read)
        more = "more" if cost > 0 else "less"
        if abs(cost) < 0.05:
            return f"You read {told} cm, and the sectional area is right to 0.0 %."
        return (
            f"You read {told} cm; by the rule {self._by_rule()} cm. The sectional area comes out "
            f"{abs(cost):.1f} % {more} than by the rule."
        )

    def _by_rule(self) -> str:
        return " and ".join(f"{girth:.1f}" for girth in self.girths_cm(self.right))


def _reach(name: str) -> str:
    return "reach" if name.endswith("s") and not name.endswith("ss") else "reaches"


def _ends(mark: Mark) -> tuple[float, float]:
    return mark.low_m, mark.high_m


def _nearest(spot: Spot) -> float:
    """The place of a stretch that is nearest breast height, but not at its very edge."""
    inside = min(NEAR_M, (spot.high_m - spot.low_m) / 2)
    return min(max(BREAST_HEIGHT_M, spot.low_m + inside), spot.high_m - inside)


def _off_m(spot: Spot, place_m: float) -> float:
    # to the mm, so that at a border it is the kept side that counts
    return round(max(spot.low_m - place_m, place_m - spot.high_m, 0.0), 3)


def _off_words(off_m: float) -> str:
    return f"{abs(off_m) * 100:.0f} cm {'above' if off_m > 0 else 'below'}"
