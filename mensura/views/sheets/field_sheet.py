"""Sheets to take to the stems: for each hand, what to read with what, in its own order.

A row is a visit: one girth, or two readings of calipers at right angles. Each round begins on a
page of its own, so that nobody writes beside the figure of the round before. The page needs nothing
else, and whatever comes from a file is text, and escaped.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from importlib.resources import files

from markupsafe import Markup

from mensura.estimates.field_design import FieldDesign, Turn
from mensura.views.kit.letters import letters_style
from mensura.views.sheets.frame import framed

#: The day's cautions (common practice, no source).
CARE = (
    "Look up before you go to a stem: dead branches fall. Nobody works alone; somebody knows where "
    "you are and until when. Leave in a storm and at the first thunder. A steel band has sharp "
    "edges and springs back: gloves, and never let it run through the hand. Calipers have points: "
    "carry them closed, keep them off eyes. Thorns, wasps, ticks: look before you reach, and "
    "afterwards. The site's and the school's rules come first. These are figures of a practical: "
    "where timber is sold on one, a verified instrument and licensed practice count."
)


def field_sheets(
    design: FieldDesign, breast_height_m: float = 1.3, seconds_a_reading: float = 40.0
) -> str:
    """All hands' sheets as one page, each beginning on a sheet of paper of its own.

    design: of the practical; breast_height_m: above the ground; seconds_a_reading: an assumption.
    """
    sheets = Markup("\n").join(
        _sheet(design, hand, breast_height_m, seconds_a_reading) for hand in design.hands
    )
    here = files(__package__)
    style = "\n".join(
        [letters_style(), *(here.joinpath(one).read_text("utf-8") for one in _STYLES)]
    )
    whole = Markup("<h1>Field sheets</h1>\n{}").format(sheets)
    return framed("Field sheets", style, whole, "field")


_STYLES = ("sheet.css", "field_sheet.css")


def _sheet(design: FieldDesign, hand: str, breast_height_m: float, seconds: float) -> Markup:
    turns = design.turns[hand]
    visits = list(_visits(turns))
    minutes = len(turns) * seconds / 60
    rounds = [
        [(place, one) for place, one in enumerate(visits, 1) if _round_of(one[0]) == again]
        for again in range(design.repeats)
    ]
    tables = Markup("\n").join(
        _round(hand, again, design.repeats, one) for again, one in enumerate(rounds, 1)
    )
    lead = f"{len(visits)} visits, {len(turns)} readings"
    lead += f" in {design.repeats} rounds" if design.repeats > 1 else ""
    lead += f". About {minutes:.0f} min of your own at {seconds:g} s a reading, an assumption"
    others = len(design.hands) > 1 and (design.done_after.get(hand, 0) > len(turns))
    lead += "; you may have to wait for an instrument that another hand has." if others else "."
    steps = Markup("\n").join(
        Markup("<li><b>{}</b> {}</li>").format(head, text)
        for head, text in _steps(design, breast_height_m)
    )
    return Markup(
        '<section class="hand" aria-label="Sheet of {hand}">\n<div class="heading"><div>'
        '<h2>Field sheet of {hand}</h2><p class="lead">{lead}</p></div>{form}</div>\n'
        '<ul class="steps">\n{steps}\n</ul>\n<p class="care"><b>Care.</b> {care}</p>\n'
        "{tables}\n</section>"
    ).format(hand=hand, lead=lead, form=_FORM, steps=steps, care=CARE, tables=tables)


def _steps(design: FieldDesign, breast_height_m: float) -> Iterator[tuple[str, str]]:
    """How to read, in as many steps as the plan's instruments need."""
    kinds = set(design.kinds)
    height = f"{breast_height_m:g} m"
    if design.marked:
        yield "Height.", f"At the line on the stem, {height} above the ground. Do not look for it."
    else:
        yield (
            "Height.",
            f"Find {height} above the ground yourself, anew each time, by your class's rule for "
            "slopes and leaning stems. Finding it is part of the practical.",
        )
    if "girth" in kinds:
        yield "Tape.", "Square to the stem, not twisted, pulled as always. Read to the millimetre."
    if "diameter" in kinds:
        first = (
            "the beam along 0°, the mark on the stem, then along 90°"
            if design.marked
            else "the beam as you come to the stem, then at right angles to that"
        )
        yield "Calipers.", f"Twice at each stem: {first}. Take them off in between."
    yield (
        "Order.",
        "As the rows have it; it is shuffled on purpose. If somebody stands at the stem, take the "
        "next row and come back. Write at once; do not look at earlier figures, nor at others'.",
    )
    axis = "clockwise from the mark, seen from above" if design.marked else "as a bearing"
    yield (
        "Also.",
        f"Axis: the direction of the longest way through, {axis}, if you see it. Height: only if "
        "you had to read at another. Remarks: bark, bump, climber, lean, a figure crossed out.",
    )


