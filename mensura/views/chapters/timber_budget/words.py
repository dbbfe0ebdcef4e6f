"""What the timber budget says: how sure the volume is, what spoils it, and what to do first."""

from __future__ import annotations

import html

from mensura.estimates.remedies import first_words
from mensura.estimates.stand_words import SOLD_ON_FIGURES
from mensura.teaching.panels.timber_budget import (
    DIAMETER_CM,
    FORM_FACTOR,
    HEIGHT_M,
    PLOT_M2,
    ROWS,
    TimberShown,
)
from mensura.views.kit.table import row_html, table_html
from mensura.written import minus

#: How each row is called, those that average out first.
NAMES = {
    "sampling": "sampling",
    "hand_percent": "hand",
    "bark_percent": "bark",
    "height_percent": "height, each",
    "area_percent": "plot area",
    "instrument_percent": "instrument",
    "shape_percent": "shape",
    "height_all_percent": "height meter",
    "form_percent": "form factor",
}
CAUTION = f"<p>{SOLD_ON_FIGURES}</p>"


def averages_out(row: str) -> bool:
    """Whether more plots make a row smaller.

    row: one of ROWS.
    """
    return ROWS[row][1] != "all"


def interval_words(n: TimberShown) -> str:
    """The interval of `n`, as in "169 to 241"."""
    low, high = (minus(f"{end:.0f}") for end in n.budget.interval)
    return f"{low} to {high}"


def plan_words(n: TimberShown) -> str:
    """What to do with the hours of `n`, in order."""
    if not n.steps:
        return "No remedy that gains anything fits into the hours there are."
    steps = ", then ".join(f"{name} ({hours:.3g} h)" for name, hours, _ in n.steps)
    return (
        f"With {n.hours:g} h: {steps}: from {n.budget.u_percent:.2f} % to {n.steps[-1][2]:.2f} %."
    )


def status(n: TimberShown) -> str:
    """One sentence: how sure the volume of `n` is, and what to do first."""
    does = "averages out" if averages_out(n.largest) else "does not average out"
    # the best of those for which there are hours
    first = f"; do first: {n.steps[0][0]}" if n.steps else "; nothing fits into the hours"
    return (
        f"{n.budget.value:.0f} m³/ha, u = {n.budget.u_percent:.1f} %; the most is "
        f"{NAMES[n.largest]}, {n.rows[n.largest][1]:.0f} % of u², and {does}{first}."
    )


def readout(n: TimberShown) -> str:
    """The tables below the picture: the budget of `n`, and every remedy."""
    body = ""
    for row, name in NAMES.items():
        u, share = n.rows[row]
        stays = "gets smaller" if averages_out(row) else "stays"
        body += row_html(name.capitalize(), f"{u:.2f}", f"{share:.1f}", stays)
    body += row_html("Together", f"{n.budget.u_percent:.2f}", "100.0", "")
    told = "".join(
        row_html(
            one.remedy.name.capitalize(),
            f"{one.hours:.3g}",
            f"{one.gain_percent:.3f}",
            f"{one.gain_percent_per_hour:.4f}",
        )
        for one in n.gains
    )
    notes = "".join(f"<p>{html.escape(note)}</p>" for note in n.budget.notes)
    return (
        table_html(("", "u, % of the volume", "Share of u², %", "With more plots"), body)
        + notes
        + f"<p>{html.escape(plan_words(n))} {html.escape(first_words(n.gains))}</p>"
        + table_html(("What to do", "Hours", "u falls by, %", "For each hour"), told)
        + "<p>The plots' spread is as it is seen: it holds what is new for each tree and plot "
        "already, and the sampling's own is what is left of it. By the law of propagation, to "
        "first order. Hours and effects of the remedies are invented: put your own in their "
        "place.</p>"
        f"<p>Assumed: a made-up stand of stems of {DIAMETER_CM:g} cm and {HEIGHT_M:g} m, form "
        f"factor {FORM_FACTOR:g}, on plots of {PLOT_M2:g} m²; errors independent and on average "
        "nought, but for what is one for all, which is the same on every tree.</p>" + CAUTION
    )
