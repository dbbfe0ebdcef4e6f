"""What the plots panel says: the truth, what this throw found, and how many throws hold it."""

from __future__ import annotations

from mensura.teaching.panels.plots import SIDE_M, THROWS, PlotsShown, Way
from mensura.views.kit.table import row_html, table_html

#: Below so many plots it is said what an interval rests on.
FEW_PLOTS = 5


def digits(n: PlotsShown) -> int:
    """Digits after the point of the figure of `n`."""
    return 1 if n.figure == "basal area" else 0


def name_of(n: PlotsShown, way: str) -> str:
    """How a way of counting is called, with its size.

    n: the panel's numbers; way: one of WAYS.
    """
    if way == "plots":
        return f"plots of {n.area_m2:g} m²"
    return f"angle gauge, factor {n.factor:g}"


def interval_words(n: PlotsShown, way: Way) -> str:
    """The interval of the throw that is shown, as in "18.2 to 30.1".

    n: the panel's numbers; way: whose.
    """
    # fewer than nothing do not grow
    low, high = (f"{max(end, 0.0):.{digits(n)}f}" for end in way.found.interval)
    return f"{low} to {high}"


def holds_words(way: Way, throw: int) -> str:
    """Whether a throw's interval holds the truth.

    way: whose; throw: from 1.
    """
    return "holds it" if way.holds[throw - 1] else "misses it"


def status(n: PlotsShown) -> str:
    """One sentence: the truth of `n`, and both ways' interval in this throw."""
    said = "; ".join(
        f"{name_of(n, way)}: {one.found.value:.{digits(n)}f}, 95 % from {interval_words(n, one)}, "
        f"{holds_words(one, n.throw)}"
        for way, one in n.ways.items()
    )
    return f"True {n.figure} {n.true_per_ha:.{digits(n)}f} {n.unit}. Throw {n.throw}: {said}."


def readout(n: PlotsShown) -> str:
    """The table below the picture: both ways of `n`, and what is assumed."""
    body = row_html("The whole stand", f"{n.true_per_ha:.{digits(n)}f}", "", "", "", "")
    for way, one in n.ways.items():
        body += row_html(
            name_of(n, way).capitalize(),
            f"{one.found.value:.{digits(n)}f}",
            f"{one.found.se:.{digits(n) + 1}f}",
            interval_words(n, one),
            f"{one.trees}",
            f"{int(one.holds.sum())} of {THROWS}",
        )
    heads = (
        "", f"{n.figure.capitalize()}, {n.unit}", "Standard error", "95 %", "Trees looked at",
        "Throws that hold the truth",
    )  # fmt: skip
    few = ""
    if n.plots < FEW_PLOTS:
        few = (
            f"<p>The interval of {n.plots} plots rests on {n.plots - 1} difference"
            f"{'' if n.plots == 2 else 's'} between plots and on the assumption that plots vary "
            "as a normal law does. It is honest only because it is so long.</p>"
        )
    if any(one.found.se == 0 for one in n.ways.values()):
        few += (
            "<p>Plots that count the same leave an interval of no length. That is chance, not "
            "certainty.</p>"
        )
    return (
        table_html(heads, body)
        + few
        + "<p>An interval is made so that 95 of 100 throws hold the truth, whichever throw you "
        "made; one in twenty misses, and the throw itself does not tell. With few plots, or trees "
        "in clumps, plots are not normal and somewhat fewer may hold it.</p>"
        f"<p>A made-up stand, {SIDE_M:g} m square, thought to go on beyond an edge as at the "
        "opposite one, so that no plot is cut. Plots lie at random and may overlap; every tree is "
        "counted rightly and every diameter is true: only the sampling is unsure here. Both ways "
        "stand at the same places.</p>"
    )
