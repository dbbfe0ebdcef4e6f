"""Who spreads: readings that lie farther from the model than those of the others.

The unit is a hand on one stem, not a single reading: the root mean square of what is left there, in
standard deviations of all. Each counts at most 3, and the largest are left out of the figure that
is told, so that a blunder makes nobody spread. Means of such units are compared with those of the
others, as Levene does it (from memory), the skewness of a mean of few allowed for. The one that
stands out most is taken first and its readings are left out for the next.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.hand_cells import BoolArray
from mensura.estimates.hand_model import HandModel
from mensura.estimates.readings import IntArray

#: What a unit counts at most, in standard deviations.
MOST = 3.0
#: Beyond so many standard deviations a figure was written wrong.
_SLIP = 15.0
#: So much of the largest is left out where a spread is given as a figure.
_TRIMMED = 0.15
#: Of the size of a normal number, rounded; a mean of n has it divided by √n.
_SKEWNESS = 1.0
#: Of fewer stems nothing is said.
FEWEST = 5


@dataclass(frozen=True, eq=False)
class Spreads:
    """How each hand, then each instrument, spreads.

    times: the others' spread; share: of one reading, standard deviation, a logarithm; chance: that
    it stands out so by chance, one-sided; spreads: whether it does.
    """

    times: FloatArray
    share: FloatArray
    chance: FloatArray
    spreads: BoolArray


def spreads_of(
    model: HandModel,
    stem: IntArray,
    inflation: FloatArray,
    matters: float,
    times: float,
    level: float,
) -> Spreads:
    """Who spreads more than the others of his kind.

    model: fitted; stem: of each reading used; inflation: that went into the model, by pair of hand
    and kind; matters: least spread that is told, a logarithm; times: the others', at least; level:
    chance that anyone of sound ones is told.
    """
    from scipy.special import stdtr

    hands, count, kind = model.cells.hands, model.cells.judged, model.kind
    plain = model.scale / inflation[model.columns[0]]
    # a slip of writing is no spread
    near = np.abs(model.residual) < _SLIP * plain
    hand, tool = (one[near] for one in model.columns)
    _, first, unit = np.unique(
        (stem[near] * hands + hand) * model.cells.instrument_of.size + tool,
        return_index=True,
        return_inverse=True,
    )
    plain = plain[near]
    squares = np.minimum(np.abs(model.residual[near]) / plain, 2 * MOST) ** 2
    root = np.sqrt(np.bincount(unit, squares) / np.bincount(unit))
    capped = np.minimum(root, MOST)
    of = np.stack([hand[first], hands + tool[first]])
    unit_kind, usual = kind[of[0]], np.bincount(unit, plain) / np.bincount(unit)
    in_play = np.ones(first.size, bool)
    found = np.zeros(count, bool)
    ratio, chance, share = np.full(count, np.nan), np.ones(count), np.full(count, np.nan)
    while True:
        for one in np.flatnonzero(~found):
            mine = (of[0] == one) | (of[1] == one)
            rest = in_play & ~mine & (unit_kind == kind[one])
            mine &= in_play
            if mine.sum() < FEWEST or rest.sum() < FEWEST:
                chance[one] = 1.0
                continue
            a, b = capped[mine], capped[rest]
            error = np.std(b, ddof=1) * np.sqrt(1 / a.size + 1 / b.size)
            stands = (a.mean() - b.mean()) / max(error, 1e-12)
            stands -= (stands**2 - 1) * _SKEWNESS / np.sqrt(a.size) / 6
            chance[one] = stdtr(b.size - 1, -stands)
            ratio[one] = _trimmed(root[mine]) / max(_trimmed(root[rest]), 1e-12)
            share[one] = ratio[one] * np.median(usual[mine])
        tells = ~found & (chance * (count - found.sum()) <= level)
        tells &= (np.nan_to_num(ratio) >= times) & (np.nan_to_num(share) >= matters)
        if not tells.any():
            return Spreads(ratio, share, chance, found)
        worst = int(np.flatnonzero(tells)[np.argmin(chance[tells])])
        found[worst] = True
        in_play &= (of[0] != worst) & (of[1] != worst)


def _trimmed(root: FloatArray) -> float:
    kept = np.sort(root**2)[: max(1, int(np.ceil(root.size * (1 - _TRIMMED))))]
    return float(np.sqrt(np.mean(kept)))
