"""Rows that a page shows of the bank: the same as the bank says, found another way."""

from __future__ import annotations

import math

import pytest

from mensura.estimates import area_from_girth_cm2
from mensura.estimates.quarter_girth import quarter_girth_over_percent
from mensura.teaching.answers.answers import AnswerError, read_answer
from mensura.teaching.answers.reply import reply
from mensura.teaching.problems.bank import all_families, problem
from mensura.teaching.problems.bank_rows import FACTORS, NOTHING, doubts, gaps, read_all, replies

MINE = problem("girth-to-area", "Q07", "quillmere")
FAMILIES = all_families()


def test_what_is_read_is_what_was_typed() -> None:
    """Number, unit, figures and half a step; or the sentence that the reader itself says."""
    good, note, bad, none = read_all(["0,785 m²", "1,234", "a lot", ""])
    assert good == {
        "typed": "0,785 m²",
        "read": "0.785 m²",
        "figures": 3,
        "half_step": "0.0005",
        "said": "",
    }
    assert note["read"] == "1.234"
    assert "may also be read as 1234" in note["said"]
    assert (bad["read"], bad["figures"]) == ("", None)
    with pytest.raises(AnswerError) as told:
        read_answer("a lot")
    assert bad["said"] == str(told.value)
    assert none["typed"] == NOTHING


def test_replies_are_those_of_the_bank() -> None:
    """In the order in which they were typed."""
    texts = ["0.442 m2", "44200 cm2", ""]
    rows = replies(MINE, texts)
    assert [row["said"] for row in rows] == [reply(MINE, text).message for text in texts]
    assert rows[0]["said"] == "Right."
    assert rows[2]["typed"] == NOTHING


@pytest.mark.parametrize("key", FAMILIES)
def test_gaps_go_from_the_smallest_to_the_largest_and_are_wide(key: str) -> None:
    """Every mark is met once; none can be mistaken for the answer, and only a later slip, named
    beside it, for another."""
    made = problem(key, "Q07", "quillmere")
    rows = gaps(made)
    assert len(rows) == len(made.slips)
    values = {slip.name: slip.value for slip in made.slips} | {"the right answer": made.answer}
    met = [rows[0]["smaller"], *(row["larger"] for row in rows)] if rows else []
    assert [values[name] for name in met] == sorted(values.values())
    later = {slip.name for slip in made.family.slips if slip.since > 1}
    for row in rows:
        pair = {row["smaller"], row["larger"]}
        if row["widths"] is None:
            assert made.family.exact
        elif "the right answer" in pair or not pair & later:
            assert row["widths"] > 1


def test_doubts_of_an_area_by_hand() -> None:
    """Half a millimetre of girth, either way: (1 ± 0.05/235.7)² of the area."""
    rows = doubts(MINE)
    assert [row["moved"] for row in rows] == ["nothing", "girth_cm", "girth_cm"]
    girth = MINE.numbers["girth_cm"]
    for row in rows[1:]:
        assert abs(row["by"]) == pytest.approx(0.05)
        assert row["answer"] == pytest.approx(area_from_girth_cm2(girth + row["by"]))
        assert row["off_percent"] == pytest.approx(100 * ((1 + row["by"] / girth) ** 2 - 1))


@pytest.mark.parametrize("key", FAMILIES)
def test_doubts_together_are_within_the_tolerance(key: str) -> None:
    """The worst ways of all numbers, added, are never more than what counts as right."""
    made = problem(key, "Q07", "quillmere")
    if made.family.exact:
        return
    worst: dict[str, float] = {}
    for row in doubts(made)[1:]:
        worst[row["moved"]] = max(worst.get(row["moved"], 0.0), abs(row["off_percent"]))
    assert sum(worst.values()) <= made.tolerance_percent * (1 + 1e-9)


def test_factors_by_the_slips_and_rules_that_make_them() -> None:
    """π² and 4 as the bank's own slips make them, 4/π by the quarter-girth rule, inches by hand."""
    factors = [one.factor for one in FACTORS]
    assert factors == sorted(factors, reverse=True)
    slips = {slip.name: slip.value / MINE.answer for slip in MINE.slips}
    for name in ("girth-as-diameter", "diameter-for-radius", "pi-forgotten"):
        assert any(slips[name] == pytest.approx(factor) for factor in factors)
    rule = 1 + quarter_girth_over_percent() / 100
    assert any(factor * rule == pytest.approx(1) for factor in factors)
    assert {2.54, 6.4516, math.pi} <= {round(factor, 9) for factor in factors} | {math.pi}
