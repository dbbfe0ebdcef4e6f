"""A lesson's notebook: what is in it, where it lies, and what is never written over."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

import pytest

from mensura.disk import lesson_book as book_module
from mensura.disk.lesson_book import (
    LESSON,
    MARK,
    LessonError,
    lay_lesson,
    lesson_book,
    lesson_folder,
)
from mensura.disk.plan_file import PlanError
from mensura.disk.sections import all_sections, section
from mensura.teaching.lessons.plan import Plan, Step

PNG = b"\x89PNG\r\n\x1a\n and so on"


def plan(*steps: Step) -> Plan:
    return Plan("A lesson", 10, steps)


def cells(*steps: Step, at: Path = Path("plan.toml")) -> list[dict[str, Any]]:
    made: list[dict[str, Any]] = lesson_book(plan(*steps), at)["cells"]
    return made


@pytest.fixture
def desk(tmp_path: Path) -> Path:
    """The path of a plan, with a picture and a notebook beside it."""
    (tmp_path / "wood.jpg").write_bytes(PNG)
    code = {"cell_type": "code", "metadata": {}, "source": ["a = 1\n", "a"], "execution_count": 1}
    outputs = [
        {
            "output_type": "execute_result",
            "data": {"text/plain": ["1"], "text/html": "<script>x</script>"},
        }
    ]
    words = {"cell_type": "markdown", "metadata": {}, "source": "Mine"}
    own = {"cells": [words, {**code, "outputs": outputs}], "nbformat": 4, "nbformat_minor": 5}
    (tmp_path / "own.ipynb").write_text(json.dumps(own))
    return tmp_path / "tapes.toml"


def test_every_section_of_the_workbooks_can_be_a_step() -> None:
    """Each has a title and cells; none keeps code in sight, or a link to another workbook."""
    steps = [Step(1, one.workbook, one.name) for one in all_sections()]
    book = lesson_book(plan(*steps), Path("plan.toml"))
    told = book["metadata"][MARK]["steps"]
    assert len(told) == len(steps)
    assert all(one["title"] and one["above"] for one in told)
    assert len({one["key"] for one in told}) == len(told)
    marks = [cell["metadata"][MARK] for cell in book["cells"]]
    assert {mark["step"] for mark in marks} == set(range(1, len(steps) + 1))
    assert len({cell["id"] for cell in book["cells"]}) == len(book["cells"])
    for cell, mark in zip(book["cells"], marks, strict=True):
        if cell["cell_type"] == "markdown":
            assert ".ipynb" not in cell["source"]
            assert "The page starts by itself" not in cell["source"]
            assert mark["kind"] == "words"
        elif cell["source"]:
            assert cell["source"].startswith("from mensura.views.lessons import on_screen\n")
            assert cell["metadata"]["jupyter"]["source_hidden"]
            assert cell["outputs"] == []
        else:
            assert cell["outputs"][0]["data"]
            assert "data-parts" not in cell["outputs"][0]["data"].get("text/html", "")


def test_words_tables_and_pictures_are_copied_in_their_order() -> None:
    one = section("02", "why-the-tape")
    made = cells(Step(2, "02", "why-the-tape"))
    assert [cell["metadata"][MARK]["kind"] for cell in made] == [
        "words" if block.kind == "words" else "shown" for block in one.blocks
    ]
    assert made[0]["source"] == one.blocks[0].words
    assert made[1]["outputs"][0]["data"] == dict(one.blocks[1].shown)


def test_a_picture_keeps_its_parts_for_the_screen() -> None:
    (cell,) = cells(Step(2, "01", "calipers-check"))
    assert cell["metadata"][MARK]["kind"] == "picture"
    assert cell["metadata"][MARK]["boxes"][0] == [0, 0, 430, 252]
    assert "data-parts" in section("01", "calipers-check").blocks[0].shown["text/html"]


def test_what_lives_is_one_line_with_the_plans_values() -> None:
    start, controls = {"second_cm": 40.5, "marked": True}, ("second_cm",)
    (cell,) = cells(Step(2, "02", "out-of-round-panel", start=start, controls=controls))
    assert cell["source"].splitlines()[-1] == (
        "on_screen('02', 'out-of-round-panel', start={'second_cm': 40.5, 'marked': True}, "
        "controls=['second_cm'], place=1)"
    )
    assert cell["metadata"][MARK]["kind"] == "panel"
    assert cell["metadata"][MARK]["still"]["picture"].startswith("still-")


def test_two_screens_of_one_panel_are_told_apart_wherever_they_come_to_stand() -> None:
    """Their keys, cells and places stay when another step is put before them."""
    panel, words = Step(2, "02", "out-of-round-panel"), Step(1, text="Go out.")
    before = lesson_book(plan(panel, panel), Path("plan.toml"))
    after = lesson_book(plan(words, panel, words, panel), Path("plan.toml"))
    keys = [one["key"] for one in after["metadata"][MARK]["steps"]]
    assert [one["key"] for one in before["metadata"][MARK]["steps"]] == [keys[1], keys[3]]
    assert len(set(keys)) == 4

    def living(book: dict[str, Any]) -> list[tuple[str, str]]:
        return [(one["id"], one["source"]) for one in book["cells"] if one["cell_type"] == "code"]

    assert living(before) == living(after)
    assert [source[-8:] for _, source in living(after)] == ["place=1)", "place=2)"]


def test_own_words_and_their_heading() -> None:
    """A heading that stands first is the screen's title, unless the step has one or is no more."""

    def told(**words: str) -> tuple[str, str]:
        book = lesson_book(plan(Step(1, **words)), Path("plan.toml"))
        return book["metadata"][MARK]["steps"][0]["above"], book["cells"][0]["source"].strip()

    assert told(text="# Go *out*\n\nOne tree.") == ("Go out", "One tree.")
    assert told(text="# Go out\n") == ("Go out", "# Go out")
    assert told(text="# Go out\n\nOne.", title="Now") == ("Now", "# Go out\n\nOne.")
    assert told(text="One tree.") == ("", "One tree.")


