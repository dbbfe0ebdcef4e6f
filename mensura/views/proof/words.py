"""A road of the proof as lines of text: sign, line, reason, assumption, and what was verified."""

from __future__ import annotations

from collections.abc import Mapping
from textwrap import wrap
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mensura.teaching.proof import Road

_WIDTH = 78
_INDENT = "        "

#: What the signs mean, in words.
SIGNS_TOLD = "⇒ therefore; ⇐ it is enough to show; no sign: given, or still to be shown."


def road_lines(road: Road, verified: Mapping[str, tuple[str, ...]] | None = None) -> list[str]:
    """A road, line by line.

    road: to be told; verified: what was verified for each step, by key, to be told too.
    """
    lines = [road.title, "", SIGNS_TOLD, ""]
    places = {step.key: place for place, step in enumerate(road.steps, 1)}
    for place, step in enumerate(road.steps, 1):
        lines.append(f"{place:>3}  {step.sign or ' '}  {step.line}")
        lines += _paragraph(step.reason)
        if step.premises:
            lines += _paragraph("From: " + ", ".join(_place(k, places) for k in step.follows_from))
        if step.assumption:
            lines += _paragraph(f"Assumed: {step.assumption}")
        for told in (verified or {}).get(step.key, ()):
            lines += _paragraph(f"Verified: {told}")
        lines.append("")
    return [*lines, *wrap(road.says, _WIDTH)]


def _place(key: str, places: Mapping[str, int]) -> str:
    """A step's number; that of another road with the road's name."""
    road, _, number = key.partition("-")
    return f"line {places[key]}" if key in places else f"line {number} of the road {road}"


def _paragraph(text: str) -> list[str]:
    return wrap(text, _WIDTH, initial_indent=_INDENT, subsequent_indent=_INDENT)
