"""Files are whole or not there, and what is there stays."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from mensura.disk.writing import write_new, write_whole


def test_files_are_whole_or_not_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An old file stays as it was if the new one cannot be finished."""
    path = tmp_path / "a.txt"
    write_whole(path, b"old")
    assert write_new(path, b"other") is False
    monkeypatch.setattr(os, "replace", lambda *_: (_ for _ in ()).throw(OSError(5, "Input error")))
    with pytest.raises(OSError, match="Input"):
        write_whole(path, b"new")
    assert path.read_bytes() == b"old"
    assert [one.name for one in tmp_path.iterdir()] == ["a.txt"]
