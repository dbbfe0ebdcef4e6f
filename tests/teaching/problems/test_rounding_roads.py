"""What rounding on the way does, family by family: named where it can be it, and blamed on nobody.

Each road is the worked solution by other code than the family's own answer.
"""

from __future__ import annotations

import math
from functools import cache

import pytest

from mensura.teaching.answers.reply import reply
from mensura.teaching.problems.bank import all_families, family, problem
from mensura.teaching.problems.family import Given
from mensura.teaching.problems.rounding_roads import (
    LATER,
    ROADS,
    as_it_is,
    early,
    road_of,
    to_figures,
)
from mensura.written import rounded

KEYS = [key for key, one in all_families().items() if not one.exact]
#: Where the formula that is asked is a series, or the expansion's first term: how near it is.
NEARLY = {
    "what-tilt-adds-on-average": 4e-3,
    "interval-from-few-readings": 2e-4,
    "tape-on-an-oval": 1e-4,
    "how-far-may-it-lean": 5e-3,
    "blackboard-girth": 1e-3,
    "steel-in-the-frost": 1e-3,
    "how-warm-until-it-matters": 1e-3,
    "same-in-every-direction": 1e-7,
    "limits-of-agreement": 3e-5,
    "limits-for-single-readings": 3e-5,
    "least-growth-a-year": 5e-4,
}
#: A small difference of large numbers: four figures on the way may end outside the tolerance. Of
#: 200 students it happens to some; nothing counts for or against them.
FOUR_ARE_TOO_FEW = {
    "tape-on-an-oval",
    "mean-of-the-axes",
    "turned-pair",
    "blackboard-girth",
    "at-least-so-much",
    "leaning-jaw-area",
    "smalian-on-a-cone",
    "slack-tape",
    "how-far-stretched",
    "shrunken-tape",
    "area-by-a-stretched-tape",
    "plot-on-a-slope",
    "scale-behind-the-cut",
    "area-between-the-clicks",
    "tape-against-an-outline",
    "plumb-on-a-lean",
    "how-far-may-it-lean",
    "level-calipers-on-a-lean",
    "swelling-at-breast-height",
    "area-growth-a-year",
}


@cache
def of_class(key: str):
    """The problems of 200 students."""
    return [problem(key, f"L{number}", "oak") for number in range(200)]


def typed(one, value: float) -> str:
    """A number with one figure more than the data carry, and its unit."""
    return f"{rounded(value, one.figures + 1)} {one.family.unit}".strip()


def test_every_family_has_its_road():
    """But those whose answer is a number of a list or a count."""
    assert sorted(ROADS) == sorted(KEYS)
    for key, edition in LATER:
        assert family(key).form(edition).from_edition == edition
        assert ROADS[key] is road_of(family(key).form(1)) is not road_of(family(key).form(edition))
    assert early(family("read-again"), Given({})) == ()


@pytest.mark.parametrize("key", KEYS)
def test_with_nothing_rounded_a_road_ends_at_the_answer(key):
    first = [problem(key, f"L{number}", "oak", edition=1) for number in range(5)]
    for one in [*of_class(key)[:40], *first]:
        end = road_of(one.family)(Given(one.numbers), as_it_is, as_it_is)
        assert end == pytest.approx(one.answer, rel=NEARLY.get(key, 1e-10))


@pytest.mark.parametrize("key", KEYS)
def test_four_figures_on_the_way_are_never_counted_wrong(key):
    """Of 200 students all are right, or asked again without a mark where four cannot do.

    First the numbers that the solution writes down, then all that a calculator shows, are rounded.
    """
    write = to_figures(4)
    again = 0
    for one in of_class(key):
        for aside in (as_it_is, write):
            said = reply(one, typed(one, road_of(one.family)(Given(one.numbers), write, aside)))
            assert said.slip is None
            if said.right:
                continue
            again += 1
            assert not said.readable, (one.numbers, said.message)
            assert "too early" in said.message
            assert "five figures" in said.message or "six figures" in said.message
            assert "five figures" in one.text or "six figures" in one.text or "three" in one.text
    assert bool(again) == (key in FOUR_ARE_TOO_FEW), again


