"""What students write beside a line, and what is no part of it: ⇒, so, ∴, ✓, ∎, a full stop.

It is passed over, character by character, so that places in the line stay where they are. One aside
counts: "since a ≠ b" cites that the half-axes differ.
"""

from __future__ import annotations

import re

_UNEQUAL = r"\(?(?:a\s*(?:≠|!=|<>|\\neq?)\s*b|b\s*(?:≠|!=|<>|\\neq?)\s*a)\)?"
_SINCE = rf"(?:since|because|as|for|where|when|if|using|by)\s+{_UNEQUAL}"
_WORDS = r"(?:and\s+)?(?:so|thus|hence|therefore|then)(?![A-Za-z_])"
_ARROWS = (
    r"<=>|=>|⇒|⇐|⇔|⟹|⟸|⟺|→|∴|\\(?:Rightarrow|Leftarrow|Leftrightarrow|implies|impliedby|iff"
    r"|therefore)(?![A-Za-z])"
)
_MARKS = r"[.,;!∎□■✓✔☑]|q\.\s*e\.\s*d\.?|(?<![A-Za-z_])qed(?![A-Za-z_])"

_BEFORE = re.compile(rf"\s*(?:{_ARROWS}|{_WORDS}|{_SINCE})\s*[,:]?", re.IGNORECASE)
_AFTER = re.compile(rf"\s*(?:{_MARKS}|[,;]?\s*\(?{_SINCE}\)?)\s*$", re.IGNORECASE)
_CITES = re.compile(_SINCE, re.IGNORECASE)

_FOLLOWS = ("=>", "⇒", "⟹", "→", "∴", "\\Rightarrow", "\\implies", "\\therefore")
_ENOUGH = ("⇐", "⟸", "\\Leftarrow", "\\impliedby")


def without_asides(text: str) -> tuple[str, bool]:
    """The line with blanks where asides stood, and whether one of them cites a ≠ b.

    text: as typed.

    >>> without_asides("so ab > 0, since a ≠ b.")
    ('   ab > 0              ', True)
    """
    cites = False
    at = 0
    while (found := _BEFORE.match(text, at)) is not None:
        cites = cites or _CITES.search(found.group()) is not None
        at = found.end()
    text = " " * at + text[at:]
    end = len(text)
    while (found := _AFTER.search(text, at, end)) is not None and found.start() < end:
        cites = cites or _CITES.search(found.group()) is not None
        end = found.start()
    return text[:end] + " " * (len(text) - end), cites


def leading_arrow(text: str) -> str:
    """⇒ or ⇐ if the line begins with a sign that says so, else "".

    text: as typed.

    >>> leading_arrow("∴ a > b"), leading_arrow("⇐ a > b"), leading_arrow("⇔ a > b")
    ('⇒', '⇐', '')
    """
    start = text.lstrip()
    if start.startswith(_ENOUGH):
        return "⇐"
    return "⇒" if start.startswith(_FOLLOWS) and not start.startswith("\\implied") else ""
