"""How long a section takes in front of a class, before the lecturer says it better."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

#: Minutes of a step at first, by the kind of its section; the lecturer changes them in the plan.
MINUTES: Mapping[str, float] = MappingProxyType(
    {
        "text": 3,
        "picture": 3,
        "panel": 5,
        "question": 3,
        "proof": 10,
        "proof step": 1,
        "problem": 5,
        "game": 5,
    }
)
