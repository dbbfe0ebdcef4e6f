"""A check of an instrument from a CSV file: parsed, never evaluated, refused with row and column.

Columns `reference_cm,reading_cm`, one row a reading, and where they are known `temperature_c`,
`pull_n`, `mark`, a name for the place, so that a slip in its reference is found, and `instrument`,
where the file has more than one's readings. Commas,
semicolons or tabs part the columns; a decimal comma is read beside semicolons or tabs. Further
columns, and lines that open with #, are passed over.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from mensura.checks import MeasureError, shown
from mensura.disk.writing import reason
from mensura.instruments.tape_card import MOST_READINGS
from mensura.tables import NUMBER, EndlessCellError, decoded, table_rows

MOST_BYTES = 2_000_000

#: Where a file lies, as words or as a path.
Where = str | Path

_NEEDED = ("reference_cm", "reading_cm")
#: What a number in each column may be: least (itself not, for lengths), most, unit.
_BOUNDS = {
    "reference_cm": (0.0, 20000.0, "cm"),
    "reading_cm": (0.0, 20000.0, "cm"),
    "temperature_c": (-60.0, 80.0, "°C"),
    "pull_n": (0.0, 10000.0, "N"),
}
_HEADER = "the columns reference_cm,reading_cm"


class FileError(MeasureError):
    """A check or a card that cannot be used, told in one sentence with the place in its file.

    file: the file's name; place: row and column, or ""; wrong: what is wrong there; expectation:
    what would do; field, value: as of any MeasureError.

    >>> print(FileError("t3.csv", "row 4, column reading_cm", "is 0 cm", "a number above 0 cm"))
    t3.csv, row 4, column reading_cm, is 0 cm; expected a number above 0 cm.
    """

    def __init__(
        self,
        file: str,
        place: str,
        wrong: str,
        expectation: str,
        field: str = "file",
        value: object = None,
    ) -> None:
        name = file if file.isprintable() and len(file) <= 80 else shown(file)
        self.file, self.place, self.wrong = name, place, wrong
        self.field, self.value, self.unit, self.where = field, value, "", place
        self.expectation = expectation
        self.says = f"{name}{f', {place},' if place else ''} {wrong}; expected {expectation}."
        ValueError.__init__(self, self.says)

    def sentence(self, field_name: str) -> str:
        """The sentence; the file and the place in it say more than a field's name.

        field_name: not used.
        """
        return self.says


class FolderError(FileError):
    """A folder that cannot be used, told in one sentence under the name that the user knows.

    folder: as it was given; why: it cannot be used; expectation: what would do.

    >>> print(FolderError("cards", "no such file or directory", "a folder of cards"))
    folder is 'cards', no such file or directory; expected a folder of cards.
    """

    def __init__(self, folder: Where, why: str, expectation: str) -> None:
        wrong = f"is {shown(str(folder))}, {why}"
        super().__init__("folder", "", wrong, expectation, "folder", str(folder))

    def sentence(self, field_name: str) -> str:
        """The sentence, with the folder called by field_name.

        field_name: how a command calls it.
        """
        return f"{field_name} {self.wrong}; expected {self.expectation}."


@dataclass(frozen=True)
class Check:
    """What a file of a check holds, one value a reading, in the file's order.

    file: its name; reference_cm, reading_cm: cm; temperature_c, pull_n: None if the file has none;
    rows: of the file, from 1, the header counted; instrument: whose rows they are, "" if the file
    has no such column.
    """

    file: str
    reference_cm: tuple[float, ...]
    reading_cm: tuple[float, ...]
    temperature_c: tuple[float, ...] | None
    pull_n: tuple[float, ...] | None
    rows: tuple[int, ...]
    instrument: str = ""


def read_check(path: Where, instrument: str = "") -> Check:
    """A check from a CSV file.

    path: of the file; instrument: whose rows are meant, where the file has more than one's. Raises
    FileError, in one sentence with row and column, for what cannot be used.

    >>> from mensura.places import data_file
    >>> len(read_check(data_file("quillmere-tape-t5.csv")).reading_cm)
    18
    """
    file = Path(path)
    raw = read_bytes(file, "a CSV file", MOST_BYTES)
    return parse_check(text_of(raw, file.name), file.name, instrument)


def parse_check(text: str, name: str = "the file", instrument: str = "") -> Check:
    """A check from the text of a CSV file; rows count from 1, the header included.

    text: the whole file; name: of the file, for refusals; instrument: as for :func:`read_check`.
    Raises FileError as it does.

    >>> parse_check("reference_cm;reading_cm\\n50;51,3\\n100;100,7").reading_cm
    (51.3, 100.7)
    """
    rows = rows_of(text, name, _HEADER)
    head_row, head = rows[0]
    names = [one.lower() for one in head]
    for one in (*_BOUNDS, "mark", "instrument"):
        if names.count(one) > 1:
            raise FileError(name, f"row {head_row}", f"names the column {one} twice", "it once")
    missing = [one for one in _NEEDED if one not in names]
    if missing:
        got = ", ".join(shown(one) for one in head[:6])
        lacks = f"the column {' and the column '.join(missing)}"
        raise FileError(name, f"row {head_row}", f"lacks {lacks}: it has {got}", _HEADER)
    columns: dict[str, list[float]] = {one: [] for one in _BOUNDS if one in names}
    marks: dict[str, tuple[float, int]] = {}
    numbers: list[int] = []
    for row, cells in rows[1:]:
        if len(cells) != len(head):
            raise FileError(
                name,
                f"row {row}",
                f"has {len(cells)} cells",
                f"{len(head)} as in the header (a decimal comma needs semicolons between columns)",
            )
    whose = ""
    if "instrument" in names:
        whose, rows = _rows_of(instrument, names.index("instrument"), rows, name)
    for row, cells in rows[1:]:
        for one, values in columns.items():
            values.append(_number(cells[names.index(one)], one, row, name))
        if "mark" in names:
            _check_mark(cells[names.index("mark")], columns["reference_cm"][-1], row, name, marks)
        numbers.append(row)
        if len(numbers) > MOST_READINGS:
            raise FileError(name, f"row {row}", "is one row too many", f"at most {MOST_READINGS}")
    places = set(columns["reference_cm"])
    if len(places) < 2:
        found = "has a header and no reading"
        if places:
            found = f"has its reference at {next(iter(places)):g} cm in every row"
        if len(numbers) == 1:
            found = "has one mark only"
        found += f" of {whose}" if whose and len(numbers) == 1 else ""
        raise FileError(name, "", found, "readings at two different references or more")
    return Check(
        name,
        tuple(columns["reference_cm"]),
        tuple(columns["reading_cm"]),
        tuple(columns["temperature_c"]) if "temperature_c" in columns else None,
        tuple(columns["pull_n"]) if "pull_n" in columns else None,
        tuple(numbers),
        whose,
    )


def _rows_of(
    wanted: str, column: int, rows: list[tuple[int, list[str]]], name: str
) -> tuple[str, list[tuple[int, list[str]]]]:
    """Whose rows are meant, and they alone below the header; the case of a code does not count."""
    codes: dict[str, str] = {}
    for row, cells in rows[1:]:
        if not cells[column]:
            place = f"row {row}, column instrument"
            raise FileError(name, place, "is empty", "a code like T3", "instrument", "")
        codes.setdefault(cells[column].casefold(), cells[column])
    told = [shown(one) for one in codes.values()]
    listed = ", ".join(told[:8]) + (f" and {len(told) - 8} more" if len(told) > 8 else "")
    if wanted and codes and wanted.casefold() not in codes:
        wrong = f"has no reading of {shown(wanted)}"
        raise FileError(name, "", wrong, f"--instrument with one of {listed}", "instrument", wanted)
    if not wanted and len(codes) > 1:
        wrong = f"has readings of {len(codes)} instruments"
        raise FileError(name, "", wrong, f"--instrument with one of {listed}", "instrument")
    key = wanted.casefold() or next(iter(codes), "")
    kept = [one for one in rows[1:] if one[1][column].casefold() == key]
    return codes.get(key, ""), [rows[0], *kept]


def read_bytes(file: Path, what: str, most_bytes: int) -> bytes:
    """A file's bytes.

    file: its path; what: was expected, in words; most_bytes: a larger one is none. Raises FileError
    if it is not there, cannot be read or is too large.
    """
    name = file.name or str(file)
    try:
        if file.stat().st_size > most_bytes:
            raise FileError(name, "", f"is over {most_bytes // 1_000_000} MB", what)
        return file.read_bytes()
    except FileError:
        raise
    except (OSError, ValueError) as error:  # ValueError: a path with a NUL in it
        why = reason(error) if isinstance(error, OSError) else "it is no name of a file"
        raise FileError(name, "", f"was not read, {why}", what, value=str(file)) from None


def text_of(raw: bytes, name: str, what: str = "a CSV table saved as UTF-8") -> str:
    """What a file's bytes say.

    raw: of the file; name: of it, for the refusal; what: was expected, in words. Raises FileError
    for what is no text.
    """
    text = decoded(raw)
    if text is None:
        raise FileError(name, "", "is not text", what)
    return text


def rows_of(
    text: str, name: str, header: str, most: int | None = None
) -> list[tuple[int, list[str]]]:
    """The rows of a table that somebody saved, each with its line in the file, the header first.

    text: all of the file; name: of it, header: what its columns are, for refusals; most: rows below
    the header, None for any number. Raises FileError for a cell that never ends, for a table
    without a row, and for one row too many.

    >>> rows_of("hand\\nQ01", "class.csv", "the column hand")
    [(1, ['hand']), (2, ['Q01'])]
    """
    try:
        rows = table_rows(text.removeprefix("\ufeff"), " \t;,")
    except EndlessCellError as error:
        row = f"row {error.row}"
        raise FileError(name, row, "has a cell that never ends", header) from None
    if not rows:
        raise FileError(name, "", "is empty", header)
    if most is not None and len(rows) - 1 > most:
        raise FileError(
            name, f"row {rows[most + 1][0]}", "is one row too many", f"at most {most:,}"
        )
    return rows


def _number(cell: str, column: str, row: int, name: str) -> float:
    low, high, unit = _BOUNDS[column]
    place = f"row {row}, column {column}"
    length = unit == "cm"
    wanted = f"a number {'above' if length else 'from'} {low:g} "
    wanted += f"and at most {high:g} {unit}" if length else f"to {high:g} {unit}"
    if not NUMBER.fullmatch(cell):
        got = "empty" if not cell else shown(cell)
        raise FileError(name, place, f"is {got}", wanted, column, cell)
    value = float(cell.replace(",", "."))
    if not low <= value <= high or (length and value <= low):
        raise FileError(name, place, f"is {value:g} {unit}", wanted, column, value)
    return value


def _check_mark(
    mark: str, reference: float, row: int, name: str, marks: dict[str, tuple[float, int]]
) -> None:
    """One name, one place."""
    if not mark:
        return
    known, first = marks.setdefault(mark, (reference, row))
    if known != reference:
        raise FileError(
            name,
            f"row {row}, column reference_cm",
            f"is {reference:g} cm at mark {shown(mark)}",
            f"{known:g} cm, as in row {first}",
            "reference_cm",
            reference,
        )
