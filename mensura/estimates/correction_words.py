"""What a practical found of whoever measured a stand: what was taken off, or that nothing was.

A lecturer reads it above the hectare, so it says hand or instrument first, then how far off it was,
then what that means for the figures below.
"""

from __future__ import annotations

from mensura.estimates.class_correction import (
    MENDED,
    TOOLS,
    ClassCorrection,
    ClassFound,
    Verdict,
)
from mensura.estimates.hand_words import listed


def correction_words(one: ClassCorrection) -> str:
    """What was taken off for a hand or an instrument, what stays unsure, and why, in sentences.

    one: its correction.

    >>> tape = ClassCorrection("T2", "instrument", "girth", -2.46, "%", 0.1, "It reads low.")
    >>> print(correction_words(tape))
    Tape T2: it reads 2.46 % low, and that was undone; ± 0.1 % stays unsure. It reads low.
    """
    off = f"it reads {_off(one.off, one.unit)}, and that was undone" if one.off else (
        "nothing was taken off"
    )  # fmt: skip
    who = _who(one.name, one.input == "hand", one.kind)
    told = f"{who[0].upper()}{who[1:]}: {off}; ± {one.u:.2g} {one.unit} stays unsure."
    return f"{told} {one.why}".strip()


def off_words(found: ClassFound, kind: str, by_card: bool = False) -> str:
    """Who and what a practical found off, where nothing was taken off for it, in sentences.

    found: of the practical; kind: "girth" or "diameter", as the stand was measured; by_card:
    whether a card corrected the readings.
    """
    hands, tools = found.off(kind)
    if not hands and not tools:
        return f"The practical found no hand and no {_tool(kind)} off that read {kind}s."
    said = [_found_off(one, True) for one in hands] + [_found_off(one, False) for one in tools]
    but = "But for the card, nothing" if by_card else "Nothing"
    return (
        f"The practical found off: {listed(said)}. {but} was taken off these readings: name who "
        "measured them with what, by --hand and --instrument, and it is."
    )


def _found_off(one: Verdict, is_hand: bool) -> str:
    told = "spreads"
    if one.verdict in MENDED:
        told = one.verdict.replace("-", " ")
        told = told if one.bias is None else f"reads {_off(one.bias, one.unit)}"
    return f"{_who(one.name, is_hand, one.kind)} ({told})"


def _who(name: str, is_hand: bool, kind: str) -> str:
    return f"hand {name}" if is_hand else f"{_tool(kind)} {name}"


def _tool(kind: str) -> str:
    return TOOLS[kind][0]


def _off(bias: float, unit: str) -> str:
    return f"{abs(bias):.3g} {unit} {'high' if bias > 0 else 'low'}"
