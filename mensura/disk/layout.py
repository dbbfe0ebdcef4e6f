"""Laying the shipped workbooks out in a user's folder, so that nothing of the user's is ever lost.

A small hidden record in the folder keeps the digest of each file as it was laid. A file that still
has that digest is ours and may be renewed; any other is the user's, and a fresh copy goes beside
it. Files appear whole or not at all, and no link in the folder is written through.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
import stat
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import takewhile
from pathlib import Path, PurePosixPath
from typing import Any

from mensura.checks import shown
from mensura.disk.plan_place import is_lecturers
from mensura.disk.writing import numbered, reason, write_whole

#: The record's name in the user's folder: relative name → SHA-256 of what was laid there, and
#: with " (sources)" after it, of what its cells said.
RECORD_NAME = ".mensura-laid-out.json"

_MOST_RECORD_BYTES = 1_000_000
_DIGEST = re.compile(r"[0-9a-f]{64}", re.ASCII)
#: After a name in the record: what was written in the cells, since a page is saved once it runs.
_SOURCES = " (sources)"
#: How Windows marks a junction (stat.IO_REPARSE_TAG_MOUNT_POINT, which other systems lack).
_JUNCTION = 0xA0000003
_WANTED = "expected a folder of your own that can be written to"
_PASSED_OVER = {".ipynb_checkpoints", "__pycache__"}


class LayoutError(Exception):
    """A folder that workbooks cannot be laid out in; the message is one sentence."""


@dataclass(frozen=True)
class LaidOut:
    """What was done in the folder; names are relative to it and parted by "/".

    folder: where, absolute; in_place: the folder holds the workbooks' own source, so that nothing
    was laid; names: all shipped files for whoever opens them, sorted; new: laid for the first time;
    renewed: replaced by a newer one, the old one being unchanged; notes: one sentence for each file
    that the user has changed or that could not be laid.
    """

    folder: Path
    in_place: bool
    names: tuple[str, ...]
    new: tuple[str, ...] = ()
    renewed: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def lay_out(source: Path, folder: Path, *, lecturer: bool = False) -> LaidOut:
    """Lays every file of `source` out in `folder`, and changes nothing that the user has changed.

    source: folder of the shipped workbooks, read with all its folders; folder: the user's, made if
    missing; lecturer: whether the lecturer's files are laid out as well. A class never gets those;
    where they are already, they stay as they are. If `folder` is the source, lies inside it, or is
    the workbooks folder of a clone of this project, nothing is written.
    Raises LayoutError, in one sentence, if `folder` is a file or cannot be written.

    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as place:
    ...     source, folder = Path(place, "shipped"), Path(place, "mine")
    ...     source.mkdir()
    ...     _ = (source / "01-girth.md").write_text("fresh")
    ...     first = lay_out(source, folder).new
    ...     _ = (folder / "01-girth.md").write_text("my notes")
    ...     first, lay_out(source, folder).notes
    (('01-girth.md',),
     ('01-girth.md was changed by you and stays as it is; the fresh one lies beside it as
     01-girth-fresh.md.',))
    """
    names = shipped_names(source) if lecturer else class_names(source)
    place = _absolute(folder)
    if is_source(place, source):
        return LaidOut(place, True, names)
    _make(place)
    record = read_record(place)
    lay = _Lay(source, place, frozenset(names), dict(record))
    for name in names:
        try:
            lay.one(name)
        except OSError as error:
            what = f"{_quoted(name)} could not be laid out in {shown(str(place))}"
            raise LayoutError(f"{what}: {reason(error)}; {_WANTED}.") from None
    if lay.record != record:
        lay.keep_record()
    return LaidOut(place, False, names, tuple(lay.new), tuple(lay.renewed), tuple(lay.notes))


def shipped_names(source: Path) -> tuple[str, ...]:
    """Relative names of all files below a folder, parted by "/", sorted.

    source: folder of the shipped workbooks. Hidden files, checkpoints and links are passed over.
    """
    return tuple(sorted(_names(source, PurePosixPath())))


def class_names(source: Path) -> tuple[str, ...]:
    """The same without the lecturer's files: what a class gets.

    source: folder of the shipped workbooks.
    """
    return tuple(name for name in shipped_names(source) if not is_lecturers(name))


def is_source(place: Path, source: Path) -> bool:
    """Whether a folder holds the workbooks' own source, so that they are opened where they lie.

    place: the folder, absolute; source: folder of the shipped workbooks.
    """
    root = source.resolve()
    in_clone = place.name == "workbooks" and (place.parent / "mensura" / "places.py").is_file()
    return place == root or root in place.parents or in_clone


def fresh_of(name: str, folder: Path) -> list[str]:
    """Names of the fresh copies that lie beside a changed file, the newest last.

    name: of the shipped file, relative and parted by "/"; folder: the user's.
    """
    names = takewhile(lambda one: os.path.lexists(folder / one), _fresh_names(name))
    return list(names)


def read_record(folder: Path) -> dict[str, str]:
    """What was laid out in a folder before: relative name → SHA-256; empty if that is unknown.

    folder: the user's. A record that is missing, damaged, over 1 MB or a link counts as none.
    """
    path = folder / RECORD_NAME
    raw = _read(path, _MOST_RECORD_BYTES)
    try:
        record = json.loads(raw or b"")
    except (ValueError, RecursionError):
        return {}
    if not isinstance(record, dict):
        return {}
    good = all(isinstance(mark, str) and _DIGEST.fullmatch(mark) for mark in record.values())
    return record if good else {}


def only_run(users: bytes, shipped: bytes) -> bool:
    """Whether a notebook differs from the shipped one in nothing that a person wrote.

    users, shipped: the two files as they lie on the disk. True if both are notebooks whose cells
    have the same types and the same sources, in order; outputs, counts and metadata may differ.

    >>> cell = {"cell_type": "code", "source": ["a = 1\\n", "a"], "outputs": []}
    >>> run = {**cell, "source": "a = 1\\na", "outputs": [1], "execution_count": 1}
    >>> pages = [json.dumps({"cells": [each]}).encode() for each in (cell, run)]
    >>> only_run(pages[1], pages[0]), only_run(b"notes", pages[0])
    (True, False)
    """
    mine, theirs = _cells(users), _cells(shipped)
    return mine is not None and mine == theirs


class _Lay:
    """One laying-out: what has been done so far, file after file."""

    def __init__(
        self, source: Path, folder: Path, names: frozenset[str], record: dict[str, str]
    ) -> None:
        self.source, self.folder, self.names, self.record = source, folder, names, record
        self.new: list[str] = []
        self.renewed: list[str] = []
        self.notes: list[str] = []

    def one(self, name: str) -> None:
        blocking = self._blocking_parent(name)
        if blocking:
            self.notes.append(
                f"{_quoted(name)} was not laid out, since {_quoted(blocking)} is not a plain "
                "folder here."
            )
            return
        fresh = (self.source / name).read_bytes()
        path = self.folder / name
        if not os.path.lexists(path):
            path.parent.mkdir(parents=True, exist_ok=True)
            self._put(name, fresh)
            self.new.append(name)
            return
        present = _read(path)
        if present is None:
            why = "cannot be read as a plain file and stays as it is"
            self.notes.append(f"{_quoted(name)} {why}; {self._beside(name, fresh)}.")
        elif present == fresh:
            self._keep(name, fresh)
        elif _digest(present) == self.record.get(name):
            self._put(name, fresh)
            self.renewed.append(name)
        elif not only_run(present, fresh):
            why = "was changed by you" if name in self.record else "differs from the shipped one"
            if self._only_ran(name, present):
                why = "is of another version (it was run here, not changed)"
            elif name.endswith(".ipynb") and _cells(present) is None:
                why = "is damaged (no notebook can be read in it)"
            self.notes.append(
                f"{_quoted(name)} {why} and stays as it is; {self._beside(name, fresh)}."
            )

    def keep_record(self) -> None:
        """Writes the record; without it the files are laid all the same, and a note says so."""
        text = json.dumps(self.record, indent=1, sort_keys=True) + "\n"
        try:
            write_whole(self.folder / RECORD_NAME, text.encode())
        except OSError as error:
            self.notes.append(f"the record {RECORD_NAME} could not be kept: {reason(error)}.")

    def _put(self, name: str, content: bytes) -> None:
        write_whole(self.folder / name, content)
        self._keep(name, content)

    def _keep(self, name: str, content: bytes) -> None:
        self.record[name] = _digest(content)
        written = _cells(content)
        if written is not None:
            self.record[name + _SOURCES] = _digest(json.dumps(written).encode())

    def _only_ran(self, name: str, present: bytes) -> bool:
        """Whether the file is one that we laid, run and saved since, and not written in."""
        written = _cells(present)
        mark = self.record.get(name + _SOURCES)
        return written is not None and mark == _digest(json.dumps(written).encode())

    def _beside(self, name: str, fresh: bytes) -> str:
        """Sees to a fresh copy beside the user's file, and says where it is."""
        for candidate in _fresh_names(name):
            path = self.folder / candidate
            if candidate in self.names:
                continue
            if not os.path.lexists(path):
                write_whole(path, fresh)
                return f"the fresh one lies beside it as {_quoted(candidate)}"
            present = _read(path)
            if present is not None and (present == fresh or only_run(present, fresh)):
                return f"the fresh one already lies beside it as {_quoted(candidate)}"
        raise AssertionError  # the names never end

    def _blocking_parent(self, name: str) -> str:
        """The first folder on the way to the file that is a link or no folder, or ""."""
        parents = [str(each) for each in PurePosixPath(name).parents][-2::-1]
        for parent in parents:
            path = self.folder / parent
            if os.path.lexists(path) and not _is_plain_folder(path.lstat()):
                return parent
        return ""


def _is_plain_folder(state: os.stat_result) -> bool:
    """A folder and no link; Windows has junctions, links that call themselves folders."""
    junction = getattr(state, "st_reparse_tag", 0) == _JUNCTION
    return stat.S_ISDIR(state.st_mode) and not junction


def _fresh_names(name: str) -> Iterator[str]:
    yield from map(str, numbered(PurePosixPath(name), "fresh"))


def _names(folder: Path, below: PurePosixPath) -> Iterator[str]:
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.name in _PASSED_OVER or entry.name.startswith("."):
                continue
            if entry.is_dir(follow_symlinks=False):
                yield from _names(folder / entry.name, below / entry.name)
            elif entry.is_file(follow_symlinks=False):
                yield str(below / entry.name)


def _absolute(folder: Path) -> Path:
    try:
        return folder.resolve()
    except (OSError, RuntimeError):  # a link to itself, or the current folder is gone
        raise LayoutError(
            f"the folder {shown(str(folder))} cannot be found; expected a folder."
        ) from None


def _make(place: Path) -> None:
    if os.path.lexists(place) and not place.is_dir():
        raise LayoutError(f"{shown(str(place))} is a file; expected a folder.")
    try:
        place.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise LayoutError(
            f"the folder {shown(str(place))} cannot be used: {reason(error)}; {_WANTED}."
        ) from None
    if not os.access(place, os.W_OK | os.X_OK):
        raise LayoutError(f"the folder {shown(str(place))} cannot be written to; {_WANTED}.")


def _read(path: Path, most_bytes: int | None = None) -> bytes | None:
    """A plain file's content; None for a link, a folder, a pipe, or what cannot be read."""
    try:
        state = path.lstat()
        if not stat.S_ISREG(state.st_mode) or state.st_size > (most_bytes or state.st_size):
            return None
        return path.read_bytes()
    except OSError:
        return None


def _cells(content: bytes) -> list[tuple[Any, str]] | None:
    try:
        cells = json.loads(content)["cells"]
        return [(cell["cell_type"], "".join(cell["source"])) for cell in cells]
    except (ValueError, KeyError, TypeError, RecursionError):
        return None


def _digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def _quoted(name: str) -> str:
    return name if name.isprintable() else ascii(name)
