"""The bank: every family of problems, found by its key or its topic."""

from __future__ import annotations

from functools import lru_cache
from importlib import import_module

from mensura.checks import MeasureError
from mensura.teaching.problems.draw import Problem, draw
from mensura.teaching.problems.family import TOPICS, Family

#: The modules that hold families, in the order in which they are listed.
_HOMES = (
    "girth",
    "out_of_round",
    "proof",
    "laying",
    "bark",
    "condition",
    "calipers",
    "logs",
    "quarter_girth",
    "plots",
    "doubt",
    "choosing",
)


@lru_cache(maxsize=1)
def all_families() -> dict[str, Family]:
    """Every family by its key, in the order of the chapters.

    Raises MeasureError if two families share a key.
    """
    found: dict[str, Family] = {}
    for home in _HOMES:
        module = import_module(f"mensura.teaching.problems.families.{home}")
        for one in module.FAMILIES:
            if one.key in found:
                raise MeasureError("key", one.key, "", "a key that no other family has")
            found[one.key] = one
    return found


def families(topic: str | None = None) -> list[Family]:
    """The families of a topic, or all of them.

    topic: one of TOPICS, or None. Raises MeasureError for another.
    """
    if topic is not None and topic not in TOPICS:
        raise MeasureError("topic", topic, "", "one of: " + ", ".join(TOPICS))
    return [one for one in all_families().values() if topic in (None, one.topic)]


def family(key: str) -> Family:
    """The family with a key.

    key: as `families` lists it. Raises MeasureError for an unknown one, naming those spelt alike.
    """
    known = all_families()
    if key not in known:
        from difflib import get_close_matches

        near = get_close_matches(str(key), known, n=3, cutoff=0.4)
        wanted = "one of: " + ", ".join(near) if near else "a family that `mensura problems` lists"
        raise MeasureError("family", key, "", wanted)
    return known[key]


def problem(
    key_of_family: str, student: str, key: str, set_name: str = "1", try_number: int = 1
) -> Problem:
    """A student's problem.

    key_of_family: which family; student, key, set_name, try_number: as for
    :func:`mensura.teaching.problems.draw.draw`.
    """
    return draw(family(key_of_family), student, key, set_name, try_number)
