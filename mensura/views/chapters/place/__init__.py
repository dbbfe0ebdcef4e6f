"""The place panel: a standing stem, a band that is set by hand, and what its place costs."""

from mensura.teaching.panels.place import (
    CHOICES,
    CONTROLS,
    PRESETS,
    STEPPER,
    SWITCHES,
    PlaceShown,
    numbers,
)
from mensura.views.chapters.place.picture import PlacePicture
from mensura.views.chapters.place.words import readout, status
from mensura.views.kit.panel import Panel

PLACE_PANEL: Panel[PlaceShown] = Panel(
    title="Where to measure",
    controls=CONTROLS,
    switches=SWITCHES,
    choices=CHOICES,
    stepper=STEPPER,
    numbers=numbers,
    picture=PlacePicture,
    readout=readout,
    status=status,
    presets=PRESETS,
)
