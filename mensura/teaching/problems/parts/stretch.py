"""Bands whose marks have moved: stretched ones read too little, shrunken ones too much.

They belong to the topic condition. Tapes and stems are invented (Quillmere Practice Wood).
"""

from __future__ import annotations

from math import pi
from typing import Any

from mensura.estimates.areas import area_from_girth_cm2
from mensura.instruments.correction import correct_girth
from mensura.instruments.tape import Tape
from mensura.teaching.problems.family import Family, Quantity, Slip, renew


def _stretched(q: Any) -> float:
    return float(1 + q.stretch_percent / 100)


def _area_cm2(q: Any) -> float:
    """The true area behind the stretched band's reading."""
    tape = Tape(stretch_percent=q.stretch_percent)
    return float(correct_girth(q.reading_cm, tape).area_cm2)


def _lost_cm2(q: Any, times: float) -> float:
    """By how much the area grows if the reading is made so many times longer."""
    return float(area_from_girth_cm2(q.reading_cm * times) - area_from_girth_cm2(q.reading_cm))


def _true_cm(q: Any) -> float:
    """The girth behind a shrunken band's reading."""
    return float(correct_girth(q.reading_cm, Tape(shrink_percent=q.shrink_percent)).girth_cm)


STRETCH = [
    Family(
        key="how-far-stretched",
        topic="condition",
        title="How far has the tape stretched?",
        text="In the tool room stands a round post whose girth is known: {girth_cm} cm. The old "
        "cloth tape T3, level and taut and with its start sound, reads {reading_cm} cm on it. By "
        "how many per cent have its marks moved apart, the same all along?",
        given=[
            Quantity("girth_cm", 228.0, 240.0, 0.1),
            Quantity("reading_cm", 208.0, 222.0, 0.1),
        ],
        unit="%",
        answer=lambda q: 100 * (q.girth_cm / q.reading_cm - 1),
        steps={"step_cm": lambda q: q.girth_cm / q.reading_cm},
        hints=[
            "How many true centimetres lie between two marks that say they are 1 cm apart?",
            "Divide the true girth by the number of marks, which is the reading. What it is more "
            "than 1 is the stretch.",
            "Work out 100·({girth_cm}/{reading_cm} − 1).",
        ],
        solution="{reading_cm} marks cover {girth_cm} cm, so one covers {girth_cm}/{reading_cm} = "
        "{step_cm} cm. The marks have moved apart by {answer} %. So weak a tape is best thrown "
        "out.",
        slips=[
            Slip("wrong-base", lambda q: 100 * (1 - q.reading_cm / q.girth_cm),
                 "You divided by the true girth. The stretch has gathered over the marks that were "
                 "read: divide by the reading."),
            Slip("wrong-sign", lambda q: 100 * (1 - q.girth_cm / q.reading_cm),
                 "The sign is the wrong way round. A tape that reads too little is too long: its "
                 "marks have moved apart."),
            Slip("share-for-percent", lambda q: q.girth_cm / q.reading_cm - 1,
                 "That is the share. Times 100 it is per cent."),
            Slip("length-for-share", lambda q: q.girth_cm - q.reading_cm,
                 "That is how many cm it reads too little on this post. Stretch is a share: divide "
                 "by the reading."),
            Slip("counted-from-nothing", lambda q: 100 * q.girth_cm / q.reading_cm,
                 "That is the length now in per cent of what it was. Take the 100 off."),
        ],
        picture="band",
        source="common practice, no source",
    ),
    Family(
        key="area-by-a-stretched-tape",
        topic="condition",
        title="Area from a stretched tape",
        text="A check against a ruler shows that the marks of tape T4 have moved apart by "
        "{stretch_percent} %, the same all along. Level and taut round a stem it reads "
        "{reading_cm} cm. Taken for round, what is the true sectional area, over bark? Answer in "
        "cm² or m².",
        given=[
            Quantity("reading_cm", 50.0, 180.0, 0.1),
            Quantity("stretch_percent", 2.0, 6.0, 0.1),
        ],
        unit="cm²",
        answer=lambda q: correct_girth(
            q.reading_cm, Tape(stretch_percent=q.stretch_percent)
        ).area_cm2,
        steps={"times": _stretched, "girth_cm": lambda q: q.reading_cm * _stretched(q)},
        hints=[
            "Does a tape whose marks stand too far apart read too much or too little?",
            "Too little: each mark covers more than 1 cm. Multiply the reading by 1 + s/100, then "
            "G²/4π.",
            "Work out ({reading_cm}·(1 + {stretch_percent}/100))²/12.566.",
        ],
        solution="Each mark covers 1 + {stretch_percent}/100 = {times} cm, so the girth is "
        "{reading_cm}·{times} = {girth_cm} cm and A = {girth_cm}²/12.566 = {answer} cm².",
        slips=[
            Slip("stretch-left-in", lambda q: area_from_girth_cm2(q.reading_cm),
                 "The stretch is still in it. Bring the reading back to the girth first."),
            Slip("wrong-sign", lambda q: area_from_girth_cm2(q.reading_cm / _stretched(q)),
                 "You made the reading smaller. A stretched tape reads too little, since fewer of "
                 "its wider steps fit round: multiply."),
            Slip("squared-too-late",
                 lambda q: area_from_girth_cm2(q.reading_cm) * _stretched(q),
                 "The stretch was put on the area. It belongs to the girth, and the area goes with "
                 "its square."),
            Slip("girth-as-diameter",
                 lambda q: pi / 4 * (q.reading_cm * _stretched(q)) ** 2,
                 "The girth was taken for a diameter. A = G²/4π."),
            Slip("diameter-for-radius", lambda q: (q.reading_cm * _stretched(q)) ** 2 / pi,
                 "The diameter was taken for the radius: that makes the area four times too "
                 "large."),
        ],
        asks_unit=True,
        picture="band",
        source="common practice, no source",
    ),
    Family(
        key="shrunken-tape",
        topic="condition",
        title="What a shrunken band reads too much",
        text="Tape T6, a band of cloth, got wet and has shrunk. A check against a ruler shows that "
        "its marks have moved together by {shrink_percent} %, the same all along: so much is "
        "missing of each centimetre. Square round a stem and taut, it reads {reading_cm} cm. By "
        "how many cm is that more than the true girth?",
        given=[
            Quantity("reading_cm", 50.0, 180.0, 0.1),
            Quantity("shrink_percent", 2.0, 5.0, 0.01),
        ],
        unit="cm",
        answer=lambda q: q.reading_cm - _true_cm(q),
        steps={
            "times": lambda q: 1 - q.shrink_percent / 100,
            "girth_cm": _true_cm,
        },
        hints=[
            "Its marks stand too near together. Do more of them fit round the stem, or fewer?",
            "More: it reads too much. Each mark covers only 1 − s/100 cm, so the girth is the "
            "reading times that. What is the difference?",
            "Work out {reading_cm} − {reading_cm}·(1 − {shrink_percent}/100).",
        ],
        solution="Each mark covers 1 − {shrink_percent}/100 = {times} cm, so the girth is "
        "{reading_cm}·{times} = {girth_cm} cm. The band reads {answer} cm too much. When it dries "
        "it may go the other way: a band that changes so is not for measuring.",
        slips=[
            Slip("wrong-sign", lambda q: _true_cm(q) - q.reading_cm,
                 "The sign is the wrong way round. Marks that stand too near together are too many "
                 "round the stem: the band reads too much."),
            Slip("wrong-base", lambda q: q.reading_cm * q.shrink_percent / (100 + q.shrink_percent),
                 "You divided by 1 + s/100. That is for marks that moved apart; here each covers "
                 "1 − s/100 cm: multiply by that."),
            Slip("divided", lambda q: q.reading_cm * q.shrink_percent / (100 - q.shrink_percent),
                 "You divided by 1 − s/100. The reading counts marks, and each covers that much: "
                 "multiply."),
            Slip("girth-itself", _true_cm,
                 "That is the true girth. Asked is by how much the reading is more."),
            Slip("diameter-for-girth", lambda q: (q.reading_cm - _true_cm(q)) / pi,
                 "You used the diameter. The band lies round the whole girth."),
            Slip("cm-for-percent", lambda q: q.shrink_percent,
                 "You took the per cent for centimetres. They are a share of what the band reads."),
        ],
        asks_unit=True,
        picture="band",
        source="common practice, no source",
    ),
]  # fmt: skip

