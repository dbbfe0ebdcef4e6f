"""The command `mensura practical`: what a class's readings are worth, and whom to tell what."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from mensura.cli.options import called
from mensura.cli.printing import print_json, told_file
from mensura.cli.progress import Progress
from mensura.cli.refusals import Refusing
from mensura.cli.types import NumberType

if TYPE_CHECKING:
    from pathlib import Path

    from mensura.disk.readings_file import ReadingsFile
    from mensura.estimates.hand_verdict import Matters
    from mensura.estimates.practical import Practical
    from mensura.instruments import Card

#: What matters, as the command calls it: field of Matters, option, unit, start, words.
MATTERS = (
    ("share_percent", "%", 1.0, "A bias matters from here on, as a share of the reading."),
    ("girth_cm", "cm", 0.5, "The same as a constant, of girths."),
    ("diameter_cm", "cm", 0.2, "The same as a constant, of diameters."),
    ("spreads_times", "", 1.5, "A spread matters from so many times the others' on."),
    ("spread_percent", "%", 0.5, "And from so much of a reading on."),
    ("chance_percent", "%", 5.0, "Chance that anyone sound is named, over all together."),
)
NAMES = {
    **{field: "--" + field.replace("_", "-") for field, *_ in MATTERS},
    "folder": "--out",
}


def _with_matters(command: Any) -> Any:
    for field, unit, start, words in reversed(MATTERS):
        command = click.option(
            NAMES[field], field, type=NumberType(unit), default=start, show_default=True,
            metavar="N", help=words,
        )(command)  # fmt: skip
    return command


@click.command(name="practical", cls=Refusing)
@click.argument("file", metavar="READINGS.csv")
@click.option("--cards", metavar="DIR", help="Folder of the instruments' cards.")
@click.option("--out", metavar="DIR", help="Folder for the page, a note a hand, and tables.")
@click.option("--unmarked", is_flag=True, help="No line on the stems fixed height and directions.")
@click.option("--corrected", is_flag=True, help="Save a copy without the likely slips, and a log.")
@_with_matters
@click.option("--json", "as_json", is_flag=True, help="Print JSON, its keys carrying the units.")
def practical_command(
    file: str, cards: str | None, out: str | None, unmarked: bool, corrected: bool, as_json: bool,
    **values: float,
) -> None:  # fmt: skip
    """Judge a class's readings in READINGS.csv (or .xlsx): who and what was off, by how much.

    Columns: stem,hand,instrument,kind,direction_deg,repeat,reading,unit, and clerk if you like.
    kind is girth or diameter. Every problem of the file is told, and the rest is still judged.

    --out saves the page for the lecturer, one note for each hand, and tables for a spreadsheet.
    Nothing is changed in your file. --corrected saves a copy beside it in which the likely slips
    are what they would have been, and a log.
    """
    from mensura.disk.pages import writable_folder
    from mensura.disk.readings_copy import corrected_copy
    from mensura.disk.readings_file import read_readings
    from mensura.estimates.hand_verdict import Matters
    from mensura.estimates.practical import study_practical

    with called(NAMES):
        matters = Matters(**values, marked=not unmarked)
        if out is not None:
            writable_folder(out)
    progress = Progress()
    found = read_readings(file, progress.part("Reading", 0.0, 0.4))
    _check_usable(found)
    own, unfit = _cards(found, cards)
    study = study_practical(
        found.readings, found.figures, matters, own, progress.part("Judging", 0.4, 0.9)
    )
    above = [*_rests(found), *_not_yet(found)]
    told = [*_aside(found), *_unread(found), *unfit]
    saved: list[Path] = []
    if out is not None:
        with called(NAMES):
            saved += _saved(study, found, matters, out, above, progress.part("Writing", 0.9, 1.0))
    if corrected:
        if study.flags:
            copy = corrected_copy(file, found, study.flags)
            saved += [copy.path, copy.log_path]
        else:
            told.append("There is no likely slip: no corrected copy is saved.")
    if as_json:
        answer = study.to_dict()
        answer["notes"] = [*above, *told, *answer["notes"]]
        answer["problems"] = _problems(found)
        answer["rows"] = _rows(found)
        answer["saved"] = [str(one) for one in saved]
        inputs = {"file": told_file(file), "cards": cards, "out": out, **values}
        print_json(answer, {**inputs, "unmarked": unmarked, "corrected": corrected})
        return

    from mensura.cli.practical_report import practical_lines

    click.echo("\n".join(practical_lines(study, found, told, above)))
    if out is not None:
        hands = len(study.readings.hands)
        notes = "a note for the hand" if hands == 1 else f"a note for each of {hands} hands"
        click.echo(f"Saved: {_printed(saved[0])}, beside it {notes} and the tables")
    for one in saved[-2:] if corrected and study.flags else []:
        click.echo(f"Saved: {_printed(one)}")


def _printed(path: Path) -> str:
    text = str(path)
    return text if text.isprintable() else ascii(text)


def _check_usable(found: ReadingsFile) -> None:
    """Refuses a file none of whose rows can be used, with the first reason."""
    from mensura.disk.check_file import FileError
    from mensura.disk.readings_table import alike_problems

    if len(found.readings) == 0 and found.problems:
        first = found.problems[0]
        wrong = first.wrong or (f"is {first.value!r}" if first.value else "is empty")
        alike = len(alike_problems(found.problems)[0]) - 1
        wrong += f", and {alike:,} more like it" if alike else ""
        noun = "problem" if len(found.problems) == 1 else "problems"
        raise FileError(
            found.name, "",
            f"has no reading that can be used: {len(found.problems)} {noun}, the first in "
            f"{first.place}, {wrong}", first.expectation,
        )  # fmt: skip


def _rests(found: ReadingsFile) -> list[str]:
    """That most rows could not be used, where it is so."""
    used = len(found.readings)
    if 2 * used >= found.rows:
        return []
    return [
        f"Only {used:,} of {found.rows:,} rows could be used: the verdicts rest on those alone."
    ]


def _not_yet(found: ReadingsFile) -> list[str]:
    from mensura.estimates.hand_words import listed

    if not found.not_yet:
        return []
    rows = "1 row has" if found.not_yet == 1 else f"{found.not_yet:,} rows have"
    stems = found.not_yet_stems
    noun = "stem" if len(stems) == 1 else "stems"
    whose = f": nobody has read {noun} {listed(stems)}" if stems else ""
    return [f"{rows} no reading yet{whose}."]


def _rows(found: ReadingsFile) -> dict[str, int]:
    return {"read": found.rows, "left_out": found.left_out, "no_reading_yet": found.not_yet}


def _aside(found: ReadingsFile) -> list[str]:
    if not found.set_aside:
        return []
    rows = ", ".join(map(str, found.set_aside[:6])) + (" …" if len(found.set_aside) > 6 else "")
    return [f"Readings behind a # were passed over, in row {rows}."]


def _unread(found: ReadingsFile) -> list[str]:
    from mensura.estimates.hand_words import listed

    if not found.unread_stems:
        return []
    noun = "stem" if len(found.unread_stems) == 1 else "stems"
    return [f"Nobody measured {noun} {listed(found.unread_stems)}: no row can be used."]


def _cards(found: ReadingsFile, folder: str | None) -> tuple[dict[str, Card], list[str]]:
    """The cards in a folder of the instruments that were read, and what could not be."""
    import os

    from mensura.checks import MeasureError
    from mensura.disk.card_file import card_in, code_of

    if folder is None:
        return {}, []
    cards: dict[str, Card] = {}
    said: list[str] = []
    with called({"folder": "--cards"}):
        for code in found.readings.instruments:
            try:
                wanted = code_of(code)
            except MeasureError:
                said.append(f"No card can be named by {code!r}: its readings stay as read.")
                continue
            try:
                cards[code] = card_in(folder, wanted)
            except MeasureError as error:
                names = os.listdir(folder) if os.path.isdir(folder) else []
                own = f"{wanted}.json".casefold() in (one.casefold() for one in names)
                # that there is none is no fault; one that cannot be read is
                if error.field == "folder" or own:
                    raise
    return cards, said


def _problems(found: ReadingsFile) -> list[dict[str, Any]]:
    return [
        {
            "row": one.row,
            "column": one.column,
            "value": one.value,
            "expected": one.expectation,
            "left_out": one.left_out,
            "says": sentence,
        }
        for one, sentence in zip(found.problems, found.sentences(), strict=True)
    ]


def _saved(
    study: Practical, found: ReadingsFile, matters: Matters, out: str, above: list[str], tell: Any
) -> list[Path]:
    from mensura.disk.practical_files import note_names, save_all, tidy_tables
    from mensura.disk.readings_table import alike_problems, alike_words
    from mensura.views.sheets.practical_page import hand_note, practical_page

    problems = [alike_words(one) for one in alike_problems(found.problems)]
    files = {"practical.html": practical_page(study, found.name, matters, above, problems)}
    hands = study.readings.hands
    for done, (code, name) in enumerate(zip(hands, note_names(hands), strict=True), 1):
        files[f"{name}.html"] = hand_note(study, code)
        tell(done / len(hands))
    for name, text in tidy_tables(study, found.problems, _rows(found)).items():
        files[f"{name}.csv"] = text
    return save_all(files, out)
