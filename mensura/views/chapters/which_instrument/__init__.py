"""The panel on choosing: which instrument to take out tomorrow, and where the answer flips."""

from mensura.teaching.panels.which_instrument import (
    CHOICES,
    CONTROLS,
    OWN_PLOT,
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
        "Round poles, clear ground": {
            "out_of_round_percent": 3.0,
            "diameter_cm": 25.0,
            "undergrowth": 0.0,
        },
        "Oval oaks, dense brush": {
            "out_of_round_percent": 18.0,
            "diameter_cm": 60.0,
            "undergrowth": 0.9,
        },
        "One direction each": {"practice": "any directions, mean"},
    },
)
