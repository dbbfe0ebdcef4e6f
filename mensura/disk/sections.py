"""The sections of the shipped workbooks: every heading, picture, panel, question, problem and proof
step has a name, which its own cell keeps.

A lesson, a leaflet and a lecturer's list of places are made from these; nothing in them is written
twice. Names stand in the notebook (`metadata.mensura_sections` of a cell: one for each heading of a
text, one for a cell of code), so that a heading may be worded anew and a plan still finds it. What a
section is follows from its cell: a text is what stands from its heading to the next one, with the
tables and pictures among it; whatever lives (a panel, a question, a problem, a game) is a section
of its own.
"""

from __future__ import annotations

import ast
import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from pathlib import Path
from typing import Any

from mensura.checks import MeasureError
from mensura.places import shipped
from mensura.teaching.lessons.chapters import CHAPTERS, chapter
from mensura.teaching.proof.roads import road

#: What a section can be.
KINDS = ("text", "picture", "panel", "question", "proof", "proof step", "problem", "game")

#: Key of a cell's metadata under which its sections' names stand.
NAMES = "mensura_sections"

#: Functions whose cells are sections that live, and of which kind.
_LIVING = {
    "ask": "question",
    "problems_here": "problem",
    "proof_panel": "proof",
    "practice": "game",
    "own_line": "game",
    "picture_game": "game",
    "wrong_reading_game": "game",
}

_HEADING = re.compile(r"^(#{1,6}) +(.+?)\s*$", re.MULTILINE)


@dataclass(frozen=True)
class Block:
    """A piece of a section: words, or what a cell shows.

    kind: "words", "table" or "picture"; words: Markdown, with mathematics between dollar signs; "" if
    it is what a cell shows; shown: that by media type (text/html, text/plain, image/png); place: of
    its cell in the notebook, from 0.
    """

    kind: str
    words: str = ""
    shown: Mapping[str, str] = field(default_factory=dict)
    place: int = 0


@dataclass(frozen=True)
class Section:
    """One section of a workbook.

    workbook: the chapter's number; name: of the section, one in its workbook; kind: one of KINDS;
    title: the heading it is, or stands beneath; level: of that heading, from 1; place: of its first
    cell in the notebook, from 0; thing: what lives there: a question's key, the panel's module, a
    family of problems, a road, a game's function; "" for others; step: of a proof, from 1, else 0;
    source: the code of its cell, "" for a text; blocks: what it shows without a kernel.
    """

    workbook: str
    name: str
    kind: str
    title: str
    level: int
    place: int
    thing: str = ""
    step: int = 0
    source: str = ""
    blocks: tuple[Block, ...] = ()


def slug(text: str) -> str:
    """A name made of words: small letters, digits and hyphens.

    text: a heading, or the name of a function or module.

    >>> slug("Why: the calipers, and *what* their limits"), slug("same_girth")
    ('why-the-calipers-and-what-their-limits', 'same-girth')
    """
    return "-".join(re.findall(r"[a-z0-9]+", text.lower().replace("'", "")))


def sections(workbook: str) -> tuple[Section, ...]:
    """All sections of a shipped workbook, in its order.

    workbook: the chapter's number, as in "02". Raises MeasureError for one that there is not.

    >>> [one.name for one in sections("02")][:4]
    ['out-of-round', 'predict', '02-predict', 'a-stem-and-its-circle']
    """
    return _sections_of(shipped("workbooks") / chapter(workbook).file, workbook)


def section(workbook: str, name: str) -> Section:
    """One section of a shipped workbook.

    workbook: the chapter's number; name: of the section. Raises MeasureError, naming the nearest,
    for one that there is not.

    >>> section("02", "out-of-round-panel").thing
    'out_of_round'
    """
    from difflib import get_close_matches

    found = {one.name: one for one in sections(workbook)}
    if name in found:
        return found[name]
    near = get_close_matches(name, found, 1, 0.5)
    wanted = f"the name of a section of workbook {workbook}, like {(near or list(found))[0]}"
    raise MeasureError("section", name, "", wanted)


def all_sections() -> tuple[Section, ...]:
    """Those of all shipped workbooks, chapter by chapter.

    >>> len({(one.workbook, one.name) for one in all_sections()}) == len(all_sections())
    True
    """
    return tuple(one for each in CHAPTERS for one in sections(each.number))


