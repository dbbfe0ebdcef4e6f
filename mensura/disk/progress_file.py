"""A student's progress on the disk, beside her workbook: every answer is one line, only ever added.

A line is acknowledged once it lies on the disk: one write to the end of the file, then fsync. So a
workbook that is killed loses nothing that was acknowledged, and two workbooks that are open at once
destroy nothing. A line that was torn stays in the file, is passed over, and is told. Whatever the
disk refuses is told in one sentence, and the student goes on.
"""

from __future__ import annotations

import json
import os
import stat
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from mensura.checks import MeasureError, shown
from mensura.disk.locks import held
from mensura.disk.writing import NO_LINK, reason
from mensura.teaching.problems.draw import MOST_TRIES
from mensura.teaching.problems.standing import Attempt

#: The one name of the file, in the folder of the workbook.
PROGRESS_NAME = "my-progress.jsonl"

#: Where a folder lies, as words or as a path.
Place = str | Path

#: A file that is larger is not read to its end: no class writes as much.
MOST_BYTES = 64_000_000

#: Held while a line is added; of no content, and it may be deleted when no workbook is open.
LOCK_NAME = ".my-progress.lock"

#: No line of a log is longer; a longer one is damaged.
LONGEST_LINE_BYTES = 4000

#: What an attempt's field is called in a line of the log, and what it may be.
_FIELDS: dict[str, tuple[str, Any]] = {
    "student": ("student", str),
    "key": ("key", str),
    "set_name": ("set", str),
    "family": ("family", str),
    "try_number": ("try", int),
    "text": ("text", str),
    "right": ("right", bool),
    "slip": ("slip", (str, type(None))),
    "hints": ("hints", int),
    "solution_read": ("solution_read", bool),
    "when": ("when", str),
}

#: Fields that older lines lack; what was tried then was of edition 1.
_LATER_FIELDS: dict[str, tuple[str, Any, Any]] = {
    "edition": ("edition", int, 1),
    "numbers": ("numbers", dict, {}),
}

_LARGEST = 1e300


class ProgressError(Exception):
    """Progress that cannot be kept or read; the message is one sentence."""


@dataclass(frozen=True)
class Log:
    """What a file holds.

    attempts: of all students, in the order of the file; damaged: numbers of the lines that could
    not be read, from 1; note: one sentence about those, or "".
    """

    attempts: tuple[Attempt, ...] = ()
    damaged: tuple[int, ...] = ()
    note: str = ""


def line_of(attempt: Attempt) -> str:
    """An attempt as one line of a log, with its line break.

    attempt: what was tried.

    >>> tried = Attempt("Q07", "k", "1", "girth-to-area", 1, "7\\n", True, None, 0, False, "t")
    >>> line_of(tried)[-66:]
    '"solution_read": false, "when": "t", "edition": 1, "numbers": {}}\\n'
    >>> read_line(line_of(tried)) == tried
    True
    """
    names = {name: row[0] for name, row in (*_FIELDS.items(), *_LATER_FIELDS.items())}
    told = {names[name]: value for name, value in asdict(attempt).items()}
    told["numbers"] = dict(attempt.numbers)
    # a lone surrogate would not go into a file: as an escape it does
    written = json.dumps(told, ensure_ascii=False)
    if not written.isprintable():
        written = json.dumps(told)
    return written + "\n"


def read_line(line: str) -> Attempt:
    """The attempt that a line of a log tells of; fields that are not known are passed over.

    line: with or without its line break. Raises MeasureError if it is no attempt.
    """
    wrong = MeasureError("line", line[:40], "", "an attempt as one JSON object")
    if len(line) > LONGEST_LINE_BYTES:
        raise wrong
    try:
        told = json.loads(line)
    except (ValueError, RecursionError):
        raise wrong from None
    if not isinstance(told, dict):
        raise wrong
    found: dict[str, Any] = {}
    for field, (name, kind) in _FIELDS.items():
        value = told.get(name, "?" if kind is int else 0)
        if not isinstance(value, kind) or (kind is int and isinstance(value, bool)):
            raise wrong
        found[field] = value
    for field, (name, kind, usual) in _LATER_FIELDS.items():
        found[field] = told.get(name, usual)
        if not isinstance(found[field], kind) or isinstance(found[field], bool):
            raise wrong
    if not 1 <= found["try_number"] <= MOST_TRIES or found["hints"] < 0 or found["edition"] < 1:
        raise wrong
    if not all(_is_number(value) for value in found["numbers"].values()):
        raise wrong
    found["numbers"] = tuple((name, float(value)) for name, value in found["numbers"].items())
    return Attempt(**found)


