"""The photograph of `mensura cut-end`, as options: where its scale lies, what was drawn in.

Places in a photograph are told as any picture viewer tells them: x to the right, y down, in px.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import click

from mensura.checks import ChoiceError, MeasureError
from mensura.cli.options import Option, called
from mensura.cli.types import NumberType, parsed_number

if TYPE_CHECKING:
    from mensura.instruments.cut_end_photo import Correction, FoundOutline

#: What makes centimetres of a photograph, and what helps to find the section in it.
PHOTO = (
    Option("--scale-cm", NumberType("cm"), None, "PHOTO: length of the scale in it."),
    Option("--scale-px", click.STRING, None, "PHOTO: where it starts and ends.", "X1,Y1,X2,Y2"),
    Option("--marks-cm", click.STRING, None, "PHOTO: sides of a rectangle in its plane.", "WxH"),
    Option("--marks-px", click.STRING, None, "PHOTO: its corners in order.", "X1,Y1,…,X4,Y4"),
    Option("--pith-px", click.STRING, None, "PHOTO: where the pith lies.", "X,Y"),
    Option("--threshold", NumberType(""), None, "PHOTO: grey level between section and ground."),
    Option("--section", click.STRING, None, "PHOTO: darker or lighter than its ground.", "WORD"),
)
#: Pieces that were drawn by hand, as often as one likes.
PIECES = (
    ("--add-px", "PHOTO: corners of a piece of wood that was missed."),
    ("--cut-px", "PHOTO: corners of a piece that is no wood."),
)

#: Fields of the photograph as the command calls them.
NAMES = {one.name: one.option for one in PHOTO} | {
    "darker": "--section",
    "add_px": "--add-px",
}
_SECTIONS = ("darker", "lighter")


def check_photo(values: Mapping[str, Any]) -> None:
    """Refuses options of a photograph where there is none, and a photograph without its scale.

    values: of the options, by name. Raises UsageError.
    """
    names = [one.option for one in PHOTO if values[one.name] is not None]
    names += [option for option, _ in PIECES if values[_field(option)]]
    if values["photo"] is None:
        if names:
            raise click.UsageError(f"{names[0]} is alone; expected PHOTO beside it.")
        return
    given = {kind for kind in ("scale", "marks") for one in ("cm", "px") if values[f"{kind}_{one}"]}
    if len(given) != 1:
        got = "both" if given else "neither"
        raise click.UsageError(
            f"--scale-px and --marks-px: {got} given; expected one of them beside PHOTO."
        )
    (kind,) = given
    for one, other in (("cm", "px"), ("px", "cm")):
        if values[f"{kind}_{one}"] is None:
            raise click.UsageError(
                f"--{kind}-{one} is missing; expected it beside --{kind}-{other}."
            )


@dataclass(frozen=True)
class Photographed:
    """A photograph, and what was found in it.

    dots: red, green and blue; found: the outline; scale_px: ends of the scale, or the four marks;
    corrections: drawn by hand.
    """

    dots: Any
    found: FoundOutline
    scale_px: Sequence[float]
    corrections: Sequence[Correction]


def found_in(values: Mapping[str, Any]) -> Photographed:
    """The photograph with the outline of the section in it.

    values: of the options, by name, checked. Raises UsageError or MeasureError under their names.
    """
    from mensura.disk.photograph import read_photograph
    from mensura.instruments.cut_end_photo import Correction, outline_of_photograph

    section = values["section"]
    if section is not None and section not in _SECTIONS:
        raise ChoiceError("--section", section, _SECTIONS)
    where: dict[str, Any] = {}
    if values["scale_px"] is not None:
        where["scale_cm"] = values["scale_cm"]
        where["scale_px"] = numbers_of("--scale-px", values["scale_px"], 4)
    else:
        where["marks_cm"] = _sides(values["marks_cm"])
        where["marks_px"] = numbers_of("--marks-px", values["marks_px"], 8)
    pith = values["pith_px"]
    with called(NAMES):
        pieces = [
            Correction(way, _corners(f"--{way}-px", text))
            for way in ("add", "cut")
            for text in values[f"{way}_px"]
        ]
        dots = read_photograph(values["photo"])
        found = outline_of_photograph(
            dots,
            **where,
            threshold=values["threshold"],
            darker=None if section is None else section == "darker",
            corrections=pieces,
            pith_px=None if pith is None else numbers_of("--pith-px", pith, 2),
        )
    scale_px = where.get("scale_px") or where["marks_px"]
    return Photographed(dots, found, scale_px, pieces)


def numbers_of(option: str, text: str, count: int, unit: str = "px") -> list[float]:
    """Numbers with commas between them, or semicolons where the comma is a decimal mark.

    option: its name; text: as typed; count: how many there must be, 0 for six and more, in pairs;
    unit: of each. Raises MeasureError.

    >>> numbers_of("--pith-px", "120, 88.5", 2), numbers_of("--pith-cm", "20,5;18", 2, "cm")
    ([120.0, 88.5], [20.5, 18.0])
    """
    parts = text.split(";" if ";" in text else ",")
    wanted = f"{_WORDS[count]} numbers in {unit} with commas between them"
    if len(parts) != count and (count or len(parts) < 6 or len(parts) % 2):
        raise MeasureError(option, text, "", wanted)
    return [parsed_number(option, part.strip(), unit, wanted) for part in parts]


_WORDS = {0: "six or more", 2: "two", 4: "four", 8: "eight"}


def _corners(option: str, text: str) -> list[list[float]]:
    found = numbers_of(option, text, 0)
    return [list(pair) for pair in zip(found[::2], found[1::2], strict=True)]


def _sides(text: str) -> list[float]:
    parts: Sequence[str] = re.split("[xX×]", text)
    wanted = "two sides in cm like 50x40"
    if len(parts) != 2:
        raise MeasureError("--marks-cm", text, "", wanted)
    return [parsed_number("--marks-cm", part.strip(), "cm", wanted) for part in parts]


def _field(option: str) -> str:
    return option.removeprefix("--").replace("-", "_")
