"""A tape's card on the disk: `T3.json`, from which `correct`, `budget` and others read it.

The file says what was found, with the units in its keys, and holds the readings it was found from.
A card is read only if its own readings give its line. It is written whole, and a card that is there
already is put aside under another name, never overwritten.
"""

from __future__ import annotations

import json
import math
import os
import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from mensura.checks import ChoiceError, MeasureError, shown
from mensura.disk.check_file import (
    Check,
    FileError,
    FolderError,
    Where,
    parse_check,
    read_bytes,
    read_check,
)
from mensura.disk.pages import writable_folder
from mensura.disk.writing import put_aside, reason, write_new
from mensura.instruments.class_check import ClassedMark
from mensura.instruments.line_fit import fit_line
from mensura.instruments.tape_card import KINDS, MOST_READINGS, Card, CheckedMark, columns_cm

__all__ = [
    "Check", "FileError", "FolderError", "card_answer", "card_in", "code_of", "file_stem",
    "parse_check", "read_card", "read_check", "save_beside", "write_card",
]  # fmt: skip

#: Of a card's file, so that another program's JSON, and a newer card, are told apart.
MARK, EDITION = "mensura_card", 1
MOST_BYTES = 5_000_000

#: An instrument's code, since files are named by it: T3, K1, hut-12.
_CODE = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,23}", re.ASCII)
#: Names that Windows keeps for itself.
_KEPT = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)", re.IGNORECASE)
_CODE_WORDS = "a code of letters, digits and hyphens like T3"


def code_of(text: str) -> str:
    """An instrument's code.

    text: as it was typed. Raises MeasureError for one by which no file can be named.

    >>> code_of(" T3 ")
    'T3'
    """
    code = text.strip()
    if not _CODE.fullmatch(code) or _KEPT.fullmatch(code):
        raise MeasureError("instrument", text, "", _CODE_WORDS)
    return code


def file_stem(code: str, path: Where) -> str:
    """How a card's files are called, without ending: by its code, else by the check's file.

    code: of the instrument, "" for none; path: of the check.

    >>> file_stem("", "checks/t3 old.csv"), file_stem("T3", "a.csv"), file_stem("", "tape-7.csv")
    ('card', 'T3', 'tape-7')
    """
    stem = Path(path).stem
    known = _CODE.fullmatch(stem) and not _KEPT.fullmatch(stem)
    return code or (stem if known else "card")


# ---- out -----------------------------------------------------------------------------------------


def card_answer(
    card: Card,
    marks: Sequence[ClassedMark],
    accuracy_class: str | None = None,
    end_surface: bool = False,
    notes: Sequence[str] = (),
    warnings: Sequence[Mapping[str, Any]] = (),
) -> dict[str, Any]:
    """All that a card says, by keys that carry their units, and what it needs to be read again.

    card: what is said; marks: each beside its limit; accuracy_class, end_surface: of the limits;
    notes: what has to be said with it, in sentences; warnings: what looks like slips.
    """
    tape = card.kind == "tape"
    ratio, zero = ("stretch", "worn_start") if tape else ("scale", "zero_error")
    test = card.lack_of_fit()
    return {
        MARK: EDITION,
        "instrument": card.instrument,
        "kind": card.kind,
        "warnings": [dict(one) for one in warnings],
        f"{ratio}_percent": getattr(card, f"{ratio}_percent"),
        f"{ratio}_u_percent": getattr(card, f"{ratio}_u_percent"),
        f"{ratio}_interval_percent": _pair(getattr(card, f"{ratio}_interval_percent")),
        f"{zero}_cm": card.start_cm,
        f"{zero}_u_cm": card.u_start_cm,
        f"{zero}_interval_cm": _pair(card.start_interval_cm),
        f"{ratio}_degrees_of_freedom": card.stretch_degrees_of_freedom,
        f"{zero}_degrees_of_freedom": card.start_degrees_of_freedom,
        "correlation": card.found_correlation,
        "degrees_of_freedom": card.degrees_of_freedom,
        "residual_sd_cm": card.residual_sd_cm,
        "lack_of_fit": None
        if test is None
        else {
            "f": test.f,
            "degrees_of_freedom": [test.between, test.within],
            "p": test.p,
            "line_will_do": test.will_do,
        },
        "rise": card.rise,
        "rise_u": card.u_rise,
        "taken_sd_cm": card.taken_sd_cm,
        "resolution_cm": card.resolution_cm,
        "reference_u_cm": card.reference_u_cm,
        "reference_u_percent": card.reference_u_percent,
        "temperature_c": card.temperature_c,
        "expansion_per_c": card.expansion_per_c,
        "pull_n": card.pull_n,
        "accuracy_class": accuracy_class,
        "end_surface": end_surface,
        "marks": [
            {
                "reference_cm": one.reference_cm,
                "error_cm": one.error_cm,
                "error_expanded_cm": one.expanded_cm,
                "permissible_cm": one.permissible_cm,
                "within": one.within,
                "readings_cm": list(mark.readings_cm),
            }
            for one, mark in zip(marks, card.marks, strict=True)
        ],
        "notes": list(notes),
    }


