"""The options by which a command is told how unsure each input is, and from where that is known.

--errors names a file; --errors-new writes one, to be changed and given again; --card and
--practical put what was found out in the place of what was only supposed, in the file that is
written as in the one that is read. By one card the readings themselves are corrected. --hand and
--instrument beside --practical say who measured with what: then what the practical found is taken
off as well.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from mensura.cli.options import called
from mensura.cli.printing import told_file
from mensura.cli.types import WholeType

if TYPE_CHECKING:
    from mensura.disk.practical_file import Told as Practical
    from mensura.estimates.card_correction import CardCorrection
    from mensura.estimates.class_correction import ClassCorrection
    from mensura.estimates.input_errors import InputError
    from mensura.estimates.remedies import Remedy
    from mensura.instruments.tape_card import Card

#: Where --errors-new writes if --errors names no file.
NEW_NAME = "errors.toml"

#: What stands beside figures whose errors nobody told.
SUPPOSED = (
    "How unsure each input is was not told: sizes of our own are taken. --errors-new writes them "
    "to a file, to be changed and given to --errors."
)


@dataclass(frozen=True)
class Told:
    """What a command was told of errors.

    errors: of the inputs; supposed: whether nobody told any; remedies: what could be done better,
    as the file of errors has it; saved: the file that was written, or None; inputs: for the JSON
    that a command prints; corrections: what is to be taken off the readings, by a card, of the hand
    and of the instrument, none where nothing is; said: of cards and practical, in sentences.
    """

    errors: tuple[InputError, ...]
    supposed: bool
    remedies: tuple[Remedy, ...] = ()
    saved: Path | None = None
    inputs: dict[str, Any] = field(default_factory=dict)
    corrections: tuple[CardCorrection | ClassCorrection, ...] = ()
    said: tuple[str, ...] = ()


def with_errors(command: Callable[..., Any]) -> Callable[..., Any]:
    """The options from --errors to --hands; for :func:`errors_told`.

    command: that takes them, as errors, errors_new, card, practical, hand, instrument and hands.
    """
    for option in (
        click.option(
            "--hands", type=WholeType(1, 1000), default=1, show_default=True, metavar="N",
            help="How many hands shared the trees evenly, beside --practical.",
        ),
        click.option(
            "--instrument", metavar="CODE",
            help="With which instrument: what that was found off is taken off.",
        ),
        click.option(
            "--hand", metavar="CODE",
            help="Who measured all, beside --practical: what that hand was found off is taken off.",
        ),
        click.option(
            "--practical", metavar="FILE.json",
            help="The hands' errors, and who is off: what `mensura practical --json` printed.",
        ),
        click.option(
            "--card", metavar="FILE.json", multiple=True,
            help="The instrument's card: readings are corrected by it, its error is what is left. "
            "Once for each that was used; by several nothing is corrected.",
        ),
        click.option(
            "--errors-new", is_flag=True,
            help=f"Write a new file of errors: --errors FILE.toml, else {NEW_NAME}.",
        ),
        click.option(
            "--errors", metavar="FILE.toml", help="How unsure each input is; else sizes of our own."
        ),
    ):  # fmt: skip
        command = option(command)
    return command


def errors_told(
    errors: str | None,
    errors_new: bool,
    card: tuple[str, ...],
    practical: str | None,
    kind: str,
    diameter_cm: float,
    hands: int = 1,
    hand: str | None = None,
    instrument: str | None = None,
) -> Told:
    """The errors that the options tell, a new file written where that was asked for.

    errors, errors_new, card, practical: as the command takes them; kind: "girth" or "diameter", as
    the trees were measured; diameter_cm: of a stem as thick as those that count most, as it was
    read, above 0;
    hands: that shared the trees; hand, instrument: who measured them all with what, None where
    nobody is named. Raises MeasureError, in one sentence with file, line and key, and UsageError.
    """
    from mensura.disk.errors_file import read_errors, write_errors
    from mensura.disk.errors_filled import errors_of_told, filled_errors
    from mensura.disk.practical_file import found_of, read_practical
    from mensura.disk.remedies_file import read_remedies, written_remedies
    from mensura.estimates.correction_words import off_words
    from mensura.estimates.input_errors import DEFAULTS
    from mensura.estimates.remedies import REMEDIES

    for name, given in (("--errors", errors), ("--practical", practical), *_named(card)):
        if given is not None and not given.strip():
            raise click.UsageError(f"{name} is empty; expected the name of a file.")
    _fitting(hand, instrument, practical, hands, errors_new)
    base, remedies = DEFAULTS, REMEDIES
    if errors is not None and not errors_new:
        base, remedies = read_errors(errors), read_remedies(errors)
    read = None if practical is None else read_practical(practical)
    corrections: tuple[CardCorrection | ClassCorrection, ...]
    said: tuple[str, ...]
    if read is not None and hand is not None and instrument is not None:
        used, corrections, said = _corrected(
            read, hand, instrument, kind, base, card, diameter_cm
        )  # fmt: skip
    else:
        by_card, corrections, said = _by_card(card, kind, diameter_cm)
        found = [by_card]
        if read is not None:
            found.append(errors_of_told(read, kind, hands=hands))
            off = off_words(found_of(read), kind, by_card=bool(corrections))
            said = (*said, off, *_left_out(read, kind))
        used = filled_errors(base, *found)
        said = (*said, *_uncorrected(used, corrections))
    saved = None
    if errors_new:
        notes = _again(card) if corrections else ()
        saved = write_errors(errors or NEW_NAME, used, notes, below=written_remedies())
    return Told(
        used,
        supposed=errors is None and not card and practical is None,
        remedies=remedies,
        saved=saved,
        inputs={
            "errors": None if errors is None or errors_new else told_file(errors),
            "errors_new": errors_new,
            "card": [told_file(one) for one in card],
            "practical": None if practical is None else told_file(practical),
            "hands": hands,
            "hand": hand,
            "instrument": instrument,
        },
        corrections=corrections,
        said=said,
    )


def _fitting(
    hand: str | None, instrument: str | None, practical: str | None, hands: int, errors_new: bool
) -> None:
    """Refuses a hand or an instrument that stands beside what it does not go with, or alone."""
    given = {"--hand": hand, "--instrument": instrument}
    named = [name for name, value in given.items() if value is not None]
    if not named:
        return
    first = named[0]
    for name in named:
        if not (given[name] or "").strip():
            raise click.UsageError(f"{name} is empty; expected a code of the practical.")
    if practical is None:
        raise click.UsageError(f"{first} is given without --practical; expected both.")
    for name in given:
        if name not in named:
            raise click.UsageError(f"{first} is given without {name}; expected both.")
    if hands > 1:
        told = f"--hands is {hands} beside --hand; expected one hand that measured all, or --hands."
        raise click.UsageError(told)
    if errors_new:
        raise click.UsageError(
            "--errors-new is given beside --hand; expected one of them, since what a practical "
            "leaves unsure goes with what it takes off."
        )


def _by_card(
    card: tuple[str, ...], kind: str, diameter_cm: float
) -> tuple[tuple[InputError, ...], tuple[CardCorrection, ...], tuple[str, ...]]:
    """By one card: the error it leaves, what it takes off, what to say. By several the error."""
    from math import pi

    from mensura.disk.errors_filled import cards_of, errors_of_cards
    from mensura.estimates.card_correction import card_correction, card_words, several_words

    cards = list(cards_of(card, kind).values())
    if len(cards) != 1:
        said = (several_words(cards),) if cards else ()
        return errors_of_cards(card, diameter_cm, kind), (), said
    around = pi if kind == "girth" else 1.0
    one = card_correction(cards[0], diameter_cm * around)
    # the stem is as thick as its reading means
    true = (one.at_cm - one.off_cm) / around
    left = errors_of_cards(card, true if true > 0 else diameter_cm, kind)
    return left, (one,), (card_words(one),)


def _uncorrected(
    errors: tuple[InputError, ...], corrections: tuple[CardCorrection | ClassCorrection, ...]
) -> list[str]:
    """That a file's error is of corrected readings, where none were corrected."""
    from mensura.disk.errors_filled import BY_IT

    if corrections or not any(one.name == "instrument" and BY_IT in one.origin for one in errors):
        return []
    return [
        "The file of errors has the instrument's error for readings corrected by its card, and "
        "none were corrected here: give --card as well, if they were not before."
    ]


