"""Laying workbooks out: everything arrives, and nothing of the user's is ever lost."""

from __future__ import annotations

import hashlib
import json
import os
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mensura.disk import layout
from mensura.disk.layout import RECORD_NAME, LayoutError, lay_out, only_run, read_record

NAME = "02-out-of-round.ipynb"
FRESH = "02-out-of-round-fresh.ipynb"


def notebook(*sources: str, outputs: int = 0, cell_type: str = "code") -> bytes:
    """A small notebook; `outputs` stands for what running it leaves behind."""
    cells: list[dict[str, Any]] = [
        {"cell_type": cell_type, "source": source, "outputs": [outputs], "execution_count": outputs}
        for source in sources
    ]
    return json.dumps({"cells": cells, "metadata": {"kernel": outputs}, "nbformat": 4}).encode()


def put(folder: Path, name: str, content: bytes) -> Path:
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)
    return path


def contents(folder: Path) -> dict[str, bytes]:
    """Every file below a folder but the record, by relative name."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file() and path.name != RECORD_NAME
    }


@pytest.fixture
def source(tmp_path: Path) -> Path:
    folder = tmp_path / "shipped"
    put(folder, NAME, notebook("a = 1"))
    return folder


@pytest.fixture
def mine(tmp_path: Path) -> Path:
    return tmp_path / "mine"


def test_everything_is_laid_out_with_its_folders(source: Path, mine: Path) -> None:
    put(source, "more/proof/girth.md", b"proof")
    put(source, ".ipynb_checkpoints/02-checkpoint.ipynb", b"{}")
    put(source, "more/.ipynb_checkpoints/girth-checkpoint.md", b"old")
    laid = lay_out(source, mine / "deep" / "folder")
    place = mine / "deep" / "folder"
    assert contents(place) == {NAME: notebook("a = 1"), "more/proof/girth.md": b"proof"}
    assert laid.new == laid.names == (NAME, "more/proof/girth.md")
    assert (laid.folder, laid.renewed, laid.notes) == (place.resolve(), (), ())
    assert set(read_record(place)) == {*laid.names, f"{NAME} (sources)"}


def test_a_second_time_writes_nothing(source: Path, mine: Path) -> None:
    lay_out(source, mine)
    before = {path: path.stat().st_ino for path in mine.iterdir()}
    laid = lay_out(source, mine)
    assert (laid.new, laid.renewed, laid.notes) == ((), (), ())
    assert {path: path.stat().st_ino for path in mine.iterdir()} == before


def test_an_unchanged_file_is_renewed_and_a_deleted_one_laid_again(
    source: Path, mine: Path
) -> None:
    put(source, "notes.md", b"one")
    lay_out(source, mine)
    put(source, NAME, notebook("a = 2"))
    (mine / "notes.md").unlink()
    laid = lay_out(source, mine)
    assert (laid.new, laid.renewed, laid.notes) == (("notes.md",), (NAME,), ())
    assert contents(mine) == {NAME: notebook("a = 2"), "notes.md": b"one"}
    put(source, NAME, notebook("a = 3"))
    assert lay_out(source, mine).renewed == (NAME,)


def test_a_notebook_that_was_only_run_is_left_alone_silently(source: Path, mine: Path) -> None:
    lay_out(source, mine)
    run = notebook("a = 1", outputs=7)
    put(mine, NAME, run)
    put(source, NAME, notebook("a = 1", outputs=1))  # newer, though no cell says anything else
    laid = lay_out(source, mine)
    assert (laid.new, laid.renewed, laid.notes) == ((), (), ())
    assert contents(mine) == {NAME: run}


DAMAGED = "is damaged (no notebook can be read in it)"


@pytest.mark.parametrize(
    "changed",
    [
        notebook("a = 2"),
        notebook("a = 1", "b"),
        notebook(),
        notebook("a = 1", cell_type="markdown"),
        b"",
        b"not a notebook \xff",
        b"[" * 100_000,
        b'{"cells": 3}',
        b'{"cells": [3]}',
    ],
)
def test_a_changed_file_stays_and_the_fresh_one_goes_beside_it(
    source: Path, mine: Path, changed: bytes
) -> None:
    lay_out(source, mine)
    put(mine, NAME, changed)
    laid = lay_out(source, mine)
    assert contents(mine) == {NAME: changed, FRESH: notebook("a = 1")}
    assert (laid.new, laid.renewed) == ((), ())
    readable = only_run(changed, changed)
    why = "was changed by you" if readable else "is damaged (no notebook can be read in it)"
    assert laid.notes == (
        f"{NAME} {why} and stays as it is; the fresh one lies beside it as {FRESH}.",
    )


@pytest.mark.parametrize("damaged", [b"", b"{", b'{"cells": 3}', b"\xff\xfe\x00"])
def test_a_notebook_that_is_none_any_more_stays_and_is_told(
    source: Path, mine: Path, damaged: bytes
) -> None:
    """Half a download, say: one note, and a fresh one beside it; the other files are laid."""
    put(source, "02-next.ipynb", notebook("b = 1"))
    put(mine, NAME, damaged)
    laid = lay_out(source, mine)
    assert laid.notes == (
        f"{NAME} is damaged (no notebook can be read in it) and stays as it is; the fresh one "
        f"lies beside it as {FRESH}.",
    )
    assert contents(mine) == {
        NAME: damaged, FRESH: notebook("a = 1"), "02-next.ipynb": notebook("b = 1")
    }  # fmt: skip


def test_a_folder_of_another_version(source: Path, mine: Path) -> None:
    """Older or newer: what is unchanged becomes this version's, what is not is kept beside it."""
    put(source, "02-next.ipynb", notebook("b = 1"))
    lay_out(source, mine)
    put(mine, NAME, notebook("a = mine"))
    put(mine, "03-of-a-newer-one.ipynb", notebook("c = 1"))
    for edition in ("2", "1"):  # forward, and back again
        put(source, NAME, notebook(f"a = {edition}"))
        put(source, "02-next.ipynb", notebook(f"b = {edition}"))
        laid = lay_out(source, mine)
        assert laid.renewed == ("02-next.ipynb",)
        assert NAME in laid.notes[0]
        assert len(laid.notes) == 1
        assert contents(mine)[NAME] == notebook("a = mine")
        assert contents(mine)["03-of-a-newer-one.ipynb"] == notebook("c = 1")
        assert notebook(f"a = {edition}") in contents(mine).values()


