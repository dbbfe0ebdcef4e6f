"""Who measures what with what, in which order: a plan by which hands, instruments and stems part.

Balanced, so that what a hand adds, what an instrument adds and what a stem is can be told apart
afterwards; shuffled against habit and against copying the last figure.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Turn:
    """One reading to be taken.

    stem, hand, instrument: codes; kind: "girth" or "diameter"; direction_deg: along the beam, from
    the mark on the stem, None for a girth or where the hand finds it; repeat: from 1.
    """

    stem: str
    hand: str
    instrument: str
    kind: str
    direction_deg: float | None
    repeat: int


@dataclass(frozen=True)
class FieldDesign:
    """A practical before it is walked.

    stems, hands, instruments: codes; kinds: of the instruments, "girth" or "diameter"; marked:
    whether a line on each stem fixes height and directions; turns: of each hand, in the order that
    it walks.
    """

    stems: tuple[str, ...]
    hands: tuple[str, ...]
    instruments: tuple[str, ...]
    kinds: tuple[str, ...]
    marked: bool
    turns: dict[str, tuple[Turn, ...]]


def field_design(
    hands: tuple[str, ...],
    stem_count: int,
    instruments: tuple[str, ...],
    repeats: int,
    key: str,
    marked: bool = True,
) -> FieldDesign:
    """The plan of a practical; the same for ever for the same hands and key.

    hands: codes; stem_count: how many stems, numbered from 1; instruments: codes; repeats: of a
    girth, from 1; key: the class's; marked: as in FieldDesign.
    """
    raise NotImplementedError
