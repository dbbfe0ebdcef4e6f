"""Over bark and under bark. Stems and their bark are invented (Quillmere Practice Wood).

Even bark makes a diameter longer by twice its thickness and a girth by 2π times it. What goes
wrong is one side for two, the share of a diameter for that of an area, and the way round.
"""

from __future__ import annotations

from math import pi, sqrt
from typing import Any

from mensura.estimates.areas import (
    area_from_diameters_cm2,
    area_from_girth_cm2,
    diameter_from_girth_cm,
)
from mensura.estimates.bark import (
    bark_area_percent,
    under_bark_diameter_cm,
    under_bark_from_factor_cm,
)
from mensura.stems.ellipse import circle
from mensura.teaching.problems.family import Family, Quantity, Slip, clear_of, renew


def _over_cm(q: Any) -> float:
    return float(diameter_from_girth_cm(q.girth_cm))


def _under_cm(q: Any) -> float:
    return float(under_bark_diameter_cm(_over_cm(q), q.bark_cm))


def _under_from_factor_cm(q: Any) -> float:
    return float(under_bark_from_factor_cm(_over_cm(q), 100 * q.bark_factor))


def _both_cm(q: Any) -> float:
    return float(q.first_bark_cm + q.second_bark_cm)


def _wood_cm2(q: Any, bark_cm: float) -> float:
    """Area of the wood where the bark takes so much of the diameter, both sides together."""
    return float(area_from_diameters_cm2([under_bark_diameter_cm(q.diameter_cm, bark_cm / 2)]))


