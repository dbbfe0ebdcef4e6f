"""What is said of a place on a stem, and by whom: the shapes of the rules that `place_rules` holds.

A rule is a sentence and where it is published. A rule without a source says so, in the same words
everywhere. Nothing is told more widely than its source tells it: a rule of a list of big trees, or
of one country, says that it is one.
"""

from __future__ import annotations

from dataclasses import dataclass

from mensura.sources import SOURCES

#: The mark of a rule for which no published work was found.
UNSOURCED = "common practice, no source"

#: Works that are no survey's manual: lists of big trees and of old ones, rules for trees in a city.
LISTS = frozenset(
    {
        "BigTreesGermany",
        "MenloPark",
        "MinnesotaBigTrees",
        "MonumentalOaks",
        "OldTrees2007",
        "Portland",
        "TexasBigTrees2017",
        "TexasGuidelines",
    }
)

#: Keys of the costs that `place_costs` works out.
COST_KEYS = (
    "wrong-height",
    "other-breast-height",
    "downhill",
    "half-way",
    "plumb",
    "wrong-side",
    "level-band",
    "level-calipers",
    "level-calipers-in-lean",
    "swelling",
    "above-only",
    "two-as-one",
    "one-leg-of-two",
    "litter",
    "raised-roots",
    "moss",
    "climber",
    "furrows",
    "butt-swell",
    "buttress",
    "stilt-root",
    "snow",
    "off-the-mark",
)


@dataclass(frozen=True)
class Said:
    """Where a rule stands.

    key: of :data:`mensura.sources.SOURCES`; place: page, section, rule or figure in it, or how it
    is known if that is all we have.
    """

    key: str
    place: str = ""

    def __post_init__(self) -> None:
        if self.key not in SOURCES:
            raise KeyError(self.key)

    def __str__(self) -> str:
        return f"[{self.key}]" + (f", {self.place}" if self.place else "")


@dataclass(frozen=True)
class Rule:
    """One rule in plain words.

    words: what to do; said: who says so; none means :data:`UNSOURCED`.

    >>> Rule("Take the height on the uphill side.").source
    'common practice, no source'
    """

    words: str
    said: tuple[Said, ...] = ()

    @property
    def source(self) -> str:
        """Who says so, as keys and places, or the mark of a rule without a source."""
        return "; ".join(str(one) for one in self.said) or UNSOURCED

    @property
    def only_of_lists(self) -> bool:
        """Whether nobody says so but lists of big trees and a city's rules."""
        return bool(self.said) and all(one.key in LISTS for one in self.said)


@dataclass(frozen=True)
class Disagreement:
    """Where published rules differ.

    about: what they differ on, as a question; views: each with who says it; ours: what this
    package does, and why; follows: places, from 0, of the views that it follows.
    """

    about: str
    views: tuple[Rule, ...]
    ours: str
    follows: tuple[int, ...] = (0,)

    @property
    def others(self) -> tuple[Rule, ...]:
        """The views that are not followed here."""
        return tuple(view for at, view in enumerate(self.views) if at not in self.follows)


@dataclass(frozen=True)
class Situation:
    """A kind of stem, and where it is measured.

    key: its name for programs; title: for people; where: the place in one sentence; rules: that
    say so; disagreements: where manuals differ; caution: where people can be hurt, or empty;
    costs: keys of COST_KEYS, of what it costs not to do it; no_cost: why there is none.
    """

    key: str
    title: str
    where: str
    rules: tuple[Rule, ...]
    disagreements: tuple[Disagreement, ...] = ()
    caution: str = ""
    costs: tuple[str, ...] = ()
    no_cost: str = ""

    def __post_init__(self) -> None:
        if bool(self.costs) == bool(self.no_cost):
            raise ValueError(f"{self.key}: either a cost or why there is none")

    @property
    def said(self) -> tuple[Said, ...]:
        """All places where its rules and the views on it stand, each once, in order."""
        views = [view for one in self.disagreements for view in one.views]
        found = [said for rule in (*self.rules, *views) for said in rule.said]
        return tuple(dict.fromkeys(found))
