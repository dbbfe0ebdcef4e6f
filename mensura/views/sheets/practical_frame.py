"""The frame of a practical's pages: letters, inks and rules travel along, nothing is loaded.

Light and dark, on paper, and in 400 pixels.
"""

from __future__ import annotations

import warnings
from collections.abc import Sequence
from contextlib import closing
from importlib.resources import files

from markupsafe import Markup

from mensura.views.kit.inks import NAMED, inks_style
from mensura.views.kit.letters import letters_style
from mensura.views.kit.live import Live, Picture
from mensura.views.kit.record import unpacked
from mensura.views.kit.svg import svg
from mensura.views.sheets.frame import framed

_MOST_PROBLEMS = 20


def sheet(title: str, body: Markup, kind: str = "report") -> str:
    """A page that carries its own letters, inks and rules.

    title: in plain text; body: below it; kind: "report" or "note".
    """
    style = letters_style() + "\n" + inks_style() + "\n"
    style += files(__package__).joinpath("practical.css").read_text("utf-8")
    whole = Markup("<h1>{}</h1>\n{}").format(title, body)
    return framed(title, style, whole, kind)


def section(name: str, heading: str, body: Markup) -> Markup:
    """A section with its heading.

    name: of its place; heading: in words; body: below it.
    """
    return Markup('<section aria-labelledby="{}"><h2 id="{}">{}</h2>\n{}</section>').format(
        name, name, heading, body
    )


def file_problems(problems: Sequence[str]) -> Markup:
    """What of a file could not be read, its first twenty.

    problems: in words, alike ones together.
    """
    if not problems:
        return Markup("")
    listed = [*map(Markup("<li>{}.</li>").format, problems[:_MOST_PROBLEMS])]
    if len(problems) > _MOST_PROBLEMS:
        more = len(problems) - _MOST_PROBLEMS
        listed.append(Markup("<li>And {} more: see problems.csv.</li>").format(more))
    body = Markup("<ul>{}</ul>").format(Markup().join(listed))
    return section("file", "Problems of the file", body)


def drawn(picture: Picture[None]) -> Markup:
    """A still picture that stands in such a page: its letters are the page's, its inks named.

    picture: what to draw.
    """
    with warnings.catch_warnings():
        # a code in a script that our face lacks is shown in the reader's own
        warnings.filterwarnings("ignore", message="Glyph .* missing from font")
        with closing(Live(picture)) as live:
            record = unpacked(live.record(None))
    return Markup(svg(record, picture.describe(None), inks=NAMED, inline=True))


def figure(caption: str, beside: str, pictures: Sequence[Picture[None]]) -> Markup:
    """Pictures under one caption; nothing where there are none.

    caption: in bold; beside: after it; pictures: in order.
    """
    if not pictures:
        return Markup()
    return Markup(
        '<figure><figcaption>{} <span>{}</span></figcaption><div class="tiles">{}</div></figure>'
    ).format(caption, beside, Markup("\n").join(map(drawn, pictures)))
