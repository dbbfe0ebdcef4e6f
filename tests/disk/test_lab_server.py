"""Which pages the server knows as ours, and which it signs."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import nbformat
import pytest
from nbformat.sign import NotebookNotary

from mensura.disk import lab_server
from mensura.disk.lab_server import (
    ASKED,
    _load_jupyter_server_extension,
    lesson_of,
    pages_of,
    sign,
)
from mensura.disk.layout import lay_out

NAME = "01-girth.ipynb"


def book(*sources: str) -> bytes:
    cells = [
        nbformat.v4.new_code_cell(
            one, outputs=[nbformat.v4.new_output("display_data", {"text/html": "<b>1</b>"})]
        )
        for one in sources
    ]
    return nbformat.writes(nbformat.v4.new_notebook(cells=cells)).encode()


@pytest.fixture
def source(tmp_path: Path) -> Path:
    """A chapter, a page for lecturers and a text, as if shipped."""
    place = tmp_path / "shipped"
    (place / "lecturer").mkdir(parents=True)
    (place / NAME).write_bytes(book("import mensura"))
    (place / "lecturer" / "00-key.ipynb").write_bytes(book("1"))
    (place / "notes.md").write_text("notes")
    return place


@pytest.fixture
def notary(tmp_path: Path) -> Any:
    made: Any = NotebookNotary(data_dir=str(tmp_path), secret=b"alder", db_file=":memory:")
    return made


def start(folder: Path, notary: Any, monkeypatch: pytest.MonkeyPatch, source: Path) -> Any:
    """What the page is told after the server has loaded the extension."""
    monkeypatch.setattr(lab_server, "shipped", lambda _: source)
    warned: list[str] = []
    app = SimpleNamespace(
        contents_manager=SimpleNamespace(root_dir=str(folder), notary=notary),
        web_app=SimpleNamespace(settings={}),
        log=SimpleNamespace(warning=lambda *words: warned.append(words[0] % words[1:])),
    )
    _load_jupyter_server_extension(app)
    return json.loads(app.web_app.settings["page_config_data"]["mensura"])["pages"], warned


def test_what_was_laid_out_is_ours_and_signed(
    tmp_path: Path, source: Path, notary: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "mine"
    lay_out(source, folder, lecturer=True)
    (folder / "other.ipynb").write_bytes(book("import mensura"))
    assert start(folder, notary, monkeypatch, source) == ([NAME, "lecturer/00-key.ipynb"], [])
    assert notary.check_signature(nbformat.read(folder / NAME, as_version=4))


def test_a_changed_page_is_named_and_not_signed(
    tmp_path: Path, source: Path, notary: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its fresh copy is; a link by a name of ours is neither."""
    folder = tmp_path / "mine"
    lay_out(source, folder, lecturer=True)
    (folder / NAME).write_bytes(book("import mensura, os"))
    (folder / "lecturer" / "00-key.ipynb").unlink()
    (folder / "lecturer" / "00-key.ipynb").symlink_to(source / "lecturer" / "00-key.ipynb")
    lay_out(source, folder, lecturer=True)
    names, _ = start(folder, notary, monkeypatch, source)
    assert names == [NAME, "01-girth-fresh.ipynb", "lecturer/00-key-fresh.ipynb"]
    signed = {
        name: notary.check_signature(nbformat.read(folder / name, as_version=4)) for name in names
    }
    assert signed == {name: name != NAME for name in names}


def test_the_source_itself_and_a_folder_in_it(source: Path) -> None:
    """Where they lie, by their names there."""
    assert pages_of(source, source) == {NAME: True, "lecturer/00-key.ipynb": True}
    assert pages_of(source / "lecturer", source) == {"00-key.ipynb": True}


def test_signing_again_is_nothing_new(tmp_path: Path, source: Path, notary: Any) -> None:
    assert sign([NAME], source, notary) == 1
    assert sign([NAME], source, notary) == 0


def test_a_failure_is_logged_and_the_names_stand(
    tmp_path: Path, source: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without a store of signatures no page starts by itself, and JupyterLab starts anyway."""

    class Broken:
        def check_signature(self, _: Any) -> bool:
            raise OSError("disk full")

    folder = tmp_path / "mine"
    lay_out(source, folder, lecturer=True)
    names, warned = start(folder, Broken(), monkeypatch, source)
    assert names == [NAME, "lecturer/00-key.ipynb"]
    assert warned == ["mensura: pages will not start by themselves: disk full"]


def test_the_lesson_that_was_just_laid_is_signed_and_no_other(
    tmp_path: Path, source: Path, notary: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By its digest, which the command hands over: a folder cannot name a lesson by itself."""
    folder = tmp_path / "tapes-lesson"
    folder.mkdir()
    lesson = folder / "lesson.ipynb"
    lesson.write_bytes(book("import mensura"))
    digest = hashlib.sha256(lesson.read_bytes()).hexdigest()
    assert start(folder, notary, monkeypatch, source) == ([], [])
    monkeypatch.setenv(ASKED, digest)
    assert start(folder, notary, monkeypatch, source) == (["lesson.ipynb"], [])
    assert notary.check_signature(nbformat.read(lesson, as_version=4))
    lesson.write_bytes(book("import mensura, os"))
    assert start(folder, notary, monkeypatch, source) == ([], [])
    assert not notary.check_signature(nbformat.read(lesson, as_version=4))
    lesson.rename(folder / "other.ipynb")
    lesson.symlink_to(folder / "other.ipynb")
    assert lesson_of(folder, hashlib.sha256(lesson.read_bytes()).hexdigest()) == ""
