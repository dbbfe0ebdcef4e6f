"""A card as one page to print: what a check found above, and below it how to make one.

The page needs nothing else: letters and picture are in it, and its own policy forbids it to load
anything. Whatever comes from a file is text, and escaped.
"""

from __future__ import annotations

from collections.abc import Sequence
from importlib.resources import files

from markupsafe import Markup

from mensura.estimates.card_rows import (
    card_digits,
    card_name,
    card_rows,
    found_names,
    freedom_words,
)
from mensura.instruments.class_check import ClassedMark
from mensura.instruments.tape_card import Card
from mensura.views.kit.letters import letters_style
from mensura.views.kit.live import draw_still
from mensura.views.sheets.frame import framed
from mensura.views.sheets.residual_picture import ResidualPicture
from mensura.written import rounded, signed

#: How a class makes a card, in steps.
MAKING = (
    (
        "Reference.",
        "A steel tape of class I or II, or a wooden rule of known length, flat on the floor of a "
        "corridor and held at both ends. Note what it is and how sure its length is. It must be "
        "longer than the thickest stem's girth.",
    ),
    (
        "Marks.",
        "At least five, spread over the girths of the stems that you measure, the shortest and "
        "the longest among them. Odd places such as 43.7 cm are better than whole tens: round "
        "ones share their rounding.",
    ),
    (
        "Pull.",
        "Lay the tape beside it, straight and flat. One hand holds its start at the reference's "
        "start, the other pulls with a spring balance, always alike, as you do round a stem. "
        "Write the pull and the temperature down.",
    ),
    (
        "Read.",
        "At each mark, to the smallest step that you can tell, with the eye straight above. Do not "
        "look at what the last one wrote.",
    ),
    (
        "Again.",
        "Take both ends up, move them, lay the tape anew, change hands: three rounds. Readings "
        "that were not laid anew are no repeats.",
    ),
    (
        "Write.",
        "One row a reading: reference_cm,reading_cm, then temperature_c and pull_n. "
        "mensura tape-card FILE.csv --instrument T3 --out cards makes this page.",
    ),
    (
        "Look.",
        "At what the line leaves over: a bow, a jump or one reading far off is a slip or a kink. "
        "Read that mark again before you believe the card.",
    ),
)
#: More marks, and more readings of one, are counted and not listed.
MOST_MARKS, MOST_REPEATS, MOST_WARNINGS = 24, 4, 2
#: Empty rows for the next check.
ROUNDS = 5

CARE = (
    "A steel band has sharp edges and springs back: wear gloves, never let it run through the "
    "hand, keep it off eyes and off power lines, and keep the corridor clear. Your school's rules "
    "come first. Where timber is sold on a figure, a verified tape and licensed practice count, "
    "not this card."
)

#: The same for calipers.
MAKING_OF_CALIPERS = (
    (
        "Reference.",
        "Bars or boards with parallel faces, cut to known lengths. Note how sure these are.",
    ),
    (
        "Marks.",
        "At least five lengths, over the diameters of the stems that you measure. Jaws that are "
        "closed show a zero error too, but give no row: a reference has some length.",
    ),
    ("Press.", "Close the jaws as you do on a stem, always alike, and read before they come off."),
    (
        "Read.",
        "To the smallest step that you can tell. Do not look at what the last one wrote.",
    ),
    (
        "Again.",
        "Take the calipers off, turn the bar, lay them on anew at the jaws' tips and at their "
        "roots, change hands: three rounds.",
    ),
    (
        "Write.",
        "One row a reading: reference_cm,reading_cm, then temperature_c. "
        "mensura tape-card FILE.csv --kind calipers --instrument K1 --out cards makes this page.",
    ),
    (
        "Look.",
        "At what the line leaves over: a bow, a jump or one reading far off is a slip or a bent "
        "jaw. Read that length again before you believe the card.",
    ),
)
CARE_OF_CALIPERS = (
    "Jaws have points and long arms: keep them off eyes and carry them closed. Your school's rules "
    "come first. Where timber is sold on a figure, a verified instrument and licensed practice "
    "count, not this card."
)


