"""A block of recorded pictures with their words, packed small: what a page plays without a kernel.

A block is compressed (zlib), as a browser opens it by itself. In it: four bytes with the length of
the head; the head, JSON in UTF-8; then, of all packed pictures and changes (record.py), first their
own heads, then their numbers, then the rest. Numbers are told as how far each differs from where
the two before it pointed, all that go across before all that go down, their low bytes before their
high ones: so most bytes are 0. Words stand once each; a readout is told as which of its bits differ
from the first.
"""

from __future__ import annotations

import json
import re
import struct
import zlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from html.parser import HTMLParser
from typing import Any

import numpy as np

from mensura.checks import MeasureError
from mensura.views.kit.record import Record, unpacked

#: A readout consists of these and of no other elements and attributes; a page makes it of them
#: one by one, and takes no markup from a block.
_TABLES = ("table", "caption", "thead", "tbody", "tfoot", "tr", "th", "td")
_WORDS = ("p", "div", "b", "i", "em", "strong", "span", "sub", "sup", "small", "br", "code", "abbr")
_LISTS = ("ul", "ol", "li", "dl", "dt", "dd")
ELEMENTS = frozenset([*_TABLES, *_WORDS, *_LISTS])
ATTRIBUTES = frozenset(["class", "style", "scope", "colspan", "rowspan", "title", "data-over"])
_EMPTY = frozenset(["br"])

#: What closes an element, among a readout's bits.
CLOSE = 0


# ---- words -------------------------------------------------------------------------------------


class _Bits(HTMLParser):
    """Parts of a readout in order: texts, what opens an element, what closes one."""

    def __init__(self) -> None:
        super().__init__()
        self.bits: list[Any] = []
        self._open: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in ELEMENTS:
            raise MeasureError("readout", f"<{tag}>", "", "tables, paragraphs and plain words")
        for name, value in attrs:
            loads = name == "style" and re.search(r"url|@|\\(?![0-9a-f]+ )", value or "")
            if name not in ATTRIBUTES or loads:
                raise MeasureError("readout", f"{name}={value}", "", "plain attributes")
        self.bits.append([tag, {name: value or "" for name, value in attrs}])
        if tag in _EMPTY:
            self.bits.append(CLOSE)
        else:
            self._open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if not self._open or self._open.pop() != tag:
            raise MeasureError("readout", f"</{tag}>", "", "the last to be closed first")
        self.bits.append(CLOSE)

    def handle_data(self, data: str) -> None:
        self.bits.append(data)

    def close(self) -> None:
        super().close()
        if self._open:
            raise MeasureError("readout", f"<{self._open[-1]}>", "", "all elements to be closed")


def bits_of(readout: str) -> list[Any]:
    """The parts of a readout: texts, `[element, attributes]` that opens, CLOSE.

    readout: HTML of our own. Raises MeasureError for elements and attributes that no readout has.

    >>> bits_of("<p>a &lt; <b>b</b></p>")
    [['p', {}], 'a < ', ['b', {}], 'b', 0, 0]
    """
    one = _Bits()
    one.feed(readout)
    one.close()
    return one.bits


class Words:
    """Texts and readouts, each string kept once.

    `strings` and `bits` are all that were met, by number.
    """

    def __init__(self) -> None:
        self.strings: list[str] = []
        self.bits: list[Any] = []
        self._numbers: dict[str, int] = {}
        self._bit_numbers: dict[str, int] = {}
        self._first: list[int] | None = None

    def text(self, text: str) -> int:
        """The number of a text; text: as read."""
        number = self._numbers.setdefault(text, len(self.strings))
        if number == len(self.strings):
            self.strings.append(text)
        return number

    def readout(self, readout: str) -> list[int]:
        """Of a readout the bits by number, the first readout's or another kind's; else -1, and then
        place and bit of whatever differs from the first.

        readout: HTML of our own.
        """
        told = [self._bit(one) for one in bits_of(readout)]
        if self._first is None:
            self._first = told
            return told
        if len(told) != len(self._first):
            return told
        changed = [
            part
            for place, (now, first) in enumerate(zip(told, self._first, strict=True))
            if now != first
            for part in (place, now)
        ]
        return [-1, *changed] if len(changed) < len(told) else told

    def _bit(self, bit: Any) -> int:
        key = json.dumps(bit)
        number = self._bit_numbers.setdefault(key, len(self.bits))
        if number == len(self.bits):
            self.bits.append(bit)
        return number


# ---- numbers -----------------------------------------------------------------------------------


