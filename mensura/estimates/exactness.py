"""Which rule for logs is exact for which form, and why: it is enough to try a few powers.

A rule weighs areas and adds, so what is right for two areas is right for their sum. A log of length
1 from −½ to ½ whose area is 1, x, x² or x³ therefore decides for every area that is a sum of them:
cylinder, paraboloid, cone and neiloid among them. All of it is worked out in fractions.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, MeasureError, number, whole
from mensura.estimates.logs import log_length
from mensura.estimates.solids import LOG_RULES, SOLIDS

#: Where a rule takes the area, on a log from −½ to ½, and how much of the length it stands for.
PLACES: MappingProxyType[str, tuple[tuple[Fraction, Fraction], ...]] = MappingProxyType(
    {
        "huber": ((Fraction(0), Fraction(1)),),
        "smalian": ((Fraction(-1, 2), Fraction(1, 2)), (Fraction(1, 2), Fraction(1, 2))),
        "newton": (
            (Fraction(-1, 2), Fraction(1, 6)),
            (Fraction(0), Fraction(2, 3)),
            (Fraction(1, 2), Fraction(1, 6)),
        ),
    }
)

#: Highest power that is tried; none of the rules is exact so far.
_TRIED = 6


@dataclass(frozen=True)
class ProofLine:
    """One line of a short proof.

    says: the line as it is read; why: it holds; left, right: its two sides in fractions where it is
    an equation between numbers, else None.
    """

    says: str
    why: str
    left: Fraction | None = None
    right: Fraction | None = None


@dataclass(frozen=True)
class Exactness:
    """What a rule is exact for.

    rule: one of LOG_RULES; degree: of the area along the log up to which it is; exact_for: names of
    SOLIDS; whole_solid_percent: its error on each whole solid, exact; error_term: of any other area
    that bends smoothly, in words; proof: that it is exact so far and no further.
    """

    rule: str
    degree: int
    exact_for: tuple[str, ...]
    whole_solid_percent: MappingProxyType[str, Fraction]
    error_term: str
    proof: tuple[ProofLine, ...]


def power_by_rule(rule: str, power: int) -> Fraction:
    """What a rule makes of a log from −½ to ½ whose area at x is xᵖ.

    rule: one of LOG_RULES; power: p, from 0 to 50. Exact. Raises MeasureError.

    >>> [str(power_by_rule("smalian", p)) for p in range(5)]
    ['1', '0', '1/4', '0', '1/16']
    """
    if rule not in PLACES:
        raise MeasureError("rule", rule, "", "one of " + ", ".join(LOG_RULES))
    p = whole(power, "power", at_least=0, at_most=50)
    return sum((weight * place**p for place, weight in PLACES[rule]), Fraction(0))


def power_true(power: int) -> Fraction:
    """The true volume of a log from −½ to ½ whose area at x is xᵖ: 1/((p + 1)·2ᵖ), 0 for odd p.

    power: p, from 0 to 50. The integral, exact. Raises MeasureError.

    >>> [str(power_true(p)) for p in range(5)]
    ['1', '0', '1/12', '0', '1/80']
    """
    p = whole(power, "power", at_least=0, at_most=50)
    return Fraction(0) if p % 2 else Fraction(1, (p + 1) * 2**p)


def exact_degree(rule: str) -> int:
    """The degree of the area along the log up to which a rule is exact: 1, 1 and 3.

    rule: one of LOG_RULES. Found by trying the powers one after the other. Raises MeasureError.

    >>> [exact_degree(rule) for rule in LOG_RULES]
    [1, 1, 3]
    """
    return next(p for p in range(_TRIED) if power_by_rule(rule, p) != power_true(p)) - 1


def whole_solid_percent(rule: str, solid: str) -> Fraction:
    """A rule's error on a whole solid from base to tip, in per cent, exact.

    rule: one of LOG_RULES; solid: a name of SOLIDS. Huber takes the area 1/2ᵖ at half the height,
    the solid holds 1/(p + 1): 0, 0, −25 and −50 %; Smalian 0, 0, +50 and +100 %. Closed form.
    Raises MeasureError.

    >>> [str(whole_solid_percent("smalian", solid)) for solid in SOLIDS]
    ['0', '0', '50', '100']
    """
    if rule not in PLACES:
        raise MeasureError("rule", rule, "", "one of " + ", ".join(LOG_RULES))
    if solid not in SOLIDS:
        raise MeasureError("solid", solid, "", "one of " + ", ".join(SOLIDS))
    p = int(SOLIDS[solid])
    half = Fraction(1, 2)
    said = sum((weight * (half - place) ** p for place, weight in PLACES[rule]), Fraction(0))
    return 100 * (said * (p + 1) - 1)


#: How the area bends between the ends decides the rest (textbook remainders, from memory).
_TERMS = MappingProxyType(
    {
        "huber": "−L³/24 times the area's second derivative at some place in the log",
        "smalian": "+L³/12 times the area's second derivative at some place in the log",
        "newton": "+L⁵/2880 times the area's fourth derivative at some place in the log",
    }
)
_NAMES = MappingProxyType({"huber": "Huber", "smalian": "Smalian", "newton": "Newton"})
_RAISED = ("1", "x", "x²", "x³", "x⁴")
_DEGREES = ("", "first", "second", "third", "fourth")


def exactness(rule: str) -> Exactness:
    """What a rule is exact for, with a short proof.

    rule: one of LOG_RULES. Raises MeasureError.

    >>> exactness("huber").exact_for, exactness("newton").exact_for[-1]
    (('cylinder', 'paraboloid'), 'neiloid')
    >>> print(exactness("huber").proof[3].says)
    x²: Huber 0, truly 1/12
    """
    degree = exact_degree(rule)
    lines = [
        ProofLine(
            "A sum of areas has the sum of their volumes, truly and by the rule.",
            "volume and rule both weigh areas and add",
        )
    ]
    for p in range(degree + 2):
        said, true = power_by_rule(rule, p), power_true(p)
        why = "equal" if said == true else "not equal: here the rule ends"
        words = f"{_RAISED[p]}: {_NAMES[rule]} {said}, truly {true}"
        lines.append(ProofLine(words, why, said, true))
    lines.append(
        ProofLine(
            f"So {_NAMES[rule]} is exact where the area is of the {_DEGREES[degree]} degree or "
            f"lower along the log, and not for every one of the {_DEGREES[degree + 1]}.",
            "each such area is a sum of those powers, on a log of any length and place",
        )
    )
    good = tuple(name for name, p in SOLIDS.items() if p <= degree)
    lines.append(
        ProofLine(
            f"Exact: {', '.join(good)}.",
            "their areas are of degree 0, 1, 2 and 3 in the distance from the tip",
        )
    )
    errors = MappingProxyType({name: whole_solid_percent(rule, name) for name in SOLIDS})
    return Exactness(rule, degree, good, errors, _TERMS[rule], tuple(lines))


def taper_m3(
    diameter_at: Callable[[FloatArray], ArrayLike], log_length_m: float, pieces: int = 64
) -> float:
    """True volume of a stem of any taper curve, ∫π/4·d²: round, by Gauss's quadrature.

    diameter_at: from heights along the log, an array in m from 0 to its length, to diameters in cm,
    at least 0; log_length_m: above 0, at most 150 m; pieces: it is cut in, from 1 to 10 000. Exact
    to a computer's last figures where the area is a polynomial up to the 15th degree in each piece,
    and near it for a curve that is smooth in each. Raises MeasureError.

    >>> round(taper_m3(lambda h: 40 * (1 - h / 21), 21), 6)
    0.879646
    """
    length = log_length(log_length_m)
    count = whole(pieces, "pieces", at_least=1, at_most=10_000)
    nodes, weights = np.polynomial.legendre.leggauss(8)
    at = ((np.arange(count)[:, None] + (nodes + 1) / 2) * (length / count)).ravel()
    areas = _areas_m2(diameter_at, at)
    return float((areas.reshape(count, -1) @ weights).sum() * length / count / 2)


def taper_over_percent(
    rule: str,
    diameter_at: Callable[[FloatArray], ArrayLike],
    log_length_m: float,
    sections: int = 1,
) -> float:
    """By how much a rule is too large for a stem of any taper curve, cut in equal sections.

    rule: one of LOG_RULES; diameter_at: as for :func:`taper_m3`; log_length_m: above 0, at most
    150 m; sections: from 1 to 10 000, the rule in each. Returns per cent of the true volume, below
    0 for too small. Raises MeasureError.

    >>> cone = lambda h: 40 * (1 - h / 20)
    >>> [round(taper_over_percent("smalian", cone, 20, n), 6) for n in (1, 2, 4)]
    [50.0, 12.5, 3.125]
    """
    if rule not in PLACES:
        raise MeasureError("rule", rule, "", "one of " + ", ".join(LOG_RULES))
    length = log_length(log_length_m)
    count = whole(sections, "sections", at_least=1, at_most=10_000)
    step = length / count
    said = 0.0
    for place, weight in PLACES[rule]:
        at = np.clip((np.arange(count) + 0.5 + float(place)) * step, 0.0, length)
        said += float(weight) * step * float(_areas_m2(diameter_at, at).sum())
    true = taper_m3(diameter_at, length, max(64, count))
    return 100 * (said / true - 1)


def area_curve_m3(coefficients: Sequence[float], log_length_m: float) -> float:
    """True volume of a log whose area is a polynomial of the height, Σ cₖLᵏ⁺¹/(k + 1).

    coefficients: cₖ of the area in m², the constant first, each for a metre to its power;
    log_length_m: above 0, at most 150 m. Returns m³. Closed form. Raises MeasureError.

    >>> round(area_curve_m3([0.12, -0.008], 10), 6)
    0.8
    """
    length = log_length(log_length_m)
    terms = np.atleast_1d(number(list(coefficients), "coefficients", ""))
    return float(sum(c * length ** (k + 1) / (k + 1) for k, c in enumerate(terms.tolist())))


def _areas_m2(diameter_at: Callable[[FloatArray], Any], at_m: FloatArray) -> FloatArray:
    across = number(diameter_at(at_m), "diameter_at", "cm", at_least=0.0)
    return np.asarray(np.pi / 40000 * np.square(np.broadcast_to(across, at_m.shape)))
