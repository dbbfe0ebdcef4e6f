"""The command `mensura leaflet`: workbooks or a lesson as pages to print and to hand out."""

from __future__ import annotations

import fnmatch
import re
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from mensura.checks import ChoiceError, MeasureError, alike
from mensura.cli.refusals import Refusing

if TYPE_CHECKING:
    from mensura.teaching.lessons.plan import Plan
    from mensura.views.leaflets.page import Page


@click.command(name="leaflet", cls=Refusing)
@click.argument("workbook", nargs=-1, metavar="WORKBOOK...")
@click.option("--plan", metavar="PLAN.toml", help="One leaflet for a whole lesson.")
@click.option("--problems", is_flag=True, help="With the bank's problems of these workbooks.")
@click.option("--out", default=".", metavar="DIR", help="Folder to save in; made if missing.")
def leaflet_command(workbook: tuple[str, ...], plan: str | None, problems: bool, out: str) -> int:
    """Make a leaflet of each WORKBOOK (02, or workbooks/02*.ipynb), or of a lesson.

    A leaflet is one page that needs no network: it prints on A4 and Letter, its panels move where a
    screen shows it, and its answers stand on the last page. It is saved under a free name; nothing
    is overwritten.
    """
    from mensura.disk.pages import save_page, writable_folder

    if not workbook and plan is None:
        raise click.UsageError(
            "WORKBOOK is missing; expected a number like 02, a workbook's file, or --plan."
        )
    numbers = _numbers(workbook)
    lesson = None if plan is None else _lesson(plan)
    try:
        writable_folder(out)
        for number in numbers:
            _told(str(save_page(*_content(_workbook(number, problems)), out)))
        if plan is not None and lesson is not None:
            _told(str(save_page(*_content(_of_lesson(lesson, plan, problems)), out)))
    except MeasureError as error:
        raise click.UsageError(
            error.sentence("--out" if error.field == "folder" else error.field)
        ) from None
    return 0


def _workbook(number: str, problems: bool) -> Page:
    from mensura.views.leaflets.workbook import workbook_leaflet

    return workbook_leaflet(number, problems, _Progress(number).tell)


def _lesson(plan: str) -> Plan:
    """The plan, with all that it names seen to be there, before anything is made."""
    from mensura.views.lessons.check import checked_plan

    if not plan.strip():
        raise click.UsageError("--plan is empty; expected a plan's file, like lesson.toml.")
    try:
        return checked_plan(plan)
    except MeasureError as error:
        raise click.UsageError(str(error)) from None


def _of_lesson(lesson: Plan, plan: str, problems: bool) -> Page:
    from mensura.views.leaflets.lesson import lesson_leaflet

    stem = Path(plan).stem
    return lesson_leaflet(lesson, plan, f"{stem}-leaflet", problems, _Progress(stem).tell)


def _content(page: Page) -> tuple[str, bytes]:
    return page.name, page.whole().encode("utf-8")


def _told(path: str) -> None:
    click.echo(f"Saved: {path if path.isprintable() else ascii(path)}")


class _Progress:
    """Says on stderr which panel is being recorded, once when it begins.

    what: the workbook or the lesson.
    """

    def __init__(self, what: str) -> None:
        self.what, self.last = what, ""

    def tell(self, title: str, done: int, of: int) -> None:
        """Takes how far a recording is.

        title: of the panel; done, of: positions recorded, and all of them.
        """
        if title != self.last:
            self.last = title
            click.echo(f"{self.what}: recording {title}, {of} positions", err=True)


# ---- which workbooks are meant -------------------------------------------------------------------


def _numbers(words: Sequence[str]) -> list[str]:
    """The chapters of numbers, files' names and patterns, each once, in the order given."""
    found = [number for word in words for number in _numbers_of(word)]
    return list(dict.fromkeys(found))


def _numbers_of(word: str) -> list[str]:
    from mensura.teaching.lessons.chapters import CHAPTERS, numbers_there_are

    files = {one.file: one.number for one in CHAPTERS}
    # a shell of Windows hands a pattern on as it was typed
    name = re.split(r"[/\\]", word.rstrip("/\\"))[-1]
    if name.isascii() and name.isdecimal() and name.zfill(2) in files.values():
        return [name.zfill(2)]
    for wanted in (name, f"{name}.ipynb"):
        matched = [number for file, number in files.items() if fnmatch.fnmatchcase(file, wanted)]
        if matched:
            return matched
    known = [*files, *(file.removesuffix(".ipynb") for file in files), *files.values()]
    listed = f"a number from {numbers_there_are()}, or a workbook's file"
    error = ChoiceError("WORKBOOK", word, (), listed, alike(name, known)[:1])
    raise click.UsageError(error.sentence("WORKBOOK"))
