"""A practical's report: one page for the lecturer that needs nothing else, the same evening.

First what a word has to be said of, and to whom; then what was read and what it rests on, ever more
closely. The page's own policy forbids it to load anything. Whatever comes from a file is text, and
escaped. A pattern in readings is a question here, never an accusation.
"""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from mensura.estimates.hand_points import hand_points
from mensura.estimates.hand_verdict import Judged, Matters
from mensura.estimates.ovality_part import OF_A_PAIR
from mensura.estimates.practical import Practical
from mensura.estimates.practical_agreement import ONE_WAY
from mensura.estimates.practical_precision import precision_notes
from mensura.estimates.precision import WHAT_IT_IS, WHERE_NO_REPEAT
from mensura.sources import cite
from mensura.views.sheets.practical_frame import figure, file_problems, section, sheet
from mensura.views.sheets.practical_note import hand_note as hand_note
from mensura.views.sheets.practical_pictures import (
    BiasPicture,
    biases,
    reach_percent,
    tiles,
)
from mensura.views.sheets.practical_spreads import DifferencesPicture, mandel_pictures
from mensura.views.sheets.practical_tables import (
    agreement_table,
    outliers_table,
    ovality_words,
    precision_table,
    sizes_words,
    slips_table,
    verdicts_table,
)
from mensura.views.sheets.practical_words import (
    FORMS,
    OFF,
    WITH,
    Finding,
    all_of,
    counted,
    findings,
    likely,
)
from mensura.written import signed

CARE = (
    "These figures are for teaching. Where timber is sold on a figure, a verified instrument and "
    "licensed practice count, not this page. A steel band has sharp edges, and under trees look up "
    "for dead branches first: your school's rules and the local ones come before any reading."
)
ASKED = (
    "These patterns have harmless causes too. Ask how it was done before you think of anything "
    "else."
)
CAPTION = (
    "One mark a hand, stem and caliper reading. Solid: mean; dashed: limits of agreement; bars: "
    "their 95 % intervals."
)
MANDEL = (
    "A row a hand, a mark a stem. Marks mostly on one side of h: a bias; far out in k: repeats "
    "that scatter. Filled: beyond what chance gives in 5 of 100; lines, where all stems share "
    "them: dashed 5, solid 1 of 100."
)
#: Rows of one chart of biases; charts of readings on a page.
MOST_BIASES, MOST_TILES = 32, 24
SOURCES = ("ISO5725", "BlandAltman1999", "BlandAltman2007", "Grubbs1969", "Cauchy1841")


def practical_page(
    study: Practical,
    name: str,
    matters: Matters | None = None,
    above: Sequence[str] = (),
    problems: Sequence[str] = (),
) -> str:
    """The page, whole.

    study: of a class; name: of its file, or of the practical; matters: what was large enough to be
    told, as the study had it: the defaults if None; above: what has to be known before the verdicts
    are read, in sentences; problems: of the file, in words.
    """
    title = f"Field practical: {name}"
    matters = matters or Matters()
    parts = [
        _top(study, above),
        _biases(study, matters),
        _slips(study),
        file_problems(problems),
        _questions(study),
        _everybody(study),
        _points(study, matters),
        _precision(study),
        _agreement(study),
        _undone(study),
        _how(study, matters),
    ]
    return sheet(title, Markup("\n").join(part for part in parts if part))


def _top(study: Practical, above: Sequence[str]) -> Markup:
    """Who and what was off, what to say to whom; then who was not."""
    found = findings(study)
    first = Markup().join(Markup("<p><b>{}</b></p>\n").format(one) for one in above)
    cards = Markup("\n").join(map(_card, found))
    if found:
        lead = Markup('<ul class="findings">{}</ul>').format(cards)
    elif _of(study, "sound"):
        far = "As far as these readings tell, nobody" if _of(study, "cannot-tell") else "Nobody"
        lead = Markup("<p><b>{} and nothing has to be spoken of.</b></p>").format(far)
    else:
        lead = Markup("<p><b>These readings do not tell who or what was off.</b></p>")
    return Markup(
        '<p class="lead">{}</p>\n{}<section aria-labelledby="off"><h2 id="off">Whom to speak to, '
        "what to put right</h2>\n{}\n{}{}</section>"
    ).format(_lead(study), first, lead, _others(study), _also(study))


def _lead(study: Practical) -> str:
    readings = study.readings
    said = (
        f"{counted(len(readings), 'reading')} of {counted(len(readings.stems), 'stem')} by "
        f"{counted(len(readings.hands), 'hand')} with "
        f"{counted(len(readings.instruments), 'instrument')}."
    )
    sizes = sizes_words(study)
    said += f" {sizes}." if sizes else ""
    if study.cards_used:
        said += f" Corrected by card: {all_of(study.cards_used)}."
        if study.cards_missing:
            said += f" No card: {all_of(study.cards_missing)}."
    return said


