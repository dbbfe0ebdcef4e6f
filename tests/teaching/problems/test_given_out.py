"""Editions: whatever is added to a family later, numbers that were given out stay as they were."""

import copy
import math
from dataclasses import replace
from functools import cache

import pytest

from mensura.checks import MeasureError
from mensura.teaching.answers.reply import reply
from mensura.teaching.problems import given_out as editions
from mensura.teaching.problems.bank import all_families
from mensura.teaching.problems.draw import draw, read_back
from mensura.teaching.problems.family import (
    Family,
    Given,
    Quantity,
    Slip,
    clear_of,
    renew,
)

KEYS = sorted(all_families())

#: Side, doubled side, side and one: what a slip does to a square's area.
SQUARE = Family(
    key="square-side",
    topic="girth",
    title="A square",
    text="A squared post has the side {side_cm} cm. Its area?",
    given=[Quantity("side_cm", 2.0, 30.0, 0.5, exact=True)],
    unit="cm²",
    answer=lambda q: q.side_cm**2,
    hints=["Think.", "Square it.", "Work out {side_cm}²."],
    solution="{side_cm}² = {answer} cm².",
    slips=[
        Slip("cubed", lambda q: q.side_cm**3, "That is a cube."),
        Slip("doubled", lambda q: 2 * q.side_cm, "Squared, not doubled."),
        Slip("halved", lambda q: q.side_cm**2 / 2, "That is a triangle."),
    ],
    source="common practice, no source",
)

#: A slip that came later, and is right for a side of 10 cm and wrong for every other.
LATER = Slip("ten-times", lambda q: 10 * q.side_cm, "Times the side itself.", since=2)

STUDENTS = [f"Q{number:02d}" for number in range(1, 25)]


def numbers(family, **named):
    """The numbers of 48 problems, as the golden digests count them."""
    return [
        draw(family, student, key, **named).numbers
        for key in ("alder", "birch")
        for student in STUDENTS
    ]


def remembering(compute):
    """A computation that is done once for the same numbers, for many worlds that share it."""
    known = cache(lambda items: compute(Given(dict(items))))
    return lambda q: known(tuple((name, getattr(q, name)) for name in q.names))


@cache
def shared(key):
    """A family of the bank as its first edition was, its computations remembered."""
    family = all_families()[key].form(1)
    first = [slip for slip in family.slips if slip.since == 1]
    return replace(
        family,
        fits_since={},
        answer=remembering(family.answer),
        fits=remembering(family.fits),
        slips=[replace(slip, compute=remembering(slip.compute)) for slip in first],
    )


def with_slips(family, slips):
    """A family's world with other slips, fewer than three among them."""
    other = copy.copy(family)
    object.__setattr__(other, "slips", slips)
    return other


@pytest.mark.parametrize("key", KEYS)
def test_no_real_slip_would_have_moved_a_number_had_it_come_later(key):
    """Every slip of every family, as if it came in edition 2: numbers stay as without it."""
    family = shared(key)
    for slip in family.slips:
        others = [one for one in family.slips if one is not slip]
        before = numbers(with_slips(family, others))
        later = with_slips(family, [*others, replace(slip, since=2)])
        assert later.edition == 2
        assert numbers(later) == before, slip.name
        assert numbers(later, edition=1) == before, slip.name


def test_many_of_them_would_have_as_slips_of_the_first_edition():
    """What the editions are for: without them dozens of the bank's slips had moved numbers."""
    moved = 0
    for family in map(shared, KEYS):
        now = numbers(family)
        for slip in family.slips:
            others = [one for one in family.slips if one is not slip]
            moved += numbers(with_slips(family, others)) != now
    assert moved >= 40


def test_a_later_slip_is_left_out_where_it_cannot_be_told_apart():
    """On a side of 10 cm it is the right answer: there it is not named, elsewhere it is."""
    family = replace(SQUARE, slips=[*SQUARE.slips, LATER])
    seen = set()
    for number in range(1, 200):
        problem = draw(family, "Q07", "alder", "1", number)
        assert problem.numbers == draw(SQUARE, "Q07", "alder", "1", number).numbers
        named = [slip.name for slip in problem.slips]
        assert named[:3] == [slip.name for slip in SQUARE.slips]
        assert ("ten-times" in named) == (problem.numbers["side_cm"] != 10.0)
        seen.add(problem.numbers["side_cm"])
    assert {10.0, 20.0} <= seen


def test_of_two_slips_that_cannot_be_told_apart_both_are_told():
    """Ten times a side of 20 cm is half of its square: the nearer one's name, and both causes."""
    family = replace(SQUARE, slips=[*SQUARE.slips, LATER])
    problem = next(
        one
        for number in range(1, 200)
        if (one := draw(family, "Q07", "alder", "1", number)).numbers["side_cm"] == 20
    )
    said = reply(problem, "200 cm²")
    assert said.slip == "halved"
    assert said.message.startswith("Two slips lead to about this number. That is a triangle. Or:")
    assert said.message.endswith(LATER.says)
    # a little nearer to neither: still both; a cube is a cube
    assert reply(problem, "8000 cm²").message == "That is a cube."


