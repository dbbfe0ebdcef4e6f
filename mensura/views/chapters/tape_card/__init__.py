"""The tape card panel: a tape held against a reference, the line through it, and how sure it is."""

from __future__ import annotations

from mensura.teaching.controls import starting
from mensura.teaching.panels.tape_card import (
    COARSE,
    CONTROLS,
    FAR,
    GOOD,
    TWO,
    TapeCardShown,
    numbers,
)
from mensura.views.chapters.tape_card.picture import TapeCardPicture
from mensura.views.chapters.tape_card.words import readout, status
from mensura.views.kit.panel import Panel

TAPE_CARD_PANEL: Panel[TapeCardShown] = Panel(
    title="How sure is a tape card?",
    controls=CONTROLS,
    numbers=numbers,
    picture=TapeCardPicture,
    readout=readout,
    status=status,
    # each sets everything, so that it shows the same whatever was moved before
    presets={
        name: starting(CONTROLS) | changes
        for name, changes in {
            "Over the whole range": GOOD,
            "All far from 0": FAR,
            "Coarse, ten times": COARSE,
            "Two marks": TWO,
        }.items()
    },
)
