"""A student's own code, beside her workbooks: asked for once, and from then on known everywhere.

One small file that holds the code and nothing else. It is read by the rules for codes, whoever
wrote it, and written whole; a link is never written through. What stands in its place and is no
code is somebody's: it is told, and put aside before a code is written there.
"""

from __future__ import annotations

import os
import stat
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from mensura.checks import MeasureError, shown
from mensura.disk.writing import NO_LINK, put_aside, reason, write_whole
from mensura.teaching.problems.draw import checked_code

#: The one name of the file, in the folder of the workbooks.
OWN_CODE_NAME = "my-code.txt"

#: A code has at most 20 letters; what is larger was written by something else.
MOST_BYTES = 400

_ONLY_NOW = "The code is known for this sitting only."


@dataclass(frozen=True)
class Kept:
    """What the file says.

    code: the student's, None if there is none; note: one sentence about what is wrong, or "".
    """

    code: str | None = None
    note: str = ""


class OwnCodeFile:
    """The file of one folder.

    folder: of the workbooks; the current folder unless it is named.

    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as place:
    ...     file = OwnCodeFile(place)
    ...     file.read(), file.keep("Q07"), file.read(), file.forget(), file.read()
    (Kept(code=None, note=''), '', Kept(code='Q07', note=''), '', Kept(code=None, note=''))
    """

    def __init__(self, folder: str | Path = ".") -> None:
        place = Path(folder)
        # a current folder that is gone is told when something is to be read or kept there
        with suppress(OSError):
            place = place.absolute()
        self.path = place / OWN_CODE_NAME

    def read(self) -> Kept:
        """The code that is kept; what cannot be used is told, and no code is taken from it."""
        try:
            if not os.path.lexists(self.path):
                return Kept()
            if not stat.S_ISREG(self.path.lstat().st_mode):
                return Kept(None, self._no_file())
            with os.fdopen(os.open(self.path, os.O_RDONLY | NO_LINK), "rb") as file:
                raw = file.read(MOST_BYTES + 1)
        except OSError as error:
            return Kept(None, f"{OWN_CODE_NAME} cannot be read: {reason(error)}.")
        if len(raw) > MOST_BYTES:
            return Kept(
                None, f"{OWN_CODE_NAME} holds more than {MOST_BYTES} letters; expected one code."
            )
        try:
            text = raw.decode("utf-8-sig").strip()  # some editors put a mark at its start
        except UnicodeDecodeError:
            return Kept(None, f"{OWN_CODE_NAME} is damaged; expected one code, like Q07.")
        if not text:
            return Kept()
        try:
            return Kept(checked_code(text))
        except MeasureError as error:
            return Kept(None, error.sentence(f"The code in {OWN_CODE_NAME}"))

    def keep(self, code: str) -> str:
        """Keeps a code for all chapters of the folder; returns "", or one sentence on what went
        wrong or was put aside.

        code: as `checked_code` gives it.
        """
        old = self.read()
        if old.code == code:
            return ""
        told = ""
        try:
            if old.note:
                if not stat.S_ISREG(self.path.lstat().st_mode):
                    return f"{self._no_file()} {_ONLY_NOW}"
                told = f"What stood in {OWN_CODE_NAME} was no code and is kept as "
                told += f"{put_aside(self.path)}."
            write_whole(self.path, f"{code}\n".encode())
        except OSError as error:
            return f"{self._refusal('written', error)} {_ONLY_NOW}"
        return told

    def forget(self) -> str:
        """Takes the code away; returns "" or one sentence. What is no code stays where it is."""
        if self.read().code is None:
            return ""
        try:
            self.path.unlink()
        except OSError as error:
            return (
                f"{self._refusal('changed', error)} The old code comes back with the next sitting."
            )
        return ""

    def _no_file(self) -> str:
        return f"{OWN_CODE_NAME} is a link or a folder here; expected a plain file with one code."

    def _refusal(self, deed: str, error: OSError) -> str:
        return (
            f"{OWN_CODE_NAME} in {shown(str(self.path.parent))} cannot be {deed}: {reason(error)}."
        )