def test_a_question_is_not_told_twice() -> None:
    """Above the screen stands what it is for; in the list, its own first words."""
    one = lesson_book(plan(Step(1, "02", "02-predict")), Path("plan.toml"))
    told = one["metadata"][MARK]["steps"][0]
    assert told["above"] == "Out of round: predict"
    assert told["title"].startswith("A stem is 60 cm across")


def test_notes_minutes_and_what_is_spare_go_along() -> None:
    book = lesson_book(plan(Step(2.5, text="a", note="Slowly.", spare=True)), Path("plan.toml"))
    assert book["metadata"][MARK] | {"steps": []} == {
        "title": "A lesson",
        "minutes": 10,
        "steps": [],
    }
    (told,) = book["metadata"][MARK]["steps"]
    assert {name: told[name] for name in ("minutes", "note", "spare")} == {
        "minutes": 2.5,
        "note": "Slowly.",
        "spare": True,
    }


def test_a_picture_is_copied_under_a_name_of_ours(desk: Path) -> None:
    """By what it is, not by what it is called; its words go along unread."""
    step = Step(1, picture="wood.jpg", alt="](x) <b>")
    laid = lay_lesson(plan(step), desk)
    copies = [one for one in laid.folder.iterdir() if one.name != LESSON]
    assert [one.suffix for one in copies] == [".png"]
    assert copies[0].read_bytes() == PNG
    book = json.loads((laid.folder / LESSON).read_text("utf-8"))
    assert book["cells"][0]["source"] == f"![]({copies[0].name})"
    assert book["cells"][0]["metadata"][MARK]["alt"] == "](x) <b>"


def test_an_own_cell_runs_where_its_notebook_lies(desk: Path) -> None:
    code, words = cells(
        Step(1, notebook="own.ipynb", cell=2), Step(1, notebook="own.ipynb", cell=1), at=desk
    )
    assert code["source"].endswith("with chdir('..'):\n    own_cell('a = 1\\na', place=1)")
    assert code["metadata"][MARK]["kind"] == "own"
    # nothing that could do anything is shown before it has run
    assert code["outputs"] == [
        {"output_type": "display_data", "data": {"text/plain": "1"}, "metadata": {}}
    ]
    assert (words["cell_type"], words["source"]) == ("markdown", "Mine")