def card_page(
    card: Card,
    marks: Sequence[ClassedMark],
    accuracy_class: str | None,
    notes: Sequence[str],
    warnings: Sequence[str] = (),
) -> str:
    """A card's page, whole.

    card: of an instrument; marks: each beside its limit; accuracy_class: of the limits, None where
    none was named; notes: what has to be said with it; warnings: of likely slips.
    """
    name = card_name(card)
    items = Markup("\n").join(Markup("<li>{}</li>").format(one) for one in notes)
    steps = Markup("\n").join(
        Markup("<li><b>{}</b> {}</li>").format(head, text)
        for head, text in (MAKING if card.kind == "tape" else MAKING_OF_CALIPERS)
    )
    where = "in a corridor" if card.kind == "tape" else "on a bench"
    readings = sum(len(one.readings_cm) for one in card.marks)
    title = f"Card of {name}"
    return framed(
        title,
        letters_style() + "\n" + _sheet(),
        _BODY.format(
            title=title,
            lead=f"{readings} readings at {len(card.marks)} marks. {_holds(card)}",
            warnings=_warned(warnings),
            form=_form(card),
            found=_found(card),
            corrections=_corrections(card),
            read=_read(card, marks, accuracy_class),
            rounds=_rounds(card),
            picture=_picture(card),
            notes=items,
            heading=f"Making a card {where}",
            steps=steps,
            care=CARE if card.kind == "tape" else CARE_OF_CALIPERS,
        ),
        _size(marks, notes, warnings),
    )


def _sheet() -> str:
    return files(__package__).joinpath("sheet.css").read_text("utf-8")


def _holds(card: Card) -> str:
    at = "temperature: nobody said" if card.temperature_c is None else f"{card.temperature_c:g} °C"
    pull = "pull: nobody said" if card.pull_n is None else f"a pull of {card.pull_n:.3g} N"
    return f"Holds at {at}; {pull}." if card.temperature_c is not None else f"Its {at}; {pull}."


def _warned(warnings: Sequence[str]) -> Markup:
    """Likely slips, in a frame above all else."""
    if not warnings:
        return Markup()
    told = list(warnings[:MOST_WARNINGS])
    if len(warnings) > MOST_WARNINGS:
        more = len(warnings) - MOST_WARNINGS
        told.append(f"{more} more {'are' if more > 1 else 'is'} in the card's file.")
    lines = Markup("\n").join(Markup("<p><b>Look again.</b> {}</p>").format(one) for one in told)
    return Markup('<div class="slips" role="note">{}</div>').format(lines)


def _form(card: Card) -> Markup:
    """Lines to fill in by hand; what is known stands there already."""
    sure = [f"{card.reference_u_cm:g} cm"] if card.reference_u_cm else []
    sure += [f"{card.reference_u_percent:g} %"] if card.reference_u_percent else []
    rows = [
        ("Date", ""),
        ("Made by", ""),
        ("Reference", ""),
        ("known to (u)", " and ".join(sure)),
        ("Checked with a pull of", "" if card.pull_n is None else f"{card.pull_n:.3g} N"),
    ]
    if card.kind != "tape":
        del rows[4]
    cells = Markup("\n").join(
        Markup("<div><dt>{}</dt><dd>{}</dd></div>").format(*row) for row in rows
    )
    return Markup('<dl class="form">{}</dl>').format(cells)


def _rounds(card: Card) -> Markup:
    """An empty table to write the next check on."""
    heads = ["mark, cm", "round 1, cm", "round 2, cm", "round 3, cm", "°C"]
    heads += ["pull, N"] if card.kind == "tape" else []
    head = Markup().join(Markup('<th scope="col">{}</th>').format(one) for one in heads)
    row = Markup("<tr>{}</tr>").format(Markup("<td></td>") * len(heads))
    return Markup(
        '<table class="rounds"><caption>To write on <span>the next check</span></caption>'
        "<thead><tr>{}</tr></thead><tbody>{}</tbody></table>"
    ).format(head, row * ROUNDS)


def _size(marks: Sequence[ClassedMark], notes: Sequence[str], warnings: Sequence[str]) -> str:
    """How much stands on the page, so that it stays one: few, some, many or most."""
    words = sum(map(len, notes)) + sum(map(len, warnings[:MOST_WARNINGS]))
    for most, marks_too, size in ((1250, 6, "few"), (1900, 9, "some"), (2200, 14, "many")):
        if len(marks) <= marks_too and words < most:
            return size
    return "most"


def _found(card: Card) -> Markup:
    tape = card.kind == "tape"
    ratio = (
        ("Stretch", card.stretch_percent, card.stretch_u_percent, card.stretch_interval_percent)
        if tape
        else ("Scale", card.scale_percent, card.scale_u_percent, card.scale_interval_percent)
    )
    start = (
        "Worn start" if tape else "Zero error",
        card.start_cm,
        card.u_start_cm,
        card.start_interval_cm,
    )
    rows = []
    for (name, value, u, interval), unit in ((ratio, "%"), (start, "cm")):
        digits = len(rounded(u, 2).partition(".")[2]) if u else 2
        ends = [_told(end, digits) for end in interval] if interval else []
        rows.append(
            [
                name,
                f"{_told(value, digits)} {unit}",
                f"{rounded(u, 2)} {unit}" if u is not None else "not known",
                f"{ends[0]} to {ends[1]} {unit}" if ends else "not known",
            ]
        )
    if card.residual_sd_cm is not None:
        spread = f"{rounded(card.residual_sd_cm, 2)} cm"
        rows.append(["Spread about the line", spread, "", freedom_words(card.degrees_of_freedom)])
        together = signed(card.found_correlation or 0.0)
        rows.append(["Correlation", together, "", f"of {found_names(card)}"])
    model = (
        "reading = reference / (1 + stretch) + worn start"
        if tape
        else "reading = reference · (1 + scale) + zero error"
    )
    return _table("What was found", model, ("", "best", "u", "95 % interval"), rows, False)


