"""Questions of workbook 11, the field practical. The class, its hands and stems are invented."""

from __future__ import annotations

from math import hypot, pi

from mensura.estimates.precision import limit_cm
from mensura.estimates.quillmere_practical import STRETCH_PERCENT
from mensura.teaching.answers.reply import KnownSlip
from mensura.teaching.lessons.exercise import Exercise
from mensura.teaching.lessons.predict import Choice, Prediction

# a tilted hand with a stretched tape
_HAND_PERCENT = 2.0
_TRUE_CM, _STRETCHED = 120.0, 1 + STRETCH_PERCENT / 100
_READ_CM = _TRUE_CM * (1 + _HAND_PERCENT / 100) / _STRETCHED

# calipers off zero, on a thin stem
_ZERO_CM, _THIN_CM = 0.8, 20.0
_AREA_PERCENT = 100 * ((1 + _ZERO_CM / _THIN_CM) ** 2 - 1)

# two hands with one tape
_AGAIN_CM, _BETWEEN_CM = 0.20, 0.40
_ANY_CM = hypot(_AGAIN_CM, _BETWEEN_CM)

QUESTIONS: dict[str, Prediction | Exercise] = {
    "11-predict": Prediction(
        "Which hand reads girths too high or too low?",
        [
            Choice("Q01.", "Its T1 and T3 lie about the middle. Low it is with T2 only."),
            Choice(
                "Q04.",
                "With each tape Q04 lies some two per cent above what the others read with that "
                "same tape.",
                right=True,
            ),
            Choice("Q06.", "Where Q06 is low it held T2, as everybody else who is low."),
            Choice(
                "None: the tapes differ.",
                "One tape does. But compare hands that held the same tape: one stands out.",
            ),
        ],
    ),
    "11-predict-instrument": Prediction(
        "Which instruments are off? (Of two calipers that differ, who knows which one?)",
        [
            Choice("T2 alone.", "T2, yes. But K1 reads more than K2 in most hands: both cannot."),
            Choice(
                "T2 and K2.",
                "K2 reads less than K1, but that may be K1's fault. The sound tapes tell: girth "
                "over π is the mean width of the same stems, and K2 agrees with it.",
            ),
            Choice(
                "T2 and K1.",
                "T2 reads low in every hand. Between K1 and K2 the sound tapes decide: girth over "
                "π is the mean width of the same stems, and K1 lies above it.",
                right=True,
            ),
            Choice("T1 and T3.", "They agree with each other; T2 lies apart from both."),
        ],
    ),
    "11-predict-size": Prediction(
        "Q04's girths by T2 lie right in the middle. What follows?",
        [
            Choice(
                "With T2, Q04 lays the tape well.",
                "Q04 with T2 reads as much above the others' T2 as with T1 and T3.",
            ),
            Choice(
                "Two faults hide each other.",
                "The hand adds what the tape takes off. Who looks at Q04 with T2 alone finds "
                "nothing. Hands must change tapes, and tapes hands, or nobody can tell.",
                right=True,
            ),
            Choice("T2 is sound after all.", "In five other hands it reads low."),
        ],
    ),
    "11-1": Exercise(
        f"A stem has a girth of {_TRUE_CM:.0f} cm. A hand tilts its tape and so reads "
        f"{_HAND_PERCENT:.0f} % too much; the tape has stretched by {STRETCH_PERCENT:.1f} %. "
        "What does it read, in cm, to two decimals?",
        "cm",
        _READ_CM,
        # rounding to two decimals, 0.005
        0.006,
        f"The way is {_TRUE_CM:.0f}·1.02 = 122.40 cm long. Each of the tape's centimetres is 1.025 "
        "long, so it counts 122.40/1.025 = 119.41: half a per cent too little, from two faults "
        "four times as large.",
        [
            KnownSlip(
                _TRUE_CM * (1 + _HAND_PERCENT / 100) * _STRETCHED,
                "A stretched tape counts fewer centimetres: divide.",
            ),
            KnownSlip(
                _TRUE_CM / (1 + _HAND_PERCENT / 100) / _STRETCHED,
                "Tilted, the tape goes a longer way: multiply by that.",
            ),
            KnownSlip(
                _TRUE_CM * (1 + (_HAND_PERCENT - STRETCH_PERCENT) / 100),
                "Nearly: shares multiply. Stretched by 2.5 %, a tape reads 1/1.025 of the way.",
            ),
            KnownSlip(_TRUE_CM * (1 + _HAND_PERCENT / 100), "The stretch is missing."),
        ],
    ),
    "11-2": Exercise(
        f"Calipers read {_ZERO_CM:.1f} cm too much on every stem. By how many per cent is the "
        f"area of a round stem of {_THIN_CM:.0f} cm too large, to one decimal?",
        "%",
        _AREA_PERCENT,
        0.06,
        f"(1 + {_ZERO_CM:.1f}/{_THIN_CM:.0f})² − 1 = 8.2 %. On a stem three times as thick it is "
        "2.7 %: a constant weighs most on thin stems.",
        [
            KnownSlip(
                100 * _ZERO_CM / _THIN_CM, "That is of the diameter. An area goes by its square."
            ),
            KnownSlip(200 * _ZERO_CM / _THIN_CM, "Nearly: the square has a last term, 0.04²."),
            KnownSlip(
                100 * ((1 + _ZERO_CM / pi / _THIN_CM) ** 2 - 1),
                "Calipers read a diameter: there is no π to divide by.",
            ),
        ],
    ),
    "11-3": Exercise(
        f"With one tape a hand's repeats spread by {_AGAIN_CM:.2f} cm, and hands differ among each "
        f"other by {_BETWEEN_CM:.2f} cm, both as standard deviations. Two hands read one stem once "
        "each. Within how many cm do their readings lie in 95 of 100 cases (factor 2.8), to two "
        "decimals?",
        "cm",
        float(limit_cm(_ANY_CM)),
        0.006,
        f"One reading by any hand spreads by the root of {_AGAIN_CM:.2f}² + {_BETWEEN_CM:.2f}² = "
        "0.447 cm; 2.8 times that is 1.25 cm.",
        [
            KnownSlip(
                float(limit_cm(_AGAIN_CM)),
                "That holds for one hand that reads twice. Here the hands differ, too.",
            ),
            KnownSlip(
                float(limit_cm(_BETWEEN_CM)), "Each reading has its repeat's spread besides."
            ),
            KnownSlip(
                float(limit_cm(_AGAIN_CM + _BETWEEN_CM)), "Add the squares, and take the root."
            ),
            KnownSlip(_ANY_CM, "That is the standard deviation of one reading. Times 2.8."),
        ],
    ),
}
