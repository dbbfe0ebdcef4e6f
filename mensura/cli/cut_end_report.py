"""A cut end as lines of plain text, as the command prints it."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap

from mensura.cli.printing import aligned
from mensura.estimates.comparison import PRACTICE_WORDS
from mensura.estimates.cut_end import CHOSEN_WORDS, CutEnd
from mensura.estimates.published_ovals import WITHIN, Standing
from mensura.estimates.stand_words import SOLD_ON_FIGURES
from mensura.sources import SOURCES, UNKNOWN

#: How wide a line of a terminal is.
_WIDE = 80


def cut_end_lines(cut: CutEnd, among: Sequence[Standing]) -> list[str]:
    """A cut end as plain tables, and what has to be said with them.

    cut: what was found; among: where it stands in what was published.

    >>> from mensura.estimates.cut_end import cut_end
    >>> from mensura.stems import Outline
    >>> square = cut_end(Outline([[0, 0], [40, 0], [40, 40], [0, 40]]))
    >>> cut_end_lines(square, [])[0]
    'True area:        1600.0 cm²'
    """
    ends = cut.ends
    lines = [
        f"True area:        {cut.true_area_cm2:.1f} cm²",
        f"Taut girth:       {cut.taut_girth_cm:.2f} cm (what a level, tight tape reads)",
        f"Longest width:    {ends.longest_cm:.2f} cm, at {ends.longest_deg:.1f}°; "
        f"across it {cut.across_cm:.2f} cm",
        f"Shortest width:   {ends.shortest_cm:.2f} cm, at {ends.shortest_deg:.1f}°",
        f"Out of round:     {cut.out_of_round_percent:.1f} % (longest less the one across it, of "
        "the shorter)",
        "",
        f"Tape:             {_signed(cut.tape_over_percent)} % of the area",
        f"  hollows         {_signed(cut.hollows_percent)} % that it spans and counts as wood",
        f"  not round       {_signed(cut.not_round_percent)} % that a circle of its girth has more",
        f"  A smooth ellipse as much out of round would have "
        f"{_signed(cut.ellipse_over_percent)} %.",
        "",
        *_calipers(cut),
    ]
    lines += ["", *_marked(cut)] if cut.pith or cut.under_bark else []
    if among:
        lines += ["", *_published(among)]
    said = (
        "The outline is taken for the truth: what its points leave out, no figure here has. "
        f"Assumed: sound instruments and a steady hand. {SOLD_ON_FIGURES}"
    )
    return [*lines, "", *wrap(said, _WIDE)]


def found_lines(threshold: float, darker: bool, notes: Sequence[str] = ()) -> list[str]:
    """What has to be said before the figures of an outline that was found in a photograph.

    threshold: grey level between section and ground; darker: whether the section is;
    notes: what has to be looked at, without their full stops.

    >>> found_lines(128.0, True)[0]
    'Found: what is darker than grey level 128.'
    """
    said = (
        "Look at the outline over the photograph before you believe a figure: a shadow, bark of "
        "the ground's colour or a scale that does not lie on the cut makes it wrong, and no "
        "figure tells."
    )
    side = "darker" if darker else "lighter"
    lines = [f"Found: what is {side} than grey level {threshold:.0f}.", *wrap(said, _WIDE)]
    for note in notes:
        lines += wrap(f"Note: {note}.", _WIDE)
    return [*lines, ""]


def _calipers(cut: CutEnd) -> list[str]:
    rows = [["Calipers, error of the area in %", "mean", "least", "at", "most", "at", "nearer"]]
    rows += [
        [
            " " + PRACTICE_WORDS[one.practice],
            _signed(one.mean_over_percent),
            _signed(one.least_over_percent),
            f"{one.least_deg:g}°",
            _signed(one.most_over_percent),
            f"{one.most_deg:g}°",
            f"{one.nearer_percent:.0f} %",
        ]
        for one in cut.calipers
    ]
    rows += [
        [" " + CHOSEN_WORDS[one.practice], _signed(one.over_percent), "", "", "", "", ""]
        for one in cut.chosen
    ]
    return [
        *aligned(rows, right=range(1, 7)),
        "nearer: in how many of a hundred directions it is nearer to the truth than the tape.",
    ]


def _marked(cut: CutEnd) -> list[str]:
    lines = []
    if cut.pith:
        pith = cut.pith
        lines += [
            f"Pith:             {pith.off_centre_cm:.2f} cm off the middle of the area, towards "
            f"{pith.direction_deg:.0f}° ({pith.off_centre_percent:.1f} % of the radius)",
            f"  to the edge     {pith.shortest_radius_cm:.2f} to {pith.longest_radius_cm:.2f} cm",
        ]
    if cut.under_bark:
        wood = cut.under_bark
        lines += [
            f"Under bark:       {wood.true_area_cm2:.1f} cm², taut girth "
            f"{wood.taut_girth_cm:.2f} cm",
            f"  bark            {wood.bark_percent:.1f} % of the whole area, "
            f"{wood.mean_bark_cm:.2f} cm on the average",
            f"  tape on wood    {_signed(wood.tape_over_percent)} % of the wood's area",
            f"  tape on bark    {_signed(wood.over_bark_percent)} % of the wood's area, if no bark "
            "is taken off",
        ]
    return lines


def _published(among: Sequence[Standing]) -> list[str]:
    lines = ["Among published figures (each of its own wood, none a rule for yours):"]
    for one in among:
        span = one.published
        if span.most_percent < 1000:
            where = f"{one.place} {span.least_percent:g} to {span.most_percent:g} %"
        else:
            where = f"{'over' if one.place == WITHIN else 'not over'} {span.least_percent:g} %"
        source = SOURCES[span.source]
        who = f"{source.author}, {source.year}"
        told = f"authors and year {UNKNOWN}" if source.author == UNKNOWN else who
        text = f"{span.figure}: {_signed(one.value_percent)} % here, {where} ({span.found}; {told})"
        lines += wrap(text, _WIDE, initial_indent="  ", subsequent_indent="    ")
    return lines


def _signed(value: float) -> str:
    text = f"{value:+.2f}"
    return text.lstrip("+-") if float(text) == 0 else text
