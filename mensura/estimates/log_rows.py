"""Logs' volumes as plain numbers, for JSON, tables and pages: nothing is worked out anew in those.

The true solids between a log's own ends stand beside the rules, and what each rule is exact for.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from mensura.estimates.exactness import exactness
from mensura.estimates.input_errors import InputError
from mensura.estimates.log_points import (
    POINT_RULES,
    LogVolumes,
    RuleVolume,
    between_points_percent,
    sum_of_logs,
)
from mensura.estimates.solids import LOG_RULES, SOLIDS, frustum_m3
from mensura.estimates.stand_words import CAUTION

#: What is new where, for whoever writes a file of errors.
SCOPE_WORDS = (
    "An error that is new for each tree is, of instrument and hand, new at each point of a log; of "
    "shape, bark and length it is one for a whole log. An error for each plot or for all is one "
    "for all logs."
)

#: What is in no uncertainty.
_ASSUMED = (
    "Sections are taken for circles. u holds the errors of the readings, not what a log does "
    "between its points.",
    "By sections: the area runs straight from point to point.",
)


def solids_between_m3(
    butt_cm: float, top_cm: float, log_length_m: float
) -> dict[str, float | None]:
    """Each solid's exact volume between the ends of a log, None where none has such ends.

    butt_cm, top_cm: diameters at the two ends, at least 0, one of them above 0, whichever is the
    thicker; log_length_m: above 0, at most 150 m. Closed form. Only a log with equal ends is a
    cylinder, and such a log is that in every form. Raises MeasureError.

    >>> found = solids_between_m3(44, 36, 5)
    >>> found["cylinder"], round(found["cone"], 5)
    (None, 0.63041)
    """
    thick, thin = max(butt_cm, top_cm), min(butt_cm, top_cm)
    none = () if thick == thin else ("cylinder",)
    return {
        name: None if name in none else float(frustum_m3(name, thick, thin, log_length_m))
        for name in SOLIDS
    }


def log_row(log: LogVolumes) -> dict[str, Any]:
    """One log as JSON has it; what needs a middle that is not there is None.

    log: of :func:`log_volumes`.
    """
    points = log.points
    row: dict[str, Any] = {
        "log": points.log,
        "length_m": points.length_m,
        "points": len(points.at_m),
        **_figures(log.as_read),
        "solids_m3": _solids(log, under_bark=False),
        "between_points_percent": between_points_percent(points),
        "under_bark": None,
    }
    if log.wood is not None:
        row["under_bark"] = {
            **_figures(log.wood),
            "solids_m3": _solids(log, under_bark=True),
            "between_points_percent": between_points_percent(points, under_bark=True),
            "bark_percent": _bark_percent(log),
            # the rule over bark beside the wood that is there
            "quarter_girth_over_bark_share_percent": _share(
                log.as_read["quarter_girth"], log.wood["by_sections"]
            ),
        }
    return row


def logs_answer(
    logs: Sequence[LogVolumes],
    errors: Sequence[InputError],
    made_up: bool = False,
    notes: Sequence[str] = (),
) -> dict[str, Any]:
    """All logs, their sum, what the rules are exact for, and what has to be said with it.

    logs: at least one; errors: of the inputs, as they were used; made_up: whether nobody gave them;
    notes: what has to be said of the readings.
    """
    all_wood = all(one.wood is not None for one in logs)
    return {
        "logs": [log_row(one) for one in logs],
        "total": {
            "logs": len(logs),
            "length_m": sum(one.points.length_m for one in logs),
            **_figures(total([one.as_read for one in logs])),
            "under_bark": _figures(total([one.wood or {} for one in logs])) if all_wood else None,
        },
        "exactness": exactness_rows(),
        "errors": [
            {"of": e.name, "u": e.u, "unit": e.unit, "for": e.scope, "origin": e.origin}
            for e in errors
        ],
        "errors_made_up": made_up,
        "notes": [*notes, SCOPE_WORDS],
        "assumed": list(_ASSUMED),
        "caution": CAUTION,
    }


def as_read_rows(logs: Sequence[LogVolumes]) -> dict[str, Any]:
    """The volumes before anything was taken off the readings, for JSON.

    logs: at least one, as they were read.
    """
    all_wood = all(one.wood is not None for one in logs)

    def volumes(found: Mapping[str, RuleVolume | None]) -> dict[str, Any]:
        return {f"{rule}_m3": one.volume_m3 if one else None for rule, one in found.items()}

    return {
        "logs": [
            {
                "log": one.points.log,
                **volumes(one.as_read),
                "under_bark": None if one.wood is None else volumes(one.wood),
            }
            for one in logs
        ],
        "total": {
            **volumes(total([one.as_read for one in logs])),
            "under_bark": volumes(total([one.wood or {} for one in logs])) if all_wood else None,
        },
    }


def total(logs: Sequence[Mapping[str, RuleVolume | None]]) -> dict[str, RuleVolume | None]:
    """Logs together by each rule; None where a log has no such volume.

    logs: of each its volumes by rule.
    """
    found: dict[str, RuleVolume | None] = {}
    for rule in POINT_RULES:
        some = [one[rule] for one in logs]
        known = [one for one in some if one is not None]
        found[rule] = sum_of_logs(known) if len(known) == len(some) else None
    return found


def exactness_rows() -> list[dict[str, Any]]:
    """What each rule is exact for and why, a row a rule; errors on whole solids in per cent.

    >>> [row["degree"] for row in exactness_rows()]
    [1, 1, 3]
    """
    return [
        {
            "rule": one.rule,
            "degree": one.degree,
            "exact_for": list(one.exact_for),
            "whole_solid_over_percent": {
                name: float(value) for name, value in one.whole_solid_percent.items()
            },
            "else": one.error_term,
            "proof": [{"says": line.says, "why": line.why} for line in one.proof],
        }
        for one in map(exactness, LOG_RULES)
    ]


def _figures(found: Mapping[str, RuleVolume | None]) -> dict[str, Any]:
    """The volumes under their keys; `u_m3` is of the volume by sections, which is always there."""
    sections = found["by_sections"]
    volumes = {f"{rule}_m3": one.volume_m3 if one else None for rule, one in found.items()}
    return {
        **volumes,
        "u_m3": sections.u_m3 if sections else None,
        "u_common_m3": sections.u_common_m3 if sections else None,
        "u_new_m3": sections.new_m3 if sections else None,
        "u_by_rule_m3": {rule: one.u_m3 if one else None for rule, one in found.items()},
        "quarter_girth_share_percent": _share(found["quarter_girth"], found["by_sections"]),
    }


def _share(part: RuleVolume | None, of: RuleVolume | None) -> float | None:
    return 100 * part.volume_m3 / of.volume_m3 if part and of else None


def _solids(log: LogVolumes, under_bark: bool) -> dict[str, float | None]:
    across = log.points.wood_diameter_cm if under_bark else log.points.diameter_cm
    return solids_between_m3(float(across[0]), float(across[-1]), log.points.length_m)


def _bark_percent(log: LogVolumes) -> float | None:
    """Share of the volume by sections that is bark."""
    share = _share(log.wood["by_sections"], log.as_read["by_sections"]) if log.wood else None
    return None if share is None else 100 - share
