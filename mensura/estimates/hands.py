"""Who and what was off: a verdict on each hand with each kind of instrument, and each instrument.

A verdict needs both: the bias is beyond chance (5 % over all hands and instruments together, by
Holm's steps, from memory) and large enough to matter. A bias is what one reads less what the others
agree on. It is a share of the reading or a constant, whichever fits its readings on small and large
stems decidedly better. What cannot be told is not guessed: `cannot-tell`, and why.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.hand_model import SLOPE_SD, HandModel, fit_again, fit_hands
from mensura.estimates.hand_reference import Against, against_others
from mensura.estimates.hand_spreads import Spreads, spreads_of
from mensura.estimates.hand_verdict import HandsJudged, Judged, Matters
from mensura.estimates.hand_words import Circumstances, notes_on, why
from mensura.estimates.readings import KINDS, IntArray, Readings

#: Of the 5 %, what is kept for who spreads; the rest is for biases.
SPREADS_SHARE = 0.4
#: A form is told if it is three times as likely as the other: chi squared less by so much.
DECIDED = 2 * float(np.log(3))
#: From here on it is sure, 5 %.
SURE = 3.84
#: How far what sound ones add may grow otherwise than the reading, a logarithm.
SOUND_SLOPE_SD = 0.002
#: So few hands or instruments as this are judged, and no more: a class, not a country.
MOST_JUDGED = 400


def judge_hands(readings: Readings, matters: Matters | None = None) -> HandsJudged:
    """What each hand and each instrument was worth.

    readings: of a class, as typed: blunders count for nothing; matters: what is large enough to be
    told, the defaults if None.

    >>> from mensura.estimates.drawn_practical import faulty_practical
    >>> for one in judge_hands(faulty_practical(3).readings).accused:
    ...     print(one.name, one.kind, one.verdict, one.form, one.unit)
    Q03 girth reads-low share %
    K3 diameter reads-high constant cm
    T2 girth reads-low share %
    """
    matters = matters or Matters()
    notes = notes_on(readings, MOST_JUDGED)
    usable = np.isfinite(readings.reading_cm) & (readings.reading_cm > 0)
    crowd = max(len(readings.hands), len(readings.instruments)) > MOST_JUDGED
    if not np.any(usable) or crowd:
        return HandsJudged((), (), notes, None, {}, None)
    model, against, spreads = _fitted(readings, matters)
    verdicts = _Verdicts(readings, matters, model, against, spreads).all()
    hands = model.cells.hands
    sizes = {
        code: float(size)
        for code, size in zip(readings.stems, model.size_cm, strict=True)
        if np.isfinite(size)
    }
    return HandsJudged(
        tuple(verdicts[:hands]), tuple(verdicts[hands:]), notes, model.mean_size_cm, sizes, model
    )


def _fitted(readings: Readings, matters: Matters) -> tuple[HandModel, Against, Spreads]:
    """The model, fitted once with nothing known and once more with what that told."""
    least = float(np.log1p(matters.share_percent / 100))
    level = matters.chance_percent / 100 * SPREADS_SHARE
    model = fit_hands(readings)
    none = np.ones(model.cells.hands)
    stem, small = readings.stem[model.cells.used], matters.spread_percent / 100
    spreads = spreads_of(model, stem, none, small, matters.spreads_times, level)
    # who spreads weighs less, and has the wider interval
    inflation = np.where(spreads.spreads, spreads.times, 1.0)[: none.size]
    against = against_others(model, least)
    # of whom nothing gives reason to doubt it, what he adds grows as the reading does
    doubt = np.abs(against.adds) > 3 * np.sqrt(against.adds_var)
    doubt |= np.abs(against.slopes) > 3 * np.sqrt(against.slopes_var)
    doubt |= np.abs(against.adds) > least
    model = fit_again(model, inflation, np.where(doubt, SLOPE_SD, SOUND_SLOPE_SD))
    return model, against_others(model, least), spreads


def holm(chances: FloatArray, level: float) -> IntArray:
    """Which are beyond chance, so that over all of them together sound ones are told with `level`.

    chances: of each alone; level: over all, from 0 to 1. The least has to pass level/n, the next
    level/(n − 1), and so on until one fails (Holm 1979, from memory).

    >>> holm(np.array([0.03, 0.01, 0.04]), 0.05).tolist()
    [False, True, False]
    """
    order = np.argsort(chances)
    passed = chances[order] * np.arange(chances.size, 0, -1) <= level
    found = np.zeros(chances.size, bool)
    found[order] = np.cumprod(passed).astype(bool)
    return found


@dataclass(frozen=True, eq=False)
class _Verdicts:
    """What the numbers say, one hand or instrument after another."""

    readings: Readings
    matters: Matters
    model: HandModel
    against: Against
    spreads: Spreads

    def all(self) -> list[Judged]:
        from scipy.special import stdtr

        model, against = self.model, self.against
        kind, hands = model.kind, model.cells.hands
        stems, counts = self._met()
        error = np.sqrt(np.maximum(against.adds_var, 1e-16))
        free = np.maximum(np.minimum(stems - 1, model.variances.degrees_of_freedom[kind]), 1.0)
        chance = 2 * stdtr(free, -np.abs(against.adds) / error)
        open_ = self._told(error)
        level = self.matters.chance_percent / 100 * (1 - SPREADS_SHARE)
        beyond = np.zeros(chance.size, bool)
        beyond[open_] = holm(chance[open_], level)
        codes = [self.readings.hands[i] for i in model.cells.hand_of]
        codes += [self.readings.instruments[i] for i in model.cells.instrument_of]
        return [
            self._one(
                at, codes[at], at < hands, int(kind[at]), bool(beyond[at]), bool(open_[at]),
                float(free[at]), int(stems[at]), int(counts[at]), float(chance[at]),
            )
            for at in range(chance.size)
        ]  # fmt: skip

    def _met(self) -> tuple[IntArray, IntArray]:
        """On how many stems, and on how many readings, each rests."""
        model, hands = self.model, self.model.cells.hands
        good = model.weight > 0
        stem, count = self.readings.stem[model.cells.used][good], len(self.readings.stems)
        stems, counts = [], []
        for column, size in (
            (model.columns[0][good], hands),
            (model.columns[1][good], model.cells.instrument_of.size),
        ):
            met = np.unique(column * count + stem) // count
            stems.append(np.bincount(met, minlength=size))
            counts.append(np.bincount(column, minlength=size))
        return np.concatenate(stems), np.concatenate(counts)

    def _told(self, error: FloatArray) -> IntArray:
        """Of whom something can be told: set against enough others, and held to them by stems."""
        against, hands = self.against, self.model.cells.hands
        told = (against.agreeing > against.rival) | (against.agreeing > against.others)
        told &= (against.others > 0) & (error < 0.25)
        alone = (against.users < 2) & (np.arange(told.size) >= hands)
        # a hand whose instruments nobody else had
        count = np.bincount(against.part[:hands], minlength=told.size)
        told &= (count[against.part] > 1) & (not self._equal)
        told &= ~alone & against.tied & ~against.contested
        return np.asarray(told)

    def _one(
        self, at: int, code: str, is_hand: bool, kind: int, beyond: bool, told: bool,
        free: float, stems: int, count: int, chance: float,
    ) -> Judged:  # fmt: skip
        from scipy.special import stdtrit

        form = self._form(at) if beyond else "unclear"
        add, variance = self._bias(at, form)
        size = self.model.mean_size_cm * (np.pi if kind == 0 else 1.0)
        unit, scale = ("cm", size) if form == "constant" else ("%", 100.0)
        half = float(stdtrit(free, 0.975)) * np.sqrt(max(variance, 1e-16))
        bias, low, high = (scale * float(np.expm1(v)) for v in (add, add - half, add + half))
        percent, constant = (
            self.matters.share_percent,
            self.matters.girth_cm if kind == 0 else self.matters.diameter_cm,
        )
        needed = constant if form == "constant" else percent
        if form == "unclear":
            needed = max(percent, 100 * constant / size)
        elif form == "constant" and not self._form_sure(at):
            # a small bias of sound ones is no constant because it looks a little more like one
            needed = max(constant, percent * size / 100)
        large = abs(bias) >= needed
        vague = (high - low) / 2 > needed or large
        spreads = bool(self.spreads.spreads[at])
        verdict = "cannot-tell" if not told or vague else "sound"
        # of a kind several parts read with nothing in common: the instrument or all its hands
        untied = not bool(self.against.tied[at])
        sided, crossed = bool(self.against.sided[at]), self._crossed(at)
        if told and beyond and large and not sided:
            verdict = "reads-high" if bias > 0 else "reads-low"
        elif spreads:
            verdict = "spreads"
        elif crossed or (verdict == "sound" and self._astray(at)):
            verdict = "cannot-tell"
        known = half < 0.25 and self.against.others[at] > 0
        known &= not untied or bool(self.against.decided[at])
        times, share = float(self.spreads.times[at]), 100 * float(self.spreads.share[at])
        judged = Judged(
            name=code,
            kind=KINDS[kind],
            verdict=verdict,
            form=form,
            bias=bias if known else None,
            interval=(low, high) if known else None,
            unit=unit,
            why="",
            spreads=spreads,
            spread_percent=share if np.isfinite(share) else None,
            spread_times=times if np.isfinite(times) else None,
            stems=stems,
            readings=count,
            chance=chance,
        )
        hands, part = self.model.cells.hands, self.against.part
        told_by = Circumstances(
            is_hand=is_hand,
            beyond=beyond,
            needed=needed,
            marked=self.matters.marked,
            users=self._users(at),
            others=int(self.against.others[at]),
            agreeing=int(self.against.agreeing[at]),
            rival=int(self.against.rival[at]),
            mates=int(np.count_nonzero(part[:hands] == part[at])),
            of_kind=int(np.count_nonzero(self.model.cells.hand_kind == kind)),
            untied=untied,
            mixed=not is_hand and self._mixed(at),
            alone=int(np.count_nonzero(part[hands:] == part[at])) == 1,
            sided=told and beyond and large and sided,
            crossed=crossed,
            astray=self._astray(at),
            contested=bool(self.against.contested[at]),
            equal=self._equal,
        )
        return replace(judged, why=why(judged, told_by))

    @property
    def _equal(self) -> bool:
        return bool(np.ptp(self.readings.reading_cm[self.model.cells.used]) == 0)

    def _users(self, at: int) -> tuple[str, ...]:
        """Codes of the hands that had an instrument, or of the instruments that a hand had."""
        model, hands = self.model, self.model.cells.hands
        of_hand, of_tool = model.columns
        if at < hands:
            tools = np.unique(of_tool[of_hand == at])
            return tuple(self.readings.instruments[i] for i in model.cells.instrument_of[tools])
        mine = np.unique(of_hand[of_tool == at - hands])
        return tuple(self.readings.hands[i] for i in model.cells.hand_of[mine])

    def _crossed(self, at: int) -> bool:
        """Whether the other kind sides with several hands, and not with this and the most."""
        sided, part = self.against.sided, self.against.part
        is_hand = at < self.model.cells.hands
        return is_hand and not sided[at] and bool(np.sum(sided[part == part[at]]) > 1)

    def _astray(self, at: int) -> bool:
        """Whether a hand and all that hang together with it read off, by what only they had."""
        against, hands = self.against, self.model.cells.hands
        mine = (against.part == against.part[at]) & ~against.tied
        mine[:hands] = False
        least = float(np.log1p(self.matters.share_percent / 100))
        error = np.sqrt(np.maximum(against.adds_var, 0.0))
        far = (np.abs(against.adds) >= least) & (np.abs(against.adds) > 2 * error)
        return at < hands and bool(np.any(mine & far))

    def _mixed(self, at: int) -> bool:
        """Whether the hands that read with an instrument had another of its kind."""
        of_hand, of_tool = self.model.columns
        mine = of_hand[of_tool == at - self.model.cells.hands]
        return bool(np.unique(of_tool[np.isin(of_hand, mine)]).size > 1)

    def _form_sure(self, at: int) -> bool:
        share, constant = self._misfits(at)
        return abs(share - constant) >= SURE

    def _form(self, at: int) -> str:
        """A share, a constant, or neither decidedly better."""
        share, constant = self._misfits(at)
        if not abs(share - constant) >= DECIDED:
            return "unclear"
        return "share" if share < constant else "constant"

    def _misfits(self, at: int) -> tuple[float, float]:
        """How badly a share and a constant fit, chi squared of one."""
        a, b = self.against.adds[at], self.against.slopes[at]
        share = b**2 / max(self.against.slopes_var[at], 1e-16)
        return float(share), float((b - a) ** 2 / max(self._gap_variance(at), 1e-16))

    def _gap_variance(self, at: int) -> float:
        one = self.against
        return float(one.adds_var[at] + one.slopes_var[at] - 2 * one.both_cov[at])

    def _bias(self, at: int, form: str) -> tuple[float, float]:
        """What it adds at the mean size and its variance, with the form taken for granted."""
        one = self.against
        add, variance = one.adds[at], one.adds_var[at]
        if form == "unclear":
            return float(add), float(variance)
        if form == "share":
            off, spread, both = one.slopes[at], one.slopes_var[at], one.both_cov[at]
        else:
            off, spread = one.slopes[at] - add, self._gap_variance(at)
            both = one.both_cov[at] - variance
        return float(add - both / spread * off), float(variance - both**2 / spread)
