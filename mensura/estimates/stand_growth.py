"""The mean growth of many stems: what comes anew with each stem averages out, what all share stays.

n stems are taped twice. How much their growths differ, by nature and by reading, makes the mean
unsure by s/√n. A tape's card, a hand and a season are the same for all n: with the same both times
they leave the growth's own share, with others an error of whole girths that no number of stems
makes smaller. So the mean growth of a stand asks for the same tape and hand more than one stem's.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import MeasureError, number, plain
from mensura.estimates.growth import (
    CHANCE_ERRORS,
    SAME,
    Again,
    ReadingDoubts,
    growth_parts,
)


@dataclass(frozen=True)
class StandGrowth:
    """The mean growth in girth of some stems, and how sure it is.

    stem_count: taped twice; between_years: from one to the other; growth_cm: their mean;
    spread_cm: standard deviation of the growths as read; averaged_cm: spread over the root of the
    count; shared_cm: what all stems have in common; u_growth_cm: both together; a_year_cm,
    u_a_year_cm: by the years; stands_out: whether the mean lies over 1.96 uncertainties from 0.
    """

    stem_count: int
    between_years: float
    growth_cm: float
    spread_cm: float
    averaged_cm: float
    shared_cm: float
    u_growth_cm: float
    a_year_cm: float
    u_a_year_cm: float
    stands_out: bool


def stand_growth(
    first_girths_cm: ArrayLike,
    second_girths_cm: ArrayLike,
    between_years: float,
    doubts: ReadingDoubts | None = None,
    again: Again = SAME,
) -> StandGrowth:
    """Mean growth of stems that were taped twice.

    first_girths_cm, second_girths_cm: of the same stems in the same order, two or more, cm;
    between_years: above 0; doubts, again: of the readings, by which only what all stems share is
    added: the rest is in the spread already. First order in shares [GUM1995, clauses 4.2.3 and
    5.2.2]. For few stems 1.96 is too small a factor. Raises MeasureError.

    >>> one = stand_growth([80.0, 100.0, 120.0], [82.0, 103.0, 124.0], 5.0)
    >>> one.growth_cm, one.spread_cm, round(one.averaged_cm, 4), round(one.shared_cm, 4)
    (3.0, 1.0, 0.5774, 0.0069)
    """
    first = np.atleast_1d(number(first_girths_cm, "first_girths_cm", "cm", above=0.0))
    second = np.atleast_1d(number(second_girths_cm, "second_girths_cm", "cm", above=0.0))
    if first.ndim != 1 or first.shape != second.shape or first.size < 2:
        raise MeasureError("second_girths_cm", second.size, "", "as many as first, two or more")
    time = float(number(between_years, "between_years", "years", above=0.0, at_most=1000.0))
    growths = second - first
    spread = float(growths.std(ddof=1))
    averaged = spread / float(np.sqrt(first.size))
    shared = _shared_cm(first.mean(), second.mean(), doubts, again)
    mean, u = float(growths.mean()), float(np.hypot(averaged, shared))
    return StandGrowth(
        stem_count=int(first.size),
        between_years=time,
        growth_cm=mean,
        spread_cm=spread,
        averaged_cm=averaged,
        shared_cm=float(shared),
        u_growth_cm=u,
        a_year_cm=mean / time,
        u_a_year_cm=u / time,
        stands_out=abs(mean) > CHANCE_ERRORS * u,
    )


def u_mean_growth_cm(
    stem_count: ArrayLike,
    girth_cm: ArrayLike,
    growth_cm: ArrayLike,
    grows_apart_cm: ArrayLike,
    doubts: ReadingDoubts | None = None,
    again: Again = SAME,
) -> Any:
    """Standard uncertainty that a mean growth will have, for a plan, cm of girth.

    stem_count: n, at least 1; girth_cm: mean at the first reading, above 0, cm; growth_cm: mean;
    grows_apart_cm: standard deviation of true growths, at least 0, cm; they broadcast; doubts,
    again: of the readings. √((s² + new²)/n + shared²) [GUM1995, clauses 4.2.3 and 5.2.2]. Raises
    MeasureError.

    >>> round(u_mean_growth_cm(1, 100.0, 5.0, 0.0), 3), round(u_mean_growth_cm(1e6, 100, 5, 0), 3)
    (0.287, 0.011)
    >>> from mensura.estimates.growth import OTHER
    >>> round(u_mean_growth_cm(1e6, 100.0, 5.0, 0.0, again=OTHER), 3)
    0.361
    """
    count = number(stem_count, "stem_count", "", at_least=1.0)
    apart = number(grows_apart_cm, "grows_apart_cm", "cm", at_least=0.0)
    first = number(girth_cm, "girth_cm", "cm", above=0.0)
    second = first + number(growth_cm, "growth_cm", "cm")
    new = sum(
        np.square(part.u_cm())
        for part in growth_parts(first, second, doubts, again)
        if part.each_stem
    )
    shared = _shared_cm(first, second, doubts, again)
    return plain(np.sqrt((np.square(apart) + new) / count + np.square(shared)))


def _shared_cm(first_cm: Any, second_cm: Any, doubts: ReadingDoubts | None, again: Again) -> Any:
    """What all stems have in common, of the mean growth."""
    parts = growth_parts(first_cm, second_cm, doubts, again)
    return np.sqrt(sum(np.square(part.u_cm()) for part in parts if not part.each_stem))
