"""How closely readings agree: of one hand with itself, and of hands with each other.

The method is that of ISO 5725-2: each hand stands for its *laboratory*, each stem for its *level*,
and cells may hold unequal numbers of readings. On one stem with hands i, n_i readings, means y_i:

- repeatability s_r² = Σ(n_i − 1)s_i² / Σ(n_i − 1), of one hand that reads again;
- between hands s_L² = (s_d² − s_r²)/n̄, never below 0, where s_d² = Σn_i(y_i − y)²/(p − 1) and
  n̄ = (Σn_i − Σn_i²/Σn_i)/(p − 1);
- reproducibility s_R² = s_r² + s_L², of another hand that reads.

One class with one instrument under one day's weather is what ISO 5725-3 calls intermediate
precision (another hand, all else the same), and less than reproducibility between laboratories.
s_L holds what a hand does on every stem and what it did on this one. Formulas from memory; they
give back the published figures of an experiment with 28 laboratories [ISO5725, clause 7].
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, plain
from mensura.estimates.cells import Cells
from mensura.estimates.readings import IntArray
from mensura.estimates.size_law import SizeLaw, fit_size_law
from mensura.estimates.variance_parts import crossed_parts

#: Two readings differ by less than this many standard deviations in 95 of 100 cases: 1.96·√2.
LIMIT_FACTOR = 2.8

#: What a page says beside the figures.
WHAT_IT_IS = (
    "Each hand stands for a laboratory of ISO 5725-2 and each stem for a level. One class with one "
    "instrument is intermediate precision (ISO 5725-3): another class, on another day, with "
    "another instrument, will differ by more."
)
WHERE_NO_REPEAT = (
    "No hand read a stem twice alike with this instrument, so there is no repeatability. What is "
    "left over after hand and stem (the residual) stands in its place; it is rather larger."
)


def limit_cm(standard_deviation_cm: ArrayLike) -> Any:
    """What two readings differ by at most in 95 of 100 cases, 2.8·s.

    standard_deviation_cm: of one reading, repeatability or reproducibility, cm. Returns cm. 2.8
    stands for 1.96·√2 = 2.772, for a normal spread [ISO5725, clause 4.1 of part 6, from memory].

    >>> round(limit_cm(0.25), 10)
    0.7
    """
    return plain(LIMIT_FACTOR * np.asarray(standard_deviation_cm, dtype=np.float64))


@dataclass(frozen=True)
class StemPrecision:
    """Precision on each stem, one a place in every array; nan where nothing can be told.

    hands: how many read it; readings: how many there are; repeats: degrees of freedom of the
    repeatability, readings less hands; mean_cm: of all readings; repeatability_cm: s_r;
    between_hands_cm: s_L, without the repeats' share; reproducibility_cm: s_R; hands_squares_cm2:
    Σn(y − ȳ)² over the hands; each_hand: n̄, readings that count for a hand.
    """

    hands: IntArray
    readings: IntArray
    repeats: IntArray
    mean_cm: FloatArray
    repeatability_cm: FloatArray
    between_hands_cm: FloatArray
    reproducibility_cm: FloatArray
    hands_squares_cm2: FloatArray
    each_hand: FloatArray

    @property
    def repeatability_limit_cm(self) -> FloatArray:
        """What two readings of one hand differ by at most in 95 of 100 cases."""
        return np.asarray(limit_cm(self.repeatability_cm))

    @property
    def reproducibility_limit_cm(self) -> FloatArray:
        """What readings of two hands differ by at most in 95 of 100 cases."""
        return np.asarray(limit_cm(self.reproducibility_cm))


@dataclass(frozen=True)
class Precision:
    """Precision with one instrument, or one kind of them.

    stems: on each stem; repeatability_cm, between_hands_cm, reproducibility_cm: pooled over the
    stems; repeats, freedom: degrees of freedom of the first and of the hands within stems;
    stands_for: "repeats", or "residual" where no hand read a stem twice and what a hand and a stem
    leave unexplained (the model's residual) stands in the place of the repeatability, or "nothing";
    repeatability_law, reproducibility_law: how they go with the stem's size, or None where fewer
    than three stems tell.
    """

    stems: StemPrecision
    repeatability_cm: float
    between_hands_cm: float
    reproducibility_cm: float
    repeats: int
    freedom: int
    stands_for: str
    repeatability_law: SizeLaw | None
    reproducibility_law: SizeLaw | None

    @property
    def repeatability_limit_cm(self) -> float:
        """What two readings of one hand differ by at most in 95 of 100 cases."""
        return float(limit_cm(self.repeatability_cm))

    @property
    def reproducibility_limit_cm(self) -> float:
        """What readings of two hands differ by at most in 95 of 100 cases."""
        return float(limit_cm(self.reproducibility_cm))


def stem_precision(table: Cells) -> StemPrecision:
    """Repeatability, between hands and reproducibility on each stem.

    table: of :func:`into_cells`. Source: [ISO5725, clause 7.4], formulas from memory.

    >>> from mensura.estimates.cells import into_cells
    >>> two = stem_precision(into_cells([0, 0, 1, 1], [0, 0, 0, 0], [30.0, 30.4, 31.0, 31.4]))
    >>> round(float(two.repeatability_cm[0]), 4), round(float(two.between_hands_cm[0]), 4)
    (0.2828, 0.6782)
    """
    count = table.count.astype(np.float64)
    hands = np.bincount(table.stem, minlength=table.stems)
    readings = table.over_stems(count)
    repeats = readings - hands
    # about a middle of all, so that nothing is lost where figures share their first places
    middle = float(table.mean_cm.mean())
    away = table.mean_cm - middle
    with np.errstate(invalid="ignore", divide="ignore"):
        mean = table.over_stems(count * away) / readings
        within = np.where(repeats > 0, table.over_stems(table.squares_cm2) / repeats, np.nan)
        apart = table.over_stems(count * np.square(away - mean[table.stem]))
        each = (readings - table.over_stems(count**2) / readings) / (hands - 1)
        each = np.where(hands > 1, each, np.nan)
        between = np.maximum((apart / (hands - 1) - within) / each, 0.0)
    return StemPrecision(
        hands,
        readings.astype(np.int64),
        repeats.astype(np.int64),
        middle + mean,
        np.sqrt(within),
        np.sqrt(between),
        np.sqrt(within + between),
        apart,
        each,
    )


def class_precision(table: Cells) -> Precision:
    """Precision pooled over stems, and as it goes with their size.

    table: of :func:`into_cells`. Squares and degrees of freedom are added up over the stems before
    anything is divided, so that a stem read by many counts for more. Where there is no repeat at
    all, the residual of reading = stem + hand stands for the repeatability (it holds what a hand
    did on this one stem too, so it is larger), and the hands' own part of the same model for the
    part between hands. Without outliers: `class_precision(table.only(~mark_outliers(table).
    outlying))`. Source: [ISO5725, clause 7], formulas from memory.

    >>> from mensura.estimates.cells import into_cells
    >>> read = class_precision(into_cells([0, 0, 1, 1] * 2, [0] * 4 + [1] * 4,
    ...     [30.0, 30.2, 30.3, 30.5, 50.0, 50.4, 50.3, 50.5]))
    >>> round(read.repeatability_cm, 4), round(read.between_hands_cm, 4), read.stands_for
    (0.1871, 0.1225, 'repeats')
    """
    stems = stem_precision(table)
    several = stems.hands > 1
    repeats = int(stems.repeats.sum())
    freedom = int((stems.hands - 1)[several].sum())
    nan = float("nan")
    if repeats == 0:
        parts = crossed_parts(table.hand, table.stem, table.mean_cm)
        within, between = parts.rest_cm2, max(parts.hands_cm2, 0.0)
        word = "nothing" if np.isnan(within) else "residual"
        r, between_hands = float(np.sqrt(within)), float(np.sqrt(between))
        return Precision(
            stems, r, between_hands, float(np.hypot(r, between_hands)), 0, freedom, word, None, None
        )
    within = float(table.squares_cm2.sum()) / repeats
    between = nan
    if freedom:
        each = float((stems.each_hand * (stems.hands - 1))[several].sum()) / freedom
        between = max(
            (float(stems.hands_squares_cm2[several].sum()) / freedom - within) / each, 0.0
        )
    return Precision(
        stems,
        float(np.sqrt(within)),
        float(np.sqrt(between)),
        float(np.sqrt(within + between)),
        repeats,
        freedom,
        "repeats",
        fit_size_law(stems.mean_cm, stems.repeatability_cm, stems.repeats),
        fit_size_law(stems.mean_cm, stems.reproducibility_cm, _freedom_of_reproducibility(stems)),
    )


def _freedom_of_reproducibility(stems: StemPrecision) -> FloatArray:
    """Degrees of freedom of s_R² on each stem, by Satterthwaite's formula: an approximation."""
    with np.errstate(invalid="ignore", divide="ignore"):
        hands = stems.hands_squares_cm2 / (stems.hands - 1)
        one, two = hands / stems.each_hand, (1 - 1 / stems.each_hand) * stems.repeatability_cm**2
        parts = one**2 / (stems.hands - 1) + two**2 / stems.repeats
        free = np.where(parts > 0, (one + two) ** 2 / parts, stems.hands - 1)
    return np.where(np.isfinite(free) & (stems.hands > 1), free, 0.0)
