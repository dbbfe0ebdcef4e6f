"""The bank: every family of problems, found by its key or its topic."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from importlib import import_module
from types import MappingProxyType

from mensura.checks import ChoiceError, MeasureError
from mensura.teaching.problems.codes import ask_back, plain
from mensura.teaching.problems.draw import Problem, draw
from mensura.teaching.problems.family import TOPICS, Family


@lru_cache(maxsize=1)
def all_families() -> Mapping[str, Family]:
    """Every family by its key, in the order of the chapters; it cannot be changed.

    A topic's families are the list FAMILIES of the module that is named after the topic.
    Raises MeasureError if two families share a key, or one lies in another topic's module.
    """
    found: dict[str, Family] = {}
    for topic in TOPICS:
        home = topic.replace("-", "_")
        module = import_module(f"mensura.teaching.problems.families.{home}")
        for one in module.FAMILIES:
            if one.topic != topic:
                raise MeasureError("topic", one.topic, "", f"{topic}, in {home}.py", one.key)
            if one.key in found:
                raise MeasureError("key", one.key, "", "a key that no other family has")
            found[one.key] = one
    return MappingProxyType(found)


def families(topic: str | None = None) -> list[Family]:
    """The families of a topic, or all of them.

    topic: one of TOPICS, or None. Raises MeasureError for another.
    """
    topic = plain(topic)
    if isinstance(topic, str):
        ask_back("topic", topic, TOPICS)
    if topic is not None and topic not in TOPICS:
        raise ChoiceError("topic", topic, TOPICS)
    return [one for one in all_families().values() if topic in (None, one.topic)]


def family(key: str) -> Family:
    """The family with a key.

    key: as `families` lists it, or with blanks or underscores for its dashes. Raises MeasureError
    for an unknown one, naming those spelt alike.

    >>> family("girth to area").key
    'girth-to-area'
    """
    known = all_families()
    typed = plain(key)
    key = "-".join(typed.replace("_", " ").split()) if isinstance(typed, str) else typed
    if isinstance(key, str):
        ask_back("family", key, known)
    if key not in known:
        raise ChoiceError("family", typed, known, "a family that `mensura problems` lists")
    return known[key]


def problem(
    key_of_family: str,
    student: str,
    key: str,
    set_name: str = "1",
    try_number: int = 1,
    edition: int | None = None,
) -> Problem:
    """A student's problem.

    key_of_family: which family; student, key, set_name, try_number, edition: as for
    :func:`mensura.teaching.problems.draw.draw`.
    """
    return draw(family(key_of_family), student, key, set_name, try_number, edition)
