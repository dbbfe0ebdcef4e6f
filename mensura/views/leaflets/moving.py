"""A panel and a road of the proof on a leaflet: recorded for a screen, in settings for paper.

As printed, a panel stands in the state in which it opens; beside it three settings that teach
something, each as the part of the picture that it changes most, with its readings. They are the
panel's own presets and what it declares to be printed. A road of the proof stands at its last line,
with all its lines and reasons, and with the pictures of earlier ones.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from markupsafe import Markup

from mensura.checks import MeasureError
from mensura.teaching.controls import Choice, Control, Mover, Switch
from mensura.teaching.panels.proof import ProofShown
from mensura.teaching.proof.roads import road
from mensura.views.kit.live import draw_view
from mensura.views.kit.panel import Panel
from mensura.views.kit.positions import told_value
from mensura.views.kit.recording import Recording, record_panel, recorded_html
from mensura.views.leaflets.pictures import Sheet, drawn_changed
from mensura.views.proof.panel import new_picture, proof_panel, sides_words
from mensura.views.proof.played import record_road
from mensura.views.proof.words import SIGNS_TOLD, markup

#: Positions of a recorded slider: near enough for a finger, and a page stays small.
POSITIONS = 31
#: And of a slider round each setting that has a button.
AROUND = 13
#: Settings that are printed beside the first.
SETTINGS = 3

#: Is told how many positions of a panel are recorded, and of how many.
Told = Callable[[int, int], None]

#: With more controls at 0 than this, they are not named one by one.
MOST_ZEROS = 6

_NOTHING_ADDED = re.compile(r"<tr><th scope='row'>[^<]*</th><td>0\.0+</td>.*?</tr>")
_TABLES = re.compile(r"<table.*?</table>", re.DOTALL)


def panel_of_step(
    panel: Panel[Any], start: Mapping[str, Any], controls: Sequence[str]
) -> Panel[Any]:
    """A panel of which a lesson moves some controls: its settings are about these, and no others.

    panel: which; start: changes of the panel's own start; controls: what is moved, by name, in the
    lesson's order. A setting moves one of them by itself, or all together; a preset of the panel's
    own that does so comes before ours.
    """
    first = panel.state(start)
    alone: dict[str, tuple[str, dict[str, Any]]] = {}
    several: dict[str, dict[str, Any]] = {}
    for title, values in panel.settings.items():
        moved = {name: value for name, value in values.items() if first[name] != value}
        if moved and set(moved) <= set(controls):
            if len(moved) > 1:
                several[title] = moved
            else:
                alone.setdefault(next(iter(moved)), (title, moved))
    for name in controls:
        one, told = panel.named[name], panel.settings.values()
        others = [values[name] for values in told if name in values]
        value = _other_value(one, first[name], [one.start, *others])
        if value is not None and name not in alone:
            title = f"{one.label[0].upper()}{one.label[1:]} {told_value(one, value)}"
            alone[name] = title, {name: value}
    settings = dict(alone[name] for name in controls if name in alone) | several
    together = {name: value for one in alone.values() for name, value in one[1].items()}
    if len(together) > 1 and together not in several.values():
        settings["Both together" if len(together) == 2 else "All together"] = together
    possible = {title: one for title, one in settings.items() if _stands(panel, {**first, **one})}
    return replace(panel, presets=possible, printed={})


def _other_value(one: Mover, at: Any, known: Sequence[Any]) -> Any:
    """Where a control teaches something beside where it stands: at 0 if it is not, else a value
    that its panel knows, else half-way to the farther end; None if there is nothing else."""
    if isinstance(one, Control):
        half = (at + max(one.ends, key=lambda end: abs(end - at))) / 2
        steps = round((half - one.least) / one.step)
        zero = [0] if at and one.least <= 0 <= one.greatest else []
        each = [*zero, *known, round(one.least + steps * one.step, 9)]
    elif isinstance(one, Switch):
        each = [not at]
    else:
        each = [*known, *one.ends] if isinstance(one, Choice) else []
    return next((one.check(value) for value in each if value != at), None)


def _stands(panel: Panel[Any], state: Mapping[str, Any]) -> bool:
    try:
        panel.numbers(**state)
    except MeasureError:
        return False
    return True


def panel_recorded(
    panel: Panel[Any],
    sheet: Sheet,
    start: Mapping[str, Any],
    name: str,
    told: Told | None = None,
    controls: Sequence[str] = (),
) -> Markup:
    """A panel as it opens, to be moved where a screen shows it.

    panel: which; sheet: of the page; start: changes of the panel's own start; name: of the
    recording on its page; told: as `record_panel` has it; controls: those that move, () for all.
    """
    still = draw_view(panel.picture(), panel.numbers(**panel.state(start)))
    recording = record_panel(
        panel, start, positions=POSITIONS, around=AROUND, only=controls, told=told
    )
    return _figure(recording, sheet.still(still), name)


def panel_settings(panel: Panel[Any], sheet: Sheet, start: Mapping[str, Any]) -> list[Markup]:
    """The settings that are printed beside a panel's first state.

    panel: which; sheet: of the page; start: changes of the panel's own start.
    """
    first = panel.state(start)
    base = panel.numbers(**first)
    pieces = []
    for title, values in panel.settings.items():
        state = panel.state({**start, **values})
        if state == first:
            continue  # so it opens
        numbers = panel.numbers(**state)
        picture = sheet.cropped(*drawn_changed(panel.picture(), base, numbers))
        moved, status = _moved(panel, state, first), panel.status(numbers)
        if len(values) == 1 and title.endswith(told_value(*_only(panel, values))):
            moved = "The rest as above."
        pieces.append(_setting(title, moved, picture, status, panel.readout(numbers)))
    return pieces[:SETTINGS]


def road_recorded(
    name: str, sheet: Sheet, start: Mapping[str, Any], label: str, told: Told | None = None
) -> Markup:
    """A road of the proof at its last line, to be gone through where a screen shows it.

    name: of the road; sheet: of the page; start: values for its controls; label: of the recording
    on its page; told: as `record_panel` has it.
    """
    state = {"step": len(road(name).steps), **start}
    recording = record_road(name, state=state, positions=POSITIONS, told=told)
    panel = proof_panel(name)
    shown = panel.numbers(**panel.state(state))
    still = draw_view(new_picture(shown), shown)
    # both sides of all lines stand in the table above
    short = replace(recording, printed=_TABLES.sub("", recording.printed))
    return _figure(short, sheet.still(still), label)


def road_lines_html(name: str, start: Mapping[str, Any]) -> Markup:
    """All lines of a road with their reasons and with both sides in numbers, as a table.

    name: of the road; start: values for its controls.
    """
    panel = proof_panel(name)
    shown: ProofShown = panel.numbers(**panel.state({**start, "step": len(road(name).steps)}))
    rows = []
    for place, step in enumerate(shown.road.steps, 1):
        told = step.sign or ("to be shown" if step.to_be_shown else "given")
        why = " ".join(filter(None, (step.reason, _used(step.assumption))))
        cells = (
            told,
            Markup('<b class="line">{}</b>').format(Markup(markup(step.line))),
            markup(why),
        )
        sides = sides_words(shown, step) or ("–", "–", "–")
        rows.append(
            Markup('<tr><th scope="row">{}</th>{}{}</tr>').format(
                place,
                Markup().join(Markup("<td>{}</td>").format(Markup(one)) for one in cells),
                Markup().join(Markup('<td class="side">{}</td>').format(one) for one in sides),
            )
        )
    heads = ("No.", "", "line", "why", "left side", "right side", "difference")
    head = Markup().join(
        Markup('<th scope="col">{}</th>').format(one) if one else Markup("<td></td>")
        for one in heads
    )
    return Markup(
        '<table class="lines"><caption>{}. <span>{}</span></caption>'
        "<thead><tr>{}</tr></thead><tbody>{}</tbody></table>"
    ).format(shown.road.title, SIGNS_TOLD, head, Markup().join(rows))


def _used(assumption: str) -> str:
    return f"Uses: {assumption}." if assumption else ""


def road_settings(name: str, sheet: Sheet, start: Mapping[str, Any]) -> list[Markup]:
    """Earlier lines of a road whose pictures are of another kind than the last one's.

    name: of the road; sheet: of the page; start: values for its controls.
    """
    last = len(road(name).steps)
    kinds = {road(name).steps[-1].picture: last}
    for place, step in enumerate(road(name).steps, 1):
        kinds.setdefault(step.picture, place)
    places = sorted(place for place in kinds.values() if place != last)
    return [road_step(name, place, sheet, start, " beside") for place in _spread(places, SETTINGS)]


def road_step(
    name: str, place: int, sheet: Sheet, start: Mapping[str, Any], kind: str = ""
) -> Markup:
    """One line of a road with its picture.

    name: of the road; place: of the line, from 1; sheet: of the page; start: values for its
    controls; kind: a further class.
    """
    panel = proof_panel(name)
    shown: ProofShown = panel.numbers(**panel.state({**start, "step": place}))
    step = shown.present
    why = Markup(markup(step.reason))
    picture = sheet.still(draw_view(new_picture(shown), shown))
    return Markup(
        '<figure class="setting line-of-road{}"><figcaption><b>{}</b></figcaption>{}'
        '<div class="readings"><p>{}</p><p>{}</p></div></figure>'
    ).format(
        kind,
        Markup(markup(f"Line {place}: {step.line}")),
        picture,
        Markup(markup(panel.status(shown))),
        why,
    )


def _spread(places: Sequence[int], many: int) -> list[int]:
    """At most so many of some places, as far apart as can be.

    >>> _spread([1, 4, 5, 9], 3), _spread([2], 3)
    ([1, 5, 9], [2])
    """
    if len(places) <= many:
        return list(places)
    return [places[round(k * (len(places) - 1) / (many - 1))] for k in range(many)]


# ---- pieces --------------------------------------------------------------------------------------


def _figure(recording: Recording, still: Markup, name: str) -> Markup:
    place = '<div class="mensura-printed">'
    title = str(Markup("<p><b>{}</b></p>").format(recording.title))
    return Markup(recorded_html(recording, str(still), name).replace(place, place + title))


def _only(panel: Panel[Any], values: Mapping[str, Any]) -> tuple[Mover, Any]:
    name, value = next(iter(values.items()))
    return panel.named[name], value


def _moved(panel: Panel[Any], state: Mapping[str, Any], base: Mapping[str, Any]) -> str:
    """What differs from the first state, in words; what many controls have in common, once."""
    moved = {name: one for name, one in panel.named.items() if state[name] != base[name]}
    at_zero = [one.label for name, one in moved.items() if state[name] == 0]
    told = [
        f"{one.label} {told_value(one, state[name])}"
        for name, one in moved.items()
        if len(at_zero) <= MOST_ZEROS or state[name] != 0
    ]
    if len(at_zero) > MOST_ZEROS:
        told.append("all other faults 0")
    return f"Set to: {'; '.join(told)}; the rest as above."


def _setting(title: str, moved: str, picture: Markup, status: str, readout: str) -> Markup:
    tables = Markup("".join(map(_without_nothing, _TABLES.findall(readout))))
    return Markup(
        '<figure class="setting beside"><figcaption><b>{}.</b> {}</figcaption>{}'
        '<div class="readings"><p>{}</p><div class="sheet">{}</div></div></figure>'
    ).format(title, moved, picture, status, tables)


def _without_nothing(table: str) -> str:
    """A table without the rows that add nothing, where one of its columns tells what is added."""
    if "adds" not in table[: table.find("</thead>")].casefold():
        return table
    left = _NOTHING_ADDED.sub("", table)
    return left if "<th scope='row'>" in left else ""
