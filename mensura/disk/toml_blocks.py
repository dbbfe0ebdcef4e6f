"""A file of like blocks in TOML, read with the line and the key of all that is wrong in it.

tomllib says what the file says; the scan (`plan_text.py`) says where. Every problem is found before
any is told: one sentence has the first, and the lines of the others.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from mensura.checks import alike, shown
from mensura.disk import plan_text
from mensura.disk.check_file import FileError, Where, read_bytes, text_of

#: A larger file is none.
MOST_BYTES = 1_000_000
#: More blocks of a kind than anybody fills in.
MOST_BLOCKS = 200
MOST_LETTERS = 300


class BlocksError(FileError):
    """All that is wrong in a file of blocks, the first in a sentence, the others by their lines.

    problems: one or more, each with its line.

    >>> one = FileError("e.toml", "line 3, key u", "is -1", "a number from 0 to 100", "u", -1)
    >>> print(BlocksError([one, one]))
    e.toml, line 3, key u, is -1 (1 more problem, in line 3); expected a number from 0 to 100.
    """

    def __init__(self, problems: Sequence[FileError]) -> None:
        self.problems = tuple(sorted(problems, key=_line_of))
        first, more = self.problems[0], self.problems[1:]
        wrong = first.wrong
        if more:
            lines = list(dict.fromkeys(str(_line_of(one)) for one in more))
            noun = "problem" if len(more) == 1 else "problems"
            word = "line" if len(lines) == 1 else "lines"
            listed = ", ".join(lines[:5]) + (" …" if len(lines) > 5 else "")
            wrong += f" ({len(more)} more {noun}, in {word} {listed})"
        super().__init__(
            first.file, first.place, wrong, first.expectation, first.field, first.value
        )


def _line_of(problem: FileError) -> int:
    return int(problem.place.split(",")[0].removeprefix("line "))


class Block:
    """One block, its values asked for one by one; what is wrong is kept, and asked on.

    values: by the keys of the file; kind: of its heading; line: of that; lines: of its keys; name:
    of the file; problems: where all that is wrong is put.
    """

    def __init__(
        self,
        values: Mapping[str, Any],
        kind: str,
        line: int,
        lines: Mapping[str, int],
        name: str,
        problems: list[FileError],
    ) -> None:
        self.values, self.kind, self.line, self.lines = values, kind, line, lines
        self.name, self.problems, self._before = name, problems, len(problems)

    @property
    def good(self) -> bool:
        """Whether nothing was wrong in it so far."""
        return len(self.problems) == self._before

    def only(self, keys: Sequence[str]) -> None:
        """Refuses every other key, and asks back for one that is spelt like it.

        keys: that it may have.
        """
        for key in self.values:
            if key not in keys:
                near = alike(key, keys)
                expected = " or ".join(near) if near else f"one of: {', '.join(keys)}"
                self._told(f"line {self.lines.get(key, self.line)}", f"has the key {shown(key)}",
                           expected, key)  # fmt: skip

    def wrong(self, key: str, expected: str, known: Sequence[str] = ()) -> None:
        """Keeps that a key's value cannot be used.

        key: of the block; expected: what would do; known: words that may have been meant.
        """
        value = self.values.get(key)
        empty = "is empty" if value == "" else f"is {shown(value)}"
        near = alike(value, known)
        asked = f"{' or '.join(near)}, or another {expected}" if near else expected
        place = f"line {self.lines.get(key, self.line)}, key {key}"
        self._told(place, empty if key in self.values else "is missing", asked, key)

    def says(self, wrong: str, expected: str) -> None:
        """Keeps that the whole block cannot be used.

        wrong, expected: as of any FileError.
        """
        self._told(f"line {self.line}", wrong, expected, self.kind)

    def number(
        self, key: str, at_least: float, at_most: float, unit: str = "", start: Any = None
    ) -> float:
        """A number within bounds.

        key: of the block; at_least, at_most: the bounds; unit: for the refusal; start: where there
        is none, None if there has to be one.
        """
        value = self.values.get(key, start)
        good = isinstance(value, int | float) and not isinstance(value, bool)
        if good and at_least <= value <= at_most:
            return float(value)
        tail = f" {unit}" if unit else ""
        self.wrong(key, f"a number from {at_least:g} to {at_most:g}{tail}")
        return at_least

    def words(self, key: str, start: str | None = None) -> str:
        """Words on one line.

        key: of the block; start: where there are none, None if there have to be some.
        """
        value: Any = self.values.get(key, start)
        good = isinstance(value, str) and len(value) <= MOST_LETTERS and value.isprintable()
        if good and (value.strip() or start is not None):
            return str(value)
        self.wrong(key, f"words between quotation marks, at most {MOST_LETTERS} letters")
        return ""

    def _told(self, place: str, wrong: str, expected: str, key: str) -> None:
        value = self.values.get(key)
        self.problems.append(FileError(self.name, place, wrong, expected, key, value))


def read_text(path: Where, what: str) -> tuple[str, str]:
    """A file's text and name.

    path: of the file; what: was expected, in words. Raises FileError.
    """
    file = Path(path)
    return text_of(read_bytes(file, what, MOST_BYTES), file.name, what), file.name


def blocks_of(
    text: str, name: str, kind: str, kinds: Sequence[str]
) -> tuple[list[Block], list[FileError]]:
    """The blocks of one kind in their order, and a list for what is found wrong in them.

    text: TOML; name: of the file, for refusals; kind: of the blocks, as [[kind]]; kinds: that a
    file may have. Raises FileError for a text that cannot be read, or has them in another shape.

    >>> (one,), _ = blocks_of("[[error]]\\nu = 3", "e.toml", "error", ("error",))
    >>> one.line, one.number("u", 0, 10)
    (1, 3.0)
    """
    text = text.removeprefix("\ufeff")
    told = plan_text.read(text)
    if told is None:
        line, wrong, _ = plan_text.fault(text)
        expected = 'lines like u = 0.3 and unit = "%" below [[error]], or # before a remark'
        raise FileError(name, f"line {line}", f"has {wrong}", expected)
    top, heads = _lines(text, kind)
    problems: list[FileError] = []
    listed = " or ".join(f"[[{one}]]" for one in kinds)
    for key in told:
        if key not in kinds:
            place, wrong = f"line {top.get(key, 1)}", f"has {shown(key)} outside of a block"
            expected = f"blocks that open with {listed}"
            problems.append(FileError(name, place, wrong, expected, kind, key))
    values = told.get(kind, [])
    if not isinstance(values, list) or not all(isinstance(one, dict) for one in values):
        place = f"line {top.get(kind, 1)}"
        raise FileError(name, place, f"has {kind}, but not as blocks", f"[[{kind}]] before each")
    if len(values) > MOST_BLOCKS:
        place = f"line {heads[MOST_BLOCKS][0]}" if len(heads) > MOST_BLOCKS else ""
        raise FileError(name, place, "is one block too many", f"at most {MOST_BLOCKS}")
    # kind = [{…}, {…}] has no headings
    inline: tuple[int, dict[str, int]] = (top.get(kind, 1), {})
    places = [heads[at] if at < len(heads) else inline for at in range(len(values))]
    found = []
    for one, (line, keys) in zip(values, places, strict=True):
        found.append(Block(one, kind, line, keys, name, problems))
    return found, problems


def _lines(text: str, kind: str) -> tuple[dict[str, int], list[tuple[int, dict[str, int]]]]:
    """On which line each name at the top stands, and each heading of a kind with its keys."""
    top: dict[str, int] = {}
    heads: list[tuple[int, dict[str, int]]] = []
    for one in plan_text.statements(text):
        first = one.path[0] if one.path else ""
        top.setdefault(first, one.line)
        if one.kind == "array" and one.path == (kind,):
            heads.append((one.line, {}))
        elif first == kind and len(one.path) > 1 and heads:
            heads[-1][1].setdefault(one.path[1], one.line)
    return top, heads
