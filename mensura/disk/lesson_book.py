"""A lesson's notebook: made from a plan, a page that JupyterLab runs and our extension shows.

It lies in a folder of its own beside the plan, with copies of the plan's pictures; what is kept
there while the lesson is given (values, answers, the screen it is at) is never touched. Words are
copied from the workbooks' sections as they stand, tables and pictures as their cells stored them;
whatever lives is one hidden line of code. The notebook is written anew only if the plan would make
another.
"""

from __future__ import annotations

import base64
import hashlib
import json
import os
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import Any

from mensura.checks import shown
from mensura.disk.plan_things import cell_of, picture_of
from mensura.disk.sections import LONGEST_TITLE, Block, Section, plain_words, section
from mensura.disk.writing import put_aside, reason, write_whole
from mensura.teaching.lessons.chapters import chapter
from mensura.teaching.lessons.plan import Plan, Step

#: The notebook's name in its folder, and what the folder's name adds to the plan's.
LESSON, FOLDER = "lesson.ipynb", "-lesson"

#: Key of the metadata, of the notebook and of each cell.
MARK = "mensura_lesson"

_LIVING = {
    "panel": "panel",
    "question": "question",
    "proof": "proof",
    "proof step": "proof",
    "problem": "problem",
    "game": "game",
}
#: A link to another workbook leads nowhere from here: its words stay.
_TO_A_WORKBOOK = re.compile(r"(?<!!)\[([^\[\]]*)\]\((?![a-z]+:)[^()\s]*\.ipynb(?:#[^()\s]*)?\)")
#: What a chapter says of its page, which this is not.
_OF_THE_PAGE = re.compile(r"^\*\*The page starts by itself\.\*\*.*(?:\n.+)*\n*", re.MULTILINE)
#: By which the kit's pages cut a picture up where it has no room.
_PARTS = re.compile(r' data-parts="([^"]*)"')
_FIRST_HEADING = re.compile(r"\s*#{1,6}[ \t]+(.+?)(?:[ \t]+#+)?[ \t]*(?:\n|$)")
#: What a lecturer's own cell may show before it has run: nothing that could do anything.
_HARMLESS = ("image/png", "image/jpeg", "text/latex", "text/plain")


class LessonError(Exception):
    """A lesson that cannot be laid out; the message is one sentence."""


@dataclass(frozen=True)
class Laid:
    """A lesson that lies ready.

    folder: where, absolute; digest: SHA-256 of the notebook as it lies there; renewed: whether it
    was written now.
    """

    folder: Path
    digest: str
    renewed: bool


def lesson_folder(plan_file: Path) -> Path:
    """The folder of a plan's lesson, beside the plan.

    plan_file: of the plan.

    >>> lesson_folder(Path("/stems/tapes.toml")).as_posix()
    '/stems/tapes-lesson'
    """
    return plan_file.with_name(plan_file.stem + FOLDER)


def lay_lesson(plan: Plan, plan_file: Path) -> Laid:
    """Lays a lesson out, beside its plan.

    plan: checked; plan_file: where it was read from. A notebook that the plan would make again is
    left as it lies, with what its cells have shown. Raises LessonError, in one sentence, for a
    folder that cannot be written, and PlanError for what is no longer there; the notebook is then
    as it was.
    """
    folder = lesson_folder(plan_file.resolve().parent / plan_file.name)
    book = lesson_book(plan, plan_file)
    pictures = dict(_pictures(plan, plan_file))
    _make(folder)
    path = folder / LESSON
    try:
        for name, content in pictures.items():
            there = folder / name
            if there.is_symlink() or not there.is_file() or there.read_bytes() != content:
                write_whole(there, content)
        plain = path.is_file() and not path.is_symlink()
        lies = path.read_bytes() if plain else b""
        meant = _means(lies)
        if meant == _means(fresh := _written(book)) and (lies == fresh or _signed(lies)):
            return Laid(folder, _digest(lies), False)
        if os.path.lexists(path) and meant is None:
            put_aside(path)  # somebody's own
        write_whole(path, fresh)
    except OSError as error:
        raise LessonError(
            f"the lesson cannot be written in {shown(folder.name)}, beside the plan: "
            f"{reason(error)}; expected a folder that can be written to."
        ) from None
    return Laid(folder, _digest(fresh), True)


