"""Zero error, lean and turn of the calipers. Stems and calipers are invented (Quillmere).

Each fault has a side: a zero above nothing and a slanting beam read too much, a jaw that leans
outwards too little. Each family finds such a fault, undoes it, or says what it costs.
"""

from __future__ import annotations

from math import cos, hypot, pi, radians, sin, sqrt, tan
from typing import Any

from mensura.estimates.areas import area_from_diameters_cm2, diameter_from_girth_cm
from mensura.instruments.calipers import Calipers
from mensura.stems.ellipse import circle
from mensura.teaching.problems.family import Family, Quantity, Slip, clear_of, renew


def _pair_cm2(q: Any, first_off_cm: float, second_off_cm: float) -> float:
    """Area from the mean of both readings, after so much was taken off each."""
    return float(
        area_from_diameters_cm2(
            [q.first_reading_cm - first_off_cm, q.second_reading_cm - second_off_cm]
        )
    )


def _leaning_cm(q: Any, jaw_lean_deg: float) -> float:
    """What calipers with a leaning jaw read on the round stem that lies against the beam."""
    return float(Calipers(jaw_lean_deg=jaw_lean_deg).read(circle(q.diameter_cm), [0])[0])


def _lost_cm2(q: Any, reading_cm: float) -> float:
    """By how much the circle with the reading is smaller than the stem."""
    return float(circle(q.diameter_cm).area_cm2 - area_from_diameters_cm2([reading_cm]))


def _back_cm(q: Any) -> float:
    """By how much the foot of the leaning jaw stands inside the point where the jaw touches."""
    return float(q.contact_cm * tan(radians(q.jaw_lean_deg)))


def _squares(q: Any) -> tuple[float, float, float, float]:
    """Squares of both readings, of the cosine, of the sine."""
    turn = radians(q.turn_deg)
    return q.first_reading_cm**2, q.second_reading_cm**2, cos(turn) ** 2, sin(turn) ** 2


def _longer_cm(q: Any) -> float:
    """The longer axis, from w₁² = d₁²c² + d₂²s² and w₂² = d₁²s² + d₂²c²."""
    first, second, cosine, sine = _squares(q)
    return float(sqrt((first * cosine - second * sine) / (cosine - sine)))


def _shorter_cm(q: Any) -> float:
    first, second, cosine, sine = _squares(q)
    return float(sqrt((second * cosine - first * sine) / (cosine - sine)))


def _turned_on_cm(q: Any) -> float:
    """What comes of turning the pair further instead of back."""
    first, second, cosine, sine = _squares(q)
    return float(sqrt(first * cosine + second * sine))


def _not_divided_cm(q: Any) -> float:
    first, second, cosine, sine = _squares(q)
    return float(sqrt(first * cosine - second * sine))


def _not_squared_cm(q: Any) -> float:
    """The same two equations, as if they held for the widths and not for their squares."""
    _, _, cosine, sine = _squares(q)
    together = q.first_reading_cm * cosine - q.second_reading_cm * sine
    return float(together / (cosine - sine))


def _in_proportion_cm(q: Any) -> float:
    """As if the width fell evenly from the one reading to the other."""
    fall = q.first_reading_cm - q.second_reading_cm
    return float(q.first_reading_cm + fall * q.turn_deg / 90)


def _product_cm2(q: Any) -> float:
    first, second = (one - q.zero_error_cm for one in (q.first_reading_cm, q.second_reading_cm))
    return float(pi / 4 * first * second)


def _mean_circle_cm2(q: Any) -> float:
    first, second = (one - q.zero_error_cm for one in (q.first_reading_cm, q.second_reading_cm))
    return float(pi / 8 * (first**2 + second**2))


def _post_cm(q: Any) -> float:
    return float(diameter_from_girth_cm(q.girth_cm))


