"""The panel on hands and instruments: who was off, the hand or the tape, and can that be told."""

from mensura.teaching.panels.hands_and_instruments import (
    A_LENGTH,
    ALL_SOUND,
    CHOICES,
    CONTROLS,
    KEPT_TAPE,
    STRETCHED,
    SWITCHES,
    HandsShown,
    numbers,
)
from mensura.views.chapters.hands_and_instruments.picture import HandsPicture
from mensura.views.chapters.hands_and_instruments.words import readout, status
from mensura.views.kit.panel import Panel

HANDS_AND_INSTRUMENTS_PANEL: Panel[HandsShown] = Panel(
    title="The hand or the tape?",
    controls=CONTROLS,
    choices=CHOICES,
    switches=SWITCHES,
    numbers=numbers,
    picture=HandsPicture,
    readout=readout,
    status=status,
    presets={
        "All sound": ALL_SOUND,
        "A hand adds a length": A_LENGTH,
        "A stretched tape": STRETCHED,
        "Each keeps a tape": KEPT_TAPE,
    },
)
