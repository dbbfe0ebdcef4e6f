"""The sections of the shipped workbooks: every heading, picture, panel, question, problem and proof
step has a name, which its own cell keeps.

A lesson, a leaflet and a lecturer's list of places are made from these; nothing in them is written
twice. Names stand in the notebook (`metadata.mensura_sections` of a cell: one for each heading of
a text, one for a cell of code), so that a heading may be worded anew and a plan still finds it.
What a section is follows from its cell: a text is what stands from its heading to the next one,
with the tables and pictures among it; whatever lives (a panel, a question, a problem, a game) is a
section of its own. Its title is its own first words, as they are stored beneath its cell.
"""

from __future__ import annotations

import ast
import json
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

from mensura.checks import MeasureError
from mensura.places import shipped
from mensura.teaching.lessons.chapters import CHAPTERS, chapter
from mensura.teaching.lessons.plan import Step

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
    "place_game": "game",
}

_HEADING = re.compile(r"^(#{1,6})[ \t]+(.+?)(?:[ \t]+#+)?[ \t]*$", re.MULTILINE)

#: What stands between two such lines is shown as it is: a # in it opens no heading.
_FENCED = re.compile(r"^(```|~~~).*?^\1`*~*[ \t]*$", re.MULTILINE | re.DOTALL)

#: A cell of code without these words, and without a picture, is a part of its text.
_MAY_LIVE = re.compile(rf"^(?:{'|'.join(_LIVING)}|\w+_panel)\(|PANEL\s*$", re.MULTILINE)

#: Of what is stored of a problem: its title, which ends where its first sentence begins.
_PROBLEM_TITLE = re.compile(r"Problem \d+\. (.+?)(?:: |(?<=\?) )(?=[A-Z0-9])")

#: What stands before a question's own words.
_ASKED = re.compile(r"^(?:Predict|Check yourself(?: \d+)?): ")

#: Letters that a heading may have between dollar signs, as plain ones.
_SIGNS = {"pi": "π", "theta": "θ", "alpha": "α", "varepsilon": "ε", "varphi": "φ", "times": "×"}
_SIGNS |= {"cdot": "·", "le": "≤", "ge": "≥", "ne": "≠", "approx": "≈", "sqrt": "√"}

#: No title is longer, so that it stands on one line.
LONGEST_TITLE = 72


@dataclass(frozen=True)
class Block:
    """A piece of a section: words, or what a cell shows.

    kind: "words", "table" or "picture"; words: Markdown, with mathematics between dollar signs, or
    "" if it is what a cell shows; shown: that by media type (text/html, text/plain, image/png);
    place: of its cell in the notebook, from 0.
    """

    kind: str
    words: str = ""
    shown: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    place: int = 0


