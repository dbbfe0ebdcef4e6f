"""A table from columns with names: heads, units, digits and sides follow from the names.

`girth_cm` becomes the head "girth, cm" and is written with two digits. A cell of a workbook says
what is to be shown, never how it is lined up. The same table is text, which a new run is compared
with, and HTML with real heads, which a page shows.
"""

from __future__ import annotations

import html
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import numpy as np
from markupsafe import Markup

from mensura.checks import MeasureError
from mensura.written import apart, signed

#: How each unit at the end of a name is written, and with how many digits after the point.
UNITS: dict[str, tuple[str, int]] = {
    "mm": ("mm", 2),
    "cm": ("cm", 2),
    "m": ("m", 2),
    "in": ("in", 2),
    "cm2": ("cm²", 1),
    "m2": ("m²", 4),
    "m3": ("m³", 3),
    "deg": ("°", 1),
    "c": ("°C", 1),
    "n": ("N", 0),
    "percent": ("%", 2),
}
#: Of a number without a unit: a ratio.
PLAIN_DIGITS = 3

#: A number under a head whose last word is one of these goes up or down: it has a sign.
SIGNED = {"over", "off", "add", "adds", "added"}

#: More numbers than this in one cell are counted, not listed.
LISTED = 3

#: A column of words is prose if a cell of it has more letters than this.
PROSE = 28

#: What a table keeps by itself, for pages without the sheet: no word or number is broken.
_UNBROKEN = "overflow-wrap: normal; word-break: normal; "


class Table:
    """Columns of one length, with their names; it shows itself as text and as HTML.

    columns: name → values, all as many; digits: after the point, for all or by name.
    """

    def __init__(
        self, columns: Mapping[str, Sequence[Any]], digits: int | Mapping[str, int] | None = None
    ) -> None:
        self.columns = {name: list(values) for name, values in columns.items()}
        self.heads = {name: head(name) for name in self.columns}
        self.cells = {name: _written(name, values, digits) for name, values in self.columns.items()}
        self.sides = {
            name: "right" if any(map(_is_number, values)) else "left"
            for name, values in self.columns.items()
        }

    def __len__(self) -> int:
        return max(map(len, self.columns.values()), default=0)

    def __repr__(self) -> str:
        aligned = []
        for name, cells in self.cells.items():
            column = [" ".join(text.split("\n")) for text in (self.heads[name], *cells)]
            wide = max(map(len, column))
            right = self.sides[name] == "right"
            aligned.append([text.rjust(wide) if right else text.ljust(wide) for text in column])
        return "\n".join("   ".join(row).rstrip() for row in zip(*aligned, strict=True))

    def _repr_html_(self) -> str:
        heads = Markup().join(
            Markup('<th scope="col" style="{}">{}</th>').format(self._side(name), text)
            for name, text in self.heads.items()
        )
        rows = Markup().join(
            Markup("<tr>{}</tr>").format(self._row(place)) for place in range(len(self))
        )
        return str(
            Markup(
                '<table class="mensura-table" style="{}"><thead><tr>{}</tr></thead>'
                "<tbody>{}</tbody></table>"
            ).format(_UNBROKEN + _named_heads(self.heads.values()), heads, rows)
        )

    def _side(self, name: str) -> str:
        return f"text-align: {self.sides[name]}"

    def _row(self, place: int) -> Markup:
        return Markup().join(
            Markup(
                '<td{} style="{}">{}</td>' if later else '<th scope="row"{} style="{}">{}</th>'
            ).format(self._prose(name), self._side(name), _lines(cells[place]))
            for later, (name, cells) in enumerate(self.cells.items())
        )

    def _prose(self, name: str) -> Markup:
        """The class of a column of sentences: on a narrow page its words begin at the left."""
        long = self.sides[name] == "left" and max(map(len, self.cells[name]), default=0) > PROSE
        return Markup(' class="mensura-prose"' if long else "")


def table(
    rows: Iterable[Any] | None = None,
    columns: str | Sequence[str] | None = None,
    *,
    digits: int | Mapping[str, int] | None = None,
    **named: Any,
) -> Table:
    """A table of rows, of columns, or of both.

    rows: mappings, or objects that have what columns names; columns: names, in a list or parted by
    blanks, each ending in its unit (all of the first mapping's, if None); named: further columns by
    name, each a sequence, or one value for every row; they stand last unless columns names them.
    digits: after the point, for all columns or by name; those in degrees keep theirs unless they
    are named. Whole numbers have none.
    Raises MeasureError for columns of different lengths, for names that a row lacks, and for none.

    >>> table(girth_cm=[100, 126.5], area_cm2=[795.77, 1273.4])
    girth, cm   area, cm²
       100.00       795.8
       126.50      1273.4
    >>> table([{"stem": "pine", "off_percent": -1.5}])
    stem   off, %
    pine    −1.50
    """
    here = list(rows) if rows is not None else None
    wanted = columns.split() if isinstance(columns, str) else columns
    if wanted is None:
        first = here[0] if here else {}
        if not isinstance(first, Mapping):
            raise MeasureError("columns", None, "", "names of what the rows have")
        wanted = list(first)
    wanted = [*wanted, *(name for name in named if name not in wanted)]
    lists = {name: _listed(value) for name, value in named.items()}
    count = _count(lists, here)
    if not wanted or not count:
        raise MeasureError("columns", None, "", "at least one column with a row")
    filled: dict[str, Sequence[Any]] = {}
    for name in wanted:
        if name in lists:
            values = lists[name]  # None: one value for every row
            filled[name] = [named[name]] * count if values is None else values
        else:
            filled[name] = [_of(row, name) for row in here or []]
    for name, column in filled.items():
        if len(column) != count:
            raise MeasureError(name, len(column), "", f"{count} values, as in the other columns")
    return Table(filled, digits)


