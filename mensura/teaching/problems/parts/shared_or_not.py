"""Problems of growth by one tape and by two: what cancels and what stays.

Stems and tapes are invented (Quillmere Practice Wood).
"""

from __future__ import annotations

from math import hypot, sqrt
from typing import Any

from mensura.estimates.growth import SAME, Again, ReadingDoubts, u_growth_cm
from mensura.teaching.problems.family import Family, Quantity, Slip


def _doubts(q: Any) -> ReadingDoubts:
    """Each reading's own, and the tape's scale."""
    return ReadingDoubts(q.u_reading_cm, 0, q.u_scale_percent, 0, 0, 0, 0)


def _u_cm(q: Any, again: Again) -> float:
    return float(u_growth_cm(q.girth_cm, q.girth_cm + q.growth_cm, _doubts(q), again))


def _own_cm(q: Any) -> float:
    """Both readings' own."""
    return sqrt(2) * float(q.u_reading_cm)


def _share_cm(q: Any, of_cm: float) -> float:
    """The scale's uncertainty on a length."""
    return float(q.u_scale_percent) / 100 * of_cm


def _whole_girths_cm(q: Any) -> float:
    """The scale's on both girths, each apart."""
    return hypot(_share_cm(q, q.girth_cm), _share_cm(q, q.girth_cm + q.growth_cm))


SHARED_OR_NOT = [
    Family(
        key="growth-by-the-same-tape",
        topic="growth",
        title="How sure is a growth by the same tape?",
        text="A poplar was taped at {girth_cm} cm, and years later at the same mark, by the same "
        "hand with the same tape: it has grown by {growth_cm} cm in girth. Each reading has a "
        "standard uncertainty of {u_reading_cm} cm of its own. The tape's scale has one of "
        "{u_scale_percent} % of what is read, and it errs the same way both times. What is the "
        "standard uncertainty of the growth, in cm?",
        given=[
            Quantity("girth_cm", 40.0, 80.0, 0.1),
            Quantity("growth_cm", 30.0, 60.0, 0.1),
            Quantity("u_reading_cm", 0.1, 0.3, 0.02, exact=True),
            Quantity("u_scale_percent", 0.4, 1.0, 0.05, exact=True),
        ],
        unit="cm",
        answer=lambda q: _u_cm(q, SAME),
        steps={
            "own_cm": _own_cm,
            "share_cm": lambda q: _share_cm(q, q.growth_cm),
        },
        hints=[
            "A scale that reads 1 % too long does so at both readings. By how much is their "
            "difference too long?",
            "The growth is then 1 % too long, and no more. What each reading adds of its own is "
            "in there twice, apart.",
            "The root of 2·{u_reading_cm}² + ({u_scale_percent}/100·{growth_cm})².",
        ],
        solution="Both readings' own make √2·{u_reading_cm} = {own_cm} cm. Of the scale only the "
        "growth's share is left: {u_scale_percent}/100·{growth_cm} = {share_cm} cm. "
        "√({own_cm}² + {share_cm}²) = {answer} cm.",
        slips=[
            Slip("scale-of-whole-girths", lambda q: hypot(_own_cm(q), _whole_girths_cm(q)),
                 "That would be another tape's. The same scale errs the same way both times, and "
                 "cancels but for the growth's own share."),
            Slip("scale-of-the-last-girth",
                 lambda q: hypot(_own_cm(q), _share_cm(q, q.girth_cm + q.growth_cm)),
                 "You took the scale's share of the whole girth. In the difference only that of "
                 "the growth is left."),
            Slip("scale-cancelled", _own_cm,
                 "The scale does not cancel wholly: the growth is read too long by its share."),
            Slip("one-reading",
                 lambda q: hypot(q.u_reading_cm, _share_cm(q, q.growth_cm)),
                 "Two readings were made, and each adds its own: √2 of one."),
            Slip("plainly-added", lambda q: _own_cm(q) + _share_cm(q, q.growth_cm),
                 "The two know nothing of each other: add their squares and take the root."),
        ],
        picture="girth",
        source="[GUM1995]",
    ),
    Family(
        key="growth-by-another-tape",
        topic="growth",
        title="How sure is a growth by another tape?",
        text="A stem was taped at {girth_cm} cm with tape T2, and years later at the same mark "
        "with tape T5: it has grown by {growth_cm} cm in girth. Each reading has a standard "
        "uncertainty of {u_reading_cm} cm of its own. The scale of each tape has one of "
        "{u_scale_percent} % of what it reads; the two were checked apart. What is the standard "
        "uncertainty of the growth, in per cent of the growth?",
        given=[
            Quantity("girth_cm", 60.0, 120.0, 0.1),
            Quantity("growth_cm", 15.0, 30.0, 0.1),
            Quantity("u_reading_cm", 0.1, 0.16, 0.01, exact=True),
            Quantity("u_scale_percent", 0.2, 0.4, 0.02, exact=True),
        ],
        unit="%",
        answer=lambda q: 100 * _u_cm(q, Again(tape=False)) / q.growth_cm,
        steps={
            "later_girth_cm": lambda q: q.girth_cm + q.growth_cm,
            "own_cm": _own_cm,
            "scales_cm": _whole_girths_cm,
            "both_cm": lambda q: hypot(_own_cm(q), _whole_girths_cm(q)),
        },
        hints=[
            "Two tapes, each with a scale of its own. Does an error of the one cancel one of the "
            "other?",
            "Nothing cancels: each tape's scale errs on the whole girth that it read. Four parts "
            "that know nothing of each other.",
            "The root of 2·{u_reading_cm}² and of ({u_scale_percent}/100)² times the sum of both "
            "girths' squares; then in per cent of {growth_cm}.",
        ],
        solution="The later girth is {later_girth_cm} cm. Both readings' own make "
        "√2·{u_reading_cm} = {own_cm} cm, both scales "
        "{u_scale_percent}/100·√({girth_cm}² + {later_girth_cm}²) = {scales_cm} cm. Together "
        "{both_cm} cm, which is {answer} % of {growth_cm} cm. Read one stem with both tapes, and "
        "most of it is known.",
        slips=[
            Slip("as-one-tape",
                 lambda q: 100 * hypot(_own_cm(q), _share_cm(q, q.growth_cm)) / q.growth_cm,
                 "That would be one tape's both times, and hardly more than the readings' own. Two "
                 "tapes' scales do not cancel."),
            Slip("one-scale",
                 lambda q: 100 * hypot(_own_cm(q), _share_cm(q, q.girth_cm)) / q.growth_cm,
                 "You took one tape's scale. Each of the two errs on the girth that it read."),
            Slip("scales-only", lambda q: 100 * _whole_girths_cm(q) / q.growth_cm,
                 "That is the scales' part. Each reading adds one of its own."),
            Slip("plainly-added",
                 lambda q: 100 * (_own_cm(q) + _whole_girths_cm(q)) / q.growth_cm,
                 "The parts know nothing of each other: add their squares and take the root."),
            Slip("of-the-girth",
                 lambda q: 100 * _u_cm(q, Again(tape=False)) / (q.girth_cm + q.growth_cm),
                 "That is in per cent of the girth. Asked is a share of the growth."),
        ],
        picture="girth",
        source="[GUM1995]",
    ),
]  # fmt: skip
