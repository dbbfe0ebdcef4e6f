"""One robust model of a class's readings: stems as blocks, hands and instruments apart.

The logarithm of a reading, a girth over π, is a stem's size, plus what its hand adds with that kind
of instrument, plus what the instrument adds, plus an oval's cos 2θ and sin 2θ for calipers. What a
hand or an instrument adds may be a share of the reading or a constant: both have a number, the
second times (mean size / size − 1), so that the first is what is added on a stem of mean size.
Calipers have one deviation a stem from girth/π: what is left of its shape. Cells and groups, not
single repeats, are the replicates (:mod:`mensura.estimates.hand_cells`). Weights fall from one to
nought between 2.5 and 5 standard deviations (a redescending M-estimate), so that a blunder counts
for nothing. Everything is sums over cells: no table of readings by parameters. Assumes small errors
(a few per cent) and ovals of two ripples. Method: iterated weighted least squares from medians,
variance components by moments; common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.hand_cells import DIAMETER, Cells, cells_of
from mensura.estimates.hand_sums import BLOCK, NormalSums, Solved
from mensura.estimates.hand_variances import LEAST_CM, Variances, medians, weights
from mensura.estimates.readings import IntArray, Readings

#: What is believed beforehand of what grows otherwise than the reading: it is small.
SLOPE_SD = 0.03
_MOST_ROUNDS = 40


@dataclass(frozen=True, eq=False)
class HandModel:
    """What the model found.

    cells: the readings used, in cells; adds: for each pair of hand and kind, then each instrument,
    what it adds on a stem of mean size, a logarithm; slopes: the part that goes with mean size /
    size − 1; covariance: of adds and slopes together; size_cm: diameter of each stem, nan where
    nothing was read; mean_size_cm: at which slopes count nothing; residual: of each reading used, a
    logarithm; scale: its standard deviation; weight: from 0 to 1; variances: of all kinds; rounds:
    until nothing moved; fit: goes on from here if asked again.
    """

    cells: Cells
    adds: FloatArray
    slopes: FloatArray
    covariance: FloatArray
    size_cm: FloatArray
    mean_size_cm: float
    residual: FloatArray
    scale: FloatArray
    weight: FloatArray
    variances: Variances
    rounds: int
    fit: _Fit

    @property
    def kind(self) -> IntArray:
        """The kind of each pair of hand and kind, then of each instrument."""
        return np.concatenate([self.cells.hand_kind, self.cells.instrument_kind])

    @property
    def columns(self) -> tuple[IntArray, IntArray]:
        """Of each reading used, its place among hands, and among instruments."""
        cells = self.cells
        return cells.hand[cells.cell], cells.instrument[cells.cell]


def fit_hands(readings: Readings) -> HandModel:
    """The model fitted.

    readings: of a class; those that are not above nought are left out. Raises ValueError where
    nothing is left.
    """
    return _Fit(cells_of(readings)).run()


def fit_again(
    model: HandModel, inflation: FloatArray | None = None, slope_sd: FloatArray | None = None
) -> HandModel:
    """The same readings, with something known of who reads them; goes on from where it stood.

    model: fitted; inflation: by how much each pair of hand and kind spreads more than the others,
    no unit; slope_sd: how far what each hand, then each instrument, adds may grow otherwise than
    the reading, a logarithm; None leaves either as it was.
    """
    fit = model.fit
    if inflation is not None:
        fit.inflation = inflation
    if slope_sd is not None:
        fit.slope_sd = slope_sd
    return fit.run(started=True)


class _Fit:
    """One round of the fit after another."""

    def __init__(self, cells: Cells) -> None:
        self.cells = cells
        self.inflation = np.ones(cells.hands)
        self.slope_sd = np.full(cells.judged, SLOPE_SD)
        # the places of a cell's stem, hand and instrument, then of their slopes
        base, count = BLOCK * cells.stem_count, cells.judged
        hand, tool = base + cells.hand, base + cells.hands + cells.instrument
        stem = [BLOCK * cells.stem + one for one in range(BLOCK)]
        columns = np.stack([*stem, hand, tool, hand + count, tool + count], axis=1)
        self.sums = NormalSums(columns, cells.group, cells.group_kind, cells.stem_count, 2 * count)

    def run(self, started: bool = False) -> HandModel:
        """Rounds until nothing moves."""
        if not started:
            self._start()
        rounds = 0
        for rounds in range(1, _MOST_ROUNDS + 1):
            before = self.adds
            self._weigh()
            solved = self._solve()
            self._spread(solved, rounds if not started else 0)
            count = self.cells.judged
            moved = np.max(np.abs(self.adds - before)[:count])
            least = np.sqrt(np.min(np.diag(solved.covariance)[:count]))
            if (started or rounds > 7) and moved < 1e-6 + 0.01 * least:
                break
        self._weigh()
        cells = self.cells
        seen = np.bincount(cells.stem, minlength=cells.stem_count) > 0
        return HandModel(
            cells=cells,
            adds=self.adds[: cells.judged],
            slopes=self.adds[cells.judged :],
            covariance=solved.covariance,
            size_cm=np.where(seen, np.exp(self.size), np.nan),
            mean_size_cm=self.mean_cm,
            residual=self.residual,
            scale=self.scale,
            weight=self.weight,
            variances=self.variances,
            rounds=rounds,
            fit=self,
        )

    def _start(self) -> None:
        """Medians of stems, hands and instruments in turn: half the readings may be wrong."""
        cells, y = self.cells, self.cells.log_size
        stem, hand, tool = (one[cells.cell] for one in (cells.stem, cells.hand, cells.instrument))
        hands, tools = np.zeros(cells.hands), np.zeros(cells.instrument_of.size)
        for _ in range(4):
            # a stem nobody read has no size; no reading asks for it
            sizes = medians(y - hands[hand] - tools[tool], stem, cells.stem_count)
            rest = y - np.nan_to_num(sizes, nan=3.0)[stem]
            tools = medians(rest - hands[hand], tool, tools.size)
            hands = medians(rest - tools[tool], hand, hands.size)
        left = rest - hands[hand] - tools[tool]
        self.variances = Variances.starting(left, cells.spread_class[cells.cell])
        self.adds = np.concatenate([hands, tools, np.zeros(cells.judged)])
        self.stem_part = np.zeros((cells.stem_count, BLOCK))
        self.stem_part[:, 0] = np.nan_to_num(sizes, nan=3.0)
        self._sizes()

    def _sizes(self) -> None:
        """Sizes of the stems, and how much larger or smaller than the mean."""
        self.size = np.clip(self.stem_part[:, 0], np.log(0.1), np.log(5000.0))
        count = np.bincount(self.cells.stem, minlength=self.cells.stem_count)
        self.mean_cm = float(np.sum(count) / np.sum(count * np.exp(-self.size)))
        self.z = np.clip(self.mean_cm * np.exp(-self.size) - 1, -0.95, 4.0)[self.cells.stem]

    def _grows(self) -> FloatArray:
        """By how much each cell's spread is larger than on a stem of mean size."""
        power = self.variances.power[self.cells.kind]
        return np.asarray((1 + self.z) ** power * self.inflation[self.cells.hand])

    def _fitted(self) -> FloatArray:
        """What the model says of each cell."""
        cells = self.cells
        adds, slopes = self.adds[: cells.judged], self.adds[cells.judged :]
        hand, tool = cells.hand, cells.hands + cells.instrument
        part = self.stem_part[cells.stem]
        oval = part[:, 1] * cells.along + part[:, 2] * cells.across
        self.slope = 2 * (part[:, 2] * cells.along - part[:, 1] * cells.across)
        # log(1 + e cos 2θ) to second order, so that the mean of an oval's widths is girth/π
        self.second = np.clip(oval, -0.3, 0.3) ** 2 / 2
        fit = part[:, 0] + oval - self.second + part[:, 3] * cells.kind
        fit += adds[hand] + adds[tool] + self.z * (slopes[hand] + slopes[tool])
        return np.asarray(fit)

    def _weigh(self) -> None:
        """Residuals, and what each reading counts; then each cell's mean and precision."""
        cells, variances = self.cells, self.variances
        self.fitted = self._fitted()
        self.residual = cells.log_size - self.fitted[cells.cell]
        grow, size = self._grows() ** 2, cells.stem.size
        floor = (LEAST_CM * np.exp(-self.size[cells.stem])) ** 2
        single = variances.of_cells(cells, np.ones(size), self.slope) + variances.lay[cells.kind]
        self.scale = np.sqrt(single * grow + floor)[cells.cell]
        self.weight = weights(self.residual / self.scale)
        if self._found_again():
            self.residual = cells.log_size - self.fitted[cells.cell]
            self.weight = weights(self.residual / self.scale)
        n = np.bincount(cells.cell, self.weight, size).astype(np.float64, copy=False)
        summed = np.bincount(cells.cell, self.weight * self.residual, size)
        self.mean = summed / np.maximum(n, 1e-12)
        own = variances.of_cells(cells, n, self.slope) * grow + floor
        self.precision = np.where(n > 0.02, np.minimum(n, 1.0) / own, 0.0)
        # a group's shared lay is taken out of the sums (Woodbury's identity)
        lay = (variances.lay[cells.kind] * grow)[cells.group_cell]
        self.take = lay / (1 + lay * np.bincount(cells.group, self.precision, lay.size))

    def _found_again(self) -> bool:
        """Whether a stem had lost all its readings; its size is their median again."""
        cells = self.cells
        stem = cells.stem[cells.cell]
        counts = np.bincount(stem, minlength=cells.stem_count)
        lost = (np.bincount(stem, self.weight, cells.stem_count) <= 0.02) & (counts > 0)
        if not lost.any():
            return False
        off = np.nan_to_num(medians(self.residual, stem, cells.stem_count))
        self.stem_part[lost, 0] += off[lost]
        self.fitted = self._fitted()
        return True

    def _solve(self) -> Solved:
        """One step of weighted least squares."""
        cells, z, one = self.cells, self.z, np.ones(self.z.size)
        numbers = np.stack([one, cells.along, cells.across, cells.kind, one, one, z, z], axis=1)
        oval, shape = 1 / self.variances.oval, 1 / self.variances.shape
        # 100 %: only to keep what cannot be told apart finite
        before = np.concatenate([np.ones(cells.judged), 1 / self.slope_sd**2])
        solved = self.sums.solve(
            numbers,
            self.mean + self.fitted + self.second,
            self.precision,
            self.take,
            np.array([1e-9, oval, oval, shape]),
            before,
        )
        self.adds, self.stem_part = solved.others, solved.stems
        self._sizes()
        return solved

    def _spread(self, solved: Solved, step: int) -> None:
        """The variances, from what is left now."""
        cells, variances = self.cells, self.variances
        left = cells.log_size - self._fitted()[cells.cell]
        if step in (3, 5, 7):
            plain = left / self.inflation[cells.hand][cells.cell]
            variances.find_powers(cells, plain, self.weight, np.log1p(self.z))
        scaled = left / self._grows()[cells.cell]
        if step in (3, 5, 7):
            variances.find_turn(cells, scaled, self.weight, self.slope)
        variances.find(cells, scaled, self.weight, self.slope, solved)
        seen = np.bincount(cells.stem, cells.kind == DIAMETER, cells.stem_count) > 0
        variances.find_shapes(self.stem_part, solved, seen)
