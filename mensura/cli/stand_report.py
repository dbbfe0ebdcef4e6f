"""A stand as lines of plain text and as JSON: a hectare, its species, and what has to be said.

The caution about selling timber stands between the two tables that have volumes.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite
from textwrap import wrap as _parted
from typing import Any

from mensura.checks import shown
from mensura.cli.errors_option import SUPPOSED, Told
from mensura.cli.printing import aligned, look_first
from mensura.disk.stand_file import StandFile
from mensura.estimates.plot_means import PlotMean
from mensura.estimates.remedies import REMEDIES, first_words, what_first
from mensura.estimates.stand import PerHectare, Stand, skew_interval
from mensura.estimates.stand_budget import StandBudget
from mensura.estimates.stand_words import CAUTION, is_skew

_WIDE, _ORIGIN = 80, 30
#: What is told of a hectare: field, words, unit, decimals.
_WHAT = (
    ("basal_area_m2", "basal area", "m²", 2),
    ("stems", "stems", "", 0),
    ("volume_m3", "volume", "m³", 1),
)


def stand_answer(
    found: Stand,
    volume_by: str,
    slips: Sequence[str],
    notes: Sequence[str],
    budget: StandBudget | None,
    told: Told,
    as_read: Stand | None = None,
) -> dict[str, Any]:
    """A stand for JSON.

    found: the stand; volume_by: how the volume was found; slips: what looks like one; notes: what
    else has to be said; budget: of the volume, None where there is none; told: the errors of the
    inputs; as_read: the same before anything was taken off, None where nothing was.
    """
    whole = {} if budget is None else budget.to_dict()
    shares = whole.pop("shares", [])
    gains = [] if budget is None else what_first(budget, told.remedies)
    return {
        "plots": found.plots,
        "trees": found.trees,
        "plot_kind": "angle-count" if found.counted else "fixed-area",
        "estimator": "ratio" if found.by_ratio else "mean",
        "degrees_of_freedom": found.plots - 1,
        "empty_plots": list(found.empty),
        "volume_by": volume_by,
        "per_hectare": _told(found.per_hectare),
        "species": _species_told(found),
        "corrections": [one.to_dict() for one in told.corrections],
        "as_read": None if as_read is None else _read(as_read),
        "shares": shares,
        "budget": whole or None,
        "do_first": [one.to_dict() for one in gains],
        "errors_supposed": told.supposed,
        "saved": None if told.saved is None else str(told.saved),
        "look_first": list(slips),
        "notes": [*slips, *told.said, *notes],
        "caution": CAUTION,
    }


def stand_lines(
    found: Stand,
    file: StandFile,
    volume_by: str,
    slips: Sequence[str],
    notes: Sequence[str],
    budget: StandBudget | None,
    told: Told,
    as_read: Stand | None = None,
) -> list[str]:
    """A stand as plain text.

    found: the stand; file: it was read from; volume_by: how the volume was found; slips: what looks
    like one; notes: what else has to be said; budget: of the volume, None where there is none;
    told: the errors of the inputs; as_read: the same before anything was taken off, None where
    nothing was.
    """
    kind = "point" if found.counted else "plot"
    how = "counted through an angle gauge from" if found.counted else "on"
    head = (
        f"{shown(file.trees_name)}: {_counted(found.trees, 'tree')} {how} "
        f"{_counted(found.plots, kind)} of {shown(file.plots_name)}"
    )
    lines = [*_wrapped(head, _WIDE, subsequent_indent="  "), *look_first(slips), ""]
    for said in told.said:
        lines += _wrapped(said, _WIDE, subsequent_indent="  ")
    lines += [""] if told.said else []
    if as_read is None:
        lines += [*_table(found), ""]
    else:
        lines.append("A hectare as it was read, and without what was found too much or too little:")
        lines += ["", *_table(as_read, "As read"), "", *_table(found, "Corrected"), ""]
    lines += _wrapped(CAUTION, _WIDE)
    lines += _wrapped(f"Volume by {volume_by}.", _WIDE, subsequent_indent="  ")
    species = _species(found)
    if species:
        lines += ["", "Species, a hectare, ± one standard error"]
        lines += [f"  {line}" for line in aligned(_species_rows(species), right=(1, 2, 3))]
    lines += [] if budget is None else ["", *_budget_lines(budget, told)]
    lines.append("")
    for note in notes:
        lines += _wrapped(f"- {note}", _WIDE, subsequent_indent="  ")
    if told.saved is not None:
        path = str(told.saved)
        lines += ["", f"Saved: {path if path.isprintable() else ascii(path)}"]
    return lines


def _read(found: Stand) -> dict[str, Any]:
    return {"per_hectare": _told(found.per_hectare), "species": _species_told(found)}


def _species_told(found: Stand) -> list[dict[str, Any]]:
    return [{"species": name, "per_hectare": _told(one)} for name, one in _species(found)]


def _table(found: Stand, head_words: str = "A hectare has") -> list[str]:
    skew = is_skew(found)
    head = [head_words, "", "", "standard error", "", "95 % interval"]
    head += ["skew interval"] if skew else []
    rows = [head]
    for field, words, unit, decimals in _WHAT:
        one: PlotMean = getattr(found.per_hectare, field)
        row = [f"  {words}", _figure(one.value, decimals), unit]
        row += [_figure(one.se, decimals), _percent(one), _ends(one.interval, decimals)]
        row += [_ends(skew_interval(one), decimals)] if skew else []
        rows.append(row)
    return aligned(rows, right=(1, 3, 4, 5, 6))


#: Whether more trees or plots make an error smaller, in words.
_SCOPES = {
    "tree": "new for each tree",
    "plot": "new for each plot",
    "all": "the same for all",
}


def _budget_lines(budget: StandBudget, told: Told) -> list[str]:
    """What the volume's variance is made of, and what to do better first."""
    low, high = _figure(max(budget.interval[0], 0.0), 1), _figure(budget.interval[1], 1)
    opening = (
        f"With the errors of the readings the volume is {_figure(budget.value, 1)} m³, standard "
        f"uncertainty {_figure(budget.u, 1)} m³ ({budget.u_percent:.1f} %)"
    )
    if budget.plots > 1 and all(map(isfinite, budget.interval)):
        opening += f", 95 % interval {low} to {high} m³"
    lines = _wrapped(f"{opening}.", _WIDE)
    drawn = budget.drawn_u is not None
    rows = [["Its variance comes from", "", "input's own", "share", *(["drawn"] if drawn else [])]]
    for one in budget.shares:
        own = "" if one.error is None else f"{one.error.u:.3g} {one.error.unit}"
        row = [f"  {one.name}", _SCOPES[one.scope], own, f"{100 * one.share:.1f} %"]
        if drawn:
            row.append("" if one.drawn_share is None else f"{100 * one.drawn_share:.1f} %")
        rows.append(row)
        if budget.name_of(one) != one.name and one.error is not None:
            # of two that are alike, where each is from
            blank = [""] * (len(row) - 1)
            rows += [[f"    {part}", *blank] for part in _parted(one.error.origin, _ORIGIN)]
    lines += ["", *aligned(rows, right=(2, 3, 4)), ""]
    if budget.value:
        averaging = 100 * budget.averaging_u / budget.value
        common = 100 * budget.common_u / budget.value
        lines += _wrapped(
            f"More plots make smaller what is new for each tree or plot, {averaging:.1f} % now; "
            f"the same for all stays, {common:.1f} %, however many are measured.", _WIDE,
        )  # fmt: skip
        lines += _wrapped(first_words(what_first(budget, told.remedies)), _WIDE)
    supposed = [SUPPOSED] if told.supposed else []
    ours = told.remedies == REMEDIES
    hours = [
        "The hours and effects of remedies are invented; the file of --errors has them."
    ] * ours
    for note in (*budget.notes, *supposed, *hours):
        lines += _wrapped(note, _WIDE)
    return lines