@dataclass(frozen=True)
class Section:
    """One section of a workbook.

    workbook: the chapter's number; name: of the section, one in its workbook; kind: one of KINDS;
    title: one line: a heading's words, a question's first ones, what a panel, a proof or a problem
    is called, the heading above a picture; level: of the heading it is or stands beneath, from 1;
    place: of its first cell in the notebook, from 0; thing: what lives there: a question's key, the
    panel's module, a family of problems, a road, a game's function; "" for others; step: of a
    proof, from 1, else 0; source: the code of its cell, "" for a text; blocks: what it shows
    without a kernel; heading: which it is, or stands beneath.
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
    heading: str = ""


def plain_words(heading: str) -> str:
    r"""A heading without its marks: no emphasis, no link, no backslash, mathematics as letters.

    heading: in Markdown.

    >>> plain_words(r"*Why* $a^2 + b^2$ is \# 1 of [03](03.ipynb)"), plain_words(r"`g` and $\pi$")
    ('Why a² + b² is # 1 of 03', 'g and π')
    """
    text = re.sub(r"\$([^$]+)\$", lambda found: _as_letters(found[1]), heading)
    text = re.sub(r"!?\[([^\]]*)\]\([^)]*\)", r"\1", text)
    text = re.sub(r"(?<!\\)(\*+|`+|(?<!\w)_+|_+(?!\w))", "", text)
    return " ".join(re.sub(r"\\([^\w\s])", r"\1", text).split())


def _as_letters(maths: str) -> str:
    letters = re.sub(r"\\([A-Za-z]+) ?", lambda found: _SIGNS.get(found[1], found[1]), maths)
    for plain, raised in zip("234", "²³⁴", strict=True):
        letters = letters.replace(f"^{plain}", raised)
    return re.sub(r"[{}\\^]|_(?=[{\w])", "", letters)


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


def cell_sources(workbook: str) -> tuple[str, ...]:
    """What is written in each cell of a shipped workbook; a section's `place` counts them.

    workbook: the chapter's number. Raises MeasureError for one that there is not.

    >>> cell_sources("02")[section("02", "02-predict").place]
    'ask("02-predict")'
    """
    path = shipped("workbooks") / chapter(workbook).file
    return tuple("".join(one["source"]) for one in json.loads(path.read_text("utf-8"))["cells"])


@lru_cache(maxsize=64)
def _sections_of(path: Path, workbook: str) -> tuple[Section, ...]:
    cells = json.loads(path.read_text("utf-8"))["cells"]
    return tuple(_walk(cells, workbook))


def _walk(cells: list[dict[str, Any]], workbook: str) -> Iterator[Section]:
    heading, level = "", 1
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
        source = "".join(cell["source"])
        if cell["cell_type"] == "markdown":
            names = iter(cell["metadata"].get(NAMES) or names_of(cell))
            last = 0
            for found in _headings(source):
                _add(blocks, source[last : found.start()], place)
                yield from close()
                heading, level, last = plain_words(found[2]), len(found[1]), found.end()
                name = next(names)
                open_text = Section(workbook, name, "text", heading, level, place, heading=heading)
            _add(blocks, source[last:], place)
            continue
        kind, thing = _kind_of(cell)
        shown = _shown(cell, place)
        if not kind:
            if shown:
                blocks.append(shown)
            continue
        name, *steps = cell["metadata"].get(NAMES) or names_of(cell)
        title = _title(kind, shown, heading, alone=not waiting)
        one = Section(workbook, name, kind, title, level, place, thing, 0, source, heading=heading)
        waiting.append(replace(one, blocks=(shown,)) if shown else one)
        if kind == "picture" and shown:
            blocks.append(shown)
        for step, of_step in enumerate(steps, 1):
            line = f"{title.partition(':')[0]}, line {step}"
            waiting.append(replace(one, name=of_step, kind="proof step", title=line, step=step))
    yield from close()


def _headings(source: str) -> Iterator[re.Match[str]]:
    """The headings of a text in Markdown; what is fenced off holds none."""
    hidden = _FENCED.sub(lambda found: " " * len(found[0]), source)
    return _HEADING.finditer(hidden)


def _title(kind: str, shown: Block | None, heading: str, alone: bool) -> str:
    """What a living thing or a picture is called, on one line: by what is stored beneath its cell.

    alone: whether nothing else lives beneath the heading so far.
    """
    told = shown.shown.get("text/plain", "") if shown else ""
    first_line = told.partition("\n")[0]
    title = heading
    if kind == "question":
        title = _ASKED.sub("", first_line)
    elif kind == "problem":
        found = _PROBLEM_TITLE.match(first_line)
        title = found[1] if found else heading
    elif kind in ("panel", "proof") or (kind == "game" and not alone):
        title = re.split(r"(?<=[?!]) |\. ", first_line)[0]
    return _on_one_line(title or heading)


def title_of(step: Step) -> str:
    """What a step of a lesson is called, on one line: as its plan says, else by what it shows.

    step: its section exists.

    >>> from mensura.teaching.lessons.plan import Step
    >>> title_of(Step(4, "02", "out-of-round-panel")), title_of(Step(2, text="## Go *out*\\nNow."))
    ('Out of round', 'Go out')
    """
    if step.title:
        return step.title
    if step.shows == "section":
        one = section(step.workbook, step.section)
        if one.kind == "proof step":
            return one.title
        return re.sub(r"^\d\d ", "", one.title)
    if step.shows == "text":
        lines = (plain_words(line.lstrip("#> ")) for line in step.text.split("\n"))
        return _on_one_line(next(filter(None, lines), "Words"))
    if step.shows == "picture":
        return _on_one_line(step.alt or step.picture)
    return f"{step.notebook}, cell {step.cell}"


def _on_one_line(words: str) -> str:
    """As many of some words as stand on one line."""
    if len(words) <= LONGEST_TITLE:
        return words
    return words[:LONGEST_TITLE].rsplit(" ", 1)[0].rstrip(",;:") + " …"


def _add(blocks: list[Block], words: str, place: int) -> None:
    if words.strip():
        blocks.append(Block("words", words.strip(), place=place))


def _shown(cell: Mapping[str, Any], place: int = 0) -> Block | None:
    """What a cell of code shows without a kernel, or None."""
    for output in cell.get("outputs", ()):
        data = {kind: "".join(text) for kind, text in output.get("data", {}).items()}
        if data:
            kind = "picture" if "image/png" in data else "table"
            return Block(kind, shown=MappingProxyType(data), place=place)
    return None


def names_of(cell: Mapping[str, Any]) -> list[str]:
    """The names that a cell's sections get when the cell has none yet: a proof's steps have theirs
    behind the proof's.

    cell: of a notebook, as JSON has it.
    """
    source = "".join(cell["source"])
    if cell["cell_type"] == "markdown":
        found = [plain_words(one[2]) for one in _headings(source)]
        return [slug(re.sub(r"^\d\d ", "", one)) for one in found]
    kind, thing = _kind_of(cell)
    if not kind:
        return []
    if kind == "panel":
        return [f"{slug(thing)}-panel"]
    if kind in ("question", "problem"):
        return [thing]
    if kind == "proof":
        from mensura.teaching.proof.roads import road

        name = f"{slug(thing)}-road"
        return [name, *(f"{name}-{step}" for step in range(1, len(road(thing).steps) + 1))]
    return [slug(thing)]


def with_names(cells: Sequence[dict[str, Any]]) -> None:
    """Gives a name to each section that has none; those that have one keep it.

    cells: of a notebook, as JSON has them; changed in place. Raises MeasureError for two sections
    of one name, since a plan could not tell them apart.
    """
    taken: set[str] = set()
    for cell in cells:
        usual = names_of(cell)
        names = cell["metadata"].get(NAMES, [])
        # a text that has got a heading more is named anew, a proof keeps what it is called
        if len(names) != len(usual):
            names = usual
        for name in names:
            if name in taken:
                raise MeasureError("name", name, "", "one that no other section of it has")
            taken.add(name)
        cell["metadata"].pop(NAMES, None)
        if names:
            cell["metadata"][NAMES] = list(names)


def _kind_of(cell: Mapping[str, Any]) -> tuple[str, str]:
    """What section a cell of code is, and what lives there; "" for one that belongs to its text."""
    source = "".join(cell["source"])
    pictured = any("image/png" in one.get("data", ()) for one in cell.get("outputs", ()))
    if not pictured and not _MAY_LIVE.search(source):
        return "", ""
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
        if value.func.id.endswith("_panel"):
            return "panel", _panel_of(value.func.id.upper())
    return ("picture", _picture_of(value)) if pictured else ("", "")


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
