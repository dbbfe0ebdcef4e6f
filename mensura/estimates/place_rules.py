"""Where to measure: every kind of stem that field manuals tell apart, with its rules as data.

Ground, slope and lean stand in `place_ground`, the stem's form in `place_form`, what lies on it,
lying stems and the mark in `place_surface`. Here they are one list, in the order of a page.

A forester's caution: rules are told as their sources tell them. Your survey's own manual, local
rules and people licensed for the work come first.
"""

from __future__ import annotations

from mensura.checks import ChoiceError
from mensura.estimates.place_form import FORM_SITUATIONS
from mensura.estimates.place_ground import GROUND_SITUATIONS
from mensura.estimates.place_said import Situation
from mensura.estimates.place_surface import SURFACE_SITUATIONS

#: Every situation, in the order in which a page tells them.
SITUATIONS: tuple[Situation, ...] = (
    *GROUND_SITUATIONS,
    *FORM_SITUATIONS,
    *SURFACE_SITUATIONS,
)

_BY_KEY = {one.key: one for one in SITUATIONS}


def situation(key: str) -> Situation:
    """The situation of a key.

    key: of SITUATIONS. Raises ChoiceError for another.

    >>> situation("slope").where
    'Take the height on the uphill side.'
    """
    if key not in _BY_KEY:
        raise ChoiceError("situation", key, tuple(_BY_KEY))
    return _BY_KEY[key]
