"""The characters in which numbers are typed: the known ones, their look-alikes, and the refused.

A look-alike stands for one character and keeps its place: ０ is 0, every dash is a minus, è is e.
"""

from __future__ import annotations

from fractions import Fraction
from unicodedata import bidirectional, category
from unicodedata import name as told_name

#: Spaces as they stand in and around a number; none of them ends a line.
SPACES = " \t\u00a0\u2009\u202f\u2002\u2003\u2007"
FOOT_MARKS, INCH_MARKS = "'′’‘", ('"', "″", "”", "“", "''", "′′", "’’")
SIGNS = "+−-"  # the plain minus last, so that it may stand in [ ] of an expression
RAISED_POINTS = "·⋅∙"
RAISED = dict(zip("⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺", "0123456789-+", strict=True))
PARTS = {
    char: Fraction(above, below)
    for char, above, below in (
        *(("½", 1, 2), ("⅓", 1, 3), ("⅔", 2, 3), ("¼", 1, 4), ("¾", 3, 4), ("⅕", 1, 5)),
        *(("⅖", 2, 5), ("⅗", 3, 5), ("⅘", 4, 5), ("⅙", 1, 6), ("⅚", 5, 6), ("⅛", 1, 8)),
        *(("⅜", 3, 8), ("⅝", 5, 8), ("⅞", 7, 8)),
    )
}
_KNOWN = {
    *(*SPACES, *SIGNS, *RAISED, *PARTS, *FOOT_MARKS, *RAISED_POINTS),
    *"″”“²³×÷⁄/≈≅≃∼°º℃㎝㎟㎠㎡㎥㎤π√±≥≤µ‰Ø✓",
}
#: A hyphen that does not break, figure, en and em dash, horizontal bar, small and full-width minus.
_ALIKE = {ord(dash): "−" for dash in "‐‑‒–—―﹣－"} | {
    **{ord(full): chr(ord(full) - 0xFEE0) for full in map(chr, range(0xFF01, 0xFF5F))},
    **{ord("－"): "−", ord("\u3000"): " "},
    **{ord(char): plain for char, plain in zip("èéøØ⌀∅μ✔⩾⩽", "eeØØØØµ✓≥≤", strict=True)},
}


def folded(text: str) -> str:
    """A text with each look-alike put as the character it stands for, places kept.

    text: as it was typed.

    >>> folded("—４３．１ ｃｍ")
    '−43.1 cm'
    """
    return text.translate(_ALIKE)


def strange(char: str, place: int, like: str) -> str:
    """The sentence on a character that can be no part of what was typed; "" for a known one.

    char: folded; place: where it stands, from 1; like: what was expected.

    >>> strange("3", 1, "expected a number")
    ''
    """
    if char in _KNOWN or " " < char <= "~":
        return ""
    code = f"U+{ord(char):04X}"
    if not char.isprintable() or char.isspace() or category(char)[0] in "ZCM":
        said = f"An invisible or combining character ({code}) stands at place {place};"
        return f"{said} take it out."
    if bidirectional(char) in ("R", "AL", "AN"):
        said = f"At place {place} stands text that runs from right to left ({code});"
        return f"{said} {like}."
    said = f"‘{char}’ at place {place} ({code}, {told_name(char, 'no name').lower()})"
    if category(char)[0] in "NL":
        return f"{said} may look right but is not known here; use 0 to 9 and plain letters."
    return f"{said} is not known here; {like}."
