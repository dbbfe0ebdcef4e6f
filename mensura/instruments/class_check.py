"""A class check: each mark's error against what the law lets a new tape of its class err.

A mark's error is its mean reading less the reference. It lies within the maximum permissible error
[UKSI2016, as OIML R 35-1], or not, only where its expanded uncertainty leaves no doubt; else it
cannot be decided with this reading. The limits hold at 20 °C and at the pull that the tape states,
for scales in units of length. A check for teaching; legal verification is another matter.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from mensura.checks import MeasureError
from mensura.instruments.line_fit import student_factor
from mensura.instruments.materials import MATERIALS, REFERENCE_C
from mensura.instruments.permissible import permissible_error_mm
from mensura.instruments.tape_card import Card, CheckedMark, columns_cm

#: What the most a band of any material here lengthens, per °C: for a band of which nobody said it.
MOST_PER_C = max(row.most_per_c or 0.0 for row in MATERIALS.values())


@dataclass(frozen=True)
class ClassedMark:
    """One mark beside its limit.

    reference_cm: the length; error_cm: mean reading less reference; expanded_cm: half the width of
    the error's 95 % interval, None where there is nothing to tell it from; permissible_cm: the
    limit, None where no class was named; warmth_cm: how far another temperature than 20 °C may have
    moved the error, where nobody said what the band is made of; within: true or false where that
    leaves no doubt, else None.
    """

    reference_cm: float
    error_cm: float
    expanded_cm: float | None
    permissible_cm: float | None
    warmth_cm: float
    within: bool | None


def check_class(
    card: Card, accuracy_class: str | None, end_surface: bool = False
) -> tuple[ClassedMark, ...]:
    """Each mark of a card against the limits of a class.

    card: of a tape; accuracy_class: one of CLASSES, None for the errors alone; end_surface: whether
    the tape starts at a hook or another end surface. Raises MeasureError for calipers or a class
    that there is not. Source of the limits: [UKSI2016]; of the decision: a limit is passed or kept
    where the whole interval is, common practice, no source.

    >>> from mensura.instruments.tape_card import card
    >>> true, read = [50, 100, 150, 200], [50.0, 100.01, 150.01, 200.02]
    >>> one = check_class(card(true, read, resolution_cm=0.01), "II")[0]
    >>> one.within, round(one.permissible_cm, 3), round(one.expanded_cm, 3)
    (True, 0.05, 0.014)
    """
    if accuracy_class is not None and card.kind != "tape":
        raise MeasureError(
            "accuracy_class", accuracy_class, "", "none: calipers have no class here"
        )
    spread = _spread(card)
    return tuple(_classed(card, one, accuracy_class, end_surface, spread) for one in card.marks)


def _classed(
    card: Card,
    mark: CheckedMark,
    accuracy_class: str | None,
    end_surface: bool,
    spread: tuple[float, float, float] | None,
) -> ClassedMark:
    expanded = None
    if spread is not None:
        own, least, free = spread
        hand = own / len(mark.readings_cm)
        reference = card.reference_u_cm**2
        reference += (card.reference_u_percent / 100 * mark.reference_cm) ** 2
        # the step stays with a mark's mean, however often it is read
        every = max(hand, least) + reference
        if every > 0:
            effective = free * (every / hand) ** 2 if hand > 1e-4 * every else np.inf
            expanded = student_factor(effective) * float(np.sqrt(every))
        else:
            expanded = 0.0
    warmth = _warmth_cm(card, mark)
    if accuracy_class is None:
        return ClassedMark(mark.reference_cm, mark.error_cm, expanded, None, warmth, None)
    permissible = permissible_error_mm(accuracy_class, mark.reference_cm / 100, end_surface) / 10
    within = None
    if expanded is not None:
        off, doubt = abs(mark.error_cm), expanded + warmth
        if off + doubt <= permissible:
            within = True
        elif off - doubt > permissible:
            within = False
    return ClassedMark(mark.reference_cm, mark.error_cm, expanded, permissible, warmth, within)


def _warmth_cm(card: Card, mark: CheckedMark) -> float:
    at = card.temperature_c
    return 0.0 if at is None else MOST_PER_C * abs(at - REFERENCE_C) * mark.reference_cm


def _spread(card: Card) -> tuple[float, float, float] | None:
    """Variance of one reading, the least variance of a mark's mean, and degrees of freedom.

    From the repeats, where there are any; else from the readings' spread about the line.
    """
    true, read = columns_cm(card.marks)
    least, repeats = card.resolution_cm**2 / 12, true.size - len(card.marks)
    if repeats > 0:
        means = {one.reference_cm: np.mean(one.readings_cm) for one in card.marks}
        left = read - np.array([means[one] for one in true])
        return float((left**2).sum()) / repeats, least, float(repeats)
    if card.residual_sd_cm is None:
        return None
    return card.residual_sd_cm**2, least, float(card.degrees_of_freedom)
