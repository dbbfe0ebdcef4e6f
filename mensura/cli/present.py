"""The command `mensura present`: a plan becomes a lesson, shown over one whole window."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from mensura.cli.open import (
    by_hand,
    check_free,
    is_administrator,
    no_browser_option,
    port_option,
)
from mensura.cli.refusals import Refusing

if TYPE_CHECKING:
    from mensura.teaching.lessons.plan import Plan


def _plan_word(words: Sequence[str], values: dict[str, Any]) -> str:
    """A name with a blank in it is one word only in quotation marks."""
    return f'"{" ".join([values["plan"] or "", *words])}" as one word'


@click.command(name="present", cls=Refusing, stray=_plan_word)
@click.argument("plan", metavar="PLAN.toml")
@no_browser_option
@port_option
def present_command(plan: str, no_browser: bool, port: int | None) -> int:
    """Give the lesson that PLAN.toml plans, one screen after the other.

    The lesson, and what is done in it, lies in a folder beside the plan, called as the plan with
    -lesson behind it: given again, it goes on where it stood.
    """
    from mensura.disk.lab import (
        homes_for_this_sitting,
        lab_command,
        lab_environment,
        start,
    )
    from mensura.disk.lab_server import ASKED
    from mensura.disk.lesson_book import LESSON, LessonError, lay_lesson, lesson_folder
    from mensura.disk.plan_file import PlanError

    path = Path(plan)
    wanted = _checked(path)
    if port:
        check_free(port)
    before = lesson_folder(path).is_dir()
    try:
        laid = lay_lesson(wanted, path)
    except (LessonError, PlanError) as error:
        raise click.UsageError(str(error)) from None
    homes = homes_for_this_sitting(os.environ)
    click.echo("\n".join([*_told(wanted, laid.folder, before), *by_hand(no_browser)]))
    command = lab_command(
        laid.folder, LESSON, browser=not no_browser, port=port, root=is_administrator()
    )
    return start(command, {**lab_environment(os.environ), **homes, ASKED: laid.digest})


def _checked(path: Path) -> Plan:
    """The plan, if all that it names is there; nothing is opened before that is known."""
    from mensura.disk.plan_file import PlanError
    from mensura.views.lessons.check import checked_plan

    try:
        return checked_plan(path)
    except PlanError as error:
        raise click.UsageError(str(error)) from None


def _told(plan: Plan, folder: Path, before: bool) -> list[str]:
    """What is said before JupyterLab starts; before: whether it was given from there already."""
    place = str(folder)
    title = plan.title if plan.title.isprintable() else ascii(plan.title)
    count = len(plan.steps)
    minutes = f"{plan.takes_min:g} of {plan.minutes:g} minutes"
    return [
        f"Lesson: {title}, {count} {'step' if count == 1 else 'steps'}, {minutes}.",
        f"What is done in it is kept in {place if place.isprintable() else ascii(place)}.",
        "Page Down goes on, Page Up back; ? tells the other keys.",
        *(["It goes on where it stood; for another class: G, then Begin anew."] if before else []),
        "To stop it, press Ctrl-C here and answer y.",
    ]
