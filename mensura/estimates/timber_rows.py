"""Rows of workbook 12: logs by every rule, what a practical takes off, a stand and its budget."""

from __future__ import annotations

from collections.abc import Sequence

from mensura.estimates.comparison_rows import Row
from mensura.estimates.exactness import exactness
from mensura.estimates.input_errors import InputError
from mensura.estimates.log_points import LogPoints, log_volumes
from mensura.estimates.plot_means import PlotMean
from mensura.estimates.solids import LOG_RULES, SOLIDS
from mensura.estimates.stand_budget import StandBudget
from mensura.estimates.timber_chain import TimberChain
from mensura.written import signed

#: For whom an error is new, in words of the page.
_NEW_FOR = {"tree": "each tree", "plot": "each plot", "all": "all trees alike"}


def rule_rows() -> list[Row]:
    """Each rule's error on each whole solid, in per cent, exact.

    >>> rule_rows()[1]["cone, %"], rule_rows()[2]["cone, %"]
    ('+50', '0')
    """
    rows: list[Row] = []
    for rule in LOG_RULES:
        errors = exactness(rule).whole_solid_percent
        row: Row = {"rule": rule.capitalize()}
        for solid in SOLIDS:
            row[f"{solid}, %"] = signed(float(errors[solid]), 0) if errors[solid] else "0"
        rows.append(row)
    return rows


def log_rows(logs: Sequence[LogPoints], errors: Sequence[InputError]) -> list[Row]:
    """Each log's volume by every rule, over bark.

    logs: as read; errors: of the inputs. A rule that needs a section in the middle has None where
    none lies there.

    >>> points = LogPoints("L1", (0, 2.5, 5), (44, 40, 36), False)
    >>> log_rows([points], [])[0]["Huber, m³"]
    '0.628'
    """
    rows: list[Row] = []
    for points in logs:
        found = log_volumes(points, errors).as_read
        row: Row = {"log": points.log, "length, m": f"{points.length_m:.1f}"}
        names = ("huber", "smalian", "newton", "by_sections")
        for name, words in zip(names, ("Huber", "Smalian", "Newton", "by sections"), strict=True):
            one = found[name]
            row[f"{words}, m³"] = None if one is None else f"{one.volume_m3:.3f}"
        told = found["by_sections"]
        assert told is not None
        row["± u, m³"] = f"{told.u_m3:.3f}"
        rows.append(row)
    return rows


def correction_rows(chain: TimberChain) -> list[Row]:
    """What was taken off the stand's readings, and what is left unsure.

    chain: the way from the practical.
    """
    return [
        {
            "who or what": one.name,
            "corrected for": _off_words(one.off, one.unit),
            "left unsure, ±": f"{one.u:.2f} {one.unit}",
            "the practical says": one.why,
        }
        for one in chain.corrections
    ]


def stand_rows(chain: TimberChain) -> list[Row]:
    """The hectare as it was read, and corrected.

    chain: the way from the practical.
    """
    before, after = chain.as_read.per_hectare, chain.corrected.per_hectare
    return [
        _stand_row("basal area, m²", before.basal_area_m2, after.basal_area_m2, 1),
        _stand_row("stems", before.stems, after.stems, 0),
        _stand_row("volume, m³", before.volume_m3, after.volume_m3, 0),
    ]


def budget_rows(budget: StandBudget, least_percent: float = 0.05) -> list[Row]:
    """What the variance of the volume is made of; of two that are alike, where each is from.

    budget: of a volume; least_percent: inputs that bring less are left out.
    """
    return [
        {
            "what is unsure": budget.name_of(one),
            "new for": _NEW_FOR[one.scope],
            "its own u": "" if one.error is None else f"{one.error.u:.2g} {one.error.unit}",
            "share of the variance, %": f"{100 * one.share:.1f}",
        }
        for one in budget.shares
        if 100 * one.share >= least_percent
    ]


def gain_rows(chain: TimberChain, most: int = 6) -> list[Row]:
    """What to do better first: each remedy's gain, the most for an hour first.

    chain: the way from the practical; most: so many rows.
    """
    return [
        {
            "remedy": one.remedy.name,
            "hours": f"{one.hours:.1f}",
            "u of the volume falls to, %": f"{one.after_percent:.2f}",
            "gain an hour, %": f"{one.gain_percent_per_hour:.3f}",
        }
        for one in chain.gains[:most]
    ]


def _stand_row(what: str, before: PlotMean, after: PlotMean, digits: int) -> Row:
    low, high = after.interval
    return {
        "a hectare has": what,
        "as read": f"{before.value:.{digits}f}",
        "corrected": f"{after.value:.{digits}f}",
        "± standard error": f"{after.se:.{digits}f}",
        "95 % interval": f"{low:.{digits}f} to {high:.{digits}f}",
    }


def _off_words(off: float, unit: str) -> str:
    """What was put right, as in "reads 2.5 % low"."""
    if not off:
        return "nothing"
    return f"reads {abs(off):.1f} {unit} {'high' if off > 0 else 'low'}"
