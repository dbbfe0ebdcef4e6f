"""How a tape lies on a stem. Stems and climbers are invented (Quillmere Practice Wood).

A band that leaves its level, taut way is never shorter than it. Each family finds by how much, or
walks the way back to the stem; the wrong height is the one fault that can go to either side.
"""

from __future__ import annotations

from functools import lru_cache
from math import acos, cos, pi, radians, sqrt, tan
from typing import Any

from mensura.estimates.areas import area_from_girth_cm2, diameter_from_girth_cm, over_percent
from mensura.instruments.lay import Lay
from mensura.stems.ellipse import circle
from mensura.teaching.problems.family import Family, Quantity, Slip, renew


def _tilt_factor(q: Any) -> float:
    """Length of the tilted loop over the level girth, exactly."""
    stem = circle(diameter_from_girth_cm(q.reading_cm))
    return float(stem.oblique_girth_cm(q.tilt_deg) / stem.taut_girth_cm)


def _miss_cm(q: Any, share: float) -> float:
    """How far the ends miss where the area is too large by a share: (G² + h²)/G² = 1 + share."""
    return float(q.girth_cm * sqrt(share))


@lru_cache(maxsize=256)
def _climber_adds_cm(diameter_cm: float, climber_cm: float) -> float:
    return float(Lay(climber_cm=climber_cm).shares_cm(circle(diameter_cm))["climber"])


def _sharp_edge_cm(q: Any) -> float:
    """What an edge as high as the climber would add: two tangents from its tip."""
    radius, tip = q.diameter_cm / 2, q.diameter_cm / 2 + q.climber_cm
    return float(2 * (sqrt(tip**2 - radius**2) - radius * acos(radius / tip)))


def _breast_height_girth_cm(q: Any) -> float:
    """From where the tape lay down to breast height; the taper of a Lay is one of diameters."""
    stem = circle(diameter_from_girth_cm(q.reading_cm))
    taper = diameter_from_girth_cm(q.girth_taper_cm_per_m)
    down = Lay(height_off_m=-q.height_off_m, taper_cm_per_m=taper)
    return float(q.reading_cm + down.shares_cm(stem)["height"])


def _slack_percent(q: Any) -> float:
    taut = area_from_girth_cm2(q.reading_cm - q.slack_cm)
    return float(over_percent(area_from_girth_cm2(q.reading_cm), taut))


