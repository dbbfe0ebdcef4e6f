"""An Excel workbook of readings as a table of text: cells read, formulas named and never reckoned.

A workbook is a zip of XML. What it would unpack to is known before it is unpacked, and one that is
too large, has a password or carries macros is refused in one sentence. No document type is read,
so that no entity can swell. A cell with a formula, with an error, or that the spreadsheet took for
a date is told by its name, and its row is left out.
"""

from __future__ import annotations

import io
import zipfile
import zlib
from collections.abc import Callable

from mensura.disk.check_file import FileError
from mensura.disk.readings_table import (
    HEADER,
    MOST_ROWS,
    OPTIONAL,
    TOLD,
    Problem,
    Table,
    is_remark,
    needed_columns,
)
from mensura.disk.workbook_xml import (
    BadWorkbook,
    Cell,
    Parts,
    date_styles,
    shared_words,
    sheets_of,
    stream_rows,
)

#: What all parts of a workbook may unpack to: a hundred thousand readings have some 50 MB.
MOST_UNPACKED_BYTES = 200_000_000
_MOST_PARTS = 2000

_ZIP, _OLE = b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_WHAT = "an .xlsx workbook without macros and password, or a CSV table"
_FAULTS = {
    "formula": ("holds the formula", "the figure itself, typed as a value"),
    "error": ("holds the error", "the figure itself, typed as a value"),
    "date": ("was taken for a date by the spreadsheet", "the figure itself, in a cell of numbers"),
    "truth": ("holds the truth value", "the figure itself, typed as a value"),
}


def is_excel(raw: bytes, name: str) -> bool:
    """Whether a file is meant as a workbook, by its first bytes or else by its name.

    raw: all of it; name: of the file.

    >>> is_excel(b"stem,hand", "class.csv"), is_excel(b"stem,hand", "class.xlsx")
    (False, True)
    """
    tail = name.lower().rpartition(".")[2]
    return raw.startswith((_ZIP, _OLE)) or tail in ("xlsx", "xlsm", "xls", "xlsb")


def excel_table(
    raw: bytes, name: str = "the file", progress: Callable[[float], None] | None = None
) -> Table:
    """A table from the bytes of an .xlsx workbook; the one sheet with a header of readings is read.

    raw: all of it; name: of the file; progress: told, now and then, the share that is done. Raises
    FileError, in one sentence, if it has macros or a password, is damaged, would unpack to too
    much, or has readings on no sheet or on several.
    """
    _refuse_others(raw, name)
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as file:
            _refuse_heavy(file, name)
            return _table(Parts(file), name, progress or (lambda share: None))
    except (BadWorkbook, zipfile.BadZipFile, zlib.error, EOFError, KeyError) as error:
        why = f", {error}" if isinstance(error, BadWorkbook) else ""
        raise FileError(name, "", f"is a damaged workbook{why}", _WHAT) from None
    except (NotImplementedError, RuntimeError):  # another way of packing; a password of the zip
        raise FileError(name, "", "is packed in a way that no workbook is", _WHAT) from None


def _refuse_others(raw: bytes, name: str) -> None:
    if not raw.strip():
        raise FileError(name, "", "is empty", HEADER)
    if raw.startswith(_OLE):
        locked = "EncryptedPackage".encode("utf-16-le") in raw
        wrong = "is protected by a password" if locked else "is a workbook of the old kind (.xls)"
        raise FileError(name, "", wrong, _WHAT)
    if not raw.startswith(b"PK"):
        raise FileError(name, "", "is named as a workbook and is none", _WHAT)
    if name.lower().endswith(".xlsm"):
        raise FileError(name, "", "is a workbook for macros (.xlsm)", _WHAT)


def _refuse_heavy(file: zipfile.ZipFile, name: str) -> None:
    """Before a byte is unpacked."""
    parts = file.infolist()
    names = {one.filename.lower().lstrip("/") for one in parts}
    if any(one.flag_bits & 1 for one in parts):
        raise FileError(name, "", "is protected by a password", _WHAT)
    size = sum(one.file_size for one in parts)
    if size > MOST_UNPACKED_BYTES or len(parts) > _MOST_PARTS:
        much = f"would unpack to {size / 1e6:,.0f} MB in {len(parts):,} parts"
        most = f"at most {MOST_UNPACKED_BYTES // 1_000_000} MB in {_MOST_PARTS:,} parts"
        raise FileError(name, "", much, most)
    if any(one.endswith("vbaproject.bin") for one in names):
        raise FileError(name, "", "carries macros", _WHAT)
    if any(one.endswith("workbook.bin") for one in names):
        raise FileError(name, "", "is a binary workbook (.xlsb)", _WHAT)


