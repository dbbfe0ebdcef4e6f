"""What a plan brings with it: pictures and notebooks of the lecturer's own, out of the plan's
folder.

A name in a plan never becomes a path outside that folder, not by dots, not by a link. What a file
is, its bytes tell and not its name.
"""

from __future__ import annotations

import json
import re
import stat
from collections.abc import Mapping, Sequence
from pathlib import Path, PurePosixPath, PureWindowsPath
from typing import Any

from mensura.checks import alike, shown
from mensura.disk.plan_read import PlanError, Where
from mensura.disk.writing import reason
from mensura.teaching.lessons.plan import Step

#: A picture that is larger is not shown: a page would carry it, and a class wait for it.
MOST_PICTURE_MB = 20

#: A notebook that is larger is not read.
MOST_NOTEBOOK_MB = 100

#: As far is looked for a picture's beginning.
_LOOKED_AT_BYTES = 65_536

#: How a picture's bytes begin, and its media type.
_BEGINS = (
    (re.compile(rb"\x89PNG\r\n\x1a\n"), "image/png"),
    (re.compile(rb"\xff\xd8\xff"), "image/jpeg"),
    (re.compile(rb"GIF8[79]a"), "image/gif"),
    (re.compile(rb"RIFF.{4}WEBP", re.DOTALL), "image/webp"),
    (
        re.compile(
            # each remark ends at its first end, so that no text is gone through twice
            rb"(?:\xef\xbb\xbf)?\s*(?:<\?(?:(?!\?>).)*\?>\s*|<!--(?:(?!-->).)*-->\s*"
            rb"|<!DOCTYPE[^>\[]*(?:\[[^\]]*\]\s*)?>\s*)*"
            rb"<(?:svg:)?svg[\s>/]",
            re.DOTALL,
        ),
        "image/svg+xml",
    ),
)

_PICTURES = "one of PNG, JPEG, SVG, WebP or GIF"


def picture_of(plan: Where, step: Step, line: int = 0) -> tuple[str, bytes]:
    """Media type and bytes of a step's picture.

    plan: the plan's file; step: that shows a picture; line: to be told in a refusal, the step's own
    if 0. Raises PlanError, in one sentence, for what is no picture that can be shown.
    """
    content = _content(Path(plan), "picture", step.picture, line or step.line, MOST_PICTURE_MB)
    kind = kind_of(content)
    if not kind:
        wrong = f"picture {shown(step.picture)} is no picture"
        raise refused(plan, line or step.line, "picture", wrong, _PICTURES)
    return kind, content


def kind_of(content: bytes) -> str:
    """The media type of a picture, by its bytes; "" for what is none.

    content: of a file.

    >>> kind_of(b"GIF89a..."), kind_of(b'<?xml version="1.0"?><svg/>'), kind_of(b"MZ")
    ('image/gif', 'image/svg+xml', '')
    """
    first = content[:_LOOKED_AT_BYTES]
    return next((kind for begins, kind in _BEGINS if begins.match(first)), "")


def cell_of(plan: Where, step: Step, line: int = 0) -> Mapping[str, Any]:
    """The cell of a notebook that a step shows, as JSON has it; its source is one text.

    plan: the plan's file; step: that shows a notebook's cell; line: to be told in a refusal, the
    step's own if 0. Raises PlanError, in one sentence, for a notebook or a cell that there is not.
    """
    at, name = line or step.line, shown(step.notebook)
    content = _content(Path(plan), "notebook", step.notebook, at, MOST_NOTEBOOK_MB)
    try:
        told = json.loads(content.decode("utf-8-sig"))
    except (ValueError, RecursionError):
        told = None
    cells = told.get("cells") if isinstance(told, dict) else None
    if not isinstance(cells, list):
        wrong = f"notebook {name} cannot be read"
        raise refused(plan, at, "notebook", wrong, "a notebook of Jupyter, format 4")
    if step.cell > len(cells):
        have = f"one from 1 to {len(cells)}" if cells else "a notebook that has one"
        wrong = f"cell is {step.cell}, which {name} has not"
        raise refused(plan, at, "cell", wrong, have)
    cell = cells[step.cell - 1]
    source = cell.get("source") if isinstance(cell, dict) else None
    if isinstance(source, list) and all(isinstance(one, str) for one in source):
        source = "".join(source)
    if not isinstance(source, str) or cell.get("cell_type") not in ("code", "markdown"):
        wrong = f"cell {step.cell} of {name} holds nothing to show"
        raise refused(plan, at, "cell", wrong, "a cell of text or of code")
    return {**cell, "source": source}


def inside(plan: Where, field: str, name: str, line: int) -> Path:
    """Where a file lies that a plan names.

    plan: the plan's file; field: the key that names it; name: as it stands there; line: of that
    key. Raises PlanError for a path that leads out of the plan's folder, and for no file.
    """
    wanted = "a path inside the plan's folder, as in pictures/disc.jpg"
    windows = PureWindowsPath(name)
    parts = PurePosixPath(name.replace("\\", "/")).parts
    outside = windows.drive or windows.root or ".." in parts or "\0" in name
    folder = Path(plan).resolve().parent
    path = folder.joinpath(*parts) if not outside else folder
    try:
        outside = outside or not path.resolve().is_relative_to(folder)
    except (OSError, RuntimeError, ValueError):
        outside = True
    if outside:
        raise refused(plan, line, field, f"{field} is {shown(name)}", wanted)
    try:
        is_file = stat.S_ISREG(path.stat().st_mode)
    except (OSError, ValueError):
        near = alike(path.name, _names_in(path.parent))[:1]
        names = [str(PurePosixPath(*parts).with_name(one)) for one in near]
        wrong = f"there is no {field} {shown(name)}"
        raise refused(plan, line, field, wrong, "a file in the plan's folder", names) from None
    if not is_file:
        raise refused(plan, line, field, f"{field} {shown(name)} is no file", "one that is")
    return path


def _names_in(folder: Path) -> list[str]:
    try:
        return sorted(one.name for one in folder.iterdir())
    except OSError:
        return []


def _content(plan: Path, field: str, name: str, line: int, most_mb: int) -> bytes:
    path = inside(plan, field, name, line)
    most_bytes = most_mb * 1_000_000
    try:
        with path.open("rb") as file:
            content = file.read(most_bytes + 1)
    except OSError as error:
        wrong = f"{field} {shown(name)} cannot be read: {reason(error)}"
        raise refused(plan, line, field, wrong, "a file that can be") from None
    if len(content) > most_bytes:
        wrong = f"{field} {shown(name)} is larger than {most_mb} MB"
        raise refused(plan, line, field, wrong, "a smaller one")
    return content


def refused(
    plan: Where, line: int, field: str, wrong: str, expected: str, near: Sequence[str] = ()
) -> PlanError:
    """What is wrong in a plan's file, to be raised.

    plan: its path; line, field, wrong, expected, near: as PlanError has them.
    """
    return PlanError(Path(plan).name, line, wrong, expected, near, field=field)
