"""What the tape card panel says: the sentence of a change, and the table beneath the picture."""

from __future__ import annotations

import numpy as np

from mensura.teaching.panels.tape_card import CLASSES, TapeCardShown, Told
from mensura.views.kit.table import row_html, table_html
from mensura.written import signed


def told_words(name: str, told: Told, unit: str) -> str:
    """A figure with its interval and the truth.

    name: of the figure; told: the figure beside the truth; unit: as written.
    """
    sure = "" if told.half is None else f" ± {told.half:.2f}"
    return f"{name} {signed(told.found)}{sure} {unit} (truth {signed(told.planted)})"


def classes_words(n: TapeCardShown) -> str:
    """How many classes' intervals hold the truth; n: the numbers."""
    hold = n.classes_hold
    if hold is None:
        return "No class has an interval."
    missed = [str(one) for one in np.flatnonzero(~hold) + 1]
    names = ", ".join(missed[:6]) + (" and others" if len(missed) > 6 else "")
    tail = f"; class {names} missed it" if missed else ""
    return f"Of {CLASSES} classes {int(hold.sum())} have the true stretch in their interval{tail}."


def status(n: TapeCardShown) -> str:
    """One sentence: what the card of `n` says, the truth in brackets, and how sure it is."""
    on = " (outside the marks)" if n.drawn_on else ""
    parts = (
        ("Stretch", n.stretch, "%"),
        ("worn start", n.worn, "cm"),
        (f"to {n.reading_cm:.1f} cm{on} add", n.correction, "cm"),
    )
    told = "; ".join(
        told_words(name, one, unit).replace("(truth ", "(") for name, one, unit in parts
    )
    hold = n.classes_hold
    if hold is None:
        return f"{told}. Two marks give no uncertainty."
    return f"{told}. {int(hold.sum())} of {CLASSES} classes catch the true stretch."


def readout(n: TapeCardShown) -> str:
    """The table below the picture: the card's figures of `n` beside the truth."""
    rows = (
        ("Stretch, %", n.stretch, 3),
        ("Worn start, cm", n.worn, 3),
        (f"Add to {n.reading_cm:g} cm, cm", n.correction, 3),
    )
    names = ("", "Planted", "Found", "u", "95 % from", "to", "Holds the truth")
    body = ""
    for name, told, digits in rows:
        if told.u is None or told.half is None:
            sure: tuple[str, ...] = ("none",) * 4
        else:
            ends = (signed(told.found + way * told.half, digits) for way in (-1, 1))
            sure = (f"{told.u:.{digits}f}", *ends, "yes" if told.holds else "no")
        body += row_html(name, signed(told.planted, digits), signed(told.found, digits), *sure)
    one = n.card
    if n.factor is None or one.residual_sd_cm is None:
        spread = "Two marks always lie on a line: how sure the card is, they cannot say."
    else:
        spread = (
            f"The readings spread by s = {one.residual_sd_cm:.3f} cm about the line, with "
            f"{one.degrees_of_freedom:.3g} degrees of freedom: Student's factor is "
            f"{n.factor:.2f}, and 95 % is that many u to either side."
        )
    step, taken = one.resolution_cm, one.taken_sd_cm or 0.0
    if step:
        spread += (
            f" A step of {step:g} cm alone makes {step:g}/√12 = {step / 12**0.5:.3f} cm at each "
            "mark; where the hand hardly spreads, repeats are off alike."
        )
    if one.residual_sd_cm is not None and taken > 1.001 * one.residual_sd_cm:
        spread += (
            f" Marks may share their rounding too, so u is worked out with {taken:.3f} cm in place "
            "of s."
        )
    return (
        table_html(names, body) + f"<p>{spread} {classes_words(n)}</p>"
        "<p>Assumed: stretched alike all along, a reference without error, the hand's chance "
        "normal and alike at all marks, read to the nearest step. The reading's own spread and "
        "step come on top, in the budget.</p>"
    )
