"""The command `mensura logs`: from girths or diameters along logs to their volume by every rule."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from mensura.cli.printing import print_json, told_file
from mensura.cli.progress import Progress
from mensura.cli.refusals import Refusing

if TYPE_CHECKING:
    from mensura.estimates.input_errors import InputError


@click.command(name="logs", cls=Refusing)
@click.argument("file", metavar="FILE.csv")
@click.option("--errors", metavar="FILE.toml", help="How unsure each input is; else made-up sizes.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON, its keys carrying the units.")
def logs_command(file: str, errors: str | None, as_json: bool) -> None:
    """Volumes of the logs in FILE.csv by Huber, Smalian, Newton, quarter girth and by sections.

    Columns: log,at_m,girth_cm or log,at_m,diameter_cm, a row a point along each log, two points or
    more, and bark_cm where the bark's thickness on one side is known: volumes under bark are then
    told as well.

    Huber, Newton and quarter girth need a section in the middle, within 1 % of the length. u is one
    standard uncertainty of the volume by sections, from the errors of the readings. No figure of
    this command is one to sell timber on.
    """
    from mensura.disk.log_file import read_logs
    from mensura.estimates.input_errors import DEFAULTS
    from mensura.estimates.log_points import log_volumes
    from mensura.estimates.log_rows import logs_answer

    found = read_logs(file)
    used = DEFAULTS if errors is None else _errors(errors)
    tell = Progress().part("Working")
    volumes = []
    for done, one in enumerate(found.logs, 1):
        volumes.append(log_volumes(one, used))
        tell(done / len(found.logs))
    if as_json:
        inputs: dict[str, Any] = {"file": told_file(file)}
        inputs["errors"] = None if errors is None else told_file(errors)
        print_json(logs_answer(volumes, used, errors is None), inputs)
        return

    from mensura.cli.logs_report import logs_lines

    click.echo("\n".join(logs_lines(found, volumes, errors is None)))


def _errors(path: str) -> tuple[InputError, ...]:
    from mensura.disk.errors_file import read_errors

    if not path.strip():
        raise click.UsageError("--errors is empty; expected the name of a TOML file.")
    return read_errors(path)
