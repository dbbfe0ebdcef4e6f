"""A panel and a road of the proof on a leaflet: recorded for a screen, in settings for paper.

As printed, a panel stands in the state in which it opens; beside it three settings that teach
something, each as the part of the picture that it changes most, with its readings. They are the
panel's own presets and what it declares to be printed. A road of the proof stands at its last line,
with all its lines and reasons, and with the pictures of earlier ones.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from markupsafe import Markup

from mensura.teaching.panels.proof import ProofShown
from mensura.teaching.proof.roads import road
from mensura.views.kit.live import draw_view
from mensura.views.kit.panel import Panel
from mensura.views.kit.recording import Recording, record_panel, recorded_html, told_value
from mensura.views.leaflets.pictures import Sheet, drawn_changed
from mensura.views.proof.panel import new_picture, proof_panel, sign_words
from mensura.views.proof.played import record_road
from mensura.views.proof.words import markup

#: Positions of a recorded slider: near enough for a finger, and a page stays small.
POSITIONS = 21
#: Settings that are printed beside the first.
SETTINGS = 3

#: Is told how many positions of a panel are recorded, and of how many.
Told = Callable[[int, int], None]

_TABLES = re.compile(r"<table.*?</table>", re.DOTALL)


def panel_recorded(
    panel: Panel[Any], sheet: Sheet, start: Mapping[str, Any], name: str, told: Told | None = None
) -> Markup:
    """A panel as it opens, to be moved where a screen shows it.

    panel: which; sheet: of the page; start: changes of the panel's own start; name: of the
    recording on its page; told: as `record_panel` has it.
    """
    still = draw_view(panel.picture(), panel.numbers(**panel.state(start)))
    recording = record_panel(panel, start, positions=POSITIONS, told=told)
    return _figure(recording, sheet.still(still), name)


def panel_settings(panel: Panel[Any], sheet: Sheet, start: Mapping[str, Any]) -> list[Markup]:
    """The settings that are printed beside a panel's first state.

    panel: which; sheet: of the page; start: changes of the panel's own start.
    """
    base = panel.numbers(**panel.state(start))
    pieces = []
    for title, values in list(panel.settings.items())[:SETTINGS]:
        state = panel.state({**start, **values})
        numbers = panel.numbers(**state)
        picture = sheet.cropped(*drawn_changed(panel.picture(), base, numbers))
        pieces.append(
            _setting(
                title, _moved(panel, state, panel.state(start)), picture, panel.status(numbers),
                panel.readout(numbers),
            )
        )
    return pieces


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
    return _figure(recording, sheet.still(still), label)


def road_lines_html(name: str) -> Markup:
    """All lines of a road with their reasons, as a table.

    name: of the road.
    """
    way = road(name)
    rows = Markup().join(
        Markup('<tr><th scope="row">{}</th><td>{}</td><td class="line">{}</td><td>{}</td></tr>').format(
            place,
            sign_words(step),
            Markup(markup(step.line)),
            Markup(markup(" ".join(filter(None, (step.reason, _used(step.assumption)))))),
        )
        for place, step in enumerate(way.steps, 1)
    )
    head = Markup().join(
        Markup('<th scope="col">{}</th>').format(one) for one in ("No.", "how", "line", "why")
    )
    return Markup(
        '<table class="lines"><caption>{}</caption><thead><tr>{}</tr></thead><tbody>{}</tbody></table>'
    ).format(way.title, head, rows)


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
    return [road_step(name, place, sheet, start) for place in _spread(places, SETTINGS)]


def road_step(name: str, place: int, sheet: Sheet, start: Mapping[str, Any]) -> Markup:
    """One line of a road with its picture.

    name: of the road; place: of the line, from 1; sheet: of the page; start: values for its
    controls.
    """
    panel = proof_panel(name)
    shown: ProofShown = panel.numbers(**panel.state({**start, "step": place}))
    step = shown.present
    why = Markup(markup(step.reason))
    picture = sheet.still(draw_view(new_picture(shown), shown))
    return Markup('<figure class="setting"><figcaption><b>{}</b></figcaption>{}<p>{}</p></figure>').format(
        Markup(markup(panel.status(shown))), picture, why
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


def _moved(panel: Panel[Any], state: Mapping[str, Any], base: Mapping[str, Any]) -> str:
    """What differs from the first state, in words."""
    moved = [
        f"{one.label} {told_value(one, state[name])}"
        for name, one in panel.named.items()
        if state[name] != base[name]
    ]
    return f"Set to: {'; '.join(moved)}; the rest as above." if moved else "As above."


def _setting(title: str, moved: str, picture: Markup, status: str, readout: str) -> Markup:
    tables = Markup("".join(_TABLES.findall(readout)))
    return Markup(
        '<figure class="setting"><figcaption><b>{}.</b> {}</figcaption>{}<p>{}</p>'
        '<div class="sheet">{}</div></figure>'
    ).format(title, moved, picture, status, tables)
