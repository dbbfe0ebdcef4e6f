"""Every section of the workbooks has a name of its own, which its cell keeps, and a title."""

from __future__ import annotations

import copy
import json
import re
import sys
import time
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.disk import sections as home
from mensura.disk.sections import (
    KINDS,
    LONGEST_TITLE,
    NAMES,
    Section,
    all_sections,
    names_of,
    plain_words,
    section,
    sections,
    slug,
    title_of,
    with_names,
)
from mensura.places import shipped
from mensura.teaching.lessons.chapters import CHAPTERS
from mensura.teaching.lessons.plan import Step
from mensura.teaching.problems.bank import family
from mensura.teaching.proof.roads import ROADS, road

NUMBERS = [one.number for one in CHAPTERS]

#: What in a cell of code says that something lives there, told apart here without looking into it.
LIVES = re.compile(
    r"^(?:\w*PANEL|(?:ask|problems_here|proof_panel|practice|own_line|picture_game|"
    r"wrong_reading_game)\(.*\))\s*$",
    re.MULTILINE,
)


def cells_of(number: str) -> list[dict[str, Any]]:
    chapter = next(one for one in CHAPTERS if one.number == number)
    told: list[dict[str, Any]] = json.loads(
        (shipped("workbooks") / chapter.file).read_text("utf-8")
    )["cells"]
    return told


def walked(cells: list[dict[str, Any]]) -> list[Section]:
    return list(home._walk(cells, "02"))


# ---- names stand in the notebooks --------------------------------------------------------------


@pytest.mark.parametrize("number", NUMBERS)
def test_every_section_has_its_name_in_its_own_cell(number: str) -> None:
    """A name for each heading, and one for each cell in which something lives or is drawn."""
    for cell in cells_of(number):
        source = "".join(cell["source"])
        names = cell["metadata"].get(NAMES, [])
        if cell["cell_type"] == "markdown":
            assert len(names) == len(re.findall(r"(?m)^#+ ", source)), source[:60]
            continue
        drawn = any("image/png" in output.get("data", {}) for output in cell["outputs"])
        if LIVES.search(source) or drawn:
            road_steps = re.search(r'(?m)^proof_panel\("(\w+)"\)$', source)
            steps = len(road(road_steps[1]).steps) if road_steps else 0
            assert len(names) == 1 + steps, source[:60]
        else:
            assert names == [], source[:60]


def test_nothing_that_lives_is_missing() -> None:
    """As the chapters declare them: panels, roads, questions; and every kind is there."""
    found = {(one.workbook, one.kind, one.thing) for one in all_sections()}
    for chapter in CHAPTERS:
        for panel in chapter.panels:
            assert (chapter.number, "panel", panel) in found
        for name in chapter.roads:
            assert (chapter.number, "proof", name) in found
    assert {one.kind for one in all_sections()} == set(KINDS)
    steps = Counter(one.thing for one in all_sections() if one.kind == "proof step")
    assert steps == {name: len(road(name).steps) for name in ROADS}


@pytest.mark.parametrize("number", NUMBERS)
def test_names_are_plain_and_each_is_there_once(number: str) -> None:
    """Words and hyphens; a number at the end only where a question or a proof's line has one."""
    found = sections(number)
    assert len({one.name for one in found}) == len(found)
    for one in found:
        assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", one.name)
        assert len(one.name) <= 50
        if one.kind not in ("question", "proof step"):
            assert not one.name[-1].isdigit(), one.name
        if one.kind == "question":
            assert one.name == one.thing
        if one.kind == "proof step":
            assert one.name.endswith(f"-road-{one.step}")
    # what can be found by name is what there is
    assert all(section(number, one.name) is one for one in found)


def test_a_name_comes_from_the_notebook_and_not_from_its_heading() -> None:
    """A heading that is worded anew keeps the name, and so does a cell whose code is changed."""
    cells = cells_of("02")
    before = walked(cells)
    reworded = copy.deepcopy(cells)
    for cell in reworded:
        if cell["cell_type"] == "markdown":
            cell["source"] = re.sub(r"(?m)^(#+) .*", r"\1 In other words", "".join(cell["source"]))
        else:
            cell["source"] = "".join(cell["source"]).replace("same_girth(", "another_drawing(")
    after = walked(reworded)
    assert [one.name for one in after] == [one.name for one in before]
    assert {one.title for one in after if one.kind == "text"} == {"In other words"}
    with_names(reworded)
    assert [one.name for one in walked(reworded)] == [one.name for one in before]


def test_a_cell_without_a_name_gets_one_and_the_others_keep_theirs() -> None:
    """As the tool that stores workbooks gives them; two of one name are refused."""
    cells = cells_of("02")
    cells[0]["metadata"][NAMES] = ["kept-from-long-ago"]
    new: dict[str, Any] = {
        "cell_type": "markdown",
        "metadata": {},
        "source": ["## A *new* place\n", "\n", "```\n", "# no heading\n", "```\n", "### And $a^2$"],
    }
    cells.insert(5, new)
    with_names(cells)
    assert cells[0]["metadata"][NAMES] == ["kept-from-long-ago"]
    assert new["metadata"][NAMES] == ["a-new-place", "and-a"]
    cells.append(copy.deepcopy(new))
    with pytest.raises(MeasureError, match="a-new-place"):
        with_names(cells)


def test_an_unnamed_notebook_is_walked_as_well() -> None:
    """A copy from before the names: the usual ones stand in for them."""
    bare = copy.deepcopy(cells_of("03"))
    for cell in bare:
        cell["metadata"].pop(NAMES, None)
    assert [one.name for one in walked(bare)] == [one.name for one in walked(cells_of("03"))]
    assert [name for cell in bare for name in names_of(cell)] == [one.name for one in walked(bare)]


