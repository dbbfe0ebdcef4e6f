"""Rows of one fault in several sizes, or of one faulty instrument on several stems.

What an instrument reads is asked of the instrument itself, and set beside the truth; nothing else
is computed here. A page shows the rows as a table.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, replace
from itertools import product
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import MeasureError
from mensura.estimates.areas import area_from_diameters_cm2, area_from_girth_cm2, over_percent
from mensura.estimates.comparison_rows import Row
from mensura.instruments.calipers import Calipers
from mensura.instruments.correction import correct_girth
from mensura.instruments.lay import Lay
from mensura.instruments.materials import MATERIALS, pull_share
from mensura.instruments.permissible import CLASSES, permissible_error_mm
from mensura.instruments.tape import Tape, TapeReading
from mensura.instruments.tape_card import Card
from mensura.instruments.tape_check import TapeCheck
from mensura.stems.ellipse import circle
from mensura.stems.section import Section

#: Said in place of a number that no source gives.
UNKNOWN = "unknown"


def laid(section: Section, lay: Lay) -> list[Row]:
    """What a sound tape reads as it lies, one lay a row.

    section: one stem; lay: with one or more of its settings in several sizes. Rows: the settings
    that differ from row to row, reading_cm, adds_cm, adds_percent, and area_over_percent, the error
    of the area from that reading over the area from the taut one.

    >>> row = laid(circle(40), Lay(tilt_deg=[5.0, 10.0]))[1]
    >>> {name: round(value, 2) for name, value in row.items()}
    {'tilt_deg': 10.0, 'reading_cm': 126.63, 'adds_cm': 0.97, 'adds_percent': 0.77,
    'area_over_percent': 1.55}
    """
    return _read(Tape().read(section, lay), lay, {})


def taped(tape: Tape, girths_cm: ArrayLike) -> list[Row]:
    """What a level, taut tape reads in its condition, one condition or one stem a row.

    tape: one or more of its settings may have several sizes; girths_cm: of round stems; they
    broadcast. Rows: the settings that differ, girth_cm, reading_cm, adds_cm, adds_percent,
    area_over_percent.

    >>> [round(row["adds_cm"], 2) for row in taped(Tape(worn_start_cm=2.0), [50, 150])]
    [2.0, 2.0]
    """
    girths = np.asarray(girths_cm, dtype=np.float64)
    return _read(tape.read(circle(girths / np.pi)), tape, {"girth_cm": girths})


def shares(reading: TapeReading) -> list[Row]:
    """From the taut girth to the reading, what each fault adds on the way.

    reading: on one stem, by one tape. Rows: step, adds_cm (None where nothing is added),
    reading_cm so far. Raises MeasureError for an array of readings.

    >>> rows = shares(Tape(worn_start_cm=0.5).read(circle(40)))
    >>> [(row["step"], round(row["reading_cm"], 2)) for row in rows]
    [('taut girth', 125.66), ('worn start', 126.16)]
    """
    if np.ndim(reading.reading_cm):
        raise MeasureError("reading", np.shape(reading.reading_cm), "", "a single one")
    so_far = float(reading.taut_girth_cm)
    rows: list[Row] = [{"step": "taut girth", "adds_cm": None, "reading_cm": so_far}]
    for fault, adds in reading.breakdown.items():
        so_far += float(adds)
        rows.append({"step": fault, "adds_cm": float(adds), "reading_cm": so_far})
    return rows


def by_calipers(diameters_cm: ArrayLike, **faults: ArrayLike) -> list[Row]:
    """What faulty calipers read on round stems, one fault's size and one stem a row.

    diameters_cm: true ones, one or several; faults: settings of :class:`Calipers`, each one number
    or several; every size meets every stem. Rows: the settings, diameter_cm, reading_cm, off_cm,
    off_percent, area_over_percent.

    >>> row = by_calipers(40.0, jaw_lean_deg=1.0)[0]
    >>> {name: round(value, 2) for name, value in row.items()}
    {'jaw_lean_deg': 1.0, 'diameter_cm': 40.0, 'reading_cm': 39.65, 'off_cm': -0.35,
    'off_percent': -0.87, 'area_over_percent': -1.72}
    """
    sizes = [np.atleast_1d(np.asarray(values, float)).tolist() for values in faults.values()]
    rows = []
    for *settings, true in product(*sizes, np.atleast_1d(np.asarray(diameters_cm, float)).tolist()):
        these = dict(zip(faults, settings, strict=True))
        read = float(Calipers(**these).read(circle(true), [0.0])[0])
        area = over_percent(area_from_diameters_cm2([read]), area_from_diameters_cm2([true]))
        rows.append(
            {
                **these,
                "diameter_cm": true,
                "reading_cm": read,
                "off_cm": read - true,
                "off_percent": 100 * (read / true - 1),
                "area_over_percent": area,
            }
        )
    return rows


def attempts(calipers: Calipers, stems: Sequence[Section]) -> list[Row]:
    """Two readings at right angles of each stem, or why there are none.

    calipers: in their condition; stems: single ones. Rows: stem, readings_cm (None if there are
    none), and what is said.

    >>> from mensura.stems.ellipse import Ellipse
    >>> attempts(Calipers(opening_cm=50.0), [Ellipse(54, 47)])[0]["said"]
    'opening_cm is 50 cm; expected calipers that open to 54 cm.'
    """
    rows: list[Row] = []
    for stem in stems:
        name = f"{stem.width_cm(0.0):.3g} by {stem.width_cm(90.0):.3g} cm"
        try:
            readings = calipers.read(stem, [0.0, 90.0]).tolist()
            rows.append({"stem": name, "readings_cm": readings, "said": "read"})
        except MeasureError as error:
            rows.append({"stem": name, "readings_cm": None, "said": str(error)})
    return rows


def tape_card(found: Tape | TapeCheck | Card, readings_cm: ArrayLike) -> list[Row]:
    """A tape's card: what it reads, the girth that this means, and what is to be added.

    found: the card, the check, or the tape alone; readings_cm: on the band. Rows: reads_cm,
    girth_cm, add_cm; with a check or a card of three places or more doubt_cm too, one standard
    uncertainty.

    >>> row = tape_card(Tape(worn_start_cm=2.0), [60.0])[0]
    >>> row["girth_cm"], row["add_cm"]
    (58.0, -2.0)
    """
    told = np.atleast_1d(np.asarray(readings_cm, dtype=np.float64))
    if isinstance(found, Card):
        lengths, doubt = np.asarray(found.true_cm(told)), found.u_true_cm(told)
        card = {"reads_cm": told, "girth_cm": lengths, "add_cm": lengths - told}
        return _rows(card if doubt is None else card | {"doubt_cm": doubt})
    tape = found.tape if isinstance(found, TapeCheck) else found
    girths = np.asarray(correct_girth(told, tape).girth_cm)
    columns = {"reads_cm": told, "girth_cm": girths, "add_cm": girths - told}
    if isinstance(found, TapeCheck) and found.spread_cm is not None:
        # on the floor the band's thickness had no part
        columns["doubt_cm"] = found.doubt_cm(girths + np.pi * np.asarray(tape.thickness_cm))
    return _rows(columns)


def pulled(band: Tape, girth_cm: float, frictions: ArrayLike) -> list[Row]:
    """What a hand's pull makes of a reading where friction takes a part of it, one friction a row.

    band: with pull_n, the hand's, one or several; girth_cm: of a round stem; frictions: between
    band and bark, 0 for a smooth post. Rows: friction, mean_share_percent of the pull, and for each
    pull what it adds, in cm. The band is pulled at both ends, half a turn each, and its pull is
    taken as its mean (:func:`mensura.instruments.materials.pull_share`).

    >>> hand = Tape(pull_n=[20, 50, 90], stiffness_n=25e3)
    >>> {name: round(value, 3) for name, value in pulled(hand, 125, 0.3)[0].items()}
    {'friction': 0.3, 'mean_share_percent': 64.759, '20 N adds, cm': 0.186, '50 N adds, cm': 0.088,
    '90 N adds, cm': -0.041}
    """
    pulls = np.atleast_1d(np.asarray(band.pull_n, dtype=np.float64))
    rows: list[Row] = []
    for friction in np.atleast_1d(np.asarray(frictions, dtype=np.float64)).tolist():
        share = float(pull_share(friction))
        adds = replace(band, pull_n=share * pulls).read(circle(girth_cm / np.pi)).adds_cm
        each = zip(pulls, np.atleast_1d(adds), strict=True)
        rows.append(
            {"friction": friction, "mean_share_percent": 100 * share}
            | {f"{pull:g} N adds, cm": float(part) for pull, part in each}
        )
    return rows


def warmed(girth_cm: float, warmer_c: float) -> list[Row]:
    """How much too short bands read in the warm, from the least to the most that sources allow.

    girth_cm: of the stem; warmer_c: than the temperature at which the band is true, °C. Rows:
    material, least_mm, most_mm ("unknown" where no source gives a number).

    >>> [row["least_mm"] for row in warmed(125, 20) if row["material"] == "plastic"]
    [1.25]
    """
    scale = 10 * girth_cm * warmer_c
    return [
        {
            "material": name,
            "least_mm": _times(scale, row.least_per_c),
            "most_mm": _times(scale, row.most_per_c),
        }
        for name, row in MATERIALS.items()
    ]


def expansions() -> list[Row]:
    """How much each band material lengthens with warmth, in millionths for each °C.

    Rows: material; the millionths: least, most, we_take ("unknown" where no source gives a
    number); source.

    >>> [round(row["we_take"], 1) for row in expansions() if row["material"] == "steel"]
    [11.6]
    """
    return [
        {
            "material": name,
            "millionths per °C: least": _times(1e6, row.least_per_c),
            "most": _times(1e6, row.most_per_c),
            "we_take": _times(1e6, row.expansion_per_c),
            "source": row.source,
        }
        for name, row in MATERIALS.items()
    ]


def permissible(lengths_m: Sequence[float]) -> list[Row]:
    """What a new tape may err, one length a row, all three classes side by side.

    lengths_m: lengths or girths, above 0, in m. Rows: length_m, I_mm, II_mm, III_mm, and
    II_with_hook_mm, where it starts at an end surface.

    >>> [round(value, 1) for value in permissible([1.26])[0].values()]
    [1.3, 0.3, 0.7, 1.4, 0.9]
    """
    return [
        {
            "length_m": float(length),
            **{f"{name}_mm": permissible_error_mm(name, length) for name in CLASSES},
            "II_with_hook_mm": permissible_error_mm("II", length, end_surface=True),
        }
        for length in lengths_m
    ]


def _times(factor: float, expansion_per_c: float | None) -> float | str:
    return UNKNOWN if expansion_per_c is None else factor * expansion_per_c


def _read(reading: TapeReading, settings: Lay | Tape, first: dict[str, Any]) -> list[Row]:
    """The settings that differ, and what was read."""
    several = {
        field.name: np.asarray(value, dtype=int) if field.name == "wander_waves" else value
        for field in fields(settings)
        if np.size(value := getattr(settings, field.name)) > 1 and not isinstance(value, str)
    }
    return _rows(
        {
            **several,
            **first,
            "reading_cm": reading.reading_cm,
            "adds_cm": reading.adds_cm,
            "adds_percent": reading.adds_percent,
            "area_over_percent": over_percent(
                area_from_girth_cm2(reading.reading_cm), area_from_girth_cm2(reading.taut_girth_cm)
            ),
        }
    )


def _rows(columns: dict[str, Any]) -> list[Row]:
    together = np.broadcast_arrays(*(np.atleast_1d(values) for values in columns.values()))
    return [
        dict(zip(columns, (value.item() for value in row), strict=True))
        for row in zip(*(values.ravel() for values in together), strict=True)
    ]