FAMILIES = [
    Family(
        key="girth-under-bark",
        topic="bark",
        title="From the girth over bark to the girth under bark",
        text="A level, taut tape reads {girth_cm} cm round a stem of compartment 7, over bark. The "
        "bark is {bark_cm} cm thick all round. Which girth would the tape read on the wood, the "
        "bark taken off? In cm.",
        given=[Quantity("girth_cm", 70.0, 150.0, 0.1), Quantity("bark_cm", 1.5, 4.0, 0.1)],
        unit="cm",
        answer=lambda q: circle(_under_cm(q)).taut_girth_cm,
        # not where six times the bark, π taken for 3, would pass
        fits_since={2: clear_of(
            lambda q: circle(_under_cm(q)).taut_girth_cm, 0.75,
            lambda q: q.girth_cm - 6 * q.bark_cm)},
        steps={"bark_adds_cm": lambda q: 2 * pi * q.bark_cm},
        hints=[
            "How much shorter is the diameter without its bark? And what follows for the girth?",
            "The diameter loses twice the bark. A girth is π diameters, so it loses 2π times the "
            "bark.",
            "Work out {girth_cm} − 6.2832·{bark_cm}.",
        ],
        solution="The bark adds 2π·{bark_cm} = {bark_adds_cm} cm to the girth, whatever the "
        "girth is. Under bark it is {girth_cm} − {bark_adds_cm} = {answer} cm.",
        slips=[
            Slip("one-side-only", lambda q: q.girth_cm - pi * q.bark_cm,
                 "You took the bark off the diameter once. There is bark on both sides: 2π times "
                 "its thickness."),
            Slip("pi-forgotten", lambda q: q.girth_cm - 2 * q.bark_cm,
                 "Twice the bark comes off the diameter. Off the girth comes π times that."),
            Slip("over-bark-for-under-bark", lambda q: q.girth_cm,
                 "That is the girth over bark. Take the bark off."),
            Slip("wrong-sign", lambda q: q.girth_cm + 2 * pi * q.bark_cm,
                 "You put bark on. The wood under it has a shorter way round: take it off."),
            Slip("diameter-for-girth", lambda q: (q.girth_cm - 2 * pi * q.bark_cm) / pi,
                 "That is the diameter under bark. Asked is the girth, π times that."),
        ],
        picture="bark",
        source="[Steiner1840]",
    ),
    Family(
        key="share-of-bark",
        topic="bark",
        title="How much of the section is bark?",
        text="A round stem has a girth of {girth_cm} cm over bark, and its bark is {bark_cm} cm "
        "thick all round. How many per cent of its sectional area over bark are bark?",
        given=[Quantity("girth_cm", 80.0, 200.0, 0.1), Quantity("bark_cm", 1.2, 4.0, 0.1)],
        unit="%",
        answer=lambda q: bark_area_percent(_over_cm(q), _under_cm(q)),
        steps={
            "over_cm": _over_cm,
            "under_cm": _under_cm,
            "wood_share": lambda q: (_under_cm(q) / _over_cm(q)) ** 2,
        },
        hints=[
            "Which share of the area is wood? What is not wood is bark.",
            "With d = G/π the wood has the diameter d − 2t. Its share of the area is "
            "((d − 2t)/d)².",
            "With d = {girth_cm}/3.1416 work out 100·(1 − ((d − 2·{bark_cm})/d)²).",
        ],
        solution="Over bark d = {girth_cm}/3.1416 = {over_cm} cm, under bark {over_cm} − "
        "2·{bark_cm} = {under_cm} cm. The wood has ({under_cm}/{over_cm})² = {wood_share} of the "
        "area; the rest, {answer} %, is bark.",
        slips=[
            Slip("squared-too-late", lambda q: 200 * q.bark_cm / _over_cm(q),
                 "That is the bark's share of the diameter, or nearly that of the bark of one side "
                 "in the area. Areas go with squares, and there is bark on both sides."),
            Slip("first-order", lambda q: 400 * q.bark_cm / _over_cm(q),
                 "You doubled the bark's share of the diameter. That is near for thin bark only: "
                 "1 less the square of the wood's share.", since=2, apart_since=2),
            Slip("inner-ring",
                 lambda q: 400 * q.bark_cm * _under_cm(q) / _over_cm(q) ** 2,
                 "You laid the bark out on the girth of the wood. A ring is as long as its middle: "
                 "take one circle from the other.", since=2, apart_since=2),
            Slip("share-of-the-wood",
                 lambda q: 100 * ((_over_cm(q) / _under_cm(q)) ** 2 - 1),
                 "You compared the bark with the wood. Asked is its share of the whole section, "
                 "bark included."),
            Slip("girth-as-diameter",
                 lambda q: 100 * (1 - (1 - 2 * q.bark_cm / q.girth_cm) ** 2),
                 "You took twice the bark off the girth, as if that were the diameter. Divide the "
                 "girth by π first."),
            Slip("wood-for-bark", lambda q: 100 * (_under_cm(q) / _over_cm(q)) ** 2,
                 "That is the share of the wood. The bark is the rest."),
            Slip("share-for-percent",
                 lambda q: 1 - (_under_cm(q) / _over_cm(q)) ** 2,
                 "That is the share. Times 100 it is per cent."),
        ],
        picture="bark",
        source="[Steiner1840] for a girth over even bark; common practice, no source, for the rest",
    ),
    Family(
        key="wood-from-a-bark-factor",
        topic="bark",
        title="Area under bark from a bark factor",
        text="On sample stems of the pines of compartment 7 the bark factor, diameter under bark "
        "over diameter over bark, is {bark_factor} on average. A pine that nobody cut has a girth "
        "of {girth_cm} cm over bark. Taken for round, and with bark like that of the sample, what "
        "is its sectional area under bark? Answer in cm² or m².",
        given=[
            Quantity("girth_cm", 60.0, 180.0, 0.1),
            Quantity("bark_factor", 0.84, 0.93, 0.01),
        ],
        unit="cm²",
        answer=lambda q: area_from_diameters_cm2([_under_from_factor_cm(q)]),
        steps={
            "over_cm2": lambda q: area_from_girth_cm2(q.girth_cm),
            "factor_squared": lambda q: q.bark_factor**2,
        },
        hints=[
            "The factor is one of diameters. What is then the factor of areas?",
            "The area over bark is G²/4π, and the wood has k² of it.",
            "Work out {bark_factor}²·{girth_cm}²/12.566.",
        ],
        solution="Over bark the area is {girth_cm}²/12.566 = {over_cm2} cm². Of it "
        "{bark_factor}² = {factor_squared} is wood: {answer} cm².",
        slips=[
            Slip("squared-too-late",
                 lambda q: q.bark_factor * area_from_girth_cm2(q.girth_cm),
                 "The factor was not squared. It is one of diameters; areas go with its square."),
            Slip("over-bark-for-under-bark", lambda q: area_from_girth_cm2(q.girth_cm),
                 "That is the area over bark. Asked is the wood."),
            Slip("wrong-sign", lambda q: area_from_girth_cm2(q.girth_cm) / q.bark_factor**2,
                 "You divided by the factor. There is less under the bark than over it: multiply."),
            Slip("first-order",
                 lambda q: (2 * q.bark_factor - 1) * area_from_girth_cm2(q.girth_cm),
                 "You took the bark's share of the diameter off twice. That is near for thin bark "
                 "only: square the factor.", since=2, apart_since=2),
            Slip("bark-squared",
                 lambda q: (1 - q.bark_factor) ** 2 * area_from_girth_cm2(q.girth_cm),
                 "You squared 1 − k. The wood has k of the diameter, so k² of the area.", since=2),
            Slip("bark-for-wood",
                 lambda q: (1 - q.bark_factor**2) * area_from_girth_cm2(q.girth_cm),
                 "That is the area of the bark. The wood is the rest."),
            Slip("girth-as-diameter", lambda q: pi / 4 * (q.bark_factor * q.girth_cm) ** 2,
                 "The girth was taken for a diameter. The area over bark is G²/4π."),
            Slip("diameter-for-radius", lambda q: (q.bark_factor * q.girth_cm) ** 2 / pi,
                 "The diameter was taken for the radius: that makes the area four times too "
                 "large."),
        ],
        asks_unit=True,
        picture="bark",
        source="common practice, no source",
    ),
    Family(
        key="bark-from-a-factor",
        topic="bark",
        title="How thick should the bark be?",
        text="The bark factor of a sample, diameter under bark over diameter over bark, is "
        "{bark_factor}. A round stem like those of the sample has a girth of {girth_cm} cm over "
        "bark. How thick should a gauge find its bark on one side? Answer in cm or mm.",
        given=[
            Quantity("girth_cm", 70.0, 200.0, 0.1),
            Quantity("bark_factor", 0.84, 0.94, 0.001),
        ],
        unit="cm",
        answer=lambda q: (_over_cm(q) - _under_from_factor_cm(q)) / 2,
        steps={
            "over_cm": _over_cm,
            "under_cm": _under_from_factor_cm,
            "both_sides_cm": lambda q: _over_cm(q) - _under_from_factor_cm(q),
        },
        hints=[
            "Which diameters are over and under bark, and where is their difference?",
            "The difference d − k·d is the bark of both sides, with d = G/π. Halve it.",
            "Work out {girth_cm}/3.1416·(1 − {bark_factor})/2.",
        ],
        solution="Over bark d = {girth_cm}/3.1416 = {over_cm} cm, under bark "
        "{bark_factor}·{over_cm} = {under_cm} cm. The difference, {both_sides_cm} cm, is the bark "
        "of both sides; one has {answer} cm.",
        slips=[
            Slip("both-sides", lambda q: _over_cm(q) - _under_from_factor_cm(q),
                 "That is the bark of both sides together. A gauge goes into one."),
            Slip("girth-as-diameter", lambda q: q.girth_cm * (1 - q.bark_factor) / 2,
                 "The girth was taken for a diameter. Divide it by π first."),
            Slip("share-of-area", lambda q: _over_cm(q) * (1 - q.bark_factor**2) / 2,
                 "The factor was squared. That is for areas; it is one of diameters already."),
            Slip("wood-for-bark", lambda q: _under_from_factor_cm(q) / 2,
                 "That is the radius of the wood. The bark is what lies outside it."),
            Slip("halved-twice", lambda q: (_over_cm(q) - _under_from_factor_cm(q)) / 4,
                 "You halved twice. The difference of the diameters is the bark of two sides, so "
                 "halve it once."),
        ],
        asks_unit=True,
        picture="bark",
        source="common practice, no source",
    ),
    Family(
        key="two-gauge-readings",
        topic="bark",
        title="Calipers and two readings of the bark gauge",
        text="Calipers read {diameter_cm} cm over bark on a round stem. Where the one jaw touched, "
        "a gauge finds {first_bark_cm} cm of bark, where the other touched, {second_bark_cm} cm. "
        "Take what is left between for the diameter of the wood, and the wood for round. What is "
        "the sectional area under bark? Answer in cm² or m².",
        given=[
            Quantity("diameter_cm", 24.0, 60.0, 0.1),
            Quantity("first_bark_cm", 1.6, 2.6, 0.1),
            Quantity("second_bark_cm", 0.9, 1.4, 0.1),
        ],
        unit="cm²",
        answer=lambda q: _wood_cm2(q, _both_cm(q)),
        steps={"both_cm": _both_cm, "under_cm": lambda q: q.diameter_cm - _both_cm(q)},
        hints=[
            "What lies between the jaws, from the one to the other?",
            "Bark, wood, bark. Take each bark off once, then π/4·d².",
            "Work out 0.7854·({diameter_cm} − {first_bark_cm} − {second_bark_cm})².",
        ],
        solution="Between the jaws lie {first_bark_cm} cm of bark, the wood, and {second_bark_cm} "
        "cm of bark. The wood has {diameter_cm} − {both_cm} = {under_cm} cm, and "
        "0.7854·{under_cm}² = {answer} cm².",
        slips=[
            Slip("one-side-only", lambda q: _wood_cm2(q, _both_cm(q) / 2),
                 "You took the mean bark off once. There is bark on both sides: take off the sum."),
            Slip("bark-twice-too-often", lambda q: _wood_cm2(q, 2 * _both_cm(q)),
                 "You doubled the sum. Both sides are in it already: each bark comes off once."),
            Slip("geometric-mean",
                 lambda q: _wood_cm2(q, 2 * sqrt(q.first_bark_cm * q.second_bark_cm)),
                 "You took twice the root of the product of both barks. Their sum lies between "
                 "the jaws.", since=2, apart_since=2),
            Slip("over-bark-for-under-bark", lambda q: _wood_cm2(q, 0.0),
                 "That is the area over bark. Asked is the wood."),
            Slip("wrong-sign", lambda q: pi / 4 * (q.diameter_cm + _both_cm(q)) ** 2,
                 "You put the bark on. The calipers stood outside it: take it off."),
            Slip("diameter-for-radius", lambda q: 4 * _wood_cm2(q, _both_cm(q)),
                 "The diameter was taken for the radius: that makes the area four times too "
                 "large."),
        ],
        asks_unit=True,
        picture="jaws",
        source="common practice, no source",
    ),
    Family(
        key="girth-for-a-wanted-wood",
        topic="bark",
        title="Which girth over bark for a wanted diameter under bark?",
        text="A sawmill (a made-up one) wants stems with at least {diameter_cm} cm under bark at "
        "breast height. The bark factor of these pines, diameter under bark over diameter over "
        "bark, is {bark_factor}. Taken for round, which girth over bark must the tape read at "
        "least, in cm?",
        given=[
            Quantity("diameter_cm", 20.0, 50.0, 0.1),
            Quantity("bark_factor", 0.78, 0.88, 0.01, exact=True),
        ],
        unit="cm",
        answer=lambda q: circle(q.diameter_cm / q.bark_factor).taut_girth_cm,
        steps={"over_cm": lambda q: q.diameter_cm / q.bark_factor},
        hints=[
            "Is the diameter over bark more or less than the one that is wanted?",
            "Under bark is k times over bark. So over bark is the wanted diameter divided by k; "
            "the girth is π times that.",
            "Work out 3.1416·{diameter_cm}/{bark_factor}.",
        ],
        solution="Over bark the stem must have {diameter_cm}/{bark_factor} = {over_cm} cm. Its "
        "girth is then 3.1416·{over_cm} = {answer} cm.",
        slips=[
            Slip("wrong-sign", lambda q: pi * q.diameter_cm * q.bark_factor,
                 "You multiplied by the factor. There is more over the bark than under it: "
                 "divide."),
            Slip("wrong-base", lambda q: pi * q.diameter_cm * (2 - q.bark_factor),
                 "You added the bark as a share of the wood. The factor is a share of the diameter "
                 "over bark: divide by it."),
            Slip("over-bark-for-under-bark", lambda q: pi * q.diameter_cm,
                 "That is the girth of the wood. The tape goes round the bark."),
            Slip("diameter-for-girth", lambda q: q.diameter_cm / q.bark_factor,
                 "That is the diameter over bark. Asked is the girth, π times that."),
            Slip("factor-squared", lambda q: pi * q.diameter_cm / q.bark_factor**2,
                 "The factor was squared. That is for areas; between diameters it stands as it "
                 "is."),
        ],
        picture="bark",
        source="common practice, no source",
    ),
]  # fmt: skip

# A factor to three figures, as a sample gives it, and bark that is twice as thick on one side.
renew(
    FAMILIES,
    "wood-from-a-bark-factor",
    2,
    ranges=[Quantity("bark_factor", 0.78, 0.90, 0.001)],
)
renew(
    FAMILIES,
    "two-gauge-readings",
    2,
    ranges=[
        Quantity("first_bark_cm", 2.4, 3.8, 0.1),
        Quantity("second_bark_cm", 0.8, 1.3, 0.1),
    ],
)
