"""The whole way, on one page: a practical's verdicts, a stand's readings, cubic metres a hectare.

The hand and the instrument that measured the stand are among those that the practical judged. What
they were off is taken off, what the practical left unsure goes into the budget, and both volumes
stand beside each other: as read, and corrected.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import pi
from typing import Protocol

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.class_correction import (
    ClassCorrection,
    ClassFound,
    all_errors_after,
    corrected_cm,
    corrections_of,
)
from mensura.estimates.input_errors import DEFAULTS, InputError
from mensura.estimates.practical_parts import Studied
from mensura.estimates.remedies import Gain, what_first
from mensura.estimates.stand import Plots, Stand, Trees, stand
from mensura.estimates.stand_budget import StandBudget, stand_budget
from mensura.estimates.stand_chain import Chain
from mensura.estimates.tree_volume import FormFactor


class MeasuredTrees(Protocol):
    """The trees of plots as a file holds them: what is read of each, and the plots."""

    @property
    def plots(self) -> Plots:
        """As listed."""

    @property
    def diameter_cm(self) -> FloatArray:
        """Of each tree, from its girth where girths were read."""

    @property
    def height_m(self) -> FloatArray:
        """Of each tree."""

    @property
    def from_girths(self) -> bool:
        """Whether girths were read."""

    def trees(self, volume_m3: FloatArray) -> Trees:
        """The trees, once the volume_m3 of each is known."""


@dataclass(frozen=True)
class TimberChain:
    """A stand as it was read, and as it is after the practical.

    corrections: of the hand, then of the instrument; as_read, corrected: the stand; budget: of the
    corrected volume; gains: of each remedy, the most for an hour first; form_factor: by which trees
    became volumes.
    """

    corrections: tuple[ClassCorrection, ...]
    as_read: Stand
    corrected: Stand
    budget: StandBudget
    gains: tuple[Gain, ...]
    form_factor: float


def timber_chain(
    study: Studied | ClassFound,
    measured: MeasuredTrees,
    hand: str,
    instrument: str,
    form_factor: float = 0.45,
    errors: Sequence[InputError] = DEFAULTS,
    cards: Mapping[str, InputError] | None = None,
) -> TimberChain:
    """From a practical and a stand to a volume a hectare that can be trusted as far as it says.

    study: of the practical; measured: the stand's trees; hand, instrument: codes of who measured
    them all with what; form_factor: of the trees, without a unit, above 0; errors: of the inputs,
    in which those of hand and instrument give way to what the practical found, but for what the
    instrument shares with those it was judged against; cards: of those, by code, where they are at
    hand. Assumes that hand and instrument were on the plots as they were in the practical. Raises
    MeasureError, and ChoiceError for a code that was not in the practical.
    """
    kind = "girth" if measured.from_girths else "diameter"
    corrections = corrections_of(study, hand, instrument, kind)
    after_it = all_errors_after(study, corrections, errors, cards)
    rule = FormFactor(form_factor)
    around = pi if measured.from_girths else 1.0
    corrected = np.asarray(corrected_cm(measured.diameter_cm * around, *corrections)) / around
    before = _trees(measured, measured.diameter_cm, rule)
    after = _trees(measured, corrected, rule)
    budget = stand_budget(
        Chain(after, measured.plots, rule.unchecked_m3, girth=measured.from_girths), after_it
    )
    return TimberChain(
        corrections,
        stand(before, measured.plots),
        stand(after, measured.plots),
        budget,
        what_first(budget),
        form_factor,
    )


def _trees(measured: MeasuredTrees, diameter_cm: FloatArray, rule: FormFactor) -> Trees:
    volumes = np.asarray(rule.volume_m3(diameter_cm, measured.height_m))
    return replace(measured.trees(volumes), diameter_cm=diameter_cm)
