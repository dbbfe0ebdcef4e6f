"""A class's readings from a file, with every problem of it at once; what is readable is still read.

CSV or an Excel workbook with the columns `stem,hand,instrument,kind,direction_deg,repeat,reading,
unit` and, where somebody else wrote, `clerk`. A row that cannot be used is left out and counted;
the others stand. Cells are parsed and never evaluated, and a code is letters and figures, so that
no formula, path or markup comes in by one.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from mensura.checks import LARGEST_CM, FloatArray
from mensura.disk.check_file import FileError, read_bytes
from mensura.disk.codes import LONGEST_CODE, is_code, tidied
from mensura.disk.readings_excel import excel_table, is_excel
from mensura.disk.readings_table import OPTIONAL, TOLD, Problem, Table, csv_table, decoded
from mensura.estimates.readings import IntArray, Readings
from mensura.tables import NUMBER

#: A hundred thousand readings have some 5 MB.
MOST_BYTES = 64_000_000

#: Each unit as it may be written, in cm.
UNITS_CM: Mapping[str, float] = {
    **{"cm": 1.0, "mm": 0.1, "m": 100.0},
    **dict.fromkeys(("in", "inch", "inches"), 2.54),
    **dict.fromkeys(("ft", "foot", "feet"), 30.48),
}
MOST_REPEATS = 1000

#: The share of the work that is done, from 0 to 1, is told to it.
Progress = Callable[[float], None]

_CODE_WORDS = (
    f"a code of letters and figures like Q07, with . - _ inside, of at most {LONGEST_CODE}"
)
_UNIT_WORDS = "cm, mm, m, inches or feet"
_DIRECTION_WORDS = "degrees from 0 to 360, or nothing"
_REPEAT_WORDS = f"a whole number from 1 to {MOST_REPEATS}"


@dataclass(frozen=True)
class ReadingsFile:
    """What a file of readings holds.

    name: of the file; readings: those that can be used, in the file's order; figures: of each, as
    it was typed; unit_cm: of each, its unit in cm; problems: all there are, by row; rows: how many
    rows there are; left_out: how many of them a problem costs; set_aside: lines of readings behind
    a #; unread_stems: those of which no row can be used; not_yet: rows that are whole but for their
    reading, which nobody has typed yet; not_yet_stems: those of which no row has one.
    """

    name: str
    readings: Readings
    figures: tuple[str, ...]
    unit_cm: FloatArray
    problems: tuple[Problem, ...]
    rows: int
    left_out: int
    set_aside: tuple[int, ...] = ()
    unread_stems: tuple[str, ...] = ()
    not_yet: int = 0
    not_yet_stems: tuple[str, ...] = ()

    def sentences(self) -> list[str]:
        """Every problem in one sentence, by row."""
        return [one.sentence(self.name) for one in self.problems]


def read_readings(path: str | Path, progress: Progress | None = None) -> ReadingsFile:
    """A class's readings from a CSV file or an Excel workbook.

    path: of the file; progress: told, now and then, the share that is done. Raises FileError, in
    one sentence, if the file is none, is too large, or has no header of readings; whatever is wrong
    in a row is one of the problems.
    """
    file = Path(path)
    raw = read_bytes(file, "a CSV table or an Excel workbook of readings", MOST_BYTES)
    name = file.name or str(file)
    tell = progress or _nobody
    tell(0.05)
    table = table_of(raw, name, lambda share: tell(0.05 + 0.55 * share))
    tell(0.6)
    found = readings_of(table, lambda share: tell(0.6 + 0.4 * share))
    tell(1.0)
    return found


def table_of(raw: bytes, name: str, progress: Progress | None = None) -> Table:
    """The table in a file, told by its first bytes: a workbook or text.

    raw: all of it; name: of the file; progress: as in :func:`read_readings`. Raises FileError.
    """
    if is_excel(raw, name):
        return excel_table(raw, name, progress)
    return csv_table(decoded(raw, name), name, progress)


def parse_readings(text: str, name: str = "the file") -> ReadingsFile:
    """A class's readings from the text of a CSV file.

    text: all of it; name: of the file. Raises FileError as :func:`read_readings` does.

    >>> found = parse_readings('''stem;hand;instrument;kind;direction_deg;repeat;reading;unit
    ... S1;Q1;T1;girth;;1;99,5;cm
    ... S1;Q1;K1;diameter;400;1;316;mm
    ... S1;Q2;K1;diameter;90;1;=cmd();mm''', "class.csv")
    >>> found.readings.reading_cm.tolist(), found.left_out
    ([99.5], 2)
    >>> for one in found.sentences():
    ...     print(one)
    class.csv, row 3, column direction_deg, is '400'; expected degrees from 0 to 360, or nothing.
    class.csv, row 4, column reading, is '=cmd()'; expected a number above 0, like 124.5.
    """
    return readings_of(csv_table(text, name))


def readings_of(table: Table, progress: Progress | None = None) -> ReadingsFile:
    """What the cells of a table mean, column by column.

    table: of text; progress: as in :func:`read_readings`. Raises FileError if no reading was typed
    into it at all.
    """
    tell = progress or _nobody
    if table.rows and not any(map(str.strip, set(table.columns["reading"]))):
        wrong = f"has an empty column reading in all its {len(table.rows):,} rows"
        raise FileError(table.name, "", wrong, "a reading in one of them or more")
    work = _Columns(table)
    codes = {}
    for done, name in enumerate(("stem", "hand", "instrument", *OPTIONAL)):
        codes[name] = work.codes(name)
        tell(0.1 * (done + 1))
    kind = work.words("kind", {"girth": 1.0, "diameter": 0.0}, "girth or diameter")
    unit_cm = work.words("unit", UNITS_CM, _UNIT_WORDS)
    direction = work.numbers("direction_deg", _DIRECTION_WORDS, 0.0, 360.0, empty=True) % 360.0
    tell(0.6)
    repeat = work.numbers("repeat", _REPEAT_WORDS, 1.0, MOST_REPEATS, whole=True)
    reading_cm = work.readings(kind, unit_cm)
    tell(0.8)
    work.duplicates(codes, kind, direction, repeat)
    kept = np.flatnonzero(work.good)
    lists, places = {}, {}
    for name, (listed, place) in codes.items():
        lists[name], places[name] = _used(listed, place[kept])
    readings = Readings(
        stems=lists["stem"],
        hands=lists["hand"],
        instruments=lists["instrument"],
        clerks=lists["clerk"],
        stem=places["stem"],
        hand=places["hand"],
        instrument=places["instrument"],
        clerk=places["clerk"],
        girth=kind[kept] == 1.0,
        direction_deg=direction[kept],
        repeat=repeat[kept].astype(np.int64),
        reading_cm=reading_cm[kept],
        row=work.rows[kept],
    )
    unread = set(codes["stem"][0]) - set(lists["stem"])
    place = codes["stem"][1][~work.not_yet]
    tried = {codes["stem"][0][one] for one in np.unique(place[place >= 0]).tolist()}
    not_yet = int(np.count_nonzero(work.not_yet))
    typed = table.columns["reading"]
    rows = len(table.rows) + table.lost
    return ReadingsFile(
        table.name,
        readings,
        tuple(typed[one].strip() for one in kept.tolist()),
        unit_cm[kept],
        tuple(sorted(work.problems, key=lambda one: one.row)),
        rows,
        rows - len(readings) - not_yet,
        table.set_aside,
        tuple(sorted(unread & tried)),
        not_yet,
        tuple(sorted(unread - tried)),
    )


class _Columns:
    """The columns of a table as arrays; `good` says which rows are whole so far.

    `not_yet` says which rows are whole but for their reading, of which nothing is typed yet.
    """

    def __init__(self, table: Table) -> None:
        self.table = table
        self.rows = np.asarray(table.rows, dtype=np.int64)
        self.good = np.ones(self.rows.size, dtype=np.bool_)
        self.not_yet = np.zeros(self.rows.size, dtype=np.bool_)
        self.problems = list(table.problems)

    def codes(self, column: str) -> tuple[tuple[str, ...], IntArray]:
        """The codes of a column, sorted, and each row's place among them; -1 for none."""
        cells = self.table.columns.get(column)
        if cells is None:
            return ("",), np.zeros(self.rows.size, dtype=np.int64)
        empty = column in OPTIONAL
        counts = Counter(cells)
        spelt: dict[str, Counter[str]] = {}
        plain: dict[str, str] = {}
        for cell, count in counts.items():
            code = tidied(cell)
            if is_code(code) or (empty and not code):
                plain[cell] = code
                spelt.setdefault(code.casefold(), Counter())[code] += count
        # one code in several spellings: the one that most rows have
        chosen = {key: same.most_common(1)[0][0] for key, same in spelt.items()}
        listed = tuple(sorted(chosen.values()))
        place_of = {code: place for place, code in enumerate(listed)}
        by_cell = {
            cell: place_of[chosen[plain[cell].casefold()]] if cell in plain else -1
            for cell in counts
        }
        place = np.fromiter(map(by_cell.__getitem__, cells), np.int64, len(cells))
        if empty:  # who wrote is good to know, and no reading is lost for it
            self._bad(column, place < 0, _CODE_WORDS, left_out=False)
            listed, place = (listed, place) if "" in place_of else (("", *listed), place + 1)
            place = np.maximum(place, 0)  # the empty code is sorted first
        else:
            self._bad(column, place < 0, _CODE_WORDS)
        self._spellings(column, cells, plain, chosen)
        return listed, place

    def words(self, column: str, known: Mapping[str, float], wanted: str) -> FloatArray:
        """What each row's word stands for; nan for none."""
        cells = self.table.columns[column]
        by_cell = {cell: known.get(cell.strip().lower(), np.nan) for cell in set(cells)}
        values = np.fromiter(map(by_cell.__getitem__, cells), np.float64, len(cells))
        self._bad(column, np.isnan(values), wanted)
        return values

    def numbers(
        self,
        column: str,
        wanted: str,
        low: float,
        high: float,
        *,
        empty: bool = False,
        whole: bool = False,
    ) -> FloatArray:
        """The numbers of a column within bounds; nan for none."""
        values, cells = self._parsed(column)
        with np.errstate(invalid="ignore"):
            good = (values >= low) & (values <= high)
            if whole:
                good &= values == np.floor(values)
        blank = {cell for cell in set(cells) if not cell.strip()}
        if empty and blank:
            good |= np.fromiter((cell in blank for cell in cells), np.bool_, len(cells))
        self._bad(column, ~good, wanted)
        return np.where(good, values, np.nan)

    def readings(self, kind: FloatArray, unit_cm: FloatArray) -> FloatArray:
        """The readings in cm; nan for none."""
        values, cells = self._parsed("reading")
        blank = {cell for cell in set(cells) if not cell.strip()}
        if blank:
            empty = np.fromiter((cell in blank for cell in cells), np.bool_, len(cells))
            self.not_yet = empty & self.good
            self.good &= ~empty
        most_cm = np.where(kind == 1.0, LARGEST_CM * np.pi, LARGEST_CM)
        with np.errstate(invalid="ignore"):
            positive = values > 0
            cm = values * np.where(np.isnan(unit_cm), 0.0, unit_cm)
            large = positive & (cm > most_cm)
        self._bad("reading", ~positive & ~self.not_yet, "a number above 0, like 124.5")
        self._bad("reading", large, f"a stem of at most {LARGEST_CM / 100:g} m through")
        return np.where(positive & ~large, values * unit_cm, np.nan)

    def duplicates(
        self,
        codes: Mapping[str, tuple[tuple[str, ...], IntArray]],
        kind: FloatArray,
        direction: FloatArray,
        repeat: FloatArray,
    ) -> None:
        """Of two rows for the same reading the first stands; the later one is told and left out."""
        at = np.flatnonzero(self.good)
        keys: list[NDArray[np.generic]] = []
        keys += [codes[one][1][at] for one in ("stem", "hand", "instrument")]
        keys += [kind[at], np.nan_to_num(direction[at], nan=-1.0), repeat[at]]
        order = np.lexsort(keys)  # stable: of equal rows the first in the file comes first
        same = np.ones(max(order.size - 1, 0), dtype=np.bool_)
        for key in keys:
            same &= key[order][1:] == key[order][:-1]
        first = 0
        rows = self.rows[at][order].tolist()
        for later in (np.flatnonzero(same) + 1).tolist():
            if not (later > 1 and same[later - 2]):
                first = rows[later - 1]
            told = f"another stem, hand, instrument, direction or repeat than row {first} has"
            index = int(at[order[later]])
            self._tell("repeat", index, told, alike="twice")
            self.good[index] = False

    # ---- telling -------------------------------------------------------------------------------

    def _parsed(self, column: str) -> tuple[FloatArray, list[str]]:
        cells = self.table.columns[column]
        by_cell = {cell: _number(cell.strip()) for cell in set(cells)}
        return np.fromiter(map(by_cell.__getitem__, cells), np.float64, len(cells)), cells

    def _bad(self, column: str, bad: NDArray[np.bool_], wanted: str, left_out: bool = True) -> None:
        cells = self.table.columns[column]
        for index in np.flatnonzero(bad).tolist():
            if cells[index] != TOLD:
                self._tell(column, index, wanted, left_out)
        if left_out:
            self.good &= ~bad

    def _tell(
        self, column: str, index: int, wanted: str, left_out: bool = True, alike: str = ""
    ) -> None:
        row = self.table.rows[index]
        letter = (self.table.letters or {}).get(column, "")
        cell = f"{letter}{row}" if letter else ""
        value = self.table.columns[column][index].strip()
        told = Problem(row, column, value, wanted, cell, left_out=left_out, alike=alike)
        self.problems.append(told)

    def _spellings(
        self, column: str, cells: list[str], plain: dict[str, str], chosen: dict[str, str]
    ) -> None:
        """A code in other capitals or widths is the same code, and is told once a spelling."""
        odd = {cell for cell, code in plain.items() if code != chosen[code.casefold()]}
        if not odd:
            return
        told: set[str] = set()
        for index, cell in enumerate(cells):
            if cell in odd and plain[cell] not in told:
                told.add(plain[cell])
                wanted = f"{chosen[plain[cell].casefold()]}, as in most rows"
                self._tell(column, index, wanted, left_out=False)


def _number(cell: str) -> float:
    return float(cell.replace(",", ".")) if NUMBER.fullmatch(cell) else np.nan


def _used(listed: tuple[str, ...], place: IntArray) -> tuple[tuple[str, ...], IntArray]:
    """The codes that some row has, and each row's place among those."""
    kept, new = np.unique(place, return_inverse=True)
    return tuple(listed[one] for one in kept.tolist()), new.astype(np.int64).reshape(-1)


def _nobody(share: float) -> None:
    pass