def lesson_book(plan: Plan, plan_file: Path) -> dict[str, Any]:
    """The notebook of a lesson, as JSON has it.

    plan: checked; plan_file: where it was read from. Raises PlanError for a picture or a notebook
    that is no longer there.

    >>> book = lesson_book(Plan("Bark", 5, (Step(5, text="Look **up** first."),)), Path())
    >>> [(cell["cell_type"], cell["metadata"].popitem()[1]["kind"]) for cell in book["cells"]]
    [('markdown', 'words')]
    """
    cells: list[dict[str, Any]] = []
    told: list[dict[str, Any]] = []
    seen: dict[str, int] = {}
    for place, step in enumerate(plan.steps, start=1):
        what = _what(step)
        seen[what] = seen.get(what, 0) + 1
        key = what if seen[what] == 1 else f"{what} {seen[what]}"
        name, above = _title(step)
        told.append(
            {
                "title": name,
                "above": above,
                "minutes": step.minutes,
                "note": step.note,
                "spare": step.spare,
                "key": key,
            }
        )
        for count, cell in enumerate(_cells(step, place, seen[what], plan_file)):
            mark = hashlib.sha256(f"{key} {count}".encode()).hexdigest()[:16]
            cells.append({"id": f"{mark}-{count}", **cell})
    return {
        "cells": cells,
        "metadata": {
            MARK: {"title": plan.title, "minutes": plan.minutes, "steps": told},
            "kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"},
            "language_info": {"name": "python"},
        },
        "nbformat": 4,
        "nbformat_minor": 5,
    }


# ---- a step's cells ------------------------------------------------------------------------------


def _cells(step: Step, place: int, turn: int, plan_file: Path) -> Iterator[dict[str, Any]]:
    """The cells of one step.

    place: of the step, from 1; turn: which of the steps that show the same, from 1.
    """
    if step.shows == "text":
        found = None if step.title else _FIRST_HEADING.match(step.text)
        rest = step.text[found.end() :] if found else ""
        yield _words(rest if rest.strip() else step.text, place)
    elif step.shows == "picture":
        cell = _words(f"![]({_picture(plan_file, step)[0]})", place)
        cell["metadata"][MARK] |= {"kind": "picture", "alt": step.alt}
        yield cell
    elif step.shows == "notebook":
        yield _own(step, place, plan_file)
    else:
        one = section(step.workbook, step.section)
        if one.kind in _LIVING:
            yield _alive(one, step, place, turn)
        else:
            for block in one.blocks:
                yield from _still(block, one, place)


def _picture(plan_file: Path, step: Step) -> tuple[str, bytes]:
    """A picture's copy in the lesson's folder: a name by what it is, and its bytes."""
    kind, content = picture_of(plan_file, step)
    ending = kind.partition("/")[2].partition("+")[0]
    return f"picture-{_digest(content)[:16]}.{ending}", content


def _cell(kind: str, place: int, cell_type: str, source: str) -> dict[str, Any]:
    cell: dict[str, Any] = {
        "cell_type": cell_type,
        "metadata": {MARK: {"step": place, "kind": kind}},
        "source": source,
    }
    if cell_type == "code":
        cell["metadata"]["jupyter"] = {"source_hidden": True}
        cell |= {"execution_count": None, "outputs": []}
    return cell


def _words(text: str, place: int) -> dict[str, Any]:
    return _cell("words", place, "markdown", text)


def _pictures(plan: Plan, plan_file: Path) -> Iterator[tuple[str, bytes]]:
    """All that lie beside the notebook."""
    for step in plan.steps:
        if step.shows == "picture":
            yield _picture(plan_file, step)
        elif step.shows == "section":
            one = section(step.workbook, step.section)
            if one.kind in _LIVING and one.blocks and "image/png" in one.blocks[0].shown:
                yield _still_of(one.blocks[0])


def _still(block: Block, one: Section, place: int) -> Iterator[dict[str, Any]]:
    if block.kind == "words":
        words = _OF_THE_PAGE.sub("", _TO_A_WORKBOOK.sub(r"\1", block.words)).strip()
        if words:
            yield _words(words, place)
        return
    cell = _cell("picture" if one.kind == "picture" else "shown", place, "code", "")
    # where a page has no room it cuts a picture up by itself; a screen does so in its own way
    told = _PARTS.search(block.shown.get("text/html", ""))
    if told:
        parts = json.loads(told[1].replace("&quot;", '"'))
        cell["metadata"][MARK]["boxes"] = [box for part in parts for box in part["boxes"]]
    cell["outputs"] = [_output({kind: _PARTS.sub("", text) for kind, text in block.shown.items()})]
    yield cell


def _output(data: Mapping[str, str]) -> dict[str, Any]:
    return {"output_type": "display_data", "data": dict(data), "metadata": {}}


def _alive(one: Section, step: Step, place: int, turn: int) -> dict[str, Any]:
    """What lives: one line of code, and what stands there while it does not."""
    told = [repr(step.workbook), repr(step.section)]
    if step.start:
        told.append(f"start={dict(step.start)!r}")
    if step.controls:
        told.append(f"controls={list(step.controls)!r}")
    told.append(f"place={turn}")
    source = f"from mensura.views.lessons import on_screen\n\non_screen({', '.join(told)})"
    cell = _cell(_LIVING[one.kind], place, "code", source)
    for block in one.blocks[:1]:
        still = {"words": block.shown.get("text/plain", "")}
        if "image/png" in block.shown:
            still["picture"] = _still_of(block)[0]
        cell["metadata"][MARK]["still"] = still
    return cell


