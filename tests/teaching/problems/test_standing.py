"""Progress: what a log of attempts says that a student has taped."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.teaching.problems.draw import draw
from mensura.teaching.problems.families.girth import FAMILIES
from mensura.teaching.problems.standing import (
    Attempt,
    Standing,
    by_topic,
    given_out,
    in_words,
    standings,
)

ONE = Attempt(
    "Q07", "quillmere", "1", "girth-to-area", 1, "78 cm2", False, None, 0, False, "2026-01-02"
)

ATTEMPTS = st.builds(
    Attempt,
    student=st.text(max_size=20),
    key=st.text(max_size=60),
    set_name=st.text(max_size=10),
    family=st.text(max_size=40),
    try_number=st.integers(1, 100_000),
    text=st.text(st.characters(), max_size=100),
    right=st.booleans(),
    slip=st.none() | st.text(max_size=40),
    hints=st.integers(0, 3),
    solution_read=st.booleans(),
    when=st.text(max_size=30),
)


# ---- what it says --------------------------------------------------------------------------------


def at(second: int, **changes: object) -> Attempt:
    """The attempt with its own moment and some changes."""
    return replace(ONE, when=f"second {second}", **changes)


def test_nothing_tried() -> None:
    """An empty log says nothing, and a family that is not in it is untried."""
    assert standings([], "Q07", "quillmere") == {}
    assert Standing().state == "untried"
    assert Standing().next_try == 1


def test_wrong_then_right() -> None:
    """Tried, then taped; the next numbers are new ones."""
    wrong = standings([at(1)], "Q07", "quillmere")["girth-to-area"]
    assert (wrong.state, wrong.attempts, wrong.right, wrong.next_try) == ("tried", 1, 0, 1)
    both = standings([at(1), at(2, right=True)], "Q07", "quillmere")["girth-to-area"]
    assert (both.state, both.attempts, both.right, both.next_try) == ("taped", 2, 1, 2)


def test_copied_from_the_solution() -> None:
    """A right answer behind its own solution is right and tapes nothing; other numbers do."""
    log = [at(1), at(2, right=True, solution_read=True)]
    copied = standings(log, "Q07", "quillmere")["girth-to-area"]
    assert (copied.state, copied.right, copied.next_try) == ("tried", 1, 2)
    own = [*log, at(3, right=True, try_number=2)]
    assert standings(own, "Q07", "quillmere")["girth-to-area"].state == "taped"


def test_a_clock_set_back_changes_nothing() -> None:
    """What counts is how attempts follow each other in the file, whatever time they carry."""
    steps: list[dict[str, object]] = [{}, {"right": True}, {"try_number": 2}]
    forward = [at(k, **one) for k, one in enumerate(steps)]
    back = [replace(one, when=f"19{90 - k}-01-01") for k, one in enumerate(forward)]
    wanted = standings(forward, "Q07", "quillmere")["girth-to-area"]
    assert (wanted.state, wanted.next_try) == ("taped", 2)
    assert standings(back, "Q07", "quillmere")["girth-to-area"] == wanted
    # the first line of the file says which numbers were given out
    family = next(one for one in FAMILIES if one.key == "girth-to-area")
    first = replace(ONE, when="2026-03-01", numbers=(("girth_cm", 78.5),))
    later = replace(ONE, when="1970-01-01", numbers=(("girth_cm", 120.5),))
    assert given_out([first, later], family, "Q07", "quillmere").numbers == {"girth_cm": 78.5}


def test_taped_stays_taped() -> None:
    """A later wrong answer takes nothing away; numbers once right are not asked again."""
    log = [at(1, right=True), at(2)]
    again = standings(log, "Q07", "quillmere")["girth-to-area"]
    assert (again.state, again.next_try) == ("taped", 2)
    older = standings([at(1, try_number=3), at(2, right=True)], "Q07", "quillmere")
    assert older["girth-to-area"].next_try == 3


@pytest.mark.parametrize("change", [{"student": "Q08"}, {"key": "other"}, {"set_name": "2"}])
def test_others_are_kept_apart(change: dict[str, str]) -> None:
    """Another student, class or set is another log."""
    log = [at(1), at(2, right=True, **change)]
    assert standings(log, "Q07", "quillmere")["girth-to-area"].right == 0


def test_the_same_line_twice() -> None:
    """Said again after a full disk, it is still one attempt."""
    assert standings([at(1), at(1)], "Q07", "quillmere")["girth-to-area"].attempts == 1
    assert standings([at(1), at(2)], "Q07", "quillmere")["girth-to-area"].attempts == 2


@given(st.lists(ATTEMPTS, max_size=20))
def test_counts_add_up(log: list[Attempt]) -> None:
    """Over all students, classes and sets no attempt is lost and none is counted twice."""
    groups = {(one.student, one.key, one.set_name) for one in log}
    stands = [each for group in groups for each in standings(log, *group).values()]
    assert sum(each.attempts for each in stands) == len(set(log))
    assert sum(each.right for each in stands) == sum(one.right for one in set(log))
    assert all(each.right <= each.attempts for each in stands)


# ---- what was given out --------------------------------------------------------------------------

AREA = next(one for one in FAMILIES if one.key == "girth-to-area")


def test_what_the_log_holds_is_not_drawn_anew() -> None:
    """Her own numbers, set and try come back as they were; anybody else's are drawn."""
    log = [at(1, numbers=(("girth_cm", 78.5),)), at(2, numbers=(("girth_cm", 120.0),))]
    kept = given_out(log, AREA, "Q07", "quillmere")
    assert kept.numbers == {"girth_cm": 78.5}
    assert kept.answer == pytest.approx(78.5**2 / (4 * 3.141592653589793))
    assert given_out(log, AREA, " Q07 ", "quillmere\t").numbers == kept.numbers
    for other in (
        ("Q08", "quillmere", "1", 1),
        ("Q07", "other", "1", 1),
        ("Q07", "quillmere", "2", 1),
        ("Q07", "quillmere", "1", 2),
    ):
        assert given_out(log, AREA, *other) == draw(AREA, *other)


