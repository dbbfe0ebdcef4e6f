"""What a workbook must not be, seen before any of it is kept: a bomb, a maze, a loss of rows.

A stream over the XML of every part (ECMA-376, Office Open XML), which keeps a few counts and no
text. A document type is refused, so that no entity can swell; so are rows out of order, of which a
reader of workbooks would drop the later ones without a word, and cells without end.
"""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from xml.parsers import expat

MOST_COLUMNS = 16_384
MOST_ROW = 1_048_576
_MOST_IN_A_ROW = 6 * MOST_COLUMNS  # elements
_MOST_LOOSE = 500_000  # elements outside rows and shared texts
_MOST_TEXTS = 2_000_000
_MOST_OF_FORMULAS = 5_000_000  # characters, each repeat of a shared one counted
_CHUNK = 1 << 18
_STRICT = "http://purl.oclc.org/ooxml"

#: Shares of a file that are seen, from 0 to 1.
Shares = Iterator[float]


class BadWorkbook(Exception):
    """A workbook that is not read; the message says what it is, to stand behind a file's name."""


def damaged(why: str) -> BadWorkbook:
    """What is raised for a workbook that no program wrote so.

    why: the end of the sentence.
    """
    return BadWorkbook(f"is a damaged workbook, {why}")


class _Counts:
    """What the elements of one part add up to."""

    def __init__(self, parser: expat.XMLParserType, name: str) -> None:
        self.parser, self.name = parser, name
        self.loose = self.inside = self.texts = self.row = self.column = 0
        self.rooted = False
        self.shared = self.longest = 0
        self.formula_at = -1

    def doctype(self, *_: object) -> None:
        raise damaged("it declares a document type")

    def start(self, tag: str, own: dict[str, str]) -> None:
        if not self.rooted:
            self.rooted = True
            if any(one.startswith(_STRICT) for one in own.values()):
                raise BadWorkbook("is a workbook of the strict kind")
        if self.formula_at >= 0:
            self._formula()
        tag = tag.rpartition(":")[2]
        if tag == "c":
            self._cell(own.get("r", ""))
        elif tag == "row":
            self._row(own.get("r", ""))
        elif tag == "f":
            self.formula_at = self.parser.CurrentByteIndex
            self.shared += own.get("t") == "shared"
        elif tag == "si":
            self.texts, self.inside = self.texts + 1, 0
            if self.texts > _MOST_TEXTS:
                raise damaged("it has too many texts")
        if self.row or self.texts:
            self.inside += 1
            if self.inside > _MOST_IN_A_ROW:
                raise damaged("it has a row with too many cells")
        else:
            self.loose += 1
            if self.loose > _MOST_LOOSE:
                raise damaged(f"its part {self.name[:60]} is too long")

    def _row(self, told: str) -> None:
        number = int(told) if told.isascii() and told.isdigit() and len(told) < 9 else 0
        if told and not self.row < number <= MOST_ROW:
            raise damaged("its rows are out of order")
        self.row = number or self.row + 1
        if self.row > MOST_ROW:
            raise damaged("it has a row beyond the last")
        self.column = self.inside = 0

    def _cell(self, place: str) -> None:
        self.column = column_of(place) if place else self.column + 1
        if self.column > MOST_COLUMNS:
            raise damaged("it has a cell beyond the last column")

    def _formula(self) -> None:
        """Its length, from its tag to the next one; a shared one is spelt out in every cell."""
        self.longest = max(self.longest, self.parser.CurrentByteIndex - self.formula_at)
        self.formula_at = -1
        if self.shared * self.longest > _MOST_OF_FORMULAS:
            raise BadWorkbook("has formulas without end")


def guard(zipped: zipfile.ZipFile) -> Shares:
    """Goes through every part, and gives the share that is seen.

    zipped: the open file. Raises BadWorkbook. What is no XML, or stops being it, is passed over
    here: whoever reads that part will say so.
    """
    total = sum(one.file_size for one in zipped.infolist()) or 1
    seen = 0
    for info in zipped.infolist():
        parser = expat.ParserCreate()
        counts = _Counts(parser, info.filename)
        parser.StartDoctypeDeclHandler = counts.doctype
        parser.StartElementHandler = counts.start
        with zipped.open(info) as part:
            before = seen
            while chunk := part.read(_CHUNK):
                seen += len(chunk)
                try:
                    parser.Parse(chunk, False)
                except expat.ExpatError:
                    break
                yield min(1.0, seen / total)
            seen = before + info.file_size


def column_of(place: str) -> int:
    """A cell's column from 1, by its name.

    place: of the cell, like AB7.

    >>> column_of("A1"), column_of("AB7")
    (1, 28)
    """
    column = 0
    for letter in place.rstrip("0123456789")[:4]:
        column = 26 * column + ord(letter) - 64
    return column
