"""What a round of *where would you measure?* is made of: a scene, its places, the rules they keep.

Places are told along the stem, as a stem in space counts; the class sees them on a scale whose
nought lies anywhere. A law is a rule of a situation, named by how it begins, so that its words and
its source stand in one place only (`estimates/place_rules.py`).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from mensura.estimates.place_rules import situation
from mensura.estimates.place_said import UNSOURCED, Rule
from mensura.sources import SOURCES, UNKNOWN
from mensura.stems.standing import StemInSpace

#: The height above the ground at which a stem is measured, in m, in all rounds.
BREAST_HEIGHT_M = 1.3

#: How bands may be put on: one round all that is there, one round each stem, two on one stem.
ONE, EACH, MEAN = "one", "each", "mean"
BANDS: Mapping[str, str] = MappingProxyType(
    {
        ONE: "one band round all that is there",
        EACH: "one band round each stem",
        MEAN: "two bands on one stem, and their mean",
    }
)
SQUARE, LEVEL = "square", "level"
HELD: Mapping[str, str] = MappingProxyType(
    {SQUARE: "square to the stem's axis", LEVEL: "level, like water"}
)

#: How far above a butt swell a stem is measured, at least: 1.5 feet, in m.
BUTT_CLEAR_M = 0.4572

#: What may lie on the soil.
LITTER, SNOW = "litter", "snow"


@dataclass(frozen=True)
class Law:
    """A rule of a situation, named by how it begins.

    situation: its key; opens: how the rule's words begin, enough to know it.
    """

    situation: str
    opens: str

    @property
    def rule(self) -> Rule:
        """The rule, of the situation's own or of a view on it; KeyError if there is none."""
        one = situation(self.situation)
        views = [view for told in one.disagreements for view in told.views]
        for rule in (*one.rules, *views):
            if rule.words.startswith(self.opens):
                return rule
        raise KeyError(f"{self.situation}: {self.opens}")

    @property
    def told(self) -> str:
        """The rule in words, and who says so: two sources by name, the others by number.

        >>> Law("slope", "Breast height").told[:70]
        'Breast height is taken on the uphill side of the tree. (J. DeYoung, 20'
        """
        rule = self.rule
        named = [_named(one.key, one.place) for one in rule.said[:2]]
        more = len(rule.said) - len(named)
        if more:
            named.append(f"and {more} more")
        return f"{rule.words} ({'; '.join(named) or UNSOURCED})"

    @property
    def only_of_lists(self) -> bool:
        """Whether nobody says so but lists of big trees and a city's rules."""
        return self.rule.only_of_lists


@dataclass(frozen=True)
class Spot:
    """A place, or a stretch of places, with how it is come to.

    low_m, high_m: along the stem; bands: one of BANDS; how: in words, after "you measured" or
    "measure"; law: the rule that is kept there, or broken; view: the rule of those who do measure
    there though another rule is taken, None if nobody does.
    """

    low_m: float
    high_m: float
    bands: str
    how: str
    law: Law
    view: Law | None = None


def at(place_m: float, how: str, law: Law, view: Law | None = None, bands: str = ONE) -> Spot:
    """A single place.

    place_m: along the stem; how, law, view, bands: as a spot has them.
    """
    return Spot(place_m, place_m, bands, how, law, view)


@dataclass(frozen=True)
class Mark:
    """Something on the stem that the picture names, from one place to another.

    name: in one or two words; low_m, high_m: along the stem.
    """

    name: str
    low_m: float
    high_m: float


@dataclass(frozen=True)
class Scene:
    """What is drawn in a round, and what is right in it.

    stem: where it stands; kept: spots that keep a rule, that by which costs are told first; broken:
    spots that do not; marks: what the picture names; cover: what lies on the soil, "" for nothing;
    high_m: how far up the stem one must see.
    """

    stem: StemInSpace
    kept: tuple[Spot, ...]
    broken: tuple[Spot, ...] = ()
    marks: tuple[Mark, ...] = ()
    cover: str = ""
    high_m: float = 2.2


def _named(key: str, place: str) -> str:
    """Who wrote it and when, as far as we know, and where in it."""
    source = SOURCES[key]
    authors = [one for one in source.author.split(" (")[0].split(", ") if UNKNOWN not in one]
    author = f"{authors[0]} and others" if len(authors) > 2 else ", ".join(authors)
    year = source.year.split(" (")[0]
    dated = [] if UNKNOWN in year else [year]
    return ", ".join([author, *dated, *([place] if place else [])])
