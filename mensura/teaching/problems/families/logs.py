"""Volumes of logs; those of whole stems are in stems.py. Logs are invented (Quillmere).

A volume is an area times a length. What goes wrong is the area: which place along the log it is
taken at, which mean of several, and whether its girth was made a diameter first.
"""

from __future__ import annotations

from math import pi
from typing import Any

from mensura.estimates.areas import basal_area_m2
from mensura.estimates.logs import huber_from_girth_m3, newton_from_girths_m3, smalian_m3
from mensura.estimates.solids import frustum_from_girths_m3, rule_over_percent
from mensura.teaching.problems.family import Family, Quantity, Slip, clear_of
from mensura.teaching.problems.parts.stems import STEMS, from_girth_m2


def _newton_mean_m2(q: Any) -> float:
    together = from_girth_m2(q.butt_girth_cm) + from_girth_m2(q.top_girth_cm)
    return (together + 4 * from_girth_m2(q.mid_girth_cm)) / 6


def _squares(q: Any) -> float:
    return float(q.butt_girth_cm**2 + q.top_girth_cm**2)


def _three(q: Any) -> float:
    """C₀² + C₀C₁ + C₁², in cm²."""
    return _squares(q) + float(q.butt_girth_cm * q.top_girth_cm)


def _smalian_percent(q: Any) -> float:
    return float(rule_over_percent("smalian", "cone", q.butt_diameter_cm, q.top_diameter_cm))