def test_of_two_counts_that_are_the_same_the_older_is_named():
    """In a count there is nothing between two numbers, so one cause is told."""
    same = replace(LATER, name="again", compute=lambda q: q.side_cm**3, since=3)
    family = replace(SQUARE, exact=True, slips=[same, *SQUARE.slips, LATER])
    named = {slip.name for slip in draw(family, "Q01", "alder").slips}
    assert "cubed" in named
    assert "again" not in named


def renewed(**parts):
    """The square's family with a later form."""
    found = [SQUARE]
    renew(found, "square-side", 2, **parts)
    return found[0]


def test_a_later_form_leaves_what_was_given_out():
    """Other ranges and another answer from edition 2 on; edition 1 as it was, to be read back."""
    family = renewed(
        ranges=[Quantity("side_cm", 40.0, 60.0, 0.01)],
        answer=lambda q: 2 * q.side_cm**2,
        title="Two squares",
    )
    assert family.edition == 2
    assert numbers(family, edition=1) == numbers(SQUARE)
    assert all(one["side_cm"] >= 40 for one in numbers(family))
    old, new = draw(family, "Q07", "alder", edition=1), draw(family, "Q07", "alder")
    assert (old.family, new.family) == (SQUARE, family)
    assert old.answer == old.numbers["side_cm"] ** 2
    assert new.answer == 2 * new.numbers["side_cm"] ** 2
    for one in (old, new):
        kept = read_back(family, "Q07", "alder", "1", 1, one.numbers, one.edition)
        assert kept == one
        other = read_back(family, "Q07", "alder", "1", 1, one.numbers, 3 - one.edition)
        assert other is None


def test_a_form_knows_the_one_before_it():
    """Of the same key and topic, and older; the first one holds from edition 1."""
    with pytest.raises(MeasureError, match="from_edition"):
        replace(SQUARE, from_edition=2)
    with pytest.raises(MeasureError, match="from_edition"):
        replace(SQUARE, before=SQUARE)
    other = replace(SQUARE, key="other-square")
    with pytest.raises(MeasureError, match="before"):
        replace(SQUARE, from_edition=2, before=other)
    three = replace(renewed(), from_edition=3, before=renewed())
    assert [three.form(k).from_edition for k in (1, 2, 3, 4)] == [1, 2, 3, 3]


def test_a_choice_clear_of_wrong_methods():
    """Within a tenth of the square, ten times the side is too near: 9.1 to 11.1 cm."""
    clear = clear_of(lambda q: q.side_cm**2, 10, lambda q: 10 * q.side_cm)
    kept = [side for side in range(5, 15) if clear(Given({"side_cm": side}))]
    assert kept == [5, 6, 7, 8, 9, 12, 13, 14]


@pytest.mark.parametrize("raised", [ValueError, ZeroDivisionError])
def test_a_later_slip_without_a_number_is_left_out(raised):
    """It was made for other numbers: the problem stands without it."""

    def fails(q):
        raise raised

    family = replace(SQUARE, slips=[*SQUARE.slips, Slip("fails", fails, "No.", since=2)])
    assert numbers(family) == numbers(SQUARE)
    assert [slip.name for slip in draw(family, "Q07", "alder").slips] == [
        slip.name for slip in SQUARE.slips
    ]


def narrower():
    """The same restriction in both forms: a rule on the numbers, and a slip to be told apart."""
    by_rule = replace(SQUARE, fits_since={2: lambda q: q.side_cm != 10})
    by_slip = replace(SQUARE, slips=[*SQUARE.slips, replace(LATER, apart_since=2)])
    return [by_rule, by_slip]


@pytest.mark.parametrize("family", narrower(), ids=["rule", "slip"])
def test_a_later_edition_gives_out_fewer_draws(family):
    """From edition 2 on nobody gets a side of 10 cm; others keep theirs; edition 1 stays."""
    assert family.edition == 2
    tens = 0
    for number in range(1, 200):
        old, new, again = (
            draw(one, "Q07", "alder", "1", number, edition)
            for one, edition in ((SQUARE, None), (family, None), (family, 1))
        )
        assert old.numbers == again.numbers
        assert (old.edition, new.edition, again.edition) == (1, 2, 1)
        if old.numbers["side_cm"] == 10:
            tens += 1
            assert new.numbers["side_cm"] != 10
        else:
            assert new.numbers == old.numbers
    assert tens


@pytest.mark.parametrize("family", narrower(), ids=["rule", "slip"])
def test_what_was_given_out_is_read_back_though_it_is_given_out_no_more(family):
    """A side of 10 cm of edition 1, in edition 2: the same problem, with its edition."""
    ten = next(
        one
        for number in range(1, 200)
        if (one := draw(SQUARE, "Q07", "alder", "1", number)).numbers["side_cm"] == 10
    )
    kept = read_back(family, "Q07", "alder", "1", ten.try_number, ten.numbers, 1)
    assert kept
    assert (kept.numbers, kept.answer, kept.edition) == (ten.numbers, 100.0, 1)
    assert [slip.name for slip in kept.slips] == [slip.name for slip in ten.slips]


