"""Where everything stands in the text of a plan: TOML is read by tomllib, its places by this scan.

tomllib tells what a file says, not where; and who writes the file anew from what it says loses
every comment. So the text is gone through once more, statement by statement, with strings over
several lines, tables, inline tables and lists known for what they are. The scan takes any text: in
one that cannot be read, the statement at fault is the first with which it cannot.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

#: Keys and values are apart; a bare key needs no quotation marks.
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")

#: Signs that only look like quotation marks, as word processors set them.
_SET_QUOTES = "“”„‟‘’‚«»"

#: Of an unreadable statement: what its value looks like, what is wrong, and what is expected.
_ALIKE = (
    (r"-?\d+,\d+", "a decimal comma", "a point, as in 2.5"),
    (r"(?i)true|yes|on", "no value that TOML knows", "true in small letters"),
    (r"(?i)false|no|off", "no value that TOML knows", "false in small letters"),
    (r"-?0\d+(\.\d*)?", "a number that begins with 0", 'quotation marks, as in "02"'),
    (r"-?\d+\.|-?\.\d+", "half a number", "digits on both sides of the point, as in 2.5"),
)


@dataclass(frozen=True)
class Statement:
    """One statement of a text.

    kind: "table" for [name], "array" for [[name]], "value" for name = value; path: names from the
    top, as ("step", "minutes"); line: where it begins, from 1; start, end: of its characters, a
    comment behind it included, the line break not; value_start, value_end: of its value.
    """

    kind: str
    path: tuple[str, ...]
    line: int
    start: int
    end: int
    value_start: int = 0
    value_end: int = 0


def statements(text: str) -> list[Statement]:
    """All statements of a text, in their order.

    text: TOML.

    >>> [(one.line, one.kind, one.path) for one in statements("a = 1 # one\\n[[step]]\\nb.c = '#'")]
    [(1, 'value', ('a',)), (2, 'array', ('step',)), (3, 'value', ('step', 'b', 'c'))]
    """
    return list(_walk(text))


def _walk(text: str) -> Iterator[Statement]:
    at, line, counted = 0, 1, 0
    table: tuple[str, ...] = ()
    while True:
        at = _past_blanks(text, at)
        if at >= len(text):
            return
        line, counted = line + text.count("\n", counted, at), at
        if text[at] == "[":
            depth = 2 if text.startswith("[[", at) else 1
            close = _find_outside(text, at + depth, "]")
            table = _names(text[at + depth : close])
            kind = "array" if depth == 2 else "table"
            end = _line_end(text, close)
            yield Statement(kind, table, line, at, end)
        else:
            equals = _find_outside(text, at, "=")
            start = equals + 1 if equals < _line_end(text, at) else equals
            while start < len(text) and text[start] in " \t":
                start += 1
            past = _value_end(text, start)
            end = _line_end(text, past)
            path = (*table, *_names(text[at:equals]))
            yield Statement("value", path, line, at, end, start, past)
        at = max(end, at + 1)


def _past_blanks(text: str, at: int) -> int:
    """Past blanks, line breaks and comments."""
    while at < len(text):
        if text[at] == "#":
            at = _line_end(text, at)
        elif text[at] in " \t\r\n":
            at += 1
        else:
            break
    return at


def _line_end(text: str, at: int) -> int:
    """Where the line ends in which a place lies, its break left out."""
    end = text.find("\n", at)
    end = len(text) if end < 0 else end
    return end - 1 if end > at and text[end - 1] == "\r" else end


def _find_outside(text: str, at: int, sign: str) -> int:
    """Where a sign stands outside of quotation marks, or the end of the line."""
    end = _line_end(text, at)
    while at < end and text[at] != sign:
        at = _string_end(text, at) if text[at] in "\"'" else at + 1
    return min(at, end)


def _names(text: str) -> tuple[str, ...]:
    """The names of a key with points, its quotation marks read."""
    try:
        told: Any = tomllib.loads(f"{text.strip()} = 0")
    except (ValueError, RecursionError):
        return (text.strip(),)
    names = []
    while isinstance(told, dict) and told:
        (name, told), *_ = told.items()
        names.append(name)
    return tuple(names) or (text.strip(),)


def _string_end(text: str, at: int) -> int:
    """Past the string that opens at a place; one that nothing closes ends its line, or all."""
    quote = text[at]
    long = text.startswith(quote * 3, at)
    mark = quote * 3 if long else quote
    end = len(text) if long else _line_end(text, at)
    at += len(mark)
    while at < end:
        if text[at] == "\\" and quote == '"':
            at += 2
        elif text.startswith(mark, at):
            at += len(mark)
            more = 0
            # up to two more of them belong to what is said
            while long and more < 2 and text.startswith(quote, at):
                at, more = at + 1, more + 1
            return at
        else:
            at += 1
    return end


def _value_end(text: str, at: int) -> int:
    """Past the value that begins at a place."""
    if at < len(text) and text[at] in "\"'":
        return _string_end(text, at)
    if at >= len(text) or text[at] not in "[{":
        end = _line_end(text, at)
        comment = text.find("#", at, end)
        bare = text[at : end if comment < 0 else comment]
        return at + len(bare.rstrip())
    depth = 0
    while at < len(text):
        sign = text[at]
        if sign in "\"'":
            at = _string_end(text, at)
            continue
        if sign == "#":
            at = _line_end(text, at)
            continue
        depth += (sign in "[{") - (sign in "]}")
        at += 1
        if not depth:
            break
    return at


def read(text: str) -> dict[str, Any] | None:
    """What a text says, or None if it cannot be read.

    text: TOML, perhaps with the mark that some editors set before a file's first letter.
    """
    try:
        return tomllib.loads(text.removeprefix("\ufeff"))
    except (ValueError, RecursionError):
        return None


def fault(text: str) -> tuple[int, str, str]:
    """Of a text that cannot be read: line, what is wrong there, and what is expected.

    text: no TOML.

    >>> fault('title = "Bark"\\nminutes = 2,5\\n')
    (2, 'a decimal comma', 'a point, as in 2.5')
    """
    text = text.removeprefix("\ufeff")
    found = statements(text)
    good, bad = 0, len(found)  # the first `good` can be read, the first `bad` cannot
    while bad - good > 1:
        middle = (good + bad) // 2
        if read(text[: found[middle - 1].end]) is None:
            bad = middle
        else:
            good = middle
    if not found:
        return 1, "signs that no plan has", "lines like minutes = 4"
    one = found[bad - 1]
    whole = text[one.start : one.end]
    before = {other.path for other in found[: bad - 1] if other.kind != "array"}
    return one.line, *_told(one, whole, text[one.value_start : one.value_end], one.path in before)


def _told(one: Statement, whole: str, value: str, twice: bool) -> tuple[str, str]:
    first = whole.partition("\n")[0]
    if one.kind != "value":
        return "a heading that cannot be read", "[[step]] or [step.start] alone on its line"
    if "=" not in first:
        return "neither name nor value", "a line like minutes = 4, or # before a remark"
    if not value:
        return f"{'.'.join(one.path)} without a value", "one behind the =, as in minutes = 4"
    for pattern, wrong, expected in _ALIKE:
        if re.fullmatch(pattern, value):
            return wrong, expected
    if value[0] in _SET_QUOTES:
        return "curly quotation marks", 'straight ones, as in title = "Bark"'
    alone = read(f"a = {value}") is not None
    if alone and read(whole) is not None:
        if twice:
            return f"{'.'.join(one.path)} a second time", "each name once in its step"
        return f"{'.'.join(one.path)} where it cannot stand", "name = value below its [[step]]"
    if value[0] in "\"'":
        return _of_string(value, alone)
    if value[0] in "[{":
        close = "]" if value[0] == "[" else "}"
        like = 'controls = ["tilt_deg"]' if close == "]" else "start = { tilt_deg = 3 }"
        return f"a value between {value[0]} and {close} that cannot be read", f"one like {like}"
    return "words without quotation marks", 'them between two, as in title = "Bark"'


def _of_string(value: str, alone: bool) -> tuple[str, str]:
    if alone:
        return "more than one value on a line", 'one, and \\" for quotation marks inside it'
    mark = value[0] * 3 if value.startswith(value[0] * 3) else value[0]
    if len(value) < 2 * len(mark) or not value.endswith(mark):
        return "words that no quotation mark ends", f"{mark} behind them as well"
    if "\\" in value and mark[0] == '"':
        return "a backslash that stands for no sign", r"two of them, \\, or / in a path"
    return "words with a sign that cannot stand there", f"plain letters between {mark} and {mark}"


def string(text: str, lines: bool = True) -> str:
    """A text as TOML has it; reads back the same, whatever stands in it.

    text: without half signs (surrogates); lines: whether one of several lines is written so.

    >>> string('a "b" \\\\ c'), string("one\\ntwo", lines=False)
    ('"a \\\\"b\\\\" \\\\\\\\ c"', '"one\\\\ntwo"')
    """
    if lines and "\n" in text:
        body = "\n".join(_escaped(line) for line in text.split("\n"))
        body = re.sub(r'""+|"$', lambda found: '\\"' * len(found[0]), body)
        return f'"""\n{body}"""'
    body = "\\n".join(_escaped(line) for line in text.split("\n"))
    return '"' + body.replace('"', '\\"') + '"'


def _escaped(line: str) -> str:
    signs = []
    for sign in line:
        code = ord(sign)
        if sign == "\\":
            signs.append("\\\\")
        elif sign.isprintable():
            signs.append(sign)
        else:
            signs.append(f"\\u{code:04X}" if code < 0x10000 else f"\\U{code:08X}")
    return "".join(signs)


def key(name: str) -> str:
    """A name as TOML has it before the =.

    name: any words.

    >>> key("tilt_deg"), key("a b")
    ('tilt_deg', '"a b"')
    """
    return name if _BARE_KEY.fullmatch(name) else string(name, lines=False)


def value(one: Any) -> str:
    """A number, a truth value, words, or a list or table of them, as TOML has it on one line.

    one: of those kinds. Raises TypeError for another.

    >>> value(3.0), value(True), value({"tilt_deg": 2.5}), value(("a", "b"))
    ('3', 'true', '{ tilt_deg = 2.5 }', '["a", "b"]')
    """
    if isinstance(one, bool):
        return "true" if one else "false"
    if isinstance(one, str):
        return string(one, lines=False)
    if isinstance(one, dict):
        inner = ", ".join(f"{key(name)} = {value(held)}" for name, held in one.items())
        return f"{{ {inner} }}" if inner else "{}"
    if isinstance(one, list | tuple):
        return "[" + ", ".join(value(held) for held in one) + "]"
    if isinstance(one, int):
        return str(one)
    if isinstance(one, float):
        whole = one.is_integer() and abs(one) < 1e15
        return str(int(one)) if whole else repr(one)
    raise TypeError(f"a plan holds no {type(one).__name__}")
