"""A stand as lines of plain text and as JSON: a hectare, its species, and what has to be said.

The caution about selling timber stands between the two tables that have volumes.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite
from textwrap import wrap
from typing import Any

from mensura.checks import shown
from mensura.cli.printing import aligned
from mensura.disk.stand_file import StandFile
from mensura.estimates.plot_means import PlotMean
from mensura.estimates.stand import PerHectare, Stand, skew_interval
from mensura.estimates.stand_words import CAUTION, SKEW_FROM

_WIDE = 80
#: What is told of a hectare: field, words, unit, decimals.
_WHAT = (
    ("basal_area_m2", "basal area", "m²", 2),
    ("stems", "stems", "", 0),
    ("volume_m3", "volume", "m³", 1),
)


def stand_answer(found: Stand, volume_by: str, notes: Sequence[str]) -> dict[str, Any]:
    """A stand for JSON.

    found: the stand; volume_by: how the volume was found; notes: what has to be said.
    """
    return {
        "plots": found.plots,
        "trees": found.trees,
        "plot_kind": "angle-count" if found.counted else "fixed-area",
        "estimator": "ratio" if found.by_ratio else "mean",
        "degrees_of_freedom": found.plots - 1,
        "empty_plots": list(found.empty),
        "volume_by": volume_by,
        "per_hectare": _told(found.per_hectare),
        "species": [{"species": name, "per_hectare": _told(one)} for name, one in _species(found)],
        "shares": None,
        "notes": list(notes),
        "caution": CAUTION,
    }


def stand_lines(found: Stand, file: StandFile, volume_by: str, notes: Sequence[str]) -> list[str]:
    """A stand as plain text.

    found: the stand; file: it was read from; volume_by: how the volume was found; notes: what has
    to be said.
    """
    kind = "point" if found.counted else "plot"
    how = "counted through an angle gauge from" if found.counted else "on"
    head = (
        f"{shown(file.trees_name)}: {_counted(found.trees, 'tree')} {how} "
        f"{_counted(found.plots, kind)} of {shown(file.plots_name)}"
    )
    lines = [*wrap(head, _WIDE, subsequent_indent="  "), "", *_table(found), ""]
    lines += wrap(CAUTION, _WIDE)
    lines += wrap(f"Volume by {volume_by}.", _WIDE, subsequent_indent="  ")
    species = _species(found)
    if species:
        lines += ["", "Species, a hectare, ± one standard error"]
        lines += [f"  {line}" for line in aligned(_species_rows(species), right=(1, 2, 3))]
    lines.append("")
    for note in notes:
        lines += wrap(f"- {note}", _WIDE, subsequent_indent="  ")
    return lines


def _table(found: Stand) -> list[str]:
    volume = found.per_hectare.volume_m3
    skew = found.plots > 1 and volume.value > 0 and volume.se / volume.value > SKEW_FROM
    head = ["A hectare has", "", "", "standard error", "", "95 % interval"]
    head += ["skew interval"] if skew else []
    rows = [head]
    for field, words, unit, decimals in _WHAT:
        one: PlotMean = getattr(found.per_hectare, field)
        row = [f"  {words}", _figure(one.value, decimals), unit]
        row += [_figure(one.se, decimals), _percent(one), _ends(one.interval, decimals)]
        row += [_ends(skew_interval(one), decimals)] if skew else []
        rows.append(row)
    return aligned(rows, right=(1, 3, 4, 5, 6))


def _species_rows(species: Sequence[tuple[str, PerHectare]]) -> list[list[str]]:
    rows = [["", "basal area m²", "stems", "volume m³"]]
    for name, one in species:
        cells = [_with_error(getattr(one, field), decimals) for field, _, _, decimals in _WHAT]
        rows.append([name or "not told", *cells])
    return rows


def _species(found: Stand) -> Sequence[tuple[str, PerHectare]]:
    """Those that there are, none where no species was given."""
    return [] if [name for name, _ in found.by_species] in ([], [""]) else found.by_species


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
