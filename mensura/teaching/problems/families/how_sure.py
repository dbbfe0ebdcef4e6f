"""Calibration, budget and coverage: how good a tape is, and what a reading by it is worth.

Tapes and stems are invented (Quillmere Practice Wood). Here stands the class check, where what goes
wrong most is to forget that the found error is itself unsure; lines, budgets and intervals stand in
`parts/`.
"""

from __future__ import annotations

from math import ceil, floor, hypot, sqrt
from typing import Any

from mensura.estimates.uncertainty import expanded_uncertainty, readings_beside_common
from mensura.instruments.permissible import permissible_error_mm
from mensura.teaching.problems.family import Family, Quantity, Slip
from mensura.teaching.problems.parts.budgets import BUDGETS
from mensura.teaching.problems.parts.line import LINE
from mensura.teaching.problems.parts.widths import WIDTHS


def _allowed_mm(q: Any) -> float:
    return float(permissible_error_mm("III", q.mark_m, end_surface=True))


def _expanded_mm(q: Any) -> float:
    return float(expanded_uncertainty(hypot(q.u_mean_mm, q.u_reference_mm), 2))


def _even(number: float) -> bool:
    return abs(number - round(number)) < 1e-6


def _gap_mm(q: Any, limit_mm: float | None = None) -> float:
    """How far the found error is beyond what is allowed; limit_mm: another limit."""
    allowed = permissible_error_mm("II", q.mark_m) if limit_mm is None else limit_mm
    return float(q.error_mm - allowed)


def _decide(q: Any, gap_mm: float, u_reference_mm: float) -> float:
    """The number of readings at which the expanded uncertainty, k = 2, is the gap."""
    wanted = gap_mm / 2
    return readings_beside_common(q.u_one_mm / 10, u_reference_mm / 10, wanted / 10)


def _deciding(q: Any) -> float:
    return _decide(q, _gap_mm(q), q.u_reference_mm)