def _again(card: tuple[str, ...]) -> tuple[str, ...]:
    """What a file of errors has to say of the card behind it."""
    from mensura.checks import shown

    return (
        "The instrument's error is that of readings corrected by a card: give this file together "
        f"with --card {shown(Path(card[0]).name)}.",
    )


def _corrected(
    practical: Practical,
    hand: str,
    instrument: str,
    kind: str,
    errors: tuple[InputError, ...],
    card: tuple[str, ...],
    diameter_cm: float,
) -> tuple[
    tuple[InputError, ...], tuple[CardCorrection | ClassCorrection, ...], tuple[str, ...]
]:  # fmt: skip
    """The errors after what the practical found was taken off, what that is, what to say of it."""
    from math import pi

    from mensura.disk.errors_filled import error_of_card
    from mensura.disk.practical_file import found_of
    from mensura.estimates.card_correction import card_correction, card_words
    from mensura.estimates.class_correction import all_errors_after, corrections_of
    from mensura.estimates.correction_words import correction_words

    found = found_of(practical)
    with called({"hand": "--hand", "instrument": "--instrument"}):
        corrections = corrections_of(found, hand, instrument, kind)
    cards = _cards(card, kind, found.cards_used)
    by_code = {code: error_of_card(one, diameter_cm, code) for code, one in cards.items()}
    used = all_errors_after(found, corrections, errors, by_code)
    said = [correction_words(one) for one in corrections]
    tool = corrections[1].name
    if tool in cards:
        # as in the practical: by the card first, and the rest is what was judged there
        own = card_correction(cards[tool], diameter_cm * (pi if kind == "girth" else 1.0))
        return used, (own, *corrections), (card_words(own), *said)
    if tool in found.cards_used:
        said.append(
            f"In the practical the readings with {tool} were corrected by its card first: these "
            "must have been, too, or give it by --card."
        )
    return used, corrections, tuple(said)


