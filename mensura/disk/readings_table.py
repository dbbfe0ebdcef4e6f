"""A file of readings as a table of text, before anybody asks what its cells mean.

CSV as spreadsheets and people write it: commas, semicolons or tabs, a byte-order mark, any ends of
lines, blank lines, remarks behind #. Each row keeps its line in the file. A line that cannot be
parted is told and left out; the others are read all the same.
"""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from itertools import islice

from mensura import tables
from mensura.checks import shown
from mensura.disk.check_file import FileError
from mensura.tables import lines_of, parting_mark

NEEDED = ("stem", "hand", "instrument", "kind", "direction_deg", "repeat", "reading", "unit")
OPTIONAL = ("clerk",)
HEADER = "the columns " + ",".join(NEEDED)

#: Many classes' readings; more is no file of a practical.
MOST_ROWS = 1_000_000

#: Stands for a cell whose fault was told when the table was made; no text of a file holds a NUL.
TOLD = "\0"

#: A cell in quotation marks may run over so many lines.
_MOST_LINES = 20
_CHUNK = 5000
_DECIMALS = "a decimal comma needs semicolons between columns"


@dataclass(frozen=True)
class Problem:
    """One thing that is wrong in a file of readings.

    row: line of the file, the header being line 1; column: its name, "" for the whole row; value:
    what stands there; expectation: what would do; cell: in a workbook its name, like G12; wrong:
    what is wrong, in words, where the value does not say it; left_out: whether the reading is left
    out for it.

    >>> print(Problem(7, "unit", "yards", "cm, mm, m, inches or feet").sentence("class.csv"))
    class.csv, row 7, column unit, is 'yards'; expected cm, mm, m, inches or feet.
    """

    row: int
    column: str
    value: str
    expectation: str
    cell: str = ""
    wrong: str = ""
    left_out: bool = True

    @property
    def place(self) -> str:
        """Where it stands: row and column, or row and cell."""
        where = f"row {self.row}"
        where += f", column {self.column}" if self.column else ""
        return where + (f" (cell {self.cell})" if self.cell else "")

    def sentence(self, name: str) -> str:
        """All of it in one sentence.

        name: of the file.
        """
        wrong = self.wrong or ("is " + (shown(self.value) if self.value else "empty"))
        still = "" if self.left_out else "; the reading is kept"
        return f"{name}, {self.place}, {wrong}; expected {self.expectation}{still}."


@dataclass(frozen=True)
class Table:
    """Rows of text under the names of their columns.

    name: of the file; rows: each row's line in the file; columns: the cells of those that are used,
    by name, as they stand there; problems: what was found on the way, by row; lost: lines that
    could not be parted, and are in no column; set_aside: lines of readings behind a #; letters:
    names of the columns in a workbook, like G, or nothing.
    """

    name: str
    rows: list[int]
    columns: dict[str, list[str]]
    problems: list[Problem]
    lost: int = 0
    set_aside: tuple[int, ...] = ()
    letters: dict[str, str] | None = None


def decoded(raw: bytes, name: str) -> str:
    """The text of a CSV file.

    raw: all of it, as UTF-8, as UTF-16 with its mark, or in the letters of an older Windows desk;
    name: of the file. Raises FileError if it is no text.

    >>> decoded("Größe".encode("cp1252"), "a.csv")
    'Größe'
    """
    text = tables.decoded(raw)
    if text is None and raw[:2] not in (b"\xff\xfe", b"\xfe\xff"):
        with suppress(UnicodeDecodeError):
            text = raw.decode("cp1252")
    if text is not None and "\0" not in text:
        return text.removeprefix("\ufeff")
    raise FileError(name, "", "is not text", "a CSV table saved as UTF-8, or an Excel workbook")


def needed_columns(cells: list[str], row: int, name: str) -> dict[str, int]:
    """Where in a header each used column stands.

    cells: of the header; row: its line; name: of the file. Raises FileError, in one sentence with
    all that is missing, for what is no header of readings.

    >>> needed_columns(NEEDED[0].split() + list(NEEDED[1:]), 1, "a.csv")["unit"]
    7
    """
    names = [one.strip().lower() for one in cells]
    for one in (*NEEDED, *OPTIONAL):
        if names.count(one) > 1:
            raise FileError(name, f"row {row}", f"names the column {one} twice", "it once")
    missing = [one for one in NEEDED if one not in names]
    if len(missing) == len(NEEDED):
        got = ", ".join(shown(one) for one in cells[:6])
        raise FileError(name, f"row {row}", f"is no header of readings: it has {got}", HEADER)
    if missing:
        which = f"column{'s' * (len(missing) > 1)} {', '.join(missing)}"
        raise FileError(name, f"row {row}", f"lacks the {which}", HEADER)
    return {one: names.index(one) for one in (*NEEDED, *OPTIONAL) if one in names}


