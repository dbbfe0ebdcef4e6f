"""The command `mensura logs`: from girths or diameters along logs to their volume by every rule."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from mensura.cli.errors_option import Told, errors_told, with_errors
from mensura.cli.printing import print_json, told_file
from mensura.cli.progress import Progress
from mensura.cli.refusals import Refusing

if TYPE_CHECKING:
    from collections.abc import Sequence

    from mensura.disk.log_file import LogFile
    from mensura.estimates.card_correction import CardCorrection
    from mensura.estimates.class_correction import ClassCorrection
    from mensura.estimates.log_points import LogPoints


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

    --card: the readings are corrected by the instrument's card first, and what was known to be off
    is said. By several cards nothing is corrected.

    In a file of errors, for = "tree" is new at each point of a log for instrument and hand, and one
    for a whole log for shape, bark and length. "plot" and "all" are one for all logs.
    """
    from dataclasses import replace

    from mensura.disk.log_file import read_logs
    from mensura.estimates.log_points import log_volumes
    from mensura.estimates.log_rows import as_read_rows, logs_answer

    found = read_logs(file)
    told = _told(found, errors)
    slips = found.odd_notes()
    logs, as_read = found.logs, None
    if told.corrections:
        logs, said = _corrected(found, told.corrections)
        told = replace(told, said=(*told.said, *said))
    tell = Progress().part("Working")
    volumes = []
    for done, one in enumerate(logs, 1):
        volumes.append(log_volumes(one, told.errors))
        tell(done / len(logs))
    if told.corrections:
        # of what was only read no error is told: it is known to be off
        as_read = [log_volumes(one, ()) for one in found.logs]
    saved = None if told.saved is None else str(told.saved)
    if as_json:
        notes = [*slips, *told.said]
        answer = logs_answer(volumes, told.errors, told.supposed, notes)
        answer["look_first"] = slips
        answer["corrections"] = [one.to_dict() for one in told.corrections]
        answer["as_read"] = None if as_read is None else as_read_rows(as_read)
        print_json({**answer, "saved": saved}, {"file": told_file(file), **told.inputs})
        return

    from mensura.cli.logs_report import logs_lines

    lines = logs_lines(found, volumes, told, slips, as_read)
    if saved is not None:
        lines += ["", f"Saved: {saved if saved.isprintable() else ascii(saved)}"]
    click.echo("\n".join(lines))


def _corrected(
    found: LogFile, corrections: Sequence[CardCorrection | ClassCorrection]
) -> tuple[tuple[LogPoints, ...], list[str]]:
    """The logs without what is known to be too much in their readings, and what to say of it."""
    from dataclasses import replace

    import numpy as np

    from mensura.cli.brought_back import brought_back_cm
    from mensura.disk.check_file import FileError

    kind = "girth" if found.column == "girth_cm" else "diameter"
    read = np.concatenate([one.reading_cm for one in found.logs])
    rows = [row for some in found.point_rows for row in some]
    # told in the order of the file, though logs may take turns
    order = np.argsort(rows)
    left = np.empty_like(read)
    left[order], said = brought_back_cm(
        read[order], [rows[at] for at in order], found.name, kind, corrections
    )
    logs, at = [], 0
    for one, lines in zip(found.logs, found.point_rows, strict=True):
        here = left[at : at + len(lines)]
        at += len(lines)
        across = here / (np.pi if one.girth else 1.0)
        for row, bark, thick in zip(lines, one.bark_cm or (), across.tolist(), strict=False):
            if 2 * bark >= thick and bark > 0:
                wrong = f"is {bark:g} cm, and the diameter {thick:.4g} cm once it is corrected"
                raise FileError(found.name, f"row {row}, column bark_cm", wrong, "less than half")
        logs.append(replace(one, reading_cm=tuple(here.tolist())))
    return tuple(logs), said


def _told(found: LogFile, errors: dict[str, Any]) -> Told:
    """The errors of the inputs, for sections as thick as those that count most."""
    import numpy as np

    across = np.concatenate([one.diameter_cm for one in found.logs])
    kind = "girth" if found.column == "girth_cm" else "diameter"
    middle = float(np.sqrt(np.square(across).mean()))
    return errors_told(**errors, kind=kind, diameter_cm=middle)
