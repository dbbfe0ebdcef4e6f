"""A line of progress is read as it was written, whatever was typed; what is none is refused."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.disk.progress_file import LONGEST_LINE_BYTES, line_of, read_line
from mensura.teaching.problems.standing import Attempt

ONE = Attempt(
    "Q07", "quillmere", "1", "girth-to-area", 1, "78 cm2", False, None, 0, False, "2026-01-02"
)

ATTEMPTS = st.builds(
    Attempt,
    student=st.text(max_size=20),
    key=st.text(max_size=60),
    set_name=st.text(max_size=10),
    family=st.text(max_size=40),
    try_number=st.integers(1, 100_000),
    text=st.text(st.characters(), max_size=100),
    right=st.booleans(),
    slip=st.none() | st.text(max_size=40),
    hints=st.integers(0, 3),
    solution_read=st.booleans(),
    when=st.text(max_size=30),
    edition=st.integers(1, 1000),
    numbers=st.dictionaries(st.text(max_size=20), st.floats(-1e300, 1e300), max_size=8).map(
        lambda drawn: tuple(drawn.items())
    ),
)


@given(ATTEMPTS)
def test_a_line_is_read_as_it_was_written(attempt: Attempt) -> None:
    """Whatever was typed makes one line that a file can hold, and comes back the same."""
    line = line_of(attempt)
    assert line.endswith("\n")
    assert len(line.splitlines()) == 1
    assert read_line(line.encode().decode()) == attempt


def test_a_line_in_full() -> None:
    """The names of the file's format, for ever."""
    assert json.loads(line_of(ONE)) == {
        "student": "Q07",
        "key": "quillmere",
        "set": "1",
        "family": "girth-to-area",
        "try": 1,
        "text": "78 cm2",
        "right": False,
        "slip": None,
        "hints": 0,
        "solution_read": False,
        "when": "2026-01-02",
        "edition": 1,
        "numbers": {},
    }
    given = replace(ONE, edition=2, numbers=(("side_cm", 0.1), ("girth_cm", 78.0)))
    told = json.loads(line_of(given))
    assert (told["edition"], told["numbers"]) == (2, {"side_cm": 0.1, "girth_cm": 78.0})
    assert list(told["numbers"]) == ["side_cm", "girth_cm"]


def test_a_line_from_before_numbers_were_kept() -> None:
    """It is read as it was written, and what was tried then was of edition 1."""
    told = json.loads(line_of(ONE))
    del told["edition"], told["numbers"]
    assert read_line(json.dumps(told)) == ONE
    assert (ONE.edition, ONE.numbers) == (1, ())


def test_a_later_field_is_passed_over() -> None:
    """A newer version may tell more."""
    told = json.loads(line_of(ONE)) | {"mood": "good"}
    assert read_line(json.dumps(told)) == ONE


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("student", 7),
        ("right", 1),
        ("right", None),
        ("try", True),
        ("try", 0),
        ("try", 100_001),
        ("try", 1.0),
        ("try", "1"),
        ("slip", False),
        ("hints", -1),
        ("solution_read", "no"),
        ("edition", 0),
        ("edition", True),
        ("edition", "2"),
        ("edition", None),
        ("numbers", [78.0]),
        ("numbers", None),
        ("numbers", {"girth_cm": "78"}),
        ("numbers", {"girth_cm": True}),
        ("numbers", {"girth_cm": None}),
        ("numbers", {"girth_cm": float("nan")}),
        ("numbers", {"girth_cm": float("inf")}),
        ("numbers", {"girth_cm": 10**400}),
    ],
)
def test_a_field_of_the_wrong_kind(name: str, value: object) -> None:
    """A line with one is damaged, and so is a line that lacks a field that all lines had."""
    told = json.loads(line_of(ONE))
    assert read_line(json.dumps(told)) == ONE
    with pytest.raises(MeasureError):
        read_line(json.dumps(told | {name: value}))
    told.pop(name)
    if name in ("edition", "numbers"):
        assert read_line(json.dumps(told)) == ONE
        return
    with pytest.raises(MeasureError):
        read_line(json.dumps(told))


@given(st.text(max_size=80) | st.integers(0, len(line_of(ONE)) - 3).map(lambda k: line_of(ONE)[:k]))
def test_what_is_no_attempt(text: str) -> None:
    """Any text, and any attempt cut short, is refused and nothing else is raised."""
    with pytest.raises(MeasureError, match="JSON"):
        read_line(text)


@pytest.mark.parametrize(
    "text",
    ["[" * 3900, "9" * 3990, "NaN", "[]", "null", '"' + "x" * LONGEST_LINE_BYTES + '"'],
)
def test_awkward_json(text: str) -> None:
    """Deep, long, or no object: refused."""
    with pytest.raises(MeasureError):
        read_line(text)