def _visits(turns: Sequence[Turn]) -> Iterator[tuple[Turn, ...]]:
    """A girth alone, two readings of calipers together."""
    at = 0
    while at < len(turns):
        take = 1 if turns[at].kind == "girth" else 2
        yield tuple(turns[at : at + take])
        at += take


def _round_of(turn: Turn) -> int:
    """From 0; two unmarked readings of calipers are two repeats of one round."""
    if turn.kind == "diameter" and turn.direction_deg is None:
        return (turn.repeat - 1) // 2
    return turn.repeat - 1


def _round(
    hand: str, again: int, repeats: int, visits: Sequence[tuple[int, tuple[Turn, ...]]]
) -> Markup:
    rows = Markup("\n").join(_row(place, visit, before) for (place, visit), before in zip(
        visits, [None, *(one for _, one in visits)], strict=False
    ))  # fmt: skip
    told = f"Round {again} of {repeats}" if repeats > 1 else "All readings"
    after = "; earlier figures stay out of sight" if again > 1 else ""
    return Markup(
        '<table class="walk">{columns}<thead><tr>'
        '<th colspan="8" scope="colgroup" class="whose">{hand} '
        "<span>{told}{after}</span></th></tr><tr>{heads}</tr></thead><tbody>\n{rows}\n"
        "</tbody></table>"
    ).format(hand=hand, told=told, after=after, columns=_COLUMNS, heads=_HEADS, rows=rows)


_COLUMN_HEADS = (
    ("no", "no."),
    ("stem", "stem"),
    ("with", "with"),
    ("cm", "girth or first, cm"),
    ("cm", "across, cm"),
    ("axis", "axis, °"),
    ("high", "height, m"),
    ("free", "remarks"),
)
# the widths stand here, since the table's first row is one cell
_COLUMNS = Markup("<colgroup>{}</colgroup>").format(
    Markup().join(Markup('<col class="{}">').format(name) for name, _ in _COLUMN_HEADS)
)
_HEADS = Markup().join(
    Markup('<th scope="col" class="{}">{}</th>').format(*one) for one in _COLUMN_HEADS
)


def _row(place: int, visit: tuple[Turn, ...], before: tuple[Turn, ...] | None) -> Markup:
    """One visit; a line is heavier where another instrument is taken up."""
    first = visit[0]
    girth = first.kind == "girth"
    other = before is not None and before[0].instrument != first.instrument
    if girth:
        boxes = Markup('<td class="cm"><span>girth</span></td><td class="none">–</td>')
    else:
        words = ["0°", "90°"] if first.direction_deg is not None else ["first", "across"]
        boxes = Markup().join(
            Markup('<td class="cm"><span>{}</span></td>').format(one) for one in words
        )
    return Markup(
        '<tr{}><td class="no">{}</td><th scope="row" class="stem">{}</th>'
        '<td class="with">{}</td>{}<td></td><td></td><td></td></tr>'
    ).format(Markup(' class="other"') if other else "", place, first.stem, first.instrument, boxes)


_FORM = Markup(
    '<dl class="form">'
    "<div><dt>Date, hours</dt><dd></dd></div>"
    "<div><dt>Who writes (code)</dt><dd></dd></div>"
    "<div><dt>Weather, bark wet or dry</dt><dd></dd></div></dl>"
)
