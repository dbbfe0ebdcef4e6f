"""A table: heads, units, digits and sides from names; text that lines up, HTML with real heads."""

from __future__ import annotations

import html.parser
from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.views import table
from mensura.views.kit.table import UNITS, head


@dataclass
class Row:
    fault: str
    adds_cm: float


class Reader(html.parser.HTMLParser):
    """The tags of a page and the words in them."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None], str]] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: Any) -> None:
        self.found.append((tag, dict(attrs), ""))

    def handle_data(self, data: str) -> None:
        tag, attrs, before = self.found[-1]
        self.found[-1] = (tag, attrs, before + data)


def test_the_name_says_head_unit_and_digits() -> None:
    """Units of the house become signs; each has its usual number of digits."""
    text = repr(
        table(
            girth_cm=[126.0], area_cm2=[1263.37], area_m2=[0.126337], tilt_deg=[2.25], share=[0.5]
        )
    )
    assert text.split("\n")[0].split("   ") == [
        "girth, cm",
        "area, cm²",
        "area, m²",
        "tilt, °",
        "share",
    ]
    assert text.split("\n")[1].split() == ["126.00", "1263.4", "0.1263", "2.2", "0.500"]
    assert head("off_percent") == "off, %"
    assert all(head(f"a_{unit}") == f"a, {sign}" for unit, (sign, _) in UNITS.items())


def test_numbers_stand_right_and_words_left() -> None:
    """However long a number grows, heads and figures end at one edge."""
    lines = repr(table(stem=["oak", "a long name"], girth_cm=[9.5, 12345.678])).split("\n")
    assert lines == [
        "stem          girth, cm",
        "oak                9.50",
        "a long name    12345.68",
    ]


@given(st.lists(st.floats(-1e6, 1e6), min_size=1, max_size=6), st.integers(0, 6))
def test_any_numbers_line_up_and_are_near(values: list[float], digits: int) -> None:
    """Every line ends where the head ends or where the longest number does; none is far off."""
    lines = repr(table(far_off_cm=values, digits=digits)).split("\n")
    assert len({len(line) for line in lines}) == 1
    for line, value in zip(lines[1:], values, strict=True):
        assert float(line.replace("−", "-")) == pytest.approx(value, abs=0.51 * 10.0**-digits)
        assert "-" not in line


def test_an_error_has_its_sign_and_nothing_has_none() -> None:
    """Too much is +, too little a real minus; what rounds to nothing is neither."""
    lines = repr(table(over_percent=[1.876, -0.36, -0.0001], girth_cm=-1.0)).split("\n")
    assert [line.split()[0] for line in lines[1:]] == ["+1.88", "−0.36", "0.00"]
    assert lines[1].endswith("−1.00")


def test_whole_numbers_have_no_point_and_digits_may_be_set() -> None:
    """Counts stay counts; digits for all leave degrees alone; by name they rule one column."""
    turned = {"ridges": [24, 8], "turned_deg": [0, 22.4], "girth_cm": [1.0, 2.0]}
    assert repr(table(**turned, digits=3)).split("\n")[2].split() == ["8", "22.4", "2.000"]
    named = repr(table(**turned, digits={"turned_deg": 2})).split("\n")[2]
    assert named.split() == ["8", "22.40", "2.00"]


def test_rows_are_mappings_or_things_with_names() -> None:
    """Columns are picked from rows; named ones join them; order is that of the names."""
    rows = [Row("tilt", 0.38), Row("slack", 0.8)]
    text = repr(table(rows, "place fault adds_cm", place=range(1, 3)))
    assert [line.split() for line in text.split("\n")[1:]] == [
        ["1", "tilt", "+0.38"],
        ["2", "slack", "+0.80"],
    ]
    shares = {"tilt": 0.38, "slack": 0.8}
    one = table(fault=shares, adds_cm=shares.values())
    assert repr(one) == repr(table(rows, ["fault", "adds_cm"]))
    assert repr(table([vars(row) for row in rows])) == repr(one)
    assert len(one) == 2


def test_what_a_cell_may_hold() -> None:
    """Nothing, yes or no, several readings, many, and an undefined number."""
    text = repr(
        table(
            one=[None, True, np.bool_(False)],
            readings_cm=[[1.0, 2.5], np.arange(18.0), None],
            limit_deg=[np.nan, 22.5, np.float64(1)],
        )
    )
    assert [line.split() for line in text.split("\n")[1:]] == [
        ["1.00", "and", "2.50", "none"],
        ["yes", "18", "readings", "22.5"],
        ["no", "1.0"],
    ]


def test_a_word_among_numbers_stands_on_their_side() -> None:
    """What no source knows is said in the column of the numbers."""
    lines = repr(table(material=["steel", "cloth"], most_mm=[0.34, "unknown"])).split("\n")
    assert lines == ["material   most, mm", "steel          0.34", "cloth       unknown"]


def test_html_has_heads_for_columns_and_rows() -> None:
    """A screen reader is told of each number which row and which column it stands in."""
    found = Reader(table(stem=["oak", "pine"], girth_cm=[9.5, 8.0])._repr_html_()).found
    heads = [(attrs["scope"], words) for tag, attrs, words in found if tag == "th"]
    assert heads == [("col", "stem"), ("col", "girth, cm"), ("row", "oak"), ("row", "pine")]
    cells = [(attrs["style"].split("; ")[-1], words) for tag, attrs, words in found if tag == "td"]
    assert cells == [("text-align: right", "9.50"), ("text-align: right", "8.00")]


def test_nothing_in_a_table_becomes_markup() -> None:
    """Words from anywhere, heads as well, are shown as they are."""
    wild = "<img src=x onerror='alert(1)'> & \"so\""
    page = table(**{wild: [wild, wild], "more": [wild, "a"]})._repr_html_()
    assert {tag for tag, *_ in Reader(page).found} == {
        *("table", "thead", "tbody", "tr", "th", "td"),
    }
    assert [words for _, _, words in Reader(page).found].count(wild) == 4


@pytest.mark.parametrize(
    ("make", "told"),
    [
        (lambda: table(), "at least one column"),
        (lambda: table([]), "at least one column"),
        (lambda: table(girth_cm=[]), "at least one column"),
        (lambda: table(girth_cm=[1, 2], area_cm2=[1]), "2 values, as in the other columns"),
        (lambda: table([Row("tilt", 1.0)]), "names of what the rows have"),
        (lambda: table([Row("tilt", 1.0)], "fault nothing"), "columns is nothing|names of what"),
        (lambda: table([{"a": 1}], "a", b=[1, 2]), "1 values"),
    ],
)
def test_what_makes_no_table_is_refused(make: Any, told: str) -> None:
    """Columns that do not fit, names that rows lack, and nothing at all: one sentence each."""
    with pytest.raises(MeasureError, match=told):
        make()
