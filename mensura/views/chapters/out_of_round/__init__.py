"""The out-of-round panel: one stem, the tape and the calipers on it, and what each makes of it."""

from __future__ import annotations

from mensura.teaching.panels.out_of_round import (
    CONTROLS,
    SMOOTH,
    SWITCHES,
    UPSIDE_DOWN,
    OutOfRound,
    numbers,
)
from mensura.views.chapters.out_of_round.picture import OutOfRoundPicture
from mensura.views.chapters.out_of_round.words import readout, status
from mensura.views.kit.panel import Panel

PANEL: Panel[OutOfRound] = Panel(
    title="Out of round",
    controls=CONTROLS,
    switches=SWITCHES,
    numbers=numbers,
    picture=OutOfRoundPicture,
    readout=readout,
    status=status,
    presets={
        "Smooth and level": SMOOTH,
        "The fourth ripple turned round": UPSIDE_DOWN | {"marked": True},
    },
    printed={"Half-way between the axes": SMOOTH | {"caliper_direction_deg": 45.0}},
)
