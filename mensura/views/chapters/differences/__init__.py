"""The panel on tape against calipers: limits of agreement, and what of them is the stem's shape."""

from mensura.teaching.panels.differences import (
    CHOICES,
    CONTROLS,
    LONGEST,
    OF_PAIRS,
    OFF_ZERO,
    OVAL_OUT,
    STRETCHED,
    DifferencesShown,
    numbers,
)
from mensura.views.chapters.differences.picture import DifferencesPicture
from mensura.views.chapters.differences.words import readout, status
from mensura.views.kit.panel import Panel

DIFFERENCES_PANEL: Panel[DifferencesShown] = Panel(
    title="Tape against calipers",
    controls=CONTROLS,
    choices=CHOICES,
    numbers=numbers,
    picture=DifferencesPicture,
    readout=readout,
    status=status,
    presets={
        "The oval taken out": OVAL_OUT,
        "Pairs at right angles": OF_PAIRS,
        "Always the longest way": LONGEST,
        "Calipers off zero": OFF_ZERO,
        "A stretched tape": STRETCHED,
    },
)
