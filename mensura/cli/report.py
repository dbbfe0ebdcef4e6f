"""A comparison and a correction as lines of plain text, as the commands print them."""

from __future__ import annotations

from textwrap import wrap

from mensura.estimates.comparison import PRACTICE_WORDS, Comparison
from mensura.instruments.correction import UNKNOWABLE, CorrectedGirth
from mensura.instruments.lay import LEVEL, Lay
from mensura.instruments.tape import Tape

#: How wide a line of a terminal is, and where the words of a fault's reach begin in it.
_WIDE, _BEFORE_REACH = 80, 32


def comparison_lines(
    result: Comparison, lay: Lay = LEVEL, caliper_direction_deg: float = 0.0
) -> list[str]:
    """A comparison as a plain table, and what has to be said with it.

    result: of one stem; lay: how the tape lay; caliper_direction_deg: of the first width.

    >>> from mensura import Ellipse, compare
    >>> comparison_lines(compare(Ellipse(60, 48)))[0]
    'True area:  2261.95 cm²'
    """
    tilted = f"Tape, tilted {lay.tilt_deg:g}° towards {lay.tilt_direction_deg:g}°"
    level = "Tape, level" if set(lay.faults) <= {"height"} else "Tape"
    tape = tilted if lay.tilt_deg else level
    true = result.true_area_cm2

    def errors(area: float, over: float) -> list[str]:
        off = round(area, 2) - round(true, 2)  # as whoever subtracts what is printed finds it
        return [_figure(area), _figure(off, "+.2f"), _figure(over, "+.4f")]

    rows = [
        ["", "reading", "area", "error", "error"],
        ["", "cm", "cm²", "cm²", "%"],
        [tape, _figure(result.reading_cm), *errors(result.tape_area_cm2, result.tape_over_percent)],
        [f"Calipers, first width at {caliper_direction_deg:g}°", "", "", "", ""],
    ]
    for one in result.calipers:
        many = len(one.readings_cm) > 2
        readings = (
            f"{len(one.readings_cm)} readings"
            if many
            else " ".join(_figure(float(reading)) for reading in one.readings_cm)
        )
        words = " " + PRACTICE_WORDS[one.practice]
        rows.append([words, readings, *errors(one.area_cm2, one.over_percent)])
    widths = [max(len(row[column]) for row in rows) for column in range(5)]
    lines = [
        f"True area:  {_figure(true)} cm²",
        f"Taut girth: {_figure(result.taut_girth_cm)} cm (what a level, tight tape reads)",
        "",
    ]
    for row in rows:
        cells = [row[0].ljust(widths[0])]
        cells += [cell.rjust(width) for cell, width in zip(row[1:], widths[1:], strict=True)]
        lines.append("  ".join(cells).rstrip())
    lines.append("")
    if result.classroom_over_percent is not None:
        lines += [
            "The blackboard formula 2π√((a²+b²)/2) would claim an error of "
            f"{_figure(result.classroom_over_percent, '+.4f')} %",
            "for a level tape: an upper bound, not the error itself.",
        ]
    sound = not set(result.breakdown) - {"tilt"} and not result.calipers[0].breakdown
    known = "sound instruments, steady hand," if sound else "no fault but those below,"
    lines.append(f"Assumed: {known} band held by friction where it lies.")
    return lines


