"""A stem's place as lines of plain text: where, what is read, what each rule costs there."""

from __future__ import annotations

from textwrap import wrap

from mensura.cli.printing import aligned
from mensura.estimates.place import Place
from mensura.estimates.place_words import side_words
from mensura.written import signed

_WIDE, _COST = 80, 12


def place_lines(found: Place) -> list[str]:
    """Where to measure, the figures, and the rules with their costs, the dearest first.

    found: for one stem.
    """
    asked = found.asked
    lines = _parted(f"Measure here: {found.where}.")
    girths = " and ".join(f"{girth:.2f} cm" for girth in found.girth_cm)
    wide = " and ".join(f"{leg:g} cm" for leg in asked.legs_cm)
    what = "Girths" if len(found.girth_cm) > 1 else "Girth"
    lines += _parted(f"{what} there, square to the stem: {girths}, a diameter of {wide}.")
    lines += ["", *wrap(f"Caution: {' '.join(found.cautions)}", _WIDE)]
    side = side_words(asked.asked_side, asked.slope_deg, asked.lean_deg)
    upright = ", told upright" if asked.plumb else ""
    lines += ["", *_parted(f"At {asked.asked_height_m:.2f} m{side}{upright}, cm:")]
    rows = [
        ["band square to the stem", f"{found.band_cm:.2f}"],
        ["level band", f"{found.level_band_cm:.2f}"],
        ["level calipers, beam in the lean", f"{found.level_caliper_in_lean_cm:.2f}"],
        ["level calipers, beam across it", f"{found.level_caliper_across_cm:.2f}"],
    ]
    lines += [f"  {line}" for line in aligned(rows, right=(1,))]
    over = f"{signed(found.over_percent, 3)} % of the area by the rules"
    lines += _parted(f"The square band there makes {over}.")
    lines += ["", "What a rule costs here if it is ignored and all others are kept,"]
    lines += ["in per cent of the sectional area by the rules:"]
    for one in found.rules:
        head = f"{signed(one.cost_percent, 3):>8} %  "
        lines += wrap(
            f"{one.rule} Ignored: {one.ignored}.", _WIDE, initial_indent=head,
            subsequent_indent=" " * _COST,
        )  # fmt: skip
        if one.place != found.where:
            lines += _told(f"Place: {one.place}.")
        lines += _told(f"Source: {one.source}.")
    lines += [""] if found.notes else []
    for note in found.notes:
        lines += wrap(f"- {note}", _WIDE, subsequent_indent="  ")
    return lines


def _parted(text: str) -> list[str]:
    return wrap(text, _WIDE, subsequent_indent="  ")


def _told(text: str) -> list[str]:
    return wrap(text, _WIDE, initial_indent=" " * _COST, subsequent_indent=" " * (_COST + 2))
