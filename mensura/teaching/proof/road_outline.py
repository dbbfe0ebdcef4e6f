"""The outline's road: any section at all, by the ripples of its hull's support function.

Isoperimetric inequality by Fourier series after [Hurwitz1902]; mean width after [Cauchy1841]
(in the calipers' road); constant width [Barbier1860].
"""

from __future__ import annotations

from mensura.teaching.proof import outline_tape, outline_widths
from mensura.teaching.proof.steps import Road

_TITLE = "The outline's road: any section at all"

_SAYS = (
    "A level, taut tape lies on the hull of the section. Whatever the outline, its area is too "
    "large, unless the section is a circle: hollows count as wood, and each ripple of the hull "
    "takes area from the circle with the same girth. What proves it is that no factor n² − 1 is "
    "negative; a series that breaks off, as any picture's does, only illustrates it. A hull of "
    "constant width has odd ripples only. Calipers then read the same in every direction, claim "
    "just what the tape claims, and are just as wrong: no turning finds it out."
)


def outline() -> Road:
    """The road.

    >>> outline().steps[6].line
    'P² − 4πA_hull ≥ 0'
    """
    steps = (*outline_tape.STEPS, *outline_widths.STEPS)
    return Road("outline", _TITLE, _SAYS, steps, ("outline", "terms", "turn_deg"))
