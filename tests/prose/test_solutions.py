"""What a solved problem writes as a sum comes out so, on drawn numbers.

A sum is reckoned anew from the numbers as they are printed, so it may miss by what they are rounded
to; a wrong coefficient or a forgotten square misses by far more.
"""

from __future__ import annotations

import re

import pytest
from prose.figures import NUMBER, value_of, worked_out_left_of

from mensura.teaching.problems.bank import all_families, problem

DRAWS = 12
#: What rounding on the way may do, as a share; differences of near numbers lose more.
SHARE = 0.006


def sums(text: str) -> list[tuple[str, float, float]]:
    """The sums that a text writes out: their words, what they say, and by how much it is wrong
    beyond rounding."""
    found = []
    for at in NUMBER.finditer(text):
        worked = worked_out_left_of(text, at)
        if worked is not None and not re.match(r" ?[·×/+−√²]", text[at.end() :]):
            said = value_of(at["digits"]) * (-1 if at["sign"] in ("−", "-") else 1)
            zeros = len(at["digits"]) - len(at["digits"].rstrip("0")) if "." not in at[0] else 0
            step = 10.0**zeros if zeros else 10.0 ** -len(at["digits"].partition(".")[2])
            off = abs(said - worked) - 0.5001 * step - SHARE * max(abs(said), abs(worked))
            found.append((text[max(0, at.start() - 60) : at.end()], worked, off))
    return found


def wrong(text: str) -> list[str]:
    """The sums of a text that do not come out."""
    return [f"{words} comes to {worked:.6g}" for words, worked, off in sums(text) if off > 0]


@pytest.mark.parametrize("key", list(all_families()))
def test_sums_of_solutions_come_out(key: str) -> None:
    for student in range(1, DRAWS + 1):
        assert not wrong(problem(key, f"Q{student:02d}", "class").solution)


def test_most_solutions_write_sums() -> None:
    having = [one for one in all_families() if sums(problem(one, "Q01", "class").solution)]
    assert len(having) > 0.6 * len(all_families())


def test_hints_that_are_sums_give_the_answer() -> None:
    """A last hint that is nothing but a sum comes to the answer, in one of its units."""
    checked = 0
    for key in all_families():
        for student in range(1, DRAWS + 1):
            made = problem(key, f"Q{student:02d}", "class")
            whole = re.fullmatch(r"Work out (.+)\.", made.hints[-1])
            if not whole or not re.fullmatch(r"(?:[\d.+−·×/√()²³π ]|sin|cos|tan|°)+", whole[1]):
                continue
            at = NUMBER.search(f"{whole[1]} = 1", len(whole[1]) + 3)
            worked = worked_out_left_of(f"{whole[1]} = 1", at) if at else None
            if worked is not None:
                checked += 1
                shares = [worked * 10.0**power / made.answer for power in (-4, -2, 0, 2)]
                assert any(abs(one - 1) < SHARE for one in shares), (key, made.hints[-1])
    assert checked > 5 * DRAWS


@pytest.mark.parametrize(
    ("text", "many"),
    [
        ("2π·1.5 = 9.42 cm", 0),
        ("3π·1.5 = 9.42 cm", 1),
        ("0.9 × 0.9 = 0.81", 0),
        ("0.9 × 0.9 = 0.18", 1),
        ("(12.3/14.5)² = 0.7196", 0),
        ("(12.3/14.5) = 0.7196", 1),
    ],
)
def test_a_wrong_sum_is_found(text: str, many: int) -> None:
    assert len(wrong(text)) == many