def _pair(interval: tuple[float, float] | None) -> list[float] | None:
    return None if interval is None else list(interval)


def write_card(folder: Where, stem: str, answer: Mapping[str, Any]) -> tuple[Path, str]:
    """Writes a card's file; one that is there and says something else is put aside.

    folder: where, made if it is missing; stem: of the file's name; answer: of `card_answer`.
    Returns the path, and the name under which an older one lies now, or "". Raises MeasureError for
    a folder that cannot be used.
    """
    text = json.dumps(dict(answer), indent=2, allow_nan=False, ensure_ascii=False) + "\n"
    return save_beside(folder, f"{stem}.json", text.encode("utf-8"))


def save_beside(folder: Where, name: str, content: bytes) -> tuple[Path, str]:
    """Writes a file whole; what is there under its name, and is not the same, is put aside first.

    folder: where, made if it is missing; name: of the file, whose case does not count; content: all
    of it. Returns the path,
    and the name under which an older one lies now, or "".

    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as place:
    ...     [save_beside(place, "T3.json", one)[1] for one in (b"1", b"1", b"2")]
    ['', '', 'T3-old.json']
    """
    try:
        place = writable_folder(folder)
    except MeasureError as error:
        if not error.where:
            raise
        raise FolderError(folder, error.where, error.expectation) from None
    try:
        path = place / _as_it_lies(place, name)
        for _ in range(100):
            if write_new(path, content):
                return path, ""
            if path.is_file() and not path.is_symlink() and path.read_bytes() == content:
                return path, ""
            aside = put_aside(path)
            if write_new(path, content):
                return path, aside
    except OSError as error:
        raise FolderError(folder, reason(error), "a folder to write to") from None
    raise MeasureError("folder", str(folder), "", "a folder that nobody else is writing to")


def _as_it_lies(place: Path, name: str) -> str:
    """A file's name, in the case in which it lies there already: t3.json is T3.json."""
    there = os.listdir(place)
    alike = sorted(one for one in there if one.casefold() == name.casefold())
    return name if name in there or not alike else alike[0]


# ---- in ------------------------------------------------------------------------------------------


def read_card(path: Where, instrument: str = "") -> Card:
    """A card from its file.

    path: of the file; instrument: whose card it has to be, "" for anybody's. Raises FileError, in
    one sentence, for a file that is no card, a newer one, a damaged one, or another instrument's.
    """
    file = Path(path)
    name = file.name or str(file)
    what = "a card as `mensura tape-card --out` writes it"
    told = _object(read_bytes(file, what, MOST_BYTES), name, what)
    if MARK not in told:
        raise FileError(name, "", "is no tape's card", what)
    edition = told[MARK]
    if isinstance(edition, bool) or not isinstance(edition, int) or edition < 1:
        raise FileError(name, MARK, f"is {shown(edition)}", f"{EDITION}", MARK, edition)
    if edition > EDITION:
        raise FileError(
            name, "", f"is a card of a newer kind ({edition})",
            f"kind {EDITION}, or a newer mensura to read it with", MARK, edition,
        )  # fmt: skip
    card = _Fields(told, name).card()
    return _of(card, instrument, name) if instrument else card


