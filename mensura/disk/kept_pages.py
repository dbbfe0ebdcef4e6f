"""What was typed and answered on a page, beside the workbooks, for when the page comes back.

One file for a folder, by student, page and frame. Whoever changes it reads it first and writes it
whole, with the file to himself, so that two kernels leave each other's pages alone. What stands in
its place and cannot be used is somebody's: it is put aside under another name, and told. Whatever
the disk refuses is one sentence, and the page works on.
"""

from __future__ import annotations

import json
import os
import stat
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path, PureWindowsPath
from typing import Any

from mensura.checks import shown
from mensura.disk.locks import held
from mensura.disk.writing import NO_LINK, put_aside, reason, write_whole

#: The one name of the file, in the folder of the workbooks.
KEPT_NAME = "my-pages.json"

#: Held while the file is changed; of no content, and may be deleted when no workbook is open.
LOCK_NAME = ".my-pages.lock"

#: What the file says of itself; a file that says something else is of another version.
FORMAT = "mensura kept pages 1"

#: A larger file was written by something else: no class keeps as much.
MOST_BYTES = 16_000_000

#: The most that one frame keeps, as text.
MOST_OF_A_FRAME = 60_000

#: What is kept of a page, by the names of its frames.
Entries = dict[str, dict[str, Any]]


class KeptError(Exception):
    """Pages that cannot be kept or read; the message is one sentence.

    passes: whether it may be tried again soon.
    """

    passes = False


def session_page(environment: Mapping[str, str] = os.environ) -> str:
    """File name of the notebook that this kernel works for; "" if it works for none.

    environment: of the kernel; its server says there what it was started for.

    >>> session_page({"JPY_SESSION_NAME": "C:\\\\class\\\\02-out-of-round.ipynb"})
    '02-out-of-round.ipynb'
    >>> session_page({}), session_page({"JPY_SESSION_NAME": "console-1"})
    ('', '')
    """
    name = PureWindowsPath(environment.get("JPY_SESSION_NAME", "")).name
    return name if name.endswith(".ipynb") else ""


