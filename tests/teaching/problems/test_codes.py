"""Codes: composed, without outer blanks; the same but for capital letters is asked back."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.teaching.problems.bank import families, family, problem
from mensura.teaching.problems.codes import CaseError, ask_back, meant, plain


@pytest.mark.parametrize("typed", ["étang", "e\u0301tang", " étang", "e\u0301tang\u00a0\n"])
def test_one_key_however_it_is_typed(typed):
    """Composed or not, with a blank behind it or none: the same numbers."""
    known = problem("girth-to-area", "Q07", "étang")
    assert problem("girth-to-area", " Q07\t", typed, " 1").numbers == known.numbers
    assert problem("girth-to-area", "Q07", typed).key == "étang"


@given(st.text(max_size=20))
def test_a_plain_code_stays_as_it_is(code):
    """Once plain, it stays; nothing but form and outer blanks is touched."""
    once = plain(code)
    assert plain(once) == once
    assert unicodedata.normalize("NFC", code).strip() == once


@given(st.integers() | st.none() | st.lists(st.text(max_size=2), max_size=2))
def test_what_is_no_text_is_left_to_whoever_checks_it(code):
    """It comes back as it is."""
    assert plain(code) == code


def test_capital_letters_are_asked_back():
    """Only where nothing else differs, and never for a code that is known itself."""
    known = ["Q07", "Q12", "École"]
    assert meant("q07", known) == "Q07"
    assert meant(" e\u0301cole ", known) == "École"
    for code in ("Q07", "Q7", "q 07", "", "Q08"):
        assert meant(code, known) is None
    assert meant("q07", [*known, "q07"]) is None
    with pytest.raises(CaseError) as asked:
        ask_back("student", "q12", known)
    assert str(asked.value) == "student is 'q12'; did you mean Q12?"
    assert asked.value.sentence("--student") == "--student is 'q12'; did you mean Q12?"
    ask_back("student", "Q12", known)


def test_the_bank_asks_back():
    """A family's key and a topic's name."""
    for work, near in (
        (lambda: family("Girth-To-Area"), "girth-to-area"),
        (lambda: families("Out-of-Round"), "out-of-round"),
    ):
        with pytest.raises(MeasureError, match=f"did you mean {near}\\?"):
            work()
    assert family(" girth-to-area ").key == "girth-to-area"
    assert families("logs ") == families("logs")
    with pytest.raises(MeasureError, match=r"did you mean girth-to-area\?"):
        family("girths-to-area")
    with pytest.raises(MeasureError, match="expected a family that"):
        family("something else")
