"""The hands that were counted in a lesson, beside its plan: a plain table for any spreadsheet.

One line for each answer of each asking, told apart by date and time. Whoever counts on writes his
own asking's lines anew and leaves all others as they stand, byte for byte: also those that others
wrote, in another order of columns or with semicolons, as spreadsheets do. What cannot be read is
told and stays. So last year's class is there when the same question is asked again.
"""

from __future__ import annotations

import csv
import io
import os
import re
import stat
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date as Date  # noqa: N812
from pathlib import Path

from mensura.checks import shown
from mensura.disk.locks import held
from mensura.disk.writing import NO_LINK, reason, write_whole

#: The table's head.
COLUMNS = ("date", "time", "plan", "workbook", "question", "asking", "option", "count")

#: A larger file was written by something else.
MOST_BYTES = 16_000_000

#: How the folder of a lesson ends, beside its plan.
FOLDER_TAIL = "-lesson"

_PARTS = (",", ";", "\t")


class HandsError(Exception):
    """Counts that cannot be kept or read; the message is one sentence.

    passes: whether it may be tried again soon.
    """

    passes = False


@dataclass(frozen=True)
class Asking:
    """One asking of one question, with its hands.

    date, time: when it began, as 2026-11-28 and 09:15:02; workbook: the chapter's number; question:
    its key; asking: 1 for the first in its lesson, 2 after the panel was moved; counts: hands by
    the words of each answer; plan: stem of the plan's file name.
    """

    date: str
    time: str
    plan: str
    workbook: str
    question: str
    asking: int
    counts: tuple[tuple[str, int], ...]

    @property
    def key(self) -> tuple[str, ...]:
        """What tells it from all others."""
        named = (self.plan, self.workbook, self.question)
        return (self.date, self.time, *named, str(self.asking))


@dataclass(frozen=True)
class Log:
    """What a file holds.

    askings: in the file's order; damaged: numbers of the lines that could not be read, from 1;
    note: one sentence about those, or "".
    """

    askings: tuple[Asking, ...] = ()
    damaged: tuple[int, ...] = ()
    note: str = ""


def lesson_hands(folder: str | Path = ".") -> HandsFile | None:
    """The file of the lesson that is given in a folder; None if none is.

    folder: of the lesson's notebook, the kernel's own unless it is named.

    >>> lesson_hands("/class/tapes-lesson").path.name, lesson_hands("/class")
    ('tapes-hands.csv', None)
    """
    place = Path(os.path.abspath(folder))
    stem = place.name.removesuffix(FOLDER_TAIL)
    if stem in ("", place.name):
        return None
    return HandsFile(place.parent / f"{stem}-hands.csv", stem)


