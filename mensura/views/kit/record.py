"""What a picture consists of, as shapes: paths, marks, text; packed as the page takes it.

A record is what the artists were told to draw, artist by artist. Places are whole sixteenths of a
shown pixel from the picture's upper left corner, in 16 bits; a colour is a name of the house's
table, which the page resolves for its theme. A style or a mark is sent when it is first used and
called by its number ever after.

Packed: four bytes with the length of the header; the header, JSON in UTF-8; then the numbers; then
the codes of all paths that are more than straight lines (1 move, 2 line, 3 quadratic, 4 cubic,
79 close), each as often as a path has points; then the bytes of images. Little-endian.
"""

from __future__ import annotations

import json
import struct
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

#: Places are told in this share of a shown pixel.
PER_PX = 16
#: The artists that never move, all together: first in every record.
STILL = -1
#: How a path's points hang together: an open line, a closed one, or by a code for each point.
OPEN, CLOSED, CODED = 0, 1, 2
#: What an operation begins with.
PATH, MARKS, TEXT, IMAGE = "p", "m", "t", "i"


def places(px: Any) -> Any:
    """Shown pixels as whole sixteenths; what lies beyond the 16 bits comes to lie at their end.

    px: shape (n, 2).

    >>> places(np.array([[1.0, 2.5], [1e9, 0.0]])).tolist()
    [[16, 40], [32767, 0]]
    """
    whole = np.rint(np.asarray(px, dtype=float) * PER_PX)
    np.minimum(np.maximum(whole, -32768, out=whole), 32767, out=whole)
    return whole.astype("<i2")


@dataclass(frozen=True)
class Outline:
    """A path, by its points.

    points: int16, shape (n, 2), in sixteenths of a shown pixel; way: OPEN, CLOSED or CODED; codes:
    uint8, shape (n,), of a coded one.
    """

    points: Any
    way: int
    codes: Any = None

    @property
    def told(self) -> list[int]:
        """Number of points, and how they hang together."""
        return [len(self.points), self.way]


@dataclass
class Drawn:
    """All that one artist was told to draw.

    ops: operations as the header has them; numbers, codes: arrays that follow it, in their order;
    images: encoded pictures.
    """

    ops: list[list[Any]] = field(default_factory=list)
    numbers: list[Any] = field(default_factory=list)
    codes: list[Any] = field(default_factory=list)
    images: list[bytes] = field(default_factory=list)

    def add(self, op: list[Any], outline: Outline | None = None) -> None:
        """One operation more.

        op: as the header has it; outline: the points that belong to it.
        """
        self.ops.append(op)
        if outline is not None:
            self.numbers.append(outline.points)
            if outline.way == CODED:
                self.codes.append(outline.codes)

    def places_px(self) -> Any:
        """Where its points and texts are, in shown pixels: float, shape (n, 2)."""
        texts = [op[3:5] for op in self.ops if op[0] == TEXT]
        # a word is seen as well as a line: it counts for two points
        some = [*self.numbers, *([np.repeat(np.array(texts), 2, axis=0)] if texts else [])]
        return np.concatenate(some) / PER_PX if some else np.empty((0, 2))

    def same(self, other: Drawn | None) -> bool:
        """Whether another one looks the same; other: it, or None."""
        return (
            other is not None
            and self.ops == other.ops
            and _alike(self.numbers, other.numbers)
            and _alike(self.codes, other.codes)
            and self.images == other.images
        )


def _alike(some: Sequence[Any], others: Sequence[Any]) -> bool:
    return len(some) == len(others) and all(
        len(a) == len(b) and bool((a == b).all()) for a, b in zip(some, others, strict=True)
    )


def packed(
    size_px: tuple[int, int],
    styles: Mapping[int, Mapping[str, Any]],
    marks: Mapping[int, Outline],
    artists: Mapping[int, Drawn],
) -> bytes:
    """A record, or what changed in one, as bytes.

    size_px: of the picture as shown; styles, marks: those that are new, by number; artists: those
    that changed, by their place in the order of drawing, STILL first.
    """
    numbers: list[Any] = []
    codes: list[Any] = []
    images: list[bytes] = []
    for mark in marks.values():
        numbers.append(mark.points)
        if mark.way == CODED:
            codes.append(mark.codes)
    for drawn in artists.values():
        numbers += drawn.numbers
        codes += drawn.codes
        images += drawn.images
    header: dict[str, Any] = {"size": list(size_px)}
    if styles:
        header["styles"] = {str(key): one for key, one in styles.items()}
    if marks:
        header["marks"] = [[key, *one.told] for key, one in marks.items()]
    header["artists"] = [[key, one.ops] for key, one in artists.items()]
    header["count"] = [
        sum(one.size for one in numbers),
        sum(len(one) for one in codes),
        [len(one) for one in images],
    ]
    text = json.dumps(header, separators=(",", ":"), ensure_ascii=False).encode("utf-8")
    text += b" " * (-len(text) % 4)
    return b"".join(
        [
            struct.pack("<I", len(text)),
            text,
            *(np.ascontiguousarray(one, dtype="<i2").tobytes() for one in numbers),
            *(np.ascontiguousarray(one, dtype=np.uint8).tobytes() for one in codes),
            *images,
        ]
    )


#: In a record's first four bytes: its numbers are told as differences.
_SLIM = 1 << 31
#: A difference that is told among the wide ones.
_ELSEWHERE = -128


