"""The tape card panel: its line by another way, what repeats and marks can do, its words."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from mensura.teaching.panels.tape_card import COARSE, FAR, GOOD, MOST_REPEATS, numbers
from mensura.views.chapters.tape_card import TAPE_CARD_PANEL, readout, status
from mensura.views.chapters.tape_card.picture import SCALES
from mensura.views.chapters.tape_card.words import classes_words

START = TAPE_CARD_PANEL.start()
CHANCE = START | {"step_cm": 0.0}


def test_without_chance_the_truth_is_found() -> None:
    """No spread, no step: what was planted comes out, and the interval has no width."""
    shown = numbers(**START | {"hand_sd_cm": 0.0, "step_cm": 0.0})
    for told in (shown.stretch, shown.worn, shown.correction):
        assert told.found == pytest.approx(told.planted, abs=1e-9)
        assert told.half == pytest.approx(0.0, abs=1e-9)
        assert told.holds


@pytest.mark.parametrize("changes", [{}, GOOD, FAR, {"marks": 12, "repeats": 1}])
def test_line_and_band_by_another_way(changes: dict) -> None:
    """The library's own straight line and its covariance, with Student's factor from a table."""
    shown = numbers(**CHANCE | changes)
    true, read = shown.reference_cm, shown.readings_cm
    (rise, start), covariance = np.polyfit(true, read, 1, cov=True)
    assert shown.card.rise == pytest.approx(rise)
    assert shown.card.start_cm == pytest.approx(start)
    where = np.array([0.0, 100.0, 320.0])
    design = np.column_stack([where, np.ones(3)])
    u = np.sqrt(np.einsum("ij,jk,ik->i", design, covariance, design))
    # two-sided 95 %: tables of Student's t, from memory
    factor = {8: 2.306, 10: 2.228}[true.size - 2]
    assert shown.half_band_cm(where) == pytest.approx(factor * u, rel=2e-4)


def test_the_band_is_least_in_the_middle_and_grows_beyond() -> None:
    """Its least half-width lies at the middle of the marks; at 0 it is the worn start's."""
    shown = numbers(**START)
    where = np.linspace(0, 320, 641)
    half = shown.half_band_cm(where)
    middle = shown.places_cm.mean()
    assert where[half.argmin()] == pytest.approx(middle, abs=0.5)
    assert (np.diff(half[where > middle]) > 0).all()
    assert half[0] == pytest.approx(shown.worn.half)


def test_marks_over_the_whole_range_make_the_start_sure() -> None:
    """The same readings between 100 and 150 cm leave the worn start several times less sure."""
    far, good = (numbers(**CHANCE | one) for one in (FAR, GOOD))
    assert far.worn.u is not None
    assert good.worn.u is not None
    # the same chances, so that only the places differ. By the line's formula: the stretch 280/50,
    # the worn start √(1/10 + 125²/Σ) beside √(1/10 + 160²/Σ), with sums of 3,125 and 98,000 cm²
    assert far.stretch.u / good.stretch.u == pytest.approx(5.6, rel=0.02)
    wide = np.sqrt((1 / 10 + 125**2 / 3125) / (1 / 10 + 160**2 / 98000))
    assert far.worn.u / good.worn.u == pytest.approx(wide, rel=0.02)


def test_repeats_do_not_rid_the_step() -> None:
    """Ten readings to whole centimetres claim no less than step/√12 at each mark; of chance they
    rid a good part."""
    coarse = START | COARSE | {"hand_sd_cm": 0.0}
    places = numbers(**coarse).places_cm
    among = np.sqrt(((places - places.mean()) ** 2).sum())
    for repeats in (2, MOST_REPEATS):
        shown = numbers(**coarse | {"repeats": repeats})
        # one row a mark: 1/√12 each, by the line's formula
        least = 100 / np.sqrt(12) / among / shown.card.rise**2
        assert shown.stretch.u >= least * (1 - 1e-9)
    once, often = (
        numbers(**CHANCE | {"repeats": repeats}).stretch.u for repeats in (2, MOST_REPEATS)
    )
    assert often < once