# ---- what a section is -------------------------------------------------------------------------


def test_titles_are_one_line_and_tell_sections_apart() -> None:
    """Of each kind by its own: a question's words, a problem's title, a panel's, a proof's line."""
    for one in all_sections():
        assert one.title
        assert "\n" not in one.title
        assert len(one.title) <= LONGEST_TITLE + 2
        assert one.heading
        if one.kind == "problem":
            assert one.title == family(one.thing).title
        elif one.kind == "proof":
            assert one.title == road(one.thing).title
        elif one.kind == "question":
            told = one.blocks[0].shown["text/plain"].partition(": ")[2]
            assert told.startswith(one.title.removesuffix(" …"))
        elif one.kind in ("picture", "text"):
            assert one.title == one.heading
    assert section("02", "out-of-round-panel").title == "Out of round"
    assert section("07", "wrong-reading-game").title == "What went wrong?"
    assert section("03", "classroom-road-7").title == "The classroom's road, line 7"
    questions = [one.title for one in all_sections() if one.kind == "question"]
    assert len(set(questions)) == len(questions)


def test_what_a_section_shows_is_stored_and_nobodys_to_change() -> None:
    """Living things and pictures show what their cell has stored; a text all that stands in it."""
    for one in all_sections():
        if one.kind == "proof step":
            continue
        assert one.blocks or one.name in ("check-yourself", "why", "sources")
        for block in one.blocks:
            assert block.words or block.shown
            with pytest.raises(TypeError):
                block.shown["text/plain"] = "mine"  # type: ignore[index]
    text = section("02", "a-stem-and-its-circle")
    assert [block.kind for block in text.blocks] == ["words", "picture", "words", "table", "words"]
    assert "#" not in text.blocks[0].words


def test_a_heading_in_a_fence_is_none() -> None:
    """Nor is one that only looks like it; marks at its end are left out."""
    source = "# One ##\nwords\n~~~ py\n# two\n~~~\n#three\n    # four\n## Five\n"
    cell = {"cell_type": "markdown", "metadata": {}, "source": source, "outputs": []}
    found = walked([cell])
    assert [(one.title, one.level) for one in found] == [("One", 1), ("Five", 2)]
    assert "# two" in found[0].blocks[0].words


@pytest.mark.parametrize(
    ("heading", "plain", "name"),
    [
        ("Why: the *tape*", "Why: the tape", "why-the-tape"),
        (r"A $\pi$ and $a^2 + b_1$", "A π and a² + b1", "a-and-a-b1"),
        (r"1\. not a \*list\*", "1. not a *list*", "1-not-a-list"),
        ("See [workbook 03](03.ipynb)", "See workbook 03", "see-workbook-03"),
        ("`girth_cm` in **cm**", "girth_cm in cm", "girth-cm-in-cm"),
        (
            "snake_case_word and _slanted_",
            "snake_case_word and slanted",
            "snake-case-word-and-slanted",
        ),
        ("the calipers' \u00bd", "the calipers' ½", "the-calipers"),
    ],
)
def test_a_heading_in_plain_words(heading: str, plain: str, name: str) -> None:
    """Emphasis, links, escapes and mathematics are marks, and no part of a title or a name."""
    assert plain_words(heading) == plain
    assert slug(plain_words(heading)) == name


@given(st.text(max_size=60))
def test_any_heading_gives_a_line_and_a_name(heading: str) -> None:
    """Nothing fails, nothing is on two lines, a name is made of small letters only."""
    assert "\n" not in plain_words(heading)
    assert re.fullmatch(r"[a-z0-9-]*", slug(heading))


def test_a_step_of_a_lesson_says_what_it_shows() -> None:
    """The plan's title before the section's; of one's own, the first words, alt or the cell."""
    assert title_of(Step(1, "02", "out-of-round")) == "Out of round"
    assert title_of(Step(1, "02", "out-of-round", title="Ours")) == "Ours"
    assert title_of(Step(1, text="\n\n> ## *Look* up\nfirst")) == "Look up"
    assert title_of(Step(1, text="---")) == "---"
    assert title_of(Step(1, picture="a.png", alt="A disc " * 30)).endswith(" …")
    assert title_of(Step(1, notebook="own.ipynb", cell=3)) == "own.ipynb, cell 3"


# ---- asking for one ----------------------------------------------------------------------------


def test_a_name_that_there_is_not_is_answered_with_the_nearest() -> None:
    with pytest.raises(MeasureError, match="like out-of-round-panel"):
        section("02", "out-of-round-pannel")
    with pytest.raises(MeasureError, match="one of: 01, 02"):
        section("2", "out-of-round-panel")


def test_all_sections_are_there_at_once() -> None:
    """A list is waited for by a person: read anew it takes well under 0.3 s on any machine."""
    best_s = 9.0
    for _ in range(5):
        home._sections_of.cache_clear()
        start_s = time.process_time()
        all_sections()
        best_s = min(best_s, time.process_time() - start_s)
    assert best_s < 0.3


def test_the_tool_changes_nothing_but_names(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Run on copies without names it gives back the very bytes that are committed."""
    monkeypatch.syspath_prepend(str(Path(__file__).parents[1]))
    import execute_workbooks

    monkeypatch.setattr(sys, "argv", ["execute_workbooks.py", "--names"])
    for chapter in CHAPTERS[1:3]:
        committed = (shipped("workbooks") / chapter.file).read_text("utf-8")
        book = json.loads(committed)
        for cell in book["cells"]:
            cell["metadata"].pop(NAMES, None)
        copied = tmp_path / chapter.file
        copied.write_text(json.dumps(book), "utf-8")
        execute_workbooks.give_names(copied)
        assert copied.read_text("utf-8") == committed
