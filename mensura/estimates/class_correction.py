"""From a practical to the plots: what is taken off the readings of one hand with one instrument.

The practical found who and what reads high or low. The same hand and instrument then measured a
stand, where nobody else read: so what they were off is taken off there, and what the practical
left unsure is carried on as an error of all trees. Whoever was found sound is not corrected: what
its mean lies off, and how unsure that is, are both carried on.

An instrument is judged against the others of its kind, and those may be off as well: what n of them
read too much on average stays in all that is corrected by them, u/√n if u is one's own error. What
all of a class read alike too high or too low no practical finds.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from math import hypot, sqrt
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import ChoiceError, MeasureError, number, plain
from mensura.estimates.hand_verdict import Judged
from mensura.estimates.hand_words import listed
from mensura.estimates.input_errors import DEFAULTS, InputError
from mensura.estimates.practical_parts import Studied
from mensura.estimates.readings import KINDS

#: Verdicts on whom something is taken off, and on who is told apart from the sound.
MENDED = ("reads-high", "reads-low")
OFF = (*MENDED, "spreads")
#: One instrument that reads each kind, and several.
TOOLS = {"girth": ("tape", "tapes"), "diameter": ("calipers", "calipers")}
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

    def to_dict(self) -> dict[str, Any]:
        """All of it by keys for JSON."""
        return {
            "input": self.input,
            "name": self.name,
            "kind": self.kind,
            "taken_off": self.off,
            "unit": self.unit,
            "u_left": self.u,
            "why": self.why,
        }


@dataclass(frozen=True)
class Verdict:
    """What a practical says of a hand with one kind of instrument, or of an instrument.

    name, kind, verdict, bias, interval, unit, why: as of :class:`Judged`; spread_percent: standard
    deviation of one reading, None for who does not spread.
    """

    name: str
    kind: str
    verdict: str
    bias: float | None
    interval: tuple[float, float] | None
    unit: str
    why: str = ""
    spread_percent: float | None = None


@dataclass(frozen=True)
class ClassFound:
    """What of a practical reaches a stand, whether it was studied here or read from a file.

    hands, instruments: the verdicts; repeats_cm: standard deviation of a hand's own repeats, by
    instrument and kind; cards_used: codes of instruments that were corrected by a card first.
    """

    hands: tuple[Verdict, ...]
    instruments: tuple[Verdict, ...]
    repeats_cm: Mapping[tuple[str, str], float] = field(default_factory=dict)
    cards_used: tuple[str, ...] = ()

    def off(self, kind: str) -> tuple[tuple[Verdict, ...], tuple[Verdict, ...]]:
        """Hands, and instruments, that were found to read high or low, or to spread.

        kind: "girth" or "diameter".
        """
        hands, tools = (
            tuple(one for one in some if one.kind == kind and one.verdict in OFF)
            for some in (self.hands, self.instruments)
        )
        return hands, tools


def class_found(study: Studied | ClassFound) -> ClassFound:
    """What of a study reaches a stand.

    study: of a practical, or this already.
    """
    if isinstance(study, ClassFound):
        return study
    repeats = {}
    for one in study.precision:
        precision = one.without_off or one.precision
        if precision is not None:
            repeats[one.instrument, one.kind] = precision.repeatability_cm
    judged = study.judged
    hands, tools = (tuple(map(_verdict, some)) for some in (judged.hands, judged.instruments))
    return ClassFound(hands, tools, repeats, study.cards_used)


def _verdict(one: Judged) -> Verdict:
    spread = one.spread_percent if one.spreads else None
    return Verdict(
        one.name, one.kind, one.verdict, one.bias, one.interval, one.unit, one.why, spread
    )


def corrections_of(
    study: Studied | ClassFound, hand: str, instrument: str, kind: str = "girth"
) -> tuple[ClassCorrection, ClassCorrection]:
    """What is taken off readings by a hand with an instrument, after a practical.

    study: of the practical, or what was read of it from a file; hand, instrument: codes, as the
    practical has them; kind: "girth" or "diameter". Returns the hand's, then the instrument's.
    Raises ChoiceError for a code that was not in the practical, and MeasureError for one that read
    only the other kind, or of which it could tell nothing.

    >>> from mensura.estimates.quillmere_practical import quillmere_practical
    >>> from mensura.estimates.practical import study_practical
    >>> found = corrections_of(study_practical(quillmere_practical().readings), "Q03", "T2")
    >>> [(one.name, round(one.off, 1), one.unit) for one in found]
    [('Q03', 0.0, '%'), ('T2', -2.5, '%')]
    """
    if kind not in KINDS:
        raise ChoiceError("kind", kind, KINDS)
    found = class_found(study)
    return (
        _correction(_one(found.hands, hand, kind, "hand"), "hand"),
        _correction(_one(found.instruments, instrument, kind, "instrument"), "instrument"),
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


def errors_after(
    study: Studied | ClassFound,
    corrections: Iterable[ClassCorrection],
    errors: Iterable[InputError] = DEFAULTS,
    cards: Mapping[str, InputError] | None = None,
) -> tuple[InputError, ...]:
    """What is still unsure of hand and instrument after the correction, for the stand's budget.

    study: of the practical; corrections: as :func:`corrections_of` made them; errors: as they were
    supposed, with that of an instrument without a card; cards: the error by its card of each
    instrument whose card is at hand, by code: it counts where the practical was corrected by it.

    What the practical left unsure of each is one for all trees. So is what the n sound instruments
    of the kind, against which this one was judged, may read too much on average: u/√n, and u where
    there is no other. A hand's own repeats with that instrument, or its spread where it spreads,
    are new for each tree. A constant is told in cm of what is read.
    """
    found, off = class_found(study), tuple(corrections)
    left = []
    for one in off:
        left.append(InputError(one.input, one.u, one.unit, "all", f"practical: {one.name}"))
        if one.input == "instrument":
            left += _shared(found, one, errors, cards or {})
            own = found.repeats_cm.get((one.name, one.kind))
            if own is not None:
                said = f"practical: repeats with {one.name}"
                left.append(InputError("hand", own, "cm", "tree", said))
    wide = _spread(found, off)
    if wide is not None:
        left = [one for one in left if (one.name, one.scope) != ("hand", "tree")] + [wide]
    return tuple(left)


def all_errors_after(
    study: Studied | ClassFound,
    corrections: Iterable[ClassCorrection],
    errors: Iterable[InputError] = DEFAULTS,
    cards: Mapping[str, InputError] | None = None,
) -> tuple[InputError, ...]:
    """The errors of all inputs, those of hand and instrument as the practical left them.

    study, corrections, errors, cards: as for :func:`errors_after`. Whatever the practical gives
    no figure for stays as it was supposed.
    """
    told = tuple(errors)
    left = errors_after(study, tuple(corrections), told, cards)
    found = {(one.name, one.scope) for one in left}
    return (*left, *(one for one in told if (one.name, one.scope) not in found))


def others_of(found: ClassFound, tool: ClassCorrection) -> tuple[str, ...]:
    """The sound instruments against which one was judged, itself not among them.

    found: of a practical; tool: the correction of the instrument.
    """
    return tuple(
        one.name
        for one in found.instruments
        if one.kind == tool.kind and one.verdict == "sound" and one.name != tool.name
    )


def _shared(
    found: ClassFound,
    tool: ClassCorrection,
    errors: Iterable[InputError],
    cards: Mapping[str, InputError],
) -> list[InputError]:
    """What the others of its kind may read too much on average."""
    others = others_of(found, tool)
    known = [name for name in others if name in found.cards_used and name in cards]
    count = max(len(others), 1)
    rest = count - len(known)
    shared = []
    if known:
        noun = "card" if len(known) == 1 else "cards"
        u = hypot(*(cards[name].u for name in known)) / count
        origin = f"{noun} of {listed(known)}"
        shared.append(InputError("instrument", u, cards[known[0]].unit, "all", origin))
    one, several = TOOLS[tool.kind]
    which = f"the {rest} other {several}" if rest > 1 else f"the other {one}"
    which = which if others else f"no other sound {one}"
    used = any(name in found.cards_used for name in others if name not in known)
    said = f"{which}, no card{' at hand' if used else ''}"
    for error in errors:
        if rest and (error.name, error.scope) == ("instrument", "all"):
            shared.append(replace(error, u=error.u * sqrt(rest) / count, origin=said))
    return shared


def _spread(found: ClassFound, corrections: Iterable[ClassCorrection]) -> InputError | None:
    """The spread of a hand that spreads, new for each tree."""
    for one in corrections:
        for hand in found.hands if one.input == "hand" else ():
            if (hand.name, hand.kind) == (one.name, one.kind) and hand.spread_percent is not None:
                said = f"practical: {one.name} spreads"
                return InputError("hand", hand.spread_percent, "%", "tree", said)
    return None


def _one(judged: Iterable[Verdict], name: str, kind: str, what: str) -> Verdict:
    every = tuple(judged)
    asked = name.strip().casefold()
    of_kind = [one for one in every if one.kind == kind]
    if not of_kind:
        raise MeasureError(what, name, "", f"a practical in which {kind}s were read")
    for one in of_kind:
        if one.name.casefold() == asked:
            if one.bias is None or one.interval is None:
                expected = "a code of which the practical can tell how it reads"
                raise MeasureError(what, name, "", expected)
            return one
    codes = [one.name for one in of_kind]
    if any(one.name.casefold() == asked for one in every):
        expected = f"one that reads {kind}s, as here: {', '.join(codes)}"
        raise MeasureError(what, name, "", expected)
    raise ChoiceError(what, name, codes)


def _correction(one: Verdict, what: str) -> ClassCorrection:
    assert one.bias is not None
    assert one.interval is not None
    u = (one.interval[1] - one.interval[0]) / 2 / _REACH
    if one.verdict in MENDED:
        return ClassCorrection(one.name, what, one.kind, one.bias, one.unit, u, one.why)
    return ClassCorrection(one.name, what, one.kind, 0.0, one.unit, hypot(u, one.bias), one.why)
