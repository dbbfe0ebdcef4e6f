"""Rows for pages: situations with their places, rules with who says them, disagreements, heights.

What a page shows of a rule is what the rule's data holds, so that no sentence is written twice.
"""

from __future__ import annotations

from collections.abc import Iterable

from mensura.estimates.breast_heights import BREAST_HEIGHTS
from mensura.estimates.comparison_rows import Row
from mensura.estimates.place_rules import SITUATIONS, situation
from mensura.estimates.place_said import UNSOURCED, Said, Situation
from mensura.sources import SOURCES


def _chosen(keys: Iterable[str] | None) -> tuple[Situation, ...]:
    return tuple(situation(key) for key in (SITUATIONS if keys is None else keys))


def short(said: Iterable[Said]) -> str:
    """Keys alone, each once: for columns that have no room for pages.

    said: where a rule stands.
    """
    return ", ".join(dict.fromkeys(f"[{one.key}]" for one in said))


def _who(one: Situation) -> str:
    """Who says where: if nobody does that we read, that first, then who says what goes with it."""
    named = short(said for rule in one.rules for said in rule.said)
    if one.rules[0].said:
        return named
    return f"{UNSOURCED}; what goes with it: {named}" if named else UNSOURCED


def situation_rows(keys: Iterable[str] | None = None) -> list[Row]:
    """Each kind of stem, where it is measured, who says so, and how many rules differ.

    keys: of the situations that are wanted; None for all. Raises ChoiceError for an unknown one.

    >>> situation_rows(["slope"])[0]["where to measure"]
    'Take the height on the uphill side.'
    """
    return [
        {
            "stem": one.title,
            "where to measure": one.where,
            "who says so": _who(one),
            "manuals differ": "yes" if one.disagreements else "no",
        }
        for one in _chosen(keys)
    ]


def place_rule_rows(keys: Iterable[str] | None = None) -> list[Row]:
    """Each rule with where it is published, or the mark that it is not.

    keys: of the situations that are wanted; None for all. Raises ChoiceError for an unknown one.

    >>> place_rule_rows(["water-or-snow"])[0]["who says so"]
    'common practice, no source'
    """
    return [
        {"stem": one.title, "rule": rule.words, "who says so": rule.source}
        for one in _chosen(keys)
        for rule in one.rules
    ]


def disagreement_rows(keys: Iterable[str] | None = None) -> list[Row]:
    """Each question on which manuals differ: what each says, side by side, and what we do.

    keys: of the situations that are wanted; None for all. Raises ChoiceError for an unknown one.
    What we do stands in the first row of its question.

    >>> [row["what it says"] for row in disagreement_rows(["slope"])][0]
    'Uphill.'
    """
    return [
        {
            "question": differ.about,
            "what it says": view.words,
            "who says so": view.source,
            "what we do": "" if number else differ.ours,
        }
        for one in _chosen(keys)
        for differ in one.disagreements
        for number, view in enumerate(differ.views)
    ]


def breast_height_rows() -> list[Row]:
    """Breast heights by country and purpose, from low to high.

    >>> breast_height_rows()[0]["in m"]
    '1.20'
    """
    return [
        {
            "where": one.where,
            "in m": f"{one.height_m:.2f}",
            "as told": one.as_told,
            "who says so": "; ".join(str(said) for said in one.said),
            "note": one.note,
        }
        for one in sorted(BREAST_HEIGHTS, key=lambda one: one.height_m)
    ]


def place_caution_rows(keys: Iterable[str] | None = None) -> list[Row]:
    """Where people can be hurt, to stand beside the situation and not at the end.

    keys: of the situations that are wanted; None for all. Raises ChoiceError for an unknown one.

    >>> len(place_caution_rows(["furrows", "log-ends"]))
    2
    """
    return [{"stem": one.title, "caution": one.caution} for one in _chosen(keys) if one.caution]


def place_source_rows(keys: Iterable[str] | None = None) -> list[Row]:
    """The works behind the situations, each with how it is known to us.

    keys: of the situations that are wanted; None for all, and then those of breast heights too.
    Raises ChoiceError for an unknown one.

    >>> [row["key"] for row in place_source_rows(["furrows"])]
    ['MinnesotaBigTrees']
    """
    named = {said.key for one in _chosen(keys) for said in one.said}
    if keys is None:
        named |= {said.key for one in BREAST_HEIGHTS for said in one.said}
    return [
        {
            "key": key,
            "work": f"{SOURCES[key].author}, {SOURCES[key].year}: {SOURCES[key].title}",
            "how it is known": SOURCES[key].known,
        }
        for key in sorted(named, key=str.lower)
    ]
