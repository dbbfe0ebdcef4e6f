"""The command `mensura tape-card`: from a check beside a reference to an instrument's card."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from mensura.cli.options import called
from mensura.cli.printing import print_json, told_file
from mensura.cli.refusals import Refusing
from mensura.cli.types import NumberType

if TYPE_CHECKING:
    from mensura.disk.check_file import Check
    from mensura.instruments import Card, LikelySlip

#: Fields of a card as the command calls them.
NAMES = {
    "instrument": "--instrument",
    "kind": "--kind",
    "accuracy_class": "--class",
    "resolution_cm": "--resolution-cm",
    "reference_u_cm": "--reference-u-cm",
    "reference_u_percent": "--reference-u-percent",
    "material": "--material",
    "expansion_per_c": "--expansion-per-c",
    "folder": "--out",
}


@click.command(name="tape-card", cls=Refusing)
@click.argument("file", metavar="FILE.csv")
@click.option("--instrument", metavar="CODE", help="Code of the instrument, like T3.")
@click.option("--kind", default="tape", metavar="WORD", help="tape or calipers.")
@click.option("--class", "accuracy_class", metavar="WORD", help="Accuracy class: I, II or III.")
@click.option(
    "--end-surface", is_flag=True, help="The tape starts at a hook or another end surface."
)
@click.option("--resolution-cm", type=NumberType("cm"), metavar="N",
              help="Step of the readings; found from their figures if not given.")  # fmt: skip
@click.option("--reference-u-cm", type=NumberType("cm"), default=0.0, metavar="N",
              help="Standard uncertainty of the reference, the same at all marks.")  # fmt: skip
@click.option("--reference-u-percent", type=NumberType("%"), default=0.0, metavar="N",
              help="The same in per cent of the length.")  # fmt: skip
@click.option("--material", metavar="WORD", help="Of the band: readings are brought to 20 °C.")
@click.option("--expansion-per-c", type=NumberType(""), metavar="N",
              help="Its expansion per °C, in place of a material.")  # fmt: skip
@click.option("--out", metavar="DIR", help="Folder for the card (CODE.json) and its page.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON, its keys carrying the units.")
def tape_card_command(file: str, as_json: bool, out: str | None, **values: Any) -> None:
    """Make a tape's card from FILE.csv: readings beside a reference, repeats welcome.

    Columns: reference_cm,reading_cm, and where they are known temperature_c, pull_n, mark and
    instrument, of which --instrument picks one. Nothing is changed that looks like a slip: it is
    told, with its row.

    Stretch and worn start (calipers: scale and zero error) are found by least squares, with their
    uncertainties, and with the correction at any reading. --out saves the card, which `mensura
    correct --card` reads, and a page to print.
    """
    from mensura.cli.card_report import card_lines
    from mensura.disk.card_file import card_answer, code_of, read_check
    from mensura.estimates.card_rows import card_notes, slip_rows
    from mensura.instruments import check_class, likely_slips

    accuracy_class = values["accuracy_class"]
    end_surface = values["end_surface"]
    with called(NAMES):
        if values["instrument"] is not None:
            values["instrument"] = code_of(values["instrument"])
        if accuracy_class is not None:
            accuracy_class = values["accuracy_class"] = accuracy_class.strip().upper()
        check = read_check(file, values["instrument"] or "")
        card = _card(check, values)
        marks = check_class(card, accuracy_class, end_surface)
        notes = card_notes(card, marks, accuracy_class, check.pull_n or ())
        slips = likely_slips(check.reference_cm, check.reading_cm, card.resolution_cm, card.kind)
        warnings = slip_rows(slips, card, check.reference_cm, check.rows)
        answer = card_answer(card, marks, accuracy_class, end_surface, notes, warnings)
        saved = [] if out is None else _saved(out, file, card, answer, marks)
    if as_json:
        print_json(answer, {"file": told_file(file), **values, "out": out})
    else:
        click.echo("\n".join(card_lines(card, marks, notes, warned(answer))))
        for line in saved:
            click.echo(line)


def warned(answer: dict[str, Any]) -> list[str]:
    """The warnings of an answer, in sentences.

    answer: of a card.
    """
    return [one["says"] for one in answer["warnings"]]


def _likely(one: LikelySlip) -> str:
    would = "" if one.would_be_cm is None else f" {one.would_be_cm:g} cm"
    return f"; likely{would}: {one.slip}" if one.slip else ""


def _code(check: Check, typed: str | None) -> str:
    """Whose card it is: as it was typed, else as the file's one instrument is called."""
    from mensura.checks import MeasureError
    from mensura.disk.card_file import code_of

    if typed:
        return typed
    try:
        return code_of(check.instrument) if check.instrument else ""
    except MeasureError:
        return ""


def _card(check: Check, values: dict[str, Any]) -> Card:
    """The card of a check, its refusals under the names of the file."""
    from mensura.checks import MeasureError
    from mensura.disk.card_file import FileError
    from mensura.instruments import card, likely_slips

    degrees = check.temperature_c
    if degrees and values["material"] is None and values["expansion_per_c"] is None:
        for row, one in zip(check.rows, degrees, strict=True):
            if one != degrees[0]:
                raise FileError(
                    check.file,
                    f"row {row}, column temperature_c",
                    f"is {one:g} °C, and {degrees[0]:g} °C in row {check.rows[0]}",
                    "one temperature, or --material or --expansion-per-c to bring all to one",
                )
    options = ("kind", "resolution_cm", "reference_u_cm", "reference_u_percent", "material")
    try:
        return card(
            check.reference_cm,
            check.reading_cm,
            instrument=_code(check, values["instrument"]),
            temperature_c=degrees,
            pull_n=check.pull_n,
            expansion_per_c=values["expansion_per_c"],
            **{name: values[name] for name in options},
        )
    except MeasureError as error:
        if error.field in NAMES:
            raise
        slips = likely_slips(check.reference_cm, check.reading_cm, kind=values["kind"])
        for slip in slips:
            if slip.place is not None:
                raise FileError(
                    check.file, f"row {check.rows[slip.place]}, column {slip.column}",
                    f"is {slip.value_cm:g} cm, so that the line of all rows falls",
                    f"readings that rise with the reference{_likely(slip)}",
                ) from None  # fmt: skip
        raise FileError(
            check.file, "column reading_cm", "falls where reference_cm rises",
            "readings that rise with the reference",
        ) from None  # fmt: skip


def _saved(out: str, file: str, card: Card, answer: dict[str, Any], marks: Any) -> list[str]:
    """Writes the card and its page; says where, and what was put aside."""
    from mensura.checks import MeasureError
    from mensura.disk.card_file import file_stem, save_beside, write_card
    from mensura.views.sheets.tape_card import card_page

    if not out.strip():
        raise MeasureError("folder", out, "", "a folder that can be written to")
    stem = file_stem(card.instrument, file)
    page = card_page(card, marks, answer["accuracy_class"], answer["notes"], warned(answer))
    said = []
    for path, aside in (
        write_card(out, stem, answer),
        save_beside(out, f"{stem}.html", page.encode("utf-8")),
    ):
        shown = str(path) if str(path).isprintable() else ascii(str(path))
        said.append(f"Saved: {shown}" + (f" (what was there is {aside} now)" if aside else ""))
    return ["", *said]