@pytest.mark.parametrize("key", KEYS)
def test_three_figures_on_the_way_are_named_and_no_slip(key):
    """Right, or told that the numbers on the way were rounded too early."""
    write = to_figures(3)
    for one in of_class(key)[:40]:
        for aside in (as_it_is, write):
            said = reply(one, typed(one, road_of(one.family)(Given(one.numbers), write, aside)))
            assert said.slip is None
            told = "too early" in said.message or "cut off" in said.message
            assert said.right or told, (one.numbers, said.message)


@pytest.mark.parametrize("key", KEYS)
def test_a_rightly_rounded_answer_is_accused_of_nothing(key):
    """To three figures it is right; to one or two it is right or too coarse, and never a slip."""
    for one in of_class(key)[:40]:
        for figures in (1, 2, 3):
            said = reply(one, f"{rounded(one.answer, figures)} {one.family.unit}".strip())
            assert said.slip is None
            assert said.right or (figures < 3 and "too coarse" in said.message), said.message
            # another cause is told beside it where zeros at the end may be figures
            if not said.right and not said.message.startswith("Two causes"):
                assert said.message.startswith("On the way to the answer, but too coarse")


@pytest.mark.parametrize("key", KEYS)
def test_cut_to_three_figures_is_told_so(key):
    """Right, or cut off instead of rounded: no mark, no slip."""
    for one in of_class(key)[:40]:
        place = 10.0 ** (math.floor(math.log10(abs(one.answer))) - 2)
        cut = math.trunc(one.answer / place) * place
        digits = max(0, -round(math.log10(place)))
        said = reply(one, f"{cut:.{digits}f} {one.family.unit}".strip())
        assert said.slip is None
        told = "cut off" in said.message or "too early" in said.message
        assert said.right or told or "too coarse" in said.message, said.message


@pytest.mark.parametrize("key", KEYS)
def test_rounding_is_named_only_where_it_can_be_it(key):
    """Beyond its reach, no reply speaks of rounding."""
    spoken = 0
    for one in of_class(key)[:10]:
        reaches = [found.reach for found in one.asked.early]
        assert reaches == sorted(reaches)
        for times in (0.55, 0.83, 0.96, 0.985, 1.013, 1.03, 1.21, 1.7):
            value = one.answer * times
            said = reply(one, f"{value:#.9g} {one.family.unit}".strip())
            if "too early" in said.message:
                spoken += 1
                two = "to two figures" in said.message
                assert abs(value - one.answer) <= one.asked.early[3 if two else 2].reach
            assert "Look at the rounding" not in said.message
    assert not spoken or max(one.asked.early[3].reach / one.tolerance for one in of_class(key)) > 1


def test_the_reach_holds_every_way_to_round():
    """By brute force: each number moved by half its last place, all ways at once."""
    one = problem("leaning-jaw-area", "Q07", "alder")
    given, road = Given(one.numbers), ROADS["leaning-jaw-area"]
    three = one.asked.early[2]
    assert three.figures == 3
    ends = []
    for ways in range(3**4):
        count = -1

        def move(value: float, ways: int = ways) -> float:
            nonlocal count
            count += 1
            way = ways // 3**count % 3 - 1
            return value + way * 0.5 * 10.0 ** (math.floor(math.log10(abs(value))) - 2)

        ends.append(road(given, move, move))
    reached = max(abs(end - one.answer) for end in ends)
    assert 0.9 * reached <= three.reach <= 1.3 * reached
    assert all(abs(value - one.answer) <= three.reach for value in three.values)


def test_rounding_as_a_hand_does_it():
    assert [to_figures(2)(value) for value in (1.05, 0.0149, -1234.5, 0.0)] == [
        1.1,
        0.015,
        -1200,
        0,
    ]
    assert as_it_is(1.23456) == 1.23456
