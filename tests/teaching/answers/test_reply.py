"""The reply: right, a named slip, too coarse, or high or low; and never the answer itself."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.teaching.answers.reply import reply
from mensura.teaching.problems.bank import problem
from mensura.written import rounded

AREA = problem("girth-to-area", "Q07", "alder")  # in cm², the unit is asked
WIDTH = problem("girth-to-diameter", "Q07", "alder")  # in cm


@pytest.mark.parametrize(
    "written",
    [
        "{0:.1f} cm²", "{0:.1f}cm2", "{0:.1f} sq cm", "≈ {0:.0f} cm^2", "{1:.5f} m²", "{1:.5f} m^2",
        "{2:.3f}e-2 m2", "{2:.3f} x 10^-2 m²", "{2:.3f} × 10⁻² m²",
    ],
)  # fmt: skip
def test_a_right_answer_in_any_writing(written):
    """cm² or m², with a power of ten or without: right."""
    text = written.format(AREA.answer, AREA.answer / 1e4, AREA.answer / 1e2)
    assert reply(AREA, text).right, text
    assert reply(AREA, text.replace(".", ",")).right, text


def test_the_unit_is_asked_for_where_the_problem_says_so():
    """A bare number gets another try there, and counts elsewhere."""
    said = reply(AREA, f"{AREA.answer:.1f}")
    assert not said.right
    assert not said.readable
    assert "unit is missing" in said.message
    assert reply(WIDTH, f"{WIDTH.answer:.1f}").right
    slip = AREA.slips[0]
    said = reply(AREA, f"{slip.value:.1f}")
    assert said.slip == slip.name
    assert "unit is missing" in said.message


def test_a_wrong_kind_of_unit_is_explained():
    """A length where an area is asked: said so, and wrong."""
    said = reply(AREA, f"{AREA.answer:.1f} cm")
    assert not said.right
    assert said.readable
    assert "length" in said.message


def test_slips_are_named_in_any_unit():
    """A slip typed in m² is still that slip."""
    slip = AREA.slips[0]
    assert reply(AREA, f"{slip.value / 1e4:.6f} m²").slip == slip.name


def test_an_answer_too_coarse_for_the_data():
    """Rightly rounded to one figure: not counted, and said why."""
    coarse = rounded(WIDTH.answer, 1)
    assert abs(float(coarse) - WIDTH.answer) > WIDTH.tolerance
    said = reply(WIDTH, f"{round(WIDTH.answer / 10):.0f}e1")
    assert not said.right
    assert "too coarse" in said.message
    assert f"{WIDTH.figures} figures" in said.message


def test_an_answer_too_fine_for_the_data():
    """Right, but with figures that the data do not carry: right, and said so."""
    said = reply(WIDTH, f"{WIDTH.answer:.9f}")
    assert said.right
    assert "figures only" in said.message
    assert "figures only" not in reply(WIDTH, f"{WIDTH.answer:.2f}").message


@pytest.mark.parametrize(
    ("times", "words"),
    [
        (10, "too large by a factor of 10"),
        (0.001, "too small by a factor of 1000"),
        (1e-5, "10 to the power 5"),
        (1.03, "Close, but too large"),
        (0.8, "too small, by less than a factor of 2"),
        (3.2, "too large, about 3 times"),
        (37.0, "too large, by more than a factor of 10"),
        (-1, "sign is the wrong way round"),
        (0, "0 is too small"),
    ],
)
def test_other_answers_hear_high_or_low(times, words):
    """The side, and the power of ten or about how many times."""
    said = reply(WIDTH, f"{WIDTH.answer * times:.8g} cm")
    assert (said.right, said.slip) == (False, None)
    assert words in said.message


@given(st.floats(0.01, 100))
def test_no_reply_gives_the_answer_away(times):
    """Only a right answer ever hears the number."""
    said = reply(WIDTH, f"{WIDTH.answer * times:.6g} cm")
    if not said.right:
        assert f"{WIDTH.answer:.1f}" not in said.message
        assert f"{WIDTH.answer:.3g}" not in said.message.split()


@pytest.mark.parametrize("text", ["", "  ", "about a foot or so", "nan", "inf", "1/0", "3 4 5"])
def test_what_cannot_be_read_never_counts(text):
    """One sentence, another try."""
    said = reply(WIDTH, text)
    assert not said.right
    assert not said.readable
    assert said.slip is None
    assert said.message.strip()


def test_a_comma_that_may_be_two_things():
    """1,234 is read the way that fits, and the reply says so."""
    wide = problem("girth-to-area", "Q07", "alder")
    for number in range(1, 400):
        wide = problem("girth-to-area", "Q07", "alder", "1", number)
        if wide.answer > 1100:
            break
    text = f"{wide.answer:,.0f} cm²"
    said = reply(wide, text)
    assert said.right, text
    assert "two" in said.message or "way that fits" in said.message


@pytest.mark.parametrize(
    "written", ["{0}", "({0})", "No. {0}", "no {0}", "#{0}", "reading {0}", "{0} readings", "{0}."]
)
def test_a_number_of_a_list_as_people_write_it(written):
    """The problem itself writes (2); so may the answer. A wrong number is wrong, or its slip."""
    for key in ("impossible-reading", "readings-needed"):
        one = problem(key, "Q07", "alder")
        assert reply(one, written.format(int(one.answer))).right
        for slip in one.slips:
            assert reply(one, written.format(int(slip.value))).slip == slip.name


@pytest.mark.parametrize("text", ["77.2", "77.2 cm", "2 cm", "6,13", "the second", "", "2) (3)"])
def test_a_reading_in_place_of_its_number_gets_another_try(text):
    """Neither a reading nor a unit is a number of a list: one sentence, and nothing counts."""
    said = reply(problem("impossible-reading", "Q07", "alder"), text)
    assert (said.right, said.slip, said.readable) == (False, None, False)
    assert said.message == "Answer with a whole number, and no unit behind it."


@pytest.mark.parametrize(
    ("times", "words"), [(0.01, "too near to 0 by a factor of 100"), (3.2, "too far from 0, about")]
)
def test_high_or_low_below_nothing(times, words):
    """Of a number below 0 it is said how far from 0 it lies: "large" could mean either way."""
    for number in range(1, 30):
        one = problem("rule-over-bark", "Q07", "alder", "1", number)
        said = reply(one, f"{one.answer * times:.8g} %")
        if one.answer < 0 and said.slip is None:
            assert words in said.message
            break
    else:
        pytest.fail("no problem with a number below 0")