@lru_cache(maxsize=64)
def _sections_of(path: Path, workbook: str) -> tuple[Section, ...]:
    cells = json.loads(path.read_text("utf-8"))["cells"]
    return tuple(_walk(cells, workbook))


def _walk(cells: list[dict[str, Any]], workbook: str) -> Iterator[Section]:
    title, level = "", 1
    open_text: Section | None = None
    blocks: list[Block] = []
    waiting: list[Section] = []  # what stands in the text that is open comes after it

    def close() -> Iterator[Section]:
        nonlocal open_text
        if open_text is not None:
            yield replace(open_text, blocks=tuple(blocks))
        yield from waiting
        waiting.clear()
        blocks.clear()
        open_text = None

    for place, cell in enumerate(cells):
        names = iter(cell["metadata"].get(NAMES) or names_of(cell))
        source = "".join(cell["source"])
        if cell["cell_type"] == "markdown":
            last = 0
            for found in _HEADING.finditer(source):
                _add(blocks, source[last : found.start()], place)
                yield from close()
                title, level, last = found[2], len(found[1]), found.end()
                open_text = Section(workbook, next(names), "text", title, level, place)
            _add(blocks, source[last:], place)
            continue
        kind, thing = _kind_of(cell)
        shown = _shown(cell, place)
        if not kind:
            if shown:
                blocks.append(shown)
            continue
        one = Section(workbook, next(names), kind, title, level, place, thing, 0, source)
        if shown:
            one = replace(one, blocks=(shown,))
        waiting.append(one)
        if kind == "picture" and shown:
            blocks.append(shown)
        if kind == "proof":
            for step in range(1, len(road(thing).steps) + 1):
                waiting.append(
                    replace(one, name=f"{one.name}-{step}", kind="proof step", step=step, blocks=())
                )
    yield from close()


def _add(blocks: list[Block], words: str, place: int) -> None:
    if words.strip():
        blocks.append(Block("words", words.strip(), place=place))


def _shown(cell: Mapping[str, Any], place: int = 0) -> Block | None:
    """What a cell of code shows without a kernel, or None."""
    for output in cell.get("outputs", ()):
        data = {kind: "".join(text) for kind, text in output.get("data", {}).items()}
        if data:
            return Block("picture" if "image/png" in data else "table", "", data, place)
    return None


def names_of(cell: Mapping[str, Any]) -> list[str]:
    """The names that a cell's sections get when the cell has none yet.

    cell: of a notebook, as JSON has it.
    """
    source = "".join(cell["source"])
    if cell["cell_type"] == "markdown":
        return [slug(re.sub(r"^\d\d ", "", found[2])) for found in _HEADING.finditer(source)]
    kind, thing = _kind_of(cell)
    if not kind:
        return []
    if kind == "panel":
        return [f"{slug(thing)}-panel"]
    if kind in ("question", "problem"):
        return [thing]
    if kind == "proof":
        return [f"{slug(thing)}-road"]
    return [slug(thing)]


def _kind_of(cell: Mapping[str, Any]) -> tuple[str, str]:
    """What section a cell of code is, and what lives there; "" for one that belongs to its text."""
    source = "".join(cell["source"])
    try:
        last = ast.parse(source).body[-1]
    except (SyntaxError, IndexError):
        return "", ""
    if not isinstance(last, ast.Expr):
        return "", ""
    value = last.value
    if isinstance(value, ast.Name) and value.id.endswith("PANEL"):
        return "panel", _panel_of(value.id)
    if isinstance(value, ast.Call) and isinstance(value.func, ast.Name):
        kind = _LIVING.get(value.func.id, "")
        if kind in ("question", "problem", "proof"):
            first = value.args[0]
            return kind, str(first.value) if isinstance(first, ast.Constant) else ""
        if kind:
            return kind, value.func.id
    shown = _shown(cell)
    if shown and shown.kind == "picture":
        return "picture", _picture_of(value)
    return "", ""


def _picture_of(value: ast.expr) -> str:
    """What a picture may be called: by its function, or by the preset or the road it shows."""
    if isinstance(value, ast.Call) and isinstance(value.func, ast.Name):
        return value.func.id
    words = [one.value for one in ast.walk(value) if isinstance(one, ast.Constant)]
    told = next((word for word in words if isinstance(word, str)), "")
    return f"{told} picture" if told else ast.unparse(value)


def _panel_of(name: str) -> str:
    """The module of a panel, by the name that its page has for it."""
    words = name.removesuffix("PANEL").strip("_").lower()
    return words or "out_of_round"
