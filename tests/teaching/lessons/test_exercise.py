"""An exercise reads what people type, counts it by its tolerance, and says what went wrong."""

from __future__ import annotations

import pytest

from mensura.checks import MeasureError
from mensura.teaching.lessons.exercise import Exercise, Slip

AREA = Exercise(
    "A girth is 100.0 cm. The area, in cm²?",
    "cm²",
    795.77,
    1.0,
    "G²/4π.",
    [Slip(7853.98, "The girth was taken for a diameter."), Slip(625.0, "A quarter girth.")],
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
        "795.77 cm 2",
        "794.78",
        "796.76",
    ],
)
def test_right_however_it_is_written(typed: str) -> None:
    """Point or comma, with or without the unit, up to the tolerance on either side."""
    reply = AREA.reply(typed)
    assert reply.right
    assert reply.sentence == "Right. G²/4π."


@pytest.mark.parametrize(
    ("typed", "side"),
    [
        ("794.76", "too small"),
        ("796.78", "too large"),
        ("-795.77", "too small"),
        ("0", "too small"),
    ],
)
def test_outside_the_tolerance(typed: str, side: str) -> None:
    """Just outside, the reply says on which side and how near is near enough."""
    reply = AREA.reply(typed)
    assert not reply.right
    assert side in reply.sentence
    assert "within 1 cm² counts" in reply.sentence


def test_a_slip_is_named() -> None:
    """A known wrong computation is answered in its own words, within the same tolerance."""
    assert AREA.reply("7854").sentence == "The girth was taken for a diameter."
    assert AREA.reply("624,2").sentence == "A quarter girth."
    assert not AREA.reply("7854").right
    assert "too small" in AREA.reply("623.9").sentence


@pytest.mark.parametrize("typed", ["795.77 m²", "795.77 cm", "795.77 %", "795.77 cm² or so"])
def test_another_unit(typed: str) -> None:
    """The right number in another unit does not count, and the reply names both."""
    reply = AREA.reply(typed)
    assert not reply.right
    assert reply.sentence.startswith("The unit is '")
    assert "expected a number in cm²" in reply.sentence


@pytest.mark.parametrize(
    "typed",
    [
        "about 796",
        "7.9577e2x",
        "nan",
        "inf",
        "-",
        ".",
        ",",
        "__import__('os')",
        "²",
        "٧٩٦",
        "9" * 61,
    ],
)
def test_what_is_no_number(typed: str) -> None:
    """Words, code, foreign digits and endless ones are neither evaluated nor counted."""
    reply = AREA.reply(typed)
    assert not reply.right
    assert "expected a number in cm²" in reply.sentence
    assert len(reply.sentence) < 160


@pytest.mark.parametrize("typed", ["", "   ", "\n\t"])
def test_nothing_typed(typed: str) -> None:
    """An empty answer is asked for, not marked."""
    assert AREA.reply(typed).sentence == "Type a number in cm² first."


def test_a_true_minus_sign_is_a_minus() -> None:
    """The typographic minus that a workbook prints may be pasted back."""
    below = Exercise("By how many per cent?", "%", -4.4, 0.1, "Because.")
    assert below.reply("−4.4 %").right
    assert below.reply("-4,4").right
    assert not below.reply("4.4").right


def test_without_a_unit() -> None:
    """Where the answer has no unit, none is asked for and none is taken."""
    assert RATIO.reply("9.87").right
    assert RATIO.reply("").sentence == "Type a number first."
    assert "expected a number." in RATIO.reply("9.87 cm").sentence


@pytest.mark.parametrize("tolerance", [0, -0.1, float("nan")])
def test_a_tolerance_is_above_zero(tolerance: float) -> None:
    """Without a tolerance nothing would count."""
    with pytest.raises(MeasureError, match="tolerance"):
        Exercise("?", "cm", 1.0, tolerance, "Because.")


@pytest.mark.parametrize("value", [1.0, 1.05, 0.95])
def test_a_slip_within_the_tolerance_is_refused(value: float) -> None:
    """A slip that would count as right can't be declared."""
    with pytest.raises(MeasureError, match="outside the tolerance"):
        Exercise("?", "cm", 1.0, 0.1, "Because.", [Slip(value, "Never said.")])
