"""Stretch, worn start, temperature. Tapes and stems are invented (Quillmere Practice Wood).

A longer band reads too little, a lost start too much, a cold band too much. Each family finds such
a fault, undoes it, or asks whether it matters; the sign is what goes wrong most.
"""

from __future__ import annotations

from math import pi
from typing import Any

from mensura.estimates.areas import area_from_girth_cm2
from mensura.instruments.correction import correct_girth
from mensura.instruments.materials import REFERENCE_C, material
from mensura.instruments.tape import Tape
from mensura.teaching.problems.family import Family, Quantity, Slip
from mensura.teaching.problems.parts.stretch import STRETCH

#: Per °C; half of the finest division of a scale in millimetres, cm.
STEEL_PER_C = float(material("steel").expansion_per_c or 0.0)
HALF_DIVISION_CM = 0.05


def _growth_cm(q: Any) -> float:
    """Growth of a girth between two tapings, the second with a tape that has lost its start."""
    later = correct_girth(q.girth_cm + q.growth_cm, Tape(worn_start_cm=q.worn_start_cm))
    return float(later.girth_cm - q.girth_cm)


def _ring_cm2(q: Any, growth_cm: float) -> float:
    later = area_from_girth_cm2(q.girth_cm + growth_cm)
    return float(later - area_from_girth_cm2(q.girth_cm))


def _old(q: Any) -> Tape:
    return Tape(stretch_percent=q.stretch_percent, worn_start_cm=q.worn_start_cm)


def _both_add_cm(q: Any) -> float:
    return float(_old(q).marks_cm(q.girth_cm)[0] - q.girth_cm)


def _stretched(q: Any) -> float:
    return float(1 + q.stretch_percent / 100)


def _cold_adds_mm(q: Any) -> float:
    band = Tape(material="steel", temperature_c=q.temperature_c)
    return float(10 * (band.marks_cm(q.girth_cm)[0] - q.girth_cm))


def _warmer_c(girth_cm: float, short_cm: float) -> float:
    """By how many °C a steel band is warmer that reads so much too little."""
    return (girth_cm / (girth_cm - short_cm) - 1) / STEEL_PER_C


