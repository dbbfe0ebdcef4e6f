"""Stems that were taped twice, from a CSV file, with every problem of the file at once.

Columns `stem,first_girth_cm,second_girth_cm`, a row a stem. Commas, semicolons or tabs part the
columns; a decimal comma is read beside semicolons or tabs. Further columns, and lines that open
with #, are passed over. Cells are parsed, never evaluated, and no row is left out in silence: a
mean growth without the stems that were mistyped would be another one.
"""

from __future__ import annotations

from math import floor, pi
from pathlib import Path

from mensura.checks import LARGEST_CM, shown
from mensura.disk.check_file import FileError, Where, read_bytes, rows_of, text_of
from mensura.disk.codes import LONGEST_CODE, is_code, tidied
from mensura.disk.log_file import LogFileError
from mensura.disk.readings_table import Problem
from mensura.estimates.where_rows import TapedTwice
from mensura.tables import NUMBER

MOST_BYTES = 8_000_000
MOST_ROWS = 100_000

_GIRTHS = ("first_girth_cm", "second_girth_cm")
_COLUMNS = ("stem", *_GIRTHS)
HEADER = "the columns stem,first_girth_cm,second_girth_cm"
_CODE_WORDS = f"a code of letters and figures like 12, of at most {LONGEST_CODE}"
_MOST_CM = floor(pi * LARGEST_CM)


class TapedFileError(LogFileError):
    """All that is wrong in a file of stems, in one sentence; what is alike is told together."""


def read_taped(path: Where) -> tuple[TapedTwice, ...]:
    """The stems of a CSV file, in its order.

    path: of the file. Raises FileError, in one sentence with row and column, for what cannot be
    used; TapedFileError has all the problems of the rows.

    >>> from mensura.places import data_file
    >>> len(read_taped(data_file("quillmere-taped-twice.csv")))
    12
    """
    file = Path(path)
    raw = read_bytes(file, "a CSV file of stems that were taped twice", MOST_BYTES)
    name = file.name or str(file)
    return parse_taped(text_of(raw, name), name)


def parse_taped(text: str, name: str = "the file") -> tuple[TapedTwice, ...]:
    """The stems in the text of a CSV file; rows count from 1, the header included.

    text: all of it; name: of the file, for refusals. Raises FileError as :func:`read_taped` does.

    >>> parse_taped("stem;first_girth_cm;second_girth_cm\\n7;98,2;99,6")[0].second_girth_cm
    99.6
    """
    rows = rows_of(text, name, HEADER, MOST_ROWS)
    at = _places(*rows[0], name)
    if len(rows) == 1:
        raise FileError(name, "", "has no stem", "a row a stem")
    width = len(rows[0][1])
    problems: list[Problem] = []
    found: dict[str, int] = {}
    stems = []
    for row, cells in rows[1:]:
        if len(cells) != width:
            wanted = f"{width} as in the header (a decimal comma needs semicolons between columns)"
            wrong = f"has {len(cells)} cell{'s' * (len(cells) != 1)}"
            problems.append(Problem(row, "", "", wanted, wrong=wrong))
            continue
        code = tidied(cells[at["stem"]])
        if not is_code(code):
            problems.append(Problem(row, "stem", cells[at["stem"]], _CODE_WORDS))
        elif code.casefold() in found:
            wanted = f"each stem once; row {found[code.casefold()]} has it too"
            problems.append(Problem(row, "stem", code, wanted, alike="twice"))
        found.setdefault(code.casefold(), row)
        first, second = (_girth(cells[at[one]], one, row, problems) for one in _GIRTHS)
        stems.append(TapedTwice(code, first, second))
    if problems:
        raise TapedFileError(name, problems)
    return tuple(stems)


def _places(row: int, head: list[str], name: str) -> dict[str, int]:
    """Where each column stands."""
    names = [" ".join(one.lower().split()) for one in head]
    for one in _COLUMNS:
        if names.count(one) > 1:
            raise FileError(name, f"row {row}", f"names the column {one} twice", "it once")
    missing = [one for one in _COLUMNS if one not in names]
    if missing:
        has = ", ".join(shown(one) for one in head[:6])
        lacks = f"lacks the column {' and the column '.join(missing)}: it has {has}"
        raise FileError(name, f"row {row}", lacks, HEADER)
    return {one: names.index(one) for one in _COLUMNS}


def _girth(cell: str, column: str, row: int, problems: list[Problem]) -> float:
    """The girth in a cell; 0 and a problem if it is none."""
    value = float(cell.replace(",", ".")) if NUMBER.fullmatch(cell) else 0.0
    if not 0 < value <= _MOST_CM:
        wanted = f"a girth above 0 cm, at most {_MOST_CM:g}"
        problems.append(Problem(row, column, cell, wanted))
        return 0.0
    return value
