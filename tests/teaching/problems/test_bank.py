"""The bank: enough families, no ambiguous reply, the same numbers for ever."""

import json
import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.sources import SOURCES
from mensura.teaching.answers.reply import reply
from mensura.teaching.problems.bank import all_families, families, family, problem
from mensura.teaching.problems.draw import draw, work
from mensura.teaching.problems.family import LEAST_TOLERANCE_PERCENT, TOPICS, Given
from mensura.written import rounded

KEYS = sorted(all_families())

#: Drawn once and written down: these may never change (key "alder", set "1", student Q07, try 1).
GOLDEN = json.loads(Path(__file__).with_name("golden.json").read_text("utf-8"))


def draws(key, count, **named):
    """Problems of a family for many students and tries."""
    for index in range(count):
        yield draw(family(key), f"Q{index % 24 + 1:02d}", named.get("key", "birch"), "1", index + 1)


def test_there_are_enough_families_over_all_topics():
    """At least 24 families; every topic has some; keys and titles differ."""
    assert len(KEYS) >= 24
    assert {one.topic for one in families()} == set(TOPICS)
    assert len({one.title for one in families()}) == len(KEYS)
    assert [one.topic for one in families("logs")] == ["logs"] * len(families("logs"))


@pytest.mark.parametrize("key", KEYS)
def test_no_reply_is_ambiguous(key):
    """In 1,000 draws no slip lies within tolerance of the answer or of another slip."""
    for one in draws(key, 1000):
        marks = [(one.answer, one.tolerance), *((s.value, s.tolerance) for s in one.slips)]
        for index, (first, wide) in enumerate(marks):
            for second, other in marks[index + 1 :]:
                assert abs(first - second) > wide + other
                assert abs(first - second) > 0


@pytest.mark.parametrize("key", KEYS)
def test_draws_are_seldom_rejected(key):
    """Most draws stand, so that the ranges are the ranges that are meant."""
    one = family(key)
    kept = 0
    for index in range(200):
        share = (index + 0.5) / 200
        numbers = {
            q.name: q.at(int((share * (7 + 11 * place)) % 1 * q.count))
            for place, q in enumerate(one.given)
        }
        kept += work(one, numbers) is not None
    assert kept >= 60, f"{kept} of 200 draws stand"


@pytest.mark.parametrize("key", KEYS)
def test_what_is_told_is_right_and_what_slips_is_named(key):
    """The answer as it is told counts; each slip's number is called by its name."""
    for one in draws(key, 25):
        said = reply(one, f"{one.answer:.12g} {one.family.unit}".strip())
        assert said.right, (one.text, said.message)
        told = reply(one, f"{rounded(one.answer, one.figures)} {one.family.unit}".strip())
        assert told.right, (one.text, one.answer, one.tolerance, told.message)
        for slip in one.slips:
            said = reply(one, f"{slip.value:.12g} {one.family.unit}".strip())
            assert (said.right, said.slip) == (False, slip.name)
            assert said.message == slip.says


@pytest.mark.parametrize("key", KEYS)
def test_texts_are_filled_and_give_nothing_away(key):
    """All names are filled; no hint holds the answer; the solution does."""
    for one in draws(key, 10):
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
def test_tolerance_follows_from_the_data(key):
    """Never finer than rounding on the way, never so coarse that anything would pass."""
    for one in draws(key, 25):
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
    if not secret or not secret.isprintable():
        with pytest.raises(MeasureError, match="key"):
            problem(key, "Q07", secret)
        return
    first, again = (problem(key, "Q07", secret, "1", number) for _ in range(2))
    assert first.numbers == again.numbers


def test_numbers_differ_from_student_to_student():
    """24 students, one family: at least 20 different sets of numbers; another try differs."""
    for key in KEYS:
        seen = {tuple(problem(key, f"Q{k:02d}", "alder").numbers.values()) for k in range(1, 25)}
        assert len(seen) >= 20, key
        first, second = (problem(key, "Q07", "alder", "1", k) for k in (1, 2))
        assert first.numbers != second.numbers


def test_neighbouring_keys_do_not_borrow_from_each_other():
    """A key that ends as a set begins gives other numbers than the two pushed together."""
    one = problem("girth-to-area", "Q07", "alder|1", "2")
    other = problem("girth-to-area", "Q07", "alder", "1|2")
    assert one.numbers != other.numbers


@pytest.mark.parametrize("key", KEYS)
def test_the_same_numbers_for_ever(key):
    """Numbers, answer and slips of one draw, as they were written down."""
    one = problem(key, "Q07", "alder")
    assert one.numbers == GOLDEN[key]["numbers"]
    assert one.answer == pytest.approx(GOLDEN[key]["answer"], rel=1e-9)


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
    assert rounded(-0.995, 2) == "-0.99" or rounded(-0.995, 2) == "-1.00"
    assert float(rounded(math.pi * 1e8, 4)) == 314200000
    assert Given({"girth_cm": 1.0}).names == ["girth_cm"]
