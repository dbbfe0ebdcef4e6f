"""Readings of a stand or of logs after what a card and a practical found is taken off them.

A reading of which nothing is left is refused with its row, and readings outside the marks of the
card are told with theirs; what was typed stays as it is in the file.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from mensura.checks import shown
from mensura.disk.check_file import FileError
from mensura.disk.readings_table import rows_told
from mensura.estimates import card_correction
from mensura.estimates.card_correction import CardCorrection
from mensura.estimates.card_rows import card_name

if TYPE_CHECKING:
    from mensura.checks import FloatArray
    from mensura.estimates.class_correction import ClassCorrection
    from mensura.instruments.tape_card import Card


def brought_back_cm(
    reading_cm: FloatArray,
    rows: Sequence[int],
    file: str,
    kind: str,
    corrections: Sequence[CardCorrection | ClassCorrection],
) -> tuple[FloatArray, list[str]]:
    """Readings corrected, and what has to be said of them, in sentences.

    reading_cm: as the file has them, shape (n,); rows: of each, its line; file: its name; kind:
    "girth" or "diameter"; corrections: at least one. Raises FileError where nothing is left.
    """
    left = card_correction.brought_back_cm(reading_cm, corrections)
    gone = np.flatnonzero((left <= 0) & (reading_cm > 0))
    if gone.size:
        at = int(gone[0])
        wrong = f"has a {kind} of {reading_cm[at]:.4g} cm, of which the correction leaves nothing"
        expected = f"{kind}s above what hand and instrument read too much"
        raise FileError(file, f"row {rows[at]}", wrong, expected)
    cards = [one.card for one in corrections if isinstance(one, CardCorrection)]
    return left, [said for one in cards for said in _outside(one, reading_cm, rows, file)]


def _outside(card: Card, reading_cm: FloatArray, rows: Sequence[int], file: str) -> list[str]:
    """That readings lie outside the marks of a card, where some do."""
    read = np.flatnonzero(reading_cm > 0)
    if not read.size:
        return []
    places = read[np.atleast_1d(card.drawn_on(reading_cm[read]))]
    if not places.size:
        return []
    low, high = card.marks[0].reference_cm, card.marks[-1].reference_cm
    return [
        f"{rows_told([rows[at] for at in places])} of {shown(file)}: outside the marks of the card "
        f"of {card_name(card)}, {low:g} to {high:g} cm ({reading_cm[places[0]]:.4g} cm). Its line "
        "is only drawn on there, and how sure it is was not tried."
    ]
