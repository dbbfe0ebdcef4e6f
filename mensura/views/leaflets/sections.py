"""A section of a workbook put on a leaflet's page, by what lives there.

A panel is recorded and set, a road gets its lines, a question goes to the last page with its
answer; text stands as it is. Nothing is written here: all of it is the section's own.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import Any

from markupsafe import Markup

from mensura.disk.sections import Section, sections
from mensura.views.chapters import panels
from mensura.views.chapters.games import picture_game, wrong_reading_game
from mensura.views.chapters.place_game import place_game
from mensura.views.kit.game import Game
from mensura.views.leaflets.asked import asked_game, asked_problem, asked_proof, asked_question
from mensura.views.leaflets.moving import (
    panel_of_step,
    panel_recorded,
    panel_settings,
    road_lines_html,
    road_recorded,
    road_settings,
    road_step,
)
from mensura.views.leaflets.page import Page
from mensura.views.problems.practice import problems_here
from mensura.views.proof.own_line import own_line

#: Is told what is at work, how much of it is done, and of how much.
Told = Callable[[str, int, int], None]

#: Games with a round that can be asked on paper.
_GAMES: Mapping[str, Callable[..., Game]] = {
    "picture_game": picture_game,
    "wrong_reading_game": wrong_reading_game,
    "place_game": place_game,
}

#: What stands in place of a part that answers what is typed.
AT_A_COMPUTER = "This part answers what you type: it needs the workbook on a computer."


def put_section(
    page: Page,
    one: Section,
    start: Mapping[str, Any] | None = None,
    told: Told | None = None,
    beside: bool = True,
    controls: Sequence[str] = (),
) -> None:
    """Puts a section on a page; a text with its tables and pictures, but without its heading.

    page: where; one: the section; start: values for the controls of what moves; told: of what takes
    time; beside: whether the settings of what moves are printed beside it; controls: those of a
    panel that move, by name, () for all.
    """
    values = dict(start or {})
    if one.kind in ("text", "picture"):
        for block in one.blocks:
            page.block(block, one.heading)
    elif one.kind == "panel":
        _panel(page, one, values, told, beside, controls)
    elif one.kind == "proof":
        _road(page, one, values, told, beside)
    elif one.kind == "proof step":
        page.put(road_step(one.thing, one.step, page.sheet, values))
    elif one.kind == "question":
        page.ask(partial(asked_question, one.thing))
    elif one.kind == "problem":
        named = _arguments(one.source)
        here = problems_here(one.thing, *named.pop("*")[1:], **named)
        asked = partial(asked_problem, here.problem, here.heading, page.sheet)
        page.ask(lambda number: asked(number, here.picture))
    elif one.thing in _GAMES:
        named = _arguments(one.source)
        game = _GAMES[one.thing](*named.pop("*"), **named)
        page.ask(lambda number: asked_game(game, number, page.sheet))
    elif one.thing == "own_line":
        page.ask(partial(asked_proof, repr(own_line())))
    else:
        page.put(Markup('<p class="note">{}</p>').format(AT_A_COMPUTER))


def _panel(
    page: Page,
    one: Section,
    start: Mapping[str, Any],
    told: Told | None,
    beside: bool,
    controls: Sequence[str],
) -> None:
    panel = panels()[one.thing]
    if controls:
        panel = panel_of_step(panel, start, controls)
    tell = partial(told, panel.title) if told else None
    name = page.next_recording()
    page.put(panel_recorded(panel, page.sheet, start, name, tell, controls), wide=True)
    for setting in panel_settings(panel, page.sheet, start) if beside else ():
        page.put(setting, wide=True)


def _road(
    page: Page, one: Section, start: Mapping[str, Any], told: Told | None, beside: bool
) -> None:
    tell = partial(told, one.title) if told else None
    page.put(road_lines_html(one.thing, start), wide=True)
    recorded = road_recorded(one.thing, page.sheet, start, page.next_recording(), tell)
    page.put(Markup('<div class="road">{}</div>').format(recorded), wide=True)
    for setting in road_settings(one.thing, page.sheet, start) if beside else ():
        page.put(setting)


def _arguments(source: str) -> dict[str, Any]:
    """What a cell's last call is given: by name, and those without one, in order, under "*".

    source: of a cell of ours; only plain values are read, and nothing is run.

    >>> _arguments('problems_here("newton", 1, picture=False)')
    {'picture': False, '*': ['newton', 1]}
    """
    last = ast.parse(source).body[-1]
    call = last.value if isinstance(last, ast.Expr) else None
    if not isinstance(call, ast.Call):
        return {"*": []}
    named = {one.arg: ast.literal_eval(one.value) for one in call.keywords if one.arg}
    return {**named, "*": [ast.literal_eval(one) for one in call.args]}


def in_order(workbook: str) -> list[tuple[Section, Section | int]]:
    """Everything of a workbook as it is read: (text, the number of a block in it, or what lives
    there).

    workbook: the chapter's number.

    >>> [(text.name, there if isinstance(there, int) else there.name)
    ...  for text, there in in_order("02")][:3]
    [('out-of-round', 0), ('predict', 0), ('predict', '02-predict')]
    """
    found: list[tuple[int, Section, Section | int]] = []
    text: Section | None = None
    for one in sections(workbook):
        if one.kind == "text":
            text = one
            found += [(block.place, one, number) for number, block in enumerate(one.blocks)]
            if not one.blocks:
                found.append((one.place, one, -1))
        elif text is not None and one.kind not in ("picture", "proof step"):
            found.append((one.place, text, one))
    return [(text, there) for _, text, there in sorted(found, key=lambda row: row[0])]
