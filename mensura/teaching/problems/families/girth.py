"""Girth, diameter, area and their units. Stems are invented (Quillmere Practice Wood).

A girth goes over into all else by one formula of the circle; what goes wrong is the unit, the
square, or what the number was in the first place.
"""

from __future__ import annotations

from math import pi, sqrt
from typing import Any

from mensura.estimates.areas import area_from_girth_cm2, basal_area_m2, diameter_from_girth_cm
from mensura.stems.ellipse import circle
from mensura.teaching.answers.units import convert
from mensura.teaching.problems.family import Family, Quantity, Slip, clear_of

#: How many times as high as thick the stems of an invented stand are. The greatest is less than π
#: times the least, so that no reading can be a girth and a diameter.
SLENDER, STOUT = 120.0, 45.0


def _times_as_high(q: Any) -> float:
    """Height over diameter, if the reading is a diameter."""
    return float(100 * q.tree_height_m / q.reading_cm)


def _is_diameter(q: Any) -> bool:
    """Whether the stem is slender enough for its reading to be a diameter."""
    return _times_as_high(q) >= STOUT


def _one_fits(q: Any) -> bool:
    ratio = _times_as_high(q)
    return STOUT <= ratio <= SLENDER or STOUT <= pi * ratio <= SLENDER


def _column_cm(q: Any, diameter: bool) -> float:
    return float(q.reading_cm if diameter else diameter_from_girth_cm(q.reading_cm))


def _growth_cm2(q: Any) -> float:
    later = area_from_girth_cm2(q.girth_cm + q.growth_cm)
    return float(later - area_from_girth_cm2(q.girth_cm))


