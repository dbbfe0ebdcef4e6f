"""What each ink of a picture is on each kind of page: one table, resolved in the page.

A picture travels as shapes whose colours are names (`look.INKS`). A page is light or dark, printed
in black and white, or seen by somebody who asked for more contrast, on a light page or a dark one;
`inks.js` finds out which, and takes the colours from here. Nothing is asked of the kernel.

Words have 4.5 : 1 on whatever they stand on, lines and marks 3 : 1, with more contrast 7 : 1 and
4.5 : 1; grid and year rings, which carry nothing, may be fainter. What stands on what is found by a
test in the pictures themselves. Fills may be close to each other: a line parts them. Truth, tape,
calipers and classroom stay apart for colour-blind eyes, and in print by lightness.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType

from mensura.views.kit import look

#: Kinds of pages, as `inks.js` calls them.
MODES = ("light", "dark", "print", "contrast", "contrast-dark")

#: Each ink as a page that is handed out knows it.
NAMED = MappingProxyType({name: f"var(--i-{name})" for name in look.INKS})

#: Where the table goes in `inks.js`.
PLACE = "/*INKS*/{}"

#: Each ink on each kind of page but the light one, which is the look's own.
_OTHERS: dict[str, tuple[str, str, str, str]] = {
    # ink: dark, print, contrast, contrast-dark
    "paper": ("#111111", "#FFFFFF", "#FFFFFF", "#000000"),
    "truth": ("#F2F2F2", "#000000", "#000000", "#FFFFFF"),
    "tape": ("#F08A3C", "#7A7A7A", "#A03C00", "#FFA858"),
    "tape-word": ("#F08A3C", "#595959", "#8C3400", "#FFB570"),
    "calipers": ("#56B4E9", "#3B3B3B", "#004F86", "#6FC7FF"),
    "classroom": ("#929292", "#5C5C5C", "#5E5E5E", "#ABABAB"),
    "wood": ("#3B2B1C", "#F4F4F4", "#FFF6E6", "#2A1D10"),
    "bark": ("#C9A88A", "#484848", "#3D2C20", "#E2C5AA"),
    "quiet": ("#B9B9B9", "#595959", "#3A3A3A", "#DADADA"),
    "grid": ("#363636", "#D2D2D2", "#B4B4B4", "#4C4C4C"),
    "ground": ("#272727", "#E6E6E6", "#F0F0F0", "#1C1C1C"),
    "band-fill": ("#3A2413", "#EEEEEE", "#FFF1E6", "#2B1809"),
    "beam-fill": ("#14303F", "#DFDFDF", "#E8F4FC", "#0A2433"),
    "bark-fill": ("#4B423B", "#D9D9D9", "#F1EBE6", "#352C25"),
    "ring": ("#5E4931", "#CFCFCF", "#9C8760", "#826949"),
}


@lru_cache(maxsize=1)
def tables() -> Mapping[str, Mapping[str, str]]:
    """The colour of each ink on each kind of page.

    >>> tables()["light"]["paper"], tables()["dark"]["paper"]
    ('#FFFFFF', '#111111')
    """
    columns = {name: (colour, *_OTHERS[name]) for name, colour in look.INKS.items()}
    return MappingProxyType(
        {
            mode: MappingProxyType({name: column[at] for name, column in columns.items()})
            for at, mode in enumerate(MODES)
        }
    )


def inks_json() -> str:
    """The table as the page takes it: kind of page → ink → colour.

    >>> inks_json()[:29]
    '{"light":{"paper":"#FFFFFF","'
    """
    plain = {mode: dict(inks) for mode, inks in tables().items()}
    return json.dumps(plain, separators=(",", ":"))


@lru_cache(maxsize=1)
def inks_js() -> str:
    """The page's side, `inks.js`, with the table in it.

    >>> PLACE in inks_js(), inks_js().count(inks_json())
    (False, 1)
    """
    text = files(__package__).joinpath("inks.js").read_text("utf-8")
    if text.count(PLACE) != 1:
        raise ValueError(f"inks.js has {text.count(PLACE)} places for the table; expected one")
    return text.replace(PLACE, inks_json())


def inks_style() -> str:
    """Rules of a sheet: what each ink is on a light page, a dark one, with contrast, and in print.

    >>> inks_style().count("--i-truth:")
    5
    """
    rules = {
        mode: "".join(f" --i-{name}: {colour};" for name, colour in inks.items())
        for mode, inks in tables().items()
    }
    dark, more = "(prefers-color-scheme: dark)", "(prefers-contrast: more)"
    return (
        f":root {{{rules['light']} }}\n"
        f"@media screen and {dark} {{ :root {{{rules['dark']} }} }}\n"
        f"@media screen and {more} {{ :root {{{rules['contrast']} }} }}\n"
        f"@media screen and {dark} and {more} {{ :root {{{rules['contrast-dark']} }} }}\n"
        f"@media print {{ :root {{{rules['print']} }} }}"
    )
