"""Rows and words of a card: they say what the card says, and leave out nothing that matters."""

import numpy as np
import pytest

from mensura.estimates.card_rows import card_digits, card_notes, card_readings_cm, card_rows
from mensura.estimates.fault_rows import tape_card
from mensura.instruments import card, check_class
from mensura.written import rounded

TRUE = np.repeat([40.0, 80.0, 120.0, 160.0], 3)
NOISE = 0.1 * np.random.default_rng(6).standard_normal(TRUE.size)


def said(one, accuracy_class=None, pulls_n=()):
    return " ".join(card_notes(one, check_class(one, accuracy_class), accuracy_class, pulls_n))


@pytest.mark.parametrize(("low", "high"), [(40, 190), (10, 12), (5, 1500), (99.7, 100.3)])
def test_round_readings_over_the_marks(low, high):
    """Both ends are reached, the steps are alike, and there are neither few nor many."""
    found = card_readings_cm(card([low, (low + high) / 2, high], [low, (low + high) / 2, high]))
    assert found[0] <= low + (high - low) / 4
    assert found[-1] >= high
    assert np.ptp(np.diff(found)) < 1e-6
    assert 6 <= len(found) <= 13


def test_rows_are_the_cards_own_figures():
    """Each row is what the card says of that reading; so are those of the list of faults."""
    one = card(TRUE, TRUE / 1.01 + 0.5 + NOISE)
    for row in card_rows(one):
        told = row["reads_cm"]
        assert row["length_cm"] == one.true_cm(told)
        assert row["add_cm"] == pytest.approx(one.true_cm(told) - told)
        assert (row["u_cm"], row["plus_minus_cm"]) == (one.u_true_cm(told), one.expanded_cm(told))
        other = tape_card(one, [told])[0]
        assert (other["girth_cm"], other["doubt_cm"]) == (row["length_cm"], row["u_cm"])
    assert card_digits(one) in (2, 3)
    assert "doubt_cm" not in tape_card(card([50, 100], [50, 101]), [70])[0]


def test_what_has_to_be_said():
    """Each case by its words, and not where it does not hold."""
    good = card(TRUE, TRUE / 1.01 + 0.5 + NOISE, temperature_c=18.0, pull_n=25.0)
    assert "It holds at 18 °C, at a pull of 25 N." in said(good)
    assert "A straight line will do" in said(good)
    assert "below nought" not in said(good)
    assert "taken as exact" in said(good)
    assert "Nobody said at which temperature and pull" in said(card(TRUE, TRUE + NOISE))
    pulled = card(TRUE, TRUE + NOISE, pull_n=20.0)
    assert "at a pull of 20 N; nobody said at which temperature" in said(pulled)
    assert "from 15 to 25 N" in said(pulled, pulls_n=[15.0, 25.0])
    bent = card(TRUE, TRUE + NOISE + (TRUE - 100) ** 2 / 2000)
    assert "will not do" in said(bent)
    assert "it takes repeats" in said(card(TRUE[::3], TRUE[::3] + NOISE[::3]))
    two = said(card([50, 100], [50.0, 100.5]), "II")
    assert "Two marks always lie on a line" in two
    assert "whether the instrument is straight nobody has seen" in two
    assert "no mark can be decided" in two
    again = said(card([50, 50, 50, 100, 100], [50.0, 50.1, 50.0, 100.5, 100.4]))
    assert "however often they are read" in again
    assert "closed jaws show less" in said(card(TRUE, TRUE - 0.5 + NOISE, kind="calipers"))
    sure = card(TRUE, TRUE + NOISE, reference_u_cm=0.05, reference_u_percent=0.01)
    assert "0.05 cm and 0.01 %, is common to all marks" in said(sure)


def test_a_start_below_nought_is_said():
    """As chance where the interval holds nought, else as a start that stands forward."""
    assert "0.45 cm below nought: the start stands forward" in said(card(TRUE, TRUE - 0.5 + NOISE))
    off = float(card(TRUE, TRUE + NOISE).start_cm)
    assert "may be chance" in said(card(TRUE, TRUE + NOISE - off - 0.001, resolution_cm=0))


def test_the_rule_of_the_step_is_said_with_its_figures():
    """Whole cm at whole cm share their rounding; tenths read thrice: √3·0.1/√12 by hand."""
    shared = card(np.arange(20.0, 201, 20), np.round(np.arange(20.0, 201, 20) * 1.0001 + 0.3))
    assert "step/√12 = 0.29 cm" in said(shared)
    assert f"share this error: u is worked out with a spread of {shared.taken_sd_cm:.2f}" in said(
        shared
    )
    marks = np.repeat([20.0, 61.3, 118.7, 204.9], 3)
    loose = card(marks, np.round(1.0073 * marks + 0.4 + 0.9 * NOISE, 1))
    assert "a spread of at least √3 · 0.029 = 0.050 cm" in said(loose)
    assert f"larger, {rounded(loose.taken_sd_cm, 2)} cm" in said(loose)
    assert loose.taken_sd_cm == pytest.approx(loose.residual_sd_cm)
    assert "step" not in said(card(TRUE, TRUE + NOISE, resolution_cm=0)).partition("The ref")[0]


def test_the_class_check_says_for_what_it_holds():
    """20 °C, the stated pull, scales in units of length, teaching; and how many marks are how."""
    told = said(card(TRUE, TRUE + 1.0 + NOISE), "II")
    assert "Class II: of 4 marks 4 not within." in told
    for words in ("20 °C", "pull that the tape states", "units of length", "not legal verif"):
        assert words in told
    assert "20 °C is assumed" in told
    assert "allowed for" in said(card(TRUE, TRUE + NOISE, temperature_c=5.0), "II")
