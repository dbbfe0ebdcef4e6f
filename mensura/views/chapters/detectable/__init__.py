"""The panel on what could be detected: which bias a plan finds in nine of ten practicals."""

from mensura.teaching.panels.detectable import (
    CHOICES,
    CONTROLS,
    FEW_STEMS,
    MORE_HANDS,
    SMALLER,
    UNMARKED,
    DetectableShown,
    numbers,
)
from mensura.views.chapters.detectable.picture import DetectablePicture
from mensura.views.chapters.detectable.words import readout, status
from mensura.views.kit.panel import Panel

DETECTABLE_PANEL: Panel[DetectableShown] = Panel(
    title="What could be found?",
    controls=CONTROLS,
    choices=CHOICES,
    numbers=numbers,
    picture=DetectablePicture,
    readout=readout,
    status=status,
    presets={
        "Five stems": FEW_STEMS,
        "Stems without a mark": UNMARKED,
        "Smaller ones matter": SMALLER,
        "More hands?": MORE_HANDS,
    },
)