FAMILIES = [
    *STRETCH,
    Family(
        key="growth-by-a-worn-tape",
        topic="condition",
        title="Growth that the tape made up",
        text="A stem's girth was {girth_cm} cm, taped with the sound tape T2. Years later, at the "
        "same mark, T2 read {growth_cm} cm more. But in between T2 had lost its first "
        "{worn_start_cm} "
        "cm, and what is now its end was held as zero. Taken for round both times, by how many cm² "
        "has the sectional area really grown?",
        given=[
            Quantity("girth_cm", 50.0, 130.0, 0.1),
            Quantity("growth_cm", 8.0, 20.0, 0.1),
            Quantity("worn_start_cm", 1.5, 4.0, 0.1),
        ],
        unit="cm²",
        answer=lambda q: _ring_cm2(q, _growth_cm(q)),
        steps={
            "true_growth_cm": _growth_cm,
            "later_girth_cm": lambda q: q.girth_cm + _growth_cm(q),
        },
        hints=[
            "Does a tape whose start is lost read too much or too little?",
            "Too much: its end stands as zero where there is a mark already. Take the lost piece "
            "off the second reading only, then compare both areas by G²/4π.",
            "Work out (({girth_cm} + {growth_cm} − {worn_start_cm})² − {girth_cm}²)/12.566.",
        ],
        solution="Of the growth, {worn_start_cm} cm are the tape's own: {growth_cm} − "
        "{worn_start_cm} = "
        "{true_growth_cm} cm are real. The girth is now {later_girth_cm} cm, and "
        "({later_girth_cm}² − {girth_cm}²)/12.566 = {answer} cm².",
        slips=[
            Slip("worn-left-in", lambda q: _ring_cm2(q, q.growth_cm),
                 "The lost start is still in it: so much of the growth is the tape's own."),
            Slip("wrong-sign", lambda q: _ring_cm2(q, q.growth_cm + q.worn_start_cm),
                 "You added the lost piece. A tape whose start is lost reads too much: take it "
                 "off."),
            Slip("squared-too-late", lambda q: area_from_girth_cm2(_growth_cm(q)),
                 "The growth was squared. Square each girth first, then take the difference."),
            Slip("first-order", lambda q: q.girth_cm * _growth_cm(q) / (2 * pi),
                 "You took the girth times its growth over 2π. That leaves out the growth's own "
                 "square: take one area from the other.", since=2, apart_since=2),
            Slip("girth-as-diameter", lambda q: pi**2 * _ring_cm2(q, _growth_cm(q)),
                 "The girths were taken for diameters. A = G²/4π."),
            Slip("whole-area",
                 lambda q: area_from_girth_cm2(q.girth_cm + _growth_cm(q)),
                 "That is the whole area now. Take away what was there before."),
        ],
        picture="band",
        source="common practice, no source",
    ),
    Family(
        key="two-faults-in-one-tape",
        topic="condition",
        title="Two faults that work against each other",
        text="Tape T5 has lost its first {worn_start_cm} cm, and its end is held as zero. What is "
        "left "
        "has stretched: its marks stand {stretch_percent} % further apart. It goes, level and "
        "taut, round a stem whose girth is {girth_cm} cm. By how many cm does it read too much?",
        given=[
            Quantity("girth_cm", 50.0, 80.0, 0.1),
            Quantity("stretch_percent", 4.5, 7.0, 0.1),
            Quantity("worn_start_cm", 7.0, 11.0, 0.1),
        ],
        unit="cm",
        answer=_both_add_cm,
        steps={
            "marks": lambda q: q.girth_cm / _stretched(q),
            "reading_cm": lambda q: _old(q).marks_cm(q.girth_cm)[0],
        },
        fits=lambda q: _both_add_cm(q) >= 1.5,
        hints=[
            "How many of the wide steps fit round the stem? And at which mark does the count "
            "begin?",
            "G/(1 + s/100) steps fit. The count begins at the lost length: add it, as it stands. "
            "Then compare with G.",
            "Work out {girth_cm}/(1 + {stretch_percent}/100) + {worn_start_cm} − {girth_cm}.",
        ],
        solution="Round the stem fit {girth_cm}/(1 + {stretch_percent}/100) = {marks} steps, and "
        "the count begins at {worn_start_cm}: the tape reads {reading_cm} cm. That is "
        "{reading_cm} − "
        "{girth_cm} = {answer} cm too much. The stretch hides a part of what the lost start adds.",
        slips=[
            Slip("wrong-order",
                 lambda q: (q.girth_cm + q.worn_start_cm) / _stretched(q) - q.girth_cm,
                 "You put the lost length round the stem and stretched it too. It is not there: it "
                 "only moves the count, so add it last."),
            Slip("wrong-sign",
                 lambda q: q.girth_cm * _stretched(q) + q.worn_start_cm - q.girth_cm,
                 "The stretch has the wrong sign. Wider steps fit fewer times round the stem: "
                 "divide."),
            Slip("worn-taken-off",
                 lambda q: q.girth_cm / _stretched(q) - q.worn_start_cm - q.girth_cm,
                 "The lost start has the wrong sign. The count begins at a mark above zero: add "
                 "it."),
            Slip("stretch-left-out", lambda q: q.worn_start_cm,
                 "That is the lost start alone. The stretch takes a part of it back."),
            Slip("worn-left-out", lambda q: q.girth_cm / _stretched(q) - q.girth_cm,
                 "That is the stretch alone. The lost start adds to the reading."),
        ],
        picture="band",
        source="common practice, no source",
    ),
    Family(
        key="steel-in-the-frost",
        topic="condition",
        title="A steel band in the frost",
        text="A steel band is true at 20 °C. It lengthens by 11.6 millionths of its length for "
        "each °C that it is warmer, and shortens as much for each that it is colder. On a winter's "
        "day it is at {temperature_c} °C and goes, level and taut, round a stem whose girth is "
        "{girth_cm} cm. By how many mm does it read too much?",
        given=[
            Quantity("girth_cm", 120.0, 320.0, 0.1),
            Quantity("temperature_c", -18, -3, 1, exact=True),
        ],
        unit="mm",
        answer=_cold_adds_mm,
        steps={
            "colder_c": lambda q: REFERENCE_C - q.temperature_c,
            "girth_mm": lambda q: 10 * q.girth_cm,
        },
        hints=[
            "By how many °C is the band colder than where it is true?",
            "From 20 °C down to 0 are 20, and then on below zero. Multiply by 11.6 millionths and "
            "by the girth in mm.",
            "Work out 10·{girth_cm}·0.0000116·(20 − ({temperature_c})).",
        ],
        solution="The band is 20 − ({temperature_c}) = {colder_c} °C colder than where it is true. "
        "{girth_mm} mm·0.0000116·{colder_c} = {answer} mm. Its marks stand closer, so more of them "
        "fit round: it reads too much. Cold or warm, no tape in the wood is read that finely, "
        "and the stem itself shrinks in frost by more than the band. Steel has sharp edges: wear "
        "gloves.",
        slips=[
            Slip("wrong-sign", lambda q: -_cold_adds_mm(q),
                 "The sign is the wrong way round. A cold band is shorter, its marks stand closer, "
                 "and more of them fit round: it reads too much."),
            Slip("counted-from-zero",
                 lambda q: -10 * q.girth_cm * STEEL_PER_C * q.temperature_c,
                 "You counted from 0 °C. The band is true at 20 °C: count from there."),
            Slip("twenty-taken-off",
                 lambda q: 10 * q.girth_cm * STEEL_PER_C * (REFERENCE_C + q.temperature_c),
                 "Below zero the degrees add to the 20: the frost is further from 20 °C than zero "
                 "is."),
            Slip("cm-for-mm", lambda q: _cold_adds_mm(q) / 10,
                 "That is in cm. Asked are mm."),
            Slip("diameter-for-girth", lambda q: _cold_adds_mm(q) / pi,
                 "You used the diameter. The band lies round the whole girth."),
        ],
        picture="band",
        source="common practice, no source, for the steel (11.6 millionths: surveying examples); "
        "[Phillips2016] for 20 °C, [DevineHarrington2011] for stems that shrink in frost",
    ),
    Family(
        key="how-warm-until-it-matters",
        topic="condition",
        title="How warm must a steel band be until it matters?",
        text="A steel band, divided in millimetres, is true at 20 °C and lengthens by 11.6 "
        "millionths of its length for each °C. It lies, level and taut, round a stem of {girth_cm} "
        "cm girth. At which temperature of the band does it read half a millimetre too little? "
        "Answer in °C.",
        given=[Quantity("girth_cm", 120.0, 320.0, 0.1)],
        unit="°C",
        answer=lambda q: REFERENCE_C + _warmer_c(q.girth_cm, HALF_DIVISION_CM),
        steps={
            "per_c_cm": lambda q: q.girth_cm * STEEL_PER_C,
            "warmer_c": lambda q: _warmer_c(q.girth_cm, HALF_DIVISION_CM),
        },
        hints=[
            "How much longer does the band round this stem grow for each °C?",
            "For each °C it is 11.6 millionths of the girth. How many such steps make 0.05 cm? "
            "They count from 20 °C.",
            "Work out 20 + 0.05/({girth_cm}·0.0000116).",
        ],
        solution="Each °C makes {girth_cm}·0.0000116 = {per_c_cm} cm. Half a millimetre, 0.05 cm, "
        "is {warmer_c} of them, and 20 + {warmer_c} = {answer} °C. In the shade of a wood "
        "that is rare; stretch and a slanting band matter long before warmth does.",
        slips=[
            Slip("counted-from-zero", lambda q: _warmer_c(q.girth_cm, HALF_DIVISION_CM),
                 "That is by how much it must be warmer. Count from 20 °C, where the band is "
                 "true."),
            Slip("whole-division",
                 lambda q: REFERENCE_C + _warmer_c(q.girth_cm, 2 * HALF_DIVISION_CM),
                 "That is for a whole millimetre. Asked is half of one."),
            Slip("wrong-sign",
                 lambda q: REFERENCE_C - _warmer_c(q.girth_cm, HALF_DIVISION_CM),
                 "At that temperature the band is short and reads too much. To read too little it "
                 "must be longer, that is warmer."),
            Slip("diameter-for-girth",
                 lambda q: REFERENCE_C + _warmer_c(q.girth_cm / pi, HALF_DIVISION_CM),
                 "You used the diameter. The band lies round the whole girth."),
            Slip("mm-for-cm",
                 lambda q: REFERENCE_C + 10 * _warmer_c(q.girth_cm, HALF_DIVISION_CM),
                 "Half a millimetre is 0.05 cm. You took 0.5 cm, or mixed mm and cm."),
        ],
        picture="band",
        source="common practice, no source, for the steel (11.6 millionths: surveying examples); "
        "[Phillips2016] for 20 °C",
    ),
]  # fmt: skip
