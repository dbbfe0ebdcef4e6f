"""Back from a reading to the girth: what can be undone is undone, the rest is named with its side.

A band's stretch, shrinking, worn start, warmth, thickness and pull follow exact rules, so they are
undone exactly, if they were the same all along the band. On bark the pull is not: friction takes a
part of it, and how much cannot be known. How the band lay can no longer be known from the number:
of that only the side, and how far it may reach if somebody saw it, can be said.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from mensura.checks import MeasureError, number, plain
from mensura.instruments.fault import LAY, Fault, Typical
from mensura.instruments.faults import faults_of
from mensura.instruments.tape import Tape
from mensura.instruments.tape_card import Card
from mensura.instruments.typical import adds_cm


@dataclass(frozen=True)
class Unknowable:
    """A fault that a number cannot confess.

    fault: its name, and its case where it has two; row: of the list of faults; sizes: the typical
    ones that are told.
    """

    fault: str
    row: Fault
    sizes: tuple[Typical, ...]

    @property
    def raises_reading(self) -> bool:
        """True if it makes readings too large."""
        if self.row.side != "either":
            return self.row.side == "too much"
        return all(adds_cm(self.row, one) > 0 for one in self.sizes)

    @property
    def reach(self) -> str:
        """How far it goes on a stem of 125 cm girth, in words with its sizes in cm."""
        return self.row.reach or ", ".join(
            f"{_in_short(adds_cm(self.row, one))} cm {one.at}" for one in self.sizes
        )


def _in_short(size_cm: float) -> str:
    """A size to a millimetre; whole centimetres without one."""
    return f"{abs(size_cm):.1f}".removesuffix(".0")


def _unknowable() -> tuple[Unknowable, ...]:
    rows: list[Unknowable] = []
    for row in (one for one in faults_of(LAY) if one.undone == "not"):
        told = [one for one in row.typical if one.at]
        for case in dict.fromkeys(one.case for one in told) or [""]:
            name = f"{row.key}, {case}" if case else row.key
            rows.append(Unknowable(name, row, tuple(one for one in told if one.case == case)))
    return tuple(rows)


#: What no correction undoes: how the band lay. Sizes are computed when they are asked for.
UNKNOWABLE: tuple[Unknowable, ...] = _unknowable()


@dataclass(frozen=True)
class CorrectedGirth:
    """A girth brought back from a reading.

    girth_cm: of the way along the bark; diameter_cm, area_cm2: of the circle with that girth;
    breakdown: what each part of the band's condition had added, in cm; rounding_cm: how far the
    rounding may still be off.
    """

    girth_cm: Any
    diameter_cm: Any
    area_cm2: Any
    breakdown: dict[str, Any]
    rounding_cm: Any


def correct_girth(reading_cm: Any, tape: Tape) -> CorrectedGirth:
    """Undo a band's stretch, shrinking, worn start, temperature, thickness and pull.

    reading_cm: as the band told it, above 0, cm; tape: its condition.
    Exact but for the rounding, of which half a step is told, if the band's condition and its pull
    are the same all along. Raises MeasureError if what is left is no girth.

    >>> round(correct_girth(70.0, Tape(stretch_percent=100 * 30 / 70)).girth_cm, 10)
    100.0
    """
    reading = number(reading_cm, "reading_cm", "cm", above=0.0, at_most=20000.0)
    girth = tape.way_cm(reading)
    if np.any(np.asarray(girth) <= 0):
        raise MeasureError(
            "reading_cm", float(np.min(reading)), "cm", "a reading longer than what is worn off"
        )
    _, parts = tape.marks_cm(girth)
    parts.pop("rounding", None)
    step = np.asarray(tape.resolution_cm) * (1.0 if tape.rounding == "down" else 0.5)
    return CorrectedGirth(
        girth, plain(girth / np.pi), plain(girth**2 / (4 * np.pi)), parts, plain(step)
    )


@dataclass(frozen=True)
class CorrectedByCard(CorrectedGirth):
    """A girth brought back by a tape's card, with what the card leaves in doubt.

    girth_cm, diameter_cm, area_cm2, breakdown, rounding_cm: as of a CorrectedGirth; u_girth_cm,
    u_diameter_cm, u_area_cm2: standard uncertainties from the card alone, None for a card of two
    marks; drawn_on: whether the reading lies outside the card's marks.
    """

    u_girth_cm: Any = None
    u_diameter_cm: Any = None
    u_area_cm2: Any = None
    drawn_on: Any = False


def correct_by_card(reading_cm: Any, card: Card, tape: Tape | None = None) -> CorrectedByCard:
    """Undo what a tape's card says, and what is known beside it.

    reading_cm: as the band told it, above 0, cm; card: of a tape; tape: temperature, thickness and
    pull, with the card's as references; its stretch, shrinking and worn start are the card's
    business and stay 0. The reading's own spread and step are not in the uncertainty: they belong
    to the reading, and are counted there. Area to first order [GUM1995, clause 5.1.2]. Raises
    MeasureError for calipers' cards, and if what is left is no girth.

    >>> from mensura.instruments.tape_card import card
    >>> found = correct_by_card(126.3, card([50, 100, 150], [51.3, 100.7, 150.2]))
    >>> round(found.girth_cm, 2), round(found.u_girth_cm, 2), found.drawn_on
    (125.85, 0.03, False)
    """
    if card.kind != "tape":
        raise MeasureError("card", card.kind, "", "the card of a tape")
    band = tape or Tape()
    for name in ("stretch_percent", "shrink_percent", "worn_start_cm"):
        if np.any(getattr(band, name)):
            raise MeasureError(name, getattr(band, name), "", "0 beside a card, which has its own")
    reading = number(reading_cm, "reading_cm", "cm", above=0.0, at_most=20000.0)
    along = np.asarray(card.true_cm(reading))
    girth = np.asarray(band.way_cm(along))
    if np.any(girth <= 0) or np.any(along <= 0):
        raise MeasureError(
            "reading_cm", float(np.min(reading)), "cm", "a reading longer than what is worn off"
        )
    _, parts = band.marks_cm(girth)
    parts.pop("rounding", None)
    parts["stretch"] = plain(along * card.rise - along)
    parts["worn start"] = plain(card.start_cm + 0 * along)
    step = np.asarray(band.resolution_cm) * (1.0 if band.rounding == "down" else 0.5)
    doubt = card.u_true_cm(reading)
    u = None if doubt is None else doubt * (girth + np.pi * np.asarray(band.thickness_cm)) / along
    return CorrectedByCard(
        plain(girth),
        plain(girth / np.pi),
        plain(girth**2 / (4 * np.pi)),
        parts,
        plain(step),
        None if u is None else plain(u),
        None if u is None else plain(u / np.pi),
        None if u is None else plain(girth * u / (2 * np.pi)),
        card.drawn_on(reading),
    )