def _all_divided(q: Any) -> float:
    """The same if the reference's part fell with the readings, which it does not."""
    return float(4 * (q.u_one_mm**2 + q.u_reference_mm**2) / _gap_mm(q) ** 2)


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
        "at {mark_m} m the mean of its readings has a standard uncertainty of {u_mean_mm} mm, the "
        "reference one of {u_reference_mm} mm. Up to which error, in mm either way, is that mark "
        "surely within, its expanded uncertainty for k = 2 allowed for?",
        given=[
            Quantity("mark_m", 0.55, 2.85, 0.05, exact=True),
            Quantity("u_mean_mm", 0.1, 0.25, 0.01, exact=True),
            Quantity("u_reference_mm", 0.08, 0.15, 0.01, exact=True),
        ],
        unit="mm",
        answer=lambda q: _allowed_mm(q) - _expanded_mm(q),
        # nor where the root comes out even, so that a figure cut off is none
        fits=lambda q: 0.1 <= q.mark_m % 1 <= 0.9 and not _even(50 * _expanded_mm(q)),
        steps={
            "allowed_mm": _allowed_mm,
            "reach_mm": _expanded_mm,
        },
        hints=[
            "How much may the tape err at this mark? And if the found error is just as large, is "
            "it then sure that the true one is not larger?",
            "Allowed are a + b·L + c, with L rounded up. The true error may lie 2·u beyond the "
            "found one, u from both parts, so the found one must stay that far below.",
            "Round {mark_m} up to a whole number L, work out 0.6 + 0.4·L + 0.3, and take "
            "2·√({u_mean_mm}² + {u_reference_mm}²) off.",
        ],
        solution="0.6 + 0.3 mm, and 0.4 mm for each metre of {mark_m}, rounded up, make "
        "{allowed_mm} mm that are allowed. The found error is sure to 2·√({u_mean_mm}² + "
        "{u_reference_mm}²) = {reach_mm} mm only, so up to {allowed_mm} − {reach_mm} = "
        "{answer} mm the mark is surely within. Between there and {reach_mm} mm beyond the limit "
        "it cannot be decided with this reading. A class check for teaching, not legal "
        "verification.",
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
            Slip("k-forgotten", lambda q: _allowed_mm(q) - _expanded_mm(q) / 2,
                 "You took the standard uncertainty off. The expanded one is k = 2 times as "
                 "large."),
            Slip("reference-forgotten", lambda q: _allowed_mm(q) - 2 * q.u_mean_mm,
                 "The reference is unsure as well. Its square belongs to that of the readings."),
            Slip("doubt-added", lambda q: _allowed_mm(q) + _expanded_mm(q),
                 "You added the uncertainty. Beyond that the mark is surely not within; asked is "
                 "up to where it surely is."),
        ],
        picture="band",
        source="[UKSI2016] for the classes, [TaylorKuyatt1994] for k = 2",
    ),
    Family(
        key="readings-that-decide",
        topic="how-sure",
        title="How many readings decide about a mark?",
        text="Steel tape T1, of class II, may err by 0.3 mm and 0.2 mm for each metre, the length "
        "rounded up to whole metres. At its mark of {mark_m} m the first readings beside a "
        "reference find an error of {error_mm} mm: more than that, but it cannot be decided yet. "
        "One reading has a standard uncertainty of {u_one_mm} mm, new each time; the reference has "
        "one of {u_reference_mm} mm. If the mean error stays where it is, of how many readings at "
        "the least must it be the mean, so that its expanded uncertainty, k = 2, leaves no doubt?",
        given=[
            Quantity("mark_m", 1.05, 1.9, 0.05, exact=True),
            Quantity("error_mm", 0.92, 1.1, 0.01, exact=True),
            Quantity("u_one_mm", 0.45, 0.75, 0.01, exact=True),
            Quantity("u_reference_mm", 0.06, 0.09, 0.01, exact=True),
        ],
        unit="",
        answer=lambda q: floor(_deciding(q)) + 1,
        fits=lambda q: 5 <= _deciding(q) <= 90
        and 0.02 < _deciding(q) % 1 < 0.49
        and ceil(_deciding(q)) not in (ceil(_all_divided(q)), ceil(sqrt(_deciding(q))) ** 2),
        steps={
            "allowed_mm": lambda q: permissible_error_mm("II", q.mark_m),
            "gap_mm": _gap_mm,
            "half_mm": lambda q: _gap_mm(q) / 2,
            "needed": _deciding,
        },
        hints=[
            "How much may the tape err at this mark, and how far beyond that is the found error? "
            "So far the expanded uncertainty may reach.",
            "Half of that gap is what the standard uncertainty may be, all in. The reference keeps "
            "its part of it; the readings' part falls as √n.",
            "Round {mark_m} up to a whole number L, take 0.3 + 0.2·L from {error_mm}, halve it, "
            "and work out {u_one_mm}² over (that half, squared, less {u_reference_mm}²).",
        ],
        solution="Allowed are {allowed_mm} mm; the found error is {gap_mm} mm beyond. The standard "
        "uncertainty may be half of that, {half_mm} mm. {u_one_mm}²/({half_mm}² − "
        "{u_reference_mm}²) = {needed}, so {answer} readings leave no doubt that the mark is not "
        "within. A class check for teaching, not legal verification.",
        slips=[
            Slip("k-forgotten", lambda q: ceil(_decide(q, 2 * _gap_mm(q), q.u_reference_mm)),
                 "You let the standard uncertainty fill the gap. The expanded one, k = 2 times as "
                 "large, must fit into it."),
            Slip("reference-forgotten", lambda q: ceil(_decide(q, _gap_mm(q), 0.0)),
                 "You left the reference out. Its part is the same in all readings and stays."),
            Slip("not-rounded-up",
                 lambda q: ceil(_decide(q, _gap_mm(q, 0.3 + 0.2 * q.mark_m), q.u_reference_mm)),
                 "The length counts in whole metres, rounded up."),
            Slip("rounded-down", lambda q: floor(_deciding(q)),
                 "With that many a little doubt is left. Go up to the next whole number."),
        ],
        exact=True,
        picture="numbers",
        source="[UKSI2016] for the class, [GUM1995] for the mean, [TaylorKuyatt1994] for k = 2",
    ),
    *BUDGETS,
    *WIDTHS,
]  # fmt: skip
