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
    held = int(hold.sum())
    many = {0: f"None of {CLASSES} classes has", CLASSES: f"All {CLASSES} classes have"}
    have = many.get(held, f"Of {CLASSES} classes {held} {'has' if held == 1 else 'have'}")
    missed = [str(one) for one in np.flatnonzero(~hold) + 1]
    if len(missed) > 7:
        missed = [*missed[:6], f"{len(missed) - 6} others"]
    *most, last = missed or [""]
    names = f"classes {', '.join(most)} and {last}" if most else f"class {last}"
    tail = f"; {names} missed it" if missed and held else ""
    return f"{have} the true stretch in {'its' if held < 2 else 'their'} interval{tail}."


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
    held = int(hold.sum())
    catch = f"{held or 'None'} of {CLASSES} classes {'catches' if held < 2 else 'catch'}"
    return f"{told}. {catch} the true stretch."


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
        spread = (
            "Two marks always lie on a line: whether it is straight, and how sure the card is, "
            "they cannot say."
        )
    else:
        spread = (
            f"The readings spread by s = {one.residual_sd_cm:.3f} cm about the line, with "
            f"{one.degrees_of_freedom:.3g} degrees of freedom: Student's factor is "
            f"{n.factor:.2f}, and 95 % is that many u to either side."
        )
    return (
        table_html(names, body) + f"<p>{spread}{_of_the_step(n)} {classes_words(n)}</p>"
        "<p>Assumed: stretched alike all along, a reference without error, the hand's chance "
        "normal and alike at all marks, read to the nearest step. The reading's own spread and "
        "step come on top, in the budget.</p>"
    )


def _of_the_step(n: TapeCardShown) -> str:
    """What the step does to the spread, so that it can be worked out by hand."""
    one, repeats = n.card, n.reference_cm.size // n.places_cm.size
    step, spread, taken = one.resolution_cm, one.residual_sd_cm, one.taken_sd_cm
    if not step:
        return ""
    alone = step / 12**0.5
    said = (
        f" A step of {step:g} cm makes {step:g}/√12 = {alone:.3f} cm at each mark, and there "
        "repeats do not rid it."
    )
    if spread is None or taken is None:
        return said
    least = alone * repeats**0.5
    root = f"√{repeats}·{alone:.3f} = " if repeats > 1 else ""
    said += f" So the spread counts for {root}{least:.3f} cm at the least."
    if taken > 1.001 * max(least, spread):
        said += (
            " Marks may share their rounding as well, the more so at even distances: "
            f"here it counts for {taken:.3f} cm."
        )
    elif taken > 1.001 * spread:
        said += f" That is more than s, and u is worked out with it: {taken:.3f} cm."
    return said