def _card(one: Finding) -> Markup:
    judged = one.judged
    who = f"{judged.name} {WITH[judged.kind]}" if one.is_hand else judged.name
    lines = []
    if judged.verdict != "spreads":
        lines.append(("How sure", one.sure))
        lines.append(("Form", FORMS[judged.form]))
    if judged.spreads and judged.spread_percent is not None and judged.spread_times is not None:
        spread = f"{judged.spread_percent:.1f} % of a reading, {judged.spread_times:.1f} times the "
        lines.append(("Spread", spread + "others'"))
    if one.causes:
        lines.append(("Most likely", likely(one)))
    if one.practise:
        lines.append(("Practise" if one.is_hand else "Do", " ".join(one.practise[:2])))
    rows = Markup().join(
        Markup("<div><dt>{}</dt><dd>{}</dd></div>").format(head, text)
        for head, text in lines
        if text
    )
    colour = "tapes" if judged.kind == "girth" else "calipers"
    return Markup('<li class="{}"><h3>{} <span>{}</span></h3><dl>{}</dl></li>').format(
        colour, who, one.headline, rows
    )


def _of(study: Practical, verdict: str) -> list[tuple[Judged, bool]]:
    judged = study.judged
    rows = [(one, True) for one in judged.hands] + [(one, False) for one in judged.instruments]
    return [row for row in rows if row[0].verdict == verdict]


def _grouped(rows: Sequence[tuple[Judged, bool]]) -> str:
    """Codes by kind: hands with tapes, hands with calipers, instruments."""
    said = []
    for kind, with_ in WITH.items():
        codes = [one.name for one, hand in rows if hand and one.kind == kind]
        said += [f"{with_} {all_of(codes)}"] if codes else []
    codes = list(dict.fromkeys(one.name for one, hand in rows if not hand))
    said += [f"instruments {all_of(codes)}"] if codes else []
    return "; ".join(said) + "."


def _others(study: Practical) -> Markup:
    sound, untold = _of(study, "sound"), _of(study, "cannot-tell")
    said = Markup()
    if sound:
        said += Markup("<p><b>Sound:</b> {}</p>\n").format(_grouped(sound))
    if untold:
        said += Markup('<p><b>Cannot be told:</b> {} <a href="#all">Why</a></p>\n').format(
            _grouped(untold)
        )
    return said


def _also(study: Practical) -> Markup:
    """What else the page holds, counted, with the way to it."""
    rows = [
        (len(study.flags), "likely slip", "", "slips"),
        (len(study.habits), "question", " to ask", "questions"),
        (len(study.notes), "note", " on what could not be done", "undone"),
    ]
    links = [
        Markup('<a href="#{}">{}{}</a>').format(anchor, counted(count, noun), more)
        for count, noun, more, anchor in rows
        if count
    ]
    if not links:
        return Markup("<p><b>Also:</b> no likely slips, no questions.</p>")
    return Markup("<p><b>Also:</b> {}.</p>").format(Markup(", ").join(links))


def _slips(study: Practical) -> Markup:
    if not study.flags:
        return Markup()
    return section(
        "slips",
        "Figures that look like slips",
        Markup(
            "<p>Nothing was changed. Look at the sheet before you correct one: a slip of writing "
            "is not a hand's bias, and the verdicts do not rest on these.</p>{}"
        ).format(slips_table(study)),
    )


def _questions(study: Practical) -> Markup:
    if not study.habits:
        return Markup()
    items = Markup("\n").join(
        Markup("<li><b>{} {}:</b> {}</li>").format(one.name, WITH[one.kind], one.question)
        for one in study.habits
    )
    return section(
        "questions", "Questions to ask", Markup("<p>{}</p><ul>{}</ul>").format(ASKED, items)
    )


def _biases(study: Practical, matters: Matters) -> Markup:
    """All biases with their intervals, on one scale."""
    judged = study.judged
    named = [
        (f"Hands {with_}", [one for one in judged.hands if one.kind == kind])
        for kind, with_ in WITH.items()
    ]
    named.append(("Instruments", list(judged.instruments)))
    shown = [(title, biases(rows, judged.mean_size_cm)) for title, rows in named]
    reach = reach_percent([one for _, rows in shown for one in rows], matters.share_percent)
    pictures = [
        BiasPicture(
            title if not start else f"{title}, more",
            rows[start : start + MOST_BIASES],
            reach,
            matters.share_percent,
        )
        for title, rows in shown
        for start in range(0, len(rows), MOST_BIASES)
    ]
    if not pictures:
        return Markup()
    size = f"{judged.mean_size_cm:.0f} cm" if judged.mean_size_cm else "middle size"
    return section(
        "biases",
        "How far each is off",
        figure(
            "Less and more than the others.",
            f"Bias and 95 % interval on a stem of {size}. Round: tapes; square: calipers; filled: "
            "off; hollow: sound; cross: cannot be told. What lies in the band does not matter.",
            pictures,
        ),
    )


