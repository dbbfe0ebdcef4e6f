"""A stand's or a log's readings brought back by the card of what they were read with.

One card and one instrument: then every reading means the length that the card's line says, and only
the card's own doubt stays. With several cards nobody knows which tree was read with which: nothing
is corrected, and how far each card would have gone stays in the error, one for all trees.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import ChoiceError, FloatArray, MeasureError, number
from mensura.estimates.card_rows import card_name
from mensura.estimates.class_correction import ClassCorrection, corrected_cm
from mensura.estimates.input_errors import InputError
from mensura.instruments.tape_card import Card

#: What is read with each kind of instrument.
READ = {"tape": "girth", "calipers": "diameter"}


@dataclass(frozen=True)
class CardCorrection:
    """What a card takes off the readings of its instrument.

    card: of it; at_cm: the reading at which sizes are told, cm of what is read; off_cm: what it
    takes off there, below 0 where it adds; u_cm: what its own line leaves unsure there.
    """

    card: Card
    at_cm: float
    off_cm: float
    u_cm: float

    @property
    def kind(self) -> str:
        """What was read: "girth" or "diameter"."""
        return READ[self.card.kind]

    def to_dict(self) -> dict[str, Any]:
        """All of it by keys for JSON, those of a practical's correction among them."""
        return {
            "input": "instrument",
            "name": self.card.instrument,
            "kind": self.kind,
            "taken_off": self.off_cm,
            "unit": "cm",
            "u_left": self.u_cm,
            "why": self.why,
            "by": "card",
            "at_cm": self.at_cm,
            "rise": self.card.rise,
            "start_cm": self.card.start_cm,
        }

    @property
    def why(self) -> str:
        """The line behind it, in a sentence."""
        card = self.card
        if card.kind == "tape":
            parts = f"stretch {card.stretch_percent:.3g} % and worn start {card.start_cm:.3g} cm"
        else:
            parts = f"scale {card.scale_percent:.3g} % and zero error {card.start_cm:.3g} cm"
        return f"Its card has {parts}."


def card_correction(card: Card, at_cm: float) -> CardCorrection:
    """What a card takes off, told at one reading.

    card: of three marks or more; at_cm: a reading of its kind, above 0. Raises MeasureError for a
    card of two marks, which cannot say how sure it is.

    >>> from mensura.instruments.tape_card import card
    >>> found = card_correction(card([50, 100, 150], [51.0, 100.5, 150.0]), 100.5)
    >>> round(found.off_cm, 6)
    0.5
    """
    at = float(number(at_cm, "at_cm", "cm", above=0.0))
    u = card.u_true_cm(at)
    if u is None:
        raise MeasureError("card", card.instrument, "", "a card of three marks or more")
    return CardCorrection(card, at, at - float(card.true_cm(at)), float(u))


def brought_back_cm(
    reading_cm: ArrayLike, corrections: Sequence[CardCorrection | ClassCorrection]
) -> FloatArray:
    """Readings after all that is known to be off: the card first, then what a practical found.

    reading_cm: of the corrections' kind, any shape, at least 0; a tip of 0 stays 0; corrections: of
    one instrument and one hand. Returns cm; what is not above 0 has to be refused by who asks.
    Raises MeasureError.

    >>> from mensura.instruments.tape_card import card
    >>> one = card_correction(card([50, 100, 150], [51.0, 100.5, 150.0]), 100.0)
    >>> off = ClassCorrection("T2", "instrument", "girth", -2.5, "%", 0.1, "")
    >>> brought_back_cm([0.0, 98.01], [one, off]).round(6).tolist()
    [0.0, 99.98446]
    """
    told = np.array(number(reading_cm, "reading_cm", "cm", at_least=0.0), dtype=np.float64)
    read = told > 0
    here = told[read]
    for one in corrections:
        if isinstance(one, CardCorrection) and here.size:
            here = np.asarray(one.card.true_cm(here))
            if not (here > 0).all():
                break
    by_class = [one for one in corrections if isinstance(one, ClassCorrection)]
    if by_class and here.size and (here > 0).all():
        here = np.asarray(corrected_cm(here, *by_class))
    told[read] = here
    return told


def error_of_several(cards: Sequence[Card], kind: str, across_cm: float) -> InputError:
    """The instrument's error where several shared the trees and none was corrected.

    cards: of three marks or more, one or more; kind: "girth" or "diameter", as it was read;
    across_cm: diameter of a stem, above 0. The root of the mean square of how far each card's line
    lies off there together with its own u; one for all trees, in per cent. Raises MeasureError.

    >>> from mensura.instruments.tape_card import card
    >>> two = [card([50, 100, 150], [50 + one, 100 + one, 150 + one]) for one in (3.0, -4.0)]
    >>> round(error_of_several(two, "diameter", 100.0).u, 3)
    3.54
    """
    if kind not in READ.values():
        raise ChoiceError("kind", kind, tuple(READ.values()))
    if not cards:
        raise MeasureError("cards", 0, "", "one card or more")
    across = float(number(across_cm, "across_cm", "cm", above=0.0))
    at = across * np.pi if kind == "girth" else across
    found = [card_correction(one, at) for one in cards]
    u = sqrt(sum(one.off_cm**2 + one.u_cm**2 for one in found) / len(found))
    origin = (
        f"{len(found)} cards, readings not corrected: how far they lie off and their own "
        f"uncertainty, at a {kind} of {at:.0f} cm"
    )
    return InputError("instrument", float(f"{100 * u / at:.3g}"), "%", "all", origin)


# ---- in words ------------------------------------------------------------------------------------


def card_words(one: CardCorrection) -> str:
    """What a card took off, and what stays unsure, in sentences.

    one: its correction.
    """
    off = "nothing was taken off" if one.off_cm == 0 else (
        f"{abs(one.off_cm):.2g} cm was {'taken off' if one.off_cm > 0 else 'added'}"
    )  # fmt: skip
    who = card_name(one.card)
    held = one.card
    at = [f"{held.temperature_c:g} °C"] if held.temperature_c is not None else []
    at += [f"{held.pull_n:g} N"] if held.pull_n is not None else []
    as_card = f" Taken as read at {' and '.join(at)}, where it holds." if at else ""
    return (
        f"{who[0].upper()}{who[1:]}, by its card: at a {one.kind} of {one.at_cm:.0f} cm {off}; ± "
        f"{one.u_cm:.2g} cm stays unsure. {one.why}{as_card}"
    )


def several_words(cards: Sequence[Card]) -> str:
    """That nothing was corrected by several cards, in sentences.

    cards: two or more.
    """
    return (
        f"{len(cards)} cards: nobody knows which reading is by which instrument, so nothing was "
        "corrected. How far they lie off is in the instrument's error instead."
    )
