"""From a practical to the plots: what is taken off the readings of one hand with one instrument.

The practical found who and what reads high or low. The same hand and instrument then measured a
stand, where nobody else read: so what they were off is taken off there, and what the practical
left unsure is carried on as an error of all trees. Whoever was found sound is not corrected: what
its mean lies off, and how unsure that is, are both carried on. What all of a class read alike too
high or too low no practical finds.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import hypot
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import ChoiceError, MeasureError, number, plain
from mensura.estimates.hand_verdict import Judged
from mensura.estimates.input_errors import InputError
from mensura.estimates.practical_parts import Studied
from mensura.estimates.readings import KINDS

#: Half of a 95 % interval, in standard uncertainties, by the normal law.
_REACH = 1.959964


@dataclass(frozen=True)
class ClassCorrection:
    """What is taken off the readings of one hand or one instrument.

    name: its code; input: "hand" or "instrument"; kind: "girth" or "diameter"; off: what it reads
    too much, 0 where nothing is taken off; unit: of it, "%" of the true size or "cm" of its kind;
    u: what is left unsure, in the same unit; why: a sentence.
    """

    name: str
    input: str
    kind: str
    off: float
    unit: str
    u: float
    why: str


def corrections_of(
    study: Studied, hand: str, instrument: str, kind: str = "girth"
) -> tuple[ClassCorrection, ClassCorrection]:
    """What is taken off readings by a hand with an instrument, after a practical.

    study: of the practical; hand, instrument: codes, as the practical has them; kind: "girth" or
    "diameter". Returns the hand's, then the instrument's. Raises ChoiceError for a code that was
    not in the practical, and MeasureError for one of which it could tell nothing.

    >>> from mensura.estimates.quillmere_practical import quillmere_practical
    >>> from mensura.estimates.practical import study_practical
    >>> found = corrections_of(study_practical(quillmere_practical().readings), "Q03", "T2")
    >>> [(one.name, round(one.off, 1), one.unit) for one in found]
    [('Q03', 0.0, '%'), ('T2', -2.5, '%')]
    """
    if kind not in KINDS:
        raise ChoiceError("kind", kind, KINDS)
    judged = study.judged
    return (
        _correction(_one(judged.hands, hand, kind, "hand"), "hand"),
        _correction(_one(judged.instruments, instrument, kind, "instrument"), "instrument"),
    )


def corrected_cm(reading_cm: ArrayLike, *corrections: ClassCorrection) -> Any:
    """Readings with what is known to be too much taken off.

    reading_cm: of the corrections' kind, any shape, above 0; corrections: of the hand and the
    instrument. Lengths are subtracted, then shares undone: (reading − c)/((1 + p)(1 + q)). Returns
    cm. Raises MeasureError.

    >>> off = ClassCorrection("T2", "instrument", "girth", -2.5, "%", 0.1, "")
    >>> corrected_cm(117.0, off)
    120.0
    """
    told = np.array(number(reading_cm, "reading_cm", "cm", above=0.0), dtype=np.float64)
    share = 1.0
    for one in corrections:
        if one.unit == "cm":
            told = told - one.off
        else:
            share *= 1 + one.off / 100
    return plain(told / share)


def errors_after(study: Studied, corrections: Iterable[ClassCorrection]) -> tuple[InputError, ...]:
    """What is still unsure of hand and instrument after the correction, for the stand's budget.

    study: of the practical; corrections: as :func:`corrections_of` made them. What the practical
    left unsure of each is one for all trees; a hand's own repeats with that instrument are new for
    each tree. A constant is told in cm of what is read.
    """
    found = []
    tool = ""
    for one in corrections:
        found.append(InputError(one.input, one.u, one.unit, "all", f"practical: {one.name}"))
        tool = one.name if one.input == "instrument" else tool
    for precision in study.precision:
        if precision.instrument == tool and precision.precision is not None:
            own = precision.precision.repeatability_cm
            said = f"practical: repeats with {tool}"
            found.append(InputError("hand", own, "cm", "tree", said))
    return tuple(found)


def _one(judged: Iterable[Judged], name: str, kind: str, what: str) -> Judged:
    of_kind = [one for one in judged if one.kind == kind]
    for one in of_kind:
        if one.name == name:
            if one.bias is None or one.interval is None:
                expected = "a code of which the practical can tell how it reads"
                raise MeasureError(what, name, "", expected)
            return one
    raise ChoiceError(what, name, tuple(one.name for one in of_kind))


def _correction(one: Judged, what: str) -> ClassCorrection:
    assert one.bias is not None
    assert one.interval is not None
    u = (one.interval[1] - one.interval[0]) / 2 / _REACH
    if one.verdict in ("reads-high", "reads-low"):
        return ClassCorrection(one.name, what, one.kind, one.bias, one.unit, u, one.why)
    return ClassCorrection(one.name, what, one.kind, 0.0, one.unit, hypot(u, one.bias), one.why)