FAMILIES = [
    Family(
        key="huber",
        topic="logs",
        title="Volume of a log from its middle girth",
        text="A pine log of compartment 7 is {log_length_m} m long. Round the middle, under bark, "
        "a taut tape reads {mid_girth_cm} cm. Taken for round, what is its volume by Huber's rule? "
        "Answer in m³.",
        given=[
            Quantity("mid_girth_cm", 60.0, 190.0, 0.5),
            Quantity("log_length_m", 2.5, 6.5, 0.05),
        ],
        unit="m³",
        answer=lambda q: huber_from_girth_m3(q.mid_girth_cm, q.log_length_m),
        steps={"area_m2": lambda q: from_girth_m2(q.mid_girth_cm)},
        hints=[
            "Huber's rule takes the log for a cylinder as thick as its middle.",
            "Volume is area times length. The area is G²/4π; put the girth into metres first.",
            "Make {mid_girth_cm} cm metres, square it, divide by 12.566, and multiply by "
            "{log_length_m}.",
        ],
        solution="In metres the girth is {mid_girth_cm}/100. The area at the middle is "
        "({mid_girth_cm}/100)²/12.566 = {area_m2} m². V = {area_m2}·{log_length_m} = {answer} m³.",
        slips=[
            Slip("girth-as-diameter", lambda q: pi / 4e4 * q.mid_girth_cm**2 * q.log_length_m,
                 "The girth was taken for a diameter. Divide it by π first, or use G²/4π."),
            Slip("diameter-for-radius", lambda q: q.mid_girth_cm**2 / (1e4 * pi) * q.log_length_m,
                 "The diameter was taken for the radius: that makes it four times too large."),
            Slip("quarter-girth", lambda q: (q.mid_girth_cm / 400) ** 2 * q.log_length_m,
                 "That is the quarter-girth rule, 21 % less than the true volume. Huber's rule "
                 "takes G²/4π."),
            Slip("cm-for-m", lambda q: q.mid_girth_cm**2 / (4 * pi) * q.log_length_m,
                 "That is cm² times m. Put the girth into metres before you square it."),
            Slip("pi-forgotten", lambda q: q.mid_girth_cm**2 / 4e4 * q.log_length_m,
                 "π was forgotten: the area is G²/4π, not G²/4."),
        ],
        asks_unit=True,
        picture="log",
        source="[Husch2003] for the rule, from memory; named in [Goulding1979]",
    ),
    Family(
        key="smalian",
        topic="logs",
        title="Volume of a log from its two ends",
        text="A birch log of compartment 7 lies in a pile, so that only its ends can be measured. "
        "Under bark they are {butt_diameter_cm} cm and {top_diameter_cm} cm thick; the log is "
        "{log_length_m} m long. Taken for round, what is its volume by Smalian's rule? Answer in "
        "m³.",
        given=[
            Quantity("butt_diameter_cm", 34.0, 58.0, 0.1),
            Quantity("top_diameter_cm", 16.0, 30.0, 0.1),
            Quantity("log_length_m", 4.0, 9.0, 0.05),
        ],
        unit="m³",
        answer=lambda q: smalian_m3(q.butt_diameter_cm, q.top_diameter_cm, q.log_length_m),
        steps={
            "butt_m2": lambda q: basal_area_m2(q.butt_diameter_cm),
            "top_m2": lambda q: basal_area_m2(q.top_diameter_cm),
        },
        fits=lambda q: q.top_diameter_cm <= 0.7 * q.butt_diameter_cm,
        hints=[
            "Smalian's rule takes a mean of both ends. A mean of what?",
            "Find the area of each end, π/4·d² in m², then the mean of both areas, then multiply "
            "by the length.",
            "Work out 0.7854·({butt_diameter_cm}² + {top_diameter_cm}²)/2, divide by 10 000, and "
            "multiply by {log_length_m}.",
        ],
        solution="The ends have 0.7854·{butt_diameter_cm}²/10 000 = {butt_m2} m² and "
        "0.7854·{top_diameter_cm}²/10 000 = {top_m2} m². V = ({butt_m2} + "
        "{top_m2})/2·{log_length_m} = {answer} m³.",
        slips=[
            Slip("squared-too-late",
                 lambda q: pi / 16e4 * (q.butt_diameter_cm + q.top_diameter_cm) ** 2
                 * q.log_length_m,
                 "You squared the mean diameter. Smalian takes the mean of the two areas: square "
                 "first. The other is too small."),
            Slip("not-halved",
                 lambda q: pi / 4e4 * (q.butt_diameter_cm**2 + q.top_diameter_cm**2)
                 * q.log_length_m,
                 "Both areas were added, but their mean is wanted: halve."),
            Slip("diameter-for-radius",
                 lambda q: pi / 2e4 * (q.butt_diameter_cm**2 + q.top_diameter_cm**2)
                 * q.log_length_m,
                 "Diameters were taken for radii: that makes it four times too large."),
            Slip("thick-end-only", lambda q: pi / 4e4 * q.butt_diameter_cm**2 * q.log_length_m,
                 "That is a cylinder as thick as the thick end. The log tapers."),
            Slip("cm-for-m",
                 lambda q: pi / 8 * (q.butt_diameter_cm**2 + q.top_diameter_cm**2)
                 * q.log_length_m,
                 "That is cm² times m. A square metre has 10 000 cm²: divide."),
        ],
        asks_unit=True,
        picture="log",
        source="[Husch2003] for the rule, from memory; named in [Goulding1979]",
    ),
    Family(
        key="newton",
        topic="logs",
        title="Volume of a flared butt log from three girths",
        text="The butt log of an oak of compartment 7 flares at its foot. Taped under bark, its "
        "thick end is {butt_girth_cm} cm round, its middle {mid_girth_cm} cm, its thin end "
        "{top_girth_cm} cm; it is {log_length_m} m long. Taken for round, what is its volume by "
        "Newton's rule? Answer in m³.",
        given=[
            Quantity("butt_girth_cm", 185.0, 240.0, 0.5),
            Quantity("mid_girth_cm", 130.0, 150.0, 0.5),
            Quantity("top_girth_cm", 105.0, 124.0, 0.5),
            Quantity("log_length_m", 2.5, 5.0, 0.05),
        ],
        unit="m³",
        answer=lambda q: newton_from_girths_m3(
            q.butt_girth_cm, q.mid_girth_cm, q.top_girth_cm, q.log_length_m
        ),
        steps={
            "butt_m2": lambda q: from_girth_m2(q.butt_girth_cm),
            "mid_m2": lambda q: from_girth_m2(q.mid_girth_cm),
            "top_m2": lambda q: from_girth_m2(q.top_girth_cm),
            "mean_m2": _newton_mean_m2,
        },
        hints=[
            "Newton's rule takes a mean of three areas. Do they all count alike?",
            "Find the three areas by G²/4π. The middle counts four times, each end once; divide by "
            "six, then multiply by the length.",
            "Work out ({butt_girth_cm}² + 4·{mid_girth_cm}² + {top_girth_cm}²)/6, divide by 12.566 "
            "and by 10 000, and multiply by {log_length_m}.",
        ],
        solution="By G²/4π the areas are {butt_m2}, {mid_m2} and {top_m2} m². Their mean by Newton "
        "is ({butt_m2} + 4·{mid_m2} + {top_m2})/6 = {mean_m2} m². V = {mean_m2}·{log_length_m} = "
        "{answer} m³.",
        slips=[
            Slip("all-alike",
                 lambda q: (_squares(q) + q.mid_girth_cm**2) / (12e4 * pi) * q.log_length_m,
                 "All three areas were counted alike. In Newton's rule the middle counts four "
                 "times, and the sum is divided by six."),
            Slip("squared-too-late",
                 lambda q: ((q.butt_girth_cm + 4 * q.mid_girth_cm + q.top_girth_cm) / 6) ** 2
                 / (4e4 * pi) * q.log_length_m,
                 "You took the mean of the girths and squared it. The rule takes the mean of the "
                 "areas: square first."),
            Slip("mean-girth",
                 lambda q: (q.butt_girth_cm + q.mid_girth_cm + q.top_girth_cm) ** 2
                 / (36e4 * pi) * q.log_length_m,
                 "You squared the plain mean of the three girths. The rule takes areas, and the "
                 "middle one four times.", since=2, apart_since=2),
            Slip("ends-only", lambda q: _squares(q) / (8e4 * pi) * q.log_length_m,
                 "That is Smalian's rule, from the ends alone. On a flared log it is far too "
                 "large."),
            Slip("middle-only", lambda q: q.mid_girth_cm**2 / (4e4 * pi) * q.log_length_m,
                 "That is Huber's rule, from the middle alone. It leaves out the flare."),
            Slip("girth-as-diameter", lambda q: pi**2 * _newton_mean_m2(q) * q.log_length_m,
                 "The girths were taken for diameters. The areas are G²/4π."),
        ],
        asks_unit=True,
        picture="log",
        source="[Husch2003] for the rule, from memory; named in [Goulding1979]",
    ),
    Family(
        key="piece-of-a-cone",
        topic="logs",
        title="Volume of a top log as a piece of a cone",
        text="The top log of a pine of compartment 7 tapers evenly, like a piece of a round cone. "
        "Under bark, a tape reads {butt_girth_cm} cm at its thick end and {top_girth_cm} cm at its "
        "thin end; it is {log_length_m} m long. What is its volume, exactly for such a piece? "
        "Answer in m³.",
        given=[
            Quantity("butt_girth_cm", 90.0, 130.0, 0.5),
            Quantity("top_girth_cm", 24.0, 52.0, 0.5),
            Quantity("log_length_m", 4.0, 9.0, 0.05),
        ],
        unit="m³",
        answer=lambda q: frustum_from_girths_m3(
            "cone", q.butt_girth_cm, q.top_girth_cm, q.log_length_m
        ),
        fits_since={2: clear_of(
            lambda q: _three(q) / 3, 1.5, lambda q: q.butt_girth_cm**2 / 2)},
        steps={"three_cm2": _three},
        fits=lambda q: q.top_girth_cm <= 0.55 * q.butt_girth_cm,
        hints=[
            "A piece of a cone is a cone less its tip. Its mean area lies between the area at the "
            "middle and the mean of the two ends.",
            "With the girths C and c at its ends: V = L/12π·(C² + C·c + c²); 12π is 37.70.",
            "Work out {butt_girth_cm}² + {butt_girth_cm}·{top_girth_cm} + {top_girth_cm}², divide "
            "by 37.70 and by 10 000, and multiply by {log_length_m}.",
        ],
        solution="C² + C·c + c² = {butt_girth_cm}² + {butt_girth_cm}·{top_girth_cm} + "
        "{top_girth_cm}² = {three_cm2} cm². V = {log_length_m}·{three_cm2}/37.70/10 000 = {answer} "
        "m³.",
        slips=[
            Slip("mean-of-the-ends", lambda q: _squares(q) / (8e4 * pi) * q.log_length_m,
                 "That is Smalian's mean of the two end areas. For a cone it is too large."),
            Slip("mean-girth",
                 lambda q: (q.butt_girth_cm + q.top_girth_cm) ** 2 / (16e4 * pi) * q.log_length_m,
                 "That is a cylinder with the mean girth, which is the middle of the cone. It is "
                 "too small."),
            Slip("product-forgotten", lambda q: _squares(q) / (12e4 * pi) * q.log_length_m,
                 "The product C·c was left out; there are three terms under the third."),
            Slip("girth-as-diameter", lambda q: pi * _three(q) / 12e4 * q.log_length_m,
                 "The girths were taken for diameters: L·π/12 is for diameters, L/12π for girths."),
            Slip("third-forgotten", lambda q: _three(q) / (4e4 * pi) * q.log_length_m,
                 "The sum of three terms was taken for their mean: divide by 3 as well."),
        ],
        asks_unit=True,
        picture="log",
        source="closed form of the cone; common practice, no source, for its use",
    ),
    *STEMS,
    Family(
        key="smalian-on-a-cone",
        topic="logs",
        title="By how much Smalian's rule overestimates a piece of a cone",
        text="A log of compartment 7 is a piece of a round cone: it tapers evenly from "
        "{butt_diameter_cm} cm to {top_diameter_cm} cm in diameter. By how many per cent of its "
        "true volume is Smalian's volume, from the two end areas, too large?",
        given=[
            Quantity("butt_diameter_cm", 36.0, 60.0, 0.1),
            Quantity("top_diameter_cm", 14.0, 28.0, 0.1),
        ],
        unit="%",
        answer=_smalian_percent,
        steps={
            "said_cm2": lambda q: (q.butt_diameter_cm**2 + q.top_diameter_cm**2) / 2,
            "true_cm2": lambda q: (q.butt_diameter_cm**2 + q.butt_diameter_cm * q.top_diameter_cm
                                   + q.top_diameter_cm**2) / 3,
        },
        fits=lambda q: q.top_diameter_cm <= 0.65 * q.butt_diameter_cm,
        hints=[
            "The length and π/4 are in both volumes, so they drop out. Compare mean squares.",
            "Smalian: (D² + d²)/2. A piece of a cone: (D² + D·d + d²)/3. Divide the first by the "
            "second.",
            "Work out ({butt_diameter_cm}² + {top_diameter_cm}²)/2 and ({butt_diameter_cm}² + "
            "{butt_diameter_cm}·{top_diameter_cm} + {top_diameter_cm}²)/3, divide, take away 1, "
            "and multiply by 100.",
        ],
        solution="Smalian's mean square is ({butt_diameter_cm}² + {top_diameter_cm}²)/2 = "
        "{said_cm2} cm²; the cone's is ({butt_diameter_cm}² + {butt_diameter_cm}·{top_diameter_cm} "
        "+ {top_diameter_cm}²)/3 = {true_cm2} cm². 100·({said_cm2}/{true_cm2} − 1) = {answer} %.",
        slips=[
            Slip("huber-instead",
                 lambda q: rule_over_percent(
                     "huber", "cone", q.butt_diameter_cm, q.top_diameter_cm),
                 "That is Huber's error. Smalian errs the other way and twice as much."),
            Slip("half-of-it", lambda q: _smalian_percent(q) / 2,
                 "That is how far Huber is below, without its sign. Smalian errs twice as much."),
            Slip("share-of-smalian",
                 lambda q: 100 * _smalian_percent(q) / (100 + _smalian_percent(q)),
                 "The difference was divided by Smalian's volume. Asked is a share of the true "
                 "one."),
            Slip("wrong-sign", lambda q: -_smalian_percent(q),
                 "Smalian is too large here, not too small: its number stands first in the "
                 "difference."),
            Slip("huber-for-true",
                 lambda q: 100 * (2 * (q.butt_diameter_cm**2 + q.top_diameter_cm**2)
                 / (q.butt_diameter_cm + q.top_diameter_cm) ** 2 - 1),
                 "The middle section was taken for the true mean. Huber's volume of a cone is too "
                 "small itself."),
        ],
        picture="log",
        source="closed form; [Husch2003] for the rules, from memory",
    ),
]  # fmt: skip