def _points(study: Practical, matters: Matters) -> Markup:
    """Every hand's and instrument's readings against the stems' size, those that are off first."""
    every = [one for one in hand_points(study.corrected, study.judged, matters) if one.row.size]
    every = [one for one in every if one.judged.bias is not None]
    every.sort(key=lambda one: one.judged.verdict not in OFF)
    if not every:
        return Markup()
    more = len(every) - MOST_TILES
    beside = (
        "Each reading off what the others agree on, %, against its stem's diameter. Level: a "
        "share; nearer to nothing on large stems: a constant; dashed: what was found; a triangle "
        "at the edge: off the picture."
    )
    beside += f" {more} that are not off are left out." if more > 0 else ""
    return section(
        "points", "Reading by reading", figure("Readings.", beside, tiles(every[:MOST_TILES]))
    )


def _everybody(study: Practical) -> Markup:
    tables = [verdicts_table(study, hands) for hands in (True, False)]
    return section("all", "Everybody and everything", Markup("\n").join(tables))


def _precision(study: Practical) -> Markup:
    if not study.precision:
        return Markup()
    said = [WHAT_IT_IS, *precision_notes(study.precision)]
    stands = {one.precision.stands_for for one in study.precision if one.precision is not None}
    if "residual" in stands:
        bare = [
            one.instrument
            for one in study.precision
            if one.precision is not None and one.precision.stands_for == "residual"
        ]
        said.append(f"{all_of(bare)}: {WHERE_NO_REPEAT}")
    words = Markup("\n").join(Markup("<p>{}</p>").format(one) for one in said)
    return section(
        "precision",
        "How closely readings repeat",
        Markup("{}{}{}{}").format(
            precision_table(study),
            words,
            outliers_table(study),
            figure("Hand by hand (Mandel).", MANDEL, mandel_pictures(study.precision)),
        ),
    )


def _agreement(study: Practical) -> Markup:
    found = study.agreement
    if found is None:
        return Markup()
    one = found.single
    said = [
        f"On average tapes give {signed(one.mean_cm)} cm of diameter against one caliper reading; "
        f"of 20 single pairs of readings 19 differ by {signed(one.lower_cm)} to "
        f"{signed(one.upper_cm)} cm. The stem is the unit, repeats are counted in."
    ]
    if found.off:
        less = found.sound
        said.append(
            f"{all_of(found.off)}: off, and in these differences; too little is left without them."
            if less is None
            else f"Without {all_of(found.off)}, which are off, it is {signed(less.single.mean_cm)} "
            f"cm, and 19 of 20 differ by {signed(less.single.lower_cm)} to "
            f"{signed(less.single.upper_cm)} cm."
        )
    if ONE_WAY in study.notes:
        said.append(ONE_WAY)
    if found.trend is not None and found.trend.grows:
        said.append(
            f"The difference grows with the stem, by {signed(found.trend.rise)} cm for each cm of "
            "diameter: read the limits as those of the stems' middle size."
        )
    said.append(ovality_words(found))
    if found.pair is not None:
        said.append(OF_A_PAIR)
    words = Markup("\n").join(Markup("<p>{}</p>").format(line) for line in said)
    return section(
        "agreement",
        "Tapes against calipers",
        Markup("{}{}{}").format(
            words,
            figure("Differences against means.", CAPTION, [DifferencesPicture(found)]),
            agreement_table(study),
        ),
    )


def _undone(study: Practical) -> Markup:
    if not study.notes:
        return Markup()
    items = Markup("\n").join(Markup("<li>{}</li>").format(one) for one in study.notes)
    return section(
        "undone",
        "What could not be done, and what stands in its place",
        Markup("<ul>{}</ul>").format(items),
    )


def _how(study: Practical, matters: Matters) -> Markup:
    """What the verdicts rest on, the settings, the care, the sources."""
    lines = [
        "A bias is what one reads less what the others agree on: nobody knows the stems' true "
        "size. A verdict needs both: beyond chance (all hands and instruments together "
        f"{matters.chance_percent:g} %) and large enough to matter: {matters.share_percent:g} % of "
        f"the reading, or {matters.girth_cm:g} cm of girth, {matters.diameter_cm:g} cm of "
        f"diameter. Spreads: {matters.spreads_times:g} times the others' and at least "
        f"{matters.spread_percent:g} % of a reading.",
        "A line on each stem fixed height and directions."
        if matters.marked
        else "No line was on the stems: finding the height is part of each hand's reading.",
        "Assumed: one size a stem for the whole day, hands and instruments that add a share or a "
        "constant, errors that hang on nothing else. Most likely causes are guesses to look into: "
        "readings alone do not show how a band lay.",
        "If most of a class is off the same way, the sound ones look off.",
    ]
    words = Markup("\n").join(Markup("<p>{}</p>").format(one) for one in lines)
    sources = Markup("\n").join(Markup("<li>{}</li>").format(cite(key)) for key in SOURCES)
    return section(
        "how",
        "How it was judged",
        Markup('{}<p class="care"><b>Care.</b> {}</p><h3>Sources</h3><ul class="sources">{}</ul>')
        .format(words, CARE, sources),
    )  # fmt: skip
