"""The command `mensura cut-end`: what tape and calipers would have made of one real section."""

from __future__ import annotations

from typing import Any

import click

from mensura.checks import MeasureError, shown
from mensura.cli.cut_end_photo import NAMES as PHOTO_NAMES
from mensura.cli.cut_end_photo import PHOTO, PIECES, check_photo, found_in, numbers_of
from mensura.cli.options import Option, called, with_options
from mensura.cli.printing import print_json, told_file
from mensura.cli.refusals import Refusing
from mensura.cli.stem import outline_of
from mensura.cli.types import NumberType

#: What is known of the section, and how closely the directions are tried.
SETTINGS = (
    Option(
        "--outline",
        click.STRING,
        None,
        "The section's edge: columns x_cm,y_cm or angle_deg,radius_cm.",
        "FILE.csv",
    ),
    Option(
        "--under-bark",
        click.STRING,
        None,
        "The edge of the wood under its bark, in the same layouts and the same place.",
        "FILE.csv",
    ),
    Option("--pith-cm", click.STRING, None, "Where the pith lies in the outline.", "X,Y"),
    Option("--step-deg", NumberType("deg"), 1.0, "Between the directions of the calipers."),
)

#: Fields of the measuring layers, in the words of this command.
NAMES = PHOTO_NAMES | {
    "step_deg": "--step-deg",
    "pith_cm": "--pith-cm",
    "under_bark": "--under-bark, what of it lies outside the bark,",
}


def _pieces(command: Any) -> Any:
    for option, words in reversed(PIECES):
        give = click.option(option, multiple=True, metavar="X1,Y1,X2,Y2,…", help=words)
        command = give(command)
    return command


@click.command(name="cut-end", cls=Refusing)
@click.argument("photo", required=False, metavar="[PHOTO]")
@with_options((*SETTINGS, *PHOTO))
@_pieces
@click.option("--out", metavar="DIR", help="Folder for a page and the outline as a CSV file.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON, its keys carrying the units.")
def cut_end_command(as_json: bool, **values: Any) -> None:
    """What tape and calipers make of one cut, whose outline is found in PHOTO or read from a file.

    The outline is taken for the truth. Calipers are begun in every direction, by every practice; a
    tape has no direction. Instruments are sound and the hand is steady. A photograph needs a scale
    that lies on the cut, --scale-cm and --scale-px, or four marks there, which also undo a camera
    that did not look square at it.
    """
    _check_source(values)
    check_photo(values)
    pith_cm = values["pith_cm"]
    pith: Any = None if pith_cm is None else numbers_of("--pith-cm", pith_cm, 2, "cm")
    wood = (
        None if values["under_bark"] is None else outline_of(values["under_bark"], "--under-bark")
    )
    photographed = found = None
    if values["photo"] is None:
        outline = outline_of(values["outline"])
    else:
        photographed = found_in(values)
        found = photographed.found
        outline, pith = found.outline, found.pith_cm if pith is None else pith

    from mensura.cli.cut_end_report import cut_end_lines, found_lines
    from mensura.estimates.cut_end import cut_end
    from mensura.estimates.published_ovals import standings

    names = NAMES if values["pith_px"] is None else {**NAMES, "pith_cm": "--pith-px, in the cut,"}
    with called(names):
        result = cut_end(outline, values["step_deg"], pith, wood)
    among = standings(result.tape_over_percent)
    lines = [] if found is None else found_lines(found.threshold, found.darker, found.notes)
    lines += cut_end_lines(result, among)
    out = values["out"]
    saved = [] if out is None else _saved(out, values, result, lines, photographed)
    if as_json:
        published = [
            {
                "source": one.published.source,
                "figure": one.published.figure,
                "value_percent": one.value_percent,
                "place": one.place,
            }
            for one in among
        ]
        answer: dict[str, Any] = {**result.to_dict(), "published": published}
        if found is not None:
            answer["threshold"] = found.threshold
            answer["section"] = "darker" if found.darker else "lighter"
            answer["notes"] = list(found.notes)
        print_json(answer, _inputs(values))
    else:
        click.echo("\n".join([*lines, *saved]))


def _saved(
    out: str, values: dict[str, Any], cut: Any, lines: list[str], photographed: Any
) -> list[str]:
    """Writes the page and the outline; says where, and what was put aside."""
    from mensura.disk.card_file import save_beside
    from mensura.disk.outline_file import outline_table, stem_of_file
    from mensura.views.sheets.cut_end import cut_end_page

    if not out.strip():
        raise MeasureError("--out", out, "", "a folder that can be written to")
    source = values["photo"] or values["outline"]
    stem, over, notes = stem_of_file(source), None, ()
    if photographed is not None:
        from mensura.views.stills.found_outline import found_on_photograph

        one, notes = photographed, photographed.found.notes
        over = found_on_photograph(one.dots, one.found, one.scale_px, one.corrections)
    page = cut_end_page(f"Cut end {stem}", cut, lines, over, notes)
    said = []
    with called({"folder": "--out"}):
        for name, text in (
            (f"{stem}-cut-end.html", page),
            (f"{stem}-outline.csv", outline_table(cut.outline)),
        ):
            path, aside = save_beside(out, name, text.encode("utf-8"))
            shown_path = str(path) if str(path).isprintable() else ascii(str(path))
            said.append(f"Saved: {shown_path}" + (f" (before: {aside})" if aside else ""))
    return ["", *said]


def _check_source(values: dict[str, Any]) -> None:
    """Refuses a section that is not named, or named twice; a CSV file that stands alone is asked
    back."""
    photo, outline = values["photo"], values["outline"]
    if photo is not None and photo.casefold().endswith(".csv") and outline is None:
        raise click.UsageError(f"PHOTO is {shown(photo)}; did you mean --outline {photo}?")
    if (photo is None) == (outline is None):
        got = "neither" if photo is None else "both"
        raise click.UsageError(f"PHOTO and --outline: {got} given; expected exactly one of them.")


def _inputs(values: dict[str, Any]) -> dict[str, Any]:
    """Every option as it was given, files by name and content."""
    files = {
        name: None if values[name] is None else told_file(values[name])
        for name in ("photo", "outline", "under_bark")
    }
    rest = {name: value for name, value in values.items() if name not in files}
    return {**files, **{name: list(one) if isinstance(one, tuple) else one
                        for name, one in rest.items()}}  # fmt: skip
