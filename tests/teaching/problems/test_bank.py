"""The bank: enough families, no ambiguous reply, the same numbers for ever."""

import hashlib
import json
import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.draws import uniforms
from mensura.sources import SOURCES
from mensura.teaching.answers.reply import reply
from mensura.teaching.problems.bank import all_families, families, family, problem
from mensura.teaching.problems.codes import plain
from mensura.teaching.problems.draw import draw
from mensura.teaching.problems.family import LEAST_TOLERANCE_PERCENT, TOPICS, Given
from mensura.teaching.problems.given_out import work
from mensura.written import rounded

KEYS = sorted(all_families())

#: Drawn once and written down: these may never change. For each family the answer of one problem
#: (key "alder", student Q07) in its first edition, and for each edition the digest of 48 problems'
#: numbers.
GOLDEN = json.loads(Path(__file__).with_name("golden.json").read_text("utf-8"))


#: Families that ask for the one of five that stands out by one sign and by no other.
ONE_OF_FIVE = ["impossible-reading", "read-again"]


def digest(problems):
    """SHA-256 of the numbers of some problems, a line each: whose they are, then name=number."""
    lines = [
        f"{one.key} {one.student} {' '.join(f'{n}={v!r}' for n, v in one.numbers.items())}\n"
        for one in problems
    ]
    return hashlib.sha256("".join(lines).encode()).hexdigest()


def test_there_are_enough_families_over_all_topics():
    """At least 24 families; every topic has some; keys and titles differ."""
    assert len(KEYS) >= 24
    assert {one.topic for one in families()} == set(TOPICS)
    assert len({one.title for one in families()}) == len(KEYS)
    assert [one.topic for one in families("logs")] == ["logs"] * len(families("logs"))


def test_the_bank_cannot_be_changed_in_passing():
    """It is kept for the whole process, so nobody may empty or fill it."""
    with pytest.raises(TypeError):
        all_families()["girth-to-area"] = family("newton")
    with pytest.raises(AttributeError):
        all_families().clear()
    assert family("girth-to-area").key == "girth-to-area"


@pytest.mark.parametrize("key", KEYS)
def test_no_answer_is_taken_for_another(key, problems_of):
    """To the edges of its tolerance the answer counts, and each slip is called by its own name.

    Where the number fits a later slip as well, the nearer one gives the name and both are told.
    """
    for one in problems_of(key)[::2]:
        unit = one.family.unit
        for way in (-0.999, 0.999):
            said = reply(one, f"{one.answer + way * one.tolerance:.12g} {unit}".strip())
            assert said.right, (one.text, said.message)
            for slip in one.slips:
                # a share may be no wider than it is large
                typed = slip.value + way * min(slip.tolerance, abs(slip.value) / 2)
                said = reply(one, f"{typed:#.12g} {unit}".strip())
                fit = [x for x in one.slips if abs(typed - x.value) <= x.tolerance]
                nearest = min([slip, *fit], key=lambda x, typed=typed: abs(typed - x.value))
                assert (said.right, said.slip) == (False, nearest.name), one.text
                assert len(fit) > 1 or said.message == slip.says
                assert sum(x.says in said.message for x in fit) == min(len(fit), 2) or not fit


@pytest.mark.parametrize("key", KEYS)
def test_draws_are_seldom_rejected(key):
    """Most draws stand, so that the ranges are the ranges that are meant."""
    one = family(key)
    if key in ONE_OF_FIVE:
        return
    kept = 0
    for index in range(200):
        share = (index + 0.5) / 200
        numbers = {
            q.name: q.at(int((share * (7 + 11 * place)) % 1 * q.count))
            for place, q in enumerate(one.given)
        }
        kept += work(one, numbers) is not None
    assert kept >= 60, f"{kept} of 200 draws stand"


@pytest.mark.parametrize("key", ONE_OF_FIVE)
def test_draws_of_one_in_five_are_found(key):
    """Few draws stand, yet so many that four thousand are never passed over."""
    one = family(key)
    kept = 0
    for number in range(3000):
        shares = uniforms(len(one.given), "one of five", number)
        pairs = zip(one.given, shares, strict=True)
        kept += work(one, {q.name: q.at(int(share * q.count)) for q, share in pairs}) is not None
    assert kept >= 20


@pytest.mark.parametrize("key", KEYS)
def test_what_is_told_is_right_and_what_slips_is_named(key, problems_of):
    """The answer as it is told counts; each slip's number is called by its name, and explained."""
    for one in problems_of(key)[:24]:
        said = reply(one, f"{one.answer:.12g} {one.family.unit}".strip())
        assert said.right, (one.text, said.message)
        told = reply(one, f"{rounded(one.answer, one.figures)} {one.family.unit}".strip())
        assert told.right, (one.text, one.answer, one.tolerance, told.message)
        first = {s.name for s in one.family.slips if s.since == 1 and not s.retired}
        assert first <= {slip.name for slip in one.slips}
        for slip in one.slips:
            said = reply(one, f"{slip.value:#.12g} {one.family.unit}".strip())
            assert (said.right, said.slip) == (False, slip.name)
            assert slip.says in said.message


