"""How sure an area or a volume is. Readings are invented (Quillmere Practice Wood).

A doubt in a girth goes over into the area and the volume. What goes wrong is the square, which
doubles it, and the sum: doubts that know nothing of each other add as squares.
"""

from __future__ import annotations

from math import hypot, pi, sqrt
from typing import Any

from mensura.estimates.areas import area_from_girth_cm2
from mensura.estimates.uncertainty import (
    expanded_uncertainty,
    u_area_percent,
    u_volume_from_girth_percent,
)
from mensura.teaching.problems.family import Family, Quantity, Slip, clear_of
from mensura.teaching.problems.parts.means import MEANS

_U_GIRTH = Quantity("u_girth_cm", 0.3, 1.5, 0.05, exact=True)


def _u_area_cm2(q: Any) -> float:
    return float(area_from_girth_cm2(q.girth_cm) * u_area_percent(q.girth_cm, q.u_girth_cm) / 100)


def _girth_percent(q: Any) -> float:
    return float(100 * q.u_girth_cm / q.mid_girth_cm)


def _length_percent(q: Any) -> float:
    return float(100 * q.u_length_m / q.log_length_m)


def _growth_percent(q: Any) -> float:
    both = hypot(q.u_girth_cm, q.u_girth_cm)
    return float(100 * expanded_uncertainty(both, 2) / q.growth_cm)