def _is_number(value: object) -> bool:
    if not isinstance(value, int | float) or isinstance(value, bool):
        return False
    return abs(value) <= _LARGEST  # neither nan nor endless, nor too large for a float


#: What the disk refused, by file: a cell that is run anew while the workbook is open finds it here.
_WAITING: dict[Path, list[Attempt]] = {}


class Progress:
    """All that is known of the attempts in one folder, and where new ones go.

    file: on the disk. What the disk refuses waits here, and is offered to it again with the next
    attempt; so a student loses nothing while her workbook is open, and is told what is not kept.
    `this_sitting_only` says whether that is so; `note` is what is to be told at the start, or "".
    """

    def __init__(self, file: ProgressFile) -> None:
        self.file = file
        self.waiting = _WAITING.setdefault(file.path, [])
        self._on_disk: tuple[Attempt, ...] = ()
        #: Whether the disk was seen to refuse, so that answers are kept here alone.
        self.this_sitting_only = False
        self.note = self.refresh()

    @property
    def attempts(self) -> tuple[Attempt, ...]:
        """Those on the disk, and behind them those that wait."""
        return (*self._on_disk, *self.waiting)

    def refresh(self) -> str:
        """Reads the file anew, since another workbook may add to it; returns what is to be told."""
        try:
            log = self.file.read()
        except ProgressError as error:
            self.this_sitting_only = True
            return str(error)
        self._on_disk = log.attempts
        barred = self.file.barred()
        self.this_sitting_only = bool(barred)
        only = f"{barred} Progress is kept for this sitting only." if barred else ""
        return f"{log.note} {only}".strip()

    def add(self, attempt: Attempt) -> str:
        """Keeps an attempt; returns "" if it lies on the disk, else one sentence.

        attempt: what was tried.
        """
        self.waiting.append(attempt)
        try:
            while self.waiting:
                self.file.append(self.waiting[0])
                self._on_disk = (*self._on_disk, self.waiting.pop(0))
        except ProgressError as error:
            self.this_sitting_only = True
            count = len(self.waiting)
            many = "answer is" if count == 1 else f"{count} answers are"
            return f"{error} The last {many} kept only while this workbook is open."
        self.refresh()
        return ""