def card_in(folder: Where, code: str) -> Card:
    """An instrument's card from a folder of cards, by its code.

    folder: where cards lie; code: of the instrument, in capitals or not. Looked for is `CODE.json`,
    and where that is missing any other JSON file that is the instrument's card. Raises
    MeasureError, in one sentence, if there is none, or more than one, or two by names that differ
    only by case.
    """
    wanted, place = code_of(code), Path(folder)
    try:
        names = sorted(one for one in os.listdir(place) if one.endswith(".json"))
    except (OSError, ValueError) as error:
        why = reason(error) if isinstance(error, OSError) else "it is no name of a folder"
        raise FolderError(folder, why, "a folder of cards") from None
    own = [one for one in names if one[:-5].casefold() == wanted.casefold()]
    if len(own) > 1:
        raise FileError(
            str(folder), "", f"has {own[0]} and {own[1]}, which differ only by case",
            f"one card of {wanted}", "instrument", wanted,
        )  # fmt: skip
    if own:
        card = read_card(place / own[0])
        # without a code of its own a card goes by its file's name
        card = card if card.instrument else replace(card, instrument=own[0][:-5])
        return _of(card, wanted, own[0])
    found: dict[str, tuple[str, Card]] = {}
    for name in names[:1000]:
        try:
            card = read_card(place / name)
        except MeasureError:
            continue
        code = card.instrument.casefold()
        if code == wanted.casefold() and code in found:
            raise FileError(
                str(folder), "", f"has two cards of {wanted}, {found[code][0]} and {name}",
                f"one, or one that is called {wanted}.json", "instrument", wanted,
            )  # fmt: skip
        found[code] = name, card
    if wanted.casefold() not in found:
        known = sorted(one.instrument for _, one in found.values() if one.instrument)
        listed = f"one of: {', '.join(known)}" if known else "a code of which a card lies there"
        raise ChoiceError("instrument", wanted, known, listed)
    return found[wanted.casefold()][1]


def _of(card: Card, instrument: str, name: str) -> Card:
    """The card, if it is the instrument's; codes are the same whatever their case."""
    if card.instrument.casefold() == instrument.casefold():
        return card
    whose = shown(card.instrument) if card.instrument else "an instrument without a code"
    raise FileError(
        name, "", f"is the card of {whose}", f"that of {shown(instrument)}", "instrument",
        card.instrument,
    )  # fmt: skip


def _object(raw: bytes, name: str, what: str) -> dict[str, Any]:
    def refuse(word: str) -> None:
        raise ValueError(word)

    try:
        told = json.loads(raw.decode("utf-8-sig"), parse_constant=refuse)
    except (ValueError, RecursionError):
        raise FileError(name, "", "is damaged, or no JSON", what) from None
    if not isinstance(told, dict):
        raise FileError(name, "", "is no tape's card", what)
    return told


