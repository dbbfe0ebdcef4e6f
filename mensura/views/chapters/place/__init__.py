"""The place panel: a standing stem, a band that is set by hand, and what its place costs."""

from dataclasses import replace

from mensura.checks import number
from mensura.estimates.tree_volume import BREAST_M
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


def place_panel(breast_height_m: float = BREAST_M) -> Panel[PlaceShown]:
    """The panel, its rule's breast height chosen for a whole page.

    breast_height_m: from 1 to 1.6; one that nobody uses is put before those that somebody does.

    >>> place_panel(1.37).start()["rule_height"]
    '1.37 m'
    """
    height_m = float(number(breast_height_m, "breast_height_m", "m", at_least=1.0, at_most=1.6))
    told = f"{height_m:.2f} m"
    if told == PLACE_PANEL.start()["rule_height"]:
        return PLACE_PANEL
    choices = tuple(
        replace(one, options=tuple(dict.fromkeys((told, *one.options))))
        if one.name == "rule_height"
        else one
        for one in CHOICES
    )
    presets = {name: {**state, "rule_height": told} for name, state in PRESETS.items()}
    return replace(PLACE_PANEL, choices=choices, presets=presets)
