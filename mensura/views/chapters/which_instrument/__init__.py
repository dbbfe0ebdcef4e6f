"""The panel on choosing: which instrument to take out tomorrow, and where the answer flips."""

from mensura.teaching.panels.which_instrument import (
    CHOICES,
    CONTROLS,
    ONE_DIRECTION,
    OVAL_OAKS,
    OWN_PLOT,
    ROUND_POLES,
    WhichShown,
    numbers,
)
from mensura.views.chapters.which_instrument.picture import WhichPicture
from mensura.views.chapters.which_instrument.words import readout, status
from mensura.views.kit.panel import Panel

WHICH_INSTRUMENT_PANEL: Panel[WhichShown] = Panel(
    title="Which instrument?",
    controls=CONTROLS,
    choices=CHOICES,
    numbers=numbers,
    picture=WhichPicture,
    readout=readout,
    status=status,
    presets={
        "Compartment 7": OWN_PLOT,
        "Round poles, clear ground": ROUND_POLES,
        "Oval oaks, dense brush": OVAL_OAKS,
        "One direction each": ONE_DIRECTION,
    },
)
