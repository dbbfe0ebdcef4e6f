"""A stem's place as lines of plain text: where, what is read, what each rule costs there."""

from __future__ import annotations

from textwrap import wrap

from mensura.cli.printing import aligned
from mensura.estimates.place import GENERAL_CAUTION, Place
from mensura.estimates.place_rules import situation
from mensura.estimates.rules_here import short_source, side_words
from mensura.written import signed

_WIDE = 80


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
    lines += ["", *wrap(f"Caution: {GENERAL_CAUTION}", _WIDE)]
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
    over = f"{signed(found.over_percent, 3)}\u00a0% of the area by the rules"
    lines += _parted(f"The square band there makes {over}.")
    lines += ["", "One rule ignored and all others kept, % of the sectional area by the rules:"]
    for one in found.rules:
        cost = f"{signed(one.cost_percent, 3):>9}  "
        lines += wrap(one.ignored, _WIDE, initial_indent=cost, subsequent_indent=" " * 11)
    lines += [""]
    for note in found.notes:
        lines += wrap(f"- {note}", _WIDE, subsequent_indent="  ")
    lines += [""] if found.notes else []
    for key in dict.fromkeys(one.key for one in found.rules):
        lines += [*_situation(found, key), ""]
    return lines[:-1]


def _situation(found: Place, key: str) -> list[str]:
    """One situation: its caution first, its rules with who says so, and where manuals differ."""
    told = situation(key)
    lines = ["Breast height" if key == "breast-height" else told.title]
    if told.caution:
        lines += _told(f"Caution: {told.caution}")
    rules = {one.rule: one.place for one in found.rules if one.key == key}
    for rule, place in rules.items():
        lines += _told(f"{rule.words} ({short_source(rule)})")
        if place != found.where:
            lines += _told(f"On this stem: {place}.")
    for each in told.disagreements:
        lines += _told(f"Manuals differ. {each.about}")
        for view in each.views:
            lines += _told(f"- {view.words} ({short_source(view)})")
        lines += _told(f"Here: {each.ours}")
    return lines


def _parted(text: str) -> list[str]:
    return [one.replace("\u00a0", " ") for one in wrap(text, _WIDE, subsequent_indent="  ")]


def _told(text: str) -> list[str]:
    return wrap(text, _WIDE, initial_indent="  ", subsequent_indent="    ")