def small(numbers: Any) -> bytes:
    """Places as differences that are mostly small, low bytes before high ones.

    numbers: int16, across and down by turns.

    >>> list(small(np.array([10, 5, 20, 5, 30, 5], dtype="<i2")))
    [20, 0, 0, 10, 9, 0, 0, 0, 0, 0, 0, 0]
    """
    pairs = np.asarray(numbers, dtype=np.int16).reshape(-1, 2)
    for _ in range(2):
        pairs = np.diff(pairs, axis=0, prepend=np.zeros((1, 2), np.int16))
    flat = pairs.T.ravel()
    # small ones of either sign have an empty high byte
    folded = ((flat.astype(np.int32) << 1) ^ (flat.astype(np.int32) >> 15)).astype("<u2")
    each = folded.view(np.uint8).reshape(-1, 2)
    return each[:, 0].tobytes() + each[:, 1].tobytes()


def as_was(data: bytes) -> Any:
    """Places again, from what :func:`small` made of them: int16; data: its bytes.

    >>> as_was(small(np.array([10, 5, -20, 32767], dtype="<i2"))).tolist()
    [10, 5, -20, 32767]
    """
    half = len(data) // 2
    raw = np.frombuffer(data, np.uint8).astype(np.int32)
    folded = raw[:half] | raw[half:] << 8
    flat = ((folded >> 1) ^ -(folded & 1)).astype(np.int16)
    pairs = flat.reshape(2, -1).T
    for _ in range(2):
        pairs = np.cumsum(pairs, axis=0, dtype=np.int16)
    return np.ascontiguousarray(pairs, dtype="<i2").ravel()


# ---- the block ---------------------------------------------------------------------------------


def blocked(head: Mapping[str, Any], shapes: Sequence[bytes]) -> bytes:
    """A block: a head and packed pictures, compressed.

    head: of JSON; shapes: packed pictures and changes, called by their place.
    """
    heads, numbers, rests, sizes = [], [], [], []
    for one in shapes:
        (length,) = struct.unpack_from("<I", one)
        many = json.loads(one[4 : 4 + length])["count"][0]
        end = 4 + length + 2 * many
        heads.append(one[4 : 4 + length])
        numbers.append(small(np.frombuffer(one, "<i2", many, 4 + length)))
        rests.append(one[end:])
        sizes.append([length, many, len(one) - end])
    told = json.dumps({**head, "shapes": sizes}, separators=(",", ":"), ensure_ascii=False)
    text = told.encode("utf-8")
    return zlib.compress(
        b"".join([struct.pack("<I", len(text)), text, *heads, *numbers, *rests]), 9
    )


@dataclass(frozen=True)
class Opened:
    """A block, opened again: what a page does with it, for Python.

    head: as the block has it; shapes: packed pictures and changes.
    """

    head: Mapping[str, Any]
    shapes: Sequence[bytes]

    def picture(self, frame: int) -> Record:
        """The whole picture of a frame: its base, and what differs put in its place.

        frame: number; 0 is the start.
        """
        picture, change, *_ = self.head["frames"][frame]
        base = unpacked(self.shapes[self.head["pictures"][picture]["base"]])
        if change < 0:
            return base
        changed = unpacked(self.shapes[change])
        artists = dict(sorted({**base.artists, **changed.artists}.items()))
        return Record(base.size_px, base.styles, base.marks, artists)

    def alt(self, frame: int) -> str:
        """The alternative text of a frame; frame: number."""
        return str(self.head["strings"][self.head["frames"][frame][2]])

    def status(self, frame: int) -> str:
        """The sentence of a frame; frame: number."""
        return str(self.head["strings"][self.head["frames"][frame][3]])

    def readout(self, frame: int) -> list[Any]:
        """The readout of a frame as :func:`bits_of` has it; frame: number."""
        told = self.head["frames"][frame][4]
        if told[:1] == [-1]:
            first = list(self.head["frames"][0][4])
            for place, bit in zip(told[1::2], told[2::2], strict=True):
                first[place] = bit
            told = first
        return [self.head["bits"][one] for one in told]


def opened(block: bytes) -> Opened:
    """A block, opened; block: as :func:`blocked` makes it.

    >>> opened(blocked({"title": "a"}, [])).head["title"]
    'a'
    """
    data = zlib.decompress(block)
    (length,) = struct.unpack_from("<I", data)
    head = json.loads(data[4 : 4 + length])
    sizes = head["shapes"]
    at = 4 + length
    head_at, number_at = at, at + sum(one[0] for one in sizes)
    rest_at = number_at + sum(2 * one[1] for one in sizes)
    shapes = []
    for long, many, rest in sizes:
        own = data[head_at : head_at + long]
        numbers = as_was(data[number_at : number_at + 2 * many]).tobytes()
        shapes.append(struct.pack("<I", long) + own + numbers + data[rest_at : rest_at + rest])
        head_at, number_at, rest_at = head_at + long, number_at + 2 * many, rest_at + rest
    return Opened(head, shapes)