@pytest.mark.parametrize("key", KEYS)
def test_texts_are_filled_and_give_nothing_away(key, problems_of):
    """All names are filled; no hint holds the answer; the solution does."""
    for one in problems_of(key)[:12]:
        for text in (one.text, one.solution, *one.hints):
            assert "{" not in text
            assert "}" not in text
            assert "  " not in text
            assert "nan" not in text.lower().split()
        told = rounded(one.answer, one.figures)
        assert told.replace("-", "−") in one.solution
        given_away = told in one.text  # where a given number itself is the answer
        if not one.family.exact and not given_away:
            assert all(told not in hint.split() for hint in one.hints)
        assert one.family.title[0].isupper()
        assert len(one.text) < 700


@pytest.mark.parametrize("key", KEYS)
def test_tolerance_follows_from_the_data(key, problems_of):
    """Never finer than rounding on the way, never so coarse that anything would pass."""
    for one in problems_of(key):
        if one.family.exact:
            assert one.tolerance == one.tolerance_percent == 0
        else:
            assert LEAST_TOLERANCE_PERCENT * (1 - 1e-9) <= one.tolerance_percent <= 25
            assert f"{one.tolerance_percent:.2g} %" in one.text


@pytest.mark.parametrize("key", KEYS)
def test_sources_are_named(key):
    """A key of the bibliography, or said to be common practice."""
    source = family(key).source
    named = [word for word in SOURCES if f"[{word}]" in source]
    honest = ("common practice, no source", "theorem", "closed form")
    assert named or any(words in source for words in honest), source


@pytest.mark.parametrize("key", KEYS)
def test_slips_explain_themselves(key):
    """Each slip says what went wrong in a sentence, and none tells the answer."""
    for slip in family(key).slips:
        assert slip.says.endswith((".", "?"))
        assert 20 <= len(slip.says) <= 300


@given(st.sampled_from(KEYS), st.text(max_size=12), st.integers(1, 10**5))
def test_any_key_gives_a_problem(key, secret, number):
    """Whatever a class chooses for its key, a problem comes, and the same one again."""
    if not plain(secret) or not plain(secret).isprintable():
        with pytest.raises(MeasureError, match="key"):
            problem(key, "Q07", secret)
        return
    first, again = (problem(key, "Q07", one, "1", number) for one in (secret, f" {secret}\t"))
    assert first.numbers == again.numbers
    assert first.key == again.key == plain(secret)


@pytest.mark.parametrize("key", KEYS)
def test_numbers_differ_from_student_to_student(key, problems_of):
    """24 students, one family: at least 20 different sets of numbers; another try differs."""
    seen = {tuple(one.numbers.values()) for one in problems_of(key)[:24]}
    assert len(seen) >= 20
    assert problem(key, "Q07", "alder", "1", 2).numbers != problems_of(key)[6].numbers


def test_neighbouring_keys_do_not_borrow_from_each_other():
    """A key that ends as a set begins gives other numbers than the two pushed together."""
    one = problem("girth-to-area", "Q07", "alder|1", "2")
    other = problem("girth-to-area", "Q07", "alder", "1|2")
    assert one.numbers != other.numbers


@pytest.mark.parametrize("key", KEYS)
def test_the_same_numbers_for_ever(key, problems_of):
    """Numbers of 48 problems in each edition, and one answer, as they were written down."""
    one = family(key)
    assert set(GOLDEN) == set(KEYS)
    assert list(GOLDEN[key]["editions"]) == [str(k) for k in range(1, one.edition + 1)]
    first = draw(one, "Q07", "alder", edition=1)
    assert first.answer == pytest.approx(GOLDEN[key]["answer"], rel=1e-9)
    for edition, known in GOLDEN[key]["editions"].items():
        drawn = problems_of(key)
        if int(edition) < one.edition:
            drawn = [draw(one, p.student, p.key, edition=int(edition)) for p in drawn]
        assert digest(drawn) == known


def test_what_is_no_code_is_refused():
    """Student, key, set and try say what is expected."""
    for change, field in (
        ({"student": "Q 7"}, "student"),
        ({"student": "../Q07"}, "student"),
        ({"student": ""}, "student"),
        ({"key": ""}, "key"),
        ({"set_name": "\n"}, "set"),
        ({"try_number": 0}, "try"),
        ({"try_number": 1.5}, "try"),
        ({"edition": 0}, "edition"),
        ({"edition": 9}, "edition"),
        ({"key": " \t"}, "key"),
    ):
        with pytest.raises(MeasureError) as refused:
            problem(**{"key_of_family": "girth-to-area", "student": "Q07", "key": "k", **change})
        assert refused.value.field == field
    with pytest.raises(MeasureError, match="girth-to-area"):
        family("girth-to-aera")
    with pytest.raises(MeasureError, match="topic"):
        families("trees")


def test_rounding_to_figures():
    """Significant figures, without a power of ten where that is short."""
    assert rounded(0.0785398, 3) == "0.0785"
    assert rounded(7853.98, 3) == "7850"
    # of the two neighbours the even one in binary: 0.995 is a little less than it is written
    assert rounded(-0.995, 2) == "-0.99"
    assert float(rounded(math.pi * 1e8, 4)) == 314200000
    assert Given({"girth_cm": 1.0}).names == ["girth_cm"]
