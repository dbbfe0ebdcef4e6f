"""A proof in words: a road as lines of text, and names with their subscripts on a page."""

from __future__ import annotations

import html
import re
from collections.abc import Mapping
from textwrap import wrap
from typing import TYPE_CHECKING

from mensura.teaching.proof.roads import place_of

if TYPE_CHECKING:
    from mensura.teaching.proof import Checked, Road, Step

_WIDTH = 78
_INDENT = "        "

#: What the signs mean, in words.
SIGNS_TOLD = "⇒ therefore; ⇐ it is enough to show; no sign: given, or still to be shown."


_NAME = re.compile(r"\b(A)_(tape|cal|hull)\b|\b([pq])_(n)(?![A-Za-z])")


def markup(text: str) -> str:
    """Text as HTML, its names with their subscripts; copied from the page it is what one types.

    text: of a line or of words about it.

    >>> markup("A_cal < A")
    "A<small style='font-size:0'>_</small><sub>cal</sub> &lt; A"
    """

    def lowered(name: re.Match[str]) -> str:
        letter, below = (one for one in name.groups() if one)
        return f"{letter}<small style='font-size:0'>_</small><sub>{below}</sub>"

    return _NAME.sub(lowered, html.escape(text))


def road_lines(road: Road, verified: Mapping[str, tuple[Checked, ...]] | None = None) -> list[str]:
    """A road, line by line.

    road: to be told; verified: what was verified for each step, by key, to be told too.
    """
    lines = [road.title, "", SIGNS_TOLD, ""]
    places = {step.key: place for place, step in enumerate(road.steps, 1)}
    for place, step in enumerate(road.steps, 1):
        lines.append(f"{place:>3}  {step.sign or ' '}  {step.line}")
        lines += _paragraph(step.reason)
        if step.premises:
            lines += _paragraph("From: " + ", ".join(_place(one, places) for one in step.premises))
        if step.assumption:
            lines += _paragraph(f"Assumed: {step.assumption}")
        for told in (verified or {}).get(step.key, ()):
            lines += _paragraph(f"Verified: {told}")
        lines.append("")
    return [*lines, *wrap(road.says, _WIDTH)]


def _place(step: Step, places: Mapping[str, int]) -> str:
    """A step's number; that of another road with the road's name."""
    if step.key in places:
        return f"line {places[step.key]}"
    road, place = place_of(step)
    return f"line {place} of the road {road}"


def _paragraph(text: str) -> list[str]:
    return wrap(text, _WIDTH, initial_indent=_INDENT, subsequent_indent=_INDENT)