def _still_of(block: Block) -> tuple[str, bytes]:
    """What stands where a panel will be, and where it was: a name and the picture's bytes."""
    content = base64.b64decode(block.shown["image/png"])
    return f"still-{_digest(content)[:16]}.png", content


def _own(step: Step, place: int, plan_file: Path) -> dict[str, Any]:
    """A cell of the lecturer's own notebook; its code runs where that notebook lies."""
    theirs = cell_of(plan_file, step)
    if theirs["cell_type"] == "markdown":
        return _words(theirs["source"], place)
    home = PurePosixPath("..", step.notebook.replace("\\", "/")).parent
    cell = _cell(
        "own",
        place,
        "code",
        "from contextlib import chdir\n\nfrom mensura.views.lessons import own_cell\n\n"
        f"with chdir({str(home)!r}):\n    own_cell({theirs['source']!r}, place={place})",
    )
    for output in theirs.get("outputs") or ():
        data = output.get("data") if isinstance(output, dict) else None
        fitting = {
            name: "".join(text)
            for name, text in (data.items() if isinstance(data, dict) else ())
            if name in _HARMLESS and isinstance(text, str | list)
        }
        if fitting:
            cell["outputs"].append(_output(fitting))
    return cell


# ---- names -------------------------------------------------------------------------------------


def _what(step: Step) -> str:
    """What a step shows, as a name that stays when others are put before it."""
    if step.shows == "section":
        return f"{step.workbook}/{step.section}"
    if step.shows == "text":
        return f"text {hashlib.sha256(step.text.encode()).hexdigest()[:12]}"
    if step.shows == "picture":
        return f"picture {step.picture}"
    return f"{step.notebook} {step.cell}"


def _title(step: Step) -> tuple[str, str]:
    """A step's name in the list of screens, and what stands above its screen.

    A question's own words stand on the screen: above it stands only what it is asked for.
    """
    if step.shows == "section":
        one = section(step.workbook, step.section)
        name = step.title or re.sub(r"^\d\d ", "", one.title)
        if one.kind == "question" and not step.title:
            return name, f"{chapter(step.workbook).title}: {one.heading.lower()}"
        return name, name
    if step.shows == "text" and not step.title:
        found = _FIRST_HEADING.match(step.text)
        return (plain_words(found[1]),) * 2 if found else ("", "")
    if step.shows == "picture" and not step.title and len(step.alt) <= LONGEST_TITLE:
        return step.alt, step.alt
    return step.title, step.title


# ---- the disk ------------------------------------------------------------------------------------


def _make(folder: Path) -> None:
    """The lesson's folder, made if it is missing; LessonError if it cannot be used."""
    name, wanted = shown(folder.name), "expected a folder that can be written to"
    if os.path.lexists(folder) and (folder.is_symlink() or not folder.is_dir()):
        raise LessonError(f"{name}, beside the plan, is no plain folder; {wanted}.")
    try:
        folder.mkdir(exist_ok=True)
    except OSError as error:
        raise LessonError(
            f"the folder {name} cannot be made beside the plan: {reason(error)}; {wanted}."
        ) from None
    if not os.access(folder, os.W_OK | os.X_OK):
        raise LessonError(f"the folder {name}, beside the plan, cannot be written to; {wanted}.")


def _written(book: Mapping[str, Any]) -> bytes:
    return (json.dumps(book, ensure_ascii=False, indent=1) + "\n").encode()


def _means(content: bytes) -> Any:
    """All of a lesson's notebook but what its living cells have shown; None if it is none."""
    try:
        book = json.loads(content)
        cells = [
            (
                cell["cell_type"],
                cell["id"],
                "".join(cell["source"]),
                cell["metadata"][MARK],
                cell["cell_type"] == "code" and not cell["source"] and _told(cell["outputs"]),
            )
            for cell in book["cells"]
        ]
        return book["metadata"][MARK], cells
    except (ValueError, KeyError, TypeError, RecursionError):
        return None


def _signed(content: bytes) -> bool:
    """Whether this user's Jupyter has saved it: what its cells have shown came from there."""
    import nbformat
    from jupyter_core.paths import jupyter_data_dir
    from nbformat import sign

    read: Any = nbformat.reads
    if not Path(jupyter_data_dir(), "nbsignatures.db").is_file():
        return False  # none is begun by asking
    try:
        made: Any = sign.NotebookNotary
        notary = made(data_dir=jupyter_data_dir())
        return bool(notary.check_signature(read(content.decode(), as_version=4)))
    except Exception:  # no store of signatures, or one of another version: written anew then
        return False


def _told(outputs: list[dict[str, Any]]) -> list[dict[str, str]]:
    return [{kind: "".join(text) for kind, text in one["data"].items()} for one in outputs]


def _digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()
