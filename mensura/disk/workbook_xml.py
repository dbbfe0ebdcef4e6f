"""The XML inside an .xlsx workbook, as a stream: sheets, words, styles of dates, rows of cells.

The format is an open standard (ECMA-376, Office Open XML); only what tells cells' values is read.
Names of elements count, whatever name space they are put in. Nothing outside the file is opened.
"""

from __future__ import annotations

import posixpath
import re
import zipfile
from collections.abc import Callable, Iterator
from typing import IO, NamedTuple
from xml.parsers import expat

_CHUNK = 1 << 18
_MOST_CELL = 32_768  # characters in a cell, the most that a spreadsheet keeps
_MOST_COLUMNS = 16_384
_MOST_ROW = 1_048_576
_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")
_PLACE = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")
#: Numbers of the standard's own formats of dates and times.
_DATES = {*range(14, 23), *range(27, 37), *range(45, 48), *range(50, 59)}
_QUOTED = re.compile(r'"[^"]*"|\\.|_.|\[[^\]]*\]')


class BadWorkbook(Exception):
    """A workbook that cannot be read; the message is the end of a sentence."""


class Cell(NamedTuple):
    """One cell.

    column: its place, from 0; text: what stands there, a number in its shortest form; fault: "",
    `formula`, `error`, `date` or `truth`.
    """

    column: int
    text: str
    fault: str = ""


class Parts:
    """The parts of a workbook by name.

    file: the open zip.
    """

    def __init__(self, file: zipfile.ZipFile) -> None:
        self.file = file
        self.names = {one.filename.lstrip("/").lower(): one for one in file.infolist()}

    def has(self, name: str) -> bool:
        """Whether there is such a part.

        name: of it, from the top.
        """
        return name.lower() in self.names

    def stream(self, name: str) -> tuple[IO[bytes], int]:
        """A part, and how many bytes it has. Raises BadWorkbook if it is not there.

        name: of it, from the top.
        """
        if not self.has(name):
            raise BadWorkbook(f"its part {name[:60]} is missing")
        info, zipped = self.names[name.lower()], self.file
        return zipped.open(info), info.file_size


Start = Callable[[str, dict[str, str]], None]
#: Shares of a part that are read, from 0 to 1, and rows with their number and that share.
Shares = Iterator[float]
Rows = Iterator[tuple[int, list[Cell], float]]


def read_xml(
    parts: Parts, name: str, start: Start, end: Callable[[str], None], text: Callable[[str], None]
) -> Shares:
    """Reads a part piece by piece, and gives the share that is read after each.

    parts, name: which; start, end, text: called with each element's name without its name space and
    its attributes, with its name at its end, and with the text between. Raises BadWorkbook for what
    is no XML, and for any document type.
    """
    parser = expat.ParserCreate()
    parser.buffer_text = True

    def refuse(*_: object) -> None:
        raise BadWorkbook("it declares a document type")

    def opened(tag: str, attributes: dict[str, str]) -> None:
        start(tag.rpartition(":")[2], attributes)

    def closed(tag: str) -> None:
        end(tag.rpartition(":")[2])

    parser.StartDoctypeDeclHandler = refuse
    parser.StartElementHandler = opened
    parser.EndElementHandler = closed
    parser.CharacterDataHandler = text
    file, size = parts.stream(name)
    done = 0
    with file:
        while chunk := file.read(_CHUNK):
            done += len(chunk)
            _parse(parser, chunk, False)
            yield min(1.0, done / max(size, 1))
        _parse(parser, b"", True)


def _parse(parser: expat.XMLParserType, chunk: bytes, last: bool) -> None:
    try:
        parser.Parse(chunk, last)
    except expat.ExpatError:
        raise BadWorkbook("its XML is broken") from None


def _elements(parts: Parts, name: str) -> list[tuple[str, dict[str, str]]]:
    """Every element of a small part with its attributes."""
    found: list[tuple[str, dict[str, str]]] = []
    for _ in read_xml(
        parts, name, lambda tag, own: found.append((tag, own)), lambda tag: None, lambda text: None
    ):
        if len(found) > 200_000:
            raise BadWorkbook(f"its part {name[:60]} is too long")
    return found


