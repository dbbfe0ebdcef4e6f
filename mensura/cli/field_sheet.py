"""The command `mensura field-sheet`: a practical planned, its sheets, a file to type into."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import click

from mensura.cli.options import called
from mensura.cli.printing import aligned
from mensura.cli.progress import Progress
from mensura.cli.refusals import Refusing
from mensura.cli.types import NumberType, WholeType

if TYPE_CHECKING:
    from mensura.estimates.detectable import Detectable
    from mensura.estimates.drawn_practical import PracticalClass
    from mensura.estimates.field_design import FieldDesign

NAMES = {
    "stem_count": "--stems",
    "hands": "ROSTER.csv",
    "instruments": "--instruments",
    "repeats": "--repeats",
    "minutes": "--minutes",
    "seconds_a_reading": "--seconds-a-reading",
    "breast_height_m": "--breast-height-m",
    "folder": "--out",
    "key": "--key",
    "least_cm": "--least-cm",
    "most_cm": "--most-cm",
    "lay_percent": "--lay-percent",
    "sound_hands_percent": "--hands-percent",
}


@click.command(name="field-sheet", cls=Refusing)
@click.argument("roster", metavar="ROSTER.csv")
@click.option("--stems", required=True, type=WholeType(1, 500), metavar="N", help="How many.")
@click.option("--instruments", required=True, metavar="CODES",
              help="Like T1,T2,K1: T is a tape, K calipers; others say it, B7=girth.")  # fmt: skip
@click.option("--repeats", type=WholeType(1, 10), default=2, metavar="N", show_default=True,
              help="Rounds: how often each reading is taken.")  # fmt: skip
@click.option("--key", required=True, metavar="KEY", help="The class's key; it names the shuffle.")
@click.option("--marked/--unmarked", default=True,
              help="Whether a line on each stem fixes height and directions.")  # fmt: skip
@click.option("--breast-height-m", type=NumberType("m"), default=1.3, metavar="N",
              show_default=True, help="Above the ground.")  # fmt: skip
@click.option("--seconds-a-reading", type=NumberType("s"), default=40.0, metavar="N",
              show_default=True, help="With walking and writing; an assumption.")  # fmt: skip
@click.option(
    "--minutes", type=NumberType("min"), metavar="N", help="There are: how many stems fit?"
)
@click.option("--least-cm", type=NumberType("cm"), default=20.0, metavar="N", show_default=True,
              help="Diameter of the thinnest stem, for the simulation.")  # fmt: skip
@click.option("--most-cm", type=NumberType("cm"), default=64.0, metavar="N", show_default=True,
              help="Diameter of the thickest.")  # fmt: skip
@click.option("--hands-percent", type=NumberType("%"), default=0.2, metavar="N", show_default=True,
              help="By which sound hands differ, standard deviation.")  # fmt: skip
@click.option("--lay-percent", type=NumberType("%"), default=0.3, metavar="N", show_default=True,
              help="By which a hand lays a tape otherwise on each stem.")  # fmt: skip
@click.option("--simulation/--no-simulation", default=True,
              help="Say what bias will be found in nine of ten; under a minute.")  # fmt: skip
@click.option("--excel", is_flag=True, help="An Excel file to type into, beside the CSV file.")
@click.option("--out", metavar="DIR", help="Folder for sheets and files; nothing is overwritten.")
def field_sheet_command(roster: str, out: str | None, **values: Any) -> None:
    """Plan a practical for the hands in ROSTER.csv, a column hand with one code a row.

    Each hand takes one tape and one pair of calipers to each stem, dealt out evenly and shuffled;
    repeats come back on another round. --out saves the sheets to print, one a hand, and an empty
    file to type the readings into.
    """
    from mensura.checks import MeasureError
    from mensura.disk.pages import writable_folder
    from mensura.disk.roster_file import read_roster
    from mensura.estimates.field_design import field_design

    with called(NAMES):
        of = _checked(values)
        hands = read_roster(roster)
        tools = tuple(one.strip() for one in values["instruments"].split(",") if one.strip())
        design = field_design(
            hands, values["stems"], tools, values["repeats"], values["key"], values["marked"]
        )
        if out is not None:
            if not out.strip():
                raise MeasureError("folder", out, "", "a folder that can be written to")
            writable_folder(out)
        click.echo("\n".join(_plan_lines(design, values, hands, tools)))
        if out is not None:
            click.echo("\n".join(_saved(out, design, values)))
        if values["simulation"]:
            click.echo("\n".join(_will_find(design, of)))


def _checked(values: dict[str, Any]) -> PracticalClass:
    """The class's expected spreads; numbers that no walk can have are refused first."""
    from mensura.checks import MeasureError, number
    from mensura.disk.card_file import code_of
    from mensura.estimates.drawn_practical import PracticalClass

    number(values["breast_height_m"], "breast_height_m", "m", at_least=0.1, at_most=5.0)
    number(values["seconds_a_reading"], "seconds_a_reading", "s", at_least=1.0, at_most=3600.0)
    if values["minutes"] is not None:
        number(values["minutes"], "minutes", "min", at_least=1.0, at_most=6000.0)
    number(values["least_cm"], "least_cm", "cm", at_least=1.0, at_most=500.0)
    number(values["most_cm"], "most_cm", "cm", above=values["least_cm"], at_most=500.0)
    number(values["lay_percent"], "lay_percent", "%", at_least=0.0, at_most=20.0)
    number(values["hands_percent"], "sound_hands_percent", "%", at_least=0.0, at_most=20.0)
    if not values["key"].strip():
        raise MeasureError("key", values["key"], "", "a word that names the shuffle, like alder")
    for one in values["instruments"].split(","):
        if one.strip():
            try:
                code_of(one.partition("=")[0])
            except MeasureError as error:
                raise MeasureError("instruments", one, "", error.expectation) from None
    return replace(
        PracticalClass(),
        least_cm=values["least_cm"],
        most_cm=values["most_cm"],
        lay_percent=values["lay_percent"],
        sound_hands_percent=values["hands_percent"],
    )


