"""A code of a stem, a hand or an instrument, as a class's files have it.

Letters of any script and figures, with . - _ and blanks inside, so that no formula, path or markup
comes in by one.
"""

from __future__ import annotations

import re
import unicodedata

LONGEST_CODE = 40
_CODE = re.compile(r"[^\W_](?:[\w.\- ]*[\w])?")


def tidied(cell: str) -> str:
    """What was typed, its letters in one form and its blanks single.

    cell: as it stands in a file.

    >>> tidied("  Q07\\u00a0 b ")
    'Q07 b'
    """
    return " ".join(unicodedata.normalize("NFKC", cell).split())


def is_code(text: str) -> bool:
    """Whether a tidied text is a code.

    text: of :func:`tidied`.

    >>> is_code("Q07"), is_code("=cmd()"), is_code("../Q01"), is_code("")
    (True, False, False, False)
    """
    return len(text) <= LONGEST_CODE and _CODE.fullmatch(text) is not None
