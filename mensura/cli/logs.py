"""The command `mensura logs`: from girths or diameters along logs to their volume by every rule."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from mensura.cli.errors_option import Told, errors_told, with_errors
from mensura.cli.printing import print_json, told_file
from mensura.cli.progress import Progress
from mensura.cli.refusals import Refusing

if TYPE_CHECKING:
    from mensura.disk.log_file import LogFile


@click.command(name="logs", cls=Refusing)
@click.argument("file", metavar="FILE.csv")
@with_errors
@click.option("--json", "as_json", is_flag=True, help="Print JSON, its keys carrying the units.")
def logs_command(file: str, as_json: bool, **errors: Any) -> None:
    """Volumes of the logs in FILE.csv by Huber, Smalian, Newton, quarter girth and by sections.

    Columns: log,at_m,girth_cm or log,at_m,diameter_cm, a row a point along each log, two points or
    more, and bark_cm where the bark's thickness on one side is known: volumes under bark are then
    told as well.

    Huber, Newton and quarter girth need a section in the middle, within 1 % of the length. u is one
    standard uncertainty of the volume by sections, from the errors of the readings. No figure of
    this command is one to sell timber on.

    In a file of errors, for = "tree" is new at each point of a log for instrument and hand, and one
    for a whole log for shape, bark and length. "plot" and "all" are one for all logs.
    """
    from mensura.disk.log_file import read_logs
    from mensura.estimates.log_points import log_volumes
    from mensura.estimates.log_rows import logs_answer

    found = read_logs(file)
    told = _told(found, errors)
    notes = found.odd_notes()
    tell = Progress().part("Working")
    volumes = []
    for done, one in enumerate(found.logs, 1):
        volumes.append(log_volumes(one, told.errors))
        tell(done / len(found.logs))
    saved = None if told.saved is None else str(told.saved)
    if as_json:
        answer = logs_answer(volumes, told.errors, told.supposed, notes)
        print_json({**answer, "saved": saved}, {"file": told_file(file), **told.inputs})
        return

    from mensura.cli.logs_report import logs_lines

    lines = logs_lines(found, volumes, told.supposed, notes)
    if saved is not None:
        lines += ["", f"Saved: {saved if saved.isprintable() else ascii(saved)}"]
    click.echo("\n".join(lines))


def _told(found: LogFile, errors: dict[str, Any]) -> Told:
    """The errors of the inputs, for sections as thick as those that count most."""
    import numpy as np

    across = np.concatenate([one.diameter_cm for one in found.logs])
    kind = "girth" if found.column == "girth_cm" else "diameter"
    middle = float(np.sqrt(np.square(across).mean()))
    return errors_told(**errors, kind=kind, diameter_cm=middle)
