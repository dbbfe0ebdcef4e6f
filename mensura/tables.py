"""A table as people and programs save it: bytes to text, text to rows of cells, nothing evaluated.

Commas, semicolons or tabs part the columns; lines that open with #, and empty ones, are passed
over. Who reads a table says in its own words what is wrong with it.
"""

from __future__ import annotations

import csv
import io
import re

# Figures, one mark and a power, as programs write them, and no more: a ½ or an ≈ in a table was
# typed into the wrong place. Whoever reads bounds the value's size, since programs write dust like
# 1e-15.
NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)([eE][+-]?\d{1,3})?", re.ASCII)


class EndlessCellError(ValueError):
    """A cell that is longer than any cell of a table: most often a quotation mark is missing.

    row: its line in the file, from 1.
    """

    def __init__(self, row: int) -> None:
        self.row = row
        super().__init__(f"row {row}")


def decoded(raw: bytes) -> str | None:
    """A file's text, from UTF-8 or UTF-16; None if it is none.

    raw: its bytes.

    >>> decoded("40,5".encode("utf-16")), decoded(b"PK\\x00\\xff")
    ('40,5', None)
    """
    encoding = "utf-16" if raw[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
    try:
        text = raw.decode(encoding)
    except UnicodeDecodeError:
        return None
    return None if "\0" in text else text


def lines_of(text: str) -> list[str]:
    """The lines of a text, whatever ends them; the first is line 1 of the file.

    text: the whole file.

    >>> lines_of("a\\r\\nb\\rc")
    ['a', 'b', 'c']
    """
    return text.replace("\r\n", "\n").replace("\r", "\n").split("\n")


def parting_mark(head: str) -> str:
    """What parts the columns of a table: a semicolon or a tab where the header has one, or commas.

    head: the header's line.

    >>> parting_mark("x_cm;y_cm")
    ';'
    """
    return next((mark for mark in (";", "\t") if mark in head), ",")


def table_rows(text: str, blank: str | None = None) -> list[tuple[int, list[str]]]:
    """Each row's line in the file, from 1, and its cells; the header is the first of them.

    text: the whole file; blank: characters of which an empty line may consist, any space if None.
    What parts the columns is seen in the header. Raises EndlessCellError.

    >>> table_rows("# ours\\nx_cm;y_cm\\n\\n40,5;0")
    [(2, ['x_cm', 'y_cm']), (4, ['40,5', '0'])]
    """
    lines = [
        (number, line)
        for number, line in enumerate(lines_of(text), 1)
        if line.strip(blank) and not line.lstrip().startswith("#")
    ]
    separator = parting_mark(lines[0][1] if lines else "")
    rows = []
    for number, line in lines:
        try:
            cells = next(csv.reader(io.StringIO(line), delimiter=separator), [])
        except csv.Error:
            raise EndlessCellError(number) from None
        rows.append((number, [cell.strip() for cell in cells]))
    return rows
