"""What the place panel says: first only the reading, then its cost, then the rule's own place."""

from __future__ import annotations

from mensura.estimates.areas import area_from_girth_cm2, diameter_from_girth_cm
from mensura.estimates.place_readings import ABOVE_BUTTRESS_M
from mensura.teaching.panels.place import (
    COST,
    DRAWN_M,
    LOBE_CM_PER_M,
    LOBES,
    REACH_M,
    RULE,
    SHARES,
    SPREAD_DEG,
    PlaceShown,
)
from mensura.views.kit.table import compared, row_html, table_html
from mensura.written import signed

#: How each share is called, in picture and table.
NAMES = {
    "height": "height",
    "swelling": "swelling",
    "buttress": "buttress",
    "band": "held level",
    "fork": "two legs",
}
#: How a side is called in a sentence.
SIDES = {
    "uphill": "uphill side",
    "downhill": "downhill side",
    "middle": "ground half-way",
    "upper": "upper side of the lean",
    "under": "side it leans to",
}
#: The same where the ground is level.
LEVEL = {"uphill": "left side", "downhill": "right side", "middle": "ground half-way"}
_LEGS = {
    "each leg": "round each leg",
    "one band round both": "as one round both legs",
    "thicker leg only": "round the thicker leg only",
}
#: What moved the rule's band, in words.
MOVED = {
    "buttress": "above where it ends today; it grows up: look for where it will not reach",
    "mean": "mean of two girths as far above and below, clear of the swelling",
    "above": "above the swelling, since the buttress is below it",
    "below": "below the swelling, since the fork is above it",
    "legs": "each leg by itself, since the fork is below",
}


def reading_word(n: PlaceShown) -> str:
    """What was read of `n`, as in "95.9 and 76.7 cm"."""
    return " and ".join(f"{girth:.1f}" for girth in n.girths_cm) + " cm"


def held_word(n: PlaceShown) -> str:
    """How the band of `n` lies, in words."""
    held = "level" if n.level else "square to the stem"
    return f"{held}, {_LEGS[n.legs]}" if n.forked else held


def place_word(n: PlaceShown) -> str:
    """Where the band of `n` is, in words."""
    how = "upright" if n.plumb else "along the stem"
    side = side_word(n, n.side)
    litter = "" if n.cleared or not n.stem.litter_cm else ", litter left"
    return f"{n.height_m:.2f} m {how} from the {side}{litter}"


def rule_word(n: PlaceShown) -> str:
    """The rule of `n`, as in "1.30 m from the uphill side", or where a buttress sends it."""
    if "buttress" in n.moved_by:
        return f"{100 * ABOVE_BUTTRESS_M:.0f} cm above the buttress"
    return f"{n.rule_height_m:.2f} m from the {side_word(n, n.rule_side)}"


def side_word(n: PlaceShown, side: str) -> str:
    """A `side` of the stem of `n`: on level ground as the picture has it, or just the ground."""
    if n.stem.slope_deg or side not in LEVEL:
        return SIDES[side]
    return LEVEL[side] if n.stem.lean_deg else "ground"


def off_word(n: PlaceShown) -> str:
    """How far the band of `n` is from the rule's place along the stem."""
    off_cm = 100 * n.off_m
    if abs(off_cm) < 0.5:
        return "at the rule's height"
    return f"{abs(off_cm):.0f} cm too {'high' if off_cm > 0 else 'low'}"


def status(n: PlaceShown) -> str:
    """One sentence: the reading of `n`, and as much of its cost as its step tells."""
    read = f"Your band reads {reading_word(n)}"
    if n.step < COST:
        return f"{read}, {place_word(n)}. Set it where you would; then go on to what it costs."
    cost = f"{signed(n.area_over_percent)} % of sectional area"
    if n.step < RULE:
        return f"{read}. This costs {cost}. Where has the rule its place? Guess, then go on."
    why = f" ({MOVED[n.moved_by[-1]]})" if n.moved_by else ""
    return f"{read}, {off_word(n)}: {cost}. Rule: {rule_word(n)}{why}."