FAMILIES = [
    Family(
        key="girth-to-diameter",
        topic="girth",
        title="From a girth to a diameter",
        text="A level, taut tape reads {girth_cm} cm round a stem of compartment 7. Taken for "
        "round, what is the stem's diameter, in cm?",
        given=[Quantity("girth_cm", 40.0, 240.0, 0.1)],
        unit="cm",
        answer=lambda q: diameter_from_girth_cm(q.girth_cm),
        hints=[
            "How many times does the diameter of a circle go into its girth?",
            "Divide the girth by π.",
            "Work out {girth_cm}/3.1416.",
        ],
        solution="d = G/π = {girth_cm}/3.1416 = {answer} cm.",
        slips=[
            Slip("radius-for-diameter", lambda q: q.girth_cm / (2 * pi),
                 "G/2π is the radius. The diameter is twice that: G/π."),
            Slip("times-pi", lambda q: q.girth_cm * pi,
                 "The girth was multiplied by π. A diameter is shorter than a girth: divide."),
            Slip("quarter-girth", lambda q: q.girth_cm / 4,
                 "That is the quarter girth, a timber rule. The diameter is G/π."),
        ],
        picture="girth",
        source="common practice, no source",
    ),
    Family(
        key="girth-to-area",
        topic="girth",
        title="From a girth to a sectional area",
        text="A level, taut tape reads {girth_cm} cm round a stem of compartment 7. Taken for "
        "round, what is its sectional area? Answer in cm² or m².",
        given=[Quantity("girth_cm", 40.0, 240.0, 0.1)],
        unit="cm²",
        answer=lambda q: area_from_girth_cm2(q.girth_cm),
        steps={"diameter_cm": lambda q: diameter_from_girth_cm(q.girth_cm)},
        hints=[
            "Which circle has this girth, and what is its area?",
            "A = G²/4π: square first, then divide by 4π, which is 12.566.",
            "Work out {girth_cm}²/12.566; that is in cm².",
        ],
        solution="A = G²/4π = {girth_cm}²/12.566 = {answer} cm² (the diameter is "
        "{diameter_cm} cm).",
        slips=[
            Slip("girth-as-diameter", lambda q: pi / 4 * q.girth_cm**2,
                 "The girth was taken for a diameter. Divide it by π first, or use G²/4π."),
            Slip("diameter-for-radius", lambda q: q.girth_cm**2 / pi,
                 "The diameter was taken for the radius: that makes the area four times too "
                 "large."),
            Slip("pi-forgotten", lambda q: q.girth_cm**2 / 4,
                 "π was forgotten: A = G²/4π, not G²/4."),
            Slip("quarter-girth-squared", lambda q: (q.girth_cm / 4) ** 2,
                 "That is the quarter girth squared, a timber rule; the true area is G²/4π."),
            Slip("squared-too-late", lambda q: q.girth_cm / (4 * pi),
                 "The girth was not squared: A = G²/4π."),
        ],
        asks_unit=True,
        picture="girth",
        source="common practice, no source",
    ),
    Family(
        key="inches-to-diameter",
        topic="girth",
        title="From a girth in inches to a diameter in centimetres",
        text="An old girth tape, divided in inches and tenths, lies level and taut round a stem "
        "of compartment 7 and reads {girth_in} inches. Taken for round, what is the stem's "
        "diameter? Answer in cm.",
        given=[Quantity("girth_in", 16.0, 90.0, 0.1)],
        unit="cm",
        answer=lambda q: diameter_from_girth_cm(convert(q.girth_in, "in", "cm")),
        steps={"girth_cm": lambda q: convert(q.girth_in, "in", "cm")},
        hints=[
            "There are two steps, in any order: inches to centimetres, girth to diameter.",
            "An inch is 2.54 cm exactly, so there are more centimetres than inches. Then divide "
            "by π.",
            "Work out {girth_in}·2.54/3.1416.",
        ],
        solution="G = {girth_in}·2.54 = {girth_cm} cm, so d = G/π = {girth_cm}/3.1416 = "
        "{answer} cm.",
        slips=[
            Slip("inches-kept", lambda q: q.girth_in / pi,
                 "That is the diameter in inches. Asked are centimetres: times 2.54."),
            Slip("inches-divided", lambda q: q.girth_in / 2.54 / pi,
                 "The inches were divided by 2.54. An inch is longer than a centimetre, so there "
                 "are more centimetres: multiply."),
            Slip("pi-forgotten", lambda q: q.girth_in * 2.54,
                 "That is the girth in centimetres. The diameter is the girth over π."),
            Slip("radius-for-diameter", lambda q: q.girth_in * 2.54 / (2 * pi),
                 "G/2π is the radius. The diameter is twice that: G/π."),
            Slip("quarter-girth", lambda q: q.girth_in * 2.54 / 4,
                 "That is the quarter girth, a timber rule. The diameter is G/π."),
        ],
        asks_unit=True,
        picture="girth",
        source="[NBS1959] for the inch",
    ),
    Family(
        key="diameter-to-basal-area",
        topic="girth",
        title="Basal area of one stem",
        text="A stem of compartment 7 is {diameter_cm} cm thick at breast height, over bark. "
        "Taken for round, what is its basal area (its sectional area at breast height)? Answer in "
        "m².",
        given=[Quantity("diameter_cm", 12.0, 75.0, 0.1)],
        unit="m²",
        answer=lambda q: basal_area_m2(q.diameter_cm),
        steps={"area_cm2": lambda q: pi / 4 * q.diameter_cm**2},
        hints=[
            "Find the area of the circle in cm² first. How many cm² make one m²?",
            "A metre is 100 cm, so a square metre is 100 times 100 cm²: 10 000.",
            "Work out 0.7854·{diameter_cm}² and divide by 10 000.",
        ],
        solution="g = π/4·d² = 0.7854·{diameter_cm}² = {area_cm2} cm²; over 10 000 that is "
        "{answer} m².",
        slips=[
            Slip("cm-for-m", lambda q: pi / 4 * q.diameter_cm**2,
                 "That is the number of cm². A square metre has 10 000 of them: divide."),
            Slip("hundred-for-ten-thousand", lambda q: pi / 400 * q.diameter_cm**2,
                 "You divided by 100. That is right for a length; for an area it takes 100 twice, "
                 "10 000."),
            Slip("diameter-for-radius", lambda q: pi / 10_000 * q.diameter_cm**2,
                 "The diameter was taken for the radius: that makes the area four times too "
                 "large."),
            Slip("pi-forgotten", lambda q: q.diameter_cm**2 / 40_000,
                 "π was forgotten: g = π/4·d², not d²/4."),
            Slip("diameter-as-girth", lambda q: q.diameter_cm**2 / (4 * pi) / 10_000,
                 "G²/4π is for a girth. Here the diameter is given: π/4·d²."),
        ],
        asks_unit=True,
        picture="girth",
        source="[SREF] for the same table in feet and inches",
    ),
    Family(
        key="area-to-girth",
        topic="girth",
        title="Which girth has a given area?",
        text="For a trial, round stems with a sectional area of {area_cm2} cm² are wanted. Which "
        "girth must a level, taut tape read, in cm?",
        given=[Quantity("area_cm2", 200, 3600, 1)],
        unit="cm",
        answer=lambda q: circle(2 * sqrt(q.area_cm2 / pi)).taut_girth_cm,
        hints=[
            "You know the way from a girth to an area. Walk it backwards.",
            "A = G²/4π, so G² is 4π times the area; 4π is 12.566. What is left to do?",
            "Work out the square root of 12.566·{area_cm2}.",
        ],
        solution="G = √(4π·A) = √(12.566·{area_cm2}) = {answer} cm.",
        slips=[
            Slip("root-forgotten", lambda q: 4 * pi * q.area_cm2,
                 "That is G², in cm². Take its square root."),
            Slip("diameter-for-girth", lambda q: 2 * sqrt(q.area_cm2 / pi),
                 "That is the diameter. The girth is π times that."),
            Slip("radius-for-diameter", lambda q: sqrt(pi * q.area_cm2),
                 "That is π times the radius, half the way round."),
            Slip("quarter-girth", lambda q: 4 * sqrt(q.area_cm2),
                 "That is the girth of a square with this area. Of all shapes the circle has the "
                 "shortest way round: √(4π·A)."),
            Slip("pi-forgotten", lambda q: sqrt(4 * q.area_cm2),
                 "π was forgotten: G = √(4π·A)."),
        ],
        picture="girth",
        source="common practice, no source",
    ),
    Family(
        key="growth-of-area",
        topic="girth",
        title="From growth in girth to growth in area",
        text="A stem's girth was {girth_cm} cm. Taped again some years later, at the same mark, "
        "it is {growth_cm} cm longer. Taken for round both times, by how many cm² has the "
        "sectional area grown?",
        given=[Quantity("girth_cm", 40.0, 120.0, 0.1), Quantity("growth_cm", 6.0, 24.0, 0.1)],
        unit="cm²",
        answer=_growth_cm2,
        steps={
            "later_girth_cm": lambda q: q.girth_cm + q.growth_cm,
            "earlier_area_cm2": lambda q: area_from_girth_cm2(q.girth_cm),
            "later_area_cm2": lambda q: area_from_girth_cm2(q.girth_cm + q.growth_cm),
        },
        hints=[
            "What was added is a ring round the old wood, not a small round stem.",
            "Find the area before and the area after, each by G²/4π, and take one from the other.",
            "Work out (({girth_cm} + {growth_cm})² − {girth_cm}²)/12.566.",
        ],
        solution="The later girth is {girth_cm} + {growth_cm} = {later_girth_cm} cm. Its area is "
        "{later_girth_cm}²/12.566 = {later_area_cm2} cm², that before was {girth_cm}²/12.566 = "
        "{earlier_area_cm2} cm². The difference is {answer} cm².",
        slips=[
            Slip("squared-too-late", lambda q: q.growth_cm**2 / (4 * pi),
                 "The growth was squared. Square each girth first, then take the difference."),
            Slip("whole-area", lambda q: (q.girth_cm + q.growth_cm) ** 2 / (4 * pi),
                 "That is the whole area now. Take away what was there before."),
            Slip("girth-as-diameter",
                 lambda q: pi / 4 * ((q.girth_cm + q.growth_cm) ** 2 - q.girth_cm**2),
                 "The girths were taken for diameters. A = G²/4π."),
            Slip("diameter-for-radius",
                 lambda q: ((q.girth_cm + q.growth_cm) ** 2 - q.girth_cm**2) / pi,
                 "The diameter was taken for the radius: that makes it four times too large."),
            Slip("pi-forgotten",
                 lambda q: ((q.girth_cm + q.growth_cm) ** 2 - q.girth_cm**2) / 4,
                 "π was forgotten: A = G²/4π, not G²/4."),
            Slip("quarter-girth",
                 lambda q: ((q.girth_cm + q.growth_cm) ** 2 - q.girth_cm**2) / 16,
                 "Those are squares of quarter girths, a timber rule; the true area is G²/4π."),
        ],
        picture="girth",
        source="common practice, no source",
    ),
    Family(
        key="girth-or-diameter",
        topic="girth",
        title="A column without a name: girth or diameter?",
        text="In a record of the pines of compartment 7 one column has lost its name: it holds "
        "girths or diameters. For one stem it says {reading_cm} cm; the stem is {tree_height_m} m "
        "high. Every stem of this stand (a made-up one) is between 45 and 120 times as high as it "
        "is thick at breast height. Taken for round, what is the diameter of this stem there, in "
        "cm?",
        given=[
            Quantity("reading_cm", 20.0, 160.0, 0.1),
            Quantity("tree_height_m", 16.0, 30.0, 0.5),
        ],
        unit="cm",
        answer=lambda q: _column_cm(q, _is_diameter(q)),
        steps={
            "ratio_as_diameter": _times_as_high,
            "ratio_as_girth": lambda q: pi * _times_as_high(q),
        },
        fits=_one_fits,
        fits_since={2: clear_of(
            lambda q: _column_cm(q, _is_diameter(q)), 0.8,
            # the thickest, the thinnest and the middle that the height allows: near by luck
            lambda q: 100 * q.tree_height_m / STOUT,
            lambda q: 200 * q.tree_height_m / (STOUT + SLENDER),
            lambda q: 100 * q.tree_height_m / SLENDER)},
        hints=[
            "Try both: as a diameter, and as a girth. One of them makes a stem that this stand "
            "does not have.",
            "Put height and thickness into the same unit and divide. As a girth, the stem is π "
            "times thinner.",
            "Work out 100·{tree_height_m}/{reading_cm}, and π times that. If the first lies "
            "between 45 and 120, the column holds diameters; if the second does, it holds girths, "
            "and {reading_cm} must be divided by π.",
        ],
        solution="As a diameter, {reading_cm} cm make the stem 100·{tree_height_m}/{reading_cm} = "
        "{ratio_as_diameter} times as high as thick; as a girth, π times that: {ratio_as_girth}. "
        "Only one of them lies between 45 and 120. So the diameter is {answer} cm.",
        slips=[
            Slip("other-column", lambda q: _column_cm(q, not _is_diameter(q)),
                 "Girth and diameter were mixed up: divide the height by your diameter, both in "
                 "cm, and see whether it lies between 45 and 120."),
            Slip("radius-for-diameter", lambda q: _column_cm(q, _is_diameter(q)) / 2,
                 "That is the radius. The diameter is twice that."),
            Slip("times-pi", lambda q: q.reading_cm * pi,
                 "The reading was multiplied by π. The diameter is the reading itself, or the "
                 "reading over π."),
            Slip("quarter-girth", lambda q: q.reading_cm / 4,
                 "That is a quarter of the reading, a timber rule for girths. The diameter is the "
                 "reading itself, or the reading over π."),
        ],
        picture="numbers",
        source="common practice, no source; the stand is invented",
    ),
]  # fmt: skip
