"""Calibration, budget and coverage: how good a tape is, and what a reading by it is worth.

Tapes and stems are invented (Quillmere Practice Wood). Here stands the class check, where what goes
wrong most is to forget that the found error is itself unsure; lines, budgets and intervals stand in
`parts/`.
"""

from __future__ import annotations

from itertools import combinations
from math import ceil, floor
from typing import Any

from mensura.estimates.uncertainty import expanded_uncertainty
from mensura.instruments.permissible import permissible_error_mm
from mensura.teaching.problems.family import Family, Quantity, Slip
from mensura.teaching.problems.parts.budgets import BUDGETS
from mensura.teaching.problems.parts.line import LINE
from mensura.teaching.problems.parts.widths import WIDTHS

#: A mark is clear of its limit, or not decided, by this at least, mm.
_CLEAR_MM = 0.02


def _allowed_mm(q: Any) -> float:
    return float(permissible_error_mm("III", q.mark_m, end_surface=True))


def _expanded_mm(q: Any) -> float:
    return float(expanded_uncertainty(q.u_error_mm, 2))


def _of_marks(q: Any, name: str, unit: str = "mm") -> list[float]:
    return [float(getattr(q, f"{name}_{k}_{unit}")) for k in range(1, 5)]


def _limits_mm(q: Any) -> list[float]:
    return [float(permissible_error_mm("II", length)) for length in _of_marks(q, "mark", "m")]


def _unrounded_mm(q: Any) -> list[float]:
    return [0.3 + 0.2 * length for length in _of_marks(q, "mark", "m")]


def _gaps_mm(q: Any, limits: list[float], sign: bool = False) -> list[float]:
    """How far each error is from its limit, either way; sign: the error's sign left on."""
    errors = _of_marks(q, "error")
    pairs = zip(errors if sign else map(abs, errors), limits, strict=True)
    return [abs(error - limit) for error, limit in pairs]


def _least(numbers: list[float]) -> int:
    """Number of the mark, from 1, with the least."""
    return 1 + min(range(4), key=lambda k: numbers[k])


def _doubtful(q: Any, gaps: list[float], share: float = 1.0) -> int:
    """The mark whose gap is least beside its expanded uncertainty, or a share of that."""
    pairs = zip(gaps, _of_marks(q, "expanded"), strict=True)
    return _least([gap - share * reach for gap, reach in pairs])


def _one_is_open(q: Any) -> bool:
    """Exactly one mark cannot be decided, and each is so or not by a clear distance."""
    reaches = _of_marks(q, "expanded")
    over = [gap - reach for gap, reach in zip(_gaps_mm(q, _limits_mm(q)), reaches, strict=True)]
    lengths = _of_marks(q, "mark", "m")
    fair = all(0.1 <= length % 1 <= 0.9 for length in lengths)
    unlike = all(abs(one - other) > 0.25 for one, other in combinations(lengths, 2))
    return (
        fair
        and unlike
        and sum(one < 0 for one in over) == 1
        and all(abs(one) >= _CLEAR_MM for one in over)
    )


def _open(q: Any) -> int:
    return _doubtful(q, _gaps_mm(q, _limits_mm(q)))


def _at_open(q: Any, numbers: list[float]) -> float:
    return numbers[_open(q) - 1]


