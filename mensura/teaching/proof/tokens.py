"""The marks of a line: numbers, letters, signs, brackets, each with its place.

What is no mark of a line is refused here, at its place: an unknown letter, one that only looks like
a known one, an invisible character, an arrow in place of a relation sign.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

#: Bounds that keep every answer quick. A line of a proof needs far less.
LONGEST = 200
DEEPEST = 20
GREATEST_POWER = 12
MOST_HEAPED = 24
MOST_DIGITS = 12

NAMES = ("a", "b", "π", "A_tape", "A_cal", "G")
KNOWN = "a, b, π, A_tape, A_cal, G, numbers, + − × ÷ ^ √ | | and brackets"

_RELATIONS = {
    ">=": "≥", "≥": "≥", "⩾": "≥", "≧": "≥", "<=": "≤", "≤": "≤", "⩽": "≤", "≦": "≤",
    "!=": "≠", "<>": "≠", "≠": "≠", "==": "=", "=": "=", ">": ">", "<": "<",
}  # fmt: skip
_ARROWS = ("<=>", "=>", "=<", "⇒", "⇐", "⇔", "→", "->")
_OPERATORS = {
    "+": "+", "-": "-", "−": "-", "–": "-", "*": "*", "·": "*", "⋅": "*", "×": "*", "∙": "*",
    "/": "/", "÷": "/", "∕": "/", "⁄": "/", ":": "/",
}  # fmt: skip
#: What is written with a backslash: its kind and value; "" for what is passed over.
_BACKSLASHED: dict[str, tuple[str, str]] = {
    **dict.fromkeys(("frac", "dfrac", "tfrac"), ("fraction", "")),
    "sqrt": ("root", "sqrt"), "pi": ("name", "π"),
    **dict.fromkeys(("cdot", "times"), ("operator", "*")),
    "div": ("operator", "/"),
    **dict.fromkeys(("ge", "geq", "geqslant"), ("relation", "≥")),
    **dict.fromkeys(("le", "leq", "leqslant"), ("relation", "≤")),
    **dict.fromkeys(("ne", "neq"), ("relation", "≠")),
    "gt": ("relation", ">"), "lt": ("relation", "<"),
    **dict.fromkeys(("left", "right", "quad", ",", ";", "!"), ("", "")),
}  # fmt: skip
_BACKSLASH = re.compile(r"\\([A-Za-z]+|[,;!])")
_SUPERSCRIPTS = {char: str(digit) for digit, char in enumerate("⁰¹²³⁴⁵⁶⁷⁸⁹")}
_PARTS = {"½": Fraction(1, 2), "¼": Fraction(1, 4), "¾": Fraction(3, 4)}
BRACKETS = {"(": ")", "[": "]", "{": "}"}
_SPACES = " \t\u00a0\u2009\u202f\u2002\u2003"
_NUMBER = re.compile(r"\d+(?:[.,]\d+)?|[.,]\d+", re.ASCII)
_RUN = re.compile(r"(?:A_\{tape\}|A_\{cal\}|[A-Za-z_π])+")
_KNOWN_RUN = re.compile(
    r"(?:A_tape|A_cal|A_\{tape\}|A_\{cal\}|[Ss]qrt|SQRT|[Aa]bs|ABS|[Pp]i|PI|[abGπ])+"
)
_WORDS = re.compile(r"A_tape|A_cal|A_\{tape\}|A_\{cal\}|sqrt|abs(?=\s*[(\[{|])|pi|[abGπ]", re.I)


class Unreadable(Exception):
    """A line that cannot be read.

    says: one sentence; place: the character it points at, counted from 1, or None.
    """

    def __init__(self, says: str, place: int | None = None) -> None:
        self.says, self.place = says, place
        super().__init__(f"Place {place}: {says}" if place else says)


@dataclass(frozen=True)
class Token:
    """One mark.

    kind: number, name, abs, root, fraction, relation, operator, power, raised, open, close, bar or
    end;
    text: as typed; place: where it begins, from 1; value: what it stands for.
    """

    kind: str
    text: str
    place: int
    value: Fraction | str | None = None


def tokens(text: str) -> list[Token]:
    """The marks of a line, an "end" last.

    text: as typed. Raises Unreadable, with the place.

    >>> [mark.kind for mark in tokens("2a > 0")]
    ['number', 'name', 'relation', 'number', 'end']
    """
    if len(text) > LONGEST:
        raise Unreadable(
            f"the line has {len(text)} characters; expected at most {LONGEST}.", LONGEST + 1
        )
    found: list[Token] = []
    at = seen = 0
    while at < len(text):
        char, place = text[at], at + 1
        if char in _SPACES:
            at += 1
            continue
        if (written := _BACKSLASH.match(text, at)) and written[1] in _BACKSLASHED:
            kind, value = _BACKSLASHED[written[1]]
            if kind:
                found.append(Token(kind, written.group(), place, value))
            at = written.end()
            continue
        arrow = next((one for one in _ARROWS if text.startswith(one, at)), None)
        if arrow is not None:
            raise Unreadable(
                f"‘{arrow}’ is no relation sign; expected one of > < ≥ ≤ = ≠ (typed >= and <=). "
                "Whether a line follows or is enough is said beside it, not in it.",
                place,
            )
        sign = next((one for one in _RELATIONS if text.startswith(one, at)), None)
        if sign is not None:
            found.append(Token("relation", sign, place, _RELATIONS[sign]))
            at += len(sign)
            continue
        if text.startswith("**", at):
            found.append(Token("power", "^", place))
            at += 2
            continue
        match = _NUMBER.match(text, at)
        if match is not None:
            found.append(Token("number", match.group(), place, _read_number(match.group(), place)))
            at = match.end()
            continue
        run = _RUN.match(text, at) if at >= seen else None
        if run is not None:
            seen = run.end()
            if not _KNOWN_RUN.fullmatch(run.group()):
                raise Unreadable(_unknown(text, at), place)
        word = _WORDS.match(text, at)
        name = _name_of(word.group()) if word is not None else None
        if word is not None and name is not None:
            kind = {"sqrt": "root", "abs": "abs"}.get(name, "name")
            found.append(Token(kind, word.group(), place, name))
            at = word.end()
            continue
        end = at + 1
        if char in _OPERATORS:
            found.append(Token("operator", char, place, _OPERATORS[char]))
        elif char == "^":
            found.append(Token("power", char, place))
        elif char in _SUPERSCRIPTS or char == "⁻":
            while end < len(text) and text[end] in _SUPERSCRIPTS:
                end += 1
            digits = "".join(_SUPERSCRIPTS.get(each, "") for each in text[at:end])
            if not digits:
                raise Unreadable("a raised minus needs a number after it.", place)
            size = _read_number(digits, place)
            found.append(Token("raised", text[at:end], place, -size if char == "⁻" else size))
        elif char in _PARTS:
            found.append(Token("number", char, place, _PARTS[char]))
        elif char == "√":
            found.append(Token("root", char, place))
        elif char in BRACKETS:
            found.append(Token("open", char, place))
        elif char in BRACKETS.values():
            found.append(Token("close", char, place))
        elif char in "|∣":
            found.append(Token("bar", char, place))
        else:
            raise Unreadable(_unknown(text, at), place)
        at = end
    found.append(Token("end", "", len(text) + 1))
    return found


def _read_number(digits: str, place: int) -> Fraction:
    if len(digits) > MOST_DIGITS + 1:
        raise Unreadable(
            f"a number of {len(digits)} characters; expected at most {MOST_DIGITS} digits.", place
        )
    return Fraction(digits.replace(",", "."))


def _name_of(word: str) -> str | None:
    """The name a word stands for; capital A, B and small g stand for none."""
    small = word.lower()
    if small in ("pi", "π"):
        return "π" if word != "Π" else None
    if small in ("sqrt", "abs"):
        return small
    plain = word.replace("{", "").replace("}", "")
    return plain if plain in NAMES else None


def _unknown(text: str, at: int) -> str:
    char = text[at]
    if char in ".,":
        return f"the ‘{char}’ stands in no number; expected one like 0.5."
    if not char.isprintable() or char.isspace():
        return f"an invisible character (U+{ord(char):04X}) stands here; take it out."
    if not char.isascii():
        from unicodedata import name

        told = name(char, "no name").lower()
        alike = " It only looks like a letter of this page." if char.isalpha() else ""
        return f"‘{char}’ (U+{ord(char):04X}, {told}) is not known here.{alike} Known are: {KNOWN}."
    match = re.match(r"[^\W\d]+", text[at:])
    word = match.group() if match else char
    word = word if len(word) <= 20 else word[:19] + "…"
    return f"‘{word}’ is not known here; known are: {KNOWN}."
