"""A practical's answers on the disk: pages, and tidy tables that a spreadsheet may open.

One thing a row, one figure a cell, units in the names of columns. No cell begins a formula,
whatever codes a class gave itself, and no code names a file unless it is plain letters and figures.
All files of one run carry the same number where such names are taken; nothing is overwritten.
"""

from __future__ import annotations

import csv
import io
import os
import re
from collections.abc import Mapping, Sequence
from itertools import count
from pathlib import Path
from typing import Any

from mensura.checks import MeasureError
from mensura.disk.pages import MOST_PAGES, Folder, writable_folder
from mensura.disk.readings_copy import safe_cell
from mensura.disk.readings_table import Problem
from mensura.disk.writing import reason, write_new
from mensura.estimates.practical import Practical

#: A code by which a file may be named, on any desk.
_PLAIN = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,23}", re.ASCII)

_JUDGED = (
    "name", "kind", "verdict", "form", "bias", "interval_low", "interval_high", "unit", "spreads",
    "spread_percent", "spread_times", "stems", "readings", "why",
)  # fmt: skip
_AGREEMENT = (
    "mean_cm", "lower_cm", "upper_cm", "spread_cm", "between_stems_cm", "between_hands_cm",
    "rest_cm", "stems", "hands", "cells",
)  # fmt: skip
_PRECISION = (
    "repeatability_cm", "between_hands_cm", "reproducibility_cm", "repeatability_limit_cm",
    "reproducibility_limit_cm", "repeats", "stands_for",
)  # fmt: skip
_FLAGS = (
    "row", "stem", "hand", "instrument", "clerk", "kind", "reading", "would_be", "unit", "slip",
    "would_be_cm", "agreed_cm", "partner_row",
)  # fmt: skip


def tidy_tables(
    study: Practical, problems: Sequence[Problem] = (), rows: Mapping[str, int] | None = None
) -> dict[str, str]:
    """The tables of a study as text of CSV files, by name without ending.

    study: of a class; problems: of the file it was read from; rows: how many of that file were
    read, left out and the like. A table of nothing is its header.

    >>> from mensura.estimates.drawn_practical import faulty_practical
    >>> from mensura.estimates.practical import study_practical
    >>> tables = tidy_tables(study_practical(faulty_practical(3).readings))
    >>> print(tables["flags"].splitlines()[1])
    73,12,Q02,T2,,girth,23,72.25663103,cm,diameter-for-girth,72.25663103,72.39326288,
    """
    told = study.to_dict()
    precision = [
        (one["instrument"], one["kind"], *without, *(part[key] for key in _PRECISION))
        for one in told["precision"]
        for *without, part in (
            ("yes", "no", one),
            ("no", "no", one["with_outliers"]),
            ("yes", "yes", one["without_off"]),
        )
        if part
    ]
    marked = [
        (one["instrument"], one["kind"], *cell.values())
        for one in told["precision"]
        for cell in one["marked"]
    ]
    limits = told["agreement"] or {}
    return {
        "hands": _csv(_JUDGED, map(_judged, told["hands"])),
        "instruments": _csv(_JUDGED, map(_judged, told["instruments"])),
        "precision": _csv(
            ("instrument", "kind", "without_outliers", "without_off", *_PRECISION), precision
        ),
        "outlying": _csv(
            ("instrument", "kind", "hand", "stem", "mark", "test", "statistic", "critical",
             "mean_cm"), marked,
        ),
        "agreement": _csv(
            ("calipers", "without_off", *_AGREEMENT),
            (
                (name.replace("_", " "), without, *(part[name][key] for key in _AGREEMENT))
                for without, part in (("no", limits), ("yes", limits.get("without_off") or {}))
                for name in ("single", "pair", "without_ovality")
                if part.get(name)
            ),
        ),
        "flags": _csv(_FLAGS, ([one[key] for key in _FLAGS] for one in told["flags"])),
        "questions": _csv(
            ("name", "kind", "habit", "question"), (one.values() for one in told["habits"])
        ),
        "stems": _csv(("stem", "diameter_cm"), told["sizes_cm"].items()),
        "problems": _csv(
            ("row", "column", "value", "expected", "left_out"),
            (
                (one.row, one.column, one.value, one.expectation, "yes" if one.left_out else "no")
                for one in problems
            ),
        ),
        "rows": _csv(
            ("what", "rows"),
            ((what.replace("_", " "), number) for what, number in (rows or {}).items()),
        ),
    }  # fmt: skip


def note_names(hands: Sequence[str]) -> list[str]:
    """How each hand's note is called, without ending: by the code where that is plain.

    hands: their codes, all different.

    >>> note_names(["Q07", "am Bach", "../x"])
    ['note-Q07', 'note-hand-2', 'note-hand-3']
    """
    return [
        f"note-{code}" if _PLAIN.fullmatch(code) else f"note-hand-{place}"
        for place, code in enumerate(hands, 1)
    ]


def save_all(files: Mapping[str, str], folder: Folder) -> list[Path]:
    """Saves files, all under names that are free; if need be each with the same number behind it.

    files: text by name with ending; folder: where, made if missing. Returns the paths, in order.
    Raises MeasureError, in one sentence, for a folder that cannot be used.

    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as place:
    ...     for _ in range(2):
    ...         print([one.name for one in save_all({"a.csv": "x", "b.html": "y"}, place)])
    ['a.csv', 'b.html']
    ['a-2.csv', 'b-2.html']
    """
    place = writable_folder(folder)
    try:
        for number in count(1):
            if number > MOST_PAGES:
                break
            paths = {one: _numbered(place / one, number) for one in files}
            if any(map(os.path.lexists, paths.values())):
                continue
            saved: list[Path] = []
            for name, path in paths.items():
                mark = "\ufeff" if path.suffix == ".csv" else ""
                if not write_new(path, (mark + files[name]).encode("utf-8")):
                    break  # somebody took the name meanwhile
                saved.append(path)
            else:
                return saved
            for path in saved:
                path.unlink(missing_ok=True)
    except OSError as error:
        wanted = "a folder that can be written to"
        raise MeasureError("folder", str(folder), "", wanted, reason(error)) from None
    raise MeasureError("folder", str(folder), "", f"fewer than {MOST_PAGES} practicals in it")


def _numbered(path: Path, number: int) -> Path:
    return path if number == 1 else path.with_name(f"{path.stem}-{number}{path.suffix}")


def _judged(one: Mapping[str, Any]) -> list[Any]:
    low, high = one["interval"] or (None, None)
    row = {**one, "interval_low": low, "interval_high": high}
    row["spreads"] = "yes" if one["spreads"] else "no"
    return [row[key] for key in _JUDGED]


def _csv(head: Sequence[str], rows: Any) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(head)
    for row in rows:
        writer.writerow([_cell(one) for one in row])
    return out.getvalue()


def _cell(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, float):
        return f"{value:.10g}"
    return safe_cell(" ".join(str(value).split()))