# Asked is what the stretch takes away: of the whole area, near ways would come within half a per
# cent; and the stretch is told more finely.
renew(
    STRETCH,
    "area-by-a-stretched-tape",
    2,
    title="What a stretched tape takes away from an area",
    text="A check against a ruler shows that the marks of tape T4 have moved apart by "
    "{stretch_percent} %, the same all along. Level and taut round a stem it reads {reading_cm} "
    "cm. Taken for round, by how much is the area from this reading smaller than the true one, "
    "over bark? Answer in cm².",
    ranges=[Quantity("stretch_percent", 2.5, 6.0, 0.01)],
    answer=lambda q: _area_cm2(q) - area_from_girth_cm2(q.reading_cm),
    steps={
        "times": _stretched,
        "girth_cm": lambda q: q.reading_cm * _stretched(q),
        "true_cm2": _area_cm2,
        "read_cm2": lambda q: area_from_girth_cm2(q.reading_cm),
    },
    hints=[
        "Does a tape whose marks stand too far apart read too much or too little?",
        "Too little: each mark covers more than 1 cm. Multiply the reading by 1 + s/100 for the "
        "girth; then take the area from the reading, G²/4π, from that from the girth.",
        "Work out (({reading_cm}·(1 + {stretch_percent}/100))² − {reading_cm}²)/12.566.",
    ],
    solution="Each mark covers 1 + {stretch_percent}/100 = {times} cm, so the girth is "
    "{reading_cm}·{times} = {girth_cm} cm. Its area is {girth_cm}²/12.566 = {true_cm2} cm², that "
    "from the reading {reading_cm}²/12.566 = {read_cm2} cm²: {answer} cm² less.",
    slips=[
        Slip("wrong-sign",
             lambda q: -_lost_cm2(q, 1 / _stretched(q)),
             "You made the girth shorter than the reading. A stretched tape reads too little, "
             "since fewer of its wider steps fit round: multiply."),
        Slip("squared-too-late",
             lambda q: area_from_girth_cm2(q.reading_cm) * q.stretch_percent / 100,
             "The stretch was taken of the area. It belongs to the girth, and the area goes with "
             "its square."),
        Slip("first-order",
             lambda q: area_from_girth_cm2(q.reading_cm) * q.stretch_percent / 50,
             "You took twice the stretch of the area. That is near for a small stretch only: "
             "square the longer girth.", since=2, apart_since=2),
        Slip("divided",
             lambda q: _lost_cm2(q, 1 / (1 - q.stretch_percent / 100)),
             "You divided by 1 − s/100. Each mark covers 1 + s/100 cm: multiply by that.",
             since=2, apart_since=2),
        Slip("cm-for-percent",
             lambda q: _lost_cm2(q, 1 + q.stretch_percent / q.reading_cm),
             "You put the per cent on as centimetres. They are a share of the reading.",
             since=2, apart_since=2),
        Slip("whole-area", _area_cm2,
             "That is the whole true area. Asked is by how much the area from the reading is "
             "smaller."),
        Slip("stretch-left-in", lambda q: area_from_girth_cm2(q.reading_cm),
             "That is the area from the reading. Asked is by how much it is too small."),
        Slip("girth-as-diameter", lambda q: pi**2 * _lost_cm2(q, _stretched(q)),
             "The girths were taken for diameters. A = G²/4π."),
        Slip("diameter-for-radius", lambda q: 4 * _lost_cm2(q, _stretched(q)),
             "The diameter was taken for the radius: that makes it four times too large."),
    ],
)  # fmt: skip
