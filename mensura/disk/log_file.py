"""Logs from a CSV file: a row a point along a log, with every problem of the file at once.

Columns `log,at_m,girth_cm` or `log,at_m,diameter_cm`, and where it was measured `bark_cm`, the
bark's thickness on one side. Rows of a log stand in their order along it; logs may take turns.
Cells are parsed, never evaluated, and a log whose rows are not all good is not worked out without
them: a volume with a section left out would be another log's.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import pi
from pathlib import Path

from mensura.checks import LARGEST_CM, shown
from mensura.disk.check_file import FileError, Where, read_bytes, rows_of, text_of
from mensura.disk.codes import LONGEST_CODE, is_code, tidied
from mensura.disk.readings_table import Problem, alike_problems, alike_words, rows_told
from mensura.estimates.log_points import LogPoints
from mensura.estimates.logs import LONGEST_M
from mensura.estimates.odd_logs import odd_points
from mensura.tables import NUMBER

MOST_BYTES = 8_000_000
MOST_ROWS = 100_000

READINGS = ("girth_cm", "diameter_cm")
HEADER = "the columns log,at_m,girth_cm or log,at_m,diameter_cm"

_CODE_WORDS = f"a code of letters and figures like L1, of at most {LONGEST_CODE}"
#: What looks like a slip, and what it looks like.
_ODD = {
    "large": ("far more than the readings beside it", "Is it in mm, or a figure too long?"),
    "small": ("far less than the readings beside it", "Is a figure missing, or is it in dm or m?"),
    "rises": ("thicker than the point before it", "Is one of the two mistyped?"),
    "grows": (
        "the log gets thicker along its length",
        "Was it measured from its top, which is as good, or is a reading mistyped?",
    ),
    "thick": ("the whole log is thicker than nearly any", "Are its readings in mm?"),
    "thin": ("the whole log is thinner than nearly any", "Are its readings in m or dm?"),
    "steep": (
        "more than 5 cm of diameter from metre to metre",
        "Are its readings in mm, or is one mistyped?",
    ),
    "bark": ("nearly a third of the diameter or more is bark", "Is it in mm?"),
}
#: A refusal is one line of a terminal, and no longer than this.
_MOST_LETTERS = 560


@dataclass(frozen=True)
class LogFile:
    """The logs of a file.

    name: of the file; column: girth_cm or diameter_cm; logs: in the order of their first rows;
    rows: how many there are; with_bark: whether the bark was measured; point_rows: of each log
    the line in the file of each point.
    """

    name: str
    column: str
    logs: tuple[LogPoints, ...]
    rows: int
    with_bark: bool
    point_rows: tuple[tuple[int, ...], ...]

    def odd_notes(self) -> list[str]:
        """What looks like a slip, a sentence each kind, with file, row and column.

        Nothing is changed: any of it may be true.
        """
        found: dict[str, list[tuple[int, str]]] = {}
        for log, rows in zip(self.logs, self.point_rows, strict=True):
            for odd in odd_points(log):
                row, last = rows[odd.place], rows[odd.place - 1]
                here = f"{log.reading_cm[odd.place]:,.10g} cm"
                if odd.kind == "bark":
                    here = f"{log.bark_cm[odd.place]:g} cm on each side" if log.bark_cm else here
                elif odd.kind == "large":
                    here += f", {odd.times:.3g} times as much"
                elif odd.kind == "small":
                    here += f", they are {odd.times:.3g} times as much"
                elif odd.kind == "rises":
                    here += f" after {log.reading_cm[odd.place - 1]:,.10g} cm in row {last}"
                elif odd.kind == "grows":
                    here += f" at the end, {log.reading_cm[0]:,.10g} cm in row {rows[0]}"
                found.setdefault(odd.kind, []).append((row, f"log {log.log}: {here}"))
        return [
            f"{rows_told([row for row, _ in some])} of {shown(self.name)}, column "
            f"{'bark_cm' if kind == 'bark' else self.column}: {_ODD[kind][0]} ({some[0][1]}). "
            f"{_ODD[kind][1]} Nothing was changed."
            for kind, some in found.items()
        ]


class LogFileError(FileError):
    """All that is wrong in a file of logs, in one sentence; what is alike is told together.

    name: of the file; problems: one or more, by row.

    >>> one = Problem(4, "girth_cm", "wide", "a number above 0 cm")
    >>> two = Problem(9, "at_m", "2", "more than 3 m, as row 8 has of this log")
    >>> print(LogFileError("oak.csv", [one]))
    oak.csv, row 4, column girth_cm, is 'wide'; expected a number above 0 cm.
    >>> print(LogFileError("oak.csv", [one, two]).says.split("; and ")[1])
    row 9, column at_m, is '2'; expected more than 3 m, as row 8 has of this log.
    """

    def __init__(self, name: str, problems: Sequence[Problem]) -> None:
        first = problems[0]
        super().__init__(name, first.place, first.wrong, first.expectation, first.column)
        self.problems = tuple(problems)
        groups = alike_problems(problems)
        told, used = "", 0
        for group in groups:
            words = alike_words(group)
            if told and len(told) + len(words) > _MOST_LETTERS:
                break
            told += f"; and {words}" if told else f"{self.file}, {words}"
            used += 1
        left = sum(map(len, groups[used:]))
        rows = sorted({one.row for group in groups[used:] for one in group})
        if left:
            noun = "problem" if left == 1 else "problems"
            told += f"; and {left} more {noun}, from row {rows[0]} on"
        self.says = told + "."
        ValueError.__init__(self, self.says)


@dataclass
class _Log:
    """Rows of one log as they are read; none of it is used if one of them is bad."""

    code: str
    first_row: int
    at_m: list[float] = field(default_factory=list)
    reading: list[float] = field(default_factory=list)
    bark: list[float | None] = field(default_factory=list)
    rows: list[int] = field(default_factory=list)
    good: bool = True


def read_logs(path: Where) -> LogFile:
    """The logs of a CSV file.

    path: of the file. Raises FileError, in one sentence with row and column, for what cannot be
    used; LogFileError has all the problems of the rows.

    >>> from mensura.places import data_file
    >>> len(read_logs(data_file("quillmere-logs.csv")).logs)
    8
    """
    file = Path(path)
    raw = read_bytes(file, "a CSV file of logs", MOST_BYTES)
    name = file.name or str(file)
    text = text_of(raw, name)
    return parse_logs(text, name)


def parse_logs(text: str, name: str = "the file") -> LogFile:
    """The logs in the text of a CSV file; rows count from 1, the header included.

    text: all of it; name: of the file, for refusals. Raises FileError as :func:`read_logs` does.

    >>> found = parse_logs("log;at_m;diameter_cm\\nL1;0;44\\nL1;2,5;40\\nL1;5;36")
    >>> found.logs[0].at_m, found.logs[0].girth
    ((0.0, 2.5, 5.0), False)
    """
    rows = rows_of(text, name, HEADER, MOST_ROWS)
    width = len(rows[0][1])
    at, column = _columns(*rows[0], name)
    if len(rows) == 1:
        raise FileError(name, "", "has no point of a log", "two rows a log or more")
    problems: list[Problem] = []
    logs: dict[str, _Log] = {}
    for row, cells in rows[1:]:
        if len(cells) != width:
            problems.append(_unparted(row, cells, width))
            continue
        _take(row, cells, at, column, logs, problems)
    for one in logs.values():
        _finish(one, column, problems)
    if problems:
        raise LogFileError(name, sorted(problems, key=lambda one: one.row))
    girth, bark = column == "girth_cm", "bark_cm" in at
    made = tuple(_points(one, girth, bark) for one in logs.values())
    lines = tuple(tuple(one.rows) for one in logs.values())
    return LogFile(name, column, made, len(rows) - 1, any(one.bark_cm for one in made), lines)


def _columns(row: int, head: list[str], name: str) -> tuple[dict[str, int], str]:
    """Where each used column stands, and what was read."""
    names = [" ".join(one.lower().split()) for one in head]
    place = f"row {row}"
    for one in ("log", "at_m", *READINGS, "bark_cm"):
        if names.count(one) > 1:
            raise FileError(name, place, f"names the column {one} twice", "it once")
    got = [one for one in READINGS if one in names]
    if len(got) == 2:
        wanted = "one of them, whichever was read"
        raise FileError(name, place, "has both columns, girth_cm and diameter_cm", wanted)
    missing = [one for one in ("log", "at_m") if one not in names]
    missing += [] if got else ["girth_cm or diameter_cm"]
    if missing:
        has = ", ".join(shown(one) for one in head[:6])
        lacks = f"lacks the column {' and the column '.join(missing)}: it has {has}"
        raise FileError(name, place, lacks, HEADER)
    used = ("log", "at_m", got[0], "bark_cm")
    return {one: names.index(one) for one in used if one in names}, got[0]


def _unparted(row: int, cells: list[str], width: int) -> Problem:
    wanted = f"{width} as in the header (a decimal comma needs semicolons between columns)"
    return Problem(row, "", "", wanted, wrong=f"has {len(cells)} cell{'s' * (len(cells) != 1)}")


def _take(
    row: int,
    cells: list[str],
    at: dict[str, int],
    column: str,
    logs: dict[str, _Log],
    problems: list[Problem],
) -> None:
    """One row into its log, and what is wrong with it into the problems."""
    before = len(problems)
    code = tidied(cells[at["log"]])
    if not is_code(code):
        problems.append(Problem(row, "log", cells[at["log"]], _CODE_WORDS))
    log = logs.setdefault(code.casefold(), _Log(code, row)) if is_code(code) else None
    position = _number(cells[at["at_m"]], "at_m", row, 0.0, LONGEST_M, "m", problems)
    most = LARGEST_CM * (pi if column == "girth_cm" else 1.0)
    reading = _number(cells[at[column]], column, row, 0.0, int(most), "cm", problems)
    bark: float | None = None
    if "bark_cm" in at and cells[at["bark_cm"]]:
        bark = _number(cells[at["bark_cm"]], "bark_cm", row, 0.0, LARGEST_CM, "cm", problems)
        across = None if reading is None else reading / (pi if column == "girth_cm" else 1.0)
        if bark is not None and across is not None and 2 * bark >= across and bark > 0:
            wanted = f"less than half the diameter there, {across / 2:.4g} cm"
            problems.append(Problem(row, "bark_cm", cells[at["bark_cm"]], wanted, alike="thick"))
    if log is None:
        return
    if position is not None and log.at_m and position <= log.at_m[-1]:
        last = f"{log.at_m[-1]:.10g} m, where row {log.rows[-1]} of the same log lies"
        wanted = f"more than {last}"
        problems.append(Problem(row, "at_m", cells[at["at_m"]], wanted, alike="order"))
    if position is None or reading is None or len(problems) > before:
        log.good = False
    if position is not None:
        log.at_m.append(position)
        log.reading.append(1.0 if reading is None else reading)  # a stand-in: the log is not good
        log.bark.append(bark)
        log.rows.append(row)


def _number(
    cell: str,
    column: str,
    row: int,
    low: float,
    high: float,
    unit: str,
    problems: list[Problem],
) -> float | None:
    """The number in a cell, or None and a problem."""
    value = float(cell.replace(",", ".")) if NUMBER.fullmatch(cell) else None
    if value is None or not low <= value <= high:
        wanted = f"a number from {low:g} to {high:g} {unit}"
        problems.append(Problem(row, column, cell, wanted))
        return None
    return value


def _finish(log: _Log, column: str, problems: list[Problem]) -> None:
    """What can be said of a log only when all its rows are there."""
    if not log.good:
        return
    if len(log.at_m) < 2:
        told = Problem(
            log.first_row,
            "log",
            log.code,
            "two points along each log or more",
            wrong=f"is {shown(log.code)}, which has one point only",
            alike="one point",
        )
        problems.append(told)
        return
    ends = (0, len(log.reading) - 1)
    wanted = "a number above 0 cm, but at the tip of a stem"
    zeros = [k for k, one in enumerate(log.reading) if one == 0]
    for place in zeros:
        if place not in ends or len(zeros) > 1:
            problems.append(Problem(log.rows[place], column, "0", wanted))
    barked = [one is not None for one in log.bark]
    if any(barked) and not all(barked):
        row = log.rows[barked.index(False)]
        wanted = "its thickness at every point of a log, or at none"
        problems.append(Problem(row, "bark_cm", "", wanted))


def _points(log: _Log, girth: bool, with_bark: bool) -> LogPoints:
    bark = tuple(one for one in log.bark if one is not None) if with_bark else ()
    return LogPoints(log.code, tuple(log.at_m), tuple(log.reading), girth, bark or None)