def sheets_of(parts: Parts) -> list[tuple[str, str]]:
    """Title and part of each sheet of cells, in order. Raises BadWorkbook if there is none.

    parts: of the workbook.
    """
    book = _book(parts)
    folder = posixpath.dirname(book)
    links = _links(parts, book)
    sheets = []
    for tag, own in _elements(parts, book):
        if tag != "sheet":
            continue
        link = next((value for key, value in own.items() if key.rpartition(":")[2] == "id"), "")
        kind, target = links.get(link, ("", ""))
        if kind.endswith("/worksheet"):
            sheets.append((own.get("name", ""), _resolved(folder, target)))
    if not sheets:
        raise BadWorkbook("it has no sheet of cells")
    return sheets


def _book(parts: Parts) -> str:
    """The part that names the sheets."""
    book = "xl/workbook.xml"
    if parts.has("_rels/.rels"):
        for tag, own in _elements(parts, "_rels/.rels"):
            if tag == "Relationship" and own.get("Type", "").endswith("/officeDocument"):
                book = own.get("Target", book).lstrip("/")
    if not parts.has(book):
        raise BadWorkbook("it is a zip without a sheet in it")
    return book


def _links(parts: Parts, book: str) -> dict[str, tuple[str, str]]:
    folder, name = posixpath.split(book)
    found = {}
    for tag, own in _elements(parts, posixpath.join(folder, "_rels", f"{name}.rels")):
        if tag == "Relationship" and own.get("TargetMode") != "External":
            found[own.get("Id", "")] = (own.get("Type", ""), own.get("Target", ""))
    return found


def _resolved(folder: str, target: str) -> str:
    """A part's name from the top of the zip; it is looked up there and nowhere else."""
    if target.startswith("/"):
        return target.lstrip("/")
    return posixpath.normpath(posixpath.join(folder, target))


def _beside(parts: Parts, kind: str) -> str:
    """The part of a kind that the workbook links to; "" if there is none."""
    book = _book(parts)
    for link, target in _links(parts, book).values():
        if link.endswith(f"/{kind}"):
            return _resolved(posixpath.dirname(book), target)
    return ""


def shared_words(parts: Parts) -> list[str]:
    """The texts that cells share, by number.

    parts: of the workbook.
    """
    name = _beside(parts, "sharedStrings")
    words: list[str] = []
    if not name or not parts.has(name):
        return words
    now: list[str] = []
    inside = [False, 0]  # in a <t>; how deep in readings aloud, which are no text of the cell

    def start(tag: str, own: dict[str, str]) -> None:
        if tag == "si":
            now.clear()
        elif tag == "rPh":
            inside[1] += 1
        inside[0] = tag == "t" and not inside[1]

    def end(tag: str) -> None:
        inside[0] = False
        if tag == "rPh":
            inside[1] -= 1
        elif tag == "si":
            words.append(_unescaped("".join(now)))

    def text(piece: str) -> None:
        if inside[0] and len(now) <= _MOST_CELL:
            now.append(piece[:_MOST_CELL])

    for _ in read_xml(parts, name, start, end, text):
        pass
    return words


def date_styles(parts: Parts) -> frozenset[int]:
    """Numbers of the styles that show a number as a date or a time.

    parts: of the workbook.
    """
    name = _beside(parts, "styles")
    if not name or not parts.has(name):
        return frozenset()
    own_dates: set[int] = set()
    formats: list[int] = []
    inside = False
    for tag, own in _elements(parts, name):
        if tag == "numFmt":
            plain = _QUOTED.sub("", own.get("formatCode", "")).lower()
            if re.search("[ymdhs]", plain.replace("general", "").replace("standard", "")):
                own_dates.add(_whole(own.get("numFmtId", "")))
        elif tag in ("cellXfs", "cellStyleXfs", "cellStyles", "dxfs"):
            inside = tag == "cellXfs"
        elif tag == "xf" and inside:
            formats.append(_whole(own.get("numFmtId", "0")))
    return frozenset(
        place for place, one in enumerate(formats) if one in own_dates or one in _DATES
    )


