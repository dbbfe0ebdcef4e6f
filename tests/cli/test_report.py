"""Numbers and comparisons in words."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.cli.report import comparison_lines
from mensura.estimates.comparison import PRACTICE_WORDS, compare
from mensura.instruments.tape import Lay
from mensura.stems import Ellipse, with_bark
from mensura.written import signed

FINITE = st.floats(-1e6, 1e6)


@given(FINITE, st.integers(0, 5))
def test_signed_says_the_number(value: float, digits: int) -> None:
    """Read back it is the value, rounded; it has a sign unless it is nothing."""
    text = signed(value, digits)
    read = float(text.replace("−", "-"))
    assert read == pytest.approx(value, abs=0.5000001 * 10**-digits)
    assert re.fullmatch(r"[+−]?\d+" + (rf"[.]\d{{{digits}}}" if digits else ""), text)
    if read == 0:
        assert text[0] == "0"
    else:
        assert text[0] == ("+" if value > 0 else "−")


@given(FINITE)
def test_signed_is_odd(value: float) -> None:
    """The other sign gives the other sign, and nothing else changes."""
    swap = str.maketrans("+−", "−+")
    assert signed(-value).translate(swap) == signed(value)


def test_signed_uses_a_true_minus() -> None:
    """U+2212, as wide as the plus, not a hyphen."""
    assert signed(-3.456, 1) == "\N{MINUS SIGN}3.5"
    assert "-" not in signed(-3.456)


def table(lines: list[str]) -> dict[str, list[float]]:
    """Figures at the end of each row, by the row's words."""
    rows = {}
    for line in lines:
        match = re.match(r"\s*(\S.*?)(?:  +|$)(.*)$", line)
        if match and re.search(r"\d", match[2]):
            rows[match[1]] = [float(x) for x in re.findall(r"[+-]?\d+\.\d+", match[2])]
    return rows


def test_comparison_of_the_well_known_stem() -> None:
    """60 by 48 cm: area by hand 720π, tape +1.8764 %, arithmetic mean +1.25 %, product exact."""
    result = compare(Ellipse(60, 48))
    lines = comparison_lines(result)
    assert lines[0] == "True area:  2261.95 cm²"
    assert lines[1].startswith("Taut girth: 170.17 cm")
    rows = table(lines)
    assert rows["Tape, level"] == [170.17, 2304.39, 42.44, 1.8764]
    assert rows[PRACTICE_WORDS["two-arithmetic"]][-1] == 1.25
    assert rows[PRACTICE_WORDS["two-geometric"]][-2:] == [0.0, 0.0]
    assert rows[PRACTICE_WORDS["one"]][-1] == 25.0
    text = "\n".join(lines)
    assert "+2.5000 %" in text
    assert "upper bound" in text


def test_each_row_is_the_comparison_s() -> None:
    """Tilted tape, turned calipers, rough bark: areas and errors are those of the object."""
    lay, turn = Lay(8, 30), 25.0
    result = compare(with_bark(Ellipse(60, 48), 28, 1.0, 7), lay, turn)
    rows = table(comparison_lines(result, lay, turn))
    wanted = {"Tape, tilted 8° towards 30°": (result.tape_area_cm2, result.tape_over_percent)}
    wanted |= {
        PRACTICE_WORDS[one.practice]: (one.area_cm2, one.over_percent) for one in result.calipers
    }
    assert len(wanted) == 6
    for words, (area_cm2, over_percent) in wanted.items():
        assert rows[words][-3] == pytest.approx(area_cm2, abs=0.00501)
        assert rows[words][-2] == pytest.approx(area_cm2 - result.true_area_cm2, abs=0.00501)
        assert rows[words][-1] == pytest.approx(over_percent, abs=0.0000501)


def test_no_claim_of_the_blackboard_for_bark() -> None:
    """Its formula is for an ellipse: for another section nothing is said of it."""
    smooth = "\n".join(comparison_lines(compare(Ellipse(60, 48))))
    rough = "\n".join(comparison_lines(compare(with_bark(Ellipse(60, 48), 28, 1.0, 7))))
    assert "blackboard" in smooth
    assert "blackboard" not in rough
    assert "Assumed:" in rough


def test_columns_stand_in_line() -> None:
    """Every row of figures ends in the same column, and no line has spaces at its end."""
    for stem in (Ellipse(60, 48), Ellipse(2000, 1), Ellipse(0.5, 0.4)):
        lines = comparison_lines(compare(stem))
        ends = {len(line) for line in lines if re.search(r"[+-]?\d\.\d{4}$", line)}
        assert len(ends) == 1
        assert [line for line in lines if line != line.rstrip()] == []


def test_a_circle_has_no_errors_and_no_signs() -> None:
    """A round stem: what rounds to nothing carries no sign."""
    text = "\n".join(comparison_lines(compare(Ellipse(50, 50))))
    assert not re.search(r"[+-]0\.0+\b", text)
    assert text.count("0.0000") >= 6