FAMILIES = [
    Family(
        key="doubt-of-an-area",
        topic="doubt",
        title="From the doubt in a girth to that in the area, in per cent",
        text="A stem of compartment 7 is taped at {girth_cm} cm, with a standard uncertainty of "
        "{u_girth_cm} cm. Taken for round, what is the standard uncertainty of its sectional area, "
        "in per cent of that area?",
        given=[Quantity("girth_cm", 60.0, 220.0, 0.1), _U_GIRTH],
        unit="%",
        answer=lambda q: u_area_percent(q.girth_cm, q.u_girth_cm),
        steps={"girth_percent": lambda q: 100 * q.u_girth_cm / q.girth_cm},
        hints=[
            "How many per cent of the girth is its uncertainty? And what does squaring do to a "
            "small per cent?",
            "The area goes as G². A girth 1 % larger gives an area about 2 % larger.",
            "Work out 2·100·{u_girth_cm}/{girth_cm}.",
        ],
        solution="The girth is unsure by 100·{u_girth_cm}/{girth_cm} = {girth_percent} %. The area "
        "goes as its square, so it is unsure by twice as much: {answer} %.",
        slips=[
            Slip("not-doubled", lambda q: 100 * q.u_girth_cm / q.girth_cm,
                 "That is the per cent of the girth. The area goes as G²: it is twice as unsure."),
            Slip("halved", lambda q: 50 * q.u_girth_cm / q.girth_cm,
                 "A root halves a small per cent; a square doubles it."),
            Slip("root-of-two", lambda q: 100 * sqrt(2) * q.u_girth_cm / q.girth_cm,
                 "√2 belongs to two readings that know nothing of each other. In G·G it is the "
                 "same girth twice: times 2."),
            Slip("per-cent-squared", lambda q: (100 * q.u_girth_cm / q.girth_cm) ** 2,
                 "You squared the per cent. A girth 1 % larger gives an area 2 % larger, not 1·1."),
            Slip("pi-too-many", lambda q: 200 * q.u_girth_cm / (pi * q.girth_cm),
                 "The uncertainty was divided by π and the girth was not. Take both of the girth, "
                 "or both of the diameter."),
        ],
        picture="girth",
        source="[GUM1995]",
    ),
    Family(
        key="expanded-doubt-of-an-area",
        topic="doubt",
        title="The expanded uncertainty of an area in cm²",
        text="A stem of compartment 7 is taped at {girth_cm} cm, with a standard uncertainty of "
        "{u_girth_cm} cm. Taken for round, what is the expanded uncertainty of its sectional area "
        "for k = 2, in cm²?",
        given=[Quantity("girth_cm", 60.0, 220.0, 0.1), _U_GIRTH],
        unit="cm²",
        answer=lambda q: expanded_uncertainty(_u_area_cm2(q), 2),
        steps={
            "area_cm2": lambda q: area_from_girth_cm2(q.girth_cm),
            "share_percent": lambda q: u_area_percent(q.girth_cm, q.u_girth_cm),
            "standard_cm2": _u_area_cm2,
        },
        hints=[
            "Three steps: the area, its standard uncertainty, and what k = 2 does to that.",
            "A = G²/4π; its standard uncertainty is the share 2·u/G of it; the expanded one is "
            "k times that.",
            "Work out {girth_cm}²/12.566, multiply by 2·{u_girth_cm}/{girth_cm}, and by 2 once "
            "more for k.",
        ],
        solution="A = {girth_cm}²/12.566 = {area_cm2} cm². It is unsure by "
        "100·2·{u_girth_cm}/{girth_cm} = {share_percent} %, which is {standard_cm2} cm²: the "
        "standard uncertainty. With k = 2 the expanded one is {answer} cm².",
        slips=[
            Slip("one-two-forgotten", _u_area_cm2,
                 "One factor of 2 is missing. There are two: one for the square, one for k = 2."),
            Slip("both-twos-forgotten", lambda q: _u_area_cm2(q) / 2,
                 "Two factors of 2 are missing: one for the square, one for k = 2."),
            Slip("girth-as-diameter", lambda q: pi * q.girth_cm * q.u_girth_cm,
                 "The girth was taken for a diameter. The area is G²/4π."),
            Slip("pi-forgotten", lambda q: q.girth_cm * q.u_girth_cm,
                 "π was forgotten: the area is G²/4π, not G²/4."),
            Slip("area-of-the-doubt", lambda q: q.u_girth_cm**2 / (2 * pi),
                 "You put the uncertainty itself into G²/4π. Ask how much the area moves when the "
                 "girth moves by that much."),
        ],
        asks_unit=True,
        picture="girth",
        source="[GUM1995] for the law, [TaylorKuyatt1994] for k = 2",
    ),
    Family(
        key="doubt-of-a-volume",
        topic="doubt",
        title="The doubt in a log's volume from those in girth and length",
        text="A log of compartment 7 has a middle girth of {mid_girth_cm} cm, with a standard "
        "uncertainty of {u_girth_cm} cm, and a length of {log_length_m} m, with one of "
        "{u_length_m} m. The two have nothing to do with each other; the log's form is left out of "
        "account. What is the standard uncertainty of its volume by Huber's rule, in per cent of "
        "it?",
        given=[
            Quantity("mid_girth_cm", 80.0, 150.0, 0.5),
            Quantity("u_girth_cm", 0.6, 1.6, 0.05, exact=True),
            Quantity("log_length_m", 2.5, 5.0, 0.05),
            Quantity("u_length_m", 0.04, 0.12, 0.01, exact=True),
        ],
        unit="%",
        # not where the length's per cent, not doubled and added, would pass
        fits_since={2: clear_of(
            lambda q: hypot(2 * _girth_percent(q), _length_percent(q)), 1.1,
            lambda q: _girth_percent(q) + _length_percent(q))},
        answer=lambda q: u_volume_from_girth_percent(
            q.mid_girth_cm, q.u_girth_cm, q.log_length_m, q.u_length_m
        ),
        steps={
            "area_percent": lambda q: 2 * _girth_percent(q),
            "length_percent": _length_percent,
        },
        hints=[
            "Volume is area times length. How unsure is each of the two, in per cent?",
            "The area is unsure by twice the per cent of the girth. Errors that know nothing of "
            "each other partly cancel: add the squares and take the root.",
            "Work out a = 200·{u_girth_cm}/{mid_girth_cm} and b = 100·{u_length_m}/{log_length_m}, "
            "then √(a² + b²).",
        ],
        solution="The area is unsure by 200·{u_girth_cm}/{mid_girth_cm} = {area_percent} %, the "
        "length by 100·{u_length_m}/{log_length_m} = {length_percent} %. Together: "
        "√({area_percent}² + {length_percent}²) = {answer} %.",
        slips=[
            Slip("plainly-added", lambda q: 2 * _girth_percent(q) + _length_percent(q),
                 "You added both per cents. That would be so if they always erred the same way; "
                 "add their squares and take the root."),
            Slip("not-doubled", lambda q: hypot(_girth_percent(q), _length_percent(q)),
                 "The girth's per cent must be doubled before it is squared: the area goes as G²."),
            Slip("all-doubled", lambda q: 2 * hypot(_girth_percent(q), _length_percent(q)),
                 "You doubled the length's per cent too. Only the girth is squared in the volume."),
            Slip("length-forgotten", lambda q: 2 * _girth_percent(q),
                 "That is the doubt of the area. The length is unsure as well."),
            Slip("girth-forgotten", _length_percent,
                 "That is the doubt of the length. The girth is unsure as well."),
        ],
        picture="log",
        source="[GUM1995]",
    ),
    *MEANS,
    Family(
        key="doubt-of-growth",
        topic="doubt",
        title="How sure is the growth between two girths?",
        text="A stem was taped at {girth_cm} cm, and some years later at the same mark: it has "
        "grown by {growth_cm} cm in girth. Each of the two girths has a standard uncertainty of "
        "{u_girth_cm} cm, with nothing in common. What is the expanded uncertainty of the growth "
        "for k = 2, in per cent of the growth?",
        given=[
            Quantity("girth_cm", 60.0, 120.0, 0.1),
            Quantity("growth_cm", 3.0, 12.0, 0.1),
            Quantity("u_girth_cm", 0.2, 0.6, 0.02, exact=True),
        ],
        unit="%",
        answer=_growth_percent,
        steps={
            "both_cm": lambda q: hypot(q.u_girth_cm, q.u_girth_cm),
            "expanded_cm": lambda q: 2 * hypot(q.u_girth_cm, q.u_girth_cm),
        },
        hints=[
            "The growth is a difference of two girths. What becomes of their uncertainties: are "
            "they taken away, too?",
            "Uncertainties never cancel for sure: add the squares of both and take the root. Then "
            "times k, and over the growth.",
            "Work out 2·1.4142·{u_girth_cm}, divide by {growth_cm}, and multiply by 100.",
        ],
        solution="The difference of two girths is unsure by √({u_girth_cm}² + {u_girth_cm}²) = "
        "{both_cm} cm; with k = 2 that makes {expanded_cm} cm. 100·{expanded_cm}/{growth_cm} = "
        "{answer} % of the growth.",
        slips=[
            Slip("one-girth-only", lambda q: 200 * q.u_girth_cm / q.growth_cm,
                 "That is the doubt of one girth. Two girths are unsure here: √2 times as much."),
            Slip("plainly-added", lambda q: 400 * q.u_girth_cm / q.growth_cm,
                 "You added both uncertainties. They have nothing in common: add their squares and "
                 "take the root."),
            Slip("k-forgotten", lambda q: _growth_percent(q) / 2,
                 "That is the standard uncertainty. The expanded one is k = 2 times as large."),
            Slip("share-of-the-girth",
                 lambda q: _growth_percent(q) * q.growth_cm / (q.girth_cm + q.growth_cm),
                 "That is a share of the whole girth. Asked is a share of the growth."),
        ],
        picture="girth",
        source="[GUM1995] for the law, [TaylorKuyatt1994] for k = 2",
    ),
]  # fmt: skip