def test_a_second_fresh_copy_is_made_only_if_it_differs(source: Path, mine: Path) -> None:
    lay_out(source, mine)
    put(mine, NAME, b"mine")
    lay_out(source, mine)
    again = lay_out(source, mine)
    assert again.notes[0].endswith(f"the fresh one already lies beside it as {FRESH}.")
    assert set(contents(mine)) == {NAME, FRESH}
    put(mine, FRESH, notebook("a = 1", outputs=3))  # running the fresh copy changes nothing
    assert lay_out(source, mine).notes == again.notes
    put(source, NAME, notebook("a = 2"))
    second = FRESH.replace("-fresh", "-fresh-2")
    assert lay_out(source, mine).notes[0].endswith(f"lies beside it as {second}.")
    assert contents(mine) == {
        NAME: b"mine",
        FRESH: notebook("a = 1", outputs=3),
        second: notebook("a = 2"),
    }


def test_a_run_notebook_of_an_older_edition_is_kept(source: Path, mine: Path) -> None:
    lay_out(source, mine)
    put(mine, NAME, notebook("a = 1", outputs=7))
    put(source, NAME, notebook("a = 2"))
    lay_out(source, mine)
    assert contents(mine) == {NAME: notebook("a = 1", outputs=7), FRESH: notebook("a = 2")}


