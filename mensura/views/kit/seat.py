"""The seat of this sitting: whose code it is that works here, one for all that a page shows.

A code is asked for once and lies in the workbooks' folder, so that every chapter knows it. Whoever
shows numbers of a student's own watches the seat and follows when another takes it. Nothing is
ever kept under a code that nobody gave.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from time import monotonic

from mensura.checks import MeasureError
from mensura.disk.own_code import OwnCodeFile
from mensura.disk.progress_file import Place, ProgressError, ProgressFile
from mensura.teaching.problems.codes import CaseError, ask_back
from mensura.teaching.problems.draw import checked_code

#: Why a code is asked for: said wherever it is.
WHY = (
    "Which student code is yours? It gives you numbers of your own, and your answers are kept "
    "under it. No code yet? Make one up, like Q07: never your name."
)


#: A code that comes again sooner came by the same press of a key, or a double click.
AGAIN_S = 0.7


class Seat:
    """Who works here.

    file: where the code is kept, None for a seat of its own that keeps nothing; code: who begins,
    read from the file if it is None; known: gives the codes that have worked here, for asking back.
    `code` is the student's, None while nobody has given one; `note` is one sentence on the last
    thing that happened, or "".
    """

    def __init__(
        self,
        file: OwnCodeFile | None = None,
        code: str | None = None,
        known: Callable[[], Iterable[str]] = tuple,
    ) -> None:
        self._file, self._known = file, known
        self._watching: list[Callable[[], None]] = []
        self.code, self.note = code, ""
        self._seen: str | None = None
        # what was asked back, and is meant if it comes again; when that was
        self._asked: str | None = None
        self._asked_s = 0.0
        if file is not None:
            kept = file.read()
            self._seen, self.note = kept.code, kept.note
            self.code = code or kept.code

    def watch(self, deed: Callable[[], None]) -> Callable[[], None]:
        """Have something done after every change; returns what ends that.

        deed: takes nothing, and looks at `code` and `note`.
        """
        self._watching.append(deed)

        def end() -> None:
            if deed in self._watching:
                self._watching.remove(deed)

        return end

    def take(self, code: str) -> bool:
        """Sit down under a code; returns whether it was taken, and leaves the reason in `note`.

        code: as typed. What is no code is refused, and one that differs from a known one in its
        capital letters only is asked back; nothing changes then but the note. Given a second time
        it is meant.
        """
        try:
            plain = checked_code(code)
            again = plain == self._asked and monotonic() - self._asked_s > AGAIN_S
            if plain != self.code and not again:
                ask_back("code", plain, [*([self.code] if self.code else []), *self._known()])
        except CaseError as error:
            self._asked, self._asked_s = plain, monotonic()
            return self._say(
                f"Did you mean {error.meant}? If {plain} is meant, give it once more.", False
            )
        except MeasureError as error:
            return self._say(error.sentence("The student code"), False)
        self.code, self._asked = plain, None
        note = ""
        if self._file is not None:
            note = self._file.keep(plain)
            self._seen = self._file.read().code
        return self._say(note, True)

    def leave(self) -> None:
        """Another student comes: the code is forgotten, and whatever asks for one asks anew."""
        self.code = None
        note = ""
        if self._file is not None:
            note = self._file.forget()
            self._seen = self._file.read().code
        self._say(note, True)

    def look(self) -> bool:
        """Look whether another page of this folder changed the code; returns whether one did."""
        if self._file is None:
            return False
        kept = self._file.read()
        if kept.code == self._seen:
            return False
        self._seen = kept.code
        if kept.code == self.code:
            return False
        self.code = kept.code
        return self._say(kept.note, True)

    def _say(self, note: str, done: bool) -> bool:
        self.note = note
        for deed in tuple(self._watching):
            deed()
        return done


_SEATS: dict[object, Seat] = {}


def seat(folder: Place = ".") -> Seat:
    """The one seat of this kernel in a folder, the same at every call.

    folder: where the code is kept; the current one unless it is named.
    """
    file = OwnCodeFile(folder)
    if file.path not in _SEATS:
        _SEATS[file.path] = Seat(file, known=partial(_students, folder))
    return _SEATS[file.path]


def _students(folder: Place) -> list[str]:
    """Codes that the progress in a folder knows; none if it cannot be read."""
    try:
        return list(dict.fromkeys(one.student for one in ProgressFile(folder).read().attempts))
    except ProgressError:
        return []