def _corrections(card: Card) -> Markup:
    digits = card_digits(card)
    rows = []
    for row in card_rows(card):
        reads = f"{row['reads_cm']:g}" + (" *" if row["drawn_on"] else "")
        rows.append(
            [
                reads,
                signed(row["add_cm"], digits),
                _told(row["length_cm"], digits),
                _told(row["u_cm"], digits),
                _told(row["plus_minus_cm"], digits),
            ]
        )
    return _table(
        "Corrections",
        "cm; * drawn on",
        ("reads", "add", "length", "u", "± 95 %"),
        rows,
        True,
    )


def _read(card: Card, marks: Sequence[ClassedMark], accuracy_class: str | None) -> Markup:
    """What was read at each mark, beside its limit where a class was named."""
    short = {True: "within", False: "not within", None: "cannot be decided"}
    digits = _digits(card.resolution_cm)
    rows = []
    for one, mark in list(zip(marks, card.marks, strict=True))[:MOST_MARKS]:
        several = mark.readings_cm
        told = " ".join(_told(reading, digits) for reading in several[:MOST_REPEATS])
        if len(several) > MOST_REPEATS:
            told += f" … ({len(several)})"
        row = [f"{one.reference_cm:g}", told, signed(10 * one.error_cm, 2)]
        if accuracy_class is not None:
            row += [
                _told(None if one.expanded_cm is None else 10 * one.expanded_cm, 2),
                f"{10 * (one.permissible_cm or 0.0):.1f}",
                short[one.within],
            ]
        rows.append(row)
    heads = ["mark, cm", "readings, cm", "error, mm"]
    title, beside = "What was read", "error: mean reading less mark"
    if accuracy_class is not None:
        heads += ["± 95 %, mm", "limit, mm", f"class {accuracy_class}"]
    more = len(marks) - MOST_MARKS
    if more > 0:
        beside += f"; {more} more {'marks are' if more > 1 else 'mark is'} in the card's file"
    return _table(title, beside, heads, rows, True)


def _picture(card: Card) -> Markup:
    """What the line leaves over; nothing for two marks, through which it always goes."""
    if card.residual_sd_cm is None:
        return Markup()
    drawn = Markup(draw_still(ResidualPicture(card), card).svg)
    return Markup("<figure><figcaption>What the line leaves over</figcaption>{}</figure>").format(
        drawn
    )


def _digits(resolution_cm: float) -> int:
    """After the point, for readings of a step."""
    written = f"{resolution_cm:.6f}".rstrip("0") if resolution_cm else "0.00"
    return len(written.partition(".")[2])


def _table(
    title: str, beside: str, heads: Sequence[str], rows: Sequence[Sequence[str]], figures: bool
) -> Markup:
    head = Markup().join(
        Markup('<th scope="col">{}</th>').format(one) if one else Markup("<td></td>")
        for one in heads
    )
    body = Markup("\n").join(
        Markup("<tr>{}{}</tr>").format(
            Markup('<th scope="row">{}</th>').format(row[0]),
            Markup().join(Markup("<td>{}</td>").format(cell) for cell in row[1:]),
        )
        for row in rows
    )
    return Markup(
        '<table class="{}"><caption>{} <span>{}</span></caption><thead><tr>{}</tr></thead>'
        "<tbody>{}</tbody></table>"
    ).format("figures" if figures else "words", title, beside, head, body)


def _told(value: float | None, digits: int) -> str:
    return "–" if value is None else signed(value, digits).lstrip("+")


_BODY = Markup("""<section class="card" aria-label="The card">
<h1>{title}</h1>
<p class="lead">{lead}</p>
{warnings}
<div class="top"><div>{found}</div>
{form}</div>
<div class="beside">
<div>{corrections}</div>
<div>{read}
{picture}</div>
</div>
<ul class="notes">
{notes}
</ul>
</section>
<section class="making" aria-label="Making a card">
<h2>{heading}</h2>
<ol>
{steps}
</ol>
{rounds}
<p class="care"><b>Care.</b> {care}</p>
</section>""")