FAMILIES = [
    Family(
        key="zero-below-nothing",
        topic="calipers",
        title="Area by calipers whose zero lies below nothing",
        text="Closed, calipers K2 read {zero_error_cm} cm: less than nothing. On a stem they read "
        "{first_reading_cm} cm and, at right angles, {second_reading_cm} cm. Mend the zero, take "
        "the arithmetic mean for the diameter, and the stem for round. What is its sectional area, "
        "over bark? Answer in cm² or m².",
        given=[
            Quantity("first_reading_cm", 33.0, 40.0, 0.1),
            Quantity("second_reading_cm", 27.0, 32.0, 0.1),
            Quantity("zero_error_cm", -1.5, -0.8, 0.1),
        ],
        unit="cm²",
        answer=lambda q: _pair_cm2(q, q.zero_error_cm, q.zero_error_cm),
        steps={
            "first_cm": lambda q: q.first_reading_cm - q.zero_error_cm,
            "second_cm": lambda q: q.second_reading_cm - q.zero_error_cm,
            "mean_cm": lambda q: (q.first_reading_cm + q.second_reading_cm) / 2 - q.zero_error_cm,
        },
        fits=lambda q: q.first_reading_cm - q.second_reading_cm <= 9,
        hints=[
            "They read less than nothing when there is nothing between the jaws. Do they then read "
            "too much or too little on a stem?",
            "Too little. To take off a number below zero is to add: mend both readings, then the "
            "mean, then π/4·d².",
            "With d = ({first_reading_cm} + {second_reading_cm})/2 − ({zero_error_cm}) work out "
            "0.7854·d².",
        ],
        solution="{first_reading_cm} − ({zero_error_cm}) = {first_cm} cm and {second_reading_cm} − "
        "({zero_error_cm}) = {second_cm} cm; their mean is {mean_cm} cm. 0.7854·{mean_cm}² = "
        "{answer} cm².",
        slips=[
            Slip("wrong-sign", lambda q: _pair_cm2(q, -q.zero_error_cm, -q.zero_error_cm),
                 "The zero went the wrong way. They read too little when closed, so they read too "
                 "little on the stem: the readings must grow."),
            Slip("zero-left-in", lambda q: _pair_cm2(q, 0.0, 0.0),
                 "The zero is still in both readings."),
            Slip("zero-off-one-reading", lambda q: _pair_cm2(q, q.zero_error_cm, 0.0),
                 "You mended one reading. The zero is in both, so it is whole in their mean."),
            Slip("geometric-mean", _product_cm2,
                 "You took the root of the product of both readings. Asked is the arithmetic mean, "
                 "half of their sum.", since=2, apart_since=2),
            Slip("mean-of-two-circles", _mean_circle_cm2,
                 "You took the mean of two circles. Asked is one circle with the mean of both "
                 "readings.", since=2, apart_since=2),
            Slip("first-reading-only",
                 lambda q: area_from_diameters_cm2([q.first_reading_cm - q.zero_error_cm]),
                 "That is from the first reading alone. Take the mean of both.", since=2),
            Slip("zero-as-mm", lambda q: _pair_cm2(q, q.zero_error_cm / 10, q.zero_error_cm / 10),
                 "The zero was mended by a tenth of it, as if it were in mm. It is in cm.",
                 since=2),
            Slip("diameter-for-radius",
                 lambda q: 4 * _pair_cm2(q, q.zero_error_cm, q.zero_error_cm),
                 "The diameter was taken for the radius: that makes the area four times too "
                 "large."),
            Slip("pi-forgotten",
                 lambda q: 4 / pi * _pair_cm2(q, q.zero_error_cm, q.zero_error_cm),
                 "π/4 was forgotten: that is the square round the circle."),
        ],
        asks_unit=True,
        picture="jaws",
        source="common practice, no source",
    ),
    Family(
        key="zero-from-a-post",
        topic="calipers",
        title="Finding the zero error on a round post",
        text="A turned, round post in the tool room has a girth of {girth_cm} cm by a sound tape, "
        "level and taut. Calipers K3, sound but for their zero, read {reading_cm} cm on it. What "
        "do they read when closed? In cm; above nothing is +, below it is −.",
        given=[
            Quantity("girth_cm", 108.0, 112.0, 0.1),
            Quantity("reading_cm", 36.6, 38.4, 0.1),
        ],
        unit="cm",
        answer=lambda q: q.reading_cm - _post_cm(q),
        steps={"diameter_cm": _post_cm},
        fits=lambda q: q.reading_cm - _post_cm(q) >= 0.8,
        hints=[
            "What should they read on this post?",
            "They should read the diameter, G/π. What they read more is there when they are "
            "closed, too.",
            "Work out {reading_cm} − {girth_cm}/3.1416.",
        ],
        solution="They should read {girth_cm}/3.1416 = {diameter_cm} cm. They read {reading_cm} "
        "cm, so closed they read {reading_cm} − {diameter_cm} = {answer} cm, and as much is to be "
        "taken off every reading.",
        slips=[
            Slip("wrong-sign", lambda q: _post_cm(q) - q.reading_cm,
                 "That is the correction, what must be put on. What they read when closed has the "
                 "other sign."),
            Slip("half-for-each-jaw", lambda q: (q.reading_cm - _post_cm(q)) / 2,
                 "You shared it between two jaws. Only one of them slides, and the scale shows the "
                 "whole."),
            Slip("error-of-the-girth", lambda q: pi * q.reading_cm - q.girth_cm,
                 "You compared girths: that is π times too much. The scale of calipers shows "
                 "diameters."),
            Slip("girth-as-diameter", lambda q: q.reading_cm - q.girth_cm,
                 "The girth was taken for a diameter. Divide it by π."),
        ],
        picture="jaws",
        source="common practice, no source",
    ),
    Family(
        key="leaning-jaw-area",
        topic="calipers",
        title="What a leaning jaw costs in area",
        text="The beam lies against a round stem that is truly {diameter_cm} cm thick. Play lets "
        "the sliding jaw lean outwards by {jaw_lean_deg}°, and the scale is read at its foot on "
        "the "
        "beam. By how many cm² is the area from this one reading too small? Keep five "
        "figures on the way.",
        given=[
            Quantity("diameter_cm", 25.0, 70.0, 0.1),
            Quantity("jaw_lean_deg", 1.5, 4.0, 0.1),
        ],
        unit="cm²",
        answer=lambda q: _lost_cm2(q, _leaning_cm(q, q.jaw_lean_deg)),
        steps={
            "short_cm": lambda q: q.diameter_cm - _leaning_cm(q, q.jaw_lean_deg),
            "reading_cm": lambda q: _leaning_cm(q, q.jaw_lean_deg),
            "true_area_cm2": lambda q: circle(q.diameter_cm).area_cm2,
            "read_area_cm2": lambda q: area_from_diameters_cm2([_leaning_cm(q, q.jaw_lean_deg)]),
        },
        hints=[
            "How high above the beam does the jaw touch the stem? How far has it leant over that "
            "height?",
            "It touches at about half the diameter, r. With r = d/2 the reading is "
            "r + r·(1 − sin φ)/cos φ, a little less than r·tan φ too little. Compare both areas.",
            "With r = {diameter_cm}/2 work out d′ = r + r·(1 − sin {jaw_lean_deg}°)/"
            "cos {jaw_lean_deg}°, "
            "then 0.7854·({diameter_cm}² − d′²).",
        ],
        solution="The reading is r + r·(1 − sin {jaw_lean_deg}°)/cos {jaw_lean_deg}° = "
        "{reading_cm} cm, "
        "{short_cm} cm too little. The stem has 0.7854·{diameter_cm}² = {true_area_cm2} cm², the "
        "reading makes 0.7854·{reading_cm}² = {read_area_cm2} cm²: {answer} cm² are lost.",
        slips=[
            Slip("wrong-sign", lambda q: _lost_cm2(q, _leaning_cm(q, -q.jaw_lean_deg)),
                 "That is for a jaw that leans inwards, which reads too much. Outwards its foot "
                 "stands further in, and it reads too little."),
            Slip("full-height",
                 lambda q: _lost_cm2(q, q.diameter_cm * (1 - tan(radians(q.jaw_lean_deg)))),
                 "You took the lean over the whole diameter. The stem touches the jaw at half that "
                 "height."),
            Slip("squared-too-late",
                 lambda q: area_from_diameters_cm2(
                     [q.diameter_cm - _leaning_cm(q, q.jaw_lean_deg)]
                 ),
                 "You squared what the reading lacks. Square both diameters first, then take the "
                 "difference."),
            Slip("r-times-tan",
                 lambda q: _lost_cm2(q, q.diameter_cm * (1 - tan(radians(q.jaw_lean_deg)) / 2)),
                 "You took the lean at half the diameter's height, r·tan φ. The leaning jaw "
                 "touches a little lower.", since=2, apart_since=2),
            Slip("first-order",
                 lambda q: pi / 2 * q.diameter_cm
                 * (q.diameter_cm - _leaning_cm(q, q.jaw_lean_deg)),
                 "You took π/2·d times what the reading lacks. That is near for a small lack only: "
                 "take one circle from the other.", since=2, apart_since=2),
            Slip("cosine-only",
                 lambda q: _lost_cm2(q, q.diameter_cm * cos(radians(q.jaw_lean_deg))),
                 "You took the cosine of the lean. The foot stands further in by the height times "
                 "about its tangent.", since=2),
            Slip("diameter-for-radius",
                 lambda q: 4 * _lost_cm2(q, _leaning_cm(q, q.jaw_lean_deg)),
                 "Diameters were taken for radii: that makes it four times too large."),
            Slip("area-that-is-left",
                 lambda q: area_from_diameters_cm2([_leaning_cm(q, q.jaw_lean_deg)]),
                 "That is the area from the reading. Asked is what it lacks."),
        ],
        picture="jaws",
        source="theorem (lines that touch a circle); [Eichordnung1911] for limits at the free ends",
    ),
    Family(
        key="batten-at-the-tips",
        topic="calipers",
        title="Undoing the lean with the height of the touching point",
        text="A flat, straight batten with sharp edges is held between the jaws of calipers K1. "
        "Its edge touches the sliding jaw {contact_cm} cm above the beam, and the jaw leans "
        "outwards by {jaw_lean_deg}°. At the foot of the jaw the scale shows {reading_cm} cm. How "
        "wide is the batten, in cm?",
        given=[
            Quantity("reading_cm", 9.0, 18.0, 0.1),
            Quantity("contact_cm", 20.0, 40.0, 0.5),
            Quantity("jaw_lean_deg", 1.5, 3.0, 0.1),
        ],
        unit="cm",
        answer=lambda q: q.reading_cm + _back_cm(q),
        steps={"tangent": lambda q: tan(radians(q.jaw_lean_deg)), "back_cm": _back_cm},
        hints=[
            "Draw the leaning jaw. Does its foot stand further in or further out than the edge "
            "that it touches?",
            "Further in, by height times tan φ. Put that on the reading.",
            "Work out {reading_cm} + {contact_cm}·tan {jaw_lean_deg}°.",
        ],
        solution="tan {jaw_lean_deg}° = {tangent}, so the foot stands {contact_cm}·{tangent} = "
        "{back_cm} cm further in than the edge. The batten is {reading_cm} + {back_cm} = {answer} "
        "cm wide.",
        slips=[
            Slip("wrong-sign", lambda q: q.reading_cm - _back_cm(q),
                 "You took the lean off. A jaw that leans outwards reads too little: put it on."),
            Slip("lean-left-in", lambda q: q.reading_cm,
                 "That is the reading itself. The lean is still in it."),
            Slip("degrees-for-percent",
                 lambda q: q.reading_cm + q.contact_cm * q.jaw_lean_deg / 100,
                 "You took degrees for per cent. A degree leans by 1.75 cm in a metre: take the "
                 "tangent."),
            Slip("half-height", lambda q: q.reading_cm + _back_cm(q) / 2,
                 "You took half of the height. The edge touches at the whole height that is "
                 "given.", since=2),
            Slip("lean-alone", _back_cm,
                 "That is by how much the reading is too little. Put it on the reading."),
        ],
        picture="numbers",
        source="theorem (the tangent of a right angle's corner)",
    ),
    Family(
        key="axes-from-a-turned-pair",
        topic="calipers",
        title="From a pair off the axes back to the longer axis",
        text="Two caliper readings were taken on a flat, elliptic stem, level and at right angles: "
        "{first_reading_cm} and {second_reading_cm} cm. After it was felled the stump shows that "
        "the first reading was turned {turn_deg}° away from the longer axis, and the second as "
        "much away from the shorter one. How long is the longer axis itself, from bark to bark, in "
        "cm?",
        given=[
            Quantity("first_reading_cm", 46.0, 50.0, 0.1),
            Quantity("second_reading_cm", 37.0, 41.0, 0.1),
            Quantity("turn_deg", 18, 26, 1, exact=True),
        ],
        unit="cm",
        answer=_longer_cm,
        fits_since={2: clear_of(
            _longer_cm, 0.75, _not_squared_cm, _in_proportion_cm,
            lambda q: q.first_reading_cm / cos(radians(q.turn_deg)),
            lambda q: hypot(q.first_reading_cm, q.second_reading_cm))},
        steps={
            "cosine_squared": lambda q: cos(radians(q.turn_deg)) ** 2,
            "sine_squared": lambda q: sin(radians(q.turn_deg)) ** 2,
            "difference": lambda q: cos(radians(2 * q.turn_deg)),
        },
        hints=[
            "What would the calipers read off the axes, were the axes known? That makes two "
            "equations.",
            "With squares: w₁² = d₁²·c + d₂²·s and w₂² = d₁²·s + d₂²·c, where c = cos²θ and "
            "s = sin²θ. Multiply the first by c, the second by s, and take away: d₂ falls out.",
            "With c = cos²{turn_deg}° and s = sin²{turn_deg}° work out the root of "
            "({first_reading_cm}²·c − {second_reading_cm}²·s)/(c − s).",
        ],
        solution="c = cos²{turn_deg}° = {cosine_squared} and s = sin²{turn_deg}° = {sine_squared}; "
        "c − s = {difference}. d₁ = √(({first_reading_cm}²·{cosine_squared} − "
        "{second_reading_cm}²·{sine_squared})/{difference}) = {answer} cm.",
        slips=[
            Slip("not-turned-back", lambda q: q.first_reading_cm,
                 "That is the first reading. Off the axes it is shorter than the longer axis."),
            Slip("wrong-sign", _turned_on_cm,
                 "You turned the pair further away instead of back: the second part must be taken "
                 "off, not put on."),
            Slip("widths-not-squared", _not_squared_cm,
                 "The widths were not squared. Squares add on an ellipse, not the widths: square "
                 "first, take the root last.", since=2),
            Slip("in-proportion", _in_proportion_cm,
                 "You let the width change in proportion to the angle. It changes slowly near the "
                 "axes and fast between them.", since=2),
            Slip("cosine-divided", lambda q: q.first_reading_cm / cos(radians(q.turn_deg)),
                 "You divided by the cosine of the turn. The second reading counts as well.",
                 since=2),
            Slip("shorter-for-longer", _shorter_cm,
                 "That is the shorter axis. Asked is the longer one."),
            Slip("not-divided", _not_divided_cm,
                 "After taking away, c − s stands before the square of the axis: divide by it."),
            Slip("root-forgotten", lambda q: _longer_cm(q) ** 2,
                 "That is the square of the axis, in cm². Take its root."),
        ],
        picture="turned",
        source="theorem (supporting lines of an ellipse)",
    ),
]  # fmt: skip

# Ranges on which near ways come out wrong.
renew(
    FAMILIES, "zero-below-nothing", 2, fits=lambda q: True,
    ranges=[Quantity("first_reading_cm", 38.0, 44.0, 0.1),
            Quantity("second_reading_cm", 27.0, 31.0, 0.1)],
)  # fmt: skip
renew(
    FAMILIES, "leaning-jaw-area", 2, ranges=[Quantity("jaw_lean_deg", 2.9, 5.0, 0.1, exact=True)]
)  # fmt: skip
renew(
    FAMILIES, "axes-from-a-turned-pair", 2,
    ranges=[Quantity("first_reading_cm", 52.0, 58.0, 0.1),
            Quantity("second_reading_cm", 36.0, 41.0, 0.1),
            Quantity("turn_deg", 25, 32, 1, exact=True)],
)  # fmt: skip