def csv_table(
    text: str, name: str = "the file", progress: Callable[[float], None] | None = None
) -> Table:
    """A table from the text of a CSV file.

    text: all of it; name: of the file; progress: told, now and then, the share that is done. Raises
    FileError if there is no header of readings in it, or no row, or far too many.

    >>> csv_table(",".join(NEEDED) + "\\n# wet\\nS1,Q1,T1,girth,,1,99.5,cm").columns["reading"]
    ['99.5']
    """
    text = text.removeprefix("\ufeff").replace(TOLD, "\ufffd")
    lines = lines_of(text)
    number, part, at, width = csv_layout(lines, name)
    kind = at["kind"]
    table = Table(name, [], {one: [] for one in at}, [])
    chunk: list[list[str]] = []
    keep: dict[str, str] = {}
    aside: list[int] = []
    lost = 0
    for row, _, cells in parted(lines, part, number + 1, width):
        if isinstance(cells, str):  # a remark; perhaps a reading that somebody took out
            words = cells.lstrip("#\"' ").split(part)
            if len(words) >= width and words[kind].strip().lower() in ("girth", "diameter"):
                aside.append(row)
            continue
        if len(cells) != width and (len(cells) < width or any(map(str.strip, cells[width:]))):
            table.problems.append(_unparted(row, cells, width))
            lost += 1
            continue
        table.rows.append(row)
        chunk.append(cells)
        if len(chunk) == _CHUNK:
            _into(table, chunk, at, keep)
            if progress:
                progress(row / len(lines))
            if len(table.rows) > MOST_ROWS:
                raise FileError(name, f"row {row}", "is one row too many", f"at most {MOST_ROWS:,}")
    _into(table, chunk, at, keep)
    if not table.rows and not lost:
        raise FileError(name, "", "has no reading", "a row or more under its header")
    return replace(table, lost=lost, set_aside=tuple(aside))


def csv_layout(lines: list[str], name: str) -> tuple[int, str, dict[str, int], int]:
    """The header's line, what parts columns, where the used ones stand, and how many there are.

    lines: of the file; name: of the file. Raises FileError if there is no header of readings.

    >>> csv_layout([";".join(NEEDED)], "a.csv")[1::2]
    (';', 8)
    """
    head = first_line(lines)
    if head is None:
        raise FileError(name, "", "is empty", HEADER)
    number, part = head
    header = next(csv.reader([lines[number - 1]], delimiter=part), [])
    return number, part, needed_columns(header, number, name), len(header)


def _into(table: Table, chunk: list[list[str]], at: dict[str, int], keep: dict[str, str]) -> None:
    """Rows turned into columns, some thousands at a time; of cells that are alike one is kept."""
    one_of = keep.setdefault
    for name, place in at.items():
        cells = [row[place] for row in chunk]
        table.columns[name].extend(map(one_of, cells, cells))
    chunk.clear()


def _unparted(row: int, cells: list[str], width: int) -> Problem:
    wrong = f"has {len(cells)} cell{'s' * (len(cells) != 1)}"
    if len(cells) == 1 and '"' in cells[0]:
        wrong = "has a quotation mark that opens and is not closed"
    return Problem(row, "", "", f"{width} cells as in the header ({_DECIMALS})", wrong=wrong)


def first_line(lines: list[str]) -> tuple[int, str] | None:
    """The header's line, from 1, and what parts its columns; None if all is blank or a remark.

    lines: of the file.

    >>> first_line(["# wet", "", "stem;hand"])
    (3, ';')
    """
    told = ""
    for number, line in enumerate(lines, 1):
        bare = line.strip().lower()
        if len(bare) == 5 and bare.startswith("sep=") and bare[4] in ";,":
            told = bare[4]
        elif line.strip(" \t;,") and not is_remark(line):
            return number, told or parting_mark(line)
    return None


def is_remark(line: str) -> bool:
    """Whether a line is a remark, that is, opens with #.

    line: of the file.

    >>> is_remark("  # wet day"), is_remark('"# wet, cold",,'), is_remark("S1,Q1")
    (True, True, False)
    """
    return line.lstrip(' \t"').startswith("#")


def parted(
    lines: list[str], part: str, start: int, width: int
) -> Iterator[tuple[int, int, list[str] | str]]:
    """Each line that is not blank: its number, lines it takes, its cells or, whole, a remark.

    lines: of the file; part: what parts columns; start: number of the first line, from
    1; width: cells of
    the header. A cell in quotation marks may hold ends of lines if the row is whole with them; one
    that is never closed stays in its own line, and that line is one cell.

    >>> [cells for _, _, cells in parted(['a;"wet', 'day"', "b;c"], ";", 1, 2)][1]
    ['b', 'c']
    """
    at = start - 1
    while at < len(lines):
        line = lines[at]
        at += 1
        if '"' not in line:
            if "#" in line and is_remark(line):
                yield at, 1, line
            elif line.strip(" \t;,"):
                yield at, 1, line.split(part)
            continue
        if is_remark(line):
            yield at, 1, line
            continue
        following = [line, *islice(lines, at, at + _MOST_LINES)]
        reader = csv.reader((one + "\n" for one in following), delimiter=part)
        try:
            cells, used = next(reader, []), reader.line_num
        except csv.Error:
            cells, used = [line], 1
        if used > 1 and len(cells) != width:
            cells, used = [line], 1
        cells[-1] = cells[-1].removesuffix("\n")
        yield at, used, cells
        at += used - 1