def test_it_lies_beside_the_plan_and_is_left_as_it_lies(
    desk: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What its cells have shown stays if Jupyter has saved it, and goes if anybody else has."""
    steps = plan(Step(1, "02", "02-predict"), Step(1, picture="wood.jpg"))
    first = lay_lesson(steps, desk)
    assert first.renewed
    assert first.folder == desk.parent / "tapes-lesson" == lesson_folder(desk)
    (first.folder / "my-pages.json").write_text("kept")
    assert not lay_lesson(steps, desk).renewed

    path = first.folder / LESSON
    book = json.loads(path.read_text("utf-8"))
    book["cells"][0]["outputs"] = [{"output_type": "stream", "name": "stdout", "text": "1"}]
    path.write_text(json.dumps(book))
    monkeypatch.setattr(book_module, "_signed", lambda _: True)
    kept = lay_lesson(steps, desk)
    assert not kept.renewed
    assert kept.digest != first.digest
    monkeypatch.setattr(book_module, "_signed", lambda _: False)
    again = lay_lesson(steps, desk)
    assert again.renewed
    assert again.digest == first.digest
    assert (first.folder / "my-pages.json").read_text() == "kept"


def test_signed_is_what_jupyter_says(desk: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """By its own store, for the very bytes."""
    import nbformat
    from nbformat import sign

    monkeypatch.setenv("JUPYTER_DATA_DIR", str(desk.parent / "data"))
    laid = lay_lesson(plan(Step(1, text="a"), Step(1, "02", "02-predict")), desk)
    content = (laid.folder / LESSON).read_bytes()
    assert not book_module._signed(content)
    assert not (desk.parent / "data").exists()
    (desk.parent / "data").mkdir()
    read: Any = nbformat.reads
    sign.NotebookNotary(data_dir=str(desk.parent / "data")).sign(read(content.decode(), 4))
    assert book_module._signed(content)
    assert not book_module._signed(content.replace(b"A lesson", b"Another"))


@pytest.mark.parametrize("change", ["title", "minutes", "note", "step", "start"])
def test_a_changed_plan_makes_it_anew(
    desk: Path, monkeypatch: pytest.MonkeyPatch, change: str
) -> None:
    monkeypatch.setattr(book_module, "_signed", lambda _: True)
    panel = Step(1, "02", "out-of-round-panel", start={"second_cm": 40})
    before = lay_lesson(plan(panel), desk)
    after = {
        "title": Plan("Another", 10, (panel,)),
        "minutes": Plan("A lesson", 11, (panel,)),
        "note": plan(Step(1, "02", "out-of-round-panel", start={"second_cm": 40}, note="Slow")),
        "step": plan(panel, Step(1, text="b")),
        "start": plan(Step(1, "02", "out-of-round-panel", start={"second_cm": 41})),
    }[change]
    laid = lay_lesson(after, desk)
    assert laid.renewed
    assert laid.digest != before.digest


def test_what_is_somebodys_own_is_put_aside(desk: Path) -> None:
    """A notebook that is no lesson, a damaged one, a link: none is written over."""
    folder = lesson_folder(desk)
    folder.mkdir()
    (folder / LESSON).write_text('{"cells": [], "metadata": {}}')
    lay_lesson(plan(Step(1, text="a")), desk)
    assert (folder / "lesson-old.ipynb").read_text() == '{"cells": [], "metadata": {}}'
    target = desk.parent / "elsewhere.ipynb"
    target.write_text("mine")
    (folder / LESSON).unlink()
    (folder / LESSON).symlink_to(target)
    lay_lesson(plan(Step(1, text="a")), desk)
    assert target.read_text() == "mine"
    assert not (folder / LESSON).is_symlink()


def test_a_folder_that_cannot_be_used(desk: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = lesson_folder(desk)
    folder.write_text("a file")
    with pytest.raises(LessonError, match=r"is no plain folder; expected a folder that"):
        lay_lesson(plan(Step(1, text="a")), desk)
    assert folder.read_text() == "a file"
    folder.unlink()
    monkeypatch.setattr(os, "access", lambda *_: False)
    with pytest.raises(LessonError, match=r"cannot be written to; expected"):
        lay_lesson(plan(Step(1, text="a")), desk)
    assert not (folder / LESSON).exists()


def test_a_picture_that_is_gone_leaves_the_lesson_as_it_was(desk: Path) -> None:
    step = Step(1, picture="wood.jpg", line=7)
    laid = lay_lesson(plan(step), desk)
    (desk.parent / "wood.jpg").unlink()
    before = (laid.folder / LESSON).read_bytes()
    with pytest.raises(PlanError, match="line 7"):
        lay_lesson(plan(step, Step(1, text="more")), desk)
    assert (laid.folder / LESSON).read_bytes() == before
