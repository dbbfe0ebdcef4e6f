"""Girth, diameter, area and their units. Stems are invented (Quillmere Practice Wood)."""

from __future__ import annotations

from math import pi

from mensura.estimates.areas import area_from_girth_cm2, basal_area_m2, diameter_from_girth_cm
from mensura.teaching.problems.family import Family, Quantity, Slip

CM_PER_IN = 2.54  # exact, by definition of the inch

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
        "round, what is its sectional area? Answer in cm² or m², with the unit.",
        given=[Quantity("girth_cm", 40.0, 240.0, 0.1)],
        unit="cm²",
        answer=lambda q: area_from_girth_cm2(q.girth_cm),
        steps={"diameter_cm": lambda q: diameter_from_girth_cm(q.girth_cm)},
        hints=[
            "Which circle has this girth, and what is its area?",
            "A = G²/4π: square first, then divide by 4π, which is 12.566.",
            "Work out {girth_cm}²/12.566; that is in cm².",
        ],
        solution="A = G²/4π = {girth_cm}²/12.566 = {answer} cm² (the diameter is {diameter_cm} cm).",
        slips=[
            Slip("girth-as-diameter", lambda q: pi / 4 * q.girth_cm**2,
                 "The girth was taken for a diameter. Divide it by π first, or use G²/4π."),
            Slip("diameter-for-radius", lambda q: q.girth_cm**2 / pi,
                 "The diameter was taken for the radius: that makes the area four times too large."),
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
]  # fmt: skip
