"""A number of a list, or a count, as people write it: (2), No. 2, the second, at least 7, 7 times.

Read is a whole number alone, with the words that may stand round it; nothing is evaluated.
"""

from __future__ import annotations

import re

from mensura.characters import folded
from mensura.typed import LONGEST

_WORDS = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
]
_ORDINALS = [
    "zeroth",
    "first",
    "second",
    "third",
    "fourth",
    "fifth",
    "sixth",
    "seventh",
    "eighth",
    "ninth",
    "tenth",
]
_SAID = {word: at for words in (_WORDS, _ORDINALS) for at, word in enumerate(words)}

_COUNTED = re.compile(
    r"\s*(?:(?:(?:the\s+)?(?:answer|ans|result)|it|that)\b\.?(?:\s+is\b)?\s*[:=]?\s*|=\s*)?"
    r"(?:(?:the|at\s+least|no|nr|number|readings?|option|choice|#)\b[.:]?\s*|#\s*"
    r"|(?:n\s*)?(?:≥|>=|=)\s*){0,3}"
    rf"\(?\s*(?:(\d{{1,6}})\s?(?:st|nd|rd|th)?|({'|'.join(_SAID)})\b)\s*\)?"
    r"\s*(?:readings?|one|times)?\s*[.!;✓]?(?:\s*,?\s*(?:because|since)\b.*)?\s*",
    re.ASCII | re.IGNORECASE,
)


def read_counted(text: str) -> int | None:
    """The whole number that was typed, or None if it is none.

    text: as typed; what follows "because" is not looked at.

    >>> [read_counted(text) for text in ("(2)", "the 5th", "n ≥ 7", "five", "5, because", "5 cm")]
    [2, 5, 7, 5, 5, None]
    """
    if not isinstance(text, str) or len(text) > LONGEST:
        return None
    found = _COUNTED.fullmatch(folded(text))
    if found is None:
        return None
    return int(found[1]) if found[1] else _SAID[found[2].lower()]
