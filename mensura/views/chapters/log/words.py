"""What the log panel says: the true volume, each rule's, and which forms a rule is made for."""

from __future__ import annotations

from mensura.estimates.areas import over_percent
from mensura.estimates.stand_words import SOLD_ON_FIGURES
from mensura.teaching.panels.log import FLARE_FADES_M, RULES, LogShown
from mensura.views.kit.table import row_html, table_html
from mensura.written import signed

CAUTION = f"<p>{SOLD_ON_FIGURES}</p>"


def sections_word(n: LogShown) -> str:
    """How the log of `n` is cut, as in "4 sections, Smalian in each"."""
    cut = "1 section" if n.count == 1 else f"{n.count} sections"
    return f"{cut}, {n.within} in each"


def status(n: LogShown) -> str:
    """One sentence: the true volume of `n`, and how far each rule is from it."""
    off = {rule: signed(n.over_percent[rule]) for rule in RULES}
    return (
        f"True {n.true_m3:.3f} m³ ({n.form}). Huber {off['Huber']} %, Smalian {off['Smalian']} %, "
        f"Newton {off['Newton']} %; {sections_word(n)}: {off['by sections']} %."
    )


def readout(n: LogShown) -> str:
    """The tables below the picture: every rule's volume of `n`, and what was read."""
    body = row_html("True volume", f"{n.true_m3:.4f}", "")
    names = dict(zip(RULES, RULES, strict=True)) | {"by sections": f"By {sections_word(n)}"}
    for rule in RULES:
        body += row_html(names[rule], f"{n.volumes_m3[rule]:.4f}", signed(n.over_percent[rule]))
    quarter = over_percent(n.quarter_girth_m3, n.true_m3)
    body += row_html("Quarter girth, middle", f"{n.quarter_girth_m3:.4f}", signed(quarter))
    read = ""
    for name, place, across in zip(("Butt", "Middle", "Top"), n.read_m, n.read_cm, strict=True):
        read += row_html(name, f"{place:.2f}", f"{across:.2f}")
    return (
        table_html(("", "Volume, m³", "Too large by, %"), body)
        + table_html(("", "Read at, m", "Diameter, cm"), read)
        + "<p>Huber takes the middle's area for all of the log, Smalian the mean of both ends', "
        "Newton four times the middle's and once each end's. Where the area is a straight line "
        "(cylinder, paraboloid) the first two are exact; Newton is exact up to the third power, "
        "so for cone and neiloid too, if the middle is the middle and there is no flare. "
        "The quarter-girth rule gives 78.54 % of Huber's volume: it is a rule of trade.</p>"
        "<p>Assumed: round sections, read without error; a flare whose area falls to 37 % in "
        f"{FLARE_FADES_M:g} m. All true volumes are closed forms.</p>" + CAUTION
    )