def stream_rows(parts: Parts, name: str, words: list[str], dates: frozenset[int]) -> Rows:
    """Each row of a sheet: its number from 1, its cells, the share of the sheet that is read.

    parts, name: which sheet; words: that cells share; dates: styles of dates.
    """
    sheet = _Sheet(words, dates)
    for share in read_xml(parts, name, sheet.start, sheet.end, sheet.text):
        for row, cells in sheet.rows:
            yield row, cells, share
        sheet.rows = []


class _Sheet:
    """What the elements of a sheet add up to; `rows` are those that are whole."""

    def __init__(self, words: list[str], dates: frozenset[int]) -> None:
        self.words, self.dates = words, dates
        self.rows: list[tuple[int, list[Cell]]] = []
        self.cells: list[Cell] = []
        self.row = self.column = 0
        self.kind = self.style = ""
        self.value: list[str] = []
        self.formula: list[str] | None = None
        self.into: list[str] | None = None
        self.aloud = self.length = 0

    def start(self, tag: str, own: dict[str, str]) -> None:
        if tag == "c":
            place = _PLACE.fullmatch(own.get("r", ""))
            self.column = _column(place[1]) if place else self.column + 1
            if self.column >= _MOST_COLUMNS:
                raise BadWorkbook("it has a cell beyond the last column")
            self.kind, self.style = own.get("t", "n"), own.get("s", "")
            if len(self.cells) > _MOST_COLUMNS:
                raise BadWorkbook("it has a row with too many cells")
            self.value, self.formula, self.into, self.length = [], None, None, 0
        elif tag == "v" or (tag == "t" and not self.aloud):
            self.into = self.value
        elif tag == "f":
            self.formula = self.into = []
        elif tag == "row":
            told = _whole(own.get("r", ""))
            if own.get("r") and not self.row < told <= _MOST_ROW:
                raise BadWorkbook("its rows are out of order")
            self.row = told if own.get("r") else self.row + 1
            self.cells, self.column = [], -1
        elif tag == "rPh":
            self.aloud += 1

    def end(self, tag: str) -> None:
        self.into = None
        if tag == "c":
            cell = self._cell()
            if cell is not None:
                self.cells.append(cell)
        elif tag == "row":
            self.rows.append((self.row, self.cells))
        elif tag == "rPh":
            self.aloud -= 1

    def text(self, piece: str) -> None:
        if self.into is not None and self.length <= _MOST_CELL:
            self.into.append(piece[:_MOST_CELL])
            self.length += len(piece)

    def _cell(self) -> Cell | None:
        text = "".join(self.value)[:_MOST_CELL]
        if self.formula is not None:
            written = "".join(self.formula)[:200]
            return Cell(self.column, f"={written}", "formula")
        if not text:
            return None
        if self.kind == "s":
            place = _whole(text.strip())
            if not 0 <= place < len(self.words):
                raise BadWorkbook("a cell points at a text that is not there")
            return Cell(self.column, self.words[place])
        if self.kind in ("inlineStr", "str"):
            return Cell(self.column, _unescaped(text))
        if self.kind == "e":
            return Cell(self.column, text, "error")
        if self.kind == "b":
            return Cell(self.column, "TRUE" if text.strip() == "1" else "FALSE", "truth")
        if self.kind == "d" or (self.style and _whole(self.style) in self.dates):
            return Cell(self.column, text, "date")
        return Cell(self.column, _shortest(text))


def _shortest(text: str) -> str:
    """A number with the fifteen figures that a spreadsheet shows."""
    try:
        return f"{float(text):.15g}"
    except ValueError:
        return text


def _unescaped(text: str) -> str:
    """Signs that XML cannot hold are written _x000D_ there; a NUL stays as it is written."""
    if "_x" not in text:
        return text
    return _ESCAPED.sub(
        lambda found: chr(int(found[1], 16)) if int(found[1], 16) else found[0], text
    )


def _whole(text: str) -> int:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else -1


def _column(letters: str) -> int:
    place = 0
    for letter in letters:
        place = 26 * place + ord(letter) - 64
    return place - 1