def breakdown_lines(result: Comparison) -> list[str]:
    """What each fault added to the readings, as plain tables; nothing where nothing was wrong.

    result: of one stem.

    >>> from mensura import Ellipse, Lay, compare
    >>> print(*breakdown_lines(compare(Ellipse(60, 48), Lay(slack_cm=0.5)))[1:5], sep="\\n")
    Tape                         cm
      taut girth           170.1700
      slack                 +0.5000
      reading              170.6700
    """
    lines: list[str] = []
    if result.breakdown:
        rows = [
            ("taut girth", _figure(result.taut_girth_cm, ".4f")),
            *((fault, _figure(adds, "+.4f")) for fault, adds in result.breakdown.items()),
            ("reading", _figure(result.reading_cm, ".4f")),
        ]
        lines += ["", *_shares("Tape", rows)]
    pair = next(one for one in result.calipers if len(one.readings_cm) == 2)
    if pair.breakdown:
        for index, direction in enumerate(pair.directions_deg):
            told = float(pair.readings_cm[index])
            shares = {fault: float(adds[index]) for fault, adds in pair.breakdown.items()}
            rows = [
                ("width", _figure(told - sum(shares.values()), ".4f")),
                *((fault, _figure(adds, "+.4f")) for fault, adds in shares.items()),
                ("reading", _figure(told, ".4f")),
            ]
            lines += ["", *_shares(f"Calipers at {direction:g}°", rows)]
    if lines:
        lines += [
            "",
            "Shares depend on the order in which faults are taken (section, height, lay,",
            "condition, resolution); their sum does not.",
        ]
    return lines


def correction_lines(reading_cm: float, corrected: CorrectedGirth, tape: Tape) -> list[str]:
    """A corrected reading, what was undone, and what cannot be.

    reading_cm: as the band told it; corrected: what was made of it; tape: the band's condition.

    >>> from mensura.instruments import correct_girth
    >>> old = Tape(stretch_percent=2.0)
    >>> correction_lines(125.0, correct_girth(125.0, old), old)[0]
    'Reading:  125.00 cm'
    """
    girth = float(corrected.girth_cm)
    lines = [
        f"Reading:  {_figure(reading_cm)} cm",
        f"Girth:    {_figure(girth)} cm",
        f"Diameter: {_figure(float(corrected.diameter_cm))} cm (of the circle with that girth)",
        f"Area:     {_figure(float(corrected.area_cm2))} cm² (of the same circle)",
    ]
    step = float(corrected.rounding_cm)
    if step:
        way = "too small by up to" if tape.rounding == "down" else "off either way by up to"
        lines.append(f"Rounded:  the reading may be {way} {step:g} cm; that cannot be undone.")
    lines.append("")
    if corrected.breakdown:
        if "pull" in corrected.breakdown:
            lines += [
                "Assumed: the same pull all along, as on a smooth post. On bark friction takes a",
                "part of it, and how much cannot be undone.",
                "",
            ]
        rows = [
            ("girth", _figure(girth, ".4f")),
            *((name, _figure(float(adds), "+.4f")) for name, adds in corrected.breakdown.items()),
            ("reading", _figure(reading_cm, ".4f")),
        ]
        lines += [*_shares("Undone", rows), ""]
    else:
        lines += ["Nothing was undone: the band is taken to be sound.", ""]
    lines.append("What no correction undoes, and how a tape then reads (girth 125 cm):")
    for one in UNKNOWABLE:
        side = "too much" if one.raises_reading else "too little"
        first, *more = wrap(one.reach, _WIDE - _BEFORE_REACH)
        lines.append(f"  {one.fault.ljust(16)}  {side.ljust(10)}  {first}")
        lines += [" " * _BEFORE_REACH + line for line in more]
    return lines


def _shares(title: str, rows: list[tuple[str, str]]) -> list[str]:
    """Names on the left, figures on the right, with their unit at the head."""
    return [f"{title:<21}{'cm':>10}"] + [f"  {name:<19}{figure:>10}" for name, figure in rows]


def _figure(value: float, form: str = ".2f") -> str:
    """A number for the table; what rounds to nothing has no sign.

    >>> _figure(-1e-9, "+.4f"), _figure(2.5, "+.4f"), _figure(1e12)
    ('0.0000', '+2.5000', '1e+12')
    """
    if abs(value) >= 1e9:
        return f"{value:.6g}"
    text = format(value, form)
    return text.lstrip("+-") if float(text) == 0 else text