class _Fields:
    """What stands in a card's file, taken out one by one and looked at.

    told: by the keys of the file; name: of the file.
    """

    def __init__(self, told: Mapping[str, Any], name: str) -> None:
        self.told, self.name = told, name

    def card(self) -> Card:
        """The card, if all of it hangs together."""
        kind, code = self.told.get("kind"), self.told.get("instrument")
        if kind not in KINDS:
            raise self.wrong("kind", kind, "tape or calipers")
        if not isinstance(code, str) or (code and not _CODE.fullmatch(code)):
            raise self.wrong("instrument", code, _CODE_WORDS)
        marks = self.marks()
        tape = kind == "tape"
        zero = "worn_start" if tape else "zero_error"
        rise, start = self.number("rise", 1e-3, 1e3), self.number(f"{zero}_cm", -1e5, 1e5)
        line = fit_line(*columns_cm(marks))
        for key, said, found in ((f"{zero}_cm", start, line.start_cm), ("rise", rise, line.rise)):
            if abs(said - found) > 1e-6 * max(1.0, abs(found)):
                raise self.wrong(key, said, f"{found:.6g}, as its own readings give")
        doubts = [
            self.number_or_none("rise_u", 0.0, 1e3),
            self.number_or_none(f"{zero}_u_cm", 0.0, 1e5),
            self.number_or_none("correlation", *((0.0, 1.0) if tape else (-1.0, 0.0))),
            self.number_or_none("residual_sd_cm", 0.0, 1e5),
            self.number_or_none("taken_sd_cm", 0.0, 1e5),
        ]
        missing = [one is None for one in doubts]
        if any(missing) and not all(missing):
            raise self.wrong("rise_u", None, "a number, as beside it")
        if not any(missing) and len(marks) < 3:
            raise self.wrong("rise_u", doubts[0], "null, since two marks give no uncertainty")
        free, own = (
            self.number("degrees_of_freedom", 0, 1e9),
            sum(len(m.readings_cm) for m in marks),
        )
        if free != own - 2:
            raise self.wrong("degrees_of_freedom", free, f"{own - 2}, two fewer than its readings")
        return Card(
            instrument=code,
            kind=str(kind),
            marks=marks,
            rise=rise,
            start_cm=start,
            u_rise=doubts[0],
            u_start_cm=doubts[1],
            # the file's is of stretch and worn start, the card's of rise and start
            correlation=-doubts[2] if tape and doubts[2] is not None else doubts[2],
            degrees_of_freedom=int(free),
            residual_sd_cm=doubts[3],
            resolution_cm=self.number("resolution_cm", 0.0, 100.0),
            reference_u_cm=self.number("reference_u_cm", 0.0, 1000.0),
            reference_u_percent=self.number("reference_u_percent", 0.0, 50.0),
            temperature_c=self.number_or_none("temperature_c", -60.0, 80.0),
            pull_n=self.number_or_none("pull_n", 0.0, 10000.0),
            taken_sd_cm=doubts[4],
            expansion_per_c=self.number_or_none("expansion_per_c", -1e-3, 1e-3),
        )

    def marks(self) -> tuple[CheckedMark, ...]:
        """Where it was held against the reference."""
        told = self.told.get("marks")
        if not isinstance(told, list) or not 2 <= len(told) <= MOST_READINGS:
            raise self.wrong("marks", None, "a list of two marks or more")
        found = []
        for place, one in enumerate(told, 1):
            key = f"mark {place}"
            readings = one.get("readings_cm") if isinstance(one, dict) else None
            if not isinstance(readings, list) or not 1 <= len(readings) <= MOST_READINGS:
                raise self.wrong(key, None, "an object with reference_cm and readings_cm")
            values = [self.checked(key, value, 1e-9, 1e5) for value in readings]
            true = self.checked(key, one.get("reference_cm"), 1e-9, 20000.0)
            found.append(CheckedMark(true, tuple(values)))
        if len({one.reference_cm for one in found}) < len(found):
            raise self.wrong("marks", "one reference twice", "each reference once")
        return tuple(sorted(found, key=lambda one: one.reference_cm))

    def number(self, key: str, low: float, high: float) -> float:
        """A number that has to be there."""
        return self.checked(key, self.told.get(key), low, high)

    def number_or_none(self, key: str, low: float, high: float) -> float | None:
        """A number, or null."""
        value = self.told.get(key)
        return None if value is None else self.checked(key, value, low, high)

    def checked(self, key: str, value: object, low: float, high: float) -> float:
        """A number within bounds."""
        good = isinstance(value, int | float) and not isinstance(value, bool)
        if good and low <= value <= high and math.isfinite(value):  # type: ignore[operator, arg-type]
            return float(value)  # type: ignore[arg-type]
        raise self.wrong(key, value, f"a number from {low:g} to {high:g}")

    def wrong(self, key: str, value: object, expectation: str) -> FileError:
        """The refusal, to be raised."""
        got = "is missing" if value is None else f"is {shown(value)}"
        return FileError(self.name, key, got, expectation, key, value)
