"""Outlines from a CSV file: parsed, never evaluated, and refused with row and column.

Two layouts: `x_cm,y_cm` (points in order) or `angle_deg,radius_cm` (radii in any order).
Commas, semicolons or tabs part the columns; a decimal comma is read where it cannot be mistaken,
that is, beside semicolons or tabs. Further columns, and lines that open with #, are passed over.
"""

from __future__ import annotations

import csv
from pathlib import Path

from mensura.checks import LARGEST_CM, MeasureError, OutlineError, shown
from mensura.stems.outline import Outline, from_radii
from mensura.tables import NUMBER, EndlessCellError, decoded, table_rows

#: Bounds on what is read: a scanned disc has a few thousand points.
MOST_BYTES = 5_000_000
MOST_POINTS = 50_000

_LAYOUTS = {("x_cm", "y_cm"), ("angle_deg", "radius_cm")}


def read_outline(path: str | Path) -> Outline:
    """An outline from a CSV file.

    path: file with the header `x_cm,y_cm` or `angle_deg,radius_cm`.
    Raises OutlineError, in one sentence with row and column, for whatever cannot be used.

    >>> from mensura.places import data_file
    >>> read_outline(data_file("quillmere-disc-07.csv")).shape
    ()
    """
    file = Path(path)
    try:
        if file.stat().st_size > MOST_BYTES:
            raise OutlineError(
                f"the file is over {MOST_BYTES // 1_000_000} MB; expected a CSV table."
            )
        raw = file.read_bytes()
    except (OSError, ValueError) as error:  # ValueError: a path with a NUL in it
        if isinstance(error, OutlineError):
            raise
        reason = getattr(error, "strerror", None) or "it cannot be read"
        raise OutlineError(
            f"the file {shown(str(path))} was not read: {reason.lower()}; expected a CSV file.",
            file=str(path),
        ) from None
    return parse_outline(_text(raw))


def parse_outline(text: str) -> Outline:
    """An outline from the text of a CSV file; rows count from 1, the header included.

    text: the whole file. Raises OutlineError as :func:`read_outline` does.

    >>> parse_outline("x_cm;y_cm\\n0;0\\n40,5;0\\n0;40").area_cm2
    810.0
    """
    rows = _rows(text.removeprefix("\ufeff"))
    if not rows:
        raise OutlineError("the file is empty; expected a header x_cm,y_cm or angle_deg,radius_cm.")
    header_row, header = rows[0]
    layout, columns = _layout(header_row, header)
    values: list[tuple[float, float]] = []
    file_rows: list[int] = []
    for row, cells in rows[1:]:
        if len(cells) != len(header):
            raise OutlineError(
                f"row {row} has {len(cells)} cells; expected {len(header)} as in the header "
                "(a decimal comma needs semicolons between the columns)."
            )
        first, second = (
            _number(cells[column], row, name) for column, name in zip(columns, layout, strict=True)
        )
        values.append((first, second))
        file_rows.append(row)
        if len(values) > MOST_POINTS:
            raise OutlineError(f"the file has over {MOST_POINTS} points; expected fewer.")
    if len(values) < 3:
        raise OutlineError(f"the file has {len(values)} points; expected at least 3.")
    try:
        return _build(layout, values, file_rows)
    except OutlineError as error:
        if layout != ("x_cm", "y_cm"):
            raise
        # points in order are told by the rows in which they stand
        raise error.told("row {}", dict(enumerate(file_rows, 1))) from None
    except MeasureError as error:
        raise OutlineError(str(error)) from None


def _build(
    layout: tuple[str, str], values: list[tuple[float, float]], file_rows: list[int]
) -> Outline:
    if layout == ("x_cm", "y_cm"):
        return Outline(values)
    for (_, radius), row in zip(values, file_rows, strict=True):
        if not 0 < radius <= LARGEST_CM:
            raise OutlineError(
                f"row {row}, column radius_cm is {radius:g}; "
                f"expected a number above 0 and at most {LARGEST_CM:g} cm."
            )
    return from_radii([angle for angle, _ in values], [radius for _, radius in values])


def _text(raw: bytes) -> str:
    if not raw.strip():
        raise OutlineError("the file is empty; expected a header x_cm,y_cm or angle_deg,radius_cm.")
    text = decoded(raw)
    if text is None:
        raise OutlineError("the file is not text; expected a CSV table saved as UTF-8.")
    return text


def _rows(text: str) -> list[tuple[int, list[str]]]:
    try:
        return table_rows(text)
    except EndlessCellError as error:
        raise OutlineError(
            f"row {error.row} has a cell of over {csv.field_size_limit()} characters; "
            "expected a number like 24.5."
        ) from None


def _layout(row: int, header: list[str]) -> tuple[tuple[str, str], list[int]]:
    names = [name.lower() for name in header]
    found = {name for pair in _LAYOUTS for name in pair if name in names}
    for name in found:
        if names.count(name) > 1:
            raise OutlineError(f"row {row} names the column {name} twice; expected it once.")
    whole = [pair for pair in _LAYOUTS if set(pair) <= found]
    if len(whole) == 1 and len(found) == 2:
        return whole[0], [names.index(name) for name in whole[0]]
    if len(found) > 2 or (len(found) == 2 and not whole):
        raise OutlineError(
            f"row {row} mixes the columns {', '.join(sorted(found))}; "
            "expected x_cm,y_cm or angle_deg,radius_cm, not both."
        )
    got = ", ".join(shown(name) for name in header[:6])
    raise OutlineError(
        f"row {row} is not a header that can be used: it has {got}; "
        "expected the columns x_cm,y_cm or angle_deg,radius_cm."
    )


def _number(cell: str, row: int, column: str) -> float:
    if not NUMBER.fullmatch(cell):
        got = "empty" if not cell else shown(cell)
        raise OutlineError(f"row {row}, column {column} is {got}; expected a number like 24.5.")
    value = float(cell.replace(",", "."))
    if abs(value) > 1e6:
        most = "an angle within one turn" if column == "angle_deg" else f"at most {LARGEST_CM:g} cm"
        raise OutlineError(f"row {row}, column {column} is {value:g}; expected {most}.")
    return value