def test_intervals_hold_the_truth_about_as_often_as_they_say() -> None:
    """Of the forty classes, readings without a step: 95 % of forty are 38; by chance at least 33
    and not always all three figures of all."""
    held = [numbers(**CHANCE | {"draw": draw}) for draw in range(1, 41)]
    for figure in ("stretch", "worn", "correction"):
        assert 33 <= sum(bool(getattr(one, figure).holds) for one in held) <= 40
    assert not all(one.stretch.holds and one.worn.holds for one in held)


def test_two_marks_say_that_they_cannot_say() -> None:
    """No interval, no band, no yes or no; the line still stands."""
    shown = numbers(**START | {"marks": 2})
    assert shown.half_band_cm([0.0, 100.0]) is None
    assert shown.stretch.holds is None
    assert "Two marks give no uncertainty." in status(shown)
    assert "Two marks always lie on a line" in readout(shown)
    assert "±" not in status(shown)


def test_classes_are_told_in_words() -> None:
    """One that missed, several, many; one that holds, none and all."""
    shown = numbers(**START)
    width = np.full(40, 0.1)

    def told(missed: int) -> tuple[str, str]:
        off = np.where(np.arange(40) < missed, 1.0, 0.0)
        n = replace(shown, classes_percent=1.0 + off, classes_half_percent=width)
        return classes_words(n), status(n).split(". ")[-1]

    assert told(0)[0] == "All 40 classes have the true stretch in their interval."
    assert told(1)[0].endswith("39 have the true stretch in their interval; class 1 missed it.")
    assert told(2)[0].endswith("; classes 1 and 2 missed it.")
    assert told(9)[0].endswith("; classes 1, 2, 3, 4, 5, 6 and 3 others missed it.")
    assert told(39)[0].startswith("Of 40 classes 1 has the true stretch in its interval; ")
    assert told(39)[1] == "1 of 40 classes catches the true stretch."
    assert told(40) == (
        "None of 40 classes has the true stretch in its interval.",
        "None of 40 classes catches the true stretch.",
    )


def test_what_the_step_does_can_be_worked_out() -> None:
    """Ten readings a mark to 1 cm: √10·1/√12 for the spread, and with it u by the line's formula;
    one reading a mark has about the same u, and Student's factor for three freedoms."""
    often, once = (numbers(**START | COARSE | {"repeats": many}) for many in (10, 1))
    assert "So the spread counts for √10·0.289 = 0.913 cm at the least." in readout(often)
    assert often.card.taken_sd_cm == pytest.approx(np.sqrt(10 / 12), rel=2e-3)
    among = np.sqrt(10 * (np.square(often.places_cm - often.places_cm.mean())).sum())
    assert often.card.u_rise == pytest.approx(np.sqrt(10 / 12) / among, rel=2e-3)
    assert once.stretch.u == pytest.approx(often.stretch.u, rel=0.1)
    # tables of Student's t, from memory
    assert once.factor == pytest.approx(3.182, abs=1e-3)
    assert often.factor == pytest.approx(2.011, abs=1e-3)


def test_presets_set_everything() -> None:
    """So that each shows the same, whatever was moved before it."""
    for values in TAPE_CARD_PANEL.presets.values():
        assert set(values) == set(TAPE_CARD_PANEL.named)


def test_a_draw_never_changes() -> None:
    """The same class reads the same today and in another year."""
    first = numbers(**START)
    assert first.readings_cm.tolist() == numbers(**START).readings_cm.tolist()
    assert numbers(**START | {"draw": 8}).readings_cm.tolist() != first.readings_cm.tolist()


def test_beyond_the_marks_it_is_said() -> None:
    """A stem thicker than the last mark: only drawn on."""
    inside, beyond = (numbers(**START | {"reading_cm": told}) for told in (126.5, 280.0))
    assert not inside.drawn_on
    assert "outside" not in status(inside)
    assert "280.0 cm (outside the marks) add" in status(beyond)


def test_scales_rise() -> None:
    """So that the first that holds what is shown is the least."""
    assert list(SCALES) == sorted(SCALES)
