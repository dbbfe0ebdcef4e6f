"""One robust model of a class's readings: stems as blocks, hands and instruments apart.

The logarithm of a reading, a girth over π, is a stem's size, plus what its hand adds with that kind
of instrument, plus what the instrument adds, plus an oval's cos 2θ and sin 2θ for calipers. What a
hand or an instrument adds may be a share of the reading or a constant: both have a number, the
second times (mean size / size − 1), so that the first is what is added on a stem of mean size.
Calipers have one deviation a stem from girth/π: what is left of its shape. Readings of one cell
(stem, hand, instrument, direction) are one figure, and cells of one hand on one stem share how that
hand laid its instrument there: these, not single repeats, are the replicates. Weights
fall from one to nought between 2.5 and 5 standard deviations (a redescending M-estimate), so that a
blunder counts for nothing. Everything is sums over cells: no table of readings by parameters.
Assumes small errors (a few per cent), and ovals of two ripples. Method: iterated weighted least
squares with variance components by moments; common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.hand_sums import BLOCK, NormalSums
from mensura.estimates.readings import IntArray, Readings

#: Full weight up to so many standard deviations, none from so many.
FULL, NONE = 2.5, 5.0
#: What a standard deviation loses to these weights where all is normal, computed from them.
KEPT_VARIANCE = 0.986
#: What is believed beforehand of what grows otherwise than the reading: it is small.
SLOPE_SD = 0.03
_LEAST_CM = 0.02  # no reading is surer than its step allows
_ROUNDS = 40


@dataclass(frozen=True, eq=False)
class HandModel:
    """What the model found; girths and diameters are kinds 0 and 1.

    hand_of, hand_kind: of each pair of hand and kind that has readings; instrument_of,
    instrument_kind: of each instrument and kind; adds: for hands, then instruments, what each adds
    on a stem of mean size, a logarithm; slopes: the part that grows with mean size / size − 1;
    covariance: of adds and slopes together; size_cm: of each stem, nan where nothing was read;
    mean_size_cm: at which slopes count nothing; hand_column, instrument_column: of each reading
    used; used: places of the readings used; residual: of each, a logarithm; scale: its standard
    deviation; weight: from 0 to 1; degrees_of_freedom: left for the spread, by kind;
    between, within: by kind, standard deviations of a hand's lay from stem to stem and of readings
    in one place, logarithms at the mean size; rounds: until nothing moved; fit: what went on from
    for a second fit.
    """

    hand_of: IntArray
    hand_kind: IntArray
    instrument_of: IntArray
    instrument_kind: IntArray
    adds: FloatArray
    slopes: FloatArray
    covariance: FloatArray
    size_cm: FloatArray
    mean_size_cm: float
    hand_column: IntArray
    instrument_column: IntArray
    used: IntArray
    residual: FloatArray
    scale: FloatArray
    weight: FloatArray
    degrees_of_freedom: FloatArray
    between: FloatArray
    within: FloatArray
    rounds: int
    fit: _Fit


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


def weights(standardised: FloatArray) -> FloatArray:
    """How much readings count: 1 up to FULL standard deviations, 0 from NONE on.

    standardised: residuals in standard deviations.

    >>> weights(np.array([0.0, 2.5, 3.75, 5.0, 40.0])).tolist()
    [1.0, 1.0, 0.5, 0.0, 0.0]
    """
    return np.clip((NONE - np.abs(standardised)) / (NONE - FULL), 0.0, 1.0)


def fit_hands(readings: Readings) -> HandModel:
    """The model fitted.

    readings: of a class; those that are not above nought are left out. Raises ValueError where
    nothing is left.
    """
    return _Fit(readings).run()


def fit_again(
    model: HandModel, inflation: FloatArray | None = None, slope_sd: FloatArray | None = None
) -> HandModel:
    """The same readings, with something known of who reads them; goes on from where it stood.

    model: fitted; inflation: by how much each pair of hand and kind spreads more than the others,
    no unit; slope_sd: how far what each hand, then each instrument, adds may grow otherwise than
    the reading, a logarithm; None leaves either as it was.
    """
    fit: _Fit = model.fit
    if inflation is not None:
        fit.inflation = inflation
    if slope_sd is not None:
        fit.slope_sd = slope_sd
    fit._sizes()
    return fit.run(started=True)


class _Fit:
    """Columns of the readings used, and one round of the fit after another."""

    def __init__(self, readings: Readings) -> None:
        cm = readings.reading_cm
        self.used = np.flatnonzero(np.isfinite(cm) & (cm > 0))
        if not self.used.size:
            raise ValueError("no reading above nought")
        at = self.used
        self.kind = np.where(readings.girth[at], 0, 1)
        self.y = np.log(np.where(self.kind == 0, cm[at] / np.pi, cm[at]))
        self.stem_count = len(readings.stems)
        self.stem = readings.stem[at]
        pairs, self.hand = np.unique(readings.hand[at] * 2 + self.kind, return_inverse=True)
        self.hand_of, self.hand_kind = pairs // 2, pairs % 2
        pairs, self.instrument = np.unique(
            readings.instrument[at] * 2 + self.kind, return_inverse=True
        )
        self.instrument_of, self.instrument_kind = pairs // 2, pairs % 2
        self.inflation = np.ones(self.hand_of.size)
        self.slope_sd = np.full(self.hand_of.size + self.instrument_of.size, SLOPE_SD)
        direction = np.where(self.kind == 0, np.nan, readings.direction_deg[at])
        told = np.isfinite(direction)
        turn = np.radians(2 * np.where(told, direction, 0.0))
        # three classes of spread: girths, diameters of known direction, and of unknown
        self.spread_class = np.where(self.kind == 0, 0, np.where(told, 1, 2))
        whole = np.where(told, np.round(np.mod(np.where(told, direction, 0.0), 180.0)), 180.0)
        self._cells(whole.astype(np.int64) % 181, np.cos(turn) * told, np.sin(turn) * told)

    def _cells(self, direction: IntArray, along: FloatArray, across: FloatArray) -> None:
        """Which readings lie in one cell, and which cells belong to one hand on one stem."""
        group = self.stem * self.hand_of.size + self.hand
        key = (group * self.instrument_of.size + self.instrument) * 181 + direction
        _, first, self.cell = np.unique(key, return_index=True, return_inverse=True)
        self.first = first
        _, start, self.group = np.unique(group[first], return_index=True, return_inverse=True)
        self.group_first = first[start]
        self.c_stem, self.c_hand = self.stem[first], self.hand[first]
        self.c_instrument, self.c_kind = self.instrument[first], self.kind[first]
        self.c_class = self.spread_class[first]
        self.c_oval = np.stack([along[first], across[first]])
        self.cell_count, self.group_count = first.size, start.size
        self.group_cell = self.cell[self.group_first]
        kind = self.kind[self.group_first]
        others = 2 * (self.hand_of.size + self.instrument_of.size)
        self.sums = NormalSums(self._columns(), self.group, kind, self.stem_count, others)

    def run(self, started: bool = False) -> HandModel:
        """Rounds until nothing moves."""
        if not started:
            self._start()
        steps = 0
        for steps in range(1, _ROUNDS + 1):
            before = self.adds.copy()
            self._weigh()
            self._solve()
            self._spread(steps)
            moved = np.max(np.abs(self.adds - before)) if before.size else 0.0
            least = np.sqrt(np.min(np.diag(self.cov)))
            if (started or steps > 6) and moved < 1e-6 + 0.01 * least:
                break
        self._weigh()
        seen = np.bincount(self.stem, minlength=self.stem_count) > 0
        count = self.hand_of.size + self.instrument_of.size
        return HandModel(
            hand_of=self.hand_of,
            hand_kind=self.hand_kind,
            instrument_of=self.instrument_of,
            instrument_kind=self.instrument_kind,
            adds=self.adds[:count],
            slopes=self.adds[count:],
            covariance=self.cov,
            size_cm=np.where(seen, np.exp(self.size), np.nan),
            mean_size_cm=self.mean_cm,
            hand_column=self.hand,
            instrument_column=self.instrument,
            used=self.used,
            residual=self.residual,
            scale=self.scale,
            weight=self.w,
            degrees_of_freedom=self.df,
            between=np.sqrt(self.v_group),
            within=np.sqrt((self.v_cell + self.v_repeat)[:2]),
            rounds=steps,
            fit=self,
        )

    def _start(self) -> None:
        """Medians of stems, hands and instruments in turn: half the readings may be wrong."""
        y, count = self.y, self.hand_of.size + self.instrument_of.size
        hands, tools = np.zeros(self.hand_of.size), np.zeros(self.instrument_of.size)
        for _ in range(4):
            rest = y - hands[self.hand] - tools[self.instrument]
            # a stem nobody read has no size; no reading asks for it
            self.size = np.nan_to_num(medians(rest, self.stem, self.stem_count), nan=3.0)
            rest = y - self.size[self.stem]
            tools = medians(rest - hands[self.hand], self.instrument, tools.size)
            hands = medians(rest - tools[self.instrument], self.hand, hands.size)
        left = np.abs(y - self.size[self.stem] - hands[self.hand] - tools[self.instrument])
        spread = np.nan_to_num(1.4826 * medians(left, self.spread_class, 3)) ** 2
        self.adds = np.concatenate([hands, tools, np.zeros(count)])
        self.stem_part = np.zeros((self.stem_count, BLOCK))
        self.stem_part[:, 0] = self.size
        self.v_group, self.v_cell = spread[:2] / 2, spread / 2
        self.v_repeat = np.maximum(spread / 2, 1e-8)
        self.v_oval, self.v_shape = 0.03**2, 0.005**2
        self.power = np.zeros(2)
        self._sizes()

    def _sizes(self) -> None:
        self.size = np.clip(self.stem_part[:, 0], np.log(0.1), np.log(5000.0))
        count = np.bincount(self.c_stem, minlength=self.stem_count)
        self.mean_cm = float(np.sum(count) / np.sum(count * np.exp(-self.size)))
        self.z = np.clip(self.mean_cm * np.exp(-self.size) - 1, -0.95, 4.0)
        grows = (1 + self.z[self.c_stem]) ** self.power[self.c_kind]
        self.c_grow = grows * self.inflation[self.c_hand]

    def _fitted(self) -> FloatArray:
        """What the model says of each cell."""
        count = self.hand_of.size + self.instrument_of.size
        adds, slopes = self.adds[:count], self.adds[count:]
        tool = self.hand_of.size + self.c_instrument
        part = self.stem_part[self.c_stem]
        oval = part[:, 1] * self.c_oval[0] + part[:, 2] * self.c_oval[1]
        # log(1 + e cos 2θ) to second order, so that the mean of an oval's widths is girth/π
        self.second = np.clip(oval, -0.3, 0.3) ** 2 / 2
        fit = part[:, 0] + oval - self.second + part[:, 3] * self.c_kind
        z = self.z[self.c_stem]
        fit += adds[self.c_hand] + adds[tool] + z * (slopes[self.c_hand] + slopes[tool])
        return np.asarray(fit)

    def _weigh(self) -> None:
        """Residuals, and what each reading counts; then each cell's mean."""
        self.residual = self.y - self._fitted()[self.cell]
        kind_of = self.c_kind
        total = self.v_group[kind_of] + (self.v_cell + self.v_repeat)[self.c_class]
        self.floor = (_LEAST_CM * np.exp(-self.size[self.c_stem])) ** 2
        self.scale = np.sqrt(total * self.c_grow**2 + self.floor)[self.cell]
        self.w = weights(self.residual / self.scale)
        self.n = np.bincount(self.cell, self.w, self.cell_count)
        summed = np.bincount(self.cell, self.w * self.residual, self.cell_count)
        self.mean = summed / np.maximum(self.n, 1e-12)
        on = self.n > 0.02
        grow = self.c_grow**2
        own = self.v_cell[self.c_class] + self.v_repeat[self.c_class] / np.maximum(self.n, 0.02)
        self.p = np.where(on, np.minimum(self.n, 1.0) / (own * grow + self.floor), 0.0)
        # a group's shared lay, taken out of the sums (Woodbury): none where one cell is alone
        lay = (self.v_group[kind_of] * grow)[self.group_cell]
        self.sum_p = np.bincount(self.group, self.p, self.group_count)
        self.take = lay / (1 + lay * self.sum_p)

    def _numbers(self) -> FloatArray:
        """What each cell has at its columns."""
        z, one = self.z[self.c_stem], np.ones(self.cell_count)
        return np.stack([one, *self.c_oval, self.c_kind, one, one, z, z], axis=1)

    def _columns(self) -> IntArray:
        """The places of a cell's stem, hand and instrument, then of their slopes."""
        base, count = BLOCK * self.stem_count, self.hand_of.size + self.instrument_of.size
        hand, tool = base + self.c_hand, base + self.hand_of.size + self.c_instrument
        stem = BLOCK * self.c_stem
        return np.stack(
            [stem, stem + 1, stem + 2, stem + 3, hand, tool, hand + count, tool + count], axis=1
        )

    def _solve(self) -> None:
        """One step of weighted least squares."""
        stem_before = np.array([1e-9, 1 / self.v_oval, 1 / self.v_oval, 1 / self.v_shape])
        # 100 %: only to keep what cannot be told apart finite
        before = np.concatenate([np.ones(self.slope_sd.size), 1 / self.slope_sd**2])
        right = self.mean + self._linear()
        found = self.sums.solve(self._numbers(), right, self.p, self.take, stem_before, before)
        self.adds, self.cov, self.stem_part = found.others, found.covariance, found.stems
        self.inverse, self.taken = found.inverse, found.taken
        self._sizes()

    def _linear(self) -> FloatArray:
        """The fitted values but for their second-order part, which stands on the other side."""
        fit: FloatArray = self._fitted() + self.second
        return fit

    def _spread(self, step: int) -> None:
        """The variances of repeats, cells and lays, by moments of what is left."""
        left = self.y - self._fitted()[self.cell]
        grow = self.c_grow
        scaled = left / grow[self.cell]
        mean = np.bincount(self.cell, self.w * scaled, self.cell_count) / np.maximum(self.n, 1e-12)
        on = self.n > 0.02
        # within cells
        gaps = np.bincount(self.cell, self.w * (scaled - mean[self.cell]) ** 2, self.cell_count)
        free = np.maximum(self.n - 1, 0.0)
        gaps, free = (np.bincount(self.c_class, part, 3) for part in (gaps * (free > 0), free))
        none = free < 3
        repeat = np.where(none, 0.0, gaps / np.maximum(free, 1e-9)) / KEPT_VARIANCE
        # between cells of one hand on one stem
        at, cells = self.group[on], np.bincount(self.group[on], minlength=self.group_count)
        middle = np.bincount(at, mean[on], self.group_count) / np.maximum(cells, 1)
        several = cells[at] > 1
        inner = (mean[on] - middle[at]) ** 2 - (1 - 1 / cells[at]) * (
            repeat[self.c_class[on]] / np.maximum(self.n[on], 0.5)
        )
        share = (1 - 1 / cells[at]) * several
        tops = np.bincount(self.c_class[on], inner * several, 3)
        below = np.bincount(self.c_class[on], share, 3)
        ovals = np.where(below > 3, np.maximum(tops, 0.0) / np.maximum(below, 1e-9), 0.0)
        # between hands on stems
        own = (ovals + repeat / np.maximum(self.n, 0.5)[:, None])[
            np.arange(mean.size), self.c_class
        ]
        noise = np.bincount(at, own[on], self.group_count) / np.maximum(cells, 1) ** 2
        kind = self.kind[self.group_first]
        some = cells > 0
        squares = np.bincount(kind[some], middle[some] ** 2, 2)
        groups = np.bincount(kind[some], minlength=2)
        used = self.taken + 2 * np.bincount(self.hand_kind, minlength=2)
        used = used + 2 * np.bincount(self.instrument_kind, minlength=2) - 2
        # a tenth at least, where there are about as many numbers as figures
        self.df = np.maximum(groups - used, np.maximum(0.1 * groups, 1.0))
        total = squares / self.df / KEPT_VARIANCE
        expected = np.bincount(kind[some], noise[some], 2) / np.maximum(groups, 1)
        self.v_group = np.maximum(total - expected, 0.0)
        self.v_cell, self.v_repeat = ovals, repeat
        # a floor: all of the spread is in the lay if nothing was read twice
        self.v_repeat = np.maximum(self.v_repeat, 1e-8)
        self._ovals()
        if step in (3, 5):
            self._powers(left)

    def _ovals(self) -> None:
        """How oval the stems are, and how far their shapes take calipers off girth/π."""
        seen = np.bincount(self.c_stem, self.c_kind * (self.n > 0.02), self.stem_count) > 0
        if not np.any(seen):
            return
        squares = self.stem_part[seen] ** 2 + np.diagonal(self.inverse, axis1=1, axis2=2)[seen]
        self.v_oval = float(np.clip(np.mean(squares[:, 1:3]), 1e-6, 0.1**2))
        self.v_shape = float(np.clip(np.mean(squares[:, 3]), 0.001**2, 0.1**2))

    def _powers(self, left: FloatArray) -> None:
        """Whether spreads grow with the stem (0) or are as many cm on each (1), by kind."""
        z = np.log1p(self.z[self.stem])
        good = self.w > 0
        size = np.log(np.maximum(np.abs(left) / self.inflation[self.hand], 1e-5))
        for kind in (0, 1):
            at = good & (self.kind == kind)
            if np.count_nonzero(at) < 30 or np.ptp(z[at]) < 0.2:
                continue
            off = z[at] - np.mean(z[at])
            self.power[kind] = np.clip(np.sum(off * size[at]) / np.sum(off**2), 0.0, 1.0)
        self._sizes()
