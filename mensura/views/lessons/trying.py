"""A step of a plan as its lecturer sees it while planning: its name, what it is, and its screen.

What lives is the lesson's own screen; words, tables and pictures are shown as the notebook shows
them.
"""

from __future__ import annotations

import html
from base64 import b64encode
from collections.abc import Mapping
from typing import Any

from mensura.checks import MeasureError
from mensura.disk.plan_things import cell_of, picture_of
from mensura.disk.sections import Section, section
from mensura.teaching.lessons.plan import Step

#: What a cell of the lecturer's own may show here, where it is not run.
HARMLESS = ("image/png", "image/jpeg", "text/plain")

#: The longest own words that stand for a step's title.
MOST_LETTERS = 60


def words_of(step: Step, path: Any) -> str:
    """How a step is called in the table.

    step: of a plan; path: of the plan's file.

    >>> words_of(Step(3, "02", "predict"), None), words_of(Step(3, text="# Go *out*\\nNow."), None)
    ('Predict', 'Go out')
    """
    if step.title:
        return plain(step.title)
    if step.shows == "section":
        try:
            one = section(step.workbook, step.section)
        except MeasureError:
            return step.section or step.workbook
        return plain(one.title)
    if step.shows == "text":
        first = plain(next((line for line in step.text.splitlines() if line.strip()), ""))
        return first if len(first) <= MOST_LETTERS else f"{first[: MOST_LETTERS - 1]}…"
    return step.picture or f"{step.notebook}, cell {step.cell}"


def what(step: Step) -> str:
    """What a step is, in a few words.

    step: of a plan.

    >>> what(Step(3, "02", "out-of-round-panel", start={"tilt_deg": 7.5}))
    'panel out-of-round-panel, workbook 02, with tilt_deg 7.5'
    >>> what(Step(1, "03", "classroom-road-4")), what(Step(1, picture="stem.jpg"))
    ('line 4 of classroom-road, workbook 03', 'your own picture')
    """
    if step.shows != "section":
        own = {"text": "words", "picture": "picture", "notebook": "notebook cell"}
        return f"your own {own[step.shows]}"
    told = ", ".join(f"{name} {_written(value)}" for name, value in step.start.items())
    tail = f", with {told}" if told else ""
    return f"{_kind(step)}, workbook {step.workbook}{tail}"


def _kind(step: Step) -> str:
    try:
        one = section(step.workbook, step.section)
    except MeasureError:
        return f"section {step.section}"
    if one.step:
        return f"line {one.step} of {one.name.rpartition('-')[0]}"
    return "text" if one.kind == "text" else f"{one.kind} {one.name}"


def is_there(step: Step, path: Any) -> str:
    """One sentence if what a step shows is not there, else "".

    step: of a plan; path: of the plan's file.

    >>> is_there(Step(3, "02", "predict"), None)
    ''
    """
    try:
        if step.shows == "section":
            section(step.workbook, step.section)
        elif step.shows == "picture":
            picture_of(path, step)
        elif step.shows == "notebook":
            cell_of(path, step)
    except MeasureError as error:
        return str(error)
    return ""


def tried(step: Step, place: int, path: Any) -> tuple[Any, ...]:
    """The widgets of a step's screen.

    step: of a plan; place: of the step, from 1; path: of the plan's file. Raises MeasureError for
    what cannot be shown.
    """
    from mensura.views.lessons import on_screen
    from mensura.views.lessons.showing import LIVING

    if step.shows == "section":
        one = section(step.workbook, step.section)
        if one.kind in LIVING:
            made = on_screen(
                step.workbook,
                step.section,
                start=step.start,
                controls=list(step.controls),
                place=place,
            )
            return (made.build(),)
        return (_outputs(_of_section(one)),)
    if step.shows == "text":
        return (_outputs([{"text/markdown": step.text}]),)
    return (_outputs([_own(step, path)]),)


def _own(step: Step, path: Any) -> Mapping[str, Any]:
    """What the lecturer's own picture or cell shows: a cell is not run, what it has stored is."""
    if step.shows == "picture":
        kind, content = picture_of(path, step)
        told = b64encode(content).decode("ascii")
        alt, source = html.escape(step.alt), f"data:{kind};base64,{told}"
        return {"text/html": f'<img alt="{alt}" src="{source}" style="max-width: 100%">'}
    cell = cell_of(path, step)
    if cell["cell_type"] == "markdown":
        return {"text/markdown": cell["source"]}
    for output in cell.get("outputs", ()):
        data = output.get("data") if isinstance(output, dict) else None
        for kind, told in data.items() if isinstance(data, dict) else ():
            if kind in HARMLESS and isinstance(told, str | list):
                return {kind: "".join(told)}
    return {"text/plain": f"{step.notebook}, cell {step.cell}: it runs when the lesson is given."}


def _of_section(one: Section) -> list[Mapping[str, Any]]:
    """What a section shows without a kernel, piece by piece."""
    pieces: list[Mapping[str, Any]] = [
        {"text/markdown": each.words} if each.words else each.shown for each in one.blocks
    ]
    if one.kind == "text":
        pieces.insert(0, {"text/markdown": f"{'#' * max(one.level, 2)} {one.heading}"})
    return pieces


def _outputs(pieces: list[Mapping[str, Any]]) -> Any:
    """A widget that shows pieces as a notebook shows outputs."""
    import ipywidgets as w

    return w.Output(
        outputs=tuple(
            {"output_type": "display_data", "data": dict(one), "metadata": {}} for one in pieces
        )
    )


def plain(words: str) -> str:
    """A heading without the marks of Markdown.

    words: of one line.

    >>> plain("## Why: *what* the $d$ is")
    'Why: what the d is'
    """
    return words.lstrip("# ").replace("*", "").replace("`", "").replace("$", "").strip()


def _written(value: Any) -> str:
    if isinstance(value, bool):
        return "on" if value else "off"
    return f"{value:g}" if isinstance(value, float) else str(value)