def readout(n: PlaceShown) -> str:
    """The tables below the picture: the reading of `n`, and as much of its cost as is told."""
    read = table_html(("Your band", "cm"), _read_rows(n))
    if n.step < COST:
        return f"{read}<p>The cost comes with the next step.</p>{caution(n)}"
    if n.step < RULE:
        cost = table_html(
            ("Your place costs", "%"),
            row_html("Girth", signed(n.girth_over_percent))
            + row_html("Sectional area", signed(n.area_over_percent))
            + row_html("Volume", signed(n.area_over_percent)),
        )
        more = "Volume as area × height × form, both of them as they were. The rule's place comes "
        return f"{read}{cost}<p>{more}with the next step.</p>{caution(n)}"
    return _against_rule(n) + read + _parts(n) + caution(n) + _assumed()


def caution(n: PlaceShown) -> str:
    """What to mind at such a stem as that of `n`, where it is told."""
    stem, said = n.stem, []
    if stem.lean_deg:
        said.append("a leaning stem may be hung up or rotten: look up, and stay from under it")
    if stem.fork is not None and stem.fork.at_m < DRAWN_M:
        said.append("forks split and drop dead wood")
    if stem.slope_deg >= 10:
        said.append("find your footing first, best above the stem")
    if stem.buttress is not None:
        said.append("buttresses are wet and slippery: never climb one to reach a place")
    said.append("a steel band's edge cuts")
    text = "; ".join(said)
    return (
        f"<p>Care: {text}. Local rules, and those licensed for such work, come before any "
        "reading.</p>"
    )


def _read_rows(n: PlaceShown) -> str:
    names = ("Thicker leg", "Other leg") if len(n.girths_cm) > 1 else ("Girth",)
    rows = "".join(
        row_html(name, f"{girth:.2f}") for name, girth in zip(names, n.girths_cm, strict=True)
    )
    if len(n.girths_cm) > 1:
        rows += row_html("One girth of the same area", f"{n.read_cm:.2f}")
    return rows


def _against_rule(n: PlaceShown) -> str:
    read_cm, rule_cm = (float(diameter_from_girth_cm(one)) for one in (n.read_cm, n.rule_cm))
    read_cm2, rule_cm2 = (float(area_from_girth_cm2(one)) for one in (n.read_cm, n.rule_cm))
    body = row_html("Girth, cm", *compared(n.read_cm, n.rule_cm, 2))
    body += row_html("Diameter, cm", *compared(read_cm, rule_cm, 2))
    body += row_html("Area, cm²", *compared(read_cm2, rule_cm2, 1))
    return table_html(("", "By the rule", "As read", "Error", "Error, %"), body)


def _parts(n: PlaceShown) -> str:
    shares = "".join(
        row_html(NAMES[key].capitalize(), signed(n.shares_percent[key])) for key in SHARES
    )
    moved = "; ".join(MOVED[one] for one in n.moved_by)
    moved = f" Here: {moved}." if moved else ""
    return (
        table_html(("Of which", "% of area"), shares)
        + f"<p>Your place: {place_word(n)}, {held_word(n)}; {off_word(n)}. The rule here: "
        f"{rule_word(n)}, along the stem, square to it, litter scraped away.{moved} Of several "
        "girths stands one of the same area. A volume by area × height × form is as much off as "
        "the area. The parts depend on the order in which they are taken (from above); their sum "
        "does not.</p>"
    )


def _assumed() -> str:
    return (
        "<p>Assumed: a straight axis and an even taper; heights of fork and buttress told from the "
        f"uphill ground; a swelling gone {REACH_M:g} m above and below its middle, and none beside "
        f"a fork that is as near; {LOBES} lobes that stand off {LOBE_CM_PER_M:g} cm for each m of "
        "their height at the foot, by the square less above, slim ones (broad ones cost far more), "
        "which end below a fork; legs that together have the section the stem would "
        f"have had, each {SPREAD_DEG:g}° off it, without the thickening below a real fork: stay "
        "clear of that. Where manuals disagree, the lists choose between them.</p>"
    )