def _lines(cell: str) -> Markup:
    """A cell's words as markup, a new line where they have one."""
    return Markup("<br>").join(cell.split("\n"))


def head(name: str) -> str:
    """The head of a column: its name in words, its unit behind a comma.

    name: with "_" between its words and the unit last.

    >>> head("under_bark_cm"), head("percent"), head("what went wrong")
    ('under bark, cm', '%', 'what went wrong')
    """
    words, unit = _parted(name)
    return ", ".join(part for part in (words, UNITS[unit][0] if unit else "") if part)


def _parted(name: str) -> tuple[str, str]:
    words, _, unit = name.rpartition("_")
    return (words.replace("_", " "), unit) if unit in UNITS else (name.replace("_", " "), "")


def _listed(value: Any) -> list[Any] | None:
    """The values of a column; None for one value that stands in every row."""
    single = isinstance(value, str) or not isinstance(value, Iterable)
    return None if single or (isinstance(value, np.ndarray) and not value.ndim) else list(value)


def _count(lists: Mapping[str, list[Any] | None], rows: list[Any] | None) -> int:
    if rows is not None:
        return len(rows)
    lengths = [len(values) for values in lists.values() if values is not None]
    return lengths[0] if lengths else bool(lists)


def _of(row: Any, name: str) -> Any:
    try:
        return row[name] if isinstance(row, Mapping) else getattr(row, name)
    except (KeyError, AttributeError):
        raise MeasureError("columns", name, "", "names of what the rows have") from None


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float | np.number) and not isinstance(value, bool | np.bool_)


def _written(name: str, values: Sequence[Any], digits: int | Mapping[str, int] | None) -> list[str]:
    words, unit = _parted(name)
    after = UNITS[unit][1] if unit else PLAIN_DIGITS
    if isinstance(digits, Mapping):
        after = digits.get(name, after)
    elif digits is not None and unit != "deg":
        after = digits
    with_sign = words.rpartition(" ")[2] in SIGNED
    numbers = [one for one in values if _is_number(one)]
    whole = bool(numbers) and all(isinstance(one, int | np.integer) for one in numbers)
    return [_cell(one, 0 if whole else after, with_sign) for one in values]


def _cell(value: Any, after: int, with_sign: bool) -> str:
    if value is None:
        return ""
    if isinstance(value, str):
        return value
    if isinstance(value, bool | np.bool_):
        return "yes" if value else "no"
    if isinstance(value, Iterable):
        several = list(value)
        if len(several) > LISTED:
            return f"{len(several)} readings"
        return " and ".join(_cell(one, after, with_sign) for one in several)
    if not _is_number(value):
        return str(value)
    if np.isnan(value):
        return "none"
    if with_sign:
        return signed(value, after)
    return signed(value, after).lstrip("+")


def row_html(name: str, *cells: str) -> str:
    """A row of a panel's table.

    name: its head; cells: what stands under the other columns, as plain text.

    >>> row_html("a < b", "+1.00")
    "<tr><th scope='row'>a &lt; b</th><td>+1.00</td></tr>"
    """
    body = "".join(f"<td>{html.escape(cell)}</td>" for cell in cells)
    return f"<tr><th scope='row'>{html.escape(name)}</th>{body}</tr>"


def compared(value: float, from_value: float, digits: int) -> tuple[str, ...]:
    """Cells of a row that sets a reading against the truth: both, how far apart, and in per cent.

    value: as read; from_value: the truth, in the same unit; digits: after the point; per
    cent have two.

    >>> compared(134.84, 132.02, 1)
    ('132.0', '134.8', '+2.8', '+2.14')
    """
    off = apart(value, from_value, digits), signed(100 * (value - from_value) / from_value)
    return f"{from_value:.{digits}f}", f"{value:.{digits}f}", *off


def table_html(names: Sequence[str], body: str, also: str = "") -> str:
    """A panel's table: its column heads and the rows that are given.

    names: of the columns; body: the rows as HTML, see :func:`row_html`; also: a further class, a
    blank before it.

    >>> "<th scope='col'>Girth, cm</th>" in table_html(["Girth, cm"], "")
    True
    """
    # over the names of the rows there may be nothing to say, and a head without words is none
    head = "".join(
        f"<th scope='col'>{html.escape(name)}</th>" if name else "<td></td>" for name in names
    )
    style = html.escape(_named_heads(names))
    return (
        f"<table class='mensura-table{also}' style='{style}'><thead><tr>{head}</tr></thead>"
        f"<tbody>{body}</tbody></table>"
    )


def _named_heads(names: Iterable[str]) -> str:
    """The heads as the sheet finds them: on a narrow page a row's cells stand below each other,
    and each is called by its column's head.

    >>> _named_heads(["", 'say "a"'])
    "--head-1: ''; --head-2: 'say \\\\22 a\\\\22 '"
    """
    quoted = ("".join(map(in_css, name)) for name in names)
    return "; ".join(f"--head-{place}: '{name}'" for place, name in enumerate(quoted, 1))


def in_css(sign: str) -> str:
    """A sign as it stands in a quoted string of a sheet: anything that could end it by number.

    sign: one character.

    >>> in_css("a"), in_css("<")
    ('a', '\\\\3c ')
    """
    return sign if sign.isalnum() or sign in " ,.%°²³()/-+−" else f"\\{ord(sign):x} "
