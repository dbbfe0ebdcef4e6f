"""Codes and keys as they are compared: in composed form, without outer blanks.

What is typed on another keyboard, or copied with a blank behind it, gives the same numbers. A code
that differs from a known one in its capital letters only is asked back, since it would give others.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from typing import Any

from mensura.checks import MeasureError, shown


class CaseError(MeasureError):
    """A code that differs from a known one in its capital letters only.

    field: what it is; value: as typed; meant: the known one.

    >>> print(CaseError("student", "q07", "Q07"))
    student is 'q07'; did you mean Q07?
    """

    def __init__(self, field: str, value: str, meant: str) -> None:
        self.meant = meant
        super().__init__(field, value, "", meant)

    def sentence(self, field_name: str) -> str:
        """The question, with the field called by field_name (a command's option, say)."""
        return f"{field_name} is {shown(self.value)}; did you mean {self.meant}?"


def plain(code: Any) -> Any:
    """A code in composed form (Unicode NFC) and without outer blanks; what is no text, as it is.

    code: as typed.

    >>> plain("  Q07 "), plain("e\\u0301tang") == "\\u00e9tang", plain(7)
    ('Q07', True, 7)
    """
    return unicodedata.normalize("NFC", code).strip() if isinstance(code, str) else code


def in_capitals(code: str) -> str | None:
    """The code in capital letters, if that is another one: its numbers would be others.

    code: as typed.

    >>> in_capitals("q07"), in_capitals("Q07"), in_capitals("17")
    ('Q07', None, None)
    """
    large = plain(code).upper()
    return None if large == plain(code) else large


def meant(code: str, known: Iterable[str]) -> str | None:
    """The known code that a code differs from in capital letters only; None if there is none.

    code: as typed; known: of a log, or of the bank. A code that is known itself is meant as it is.

    >>> meant("q07", ["Q12", "Q07"]), meant("Q07", ["q07", "Q07"]), meant("Q08", ["Q07"])
    ('Q07', None, None)
    """
    wanted = plain(code)
    others = {plain(one) for one in known}
    if not isinstance(wanted, str) or wanted in others:
        return None
    return next((one for one in sorted(others) if one.casefold() == wanted.casefold()), None)


def ask_back(field: str, code: str, known: Iterable[str]) -> None:
    """Raises CaseError for a code that differs from a known one in capital letters only.

    field: what it is; code: as typed; known: of a log, or of the bank.
    """
    near = meant(code, known)
    if near is not None:
        raise CaseError(field, code, near)
