"""Who goes out: a class's roster, one code of a hand a row, from a CSV file.

A column `hand` (or `student`), others passed over; or one column without a header. Codes are those
that a file of readings may have, so that nobody's sheet comes home with a hand that is refused.
"""

from __future__ import annotations

from pathlib import Path

from mensura.checks import shown
from mensura.disk.check_file import FileError, Where, read_bytes, rows_of, text_of
from mensura.disk.codes import LONGEST_CODE, is_code, tidied

MOST_BYTES = 1_000_000
_HEADS = ("hand", "student")
_WHAT = "a CSV file with one code of a hand a row, like Q07, under the header hand"


def read_roster(path: Where) -> tuple[str, ...]:
    """The codes of a class's hands, in the file's order.

    path: of the file. Raises FileError, in one sentence with its row, for what cannot be used.
    """
    file = Path(path)
    raw = read_bytes(file, "a CSV file of hands", MOST_BYTES)
    name = file.name or str(file)
    return parse_roster(text_of(raw, name, _WHAT), name)


def parse_roster(text: str, name: str = "the file") -> tuple[str, ...]:
    """The codes in the text of a roster.

    text: all of it; name: of the file. Raises FileError as :func:`read_roster` does.

    >>> parse_roster("hand;group\\nQ01;a\\nQ02;b"), parse_roster("# wet\\nQ01\\nQ02")
    (('Q01', 'Q02'), ('Q01', 'Q02'))
    """
    rows = rows_of(text, name, _WHAT)
    head_row, head = rows[0]
    names = [one.strip().lower() for one in head]
    heads = [one for one in _HEADS if one in names]
    if not heads and len(head) > 1:
        got = ", ".join(shown(one) for one in head[:6])
        raise FileError(name, f"row {head_row}", f"has no column hand: it has {got}", _WHAT)
    column = names.index(heads[0]) if heads else 0
    codes: dict[str, int] = {}
    found: list[str] = []
    for row, cells in rows[1:] if heads else rows:
        cell = cells[column] if column < len(cells) else ""
        code = tidied(cell)
        place = f"row {row}, column {heads[0] if heads else '1'}"
        if not is_code(code):
            wrong = f"is {shown(cell)}" if cell else "is empty"
            wanted = f"a code of letters and figures like Q07, of at most {LONGEST_CODE}"
            raise FileError(name, place, wrong, wanted)
        if code.casefold() in codes:
            twice = f"is {code!r}, which stands in row {codes[code.casefold()]} already"
            raise FileError(name, place, twice, "each hand once")
        codes[code.casefold()] = row
        found.append(code)
    if not found:
        raise FileError(name, "", "has no hand under its header", _WHAT)
    return tuple(found)
