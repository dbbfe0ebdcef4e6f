"""Tape or calipers: which gives the smaller error in a plot's basal area in one morning.

The model, in full. A plot has so many stems, all alike: ellipses of one size and one
out-of-roundness, their axes pointing anywhere. The crew reads every stem, as often as the morning
allows, the same number of times each. A stem takes the walk to it, and for each reading the
instrument's minutes, which grow with the stem and with the undergrowth. A reading is what a sound
instrument reads on the oval, with the hand's spread, new each time, and what the instrument's own
correction leaves unsure, the same on all stems: that does not average out. The error is the root
mean square error of the plot's basal area: what is always too much (the bias), and what is now too
much and now too little (the spread), √(bias² + spread²). It is exact for this model
(:mod:`mensura.estimates.stem_scatter`); the defaults are what is assumed.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import LARGEST_CM, ChoiceError, FloatArray, MeasureError, number, plain
from mensura.estimates.stem_scatter import WAYS, oval_widths, stem_scatter
from mensura.instruments.tape_card import Card
from mensura.stems.compartment import StandingStem

#: Nobody reads a stem more often, however much time there is.
MOST_READINGS = 12

#: The ways in which each instrument's readings become an area.
WAYS_OF = {"tape": ("girth",), "calipers": ("directions", "pairs", "products")}


@dataclass(frozen=True)
class Kit:
    """One instrument in one crew's hands.

    name: "tape" or "calipers"; hand_cm: one standard deviation of single readings of the same stem,
    its step included, a girth's for a tape; common_cm: standard uncertainty of what is the same in
    all its readings, as a card leaves it; reading_min: minutes for one reading of the thinnest stem
    on clear ground; per_10_cm_min: more for each 10 cm of diameter; brush_share: by how much of
    itself that grows in dense undergrowth; opening_cm: widest that it takes, None for no limit.
    Raises MeasureError for what cannot be.

    >>> round(TAPE.minutes_a_reading_min(40, 0), 9)
    0.7
    """

    name: str
    hand_cm: float
    common_cm: float
    reading_min: float
    per_10_cm_min: float
    brush_share: float
    opening_cm: float | None = None

    def __post_init__(self) -> None:
        if self.name not in WAYS_OF:
            raise ChoiceError("name", self.name, WAYS_OF)
        for field, unit in (
            ("hand_cm", "cm"),
            ("common_cm", "cm"),
            ("per_10_cm_min", "min"),
            ("brush_share", ""),
        ):
            number(getattr(self, field), field, unit, at_least=0.0, at_most=1000.0)
        number(self.reading_min, "reading_min", "min", above=0.0, at_most=1000.0)
        if self.opening_cm is not None:
            number(self.opening_cm, "opening_cm", "cm", above=0.0, at_most=LARGEST_CM)

    def minutes_a_reading_min(self, diameter_cm: ArrayLike, undergrowth: ArrayLike) -> Any:
        """Minutes for one reading.

        diameter_cm: of the stem; undergrowth: 0 on clear ground to 1 in dense brush.
        """
        bare = self.reading_min + self.per_10_cm_min * np.asarray(diameter_cm, float) / 10
        return plain(bare * (1 + self.brush_share * np.asarray(undergrowth, float)))

    def carded(self, card: Card, reading_cm: float) -> Kit:
        """The same instrument, with its card's uncertainty as what all its readings share.

        card: of the instrument; reading_cm: near which it is used. Raises MeasureError for a card
        that gives no uncertainty, one of two marks.
        """
        unsure = card.u_true_cm(reading_cm)
        if unsure is None:
            raise MeasureError("card", len(card.marks), "marks", "three marks or more")
        return replace(self, common_cm=float(unsure))

    def paced(self, reading_min: float, diameter_cm: float = 40.0) -> Kit:
        """The same instrument in a slower or quicker hand, by the same factor on every stem.

        reading_min: minutes for one reading on clear ground; diameter_cm: of the stem it was tried
        on.

        >>> CALIPERS.paced(1.1).reading_min, CALIPERS.paced(1.1).per_10_cm_min
        (0.14, 0.24)
        """
        times = float(reading_min / self.minutes_a_reading_min(diameter_cm, 0.0))
        return replace(
            self,
            reading_min=round(self.reading_min * times, 12),
            per_10_cm_min=round(self.per_10_cm_min * times, 12),
        )

    @property
    def round_cm(self) -> float:
        """What a reading of a round stem is for each cm of its diameter, in cm."""
        return float(np.pi) if self.name == "tape" else 1.0


#: What we take where nobody says other. Spreads: diameters by calipers, 0.3 cm between four trained
#: people [Luoma2017], in which some of the stem's own directions may already be; a tape by experts,
#: diameters that differ by 1.8 mm on average [Butt2013]: 1.8·√π/2 = 1.6 mm, 0.5 cm of girth.
#: Minutes: our assumption. No published minutes for a stem were found; that calipers are faster,
#: and the tape better in brush and round very large trees, is the rule of [Kleinn2007]'s course.
TAPE = Kit("tape", 0.5, 0.15, 0.38, 0.08, 0.5)
CALIPERS = Kit("calipers", 0.3, 0.05, 0.07, 0.12, 2.0, 80.0)


@dataclass(frozen=True)
class Morning:
    """A plot, and the time there is for it.

    diameter_cm: of every stem, that of the circle of its area: the root of longest times shortest;
    out_of_round_percent: longer less shorter diameter, over the shorter [ForSci1975];
    undergrowth: 0 on clear ground to 1 in dense brush; stem_count: on the plot; time_min: for all
    of it; walk_min: to a stem, to find its breast height and to write down, on clear ground;
    brush_walk_min: more of that in dense brush. One of the first three may be several at once.
    Raises MeasureError for what cannot be.

    >>> Morning(out_of_round_percent=25.0).axis_ratio
    0.8
    """

    diameter_cm: Any = 40.0
    out_of_round_percent: Any = 11.0
    undergrowth: Any = 0.1
    stem_count: int = 18
    time_min: float = 60.0
    walk_min: float = 1.0
    brush_walk_min: float = 1.0

    def __post_init__(self) -> None:
        number(self.diameter_cm, "diameter_cm", "cm", above=0.0, at_most=LARGEST_CM)
        number(self.out_of_round_percent, "out_of_round_percent", "%", at_least=0.0, at_most=300.0)
        number(self.undergrowth, "undergrowth", "", at_least=0.0, at_most=1.0)
        number(self.stem_count, "stem_count", "", at_least=1.0, at_most=1e6)
        for field in ("time_min", "walk_min", "brush_walk_min"):
            number(getattr(self, field), field, "min", at_least=0.0, at_most=1e6)

    @classmethod
    def of_stems(cls, stems: Sequence[StandingStem], **others: Any) -> Morning:
        """A plot of as many stems, all alike, that stands for a class's own.

        stems: the class's; others: what is not said by them, as undergrowth. All get the diameter
        of mean basal area, and the out-of-roundness whose square is the mean of all squares, each
        weighed by its area: what is too much grows with the square, so the plot's bias is kept.

        >>> from mensura.stems.compartment import COMPARTMENT_7
        >>> plot = Morning.of_stems(COMPARTMENT_7)
        >>> plot.stem_count, round(plot.diameter_cm, 2), round(plot.out_of_round_percent, 2)
        (18, 42.33, 12.55)
        """
        areas = np.array([one.longest_cm * one.shortest_cm for one in stems])
        squares = np.array([one.out_of_round_percent**2 for one in stems])
        return cls(
            diameter_cm=float(np.sqrt(areas.mean())),
            out_of_round_percent=float(np.sqrt(np.average(squares, weights=areas))),
            stem_count=len(stems),
            **others,
        )

    @property
    def axis_ratio(self) -> Any:
        """Shorter over longer diameter."""
        return plain(1 / (1 + np.asarray(self.out_of_round_percent, float) / 100))

    @property
    def longest_cm(self) -> Any:
        """Longest diameter of a stem, which calipers have to take."""
        return plain(self.diameter_cm / np.sqrt(self.axis_ratio))

    @property
    def walked_min(self) -> Any:
        """Minutes for each stem before the first reading."""
        return plain(self.walk_min + self.brush_walk_min * np.asarray(self.undergrowth, float))

    @property
    def a_stem_min(self) -> float:
        """Minutes that there are for each stem."""
        return self.time_min / self.stem_count

    def needed_min(self, kit: Kit, reading_count: ArrayLike) -> Any:
        """Minutes for the whole plot.

        kit: the instrument; reading_count: of each stem.
        """
        each = kit.minutes_a_reading_min(self.diameter_cm, self.undergrowth)
        return plain(self.stem_count * (self.walked_min + np.asarray(reading_count) * each))


@dataclass(frozen=True)
class PlotError:
    """How far a plot's basal area is off, in per cent of it.

    instrument: "tape" or "calipers"; way: one of WAYS; reading_count: of each stem; shape_percent:
    always too much, because the stems are not round; squared_percent: always too much, because
    errors are squared; hand_percent: one standard deviation from the hand, over all stems;
    direction_percent: from the directions that chance gave; common_percent: from what all readings
    share; needed_min: minutes for the plot. Arrays where several were asked for.
    """

    instrument: str
    way: str
    reading_count: Any
    shape_percent: Any
    squared_percent: Any
    hand_percent: Any
    direction_percent: Any
    common_percent: Any
    needed_min: Any

    @property
    def bias_percent(self) -> Any:
        """What is always too much, in per cent."""
        return self.shape_percent + self.squared_percent

    @property
    def spread_percent(self) -> Any:
        """One standard deviation of what is now too much, now too little, in per cent."""
        hands = np.square(self.hand_percent) + np.square(self.direction_percent)
        return plain(np.sqrt(hands + np.square(self.common_percent)))

    @property
    def error_percent(self) -> Any:
        """Root mean square error √(bias² + spread²), in per cent."""
        return plain(np.hypot(self.bias_percent, self.spread_percent))


def plot_error(morning: Morning, kit: Kit, way: str, reading_count: ArrayLike) -> PlotError:
    """The error of a plot's basal area if every stem is read so often, be there time or not.

    morning: the plot; kit: the instrument; way: one of its ways; reading_count: of each stem, even
    for pairs. Exact for the module's model. Raises MeasureError.

    Twenty round stems of 20 cm, each read once with a spread of 1.5 %; and an error of 1 % that is
    common to all:

    >>> plot = Morning(diameter_cm=20.0, out_of_round_percent=0.0, stem_count=20)
    >>> hand, common = Kit("calipers", 0.3, 0, 1, 0, 0), Kit("calipers", 0, 0.2, 1, 0, 0)
    >>> round(plot_error(plot, hand, "directions", 1).hand_percent, 2)
    0.67
    >>> round(plot_error(plot, common, "directions", 1).common_percent, 2)
    2.0
    """
    if way not in WAYS_OF[kit.name]:
        raise ChoiceError("way", way, WAYS_OF[kit.name])
    count = number(reading_count, "reading_count", "", at_least=1.0)
    count = int(count) if np.ndim(count) == 0 and float(count).is_integer() else count
    if np.any(np.asarray(count) % (2 if way in ("pairs", "products") else 1)):
        pairs = "an even number, for pairs" if way != "girth" else "a whole number of readings"
        raise MeasureError("reading_count", reading_count, "", pairs)
    size = kit.round_cm * np.asarray(morning.diameter_cm, float)
    oval, common = oval_widths(morning.axis_ratio), kit.common_cm / size
    one, steady = (stem_scatter(oval, way, count, hand / size) for hand in (kit.hand_cm, 0.0))
    # stems err on their own; what they share shifts and tilts all of them together
    own, chance = one.own_variance(common), steady.variance
    return PlotError(
        instrument=kit.name,
        way=way,
        reading_count=count,
        shape_percent=_percent(steady.mean_share - 1),
        squared_percent=_percent(one.bias_share(common) - (steady.mean_share - 1)),
        hand_percent=_percent(np.sqrt(np.maximum(own - chance, 0.0) / morning.stem_count)),
        direction_percent=_percent(np.sqrt(np.maximum(chance, 0.0) / morning.stem_count)),
        common_percent=_percent(np.sqrt(one.shared_variance(common))),
        needed_min=morning.needed_min(kit, count),
    )


def most_readings(morning: Morning, kit: Kit, way: str) -> Any:
    """How often each stem can be read in the time, 0 if not once; even for pairs.

    morning: the plot; kit: the instrument; way: one of WAYS. At most MOST_READINGS; 0 too where the
    calipers do not open far enough.

    >>> most_readings(Morning(), TAPE, "girth"), most_readings(Morning(), CALIPERS, "pairs")
    (3, 2)
    """
    each = kit.minutes_a_reading_min(morning.diameter_cm, morning.undergrowth)
    # a hair of time is no reading less
    fit = np.floor((morning.a_stem_min - morning.walked_min) / each + 1e-9)
    count = np.clip(fit, 0, MOST_READINGS)
    if way in ("pairs", "products"):
        count = count - count % 2
    if kit.opening_cm is not None:
        count = np.where(np.asarray(morning.longest_cm) > kit.opening_cm, 0, count)
    return int(count) if np.ndim(count) == 0 else count.astype(int)


def plans(
    morning: Morning, kits: Sequence[Kit] = (TAPE, CALIPERS), ways: Iterable[str] = tuple(WAYS)
) -> tuple[PlotError, ...]:
    """Whatever can be done in the time, the smallest error first.

    morning: the plot, one; kits: the instruments; ways: that the crew knows. Each stem is read as
    often as the time allows, since another reading makes every part of the error smaller.
    """
    known = set(ways)
    found = []
    for kit in kits:
        for way in (one for one in WAYS_OF[kit.name] if one in known):
            count = most_readings(morning, kit, way)
            if count:
                found.append(plot_error(morning, kit, way, count))
    return tuple(sorted(found, key=lambda one: float(one.error_percent)))


def best_plan(
    morning: Morning, kits: Sequence[Kit] = (TAPE, CALIPERS), ways: Iterable[str] = tuple(WAYS)
) -> PlotError | None:
    """The instrument and the number of readings with the smallest error; None if none can be done.

    morning, kits, ways: as for :func:`plans`.

    >>> best = best_plan(Morning(out_of_round_percent=20.0))
    >>> best.instrument, best.way, best.reading_count
    ('calipers', 'products', 2)
    >>> best_plan(Morning(out_of_round_percent=5.0)).instrument
    'tape'
    """
    return next(iter(plans(morning, kits, ways)), None)


def error_curve_percent(
    morning: Morning, kit: Kit, ways: Iterable[str] = tuple(WAYS)
) -> FloatArray:
    """The smallest error of one instrument along one quantity, in per cent.

    morning: the plot, with an array of out_of_round_percent, diameter_cm or undergrowth; kit: the
    instrument; ways: that the crew knows. Each place with as many readings as fit in there; nan
    where it cannot be used.

    >>> error_curve_percent(Morning(out_of_round_percent=[0.0, 20.0]), TAPE).round(2).tolist()
    [0.26, 1.28]
    """
    known = set(ways)
    moved = morning.out_of_round_percent, morning.diameter_cm, morning.undergrowth
    shape = np.broadcast_shapes(*(np.shape(one) for one in moved))
    least = np.full(shape, np.inf)
    for way in (one for one in WAYS_OF[kit.name] if one in known):
        count = np.broadcast_to(most_readings(morning, kit, way), shape)
        if count.any():
            # where there is no time for one reading the error is not used
            some = np.where(count, count, int(count.max()))
            error = plot_error(morning, kit, way, some).error_percent
            least = np.minimum(least, np.where(count, error, np.inf))
    return np.where(np.isfinite(least), least, np.nan)


def _percent(value: Any) -> Any:
    return plain(100 * np.asarray(value, dtype=np.float64))