class ProgressFile:
    """The file of one folder.

    folder: where the workbook lies; the current folder unless it is named.

    >>> import tempfile
    >>> tried = Attempt("Q07", "k", "1", "girth-to-area", 1, "78 cm2", True, None, 0, False, "t")
    >>> with tempfile.TemporaryDirectory() as place:
    ...     ProgressFile(place).append(tried)
    ...     with open(Path(place, PROGRESS_NAME), "ab") as file:
    ...         _ = file.write(b"{half a li")
    ...     ProgressFile(place).append(tried)
    ...     log = ProgressFile(place).read()
    >>> len(log.attempts), log.note
    (2, 'Line 2 of my-progress.jsonl is damaged and was passed over; it stays in the file.')
    """

    def __init__(self, folder: Place = ".") -> None:
        place = Path(folder)
        # a current folder that is gone is told when something is to be kept there
        with suppress(OSError):
            place = place.absolute()
        self.path = place / PROGRESS_NAME

    def append(self, attempt: Attempt) -> None:
        """Puts an attempt at the end of the file; when this returns, it lies on the disk.

        attempt: what was tried. Raises ProgressError, in one sentence; what was in the file stays.
        """
        line = line_of(attempt).encode()
        if len(line) > LONGEST_LINE_BYTES:
            raise ProgressError(f"The answer is too long for {PROGRESS_NAME} and was not kept.")
        try:
            with self._opened() as file, held(self.path.with_name(LOCK_NAME)):
                self._add(file, line)
        except OSError as error:
            raise ProgressError(self._refusal("written", error)) from None

    def read(self) -> Log:
        """Everything in the file, its damaged lines passed over; nothing if there is no file.

        Raises ProgressError, in one sentence, if what is there cannot be read.
        """
        if not os.path.lexists(self.path):
            return Log()
        attempts, damaged = [], []
        try:
            self._check_plain()
            with os.fdopen(os.open(self.path, os.O_RDONLY | NO_LINK), "rb") as file:
                if os.fstat(file.fileno()).st_size > MOST_BYTES:
                    raise ProgressError(
                        f"{PROGRESS_NAME} is larger than {MOST_BYTES // 1_000_000} MB; expected "
                        "a log of answers."
                    )
                for count, line in enumerate(_lines(file), 1):
                    if not line.strip():
                        continue
                    try:
                        # some editors put a mark at the start of a file
                        attempts.append(read_line(line.decode("utf-8-sig")))
                    except (MeasureError, UnicodeDecodeError):
                        damaged.append(count)
        except OSError as error:
            raise ProgressError(self._refusal("read", error)) from None
        return Log(tuple(attempts), tuple(damaged), _told(damaged))

    def barred(self) -> str:
        """Why nothing can be written, in one sentence; "" if nothing bars it.

        Tried, and not asked: a system need not keep its word on a folder. Leaves nothing behind.
        """
        try:
            if os.path.lexists(self.path):
                with self._opened():
                    pass
            else:
                with tempfile.TemporaryFile(dir=self.path.parent):
                    pass
        except ProgressError as error:
            return str(error)
        except OSError as error:
            return self._refusal("written", error)
        return ""

    # ---- the disk ------------------------------------------------------------------------------

    @contextmanager
    def _opened(self) -> Iterator[int]:
        """The file's descriptor; a new file's name is on the disk before anything is in it."""
        fresh = not os.path.lexists(self.path)
        if not fresh:
            self._check_plain()
        flags = os.O_RDWR | os.O_APPEND | os.O_CREAT | NO_LINK
        file = os.open(self.path, flags, 0o666)
        try:
            if fresh:
                _sync_folder(self.path.parent)
            yield file
        finally:
            os.close(file)

    def _check_plain(self) -> None:
        if not stat.S_ISREG(self.path.lstat().st_mode):
            raise ProgressError(
                f"{PROGRESS_NAME} is a link or a folder here, no plain file; progress is not kept "
                "until it is moved away."
            )

    @staticmethod
    def _add(file: int, line: bytes) -> None:
        """One write; seen to stand in a line of its own, else written again."""
        for _ in range(20):
            size = os.lseek(file, 0, os.SEEK_END)
            torn = size > 0 and _at(file, size - 1, 1) != b"\n"
            data = b"\n" + line if torn else line
            written = os.write(file, data)
            if written < len(data):
                raise OSError(28, "the disk is full")
            os.fsync(file)
            # a neighbour may have been killed in the middle of its own line, just before this one
            start = os.lseek(file, 0, os.SEEK_CUR) - len(line)
            alone = start == 0 or _at(file, start - 1, 1) == b"\n"
            if alone and _at(file, start, len(line)) == line:
                return
        raise OSError(5, "another program writes over it")

    def _refusal(self, deed: str, error: OSError) -> str:
        where = shown(str(self.path.parent))
        return f"{PROGRESS_NAME} in {where} cannot be {deed}: {reason(error)}."


def _at(file: int, place: int, count: int) -> bytes:
    os.lseek(file, place, os.SEEK_SET)
    return os.read(file, count)


def _lines(file: Any) -> Iterator[bytes]:
    """Lines of a file; of one that is too long no more than shows that it is."""
    while line := file.readline(LONGEST_LINE_BYTES + 2):
        rest = line
        while len(rest) == LONGEST_LINE_BYTES + 2 and not rest.endswith(b"\n"):
            rest = file.readline(LONGEST_LINE_BYTES + 2)
        yield line


def _sync_folder(folder: Path) -> None:
    """The folder's own list of names, where the system lets one see to it."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _told(damaged: list[int]) -> str:
    """One sentence about the damaged lines, "" if there are none."""
    if not damaged:
        return ""
    if len(damaged) == 1:
        return (
            f"Line {damaged[0]} of {PROGRESS_NAME} is damaged and was passed over; it stays in the "
            "file."
        )
    few = ", ".join(str(number) for number in damaged[:5])
    more = f" and {len(damaged) - 5} more" if len(damaged) > 5 else ""
    return (
        f"Lines {few}{more} of {PROGRESS_NAME} are damaged and were passed over; they stay in the "
        "file."
    )
