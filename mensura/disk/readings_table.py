"""A file of readings as a table of text, before anybody asks what its cells mean.

CSV as spreadsheets and people write it: commas, semicolons or tabs, a byte-order mark, any ends of
lines, blank lines, remarks behind #. Each row keeps its line in the file. A line that cannot be
parted is told and left out; the others are read all the same.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Callable, Iterator, Sequence
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
#: The two parts of a figure that a comma parted, and the words that may stand in its unit.
_WHOLE, _REST = re.compile(r"[+]?[0-9]{1,6}"), re.compile(r"[0-9]{1,6}")
_UNITS = ("cm", "mm", "m", "in", "inch", "inches", "ft", "foot", "feet")
#: Of problems that are alike so many values are named.
_VALUES = 3


@dataclass(frozen=True)
class Problem:
    """One thing that is wrong in a file of readings.

    row: line of the file, the header being line 1; column: its name, "" for the whole row; value:
    what stands there; expectation: what would do; cell: in a workbook its name, like G12; wrong:
    what is wrong, in words, where the value does not say it; left_out: whether the reading is left
    out for it; alike: what it has in common with others whose expectation names another figure.

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
    alike: str = ""

    @property
    def place(self) -> str:
        """Where it stands: row and column, or row and cell."""
        return self._place(1)

    def _place(self, count: int) -> str:
        where = f"row {self.row}" + (f" and {count - 1:,} more" if count > 1 else "")
        named = self.wrong.startswith(_OPENING)  # what is wrong opens with the value itself
        where += f", column {self.column}" if self.column and not named else ""
        return where + (f" (cell {self.cell})" if self.cell and count == 1 else "")

    @property
    def says(self) -> str:
        """Place, what is wrong and what would do, without the file's name and a full stop."""
        return alike_words((self,))

    def sentence(self, name: str) -> str:
        """All of it in one sentence.

        name: of the file.
        """
        return f"{name}, {self.says}."


#: The quotation marks that a value is shown in.
_OPENING = ("'", '"')


def alike_problems(problems: Sequence[Problem]) -> list[tuple[Problem, ...]]:
    """Problems of the same column and expectation together, in the order of their first rows.

    problems: of a file, by row.

    >>> yards, width = Problem(2, "unit", "yd", "cm"), Problem(3, "kind", "width", "girth")
    >>> [len(one) for one in alike_problems((yards, width, Problem(4, "unit", "yd", "cm")))]
    [2, 1]
    """
    groups: dict[tuple[object, ...], list[Problem]] = {}
    for one in problems:
        key = (one.column, one.alike or (one.expectation, one.wrong), one.left_out)
        groups.setdefault(key, []).append(one)
    return [tuple(group) for group in groups.values()]


def alike_words(group: Sequence[Problem]) -> str:
    """Problems that are alike in one sentence, without the file's name and a full stop.

    group: of :func:`alike_problems`.

    >>> alike_words([Problem(row, "unit", f"yd{row % 2}", "cm or mm") for row in (2, 3, 4)])
    "row 2 and 2 more, column unit, is 'yd0' or 'yd1'; expected cm or mm"
    """
    first = group[0]
    wrong = first.wrong
    if not wrong:
        values = [
            shown(one) if one else "empty" for one in dict.fromkeys(one.value for one in group)
        ]
        if first.alike:
            values = values[:1]
        some, last = values[:_VALUES], ""
        if len(values) > _VALUES:
            some, last = some[:-1], " or another"
        elif len(some) > 1:
            some, last = some[:-1], f" or {some[-1]}"
        wrong = f"is {', '.join(some)}{last}"
    joined = ": " if wrong.startswith(_OPENING) else ", "
    still = "" if first.left_out else "; the reading is kept"
    return f"{first._place(len(group))}{joined}{wrong}; expected {first.expectation}{still}"


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
        if part == "," and (comma := _decimal_comma(row, cells, at, width)):
            problem, cells = comma
            table.problems.append(problem)
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


def _decimal_comma(
    row: int, cells: list[str], at: dict[str, int], width: int
) -> tuple[Problem, list[str]] | None:
    """A reading that its decimal comma parted: the problem, and the row with the two parts one."""
    here, unit = at["reading"], at["unit"]
    if not (here < unit and len(cells) > unit + 1 and len(cells) > here + 2):
        return None
    if unit > here + 1 and cells[unit].strip().lower() in _UNITS:
        return None
    whole, rest = cells[here].strip(), cells[here + 1].strip()
    parts = _WHOLE.fullmatch(whole) and _REST.fullmatch(rest)
    made = [*cells[:here], TOLD, *cells[here + 2 :]]
    if not parts or made[unit].strip().lower() not in _UNITS or any(map(str.strip, made[width:])):
        return None
    made += [""] * (width - len(made))
    value = f"{whole},{rest}"
    wanted = f'{whole}.{rest}, or semicolons between the columns, or "{value}" in quotation marks'
    wrong = f"'{value}' has a decimal comma where commas part the columns"
    told = Problem(row, "reading", value, wanted, wrong=wrong, alike="decimal comma")
    return told, made


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


def rows_told(rows: Sequence[int]) -> str:
    """Rows of a file in words, the first six of them.

    rows: at least one.

    >>> rows_told([3]), rows_told([3, 4, 5, 6, 7, 8, 9])
    ('Row 3', 'Rows 3, 4, 5, 6, 7, 8 and 1 more')
    """
    some = ", ".join(map(str, rows[:6]))
    some += f" and {len(rows) - 6:,} more" if len(rows) > 6 else ""
    return f"{'Row' if len(rows) == 1 else 'Rows'} {some}"