def _table(parts: Parts, name: str, progress: Callable[[float], None]) -> Table:
    sheets = sheets_of(parts)
    words = shared_words(parts)
    dates = date_styles(parts)
    progress(0.1)
    found: list[tuple[str, str, int]] = []
    refusal: FileError | None = None
    for title, part in sheets:
        head = _header(parts, part, words, dates)
        if head is None:
            continue
        row, cells = head
        try:
            needed_columns(cells, row, name)
        except FileError as error:
            refusal = refusal or error
        else:
            found.append((title, part, row))
    if not found:
        raise refusal or FileError(name, "", "is empty", HEADER)
    if len(found) > 1:
        titles = " and ".join(f"‘{title[:31]}’" for title, _, _ in found[:3])
        raise FileError(name, "", f"has readings on {len(found)} sheets, {titles}", "one sheet")
    return _rows(parts, found[0][1], found[0][2], words, dates, name, progress)


def _header(
    parts: Parts, part: str, words: list[str], dates: frozenset[int]
) -> tuple[int, list[str]] | None:
    """The first row that is not blank and no remark."""
    for row, cells, _ in stream_rows(parts, part, words, dates):
        line = _line(cells)
        if any(one.strip() for one in line) and not is_remark("".join(line)):
            return row, line
    return None


def _line(cells: list[Cell]) -> list[str]:
    """A row's cells as text, in place."""
    line = [""] * (max((one.column for one in cells), default=-1) + 1)
    for one in cells:
        line[one.column] = one.text
    return line


def _rows(
    parts: Parts,
    part: str,
    head: int,
    words: list[str],
    dates: frozenset[int],
    name: str,
    progress: Callable[[float], None],
) -> Table:
    rows: list[int] = []
    columns: dict[str, list[str]] = {}
    by_place: list[tuple[str, list[str]] | None] = []
    problems: list[Problem] = []
    aside: list[int] = []
    letters: dict[str, str] = {}
    keep: dict[str, str] = {}  # of cells that are alike one is kept
    kind = 0
    for row, cells, share in stream_rows(parts, part, words, dates):
        if row == head:
            at = needed_columns(_line(cells), row, name)
            columns = {one: [] for one in at}
            by_place = [None] * (max(at.values()) + 1)
            for column, place in at.items():
                by_place[place] = (column, columns[column])
            letters = {column: _letters(place) for column, place in at.items()}
            kind = at["kind"]
            continue
        filled = [cell for cell in cells if cell.fault or cell.text.strip()]
        if row < head or not filled:
            continue
        if not filled[0].fault and filled[0].text.lstrip().startswith("#"):
            line = _line(filled)
            if len(line) > kind and line[kind].strip().lower() in ("girth", "diameter"):
                aside.append(row)
            continue
        rows.append(row)
        if len(rows) > MOST_ROWS:
            raise FileError(name, f"row {row}", "is one row too many", f"at most {MOST_ROWS:,}")
        count = len(rows)
        for cell in filled:
            target = by_place[cell.column] if cell.column < len(by_place) else None
            if target is None or len(target[1]) == count:
                continue
            target[1].append(TOLD if cell.fault else keep.setdefault(cell.text, cell.text))
            if cell.fault:
                wrong, wanted = _FAULTS[cell.fault]
                quoted = "" if cell.fault == "date" else f" ‘{_short(cell.text)}’"
                problems.append(
                    Problem(
                        row,
                        target[0],
                        cell.text,
                        wanted,
                        f"{letters[target[0]]}{row}",
                        f"{wrong}{quoted}",
                        target[0] not in OPTIONAL,
                    )
                )
        for listed in columns.values():
            if len(listed) < count:
                listed.append("")
        if count % 5000 == 0:
            progress(0.1 + 0.9 * share)
    if not rows:
        raise FileError(name, "", "has no reading", "a row or more under its header")
    return Table(name, rows, columns, problems, 0, tuple(aside), letters)


def _short(text: str) -> str:
    flat = "".join(one if one.isprintable() else " " for one in text)
    return flat if len(flat) <= 40 else flat[:39] + "…"


def _letters(place: int) -> str:
    """A column's name in a workbook: A, B, …, Z, AA.

    >>> _letters(0), _letters(27)
    ('A', 'AB')
    """
    found = ""
    place += 1
    while place:
        place, rest = divmod(place - 1, 26)
        found = chr(65 + rest) + found
    return found
