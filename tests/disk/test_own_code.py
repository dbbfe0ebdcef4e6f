"""A student's own code on the disk: kept whole, read by the rules for codes, and never over a file
of somebody's."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from mensura.disk import own_code
from mensura.disk.own_code import MOST_BYTES, OWN_CODE_NAME, Kept, OwnCodeFile


@pytest.fixture
def file(tmp_path: Path) -> OwnCodeFile:
    return OwnCodeFile(tmp_path)


def test_kept_read_changed_and_forgotten(file: OwnCodeFile) -> None:
    """One line of text under one name; nothing else is left in the folder."""
    assert file.read() == Kept()
    assert file.keep("Q07") == ""
    assert file.path.read_bytes() == b"Q07\n"
    assert file.keep("Q12") == ""
    assert OwnCodeFile(file.path.parent).read() == Kept("Q12")
    assert os.listdir(file.path.parent) == [OWN_CODE_NAME]
    assert file.forget() == ""
    assert file.forget() == ""
    assert os.listdir(file.path.parent) == []


@pytest.mark.parametrize("raw", [b" Q07 \r\n", b"\xef\xbb\xbfQ07", b"\n\nQ07\n"])
def test_as_an_editor_leaves_it(file: OwnCodeFile, raw: bytes) -> None:
    """Blanks, line breaks and a mark at the start are no part of a code."""
    file.path.write_bytes(raw)
    assert file.read() == Kept("Q07")


@pytest.mark.parametrize(
    ("raw", "told"),
    [
        (b"Q 07", "The code in my-code.txt is 'Q 07'; expected a code like Q07"),
        (b"../Q07", "The code in my-code.txt is '../Q07'; expected"),
        (b"Q07\nQ08\n", r"The code in my-code.txt is 'Q07\nQ08'; expected"),
        (b"\xff\xfe\x00", "my-code.txt is damaged; expected one code, like Q07."),
        (b"Q" * (MOST_BYTES + 1), f"my-code.txt holds more than {MOST_BYTES} letters; expected"),
    ],
)
def test_what_is_no_code(file: OwnCodeFile, raw: bytes, told: str) -> None:
    """One sentence; no code is taken from it, and what stood there is put aside and not lost."""
    file.path.write_bytes(raw)
    found = file.read()
    assert found.code is None
    assert found.note.startswith(told)
    assert found.note.count(". ") == 0
    assert file.forget() == ""
    assert file.path.read_bytes() == raw
    first = file.path.with_name("my-code-old.txt")
    first.write_text("older")
    assert file.keep("Q07") == "What stood in my-code.txt was no code and is kept as " + (
        "my-code-old-2.txt."
    )
    assert file.read() == Kept("Q07")
    assert file.path.with_name("my-code-old-2.txt").read_bytes() == raw
    assert first.read_text() == "older"


@pytest.mark.parametrize("kind", ["link", "broken link", "folder"])
def test_what_is_no_plain_file(file: OwnCodeFile, kind: str) -> None:
    """A link or a folder is told, never followed, and stays."""
    other = file.path.with_name("other.txt")
    if kind == "folder":
        file.path.mkdir()
    else:
        file.path.symlink_to(other)
    if kind == "link":
        other.write_text("Q99\n")
    before = file.path.lstat()
    assert file.read().code is None
    assert "is a link or a folder here" in file.read().note
    assert file.keep("Q07").endswith("The code is known for this sitting only.")
    assert file.forget() == ""
    assert file.path.lstat().st_ino == before.st_ino
    assert other.exists() == (kind == "link")
    if kind == "link":
        assert other.read_text() == "Q99\n"


def test_a_pipe_is_not_waited_for(file: OwnCodeFile) -> None:
    """It would be, for ever."""
    os.mkfifo(file.path)
    assert "expected a plain file" in file.read().note
    assert file.keep("Q07").endswith("this sitting only.")


def test_a_folder_that_cannot_be_written(
    file: OwnCodeFile, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is said, with the system's reason; nothing is raised."""

    def forbid(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    with monkeypatch.context() as patch:
        patch.setattr(own_code, "write_whole", forbid)
        told = file.keep("Q07")
    assert "cannot be written: permission denied. The code is known for this sitting only." in told
    assert file.keep("Q07") == ""
    monkeypatch.setattr(Path, "unlink", forbid)
    assert "cannot be changed: permission denied. The old code comes back" in file.forget()
    assert file.read() == Kept("Q07")


def test_a_file_that_cannot_be_read(file: OwnCodeFile, monkeypatch: pytest.MonkeyPatch) -> None:
    """One sentence, no code."""
    file.keep("Q07")

    def forbid(*_: object, **__: object) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(own_code.os, "open", forbid)
    assert file.read() == Kept(None, "my-code.txt cannot be read: permission denied.")


def test_a_current_folder_that_is_gone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is raised: it is told once something is to be kept."""
    gone = tmp_path / "gone"
    gone.mkdir()
    monkeypatch.chdir(gone)
    gone.rmdir()
    file = OwnCodeFile()
    assert file.read() == Kept()
    assert file.keep("Q07").endswith("The code is known for this sitting only.")
