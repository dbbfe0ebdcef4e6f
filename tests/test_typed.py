"""One reader for every place where a number is typed: the same spellings are read and refused."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from functools import cache
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError, TypedError, quoted
from mensura.cli.types import parsed_number, parsed_whole
from mensura.teaching.answers.answers import read_answer
from mensura.teaching.answers.reply import reply
from mensura.teaching.lessons.exercise import Exercise
from mensura.teaching.problems.bank import problem
from mensura.typed import LONGEST, Number, Reader, read_number, read_whole
from mensura.views.kit.live import Picture
from mensura.views.kit.panel import Control, LivePanel, Panel

WIDTH = problem("girth-to-diameter", "Q07", "alder")  # in cm

#: As typed → its value, worked out by hand.
READ: dict[str, float] = {
    # decimal mark
    "31.5": 31.5,
    "31,5": 31.5,
    ".5": 0.5,
    ",5": 0.5,
    "31.": 31,
    "007": 7,
    "0": 0,
    "31.50": 31.5,
    # signs: ours in print is the real minus
    "-31.5": -31.5,
    "−31.5": -31.5,
    "–31.5": -31.5,
    "- 31.5": -31.5,
    "+31.5": 31.5,
    # thousands
    "1 234.5": 1234.5,
    "1\u00a0234,5": 1234.5,
    "1\u2009234": 1234,
    "1,234.5": 1234.5,
    "1.234,5": 1234.5,
    "1'234": 1234,
    "1,234,567": 1234567,
    # one comma or point before three figures: the decimal mark
    "1,234": 1.234,
    "1.234": 1.234,
    # halves and other parts
    "31 1/2": 31.5,
    "31½": 31.5,
    "31 ½": 31.5,
    "63/64": 0.984375,
    "¾": 0.75,
    "-31½": -31.5,
    # powers of ten
    "3.15e1": 31.5,
    "3,15E+1": 31.5,
    "315e−1": 31.5,
    "3.15 × 10^1": 31.5,
    "3.15·10^1": 31.5,
    "3.15*10**1": 31.5,
    "3.15 x 10¹": 31.5,
    "10^-2": 0.01,
    "10⁻²": 0.01,
    # what leads in and what trails
    "≈ 31.5": 31.5,
    "~31.5": 31.5,
    "= 31.5": 31.5,
    "about 31.5": 31.5,
    "31.5 approx.": 31.5,
    "  31.5\t": 31.5,
    "31.5 .": 31.5,
    # brackets, words, look-alikes
    "(31.5)": 31.5,
    "(−31.5)": -31.5,
    "minus 31.5": -31.5,
    "plus 31.5": 31.5,
    "—31.5": -31.5,
    "‐31.5": -31.5,
    "３１．５": 31.5,
    "31·5": 31.5,
    "3.15 10^1": 31.5,
    "12,34,567": 1234567,
    "1_902": 1902,
    "c. 31.5": 31.5,
    "nearly 31.5": 31.5,
    "exactly 31.5": 31.5,
    "31.5 (3 s.f.)": 31.5,
    "31.5 rounded": 31.5,
    "31.5;": 31.5,
}

#: As typed; read by nobody.
REFUSED = [
    *("", " ", "-", ".", "ten", "nan", "inf", "True", "O.5"),
    *("22/7", "π/4", "2*3", "2 + 3", "2·3·4", "5^2", "(31.5)(2)", "1/0", "31 3/2", "31-1/2"),
    *("1_0", "0x1F", "1 23", "12 13", "1.2.3", "1,23,4", "0,123,456", "--5", "3.15 x 10"),
    *("1e999", "1e-400", "2e12", "1e-13", "7" * 25, "1" * 101, "31.5±1", "٣١", "31.5\u200b"),
]

#: What a number box or an option refuses, and an answer may have.
ANSWERS_ONLY = {"31.5 cm": "cm", "d = 31.5": None, "2' 7\"": "in", "31.5 %": "%", "2 m 30 cm": "cm"}


def in_the_bank(text: str) -> float:
    """An answer to a problem of the bank, which is this number and nothing else."""
    return answered(
        replace(WIDTH, answer=READ.get(text, 1.0) or 1e-9, tolerance=1e-9, slips=()), text
    )


def in_check_yourself(text: str) -> float:
    """An answer to an exercise of a workbook."""
    return answered(Exercise("How wide?", "cm", READ.get(text, 1.0) or 1e-9, 1e-9, "So."), text)


def answered(question: Any, text: str) -> float:
    said = reply(question, text)
    if not said.readable:
        raise MeasureError("answer", text, "cm", "a number")
    assert said.right, said.message
    return READ[text]


def bare_answer(text: str) -> float:
    typed = read_answer(text)
    assert typed.unit is None
    return typed.value


def in_an_option(text: str) -> float:
    return parsed_number("--tilt-deg", text, "deg")


class Blank(Picture[dict[str, Any]]):
    """Nothing to see: only the state is looked at."""

    width_px = height_px = 8

    def draw(self, figure: Any) -> None:
        """Nothing."""

    def show(self, numbers: dict[str, Any]) -> None:
        """Nothing."""

    def describe(self, numbers: dict[str, Any]) -> str:
        return "nothing"


def state_of(across_cm: float, ridges: int) -> dict[str, float]:
    """What the boxes hold, as the numbers of a panel."""
    return {"across_cm": across_cm, "ridges": ridges}


@cache
def live() -> LivePanel[dict[str, Any]]:
    boxes = [
        Control("across_cm", "across", "cm", -1e9, 1e9, 0.5, 5.5, "place"),
        Control("ridges", "ridges", "", 0, 10, 1, 4, "place", whole=True),
    ]
    return LivePanel(Panel("Blank", boxes, state_of, Blank, lambda _: "", lambda _: ""))


def in_a_panel(text: str, name: str = "across_cm") -> float:
    """What the state holds once the text stands in the box; a note there is a refusal."""
    panel = live()
    panel.set(across_cm=5.5, ridges=4)
    panel.boxes[name].value = text
    if note := panel.notes[name].value:
        assert "is not shown" in note
        raise MeasureError(name, text, "", "a number")
    return panel.state[name]


USERS: list[Callable[[str], float]] = [
    in_check_yourself,
    in_the_bank,
    in_a_panel,
    in_an_option,
    read_number,
    bare_answer,
]


@pytest.mark.parametrize("user", USERS)
@pytest.mark.parametrize("text", READ)
def test_every_user_reads(user, text):
    """The same value to the last bit, wherever it is typed."""
    assert user(text) == READ[text]


@pytest.mark.parametrize("user", USERS)
@pytest.mark.parametrize("text", REFUSED)
def test_every_user_refuses(user, text):
    """What one of them cannot read none of them reads."""
    if not text and user is in_a_panel:
        text = " "  # an empty box that is emptied does not change
    with pytest.raises(MeasureError) as caught:
        user(text)
    assert str(caught.value).endswith(".")


@pytest.mark.parametrize("text", ANSWERS_ONLY)
def test_names_and_units_belong_to_answers(text):
    """A box or an option has its own name and unit: another one there would not be looked at."""
    assert read_answer(text).unit == ANSWERS_ONLY[text]
    for user in (in_an_option, in_a_panel, read_number):
        with pytest.raises(MeasureError):
            user(text)


@pytest.mark.parametrize("text", ["-0", "−0.0"])
def test_zero_with_a_sign(text):
    """For a setting it is 0; of an answer it hides figures, so they are asked for."""
    assert str(in_an_option(text)) == str(in_a_panel(text)) == "0.0"
    with pytest.raises(TypedError, match="Zero has no sign"):
        read_answer(text)


@pytest.mark.parametrize(
    ("text", "value"),
    [("28", 28), ("28.0", 28), ("1 200", 1200), ("1.2e3", 1200), ("−3", -3), ("10^2", 100)],
)
def test_whole_numbers(text, value):
    assert read_whole(text) == parsed_whole("--seed", text, at_least=-9, at_most=9999) == value
    assert isinstance(read_whole(text), int)


@pytest.mark.parametrize("text", ["2.5", "31½", "28,000", "28.000", "1,234", "x", ""])
def test_no_whole_numbers(text):
    """28,000 is 28 for one reader and 28 000 for another: no setting is made of it."""
    with pytest.raises(TypedError):
        read_whole(text)
    with pytest.raises(MeasureError, match="expected a whole number from 0 to 99999"):
        parsed_whole("--seed", text, at_least=0, at_most=99999)


def test_a_box_for_whole_numbers_does_not_guess():
    """9,000 in a box from 0 to 10 was taken for 9."""
    with pytest.raises(TypedError, match="two ways; write the whole number in figures alone"):
        read_whole("9,000")
    assert in_a_panel("9", "ridges") == 9
    with pytest.raises(MeasureError):
        in_a_panel("9,000", "ridges")


def test_a_refusal_says_what_would_have_been_in_reach():
    """Only for what was read; a word has no reach."""
    for text, reach in (("1e21", "(-20 to 20)"), ("2e12", "10^12"), ("7" * 25, "24 digits")):
        with pytest.raises(TypedError) as caught:
            read_number(text)
        assert reach in caught.value.reach
    with pytest.raises(TypedError) as caught:
        read_number("ten")
    assert caught.value.reach == ""
    assert caught.value.place == 1
    assert caught.value.sentence("--tilt-deg").startswith("--tilt-deg: ‘ten’ is no number")


def test_a_number_is_exact():
    """Value and last place are fractions: nothing is lost before the end."""
    number = Reader("0.1").number()
    assert number == Number(Fraction(1, 10), Fraction(1, 10), 3)
    assert Reader("31 1/2").number() == Number(Fraction(63, 2), Fraction(1, 2), 6)
    assert Reader("12,345").number().other == 12345


def test_what_was_typed_is_quoted_plainly():
    assert quoted("a" * 99) == "‘" + "a" * 29 + "…’"
    assert quoted("\x1b[31m") == "‘\\x1b[31m’"
    assert quoted(None) == "‘NoneType’"


@given(st.floats(-1e12, 1e12).filter(lambda value: not value or abs(value) > 1e-12))
def test_what_python_prints_reads_back(value):
    """With our own minus too."""
    for text in (repr(value), repr(value).replace("-", "−"), f"{value:.12e}"):
        assert read_number(text) == float(text.replace("−", "-"))


@given(st.text(max_size=LONGEST + 5))
def test_any_text_is_read_or_refused_in_one_sentence(text):
    try:
        value = read_number(text)
    except TypedError as error:
        value = None
        said = error.says
    assert isinstance(value, float) or re.fullmatch(r"[^\n]+\.", said)
