"""From readings to timber: logs by sections, a stem by its own form, and what a figure is worth.

Stems and trees are invented (Quillmere Practice Wood). What is new for each tree averages out, and
less where one is large; what all trees share stays as it is. Plots and angle counts are in
`parts/`.
"""

from __future__ import annotations

from itertools import pairwise
from math import hypot, log, pi, sqrt
from statistics import fmean
from typing import Any

from mensura.estimates.areas import basal_area_m2
from mensura.estimates.logs import huber_from_girth_m3, smalian_from_girths_m3
from mensura.estimates.solids import solid_m3
from mensura.teaching.problems.family import Family, Quantity, Slip, clear_of
from mensura.teaching.problems.parts.plot_sums import PLOT_SUMS, numbered


def _girths(q: Any) -> list[float]:
    return numbered(q, "girth_at_{}_cm", 5)


def _weighed_cm2(q: Any, end: float = 0.5) -> float:
    """Squares of the five girths, those at both ends with a weight."""
    squares = [girth**2 for girth in _girths(q)]
    return sum(squares[1:-1]) + end * (squares[0] + squares[-1])


def _sections_m3(q: Any) -> float:
    girths = _girths(q)
    return float(
        sum(
            smalian_from_girths_m3(thick, thin, q.section_length_m)
            for thick, thin in pairwise(girths)
        )
    )


def _of_squares_m3(q: Any, squares_cm2: float) -> float:
    return squares_cm2 / (4e4 * pi) * float(q.section_length_m)


def _power(q: Any) -> float:
    """With which power of the distance from the tip the area goes."""
    return _thinner(q) / _nearer(q)


def _thinner(q: Any) -> float:
    return 2 * log(q.lower_diameter_cm / q.upper_diameter_cm)


def _nearer(q: Any) -> float:
    return log(q.tip_m / (q.tip_m - q.above_cut_m))


def _cylinder_m3(q: Any) -> float:
    return float(solid_m3("cylinder", q.lower_diameter_cm, q.tip_m))


def _form_is_between(q: Any) -> bool:
    return 1.12 < _power(q) < 1.88 or 2.12 < _power(q) < 2.8


def _variance_percent2(q: Any) -> float:
    own = (2 * q.u_diameter_percent) ** 2
    return float(own + q.u_height_percent**2 + q.u_form_percent**2)


def _weight(q: Any) -> float:
    """By how much what is new for each tree shrinks in the sum of four."""
    volumes = numbered(q, "volume_{}_m3", 4)
    return sqrt(sum(one**2 for one in volumes)) / sum(volumes)


def _of_the_sum_percent(q: Any) -> float:
    return hypot(q.u_each_percent * _weight(q), q.u_all_percent)


