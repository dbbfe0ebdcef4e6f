"""What the panel on choosing says: one sentence, a table of the errors' parts, and every flip."""

from __future__ import annotations

from mensura.estimates.instrument_flips import Flip
from mensura.estimates.which_instrument import CALIPERS, MOST_READINGS, TAPE, Kit, PlotError
from mensura.teaching.panels.which_instrument import ENDS, WhichShown
from mensura.views.kit.table import row_html, table_html

#: What is moved to find a flip: how it is called, its unit, and its digits.
MOVED = {
    "out_of_round_percent": ("Out-of-roundness", " %", 2),
    "diameter_cm": ("Stems' diameter", " cm", 1),
    "undergrowth": ("Undergrowth", "", 2),
}
_BETTER = {
    "tape": "the tape is better",
    "calipers": "the calipers are better",
    "neither": "neither can be used",
}


def place_word(name: str, at: float) -> str:
    """A place on what is moved, without its unit.

    name: of what is moved; at: in its unit.
    """
    return f"{at:.{MOVED[name][2]}f}"


def flip_word(n: WhichShown) -> str:
    """What stands at the line: where the better one of `n` changes; nothing where several do."""
    found, unit = n.flips[n.along], MOVED[n.along][1]
    if not found:
        return f"no flip: {_BETTER[n.better]}"
    if len(found) > 1:
        return ""
    return f"flips at {place_word(n.along, found[0].at)}{unit}, then {found[0].after}"


def least_count(n: WhichShown, kit: Kit) -> int:
    """How many readings it would have to be, where not one plan fits.

    n: the panel's numbers; kit: the instrument. None where it cannot take the stem: 0.
    """
    if kit.opening_cm is not None and float(n.morning.longest_cm) > kit.opening_cm:
        return 0
    return 1 if kit.name == "tape" or _knows_one(n) else 2


def _knows_one(n: WhichShown) -> bool:
    return n.practice not in ("right angles, product", "right angles, mean")


def why_not(n: WhichShown, kit: Kit) -> str:
    """Why an instrument cannot be used, in a sentence that goes on from its name.

    n: the panel's numbers; kit: the instrument.
    """
    if not least_count(n, kit):
        return f"they open to {kit.opening_cm:g} cm only"
    return f"there is no time for one {'pair' if least_count(n, kit) == 2 else 'reading'}"


def minutes_word(n: WhichShown, kit: Kit) -> str:
    """What is done to a stem, and how long that takes.

    n: the panel's numbers; kit: the instrument.
    """
    plan = n.plans[kit.name]
    if not plan:
        return f"{kit.name}: {why_not(n, kit)}"
    minutes = float(plan.needed_min) / n.morning.stem_count
    return f"{kit.name}: {_readings(plan)}, {minutes:.1f} min"


def _readings(plan: PlotError) -> str:
    """What is done to a stem."""
    count = int(plan.reading_count)
    if plan.way == "girth":
        return "1 girth" if count == 1 else f"{count} girths"
    if plan.way == "directions":
        return "1 reading" if count == 1 else f"{count} readings (mean)"
    pairs = "1 pair" if count == 2 else f"{count // 2} pairs"
    return f"{pairs} ({'product' if plan.way == 'products' else 'mean'})"


def along_word(n: WhichShown, name: str) -> str:
    """The better instrument from end to end of a control, in words.

    n: the panel's numbers; name: of the control.
    """
    unit = MOVED[name][1]
    least, most = ENDS[name]
    found = n.flips[name]
    if not found:
        all_along = "" if n.better == "neither" else " all along,"
        return f"{_BETTER[n.better]}{all_along} from {least:g} to {most:g}{unit}"
    told = [f"{one.before} to {place_word(name, one.at)}{unit}{_step(one)}" for one in found]
    return f"{', '.join(told)}, then {found[-1].after}"


def _step(one: Flip) -> str:
    return " (a step)" if one.sudden else ""