def _cards(card: tuple[str, ...], kind: str, used: tuple[str, ...]) -> dict[str, Card]:
    """The cards of instruments that the practical corrected by them, by code."""
    from mensura.disk.check_file import FileError
    from mensura.disk.errors_filled import cards_of

    codes = {one.casefold(): one for one in used}
    found: dict[str, Card] = {}
    for path, one in cards_of(card, kind).items():
        name, code = Path(path).name, codes.get((one.instrument or "").casefold())
        if code is None:
            expected = f"one that the practical used: {', '.join(used) or 'it used none'}"
            raise FileError(name, "", f"is the card of {one.instrument or 'no code'}", expected)
        if code in found:
            raise FileError(name, "", f"is another card of {code}", "one card of each instrument")
        found[code] = one
    return found


def _left_out(practical: Practical, kind: str) -> list[str]:
    """Which hands are left out of how far hands lie apart, or are in it though they are off."""
    from mensura.disk.practical_file import without_off
    from mensura.estimates.hand_words import listed

    left: dict[str, None] = {}
    still: dict[str, None] = {}
    for row in practical.precision:
        if row.get("kind") == kind:
            _, off, kept = without_off(row, practical.name)
            left |= dict.fromkeys(off)
            still |= dict.fromkeys(kept)
    said = [f"How far hands lie apart is taken without {listed(tuple(left))}."] if left else []
    if still:
        codes = listed(tuple(still))
        said.append(f"How far hands lie apart has {codes} in it: without, too little is left.")
    return said


def _named(card: tuple[str, ...]) -> list[tuple[str, str]]:
    return [("--card", one) for one in card]
