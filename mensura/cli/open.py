"""The command `mensura open`: lay the workbooks out in a folder, and start JupyterLab there."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from mensura.checks import shown
from mensura.cli.refusals import Refusing
from mensura.cli.types import WholeType

if TYPE_CHECKING:
    from mensura.disk.layout import LaidOut

#: Where the workbooks go if no folder is named.
DEFAULT_FOLDER = "mensura-workbooks"


def _folder(words: Sequence[str], values: dict[str, Any]) -> str:
    """A name with a blank in it is one word only in quotation marks."""
    return f'"{" ".join([values["folder"], *words])}" as one word'


no_browser_option = click.option(
    "--no-browser", is_flag=True, help="Start JupyterLab without opening a browser."
)
port_option = click.option(
    "--port",
    type=WholeType(0, 65535),
    metavar="N",
    help="Port to serve on, 0 to 65535; 0 takes any free one.",
)


@click.command(name="open", cls=Refusing, stray=_folder)
@click.argument("folder", metavar="[FOLDER]", default=DEFAULT_FOLDER)
@click.option(
    "--lecturer",
    is_flag=True,
    help='Lay out the lecturer\'s page too, and put "into the lesson" on every page.',
)
@click.option(
    "--plan",
    "plan_name",
    metavar="FILE",
    help="The plan it adds to, made if it is missing; lesson.toml in FOLDER unless named.",
)
@no_browser_option
@port_option
def open_command(
    folder: str, lecturer: bool, plan_name: str | None, no_browser: bool, port: int | None
) -> int:
    """Lay the workbooks out in FOLDER and open them in JupyterLab.

    FOLDER is made if it is missing; the usual one is mensura-workbooks, in the current folder.
    What you have changed there is never overwritten: a fresh copy goes beside it.

    With --lecturer every heading, picture, panel, question and problem can be put into the plan of
    a lesson with one key, and a page of its own shows the plan.
    """
    from mensura.disk.lab import (
        first_workbook,
        homes_for_this_sitting,
        lab_command,
        lab_environment,
        start,
    )
    from mensura.disk.layout import LayoutError, lay_out
    from mensura.disk.plan_place import LESSON_PAGE
    from mensura.places import shipped

    if not folder.strip():
        raise click.UsageError("FOLDER is empty; expected the name of a folder.")
    if plan_name is not None and not lecturer:
        raise click.UsageError("--plan is for lecturers; expected --lecturer with it.")
    if port:
        check_free(port)
    try:
        source = shipped("workbooks")
    except FileNotFoundError as error:
        raise click.UsageError(str(error)) from None
    plan = _plan(plan_name, Path(folder), source) if lecturer else None
    told = _told_of_plan(plan) if plan else []
    try:
        laid = lay_out(source, Path(folder), lecturer=lecturer)
    except LayoutError as error:
        raise click.UsageError(f"FOLDER: {error}") from None
    homes = homes_for_this_sitting(os.environ)
    click.echo("\n".join([*_told(laid, bool(homes), told), *by_hand(no_browser)]))
    there = [name for name in laid.names if (laid.folder / name).is_file()]
    first = LESSON_PAGE if lecturer and LESSON_PAGE in there else first_workbook(there)
    command = lab_command(
        laid.folder,
        first,
        browser=not no_browser,
        port=port,
        root=is_administrator(),
        lecturer=lecturer,
    )
    return start(command, {**lab_environment(os.environ, plan), **homes})


def _plan(named: str | None, folder: Path, source: Path) -> Path:
    """The plan's absolute path; refused where it could not be kept."""
    from mensura.disk.layout import is_source
    from mensura.disk.plan_place import PLAN_NAME

    if named is not None and not named.strip():
        raise click.UsageError("--plan is empty; expected the name of a file, like lesson.toml.")
    plan = Path(os.path.abspath(named)) if named else folder.resolve() / PLAN_NAME
    if is_source(plan.parent, source):
        where = "holds the workbooks' own source, where no plan is kept"
        raise click.UsageError(
            f"--plan: {shown(str(plan.parent))} {where}; expected --plan with a file elsewhere."
        )
    if named and not plan.parent.is_dir():
        raise click.UsageError(
            f"--plan: there is no folder {shown(str(plan.parent))}; expected a file in one that "
            "there is."
        )
    return plan


def _told_of_plan(plan: Path) -> list[str]:
    """What is said of the plan; one that cannot be read is refused, before anything is done."""
    from mensura.disk.plan_desk import begun
    from mensura.disk.plan_read import PlanError

    name = str(plan) if str(plan).isprintable() else ascii(str(plan))
    try:
        lesson = begun(plan)
    except PlanError as error:
        raise click.UsageError(str(error)) from None
    if not lesson.there:
        return [f"Lesson: {name}, made with the first step that you put into it."]
    count = len(lesson.steps)
    takes = sum(one.minutes for one in lesson.steps)
    steps = f"{count or 'no'} {'step' if count == 1 else 'steps'}"
    return [f"Lesson: {name}, {steps}, {takes:g} of {lesson.minutes:g} minutes."]


def is_administrator() -> bool:
    """Whether the administrator's account runs this, which JupyterLab wants to be told."""
    return hasattr(os, "geteuid") and os.geteuid() == 0


def check_free(port: int) -> None:
    """Refuses a port that cannot be served on, and names one that can, before anything is done."""
    from mensura.disk.ports import barred, next_free

    why = barred(port)
    if not why:
        return
    free = next_free(port)
    like = f", like {free}" if free else ""
    stands = f"is {why}" if why == "in use" else f"cannot be served on: {why}"
    raise click.UsageError(f"--port {port} {stands}; expected a free one{like}.")


def by_hand(no_browser: bool) -> list[str]:
    """What is said where no browser will open.

    no_browser: whether it was asked so; else there may be none on this machine.
    """
    from mensura.disk.lab import finds_browser

    where = "open the address with token= that JupyterLab prints below"
    if no_browser:
        return [f"No browser is opened: {where}."]
    if not finds_browser():
        return [f"No browser was found on this machine: in one elsewhere, {where}."]
    return []


def _told(laid: LaidOut, homeless: bool, lesson: Sequence[str] = ()) -> list[str]:
    """What `mensura open` says before JupyterLab starts."""
    folder = str(laid.folder)
    lines = [f"Workbooks: {folder if folder.isprintable() else ascii(folder)}"]
    if laid.in_place:
        lines.append("They are opened where they lie; nothing was laid out.")
    else:
        for names, done in ((laid.new, "Laid out"), (laid.renewed, "Renewed, unchanged by you")):
            if names:
                lines.append(f"{done}: {', '.join(names)}.")
        if not laid.names:
            lines.append("This installation holds no workbooks; nothing was laid out.")
        elif not (laid.new or laid.renewed or laid.notes):
            lines.append("All are there already; nothing was laid out.")
        lines.extend(laid.notes)
    lines.extend(lesson)
    if homeless:
        lines.append(
            "Your home folder cannot be written: JupyterLab's settings are kept for this sitting "
            "only."
        )
    lines += [
        "JupyterLab starts now. In the browser a page starts by itself: nothing to run.",
        "To stop it, press Ctrl-C here and answer y.",
    ]
    return lines
