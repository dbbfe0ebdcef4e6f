"""What a practical will be able to find: the bias that is found in nine of ten, by simulation.

The very plan is walked by invented classes, one of its hands or instruments off by so much, and
the study's own verdict is asked. Found is what gets the verdict on its own side: reads-high where
it was planted high. Each walk's size is chosen by those before, near the size that is looked for.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from mensura.checks import FloatArray, whole
from mensura.draws import uniforms
from mensura.estimates.drawn_practical import Planted, PracticalClass, drawn_practical
from mensura.estimates.field_design import FieldDesign
from mensura.estimates.hand_verdict import Matters
from mensura.estimates.hands import judge_hands

#: In how many of all practicals a bias of the announced size is found.
FOUND_SHARE = 0.9
#: More than this, of the reading at the mean stem, nobody would need a study for.
LARGEST_PERCENT = 12.0
#: Where no line marks the stem, each hand finds height and direction: spreads, assumed.
UNMARKED_LAY_PERCENT, UNMARKED_JAWS_PERCENT = 0.5, 0.6

#: Seconds that all simulated walks may take, as on our desk: a walk's own and a reading's.
_ALL_S, _WALK_S, _TURN_S = 40.0, 0.011, 1.2e-5
_LEAST_DRAWS, _MOST_DRAWS = 60, 400


@dataclass(frozen=True)
class Detectable:
    """The size of one kind of bias that is found in nine of ten practicals.

    who: "hand" or "instrument"; kind: "girth" or "diameter"; form: "share" or "constant"; size: of
    the bias, None where even the largest is found less often; interval: of the size, 95 %, since
    it was simulated; unit: of both, "%" or "cm" of its own kind; draws: simulated practicals.
    """

    who: str
    kind: str
    form: str
    size: float | None
    interval: tuple[float, float] | None
    unit: str
    draws: int


def expected_class(design: FieldDesign, of: PracticalClass | None = None) -> PracticalClass:
    """How much a class is expected to spread; more where each hand finds height and direction.

    design: of the practical; of: a class, whose spreads on marked stems are kept.

    >>> from mensura.estimates.field_design import field_design
    >>> bare = field_design(("Q01", "Q02"), 3, ("T1",), 1, "alder", marked=False)
    >>> round(expected_class(bare).lay_percent, 4)
    0.5831
    """
    of = of or PracticalClass()
    if design.marked:
        return of
    return replace(
        of,
        lay_percent=float(np.hypot(of.lay_percent, UNMARKED_LAY_PERCENT)),
        jaws_percent=float(np.hypot(of.jaws_percent, UNMARKED_JAWS_PERCENT)),
    )


def draws_for(design: FieldDesign) -> int:
    """How many practicals are simulated for each kind of bias, so that a minute is enough.

    design: of the practical; the same for ever, whatever the desk.
    """
    each = _WALK_S + _TURN_S * design.turn_count
    cells = 4 * len(set(design.kinds))
    return int(np.clip(_ALL_S / cells / each, _LEAST_DRAWS, _MOST_DRAWS))


def planted_of(
    design: FieldDesign,
    who: str,
    kind: str,
    form: str,
    size: float,
    seed: int,
) -> Planted:
    """A bias of one of the plan's hands or instruments; the seed says of which, and its side.

    design: of the practical; who, kind, form, size: as in Detectable; seed: names the draw.
    """
    u = uniforms(2, "detectable", seed)
    if who == "hand":
        codes: tuple[str, ...] = design.hands
    else:
        pairs = zip(design.instruments, design.kinds, strict=True)
        codes = tuple(code for code, one in pairs if one == kind)
    code = codes[int(u[0] * len(codes))]
    value = size if u[1] < 0.5 else -size
    if form == "share":
        return Planted(code, kind, share_percent=value)
    return Planted(code, kind, off_cm=value)


def found(
    design: FieldDesign,
    planted: Planted,
    seed: int,
    of: PracticalClass,
    matters: Matters | None = None,
) -> bool:
    """Whether one practical of this plan finds what was planted, by the study's own verdict.

    design: walked; planted: into it; seed: names the class that is drawn; of: its spreads; matters:
    what is large enough to be told.
    """
    readings = drawn_practical(seed, (planted,), of=of, design=design).readings
    judged = judge_hands(readings, matters or Matters(marked=design.marked))
    high = planted.share_percent + planted.off_cm > 0
    verdict = "reads-high" if high else "reads-low"
    listed = judged.hands if planted.who in design.hands else judged.instruments
    return any(
        one.name == planted.who and one.kind == planted.kind and one.verdict == verdict
        for one in listed
    )


def detectable(
    design: FieldDesign,
    of: PracticalClass | None = None,
    matters: Matters | None = None,
    draws: int | None = None,
    progress: Callable[[float], None] | None = None,
) -> tuple[Detectable, ...]:
    """What a plan will be able to find: each kind of bias, as a share and as a constant.

    design: of the practical; of: the class's expected spreads on marked stems; matters: what is
    large enough to be told; draws: simulated practicals for each, draws_for(design) if None;
    progress: told, now and then, the share that is done. Raises MeasureError.
    """
    draws = draws_for(design) if draws is None else whole(draws, "draws", at_least=20, at_most=9999)
    of = expected_class(design, of)
    sought = [
        (who, kind, form)
        for kind in ("girth", "diameter")
        if kind in design.kinds
        for who in ("hand", "instrument")
        for form in ("share", "constant")
    ]
    answers = []
    for at, (who, kind, form) in enumerate(sought):
        tell = _part_of(progress, at, len(sought))
        answers.append(_sought(design, of, matters, who, kind, form, draws, tell))
    return tuple(answers)


def _part_of(progress: Callable[[float], None] | None, at: int, of: int) -> Callable[[float], None]:
    def tell(share: float) -> None:
        if progress is not None:
            progress((at + share) / of)

    return tell


def _sought(
    design: FieldDesign,
    of: PracticalClass,
    matters: Matters | None,
    who: str,
    kind: str,
    form: str,
    draws: int,
    tell: Callable[[float], None],
) -> Detectable:
    mean_cm = (of.least_cm + of.most_cm) / 2 * (np.pi if kind == "girth" else 1.0)
    unit, scale = ("%", 1.0) if form == "share" else ("cm", mean_cm / 100)
    belief = _Belief()
    done = 0
    for done in range(1, draws + 1):
        percent = belief.next_percent(done)
        seed = 1_000_000 + done  # far from the seeds with which anybody checks
        planted = planted_of(design, who, kind, form, percent * scale, seed)
        belief.learn(percent, found(design, planted, seed, of, matters))
        if done % 10 == 0:
            tell(done / draws)
            if done >= 40 and belief.percent > LARGEST_PERCENT:
                break
    tell(1.0)
    low, high = belief.interval_percent
    if belief.percent > LARGEST_PERCENT:
        return Detectable(who, kind, form, None, None, unit, done)
    size = belief.percent * scale
    return Detectable(who, kind, form, size, (low * scale, high * scale), unit, done)


class _Belief:
    """Where the size may lie that is found in nine of ten, and how steeply chances rise there.

    The chance is taken for Φ(z₀.₉ + k(x/x₉₀ − 1)), an approximation that has to hold near x₉₀ only,
    since that is where sizes are tried: where about 78 % and 96 % are found, in turn.
    """

    def __init__(self) -> None:
        from scipy.special import ndtri

        self.log_size = np.linspace(np.log(0.15), np.log(2.5 * LARGEST_PERCENT), 240)[:, None]
        self.steep = np.geomspace(1.0, 28.0, 16)[None, :]
        self.log_chance: FloatArray = np.zeros((self.log_size.size, self.steep.size))
        self.at = float(ndtri(FOUND_SHARE))
        self.tried = [float(ndtri(share)) for share in (0.78, 0.96)]

    def learn(self, percent: float, was_found: bool) -> None:
        """One more practical."""
        from scipy.special import log_ndtr

        z = self.at + self.steep * (percent / np.exp(self.log_size) - 1)
        self.log_chance = self.log_chance + log_ndtr(z if was_found else -z)

    def next_percent(self, turn: int) -> float:
        """The size to try."""
        steep = float(np.sum(self._chances() * self.steep))
        z = self.tried[turn % 2]
        factor = float(np.clip(1 + (z - self.at) / steep, 0.6, 1.4))
        return float(min(self.percent * factor, 2 * LARGEST_PERCENT))

    def _chances(self) -> FloatArray:
        weights = np.exp(self.log_chance - self.log_chance.max())
        return np.asarray(weights / weights.sum())

    @property
    def percent(self) -> float:
        """The likeliest size, a mean of logarithms."""
        return float(np.exp(np.sum(self._chances() * self.log_size)))

    @property
    def interval_percent(self) -> tuple[float, float]:
        """95 % of it."""
        sums = np.cumsum(self._chances().sum(axis=1))
        low, high = np.searchsorted(sums, [0.025, 0.975])
        sizes = np.exp(self.log_size[:, 0])
        return float(sizes[low]), float(sizes[min(high, sizes.size - 1)])
