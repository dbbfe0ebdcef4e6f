"""Forks and coppice, of the topic place: several stems where one tape would like to go.

Stems are invented (Quillmere Practice Wood). A taut band does not see that there are two: it takes
in the air between them. Where stems are told as one, only the sum of their areas keeps the area.
"""

from __future__ import annotations

from math import pi, sqrt
from typing import Any

from mensura.estimates.areas import area_from_girth_cm2, over_percent
from mensura.stems.standing import Fork, StemInSpace
from mensura.teaching.problems.family import Family, Quantity, Slip

_COPPICE, _FORKS = 4, 5

#: Breast height in these problems, m above the ground.
_RULE_M = 1.3


def _band_cm(q: Any) -> float:
    """A taut band round both legs of a fork."""
    leg = float(q.leg_diameter_cm)
    fork = Fork(0.8, (leg, leg), gap_cm=q.leg_gap_cm)
    return float(StemInSpace(2.5 * leg, 0.8, fork=fork).section_at(1.3).taut_girth_cm)


def _as_one_percent(q: Any, band_cm: float) -> float:
    both = 2 * area_from_girth_cm2(pi * q.leg_diameter_cm)
    return float(over_percent(area_from_girth_cm2(band_cm), both))


def _legs_cm2(q: Any) -> float:
    return float(area_from_girth_cm2(q.girth_1_cm) + area_from_girth_cm2(q.girth_2_cm))


def _below_percent(q: Any) -> float:
    return float(over_percent(area_from_girth_cm2(q.below_fork_cm), _legs_cm2(q)))


def _same_girth_cm(q: Any) -> float:
    """The girth of one stem that has the area of both legs."""
    return sqrt(q.girth_1_cm**2 + q.girth_2_cm**2)


def _coppice(q: Any) -> list[float]:
    return [float(getattr(q, f"girth_{k}_cm")) for k in range(1, _COPPICE + 1)]


def _one_girth_cm(q: Any) -> float:
    total = sum(float(area_from_girth_cm2(one)) for one in _coppice(q))
    return sqrt(4 * pi * total)


def _forks_m(q: Any) -> list[float]:
    """Above the ground on the downhill side."""
    return [float(getattr(q, f"fork_{k}_m")) for k in range(1, _FORKS + 1)]


def _uphill_m(q: Any) -> list[float]:
    """The forks' heights above the ground on the uphill side."""
    stem = StemInSpace(q.diameter_cm, slope_deg=q.slope_deg)
    rise = stem.ground_m("uphill") - stem.ground_m("downhill")
    return [one - rise for one in _forks_m(q)]


def _below(heights_m: list[float]) -> int:
    return sum(one < _RULE_M for one in heights_m)


