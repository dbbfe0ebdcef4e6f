"""The cells of an .xlsx workbook, by openpyxl: rows of text, each cell with what is wrong with it.

A formula stays one: what a spreadsheet once reckoned from it is not read. Whatever the library
finds wrong becomes one kind of error here.
"""

from __future__ import annotations

import io
import re
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, NamedTuple
from xml.etree.ElementTree import ParseError

from mensura.disk.workbook_guard import BadWorkbook, damaged

_MOST_CELL = 32_768  # characters in a cell, the most that a spreadsheet keeps
_MOST_FORMULA = 200  # that are told of one
_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")
_FAULTS = {"f": "formula", "e": "error", "d": "date", "b": "truth"}

Rows = Iterator[tuple[int, list["Cell"]]]


class Cell(NamedTuple):
    """One cell.

    column: its place, from 0; text: what stands there, a number in its shortest form; fault: "",
    `formula`, `error`, `date` or `truth`.
    """

    column: int
    text: str
    fault: str = ""


class Sheet(NamedTuple):
    """One sheet of cells.

    title: its name; rows_of: the library's own sheet.
    """

    title: str
    rows_of: Any


@contextmanager
def _told() -> Iterator[None]:
    """Whatever the library meets in a workbook that no program wrote so is one kind of error."""
    try:
        yield
    except (BadWorkbook, MemoryError):
        raise
    except ParseError:
        raise damaged("its XML is broken") from None
    except IndexError:
        raise damaged("a cell points at a text that is not there") from None
    except KeyError:
        raise damaged("a part of it is missing") from None
    except (zipfile.BadZipFile, zlib.error, EOFError):
        raise BadWorkbook("is a damaged workbook") from None
    except Exception:
        raise damaged("it is not as its kind of file is written") from None


@contextmanager
def open_sheets(raw: bytes) -> Iterator[list[Sheet]]:
    """The sheets of cells of a workbook, in order. Raises BadWorkbook if there is none.

    raw: all of it.
    """
    with _told():
        import openpyxl  # only who has a workbook waits for it

        book = openpyxl.load_workbook(io.BytesIO(raw), read_only=True, keep_links=False)
    try:
        if not book.worksheets:
            raise damaged("it has no sheet of cells")
        yield [Sheet(str(one.title), one) for one in book.worksheets]
    finally:
        book.close()


def rows(sheet: Sheet, columns: int) -> Rows:
    """Each row of a sheet that is not blank: its number from 1, and its cells.

    sheet: which; columns: how many are read. Raises BadWorkbook.
    """
    with _told():
        sheet.rows_of.reset_dimensions()  # what it says of its own size may be wrong
        for number, row in enumerate(sheet.rows_of.iter_rows(max_col=columns), 1):
            cells = [
                _cell(at, one.value, one.data_type)
                for at, one in enumerate(row)
                if one.value is not None
            ]
            if cells:
                yield number, cells


def _cell(column: int, value: Any, kind: str) -> Cell:
    if kind in _FAULTS:
        text = str(getattr(value, "text", value) or "")  # a formula of several cells is no string
        if kind == "b":
            text = "TRUE" if value else "FALSE"
        return Cell(column, text[: _MOST_FORMULA + 1], _FAULTS[kind])
    if isinstance(value, str):
        return Cell(column, _unescaped(value)[:_MOST_CELL])
    return Cell(column, f"{float(value):.15g}")  # the fifteen figures that a spreadsheet shows


def _unescaped(text: str) -> str:
    """Signs that XML cannot hold are written _x000D_ there; a NUL stays as it is written."""
    if "_x" not in text:
        return text
    return _ESCAPED.sub(
        lambda found: chr(int(found[1], 16)) if int(found[1], 16) else found[0], text
    )