def slim(data: bytes) -> bytes:
    """The same record, its numbers as differences from place to place: about half as many bytes.

    data: as :func:`packed` gives it. After the header come four bytes with the number of wide
    differences, these in 16 bits each, then every difference in 8, −128 for a wide one.

    >>> one = Drawn()
    >>> one.add(["p", 0, 3, OPEN], Outline(places([[1, 1], [2, 2], [90, 3]]), OPEN))
    >>> data = packed((10, 10), {}, {}, {0: one})
    >>> unpacked(slim(data)).artists[0][0][1].points.tolist()
    [[16, 16], [32, 32], [1440, 48]]
    """
    (length,) = struct.unpack_from("<I", data)
    head, many = data[4 : 4 + length], json.loads(data[4 : 4 + length])["count"][0]
    steps = np.frombuffer(data, "<i2", many, 4 + length).reshape(-1, 2).copy()
    # 16 bits go round in a circle: the sum comes back to the place however far a step is
    steps[1:] -= steps[:-1].copy()
    flat = steps.ravel()
    wide = (flat <= _ELSEWHERE) | (flat > 127)
    short = flat.astype(np.int8)
    short[wide] = _ELSEWHERE
    wides = flat[wide].tobytes()
    start, many_wide = struct.pack("<I", length | _SLIM), struct.pack("<I", len(wides) // 2)
    rest = data[4 + length + 2 * many :]
    return b"".join([start, head, many_wide, wides, short.tobytes(), rest])


def _told_plainly(data: bytes) -> bytes:
    """What :func:`slim` was given."""
    (length,) = struct.unpack_from("<I", data)
    if length < _SLIM:
        return data
    end = 4 + length - _SLIM
    many, (count,) = json.loads(data[4:end])["count"][0], struct.unpack_from("<I", data, end)
    start = end + 4 + 2 * count
    flat = np.frombuffer(data, np.int8, many, start).astype("<i2")
    flat[flat == _ELSEWHERE] = np.frombuffer(data, "<i2", count, end + 4)
    points = np.cumsum(flat.reshape(-1, 2), axis=0, dtype=np.int16).astype("<i2")
    head = struct.pack("<I", length - _SLIM) + data[4:end]
    return head + points.tobytes() + data[start + many :]


@dataclass(frozen=True)
class Record:
    """A record, unpacked: what a drawing of it goes through.

    size_px: of the picture as shown; styles: by number; marks: by number; artists: operations of
    each, in the order of drawing, every path beside its operation.
    """

    size_px: tuple[int, int]
    styles: Mapping[int, Mapping[str, Any]]
    marks: Mapping[int, Outline]
    artists: Mapping[int, list[tuple[list[Any], Any]]]


def unpacked(data: bytes) -> Record:
    """A packed record, read back; what belongs to an operation stands beside it.

    data: as :func:`packed` or :func:`slim` gives it. Beside a path stands its Outline, beside marks
    their places, shape (n, 2), beside an image its bytes, beside text None.

    >>> one = Drawn()
    >>> one.add(["p", 0, 2, 0], Outline(places([[0, 0], [1, 1]]), OPEN))
    >>> back = unpacked(packed((10, 10), {0: {"s": "truth"}}, {}, {0: one}))
    >>> back.artists[0][0][1].points.tolist(), back.styles
    ([[0, 0], [16, 16]], {0: {'s': 'truth'}})
    """
    data = _told_plainly(data)
    (length,) = struct.unpack_from("<I", data)
    header = json.loads(data[4 : 4 + length])
    many, coded, images = header["count"]
    start = 4 + length
    numbers = np.frombuffer(data, "<i2", many, start)
    codes = np.frombuffer(data, np.uint8, coded, start + 2 * many)
    at, code_at, image_at = 0, 0, start + 2 * many + coded
    waiting = list(images)

    def outline(count: int, way: int) -> Outline:
        nonlocal at, code_at
        points = numbers[at : at + 2 * count].reshape(count, 2)
        at += 2 * count
        if way != CODED:
            return Outline(points, way)
        code_at += count
        return Outline(points, way, codes[code_at - count : code_at])

    marks = {key: outline(count, way) for key, count, way in header.get("marks", ())}
    artists: dict[int, list[tuple[list[Any], Any]]] = {}
    for key, ops in header["artists"]:
        artists[key] = []
        for op in ops:
            beside: Any = None
            if op[0] == PATH:
                beside = outline(op[2], op[3])
            elif op[0] == MARKS:
                beside = outline(op[3], OPEN).points
            elif op[0] == IMAGE:
                long = waiting.pop(0)
                beside = data[image_at : image_at + long]
                image_at += long
            artists[key].append((op, beside))
    styles = {int(key): one for key, one in header.get("styles", {}).items()}
    width, height = header["size"]
    return Record((width, height), styles, marks, artists)


def plainly(record: Record) -> list[Any]:
    """All that a record shows, its styles and marks spelt out: two that look alike are equal.

    record: whole. Artists that show nothing are left out.

    >>> one = Drawn()
    >>> one.add(["p", 7, 2, 0], Outline(places([[0, 0], [1, 1]]), OPEN))
    >>> plainly(unpacked(packed((10, 10), {7: {"s": "truth"}}, {}, {0: one})))
    [(0, [('p', [('s', 'truth')], ([[0, 0], [16, 16]], 0, None))])]
    """

    def outline(one: Outline) -> Any:
        return one.points.tolist(), one.way, None if one.codes is None else one.codes.tolist()

    def told(op: list[Any], beside: Any) -> Any:
        kind, *rest = op
        if kind == IMAGE:
            return op, beside
        style = sorted(record.styles[rest[0]].items())
        if kind == PATH:
            return kind, style, outline(beside)
        if kind == MARKS:
            return kind, style, outline(record.marks[rest[1]]), beside.tolist()
        return kind, style, rest[1:]

    return [(place, [told(*one) for one in ops]) for place, ops in record.artists.items() if ops]
