"""An empty file of readings to type into: a row for each reading of a plan, in the order walked.

Its columns are those that a file of readings has. Codes are text cells in a workbook, so that a
spreadsheet neither strips their noughts nor takes one for a formula.
"""

from __future__ import annotations

import csv
import io
from pathlib import Path

from mensura.checks import MeasureError
from mensura.disk.pages import Folder
from mensura.disk.readings_table import NEEDED, OPTIONAL
from mensura.disk.writing import numbered, reason, write_new
from mensura.estimates.field_design import FieldDesign, Turn

COLUMNS = (*NEEDED, *OPTIONAL)
_WIDTHS = {"direction_deg": 15, "reading": 12, "instrument": 12, "kind": 11}


def blank_csv(design: FieldDesign) -> bytes:
    """The file as CSV; the column reading is empty.

    design: of the practical.

    >>> from mensura.estimates.field_design import field_design
    >>> text = blank_csv(field_design(("Q01",), 1, ("T1", "K1"), 1, "alder")).decode()
    >>> print(*sorted(text.splitlines()[1:]), sep="\\n")
    01,Q01,K1,diameter,0,1,,cm,
    01,Q01,K1,diameter,90,1,,cm,
    01,Q01,T1,girth,,1,,cm,
    """
    text = io.StringIO()
    out = csv.writer(text, lineterminator="\n")
    out.writerow(COLUMNS)
    for hand in design.hands:
        out.writerows(_cells(turn) for turn in design.turns[hand])
    return text.getvalue().encode("utf-8")


def blank_excel(design: FieldDesign) -> bytes:
    """The same as an Excel workbook of one sheet; the cells to type into are framed.

    design: of the practical.
    """
    from openpyxl import Workbook
    from openpyxl.styles import Border, Font, PatternFill, Side
    from openpyxl.utils import get_column_letter
    from openpyxl.worksheet.datavalidation import DataValidation

    book = Workbook()
    sheet = book.worksheets[0]
    sheet.title = "readings"
    sheet.append(list(COLUMNS))
    side = Side(style="thin", color="595959")
    frame, grey = Border(side, side, side, side), PatternFill("solid", fgColor="F2F2F2")
    typed = [COLUMNS.index(one) + 1 for one in ("reading", "unit", "clerk")]
    row = 1
    for hand in design.hands:
        for turn in design.turns[hand]:
            row += 1
            for column, value in enumerate(_cells(turn), 1):
                cell = sheet.cell(row, column)
                if COLUMNS[column - 1] in ("direction_deg", "repeat") and value:
                    cell.value = int(value)
                elif value:
                    cell.value, cell.data_type = value, "s"
                    cell.number_format = "@"
                if column in typed:
                    cell.border = frame
                else:
                    cell.fill = grey
    for column, name in enumerate(COLUMNS, 1):
        sheet.cell(1, column).font = Font(bold=True)
        sheet.column_dimensions[get_column_letter(column)].width = _WIDTHS.get(name, 9)
    rule = DataValidation("decimal", operator="greaterThan", formula1="0", allow_blank=True)
    rule.errorTitle, rule.error = "No reading", "Expected a number above 0, like 124.5."
    rule.showErrorMessage = True
    letter = get_column_letter(COLUMNS.index("reading") + 1)
    rule.add(f"{letter}2:{letter}{max(row, 2)}")
    sheet.add_data_validation(rule)
    sheet.freeze_panes = "A2"
    content = io.BytesIO()
    book.save(content)
    return content.getvalue()


def save_free(name: str, content: bytes, folder: Folder) -> Path:
    """Saves a file under its name, or a free one beside it; nothing is overwritten.

    name: with its ending; content: all of it; folder: where, as it is. Returns the path. Raises
    MeasureError, in one sentence, for a folder that cannot be used.

    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as place:
    ...     [save_free("a.csv", b"stem", place).name for _ in range(2)]
    ['a.csv', 'a-new.csv']
    """
    first = Path(folder) / name
    try:
        if write_new(first, content):
            return first
        return next(path for path in numbered(first, "new") if write_new(path, content))
    except OSError as error:
        wanted = "a folder that can be written to"
        raise MeasureError("folder", str(folder), "", wanted, reason(error)) from None


def _cells(turn: Turn) -> tuple[str, ...]:
    direction = "" if turn.direction_deg is None else f"{turn.direction_deg:g}"
    return (
        turn.stem, turn.hand, turn.instrument, turn.kind, direction, str(turn.repeat), "", "cm", "",
    )  # fmt: skip