def test_a_run_notebook_of_another_version_is_not_called_changed(source: Path, mine: Path) -> None:
    """Each page is saved once it has run, so that its bytes are no sign of a hand in it."""
    lay_out(source, mine)
    put(source, NAME, notebook("a = 2"))
    put(mine, NAME, notebook("a = 1", outputs=7))
    kept = f"stays as it is; the fresh one lies beside it as {FRESH}."
    assert lay_out(source, mine).notes == (
        f"{NAME} is of another version (it was run here, not changed) and {kept}",
    )
    (mine / FRESH).unlink()
    put(mine, NAME, notebook("a = 1 # mine", outputs=7))
    assert lay_out(source, mine).notes == (f"{NAME} was changed by you and {kept}",)


def test_a_fresh_name_that_is_itself_shipped_is_not_used(source: Path, mine: Path) -> None:
    put(source, "notes", b"notes")
    put(source, "notes-fresh", b"shipped under this name")
    put(mine, "notes", b"mine")
    lay_out(source, mine)
    assert contents(mine) == {
        NAME: notebook("a = 1"),
        "notes": b"mine",
        "notes-fresh": b"shipped under this name",
        "notes-fresh-2": b"notes",
    }


def test_without_a_record_a_differing_file_is_the_users(source: Path, mine: Path) -> None:
    older = notebook("a = older, or mine")
    put(mine, NAME, older)
    laid = lay_out(source, mine)
    assert contents(mine) == {NAME: older, FRESH: notebook("a = 1")}
    assert laid.notes[0].startswith(f"{NAME} differs from the shipped one and stays as it is;")


def test_without_a_record_an_identical_file_is_ours(source: Path, mine: Path) -> None:
    lay_out(source, mine)
    (mine / RECORD_NAME).unlink()
    lay_out(source, mine)
    put(source, NAME, notebook("a = 2"))
    assert lay_out(source, mine).renewed == (NAME,)


@pytest.mark.parametrize(
    "record",
    [
        b"",
        b"{",
        b"\xff\xfe\x00",
        b"[]",
        b"3",
        b"null",
        b"[" * 100_000,
        json.dumps({NAME: 1}).encode(),
        json.dumps({NAME: "abc"}).encode(),
        json.dumps({"n" * 1_000_000: "0" * 64}).encode(),
    ],
)
def test_a_damaged_record_is_no_record_and_loses_nothing(
    source: Path, mine: Path, record: bytes
) -> None:
    lay_out(source, mine)
    put(mine, RECORD_NAME, record)
    put(mine, NAME, b"mine")
    assert read_record(mine) == {}
    lay_out(source, mine)
    assert contents(mine) == {NAME: b"mine", FRESH: notebook("a = 1")}
    (mine / NAME).unlink()
    lay_out(source, mine)
    assert set(read_record(mine)) == {NAME, f"{NAME} (sources)"}


def test_a_record_that_cannot_be_kept_is_said_and_the_files_are_laid(
    source: Path, mine: Path
) -> None:
    (mine / RECORD_NAME / "inside").mkdir(parents=True)
    laid = lay_out(source, mine)
    assert contents(mine) == {NAME: notebook("a = 1")}
    assert laid.notes == (f"the record {RECORD_NAME} could not be kept: is a directory.",)
    assert sorted(os.listdir(mine)) == [RECORD_NAME, NAME]


def test_links_are_never_written_through(source: Path, mine: Path, tmp_path: Path) -> None:
    outside = tmp_path / "outside"
    put(source, "more/girth.md", b"proof")
    put(source, "notes.md", b"notes")
    put(outside, "precious.ipynb", b"precious")
    put(outside, "record", json.dumps({NAME: hashlib.sha256(b"precious").hexdigest()}).encode())
    record = (outside / "record").read_bytes()
    mine.mkdir()
    (mine / NAME).symlink_to(outside / "precious.ipynb")
    (mine / FRESH).symlink_to(outside / "precious.ipynb")
    (mine / "notes.md").symlink_to(outside / "not-there")
    (mine / "more").symlink_to(outside, target_is_directory=True)
    (mine / RECORD_NAME).symlink_to(outside / "record")
    laid = lay_out(source, mine)
    assert contents(outside) == {"precious.ipynb": b"precious", "record": record}
    assert (mine / NAME).is_symlink()
    assert (mine / FRESH).is_symlink()
    assert (mine / "notes.md").is_symlink()
    assert (mine / "02-out-of-round-fresh-2.ipynb").read_bytes() == notebook("a = 1")
    assert (mine / "notes-fresh.md").read_bytes() == b"notes"
    assert len(laid.notes) == 3
    assert laid.notes[1] == (
        "more/girth.md was not laid out, since more is not a plain folder here."
    )


