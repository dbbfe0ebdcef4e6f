"""How a class's readings spread, and where: repeats, places, lays, turned calipers, shapes.

Variances are found by moments of what the model leaves, less what its own numbers have taken up,
and each level less what the level below puts into it. Assumes that all hands spread alike but for
what is told of them; whoever spreads more is found by :mod:`mensura.estimates.hand_spreads`.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.hand_cells import DIAMETER, BoolArray, Cells
from mensura.estimates.hand_sums import Solved
from mensura.estimates.readings import IntArray

#: Full weight up to so many standard deviations, none from so many.
FULL, NONE = 2.5, 5.0
#: What a variance keeps under these weights where all is normal, computed from them.
KEPT_VARIANCE = 0.986
#: No reading is surer than its step allows, cm.
LEAST_CM = 0.02
#: Calipers are hardly ever turned off by more than so much, standard deviation, radians.
_MOST_TURNED = 0.2


def weights(standardised: FloatArray) -> FloatArray:
    """How much readings count: 1 up to FULL standard deviations, 0 from NONE on.

    standardised: residuals in standard deviations.

    >>> weights(np.array([0.0, 2.5, 3.75, 5.0, 40.0])).tolist()
    [1.0, 1.0, 0.5, 0.0, 0.0]
    """
    return np.clip((NONE - np.abs(standardised)) / (NONE - FULL), 0.0, 1.0)


def medians(values: FloatArray, labels: IntArray, count: int) -> FloatArray:
    """The median of the values under each label, nan where there is none.

    values: any unit; labels: from 0 to count − 1; count: of labels.

    >>> medians(np.array([1.0, 5.0, 2.0, 9.0]), np.array([0, 0, 0, 2]), 3).tolist()
    [2.0, nan, 9.0]
    """
    order = np.lexsort((values, labels))
    sizes = np.bincount(labels, minlength=count)
    first = np.cumsum(sizes) - sizes
    found = np.full(count, np.nan)
    some = sizes > 0
    low = values[order[first[some] + (sizes[some] - 1) // 2]]
    found[some] = (low + values[order[first[some] + sizes[some] // 2]]) / 2
    return found


@dataclass(eq=False)
class Variances:
    """Variances of logarithms on a stem of mean size.

    lay: by kind, of a hand from stem to stem; place: by class of spread, of one cell; repeat: of a
    reading in it; turn: of calipers' direction, radians squared; oval: of the stems' cos 2θ and
    sin 2θ; shape: of calipers' mean about girth/π; power: by kind, 0 where spreads grow with the
    stem, 1 where they are as many cm on each; degrees_of_freedom: left for lay, by kind.
    """

    lay: FloatArray
    place: FloatArray
    repeat: FloatArray
    turn: float = 0.0
    oval: float = 0.03**2
    shape: float = 0.005**2
    power: FloatArray = field(default_factory=lambda: np.zeros(2))
    degrees_of_freedom: FloatArray = field(default_factory=lambda: np.ones(2))

    @classmethod
    def starting(cls, left: FloatArray, spread_class: IntArray) -> Variances:
        """Half for the lay and half for the rest, from medians, and twice that: they fit closely.

        left: of each reading, a logarithm; spread_class: of each.
        """
        spread = np.nan_to_num(1.4826 * medians(np.abs(left), spread_class, 3)) ** 2
        return cls(spread[:2], spread, np.maximum(spread, 1e-8))

    def of_cells(self, cells: Cells, count: FloatArray, slope: FloatArray) -> FloatArray:
        """The variance of each cell's figure about its hand's lay, squared logarithms.

        cells: of the readings; count: how many readings' worth each holds; slope: of the oval
        there, a radian.
        """
        of = cells.spread_class
        return self.place[of] + self.repeat[of] / np.maximum(count, 0.02) + self.turn * slope**2

    def find(
        self,
        cells: Cells,
        left: FloatArray,
        weight: FloatArray,
        slope: FloatArray,
        solved: Solved,
    ) -> None:
        """Lay, place and repeat, from what is left.

        cells: of the readings; left: of each reading, on the mean size's scale; weight: of each;
        slope: of the oval at each cell, a radian; solved: the last solution.
        """
        size, of = cells.stem.size, cells.spread_class
        n = np.bincount(cells.cell, weight, size).astype(np.float64, copy=False)
        mean = np.bincount(cells.cell, weight * left, size) / np.maximum(n, 1e-12)
        on = n > 0.02
        # repeats
        gaps = np.bincount(cells.cell, weight * (left - mean[cells.cell]) ** 2, size)
        free = np.maximum(n - 1, 0.0)
        gaps, free = (np.bincount(of, part, 3) for part in (gaps * (free > 0), free))
        self.repeat = np.where(free < 3, 0.0, gaps / np.maximum(free, 1e-9)) / KEPT_VARIANCE
        # places of one hand on one stem; an oval's two numbers are mostly found in them
        group = cells.group[on]
        count = np.bincount(group, minlength=cells.group_cell.size)
        middle = np.bincount(group, mean[on], count.size) / np.maximum(count, 1)
        share = np.where(on, 1 - 1 / np.maximum(count, 1)[cells.group], 0.0)
        below = self.repeat[of] / np.maximum(n, 0.5) + self.turn * slope**2
        off = np.where(on, (mean - middle[cells.group]) ** 2, 0.0) * (share > 0)
        degrees, off, known = (np.bincount(of, part, 3) for part in (share, off, share * below))
        oval = np.array([0.0, self._ovals_taken(cells, solved, n, slope), 0.0])
        kept = np.maximum(1 - oval / np.maximum(degrees, 1e-9), 0.2)
        place = (off / KEPT_VARIANCE / kept - known) / np.maximum(degrees, 1e-9)
        self.place = np.where(degrees > 3, np.maximum(place, 0.0), 0.0)
        # hands on stems
        own = np.where(on, self.place[of] + below, 0.0)
        noise = np.bincount(cells.group, own, count.size) / np.maximum(count, 1) ** 2
        kind, some = cells.group_kind, count > 0
        squares = np.bincount(kind[some], middle[some] ** 2, 2)
        groups = np.bincount(kind[some], minlength=2)
        kinds = np.concatenate([cells.hand_kind, cells.instrument_kind] * 2)
        used = solved.taken + np.bincount(kinds, solved.others_taken, 2)
        used[DIAMETER] -= oval[DIAMETER]
        # a tenth at least, where there are about as many numbers as figures
        self.degrees_of_freedom = np.maximum(groups - used, np.maximum(0.1 * groups, 1.0))
        total = squares / self.degrees_of_freedom / KEPT_VARIANCE
        expected = np.bincount(kind[some], noise[some], 2) / np.maximum(groups, 1)
        self.lay = np.maximum(total - expected, 0.0)
        # where nothing was read twice, all of the spread is in the lay
        self.repeat = np.maximum(self.repeat, 1e-8)

    def _ovals_taken(self, cells: Cells, solved: Solved, n: FloatArray, slope: FloatArray) -> float:
        """How many degrees of freedom the ovals take from places, within a hand on a stem."""
        p = np.where(n > 0.02, 1 / np.maximum(self.of_cells(cells, n, slope), 1e-12), 0.0)
        size = cells.group_cell.size
        in_all = np.bincount(cells.group, p, size)
        total = between = 0.0
        for part in (cells.along, cells.across):
            total += float(np.sum(p * part**2))
            means = np.bincount(cells.group, p * part, size) / np.maximum(in_all, 1e-12)
            lay = self.lay[cells.group_kind]
            between += float(np.sum(means**2 * in_all / (1 + lay * in_all)))
            total -= float(np.sum(means**2 * in_all * (1 - 1 / (1 + lay * in_all))))
        if total <= 0:
            return 0.0
        return solved.oval_taken * (1 - between / total)

    def find_shapes(self, part: FloatArray, solved: Solved, seen: BoolArray) -> None:
        """How oval the stems are, and how far their shapes take calipers off girth/π.

        part: of each stem, its four numbers; solved: the last solution; seen: which stems calipers
        have read, yes or no.
        """
        if np.any(seen):
            squares = part[seen] ** 2 + np.diagonal(solved.inverse, axis1=1, axis2=2)[seen]
            self.oval = float(np.clip(np.mean(squares[:, 1:3]), 1e-6, 0.1**2))
            self.shape = float(np.clip(np.mean(squares[:, 3]), 0.001**2, 0.1**2))

    def find_powers(
        self, cells: Cells, left: FloatArray, weight: FloatArray, rise: FloatArray
    ) -> None:
        """Whether spreads grow with the stem (0) or are as many cm on each (1), by kind.

        cells: of the readings; left: of each, a logarithm; weight: of each; rise: of each cell,
        the logarithm of mean size over its stem's.
        """
        kind, size = cells.kind[cells.cell], np.log(np.maximum(np.abs(left), 1e-5))
        rises = rise[cells.cell]
        for one in (0, 1):
            at = (weight > 0) & (kind == one)
            if np.count_nonzero(at) < 30 or np.ptp(rises[at]) < 0.2:
                continue
            off = rises[at] - np.mean(rises[at])
            self.power[one] = np.clip(np.sum(off * size[at]) / np.sum(off**2), 0.0, 1.0)

    def find_turn(
        self, cells: Cells, left: FloatArray, weight: FloatArray, slope: FloatArray
    ) -> None:
        """How far calipers are turned off the direction told: more is left where an oval is steep.

        cells: of the readings; left: of each, on the mean size's scale; weight: of each; slope: of
        the oval at each cell, a radian.
        """
        at = (cells.spread_class[cells.cell] == DIAMETER) & (weight > 0.5)
        if np.count_nonzero(at) < 60:
            return
        squares, steep = left[at] ** 2, slope[cells.cell][at] ** 2
        off = steep - np.mean(steep)
        found = np.sum(off * squares) / max(np.sum(off**2), 1e-30)
        self.turn = float(np.clip(found, 0.0, _MOST_TURNED**2))
