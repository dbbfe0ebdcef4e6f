"""Numbers and comparisons in words: what the command, the panels and the workbooks say alike."""

from __future__ import annotations

from mensura.estimates.comparison import PRACTICE_WORDS, Comparison
from mensura.instruments.lay import LEVEL, Lay


def signed(value: float, digits: int = 2) -> str:
    """A number with its sign and no negative zero.

    value: any unit; digits: after the point.

    >>> signed(-0.0001), signed(1.876), signed(-20.0)
    ('0.00', '+1.88', '−20.00')
    """
    text = f"{value:+.{digits}f}"
    return f"{0:.{digits}f}" if float(text) == 0 else text.replace("-", "−")


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
    tape = tilted if lay.tilt_deg else "Tape, level"
    true = result.true_area_cm2

    def errors(area: float, over: float) -> list[str]:
        return [_figure(area), _figure(area - true, "+.2f"), _figure(over, "+.4f")]

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
    lines.append("Assumed: sound instruments, steady hand, band held by friction where it lies.")
    return lines


def _figure(value: float, form: str = ".2f") -> str:
    """A number for the table; what rounds to nothing has no sign.

    >>> _figure(-1e-9, "+.4f"), _figure(2.5, "+.4f"), _figure(1e12)
    ('0.0000', '+2.5000', '1e+12')
    """
    if abs(value) >= 1e9:
        return f"{value:.6g}"
    text = format(value, form)
    return text.lstrip("+-") if float(text) == 0 else text
