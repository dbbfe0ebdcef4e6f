"""What the out-of-round panel says of one stem: a sentence, a table, and where the tape wins."""

from __future__ import annotations

import html

import numpy as np

from mensura.estimates.areas import over_percent
from mensura.estimates.comparison import PRACTICE_WORDS, Comparison
from mensura.teaching.panels.out_of_round import OutOfRound
from mensura.views.kit.table import table_html
from mensura.written import apart, signed


def status(n: OutOfRound) -> str:
    """One sentence that says which instrument is nearer now.

    n: what the panel shows.
    """
    two = n.result.calipers[1]
    tape, calipers = abs(n.result.tape_over_percent), abs(two.over_percent)
    if abs(tape - calipers) < 0.005:
        verdict = "equally near"
    else:
        verdict = "the calipers are nearer" if calipers < tape else "the tape is nearer"
    return (
        f"Calipers at {n.caliper_direction_deg:g}°, two readings, arithmetic mean: "
        f"{signed(two.over_percent)} %. Tape: {signed(n.result.tape_over_percent)} %. "
        f"Now {verdict}."
    )


def readout(n: OutOfRound) -> str:
    """The table below the picture: true area, every estimate and its error.

    n: what the panel shows.
    """
    result = n.result
    rows = [
        ("True area, wood and bark", "", result.true_area_cm2, None),
        ("Tape as it lies", f"{result.reading_cm:.2f}", result.tape_area_cm2, "tape"),
        ("Tape, level", f"{result.taut_girth_cm:.2f}", result.level_area_cm2, "level"),
    ]
    body = "".join(_row(name, reading, area, result, key) for name, reading, area, key in rows)
    for one in result.calipers:
        reading = (
            " and ".join(f"{r:.2f}" for r in one.readings_cm)
            if len(one.readings_cm) < 3
            else f"{one.readings_cm.mean():.2f} (mean)"
        )
        words = "Calipers, " + PRACTICE_WORDS[one.practice]
        body += _row(words, reading, one.area_cm2, result, one.practice)
    names = ("Estimate", "Reading, cm", "Area, cm²", "Error, cm²", "Error, %")
    exact, claim = n.smooth_exact_percent, n.smooth_classroom_percent
    smooth = (
        f"<p>Smooth outline, level tape: exactly {signed(exact, 3)} %. The blackboard formula "
        f"2π√((a² + b²)/2) would claim {signed(claim, 3)} % for the ellipse: an upper bound, never "
        "the girth itself (unless the stem is round).</p>"
        f"<p>{html.escape(ripple_sentence(n))}</p>"
    )
    return (
        table_html(names, body)
        + smooth
        + (f"<p>{html.escape(limits_sentence(n))}</p>" if n.marked else "")
        + "<p>Assumed: sound instruments, a taut band held by friction where it lies; the bark is "
        "a made-up pattern.</p>"
    )


def ripple_sentence(n: OutOfRound) -> str:
    """How high the smooth outline's fourth ripple is, and what part of it was added.

    n: what the panel shows.
    """
    own = n.fourth_cm - n.added_cm
    told = f"Fourth ripple of the smooth outline: {signed(n.fourth_cm, 3)} cm"
    if not n.added_cm:
        return f"{told}, the ellipse's own."
    across = [f"{one + 2 * n.added_cm:.2f}" for one in (n.first_cm, n.second_cm)]
    return (
        f"{told}; the ellipse's own is {signed(own, 3)} cm. The stem is {across[0]} cm thick along "
        f"the first axis and {across[1]} cm along the second."
    )


def limits_sentence(n: OutOfRound) -> str:
    """How far off the axes the calipers are nearer on this stem, and where the tape is.

    n: what the panel shows.
    """

    def words(practice: str) -> str:
        spans = n.nearer_deg[practice]
        if not spans:
            return "never"
        if len(spans) > 3:
            return "at some turns and not at others"
        return " and ".join(map(_span, spans))

    if np.isnan(n.shares["two-arithmetic"]).all():
        return "This stem is round and smooth: tape and calipers are both exact."
    return (
        "Two calipers at right angles, turned off the first axis by up to 45°, are nearer than "
        f"this tape: with the arithmetic mean {words('two-arithmetic')}, with the product "
        f"{words('two-geometric')}, with the quadratic mean {words('two-quadratic')}."
    )


def _span(span: tuple[float, float]) -> str:
    first, last = span
    if first == 0:
        return "at every turn" if last == 45 else f"up to {last:.1f}°"
    return f"from {first:.1f}° on" if last == 45 else f"from {first:.1f}° to {last:.1f}°"


def _row(name: str, reading: str, area: float, result: Comparison, key: str | None) -> str:
    if key is None:
        errors = "<td></td><td></td>"
    else:
        percent = float(over_percent(area, result.true_area_cm2))
        error = apart(area, result.true_area_cm2, 1)
        errors = f"<td>{error}</td><td data-over='{key}'>{signed(percent)}</td>"
    return (
        f"<tr><th scope='row'>{html.escape(name)}</th><td>{reading}</td>"
        f"<td>{area:.1f}</td>{errors}</tr>"
    )
