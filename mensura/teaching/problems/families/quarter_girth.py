"""The quarter-girth rule against the true volume. Logs and bills are invented (Quillmere).

The rule takes a round log for a square one whose side is a quarter of its girth: π/4 of the truth.
What goes wrong is which volume is meant, and of which volume a per cent is a part.
"""

from __future__ import annotations

from math import pi
from typing import Any

from mensura.estimates.logs import huber_from_girth_m3
from mensura.estimates.quarter_girth import (
    HOPPUS_FOOT_FT3,
    hoppus_true_m3,
    quarter_girth_hoppus_ft,
    quarter_girth_m3,
    quarter_girth_over_percent,
)
from mensura.teaching.problems.family import Family, Quantity, Slip

#: A cubic foot in m³: 0.3048 m by definition [NBS1959].
_FOOT_M3 = 0.3048**3
#: In a problem that asks for a volume by the rule, any volume typed is one by the rule.
_BY_THE_RULE = {"ft³": 1.0, "in³": 1 / 1728, "m³": 1 / _FOOT_M3, "dm³": 1e-3 / _FOOT_M3,
                "l": 1e-3 / _FOOT_M3, "cm³": 1e-6 / _FOOT_M3}  # fmt: skip
_MID = Quantity("mid_girth_cm", 70.0, 190.0, 0.5)
_LENGTH = Quantity("log_length_m", 2.5, 7.0, 0.05)


def _rule_m3(q: Any) -> float:
    return float(quarter_girth_m3(q.mid_girth_cm, q.log_length_m))


def _true_m3(q: Any) -> float:
    return float(huber_from_girth_m3(q.mid_girth_cm, q.log_length_m))


def _under_cm(q: Any) -> float:
    return float(q.mid_girth_cm - 2 * pi * q.bark_cm)


def _factor(q: Any) -> float:
    """Girth under bark over that over bark, which is the bark factor of the diameters."""
    return _under_cm(q) / float(q.mid_girth_cm)


def _over_percent(q: Any) -> float:
    return float(quarter_girth_over_percent(100 * _factor(q)))