FAMILIES = [
    Family(
        key="tilted-tape",
        topic="laying",
        title="Back from a tilted tape to the level girth",
        text="On a steep bank of compartment 7 a taut tape went round a stem at a slant: a picture "
        "shows that the plane of the tape was tilted {tilt_deg}° from level. It read {reading_cm} "
        "cm. The stem stands upright and is taken for round, without taper. What would a level, "
        "taut tape have read, in cm?",
        given=[
            Quantity("reading_cm", 60.0, 200.0, 0.1),
            Quantity("tilt_deg", 16, 25, 1, exact=True),
        ],
        unit="cm",
        answer=lambda q: q.reading_cm / _tilt_factor(q),
        steps={
            "along_slope": lambda q: 1 / cos(radians(q.tilt_deg)),
            "times_as_long": _tilt_factor,
        },
        hints=[
            "Which shape has the slanting loop? How wide is it across the slope, and how long up "
            "the slope?",
            "It is an ellipse: d across the slope, d/cos θ up the slope. Its girth is, near "
            "enough, π times the mean of both, so the tape is (1 + 1/cos θ)/2 times as long as a "
            "level one.",
            "Work out {reading_cm} divided by (1 + 1/cos {tilt_deg}°)/2.",
        ],
        solution="1/cos {tilt_deg}° = {along_slope}. The mean of 1 and that, and a trifle more for "
        "the ellipse, makes the tape {times_as_long} times as long as a level one. So the level "
        "girth is {reading_cm}/{times_as_long} = {answer} cm. Other short ways, like the root of "
        "the cosine or 1 + tan²θ/4, are approximations that come within half a per cent up to "
        "25°.",
        slips=[
            Slip("tilt-left-in", lambda q: q.reading_cm,
                 "That is the reading itself. A tilted tape reads too much: the tilt is still "
                 "in it."),
            Slip("wrong-sign", lambda q: q.reading_cm * _tilt_factor(q),
                 "You made the girth longer. A slanting way round is longer than the level one, so "
                 "the level girth is less than the reading."),
            Slip("cosine-all-round", lambda q: q.reading_cm * cos(radians(q.tilt_deg)),
                 "You took the cosine for the whole way round. Only part of the way climbs; across "
                 "the slope the tape is level. The mean of 1 and 1/cos θ counts."),
            Slip("tangent-not-squared",
                 lambda q: q.reading_cm / (1 + tan(radians(q.tilt_deg)) / 4),
                 "The tangent was not squared: the rule of thumb is 1 + tan²θ/4."),
            Slip("half-for-quarter",
                 lambda q: q.reading_cm / (1 + tan(radians(q.tilt_deg)) ** 2 / 2),
                 "A half stands where a quarter belongs: the rule of thumb is 1 + tan²θ/4, since "
                 "only part of the way climbs.", since=2),
        ],
        picture="lay",
        source="theorem (the plane cut of a round column is an ellipse); [AS1964] for its girth",
    ),
    Family(
        key="ends-that-miss",
        topic="laying",
        title="How far may the ends of the tape miss each other?",
        text="A tape round a stem climbs evenly, like a screw, so that after one turn its end lies "
        "above its start. The level girth is {girth_cm} cm, the stem is round and without taper. "
        "The area worked out from the reading may be at most {allowed_percent} % too large. How "
        "far above the start may the end lie at most, in cm?",
        given=[
            Quantity("girth_cm", 60.0, 200.0, 0.1),
            Quantity("allowed_percent", 0.2, 1.5, 0.1, exact=True),
        ],
        unit="cm",
        answer=lambda q: _miss_cm(q, q.allowed_percent / 100),
        steps={"root": lambda q: sqrt(q.allowed_percent / 100)},
        hints=[
            "Unroll the bark. The level girth and the miss are two sides of a right angle; what is "
            "the tape?",
            "The tape is √(G² + h²), and areas go with its square: (G² + h²)/G² is 1 + p/100. "
            "G² falls out, and h²/G² = p/100 is left.",
            "Work out {girth_cm}·√({allowed_percent}/100).",
        ],
        solution="Areas go with the square of the reading, (G² + h²)/G² = 1 + h²/G². So h²/G² = "
        "{allowed_percent}/100 and h = {girth_cm}·√({allowed_percent}/100) = {girth_cm}·{root} = "
        "{answer} cm.",
        slips=[
            Slip("root-forgotten", lambda q: q.girth_cm * q.allowed_percent / 100,
                 "You took the per cent from the girth itself. The miss lies across the way round, "
                 "and its square counts: take a root."),
            Slip("girth-for-area",
                 lambda q: q.girth_cm * sqrt((1 + q.allowed_percent / 100) ** 2 - 1),
                 "So much miss makes the girth too long by the per cent. The area would be about "
                 "twice that too large."),
            Slip("halved-twice", lambda q: _miss_cm(q, q.allowed_percent / 200),
                 "You halved the per cent. The area is G² + h² against G², so h²/G² is the whole "
                 "share that is allowed."),
            Slip("diameter-for-girth",
                 lambda q: _miss_cm(q, q.allowed_percent / 100) / pi,
                 "You used the diameter. The tape climbs over the whole way round, the girth."),
            Slip("percent-for-share", lambda q: _miss_cm(q, q.allowed_percent),
                 "The per cent was not divided by 100 under the root."),
        ],
        picture="lay",
        source="theorem (Pythagoras on the unrolled bark)",
    ),
    Family(
        key="climber-under-the-tape",
        topic="laying",
        title="A climber under the tape",
        text="A round stem of {diameter_cm} cm diameter carries a round climber, {climber_cm} cm "
        "thick, that runs straight up the bark. A level, taut tape goes over both. By how many cm "
        "is its reading longer than the girth of the stem alone?",
        given=[
            Quantity("diameter_cm", 25.0, 60.0, 0.1),
            Quantity("climber_cm", 1.5, 5.0, 0.1),
        ],
        unit="cm",
        answer=lambda q: _climber_adds_cm(q.diameter_cm, q.climber_cm),
        steps={
            "turn_rad": lambda q: acos(
                (q.diameter_cm - q.climber_cm) / (q.diameter_cm + q.climber_cm)
            ),
            "straight_cm": lambda q: 2 * sqrt(q.diameter_cm * q.climber_cm),
            "bent_cm": lambda q: 2 * sqrt(q.diameter_cm * q.climber_cm)
            - _climber_adds_cm(q.diameter_cm, q.climber_cm),
        },
        hints=[
            "Draw it. The tape leaves the stem, goes straight to the climber, bends round it, and "
            "goes straight back.",
            "Each straight piece is √(d·c). With the angle α, in radians, where "
            "cos α = (d − c)/(d + c), the tape loses α·d on the stem and gains α·c on the climber. "
            "All together: 2·√(d·c) − α·(d − c).",
            "Take α from cos α = ({diameter_cm} − {climber_cm})/({diameter_cm} + {climber_cm}), in "
            "radians with five figures, and work out 2·√({diameter_cm}·{climber_cm}) − "
            "α·({diameter_cm} − {climber_cm}).",
        ],
        solution="The straight pieces are 2·√(d·c) = 2·√({diameter_cm}·{climber_cm}) = "
        "{straight_cm} cm. With cos α = ({diameter_cm} − {climber_cm})/({diameter_cm} + "
        "{climber_cm}), so α = {turn_rad}, they take the place of "
        "α·({diameter_cm} − {climber_cm}) = {bent_cm} cm. The rest, {answer} cm, is added. In the "
        "wood: look for thorns and insects before you reach under a climber, and tape under it "
        "where the owner's rules let you.",
        slips=[
            Slip("thicker-all-round", lambda q: pi * q.climber_cm,
                 "You added the climber's thickness to the diameter, or its girth to the girth. "
                 "The tape meets the climber in one place only and goes straight to it."),
            Slip("skipped-bark-forgotten", lambda q: 2 * sqrt(q.diameter_cm * q.climber_cm),
                 "Those are the straight pieces. The tape no longer lies on the bark behind them: "
                 "take that away."),
            Slip("diameter-for-radius",
                 lambda q: 2 * _climber_adds_cm(q.diameter_cm, q.climber_cm),
                 "You put diameters into a formula for radii: all comes out twice as long."),
            Slip("one-side-only",
                 lambda q: _climber_adds_cm(q.diameter_cm, q.climber_cm) / 2,
                 "That is what one side of the climber adds. The tape also goes back on the other "
                 "side."),
            Slip("climber-radius", lambda q: _climber_adds_cm(q.diameter_cm, 2 * q.climber_cm),
                 "You took the climber's thickness for its radius, as if it were twice as thick."),
            Slip("sharp-edge", _sharp_edge_cm,
                 "You took the climber for a sharp edge. It is round: the tape bends round it and "
                 "leaves it lower down.", since=2, apart_since=2),
            Slip("half-its-girth", lambda q: pi / 2 * q.climber_cm,
                 "That is half the climber's girth. The tape does not follow it down to the bark: "
                 "it goes straight to the stem.", since=2, apart_since=2),
            Slip("half-girth-less-thickness", lambda q: (pi / 2 - 1) * q.climber_cm,
                 "You let the tape go round half of the climber and skip bark as wide as it is "
                 "thick. It goes straight to the stem and skips more.", since=2, apart_since=2),
            Slip("thickness", lambda q: q.climber_cm,
                 "That is the climber's thickness. Draw how the tape goes: straight, round the "
                 "climber, and straight back.", since=2, apart_since=2),
            Slip("quarter-of-its-girth", lambda q: pi / 4 * q.climber_cm,
                 "That is a quarter of the climber's girth. Draw how the tape goes: straight, "
                 "round the climber, and straight back.", since=2, apart_since=2),
        ],
        picture="lay",
        source="theorem (a band round two circles)",
    ),
    Family(
        key="taped-too-high",
        topic="laying",
        title="From the wrong height down to breast height",
        text="A tape was laid {height_off_m} m above breast height. It was level and taut and read "
        "{reading_cm} cm. There the girth falls evenly by {girth_taper_cm_per_m} cm with each "
        "metre of height. What is the sectional area at breast height, over bark, the stem taken "
        "for round? Answer in cm² or m².",
        given=[
            Quantity("reading_cm", 60.0, 110.0, 0.1),
            Quantity("girth_taper_cm_per_m", 4.0, 6.0, 0.1),
            Quantity("height_off_m", 0.4, 0.8, 0.05),
        ],
        unit="cm²",
        answer=lambda q: area_from_girth_cm2(_breast_height_girth_cm(q)),
        steps={
            "lost_cm": lambda q: q.girth_taper_cm_per_m * q.height_off_m,
            "girth_cm": _breast_height_girth_cm,
        },
        hints=[
            "Is the stem thicker or thinner at breast height than where the tape lay?",
            "Further down it is thicker: add taper times height to the reading. Then G²/4π.",
            "Work out ({reading_cm} + {girth_taper_cm_per_m}·{height_off_m})²/12.566.",
        ],
        solution="Over {height_off_m} m the girth falls by {girth_taper_cm_per_m}·{height_off_m} = "
        "{lost_cm} cm, so at breast height it is {reading_cm} + {lost_cm} = {girth_cm} cm. "
        "A = {girth_cm}²/12.566 = {answer} cm². To put {reading_cm}·{lost_cm}/6.283 on the area of "
        "the reading comes near enough too, but is an approximation.",
        slips=[
            Slip("height-left-in", lambda q: area_from_girth_cm2(q.reading_cm),
                 "That is the area where the tape lay. At breast height the stem is thicker."),
            Slip("wrong-sign",
                 lambda q: area_from_girth_cm2(
                     q.reading_cm - q.girth_taper_cm_per_m * q.height_off_m),
                 "You made the stem thinner. The tape lay too high, and further down the stem is "
                 "thicker: add."),
            Slip("taper-of-diameter",
                 lambda q: area_from_girth_cm2(
                     q.reading_cm + pi * q.girth_taper_cm_per_m * q.height_off_m
                 ),
                 "You took the taper for one of the diameter and multiplied by π. It is of the "
                 "girth here."),
            Slip("whole-metre",
                 lambda q: area_from_girth_cm2(q.reading_cm + q.girth_taper_cm_per_m),
                 "You added what the girth loses over a whole metre. The tape lay only a part of "
                 "a metre too high."),
            Slip("taper-as-percent",
                 lambda q: area_from_girth_cm2(
                     q.reading_cm * (1 + q.girth_taper_cm_per_m * q.height_off_m / 100)
                 ),
                 "You took the taper for per cent of the girth. It is in cm for each metre: add "
                 "it.", since=2, apart_since=2),
            Slip("girth-as-diameter",
                 lambda q: pi / 4 * (q.reading_cm + q.girth_taper_cm_per_m * q.height_off_m) ** 2,
                 "The girth was taken for a diameter. A = G²/4π."),
            Slip("diameter-for-radius",
                 lambda q: (q.reading_cm + q.girth_taper_cm_per_m * q.height_off_m) ** 2 / pi,
                 "The diameter was taken for the radius: that makes the area four times too "
                 "large."),
        ],
        asks_unit=True,
        picture="lay",
        source="common practice, no source",
    ),
    Family(
        key="slack-tape",
        topic="laying",
        title="What slack makes of the area",
        text="Laid level round a stem, a tape reads {reading_cm} cm, but it hangs loose: pulled "
        "taut at the same height, {slack_cm} cm of it come free. The area is worked out from the "
        "loose reading, as if round. By how many per cent of the taut tape's area is it too large?",
        given=[Quantity("reading_cm", 50.0, 110.0, 0.1), Quantity("slack_cm", 3.0, 7.0, 0.1)],
        unit="%",
        answer=_slack_percent,
        steps={
            "taut_cm": lambda q: q.reading_cm - q.slack_cm,
            "quotient": lambda q: q.reading_cm / (q.reading_cm - q.slack_cm),
        },
        hints=[
            "What does the taut tape read? And with what does an area grow?",
            "Divide the loose reading by the taut one, square it, and see by how much it is more "
            "than 1. 4π falls out.",
            "Work out 100·(({reading_cm}/({reading_cm} − {slack_cm}))² − 1).",
        ],
        solution="Taut the tape reads {reading_cm} − {slack_cm} = {taut_cm} cm. The girths are as "
        "{reading_cm}/{taut_cm} = {quotient}, the areas as its square: {quotient}² − 1, times 100, "
        "is {answer} %.",
        slips=[
            Slip("squared-too-late", lambda q: 100 * q.slack_cm / (q.reading_cm - q.slack_cm),
                 "That is by how much the girth is too long, or about what half the slack does to "
                 "the area. The area goes with the girth's square, and the whole slack counts."),
            Slip("wrong-base", lambda q: 100 * (1 - (1 - q.slack_cm / q.reading_cm) ** 2),
                 "You compared with the loose tape's area. Asked are per cent of the taut one's."),
            Slip("first-order", lambda q: 200 * q.slack_cm / (q.reading_cm - q.slack_cm),
                 "You doubled the girth's per cent. That is near for a small slack only: square "
                 "the quotient.", since=2, apart_since=2),
            Slip("slack-of-diameter",
                 lambda q: 100 * ((q.reading_cm / (q.reading_cm - pi * q.slack_cm)) ** 2 - 1),
                 "You took the slack off the diameter. It is a piece of the girth."),
            Slip("share-for-percent", lambda q: _slack_percent(q) / 100,
                 "That is the share. Times 100 it is per cent."),
            Slip("counted-from-nothing", lambda q: 100 + _slack_percent(q),
                 "That is the loose area in per cent of the taut one. Take the 100 off: asked is "
                 "what is too much."),
        ],
        picture="lay",
        source="common practice, no source",
    ),
]  # fmt: skip

# On a thin climber half a dozen wrong ways come near the right one.
renew(FAMILIES, "climber-under-the-tape", 2, ranges=[Quantity("climber_cm", 4.0, 9.0, 0.05)])