def status(n: WhichShown) -> str:
    """One sentence: which instrument for the plot of `n`, how many readings, and where it flips."""
    better = n.plans.get(n.better)
    if better is None:
        why = "; ".join(f"{kit.name}: {why_not(n, kit)}" for kit in n.kits)
        return (
            f"Neither can be used: there are {n.morning.a_stem_min:.2f} minutes for a stem, and "
            f"getting to it takes {float(n.morning.walked_min):.2f} ({why})."
        )
    name = "calipers" if n.better == "tape" else "tape"
    other, kit = n.plans[name], n.kits[0 if name == "tape" else 1]
    said = (
        f"{name}, {_readings(other)}: {float(other.error_percent):.2f} %"
        if other
        else f"the {name} cannot be used: {why_not(n, kit)}"
    )
    return (
        f"Take the {n.better}, {_readings(better)} a stem: error "
        f"{float(better.error_percent):.2f} % of the plot's basal area; {said}. "
        f"{MOVED[n.along][0]}: {along_word(n, n.along)}."
    )


def readout(n: WhichShown) -> str:
    """The table below the picture: the parts of both errors of `n`, all flips, what is assumed."""
    rows = (
        ("Always over: not round, %", "shape_percent"),
        ("Always over: errors squared, %", "squared_percent"),
        ("Either way: the hand, %", "hand_percent"),
        ("Either way: the directions, %", "direction_percent"),
        ("Either way, all stems alike: instrument, %", "common_percent"),
        ("Error, root mean square, %", "error_percent"),
        ("Minutes for the plot", "needed_min"),
    )
    body = row_html("Readings a stem", *(_readings(p) if p else "none" for p in n.plans.values()))
    for title, name in rows:
        digits = 1 if name == "needed_min" else 3
        cells = (
            f"{float(getattr(plan, name)):.{digits}f}" if plan else "" for plan in n.plans.values()
        )
        body += row_html(title, *cells)
    flips = "".join(
        f"<li>{title}: {along_word(n, name)}.</li>" for name, (title, _, _) in MOVED.items()
    )
    return (
        table_html(("", "Tape", "Calipers"), body)
        + f"<p>Where the better one changes, all else as it is:</p><ul>{flips}</ul>{_assumed(n)}"
    )


def _assumed(n: WhichShown) -> str:
    plot, (tape, jaws) = n.morning, n.kits
    return (
        "<p>At a step a reading more or less fits into the time, or the calipers open no further. "
        "Error = √(over² + either way²): the two parts that are over are added first.</p>"
        "<p>Assumed: every stem of the plot is read, all equally often; the stems are alike, "
        "ellipses, their axes anywhere and not seen, so that each reading or pair of the calipers "
        "has a direction by chance. Hollows and ripples are not in it, and a little of them can "
        "turn the calipers' lead round. A card's correction is made; what it leaves unsure is the "
        "same on all stems.</p>"
        "<p>By hand, nearly: with e = longer over shorter diameter, less 1, the tape and the mean "
        "of a pair are over by 37.5·e²/(1 + e) %, the product of a pair by 25·e²/(1 + e) %, the "
        "mean of n readings in any directions by (37.5 + 12.5/n)·e²/(1 + e) %. The hand's part is "
        "200·s/(L·√(n·N)) %, with s its spread on a girth or a width of L, n readings of each of N "
        "stems; the instrument's "
        "part is 200·c/L %, with c by what all are off.</p>"
        f"<p>Minutes: our assumption, for no published ones were found. {plot.walk_min:g} min to a "
        f"stem and for writing down, {plot.walk_min + plot.brush_walk_min:g} in dense undergrowth. "
        f"One reading on clear ground: {_pace(tape)} with the tape, {_pace(jaws)} with calipers; "
        f"in dense undergrowth {1 + TAPE.brush_share:g} times as long with the tape and "
        f"{1 + CALIPERS.brush_share:g} times with calipers; between clear and dense all of it "
        f"grows evenly. Calipers open to {CALIPERS.opening_cm:g} cm; no stem is read more than "
        f"{MOST_READINGS} times. That calipers are faster, and the tape better in brush and round "
        "very large trees, is a rule of C. Kleinn's course (2007).</p>"
    )


def _pace(kit: Kit) -> str:
    return f"{kit.reading_min:.3g} min and {kit.per_10_cm_min:.3g} more for each 10 cm of diameter"
