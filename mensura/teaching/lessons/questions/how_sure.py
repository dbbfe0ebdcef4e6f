"""Questions of workbook 10, how sure. The tapes, marks and hands are invented."""

from __future__ import annotations

import math

from mensura.instruments.permissible import permissible_error_mm
from mensura.teaching.answers.reply import KnownSlip
from mensura.teaching.lessons.exercise import Exercise
from mensura.teaching.lessons.predict import Choice, Prediction

# what a step alone leaves open
_STEP_CM = 1.0

# a mark of a class II tape, and how sure its error is
_MARK_M, _MARK_U_MM = 2.4, 0.25
_MAY_ERR_MM = permissible_error_mm("II", _MARK_M)
_NOT_ROUNDED_UP_MM = 0.3 + 0.2 * _MARK_M

# a budget of three inputs
_CARD_CM, _HAND_CM, _READ_IN_CM = 0.06, 0.10, 0.5
_SURE_CM = math.hypot(_CARD_CM, _HAND_CM, _READ_IN_CM / math.sqrt(12))

# the mean of several readings by one tape
_ONE_CARD_CM, _ONE_HAND_CM, _TIMES = 0.1, 0.3, 4

QUESTIONS: dict[str, Prediction | Exercise] = {
    "10-predict": Prediction(
        "A tape lies beside a reference and is read to whole centimetres at five marks. Instead of "
        "once, each mark is read ten times, and the ends stay where they are. How much surer is "
        "the tape's card?",
        [
            Choice(
                "Ten times.",
                "Even chance alone falls only with the square root of the number, and the step is "
                "no chance here.",
            ),
            Choice(
                "About three times: √10.",
                "That is the rule for chance. Ten readings that fall on one whole centimetre are "
                "all off by the same.",
            ),
            Choice(
                "Hardly at all.",
                "All ten fall on one whole centimetre and are off alike. A standard uncertainty of "
                "a step/√12 = 0.29 cm stays at each mark. More marks help; so does moving the ends "
                "between repeats.",
                right=True,
            ),
            Choice(
                "It becomes less sure.",
                "Repeats do no harm: they show how the hand spreads, and slips. But they do not "
                "make the step smaller.",
            ),
        ],
    ),
    "10-1": Exercise(
        f"A tape is read to the nearest {_STEP_CM:.0f} cm. Every length within half a centimetre "
        "of the mark gives the same reading, each alike. What standard uncertainty does that make, "
        "in cm, to two decimals?",
        "cm",
        _STEP_CM / math.sqrt(12),
        # rounding to two decimals, 0.005
        0.006,
        f"Half a step, divided by √3, or the step divided by √12: {_STEP_CM:.0f}/3.464 = 0.29 cm.",
        [
            KnownSlip(_STEP_CM / 2, "That is the farthest it can be off: divide it by √3."),
            KnownSlip(
                _STEP_CM / math.sqrt(3), "The reading is off by half a step at most: halve it."
            ),
            KnownSlip(_STEP_CM / 12, "That is the variance: take its square root."),
        ],
    ),
    "10-2": Exercise(
        "A class II tape may err by 0.3 mm, and by 0.2 mm more for each metre, the length rounded "
        f"up to whole metres. At its mark of {_MARK_M:.1f} m the error's expanded uncertainty is "
        f"{_MARK_U_MM:.2f} mm. How large may the error found there be, in mm, so that the mark is "
        "within its class beyond doubt?",
        "mm",
        _MAY_ERR_MM - _MARK_U_MM,
        0.006,
        f"Rounded up {_MARK_M:.1f} m are 3 m: 0.3 + 3·0.2 = 0.9 mm. Less the doubt of "
        f"{_MARK_U_MM:.2f} mm that is 0.65 mm.",
        [
            KnownSlip(
                _NOT_ROUNDED_UP_MM - _MARK_U_MM, "Round the length up to whole metres first."
            ),
            KnownSlip(
                _MAY_ERR_MM,
                "So large may it be if nothing were uncertain. Take the doubt off.",
            ),
            KnownSlip(
                _MAY_ERR_MM + _MARK_U_MM,
                "From there on the mark is surely outside. To be surely within, take the doubt "
                "off.",
            ),
        ],
    ),
    "10-3": Exercise(
        f"A girth is read in steps of {_READ_IN_CM:.1f} cm. The card is sure to "
        f"{_CARD_CM:.2f} cm there and the hand spreads by {_HAND_CM:.2f} cm, both as standard "
        "uncertainties, and nothing else counts. The combined standard uncertainty of the girth, "
        "in cm, to two decimals?",
        "cm",
        _SURE_CM,
        0.006,
        f"The step makes {_READ_IN_CM:.1f}/√12 = 0.144 cm. The root of {_CARD_CM:.2f}² + "
        f"{_HAND_CM:.2f}² + 0.144² is {_SURE_CM:.2f} cm: the step alone is nearly all of it.",
        [
            KnownSlip(
                _CARD_CM + _HAND_CM + _READ_IN_CM / math.sqrt(12),
                "They are not all at their worst at once: add the squares and take the root.",
            ),
            KnownSlip(
                math.hypot(_CARD_CM, _HAND_CM, _READ_IN_CM / 2),
                "Half a step is the farthest it can be off. Its standard uncertainty is step/√12.",
            ),
            KnownSlip(
                math.hypot(_CARD_CM, _HAND_CM, _READ_IN_CM),
                "The step is no standard uncertainty: divide it by √12.",
            ),
            KnownSlip(math.hypot(_CARD_CM, _HAND_CM), "The step is missing."),
        ],
    ),
    "10-4": Exercise(
        f"One tape reads a stem {_TIMES} times, laid anew each time; the hand spreads by "
        f"{_ONE_HAND_CM:.1f} cm. The tape's card is sure to {_ONE_CARD_CM:.1f} cm there. The "
        "standard uncertainty of the mean, brought back by the card, in cm, to two decimals?",
        "cm",
        math.hypot(_ONE_CARD_CM, _ONE_HAND_CM / math.sqrt(_TIMES)),
        0.006,
        f"The hand's part falls to {_ONE_HAND_CM:.1f}/√{_TIMES} = 0.15 cm. The card is off by the "
        f"same in all four: its {_ONE_CARD_CM:.1f} cm stays. The root of 0.15² + "
        f"{_ONE_CARD_CM:.1f}² is 0.18 cm.",
        [
            KnownSlip(
                math.hypot(_ONE_CARD_CM, _ONE_HAND_CM) / math.sqrt(_TIMES),
                "The card is one and the same in all four readings: its part does not fall.",
            ),
            KnownSlip(
                math.hypot(_ONE_CARD_CM, _ONE_HAND_CM),
                "The hand's part falls with the root of the number of readings: divide it.",
            ),
            KnownSlip(
                math.hypot(_ONE_CARD_CM, _ONE_HAND_CM / _TIMES),
                "Chance falls with the root of the number of readings, not with the number.",
            ),
        ],
    ),
}
