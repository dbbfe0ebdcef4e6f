"""A tape's card, and a reading corrected through one, as lines of plain text."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap
from typing import Any

from mensura.cli.printing import aligned
from mensura.estimates.card_rows import (
    card_digits,
    card_name,
    card_rows,
    card_slips,
    found_names,
    freedom_words,
    within_words,
)
from mensura.instruments.class_check import ClassedMark
from mensura.instruments.correction import CorrectedByCard
from mensura.instruments.tape_card import Card
from mensura.written import rounded, signed

_WIDE = 80
#: Likely slips that are told one by one.
_MOST = 5


def card_lines(
    card: Card, marks: Sequence[ClassedMark], notes: Sequence[str], warnings: Sequence[str] = ()
) -> list[str]:
    """A card as plain tables, and what has to be said with it.

    card: of an instrument; marks: each beside its limit; notes: in sentences; warnings: of likely
    slips, which come first.
    """
    digits = card_digits(card)
    readings = sum(len(one.readings_cm) for one in card.marks)
    low, high = card.marks[0].reference_cm, card.marks[-1].reference_cm
    lines = [
        f"Card of {card_name(card)}: {readings} readings at {len(card.marks)} marks, "
        f"{low:g} to {high:g} cm",
        "",
        *warning_lines(warnings),
        *found_lines(card),
        "",
    ]
    rows = [["reading", "length", "add", "u", "± (95 %)", ""], ["cm"] * 5 + [""]]
    for row in card_rows(card):
        rows.append(
            [
                f"{row['reads_cm']:g}",
                _told(row["length_cm"], digits),
                signed(row["add_cm"], digits),
                _told(row["u_cm"], digits),
                _told(row["plus_minus_cm"], digits),
                "drawn on" if row["drawn_on"] else "",
            ]
        )
    lines += [*aligned(rows, right=range(len(rows[0]) - 1)), ""]
    if any(one.permissible_cm is not None for one in marks):
        rows = [["mark", "error", "± (95 %)", "limit", ""], ["cm", "mm", "mm", "mm", "in class"]]
        for one in marks:
            rows.append(
                [
                    f"{one.reference_cm:g}",
                    signed(10 * one.error_cm, 2),
                    _told(None if one.expanded_cm is None else 10 * one.expanded_cm, 2),
                    _told(10 * (one.permissible_cm or 0.0), 1),
                    within_words(one),
                ]
            )
        lines += [*aligned(rows, right=range(len(rows[0]) - 1)), ""]
    for note in notes:
        lines += wrap(note, _WIDE)
    return lines


def warning_lines(warnings: Sequence[str]) -> list[str]:
    """Likely slips, as they stand above all else.

    warnings: in sentences.
    """
    lines = [line for one in warnings[:_MOST] for line in wrap(f"LOOK AGAIN  {one}", _WIDE)]
    if len(warnings) > _MOST:
        more = len(warnings) - _MOST
        lines.append(f"LOOK AGAIN  {more} more {'are' if more > 1 else 'is'} in --json.")
    return [*lines, ""] if lines else []


def found_lines(card: Card) -> list[str]:
    """Stretch and worn start, or scale and zero error, with u and interval.

    card: of an instrument.
    """
    tape = card.kind == "tape"
    ratio = "Stretch" if tape else "Scale"
    per_cent = card.stretch_percent if tape else card.scale_percent
    u_ratio = card.stretch_u_percent if tape else card.scale_u_percent
    ratio_interval = card.stretch_interval_percent if tape else card.scale_interval_percent
    zero = "Worn start" if tape else "Zero error"
    lines = [
        _found(ratio, per_cent, u_ratio, ratio_interval, "%"),
        _found(zero, card.start_cm, card.u_start_cm, card.start_interval_cm, "cm"),
    ]
    if card.residual_sd_cm is not None and card.found_correlation is not None:
        step = f"step {card.resolution_cm:g} cm" if card.resolution_cm else "no step"
        lines += [
            f"{'Spread':<11} {rounded(card.residual_sd_cm, 2)} cm about the line ({step}); "
            f"{freedom_words(card.degrees_of_freedom)}",
            f"{'Correlation':<11} of {found_names(card)} {signed(card.found_correlation)}",
        ]
    return lines


def _found(
    name: str, value: float, u: float | None, interval: tuple[float, float] | None, unit: str
) -> str:
    digits = 2
    if u:
        digits = len(rounded(u, 2).partition(".")[2])
    told = f"{name:<11} {_told(value, digits):>8} {unit:<3}"
    if u is None or interval is None:
        return f"{told} u not known: two marks"
    low, high = (_told(end, digits) for end in interval)
    return f"{told} u {rounded(u, 2)} {unit}; 95 % interval {low} to {high} {unit}"


def card_correction_lines(reading_cm: float, found: CorrectedByCard, card: Card) -> list[str]:
    """A reading corrected through a card.

    reading_cm: as the band told it; found: what was made of it; card: of the tape.
    """
    rows: list[tuple[str, Any, Any, str]] = [
        ("Girth", found.girth_cm, found.u_girth_cm, "cm"),
        ("Diameter", found.diameter_cm, found.u_diameter_cm, "cm"),
        ("Area", found.area_cm2, found.u_area_cm2, "cm²"),
    ]
    lines = [f"{'Reading':<9} {float(reading_cm):.2f} cm, by {card_name(card)}"]
    slips = warning_lines(card_slips(card))
    lines += ["", *slips] if slips else []
    for name, value, u, unit in rows:
        told = f"{name:<9} {float(value):.3f} {unit}"
        lines.append(told if u is None else f"{told}, u {rounded(float(u), 2)} {unit} by the card")
    if found.u_girth_cm is None:
        lines.append("The card has two marks only: how sure it is cannot be told.")
    if found.drawn_on:
        lines.append("The reading lies outside the card's marks: the line is only drawn on there.")
    parts = {"girth": float(found.girth_cm)}
    lines += ["", f"{'Undone':<21}{'cm':>10}", f"  {'girth':<19}{parts['girth']:>10.4f}"]
    for name, adds in found.breakdown.items():
        lines.append(f"  {name:<19}{signed(float(adds), 4):>10}")
    lines += [f"  {'reading':<19}{float(reading_cm):>10.4f}", ""]
    lines += wrap(
        "u is the card's part alone. The spread of the hand and the step of this reading come on "
        "top, and how the band lay cannot be known from the number.",
        _WIDE,
    )
    return lines


def _told(value: float | None, digits: int) -> str:
    return "" if value is None else signed(value, digits).lstrip("+")