def test_a_folder_under_a_workbooks_name_stays(source: Path, mine: Path) -> None:
    put(mine, f"{NAME}/kept.txt", b"kept")
    laid = lay_out(source, mine)
    assert contents(mine) == {f"{NAME}/kept.txt": b"kept", FRESH: notebook("a = 1")}
    assert "cannot be read as a plain file" in laid.notes[0]


def test_a_linked_folder_itself_may_be_chosen(source: Path, mine: Path, tmp_path: Path) -> None:
    mine.mkdir()
    (tmp_path / "way").symlink_to(mine, target_is_directory=True)
    assert lay_out(source, tmp_path / "way").folder == mine.resolve()
    assert contents(mine) == {NAME: notebook("a = 1")}


def test_a_file_is_no_folder(source: Path, tmp_path: Path) -> None:
    put(tmp_path, "file", b"mine")
    for place, words in (("file", "is a file; expected a folder."), ("file/below", "directory.")):
        with pytest.raises(LayoutError, match=words):
            lay_out(source, tmp_path / place)
    assert (tmp_path / "file").read_bytes() == b"mine"


def test_a_folder_that_cannot_be_written_is_refused_before_anything(
    source: Path, mine: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    mine.mkdir()
    monkeypatch.setattr(os, "access", lambda *_: False)
    with pytest.raises(LayoutError, match="cannot be written to; expected a folder of your own"):
        lay_out(source, mine)
    assert os.listdir(mine) == []


def test_a_disk_that_fails_midway_leaves_whole_files_only(
    source: Path, mine: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    lay_out(source, mine)
    put(source, NAME, notebook("a = 2"))
    put(source, "01-girth.ipynb", b"new")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(LayoutError, match=r"01-girth\.ipynb could not be laid out in .*: no space"):
        lay_out(source, mine)
    assert contents(mine) == {NAME: notebook("a = 1")}


@pytest.mark.parametrize("below", ["", "more"])
def test_the_source_itself_is_opened_where_it_lies(source: Path, below: str) -> None:
    put(source, "more/girth.md", b"proof")
    before = contents(source)
    laid = lay_out(source, source / below)
    assert laid.in_place
    assert laid.names == (NAME, "more/girth.md")
    assert contents(source) == before
    assert not list(source.rglob(RECORD_NAME))


def test_a_clones_own_workbooks_are_opened_where_they_lie(source: Path, tmp_path: Path) -> None:
    clone = tmp_path / "clone"
    put(clone, "mensura/places.py", b"")
    put(clone, f"workbooks/{NAME}", b"being written")
    assert lay_out(source, clone / "workbooks").in_place
    assert contents(clone / "workbooks") == {NAME: b"being written"}
    assert not (clone / "workbooks" / RECORD_NAME).exists()


def test_only_run_reads_both_spellings_of_a_source() -> None:
    split = notebook("a = 1\nb").replace(b'"a = 1\\nb"', b'["a = 1\\n", "b"]')
    assert only_run(split, notebook("a = 1\nb", outputs=2))
    assert not only_run(split, notebook("a = 1\nc"))
    assert not only_run(b"same text", b"same text")  # no notebooks at all


CONTENT = st.sampled_from([b"one", b"two", notebook("a"), notebook("a", outputs=1), notebook("b")])
STEP = st.one_of(
    st.tuples(st.just("ship"), st.just("w.ipynb"), CONTENT),
    st.tuples(st.just("write"), st.sampled_from(["w.ipynb", "w-fresh.ipynb"]), CONTENT),
    st.tuples(st.just("delete"), st.sampled_from(["w.ipynb", RECORD_NAME]), st.just(b"")),
)


@settings(max_examples=150, deadline=None)
@given(steps=st.lists(STEP, max_size=8))
def test_whatever_happens_only_what_we_laid_is_ever_replaced(
    steps: list[tuple[str, str, bytes]], tmp_path_factory: pytest.TempPathFactory
) -> None:
    place = tmp_path_factory.mktemp("any")
    source, mine = place / "shipped", place / "mine"
    shipped = b"one"
    put(source, "w.ipynb", shipped)
    laid_before: set[bytes] = set()
    for action, name, content in [*steps, ("ship", "w.ipynb", b"last")]:
        if action == "ship":
            shipped = content
            put(source, name, content)
        elif action == "write":
            put(mine, name, content)
        else:
            (mine / name).unlink(missing_ok=True)
        before = contents(mine) if mine.exists() else {}
        lay_out(source, mine)
        laid_before.add(shipped)
        after = contents(mine)
        for kept, old in before.items():
            renewed = kept == "w.ipynb" and old in laid_before and after[kept] == shipped
            assert after[kept] == old or renewed
        assert any(new == shipped or only_run(new, shipped) for new in after.values())


def test_a_junction_of_windows_is_a_link(tmp_path: Path) -> None:
    """It calls itself a folder; what it leads to is somebody else's."""
    state = tmp_path.lstat()
    junction = SimpleNamespace(st_mode=state.st_mode, st_reparse_tag=0xA0000003)
    cloud = SimpleNamespace(st_mode=state.st_mode, st_reparse_tag=0x9000001A)
    assert not layout._is_plain_folder(junction)
    assert layout._is_plain_folder(cloud)  # a folder that a cloud service keeps is a folder
    assert layout._is_plain_folder(state)


# ---- the lecturer's files ------------------------------------------------------------------------


def test_a_class_never_gets_the_lecturers_files(source: Path, mine: Path) -> None:
    put(source, "lecturer/lesson.ipynb", notebook("lesson_desk()"))
    put(source, "lecturers-words.md", b"for all")
    laid = lay_out(source, mine)
    assert laid.names == laid.new == (NAME, "lecturers-words.md")
    assert not (mine / "lecturer").exists()


def test_a_lecturer_gets_them_and_may_change_them(source: Path, mine: Path) -> None:
    """They are laid out as all others are: a changed one stays, and a fresh one goes beside it."""
    put(source, "lecturer/lesson.ipynb", notebook("lesson_desk()"))
    assert lay_out(source, mine, lecturer=True).new == (NAME, "lecturer/lesson.ipynb")
    put(mine, "lecturer/lesson.ipynb", notebook("mine"))
    again = lay_out(source, mine, lecturer=True)
    assert contents(mine)["lecturer/lesson.ipynb"] == notebook("mine")
    assert contents(mine)["lecturer/lesson-fresh.ipynb"] == notebook("lesson_desk()")
    assert len(again.notes) == 1


def test_where_they_are_already_a_plain_opening_leaves_them_alone(source: Path, mine: Path) -> None:
    """Neither renewed nor taken away, nor forgotten: a lecturer renews them the next time."""
    put(source, "lecturer/lesson.ipynb", notebook("old"))
    lay_out(source, mine, lecturer=True)
    put(source, "lecturer/lesson.ipynb", notebook("new"))
    laid = lay_out(source, mine)
    assert (laid.new, laid.renewed, laid.notes) == ((), (), ())
    assert contents(mine)["lecturer/lesson.ipynb"] == notebook("old")
    assert lay_out(source, mine, lecturer=True).renewed == ("lecturer/lesson.ipynb",)
    assert contents(mine)["lecturer/lesson.ipynb"] == notebook("new")