FAMILIES = [
    Family(
        key="log-by-sections",
        topic="timber",
        title="Volume of a log by sections",
        text="A long log is taped under bark at the thick end, at the thin end and at three places "
        "between, always {section_length_m} m further: {girth_at_1_cm}, {girth_at_2_cm}, "
        "{girth_at_3_cm}, {girth_at_4_cm} and {girth_at_5_cm} cm. What is its volume by sections, "
        "each section by Smalian's rule, taken for round? Answer in m³.",
        given=[
            Quantity("girth_at_1_cm", 150.0, 172.0, 0.5),
            Quantity("girth_at_2_cm", 126.0, 138.0, 0.5),
            Quantity("girth_at_3_cm", 110.0, 119.0, 0.5),
            Quantity("girth_at_4_cm", 100.0, 109.0, 0.5),
            Quantity("girth_at_5_cm", 78.0, 92.0, 0.5),
            Quantity("section_length_m", 1.2, 2.4, 0.1, exact=True),
        ],
        unit="m³",
        answer=_sections_m3,
        # not where one mean girth would do for all sections
        fits=clear_of(
            _sections_m3, 1.0,
            lambda q: _of_squares_m3(q, 4 * fmean(_girths(q)) ** 2),
            lambda q: _of_squares_m3(q, (q.girth_at_1_cm + q.girth_at_5_cm) ** 2)),
        steps={"weighed_cm2": _weighed_cm2},
        hints=[
            "Four sections, five places. Which places belong to two sections, and which to one?",
            "Smalian takes half of each end's area. Between two sections the halves make a whole; "
            "at the log's own ends a half stays a half.",
            "Add half of {girth_at_1_cm}² and of {girth_at_5_cm}² and the three other squares. "
            "Divide by 12.566 and by 10 000, and multiply by {section_length_m}.",
        ],
        solution="Half of the first and the last square and the three between make {weighed_cm2} "
        "cm². {weighed_cm2}·{section_length_m}/(12.566·10 000) = {answer} m³. Ask the contract by "
        "which rule timber is sold; local scaling rules come first.",
        slips=[
            Slip("ends-counted-whole", lambda q: _of_squares_m3(q, _weighed_cm2(q, 1.0)),
                 "You counted five areas, but there are four sections: the two ends count half."),
            Slip("ends-left-out", lambda q: _of_squares_m3(q, _weighed_cm2(q, 0.0)),
                 "The ends are missing: each counts half."),
            Slip("ends-alone",
                 lambda q: smalian_from_girths_m3(
                     q.girth_at_1_cm, q.girth_at_5_cm, 4 * q.section_length_m),
                 "That is one section from end to end. The flare at the butt counts for all of it "
                 "then."),
            Slip("middle-alone",
                 lambda q: huber_from_girth_m3(q.girth_at_3_cm, 4 * q.section_length_m),
                 "That is the middle girth for the whole log. It knows nothing of the butt."),
            Slip("girth-as-diameter", lambda q: pi**2 * _sections_m3(q),
                 "The girths were taken for diameters. Each area is G²/4π."),
            Slip("one-section", lambda q: _sections_m3(q) / 4,
                 "That is the mean section. The log has four of them."),
        ],
        source="[Husch2003]",
    ),
    Family(
        key="two-rules-one-volume",
        topic="timber",
        title="Newton's volume from Huber's and Smalian's",
        text="A butt log holds {huber_m3} m³ by Huber's rule and {smalian_m3} m³ by "
        "Smalian's. Nobody has the diameters any more. What would Newton's rule have given, in m³?",
        given=[
            Quantity("huber_m3", 0.60, 0.95, 0.01, exact=True),
            Quantity("smalian_m3", 1.05, 1.40, 0.01, exact=True),
        ],
        unit="m³",
        answer=lambda q: (2 * q.huber_m3 + q.smalian_m3) / 3,
        hints=[
            "On a flared log one of the two is too large and the other too small. By equal parts?",
            "Newton takes the middle four times and each end once, over six. How much of Huber and "
            "how much of Smalian is that?",
            "Take two thirds of {huber_m3} and a third of {smalian_m3}.",
        ],
        solution="(g₀ + 4·g + g₁)/6 is two thirds of Huber's area and a third of Smalian's. So "
        "(2·{huber_m3} + {smalian_m3})/3 = {answer} m³. "
        "On a cone and a neiloid Smalian is off twice as far as Huber, the other way.",
        slips=[
            Slip("plain-mean", lambda q: (q.huber_m3 + q.smalian_m3) / 2,
                 "That is the mean of both. Smalian errs twice as far as Huber, so the truth lies "
                 "nearer to Huber."),
            Slip("weights-changed", lambda q: (q.huber_m3 + 2 * q.smalian_m3) / 3,
                 "You gave Smalian the larger weight. It is the middle that counts four times."),
            Slip("four-to-one", lambda q: (4 * q.huber_m3 + q.smalian_m3) / 5,
                 "Four to one is the middle against one end, and Smalian has both: two to one."),
            Slip("over-six", lambda q: (4 * q.huber_m3 + q.smalian_m3) / 6,
                 "Smalian is half of both ends already: four times Huber and twice Smalian, over "
                 "six."),
            Slip("difference-of-both", lambda q: q.smalian_m3 - q.huber_m3,
                 "That is what the two rules are apart. Asked is a volume between them."),
        ],
        source="[Goulding1979]",
    ),
    Family(
        key="volume-from-its-form",
        topic="timber",
        title="Volume of a top from its own form",
        text="A felled stem is cut off at {lower_diameter_cm} cm diameter; from the cut to "
        "the tip are {tip_m} m. {above_cut_m} m above the cut it is {upper_diameter_cm} cm thick. "
        "Suppose that its area goes with some power p of the distance from the tip. Find p from "
        "both diameters. What is the volume from the cut to the tip, in m³?",
        given=[
            Quantity("lower_diameter_cm", 38.0, 42.0, 0.1),
            Quantity("upper_diameter_cm", 28.0, 32.0, 0.1),
            Quantity("tip_m", 18.0, 24.0, 0.5, exact=True),
            Quantity("above_cut_m", 4.0, 7.0, 0.5, exact=True),
        ],
        unit="m³",
        answer=lambda q: solid_m3(_power(q), q.lower_diameter_cm, q.tip_m),
        fits=_form_is_between,
        steps={
            "thinner": _thinner,
            "nearer": _nearer,
            "power": _power,
            "area_m2": lambda q: basal_area_m2(q.lower_diameter_cm),
        },
        hints=[
            "A paraboloid has p = 1, a cone p = 2. This one says itself what it is.",
            "The areas are as (distance from the tip)ᵖ. Logarithms of both ratios give p; the "
            "volume is g·L/(p + 1).",
            "p is 2·ln({lower_diameter_cm}/{upper_diameter_cm}) over ln of {tip_m} to what is left "
            "above the second diameter.",
        ],
        solution="Twice the logarithm of {lower_diameter_cm} to {upper_diameter_cm} is {thinner}, "
        "that of both ways to the tip {nearer}: p = {thinner}/{nearer} = {power}. The cut has "
        "{area_m2} m², and g·L/(p + 1) makes {answer} m³.",
        slips=[
            Slip("as-a-paraboloid", lambda q: _cylinder_m3(q) / 2,
                 "That is p = 1, a paraboloid. The second diameter says otherwise."),
            Slip("as-a-cone", lambda q: _cylinder_m3(q) / 3,
                 "That is p = 2, a cone. The second diameter says otherwise."),
            Slip("power-of-the-diameter", lambda q: _cylinder_m3(q) / (_power(q) / 2 + 1),
                 "You found the power of the diameter. Areas go with twice that power."),
            Slip("one-forgotten", lambda q: _cylinder_m3(q) / _power(q),
                 "Adding up xᵖ gives p + 1 below, not p."),
            Slip("as-a-cylinder", _cylinder_m3,
                 "That is a cylinder as thick as the cut. Divide by p + 1."),
        ],
        source="closed form of a solid of revolution",
    ),
    *PLOT_SUMS,
    Family(
        key="share-of-the-variance",
        topic="timber",
        title="Which share of a volume's variance is the diameter's?",
        text="A stand's volume goes as d²·h·f. For the whole stand alike, the standard "
        "uncertainties are {u_diameter_percent} % of d, {u_height_percent} % of h and "
        "{u_form_percent} % of f, each apart from the others. Which share of the volume's variance "
        "is the diameter's, in per cent?",
        given=[
            Quantity("u_diameter_percent", 1.0, 2.5, 0.1, exact=True),
            Quantity("u_height_percent", 1.5, 4.5, 0.1, exact=True),
            Quantity("u_form_percent", 2.5, 6.0, 0.1, exact=True),
        ],
        unit="%",
        answer=lambda q: 100 * (2 * q.u_diameter_percent) ** 2 / _variance_percent2(q),
        steps={
            "diameter_percent2": lambda q: (2 * q.u_diameter_percent) ** 2,
            "sum_percent2": _variance_percent2,
        },
        hints=[
            "Shares of what: of the uncertainties, or of their squares? Only one of them adds up.",
            "d stands squared in the volume, so its per cents count twice, before they are "
            "squared.",
            "Divide (2·{u_diameter_percent})² by itself plus {u_height_percent}² plus "
            "{u_form_percent}².",
        ],
        solution="The diameter brings (2·{u_diameter_percent})² = {diameter_percent2}, all three "
        "together {sum_percent2}: {diameter_percent2}/{sum_percent2} is {answer} %. It pays to "
        "work on the largest share first.",
        slips=[
            Slip("two-forgotten",
                 lambda q: 100 * q.u_diameter_percent**2
                 / (_variance_percent2(q) - 3 * q.u_diameter_percent**2),
                 "d stands squared in the volume: its per cents count twice."),
            Slip("two-not-squared",
                 lambda q: 200 * q.u_diameter_percent**2
                 / (_variance_percent2(q) - 2 * q.u_diameter_percent**2),
                 "The 2 is squared as well: it belongs to the uncertainty, not to the variance."),
            Slip("shares-not-squared",
                 lambda q: 200 * q.u_diameter_percent
                 / (2 * q.u_diameter_percent + q.u_height_percent + q.u_form_percent),
                 "Those are shares of the plain sum. Variances add, so square first."),
            Slip("of-the-root",
                 lambda q: 200 * q.u_diameter_percent / sqrt(_variance_percent2(q)),
                 "That is the diameter's uncertainty over the whole one. Such shares add up to "
                 "more than 100: take the squares."),
            Slip("of-the-others",
                 lambda q: 400 * q.u_diameter_percent**2
                 / (q.u_height_percent**2 + q.u_form_percent**2),
                 "You divided by the two others. The whole has the diameter's part in it."),
        ],
        source="[GUM1995]",
    ),
    Family(
        key="what-unequal-trees-leave",
        topic="timber",
        title="New for each tree or common to all: the sum of unequal trees",
        text="Four trees hold {volume_1_m3}, {volume_2_m3}, {volume_3_m3} and {volume_4_m3} m³. "
        "Each volume has a standard uncertainty of {u_each_percent} % that is new for each tree, "
        "and {u_all_percent} % that all share. What is the standard uncertainty of their sum, in "
        "per cent?",
        given=[
            Quantity("volume_1_m3", 2.4, 3.6, 0.1, exact=True),
            Quantity("volume_2_m3", 0.8, 1.4, 0.1, exact=True),
            Quantity("volume_3_m3", 0.3, 0.7, 0.1, exact=True),
            Quantity("volume_4_m3", 0.2, 0.6, 0.1, exact=True),
            Quantity("u_each_percent", 6.0, 12.0, 0.5, exact=True),
            Quantity("u_all_percent", 2.0, 5.0, 0.5, exact=True),
        ],
        unit="%",
        answer=_of_the_sum_percent,
        # not where a quarter, plainly added, would do
        fits=clear_of(
            _of_the_sum_percent, 1.0, lambda q: q.u_each_percent / 4 + q.u_all_percent),
        steps={
            "sum_m3": lambda q: sum(numbered(q, "volume_{}_m3", 4)),
            "root_m3": lambda q: sqrt(sum(one**2 for one in numbered(q, "volume_{}_m3", 4))),
            "new_percent": lambda q: q.u_each_percent * _weight(q),
        },
        hints=[
            "One tree holds most of the wood. Do its neighbours' errors make up for its own?",
            "What is new adds by its squares, in m³: the root of the volumes' squares over their "
            "sum. What is common stays as it is.",
            "Multiply {u_each_percent} by the root of the four squares over the sum of the four; "
            "square that, add {u_all_percent}², and take the root.",
        ],
        solution="The sum is {sum_m3} m³, the root of the squares {root_m3} m³: of "
        "{u_each_percent} % new for each tree {new_percent} % are left. With {u_all_percent} % "
        "common to all it is {answer} %. More trees make the first smaller, never the second.",
        slips=[
            Slip("as-if-equal", lambda q: hypot(q.u_each_percent / 2, q.u_all_percent),
                 "You divided by √n. That holds for equal trees; here one tree holds most."),
            Slip("common-averaged-too",
                 lambda q: hypot(q.u_each_percent, q.u_all_percent) * _weight(q),
                 "What all share does not average out: it stays as it is."),
            Slip("nothing-averaged", lambda q: hypot(q.u_each_percent, q.u_all_percent),
                 "So unsure is a single tree. What is new for each averages out in part."),
            Slip("common-forgotten", lambda q: q.u_each_percent * _weight(q),
                 "That is the part that is new for each. The common part comes on top."),
            Slip("plainly-added", lambda q: q.u_each_percent * _weight(q) + q.u_all_percent,
                 "The two parts know nothing of each other: add their squares."),
        ],
        source="[GUM1995]",
    ),
]  # fmt: skip
