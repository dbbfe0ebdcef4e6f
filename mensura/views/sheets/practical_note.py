"""A note for one hand: what its own readings were worth, and what to practise.

Nobody else's code stands on it: not in a verdict, not beside a slip, not on a picture. What an
instrument that the hand had did wrong is said too, so that nobody takes it for the hand's.
"""

from __future__ import annotations

import numpy as np
from markupsafe import Markup

from mensura.estimates.hand_points import hand_points
from mensura.estimates.hand_verdict import Judged
from mensura.estimates.practical import Practical
from mensura.views.sheets.practical_frame import figure, section, sheet
from mensura.views.sheets.practical_pictures import tiles
from mensura.views.sheets.practical_tables import slips_table
from mensura.views.sheets.practical_words import (
    FORMS,
    OFF,
    WITH,
    all_of,
    counted,
    finding,
    headline,
    likely,
    sure,
)

KIND_REGARDS = (
    "A bias is what you read less what the others agree on; nobody knows the stems' true size. It "
    "is for practice, not a mark."
)
CARE = (
    "Practise with gloves where a band is sharp, never let it run through the hand, and look up "
    "for dead branches before you look at the stem. Your school's rules come first."
)


def hand_note(study: Practical, hand: str) -> str:
    """The note for a hand, one short page.

    study: of a class; hand: its code. Raises KeyError for a hand that read nothing.
    """
    if hand not in study.readings.hands:
        raise KeyError(hand)
    mine = [one for one in study.judged.hands if one.name == hand]
    body = Markup("\n").join(
        part
        for part in (
            Markup('<p class="lead">{}</p>').format(_lead(study, hand)),
            Markup('<section aria-labelledby="off"><h2 id="off">Your readings</h2><ul '
                   'class="findings">{}</ul></section>').format(Markup("\n").join(map(_card, mine)))
            if mine
            else Markup("<p>Your readings could not be judged.</p>"),
            _points(study, hand),
            _tools(study, hand),
            _slips(study, hand),
            _questions(study, hand),
            Markup('<p>{}</p><p class="care"><b>Care.</b> {}</p>').format(KIND_REGARDS, CARE),
        )
        if part
    )  # fmt: skip
    return sheet(f"Field practical: {hand}", body, "note")


def _lead(study: Practical, hand: str) -> str:
    readings = study.readings
    at = readings.hand == readings.hands.index(hand)
    stems = np.unique(readings.stem[at]).size
    tools = [readings.instruments[one] for one in np.unique(readings.instrument[at])]
    return (
        f"You took {counted(int(at.sum()), 'reading')} on {counted(int(stems), 'stem')}, with "
        f"{all_of(tools)}."
    )


def _card(one: Judged) -> Markup:
    """One verdict on the hand, with what to practise."""
    told = finding(one, True)
    lines = []
    if one.verdict in OFF and one.verdict != "spreads":
        lines += [("How sure", sure(one)), ("Form", FORMS[one.form])]
    if one.verdict in ("sound", "cannot-tell"):
        lines.append(("Why", one.why))
    if one.spreads and one.spread_percent is not None and one.spread_times is not None:
        times = f"{one.spread_times:.1f} times the others'"
        lines.append(("Spread", f"{one.spread_percent:.1f} % of a reading, {times}"))
    if told.causes:
        lines.append(("Most likely", likely(told)))
    if told.practise:
        lines.append(("Practise", " ".join(told.practise)))
    rows = Markup().join(
        Markup("<div><dt>{}</dt><dd>{}</dd></div>").format(head, text) for head, text in lines
    )
    colour = "tapes" if one.kind == "girth" else "calipers"
    return Markup('<li class="{}"><h3>{}: <span>{}</span></h3><dl>{}</dl></li>').format(
        colour, WITH[one.kind].capitalize(), _to_hand(one), rows
    )


def _to_hand(one: Judged) -> str:
    """A verdict said to whom it is on."""
    if one.verdict in OFF:
        said = headline(one).replace("reads ", "you read ", 1).replace("spreads", "spread")
        return said if said.startswith("you") else f"your readings {said}"
    return {"sound": "sound"}.get(one.verdict, "these readings cannot tell")


def _points(study: Practical, hand: str) -> Markup:
    """The hand's own readings against the stems' size."""
    every = hand_points(study.corrected, study.judged)
    mine = [one for one in every if one.is_hand and one.judged.name == hand and one.row.size]
    mine = [one for one in mine if one.judged.bias is not None]
    if not mine:
        return Markup()
    return figure("Your readings off what the others agree on, %.", "", tiles(mine))


def _tools(study: Practical, hand: str) -> Markup:
    """What the hand's instruments did: not the hand's fault."""
    readings = study.readings
    at = readings.hand == readings.hands.index(hand)
    had = {readings.instruments[one] for one in np.unique(readings.instrument[at])}
    off = [one for one in study.judged.instruments if one.name in had and one.verdict in OFF]
    if not off:
        return Markup()
    items = Markup("\n").join(
        Markup("<li><b>{}</b> {}. That is the instrument, not you; it is taken out of what is "
               "said above.</li>").format(one.name, headline(one))
        for one in off
    )  # fmt: skip
    return section("tools", "Your instruments", Markup("<ul>{}</ul>").format(items))


def _slips(study: Practical, hand: str) -> Markup:
    readings = study.readings
    place = readings.hands.index(hand)
    if not any(readings.hand[flag.at] == place for flag in study.flags):
        return Markup()
    words = "Look at your sheet: these count for nothing in what is said of you above."
    return section(
        "slips",
        "Figures that look like slips",
        Markup("<p>{}</p>{}").format(words, slips_table(study, hand)),
    )


def _questions(study: Practical, hand: str) -> Markup:
    mine = [one for one in study.habits if one.name == hand]
    if not mine:
        return Markup()
    items = Markup("\n").join(
        Markup("<li><b>{}:</b> {}</li>").format(WITH[one.kind].capitalize(), one.question)
        for one in mine
    )
    return section("questions", "A question for you", Markup("<ul>{}</ul>").format(items))
