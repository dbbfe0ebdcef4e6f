"""Slope and lean, of the topic place: on which side a height is told, and how the band is held.

Stems are invented (Quillmere Practice Wood). A stem leans or its ground slopes, and what was one
height is several. A level cut through a leaning stem is longer than a cut square to it.
"""

from __future__ import annotations

from functools import lru_cache
from math import acos, atan, cos, degrees, pi, radians, sin, sqrt, tan
from typing import Any

from mensura.estimates.areas import area_from_diameters_cm2, over_percent
from mensura.stems.standing import StemInSpace
from mensura.teaching.problems.family import Family, Quantity, Slip


def _area_percent(share_percent: float) -> float:
    """What an area gains where the diameter gains some per cent."""
    return 100 * ((1 + share_percent / 100) ** 2 - 1)


def _downhill_percent(q: Any) -> float:
    stem = StemInSpace(q.diameter_cm, taper_cm_per_m=q.taper_cm_per_m, slope_deg=q.slope_deg)
    lower_m = stem.ground_m("uphill") - stem.ground_m("downhill")
    there = stem.section_at(stem.at_m - lower_m)
    return float(over_percent(there.area_cm2, stem.section_at(stem.at_m).area_cm2))


def _lower_cm(q: Any) -> float:
    return float(q.diameter_cm * tan(radians(q.slope_deg)))


def _thicker_percent(q: Any, lower_cm: float) -> float:
    return float(q.taper_cm_per_m * lower_cm / q.diameter_cm)


def _plumb_cm(q: Any) -> float:
    stem = StemInSpace(40.0, lean_deg=q.lean_deg)
    plumb, along = (stem.along_m(q.rule_height_m, "middle", plumb=one) for one in (True, False))
    return 100 * (plumb - along)


def _ground_apart_cm(q: Any) -> float:
    stem = StemInSpace(q.diameter_cm, lean_deg=q.lean_deg, slope_deg=q.slope_deg)
    return 100 * (stem.ground_m("uphill") - stem.ground_m("downhill"))


def _tan(angle_deg: float) -> float:
    return tan(radians(angle_deg))


@lru_cache(maxsize=1024)
def _lean_for_deg(share: float) -> float:
    """The lean at which a level band is longer by a share than one square to the stem."""
    from scipy.optimize import brentq

    def over(lean_deg: float) -> float:
        stem = StemInSpace(40.0, lean_deg=lean_deg)
        level = stem.section_at(stem.at_m, level=True).taut_girth_cm
        return float(level / stem.section_at(stem.at_m).taut_girth_cm) - 1 - share

    return float(brentq(over, 0.0, 60.0, xtol=1e-12, rtol=1e-14))


def _share(q: Any) -> float:
    return float(q.allowed_cm / q.girth_cm)


def _calipers_percent(q: Any) -> float:
    lean_deg = degrees(acos(q.second_reading_cm / q.first_reading_cm))
    stem = StemInSpace(q.second_reading_cm, lean_deg=lean_deg)
    level = stem.section_at(stem.at_m, level=True)
    read = area_from_diameters_cm2([level.width_cm(0.0), level.width_cm(90.0)])
    return float(over_percent(read, stem.section_at(stem.at_m).area_cm2))


def _mean_cm(q: Any) -> float:
    return float(q.first_reading_cm + q.second_reading_cm) / 2


