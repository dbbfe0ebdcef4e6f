"""A study as plain numbers and names: what `--json` prints and the tidy tables are made of.

Lengths are in cm of their own kind, and say so in their names; what nothing tells is None. A flag
says what a reading would be both in cm and in the unit in which it was typed.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np

from mensura.estimates.agreement import Agreement, DifferenceTrend
from mensura.estimates.hand_causes import likely_causes
from mensura.estimates.hand_verdict import Judged
from mensura.estimates.outliers import MARKS, TESTS
from mensura.estimates.ovality_part import OvalityPart
from mensura.estimates.practical_parts import InstrumentPrecision, Studied, TapesAndCalipers
from mensura.estimates.precision import Precision
from mensura.estimates.size_law import SizeLaw

_UNITS = {"cm": 1.0, "mm": 0.1, "m": 100.0, "inches": 2.54, "feet": 30.48}


def practical_dict(study: Studied) -> dict[str, Any]:
    """All of a study but its readings, ready for JSON.

    study: of a class.
    """
    readings = study.readings
    return {
        "readings": len(readings),
        "stems": len(readings.stems),
        "hands": [_judged(one, True) for one in study.judged.hands],
        "instruments": [_judged(one, False) for one in study.judged.instruments],
        "precision": [_precision(one) for one in study.precision],
        "agreement": None if study.agreement is None else _agreement(study.agreement),
        "flags": flag_rows(study),
        "habits": [
            {"name": one.name, "kind": one.kind, "habit": one.habit, "question": one.question}
            for one in study.habits
        ],
        "sizes_cm": dict(study.judged.sizes_cm),
        "mean_size_cm": study.judged.mean_size_cm,
        "cards_used": list(study.cards_used),
        "cards_missing": list(study.cards_missing),
        "notes": list(study.notes),
    }


def flag_rows(study: Studied) -> list[dict[str, Any]]:
    """The likely slips, by row: what stands there, and what it would have been.

    study: of a class. `reading` and `would_be` are in `unit`, as typed.
    """
    readings = study.readings
    rows = []
    for one in study.flags:
        unit = study.units[one.at] if study.units else "cm"
        scale = _UNITS[unit]
        rows.append(
            {
                "row": one.row,
                "slip": one.slip,
                "stem": readings.stems[readings.stem[one.at]],
                "hand": readings.hands[readings.hand[one.at]],
                "instrument": readings.instruments[readings.instrument[one.at]],
                "clerk": readings.clerks[readings.clerk[one.at]],
                "kind": "girth" if readings.girth[one.at] else "diameter",
                "reading": _tidy(one.reading_cm / scale),
                "would_be": _tidy(one.would_be_cm / scale),
                "unit": unit,
                "would_be_cm": _tidy(one.would_be_cm),
                "agreed_cm": _tidy(one.agreed_cm),
                "partner_row": one.partner_row or None,
            }
        )
    return rows


def units_typed(figures: Sequence[str] | None, reading_cm: Any) -> tuple[str, ...]:
    """The unit of each reading, from how it was typed; empty where nobody knows.

    figures: of each reading, as typed; reading_cm: of each, cm.

    >>> units_typed(["99,5", "316"], [99.5, 31.6])
    ('cm', 'mm')
    """
    if figures is None:
        return ()
    names = list(_UNITS)
    try:
        typed = np.array([float(one.replace(",", ".")) for one in figures])
    except ValueError:
        return ()
    with np.errstate(all="ignore"):
        scale = np.log(np.asarray(reading_cm, dtype=np.float64) / typed)
        off = np.abs(scale[:, None] - np.log(list(_UNITS.values())))
    return tuple(names[one] for one in np.argmin(np.nan_to_num(off, nan=9.0), axis=1).tolist())


def _judged(one: Judged, is_hand: bool) -> dict[str, Any]:
    causes = [
        {"fault": cause.fault, "words": cause.words, "practise": cause.practise}
        for cause in likely_causes(one, is_hand)
    ]
    return {**{key: _plain(value) for key, value in one.to_dict().items()}, "causes": causes}


def _precision(one: InstrumentPrecision) -> dict[str, Any]:
    marks = []
    if one.outliers is not None and one.table is not None:
        for cell in np.flatnonzero(one.outliers.mark).tolist():
            marks.append(
                {
                    "hand": one.hand_codes[one.table.hand[cell]],
                    "stem": one.stem_codes[one.table.stem[cell]],
                    "mark": MARKS[one.outliers.mark[cell]],
                    "test": TESTS[one.outliers.test[cell]],
                    "statistic": _plain(one.outliers.statistic[cell]),
                    "critical": _plain(one.outliers.critical[cell]),
                    "mean_cm": _plain(one.table.mean_cm[cell]),
                }
            )
    return {
        "instrument": one.instrument,
        "kind": one.kind,
        "hands": len(one.hand_codes),
        "stems": one.stems,
        "levels": len(one.stem_codes),
        **precision_numbers(one.precision),
        "with_outliers": precision_numbers(one.with_outliers),
        "hands_off": list(one.off),
        "without_off": precision_numbers(one.without_off) if one.off else None,
        "marked": marks,
        "note": one.note,
    }


def precision_numbers(found: Precision | None) -> dict[str, Any]:
    """Repeatability, between hands and reproducibility, cm, with their limits and laws.

    found: of an instrument, None where nothing can be told.
    """
    if found is None:
        return {**dict.fromkeys(_PRECISION), "repeats": 0, "stands_for": "nothing"}
    return {
        **{key: _plain(getattr(found, key)) for key in _PRECISION[:-2]},
        "repeatability_law": _law(found.repeatability_law),
        "reproducibility_law": _law(found.reproducibility_law),
        "repeats": found.repeats,
        "stands_for": found.stands_for,
    }


_PRECISION = (
    "repeatability_cm",
    "between_hands_cm",
    "reproducibility_cm",
    "repeatability_limit_cm",
    "reproducibility_limit_cm",
    "repeatability_law",
    "reproducibility_law",
)


def _law(law: SizeLaw | None) -> dict[str, Any] | None:
    if law is None:
        return None
    names = ("kind", "start_cm", "rise", "least_cm", "greatest_cm", "stems")
    return {name: _plain(getattr(law, name)) for name in names}


def _agreement(found: TapesAndCalipers) -> dict[str, Any]:
    told: dict[str, Any] = {
        "single": _limits(found.single),
        "pair": _limits(found.pair),
        "trend": _trend(found.trend),
        "ovality": _ovality(found.ovality),
        "without_ovality": _limits(found.left),
    }
    if found.off:
        sound = None if found.sound is None else _agreement(found.sound)
        told |= {"off": list(found.off), "without_off": sound}
    return told


def _limits(found: Agreement | None) -> dict[str, Any] | None:
    return None if found is None else {key: _plain(value) for key, value in vars(found).items()}


def _trend(found: DifferenceTrend | None) -> dict[str, Any] | None:
    if found is None:
        return None
    return {**{key: _plain(value) for key, value in vars(found).items()}, "grows": found.grows}


def _ovality(part: OvalityPart) -> dict[str, Any]:
    """What out-of-roundness explains, over all readings: as a figure, or from and to."""
    figure = part.figure_cm[np.isfinite(part.figure_cm)]
    rest = ~np.isfinite(part.figure_cm)
    return {
        "as_figure": int(figure.size),
        "as_range": int(np.count_nonzero(rest)),
        "figure_sd_cm": _plain(np.std(figure, ddof=1)) if figure.size > 1 else None,
        "largest_figure_cm": _plain(np.abs(figure).max()) if figure.size else None,
        "least_cm": _plain(part.least_cm[rest].min()) if rest.any() else None,
        "greatest_cm": _plain(part.greatest_cm[rest].max()) if rest.any() else None,
    }


def _plain(value: Any) -> Any:
    """Numbers as JSON has them: no nan, nothing of numpy."""
    if isinstance(value, np.generic):
        value = value.item()
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    if isinstance(value, tuple | list):
        return [_plain(one) for one in value]
    return value


def _tidy(value: float) -> float:
    """Without the last places that a conversion leaves behind."""
    return float(f"{value:.10g}")