def test_an_old_line_tells_of_the_first_edition() -> None:
    """No numbers were kept: they are those of edition 1, whatever the newest gives out."""
    first = draw(AREA, "Q07", "quillmere")
    later = replace(AREA, fits_since={2: lambda q: q.girth_cm != first.numbers["girth_cm"]})
    assert draw(later, "Q07", "quillmere").numbers != first.numbers
    assert given_out([], later, "Q07", "quillmere") == draw(later, "Q07", "quillmere")
    old = given_out([at(1)], later, "Q07", "quillmere")
    assert (old.numbers, old.edition) == (first.numbers, 1)
    new = at(1, edition=2, numbers=tuple(draw(later, "Q07", "quillmere").numbers.items()))
    assert given_out([new], later, "Q07", "quillmere").edition == 2


@pytest.mark.parametrize("numbers", [{"girth_cm": 1.0}, {"girth_cm": 78.04}, {"side_cm": 9.0}])
def test_numbers_that_nobody_gave_out(numbers: dict[str, float]) -> None:
    """A line that somebody wrote over counts as it is, and the numbers are drawn."""
    log = [at(1, numbers=tuple(numbers.items()), edition=7)]
    assert given_out(log, AREA, "Q07", "quillmere") == draw(AREA, "Q07", "quillmere")
    assert standings(log, "Q07", "quillmere")["girth-to-area"].attempts == 1


def test_codes_are_compared_in_plain_form() -> None:
    """A key that was typed uncomposed, or with a blank behind it, is the same class's."""
    log = [at(1, key="e\u0301tang "), at(2, key="\u00e9tang", right=True)]
    known = standings(log, "Q07 ", "\u00e9tang")["girth-to-area"]
    assert (known.attempts, known.right) == (2, 1)


# ---- by topic ------------------------------------------------------------------------------------


def test_by_topic() -> None:
    """Each family stands under its topic with one word; what is in no bank is passed over."""
    known = standings(
        [at(1, right=True), at(2, family="girth-to-diameter"), at(3, family="no-such")],
        "Q07",
        "quillmere",
    )
    (girth,) = by_topic(known, FAMILIES)
    assert girth.topic == "girth"
    assert girth.families == tuple(one.key for one in FAMILIES)
    states = dict(zip(girth.families, girth.states, strict=True))
    assert states.pop("girth-to-area") == "taped"
    assert states.pop("girth-to-diameter") == "tried"
    assert set(states.values()) <= {"untried"}
    assert (girth.attempts, girth.right, girth.taped) == (2, 1, 1)
    assert girth.words == f"1 of {len(FAMILIES)}"
    assert in_words([girth]) == (
        f"1 of {len(FAMILIES)} kinds of problems taped, 1 more tried. 2 answers, 1 of them right."
    )
    assert in_words(by_topic({}, FAMILIES)).endswith("0 more tried. No answers yet.")