def _species_rows(species: Sequence[tuple[str, PerHectare]]) -> list[list[str]]:
    rows = [["", "basal area m²", "stems", "volume m³"]]
    for name, one in species:
        cells = [_with_error(getattr(one, field), decimals) for field, _, _, decimals in _WHAT]
        rows.append([name or "not told", *cells])
    return rows


def _species(found: Stand) -> Sequence[tuple[str, PerHectare]]:
    """Those that there are, none where no species was given."""
    return [] if [name for name, _ in found.by_species] in ([], [""]) else found.by_species


def _wrapped(text: str, wide: int = _WIDE, subsequent_indent: str = "") -> list[str]:
    """Lines of a sentence, none of which parts a figure from its %."""
    parted = _parted(text.replace(" %", "\u00a0%"), wide, subsequent_indent=subsequent_indent)
    return [line.replace("\u00a0", " ") for line in parted]


def _told(one: PerHectare) -> dict[str, Any]:
    return {
        field: {
            "value": getattr(one, field).value,
            "se": _or_none(getattr(one, field).se),
            "interval": _ends_or_none(getattr(one, field).interval),
            "skew_interval": _ends_or_none(skew_interval(getattr(one, field))),
        }
        for field, *_ in _WHAT
    }


def _or_none(value: float) -> float | None:
    return value if isfinite(value) else None


def _ends_or_none(ends: tuple[float, float]) -> list[float] | None:
    return list(ends) if all(map(isfinite, ends)) else None


def _figure(value: float, decimals: int) -> str:
    return f"{value:,.{decimals}f}" if isfinite(value) else "none"


def _percent(one: PlotMean) -> str:
    return f"{100 * one.se / one.value:.1f} %" if isfinite(one.se) and one.value > 0 else ""


def _ends(ends: tuple[float, float], decimals: int) -> str:
    if not all(map(isfinite, ends)):
        return "none"
    # nothing can be less than nothing; JSON has Student's own figure
    return f"{_figure(max(ends[0], 0.0), decimals)} to {_figure(ends[1], decimals)}"


def _with_error(one: PlotMean, decimals: int) -> str:
    told = _figure(one.value, decimals)
    return f"{told} ± {_figure(one.se, decimals)}" if isfinite(one.se) else told


def _counted(count: int, noun: str) -> str:
    return f"{count:,} {noun}{'' if count == 1 else 's'}"
