"""An exercise is answered as every problem is: read, converted, counted by its tolerance."""

from __future__ import annotations

import pytest

from mensura.checks import MeasureError
from mensura.teaching.answers.reply import KnownSlip
from mensura.teaching.lessons.exercise import Exercise

AREA = Exercise(
    "A girth is 100.0 cm. The area, in cm²?",
    "cm²",
    795.77,
    1.0,
    "G²/4π.",
    [
        KnownSlip(7853.98, "The girth was taken for a diameter."),
        KnownSlip(625.0, "A quarter girth."),
    ],
)
RATIO = Exercise("How many times?", "", 9.87, 0.05, "π².")


@pytest.mark.parametrize(
    "typed",
    [
        "795.77",
        "795,77",
        " 795.77 ",
        "+795.77",
        "796",
        "796.",
        "795.77cm²",
        "795.77 cm²",
        "795,77 cm2",
        "795.77 CM^2",
        "794.78",
        "796.76",
    ],
)
def test_right_however_it_is_written(typed: str) -> None:
    """Point or comma, with or without the unit, up to the tolerance on either side."""
    reply = AREA.reply(typed)
    assert reply.right
    assert reply.message == "Right. G²/4π."


@pytest.mark.parametrize(
    ("typed", "side"),
    [
        ("794.76", "too small"),
        ("796.78", "too large"),
        ("0", "too small"),
    ],
)
def test_outside_the_tolerance(typed: str, side: str) -> None:
    """Just outside, the reply says on which side and how near is near enough."""
    reply = AREA.reply(typed)
    assert not reply.right
    assert side in reply.message
    assert reply.message.endswith("An answer within 1 cm² counts.")


def test_the_wrong_sign() -> None:
    assert "The sign is the wrong way round." in AREA.reply("-795.77").message


def test_a_slip_is_named() -> None:
    """A known wrong computation is answered in its own words, within the same tolerance."""
    assert AREA.reply("7854").message == "The girth was taken for a diameter."
    assert AREA.reply("624,2").message == "A quarter girth."
    assert not AREA.reply("7854").right
    assert "too small" in AREA.reply("623.9").message


#: What the bank reads for 31.5 cm, and workbook 08 teaches.
SPELLINGS = [
    "31 1/2",
    "31½",
    "≈ 31.5",
    "315 mm",
    "31.5 centimetres",
    "3.15e1",
    "31.5 cm.",
    "0.315 m",
]


@pytest.mark.parametrize("typed", SPELLINGS)
def test_every_spelling_of_the_bank(typed: str) -> None:
    """A student types here what she types three cells further on."""
    width = Exercise("How wide?", "cm", 31.5, 0.05, "It says so.")
    assert width.reply(typed).message == "Right. It says so."


def test_another_unit_of_the_same_kind_is_converted() -> None:
    """An area in m² is an area; a length is not, and that is said."""
    assert AREA.reply("0.079577 m²").right
    assert AREA.reply("0.78540 m²").message == "The girth was taken for a diameter."
    for typed, kind in (("795.77 cm", "a length"), ("795.77 %", "a plain number or a share")):
        said = AREA.reply(typed)
        assert (said.right, said.readable) == (False, True)
        assert f"is {kind}; expected an area, like cm²." in said.message
    said = AREA.reply("795.77 m²").message
    assert said.startswith("It is too large by a factor of 10 to the power 4: look at the units")


@pytest.mark.parametrize(
    "typed",
    [
        *("", "   ", "\n\t", "7.9577e2x", "nan", "inf", "-", ".", ",", "__import__('os')", "²"),
        *("٧٩٦", "9" * 61, "795.77 cm² or so ago", "795.77 furlongs", "2500/π"),
    ],
)
def test_what_is_no_answer(typed: str) -> None:
    """Words, code, foreign digits and endless ones are neither evaluated nor counted."""
    reply = AREA.reply(typed)
    assert (reply.right, reply.readable) == (False, False)
    assert reply.message.endswith(".")


def test_one_comma_is_the_decimal_mark_or_asked_about() -> None:
    """1,234 is 1.234; where only 1234 would be right, it is asked which one was meant."""
    many = Exercise("How many?", "", 1234.0, 1.0, "Counted.")
    few = Exercise("How long?", "m", 1.234, 0.001, "Measured.")
    asked_back = many.reply("1,234")
    assert (asked_back.right, asked_back.readable) == (False, False)
    assert asked_back.message == (
        "This may be read as 1.234 or as 1234. Write 1234 if you mean that, 1.2340 if you do not."
    )
    assert many.reply("1234").right
    assert "too small by a factor of 1000" in many.reply("1.2340").message
    assert few.reply("1,234").message == "Right. Measured."
    assert "may be read in two ways" in many.reply("2,345").message


def test_too_coarse_an_answer() -> None:
    """Rightly rounded, but half its last place is more than what counts."""
    said = AREA.reply("8e2").message
    assert said == "On the way to the answer, but too coarse. An answer within 1 cm² counts."


def test_a_true_minus_sign_is_a_minus() -> None:
    """The typographic minus that a workbook prints may be pasted back."""
    below = Exercise("By how many per cent?", "%", -4.4, 0.1, "Because.")
    assert below.reply("−4.4 %").right
    assert below.reply("-4,4").right
    assert not below.reply("4.4").right


def test_without_a_unit() -> None:
    """Where the answer has no unit, none is asked for and none is taken."""
    assert RATIO.reply("9.87").right
    assert RATIO.reply("9.87 cm").message == "cm is a length; expected a plain number or a share."


@pytest.mark.parametrize("tolerance", [0, -0.1, float("nan")])
def test_a_tolerance_is_above_zero(tolerance: float) -> None:
    """Without a tolerance nothing would count."""
    with pytest.raises(MeasureError, match="tolerance"):
        Exercise("?", "cm", 1.0, tolerance, "Because.")


@pytest.mark.parametrize("value", [1.0, 1.05, 0.95])
def test_a_slip_within_the_tolerance_is_refused(value: float) -> None:
    """A slip that would count as right can't be declared."""
    with pytest.raises(MeasureError, match="outside the tolerance"):
        Exercise("?", "cm", 1.0, 0.1, "Because.", [KnownSlip(value, "Never said.")])


@pytest.mark.parametrize("unit", ["cm2", "furlong", "deg"])
def test_a_unit_is_one_that_is_read(unit: str) -> None:
    """An exercise whose unit nobody could type can't be declared."""
    with pytest.raises(MeasureError, match=r"unit is '.*; expected one of: mm, cm"):
        Exercise("?", unit, 1.0, 0.1, "Because.")


@pytest.mark.parametrize("answer", [0.0, float("nan"), float("inf")])
def test_an_answer_has_a_size(answer: float) -> None:
    """How many times too large, no reply could say of 0."""
    with pytest.raises(MeasureError, match="not 0"):
        Exercise("?", "cm", answer, 0.1, "Because.")