class HandsFile:
    """The file of one plan.

    path: of the file; plan: stem of the plan's file name.

    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as place:
    ...     file = HandsFile(Path(place, "tapes-hands.csv"), "tapes")
    ...     counts = (("the tape", 12), ("the calipers", 7))
    ...     file.keep(Asking("2025-11-28", "09:15:02", "tapes", "02", "02-predict", 1, counts))
    ...     file.before("02-predict", "2026-11-28")[0].counts == counts, file.read().damaged
    (True, ())
    """

    def __init__(self, path: Path, plan: str) -> None:
        self.path, self.plan = path, plan

    def read(self) -> Log:
        """Everything in the file; nothing if there is none.

        Raises HandsError, in one sentence, if what is there cannot be read.
        """
        return _Table(self._bytes(), self.path.name).log()

    def before(self, question: str, today: str) -> tuple[Asking, ...]:
        """The askings of a question on the newest day that is not today; () if there was none.

        question: its key; today: as 2026-11-28. Two classes of one day: the later one's.
        Raises HandsError as :meth:`read` does.
        """
        found = [one for one in self.read().askings if one.question == question]
        found = [one for one in found if one.date != today]
        if not found:
            return ()
        day = max(one.date for one in found)
        latest: dict[int, Asking] = {}
        for one in sorted((one for one in found if one.date == day), key=lambda one: one.time):
            latest[one.asking] = one
        return tuple(latest[number] for number in sorted(latest))

    def keep(self, asking: Asking) -> None:
        """Keeps an asking; its own lines of before are replaced, all others stay as they are.

        asking: with its hands. Raises HandsError, in one sentence, and then the file is as it was.
        """
        folder = self.path.parent
        if not folder.is_dir():  # a lock would make it
            raise HandsError(self._refusal("written", FileNotFoundError(2, "No such folder")))
        with held(self.path.with_name(f".{self.path.stem}.lock")) as ours:
            if not ours:
                busy = HandsError(f"{self.path.name} is in use; the counts are not kept yet.")
                busy.passes = True
                raise busy
            table = _Table(self._bytes(), self.path.name)
            table.put(asking)
            raw = table.raw()
            if len(raw) > MOST_BYTES:
                raise HandsError(self._too_large())
            try:
                write_whole(self.path, raw)
            except OSError as error:
                raise HandsError(self._refusal("written", error)) from None

    # ---- the disk ------------------------------------------------------------------------------

    def _bytes(self) -> bytes:
        try:
            if not os.path.lexists(self.path):
                return b""
            if not stat.S_ISREG(self.path.lstat().st_mode):
                raise HandsError(
                    f"{self.path.name} is a link or a folder, no plain file; the counts are kept "
                    "on the screen only until it is moved away."
                )
            with os.fdopen(os.open(self.path, os.O_RDONLY | NO_LINK), "rb") as file:
                raw = file.read(MOST_BYTES + 1)
        except OSError as error:
            raise HandsError(self._refusal("read", error)) from None
        if len(raw) > MOST_BYTES:
            raise HandsError(self._too_large())
        return raw

    def _too_large(self) -> str:
        most = MOST_BYTES // 1_000_000
        return f"{self.path.name} is larger than {most} MB; expected a table of counts."

    def _refusal(self, deed: str, error: OSError) -> str:
        where = shown(str(self.path.parent))
        return (
            f"{self.path.name} in {where} cannot be {deed}: {reason(error)}; the counts are kept "
            "on the screen only."
        )


# ---- the table ---------------------------------------------------------------------------------


