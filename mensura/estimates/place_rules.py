"""Where to measure: every kind of stem that field manuals tell apart, with its rules as data.

Ground, slope and lean stand in `place_ground`, the stem's form in `place_form`, what lies on it,
lying stems and the mark in `place_surface`. Here they are one list, in the order of a page.

A forester's caution: rules are told as their sources tell them. Your survey's own manual, local
rules and people licensed for the work come first.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from mensura.checks import ChoiceError
from mensura.estimates.place_form import FORM_SITUATIONS
from mensura.estimates.place_ground import GROUND_SITUATIONS
from mensura.estimates.place_said import Situation
from mensura.estimates.place_surface import SURFACE_SITUATIONS

#: Every situation by its key, in the order in which a page tells them.
SITUATIONS: Mapping[str, Situation] = MappingProxyType(
    {one.key: one for one in (*GROUND_SITUATIONS, *FORM_SITUATIONS, *SURFACE_SITUATIONS)}
)


def situation(key: str) -> Situation:
    """The situation of a key.

    key: of SITUATIONS. Raises ChoiceError for another.

    >>> situation("slope").where
    'Take the height on the uphill side.'
    """
    if key not in SITUATIONS:
        raise ChoiceError("situation", key, tuple(SITUATIONS))
    return SITUATIONS[key]


def situations_with_cost(key: str) -> tuple[Situation, ...]:
    """The situations in which a rule with that cost can be ignored.

    key: of a cost.

    >>> [one.key for one in situations_with_cost("two-as-one")]
    ['fork-below', 'several-stems']
    """
    return tuple(one for one in SITUATIONS.values() if key in one.costs)
