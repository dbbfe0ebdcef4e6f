"""Every family of every topic: its answer found a second way, and each of its slips by hand.

What a topic's own file says stands in its tables SECOND_WAY, SLIPS and how nearly they agree; a new
family without a row, or a new topic without a file, fails here.
"""

import importlib.util
from functools import cache
from pathlib import Path

import pytest

from mensura.teaching.problems.bank import all_families, families, family
from mensura.teaching.problems.family import TOPICS, Given

KEYS = list(all_families())


@cache
def tables(topic):
    """The module of a topic's tests."""
    path = Path(__file__).with_name(f"test_families_{topic.replace('-', '_')}.py")
    spec = importlib.util.spec_from_file_location(f"mensura_tests_{path.stem}", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("topic", TOPICS)
def test_every_family_has_its_rows(topic):
    """No family without a second way and slips by hand, no row without its family."""
    keys = [one.key for one in families(topic)]
    assert keys
    assert sorted(tables(topic).SECOND_WAY) == sorted(keys)
    assert sorted(tables(topic).SLIPS) == sorted(keys)
    assert 0 < tables(topic).SECOND_WAY_REL <= 2e-5
    assert 0 < tables(topic).SLIPS_REL <= 2e-6


@pytest.mark.parametrize("key", KEYS)
def test_each_answer_a_second_way(key, problems_of):
    """48 draws agree with what does not call the same function."""
    of_topic = tables(family(key).topic)
    for problem in problems_of(key):
        other = float(of_topic.SECOND_WAY[key](problem.numbers))
        assert problem.answer == pytest.approx(other, rel=of_topic.SECOND_WAY_REL)


@pytest.mark.parametrize("key", KEYS)
def test_each_slip_by_hand(key):
    """Every slip of every family is the wrong number that it is named for."""
    of_topic = tables(family(key).topic)
    numbers, by_hand = of_topic.SLIPS[key]
    found = {slip.name: slip.compute(Given(numbers)) for slip in family(key).slips}
    assert found == pytest.approx(by_hand, rel=of_topic.SLIPS_REL)