class KeptPages:
    """The file of one folder.

    folder: of the workbooks; the current folder unless it is named.

    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as place:
    ...     pages = KeptPages(place)
    ...     pages.put("Q07", "02.ipynb", {"first question": {"choice": 2}})
    ...     pages.read("Q07", "02.ipynb"), pages.read("", "02.ipynb")
    ({'first question': {'choice': 2}}, {})
    """

    def __init__(self, folder: str | Path = ".") -> None:
        place = Path(folder)
        # a current folder that is gone is told when something is to be kept there
        with suppress(OSError):
            place = place.absolute()
        self.path = place / KEPT_NAME
        #: What was put aside, in one sentence, or "".
        self.note = ""

    def read(self, student: str, page: str) -> Entries:
        """What is kept of a page; empty if nothing is.

        student: her code, "" if none is known; page: file name of the notebook. Raises KeptError,
        in one sentence, if what is there can be neither read nor put aside.
        """
        with suppress(_Unusable):
            return _entries(self._all(), student, page)
        with self._alone():
            return _entries(self._all_or_aside(), student, page)

    def put(self, student: str, page: str, entries: Mapping[str, Mapping[str, Any]]) -> None:
        """Keeps some frames of a page; all others in the file stay as they are.

        student, page: as in :meth:`read`; entries: what is kept, by frame. Raises KeptError, in one
        sentence, and then the file is as it was.
        """
        for name, one in entries.items():
            if len(json.dumps(one)) > MOST_OF_A_FRAME:
                raise KeptError(
                    f"What was done in {shown(name)} is too long for {KEPT_NAME} and is not kept."
                )

        def change(students: dict[str, Any]) -> None:
            _page(students, student, page).update(
                {name: dict(one) for name, one in entries.items()}
            )

        self._change(change)

    def forget(self, student: str, page: str) -> None:
        """Nothing is kept of a page any more.

        student, page: as in :meth:`read`. Raises KeptError as :meth:`put` does.
        """
        if os.path.lexists(self.path):
            self._change(lambda students: _page(students, student, page).clear())

    # ---- the disk ------------------------------------------------------------------------------

    def _change(self, change: Any) -> None:
        with self._alone():
            students = self._all_or_aside()
            change(students)
            text = json.dumps({"mensura": FORMAT, "students": students}, separators=(",", ":"))
            if len(text) > MOST_BYTES:
                raise KeptError(
                    f"{KEPT_NAME} would be larger than {MOST_BYTES // 1_000_000} MB; "
                    "what is done now is not kept."
                )
            try:
                write_whole(self.path, text.encode("ascii"))
            except OSError as error:
                raise KeptError(self._refusal("written", error)) from None

    def _all(self) -> dict[str, Any]:
        """All students' pages. Raises _Unusable for a file that is none of ours."""
        try:
            if not os.path.lexists(self.path):
                return {}
            if not stat.S_ISREG(self.path.lstat().st_mode):
                raise KeptError(
                    f"{KEPT_NAME} is a link or a folder here, no plain file; what is done on this "
                    "page is not kept until it is moved away."
                )
            with os.fdopen(os.open(self.path, os.O_RDWR | NO_LINK), "rb") as file:
                raw = file.read(MOST_BYTES + 1)
        except OSError as error:
            raise KeptError(self._refusal("read", error)) from None
        if len(raw) > MOST_BYTES:
            raise _Unusable(f"is larger than {MOST_BYTES // 1_000_000} MB")
        try:
            told = json.loads(raw.decode("utf-8-sig"))
        except (ValueError, RecursionError):
            raise _Unusable("is damaged") from None
        if not isinstance(told, dict) or told.get("mensura") != FORMAT:
            raise _Unusable("is of another version, or of another program")
        students = told.get("students")
        if not isinstance(students, dict):
            raise _Unusable("is damaged")
        return students

    def _all_or_aside(self) -> dict[str, Any]:
        try:
            return self._all()
        except _Unusable as wrong:
            try:
                other = put_aside(self.path)
            except OSError as error:
                raise KeptError(self._refusal("put aside", error)) from None
            self.note = (
                f"{KEPT_NAME} {wrong}: it was put aside as {other}, and what was kept in it is "
                "not shown."
            )
            return {}

    @contextmanager
    def _alone(self) -> Iterator[None]:
        """The file to ourselves; where there are no locks (some network drives), without."""
        if not self.path.parent.is_dir():  # a lock would make it
            raise KeptError(self._refusal("written", FileNotFoundError(2, "No such folder")))
        with held(self.path.with_name(LOCK_NAME)) as ours:
            if not ours:
                busy = KeptError(
                    f"{KEPT_NAME} is in use by another page; what is done now is not kept yet."
                )
                busy.passes = True
                raise busy
            yield

    def _refusal(self, deed: str, error: OSError) -> str:
        where = shown(str(self.path.parent))
        return (
            f"{KEPT_NAME} in {where} cannot be {deed}: {reason(error)}; what is done on this page "
            "is not kept."
        )


class _Unusable(Exception):
    """A file that is none of ours; the message says what it is."""


def _page(students: dict[str, Any], student: str, page: str) -> dict[str, Any]:
    """The page's own part of what is kept, made where it is not there."""
    pages = students.get(student)
    if not isinstance(pages, dict):
        pages = students[student] = {}
    found = pages.get(page)
    if not isinstance(found, dict):
        found = pages[page] = {}
    return found


def _entries(students: Mapping[str, Any], student: str, page: str) -> Entries:
    pages = students.get(student)
    found = pages.get(page) if isinstance(pages, dict) else None
    entries = found.items() if isinstance(found, dict) else ()
    return {name: one for name, one in entries if isinstance(one, dict)}