def _plan_lines(
    design: FieldDesign, values: dict[str, Any], hands: tuple[str, ...], tools: tuple[str, ...]
) -> list[str]:
    from mensura.estimates.field_design import class_minutes, design_notes, stems_that_fit

    seconds, minutes = values["seconds_a_reading"], values["minutes"]
    each = max(map(len, design.turns.values()))
    whole = class_minutes(design, seconds)
    own = each * seconds / 60
    marked = "height and directions marked" if design.marked else "each hand finds the height"
    lines = [
        f"{_count(len(hands), 'hand')}, {_count(len(design.stems), 'stem')} ({marked}), "
        f"{', '.join(design.instruments)}, {_count(design.repeats, 'round')}: "
        f"{_count(design.turn_count, 'reading')}.",
        f"Each hand reads {each} times: {own:.0f} min at {seconds:g} s a reading, an assumption.",
    ]
    if whole > own * 1.02:
        lines.append(
            f"An instrument is in one hand at a time: with waiting, the class is out for "
            f"{whole:.0f} min. More instruments, fewer hands or half of them as clerks save it."
        )
    if minutes is not None:
        fit = stems_that_fit(hands, tools, design.repeats, values["key"], minutes, seconds)
        fits = "no stem fits" if not fit else f"{_count(fit, 'stem')} fit{'s' * (fit == 1)}"
        lines.append(f"In {minutes:g} min {fits}; {len(design.stems)} are planned.")
    return [*lines, *design_notes(design)]


def _saved(out: str, design: FieldDesign, values: dict[str, Any]) -> list[str]:
    from mensura.disk.blank_readings import blank_csv, blank_excel, save_free
    from mensura.views.sheets.field_sheet import field_sheets

    page = field_sheets(design, values["breast_height_m"], values["seconds_a_reading"])
    files = [("field-sheets.html", page.encode("utf-8")), ("readings.csv", blank_csv(design))]
    if values["excel"]:
        files.append(("readings.xlsx", blank_excel(design)))
    said = [""]
    for name, content in files:
        path = str(save_free(name, content, out))
        said.append(f"Saved: {path if path.isprintable() else ascii(path)}")
    return said


def _will_find(design: FieldDesign, of: PracticalClass) -> list[str]:
    """What is found in nine of ten, as a table."""
    from mensura.estimates.detectable import detectable, expected_class

    answers = detectable(design, of, progress=Progress().part("simulating"))
    expected = expected_class(design, of)
    by_row: dict[tuple[str, str], dict[str, Detectable]] = {}
    for one in answers:
        by_row.setdefault((one.who, one.kind), {})[one.form] = one
    rows = [["off by a bias", "as a share", "or a constant"]]
    for (who, kind), forms in by_row.items():
        tape = kind == "girth"
        with_what = "tapes" if tape else "calipers"
        name = f"a hand with {with_what}" if who == "hand" else ("a tape" if tape else with_what)
        rows.append([name, *(_told(forms[form]) for form in ("share", "constant"))])
    draws = max(one.draws for one in answers)
    return [
        "",
        "Found in nine of ten such practicals, if one of them is off by so much:",
        *aligned(rows, right=(1, 2)),
        f"By {draws} simulated practicals each, of this very plan and by the study's own verdict, "
        f"for stems of {of.least_cm:g} to {of.most_cm:g} cm. Assumed (common practice, no source): "
        f"sound hands differ by {of.sound_hands_percent:g} %, lay a tape otherwise on each stem by "
        f"{expected.lay_percent:.2g} %, and calipers by {expected.jaws_percent:.2g} %.",
    ]


def _told(one: Detectable) -> str:
    """Three figures: chances rise steeply, so that a rounder size would be another answer."""
    from mensura.written import rounded

    if one.size is None:
        return "not found"
    return f"{rounded(one.size, 3)} {'%' if one.unit == '%' else f'cm of {one.kind}'}"


def _count(count: int, noun: str) -> str:
    return f"{count} {noun}{'' if count == 1 else 's'}"
