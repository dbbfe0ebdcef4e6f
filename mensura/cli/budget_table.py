"""A girth's budget as lines of plain text: its inputs, what each brings, and the two ways."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from math import isinf, isnan, sqrt
from types import MappingProxyType
from typing import Any

from mensura.cli.printing import aligned
from mensura.estimates.budget import FigureBudget
from mensura.estimates.distributions import InputQuantity
from mensura.estimates.sure_rows import FIGURE_WORDS
from mensura.instruments.tape_card import Card
from mensura.written import digits_of, minus, rounded, signed

#: How each input is called in a table.
NAMES = {
    "resolution": "reading's step",
    "rounding": "step, what averages",
    "tilt": "tilt",
    "hand": "hand",
    "card": "tape's card",
    "reference": "card's reference",
    "temperature": "temperature",
    "thickness": "band's thickness",
    "bark": "bark",
}

#: The part of a step that averages.
AVERAGED = "rounding"
#: Whether the two ways agree, in a word.
AGREE = {True: "yes", False: "no", None: "too close"}

#: How independent inputs come together.
_SQUARES = ["The inputs know nothing of each other: u is the root of the sum of their squares."]


def taken_for(one: InputQuantity) -> str:
    """What an input is taken for, in words with its bounds.

    one: the input.

    >>> taken_for(InputQuantity("tilt", "deg", 0.0, 6 / 12**0.5, "tilt"))
    'from 0 to 6 deg, each alike'
    """
    u = one.standard_uncertainty
    unit = f" {one.unit}"
    if one.distribution == "tilt":
        end = one.estimate + u * sqrt(12)
        return f"from {one.estimate:.4g} to {end:.4g}{unit}, each alike"
    if one.distribution == "rectangular":
        return f"±{u * sqrt(3):.4g}{unit}, each alike"
    if one.distribution == "student":
        free = _freedom(one.degrees_of_freedom)
        return f"Student, {free} degree{'s' * (free != '1')} of freedom"
    return "normal"


def budget_lines(
    girth_cm: float,
    figures: Mapping[str, FigureBudget],
    card: Card | None = None,
    correlations: Mapping[tuple[str, str], float] = MappingProxyType({}),
    readings: int = 1,
) -> list[str]:
    """A budget as plain tables, and what has to be said with it.

    girth_cm: as it was read; figures: of it, by name; card: of the tape, or None; correlations: of
    two inputs, by their names; readings: how many were averaged.

    >>> from mensura.estimates.budget import girth_budget
    >>> budget_lines(126.3, girth_budget(126.3, resolution_cm=1, draws=1000))[0][:27]
    'Girth read 126.3 cm: 126.30'
    """
    first = next(iter(figures.values()))
    drawn = first.drawn
    digits = digits_of(first.gum.u)
    low, high = (f"{end:.{digits}f}" for end in drawn.interval)
    read = "Girth read" if readings == 1 else f"Girth, mean of {readings} readings,"
    lines = [
        f"{read} {girth_cm:g} cm: {drawn.value:.{digits}f} cm, 95 % from {low} to {high} cm.",
        "",
        *aligned(_input_rows(first), right=(1, 2)),
        "",
        *aligned(_figure_rows(figures), right=(1, 2, 3)),
        "",
    ]
    names = [line.input.name for line in first.lines]
    joined = [
        f"Correlation of {_called(one, names)} and {_called(other, names)}: {minus(f'{value:g}')}."
        for (one, other), value in correlations.items()
    ]
    return lines + (joined or _SQUARES) + _remarks(girth_cm, figures, card, readings)


def _called(name: str, among: Iterable[str]) -> str:
    """How an input is called in a budget: of a step in two parts each says which it is."""
    if name == "resolution" and AVERAGED in among:
        return "step, what stays"
    return NAMES.get(name, name)


def _input_rows(first: FigureBudget) -> list[list[str]]:
    names = [line.input.name for line in first.lines]
    rows = [["Input", "estimate", "u", "taken for"]]
    for line in first.lines:
        one = line.input
        rows.append(
            [
                _called(one.name, names),
                f"{_short(one.estimate)} {one.unit}",
                f"{_short(one.standard_uncertainty)} {one.unit}",
                taken_for(one),
            ]
        )
    return rows


def _figure_rows(figures: Mapping[str, FigureBudget]) -> list[list[str]]:
    """Both ways in one table: a column for each figure."""
    each = list(figures.values())
    first = each[0]

    def row(name: str, text: Callable[[FigureBudget], str]) -> list[str]:
        return [name, *(text(one) for one in each)]

    def value(name: str, of: Callable[[FigureBudget], float], more: int = 0) -> list[str]:
        return row(name, lambda one: minus(f"{of(one):.{digits_of(one.gum.u) + more}f}"))

    def line_of(one: FigureBudget, name: str) -> Any:
        return next(line for line in one.lines if line.input.name == name)

    names = [line.input.name for line in first.lines]
    rows = [
        ["", *(FIGURE_WORDS[one.figure] for one in each)],
        value("as read", lambda one: one.as_read),
    ]
    rows.append(["Sensitivity: figure for each unit of the input", "", "", ""])
    for name in names:
        rows.append(
            row(
                f"  {_called(name, names)}, for 1 {line_of(first, name).input.unit}",
                lambda one, name=name: minus(_short(line_of(one, name).sensitivity)),  # type: ignore[misc]
            )
        )
    rows.append(["Contribution: what the input brings to u", "", "", ""])
    for name in names:
        rows.append(
            value(
                f"  {_called(name, names)}",
                lambda one, name=name: line_of(one, name).contribution,  # type: ignore[misc]
                1,
            )
        )
    shifts = [name for name in names if line_of(first, name).shift]
    for name in shifts:
        rows.append(
            row(
                f"  {_called(name, names)} adds on average, taken off",
                lambda one, name=name: signed(line_of(one, name).shift, digits_of(one.gum.u) + 1),  # type: ignore[misc]
            )
        )
    rows += [
        ["Law of propagation (GUM)", "", "", ""],
        value("  value", lambda one: one.gum.value),
        value("  u, all together", lambda one: one.gum.u, 1),
        row("  effective degrees of freedom", lambda one: _freedom(one.gum.degrees_of_freedom)),
        row("  k for 95 %", lambda one: f"{one.gum.k:.2f}"),
        value("  expanded, k·u", lambda one: one.gum.expanded, 1),
        value("  95 % from", lambda one: one.gum.value - one.gum.expanded, 1),
        value("  to", lambda one: one.gum.value + one.gum.expanded, 1),
        [f"{first.drawn.draws:,} draws, seed {first.drawn.seed} (JCGM 101)", "", "", ""],
        value("  value: mean of the draws", lambda one: one.drawn.value),
        row("  mean's shift from as read", lambda one: signed(one.shift, digits_of(one.gum.u) + 1)),
        row("  u: standard deviation", lambda one: _or_none(one.drawn.u, digits_of(one.gum.u) + 1)),
        value("  95 % from", lambda one: one.drawn.interval[0], 1),
        value("  to", lambda one: one.drawn.interval[1], 1),
        row("The two agree", lambda one: AGREE[one.agree]),
        row("  within, at both ends", lambda one: f"{one.tolerance:g}"),
    ]
    return rows


def _remarks(
    girth_cm: float, figures: Mapping[str, FigureBudget], card: Card | None, readings: int
) -> list[str]:
    first = next(iter(figures.values()))
    lines = []
    names = {line.input.name for line in first.lines}
    if "tilt" in names:
        lines += [
            "A tilt only adds. Its sensitivity is nought where the tape is level; so the mean of",
            "what it does is taken off, and its standard deviation stands as its contribution.",
        ]
    if readings > 1:
        lines += _averaged(names, readings)
    if isnan(first.drawn.u):
        lines += [
            "An input has 2 degrees of freedom or fewer: its draws have no standard deviation, and",
            "the value is that of the law of propagation. Check the tape at more marks.",
        ]
    elif any(one.agree is False for one in figures.values()):
        lines += [
            "Where the two do not agree, take the draws: the law of propagation takes the sum for",
            "a normal or Student curve, and the model for straight.",
        ]
    lines += _verdicts(list(figures.values()))
    if card is not None and card.drawn_on(girth_cm):
        lines.append("The reading lies outside the card's marks: its line is only drawn on there.")
    under = ", figures under bark" if "bark" in names else ""
    lines.append(f"Assumed: a round stem, no other tilt, slack or bark lifted by the tape{under}.")
    return lines


def _averaged(names: set[str], readings: int) -> list[str]:
    """What the mean of some readings makes smaller, and what stays."""
    lines = []
    if AVERAGED in names:
        lines += [
            "A hand that spreads lands on different marks: each reading is rounded in its own way,",
            "and that averages, but for the part that all of them share. Of both parts the size is",
            "exact, the shape an approximation.",
        ]
    elif "resolution" in names:
        lines.append(
            "A hand that never moves rounds each reading alike: the step does not average."
        )
    same = [NAMES[name] for name in ("tilt", "card", "reference", "temperature") if name in names]
    if same:
        lines.append(
            f"Assumed the same in all {readings} readings, so not averaged: {', '.join(same)}."
        )
    return lines


def _verdicts(each: Sequence[FigureBudget]) -> list[str]:
    """Why a word on agreement is missing, or is not the same for all figures."""
    lines = []
    close = [one for one in each if one.agree is None]
    if close:
        lines += [
            f"Too close to tell with {close[0].drawn.draws:,} draws: an end of 95 % may lie inside",
            "or outside of what is allowed. More draws tell: --draws.",
        ]
    if len({one.agree for one in each}) > 1:
        shares = ", ".join(
            f"{100 * one.tolerance / one.gum.u:.1f} % of a u of {one.gum.u:.2g}" for one in each
        )
        lines += [
            "One figure may agree and another not: half a unit of the second figure of u is not",
            f"equally coarse: {shares}.",
        ]
    return lines


def _short(value: float) -> str:
    # a slope is known to ten figures: 0.99999999999 is 1
    value = float(f"{value:.10g}")
    return rounded(value, 4) if abs(value) < 1000 else f"{value:.1f}"


def _or_none(value: float, digits: int) -> str:
    return "none" if isnan(value) else f"{value:.{digits}f}"


def _freedom(free: float) -> str:
    return "very many" if isinf(free) or free > 1000 else f"{free:.4g}"