TWO_STEMS = [
    Family(
        key="forks-on-a-slope",
        topic="place",
        title="How many trees are five forked stems?",
        text="On a slope of {slope_deg}° stand five upright stems, each {diameter_cm} cm across, "
        "and each forks once. From the ground on the downhill side the forks are {fork_1_m}, "
        "{fork_2_m}, {fork_3_m}, {fork_4_m} and {fork_5_m} m high. By the plot's rule breast "
        "height is 1.30 m above the ground on the uphill side, and a stem that forks below it "
        "counts as two trees. How many trees are written down?",
        given=[
            Quantity("slope_deg", 20, 35, 1, exact=True),
            Quantity("diameter_cm", 44.0, 70.0, 1.0, exact=True),
            *(Quantity(f"fork_{k}_m", 0.9, 2.2, 0.05, exact=True) for k in range(1, _FORKS + 1)),
        ],
        unit="",
        exact=True,
        answer=lambda q: _FORKS + _below(_uphill_m(q)),
        fits=lambda q: all(abs(one - _RULE_M) > 0.02 for one in _uphill_m(q)),
        steps={
            "higher_m": lambda q: _forks_m(q)[0] - _uphill_m(q)[0],
            "line_m": lambda q: _RULE_M + _forks_m(q)[0] - _uphill_m(q)[0],
        },
        hints=[
            "From which side were the forks told, and from which side does the rule count?",
            "The ground uphill is higher by d·tan β, so above it every fork is lower by that. "
            "A fork below 1.30 m makes one tree more.",
            "Take {diameter_cm}·tan {slope_deg}° off each height, in metres, and see how many of "
            "the five are then below 1.30.",
        ],
        solution="Uphill the ground is {diameter_cm}/100·tan {slope_deg}° = {higher_m} m higher. "
        "So a fork makes two trees if it is less than 1.30 + {higher_m} = {line_m} m above the "
        "ground downhill. Five stems and one more for each such fork are {answer} trees. Count "
        "from uphill with both feet firm, and look up first: forks split.",
        slips=[
            Slip("from-downhill", lambda q: _FORKS + _below(_forks_m(q)),
                 "You counted from the downhill side. Uphill the ground is higher, and every fork "
                 "lower above it."),
            Slip("forks-alone", lambda q: _below(_uphill_m(q)),
                 "Those are the stems that count as two. The others are trees as well, and each "
                 "of these is two."),
            Slip("every-fork", lambda q: 2 * _FORKS,
                 "Only a fork below breast height makes two trees. Above it there is one."),
            Slip("no-fork", lambda q: _FORKS,
                 "A stem that forks below breast height counts as two trees."),
        ],
        picture="standing",
        source="[DeYoung2016] for fork and side; closed form for the slope",
    ),
    Family(
        key="two-legs-as-one",
        topic="place",
        title="One tape round two legs",
        text="A stem forks below breast height. At breast height its two legs are round and alike, "
        "{leg_diameter_cm} cm across, with {leg_gap_cm} cm of air between them. A trainee takes "
        "them for one stem, lays one taut tape round both, and works out an area as of a circle. "
        "By how many per cent is it larger than the legs' areas together?",
        given=[
            Quantity("leg_diameter_cm", 15.0, 35.0, 0.1, exact=True),
            Quantity("leg_gap_cm", 1.0, 8.0, 0.1, exact=True),
        ],
        unit="%",
        answer=lambda q: _as_one_percent(q, _band_cm(q)),
        steps={
            "band_cm": _band_cm,
            "as_one_cm2": lambda q: area_from_girth_cm2(_band_cm(q)),
            "legs_cm2": lambda q: pi / 2 * q.leg_diameter_cm**2,
        },
        hints=[
            "Draw it from above. Where does the tape lie on bark, and where does it go straight?",
            "It lies on half of each leg, which makes one whole girth π·d, and goes straight twice "
            "from leg to leg: each time as far as their middles are apart, d and the gap.",
            "Take π·{leg_diameter_cm} + 2·({leg_diameter_cm} + {leg_gap_cm}) for the tape, make an "
            "area of it, and set it against two circles of {leg_diameter_cm} cm.",
        ],
        solution="The tape is π·{leg_diameter_cm} + 2·({leg_diameter_cm} + {leg_gap_cm}) = "
        "{band_cm} cm long and claims {band_cm}²/12.566 = {as_one_cm2} cm². The legs have "
        "2·π/4·{leg_diameter_cm}² = {legs_cm2} cm². That is {answer} % too much. A fork below "
        "breast height makes two stems, each with a girth of its own.",
        slips=[
            Slip("gap-forgotten",
                 lambda q: _as_one_percent(q, (pi + 2) * q.leg_diameter_cm),
                 "You let the legs touch. The gap is in both straight pieces."),
            Slip("straight-once",
                 lambda q: _as_one_percent(
                     q, (pi + 1) * q.leg_diameter_cm + q.leg_gap_cm),
                 "The tape goes from leg to leg on both sides: two straight pieces."),
            Slip("girths-added", lambda q: _as_one_percent(q, 2 * pi * q.leg_diameter_cm),
                 "You added both girths. The tape does not go in between."),
            Slip("against-one-leg",
                 lambda q: 100 * ((_band_cm(q) / (pi * q.leg_diameter_cm)) ** 2 - 1),
                 "You set it against one leg. There are two."),
            Slip("squared-too-late",
                 lambda q: 100 * (_band_cm(q) / (sqrt(2) * pi * q.leg_diameter_cm) - 1),
                 "That is by how much the girth is too long. The area goes with its square."),
        ],
        picture="legs",
        source="theorem (a band round two circles)",
    ),
    Family(
        key="below-the-fork",
        topic="place",
        title="One girth below the fork, or two above it",
        text="A stem forks at 1.0 m. Just below the fork its girth is {below_fork_cm} cm; at 1.30 "
        "m the legs have girths of {girth_1_cm} and {girth_2_cm} cm. One list takes the girth "
        "below the fork, a plot with breast height 1.30 m takes two stems. By how many per cent is "
        "the list's sectional area larger than the plot's?",
        given=[
            Quantity("below_fork_cm", 120.0, 132.0, 0.1),
            Quantity("girth_1_cm", 82.0, 96.0, 0.1),
            Quantity("girth_2_cm", 62.0, 78.0, 0.1),
        ],
        unit="%",
        answer=_below_percent,
        fits=lambda q: q.below_fork_cm > 1.03 * _same_girth_cm(q),
        steps={
            "list_cm2": lambda q: area_from_girth_cm2(q.below_fork_cm),
            "plot_cm2": _legs_cm2,
        },
        hints=[
            "Do girths add, or areas?",
            "Each girth makes an area G²/4π. The plot's is the sum of two; 4π falls out of the "
            "quotient.",
            "Work out 100·({below_fork_cm}²/({girth_1_cm}² + {girth_2_cm}²) − 1).",
        ],
        solution="Below the fork {below_fork_cm}²/12.566 = {list_cm2} cm², the legs together "
        "({girth_1_cm}² + {girth_2_cm}²)/12.566 = {plot_cm2} cm². {list_cm2}/{plot_cm2} is "
        "{answer} % above 1. Neither is wrong by its own rule; mixed in one table they are.",
        slips=[
            Slip("girths-added",
                 lambda q: 100 * ((q.below_fork_cm / (q.girth_1_cm + q.girth_2_cm)) ** 2 - 1),
                 "You added the legs' girths. Areas add, so square each girth first."),
            Slip("squared-too-late",
                 lambda q: 100 * (q.below_fork_cm / _same_girth_cm(q) - 1),
                 "That compares girths of equal areas. The areas go with the squares."),
            Slip("wrong-base",
                 lambda q: 100 * (1 - (_same_girth_cm(q) / q.below_fork_cm) ** 2),
                 "You took it as a share of the list's area. Asked is a share of the plot's."),
            Slip("one-leg",
                 lambda q: 100 * ((q.below_fork_cm / q.girth_1_cm) ** 2 - 1),
                 "You set it against one leg. The plot has both."),
            Slip("mean-of-legs",
                 lambda q: 100 * (2 * (q.below_fork_cm / _same_girth_cm(q)) ** 2 - 1),
                 "You took the mean of both legs' areas. The plot has their sum."),
        ],
        picture="fork",
        source="[DeYoung2016] for two stems, [MinnesotaBigTrees] for one girth; closed form",
    ),
    Family(
        key="several-stems-as-one",
        topic="place",
        title="One girth for a coppice stool",
        text="A coppice stool has four stems with girths of {girth_1_cm}, {girth_2_cm}, "
        "{girth_3_cm} and {girth_4_cm} cm at breast height. A form has one line for it. Which "
        "girth has one round stem with the same sectional area, in cm?",
        given=[
            Quantity("girth_1_cm", 56.0, 72.0, 0.5),
            Quantity("girth_2_cm", 34.0, 55.0, 0.5),
            Quantity("girth_3_cm", 28.0, 46.0, 0.5),
            Quantity("girth_4_cm", 22.0, 40.0, 0.5),
        ],
        unit="cm",
        answer=_one_girth_cm,
        steps={"squares_cm2": lambda q: sum(one**2 for one in _coppice(q))},
        hints=[
            "What is to stay the same: the sum of the girths, or of the areas?",
            "Each area is G²/4π, and 4π falls out: the square of the one girth is the sum of the "
            "squares.",
            "Work out √({girth_1_cm}² + {girth_2_cm}² + {girth_3_cm}² + {girth_4_cm}²).",
        ],
        solution="{girth_1_cm}² + {girth_2_cm}² + {girth_3_cm}² + {girth_4_cm}² = {squares_cm2} "
        "cm², and the root of that is {answer} cm. Sums of girths, or the largest and half of each "
        "other, make an area that does not stand there. Say on the form that it is one of four.",
        slips=[
            Slip("girths-added", lambda q: sum(_coppice(q)),
                 "You added the girths. One stem of that girth has far more area: add squares."),
            Slip("largest-and-halves",
                 lambda q: q.girth_1_cm + sum(_coppice(q)[1:]) / 2,
                 "The largest and half of each other is a rule that some use. It does not keep the "
                 "area."),
            Slip("quadratic-mean", lambda q: _one_girth_cm(q) / 2,
                 "That is the girth of a middling stem of the four. One stem for all has the sum "
                 "of the areas."),
            Slip("mean", lambda q: sum(_coppice(q)) / _COPPICE,
                 "That is the mean girth. One stem for all has the sum of the areas."),
            Slip("as-a-diameter", lambda q: _one_girth_cm(q) / pi,
                 "That is the diameter. Asked is the girth."),
        ],
        picture="readings",
        source="theorem (areas add, girths do not); [BS5837] has it for diameters",
    ),
]  # fmt: skip
