"""Growth from two girths years apart: what both readings share cancels, and what is new does not.

Whatever makes a reading err either comes anew with each reading, or lies in something that both
readings may share: the tape's card, the hand's habit, the water that the stem holds in a season.
Shared, an error that goes by size is left in the growth only by the growth's own share, and a shift
of the scale not at all; with another tape or hand both readings' errors stay, and they are errors
of whole girths. Coming back to another height adds what the stem tapers in between.
A growth stands out from the noise if it lies over 1.96 of the standard uncertainties that two
readings have where nothing grows (chance, five in a hundred); one that does so in nine of ten
pairs of readings is larger by 1.28 of its own. Assumed: errors spread normally, apart from each
other; a shared error is the same both times, so a tape that was stretched in between counts as
another one; what is a share of the girth is small beside one.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, MeasureError, number, plain, whole
from mensura.estimates.areas import area_from_girth_cm2

#: Errors of a growth of nothing beyond which chance goes in five of a hundred.
CHANCE_ERRORS = 1.959963984540054
#: And how many errors more a growth needs to go beyond that in nine of ten.
FOUND_ERRORS = 1.2815515655446004


@dataclass(frozen=True)
class ReadingDoubts:
    """Standard uncertainties of one reading of a girth, by where they come from.

    repeat_cm: new with each reading: how the band lies, the marks, of girth; start_cm: the zero of
    the tape's card; scale_percent: the card's scale; hand_percent: what a hand reads high or low
    throughout; season_percent: by which stems are wider or narrower in one season, and at one hour,
    than in another; back_cm: how far from the place the band comes to lie, along the stem;
    taper_cm_per_m: what the diameter loses with each metre up. Percents are of the girth. The sizes
    that stand here are invented, for a sound tape and a mark on the stem.
    Raises MeasureError for a number below nought.
    """

    repeat_cm: float = 0.2
    start_cm: float = 0.1
    scale_percent: float = 0.1
    hand_percent: float = 0.2
    season_percent: float = 0.05
    back_cm: float = 1.0
    taper_cm_per_m: float = 1.0

    def __post_init__(self) -> None:
        for field in ("repeat_cm", "start_cm", "back_cm"):
            number(getattr(self, field), field, "cm", at_least=0.0, at_most=200.0)
        for field in ("scale_percent", "hand_percent", "season_percent"):
            number(getattr(self, field), field, "%", at_least=0.0, at_most=20.0)
        number(self.taper_cm_per_m, "taper_cm_per_m", "cm/m", at_least=0.0, at_most=20.0)


@dataclass(frozen=True)
class Again:
    """What the second reading has in common with the first.

    tape, hand, season: whether it is the same. A tape that was stretched or worn in between is
    another one; a stem at another hour of a dry day, or in frost, is in another season.
    """

    tape: bool = True
    hand: bool = True
    season: bool = True


SAME = Again()
OTHER = Again(tape=False, hand=False, season=False)


@dataclass(frozen=True)
class GrowthPart:
    """One source of doubt of a growth.

    key, words: what it is; first_cm, second_cm: standard uncertainties that it makes of the first
    and of the second girth; shared: whether it errs the same way both times; each_stem: whether it
    comes anew with each stem, so that it averages out over many.
    """

    key: str
    words: str
    first_cm: Any
    second_cm: Any
    shared: bool
    each_stem: bool

    def u_cm(self) -> Any:
        """What it makes of the growth, cm."""
        return self._moves(-1.0, 1.0)

    def _moves(self, first_pull: float, second_pull: float) -> Any:
        """What it makes of a figure that moves so much with a centimetre of each girth."""
        first, second = first_pull * self.first_cm, second_pull * self.second_cm
        return plain(np.abs(first + second) if self.shared else np.hypot(first, second))


def growth_parts(
    first_girth_cm: ArrayLike,
    second_girth_cm: ArrayLike,
    doubts: ReadingDoubts | None = None,
    again: Again = SAME,
) -> tuple[GrowthPart, ...]:
    """Where the doubt of a growth comes from, in a fixed order.

    first_girth_cm, second_girth_cm: above 0, cm; they broadcast; doubts: of each reading; again:
    what both share. Source: this module's opening; the law of propagation with full correlation
    for what is shared [GUM1995, clauses 5.1.2 and 5.2.2]. Raises MeasureError.

    >>> [round(part.u_cm(), 4) for part in growth_parts(100.0, 105.0)]
    [0.2828, 0.0444, 0.0, 0.005, 0.01, 0.0025]
    """
    doubts = doubts or ReadingDoubts()
    first, second = _girth(first_girth_cm, "first"), _girth(second_girth_cm, "second")
    back = np.pi * doubts.taper_cm_per_m * doubts.back_cm / 100
    one = np.ones(np.broadcast(first, second).shape)

    def share(percent: float) -> tuple[Any, Any]:
        return first * percent / 100 * one, second * percent / 100 * one

    rows: tuple[tuple[str, str, tuple[Any, Any], bool, bool], ...] = (
        ("repeat", "reading again", (doubts.repeat_cm * one,) * 2, False, True),
        ("height", "back at another height", (back * one,) * 2, False, True),
        ("start", "the tape's zero", (doubts.start_cm * one,) * 2, again.tape, False),
        ("scale", "the tape's scale", share(doubts.scale_percent), again.tape, False),
        ("hand", "the hand's habit", share(doubts.hand_percent), again.hand, False),
        ("season", "water in the stem", share(doubts.season_percent), again.season, False),
    )
    return tuple(GrowthPart(key, words, *both, *flags) for key, words, both, *flags in rows)


def u_growth_cm(
    first_girth_cm: ArrayLike,
    second_girth_cm: ArrayLike,
    doubts: ReadingDoubts | None = None,
    again: Again = SAME,
) -> Any:
    """Standard uncertainty of the growth in girth, cm.

    first_girth_cm, second_girth_cm, doubts, again: as for :func:`growth_parts`. Exact for
    independent errors, since a difference is linear [GUM1995, clause 5.2.2]. Raises MeasureError.

    >>> round(u_growth_cm(100.0, 105.0), 3), round(u_growth_cm(100.0, 105.0, again=OTHER), 3)
    (0.287, 0.461)
    """
    parts = growth_parts(first_girth_cm, second_girth_cm, doubts, again)
    return plain(_together([part.u_cm() for part in parts]))


@dataclass(frozen=True)
class Growth:
    """A growth between two readings of one stem, and how sure it is.

    first_girth_cm, second_girth_cm: as read; between_years: from one to the other; growth_cm:
    second less first; u_growth_cm: its standard uncertainty; a_year_cm, u_a_year_cm: both by the
    years; diameter_growth_cm, u_diameter_growth_cm: over π; area_growth_cm2, u_area_growth_cm2: of
    the sectional area G²/4π; chance_cm: beyond which a growth of nothing is read in five pairs of a
    hundred; stands_out: whether this one lies beyond that, up or down; parts: of the doubt.
    """

    first_girth_cm: float
    second_girth_cm: float
    between_years: float
    growth_cm: float
    u_growth_cm: float
    a_year_cm: float
    u_a_year_cm: float
    diameter_growth_cm: float
    u_diameter_growth_cm: float
    area_growth_cm2: float
    u_area_growth_cm2: float
    chance_cm: float
    stands_out: bool
    parts: tuple[GrowthPart, ...]


def growth_between(
    first_girth_cm: float,
    second_girth_cm: float,
    between_years: float,
    doubts: ReadingDoubts | None = None,
    again: Again = SAME,
) -> Growth:
    """The growth of one stem from two girths, by all figures, with its doubt.

    first_girth_cm, second_girth_cm: as read, above 0, cm; between_years: above 0; doubts: of each
    reading; again: what both share. An area feels a shift of the scale also where it is shared: by
    the growth over 2π. First order for the area [GUM1995, clause 5.2.2]. Raises MeasureError.

    >>> one = growth_between(100.0, 105.0, 5.0)
    >>> round(one.a_year_cm, 3), round(one.u_a_year_cm, 3), one.stands_out
    (1.0, 0.057, True)
    >>> growth_between(100.0, 100.5, 1.0).stands_out
    False
    """
    first = float(_girth(first_girth_cm, "first"))
    second = float(_girth(second_girth_cm, "second"))
    time = float(_years(between_years))
    parts = growth_parts(first, second, doubts, again)
    u = float(_together([part.u_cm() for part in parts]))
    pulls = -first / (2 * np.pi), second / (2 * np.pi)
    area = float(area_from_girth_cm2(second) - area_from_girth_cm2(first))
    chance = float(CHANCE_ERRORS * u_growth_cm(first, first, doubts, again))
    growth = second - first
    return Growth(
        first_girth_cm=first,
        second_girth_cm=second,
        between_years=time,
        growth_cm=growth,
        u_growth_cm=u,
        a_year_cm=growth / time,
        u_a_year_cm=u / time,
        diameter_growth_cm=growth / np.pi,
        u_diameter_growth_cm=u / np.pi,
        area_growth_cm2=area,
        u_area_growth_cm2=float(_together([part._moves(*pulls) for part in parts])),
        chance_cm=chance,
        stands_out=abs(growth) > chance,
        parts=parts,
    )


@dataclass(frozen=True)
class LeastGrowth:
    """From which growth in girth on it stands out.

    chance_cm: beyond which nothing at all is read in five pairs of a hundred, up and down together;
    found_cm: the growth that is read beyond it in nine of ten.
    """

    chance_cm: Any
    found_cm: Any


def least_growth(
    girth_cm: ArrayLike, doubts: ReadingDoubts | None = None, again: Again = SAME
) -> LeastGrowth:
    """The least growth of one stem that stands out, in a closed form.

    girth_cm: at the first reading, above 0, cm; doubts, again: as for :func:`growth_parts`. The
    doubt of a growth Δ is u² = a + b·Δ + c·Δ², and found_cm is the larger root of
    (Δ − 1.96·√a)² = 1.28²·u²; with c = b = 0 it is 3.24·√a, and √a of two readings that share all
    but a repeat r is √2·r. By chance alone that is the repeatability limit 2.8·r [ISO5725]. Raises
    MeasureError, also where an error of the scale leaves no growth that is ever found.

    >>> least = least_growth(100.0, ReadingDoubts(0.2, 0, 0, 0, 0, 0, 0))
    >>> round(least.chance_cm, 3), round(least.found_cm, 3)
    (0.554, 0.917)
    """
    doubts = doubts or ReadingDoubts()
    girth = _girth(girth_cm, "girth_cm")
    still = np.square(u_growth_cm(girth, girth, doubts, again))
    # a share p of the girth: shared p²Δ², new each time p²(2G² + 2GΔ + Δ²)
    shared = ((doubts.scale_percent, again.tape), (doubts.hand_percent, again.hand),
              (doubts.season_percent, again.season))  # fmt: skip
    square = sum((percent / 100) ** 2 for percent, _ in shared)
    rise = 2 * girth * sum((percent / 100) ** 2 for percent, same in shared if not same)
    chance = CHANCE_ERRORS * np.sqrt(still)
    z2 = FOUND_ERRORS**2
    a, b = 1 - z2 * square, -(2 * chance + z2 * rise)
    if a <= 0:
        raise MeasureError("scale_percent", doubts.scale_percent, "%", "a scale that says a growth")
    c = np.square(chance) - z2 * still
    found = (-b + np.sqrt(np.square(b) - 4 * a * c)) / (2 * a)
    return LeastGrowth(plain(chance), plain(found))


def stands_out_after_years(
    girth_cm: ArrayLike,
    growth_a_year_cm: ArrayLike,
    doubts: ReadingDoubts | None = None,
    again: Again = SAME,
) -> Any:
    """Years until a growth stands out in nine of ten pairs of readings; the next whole one is told.

    girth_cm: at the first reading, above 0, cm; growth_a_year_cm: of girth, above 0; they
    broadcast; doubts, again: as for :func:`growth_parts`. As many years as :func:`least_growth` is
    growths of a year. Source: this module's opening. Raises MeasureError.

    >>> round(stands_out_after_years(100.0, 0.5, ReadingDoubts(0.2, 0, 0, 0, 0, 0, 0)), 2)
    1.83
    """
    a_year = number(growth_a_year_cm, "growth_a_year_cm", "cm", above=0.0)
    return plain(least_growth(girth_cm, doubts, again).found_cm / a_year)


def drawn_growths_cm(
    girth_cm: float,
    growth_cm: float,
    doubts: ReadingDoubts | None = None,
    again: Again = SAME,
    draws: int = 20_000,
    seed: int = 1,
) -> FloatArray:
    """Growths as they are read, by draws: each error drawn for each reading, or once for both.

    girth_cm: true at the first reading, above 0, cm; growth_cm: true, may be 0; doubts, again: as
    for :func:`growth_parts`; draws, seed: how many, and from where. Returns cm. Nothing of the
    closed forms is in it. Source: [JCGM101]. Raises MeasureError.

    >>> read = drawn_growths_cm(100.0, 1.0)
    >>> len(read), round(float(read.mean()), 2)
    (20000, 1.0)
    """
    doubts = doubts or ReadingDoubts()
    count = whole(draws, "draws", at_least=1, at_most=2_000_000)
    rng = np.random.default_rng(seed)
    girths = np.array([[float(_girth(girth_cm, "girth_cm"))], [girth_cm + float(growth_cm)]])
    _girth(girths, "growth_cm")

    def errors(size: float, same: bool) -> FloatArray:
        drawn = rng.normal(size=(1 if same else 2, count)) * size
        return np.asarray(np.broadcast_to(drawn, (2, count)))

    lower_cm = errors(doubts.back_cm, False) * np.pi * doubts.taper_cm_per_m / 100
    factor = (
        (1 + errors(doubts.scale_percent / 100, again.tape))
        * (1 + errors(doubts.hand_percent / 100, again.hand))
        * (1 + errors(doubts.season_percent / 100, again.season))
    )
    read = (girths + lower_cm) * factor + errors(doubts.start_cm, again.tape)
    read = read + errors(doubts.repeat_cm, False)
    return np.asarray(read[1] - read[0])


def found_percent(
    girth_cm: float,
    growth_cm: float,
    doubts: ReadingDoubts | None = None,
    again: Again = SAME,
    draws: int = 20_000,
    seed: int = 1,
) -> float:
    """In how many pairs of readings a true growth stands out upwards, by draws: in per cent.

    girth_cm, growth_cm, doubts, again, draws, seed: as for :func:`drawn_growths_cm`. Source:
    [JCGM101]. Raises MeasureError.

    >>> one = ReadingDoubts(0.2, 0, 0, 0, 0, 0, 0)
    >>> 89 < found_percent(100.0, least_growth(100.0, one).found_cm, one) < 91
    True
    """
    read = drawn_growths_cm(girth_cm, growth_cm, doubts, again, draws, seed)
    return 100 * float(np.mean(read > least_growth(girth_cm, doubts, again).chance_cm))


def growth_at_the_mark_cm(
    read_growth_cm: ArrayLike, higher_cm: ArrayLike, taper_cm_per_m: ArrayLike
) -> Any:
    """What a growth would have been at the first reading's height, cm of girth.

    read_growth_cm: second reading less first; higher_cm: how much higher the band lay at the
    second, along the stem, below nought for lower; taper_cm_per_m: what the diameter loses with
    each metre; they broadcast. A girth loses π times that. By hand. Raises MeasureError.

    >>> round(growth_at_the_mark_cm(1.0, 10.0, 1.0), 4)
    1.3142
    """
    read = number(read_growth_cm, "read_growth_cm", "cm")
    higher = number(higher_cm, "higher_cm", "cm")
    taper = number(taper_cm_per_m, "taper_cm_per_m", "cm/m", at_least=-20.0, at_most=20.0)
    return plain(read + np.pi * taper * higher / 100)


def area_growth_a_year_percent(
    first_girth_cm: ArrayLike, second_girth_cm: ArrayLike, between_years: ArrayLike
) -> Any:
    """By how many per cent a sectional area grows each year, compound: (G₂/G₁)^(2/n) − 1.

    first_girth_cm, second_girth_cm: above 0, cm; between_years: n, above 0; they broadcast. Returns
    per cent of the area at each year's start, as if each year's growth were the same share of it:
    an assumption, which trees do not keep. By hand, as compound interest. Raises MeasureError.

    >>> round(area_growth_a_year_percent(100.0, 121.0, 4.0), 6)
    10.0
    """
    first, second = _girth(first_girth_cm, "first"), _girth(second_girth_cm, "second")
    return plain(100 * ((second / first) ** (2 / _years(between_years)) - 1))


def _girth(value: ArrayLike, field: str) -> Any:
    name = f"{field}_girth_cm" if field in ("first", "second") else field
    return number(value, name, "cm", above=0.0, at_most=20000.0)


def _years(value: ArrayLike) -> Any:
    return number(value, "between_years", "years", above=0.0, at_most=1000.0)


def _together(parts: list[Any]) -> Any:
    return np.sqrt(sum(np.square(one) for one in parts))