FAMILIES = [
    Family(
        key="quarter-girth",
        topic="quarter-girth",
        title="Volume of a log by the quarter-girth rule",
        text="An oak log of compartment 7 is {log_length_m} m long; a taut tape round its middle, "
        "under bark, reads {mid_girth_cm} cm. The buyer asks for its volume by the quarter-girth "
        "rule. How many m³ does the rule say?",
        given=[_MID, _LENGTH],
        unit="m³",
        counts_as={"hoppus ft": _FOOT_M3},
        answer=_rule_m3,
        steps={"quarter_cm": lambda q: q.mid_girth_cm / 4},
        hints=[
            "The rule takes the log for a square beam. How wide is the beam?",
            "The side of the beam is a quarter of the girth. Square it in metres, and multiply by "
            "the length.",
            "Work out {mid_girth_cm}/4/100, square that, and multiply by {log_length_m}.",
        ],
        solution="A quarter of the girth is {mid_girth_cm}/4 = {quarter_cm} cm. "
        "({quarter_cm}/100)²·{log_length_m} = {answer} m³. A round log holds 4/π times as much: "
        "say on the bill which volume is meant; contract and local rules decide which one counts.",
        slips=[
            Slip("true-volume", _true_m3,
                 "That is the true volume of a round log. The rule was asked: the square of a "
                 "quarter of the girth, times the length."),
            Slip("quarter-after-square", lambda q: q.mid_girth_cm**2 / 4e4 * q.log_length_m,
                 "You squared first and took the quarter after. Take a quarter of the girth, then "
                 "square it."),
            Slip("quarter-forgotten", lambda q: (q.mid_girth_cm / 100) ** 2 * q.log_length_m,
                 "The whole girth was squared. The side of the beam is a quarter of it."),
            Slip("quarter-diameter",
                 lambda q: (q.mid_girth_cm / (400 * pi)) ** 2 * q.log_length_m,
                 "The girth was made a diameter first. The rule takes a quarter of the girth."),
            Slip("cm-for-m", lambda q: (q.mid_girth_cm / 4) ** 2 * q.log_length_m,
                 "That is cm² times m. Put the quarter girth into metres before you square it."),
        ],
        asks_unit=True,
        picture="log",
        source="common practice, no source",
    ),
    Family(
        key="hoppus-feet",
        topic="quarter-girth",
        title="Hoppus feet from inches and feet",
        text="An old yard book of the (made-up) Quillmere estate gives an oak log by its middle "
        "girth under bark, {mid_girth_in} inches, and its length, {log_length_ft} feet. How many "
        "hoppus feet is that: cubic feet by the quarter-girth rule?",
        given=[
            Quantity("mid_girth_in", 30.0, 84.0, 0.25),
            Quantity("log_length_ft", 8.0, 24.0, 0.25),
        ],
        unit="hoppus ft",
        counts_as=_BY_THE_RULE,
        # not where a quarter girth of one foot squares to itself
        fits_since={2: lambda q: abs(q.mid_girth_in - 48) > 1},
        answer=lambda q: quarter_girth_hoppus_ft(q.mid_girth_in, q.log_length_ft),
        steps={"quarter_in": lambda q: q.mid_girth_in / 4},
        hints=[
            "The rule takes the log for a square beam with a quarter of the girth as its side.",
            "The side is in inches, the length in feet. How many square inches make a square foot?",
            "Work out ({mid_girth_in}/4)²·{log_length_ft} and divide by 144.",
        ],
        solution="A quarter of the girth is {mid_girth_in}/4 = {quarter_in} in. A square foot is "
        "12·12 = 144 square inches, so ({quarter_in})²·{log_length_ft}/144 = {answer} hoppus feet.",
        slips=[
            Slip("square-inches-kept", lambda q: (q.mid_girth_in / 4) ** 2 * q.log_length_ft,
                 "Square inches were multiplied by feet. Divide by 144, the square inches of a "
                 "square foot."),
            Slip("twelve-for-144", lambda q: (q.mid_girth_in / 4) ** 2 * q.log_length_ft / 12,
                 "You divided by 12. That is right for a length; for an area it takes 12 twice, "
                 "144."),
            Slip("true-volume",
                 lambda q: q.mid_girth_in**2 / (4 * pi) * q.log_length_ft / 144,
                 "That is the number of true cubic feet. Asked are hoppus feet, by a quarter of "
                 "the girth."),
            Slip("quarter-forgotten", lambda q: q.mid_girth_in**2 * q.log_length_ft / 144,
                 "The whole girth was squared. The side of the beam is a quarter of it."),
            Slip("quarter-after-square",
                 lambda q: q.mid_girth_in**2 / 4 * q.log_length_ft / 144,
                 "You squared first and took the quarter after. Take a quarter of the girth, then "
                 "square it."),
        ],
        picture="log",
        source="[Rowlett] for the hoppus foot",
    ),
    Family(
        key="true-from-hoppus",
        topic="quarter-girth",
        title="The true volume behind a bill in hoppus feet",
        text="A bill of the (made-up) Quillmere estate says {hoppus_ft} hoppus feet of round "
        "timber: cubic feet by the quarter-girth rule, under bark. Take the girths as written "
        "without rounding; in the trade they are rounded down. What is the true volume of these "
        "round logs, in m³? A foot is 0.3048 m.",
        given=[Quantity("hoppus_ft", 20.0, 400.0, 0.5)],
        unit="m³",
        answer=lambda q: hoppus_true_m3(q.hoppus_ft),
        steps={"true_ft3": lambda q: HOPPUS_FOOT_FT3 * q.hoppus_ft},
        hints=[
            "Two steps, in any order: from the rule to the truth, and from cubic feet to m³.",
            "The rule says π/4 of the truth, so divide by π/4, which is 0.7854. A cubic foot is "
            "0.3048³ m³.",
            "Work out {hoppus_ft}/0.7854·0.028317.",
        ],
        solution="The rule says π/4 of the truth, so the truth is {hoppus_ft}/0.7854 = {true_ft3} "
        "cubic feet. A cubic foot is 0.3048³ = 0.028317 m³, so the logs hold {answer} m³. "
        "Where girths were rounded down, they hold more still.",
        slips=[
            Slip("hoppus-foot-as-cubic-foot", lambda q: _FOOT_M3 * q.hoppus_ft,
                 "A hoppus foot was taken for a true cubic foot. Round timber of one hoppus foot "
                 "holds 4/π times as much."),
            Slip("wrong-way", lambda q: pi / 4 * _FOOT_M3 * q.hoppus_ft,
                 "You multiplied by π/4. The rule is below the truth, so the truth is larger: "
                 "divide."),
            Slip("cubic-feet-kept", lambda q: HOPPUS_FOOT_FT3 * q.hoppus_ft,
                 "That is the number of true cubic feet. Asked are m³: times 0.3048³."),
            Slip("foot-not-cubed", lambda q: HOPPUS_FOOT_FT3 * 0.3048 * q.hoppus_ft,
                 "Cubic feet were multiplied by 0.3048. That is right for a length; a volume takes "
                 "it three times."),
            Slip("per-cent-of-the-rule", lambda q: (2 - pi / 4) * _FOOT_M3 * q.hoppus_ft,
                 "You added 21.46 %. The rule is that far below the truth, but the truth is "
                 "27.32 % above the rule."),
            Slip("foot-of-30-cm", lambda q: 4 / pi * 0.3**3 * q.hoppus_ft,
                 "A foot was taken for 0.3 m. In a volume the 4.8 mm that it is longer count three "
                 "times: 0.3048³.", since=2),
        ],
        asks_unit=True,
        picture="numbers",
        source="[Rowlett] for the hoppus foot, [NBS1959] for the foot",
    ),
    Family(
        key="wood-left-out",
        topic="quarter-girth",
        title="How much wood the quarter-girth rule leaves out",
        text="A pine log of compartment 7 is {log_length_m} m long and {mid_girth_cm} cm round at "
        "its middle, under bark. It is sold by the quarter-girth rule, the girth as it is; in the "
        "trade it is rounded down, and more is left out. Taken for round, how many m³ of wood "
        "does the rule leave out?",
        given=[_MID, _LENGTH],
        unit="m³",
        answer=lambda q: _true_m3(q) - _rule_m3(q),
        steps={"true_m3": _true_m3, "rule_m3": _rule_m3},
        hints=[
            "Find two volumes from the same girth and length, and take one from the other.",
            "The true one is G²/4π·L, the rule's is (G/4)²·L, both in metres.",
            "Work out ({mid_girth_cm}/100)²·{log_length_m}, and multiply it by 1/12.566 − 1/16.",
        ],
        solution="The true volume is ({mid_girth_cm}/100)²/12.566·{log_length_m} = {true_m3} m³. "
        "The rule says ({mid_girth_cm}/400)²·{log_length_m} = {rule_m3} m³. It leaves out "
        "{answer} m³, 21.46 % of the true volume.",
        slips=[
            Slip("share-of-the-rule", lambda q: (1 - pi / 4) * _rule_m3(q),
                 "You took 21.46 % of the rule's volume. That share is of the true volume, which "
                 "is larger."),
            Slip("share-of-the-truth", lambda q: (4 / pi - 1) * _true_m3(q),
                 "You took 27.32 % of the true volume. That share is of the rule's volume, which "
                 "is smaller."),
            Slip("rule-only", _rule_m3,
                 "That is what the rule counts. Asked is what it leaves out."),
            Slip("true-volume", _true_m3,
                 "That is the whole true volume. Take away what the rule counts."),
            Slip("girth-as-diameter", lambda q: pi**2 * _true_m3(q) - _rule_m3(q),
                 "For the true volume the girth was taken for a diameter. It is G²/4π·L."),
        ],
        asks_unit=True,
        picture="log",
        source="closed form; common practice, no source, for the rule",
    ),
    Family(
        key="rule-over-bark",
        topic="quarter-girth",
        title="The quarter-girth rule over bark against the wood under it",
        text="An oak log is sold with its bark: a taut tape round its middle, over bark, reads "
        "{mid_girth_cm} cm, and its volume is reckoned from this by the quarter-girth rule. The "
        "bark is {bark_cm} cm thick all round, the wood is round. By how many per cent of the true "
        "volume of the wood alone is the rule's volume off? Write a minus if it is too small.",
        given=[
            Quantity("mid_girth_cm", 100.0, 190.0, 0.5),
            Quantity("bark_cm", 0.5, 2.0, 0.05),
        ],
        unit="%",
        answer=_over_percent,
        steps={"under_cm": _under_cm, "factor": _factor},
        fits=lambda q: abs(_over_percent(q)) >= 4,
        hints=[
            "The rule sees the girth over bark; the wood has the girth under bark. What does bark "
            "take off a girth?",
            "Bark of thickness t takes 2πt off the girth. Compare the rule's (G/4)² with the "
            "wood's G²/4π, each with its own girth; the length drops out.",
            "Work out g = {mid_girth_cm} − 6.2832·{bark_cm}, the girth of the wood. Then work out "
            "12.566·({mid_girth_cm}/4)²/g², take away 1, and multiply by 100.",
        ],
        solution="Under bark the girth is {mid_girth_cm} − 2π·{bark_cm} = {under_cm} cm. "
        "The rule takes ({mid_girth_cm}/4)², the wood has {under_cm}²/12.566. 100·(rule/wood − 1) "
        "= {answer} %. Without bark it would be −21.46 %: bark that is measured as wood makes good "
        "a part of what the rule leaves out.",
        slips=[
            Slip("bark-forgotten", lambda q: 100 * (pi / 4 - 1),
                 "That is the rule's error without bark. Here the rule was given the girth over "
                 "bark, the wood has less."),
            Slip("wrong-sign", lambda q: -_over_percent(q),
                 "The rule's volume is below that of the wood: a minus belongs before it."),
            Slip("bark-on-one-side",
                 lambda q: 100 * (pi / 4 * (q.mid_girth_cm / (q.mid_girth_cm - pi * q.bark_cm)) ** 2
                                  - 1),
                 "Bark was taken off on one side only. It is on both sides of the diameter: 2πt "
                 "off the girth."),
            Slip("first-order",
                 lambda q: 100 * (pi / 4 * (1 + 4 * pi * q.bark_cm / q.mid_girth_cm) - 1),
                 "You doubled the bark's share of the girth. That is near for thin bark only: "
                 "divide the girths and square.", since=2, apart_since=2),
            Slip("share-of-the-rule", lambda q: 100 * (1 - 4 / pi * _factor(q) ** 2),
                 "The difference was divided by the rule's volume. Asked is a share of the true "
                 "one."),
            Slip("thickness-off-girth",
                 lambda q: 100 * (pi / 4 * (q.mid_girth_cm / (q.mid_girth_cm - 2 * q.bark_cm)) ** 2
                                  - 1),
                 "2t comes off the diameter; off the girth comes π times as much, 2πt."),
        ],
        picture="log",
        source="[Steiner1840] for the step under bark; common practice, no source, for the rule",
    ),
]  # fmt: skip
