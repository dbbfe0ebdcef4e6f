"""The cut-end panel: calipers turned round the outline of a real section, by any practice."""

from mensura.teaching.panels.cut_end import (
    ALIKE,
    CHOICES,
    CONTROLS,
    LUCKY,
    UNLUCKY,
    CutEndShown,
    numbers,
)
from mensura.views.chapters.cut_end.picture import CutEndPicture
from mensura.views.chapters.cut_end.words import readout, status
from mensura.views.kit.panel import Panel

CUT_END_PANEL: Panel[CutEndShown] = Panel(
    title="A cut end",
    controls=CONTROLS,
    choices=CHOICES,
    numbers=numbers,
    picture=CutEndPicture,
    readout=readout,
    status=status,
    presets={
        "Begun where it is best": LUCKY,
        "Begun where it is worst": UNLUCKY,
        "An oval along its axis": ALIKE,
    },
    printed={
        "Five lobes": {"disc": "disc 18, cut low, five lobes", "direction_deg": 134},
        "Thick bark": {"disc": "disc 17, thick bark", "direction_deg": 138},
    },
)
