"""A corrected copy of a file of readings, on request: beside the original, never over it.

Every line stands as it stood, with its remarks, but for the readings that were flagged; of a
workbook the copy has the columns of readings, each row in the line of its number. A log beside the
copy says what was done: row, from, to, and the slip. Both are safe to open in a spreadsheet: no
cell begins a formula.
"""

from __future__ import annotations

import csv
import io
import os
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from mensura.checks import shown
from mensura.disk.check_file import FileError, read_bytes
from mensura.disk.readings_excel import is_excel
from mensura.disk.readings_file import (
    MOST_BYTES,
    ReadingsFile,
    table_of,
)
from mensura.disk.readings_table import (
    TOLD,
    csv_layout,
    decoded,
    parted,
)
from mensura.disk.writing import numbered, reason, write_new
from mensura.estimates.suspicious import Flag
from mensura.tables import NUMBER, lines_of

LOG_COLUMNS = ("row", "stem", "hand", "instrument", "column", "from", "to", "unit", "slip")

#: What a spreadsheet takes for the start of a formula, in any width.
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "＝", "＋", "－", "＠")


@dataclass(frozen=True)
class Change:
    """One reading that was corrected.

    row: line of the file; stem, hand, instrument: its codes; before, after: the figure as it was
    typed and as it is now, in the unit; unit: of the file, in words; slip: why.
    """

    row: int
    stem: str
    hand: str
    instrument: str
    before: str
    after: str
    unit: str
    slip: str


@dataclass(frozen=True)
class CorrectedCopy:
    """What was written.

    path: of the copy; log_path: of the log beside it; changes: what was done, by row.
    """

    path: Path
    log_path: Path
    changes: tuple[Change, ...]


def corrected_copy(path: str | Path, found: ReadingsFile, flags: Sequence[Flag]) -> CorrectedCopy:
    """Writes a copy of a file of readings with the flagged ones as they would have been, and a log.

    path: of the original, which is only read; found: what was read from it; flags: those that are
    to be corrected. The copy is a CSV file beside the original, `NAME-corrected.csv`, its log
    `NAME-corrected-log.csv`; where such a name is taken, the next free number is put behind it.
    Raises FileError, in one sentence, if the original has changed since it was read, or nothing can
    be written.
    """
    file = Path(path)
    raw = read_bytes(file, "the file that was read", MOST_BYTES)
    changes = _changes(found, flags)
    if is_excel(raw, file.name):
        lines = _from_workbook(raw, file.name, changes)
    else:
        lines = _from_text(decoded(raw, file.name), file.name, changes)
    copy = ("\ufeff" + lines).encode("utf-8")
    log = ("\ufeff" + _log(tuple(changes.values()))).encode("utf-8")
    base = file.with_suffix(".csv")
    try:
        for one in numbered(base, "corrected"):
            beside = one.with_name(f"{one.stem}-log.csv")
            if os.path.lexists(beside) or not write_new(one, copy):
                continue
            if write_new(beside, log):
                return CorrectedCopy(one, beside, tuple(changes.values()))
            one.unlink(missing_ok=True)  # somebody took the log's name meanwhile
    except OSError as error:
        folder = shown(str(file.parent))
        wrong = f"has no corrected copy in {folder}, {reason(error)}"
        raise FileError(file.name, "", wrong, "a folder that can be written to") from None
    raise AssertionError("names never end")


def safe_cell(text: str) -> str:
    """A cell that no spreadsheet takes for a formula; numbers stay as they are.

    text: of the cell.

    >>> safe_cell("=1+1"), safe_cell("-3,5"), safe_cell("@home"), safe_cell("Q07")
    ("'=1+1", '-3,5', "'@home", 'Q07')
    """
    bare = text.lstrip()
    if bare.startswith(_FORMULA) or text.startswith(_FORMULA):
        return text if NUMBER.fullmatch(bare.rstrip()) else f"'{text}"
    return text


