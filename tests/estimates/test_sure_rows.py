"""Rows of cards, budgets and plans: their numbers by plain arithmetic, and what they are called."""

from __future__ import annotations

import math

import pytest

from mensura.estimates.budget import girth_budget
from mensura.estimates.instrument_flips import ALONG, Flip, flips
from mensura.estimates.sure_rows import (
    WAY_WORDS,
    both_ways,
    budget_lines,
    class_check,
    flip_rows,
    held,
    line_figures,
    plan_rows,
)
from mensura.estimates.which_instrument import WAYS_OF, Morning, plans
from mensura.instruments.tape_card import card

T3 = card([20, 50, 100, 150, 200, 250], [21.6, 51.3, 100.7, 150.2, 199.7, 249.0], resolution_cm=0.1)


def test_a_tape_beside_its_reference() -> None:
    """Reading less reference, and what the line leaves of it: together nothing."""
    rows = held(T3)
    assert [row["reads_off_cm"] for row in rows] == pytest.approx([1.6, 1.3, 0.7, 0.2, -0.3, -1.0])
    assert sum(row["left_over_cm"] for row in rows) == pytest.approx(0.0, abs=1e-9)
    for row in rows:
        assert row["line_off_cm"] + row["left_over_cm"] == pytest.approx(row["reads_off_cm"])


def test_repeats_stand_as_their_mean() -> None:
    """One row a mark, however often it was read."""
    often = card([50, 50, 100, 150], [51.0, 51.4, 100.7, 150.2], resolution_cm=0.1)
    rows = held(often)
    assert [row["reference_cm"] for row in rows] == [50, 100, 150]
    assert rows[0]["reading_cm"] == pytest.approx(51.2)


def test_a_card_in_figures() -> None:
    """Stretch and worn start of a tape, scale and zero of calipers, in their intervals' middle."""
    for kind, names in (
        ("tape", ["stretch, %", "worn start, cm"]),
        ("calipers", ["scale, %", "zero error, cm"]),
    ):
        rows = line_figures(card([10, 20, 40], [10.4, 20.4, 40.5], kind=kind, resolution_cm=0.1))
        assert [row["figure"] for row in rows] == names
        for row in rows:
            assert (row["95 % from"] + row["to"]) / 2 == pytest.approx(row["value"])
            # one degree of freedom: tables, from memory
            assert (row["to"] - row["value"]) / row["u"] == pytest.approx(12.706, abs=5e-3)
    assert line_figures(card([50, 100], [51, 100.5], resolution_cm=0.1))[0]["u"] is None


def test_a_class_is_decided_or_not() -> None:
    """T3's 13 mm at half a metre are not within 0.5 mm; a sound tape read to 0.1 cm is not decided;
    limits by the law's own table: 0.3 + 0.2 mm for each metre begun."""
    rows = class_check(T3, "II")
    assert [row["may_err_mm"] for row in rows] == pytest.approx([0.5, 0.5, 0.5, 0.7, 0.7, 0.9])
    assert rows[1]["reads_off_mm"] == pytest.approx(13.0)
    assert rows[1]["said"] == "not within"
    sound = card([50, 100, 150, 200, 250], [50.0, 100.0, 150.1, 200.0, 250.1])
    assert {row["said"] for row in class_check(sound, "II")} == {
        "cannot be decided with this reading"
    }


def test_a_budget_line_by_line() -> None:
    """Step/√12 and the hand as given; the largest first; units stand with the names."""
    found = girth_budget(126.0, resolution_cm=1.0, hand_sd_cm=0.3, draws=1000)["area_cm2"]
    rows = budget_lines(found)
    assert [row["input"] for row in rows] == ["hand, cm", "resolution, cm"]
    for row, u in zip(rows, (0.3, 1 / math.sqrt(12)), strict=True):
        assert row["u"] == pytest.approx(u)
        assert row["contribution"] == pytest.approx(126 / (2 * math.pi) * u, rel=1e-6)


def test_both_ways_stand_together() -> None:
    """Two rows a figure; only the draws' says whether they agree."""
    rows = both_ways(girth_budget(126.0, hand_sd_cm=0.3, draws=20_000))
    assert rows[1]["agree"] == "too close"
    rows = both_ways(girth_budget(126.0, hand_sd_cm=0.3, draws=400_000))
    assert [row["by"] for row in rows] == ["law", "draws"] * 3
    law, drawn = rows[:2]
    assert law["to"] - law["95 % from"] == pytest.approx(2 * 1.96 * 0.3, rel=1e-3)
    assert drawn["to"] - drawn["95 % from"] == pytest.approx(2 * 1.96 * 0.3, rel=0.05)
    assert law["agree"] == ""
    assert drawn["agree"] is True


def test_plans_in_words() -> None:
    """Each way has its words; the smallest error stands first, and its parts make it up."""
    assert set(WAY_WORDS) == {way for ways in WAYS_OF.values() for way in ways}
    rows = plan_rows(plans(Morning()))
    errors = [row["together_percent"] for row in rows]
    assert errors == sorted(errors)
    first = rows[0]
    parts = [first[key] for key in first if key.endswith("percent") or key.endswith(", %")]
    assert math.hypot(*parts[:-1]) == pytest.approx(parts[-1], rel=0.01)


def test_flips_in_words() -> None:
    """What is moved has its unit; a jump says why."""
    rows = flip_rows({"diameter_cm": flips(Morning(), "diameter_cm", 10.0, 75.0)}, ALONG)
    assert {row["moved"] for row in rows} == {"diameter, cm"}
    assert {row["why"] for row in rows} == {"a reading fewer fits in", "errors are the same there"}
    one = flip_rows({"undergrowth": [Flip(0.4, "calipers", "tape", True)]}, ALONG)[0]
    assert (one["moved"], one["below"], one["above"]) == ("undergrowth", "calipers", "tape")
