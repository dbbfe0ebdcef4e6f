"""The command `mensura open`: lay the workbooks out in a folder, and start JupyterLab there."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from mensura.cli.refusals import Refusing
from mensura.cli.types import WholeType

if TYPE_CHECKING:
    from mensura.disk.layout import LaidOut

#: Where the workbooks go if no folder is named.
DEFAULT_FOLDER = "mensura-workbooks"


def _folder(words: Sequence[str], values: dict[str, Any]) -> str:
    """A name with a blank in it is one word only in quotation marks."""
    return f'"{" ".join([values["folder"], *words])}" as one word'


@click.command(name="open", cls=Refusing, stray=_folder)
@click.argument("folder", metavar="[FOLDER]", default=DEFAULT_FOLDER)
@click.option("--no-browser", is_flag=True, help="Start JupyterLab without opening a browser.")
@click.option(
    "--port",
    type=WholeType(0, 65535),
    metavar="N",
    help="Port to serve on, 0 to 65535; 0 takes any free one.",
)
def open_command(folder: str, no_browser: bool, port: int | None) -> int:
    """Lay the workbooks out in FOLDER and open them in JupyterLab.

    FOLDER is made if it is missing; the usual one is mensura-workbooks, in the current folder.
    What you have changed there is never overwritten: a fresh copy goes beside it.
    """
    from mensura.disk.lab import (
        first_workbook,
        homes_for_this_sitting,
        lab_command,
        lab_environment,
        start,
    )
    from mensura.disk.layout import LayoutError, lay_out
    from mensura.places import shipped

    if not folder.strip():
        raise click.UsageError("FOLDER is empty; expected the name of a folder.")
    if port:
        check_free(port)
    try:
        source = shipped("workbooks")
    except FileNotFoundError as error:
        raise click.UsageError(str(error)) from None
    try:
        laid = lay_out(source, Path(folder))
    except LayoutError as error:
        raise click.UsageError(f"FOLDER: {error}") from None
    homes = homes_for_this_sitting(os.environ)
    click.echo("\n".join([*_told(laid, bool(homes)), *by_hand(no_browser)]))
    first = first_workbook(name for name in laid.names if (laid.folder / name).is_file())
    administrator = hasattr(os, "geteuid") and os.geteuid() == 0
    command = lab_command(laid.folder, first, browser=not no_browser, port=port, root=administrator)
    return start(command, {**lab_environment(os.environ), **homes})


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
    """What is said where no browser will open: asked so, or there is none on this machine."""
    from mensura.disk.lab import finds_browser

    where = "open the address with token= that JupyterLab prints below"
    if no_browser:
        return [f"No browser is opened: {where}."]
    if not finds_browser():
        return [f"No browser was found on this machine: in one elsewhere, {where}."]
    return []


def _told(laid: LaidOut, homeless: bool) -> list[str]:
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