def _changes(found: ReadingsFile, flags: Sequence[Flag]) -> dict[int, Change]:
    readings = found.readings
    decimals = Counter(map(_decimals, found.figures))
    usual = decimals.most_common(1)[0][0] if decimals else 1
    units = {1.0: "cm", 0.1: "mm", 100.0: "m", 2.54: "inches", 30.48: "feet"}
    changes = {}
    for flag in sorted(flags, key=lambda one: one.row):
        at = flag.at
        before, unit_cm = found.figures[at], float(found.unit_cm[at])
        after = _figure(flag.would_be_cm / unit_cm, max(usual, _decimals(before)), usual)
        changes[flag.row] = Change(
            flag.row,
            readings.stems[readings.stem[at]],
            readings.hands[readings.hand[at]],
            readings.instruments[readings.instrument[at]],
            before,
            after.replace(".", ",") if "," in before else after,
            units[unit_cm],
            flag.slip,
        )
    return changes


def _decimals(figure: str) -> int:
    return len(figure.replace(",", ".").partition(".")[2])


def _figure(value: float, digits: int, usual: int) -> str:
    """With as many decimals as it needs, and not fewer than the file's figures have."""
    text = f"{value:.{digits}f}"
    while _decimals(text) > usual and text.endswith("0"):
        text = text[:-1]
    return text.rstrip(".")


def _from_text(text: str, name: str, changes: dict[int, Change]) -> str:
    """The lines of a CSV file with the changes in them; what is not touched stays as it is."""
    end = "\r\n" if "\r\n" in text else "\n"
    lines = lines_of(text)
    head, part, at, width = csv_layout(lines, name)
    written: list[str | None] = list(lines)
    for row, line in enumerate(lines[:head], 1):
        written[row - 1] = _safe_line(line, part)
    left = dict(changes)
    for row, used, cells in parted(lines, part, head + 1, width):
        if isinstance(cells, str):
            written[row - 1] = _safe_line(cells, part)
            continue
        made = list(cells)
        change = left.pop(row, None)
        if change is not None:
            now = cells[at["reading"]].strip() if len(cells) >= width else ""
            if now != change.before:
                raise _changed(name, row, now, change.before)
            made[at["reading"]] = change.after
        made = [safe_cell(one) for one in made]
        if made != cells:
            written[row - 1] = _line(made, part)
            for later in range(row, row - 1 + used):
                written[later] = None  # they are in the cell of that line
    for row, change in left.items():
        raise _changed(name, row, "", change.before)
    return end.join(one for one in written if one is not None)


def _from_workbook(raw: bytes, name: str, changes: dict[int, Change]) -> str:
    """The used columns of a workbook as CSV, each row in the line of its number."""
    table = table_of(raw, name)
    told = {(one.row, one.column): one.value for one in table.problems}
    lines = [""] * table.rows[-1]
    lines[table.rows[0] - 2] = _line(list(table.columns), ",")
    left = dict(changes)
    for index, row in enumerate(table.rows):
        cells = {
            column: told.get((row, column), "") if listed[index] == TOLD else listed[index]
            for column, listed in table.columns.items()
        }
        change = left.pop(row, None)
        if change is not None:
            if cells["reading"].strip() != change.before:
                raise _changed(name, row, cells["reading"], change.before)
            cells["reading"] = change.after
        lines[row - 1] = _line([safe_cell(one) for one in cells.values()], ",")
    for row, change in left.items():
        raise _changed(name, row, "", change.before)
    return "\r\n".join((*lines, ""))


def _changed(name: str, row: int, now: str, before: str) -> FileError:
    is_now = f"is {shown(now)} now" if now else "is no reading now"
    wanted = f"{shown(before)}, as it was when the file was read"
    return FileError(name, f"row {row}, column reading", is_now, wanted)


def _log(changes: Sequence[Change]) -> str:
    rows = [LOG_COLUMNS]
    for one in changes:
        codes = (str(one.row), one.stem, one.hand, one.instrument)
        rows.append((*codes, "reading", one.before, one.after, one.unit, one.slip))
    return "".join(_line([safe_cell(cell) for cell in row], ",") + "\r\n" for row in rows)


def _safe_line(line: str, part: str) -> str:
    """A header or a remark, which a spreadsheet parts like any other line."""
    cells = next(csv.reader([line], delimiter=part), [])
    made = [safe_cell(one) for one in cells]
    return line if made == cells else _line(made, part)


def _line(cells: Sequence[str], part: str) -> str:
    out = io.StringIO()
    csv.writer(out, delimiter=part, lineterminator="").writerow(cells)
    return out.getvalue()