class _Table:
    """A file's lines, and what each of them tells.

    raw: all of the file; name: of it. Raises HandsError if its first line is no head of ours.
    """

    def __init__(self, raw: bytes, name: str) -> None:
        self.name = name
        self.lines = raw.splitlines(keepends=True) if raw.strip() else [_HEAD]
        head = _text(self.lines[0])
        self.part = max(_PARTS, key=head.count)
        names = [one.strip().lower() for one in _cells(head, self.part)]
        missing = [one for one in COLUMNS if one not in names]
        if missing:
            raise HandsError(
                f"Line 1 of {name} has no column {missing[0]}: expected "
                f"{', '.join(COLUMNS)}; the counts are kept on the screen only."
            )
        self.width = len(names)
        self.at = {one: names.index(one) for one in COLUMNS}

    def log(self) -> Log:
        """All askings of the table."""
        found: dict[tuple[str, ...], tuple[Asking, dict[str, int]]] = {}
        damaged = []
        for count, line in enumerate(self.lines[1:], 2):
            told = _text(line)
            if not told.strip(f"{self.part} \r\n\t"):
                continue
            row = self._row(told)
            if row is None:
                damaged.append(count)
                continue
            asking, option, hands = row
            found.setdefault(asking.key, (asking, {}))[1][option] = hands
        askings = tuple(
            Asking(one.date, one.time, one.plan, one.workbook, one.question, one.asking, counts)
            for one, counts in ((one, tuple(hands.items())) for one, hands in found.values())
        )
        return Log(askings, tuple(damaged), _told(damaged, self.name))

    def put(self, asking: Asking) -> None:
        """An asking's lines, in place of its own lines of before."""
        mine = {option for option, _ in asking.counts}

        def is_mine(line: bytes) -> bool:
            row = self._row(_text(line))
            return row is not None and row[0].key == asking.key and row[1] in mine

        kept = [line for line in self.lines[1:] if not is_mine(line)]
        self.lines[1:] = kept
        if not self.lines[-1].endswith((b"\n", b"\r")):
            self.lines[-1] += _end(self.lines[0])
        for option, hands in asking.counts:
            self.lines.append(self._line(asking, option, hands))

    def raw(self) -> bytes:
        """All of the file."""
        return b"".join(self.lines)

    def _line(self, asking: Asking, option: str, hands: int) -> bytes:
        named = (asking.workbook, f"question {asking.question}", str(asking.asking))
        values = (asking.date, asking.time, asking.plan, *named, option, str(hands))
        cells = [""] * self.width
        for name, value in zip(COLUMNS, values, strict=True):
            cells[self.at[name]] = _safe(value)
        out = io.StringIO()
        end = _end(self.lines[0]).decode("ascii")
        csv.writer(out, delimiter=self.part, lineterminator=end).writerow(cells)
        return out.getvalue().encode("utf-8")

    def _row(self, line: str) -> tuple[Asking, str, int] | None:
        """What a line tells: its asking without counts, the answer, the hands; None if nothing."""
        cells = _cells(line, self.part)
        if len(cells) < max(self.at.values()) + 1:
            return None
        told = {name: _plain(cells[place]) for name, place in self.at.items()}
        day = _day(told["date"])
        question = told["question"].removeprefix("question ").strip()
        numbers = (told["asking"], told["count"])
        if not day or not question or not all(re.fullmatch(r"[0-9]{1,6}", n) for n in numbers):
            return None
        workbook = told["workbook"].zfill(2)
        asked = (told["time"], told["plan"], workbook, question, int(told["asking"]))
        return Asking(day, *asked, ()), told["option"], int(told["count"])


_HEAD = ("\ufeff" + ",".join(COLUMNS) + "\r\n").encode()


def _text(line: bytes) -> str:
    try:
        return line.decode("utf-8-sig")
    except UnicodeDecodeError:  # some spreadsheets write the desk's own letters
        return line.decode("latin-1")


def _end(line: bytes) -> bytes:
    return b"\r\n" if line.endswith(b"\r\n") else b"\n"


def _cells(line: str, part: str) -> list[str]:
    try:
        return next(csv.reader([line.strip("\r\n")], delimiter=part, strict=True), [])
    except csv.Error:
        return []


def _safe(value: str) -> str:
    """A cell that no spreadsheet takes for a formula, in one line."""
    value = " ".join(value.split())
    return f"'{value}" if value.startswith(("=", "+", "-", "@", "'")) else value


def _plain(cell: str) -> str:
    return cell.strip().removeprefix("'")


def _day(text: str) -> str:
    """A date as 2026-11-28; "" for what is none. A day.month.year is read as well."""
    dotted = re.fullmatch(r"([0-9]{1,2})\.([0-9]{1,2})\.([0-9]{4})", text)
    if dotted:
        text = f"{dotted[3]}-{dotted[2]:0>2}-{dotted[1]:0>2}"
    if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
        return ""
    try:
        return Date.fromisoformat(text).isoformat()
    except ValueError:
        return ""


def _told(damaged: Sequence[int], name: str) -> str:
    """One sentence about the damaged lines, "" if there are none."""
    if not damaged:
        return ""
    if len(damaged) == 1:
        return f"Line {damaged[0]} of {name} is no count and was passed over; it stays in the file."
    few = ", ".join(str(number) for number in damaged[:5])
    more = f" and {len(damaged) - 5} more" if len(damaged) > 5 else ""
    return f"Lines {few}{more} of {name} are no counts and were passed over; they stay in the file."