FAMILIES = [
    *LINE,
    Family(
        key="surely-within-its-class",
        topic="how-sure",
        title="Up to which error is a mark surely within its class?",
        text="By its class a new tape may err, at 20 °C and its stated pull, by a + b mm for each "
        "metre, the length rounded up to whole metres, and by c mm more if it starts at the end of "
        "the band itself. a, b and c are 0.1, 0.1, 0.1 in class I; 0.3, 0.2, 0.2 in class II; 0.6, "
        "0.4, 0.3 in class III. Cloth tape T4, of class III, starts at its end. Beside a reference "
        "at {mark_m} m its error is found with a standard uncertainty of {u_error_mm} mm. Up to "
        "which error, either way, is that mark surely within, the expanded uncertainty for k = 2 "
        "allowed for? Answer in mm.",
        given=[
            Quantity("mark_m", 0.55, 2.85, 0.05, exact=True),
            Quantity("u_error_mm", 0.1, 0.3, 0.01, exact=True),
        ],
        unit="mm",
        answer=lambda q: _allowed_mm(q) - _expanded_mm(q),
        fits=lambda q: 0.1 <= q.mark_m % 1 <= 0.9,
        steps={
            "metres": lambda q: ceil(q.mark_m),
            "allowed_mm": _allowed_mm,
            "reach_mm": _expanded_mm,
        },
        hints=[
            "How much may the tape err at this mark? And if the found error is just as large, is "
            "it then sure that the true one is not larger?",
            "Allowed are a + b·L + c, with L rounded up. The true error may lie 2·u beyond the "
            "found one, so the found one must stay that far below.",
            "Round {mark_m} up to a whole number L, work out 0.6 + 0.4·L + 0.3, and take "
            "2·{u_error_mm} off.",
        ],
        solution="{mark_m} m count as {metres} m: 0.6 + 0.4·{metres} + 0.3 = {allowed_mm} mm are "
        "allowed. The found error is sure to 2·{u_error_mm} = {reach_mm} mm only, so up to "
        "{allowed_mm} − {reach_mm} = {answer} mm the mark is surely within. Between there and "
        "{reach_mm} mm beyond the limit it cannot be decided with this reading.",
        slips=[
            Slip("not-rounded-up", lambda q: 0.9 + 0.4 * q.mark_m - _expanded_mm(q),
                 "The length counts in whole metres, rounded up."),
            Slip("rounded-down", lambda q: 0.9 + 0.4 * floor(q.mark_m) - _expanded_mm(q),
                 "You rounded the length down. It is rounded up to whole metres."),
            Slip("end-forgotten", lambda q: _allowed_mm(q) - 0.3 - _expanded_mm(q),
                 "This tape starts at its end: c comes on top of a + b·L."),
            Slip("class-two", lambda q: 0.5 + 0.2 * ceil(q.mark_m) - _expanded_mm(q),
                 "Those are the numbers of class II. The tape is of class III."),
            Slip("doubt-forgotten", _allowed_mm,
                 "That is all that is allowed. The found error is unsure: stay clear of the limit "
                 "by the expanded uncertainty."),
            Slip("k-forgotten", lambda q: _allowed_mm(q) - q.u_error_mm,
                 "You took the standard uncertainty off. The expanded one is k = 2 times as "
                 "large."),
            Slip("doubt-added", lambda q: _allowed_mm(q) + _expanded_mm(q),
                 "You added the uncertainty. Beyond that the mark is surely not within; asked is "
                 "up to where it surely is."),
        ],
        picture="band",
        source="[UKSI2016] for the classes, [TaylorKuyatt1994] for k = 2",
    ),
    Family(
        key="not-to-be-decided",
        topic="how-sure",
        title="For which mark can it not be decided?",
        text="Steel tape T1, of class II, may err by 0.3 mm and 0.2 mm for each metre, the length "
        "rounded up to whole metres. Four marks were held against a reference. Length, error found "
        "and its expanded uncertainty: (1) {mark_1_m} m, {error_1_mm} and {expanded_1_mm} mm; (2) "
        "{mark_2_m} m, {error_2_mm} and {expanded_2_mm} mm; (3) {mark_3_m} m, {error_3_mm} and "
        "{expanded_3_mm} mm; (4) {mark_4_m} m, {error_4_mm} and {expanded_4_mm} mm. Three of them "
        "are surely within or surely not. For which can it not be decided?",
        given=[
            quantity
            for k in range(1, 5)
            for quantity in (
                Quantity(f"mark_{k}_m", 0.6, 4.8, 0.1, exact=True),
                Quantity(f"error_{k}_mm", -2.0, 2.0, 0.05, exact=True),
                Quantity(f"expanded_{k}_mm", 0.1, 0.5, 0.05, exact=True),
            )
        ],
        unit="",
        answer=_open,
        fits=_one_is_open,
        steps={
            "limit_mm": lambda q: _at_open(q, _limits_mm(q)),
            "from_mm": lambda q: abs(_at_open(q, _of_marks(q, "error")))
            - _at_open(q, _of_marks(q, "expanded")),
            "to_mm": lambda q: abs(_at_open(q, _of_marks(q, "error")))
            + _at_open(q, _of_marks(q, "expanded")),
        },
        hints=[
            "How much may the tape err at each mark? And between which two numbers does the true "
            "error lie?",
            "The true error lies within U of the found one. If all of that is inside the limit, or "
            "all outside, it is decided. Leave the errors' signs off.",
            "At (1) hold 0.3 + 0.2·L, with {mark_1_m} rounded up to L, against {error_1_mm}, sign "
            "left off, less and more {expanded_1_mm}; then at the other three.",
        ],
        solution="At mark {answer} the tape may err by {limit_mm} mm, and the error's size lies "
        "between {from_mm} and {to_mm} mm: the limit is inside, so it cannot be decided with this "
        "reading. Read again, with a surer reference. A class check for teaching, no legal "
        "verification.",
        slips=[
            Slip("nearest-to-the-limit", lambda q: _least(_gaps_mm(q, _limits_mm(q))),
                 "Its error lies nearest to the limit, but is known well enough to decide. Hold "
                 "the distance against the expanded uncertainty.", since=2, apart_since=2),
            Slip("most-unsure", lambda q: _least([-one for one in _of_marks(q, "expanded")]),
                 "Its error is the most unsure, but lies so far from the limit that it is decided.",
                 since=2, apart_since=2),
            Slip("largest-error", lambda q: _least([-abs(x) for x in _of_marks(q, "error")]),
                 "That is the largest error. Whether it can be decided depends on its limit and on "
                 "its uncertainty.", since=2, apart_since=2),
            Slip("not-rounded-up", lambda q: _doubtful(q, _gaps_mm(q, _unrounded_mm(q))),
                 "You took the length as it is. It counts in whole metres, rounded up.",
                 since=2, apart_since=2),
            Slip("sign-left-on",
                 lambda q: _doubtful(q, _gaps_mm(q, _limits_mm(q), sign=True)),
                 "Too little is off as well: leave the errors' signs off.",
                 since=2, apart_since=2),
        ],
        exact=True,
        picture="numbers",
        source="[UKSI2016] for the class",
    ),
    *BUDGETS,
    *WIDTHS,
]  # fmt: skip
