"""What the panel on what could be detected says: the sizes, what asks for them, and the check."""

from __future__ import annotations

from mensura.estimates.detectable_formula import SIMULATED, SIMULATED_DRAWS, Found
from mensura.teaching.panels.detectable import DetectableShown
from mensura.views.kit.table import row_html, table_html

ASSUMED = (
    "<p>By a formula, an approximation: every hand reads every stem, the tapes go round, one hand "
    "or tape is off by a share, and nobody blunders. Found is what the verdict names on its side: "
    "beyond chance over all hands and tapes (5 %) and large enough to matter. Beside it what the "
    f"study's own verdict finds in nine of ten of {SIMULATED_DRAWS} drawn practicals, which is "
    "itself known to about a tenth; all else as at the start.</p>"
)


def asks(n: DetectableShown, one: Found) -> str:
    """What decides the size: that it matters, or chance.

    n: the panel's numbers; one: its hand or tape.
    """
    return "chance" if one.chance_percent > n.matters_percent else "what matters"


def size_word(one: Found) -> str:
    """A size with two digits, as everywhere in the panel.

    one: of a hand or a tape.
    """
    return f"{one.size_percent:.2f} %"


def status(n: DetectableShown) -> str:
    """One sentence: what the plan of `n` finds in nine of ten, and what decides that."""
    return (
        f"With {n.reading_count} readings, nine of ten practicals find a hand that is off by "
        f"{size_word(n.hand)} (decided by {asks(n, n.hand)}) and a tape that is off by "
        f"{size_word(n.tape)} (by {asks(n, n.tape)}); by the formula, an approximation."
    )


def readout(n: DetectableShown) -> str:
    """The tables below the picture: the parts of both sizes of `n`, and every simulated plan."""
    both = (n.hand, n.tape)
    body = row_html("Found in nine of ten, %", *(f"{one.size_percent:.2f}" for one in both))
    body += row_html("It has to matter, %", *(f"{n.matters_percent:.2f}" for _ in both))
    body += row_html("Beyond chance from, %", *(f"{one.chance_percent:.2f}" for one in both))
    body += row_html("Standard error, %", *(f"{one.error_percent:.2f}" for one in both))
    plans = ""
    for one, (hand, tape) in zip(SIMULATED, n.checked_percent, strict=True):
        plan = f"{one.hands}, {one.tapes}, {one.stems}, {one.repeats}, {one.lay_percent:g} %"
        sizes = (hand, one.hand_percent, tape, one.tape_percent)
        plans += row_html(plan, *(f"{size:.2f}" for size in sizes))
    heads = (
        "Hands, tapes, stems, a stem, laid",
        "Hand, formula",
        "simulated",
        "Tape, formula",
        "simulated, tape",
    )
    return table_html(("", "A hand", "A tape"), body) + ASSUMED + table_html(heads, plans)