@pytest.mark.parametrize(
    "foreign",
    [
        {},
        {"girth_cm": 10.0},
        {"side_cm": 10.0, "girth_cm": 10.0},
        {"side_cm": 10.1},
        {"side_cm": 1.5},
        {"side_cm": 30.5},
        {"side_cm": 1e300},
        {"side_cm": 2.0},  # there 2·2 = 2², and no edition ever gave it out
    ],
)
def test_numbers_that_were_never_given_out_are_not_read_back(foreign):
    """Another family's names, a number off its steps or out of its range, a draw passed over."""
    assert read_back(SQUARE, "Q07", "alder", "1", 1, foreign, 1) is None
    assert read_back(SQUARE, "Q07", "alder", "1", 1, {"side_cm": 10}, 1) is not None


def test_editions_add_up():
    """A third edition keeps the second's choice; each can still be drawn."""
    two = {2: lambda q: q.side_cm != 10}
    three = {**two, 3: lambda q: q.side_cm < 20}
    family = replace(SQUARE, fits_since=three)
    assert family.edition == 3
    assert numbers(family, edition=2) == numbers(replace(SQUARE, fits_since=two))
    sides = {one["side_cm"] for one in numbers(family)}
    assert max(sides) < 20
    assert 10 not in sides
    with pytest.raises(MeasureError, match="edition"):
        draw(family, "Q07", "alder", edition=4)


def test_a_retired_slip_is_named_no_more_and_still_keeps_the_numbers():
    """The numbers are those of the first edition; taken out of the list they would move."""
    slips = [*SQUARE.slips, Slip("four", lambda q: 4 * q.side_cm, "That is the way round.")]
    family = replace(SQUARE, slips=slips)
    retired = replace(family, slips=[*SQUARE.slips, replace(slips[-1], retired=True)])
    assert numbers(retired) == numbers(family)
    for student in STUDENTS:
        assert "four" not in [slip.name for slip in draw(retired, student, "alder").slips]
    # four times 8 cm is half of its square
    many = [draw(SQUARE, "Q07", "alder", "1", k).numbers["side_cm"] for k in range(1, 200)]
    kept = [draw(retired, "Q07", "alder", "1", k).numbers["side_cm"] for k in range(1, 200)]
    assert 8 in many
    assert 8 not in kept


@pytest.mark.parametrize("key", ["rule-over-bark", "form-factor", "girth-to-area"])
def test_a_better_rule_for_replies_moves_no_number(key, monkeypatch):
    """A coarser tolerance and wider gaps leave slips out, and never change what is given out."""
    family = all_families()[key]
    before = [draw(family, student, "alder") for student in STUDENTS]
    monkeypatch.setattr(editions, "LEAST_TOLERANCE_PERCENT", 2.0)
    monkeypatch.setattr(editions, "APART", 2.0)
    after = [draw(family, student, "alder") for student in STUDENTS]
    assert [one.numbers for one in after] == [one.numbers for one in before]
    assert all(one.tolerance_percent >= 2 for one in after)
    for one in after:
        for slip in one.slips:
            assert abs(one.answer - slip.value) > 2 * (one.tolerance + slip.tolerance)


@pytest.mark.parametrize(
    ("named", "field"),
    [
        ({"since": 0}, "since"),
        ({"since": 1.5}, "since"),
        ({"since": 2, "apart_since": 1}, "apart_since"),
        ({"since": 3, "apart_since": 2}, "apart_since"),
        ({"apart_since": 2}, "apart_since"),
    ],
)
def test_what_is_no_edition_is_refused(named, field):
    """A slip comes in some edition, and narrows no edition before it."""
    with pytest.raises(MeasureError) as refused:
        Slip("one", lambda q: q.side_cm, "No.", **named)
    assert refused.value.field == field


def test_a_family_s_first_edition_needs_no_second_choice():
    """The first choice of draws is `fits`; three slips must be left to be named."""
    with pytest.raises(MeasureError, match="fits_since"):
        replace(SQUARE, fits_since={1: lambda q: True})
    retired = [SQUARE.slips[0], SQUARE.slips[1], replace(SQUARE.slips[2], retired=True)]
    with pytest.raises(MeasureError, match="three slips"):
        replace(SQUARE, slips=retired)


def test_the_tolerance_in_full():
    """Half a step the worst way, rounded up to two figures; at least half a per cent; or exact."""
    side = Quantity("side_cm", 2.0, 30.0, 0.5)
    family = replace(SQUARE, given=[side])
    # 10.25² − 10² = 5.0625, which is 5.0625 % of 100
    assert editions.tolerance_of(family, Given({"side_cm": 10.0}), 100.0) == pytest.approx(5.1)
    fine = replace(family, given=[replace(side, step=0.01)])
    assert editions.tolerance_of(fine, Given({"side_cm": 10.0}), 100.0) == pytest.approx(0.5)
    counted = replace(SQUARE, exact=True)
    assert editions.tolerance_of(counted, Given({"side_cm": 10.0}), 100.0) == 0
    assert math.isclose(editions.GIVEN_OUT_APART, 1.2)
