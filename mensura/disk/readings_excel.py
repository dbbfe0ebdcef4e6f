"""An Excel workbook of readings as a table of text: cells read, formulas named and never reckoned.

A workbook is a zip of XML, which openpyxl reads. What it would unpack to is known before it is
unpacked, and one that is too large, has a password or carries macros is refused in one sentence.
A cell with a formula, with an error, or that the spreadsheet took for
a date is told by its name, and its row is left out.
"""

from __future__ import annotations

import io
import warnings
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
from mensura.disk.workbook_cells import Cell, Sheet, open_sheets, rows
from mensura.disk.workbook_guard import BadWorkbook, damaged, guard

#: What all parts of a workbook may unpack to: a hundred thousand readings have some 50 MB.
MOST_UNPACKED_BYTES = 200_000_000
_MOST_PARTS = 2000
_MOST_HEADER = 256  # columns among which a header is looked for

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
    tell = progress or (lambda share: None)
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as file:
            _refuse_heavy(file, name)
            for share in guard(file):
                tell(0.1 * share)
        with warnings.catch_warnings():  # of what the library leaves aside: nothing that is read
            warnings.simplefilter("ignore")
            with open_sheets(raw) as sheets:
                return _table(sheets, name, tell)
    except (BadWorkbook, zipfile.BadZipFile, zlib.error, EOFError) as error:
        wrong = str(error) if isinstance(error, BadWorkbook) else "is a damaged workbook"
        raise FileError(name, "", wrong, _WHAT) from None
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
    if "[content_types].xml" not in names:
        raise damaged("it is a zip without a sheet in it")


def _table(sheets: list[Sheet], name: str, progress: Callable[[float], None]) -> Table:
    found: list[tuple[Sheet, int, list[str]]] = []
    refusal: FileError | None = None
    for sheet in sheets:
        head = _header(sheet)
        if head is None:
            continue
        row, cells = head
        try:
            needed_columns(cells, row, name)
        except FileError as error:
            refusal = refusal or error
        else:
            found.append((sheet, row, cells))
    if not found:
        raise refusal or FileError(name, "", "is empty", HEADER)
    if len(found) > 1:
        titles = " and ".join(f"‘{sheet.title[:31]}’" for sheet, _, _ in found[:3])
        raise FileError(name, "", f"has readings on {len(found)} sheets, {titles}", "one sheet")
    return _rows(*found[0], name, progress)


def _header(sheet: Sheet) -> tuple[int, list[str]] | None:
    """The first row that is not blank and no remark."""
    for row, cells in rows(sheet, _MOST_HEADER):
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
    sheet: Sheet, head: int, header: list[str], name: str, progress: Callable[[float], None]
) -> Table:
    """What stands under the header, in its columns; a note beside them is no reading."""
    at = needed_columns(header, head, name)
    numbers: list[int] = []
    columns: dict[str, list[str]] = {one: [] for one in at}
    by_place: list[tuple[str, list[str]] | None] = [None] * len(header)
    for column, place in at.items():
        by_place[place] = (column, columns[column])
    letters = {column: _letters(place) for column, place in at.items()}
    problems: list[Problem] = []
    aside: list[int] = []
    keep: dict[str, str] = {}  # of cells that are alike one is kept
    kind = at["kind"]
    for row, cells in rows(sheet, len(header)):
        filled = [cell for cell in cells if cell.fault or cell.text.strip()]
        if row <= head or not filled:
            continue
        if not filled[0].fault and filled[0].text.lstrip().startswith("#"):
            line = _line(filled)
            if len(line) > kind and line[kind].strip().lower() in ("girth", "diameter"):
                aside.append(row)
            continue
        numbers.append(row)
        if len(numbers) > MOST_ROWS:
            raise FileError(name, f"row {row}", "is one row too many", f"at most {MOST_ROWS:,}")
        count = len(numbers)
        for cell in filled:
            target = by_place[cell.column]
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
            progress(0.1 + 0.9 * count / (count + 20_000))  # how many there are is not known
    if not numbers:
        raise FileError(name, "", "has no reading", "a row or more under its header")
    return Table(name, numbers, columns, problems, 0, tuple(aside), letters)


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
