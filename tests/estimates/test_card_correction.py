"""Readings brought back by a card: the line undone by hand, and what is left to say."""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest

from mensura.checks import ChoiceError, MeasureError
from mensura.estimates.card_correction import (
    brought_back_cm,
    card_correction,
    card_words,
    error_of_several,
    several_words,
)
from mensura.estimates.class_correction import ClassCorrection
from mensura.instruments import Tape, card, correct_by_card

PLACES = [40.0, 80.0, 120.0, 160.0]
LOW = card(PLACES, [1.5 + 0.98 * one for one in PLACES], instrument="T5", temperature_c=20)
JAWS = card([20, 40, 60], [20.5, 40.5, 60.5], instrument="K1", kind="calipers")


def test_the_line_undone_as_for_one_reading() -> None:
    """Of many at once what `correct` has of each, and the line by hand; a tip stays."""
    read = np.array([0.0, 42.0, 99.5, 158.3])
    found = brought_back_cm(read, [card_correction(LOW, 99.5)])
    assert found[1:] == pytest.approx((read[1:] - 1.5) / 0.98)
    one = [correct_by_card(float(x), LOW, Tape()).girth_cm for x in read[1:]]
    assert found[1:] == pytest.approx(one)
    assert found[0] == 0
    assert brought_back_cm([], [card_correction(LOW, 99.5)]).size == 0


def test_the_card_comes_before_what_a_practical_found() -> None:
    """(reading - start)/rise, then the share: the other order would be another figure."""
    off = ClassCorrection("T5", "instrument", "girth", 2.0, "%", 0.1, "")
    for order in ([card_correction(LOW, 90), off], [off, card_correction(LOW, 90)]):
        assert brought_back_cm([99.5], order)[0] == pytest.approx((99.5 - 1.5) / 0.98 / 1.02)


def test_nothing_left_is_not_hidden() -> None:
    """Below its worn start a tape tells no length: whoever asks has to refuse that."""
    found = brought_back_cm([1.2, 80.0], [card_correction(LOW, 90)])
    assert found[0] < 0 < found[1]


def test_its_json_and_words() -> None:
    """Off at the reading that was asked for, by hand, and the line behind it."""
    found = card_correction(LOW, 50.0)
    told = found.to_dict()
    assert told["taken_off"] == pytest.approx(50 - (50 - 1.5) / 0.98)
    assert (told["name"], told["kind"], told["by"], told["unit"]) == ("T5", "girth", "card", "cm")
    assert (told["rise"], told["start_cm"]) == (pytest.approx(0.98), pytest.approx(1.5))
    said = card_words(found)
    assert said.startswith("Tape T5, by its card: at a girth of 50 cm 0.51 cm was taken off; ±")
    assert "stretch 2.04 % and worn start 1.5 cm. Taken as read at 20 °C, where it holds" in said
    assert " cm 0.51 cm was added; ±" in card_words(card_correction(LOW, 100.0))
    jaws = card_words(card_correction(JAWS, 30.0))
    assert jaws.startswith("Calipers K1, by its card: at a diameter of 30 cm 0.5 cm was taken off")
    assert "zero error 0.5 cm" in jaws


def test_several_cards_keep_what_was_not_corrected() -> None:
    """Half a cm too much on one, none on the other: 0.5/√2 and the lines' own doubt."""
    true = card([20, 40, 60], [20, 40, 60], instrument="K2", kind="calipers")
    found = error_of_several([JAWS, true], "diameter", 50.0)
    own = [one.u_true_cm(50.0) for one in (JAWS, true)]
    hand = sqrt((0.5**2 + own[0] ** 2 + own[1] ** 2) / 2)
    assert found.u == pytest.approx(100 * hand / 50, rel=5e-3)
    assert (found.name, found.unit, found.scope) == ("instrument", "%", "all")
    assert several_words([JAWS, true]).startswith("2 cards: nobody knows which reading is by")


def test_what_is_refused() -> None:
    with pytest.raises(MeasureError, match="three marks or more"):
        card_correction(card([50, 100], [50, 100]), 80.0)
    with pytest.raises(ChoiceError, match="kind"):
        error_of_several([LOW], "height", 30.0)
    with pytest.raises(MeasureError, match="one card or more"):
        error_of_several([], "girth", 30.0)
