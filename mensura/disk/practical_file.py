"""What `mensura practical --json` printed, read again: the verdicts, and how hands lie apart.

Parsed and never evaluated; whatever is missing or out of bounds is refused in one sentence with its
place. Codes and reasons are printed again, so they are held to what a class's file may have.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from mensura.checks import shown
from mensura.disk.check_file import FileError, Where, read_bytes, text_of
from mensura.disk.codes import is_code
from mensura.estimates.class_correction import ClassFound, Verdict
from mensura.estimates.readings import KINDS

#: What a practical is read from, and how large it may be.
WHAT = "a file of `mensura practical class.csv --json > evening.json`"
MOST_BYTES = 50_000_000
#: Longer than any reason that a practical gives.
_MOST_LETTERS = 1000
_VERDICTS = ("sound", "reads-high", "reads-low", "spreads", "cannot-tell")
#: What a bias may be, in each unit: a share of the true size, or a length.
_BOUNDS = {"%": (-99.0, 1000.0), "cm": (-1000.0, 1000.0)}

Row = Mapping[str, Any]


@dataclass(frozen=True)
class Told:
    """A practical's JSON, as far as it was looked at.

    name: of the file, for refusals; hands, instruments, precision: its rows; cards_used: codes.
    """

    name: str
    hands: tuple[Row, ...]
    instruments: tuple[Row, ...]
    precision: tuple[Row, ...]
    cards_used: tuple[str, ...] = ()


def read_practical(path: Where) -> Told:
    """A practical's JSON from its file.

    path: of the file. Raises FileError.
    """
    file = Path(path)
    return parse_told(text_of(read_bytes(file, WHAT, MOST_BYTES), file.name, WHAT), file.name)


def parse_told(text: str, name: str = "the file") -> Told:
    """The same from the text.

    text: JSON; name: of the file, for refusals. Raises FileError.

    >>> parse_told('{"hands": [], "precision": [{"instrument": "T1"}]}').precision
    ({'instrument': 'T1'},)
    """

    def refuse(word: str) -> None:
        raise ValueError(word)

    try:
        told = json.loads(text, parse_constant=refuse)
    except (ValueError, RecursionError):
        raise FileError(name, "", "is damaged, or no JSON", WHAT) from None
    rows = [_rows(told, key) for key in ("hands", "instruments", "precision")]
    if not isinstance(told, dict) or not {"hands", "precision"} <= told.keys() or None in rows:
        raise FileError(name, "", "is no practical", WHAT)
    hands, instruments, precision = (tuple(one or ()) for one in rows)
    used = told.get("cards_used", [])
    if not isinstance(used, list):
        raise FileError(name, "cards_used", f"is {shown(used)}", "a list of codes")
    codes = tuple(_checked_code(one, "cards_used", name) for one in used)
    return Told(name, hands, instruments, precision, codes)


def found_of(told: Told) -> ClassFound:
    """What of a practical reaches a stand.

    told: of :func:`read_practical`. Raises FileError.

    >>> row = '{"name": "T2", "kind": "girth", "verdict": "reads-low", "bias": -2.5, "unit": "%", '
    >>> row += '"interval": [-2.7, -2.3], "why": ""}'
    >>> text = f'{{"hands": [], "instruments": [{row}], "precision": []}}'
    >>> found_of(parse_told(text)).instruments[0].bias
    -2.5
    """
    hands = tuple(_verdict(one, "hands", told.name) for one in told.hands)
    tools = tuple(_verdict(one, "instruments", told.name) for one in told.instruments)
    repeats = {}
    for row in told.precision:
        used = without_off(row, told.name)[0]
        if used.get("repeatability_cm") is not None:
            own = number_in_row(used, "repeatability_cm", told.name, 0.0, 100.0)
            repeats[code_of(row, told.name), str(row.get("kind"))] = own
    return ClassFound(hands, tools, repeats, told.cards_used)


def without_off(row: Row, name: str) -> tuple[Row, tuple[str, ...], tuple[str, ...]]:
    """A row of precision without the hands found off, where it is told without them.

    row: of precision; name: of the file, for refusals. Returns also the codes of those that were
    left out, and of those that are in it all the same. Raises FileError.
    """
    less, off = row.get("without_off"), row.get("hands_off", [])
    if not isinstance(off, list):
        raise FileError(name, "precision, hands_off", f"is {shown(off)}", "a list of codes")
    codes = tuple(_checked_code(one, "precision, hands_off", name) for one in off)
    if less is None:
        return row, (), codes
    if not isinstance(less, dict):
        expected = "figures without the hands found off"
        raise FileError(name, "precision, without_off", f"is {shown(less)}", expected)
    return {**row, **less}, codes, ()


def code_of(row: Row, name: str) -> str:
    """The instrument of a row of precision.

    row: of it; name: of the file, for refusals. Raises FileError.
    """
    return _checked_code(row.get("instrument"), "precision, instrument", name)


def number_in_row(
    row: Row, key: str, name: str, least: float, most: float, where: str = "precision"
) -> float:
    """A number of a row.

    row, key: where it stands; name: of the file; least, most: of it; where: the row's place. Raises
    FileError.
    """
    value = row.get(key)
    if not _is_number(value) or not least <= value <= most:  # type: ignore[operator]
        got = "is missing" if key not in row else f"is {shown(value)}"
        expected = f"a number from {least:g} to {most:g}"
        raise FileError(name, f"{where}, {key}", got, expected, key, value)
    return float(value)  # type: ignore[arg-type]


def _verdict(row: Row, where: str, name: str) -> Verdict:
    code = _checked_code(row.get("name"), f"{where}, name", name)
    here = f"{where}, {code}"
    kind = _word(row, "kind", KINDS, here, name)
    verdict = _word(row, "verdict", _VERDICTS, here, name)
    why = row.get("why", "")
    if not isinstance(why, str) or not why.isprintable() or len(why) > _MOST_LETTERS:
        raise FileError(name, f"{here}, why", f"is {shown(why)}", "a sentence or two")
    spread = None
    if row.get("spreads") is True and row.get("spread_percent") is not None:
        spread = number_in_row(row, "spread_percent", name, 0.0, 100.0, here)
    if row.get("bias") is None or row.get("interval") is None:
        return Verdict(code, kind, verdict, None, None, "%", why, spread)
    unit = _word(row, "unit", tuple(_BOUNDS), here, name)
    bias = number_in_row(row, "bias", name, *_BOUNDS[unit], here)
    ends = row["interval"]
    good = isinstance(ends, list) and len(ends) == 2 and all(map(_is_number, ends))
    if not good or not ends[0] <= ends[1]:
        expected = "two numbers, the lower first"
        raise FileError(name, f"{here}, interval", f"is {shown(ends)}", expected)
    return Verdict(code, kind, verdict, bias, (ends[0], ends[1]), unit, why, spread)


def _rows(told: Any, key: str) -> Sequence[Row] | None:
    """The rows of a key, none where it is missing, None where they are no rows."""
    rows = told.get(key, []) if isinstance(told, dict) else None
    if isinstance(rows, list) and all(isinstance(one, dict) for one in rows):
        return rows
    return None


def _word(row: Row, key: str, words: Sequence[str], where: str, name: str) -> str:
    word = row.get(key)
    if word not in words:
        got = "is missing" if key not in row else f"is {shown(word)}"
        raise FileError(name, f"{where}, {key}", got, f"one of: {', '.join(words)}")
    return str(word)


def _checked_code(code: Any, where: str, name: str) -> str:
    if not isinstance(code, str) or not is_code(code):
        raise FileError(name, where, f"is {shown(code)}", "a code like T3")
    return code


def _is_number(value: Any) -> bool:
    # a whole number of JSON may be too long for a float
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < 1e300
