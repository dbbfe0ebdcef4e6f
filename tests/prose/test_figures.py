"""Every figure in the prose rests on something, and the test of that can fail."""

from __future__ import annotations

import copy
from dataclasses import replace
from pathlib import Path

import pytest
from prose.figures import NUMBER, notebook_texts
from prose.places import PLACES, printed, rows, texts
from prose.quoted import QUOTED
from prose.rows import (
    Chosen,
    at_least,
    at_most,
    chosen,
    covered,
    fault_of,
    given,
    judged,
    quoted,
    rounded,
    row,
    shown,
    used,
)

from mensura.sources import SOURCES

HERE = Path(__file__).parent

HELPERS = [
    *("conftest", "figures", "missing", "places", "quoted", "rows"),
    *("test_figures", "test_solutions", "tools"),
]

BOOK = {
    "cells": [
        {"cell_type": "code", "source": ["stem = circle(40.0)"], "outputs": []},
        {
            "cell_type": "markdown",
            "source": [
                "# 09 A page\n",
                "1. On a stem of 40 cm a tilt of 10° adds 0.97 cm, 0.77 %.\n",
                "Volunteers differed by 9.9 mm [Butt2013]: see workbook 04 and `x = 7`.\n",
                "$$G^2/4\\pi = \\tfrac14 G^2/\\pi$$ and π² = 9.87; divide by 12.566.",
            ],
        },
    ]
}
TILTED = "Lay(tilt_deg=10).shares_cm(circle(40))['tilt']"
ROWS = [
    row("On a stem of 40 cm a tilt of 10° adds 0.97 cm", given, used, TILTED),
    row("0.77 %", f"100 * {TILTED} / (40 * pi)"),
    row("differed by 9.9 mm", quoted("Butt2013", "9.9 mm")),
]


def page(**changed: str) -> list[str]:
    """What is found wrong on a page after words of it are changed."""
    book = copy.deepcopy(BOOK)
    for old, new in changed.items():
        cell = book["cells"][1]
        cell["source"] = [line.replace(old, new) for line in cell["source"]]
    return judged(list(notebook_texts(book)), ROWS)


@pytest.mark.parametrize("place", PLACES)
def test_every_figure_rests_on_something(place: str) -> None:
    assert not judged(texts(place), rows(place), printed(place))


@pytest.mark.parametrize("place", PLACES)
def test_a_changed_figure_is_found(place: str) -> None:
    """Each figure of a place in turn becomes another one, in its text and in its row."""
    prints, passed = printed(place), []
    for text, whole, figure, behind in covered(texts(place), rows(place)):
        if isinstance(behind, Chosen):
            continue
        size = abs(figure.value)
        others = [0.37 * size, 2.9 * size] if size else [1.0]
        if isinstance(behind, str):
            others += [size + figure.step, size - figure.step]
        for other in others:
            sign = -1.0 if figure.value < 0 else 1.0
            changed = replace(figure, value=sign * other)
            if fault_of(changed, behind, text, whole, prints) is None:
                passed.append(f"{text.where}: {whole.context!r} with {other:g}")
    assert not passed


def test_a_sound_page_passes() -> None:
    assert page() == []


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("0.97", "0.98", "no row for 0.98"),
        ("0.77", "0.79", "no row for 0.79"),
        ("9.9 mm", "9.8 mm", "no row for 9.8"),
        ("9.87", "9.78", "no row for 9.78"),
        ("12.566", "12.556", "no row for 12.556"),
        ("of 40 cm", "of 44 cm", "no row for 44"),
        ("see workbook", "with 3 more, see workbook", "no row for 3"),
        ("0.77 %", "nearly one per cent", "no text has the figures of '0.77 %'"),
    ],
)
def test_what_is_wrong_is_found(old: str, new: str, said: str) -> None:
    assert any(said in one for one in page(**{old: new}))


@pytest.mark.parametrize(
    ("behind", "said"),
    [
        ("39.3 * sin(0.1)", "is 3.92345, not 4.0"),
        ("40 *", "fails"),
        (rounded("4.6", 1), "is 4.6, not 4"),
        (at_most("4.01"), "not 4"),
        (at_most("1.9"), "not 4"),
        (at_least("3.99"), "not 4"),
        (at_least("8.1"), "not 4"),
        (quoted("Nobody1900", "4 cm"), "no source Nobody1900"),
        (quoted("Butt2013", "4 mm"), "is not among what is quoted"),
        (quoted("Butt2013", "9.9 mm"), "has 9.9 mm, not 4"),
        (given, "not among the data"),
        (used, "used in no expression"),
        (shown("4.00 5.00"), "does not print"),
        (chosen("whim"), "none of"),
    ],
)
def test_a_wrong_reason_is_refused(behind: object, said: str) -> None:
    book = {"cells": [{"cell_type": "markdown", "source": ["It adds 4.0 cm."]}]}
    (found,) = judged(list(notebook_texts(book)), [row("adds 4.0 cm", behind)])
    assert said in found


def test_the_digits_typed_decide() -> None:
    book = {"cells": [{"cell_type": "markdown", "source": ["It adds 4.0 cm, or 3.99 cm."]}]}
    adds = "40 * sin(0.1)"  # 3.99333
    assert not judged(list(notebook_texts(book)), [row("adds 4.0 cm, or 3.99 cm", adds, adds)])


def test_what_is_quoted_names_sources() -> None:
    assert set(QUOTED) <= set(SOURCES)
    for declared in QUOTED.values():
        assert all(NUMBER.search(text) and place for text, place in declared.items())


@pytest.mark.parametrize("file", sorted(HERE.glob("*.py")), ids=lambda one: one.stem)
def test_no_rows_without_a_place(file: Path) -> None:
    assert file.stem in {*HELPERS, *PLACES}
