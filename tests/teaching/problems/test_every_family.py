"""Every family of every topic: its answer found a second way, and each of its slips by hand.

What a topic's own file says stands in its tables SECOND_WAY, SLIPS and how nearly they agree; a new
family without a row, or a new topic without a file, fails here.
"""

import importlib.util
from functools import cache
from pathlib import Path

import pytest

from mensura.teaching.problems.bank import all_families, families
from mensura.teaching.problems.draw import draw
from mensura.teaching.problems.family import TOPICS, Given


def rows(family):
    """The forms of a family, each with the name of its rows: its key, and the edition that it
    began with where an older form computes something else."""
    found, newest = [(family.key, family)], family
    while family.before is not None:
        family = family.before
        if family.answer is not newest.answer:
            found.append((f"{family.key}, edition {family.from_edition}", family))
    return found


ROWS = {name: form for one in all_families().values() for name, form in rows(one)}


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
    keys = [name for one in families(topic) for name, _ in rows(one)]
    assert keys
    assert sorted(tables(topic).SECOND_WAY) == sorted(keys)
    assert sorted(tables(topic).SLIPS) == sorted(keys)
    assert 0 < tables(topic).SECOND_WAY_REL <= 2e-5
    assert 0 < tables(topic).SLIPS_REL <= 2e-6


@pytest.mark.parametrize("name", ROWS)
def test_each_answer_a_second_way(name, problems_of):
    """48 draws agree with what does not call the same function."""
    form = ROWS[name]
    of_topic = tables(form.topic)
    for problem in problems_of(form.key):
        if name != form.key:
            problem = draw(form, problem.student, problem.key)
        other = float(of_topic.SECOND_WAY[name](problem.numbers))
        assert problem.answer == pytest.approx(other, rel=of_topic.SECOND_WAY_REL)


@pytest.mark.parametrize("name", ROWS)
def test_each_slip_by_hand(name):
    """Every slip of every form of every family is the wrong number that it is named for."""
    form = ROWS[name]
    of_topic = tables(form.topic)
    numbers, by_hand = of_topic.SLIPS[name]
    found = {slip.name: slip.compute(Given(numbers)) for slip in form.slips}
    assert found == pytest.approx(by_hand, rel=of_topic.SLIPS_REL)