LEANING = [
    Family(
        key="downhill-for-uphill",
        topic="place",
        title="What the downhill side makes of the area",
        text="A round stem stands upright on a slope of {slope_deg}°. The rule of its plot says "
        "1.30 m above the ground on the uphill side; there the stem is {diameter_cm} cm across. A "
        "trainee measures 1.30 m above the ground on the downhill side. The diameter falls by "
        "{taper_cm_per_m} cm with each metre of height. By how many per cent is the sectional "
        "area too large?",
        given=[
            Quantity("diameter_cm", 24.0, 60.0, 0.5, exact=True),
            Quantity("slope_deg", 15, 35, 1, exact=True),
            Quantity("taper_cm_per_m", 0.5, 2.5, 0.1, exact=True),
        ],
        unit="%",
        answer=_downhill_percent,
        steps={
            "lower_cm": _lower_cm,
            "thicker_cm": lambda q: q.taper_cm_per_m * _lower_cm(q) / 100,
            "share_percent": lambda q: _thicker_percent(q, _lower_cm(q)),
        },
        hints=[
            "Draw the stem from the side. How far apart are the two points where the ground "
            "touches it?",
            "The ground falls by d·tan β across the stem, and the tape lies lower by that. The "
            "stem is thicker there by taper times height, the height in metres.",
            "Take {diameter_cm}·tan {slope_deg}° in metres times {taper_cm_per_m}, see what share "
            "of {diameter_cm} it is, and go from diameter to area.",
        ],
        solution="Downhill the ground is {diameter_cm}·tan {slope_deg}° = {lower_cm} cm lower. So "
        "much lower lies the tape, and the stem is {taper_cm_per_m}·{lower_cm}/100 = {thicker_cm} "
        "cm thicker, {share_percent} %. For the area 2·{share_percent} + {share_percent}²/100 = "
        "{answer} %. On steep ground stand where the owner's rules let you: uphill of the stem, "
        "with firm feet.",
        slips=[
            Slip("squared-too-late", lambda q: _thicker_percent(q, _lower_cm(q)),
                 "That is the diameter's error, or what half the way down makes of the area. The "
                 "area goes with the diameter's square."),
            Slip("wrong-way",
                 lambda q: -_area_percent(_thicker_percent(q, _lower_cm(q))),
                 "Further down the stem is thicker: the area is too large."),
            Slip("sine-for-tangent",
                 lambda q: _area_percent(
                     _thicker_percent(q, q.diameter_cm * sin(radians(q.slope_deg)))),
                 "You took the sine. The stem's width lies level, and the fall stands upright on "
                 "it: tangent."),
            Slip("degrees-as-percent",
                 lambda q: _area_percent(
                     _thicker_percent(q, q.diameter_cm * q.slope_deg / 100)),
                 "You took the slope's degrees for per cent. The ground falls by the tangent."),
            Slip("breast-height-for-width",
                 lambda q: _area_percent(_thicker_percent(q, 130 * _tan(q.slope_deg))),
                 "The ground falls over the width of the stem, not over 1.30 m."),
        ],
        picture="standing",
        source="[DeYoung2016] [ForestryNepal2008] for the side; closed form for what it costs",
    ),
    Family(
        key="plumb-on-a-lean",
        topic="place",
        title="A stick held plumb beside a leaning stem",
        text="A round stem leans by {lean_deg}°. By the rule of its plot breast height, "
        "{rule_height_m} m, is told along the stem's axis, from where the axis meets the level "
        "ground. A trainee holds the stick plumb, and lays the tape round that point of the axis "
        "that is {rule_height_m} m above the ground. How much too far along the stem does the tape "
        "lie, in cm?",
        given=[
            Quantity("lean_deg", 15, 30, 0.5, exact=True),
            Quantity("rule_height_m", 1.2, 1.5, 0.01, exact=True),
        ],
        unit="cm",
        answer=_plumb_cm,
        steps={"along_cm": lambda q: 100 * q.rule_height_m / cos(radians(q.lean_deg))},
        hints=[
            "Stem, plumb line and ground make a right angle. Which side is the stem?",
            "The stem is the long side: height over cos λ. What is more than the height along the "
            "stem is too much.",
            "Work out 100·{rule_height_m}/cos {lean_deg}° − 100·{rule_height_m}.",
        ],
        solution="Along the stem the point is 100·{rule_height_m}/cos {lean_deg}° = {along_cm} cm "
        "from the ground. The rule says 100·{rule_height_m} of them: {answer} cm too far. Look up "
        "before you step under a leaning stem: loose tops and hung-up branches fall that way.",
        slips=[
            Slip("cosine-multiplied",
                 lambda q: 100 * q.rule_height_m * (1 - cos(radians(q.lean_deg))),
                 "You multiplied by the cosine. The stem is the longest side of the three: divide "
                 "by it."),
            Slip("tangent", lambda q: 100 * q.rule_height_m * _tan(q.lean_deg),
                 "So far sideways the point has gone. Asked is along the stem."),
            Slip("sine", lambda q: 100 * q.rule_height_m * sin(radians(q.lean_deg)),
                 "So far a point at breast height along the stem has gone sideways. Asked is along "
                 "the stem."),
            Slip("whole-length", lambda q: 100 * q.rule_height_m / cos(radians(q.lean_deg)),
                 "That is the whole length along the stem. Take breast height off."),
            Slip("in-metres", lambda q: q.rule_height_m * (1 / cos(radians(q.lean_deg)) - 1),
                 "That is in metres. Asked are centimetres."),
        ],
        picture="standing",
        source="[ForestryNepal2008] for the rule; theorem (a right-angled triangle) for the rest",
    ),
    Family(
        key="leaning-on-a-slope",
        topic="place",
        title="Where the ground meets a stem that leans downhill",
        text="A round stem, {diameter_cm} cm across square to its axis, stands on a slope of "
        "{slope_deg}° and leans downhill, {lean_deg}° from plumb. How much higher does the ground "
        "touch it on the uphill side than on the downhill side, told along the stem, in cm?",
        given=[
            Quantity("diameter_cm", 25.0, 60.0, 0.1),
            Quantity("slope_deg", 22, 40, 1, exact=True),
            Quantity("lean_deg", 4, 14, 1, exact=True),
        ],
        unit="cm",
        answer=_ground_apart_cm,
        fits=lambda q: q.slope_deg - q.lean_deg >= 8,
        steps={"between_deg": lambda q: q.slope_deg - q.lean_deg},
        hints=[
            "Think of a stem that leans downhill as far as the ground slopes: how does it stand "
            "on the ground?",
            "That stem is square to the ground, and both sides are alike. What counts is by how "
            "much the slope is more than the lean: d·tan(β − λ).",
            "Work out {diameter_cm}·tan({slope_deg}° − {lean_deg}°).",
        ],
        solution="Between the ground and a cut square to the stem there are {slope_deg}° less "
        "{lean_deg}°, {between_deg}°. Across the stem that makes {diameter_cm}·tan "
        "{between_deg}° = {answer} cm. A stem that leans uphill has tan(β + λ). Never stand "
        "downhill of a leaning stem while somebody works at it.",
        slips=[
            Slip("lean-forgotten", lambda q: q.diameter_cm * _tan(q.slope_deg),
                 "So it is round an upright stem. This one leans downhill, and stands more nearly "
                 "square to the ground."),
            Slip("as-if-uphill", lambda q: q.diameter_cm * _tan(q.slope_deg + q.lean_deg),
                 "You added the angles. That is a stem that leans uphill."),
            Slip("tangents-subtracted",
                 lambda q: q.diameter_cm * (_tan(q.slope_deg) - _tan(q.lean_deg)),
                 "Take one angle off the other first, and then the tangent."),
            Slip("radius", lambda q: q.diameter_cm / 2 * _tan(q.slope_deg - q.lean_deg),
                 "That is from the axis to one side. From side to side it is twice that."),
            Slip("slope-forgotten", lambda q: q.diameter_cm * _tan(q.lean_deg),
                 "So it is on level ground. Here the ground slopes as well."),
        ],
        picture="standing",
        source="theorem (a plane cut of a leaning column)",
    ),
    Family(
        key="how-far-may-it-lean",
        topic="place",
        title="How far may a stem lean before a level tape matters?",
        text="A round stem without taper has a girth of {girth_cm} cm square to its axis. It "
        "leans. A trainee holds the tape level instead, taut, and the reading may be at most "
        "{allowed_cm} cm too long. How far may the stem lean at most, in degrees?",
        given=[
            Quantity("girth_cm", 80.0, 160.0, 1.0, exact=True),
            Quantity("allowed_cm", 0.2, 1.0, 0.1, exact=True),
        ],
        unit="°",
        answer=lambda q: _lean_for_deg(_share(q)),
        steps={
            "times_as_long": lambda q: 1 + _share(q),
            "along_lean": lambda q: 1 + 2 * _share(q),
        },
        hints=[
            "What shape is a level cut through a leaning round stem? How wide is it across the "
            "lean, and how long along it?",
            "It is an ellipse: d across and d/cos λ along. Its girth is, near enough, π times the "
            "mean of both, so the tape is (1 + 1/cos λ)/2 times as long.",
            "Put (1 + 1/cos λ)/2 = 1 + {allowed_cm}/{girth_cm}, find 1/cos λ, and from it λ.",
        ],
        solution="The tape may be 1 + {allowed_cm}/{girth_cm} = {times_as_long} times as long. "
        "The mean of 1 and 1/cos λ is that if 1/cos λ = {along_lean}, and so λ = {answer}°. The "
        "mean, like 1 + tan²λ/4, is an approximation, here within half a per cent of the answer. "
        "To hold the tape square to the stem costs nothing.",
        slips=[
            Slip("cosine-all-round", lambda q: degrees(acos(1 / (1 + _share(q)))),
                 "You took 1/cos λ for the whole way round. Across the lean the tape is no longer "
                 "than square to the stem: the mean of 1 and 1/cos λ counts."),
            Slip("tangent-not-squared", lambda q: degrees(atan(4 * _share(q))),
                 "The rule of thumb is tan²λ/4: the tangent is squared, so take a root."),
            Slip("quarter-forgotten", lambda q: degrees(atan(sqrt(_share(q)))),
                 "You put tan²λ itself for the share. It is a quarter of it."),
            Slip("diameter-for-girth", lambda q: _lean_for_deg(pi * _share(q)),
                 "You took the centimetres for ones of the diameter. They are of the girth."),
            Slip("in-radians", lambda q: radians(_lean_for_deg(_share(q))),
                 "That is in radians. Asked are degrees."),
        ],
        picture="standing",
        source="theorem (the level cut of a leaning column is an ellipse); [AS1964] for its girth",
    ),
    Family(
        key="level-calipers-on-a-lean",
        topic="place",
        title="Level calipers on a leaning stem",
        text="A leaning round stem is measured twice with level calipers: in the direction of the "
        "lean they read {first_reading_cm} cm, across it {second_reading_cm} cm. The area is "
        "worked out from the mean of both readings. By how many per cent is it larger than that of "
        "the section square to the stem? No taper.",
        given=[
            Quantity("first_reading_cm", 40.0, 48.0, 0.1, exact=True),
            Quantity("second_reading_cm", 35.0, 40.0, 0.1, exact=True),
        ],
        unit="%",
        answer=_calipers_percent,
        fits=lambda q: 1.06 <= q.first_reading_cm / q.second_reading_cm <= 1.25,
        steps={
            "mean_cm": _mean_cm,
            "quotient": lambda q: _mean_cm(q) / q.second_reading_cm,
        },
        hints=[
            "The stem is round square to its axis. Which of the two readings is its diameter?",
            "Across the lean the calipers read the diameter d itself, in the lean d/cos λ. Set the "
            "mean against d, and square.",
            "Work out 100·((({first_reading_cm} + {second_reading_cm})/2/{second_reading_cm})² − "
            "1).",
        ],
        solution="Across the lean they read the diameter itself, {second_reading_cm} cm. The mean "
        "is ({first_reading_cm} + {second_reading_cm})/2 = {mean_cm} cm, "
        "{mean_cm}/{second_reading_cm} = {quotient} times that; squared, less 1, times 100, it is "
        "{answer} %. Lay the beam square to the stem, and both read alike.",
        slips=[
            Slip("in-the-lean-alone",
                 lambda q: 100 * ((q.first_reading_cm / q.second_reading_cm) ** 2 - 1),
                 "That is what the reading in the lean makes alone. The mean of both was taken."),
            Slip("squared-too-late",
                 lambda q: 100 * (_mean_cm(q) / q.second_reading_cm - 1),
                 "That is the diameter's error. The area goes with its square."),
            Slip("geometric-mean",
                 lambda q: 100 * (q.first_reading_cm / q.second_reading_cm - 1),
                 "That is from the root of the product. Here half the sum was taken, which is a "
                 "little more."),
            Slip("against-the-level-cut",
                 lambda q: 100 * (
                     _mean_cm(q) ** 2 / (q.first_reading_cm * q.second_reading_cm) - 1),
                 "You set it against the level cut, which is an ellipse. The section square to the "
                 "stem is smaller."),
            Slip("wrong-base",
                 lambda q: 100 * (1 - (q.second_reading_cm / _mean_cm(q)) ** 2),
                 "You took it as a share of what was read. Asked is a share of the true section."),
        ],
        picture="standing",
        source="theorem (the level cut of a leaning column is an ellipse)",
    ),
]  # fmt: skip
