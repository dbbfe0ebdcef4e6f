"""A kept page: under the next free name, never over another file, whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from mensura.checks import MeasureError
from mensura.disk import pages
from mensura.disk.pages import save_page

PAGE = "<p>a² + b² &gt; 2ab</p>".encode()


def test_nothing_is_overwritten(tmp_path: Path) -> None:
    """The second page gets the next name; what a user put there stays, a link too."""
    (tmp_path / "my-proof-2.html").write_text("mine")
    (tmp_path / "elsewhere.txt").write_text("kept")
    os.symlink(tmp_path / "elsewhere.txt", tmp_path / "my-proof-3.html")
    os.symlink(tmp_path / "nowhere.txt", tmp_path / "my-proof-4.html")
    names = [save_page("my-proof", PAGE, tmp_path).name for _ in range(3)]
    assert names == ["my-proof.html", "my-proof-5.html", "my-proof-6.html"]
    assert (tmp_path / "my-proof-2.html").read_text() == "mine"
    assert (tmp_path / "elsewhere.txt").read_text() == "kept"
    assert not (tmp_path / "nowhere.txt").exists()
    assert (tmp_path / "my-proof.html").read_bytes() == PAGE
    assert not list(tmp_path.glob(".*.part"))


def test_a_folder_that_cannot_be_used(tmp_path: Path) -> None:
    """A folder that is not there, or is a file, is refused in one sentence; none is made."""
    (tmp_path / "file").write_text("x")
    for place in (tmp_path / "none", tmp_path / "file"):
        with pytest.raises(MeasureError, match=r"expected a folder that can be written to\.$"):
            save_page("my-proof", PAGE, place)
    assert not (tmp_path / "none").exists()


def test_a_disk_that_refuses(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """If the system refuses half-way, the refusal gives its reason and nothing is left behind."""

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(MeasureError, match="no space left on device"):
        save_page("my-proof", PAGE, tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_full_of_pages(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The search for a free name ends, and says of which pages there are too many."""
    monkeypatch.setattr(pages, "MOST_PAGES", 2)
    for _ in range(2):
        save_page("my-proof", PAGE, tmp_path)
    with pytest.raises(MeasureError, match=r"fewer than 2 pages named my-proof\.$"):
        save_page("my-proof", PAGE, tmp_path)
    assert len(list(tmp_path.iterdir())) == 2
